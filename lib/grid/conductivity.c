/* SPDX-License-Identifier: MIT
 * Two elliptic equations over the cells of a passage: Poisson's for its local conductivity, Laplace's for the
 * pressure along it. */
#include "grid/conductivity.h"

#include "base/angle.h"
#include "base/vec.h"

#include "flow/section.h"
#include "grid/lattice.h"

#include <math.h>
#include <string.h>

/* Of the residuals. lost: what each cell loses of its k, so that pieces without a wall in sight have one too; nothing
 * in a passage. apart: a flow that is nothing but what the iteration leaves. */
static const double lost = 1e-4, across = 1e-4, along = 1e-5, apart = 1e-10;

typedef struct field {
    const vugi_grid *grid;
    const uint8_t *state, *wide;
    size_t stride[3];
    uint32_t *number; /* of each cell: its unknown, or UINT32_MAX */
    vugi_lattice lattice;
    double *right, *x;
} field;

static bool field_begin(vug_context *ctx, const vugi_grid *g, const uint8_t *state, uint8_t least,
    uint8_t most, field *f)
{
    size_t count = vugi_grid_count(g), unknowns = 0;
    *f = (field){.grid = g,
        .state = state,
        .stride = {1, (size_t)g->n[0], (size_t)g->n[0] * (size_t)g->n[1]},
        .number = vugi_alloc(&ctx->mem, count, sizeof *f->number)};
    if (!f->number)
        return false;
    for (size_t c = 0; c < count; c++)
        f->number[c] = state[c] >= least && state[c] <= most ? (uint32_t)unknowns++ : UINT32_MAX;
    f->right = vugi_calloc(&ctx->mem, unknowns, sizeof *f->right);
    f->x = vugi_calloc(&ctx->mem, unknowns, sizeof *f->x);
    return vugi_lattice_alloc(&ctx->mem, unknowns, &f->lattice) && f->right && f->x;
}

static void field_end(vug_context *ctx, field *f)
{
    vugi_lattice_free(&ctx->mem, &f->lattice);
    vugi_free(&ctx->mem, f->number);
    vugi_free(&ctx->mem, f->right);
    vugi_free(&ctx->mem, f->x);
}

/* ---- local conductivity ------------------------------------------------------------- */

/* The one cell lies in a chamber, the other in the passage. */
static bool is_mouth(const field *f, size_t c, size_t other)
{
    return f->wide && (f->wide[c] != 0) != (f->wide[other] != 0);
}

/* One side of a cell. Returns the part of a cell to the wall there, 1 where there is none. */
static double add_side(field *f, size_t c, int axis, bool after, bool inside, const uint8_t *gap)
{
    uint32_t i = f->number[c];
    size_t other = after ? c + f->stride[axis] : c - f->stride[axis];
    if (!inside || f->state[other] == VUGI_CELL_AWAY
        || (f->state[other] != VUGI_CELL_WALL && is_mouth(f, c, other)))
        return 1.0;
    if (f->state[other] == VUGI_CELL_WALL) {
        uint8_t steps = gap[6 * c + 2 * (size_t)axis + (after ? 1 : 0)];
        double part = steps == VUGI_GAP_NONE ? 0.5 : (double)steps / VUGI_GAP_CELL;
        f->lattice.diagonal[i] += 1.0 / part;
        return part;
    }
    f->lattice.diagonal[i] += 1.0;
    if (!after) {
        f->lattice.before[3 * i + (uint32_t)axis] = f->number[other];
        f->lattice.link[3 * i + (uint32_t)axis] = 1.0;
    }
    return 1.0;
}

/* Walls where they are (the symmetric form of Gibou, Fedkiw, Cheng & Kang 2002, J. Comput. Phys. 176:205-227);
 * what a cell at a wall stands for is as much narrower as the wall is nearer, which makes a slot exact. */
static void set_poisson(field *f, const uint8_t *gap)
{
    const vugi_grid *g = f->grid;
    size_t c = 0;
    for (int32_t k = 0; k < g->n[2]; k++)
        for (int32_t j = 0; j < g->n[1]; j++)
            for (int32_t i = 0; i < g->n[0]; i++, c++) {
                const int32_t at[3] = {i, j, k};
                double lack = 0.0;
                if (f->number[c] == UINT32_MAX)
                    continue;
                for (int a = 0; a < 3; a++) {
                    double part = 0.5
                        * (add_side(f, c, a, false, at[a] > 0, gap)
                            + add_side(f, c, a, true, at[a] + 1 < g->n[a], gap));
                    lack += (1.0 - part) * (1.0 - part);
                }
                f->right[f->number[c]] = fmax(0.1, 1.0 - sqrt(lack));
                f->lattice.diagonal[f->number[c]] += lost; /* no wall may be in sight */
            }
}

vug_status vugi_conductivity(vug_context *ctx, const vugi_grid *g, const uint8_t *state,
    const uint8_t *gap, const uint8_t *wide, double *k)
{
    field f;
    bool room = field_begin(ctx, g, state, VUGI_CELL_IN, VUGI_CELL_TO, &f);
    vug_status status = room ? VUG_OK : vugi_fail_memory(ctx);
    f.wide = wide;
    if (!status) {
        set_poisson(&f, gap);
        status = vugi_lattice_solve(ctx, &f.lattice, f.right, f.x, across);
    }
    for (size_t c = 0; !status && c < vugi_grid_count(g); c++)
        k[c] = f.number[c] == UINT32_MAX ? 0.0 : g->h * g->h * fmax(0.0, f.x[f.number[c]]);
    field_end(ctx, &f);
    return status;
}

/* ---- from end to end ------------------------------------------------------------------ */

/* Pressure at a cell: 1 and 0 at the ends. */
static double pressure_at(const field *f, size_t c)
{
    if (f->state[c] == VUGI_CELL_FROM)
        return 1.0;
    return f->number[c] == UINT32_MAX ? 0.0 : f->x[f->number[c]];
}

static bool passes(uint8_t state)
{
    return state >= VUGI_CELL_IN;
}

/* Cells c and the one after it along an axis. */
static void link_cells(field *f, size_t c, size_t after, int axis, double k)
{
    uint32_t i = f->number[c], j = f->number[after];
    if (i != UINT32_MAX)
        f->lattice.diagonal[i] += k;
    if (j != UINT32_MAX)
        f->lattice.diagonal[j] += k;
    if (i != UINT32_MAX && j != UINT32_MAX) {
        f->lattice.before[3 * j + (uint32_t)axis] = i;
        f->lattice.link[3 * j + (uint32_t)axis] = k;
    } else if (i != UINT32_MAX) {
        f->right[i] += k * pressure_at(f, after);
    } else if (j != UINT32_MAX) {
        f->right[j] += k * pressure_at(f, c);
    }
}

/* How k curves at a cell along an axis: its second difference, with 0 at a wall half a cell away. */
static double curving(const field *f, const double *k, size_t c, int axis, int32_t at)
{
    double fall[2], length = 2.0;
    if (at == 0 || at + 1 == f->grid->n[axis])
        return 0.0;
    for (int side = 0; side < 2; side++) {
        size_t other = side ? c + f->stride[axis] : c - f->stride[axis];
        if (f->state[other] == VUGI_CELL_AWAY
            || (f->state[other] != VUGI_CELL_WALL && is_mouth(f, c, other)))
            return 0.0;
        bool wall = f->state[other] == VUGI_CELL_WALL;
        fall[side] = wall ? 2.0 * k[c] : k[c] - k[other];
        length -= wall ? 0.5 : 0.0;
    }
    return -2.0 * (fall[0] + fall[1]) / length;
}

/* k between two cells, along whose line it curves: the mean and an eighth of the curvature. */
static double k_between(const field *f, const double *k, size_t c, size_t after, int axis,
    int32_t at)
{
    if (is_mouth(f, c, after)) /* half a cell of either */
        return k[c] > 0.0 && k[after] > 0.0 ? 2.0 / (1.0 / k[c] + 1.0 / k[after]) : 0.0;
    double bend = 0.5 * (curving(f, k, c, axis, at) + curving(f, k, after, axis, at + 1));
    double most = f->grid->h * f->grid->h; /* Poisson's equation allows no more */
    return 0.5 * (k[c] + k[after]) + 0.125 * fmin(most, fmax(0.0, -bend));
}

typedef void (*pair_fn)(field *f, size_t c, size_t after, int axis, double k, void *user);

/* Each two neighbours of the passage, with the conductivity between them. */
static void each_pair(field *f, const double *k, pair_fn fn, void *user)
{
    const vugi_grid *g = f->grid;
    size_t c = 0;
    for (int32_t z = 0; z < g->n[2]; z++)
        for (int32_t y = 0; y < g->n[1]; y++)
            for (int32_t x = 0; x < g->n[0]; x++, c++) {
                const int32_t at[3] = {x, y, z};
                for (int a = 0; a < 3 && passes(f->state[c]); a++) {
                    size_t after = c + f->stride[a];
                    if (at[a] + 1 < g->n[a] && passes(f->state[after]))
                        fn(f, c, after, a, k_between(f, k, c, after, a, at[a]), user);
                }
            }
}

static void link_pair(field *f, size_t c, size_t after, int axis, double k, void *user)
{
    (void)user;
    link_cells(f, c, after, axis, k);
}

/* The power that the flow takes, which is the flow itself when the ends differ by 1: the pressures' errors count in it
 * by their squares (Dirichlet's principle). */
static void sum_power(field *f, size_t c, size_t after, int axis, double k, void *user)
{
    double *power = user, fall = pressure_at(f, c) - pressure_at(f, after);
    (void)axis;
    *power += k * fall * fall;
}

/* The same between cells that are not both in a chamber. */
static void sum_narrow(field *f, size_t c, size_t after, int axis, double k, void *user)
{
    if (!f->wide || !f->wide[c] || !f->wide[after])
        sum_power(f, c, after, axis, k, user);
}

/* How much the cells FROM could give: what the flow is compared with. */
static void sum_source(field *f, size_t c, size_t after, int axis, double k, void *user)
{
    double *source = user;
    (void)axis;
    if ((f->state[c] == VUGI_CELL_FROM) != (f->state[after] == VUGI_CELL_FROM))
        *source += k;
}

/* ---- as a bundle of tubes ---------------------------------------------------------------- */

enum { SLICES = 16 };

/* A slice of the passage between two pressures. */
typedef struct slice {
    double cells, k, most, length;
} slice;

static slice *slice_of(slice *part, double pressure)
{
    return part + (size_t)fmin(SLICES - 1.0, fmax(0.0, pressure * SLICES));
}

/* The radius of a tube with the section's conductivity, so that its wall has the stress of the section's: speeds,
 * mean over greatest, are 1/2 in a tube and 2/3 in a slot, where that radius is the gap. */
static double slice_radius(const slice *s)
{
    double full = s->k / s->cells / s->most;
    double shape = 1.0 + 3.0 * (fmin(2.0 / 3.0, fmax(0.45, full)) - 0.5);
    return sqrt(8.0 * shape * s->k / s->cells);
}

typedef struct bundle {
    slice part[SLICES];
    double
        *stream; /* of each unknown: flow through the cell along x, y, z, summed over both sides */
} bundle;

/* No chamber: what is wide has no wall to speak of. */
static bool is_narrow(const field *f, size_t c)
{
    return f->number[c] != UINT32_MAX && !(f->wide && f->wide[c]);
}

static void sum_stream(field *f, size_t c, size_t after, int axis, double k, void *user)
{
    bundle *b = user;
    double flow = k * (pressure_at(f, c) - pressure_at(f, after));
    if (f->number[c] != UINT32_MAX)
        b->stream[3 * f->number[c] + (uint32_t)axis] += flow;
    if (f->number[after] != UINT32_MAX)
        b->stream[3 * f->number[after] + (uint32_t)axis] += flow;
}

/* The tube whose wall has the stress of a section of that half width and area: twice the area over the outline. Up to
 * the square's 4 half widths squared it is the half width, as in a circle and a square; beyond, as in a rectangle. */
static double tube_of_section(double half, double area)
{
    double squares = area / (half * half);
    return half * fmax(1.0, 2.0 * squares / (4.0 + squares));
}

/* The tube in which a yield stress holds as much as in a section that is known. What moves first in a rectangle leaves its
 * corners behind: it has the least outline for its area (Mosolov and Miasnikov 1965, J. Appl. Math. Mech. 29:545),
 * (4 - pi) / (a + b - sqrt((a - b)^2 + pi a b)), 6 % less than a square's own and as much as a wide slot's. Between circle and
 * square in proportion. */
static double tube_of_plug(double half, double area)
{
    const double circle = VUGI_PI, square = 4.0;
    double squares = area / (half * half), wide = 0.5 * fmax(square, squares);
    double corner = wide + 2.0 - sqrt((wide - 2.0) * (wide - 2.0) + 2.0 * VUGI_PI * wide);
    double part = fmax(0.0, fmin(1.0, (squares - circle) / (square - circle)));
    return half * (1.0 + part * (2.0 * corner / (4.0 - VUGI_PI) - 1.0));
}

/* Of both ends: they lie one after the other, and what each loses is half of both. */
static double mean_abrupt(const vugi_ends *ends)
{
    return 0.5 * (ends->abrupt[0] + ends->abrupt[1]);
}

/* A passage that is as wide from end to end: so long as it must be to resist as it does between its chambers, by its
 * longest slice. */
static void set_even(const slice *part, double h, const vugi_ends *ends, double narrow,
    vugi_passage *out)
{
    const slice *s = part;
    for (int i = 1; i < SLICES - 1; i++)
        s = part[i].length > s->length || s == part ? part + i : s;
    double abrupt = mean_abrupt(ends);
    if (!(s->length > 0.0) || !(s->k > 0.0) || !(abrupt > 0.0))
        return;
    double area = s->cells * h * h * h / s->length, conducts = area * s->k / s->cells;
    double length = narrow * out->thin * conducts;
    double edge = 2.0 * length / tube_of_section(ends->radius, area);
    out->length += abrupt * (length - out->length);
    out->edge += abrupt * (edge - out->edge);
}

/* ---- what the ends lose ---------------------------------------------------------------------- */

/* The passage where it is narrowest. */
typedef struct middle {
    double area;  /* mm2, of its section */
    double shape; /* 0: round, 1: a slot */
} middle;

/* By the strongest stream: amid a tube it is twice the mean, in a slot 3/2. */
static middle look_at_middle(const field *f, const double *stream, double flow,
    const vugi_ends *ends)
{
    double most = 0.0, ball = VUGI_PI * ends->radius * ends->radius, h = f->grid->h;
    for (size_t c = 0; c < vugi_grid_count(f->grid); c++) {
        double p[3];
        if (f->number[c] == UINT32_MAX)
            continue;
        vugi_grid_point(f->grid, c, p);
        if (vugi_point_distance(p, ends->center) <= ends->radius)
            most = fmax(most, 0.5 * vugi_length(stream + 3 * f->number[c]));
    }
    if (!(most > 0.0))
        return (middle){ball, 0.0};
    double round = 2.0 * h * h * flow / most;
    double shape = fmin(1.0, fmax(0.0, (round / ball - 1.5) / 1.5));
    return (middle){fmax(ball, round * (1.0 - 0.25 * shape)), shape};
}

/* What slow flow loses where a passage begins or ends at once in a wide chamber, as a length of the passage where it is
 * narrowest: of a tube 3 pi / 16 radii (Dagan, Weinbaum & Pfeffer 1982, J. Fluid Mech. 115:505-523), of a slot 4 / (3 pi)
 * gaps (half of Hasimoto 1958, J. Phys. Soc. Japan 13:633-639, for a slot without a length). Where it widens step by step
 * the liquid is stretched on the way instead: that and what the walls hold add up as squares, a fit to Stokes' equations that
 * holds to 10 % in cones of 10 to 30 degrees to either side (tests/cavity/test_cones.py); round necks whose walls curve by
 * once to four times their radius came out 9 % low to 17 % high. */
static double with_ends(const middle *m, const vugi_ends *ends, double thin)
{
    const double tube = 3.0 * VUGI_PI / 16.0, slot = 8.0 / (3.0 * VUGI_PI); /* of the half width */
    double r = ends->radius, ball = VUGI_PI * r * r;
    double abrupt = mean_abrupt(ends);
    double sudden = (m->area - ball) * abrupt * abrupt; /* a cone's stream is spread by its cells */
    double area = ball + fmax(sudden, (m->area - ball) * m->shape);
    double round = sqrt((ball + sudden) / VUGI_PI); /* of equal area */
    double conducts = area * (round * round / 8.0 + m->shape * (r * r / 3.0 - round * round / 8.0));
    double both = 2.0 * (tube * round + m->shape * (slot * r - tube * round)) / conducts;
    return hypot(thin, (1.0 - abrupt) * both) + abrupt * both;
}

/* Cells show a short passage no better than to the next of them, and balls of the chambers reach into it: up to a length of
 * twice its radius its own length and section count, beyond three times what the cells say. What a yield stress holds is by
 * its own length and section however long it is, but for a mere edge. */
static void take_straight(const vugi_ends *ends, middle *m, vugi_passage *out)
{
    const vugi_straight *s = &ends->straight;
    double long_for = s->length / ends->radius, abrupt = fmin(ends->abrupt[0], ends->abrupt[1]);
    double part = fmax(0.0, fmin(1.0, 3.0 - long_for)) * abrupt;
    double walls = fmax(0.0, fmin(1.0, 4.0 * long_for - 1.0)) * abrupt;
    if (!(s->area > 0.0))
        return;
    vugi_tubes tubes = vugi_section_tubes(sqrt(s->area / VUGI_PI), ends->radius);
    double thin = 8.0 * s->length / (VUGI_PI * pow(0.5 * tubes.diameter, 4) * tubes.count);
    double edge = 2.0 * s->length / tube_of_plug(s->half, s->area);
    m->area += part > 0.0 ? s->area - m->area : 0.0;
    out->thin += part * (thin - out->thin);
    out->length += walls * (s->length - out->length);
    out->edge += walls * (edge - out->edge);
}

/* Each stream line counts by the flow along it: length = integral of the flow's density over the flow. */
static vug_status make_bundle(vug_context *ctx, field *f, const double *k, double flow,
    const vugi_ends *ends, vugi_passage *out)
{
    bundle b = {.stream = vugi_calloc(&ctx->mem, 3 * f->lattice.count, sizeof *b.stream)};
    double h = f->grid->h;
    double gentle = 1.0 - mean_abrupt(ends);
    *out = (vugi_passage){.thin = 1.0 / (flow * h)};
    if (!b.stream)
        return vugi_fail_memory(ctx);
    each_pair(f, k, sum_stream, &b);
    vug_status status = vugi_step(ctx, 1.0);
    for (size_t c = 0; c < vugi_grid_count(f->grid); c++) {
        if (!is_narrow(f, c))
            continue;
        slice *s = slice_of(b.part, pressure_at(f, c));
        s->cells += 1.0;
        s->k += k[c];
        s->most = fmax(s->most, k[c]);
    }
    status = status ? status : vugi_step(ctx, 1.0);
    for (size_t c = 0; c < vugi_grid_count(f->grid); c++) {
        if (f->number[c] == UINT32_MAX)
            continue;
        const double *q = b.stream + 3 * f->number[c], walls = is_narrow(f, c) ? 1.0 : gentle;
        double length = 0.5 * h * vugi_length(q) / flow;
        slice *s = slice_of(b.part, pressure_at(f, c));
        s->length += is_narrow(f, c) ? length : 0.0;
        out->length += walls * length;
        if (s->k > 0.0)
            out->edge += walls * 2.0 * length / slice_radius(s);
    }
    if (ends->radius > 0.0) {
        middle m = look_at_middle(f, b.stream, flow, ends);
        double narrow = 0.0;
        each_pair(f, k, sum_narrow, &narrow);
        set_even(b.part, h, ends, narrow / flow, out);
        take_straight(ends, &m, out);
        out->thin = with_ends(&m, ends, out->thin);
    }
    vugi_free(&ctx->mem, b.stream);
    return status ? status : vugi_step(ctx, 1.0);
}

vug_status vugi_passage_measure(vug_context *ctx, const vugi_grid *g, const uint8_t *state,
    const double *k, const vugi_ends *ends, vugi_passage *out)
{
    field f;
    double flow = 0.0, source = 0.0;
    bool room = field_begin(ctx, g, state, VUGI_CELL_IN, VUGI_CELL_IN, &f);
    vug_status status = room ? VUG_OK : vugi_fail_memory(ctx);
    f.wide = ends->wide;
    if (!status) {
        each_pair(&f, k, link_pair, NULL);
        for (size_t i = 0; i < f.lattice.count; i++) /* a cell on its own keeps its nothing */
            f.lattice.diagonal[i] += f.lattice.diagonal[i] > 0.0 ? 0.0 : 1.0;
        status = vugi_lattice_solve(ctx, &f.lattice, f.right, f.x, along);
    }
    if (!status) {
        each_pair(&f, k, sum_power, &flow);
        each_pair(&f, k, sum_source, &source);
        if (flow > apart * source)
            status = make_bundle(ctx, &f, k, flow, ends, out);
        else
            status = vugi_fail(ctx, VUG_ERR_NOT_FOUND, "the ends of a passage don't hang together");
    }
    field_end(ctx, &f);
    return status;
}

/* SPDX-License-Identifier: MIT
 * The resistance of throats. */
#include "cavity/throat.h"

#include "base/vec.h"
#include "grid/conductivity.h"
#include "grid/distance.h"
#include "grid/sign.h"

#include <math.h>
#include <string.h>

enum { AWAY, IN, END_A, END_B };

/* Beyond so many radii of the throat little is left to resist: a cone loses 1/27 of it there. */
static const double far_radii = 3.0;

/* A chamber is wide where a ball of so much of its largest fits; where that is hardly wider than the throat, of more. */
static const double wide_part = 0.75, most_part = 0.93, clearly = 1.2;

/* Cells in a radius of the throat, and in the box of its passage at most. */
static const double cells_in_radius = 4.0, most_cells = 4e5;

/* Cells not much finer than those of the search are those. */
static const double finer = 0.9;

typedef struct search {
    vug_context *ctx;
    const vugi_void *v;
    const vugi_border *border;
    vugi_straight straight;
    uint8_t *mark;
    double wide[2]; /* mm from the wall, of either chamber */
    bool small;     /* a wide part may be no more than a cell */
    uint32_t *cell; /* visited, in order */
    size_t count, room;
    uint32_t hops, reached[2]; /* at which the wide part of each chamber was met */
    int32_t lo[3], hi[3];
} search;

static int side_of(const search *s, uint32_t cell)
{
    uint32_t label = s->v->label[cell];
    return label == (uint32_t)s->border->a ? 0 : label == (uint32_t)s->border->b ? 1 : -1;
}

/* In the wide part of a chamber. */
static bool is_end(const search *s, uint32_t cell, int side)
{
    return (sqrt((double)s->v->squared[cell]) - 0.5) * s->v->grid.h >= s->wide[side];
}

static bool visit(search *s, uint32_t cell)
{
    int side = side_of(s, cell);
    int32_t at[3];
    if (side < 0 || s->mark[cell] != AWAY)
        return true;
    bool end = is_end(s, cell, side);
    if (end && s->reached[side] == UINT32_MAX)
        s->reached[side] = s->hops;
    s->mark[cell] = (uint8_t)(end ? END_A + side : IN);
    vugi_grid_place(&s->v->grid, cell, at);
    for (int k = 0; k < 3; k++) {
        s->lo[k] = at[k] < s->lo[k] ? at[k] : s->lo[k];
        s->hi[k] = at[k] > s->hi[k] ? at[k] : s->hi[k];
    }
    if (!vugi_reserve(&s->ctx->mem, &s->cell, &s->room, s->count + 1, sizeof *s->cell))
        return false;
    s->cell[s->count++] = cell;
    return true;
}

/* Once the wide part is met, the walls beside it are followed only so far. */
static bool goes_on(const search *s, uint32_t cell)
{
    int side = side_of(s, cell);
    double hops = 0.5 * s->wide[side] / s->v->grid.h;
    return s->mark[cell] == IN
        && (s->reached[side] == UINT32_MAX || s->hops <= s->reached[side] + hops);
}

/* Has the cell a neighbour in the other chamber? */
static bool on_border(const search *s, uint32_t cell)
{
    const vugi_grid *g = &s->v->grid;
    const uint32_t stride[3] = {1, (uint32_t)g->n[0], (uint32_t)g->n[0] * (uint32_t)g->n[1]};
    int32_t at[3];
    vugi_grid_place(g, cell, at);
    for (int k = 0; k < 3; k++)
        if ((at[k] > 0 && side_of(s, cell - stride[k]) == 1 - side_of(s, cell))
            || (at[k] + 1 < g->n[k] && side_of(s, cell + stride[k]) == 1 - side_of(s, cell)))
            return true;
    return false;
}

/* The cells along the border, from the one that is known. */
static bool visit_border(search *s)
{
    const vugi_grid *g = &s->v->grid;
    if (!visit(s, s->border->cell))
        return false;
    for (size_t i = 0; i < s->count; i++) {
        int32_t at[3];
        vugi_grid_place(g, s->cell[i], at);
        for (int n = 0; n < 27; n++) {
            int32_t x = at[0] + n % 3 - 1, y = at[1] + n / 3 % 3 - 1, z = at[2] + n / 9 - 1;
            if (x < 0 || y < 0 || z < 0 || x >= g->n[0] || y >= g->n[1] || z >= g->n[2])
                continue;
            uint32_t next = (uint32_t)vugi_grid_cell(g, x, y, z);
            if (side_of(s, next) >= 0 && on_border(s, next) && !visit(s, next))
                return false;
        }
    }
    return true;
}

/* Both sides of the border, out to where the chambers are wide, in rings. */
static bool spread(search *s)
{
    const vugi_grid *g = &s->v->grid;
    const size_t stride[3] = {1, (size_t)g->n[0], (size_t)g->n[0] * (size_t)g->n[1]};
    if (!visit_border(s))
        return false;
    for (size_t from = 0, to = s->count; from < to; from = to, to = s->count) {
        s->hops++;
        for (size_t i = from; i < to; i++) {
            uint32_t cell = s->cell[i];
            int32_t at[3];
            vugi_grid_place(g, cell, at);
            for (int k = 0; k < 3 && goes_on(s, cell); k++)
                if ((at[k] > 0 && !visit(s, cell - (uint32_t)stride[k]))
                    || (at[k] + 1 < g->n[k] && !visit(s, cell + (uint32_t)stride[k])))
                    return false;
        }
    }
    return true;
}

/* Cells of the passage. each: so many cells of the search along an axis make one; 0: they are finer, on their own. */
static vugi_grid grid_over(const search *s, double radius, int32_t *each)
{
    const vugi_grid *g = &s->v->grid;
    double size[3], volume = 1.0;
    for (int k = 0; k < 3; k++) {
        size[k] = (s->hi[k] - s->lo[k] + 2.0) * g->h;
        volume *= size[k];
    }
    double h = s->small ? fmin(g->h, radius / cells_in_radius) : radius / cells_in_radius;
    vugi_grid fine = {.h = fmax(h, cbrt(volume / most_cells))};
    *each = fine.h > finer * g->h ? (int32_t)fmax(1.0, ceil(fine.h / g->h - 0.2)) : 0;
    if (*each > 0)
        fine.h = *each * g->h;
    for (int k = 0; k < 3; k++) {
        fine.origin[k] = g->origin[k] + (s->lo[k] - 1.0) * g->h;
        fine.n[k] = (int32_t)ceil(size[k] / fine.h) + 1;
    }
    return fine;
}

/* Of a cell of the search; beyond its grid is wall. */
static bool is_void(const search *s, int32_t i, int32_t j, int32_t k)
{
    const vugi_grid *g = &s->v->grid;
    return i >= 0 && j >= 0 && k >= 0 && i < g->n[0] && j < g->n[1] && k < g->n[2]
        && s->v->cell[vugi_grid_cell(g, i, j, k)] == VUGI_VOID;
}

/* One of each so many cells of the search along each axis: those are known. A wall that lies between two of them is a
 * sheet before the first. */
static vug_status take_cells(const search *s, const vugi_grid *fine, int32_t each, uint8_t *cell)
{
#pragma omp parallel for schedule(static) num_threads(vugi_threads(s->ctx, (size_t)fine->n[2]))
    for (int32_t k = 0; k < fine->n[2]; k++) {
        if (vugi_pulse(s->ctx, 0.0))
            continue;
        size_t c = vugi_grid_cell(fine, 0, 0, k);
        for (int32_t j = 0; j < fine->n[1]; j++)
            for (int32_t i = 0; i < fine->n[0]; i++, c++) {
                const int32_t x = s->lo[0] - 1 + i * each, y = s->lo[1] - 1 + j * each,
                              z = s->lo[2] - 1 + k * each;
                cell[c] = is_void(s, x, y, z) ? VUGI_VOID : VUGI_SOLID;
                for (int32_t n = 1; n < each && cell[c] == VUGI_VOID; n++)
                    if ((!is_void(s, x + n, y, z) && is_void(s, x + each, y, z))
                        || (!is_void(s, x, y + n, z) && is_void(s, x, y + each, z))
                        || (!is_void(s, x, y, z + n) && is_void(s, x, y, z + each)))
                        cell[c] = VUGI_SHEET;
            }
    }
    return vugi_step(s->ctx, 0.0);
}

/* What the search made of a place; beside a wall the cells around it tell. */
static uint8_t mark_near(const search *s, const double point[3])
{
    const vugi_grid *g = &s->v->grid;
    size_t c = vugi_grid_nearest(g, point);
    int32_t at[3];
    uint8_t best = AWAY;
    if (c == SIZE_MAX || s->mark[c] != AWAY)
        return c == SIZE_MAX ? AWAY : s->mark[c];
    int side = side_of(s, (uint32_t)c);
    if (side >= 0)
        return (uint8_t)(is_end(s, (uint32_t)c, side) ? END_A + side : AWAY);
    vugi_grid_place(g, c, at);
    for (int n = 0; n < 27 && best != IN; n++) {
        int32_t i = at[0] + n % 3 - 1, j = at[1] + n / 3 % 3 - 1, k = at[2] + n / 9 - 1;
        if (i < 0 || j < 0 || k < 0 || i >= g->n[0] || j >= g->n[1] || k >= g->n[2])
            continue;
        uint8_t there = s->mark[vugi_grid_cell(g, i, j, k)];
        best = there == IN || best == AWAY ? there : best;
    }
    return best;
}

typedef struct cells {
    uint8_t *cell, *state, *gap, *wide;
    uint32_t *work;
    double *k;
} cells;

static bool cells_alloc(const vugi_allocator *mem, size_t count, cells *c)
{
    *c = (cells){.cell = vugi_alloc(mem, count, 1),
        .state = vugi_alloc(mem, count, 1),
        .gap = vugi_alloc(mem, count, 6),
        .wide = vugi_alloc(mem, count, 1),
        .work = vugi_alloc(mem, count, sizeof *c->work),
        .k = vugi_alloc(mem, count, sizeof *c->k)};
    return c->cell && c->state && c->gap && c->wide && c->work && c->k;
}

static void cells_free(const vugi_allocator *mem, cells *c)
{
    vugi_free(mem, c->cell);
    vugi_free(mem, c->state);
    vugi_free(mem, c->gap);
    vugi_free(mem, c->wide);
    vugi_free(mem, c->work);
    vugi_free(mem, c->k);
}

/* Which chamber a place of the fine grid belongs to, by the search: 0, 1, or -1. */
static int side_at(const search *s, const double point[3])
{
    size_t c = vugi_grid_nearest(&s->v->grid, point);
    return c == SIZE_MAX ? -1 : side_of(s, (uint32_t)c);
}

/* Where there is room for a ball, and how far that is, squared. */
typedef struct spot {
    size_t cell; /* SIZE_MAX: nowhere */
    double away;
} spot;

/* The cell with room for a ball of at least so many cells that is nearest to a place, on one side; of those from `first`
 * on, before `last`. */
static spot room_among(const search *s, const vugi_grid *fine, const cells *c, int side,
    double ball, const double from[3], size_t first, size_t last)
{
    const double least = (ball + 0.5) * (ball + 0.5);
    spot best = {SIZE_MAX, INFINITY};
    for (size_t i = first; i < last; i++) {
        double p[3];
        if (c->cell[i] != VUGI_VOID || (double)c->work[i] < least)
            continue;
        vugi_grid_point(fine, i, p);
        double d = vugi_square_distance(p, from);
        if (d < best.away && side_at(s, p) == side)
            best = (spot){i, d};
    }
    return best;
}

/* The same of all cells; of equally near ones the first. SIZE_MAX: none. */
static size_t nearest_room(const search *s, const vugi_grid *fine, const cells *c, int side,
    double ball, const double from[3])
{
    enum { SHARES = 64 };
    const size_t count = vugi_grid_count(fine);
    spot in[SHARES], best = {SIZE_MAX, INFINITY};
#pragma omp parallel for schedule(static) num_threads(vugi_threads(s->ctx, SHARES))
    for (size_t i = 0; i < SHARES; i++) {
        in[i] = best;
        if (!vugi_pulse(s->ctx, 0.0))
            in[i] = room_among(s, fine, c, side, ball, from, count * i / SHARES,
                count * (i + 1) / SHARES);
    }
    for (size_t i = 0; i < SHARES; i++)
        best = in[i].away < best.away ? in[i] : best;
    return best.cell;
}

/* How abruptly the passage ends: by how fast the ball that has room grows on the way into the chamber, from its edge on
 * to twice that. In a cone it is the sine of the angle to its axis; at the end of a tube 0.9, of a slot on the floor 0.6 to
 * 0.8. Less than 0.4 (24 degrees) is step by step; both limits are fitted to the cones of tests/cavity/test_cones.py. */
static double abruptness(const search *s, const vugi_grid *fine, const cells *c, int side,
    const vugi_place *throat)
{
    const double gentle = 0.4, sudden = 0.58;
    double ball = VUGI_CHAMBER_RADII * throat->radius / fine->h, from[3], to[3];
    size_t edge = nearest_room(s, fine, c, side, ball, throat->center);
    if (edge == SIZE_MAX)
        return 0.0;
    vugi_grid_point(fine, edge, from);
    for (double more = 2.0; more > 1.2; more -= 0.2) {
        size_t wide = nearest_room(s, fine, c, side, more * ball, from);
        if (wide == SIZE_MAX)
            continue;
        vugi_grid_point(fine, wide, to);
        double room = sqrt((double)c->work[wide]) - sqrt((double)c->work[edge]);
        double growth = room * fine->h / fmax(fine->h, vugi_point_distance(from, to));
        return fmin(1.0, fmax(0.0, (growth - gentle) / (sudden - gentle)));
    }
    return 1.0;
}

/* Less abrupt than that, the chamber's conductivity goes on in the passage's (fitted to the same). */
static const double apart = 0.75;

/* What is made of the cells from `first` on, before `last`. */
typedef void (*filler)(const search *s, const vugi_grid *fine, const cells *c,
    const vugi_ends *ends, size_t first, size_t last);

static void put_states(const search *s, const vugi_grid *fine, const cells *c,
    const vugi_ends *ends, size_t first, size_t last)
{
    static const uint8_t of_mark[] = {VUGI_CELL_AWAY, VUGI_CELL_IN, VUGI_CELL_FROM, VUGI_CELL_TO};
    (void)ends;
    for (size_t i = first; i < last; i++) {
        double p[3];
        c->state[i] = VUGI_CELL_WALL;
        if (c->cell[i] != VUGI_VOID)
            continue;
        vugi_grid_point(fine, i, p);
        c->state[i] = of_mark[mark_near(s, p)];
    }
}

static void put_walls(const search *s, const vugi_grid *fine, const cells *c, const vugi_ends *ends,
    size_t first, size_t last)
{
    (void)s, (void)fine, (void)ends;
    for (size_t i = first; i < last; i++)
        c->wide[i] = c->cell[i] != VUGI_VOID;
}

static double ball_of(const vugi_grid *fine, const vugi_ends *ends)
{
    return VUGI_CHAMBER_RADII * ends->radius / fine->h;
}

/* Middles of such balls, where the passage ends abruptly. */
static void put_balls(const search *s, const vugi_grid *fine, const cells *c, const vugi_ends *ends,
    size_t first, size_t last)
{
    const double ball = ball_of(fine, ends);
    for (size_t i = first; i < last; i++) {
        double p[3];
        c->wide[i] = sqrt((double)c->work[i]) - 0.5 >= ball;
        if (!c->wide[i])
            continue;
        vugi_grid_point(fine, i, p);
        int side = side_at(s, p);
        c->wide[i] = side >= 0 && ends->abrupt[side] > apart;
    }
}

static void put_reached(const search *s, const vugi_grid *fine, const cells *c,
    const vugi_ends *ends, size_t first, size_t last)
{
    const double ball = ball_of(fine, ends);
    (void)s;
    for (size_t i = first; i < last; i++)
        c->wide[i] = c->cell[i] == VUGI_VOID && (double)c->work[i] <= ball * ball;
}

static vug_status fill(const search *s, const vugi_grid *fine, const cells *c,
    const vugi_ends *ends, filler put)
{
    const size_t plane = (size_t)fine->n[0] * (size_t)fine->n[1], slices = (size_t)fine->n[2];
#pragma omp parallel for schedule(static) num_threads(vugi_threads(s->ctx, slices))
    for (size_t k = 0; k < slices; k++)
        if (!vugi_pulse(s->ctx, 0.0))
            put(s, fine, c, ends, k * plane, (k + 1) * plane);
    return vugi_step(s->ctx, 0.0);
}

/* How the passage ends on either side, and what balls of VUGI_CHAMBER_RADII reach (the opening of the void by that ball)
 * where it ends abruptly. */
static vug_status find_ends(const search *s, const vugi_grid *fine, const vugi_place *throat,
    cells *c, vugi_ends *ends)
{
    *ends = (vugi_ends){.wide = c->wide, .radius = throat->radius, .straight = s->straight};
    memcpy(ends->center, throat->center, sizeof ends->center);
    vug_status status = fill(s, fine, c, ends, put_walls);
    if (!status)
        status = vugi_distance(s->ctx, fine->n, c->wide, false, c->work);
    for (int side = 0; side < 2 && !status; side++)
        ends->abrupt[side] = abruptness(s, fine, c, side, throat);
    if (!status)
        status = fill(s, fine, c, ends, put_balls);
    if (!status)
        status = vugi_distance(s->ctx, fine->n, c->wide, false, c->work);
    return status ? status : fill(s, fine, c, ends, put_reached);
}

static vug_status measure_on(search *s, const vug_mesh *part, const vugi_grid *fine, int32_t each,
    const vugi_place *throat, vugi_passage *out)
{
    vug_context *ctx = s->ctx;
    vugi_sign_report report;
    vugi_ends ends;
    cells c;
    vug_status status = cells_alloc(&ctx->mem, vugi_grid_count(fine), &c) ? VUG_OK
                                                                          : vugi_fail_memory(ctx);
    if (!status && each > 0)
        status = take_cells(s, fine, each, c.cell);
    else if (!status)
        status = vugi_grid_sign(ctx, part, s->v->weight, fine, c.cell, c.work, &report);
    if (!status)
        status = vugi_grid_walls(ctx, part, s->v->weight, fine, c.gap);
    if (!status)
        status = fill(s, fine, &c, NULL, put_states);
    if (!status)
        status = find_ends(s, fine, throat, &c, &ends);
    if (!status)
        status = vugi_conductivity(ctx, fine, c.state, c.gap, c.wide, c.k);
    if (!status)
        status = vugi_passage_measure(ctx, fine, c.state, c.k, &ends, out);
    cells_free(&ctx->mem, &c);
    return status;
}

vug_status vugi_throat_measure(vug_context *ctx, const vug_mesh *part, const vugi_void *v,
    const vugi_border *border, vugi_straight straight, uint8_t *mark, vugi_place *throat)
{
    search s = {.ctx = ctx,
        .v = v,
        .border = border,
        .straight = straight,
        .mark = mark,
        .reached = {UINT32_MAX, UINT32_MAX},
        .lo = {INT32_MAX, INT32_MAX, INT32_MAX},
        .hi = {-1, -1, -1}};
    const int32_t chamber[2] = {border->a, border->b};
    for (int i = 0; i < 2; i++) {
        double peak = (sqrt((double)v->chamber[chamber[i]].top) - 0.5) * v->grid.h;
        s.wide[i] = fmax(wide_part * peak, fmin(most_part * peak, clearly * throat->radius));
        s.wide[i] = fmin(far_radii * throat->radius, s.wide[i]);
        s.small = s.small || s.wide[i] > wide_part * peak;
    }
    vugi_passage way = {0.0, 0.0, 0.0};
    vugi_range saved = vugi_progress_enter(ctx, 0.95, 0.95, "what the throats resist");
    vug_status status = spread(&s) ? VUG_OK : vugi_fail_memory(ctx);
    if (!status && s.reached[0] != UINT32_MAX && s.reached[1] != UINT32_MAX) {
        int32_t each;
        vugi_grid fine = grid_over(&s, throat->radius, &each);
        status = measure_on(&s, part, &fine, each, throat, &way);
    }
    vugi_progress_leave(ctx, saved);
    for (size_t i = 0; i < s.count; i++)
        mark[s.cell[i]] = AWAY;
    vugi_free(&ctx->mem, s.cell);
    if (status == VUG_ERR_NOT_FOUND) /* finer cells see a wall there: no way for liquid */
        status = VUG_OK;
    throat->length = way.length;
    throat->thin = way.thin;
    throat->edge = way.edge;
    return status;
}

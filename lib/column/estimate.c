/* SPDX-License-Identifier: MIT
 * Errors of volumes, from their causes. Those that walls have told (see column/wall_flood.h) are as exact as coordinates
 * are, which most files round, and as the heights of the openings.
 *
 * Errors of volumes by columns.
 *
 * A column stands for a square. Where the length of what it holds changes little from column to column
 * that is exact to second order; where a wall stands between two columns it may stand anywhere
 * between them, so each such place is off by jump h^2 (u - 1/2), u uniform: variance jump^2 h^4 / 12. A
 * wall that keeps between the same two rows of columns is off by the same u all along: its jumps are
 * added before they are squared. Walls that run across the columns are many short ones.
 *
 * The volume of the whole is known from the mesh, and volumes are scaled to it: what is caught, a share f of
 * it, is off by (1 - f) of its own error and f of that of the rest.
 *
 * A sill lies between the columns too. Its level is off by as much as ceilings change from one column to the
 * next there, over the surface that stands at that level. */
#include "column/estimate.h"

#include <math.h>

/* In spacings: neighbours that differ by more have a wall between them. */
enum { WALL = VUGI_STEEPEST };

/* Two standard deviations of what walls add up to. */
static const double SURE = 2.0;

/* Of a change of ceiling from one column to the next: as far as a sill between them may be off, in 19 of 20
 * random made parts. */
static const double SILL = 0.8;

/* Of sums of doubles, of the whole. */
static const double ROUNDING = 1e-12;

static double caught_length(const vugi_columns *c, const vugi_flood *f, bool liquid, size_t s)
{
    double level = f->level[s] < c->lo[s] ? c->lo[s]
        : f->level[s] > c->hi[s]          ? c->hi[s]
                                          : f->level[s];
    return liquid ? level - c->lo[s] : c->hi[s] - level;
}

static double steepest(const vugi_columns *c, bool liquid, size_t span, size_t column, double most)
{
    const double *end = liquid ? c->lo : c->hi;
    for (size_t n = c->first[column]; n < c->first[column + 1]; n++) {
        double step = fabs(end[n] - end[span]);
        if (step > most && step <= WALL * c->h && vugi_spans_touch(c, span, n))
            most = step;
    }
    return most;
}

double vugi_ceiling_step(const vugi_columns *c, bool liquid, size_t span, uint32_t column)
{
    size_t nx = (size_t)c->nx, x = column % nx, y = column / nx;
    double most = 0.0;
    if (x > 0)
        most = steepest(c, liquid, span, column - 1, most);
    if (x + 1 < nx)
        most = steepest(c, liquid, span, column + 1, most);
    if (y > 0)
        most = steepest(c, liquid, span, column - nx, most);
    if (y + 1 < (size_t)c->ny)
        most = steepest(c, liquid, span, column + nx, most);
    return most;
}

double vugi_level_error(const vugi_columns *c, const vugi_flood *f, bool liquid, size_t span)
{
    double seed;
    uint32_t sill = vugi_flood_sill(f, span, &seed);
    if (sill >= c->count)
        return seed;
    const vugi_sharp *sharp = vugi_flood_sharp(f, sill);
    if (sharp)
        return sharp->error;
    return vugi_ceiling_step(c, liquid, sill, vugi_flood_column(f, sill));
}

/* A stretch of wall between the same two rows. */
static void end_run(double *run, double *variance)
{
    *variance += *run * *run;
    *run = 0.0;
}

static void go_on(double from, double to, double wall, double *run, double *variance)
{
    double jump = to - from;
    bool is_wall = jump != 0.0 && (from == 0.0 || to == 0.0 || fabs(jump) > wall);
    if (*run != 0.0 && (!is_wall || (jump > 0.0) != (*run > 0.0)))
        end_run(run, variance);
    if (is_wall)
        *run += jump;
}

/* Sum of the squares of all stretches of wall. run: nx of zeros, and left so. */
static double walls(const vugi_columns *c, const double *length, double *run)
{
    size_t nx = (size_t)c->nx, ny = (size_t)c->ny;
    double variance = 0.0, wall = WALL * c->h, along = 0.0;
    for (size_t y = 0; y <= ny; y++) {
        const double *row = length + y * nx, *before = y > 0 ? row - nx : NULL;
        for (size_t x = 0; x < nx; x++)
            go_on(before ? before[x] : 0.0, y < ny ? row[x] : 0.0, wall, &along, &variance);
        end_run(&along, &variance);
        for (size_t x = 0; x <= nx && y < ny; x++)
            go_on(x > 0 ? row[x - 1] : 0.0, x < nx ? row[x] : 0.0, wall, run + x, &variance);
    }
    for (size_t x = 0; x <= nx; x++)
        end_run(run + x, &variance);
    return variance;
}

static bool make_room(const vugi_allocator *mem, const vugi_columns *c, vugi_estimate_room *r)
{
    size_t columns = (size_t)c->nx * (size_t)c->ny, across = (size_t)c->nx + 1;
    if (!vugi_reserve(mem, &r->caught, &r->caught_capacity, columns, sizeof *r->caught)
        || !vugi_reserve(mem, &r->rest, &r->rest_capacity, columns, sizeof *r->rest)
        || !vugi_reserve(mem, &r->run, &r->run_capacity, across, sizeof *r->run))
        return false;
    for (size_t x = 0; x < across; x++)
        r->run[x] = 0.0;
    return true;
}

/* What all surfaces at their levels may be off by: see vugi_level_error(). Spans of one sill mostly follow each other. */
typedef struct level_sum {
    double sum, count, step;
    uint32_t sill;
} level_sum;

static void add_level(const vugi_columns *c, const vugi_flood *f, bool liquid, size_t s,
    level_sum *l)
{
    if (!(f->level[s] > c->lo[s] && f->level[s] < c->hi[s]))
        return;
    if (f->sill[s] != l->sill || l->sill == UINT32_MAX) {
        l->sill = f->sill[s];
        l->step = vugi_level_error(c, f, liquid, s);
    }
    l->sum += l->step;
    l->count += 1.0;
}

vugi_estimate vugi_estimate_exact(double volume, const vugi_wall_sums *caught, double grain,
    double beyond)
{
    const double squares = caught->squares + caught->surface * caught->surface;
    return (vugi_estimate){.volume = volume,
        .caught = fmax(0.0, fmin(caught->volume, volume)),
        .level = caught->level,
        .grain_variance = grain * grain * squares,
        .beyond = beyond + caught->unseen};
}

bool vugi_estimate_flood(const vugi_allocator *mem, const vugi_columns *c, const vugi_flood *f,
    bool liquid, const double *scale, vugi_estimate_room *r, vugi_estimate *out)
{
    double h2 = c->h * c->h, whole = 0.0, caught = 0.0;
    level_sum level = {.sill = UINT32_MAX};
    if (!make_room(mem, c, r))
        return false;
    for (size_t column = 0; column < (size_t)c->nx * (size_t)c->ny; column++) {
        double all = 0.0, held = 0.0;
        for (size_t s = c->first[column]; s < c->first[column + 1]; s++) {
            double k = scale[c->body[s]], part = k * caught_length(c, f, liquid, s);
            all += k * (c->hi[s] - c->lo[s]);
            held += part;
            add_level(c, f, liquid, s, &level);
        }
        r->caught[column] = held;
        r->rest[column] = fmax(0.0, all - held);
        whole += all;
        caught += held;
    }
    *out = (vugi_estimate){.volume = h2 * whole,
        .caught = fmin(h2 * caught, h2 * whole),
        .caught_variance = h2 * h2 / 12.0 * walls(c, r->caught, r->run),
        .rest_variance = h2 * h2 / 12.0 * walls(c, r->rest, r->run),
        .level = h2 * level.sum};
    return true;
}

void vugi_estimate_room_free(const vugi_allocator *mem, vugi_estimate_room *r)
{
    vugi_free(mem, r->caught);
    vugi_free(mem, r->rest);
    vugi_free(mem, r->run);
    *r = (vugi_estimate_room){.caught = NULL};
}

double vugi_caught_error(const vugi_estimate *e, double whole_error)
{
    double f = e->volume > 0.0 ? e->caught / e->volume : 0.0;
    double sampling = (1.0 - f) * (1.0 - f) * e->caught_variance + f * f * e->rest_variance;
    return SURE * sqrt(sampling + e->grain_variance) + SILL * e->level + f * whole_error + e->beyond
        + ROUNDING * e->volume;
}

/* SPDX-License-Identifier: MIT
 * Throats between chambers side by side. A border between two chambers runs across spans that are no higher than the throat:
 * the shorter of two neighbours tells by its middle on which side each of them lies. */
#include "gravity/doors.h"

#include "cavity/atlas.h"
#include "column/columns.h"
#include "column/pose.h"

#include <assert.h>
#include <math.h>

/* A throat that rises more steeply is no door; nor are spans so much higher than its ball. */
static const double steep = 0.7, high = 1.3;

enum { CHAMBERS = 256 };

typedef struct finder {
    const vugi_columns *c;
    const vugi_atlas *atlas;
    const vugi_scene_throat *throat;
    size_t throat_count;
    vugi_door *door; /* of each throat; span[0] VUGI_NONE: none */
    double *off;     /* of each throat: distance of its spans from its middle */
    uint32_t *gate;  /* of each span, by throat */
    double most;     /* height of the shorter of two spans */
    int32_t *own;    /* of each span: 2 and the chamber at its middle; 0: not known yet */
    double *top;     /* of each chamber */
    size_t *number;  /* of each throat: of its door */
} finder;

static int32_t chamber_at(const finder *f, size_t column, double z)
{
    const vugi_columns *c = f->c;
    const double pose[3] = {c->x0 + c->h * (double)(column % (size_t)c->nx),
        c->y0 + c->h * (double)(column / (size_t)c->nx), z};
    double part[3];
    vugi_to_part(c->basis, pose, part);
    return vugi_atlas_chamber(f->atlas, part);
}

static double distance(const finder *f, const vugi_scene_throat *t, size_t column, double z)
{
    const vugi_columns *c = f->c;
    double x = c->x0 + c->h * (double)(column % (size_t)c->nx) - t->at[0];
    double y = c->y0 + c->h * (double)(column / (size_t)c->nx) - t->at[1];
    return hypot(hypot(x, y), z - t->at[2]);
}

/* The level throat between two chambers that is nearest to a place; VUGI_NONE: none. */
static size_t throat_near(const finder *f, int32_t a, int32_t b, size_t column, double z)
{
    size_t best = SIZE_MAX;
    double least = INFINITY;
    for (size_t i = 0; i < f->throat_count; i++) {
        const vugi_scene_throat *t = f->throat + i;
        bool same = (t->a == a && t->b == b) || (t->a == b && t->b == a);
        double off = same ? distance(f, t, column, z) : INFINITY;
        if (off < least) {
            best = i;
            least = off;
        }
    }
    return best != SIZE_MAX && fabs(f->throat[best].along[2]) <= steep ? best : SIZE_MAX;
}

/* Is a place no farther over or under the throat between two chambers than its ball? */
static bool is_beside(const finder *f, int32_t a, int32_t b, size_t column, double z)
{
    size_t t = throat_near(f, a, b, column, z);
    return t == SIZE_MAX || fabs(z - f->throat[t].at[2]) <= high * f->throat[t].radius;
}

/* The chamber of the higher of two neighbours. A border can bulge out of the end of a slot, and the shorter one's own
 * chamber with it: then the one over or under that, unless the higher one comes to another chamber far from the throat. */
static int32_t chamber_beside(const finder *f, uint32_t low, size_t column, uint32_t span, double z,
    int32_t own)
{
    const vugi_columns *c = f->c;
    double gap = c->hi[low] - c->lo[low];
    const double tries[2] = {c->hi[low] + gap, c->lo[low] - gap};
    int32_t in = chamber_at(f, column, z);
    for (int i = 0; i < 2 && (in < 0 || in == own); i++) {
        bool within = tries[i] >= c->lo[span] && tries[i] <= c->hi[span];
        int32_t other = within ? chamber_at(f, column, tries[i]) : -1;
        if (other >= 0 && is_beside(f, own, other, column, z))
            in = other;
    }
    return in;
}

/* The chamber at the middle of a span that is no higher than a throat, looked up once; -1: it is higher, or in none. */
static int32_t own_chamber(finder *f, uint32_t span, size_t column)
{
    const vugi_columns *c = f->c;
    if (c->hi[span] - c->lo[span] > f->most)
        return -1;
    if (f->own[span] == 0)
        f->own[span] = 2 + chamber_at(f, column, 0.5 * (c->lo[span] + c->hi[span]));
    return f->own[span] - 2;
}

static void set_end(vugi_door *d, int roof, double *end, double z, int side, uint32_t p, uint32_t q)
{
    *end = z;
    d->end_span[roof][side] = p;
    d->end_span[roof][!side] = q;
}

static void look_between(finder *f, uint32_t p, size_t at, uint32_t q, size_t beside)
{
    const vugi_columns *c = f->c;
    double lo = fmax(c->lo[p], c->lo[q]), hi = fmin(c->hi[p], c->hi[q]);
    bool shorter = c->hi[p] - c->lo[p] < c->hi[q] - c->lo[q];
    double own = shorter ? c->hi[p] - c->lo[p] : c->hi[q] - c->lo[q];
    if (!(lo < hi) || c->body[p] != c->body[q] || own > f->most)
        return;
    double z = shorter ? 0.5 * (c->lo[p] + c->hi[p]) : 0.5 * (c->lo[q] + c->hi[q]);
    z = fmax(lo, fmin(hi, z));
    int32_t a = own_chamber(f, p, at), b = own_chamber(f, q, beside);
    if (a >= 0 && b >= 0) {
        if (a == b)
            return;
    } else if (shorter) {
        a = chamber_at(f, at, z);
        b = chamber_beside(f, p, beside, q, z, a);
    } else {
        b = chamber_at(f, beside, z);
        a = chamber_beside(f, q, at, p, z, b);
    }
    if (a < 0 || b < 0 || a == b)
        return;
    size_t t = throat_near(f, a, b, at, z);
    if (t == SIZE_MAX || own > 2.0 * high * f->throat[t].radius)
        return;
    vugi_door *d = f->door + t;
    int side = f->throat[t].a == a ? 0 : 1;
    double off = distance(f, f->throat + t, at, z);
    if (lo < d->lo)
        set_end(d, 0, &d->lo, lo, side, p, q);
    if (hi > d->hi)
        set_end(d, 1, &d->hi, hi, side, p, q);
    if (off < f->off[t]) {
        f->off[t] = off;
        d->span[side] = p;
        d->span[!side] = q;
        d->z = z;
    }
    if (f->gate[p] == 0)
        f->gate[p] = (uint32_t)(1 + 2 * t + (size_t)side);
    if (f->gate[q] == 0)
        f->gate[q] = (uint32_t)(1 + 2 * t + (size_t)!side);
}

static void look_at_borders(finder *f)
{
    const vugi_columns *c = f->c;
    size_t nx = (size_t)c->nx, columns = nx * (size_t)c->ny;
    for (size_t at = 0; at < columns; at++)
        for (uint32_t p = c->first[at]; p < c->first[at + 1]; p++)
            for (int k = 0; k < 2; k++) {
                size_t beside = k == 0 ? at + 1 : at + nx;
                if (k == 0 ? at % nx + 1 == nx : beside >= columns)
                    continue;
                for (uint32_t q = c->first[beside]; q < c->first[beside + 1]; q++)
                    look_between(f, p, at, q, beside);
            }
}

/* How high the chambers go, from the first door on. */
static void find_tops(finder *f)
{
    const vugi_columns *c = f->c;
    bool any = false;
    for (size_t t = 0; t < f->throat_count; t++)
        any |= f->door[t].span[0] != VUGI_NONE;
    if (!any)
        return;
    for (size_t at = 0; at < (size_t)c->nx * (size_t)c->ny; at += 3) /* a roof is wider */
        for (uint32_t p = c->first[at]; p < c->first[at + 1]; p++) {
            int32_t in = chamber_at(f, at, fmax(c->lo[p], c->hi[p] - 0.5 * c->h));
            if (in >= 0 && in < CHAMBERS)
                f->top[in] = fmax(f->top[in], c->hi[p]);
        }
}

/* Those below the roofs of both their chambers remain. Returns how many. */
static size_t keep_doors(finder *f)
{
    size_t kept = 0;
    for (size_t t = 0; t < f->throat_count; t++) {
        vugi_door d = f->door[t];
        const vugi_scene_throat *own = f->throat + t;
        bool under = d.span[0] != VUGI_NONE && own->a < CHAMBERS && own->b < CHAMBERS
            && d.hi + f->c->h < fmin(f->top[own->a], f->top[own->b]);
        f->number[t] = under ? kept : SIZE_MAX;
        if (under)
            f->door[kept++] = d;
    }
    for (size_t s = 0; s < f->c->count; s++) {
        size_t door = f->gate[s] > 0 ? f->number[(f->gate[s] - 1) / 2] : SIZE_MAX;
        f->gate[s] = door == SIZE_MAX ? 0 : (uint32_t)(1 + 2 * door + (f->gate[s] - 1) % 2);
    }
    return kept;
}

bool vugi_door_reached(const vugi_graph *g, const double *level, const vugi_door *d, int side)
{
    uint32_t arc = d->arc[side];
    if (level[arc] > g->arc[arc].lo)
        return level[arc] >= d->lo;
    return d->lo <= g->arc[arc].lo && vugi_node_flooded(g, level, g->arc[arc].from);
}

bool vugi_door_wet(const vugi_graph *g, const double *level, const vugi_door *d)
{
    return vugi_door_reached(g, level, d, 0) && vugi_door_reached(g, level, d, 1);
}

uint32_t vugi_door_air(const vugi_graph *g, const double *level, const vugi_door *d, int side)
{
    uint32_t arc = d->arc[side];
    if (level[arc] >= g->arc[arc].hi) /* else air that is higher up hangs together with its own */
        arc = d->end[1][side];
    return level[arc] < fmin(d->hi, g->arc[arc].hi) ? arc : VUGI_NONE;
}

static void begin(finder *f)
{
    f->most = 0.0;
    for (size_t t = 0; t < f->throat_count; t++) {
        f->door[t] = (vugi_door){.throat = t,
            .lo = INFINITY,
            .hi = -INFINITY,
            .span = {VUGI_NONE, VUGI_NONE}};
        f->off[t] = INFINITY;
        if (fabs(f->throat[t].along[2]) <= steep)
            f->most = fmax(f->most, 2.0 * high * f->throat[t].radius);
    }
    for (int i = 0; i < CHAMBERS; i++)
        f->top[i] = -INFINITY;
}

vug_status vugi_doors_find(vug_context *ctx, const vugi_allocator *mem, const vugi_columns *columns,
    const struct vugi_atlas *atlas, const vugi_scene_throat *throat, size_t throat_count,
    vugi_door **door, size_t *count, uint32_t **gate)
{
    *door = NULL;
    *gate = NULL;
    *count = 0;
    if (!atlas || throat_count == 0)
        return VUG_OK;
    finder f = {.c = columns,
        .atlas = atlas,
        .throat = throat,
        .throat_count = throat_count,
        .door = vugi_alloc(mem, throat_count, sizeof *f.door),
        .off = vugi_alloc(mem, throat_count, sizeof *f.off),
        .gate = vugi_calloc(mem, columns->count, sizeof *f.gate),
        .top = vugi_alloc(mem, CHAMBERS, sizeof *f.top),
        .own = vugi_calloc(mem, columns->count, sizeof *f.own),
        .number = vugi_alloc(mem, throat_count, sizeof *f.number)};
    vug_status status = f.door && f.off && f.gate && f.top && f.own && f.number
        ? VUG_OK
        : vugi_fail_memory(ctx);
    if (!status) {
        begin(&f);
        if (f.most > 0.0)
            look_at_borders(&f);
        find_tops(&f);
        *count = keep_doors(&f);
    }
    vugi_free(mem, f.off);
    vugi_free(mem, f.top);
    vugi_free(mem, f.number);
    vugi_free(mem, f.own);
    if (*count > 0) {
        *door = f.door;
        *gate = f.gate;
    } else {
        vugi_free(mem, f.door);
        vugi_free(mem, f.gate);
    }
    return status;
}

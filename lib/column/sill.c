/* SPDX-License-Identifier: MIT
 * Levels of sills, closer than columns see them.
 *
 * A sill is where air (or liquid, upside down) comes from one side to the other at the highest. Columns see
 * it at the nearest of them, off by what the ceiling changes over a spacing: that is of first order at a
 * lintel, at an edge, at a crease. Around the column that limits the flood finer ones are cut from the mesh
 * itself, over a square of some spacings. Their spans join from the highest ceiling down; at some of them
 * it is known from the coarser flood whether they lie before the sill or beyond it. The level at which a set that
 * holds one of the first meets one that holds one of the second is the sill's, seen that much closer; and once
 * more around the fine column where they meet. */
#include "column/sill.h"

#include "column/estimate.h"

#include "base/disjoint_set.h"
#include "base/sort.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Finer by FINER (odd, so that a column stands where the coarser one did), LOOKS times, over columns up to
 * AROUND away. */
enum { FINER = 3, AROUND = 2, LOOKS = 4, ACROSS = FINER * (2 * AROUND + 1) };

/* In spacings from a sill: how far the squares of all looks reach, and a little more. */
static const double REACH = 4.0;

/* Of the finest columns, over all of the part, the raster must be able to count so many. */
static const double COUNTED = 1 << 15;

/* Of the whole volume: what may hang on a sill that is left as it is. */
static const double LITTLE = 2e-4;

enum { NEITHER, BEFORE, BEYOND };

typedef struct view {
    const vugi_allocator *mem;
    const vugi_bodies *bodies;
    const vugi_columns *columns;
    const vugi_flood *flood;
    int32_t shift;
    bool liquid;
    vugi_sill_room *room;
} view;

/* What is known so far of a sill: the span that limits it, of which columns. */
typedef struct place {
    const vugi_columns *c;
    const vugi_sill_square *square; /* NULL: by the flood itself */
    uint32_t sill, column;
    double level;
} place;

static double level_of(const view *w, size_t s)
{
    return w->liquid ? -w->flood->level[s] : w->flood->level[s];
}

/* ---- one look ---------------------------------------------------------------------- */

static unsigned char side_of(const view *w, const place *at, size_t s)
{
    if (at->square)
        return at->square->side[s];
    if (w->flood->sill[s] == at->sill)
        return BEYOND;
    return level_of(w, s) >= at->level ? BEFORE : NEITHER;
}

static vug_status lay(const view *w, const place *at, vugi_columns *fine)
{
    const vugi_columns *c = at->c;
    uint32_t i = at->column % (uint32_t)c->nx, j = at->column / (uint32_t)c->nx;
    vugi_column_grid grid = {.h = c->h / FINER, .nx = ACROSS, .ny = ACROSS};
    memcpy(grid.basis, c->basis, sizeof grid.basis);
    grid.x0 = c->x0 + i * c->h - 0.5 * (ACROSS - 1) * grid.h;
    grid.y0 = c->y0 + j * c->h - 0.5 * (ACROSS - 1) * grid.h;
    return vugi_columns_zoom(w->mem, w->bodies, w->columns, &w->room->near, &grid, fine);
}

typedef struct by_ceiling {
    const vugi_columns *c;
    bool liquid;
} by_ceiling;

static int higher_first(const void *left, const void *right, const void *user)
{
    const by_ceiling *by = user;
    double a = vugi_span_ceiling(by->c, by->liquid, *(const uint32_t *)left),
           b = vugi_span_ceiling(by->c, by->liquid, *(const uint32_t *)right);
    return a > b ? -1 : a < b;
}

static bool make_square(const view *w, vugi_sill_square *q)
{
    const vugi_columns *c = &q->columns;
    size_t room = c->count + 1;
    if (!vugi_reserve(w->mem, &q->column, &q->column_capacity, room, sizeof *q->column)
        || !vugi_reserve(w->mem, &q->order, &q->order_capacity, room, sizeof *q->order)
        || !vugi_reserve(w->mem, &q->parent, &q->parent_capacity, room, sizeof *q->parent)
        || !vugi_reserve(w->mem, &q->side, &q->side_capacity, room, sizeof *q->side)
        || !vugi_reserve(w->mem, &q->joined, &q->joined_capacity, room, sizeof *q->joined))
        return false;
    vugi_columns_of_spans(c, q->column);
    for (size_t s = 0; s < c->count; s++) {
        q->order[s] = (uint32_t)s;
        q->parent[s] = UINT32_MAX; /* not there yet */
        q->side[s] = q->joined[s] = NEITHER;
    }
    return vugi_sort(w->mem, q->order, c->count, sizeof *q->order, higher_first,
        &(by_ceiling){c, w->liquid});
}

/* Tells the fine span that stands in a coarse one's place on which side of the sill that is. */
static void tell_column(const view *w, const place *at, size_t from, size_t to, vugi_sill_square *q)
{
    const vugi_columns *c = at->c, *fine = &q->columns;
    const int32_t shift = at->square ? 0 : w->shift;
    for (size_t s = c->first[from]; s < c->first[from + 1]; s++) {
        unsigned char side = side_of(w, at, s);
        for (size_t n = fine->first[to]; side != NEITHER && n < fine->first[to + 1]; n++)
            if (fine->body[n] + shift == c->body[s] && fine->lo[n] < c->hi[s]
                && c->lo[s] < fine->hi[n])
                q->side[n] = side;
    }
}

/* The same for the coarse columns all around the sill. */
static void tell(const view *w, const place *at, vugi_sill_square *q)
{
    const vugi_columns *c = at->c;
    int32_t i = (int32_t)(at->column % (uint32_t)c->nx),
            j = (int32_t)(at->column / (uint32_t)c->nx);
    for (int32_t dj = -AROUND; dj <= AROUND; dj++) {
        for (int32_t di = -AROUND; di <= AROUND; di++) {
            int32_t x = FINER * (di + AROUND) + FINER / 2, y = FINER * (dj + AROUND) + FINER / 2;
            if ((abs(di) < AROUND && abs(dj) < AROUND) || i + di < 0 || j + dj < 0
                || i + di >= c->nx || j + dj >= c->ny)
                continue;
            tell_column(w, at, (size_t)(j + dj) * (size_t)c->nx + (size_t)(i + di),
                (size_t)y * ACROSS + (size_t)x, q);
        }
    }
}

/* The sides that those beside a span are on which are there; unite: and they become one with it. */
static unsigned char meet(vugi_sill_square *q, uint32_t s, bool unite)
{
    const vugi_columns *c = &q->columns;
    size_t column = q->column[s], x = column % ACROSS, y = column / ACROSS;
    const size_t to[4] = {x > 0 ? column - 1 : column, x + 1 < ACROSS ? column + 1 : column,
        y > 0 ? column - ACROSS : column, y + 1 < ACROSS ? column + ACROSS : column};
    unsigned char sides = 0;
    for (int k = 0; k < 4; k++) {
        for (size_t n = c->first[to[k]]; n < c->first[to[k] + 1]; n++) {
            if (to[k] == column || q->parent[n] == UINT32_MAX || !vugi_spans_touch(c, s, n))
                continue;
            uint32_t root = vugi_sets_find(q->parent, (uint32_t)n);
            sides |= q->joined[root];
            if (unite)
                q->parent[root] = s;
        }
    }
    return sides;
}

/* Lets a span join those beside it that are there. true: both sides meet here. */
static bool join(vugi_sill_square *q, uint32_t s)
{
    unsigned char sides = q->side[s] | meet(q, s, false);
    if (sides == (BEFORE | BEYOND))
        return true;
    q->parent[s] = s;
    q->joined[s] = sides;
    meet(q, s, true);
    return false;
}

/* Which side each span is on that had joined before both met. */
static void keep_sides(vugi_sill_square *q)
{
    for (uint32_t s = 0; s < q->columns.count; s++)
        q->side[s] = q->parent[s] == UINT32_MAX ? NEITHER : q->joined[vugi_sets_find(q->parent, s)];
}

/* The span at which both sides of a sill meet among finer columns. *met: they do. false: no memory. */
static bool look(const view *w, const place *at, vugi_sill_square *q, place *seen, bool *met)
{
    *met = false;
    vug_status status = lay(w, at, &q->columns);
    if (status || !make_square(w, q))
        return false;
    tell(w, at, q);
    for (size_t i = 0; i < q->columns.count && !*met; i++) {
        uint32_t s = q->order[i];
        if (!(*met = join(q, s)))
            continue;
        *seen = (place){&q->columns, q, s, q->column[s],
            vugi_span_ceiling(&q->columns, w->liquid, s)};
        keep_sides(q);
    }
    return true;
}

/* ---- all that matter ---------------------------------------------------------------- */

static bool looks(const view *w, uint32_t sill, vugi_sharp *sharp)
{
    const double sign = w->liquid ? -1.0 : 1.0;
    place at = {.c = w->columns,
        .sill = sill,
        .column = vugi_flood_column(w->flood, sill),
        .level = vugi_span_ceiling(w->columns, w->liquid, sill)};
    *sharp = (vugi_sharp){.sill = sill,
        .level = sign * at.level,
        .error = vugi_ceiling_step(w->columns, w->liquid, sill, at.column)};
    if (!vugi_columns_near(w->mem, w->bodies, w->columns, at.column, REACH, &w->room->near))
        return false;
    double across = fmax(w->columns->nx, w->columns->ny);
    for (int k = 0; k < LOOKS && (across *= FINER) < COUNTED; k++) {
        place seen;
        bool met;
        if (!look(w, &at, w->room->square + k % 2, &seen, &met))
            return false;
        if (!met)
            break;
        at = seen;
        sharp->level = sign * at.level;
        sharp->error = vugi_ceiling_step(at.c, w->liquid, at.sill, at.column);
    }
    return true;
}

/* The sill through which air came to the span of another sill, and the level it came with. */
static uint32_t sill_before(const view *w, uint32_t sill, double *level)
{
    const vugi_columns *c = w->columns;
    size_t nx = (size_t)c->nx, column = vugi_flood_column(w->flood, sill), x = column % nx,
           y = column / nx;
    const size_t to[4] = {x > 0 ? column - 1 : column, x + 1 < nx ? column + 1 : column,
        y > 0 ? column - nx : column, y + 1 < (size_t)c->ny ? column + nx : column};
    uint32_t before = UINT32_MAX;
    *level = -INFINITY;
    for (int k = 0; k < 4; k++) {
        for (size_t n = c->first[to[k]]; n < c->first[to[k] + 1]; n++) {
            if (to[k] == column || !(level_of(w, n) > *level) || !vugi_spans_touch(c, sill, n))
                continue;
            *level = level_of(w, n);
            before = w->flood->sill[n];
        }
    }
    return before;
}

/* Looks at a sill, and at those before it that limit it as soon as it is seen higher. */
static bool add(const view *w, vugi_flood *f, uint32_t sill)
{
    const double sign = w->liquid ? -1.0 : 1.0;
    while (sill < w->columns->count && f->sharp_count < VUGI_SHARP_MOST
        && !vugi_flood_sharp(f, sill)) {
        vugi_sharp *s = f->sharp + f->sharp_count;
        double level;
        if (!looks(w, sill, s))
            return false;
        f->sharp_count++;
        sill = sill_before(w, sill, &level);
        if (!(sign * s->level > level))
            break;
    }
    return true;
}

/* Surface at the level of each sill: columns whose span it cuts. */
static bool measure(const view *w, double *whole)
{
    const vugi_columns *c = w->columns;
    const vugi_flood *f = w->flood;
    vugi_sill_room *r = w->room;
    if (!vugi_reserve(w->mem, &r->area, &r->area_capacity, c->count + 1, sizeof *r->area))
        return false;
    memset(r->area, 0, c->count * sizeof *r->area);
    *whole = 0.0;
    for (size_t s = 0; s < c->count; s++) {
        *whole += c->hi[s] - c->lo[s];
        if (f->level[s] > c->lo[s] && f->level[s] < c->hi[s] && f->sill[s] < c->count)
            r->area[f->sill[s]] += 1.0;
    }
    return true;
}

/* A level is no higher than that of the sill before. */
static void limit(const view *w, vugi_flood *f)
{
    const double sign = w->liquid ? -1.0 : 1.0;
    for (size_t round = 0; round < f->sharp_count; round++) {
        bool changed = false;
        for (size_t i = 0; i < f->sharp_count; i++) {
            double level;
            const vugi_sharp *before = vugi_flood_sharp(f,
                sill_before(w, f->sharp[i].sill, &level));
            level = before ? sign * before->level : level;
            if (!(sign * f->sharp[i].level > level))
                continue;
            f->sharp[i].level = sign * level;
            f->sharp[i].error = before ? before->error : f->sharp[i].error;
            changed = true;
        }
        if (!changed)
            break;
    }
}

static void move_levels(const vugi_columns *c, vugi_flood *f)
{
    uint32_t last = UINT32_MAX;
    const vugi_sharp *sharp = NULL;
    for (size_t s = 0; s < c->count; s++) {
        if (f->sill[s] != last) {
            last = f->sill[s];
            sharp = vugi_flood_sharp(f, last);
        }
        if (sharp)
            f->level[s] = sharp->level;
    }
}

bool vugi_flood_sharpen(const vugi_allocator *mem, const vugi_bodies *bodies, int32_t shift,
    const vugi_columns *c, bool liquid, vugi_flood *f, vugi_sill_room *room)
{
    const view w = {mem, bodies, c, f, shift, liquid, room};
    double whole;
    if (!vugi_reserve(mem, &f->sharp, &f->sharp_capacity, VUGI_SHARP_MOST, sizeof *f->sharp)
        || !measure(&w, &whole))
        return false;
    const double least = LITTLE * whole / (VUGI_STEEPEST * c->h);
    for (uint32_t s = 0; s < c->count; s++)
        if (room->area[s] > least
            && room->area[s] * vugi_ceiling_step(c, liquid, s, vugi_flood_column(f, s))
                > LITTLE * whole
            && !add(&w, f, s))
            return false;
    limit(&w, f);
    if (f->sharp_count > 0)
        move_levels(c, f);
    return true;
}

/* The span that limited it then, or one that was moved to its level. */
static const vugi_sharp *known_of(const vugi_columns *c, bool liquid, const vugi_sharps *known,
    uint32_t sill)
{
    for (size_t i = 0; i < known->count; i++)
        if (known->at[i].sill == sill || known->at[i].level == (liquid ? c->lo[sill] : c->hi[sill]))
            return known->at + i;
    return NULL;
}

bool vugi_flood_recall(const vugi_allocator *mem, const vugi_columns *c, bool liquid,
    const vugi_sharps *known, vugi_flood *f)
{
    if (!vugi_reserve(mem, &f->sharp, &f->sharp_capacity, VUGI_SHARP_MOST, sizeof *f->sharp))
        return false;
    for (size_t s = 0; s < c->count && known->count > 0 && known->liquid == liquid; s++) {
        const vugi_sharp *sharp = f->sill[s] < c->count ? known_of(c, liquid, known, f->sill[s])
                                                        : NULL;
        if (!sharp)
            continue;
        f->sill[s] = sharp->sill;
        if (!vugi_flood_sharp(f, sharp->sill))
            f->sharp[f->sharp_count++] = *sharp;
    }
    return true;
}

void vugi_sill_room_free(const vugi_allocator *mem, vugi_sill_room *r)
{
    for (int k = 0; k < 2; k++) {
        vugi_sill_square *q = r->square + k;
        vugi_columns_free(mem, &q->columns);
        vugi_free(mem, q->column);
        vugi_free(mem, q->order);
        vugi_free(mem, q->parent);
        vugi_free(mem, q->side);
        vugi_free(mem, q->joined);
    }
    vugi_free(mem, r->near.triangle);
    vugi_free(mem, r->near.heap);
    vugi_free(mem, r->area);
    *r = (vugi_sill_room){.area = NULL};
}

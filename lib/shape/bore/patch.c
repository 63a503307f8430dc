/* SPDX-License-Identifier: MIT
 * Each hole is joined to the loop around it by a bridge that is walked both ways; then ears are clipped,
 * the roundest first, by exact signs. At last edges are turned. Where loops cross by a little no corner may be an ear: the
 * smallest triangle is taken then, which does the least harm. */
#include "shape/bore/patch.h"

#include "shape/bore/flip.h"

#include "mesh/exact.h"

#include <assert.h>
#include <math.h>
#include <string.h>

void vugi_outline_clear(vugi_outline *outline)
{
    outline->count = outline->loops = outline->open = 0;
}

void vugi_outline_free(vugi_outline *outline)
{
    vugi_free(&outline->mem, outline->id);
    vugi_free(&outline->mem, outline->uv);
    vugi_free(&outline->mem, outline->first);
}

bool vugi_outline_add(vugi_outline *outline, uint32_t id, const double uv[2])
{
    size_t n = outline->count;
    if (!vugi_reserve(&outline->mem, &outline->id, &outline->id_capacity, n + 1, sizeof(uint32_t))
        || !vugi_reserve(&outline->mem, &outline->uv, &outline->uv_capacity, n + 1,
            2 * sizeof(double)))
        return false;
    outline->id[n] = id;
    outline->uv[2 * n] = uv[0];
    outline->uv[2 * n + 1] = uv[1];
    outline->count++;
    return true;
}

bool vugi_outline_close(vugi_outline *outline)
{
    if (!vugi_reserve(&outline->mem, &outline->first, &outline->loop_capacity, outline->loops + 2,
            sizeof(uint32_t)))
        return false;
    outline->first[outline->loops++] = (uint32_t)outline->open;
    outline->first[outline->loops] = (uint32_t)outline->count;
    outline->open = outline->count;
    return true;
}

bool vugi_rows_add(vugi_rows *rows, uint32_t a, uint32_t b, uint32_t c)
{
    if (!vugi_reserve(&rows->mem, &rows->row, &rows->capacity, rows->count + 1,
            3 * sizeof(uint32_t)))
        return false;
    const uint32_t row[3] = {a, b, c};
    memcpy(rows->row + 3 * rows->count++, row, sizeof row);
    return true;
}

/* ---- loops --------------------------------------------------------------------------------- */

static double loop_area(const vugi_outline *o, size_t loop)
{
    const double *base = o->uv + 2 * (size_t)o->first[loop];
    double sum = 0.0;
    for (size_t i = o->first[loop]; i + 1 < o->first[loop + 1]; i++) {
        const double *p = o->uv + 2 * i, *q = p + 2;
        sum += (p[0] - base[0]) * (q[1] - base[1]) - (p[1] - base[1]) * (q[0] - base[0]);
    }
    return 0.5 * sum;
}

static bool loop_holds(const vugi_outline *o, size_t loop, const double p[2])
{
    bool inside = false;
    size_t first = o->first[loop], end = o->first[loop + 1];
    for (size_t i = first, j = end - 1; i < end; j = i++) {
        const double *a = o->uv + 2 * i, *b = o->uv + 2 * j;
        if ((a[1] > p[1]) == (b[1] > p[1]))
            continue;
        int side = a[1] > b[1] ? vugi_turn(b, a, p) : vugi_turn(a, b, p);
        inside ^= side > 0;
    }
    return inside;
}

/* The smallest loop around hole, or the number of loops. */
static size_t loop_around(const vugi_outline *o, const double *area, size_t hole)
{
    size_t best = o->loops;
    for (size_t i = 0; i < o->loops; i++)
        if (area[i] > 0.0 && (best == o->loops || area[i] < area[best])
            && loop_holds(o, i, o->uv + 2 * (size_t)o->first[hole]))
            best = i;
    return best;
}

/* ---- bridges ------------------------------------------------------------------------------- */

typedef struct clip {
    const vugi_outline *o;
    uint32_t *ring; /* points */
    size_t count;
    double *fit;   /* how round an ear each corner is; 0: none, below 0: to be looked at */
    bool crossing; /* loops may cross */
} clip;

static const double *at(const clip *c, size_t place)
{
    assert(place < c->count);
    return c->o->uv + 2 * (size_t)c->ring[place];
}

static bool same(const double a[2], const double b[2])
{
    return memcmp(a, b, 2 * sizeof *a) == 0 || (a[0] == b[0] && a[1] == b[1]);
}

/* Do they have no number in common, from p to q and from a to b? */
static bool is_apart(double p, double q, double a, double b)
{
    return (p < a && p < b && q < a && q < b) || (p > a && p > b && q > a && q > b);
}

/* Does segment pq meet segment ab, other than in an end that both have? */
static bool meets(const double *p, const double *q, const double *a, const double *b)
{
    if (is_apart(p[0], q[0], a[0], b[0]) || is_apart(p[1], q[1], a[1], b[1]))
        return false;
    int a_side = vugi_turn(p, q, a), b_side = vugi_turn(p, q, b);
    int p_side = vugi_turn(a, b, p), q_side = vugi_turn(a, b, q);
    if (same(p, a) || same(p, b) || same(q, a) || same(q, b))
        return false;
    return a_side * b_side <= 0 && p_side * q_side <= 0;
}

/* Does the way from a corner of the ring to p begin inside? */
static bool begins_inside(const clip *c, size_t place, const double *p)
{
    const double *b = at(c, place);
    const double *a = at(c, (place + c->count - 1) % c->count), *d = at(c, (place + 1) % c->count);
    bool left_in = vugi_turn(a, b, p) > 0, left_out = vugi_turn(b, d, p) > 0;
    return vugi_turn(a, b, d) > 0 ? left_in && left_out : left_in || left_out;
}

static bool is_free(const clip *c, size_t place, const double *p)
{
    const double *q = at(c, place);
    if (!begins_inside(c, place, p))
        return false;
    for (size_t i = 0; i < c->count; i++)
        if (meets(p, q, at(c, i), at(c, (i + 1) % c->count)))
            return false;
    const vugi_outline *o = c->o;
    for (size_t loop = 0; loop < o->loops; loop++)
        for (size_t i = o->first[loop], j = o->first[loop + 1] - 1; i < o->first[loop + 1]; j = i++)
            if (meets(p, q, o->uv + 2 * i, o->uv + 2 * j))
                return false;
    return true;
}

/* The shortest bridge from the ring to a hole: places in the ring and among the hole's points. clear: it crosses nothing. */
static bool find_bridge(const clip *c, size_t hole, bool clear, size_t *to, size_t *from)
{
    const vugi_outline *o = c->o;
    const size_t first = o->first[hole], n = o->first[hole + 1] - first;
    double least = INFINITY;
    for (size_t i = 0; i < n; i++)
        for (size_t j = 0; j < c->count; j++) {
            const double *p = o->uv + 2 * (first + i), *q = at(c, j);
            double d = hypot(p[0] - q[0], p[1] - q[1]);
            if (d < least && (!clear || is_free(c, j, p))) {
                least = d;
                *from = i;
                *to = j;
            }
        }
    return isfinite(least);
}

static bool join_hole(clip *c, size_t hole)
{
    const vugi_outline *o = c->o;
    size_t first = o->first[hole], n = o->first[hole + 1] - first, from, to;
    if (!find_bridge(c, hole, true, &to, &from)
        && !(c->crossing && find_bridge(c, hole, false, &to, &from)))
        return false;
    memmove(c->ring + to + n + 2, c->ring + to, (c->count - to) * sizeof *c->ring);
    for (size_t i = 0; i <= n; i++)
        c->ring[to + 1 + i] = (uint32_t)(first + (from + i) % n);
    c->count += n + 2;
    return true;
}

/* ---- ears ---------------------------------------------------------------------------------- */

enum { STRICT, TOUCHING, FLAT, CROSSING };

static bool is_between(double x, double a, double b, double d)
{
    return (x >= a || x >= b || x >= d) && (x <= a || x <= b || x <= d);
}

static bool in_the_way(const double *a, const double *b, const double *d, const double *p, int pass)
{
    if (!is_between(p[0], a[0], b[0], d[0]) || !is_between(p[1], a[1], b[1], d[1]))
        return false;
    int least = pass == STRICT ? 0 : 1;
    return !same(p, a) && !same(p, b) && !same(p, d) && vugi_turn(a, b, p) >= least
        && vugi_turn(b, d, p) >= least && vugi_turn(d, a, p) >= least;
}

static double look_at_ear(const clip *c, size_t place, int pass)
{
    size_t before = (place + c->count - 1) % c->count, after = (place + 1) % c->count;
    const double *a = at(c, before), *b = at(c, place), *d = at(c, after);
    int turn = vugi_turn(a, b, d);
    double area = (b[0] - a[0]) * (d[1] - a[1]) - (b[1] - a[1]) * (d[0] - a[0]);
    if (pass == CROSSING)
        return 1.0 / (1.0 + fabs(area));
    if (turn < 0 || (turn == 0 && pass != FLAT))
        return 0.0;
    for (size_t i = 0; i < c->count; i++)
        if (i != before && i != place && i != after && in_the_way(a, b, d, at(c, i), pass))
            return 0.0;
    double ab = hypot(b[0] - a[0], b[1] - a[1]), bd = hypot(d[0] - b[0], d[1] - b[1]);
    double longest = fmax(fmax(ab, bd), hypot(a[0] - d[0], a[1] - d[1]));
    return fmax(area / (longest * longest), 1e-300);
}

static void forget_ears(clip *c)
{
    for (size_t i = 0; i < c->count; i++)
        c->fit[i] = -1.0;
}

/* The roundest ear, or count. */
static size_t best_ear(clip *c)
{
    const int last = c->crossing ? CROSSING : FLAT;
    for (int pass = STRICT; pass <= last; pass++) {
        size_t best = c->count;
        for (size_t i = 0; i < c->count; i++) {
            if (c->fit[i] < 0.0)
                c->fit[i] = look_at_ear(c, i, pass);
            if (c->fit[i] > 0.0 && (best == c->count || c->fit[i] > c->fit[best]))
                best = i;
        }
        if (best == c->count || pass == CROSSING)
            forget_ears(c);
        if (best < c->count)
            return best;
    }
    return c->count;
}

static vug_status clip_ears(clip *c, vugi_rows *rows)
{
    forget_ears(c);
    while (c->count >= 3) {
        size_t ear = c->count == 3 ? 1 : best_ear(c);
        if (ear == c->count
            || (c->count == 3 && !c->crossing && vugi_turn(at(c, 0), at(c, 1), at(c, 2)) < 0))
            return VUG_ERR_MESH;
        size_t before = (ear + c->count - 1) % c->count, after = (ear + 1) % c->count;
        if (!vugi_rows_add(rows, c->ring[before], c->ring[ear], c->ring[after]))
            return VUG_ERR_MEMORY;
        if (c->count == 3)
            return VUG_OK;
        c->fit[before] = c->fit[after] = -1.0;
        memmove(c->ring + ear, c->ring + ear + 1, (c->count - ear - 1) * sizeof *c->ring);
        memmove(c->fit + ear, c->fit + ear + 1, (c->count - ear - 1) * sizeof *c->fit);
        c->count--;
    }
    return VUG_ERR_MESH;
}

/* ---- patches ------------------------------------------------------------------------------- */

/* What loops are: around[i] is the loop that hole i is in, i itself where a loop is none. false: a hole is in none,
 * or a loop holds nothing. */
static bool sort_loops(const vugi_outline *o, bool crossing, double *area, size_t *around)
{
    bool good = true;
    for (size_t i = 0; i < o->loops; i++) {
        area[i] = loop_area(o, i);
        good &= area[i] != 0.0 && o->first[i + 1] - o->first[i] >= 3;
    }
    for (size_t i = 0; i < o->loops && (good || crossing); i++) {
        around[i] = area[i] < 0.0 ? loop_around(o, area, i) : i;
        good &= around[i] < o->loops;
        around[i] = around[i] < o->loops ? around[i] : i;
    }
    return good || crossing;
}

/* A loop with the holes in it. */
static vug_status fill_loop(clip *c, const size_t *around, size_t loop, vugi_rows *rows)
{
    const vugi_outline *o = c->o;
    c->count = 0;
    for (uint32_t i = o->first[loop]; i < o->first[loop + 1]; i++)
        c->ring[c->count++] = i;
    for (size_t hole = 0; hole < o->loops; hole++)
        if (hole != loop && around[hole] == loop && !join_hole(c, hole))
            return VUG_ERR_MESH;
    return c->count < 3 ? VUG_OK : clip_ears(c, rows);
}

vug_status vugi_patch(const vugi_outline *outline, bool crossing, vugi_rows *rows)
{
    const vugi_allocator *mem = &outline->mem;
    size_t most = outline->count + 2 * outline->loops;
    clip c = {outline, vugi_alloc(mem, most, sizeof(uint32_t)), 0,
        vugi_alloc(mem, most, sizeof(double)), crossing};
    double *area = vugi_alloc(mem, outline->loops, sizeof *area);
    size_t *around = vugi_alloc(mem, outline->loops, sizeof *around);
    vug_status status = c.ring && c.fit && area && around ? VUG_OK : VUG_ERR_MEMORY;
    if (!status && !sort_loops(outline, crossing, area, around))
        status = VUG_ERR_MESH;
    size_t first = rows->count;
    for (size_t i = 0; !status && i < outline->loops; i++)
        if (around[i] == i)
            status = fill_loop(&c, around, i, rows);
    if (!status && !vugi_flip(mem, outline->uv, rows->row, first, rows->count))
        status = VUG_ERR_MEMORY;
    for (size_t i = 3 * first; !status && i < 3 * rows->count; i++)
        rows->row[i] = outline->id[rows->row[i]];
    vugi_free(mem, c.ring);
    vugi_free(mem, c.fit);
    vugi_free(mem, area);
    vugi_free(mem, around);
    return status;
}

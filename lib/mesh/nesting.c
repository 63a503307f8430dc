/* SPDX-License-Identifier: MIT
 * Some vertices of each shell send rays along an axis; every triangle looks up the rays that pass
 * through it, in a grid across them. So the cost is one walk over the triangles, with thousands of shells as with two.
 *
 * A ray through an edge or a corner is moved aside by an infinitely small (e, e^2), the same for
 * all triangles (H. Edelsbrunner, E. P. Muecke, Simulation of simplicity, ACM Transactions on
 * Graphics 9, 1990), so that it crosses a closed shell an even number of times from outside. */
#include "mesh/nesting.h"
#include "base/disjoint_set.h"
#include "base/sort.h"
#include "mesh/exact.h"
#include "mesh/overlap.h"
#include "mesh/same.h"

#include <assert.h>
#include <math.h>
#include <string.h>

enum { RAYS = 7 /* of each shell */, AXES = 3, MAX_CELLS = 1024 };

typedef struct ray {
    double from[3]; /* axis last: (y, z, x) for rays along x */
    uint32_t shell;
    uint32_t number; /* 0 .. RAYS - 1 within its shell */
} ray;

/* One crossing. Sorted so that those of a pair of shells stand together. */
typedef struct hit {
    uint32_t inner, outer; /* shell the ray comes from, shell it crosses */
    uint16_t ray;
    uint8_t axis;
    uint8_t touch; /* the ray starts on the triangle as far as can be told */
} hit;

typedef struct search {
    vug_context *ctx;
    const vug_mesh *mesh;
    const vug_shells *shells;
    const uint8_t *unsure; /* of each vertex, or NULL */
    uint32_t *same; /* of each shell: another that has all of its triangles too, or UINT32_MAX */
    ray *rays;      /* by cell of the plane across them */
    size_t ray_count;
    uint32_t *cell_first;   /* cells * cells + 1 places in rays */
    size_t cells;           /* along one side */
    double lo[2], scale[2]; /* cell = (x - lo) scale */
    hit *hits;
    size_t hit_count, hit_capacity;
} search;

/* ---- sorting ------------------------------------------------------------------------------ */

static int order(uint64_t a, uint64_t b)
{
    return (a > b) - (a < b);
}

static int compare(const void *left, const void *right, const void *user)
{
    const hit *p = left, *q = right;
    int shells = order((uint64_t)p->inner << 32 | p->outer, (uint64_t)q->inner << 32 | q->outer);
    (void)user;
    return shells ? shells
                  : order((uint64_t)p->axis * RAYS + p->ray, (uint64_t)q->axis * RAYS + q->ray);
}

/* ---- rays and triangles --------------------------------------------------------------------- */

static void turn_axes(const double *p, int axis, double out[3])
{
    for (int k = 0; k < 3; k++)
        out[k] = p[(axis + 1 + k) % 3];
}

/* Never falls as x grows, so that a range of x is a range of cells. */
static size_t cell_along(const search *s, double x, int k)
{
    double at = (x - s->lo[k]) * s->scale[k];
    return at <= 0.0 ? 0 : at >= (double)s->cells ? s->cells - 1 : (size_t)at;
}

static size_t cell_of(const search *s, const ray *r)
{
    return cell_along(s, r->from[1], 1) * s->cells + cell_along(s, r->from[0], 0);
}

static void set_cells(search *s, int axis)
{
    double lo[3], hi[3];
    turn_axes(s->mesh->lo, axis, lo);
    turn_axes(s->mesh->hi, axis, hi);
    for (int k = 0; k < 2; k++) {
        s->lo[k] = lo[k];
        s->scale[k] = hi[k] > lo[k] ? (double)s->cells / (hi[k] - lo[k]) : 0.0;
    }
}

/* A corner of the shell to start from: of those that tell most the first at or after that place. */
static uint32_t corner_from(const search *s, size_t shell, uint32_t number)
{
    size_t first = s->shells->first[shell], count = s->shells->first[shell + 1] - first;
    size_t start = count * number / RAYS;
    uint32_t best = UINT32_MAX;
    for (size_t i = 0; i < count; i++) {
        size_t t = s->shells->order[first + (start + i) % count];
        uint32_t v = s->mesh->triangles[3 * t + number % 3];
        if (best == UINT32_MAX || s->unsure[v] < s->unsure[best])
            best = v;
        if (!s->unsure || s->unsure[best] == 0)
            break;
    }
    return best;
}

static ray make_ray(const search *s, size_t shell, uint32_t number, int axis)
{
    assert(shell < s->shells->count);
    assert(axis >= 0 && axis < 3);
    ray r = {.shell = (uint32_t)shell, .number = number};
    uint32_t v = corner_from(s, shell, number);
    turn_axes(s->mesh->xyz + 3 * (size_t)v, axis, r.from);
    return r;
}

/* Counting sort by cell. */
static void start_rays(search *s, int axis)
{
    size_t cells = s->cells * s->cells;
    set_cells(s, axis);
    memset(s->cell_first, 0, (cells + 1) * sizeof *s->cell_first);
    for (int pass = 0; pass < 2; pass++) {
        for (size_t i = 0; i < s->shells->count; i++) {
            for (uint32_t n = 0; n < RAYS && s->same[i] == UINT32_MAX; n++) {
                ray r = make_ray(s, i, n, axis);
                size_t cell = cell_of(s, &r);
                if (pass == 0)
                    s->cell_first[cell + 1]++;
                else
                    s->rays[s->cell_first[cell]++] = r;
            }
        }
        for (size_t c = 1; pass == 0 && c <= cells; c++)
            s->cell_first[c] += s->cell_first[c - 1];
    }
    memmove(s->cell_first + 1, s->cell_first, cells * sizeof *s->cell_first);
    s->cell_first[0] = 0;
}

/* Side of p, moved by (e, e^2), of the line from a to b. */
static int turn_moved(const double *a, const double *b, const double *p)
{
    int turn = vugi_turn(a, b, p);
    if (turn != 0)
        return turn;
    double dx = b[0] - a[0], dy = b[1] - a[1];
    return dy < 0.0 || (!(dy > 0.0) && dx > 0.0) ? 1 : dy > 0.0 || dx < 0.0 ? -1 : 0;
}

/* Whether the ray from p crosses the triangle: 0, 1, or 2 if p may lie on it. */
static int crosses(double corner[3][3], const double p[3])
{
    int turn = turn_moved(corner[0], corner[1], p);
    if (turn == 0 || turn_moved(corner[1], corner[2], p) != turn
        || turn_moved(corner[2], corner[0], p) != turn)
        return 0;
    if (corner[0][2] > p[2] && corner[1][2] > p[2] && corner[2][2] > p[2])
        return 1;
    if (corner[0][2] < p[2] && corner[1][2] < p[2] && corner[2][2] < p[2])
        return 0;
    int side = vugi_side(corner[0], corner[1], corner[2], p);
    return side == 0 ? 2 : side == turn; /* p below a counter-clockwise triangle: positive */
}

static bool add_hit(search *s, hit one)
{
    if (!vugi_reserve(&s->ctx->mem, &s->hits, &s->hit_capacity, s->hit_count + 1, sizeof one))
        return false;
    s->hits[s->hit_count++] = one;
    return true;
}

/* A ray that starts beyond the shell's box, above or below, starts outside of it: its hits say nothing. */
static bool cross_cell(search *s, size_t cell, double corner[3][3], const double lo[3],
    const double hi[3], uint32_t shell, int axis)
{
    double floor = s->shells->measures[shell].lo_mm[axis];
    for (size_t i = s->cell_first[cell]; i < s->cell_first[cell + 1]; i++) {
        const ray *r = &s->rays[i];
        if (r->shell == shell || r->from[2] < floor || r->from[0] < lo[0] || r->from[0] > hi[0]
            || r->from[1] < lo[1] || r->from[1] > hi[1] || r->from[2] > hi[2])
            continue;
        int kind = crosses(corner, r->from);
        hit one = {r->shell, shell, (uint16_t)r->number, (uint8_t)axis, kind == 2};
        if (kind && !add_hit(s, one))
            return false;
    }
    return true;
}

static bool cross_triangle(search *s, size_t t, int axis)
{
    assert(t < s->mesh->triangle_count);
    double corner[3][3], lo[3], hi[3];
    uint32_t shell = s->shells->of[t];
    for (int i = 0; i < 3; i++)
        turn_axes(s->mesh->xyz + 3 * (size_t)s->mesh->triangles[3 * t + (size_t)i], axis,
            corner[i]);
    for (int k = 0; k < 3; k++) {
        lo[k] = fmin(corner[0][k], fmin(corner[1][k], corner[2][k]));
        hi[k] = fmax(corner[0][k], fmax(corner[1][k], corner[2][k]));
    }
    size_t x0 = cell_along(s, lo[0], 0), x1 = cell_along(s, hi[0], 0), y1 = cell_along(s, hi[1], 1);
    for (size_t y = cell_along(s, lo[1], 1); y <= y1; y++)
        for (size_t x = x0; x <= x1; x++)
            if (!cross_cell(s, y * s->cells + x, corner, lo, hi, shell, axis))
                return false;
    return true;
}

static vug_status cast_rays(search *s, int axis)
{
    start_rays(s, axis);
    for (size_t t = 0; t < s->mesh->triangle_count; t++) {
        if (s->same[s->shells->of[t]] == UINT32_MAX && !cross_triangle(s, t, axis))
            return vugi_fail_memory(s->ctx);
        if (t % 16384 == 0) {
            vug_status status = vugi_step(s->ctx, (double)t / (double)s->mesh->triangle_count);
            if (status)
                return status;
        }
    }
    return VUG_OK;
}

/* ---- copies --------------------------------------------------------------------------------- */

/* The shell that all triangles of this one are copies of, or UINT32_MAX. */
static uint32_t copied_from(const search *s, size_t shell, const uint32_t *first_of_like)
{
    uint32_t from = UINT32_MAX;
    for (size_t i = s->shells->first[shell]; i < s->shells->first[shell + 1]; i++) {
        uint32_t t = s->shells->order[i], first = first_of_like[t], other = s->shells->of[first];
        if (other == shell || (from != UINT32_MAX && other != from))
            return UINT32_MAX;
        from = other;
    }
    return from;
}

/* Copies of a shell lie where it does: they are one body with it, and rays for it answer for them, or
 * each of thousands of copies would be crossed by the rays of all the others. */
static vug_status find_copies(search *s, vugi_nesting *n)
{
    uint32_t *first = vugi_alloc(&s->ctx->mem, s->mesh->triangle_count, sizeof *first);
    vug_status status = first ? vugi_mesh_first_of_like(s->ctx, s->mesh, first)
                              : vugi_fail_memory(s->ctx);
    for (size_t i = 0; i < n->count && !status; i++) {
        s->same[i] = copied_from(s, i, first);
        if (s->same[i] != UINT32_MAX)
            vugi_sets_unite(n->body, s->same[i], (uint32_t)i);
    }
    vugi_free(&s->ctx->mem, first);
    return status;
}

static void answer_copies(const search *s, vugi_nesting *n)
{
    for (size_t i = 0; i < n->count; i++) {
        if (s->same[i] == UINT32_MAX)
            continue;
        n->depth[i] = n->depth[s->same[i]];
        n->parent[i] = n->parent[s->same[i]];
    }
}

/* ---- what the hits say ------------------------------------------------------------------------ */

typedef struct pair {
    uint32_t inner, outer;
} pair;

/* Of the hits of one pair of shells: 1 inside, 0 outside, -1 both (or on each other). */
static int judge(const search *s, const hit *hits, size_t count)
{
    bool odd[AXES][RAYS] = {{false}}, touch[RAYS] = {false};
    for (size_t i = 0; i < count; i++) {
        touch[hits[i].ray] |= hits[i].touch != 0;
        odd[hits[i].axis][hits[i].ray] ^= hits[i].touch == 0;
    }
    bool closed = s->shells->measures[hits[0].outer].closed != 0;
    int inside = 0, outside = 0;
    for (int r = 0; r < RAYS; r++) {
        bool in = closed ? odd[2][r] : odd[0][r] + odd[1][r] + odd[2][r] >= 2;
        inside += in && !touch[r];
        outside += !in && !touch[r];
    }
    return inside && outside ? -1 : inside ? 1 : outside ? 0 : -1;
}

/* Keeps the pairs (inner, outer) that nest, in order of inner; unites those that cross. */
static size_t gather_pairs(search *s, vugi_nesting *n, pair *pairs)
{
    size_t count = 0;
    for (size_t i = 0, end; i < s->hit_count; i = end) {
        const hit *h = s->hits + i;
        for (end = i + 1;
             end < s->hit_count && s->hits[end].inner == h->inner && s->hits[end].outer == h->outer;
             end++)
            ;
        int verdict = judge(s, h, end - i);
        if (verdict < 0)
            vugi_sets_unite(n->body, h->inner, h->outer);
        else if (verdict > 0)
            pairs[count++] = (pair){h->inner, h->outer};
    }
    return count;
}

/* Bodies around each shell. Bodies of several shells are counted by a mark. */
static void count_depths(vugi_nesting *n, const pair *pairs, size_t count, uint32_t *mark)
{
    memset(mark, 0xff, n->count * sizeof *mark);
    for (size_t i = 0; i < count; i++) {
        uint32_t inner = pairs[i].inner, body = n->body[pairs[i].outer];
        if (body == n->body[inner] || mark[body] == inner)
            continue;
        mark[body] = inner;
        n->depth[inner]++;
    }
}

/* The direct parent is the deepest shell around; among those the smallest. */
static void choose_parents(const search *s, vugi_nesting *n, const pair *pairs, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        uint32_t inner = pairs[i].inner, outer = pairs[i].outer, *parent = &n->parent[inner];
        if (n->body[outer] == n->body[inner])
            continue;
        if (*parent == UINT32_MAX || n->depth[outer] > n->depth[*parent]
            || (n->depth[outer] == n->depth[*parent]
                && fabs(s->shells->measures[outer].volume_mm3)
                    < fabs(s->shells->measures[*parent].volume_mm3)))
            *parent = outer;
    }
}

/* Does a shell lie in one that faces the same way? So do loose solids amid a hollow, but also a body whose corners that were
 * asked all lie in another one that it comes out of. */
static bool is_doubtful(const search *s, const vugi_nesting *n, const pair *p)
{
    return n->parent[p->inner] == p->outer
        && s->shells->measures[p->inner].volume_mm3 * s->shells->measures[p->outer].volume_mm3
        > 0.0;
}

/* Pairs that seemed to nest and cross are one body. *some: there were any. */
static vug_status unite_crossing(search *s, vugi_nesting *n, pair *pairs, size_t *count, bool *some)
{
    uint8_t *through = NULL;
    size_t kept = 0;
    vug_status status = VUG_OK;
    *some = false;
    for (size_t i = 0; i < *count && !status; i++) {
        bool doubtful = is_doubtful(s, n, pairs + i);
        if (doubtful && !through) {
            through = vugi_alloc(&s->ctx->mem, n->count, sizeof *through);
            status = through ? vugi_shells_overlap(s->ctx, s->mesh, s->shells, through)
                             : vugi_fail_memory(s->ctx);
        }
        if (status || !doubtful || !through[pairs[i].inner] || !through[pairs[i].outer]) {
            pairs[kept++] = pairs[i];
            continue;
        }
        vugi_sets_unite(n->body, pairs[i].inner, pairs[i].outer);
        *some = true;
    }
    *count = kept;
    vugi_free(&s->ctx->mem, through);
    return status;
}

/* How deep each shell lies, and in which. */
static void rank(const search *s, vugi_nesting *n, const pair *pairs, size_t count, uint32_t *mark)
{
    for (size_t i = 0; i < n->count; i++) {
        n->body[i] = vugi_sets_find(n->body, (uint32_t)i);
        n->depth[i] = 0;
        n->parent[i] = UINT32_MAX;
    }
    count_depths(n, pairs, count, mark);
    choose_parents(s, n, pairs, count);
    answer_copies(s, n);
}

static vug_status evaluate(search *s, vugi_nesting *n)
{
    const vugi_allocator *mem = &s->ctx->mem;
    if (!vugi_sort(mem, s->hits, s->hit_count, sizeof *s->hits, compare, NULL))
        return vugi_fail_memory(s->ctx);
    pair *pairs = vugi_alloc(mem, s->hit_count, sizeof *pairs);
    uint32_t *mark = vugi_alloc(mem, n->count, sizeof *mark);
    vug_status status = pairs && mark ? VUG_OK : vugi_fail_memory(s->ctx);
    if (!status) {
        size_t count = gather_pairs(s, n, pairs);
        bool some;
        rank(s, n, pairs, count, mark);
        status = unite_crossing(s, n, pairs, &count, &some);
        if (!status && some)
            rank(s, n, pairs, count, mark);
    }
    vugi_free(mem, pairs);
    vugi_free(mem, mark);
    return status;
}

static bool allocate(vug_context *ctx, vugi_nesting *n, size_t count)
{
    *n = (vugi_nesting){.count = count};
    n->parent = vugi_alloc(&ctx->mem, count, sizeof *n->parent);
    n->depth = vugi_calloc(&ctx->mem, count, sizeof *n->depth);
    n->body = vugi_alloc(&ctx->mem, count, sizeof *n->body);
    if (!n->parent || !n->depth || !n->body)
        return false;
    vugi_sets_init(n->body, count);
    for (size_t i = 0; i < count; i++)
        n->parent[i] = UINT32_MAX;
    return true;
}

vug_status vugi_shells_nesting(vug_context *ctx, const vug_mesh *mesh, const vug_shells *shells,
    const uint8_t *unsure, vugi_nesting *nesting)
{
    vugi_nesting own;
    search s = {.ctx = ctx, .mesh = mesh, .shells = shells, .unsure = unsure};
    s.ray_count = RAYS * shells->count;
    for (s.cells = 1; s.cells < MAX_CELLS && s.cells * s.cells < s.ray_count; s.cells++)
        ;
    s.rays = vugi_alloc(&ctx->mem, s.ray_count, sizeof *s.rays);
    s.cell_first = vugi_alloc(&ctx->mem, s.cells * s.cells + 1, sizeof *s.cell_first);
    s.same = vugi_alloc(&ctx->mem, shells->count, sizeof *s.same);
    bool open = false;
    for (size_t i = 0; i < shells->count; i++)
        open |= !shells->measures[i].closed;
    vug_status status = allocate(ctx, &own, shells->count) && s.rays && s.cell_first && s.same
        ? find_copies(&s, &own)
        : vugi_fail_memory(ctx);
    for (int axis = open ? 0 : 2; !status && axis < AXES && shells->count > 1; axis++)
        status = cast_rays(&s, axis);
    if (!status)
        status = evaluate(&s, &own);
    vugi_free(&ctx->mem, s.rays);
    vugi_free(&ctx->mem, s.cell_first);
    vugi_free(&ctx->mem, s.same);
    vugi_free(&ctx->mem, s.hits);
    if (status)
        vugi_nesting_free(ctx, &own);
    else
        *nesting = own;
    return status;
}

void vugi_nesting_free(vug_context *ctx, vugi_nesting *nesting)
{
    vugi_free(&ctx->mem, nesting->parent);
    vugi_free(&ctx->mem, nesting->depth);
    vugi_free(&ctx->mem, nesting->body);
    *nesting = (vugi_nesting){.count = 0};
}

/* SPDX-License-Identifier: MIT
 * A tree of boxes, four in a node, so that the arithmetic of all four is done together. */
#include "mesh/tree.h"

#include "base/vec.h"
#include "mesh/hit.h"
#include "mesh/same.h"

#include <assert.h>
#include <math.h>
#include <string.h>

static const double ROUNDING = 1e-14; /* of sums of three products, as part of their terms */

enum { LEAF = 4, DEPTH = 64, PARTS = VUGI_TREE_PARTS, MUCH_ALIKE = 256 };

/* A triangle, and its place along an axis. */
typedef struct mark {
    double at;
    uint32_t triangle;
} mark;

typedef struct builder {
    vug_context *ctx;
    vugi_tree *tree;
    double *centroid; /* 3 for each triangle */
    mark *mark; /* of a piece's triangles while it is halved, as far on as they are in order */
} builder;

static const double *corner(const vug_mesh *mesh, uint32_t t, size_t k)
{
    assert(t < mesh->triangle_count && k < 3);
    return mesh->xyz + 3 * (size_t)mesh->triangles[3 * (size_t)t + k];
}

static void bound(const vugi_tree *tree, vugi_tree_node *node, uint32_t c)
{
    uint32_t from = node->first[c], to = from + node->count[c];
    double lo[3] = {INFINITY, INFINITY, INFINITY}, hi[3] = {-INFINITY, -INFINITY, -INFINITY};
    assert(from < to);
    for (uint32_t i = from; i < to; i++)
        for (size_t k = 0; k < 3; k++) {
            const double *p = corner(tree->mesh, tree->order[i], k);
            for (int a = 0; a < 3; a++) {
                lo[a] = vugi_lesser(p[a], lo[a]);
                hi[a] = vugi_greater(p[a], hi[a]);
            }
        }
    for (int a = 0; a < 3; a++) {
        node->lo[a][c] = lo[a];
        node->hi[a][c] = hi[a];
    }
}

static double size_of(const double p[3])
{
    return fabs(p[0]) + fabs(p[1]) + fabs(p[2]);
}

static void find_normal(const vugi_tree *tree, const vugi_tree_node *node, uint32_t c,
    double normal[3])
{
    memset(normal, 0, 3 * sizeof *normal);
    for (uint32_t i = node->first[c]; i < node->first[c] + node->count[c]; i++) {
        uint32_t t = tree->order[i];
        double n[3];
        vugi_triangle_cross(corner(tree->mesh, t, 0), corner(tree->mesh, t, 1),
            corner(tree->mesh, t, 2), n);
        vugi_along(normal, n, 1.0, normal);
    }
    vugi_normalise(normal);
}

/* How far the triangles' normals turn from their mean. Many of them mostly turn to all sides. */
static void find_spread(const vugi_tree *tree, vugi_tree_node *node, uint32_t c,
    const double normal[3])
{
    double least = node->count[c] > MUCH_ALIKE ? -1.0 : 1.0;
    for (uint32_t i = node->first[c]; i < node->first[c] + node->count[c] && least > -1.0; i++) {
        const uint32_t t = tree->order[i];
        double n[3];
        vugi_triangle_cross(corner(tree->mesh, t, 0), corner(tree->mesh, t, 1),
            corner(tree->mesh, t, 2), n);
        const double length = vugi_length(n);
        least = length > 0.0 ? vugi_lesser(least, vugi_dot(n, normal) / length) : -1.0;
    }
    least = vugi_greater(-1.0, least - 1e-9);
    node->cosine[c] = least;
    node->sine[c] = sqrt(1.0 - least * least);
}

/* The disc, larger by more than the sums can be off. A piece of a curved skin fits it far better than its box, most of
 * all where it lies askew. */
static void lay_disc(const vugi_tree *tree, vugi_tree_node *node, uint32_t c)
{
    double normal[3], middle[3], below = INFINITY, above = -INFINITY, wide2 = 0.0, size = 0.0;
    find_normal(tree, node, c, normal);
    for (int a = 0; a < 3; a++) {
        node->normal[a][c] = normal[a];
        middle[a] = 0.5 * (node->lo[a][c] + node->hi[a][c]);
        size += fabs(node->lo[a][c]) + fabs(node->hi[a][c]);
    }
    for (uint32_t i = node->first[c]; i < node->first[c] + node->count[c]; i++)
        for (size_t k = 0; k < 3; k++) {
            double v[3];
            vugi_subtract(corner(tree->mesh, tree->order[i], k), middle, v);
            double at = vugi_dot(normal, v);
            below = vugi_lesser(at, below);
            above = vugi_greater(at, above);
            wide2 = vugi_greater(vugi_dot(v, v) - at * at, wide2);
        }
    node->below[c] = below - ROUNDING * size;
    node->above[c] = above + ROUNDING * size;
    node->wide[c] = sqrt(wide2 + ROUNDING * size * size);
    find_spread(tree, node, c, normal);
}

/* Ties go by number, so that the order, and with it every answer, is always the same. */
static inline bool before(mark p, mark q)
{
    return p.at < q.at || (!(q.at < p.at) && p.triangle < q.triangle);
}

/* Hoare's selection: the middle-th of a list in place, smaller ones before it. */
static void select_middle(vug_context *ctx, mark *list, int64_t count, int64_t middle)
{
    int64_t lo = 0, hi = count - 1;
    while (lo < hi && !vugi_cancelled(ctx)) {
        const mark pivot = list[lo + (hi - lo) / 2];
        int64_t i = lo, j = hi;
        while (i <= j) {
            while (before(list[i], pivot))
                i++;
            while (before(pivot, list[j]))
                j--;
            if (i <= j) {
                const mark swap = list[i];
                list[i++] = list[j];
                list[j--] = swap;
            }
        }
        if (middle <= j)
            hi = j;
        else if (middle >= i)
            lo = i;
        else
            return;
    }
}

static int longest_axis(const builder *b, uint32_t first, uint32_t count)
{
    double lo[3] = {INFINITY, INFINITY, INFINITY}, hi[3] = {-INFINITY, -INFINITY, -INFINITY};
    for (uint32_t i = first; i < first + count; i++) {
        const double *p = b->centroid + 3 * (size_t)b->tree->order[i];
        for (int a = 0; a < 3; a++) {
            lo[a] = p[a] < lo[a] ? p[a] : lo[a];
            hi[a] = p[a] > hi[a] ? p[a] : hi[a];
        }
    }
    int axis = 0;
    for (int a = 1; a < 3; a++)
        if (hi[a] - lo[a] > hi[axis] - lo[axis])
            axis = a;
    return axis;
}

/* Of a node the triangles from first[0] on are halved, or left as they are where a leaf has room for them: half h of it. */
static void half_of(const vugi_tree_node *node, size_t h, uint32_t *first, uint32_t *count)
{
    const uint32_t all = node->count[0], lower = all > LEAF ? all / 2 : all;
    *first = node->first[0] + (h > 0 ? lower : 0);
    *count = h > 0 ? all - lower : lower;
}

static void halve(const builder *b, uint32_t first, uint32_t count)
{
    if (count <= LEAF)
        return;
    uint32_t *order = b->tree->order + first;
    const double *along = b->centroid + longest_axis(b, first, count);
    mark *list = b->mark + first;
    for (uint32_t i = 0; i < count; i++)
        list[i] = (mark){along[3 * (size_t)order[i]], order[i]};
    select_middle(b->ctx, list, count, count / 2);
    for (uint32_t i = 0; i < count; i++)
        order[i] = list[i].triangle;
}

static void add_part(vugi_tree_node *node, uint32_t first, uint32_t count)
{
    node->first[node->parts] = first;
    node->count[node->parts++] = count;
}

/* Parts of a node: each half in halves, where it has more triangles than a leaf. */
static void list_parts(vugi_tree_node *node)
{
    uint32_t first[2], count[2];
    for (size_t h = 0; h < 2; h++)
        half_of(node, h, first + h, count + h);
    node->parts = 0;
    for (size_t h = 0; h < 2; h++) {
        const uint32_t lower = count[h] > LEAF ? count[h] / 2 : count[h];
        if (lower > 0)
            add_part(node, first[h], lower);
        if (count[h] > lower)
            add_part(node, first[h] + lower, count[h] - lower);
    }
    for (uint32_t c = node->parts; c < PARTS; c++) {
        node->first[c] = node->first[0];
        node->count[c] = node->count[0];
    }
}

/* Nodes for the parts of a level that are too large, which are the next level. */
static void begin_level(vugi_tree *tree, size_t from, size_t to)
{
    for (size_t i = from; i < to; i++) {
        vugi_tree_node *node = tree->node + i;
        for (uint32_t c = 0; c < node->parts; c++) {
            if (node->count[c] <= LEAF)
                continue;
            vugi_tree_node *next = tree->node + tree->node_count;
            next->first[0] = node->first[c];
            next->count[0] = node->count[c];
            node->first[c] = (uint32_t)tree->node_count++;
            node->count[c] = 0;
        }
    }
}

/* What is done with piece `part` of a node. */
typedef void (*work)(const builder *b, vugi_tree_node *node, size_t part);

static void halve_all(const builder *b, vugi_tree_node *node, size_t part)
{
    (void)part;
    halve(b, node->first[0], node->count[0]);
}

static void halve_half(const builder *b, vugi_tree_node *node, size_t part)
{
    uint32_t first, count;
    half_of(node, part, &first, &count);
    halve(b, first, count);
}

static void surround(const builder *b, vugi_tree_node *node, size_t part)
{
    bound(b->tree, node, (uint32_t)part);
    lay_disc(b->tree, node, (uint32_t)part);
}

/* Does one work on `pieces` of each node of a level, in shares: the upper levels have a few large pieces, the lower
 * ones thousands of small ones. */
static vug_status each_piece(const builder *b, size_t from, size_t to, size_t pieces, work done)
{
    enum { SHARES = 256 };
    const size_t count = (to - from) * pieces, shares = count < SHARES ? count : SHARES;
#pragma omp parallel for schedule(dynamic, 1) num_threads(vugi_threads(b->ctx, shares))
    for (size_t k = 0; k < shares; k++) {
        if (vugi_pulse(b->ctx, 0.0))
            continue;
        for (size_t i = count * k / shares; i < count * (k + 1) / shares; i++)
            done(b, b->tree->node + from + i / pieces, i % pieces);
    }
    return vugi_step(b->ctx, 0.0);
}

/* Level by level, each piece's triangles apart from all others': the same for any number of threads. */
static vug_status build_levels(const builder *b, uint32_t count)
{
    vugi_tree *tree = b->tree;
    vug_status status = VUG_OK;
    tree->node[0].first[0] = 0;
    tree->node[0].count[0] = count;
    tree->node_count = 1;
    for (size_t from = 0, to = 1; from < to && !status; from = to, to = tree->node_count) {
        status = each_piece(b, from, to, 1, halve_all);
        if (!status)
            status = each_piece(b, from, to, 2, halve_half);
        for (size_t i = from; i < to && !status; i++)
            list_parts(tree->node + i);
        if (!status)
            status = each_piece(b, from, to, PARTS, surround);
        if (!status)
            begin_level(tree, from, to);
    }
    return status;
}

/* Nodes of a tree over so many triangles. */
static size_t count_nodes(size_t n)
{
    size_t half = n / 2,
           quarter[PARTS] = {half / 2, half - half / 2, (n - half) / 2, n - half - (n - half) / 2};
    size_t nodes = 1;
    for (int c = 0; c < PARTS; c++)
        nodes += quarter[c] > LEAF ? count_nodes(quarter[c]) : 0;
    return nodes;
}

double vugi_tree_bytes(size_t triangles)
{
    return (double)triangles * sizeof(uint32_t)
        + (double)count_nodes(triangles) * sizeof(vugi_tree_node);
}

vug_status vugi_tree_build(vug_context *ctx, const vug_mesh *mesh, vugi_tree *tree)
{
    size_t n = mesh->triangle_count;
    vugi_tree own = {.mem = ctx->mem, .mesh = mesh};
    builder b = {.ctx = ctx, .tree = &own};
    if (n == 0 || n > UINT32_MAX / 2)
        return vugi_fail(ctx, VUG_ERR_LIMIT, "a search tree over %zu triangles", n);
    vug_status status = vugi_mesh_weights(ctx, mesh, &own.weight);
    if (status)
        return status;
    uint32_t kept = 0;
    for (uint32_t t = 0; t < n; t++)
        kept += !own.weight || own.weight[t] > 0;
    own.order = vugi_alloc(&ctx->mem, kept, sizeof *own.order);
    /* cleared: a ray looks at all boxes of a node, also at those of no part */
    own.node = vugi_calloc(&ctx->mem, count_nodes(kept), sizeof *own.node);
    b.centroid = vugi_alloc(&ctx->mem, 3 * n, sizeof *b.centroid);
    b.mark = vugi_alloc(&ctx->mem, kept, sizeof *b.mark);
    if (!own.order || !own.node || !b.centroid || !b.mark)
        status = vugi_fail_memory(ctx);
    for (uint32_t t = 0, i = 0; t < n && !status; t++) {
        if (!own.weight || own.weight[t] > 0)
            own.order[i++] = t;
        for (size_t a = 0; a < 3; a++)
            b.centroid[3 * (size_t)t + a] = corner(mesh, t, 0)[a] + corner(mesh, t, 1)[a]
                + corner(mesh, t, 2)[a];
    }
    if (!status)
        status = build_levels(&b, kept);
    vugi_free(&ctx->mem, b.centroid);
    vugi_free(&ctx->mem, b.mark);
    if (status)
        vugi_tree_free(&own);
    else
        *tree = own;
    return status;
}

void vugi_tree_free(vugi_tree *tree)
{
    vugi_free(&tree->mem, tree->order); /* NULL in a tree never built: nothing is called */
    vugi_free(&tree->mem, tree->node);
    vugi_free(&tree->mem, tree->weight);
    memset(tree, 0, sizeof *tree);
}

/* ---- nearest ------------------------------------------------------------- */

static void mix(const double *a, const double u[3], double s, const double v[3], double t,
    double out[3])
{
    for (int k = 0; k < 3; k++)
        out[k] = a[k] + s * u[k] + t * v[k];
}

/* By the region of the plane that p falls in: corners, then edges, then the face (Ericson 2005,
 * Real-Time Collision Detection, 5.1.5). d1 - d3, d2 - d6 and their like are squares of edges: one
 * without length is passed over, since another edge has all of it. */
void vugi_triangle_nearest(const double *a, const double *b, const double *c, const double p[3],
    double nearest[3])
{
    double ab[3], ac[3], ap[3], bp[3], cp[3];
    for (int k = 0; k < 3; k++) {
        ab[k] = b[k] - a[k];
        ac[k] = c[k] - a[k];
        ap[k] = p[k] - a[k];
        bp[k] = p[k] - b[k];
        cp[k] = p[k] - c[k];
    }
    double d1 = vugi_dot(ab, ap), d2 = vugi_dot(ac, ap), d3 = vugi_dot(ab, bp),
           d4 = vugi_dot(ac, bp);
    double d5 = vugi_dot(ab, cp), d6 = vugi_dot(ac, cp);
    double va = d3 * d6 - d5 * d4, vb = d5 * d2 - d1 * d6, vc = d1 * d4 - d3 * d2;
    if (d1 <= 0.0 && d2 <= 0.0)
        mix(a, ab, 0.0, ac, 0.0, nearest);
    else if (d3 >= 0.0 && d4 <= d3)
        mix(a, ab, 1.0, ac, 0.0, nearest);
    else if (d6 >= 0.0 && d5 <= d6)
        mix(a, ab, 0.0, ac, 1.0, nearest);
    else if (vc <= 0.0 && d1 >= 0.0 && d3 <= 0.0 && d1 > d3)
        mix(a, ab, d1 / (d1 - d3), ac, 0.0, nearest);
    else if (vb <= 0.0 && d2 >= 0.0 && d6 <= 0.0 && d2 > d6)
        mix(a, ab, 0.0, ac, d2 / (d2 - d6), nearest);
    else if (va <= 0.0 && d4 - d3 >= 0.0 && d5 - d6 >= 0.0 && (d4 - d3) + (d5 - d6) > 0.0) {
        double w = (d4 - d3) / ((d4 - d3) + (d5 - d6));
        mix(a, ab, 1.0 - w, ac, w, nearest);
    } else {
        double sum = va + vb + vc;
        mix(a, ab, vb / sum, ac, vc / sum, nearest);
    }
}

/* What is above 0 of x, exactly, and without a choice, so that several are done together. */
static inline double over(double x)
{
    return 0.5 * (x + fabs(x));
}

/* Squared distances of p from boxes and discs of the parts, none larger than it is. slack: how far heights may be off. */
static void part_distances(const vugi_tree_node *node, const double p[3], double slack,
    double box[PARTS], double disc[PARTS])
{
    double at[PARTS] = {0.0}, away2[PARTS] = {0.0};
    for (int c = 0; c < PARTS; c++)
        box[c] = 0.0;
    for (int a = 0; a < 3; a++)
        for (int c = 0; c < PARTS; c++) {
            double lo = node->lo[a][c], hi = node->hi[a][c], v = p[a] - 0.5 * (lo + hi);
            double d = over(lo - p[a]) + over(p[a] - hi);
            box[c] += d * d;
            at[c] += node->normal[a][c] * v;
            away2[c] += v * v;
        }
    for (int c = 0; c < PARTS; c++) {
        double up = over(node->below[c] - at[c] - slack) + over(at[c] - node->above[c] - slack);
        double across = sqrt(over((1.0 - ROUNDING) * away2[c] - at[c] * at[c]));
        across = over(across - node->wide[c]);
        disc[c] = up * up + across * across;
    }
}

/* Which parts have no triangle that faces along direction, within the angle whose cosine is least? The nearest to it that one
 * can face is by the spread nearer than the mean does. */
static void facing_away(const vugi_tree_node *node, const double direction[3], double least,
    bool away[PARTS])
{
    double mean[PARTS] = {0.0}, nearest[PARTS];
    for (int a = 0; a < 3; a++)
        for (int c = 0; c < PARTS; c++)
            mean[c] += node->normal[a][c] * direction[a];
    for (int c = 0; c < PARTS; c++)
        nearest[c] = mean[c] * node->cosine[c]
            + sqrt(over(1.0 - mean[c] * mean[c])) * node->sine[c];
    for (int c = 0; c < PARTS; c++)
        away[c] = mean[c] < node->cosine[c] && nearest[c] < least - 1e-9;
}

typedef struct nearest_search {
    const vugi_tree *tree;
    const double *p, *direction; /* direction NULL: triangles may face anywhere */
    double least;                /* cosine */
    double best;                 /* squared distance of what was found, or may be found at most */
    double nearest[3];
    uint32_t triangle;
    bool found;
} nearest_search;

/* Can the triangle hold what is looked for? Not if it faces elsewhere, nor if its plane is too far away, by more than
 * rounding. */
static bool may_be_nearest(const nearest_search *s, const double *a, const double *b,
    const double *c)
{
    double n[3], to[3];
    vugi_triangle_cross(a, b, c, n);
    vugi_subtract(s->p, a, to);
    const double square = vugi_dot(n, n), out = vugi_dot(n, to);
    return !(out * out > (1.0 + 1e-9) * s->best * square)
        && (!s->direction || vugi_dot(n, s->direction) >= s->least * sqrt(square));
}

static void try_triangle(nearest_search *s, uint32_t t)
{
    const vug_mesh *mesh = s->tree->mesh;
    const double *a = corner(mesh, t, 0), *b = corner(mesh, t, 1), *c = corner(mesh, t, 2);
    double q[3], d2 = 0.0;
    if (!may_be_nearest(s, a, b, c))
        return;
    vugi_triangle_nearest(a, b, c, s->p, q);
    for (int k = 0; k < 3; k++)
        d2 += (q[k] - s->p[k]) * (q[k] - s->p[k]);
    if (d2 >= s->best)
        return;
    s->best = d2;
    s->found = true;
    s->triangle = t;
    memcpy(s->nearest, q, sizeof q);
}

typedef struct entry { /* of a stack: a node, or the triangles of a part */
    uint32_t first, count;
    double at; /* squared distance, or along a ray */
} entry;

/* Puts a part of a node on a stack, above those of the same node that are farther. */
static void push_part(entry *stack, int base, int *top, const vugi_tree_node *node, uint32_t c,
    double at)
{
    int i = (*top)++;
    for (; i > base && stack[i - 1].at <= at; i--)
        stack[i] = stack[i - 1];
    stack[i] = (entry){node->first[c], node->count[c], at};
}

static void search_nearest(nearest_search *s)
{
    const vugi_tree *tree = s->tree;
    double slack = ROUNDING * size_of(s->p);
    entry stack[DEPTH] = {{0}};
    int top = 1;
    while (top > 0) {
        entry e = stack[--top];
        if (e.at >= s->best)
            continue;
        for (uint32_t i = e.first; i < e.first + e.count; i++)
            try_triangle(s, tree->order[i]);
        if (e.count)
            continue;
        const vugi_tree_node *node = tree->node + e.first;
        double box[PARTS], disc[PARTS];
        int base = top;
        bool away[PARTS] = {false};
        part_distances(node, s->p, slack, box, disc);
        if (s->direction)
            facing_away(node, s->direction, s->least, away);
        for (uint32_t c = 0; c < node->parts; c++)
            if (!away[c] && vugi_greater(box[c], disc[c]) < s->best)
                push_part(stack, base, &top, node, c, vugi_greater(box[c], disc[c]));
    }
}

double vugi_tree_nearest_facing(const vugi_tree *tree, const double p[3], double most,
    const double direction[3], double least, double nearest[3], uint32_t *triangle)
{
    nearest_search s = {.tree = tree,
        .p = p,
        .direction = direction,
        .least = least,
        .best = most * most};
    search_nearest(&s);
    if (s.found && nearest)
        memcpy(nearest, s.nearest, sizeof s.nearest);
    if (s.found && triangle)
        *triangle = s.triangle;
    return s.found ? sqrt(s.best) : INFINITY;
}

double vugi_tree_nearest(const vugi_tree *tree, const double p[3], double most, double nearest[3],
    uint32_t *triangle)
{
    return vugi_tree_nearest_facing(tree, p, most, NULL, 0.0, nearest, triangle);
}

double vugi_tree_nearest_from(const vugi_tree *tree, const double p[3], uint32_t *triangle,
    double nearest[3])
{
    nearest_search s = {.tree = tree, .p = p, .best = INFINITY};
    try_triangle(&s, *triangle);
    search_nearest(&s);
    if (nearest)
        memcpy(nearest, s.nearest, sizeof s.nearest);
    *triangle = s.triangle;
    return sqrt(s.best);
}

/* ---- ray ----------------------------------------------------------------- */

/* 1 over each part of a direction; of 0 it is INFINITY. */
static void invert(const double direction[3], double inverse[3])
{
    for (int a = 0; a < 3; a++)
        inverse[a] = direction[a] == 0.0 ? INFINITY : 1.0 / direction[a];
}

/* Where the ray enters the boxes of the parts, INFINITY where it misses them. */
static void box_entries(const vugi_tree_node *node, const double origin[3], const double inverse[3],
    double most, double met[PARTS])
{
    double in[PARTS] = {0.0}, out[PARTS];
    for (int c = 0; c < PARTS; c++)
        out[c] = most;
    for (int a = 0; a < 3; a++) {
        const double *lo = node->lo[a], *hi = node->hi[a], at = origin[a], by = inverse[a];
        if (isinf(by)) {
            for (int c = 0; c < PARTS; c++)
                in[c] = at < lo[c] || at > hi[c] ? INFINITY : in[c];
            continue;
        }
        for (int c = 0; c < PARTS; c++) {
            double s = (lo[c] - at) * by, t = (hi[c] - at) * by;
            in[c] = vugi_greater(in[c], vugi_lesser(s, t));
            out[c] = vugi_lesser(out[c], vugi_greater(s, t));
        }
    }
    /* A little slack: a flat box must not be missed by rounding. */
    for (int c = 0; c < PARTS; c++)
        met[c] = in[c] <= out[c] + 1e-12 * fabs(out[c]) ? in[c] : INFINITY;
}

/* Puts those parts of a node on a stack that the ray meets. */
static void push_met(entry *stack, int *top, const vugi_tree_node *node, const double origin[3],
    const double inverse[3], double most)
{
    const int base = *top;
    double in[PARTS];
    box_entries(node, origin, inverse, most, in);
    for (uint32_t c = 0; c < node->parts; c++)
        if (in[c] < INFINITY)
            push_part(stack, base, top, node, c, in[c]);
}

double vugi_tree_ray(const vugi_tree *tree, const double origin[3], const double direction[3],
    double from, uint32_t *triangle)
{
    entry stack[DEPTH] = {{0}};
    int top = 1;
    double best = INFINITY, inverse[3];
    invert(direction, inverse);
    while (top > 0) {
        entry e = stack[--top];
        if (e.at > best)
            continue;
        for (uint32_t i = e.first; i < e.first + e.count; i++) {
            uint32_t t = tree->order[i];
            double s = vugi_mesh_hit(tree->mesh, t, origin, direction, NULL);
            if (s > from && s < best) {
                best = s;
                if (triangle)
                    *triangle = t;
            }
        }
        if (!e.count)
            push_met(stack, &top, tree->node + e.first, origin, inverse, best);
    }
    return best;
}

/* ---- above a vertex ---------------------------------------------------------- */

static bool has_corner(const vug_mesh *mesh, uint32_t t, uint32_t vertex)
{
    const uint32_t *v = mesh->triangles + 3 * (size_t)t;
    return v[0] == vertex || v[1] == vertex || v[2] == vertex;
}

/* Twice the area that two corners span with the vertex, as seen from above: of one edge it is the same in both of
 * its triangles, but for the sign. */
static double span(const double a[3], const double b[3])
{
    return a[0] * b[1] - a[1] * b[0];
}

/* Height of a triangle over a vertex, edges included; INFINITY: it is not over it. */
static double height_over(const vug_mesh *mesh, uint32_t t, const double *vertex,
    const double basis[9])
{
    double p[3][3];
    for (size_t k = 0; k < 3; k++) {
        double from[3];
        vugi_subtract(corner(mesh, t, k), vertex, from);
        for (int a = 0; a < 3; a++)
            p[k][a] = vugi_dot(basis + 3 * a, from);
    }
    const double u = span(p[1], p[2]), v = span(p[2], p[0]), w = span(p[0], p[1]), sum = u + v + w;
    if (((u < 0.0 || v < 0.0 || w < 0.0) && (u > 0.0 || v > 0.0 || w > 0.0)) || sum == 0.0)
        return INFINITY;
    return (u * p[0][2] + v * p[1][2] + w * p[2][2]) / sum;
}

uint32_t vugi_tree_above(const vugi_tree *tree, uint32_t vertex, const double basis[9])
{
    const double *from = tree->mesh->xyz + 3 * (size_t)vertex;
    entry stack[DEPTH] = {{0}};
    int top = 1;
    double best = INFINITY, inverse[3];
    uint32_t found = UINT32_MAX;
    invert(basis + 6, inverse);
    while (top > 0) {
        entry e = stack[--top];
        if (e.at > best)
            continue;
        for (uint32_t i = e.first; i < e.first + e.count; i++) {
            const uint32_t t = tree->order[i];
            double z = has_corner(tree->mesh, t, vertex) ? INFINITY
                                                         : height_over(tree->mesh, t, from, basis);
            if (z >= 0.0 && z < best) {
                best = z;
                found = t;
            }
        }
        if (!e.count)
            push_met(stack, &top, tree->node + e.first, from, inverse, best);
    }
    return found;
}

/* ---- box ----------------------------------------------------------------- */

static bool part_meets(const vugi_tree_node *node, uint32_t c, const double lo[3],
    const double hi[3])
{
    for (int a = 0; a < 3; a++)
        if (lo[a] > node->hi[a][c] || hi[a] < node->lo[a][c])
            return false;
    return true;
}

static bool triangle_meets(const vug_mesh *mesh, uint32_t t, const double lo[3], const double hi[3])
{
    const double *p = corner(mesh, t, 0), *q = corner(mesh, t, 1), *r = corner(mesh, t, 2);
    for (int a = 0; a < 3; a++)
        if (vugi_lesser(p[a], vugi_lesser(q[a], r[a])) > hi[a]
            || vugi_greater(p[a], vugi_greater(q[a], r[a])) < lo[a])
            return false;
    return true;
}

bool vugi_tree_in_box(const vugi_tree *tree, const double lo[3], const double hi[3],
    uint32_t **list, size_t *count, size_t *capacity)
{
    entry stack[DEPTH] = {{0}};
    int top = 1;
    while (top > 0) {
        entry e = stack[--top];
        for (uint32_t i = e.first; i < e.first + e.count; i++) {
            if (!triangle_meets(tree->mesh, tree->order[i], lo, hi))
                continue;
            if (!vugi_reserve(&tree->mem, list, capacity, *count + 1, sizeof **list))
                return false;
            (*list)[(*count)++] = tree->order[i];
        }
        const vugi_tree_node *node = tree->node + e.first;
        for (uint32_t c = e.count ? 0 : node->parts; c-- > 0;)
            if (part_meets(node, c, lo, hi))
                stack[top++] = (entry){node->first[c], node->count[c], 0.0};
    }
    return true;
}

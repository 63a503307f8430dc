/* SPDX-License-Identifier: MIT */
#include "mesh/tree.h"

#include "base/vec.h"
#include "mesh/same.h"

#include <assert.h>
#include <math.h>
#include <string.h>

enum { LEAF = 4, DEPTH = 64, STEP = 4096 }; /* STEP: triangles between looks for a cancel */

typedef struct builder {
    vug_context *ctx;
    vug_status status;
    vugi_tree *tree;
    double *centroid; /* 3 for each triangle */
} builder;

static const double *corner(const vug_mesh *mesh, uint32_t t, size_t k)
{
    assert(t < mesh->triangle_count && k < 3);
    return mesh->xyz + 3 * (size_t)mesh->triangles[3 * (size_t)t + k];
}

static void bound(const vugi_tree *tree, vugi_tree_node *node, uint32_t first, uint32_t count)
{
    assert(first + count <= tree->mesh->triangle_count);
    for (int a = 0; a < 3; a++) {
        node->lo[a] = INFINITY;
        node->hi[a] = -INFINITY;
    }
    for (uint32_t i = first; i < first + count; i++)
        for (size_t k = 0; k < 3; k++) {
            const double *p = corner(tree->mesh, tree->order[i], k);
            for (int a = 0; a < 3; a++) {
                node->lo[a] = p[a] < node->lo[a] ? p[a] : node->lo[a];
                node->hi[a] = p[a] > node->hi[a] ? p[a] : node->hi[a];
            }
        }
}

/* The slab along the mean normal. A piece of a curved skin fits it far better than its box: without it, all
 * of a ball's triangles are looked at when what is nearest to its middle is asked. */
static void lay_slab(const vugi_tree *tree, vugi_tree_node *node, uint32_t first, uint32_t count)
{
    double sum[3] = {0.0, 0.0, 0.0};
    for (uint32_t i = first; i < first + count; i++) {
        uint32_t t = tree->order[i];
        double n[3];
        vugi_triangle_cross(corner(tree->mesh, t, 0), corner(tree->mesh, t, 1),
            corner(tree->mesh, t, 2), n);
        vugi_along(sum, n, 1.0, sum);
    }
    vugi_normalise(sum);
    memcpy(node->normal, sum, sizeof sum);
    node->below = INFINITY;
    node->above = -INFINITY;
    for (uint32_t i = first; i < first + count; i++)
        for (size_t k = 0; k < 3; k++) {
            double at = vugi_dot(sum, corner(tree->mesh, tree->order[i], k));
            node->below = fmin(node->below, at);
            node->above = fmax(node->above, at);
        }
}

/* Ties go by number, so that the order, and with it every answer, is always the same. */
static bool before(const builder *b, int a, uint32_t s, uint32_t t)
{
    double x = b->centroid[3 * (size_t)s + (size_t)a], y = b->centroid[3 * (size_t)t + (size_t)a];
    return x < y || (!(y < x) && s < t);
}

/* Hoare's selection: the middle-th of order[0 .. count) in place, smaller ones before it. */
static void select_middle(const builder *b, uint32_t *order, int64_t count, int64_t middle, int a)
{
    int64_t lo = 0, hi = count - 1;
    while (lo < hi) {
        uint32_t pivot = order[lo + (hi - lo) / 2];
        int64_t i = lo, j = hi;
        while (i <= j) {
            while (before(b, a, order[i], pivot))
                i++;
            while (before(b, a, pivot, order[j]))
                j--;
            if (i <= j) {
                uint32_t swap = order[i];
                order[i++] = order[j];
                order[j--] = swap;
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

/* Depth is at most log2(2^31): the halves differ by one triangle at most. */
static void split(builder *b, uint32_t first, uint32_t count)
{
    assert(count > 0);
    if (count >= STEP && !b->status)
        b->status = vugi_step(b->ctx, 0.0);
    if (b->status)
        return;
    vugi_tree *tree = b->tree;
    size_t here = tree->node_count++;
    vugi_tree_node *node = tree->node + here;
    bound(tree, node, first, count);
    lay_slab(tree, node, first, count);
    if (count <= LEAF) {
        node->first = first;
        node->count = count;
        return;
    }
    uint32_t half = count / 2;
    select_middle(b, tree->order + first, count, half, longest_axis(b, first, count));
    node->first = first;
    node->count = 0;
    split(b, first, half);
    tree->node[here].right = (uint32_t)tree->node_count;
    split(b, first + half, count - half);
}

vug_status vugi_tree_build(vug_context *ctx, const vug_mesh *mesh, vugi_tree *tree)
{
    size_t n = mesh->triangle_count;
    vugi_tree own = {.mem = ctx->mem, .mesh = mesh};
    builder b = {.ctx = ctx, .tree = &own};
    if (n == 0 || n > UINT32_MAX / 2)
        return vugi_fail(ctx, VUG_ERR_LIMIT, "a search tree over %zu triangles", n);
    own.order = vugi_alloc(&ctx->mem, n, sizeof *own.order);
    own.node = vugi_alloc(&ctx->mem, n + 1, sizeof *own.node);
    b.centroid = vugi_alloc(&ctx->mem, 3 * n, sizeof *b.centroid);
    vug_status status = own.order && own.node && b.centroid
        ? vugi_mesh_weights(ctx, mesh, &own.weight)
        : vugi_fail_memory(ctx);
    if (status) {
        vugi_free(&ctx->mem, b.centroid);
        vugi_tree_free(&own);
        return status;
    }
    uint32_t kept = 0;
    for (uint32_t t = 0; t < n; t++) {
        if (!own.weight || own.weight[t] > 0)
            own.order[kept++] = t;
        for (size_t a = 0; a < 3; a++)
            b.centroid[3 * (size_t)t + a] = corner(mesh, t, 0)[a] + corner(mesh, t, 1)[a]
                + corner(mesh, t, 2)[a];
    }
    split(&b, 0, kept);
    vugi_free(&ctx->mem, b.centroid);
    if (b.status)
        vugi_tree_free(&own);
    else
        *tree = own;
    return b.status;
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

static double box_distance2(const vugi_tree_node *node, const double p[3])
{
    double sum = 0.0;
    for (int a = 0; a < 3; a++) {
        double d = p[a] < node->lo[a] ? node->lo[a] - p[a]
            : p[a] > node->hi[a]      ? p[a] - node->hi[a]
                                      : 0.0;
        sum += d * d;
    }
    return sum;
}

/* Distance of p from the slab, rounded down by more than the sums can be off. */
static double slab_distance(const vugi_tree_node *node, const double p[3])
{
    double at = vugi_dot(node->normal, p), size = 0.0;
    for (int a = 0; a < 3; a++)
        size += fabs(p[a]) + fabs(node->lo[a]) + fabs(node->hi[a]);
    return fmax(0.0, fmax(node->below - at, at - node->above) - 1e-14 * size);
}

/* Does the triangle face along direction, within the angle whose cosine is least? */
static bool faces(const vug_mesh *mesh, uint32_t t, const double direction[3], double least)
{
    const double *a = corner(mesh, t, 0), *b = corner(mesh, t, 1), *c = corner(mesh, t, 2);
    double n[3];
    vugi_triangle_cross(a, b, c, n);
    return vugi_dot(n, direction) >= least * vugi_length(n);
}

double vugi_tree_nearest(const vugi_tree *tree, const double p[3], double most, double nearest[3],
    uint32_t *triangle)
{
    return vugi_tree_nearest_facing(tree, p, most, NULL, 0.0, nearest, triangle);
}

double vugi_tree_nearest_facing(const vugi_tree *tree, const double p[3], double most,
    const double direction[3], double least, double nearest[3], uint32_t *triangle)
{
    struct {
        uint32_t node;
        double d2;
    } stack[DEPTH];
    int top = 0;
    double best = most * most;
    bool found = false;
    stack[top].node = 0;
    stack[top++].d2 = box_distance2(tree->node, p);
    while (top > 0) {
        top--;
        const vugi_tree_node *node = tree->node + stack[top].node;
        if (stack[top].d2 >= best)
            continue;
        double slab = slab_distance(node, p);
        if (slab * slab >= best)
            continue;
        for (uint32_t i = node->first; i < node->first + node->count; i++) {
            uint32_t t = tree->order[i];
            double q[3], d2 = 0.0;
            vugi_triangle_nearest(corner(tree->mesh, t, 0), corner(tree->mesh, t, 1),
                corner(tree->mesh, t, 2), p, q);
            for (int a = 0; a < 3; a++)
                d2 += (q[a] - p[a]) * (q[a] - p[a]);
            if (d2 >= best || (direction && !faces(tree->mesh, t, direction, least)))
                continue;
            best = d2;
            found = true;
            if (nearest)
                memcpy(nearest, q, sizeof q);
            if (triangle)
                *triangle = t;
        }
        if (node->count)
            continue;
        uint32_t left = stack[top].node + 1, right = node->right;
        double dl = box_distance2(tree->node + left, p), dr = box_distance2(tree->node + right, p);
        bool left_last = dl <= dr; /* the nearer one is looked at first */
        stack[top].node = left_last ? right : left;
        stack[top++].d2 = left_last ? dr : dl;
        stack[top].node = left_last ? left : right;
        stack[top++].d2 = left_last ? dl : dr;
    }
    return found ? sqrt(best) : INFINITY;
}

/* ---- ray ----------------------------------------------------------------- */

/* Where the ray enters the box, INFINITY if it misses it. inverse: of direction, may be infinite. */
static double box_entry(const vugi_tree_node *node, const double origin[3],
    const double direction[3], double most)
{
    double in = 0.0, out = most;
    for (int a = 0; a < 3; a++) {
        if (direction[a] == 0.0) {
            if (origin[a] < node->lo[a] || origin[a] > node->hi[a])
                return INFINITY;
            continue;
        }
        double s = (node->lo[a] - origin[a]) / direction[a];
        double t = (node->hi[a] - origin[a]) / direction[a];
        in = fmax(in, fmin(s, t));
        out = fmin(out, fmax(s, t));
    }
    /* A little slack: a flat box must not be missed by rounding. */
    return in <= out + 1e-12 * fabs(out) ? in : INFINITY;
}

/* Moeller and Trumbore, J. Graphics Tools 2(1), 1997. */
static double hit(const double *a, const double *b, const double *c, const double o[3],
    const double d[3])
{
    double e1[3], e2[3], s[3];
    for (int k = 0; k < 3; k++) {
        e1[k] = b[k] - a[k];
        e2[k] = c[k] - a[k];
        s[k] = o[k] - a[k];
    }
    double p[3];
    vugi_cross(d, e2, p);
    double det = vugi_dot(e1, p);
    if (det == 0.0)
        return INFINITY;
    double u = vugi_dot(s, p) / det;
    if (u < 0.0 || u > 1.0)
        return INFINITY;
    double q[3];
    vugi_cross(s, e1, q);
    double v = vugi_dot(d, q) / det;
    return v < 0.0 || u + v > 1.0 ? INFINITY : vugi_dot(e2, q) / det;
}

double vugi_tree_ray(const vugi_tree *tree, const double origin[3], const double direction[3],
    double from, uint32_t *triangle)
{
    uint32_t stack[DEPTH];
    int top = 0;
    double best = INFINITY;
    stack[top++] = 0;
    while (top > 0) {
        uint32_t number = stack[--top];
        const vugi_tree_node *node = tree->node + number;
        if (box_entry(node, origin, direction, best) == INFINITY)
            continue;
        for (uint32_t i = node->first; i < node->first + node->count; i++) {
            uint32_t t = tree->order[i];
            double s = hit(corner(tree->mesh, t, 0), corner(tree->mesh, t, 1),
                corner(tree->mesh, t, 2), origin, direction);
            if (s > from && s < best) {
                best = s;
                if (triangle)
                    *triangle = t;
            }
        }
        if (node->count)
            continue;
        double left = box_entry(tree->node + number + 1, origin, direction, best);
        double right = box_entry(tree->node + node->right, origin, direction, best);
        stack[top++] = left <= right ? node->right : number + 1;
        stack[top++] = left <= right ? number + 1 : node->right;
    }
    return best;
}

/* ---- box ----------------------------------------------------------------- */

static bool boxes_meet(const double lo[3], const double hi[3], const double olo[3],
    const double ohi[3])
{
    for (int a = 0; a < 3; a++)
        if (lo[a] > ohi[a] || hi[a] < olo[a])
            return false;
    return true;
}

static bool triangle_meets(const vug_mesh *mesh, uint32_t t, const double lo[3], const double hi[3])
{
    const double *p = corner(mesh, t, 0), *q = corner(mesh, t, 1), *r = corner(mesh, t, 2);
    for (int a = 0; a < 3; a++)
        if (fmin(p[a], fmin(q[a], r[a])) > hi[a] || fmax(p[a], fmax(q[a], r[a])) < lo[a])
            return false;
    return true;
}

bool vugi_tree_in_box(const vugi_tree *tree, const double lo[3], const double hi[3],
    uint32_t **list, size_t *count, size_t *capacity)
{
    uint32_t stack[DEPTH];
    int top = 0;
    stack[top++] = 0;
    while (top > 0) {
        uint32_t number = stack[--top];
        const vugi_tree_node *node = tree->node + number;
        if (!boxes_meet(lo, hi, node->lo, node->hi))
            continue;
        for (uint32_t i = node->first; i < node->first + node->count; i++) {
            if (!triangle_meets(tree->mesh, tree->order[i], lo, hi))
                continue;
            if (!vugi_reserve(&tree->mem, list, capacity, *count + 1, sizeof **list))
                return false;
            (*list)[(*count)++] = tree->order[i];
        }
        if (node->count)
            continue;
        stack[top++] = node->right;
        stack[top++] = number + 1;
    }
    return true;
}

/* SPDX-License-Identifier: MIT
 * Repair of triangles that are there more than once. */
#include "mesh/clean_double.h"

#include "base/disjoint_set.h"
#include "base/sort.h"
#include "mesh/clean_drop.h"
#include "mesh/edges.h"
#include "mesh/same.h"

#include <stdlib.h>
#include <string.h>

/* A triangle that was there before: the copy-th of its like. */
typedef struct again {
    uint32_t triangle, copy, piece;
} again;

typedef struct doubles {
    const vug_mesh *mesh;
    uint32_t *edge;   /* number of the edge of each half-edge */
    uint32_t *meet;   /* by edge: how many triangles */
    int32_t *balance; /* by edge: triangles that run up it less those that run down */
    uint32_t *last;   /* by edge: place in again of the one seen last there */
    uint32_t *table;  /* by corners: triangles, each kind once */
    uint32_t *copies; /* of each triangle that is the first of its like: how many more there are */
    uint32_t *parent; /* pieces of again */
    again *again;
    size_t mask, again_count;
    unsigned char *gone;
} doubles;

/* Lists the triangles that were there before, turned alike. first: of each, the first like it. */
static void list_again(doubles *d, const uint32_t *first)
{
    for (uint32_t t = 0; t < d->mesh->triangle_count; t++)
        if (first[t] != t)
            d->again[d->again_count++] = (again){t, ++d->copies[first[t]], 0};
}

/* ---- the same triangle ------------------------------------------------------------------------- */

static bool runs_up(const vug_mesh *m, uint32_t half)
{
    return vugi_edge_from(m, half) < vugi_edge_to(m, half);
}

static void number_edges(doubles *d, const vugi_edges *edges)
{
    uint32_t number = 0;
    memset(d->edge, 0xff, 3 * d->mesh->triangle_count * sizeof *d->edge);
    for (size_t first = 0, end; first < edges->count; first = end, number++) {
        end = vugi_edges_next(d->mesh, edges, first);
        d->meet[number] = (uint32_t)(end - first);
        d->last[number] = UINT32_MAX;
        for (size_t i = first; i < end; i++) {
            d->edge[edges->half[i]] = number;
            d->balance[number] += runs_up(d->mesh, edges->half[i]) ? 1 : -1;
        }
    }
}

/* By copy, the last first, then by piece. */
static int compare_again(const void *left, const void *right, const void *user)
{
    const again *p = left, *q = right;
    (void)user;
    if (p->copy != q->copy)
        return p->copy > q->copy ? -1 : 1;
    return (p->piece > q->piece) - (p->piece < q->piece);
}

/* Second copies that share an edge are one piece of a second skin, and so on for third ones. again
 * is sorted by copy. */
static void find_pieces(doubles *d)
{
    vugi_sets_init(d->parent, d->again_count);
    for (uint32_t i = 0; i < d->again_count; i++) {
        for (size_t k = 0; k < 3; k++) {
            uint32_t edge = d->edge[3 * (size_t)d->again[i].triangle + k];
            if (edge == UINT32_MAX)
                continue;
            uint32_t before = d->last[edge];
            if (before != UINT32_MAX && d->again[before].copy == d->again[i].copy)
                vugi_sets_unite(d->parent, before, i);
            d->last[edge] = i;
        }
    }
    for (uint32_t i = 0; i < d->again_count; i++)
        d->again[i].piece = vugi_sets_find(d->parent, i);
}

/* Puts a piece in (sign 1) or takes it out (-1); by how much that lessens the imbalance of edges. */
static int64_t shift(doubles *d, const again *piece, size_t count, int sign)
{
    int64_t gain = 0;
    for (size_t i = 0; i < count; i++) {
        for (uint32_t k = 0; k < 3; k++) {
            uint32_t half = 3 * piece[i].triangle + k, edge = d->edge[half];
            if (edge == UINT32_MAX)
                continue;
            gain += abs(d->balance[edge]);
            d->balance[edge] += runs_up(d->mesh, half) ? sign : -sign;
            gain -= abs(d->balance[edge]);
        }
    }
    return gain;
}

/* In a closed skin as many triangles run up each edge as down. A piece that is there again goes
 * unless that spoils the balance: then it is a face that two bodies have in common. */
static void mark_again(doubles *d)
{
    for (size_t first = 0, end; first < d->again_count; first = end) {
        const again *piece = d->again + first;
        for (end = first + 1; end < d->again_count; end++)
            if (compare_again(piece, d->again + end, NULL) != 0)
                break;
        if (shift(d, piece, end - first, -1) < 0) {
            shift(d, piece, end - first, 1);
            continue;
        }
        for (size_t i = first; i < end; i++)
            d->gone[d->again[i].triangle] = 1;
    }
}

/* ---- the same triangle turned over -------------------------------------------------------------- */

static bool odd_edge(const doubles *d, size_t t)
{
    for (size_t k = 0; k < 3; k++) {
        uint32_t edge = d->edge[3 * t + k];
        if (edge != UINT32_MAX && d->meet[edge] % 2)
            return true;
    }
    return false;
}

/* A triangle that is there turned over goes where an odd number of triangles meets at one of its
 * edges: it is one too many. Else the two are walls of two bodies. */
static void mark_turned_over(doubles *d)
{
    memset(d->table, 0xff, (d->mask + 1) * sizeof *d->table);
    for (size_t t = 0; t < d->mesh->triangle_count; t++) {
        uint32_t mine[3], theirs[3];
        const uint32_t *v = d->mesh->triangles + 3 * t;
        bool known = d->gone[t];
        vugi_corners_sorted(v, mine);
        size_t at = vugi_corners_slot(mine, d->mask);
        for (; d->table[at] != UINT32_MAX && !known; at = (at + 1) & d->mask) {
            const uint32_t *other = d->mesh->triangles + 3 * (size_t)d->table[at];
            vugi_corners_sorted(other, theirs);
            if (memcmp(mine, theirs, sizeof mine) != 0)
                continue;
            known = vugi_same_turn(v, other);
            d->gone[t] = !known && odd_edge(d, t);
            known = known || d->gone[t];
        }
        if (!known)
            d->table[at] = (uint32_t)t;
    }
}

/* ---- all of it ------------------------------------------------------------------------------------ */

static bool reserve(const vugi_allocator *mem, doubles *d, size_t halves)
{
    size_t count = d->mesh->triangle_count, size = vugi_corners_places(count);
    d->mask = size - 1;
    d->edge = vugi_alloc(mem, count, 3 * sizeof *d->edge);
    d->meet = vugi_alloc(mem, halves, sizeof *d->meet);
    d->balance = vugi_calloc(mem, halves, sizeof *d->balance);
    d->last = vugi_alloc(mem, halves, sizeof *d->last);
    d->table = vugi_alloc(mem, size, sizeof *d->table);
    d->copies = vugi_calloc(mem, count, sizeof *d->copies);
    d->parent = vugi_alloc(mem, count, sizeof *d->parent);
    d->again = vugi_alloc(mem, count, sizeof *d->again);
    d->gone = vugi_calloc(mem, count, 1);
    return d->edge && d->meet && d->balance && d->last && d->table && d->copies && d->parent
        && d->again && d->gone;
}

static void release(const vugi_allocator *mem, doubles *d)
{
    vugi_free(mem, d->edge);
    vugi_free(mem, d->meet);
    vugi_free(mem, d->balance);
    vugi_free(mem, d->last);
    vugi_free(mem, d->table);
    vugi_free(mem, d->copies);
    vugi_free(mem, d->parent);
    vugi_free(mem, d->again);
    vugi_free(mem, d->gone);
}

static bool mark(const vugi_allocator *mem, doubles *d, const vugi_edges *edges)
{
    number_edges(d, edges);
    if (!vugi_sort(mem, d->again, d->again_count, sizeof *d->again, compare_again, NULL))
        return false;
    find_pieces(d);
    if (!vugi_sort(mem, d->again, d->again_count, sizeof *d->again, compare_again, NULL))
        return false;
    mark_again(d);
    mark_turned_over(d);
    return true;
}

vug_status vugi_clean_duplicates(vugi_clean *c)
{
    const vugi_allocator *mem = &c->ctx->mem;
    doubles d = {.mesh = &c->mesh};
    vugi_edges edges;
    vug_status status = vugi_edges_build(c->ctx, &c->mesh, &edges);
    if (status)
        return status;
    status = reserve(mem, &d, edges.count) ? vugi_mesh_first_of_like(c->ctx, &c->mesh, d.parent)
                                           : vugi_fail_memory(c->ctx);
    if (!status) {
        list_again(&d, d.parent);
        if (!mark(mem, &d, &edges))
            status = vugi_fail_memory(c->ctx);
    }
    if (!status)
        c->report.duplicates_removed += vugi_clean_drop(c, d.gone);
    release(mem, &d);
    vugi_edges_free(c->ctx, &edges);
    return status;
}

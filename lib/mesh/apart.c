/* SPDX-License-Identifier: MIT
 * What shares corners is one piece. Pieces that are turned outward are solids; those whose boxes touch belong together. */
#include "mesh/apart.h"

#include "base/disjoint_set.h"
#include "base/vec.h"

#include <math.h>

enum { MOST = 500 }; /* of more solids nobody holds each by itself */

static const double CRUMB = 1e-3; /* of the largest */

typedef struct piece {
    double lo[3], hi[3], volume6;
} piece;

static bool touch(const piece *a, const piece *b)
{
    for (int k = 0; k < 3; k++)
        if (a->lo[k] > b->hi[k] || b->lo[k] > a->hi[k])
            return false;
    return true;
}

static void add_corner(piece *p, const double *x)
{
    for (int k = 0; k < 3; k++) {
        p->lo[k] = fmin(p->lo[k], x[k]);
        p->hi[k] = fmax(p->hi[k], x[k]);
    }
}

/* Six times the volume between a triangle and the origin. */
static double volume6(const double *a, const double *b, const double *c)
{
    double across[3];
    vugi_cross(b, c, across);
    return vugi_dot(a, across);
}

/* Pieces of the mesh into *out, parent becoming the piece of each corner. */
static size_t find_pieces(const vug_mesh *mesh, uint32_t *parent, piece **out)
{
    const uint32_t *t = mesh->triangles;
    size_t count = 0;
    vugi_sets_init(parent, mesh->vertex_count);
    for (size_t i = 0; i < mesh->triangle_count; i++) {
        vugi_sets_unite(parent, t[3 * i], t[3 * i + 1]);
        vugi_sets_unite(parent, t[3 * i], t[3 * i + 2]);
    }
    for (size_t v = 0; v < mesh->vertex_count; v++) {
        parent[v] = vugi_sets_find(parent, (uint32_t)v);
        count += parent[v] == v;
    }
    piece *all = *out = vugi_alloc(&mesh->mem, count + 1, sizeof *all);
    if (!all)
        return 0;
    count = 0;
    for (size_t v = 0; v < mesh->vertex_count;
         v++) { /* a root comes before all others of its set */
        const bool root = parent[v] == v;
        if (root)
            all[count] = (piece){{INFINITY, INFINITY, INFINITY}, {-INFINITY, -INFINITY, -INFINITY},
                0.0};
        parent[v] = root ? (uint32_t)count++ : parent[parent[v]];
        add_corner(all + parent[v], mesh->xyz + 3 * v);
    }
    for (size_t i = 0; i < mesh->triangle_count; i++)
        all[parent[t[3 * i]]].volume6 += volume6(mesh->xyz + 3 * (size_t)t[3 * i],
            mesh->xyz + 3 * (size_t)t[3 * i + 1], mesh->xyz + 3 * (size_t)t[3 * i + 2]);
    return count;
}

/* Those of the pieces that are solids and no crumbs, to their front; how many. */
static size_t keep_solids(piece *all, size_t count)
{
    double largest = 0.0;
    size_t kept = 0;
    for (size_t i = 0; i < count; i++)
        largest = fmax(largest, all[i].volume6);
    for (size_t i = 0; i < count && kept < MOST; i++)
        if (all[i].volume6 > CRUMB * largest)
            all[kept++] = all[i];
    return kept;
}

size_t vugi_solids_apart(const vug_mesh *mesh)
{
    piece *all = NULL;
    uint32_t *parent = vugi_alloc(&mesh->mem, mesh->vertex_count, sizeof *parent);
    size_t groups = 0;
    const size_t count = parent ? find_pieces(mesh, parent, &all) : 0;
    if (all) {
        const size_t solids = keep_solids(all, count);
        uint32_t set[MOST];
        vugi_sets_init(set, solids);
        for (uint32_t i = 0; i < solids; i++)
            for (uint32_t k = 0; k < i; k++)
                if (touch(all + i, all + k))
                    vugi_sets_unite(set, i, k);
        for (uint32_t i = 0; i < solids; i++)
            groups += set[i] == i;
        groups = groups > 0 ? groups : 1;
    }
    vugi_free(&mesh->mem, all);
    vugi_free(&mesh->mem, parent);
    return groups;
}

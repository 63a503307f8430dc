/* SPDX-License-Identifier: MIT
 * Repair of wrongly turned triangles. */
#include "mesh/clean_turn.h"

#include "mesh/nesting.h"

#include <math.h>
#include <string.h>

/* ---- neighbours alike --------------------------------------------------------------------------- */

static void turn_over(uint32_t *t)
{
    uint32_t swap = t[1];
    t[1] = t[2];
    t[2] = swap;
}

/* other[half]: the half-edge across an edge of just two triangles, else UINT32_MAX. */
static void pair_simple(const vug_mesh *m, const vugi_edges *edges, uint32_t *other)
{
    memset(other, 0xff, 3 * m->triangle_count * sizeof *other);
    for (size_t first = 0, end; first < edges->count; first = end) {
        end = vugi_edges_next(m, edges, first);
        if (end - first != 2)
            continue;
        other[edges->half[first]] = edges->half[first + 1];
        other[edges->half[first + 1]] = edges->half[first];
    }
}

enum { UNSEEN, AS_IS, TURNED };

typedef struct walk {
    const vug_mesh *mesh;
    const uint32_t *other;
    unsigned char *state; /* of each triangle */
    uint32_t *queue;
} walk;

/* Walks over the piece that first belongs to; how many triangles it has, how many of them turn
 * against first, whether it is twisted like a Moebius strip. */
static size_t walk_piece(walk *w, uint32_t first, size_t *against, bool *twisted)
{
    size_t head = 0, tail = 0;
    *against = 0;
    *twisted = false;
    w->state[first] = AS_IS;
    w->queue[tail++] = first;
    while (head < tail) {
        uint32_t t = w->queue[head++];
        *against += w->state[t] == TURNED;
        for (uint32_t k = 0; k < 3; k++) {
            uint32_t half = 3 * t + k, across = w->other[half];
            if (across == UINT32_MAX)
                continue;
            bool alike = vugi_edge_from(w->mesh, half) != vugi_edge_from(w->mesh, across);
            unsigned char want = alike ? w->state[t] : w->state[t] == AS_IS ? TURNED : AS_IS;
            unsigned char *is = &w->state[across / 3];
            if (*is == UNSEEN) {
                *is = want;
                w->queue[tail++] = across / 3;
            } else if (*is != want) {
                *twisted = true;
            }
        }
    }
    return tail;
}

/* The fewer are turned, so that the direction of most stays. */
static void turn_pieces(vugi_clean *c, walk *w)
{
    for (size_t t = 0; t < c->mesh.triangle_count; t++) {
        size_t against = 0;
        bool twisted = false;
        if (w->state[t] != UNSEEN)
            continue;
        size_t count = walk_piece(w, (uint32_t)t, &against, &twisted);
        c->report.shells_twisted += twisted;
        unsigned char wrong = 2 * against > count ? AS_IS : TURNED;
        for (size_t i = 0; !twisted && i < count; i++) {
            if (w->state[w->queue[i]] != wrong)
                continue;
            turn_over(c->mesh.triangles + 3 * (size_t)w->queue[i]);
            c->report.triangles_turned++;
        }
    }
}

vug_status vugi_clean_turn(vugi_clean *c)
{
    const vugi_allocator *mem = &c->ctx->mem;
    size_t count = c->mesh.triangle_count;
    vugi_edges edges;
    vug_status status = vugi_edges_build(c->ctx, &c->mesh, &edges);
    if (status)
        return status;
    uint32_t *other = vugi_alloc(mem, count, 3 * sizeof *other);
    walk w = {&c->mesh, other, vugi_calloc(mem, count, 1), vugi_alloc(mem, count, sizeof *w.queue)};
    if (other && w.state && w.queue) {
        pair_simple(&c->mesh, &edges, other);
        turn_pieces(c, &w);
    } else {
        status = vugi_fail_memory(c->ctx);
    }
    vugi_free(mem, other);
    vugi_free(mem, w.state);
    vugi_free(mem, w.queue);
    vugi_edges_free(c->ctx, &edges);
    return status;
}

/* ---- shells by their nesting ----------------------------------------------------------------------- */

/* A solid turns outward, a cavity in it inward, a solid in that outward again. */
static void turn_shells(vugi_clean *c, const vug_shells *shells, const vugi_nesting *nesting)
{
    for (size_t s = 0; s < shells->count; s++) {
        const vug_mesh_measures *m = &shells->measures[s];
        c->report.shells_open += !m->closed;
        bool inward = nesting->depth[s] % 2 == 1;
        if (!m->closed || !(fabs(m->volume_mm3) > 0.0) || (m->volume_mm3 < 0.0) == inward)
            continue;
        c->report.shells_turned++;
        for (size_t i = shells->first[s]; i < shells->first[s + 1]; i++)
            turn_over(c->mesh.triangles + 3 * (size_t)shells->order[i]);
    }
}

/* Shells that share a body with another. */
static size_t count_crossing(vugi_clean *c, const vugi_nesting *n, bool *good)
{
    uint32_t *members = vugi_calloc(&c->ctx->mem, n->count, sizeof *members);
    size_t crossing = 0;
    *good = members != NULL;
    for (size_t s = 0; members && s < n->count; s++)
        members[n->body[s]]++;
    for (size_t s = 0; members && s < n->count; s++)
        crossing += members[n->body[s]] > 1;
    vugi_free(&c->ctx->mem, members);
    return crossing;
}

vug_status vugi_clean_shells(vugi_clean *c)
{
    vug_shells *shells = NULL;
    vugi_nesting nesting;
    bool good = true;
    vug_status status = vugi_shells_find(c->ctx, &c->mesh, &shells);
    if (status)
        return status;
    status = vugi_shells_nesting(c->ctx, &c->mesh, shells, NULL, &nesting);
    if (!status) {
        c->report.shells = shells->count;
        c->report.shells_crossing = count_crossing(c, &nesting, &good);
        turn_shells(c, shells, &nesting);
        vugi_nesting_free(c->ctx, &nesting);
    }
    vug_shells_free(shells);
    return status ? status : good ? VUG_OK : vugi_fail_memory(c->ctx);
}

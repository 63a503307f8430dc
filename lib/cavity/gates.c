/* SPDX-License-Identifier: MIT */
#include "cavity/gates.h"

#include "cavity/trust.h"

bool vugi_gates_find(const vugi_allocator *mem, const vug_cavities *c, size_t first, size_t count,
    const int32_t *role, const double up[3], bool liquid, vugi_gates *g)
{
    size_t triangles = 0, n = 0;
    for (size_t i = first; i < first + count; i++)
        triangles += c->cavity[i].mesh->triangle_count;
    if (!vugi_reserve(mem, &g->gate, &g->gate_capacity, triangles, sizeof *g->gate)
        || !vugi_reserve(mem, &g->error, &g->error_capacity, c->opening_count, sizeof *g->error))
        return false;
    for (size_t i = first; i < first + count; i++) {
        const int32_t *tag = c->cavity[i].tag;
        for (size_t t = 0; t < c->cavity[i].mesh->triangle_count; t++)
            g->gate[n++] = tag[t] >= 0 && role[tag[t]] != VUG_ROLE_SEALED ? tag[t] : -1;
    }
    for (size_t o = 0; o < c->opening_count; o++)
        g->error[o] = vugi_opening_error(c, c->opening + o, up, liquid);
    return true;
}

void vugi_gates_free(const vugi_allocator *mem, vugi_gates *g)
{
    vugi_free(mem, g->gate);
    vugi_free(mem, g->error);
    *g = (vugi_gates){.gate = NULL};
}

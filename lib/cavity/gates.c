/* SPDX-License-Identifier: MIT */
#include "cavity/gates.h"

#include "cavity/trust.h"

/* Of cavities first .. first + count - 1. up: as air goes; liquid: it goes the other way. false: no memory. */
static bool find_gates(const vugi_allocator *mem, const vug_cavities *c, size_t first, size_t count,
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

bool vugi_wall_look_at(const vugi_allocator *mem, const vug_cavities *c, size_t first, size_t count,
    const int32_t *role, const vugi_bodies *bodies, const vugi_columns *columns, bool liquid,
    vugi_wall_look *look, vugi_flood *levels)
{
    look->known = vugi_wall_flood_can(bodies, columns);
    if (!look->known)
        return true;
    if (!find_gates(mem, c, first, count, role, columns->basis + 6, liquid, &look->gates)
        || !vugi_wall_flood_run(mem, bodies, columns, liquid, look->gates.gate, &look->flood)
        || !vugi_flood_from(mem, columns, liquid, &look->flood, look->gates.error, c->opening_count,
            levels))
        return false;
    look->caught = vugi_wall_flood_caught(bodies, &look->flood);
    return true;
}

void vugi_wall_look_free(const vugi_allocator *mem, vugi_wall_look *look)
{
    vugi_free(mem, look->gates.gate);
    vugi_free(mem, look->gates.error);
    vugi_wall_flood_free(mem, &look->flood);
    *look = (vugi_wall_look){.known = false};
}

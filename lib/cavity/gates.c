/* SPDX-License-Identifier: MIT */
#include "cavity/gates.h"

#include "cavity/trust.h"

static bool add_gates(const vugi_allocator *mem, const vugi_cavity *cavity, uint32_t before,
    const int32_t *role, vugi_gates *g)
{
    const int32_t *tag = cavity->tag;
    for (size_t t = 0; t < cavity->mesh->triangle_count; t++) {
        if (tag[t] < 0 || role[tag[t]] == VUG_ROLE_SEALED)
            continue;
        if (!vugi_reserve(mem, &g->gate, &g->gate_capacity, g->count + 1, sizeof *g->gate))
            return false;
        g->gate[g->count++] = (vugi_wall_gate){before + (uint32_t)t, tag[t]};
    }
    return true;
}

/* Of cavities first .. first + count - 1. up: as air goes; liquid: it goes the other way. false: no memory. */
static bool find_gates(const vugi_allocator *mem, const vug_cavities *c, size_t first, size_t count,
    const int32_t *role, const double up[3], bool liquid, vugi_gates *g)
{
    uint32_t triangles = 0;
    g->count = 0;
    if (!vugi_reserve(mem, &g->error, &g->error_capacity, c->opening_count, sizeof *g->error))
        return false;
    for (size_t i = first; i < first + count; i++) {
        if (!add_gates(mem, c->cavity + i, triangles, role, g))
            return false;
        triangles += (uint32_t)c->cavity[i].mesh->triangle_count;
    }
    for (size_t o = 0; o < c->opening_count; o++)
        g->error[o] = vugi_opening_error(c, c->opening + o, up, liquid);
    return true;
}

bool vugi_wall_look_at(const vugi_allocator *mem, const vug_cavities *c, size_t first, size_t count,
    const int32_t *role, const vugi_bodies *bodies, const double basis[9],
    const vugi_columns *columns, bool liquid, vugi_wall_look *look)
{
    look->known = vugi_wall_flood_can(bodies)
        && (vugi_wall_flood_sound(bodies) || (columns && !columns->side));
    if (!look->known)
        return true;
    if (!find_gates(mem, c, first, count, role, basis + 6, liquid, &look->gates)
        || !vugi_wall_flood_run(mem, bodies, basis, columns, liquid, look->gates.gate,
            look->gates.count, &look->flood))
        return false;
    look->caught = vugi_wall_flood_caught(bodies, &look->flood, look->gates.error);
    return true;
}

void vugi_wall_look_free(const vugi_allocator *mem, vugi_wall_look *look)
{
    vugi_free(mem, look->gates.gate);
    vugi_free(mem, look->gates.error);
    vugi_wall_flood_free(mem, &look->flood);
    *look = (vugi_wall_look){.known = false};
}

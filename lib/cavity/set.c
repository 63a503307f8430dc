/* SPDX-License-Identifier: MIT
 * A set of cavities: made empty, and freed. */
#include "cavity/set.h"

#include "cavity/atlas.h"
#include "cavity/cavity.h"

void vugi_cavity_free(const vugi_allocator *mem, vugi_cavity *cavity)
{
    vug_mesh_free(cavity->mesh);
    vugi_free(mem, cavity->tag);
    vugi_free(mem, cavity->chamber);
    vugi_free(mem, cavity->throat);
    vugi_atlas_free(cavity->atlas);
}

void vug_cavities_free(vug_cavities *c)
{
    if (!c)
        return;
    for (size_t i = 0; i < c->cavity_count; i++)
        vugi_cavity_free(&c->mem, c->cavity + i);
    for (size_t i = 0; i < c->opening_count; i++)
        vugi_free(&c->mem, c->opening[i].outline);
    vugi_free(&c->mem, c->cavity);
    vugi_free(&c->mem, c->opening);
    vugi_free(&c->mem, c->bore);
    vugi_free(&c->mem, c->body);
    vug_mesh_free(c->part);
    vugi_allocator mem = c->mem;
    vugi_free(&mem, c);
}

vugi_bodies vugi_cavities_bodies(const vug_cavities *c)
{
    return (vugi_bodies){c->body, c->cavity_count, c->bore, c->bore_count};
}

double vugi_cavities_volume(const vug_cavities *c)
{
    double volume = 0.0;
    for (size_t i = 0; i < c->cavity_count; i++)
        volume += c->cavity[i].volume;
    return volume;
}

vug_cavities *vugi_cavities_new(const vugi_allocator *mem, const vug_mesh *part)
{
    vug_cavities *c = vugi_calloc(mem, 1, sizeof *c);
    if (!c)
        return NULL;
    c->mem = *mem;
    c->part = vugi_mesh_share(part);
    return c;
}

vug_status vugi_openings_allowed(vug_context *ctx, size_t count)
{
    if (count <= VUG_MAX_OPENINGS)
        return VUG_OK;
    return vugi_fail(ctx, VUG_ERR_LIMIT,
        "%zu openings, at most %d are allowed: leave holes out, or look at a piece of the part",
        count, VUG_MAX_OPENINGS);
}

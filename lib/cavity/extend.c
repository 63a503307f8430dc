/* SPDX-License-Identifier: MIT
 * The same cavities with more bores planned. */
#include "cavity/extend.h"

#include "cavity/atlas.h"
#include "cavity/clear.h"
#include "cavity/planned.h"
#include "cavity/set.h"

#include <assert.h>
#include <math.h>
#include <string.h>

static bool copy_opening(const vugi_allocator *mem, const vugi_opening *from, vugi_opening *to)
{
    *to = *from;
    size_t points = from->outline_count + from->mouth_count + from->neck_count;
    to->outline = vugi_alloc(mem, 3 * points, sizeof *to->outline);
    if (!to->outline)
        return false;
    memcpy(to->outline, from->outline, 3 * points * sizeof *to->outline);
    return true;
}

static bool copy_places(const vugi_allocator *mem, const vugi_place *from, size_t count,
    vugi_place **to)
{
    *to = vugi_alloc(mem, count, sizeof **to);
    if (*to && count > 0)
        memcpy(*to, from, count * sizeof **to);
    return *to != NULL;
}

static bool copy_cavity(const vugi_allocator *mem, const vugi_cavity *from, vugi_cavity *to)
{
    *to = *from;
    to->mesh = vugi_mesh_share(from->mesh);
    to->tag = vugi_alloc(mem, from->mesh->triangle_count, sizeof *to->tag);
    to->chamber = to->throat = NULL;
    to->atlas = vugi_atlas_share(from->atlas);
    if (!to->tag)
        return false;
    memcpy(to->tag, from->tag, from->mesh->triangle_count * sizeof *to->tag);
    return copy_places(mem, from->chamber, from->chamber_count, &to->chamber)
        && copy_places(mem, from->throat, from->throat_count, &to->throat);
}

static bool copy(const vug_cavities *from, size_t more, vug_cavities *to)
{
    const vugi_allocator *mem = &to->mem;
    to->cavity = vugi_calloc(mem, from->cavity_count, sizeof *to->cavity);
    to->opening = vugi_calloc(mem, from->opening_count + more, sizeof *to->opening);
    to->bore = vugi_calloc(mem, from->bore_count + more, sizeof *to->bore);
    to->body = vugi_calloc(mem, from->cavity_count, sizeof *to->body);
    if (!to->cavity || !to->opening || !to->bore || !to->body)
        return false;
    for (size_t i = 0; i < from->cavity_count; i++) {
        to->cavity_count = i + 1;
        if (!copy_cavity(mem, from->cavity + i, to->cavity + i))
            return false;
        to->body[i] = to->cavity[i].mesh;
    }
    for (size_t i = 0; i < from->opening_count; i++) {
        to->opening_count = i + 1;
        if (!copy_opening(mem, from->opening + i, to->opening + i))
            return false;
    }
    to->bore_count = from->bore_count;
    to->cells_across = from->cells_across;
    to->cell = from->cell;
    if (from->bore_count > 0)
        memcpy(to->bore, from->bore, from->bore_count * sizeof *to->bore);
    return true;
}

vug_cavities *vugi_cavities_copy(const vugi_allocator *mem, const vug_cavities *from, size_t more)
{
    vug_cavities *c = vugi_cavities_new(mem, from->part);
    if (c && !copy(from, more, c)) {
        vug_cavities_free(c);
        return NULL;
    }
    return c;
}

/* Puts opening number last in its place: after the others of its cavity. Tags follow. */
static void put_in_order(vug_cavities *c, size_t last)
{
    assert(last < c->opening_count);
    vugi_opening moving = c->opening[last];
    size_t at = last;
    for (; at > 0 && c->opening[at - 1].cavity > moving.cavity; at--)
        c->opening[at] = c->opening[at - 1];
    c->opening[at] = moving;
    for (size_t i = 0; i < c->cavity_count && at < last; i++)
        for (size_t t = 0; t < c->cavity[i].mesh->triangle_count; t++)
            if (c->cavity[i].tag[t] >= (int32_t)at)
                c->cavity[i].tag[t]++;
}

/* Plans one bore into the set, which has room for it. */
static vug_status add(vug_context *ctx, vug_cavities *c, const vugi_hole *hole, bool apart)
{
    vugi_opening o = {.cavity = -1};
    double volume[2];
    bool found = false;
    vug_status status = vugi_hole_plan(ctx, c, hole, &o, c->bore + c->bore_count, volume, &found);
    if (!status && !found)
        status = vugi_fail(ctx, VUG_ERR_NOT_FOUND,
            "the bore at (%g, %g, %g) leads through no wall into a cavity", hole->center[0],
            hole->center[1], hole->center[2]);
    if (!status && apart && !vugi_openings_clear(c, o.center, o.inner, o.radius, 0.0)) {
        vugi_free(&c->mem, o.outline);
        status = vugi_fail(ctx, VUG_ERR_NOT_FOUND,
            "the bore at (%g, %g, %g) runs into another opening: move it away, or make it narrower",
            hole->center[0], hole->center[1], hole->center[2]);
    }
    if (status)
        return status;
    vugi_cavity *cavity = c->cavity + o.cavity;
    c->bore_count++;
    cavity->volume += volume[0];
    cavity->volume_error += volume[1];
    cavity->sealed = false;
    c->opening[c->opening_count++] = o;
    put_in_order(c, c->opening_count - 1);
    return VUG_OK;
}

vug_status vugi_cavities_extend(vug_context *ctx, const vug_cavities *from, const vugi_hole *hole,
    size_t hole_count, bool apart, vug_cavities **out)
{
    vug_status status = vugi_openings_allowed(ctx, from->opening_count + hole_count);
    if (status)
        return status;
    vug_cavities *c = vugi_cavities_copy(&ctx->mem, from, hole_count);
    status = c ? VUG_OK : vugi_fail_memory(ctx);
    for (size_t i = 0; i < hole_count && !status; i++)
        status = add(ctx, c, hole + i, apart);
    if (status)
        vug_cavities_free(c);
    else
        *out = c;
    return status;
}

/* A ring of points wider about its middle. */
static void widen_ring(double *point, size_t count, double factor)
{
    double middle[3] = {0.0, 0.0, 0.0};
    for (size_t i = 0; i < 3 * count; i++)
        middle[i % 3] += point[i] / (double)count;
    for (size_t i = 0; i < 3 * count; i++)
        point[i] = middle[i % 3] + factor * (point[i] - middle[i % 3]);
}

void vugi_cavities_widen(vug_cavities *c, double factor)
{
    assert(factor > 0.0);
    for (size_t i = 0; i < c->opening_count; i++) {
        vugi_opening *o = c->opening + i;
        double *mouth = o->outline + 3 * o->outline_count;
        o->radius *= factor;
        o->inscribed_radius *= factor;
        o->area *= factor * factor;
        o->perimeter *= factor;
        o->reach *= fmax(1.0, factor); /* the bore in the mesh stays as wide as it is */
        widen_ring(o->outline, o->outline_count, factor);
        widen_ring(mouth, o->mouth_count, factor);
        widen_ring(mouth + 3 * o->mouth_count, o->neck_count, factor);
    }
}

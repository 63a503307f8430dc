/* SPDX-License-Identifier: MIT
 * A recess is the piece of surface around the rim of a bore that sharp edges of the part end all around, close to
 * the bore and higher than its rim: a cone, or a floor and a wall. What a fillet leads to has no such edge, and the
 * face of a boss does not rise. */
#include "cavity/sink.h"

#include "base/vec.h"
#include "mesh/edges.h"

#include <math.h>
#include <string.h>

/* Edges at which the surface falls away by 18 degrees are sharp. */
static const double SHARP = 0.95;

/* In radii: how far from the axis a recess may reach, and how far its edge may lie over the bore's rim, on average and
 * at its lowest. */
static const double WIDEST = 6.0, LEAST_DEPTH = 0.1, MOST_DEPTH = 3.0, BELOW = 0.02;

/* Of the length of its edge, so much is sharp at least. */
static const double EDGED = 0.98;

typedef struct sink {
    vug_context *ctx;
    const vug_mesh *mesh;
    const uint32_t *other;
    vugi_wall *wall;
    uint8_t *
        mark; /* of each triangle: RECESS or SKIN; 2 << k: its edge k is the bore's rim, 16 << k: walked */
    uint32_t *list;
    size_t count, capacity;
    bool too_wide; /* what grows now */
} sink;

enum { RECESS = 1, SKIN = 128 };

static const double *corner(const sink *s, uint32_t h)
{
    return s->mesh->xyz + 3 * (size_t)vugi_edge_from(s->mesh, h);
}

static void normal_of(const sink *s, uint32_t t, double n[3])
{
    vugi_triangle_cross(corner(s, 3 * t), corner(s, 3 * t + 1), corner(s, 3 * t + 2), n);
    vugi_normalise(n);
}

/* Does the surface fall away beyond half-edge h? */
static bool is_sharp(const sink *s, uint32_t h)
{
    uint32_t across = vugi_across(s->mesh, s->other, h);
    double here[3], there[3], way[3];
    if (across == UINT32_MAX)
        return false;
    normal_of(s, h / 3, here);
    normal_of(s, across / 3, there);
    vugi_subtract(corner(s, across % 3 == 0 ? across + 2 : across - 1), corner(s, h), way);
    return vugi_dot(here, there) < SHARP && vugi_dot(way, here) < 0.0;
}

static bool take(sink *s, uint32_t t)
{
    s->too_wide |= (s->mark[t] & SKIN) != 0;
    if (s->mark[t] & (RECESS | SKIN))
        return true;
    if (!vugi_reserve(&s->ctx->mem, &s->list, &s->capacity, s->count + 1, sizeof *s->list))
        return false;
    s->mark[t] |= RECESS;
    s->list[s->count++] = t;
    for (uint32_t k = 0; k < 3; k++) {
        double xys[3];
        vugi_wall_frame(s->wall, corner(s, 3 * t + k), xys);
        s->too_wide |= hypot(xys[0], xys[1]) > WIDEST * s->wall->radius;
    }
    return true;
}

/* From one edge of the rim outward, as far as no sharp edge is in the way. */
static bool grow_from(sink *s, uint32_t start)
{
    const size_t before = s->count;
    s->too_wide = false;
    if (!take(s, start))
        return false;
    for (size_t i = 3 * before; i < 3 * s->count && !s->too_wide; i++) {
        uint32_t h = 3 * s->list[i / 3] + (uint32_t)(i % 3);
        uint32_t across = vugi_across(s->mesh, s->other, h);
        if (across != UINT32_MAX && !(s->mark[across / 3] & 2 << across % 3) && !is_sharp(s, h)
            && !take(s, across / 3))
            return false;
    }
    while (s->too_wide && s->count > before) {
        uint8_t *mark = s->mark + s->list[--s->count];
        *mark = (uint8_t)((*mark & ~RECESS) | SKIN);
    }
    return true;
}

/* What lies across the rim is the recess, or the skin where the rim comes up to it. */
static bool grow(sink *s)
{
    const vugi_wall *w = s->wall;
    for (size_t i = 0; i < w->rim_count; i++)
        s->mark[w->rim[i] / 3] |= (uint8_t)(2 << w->rim[i] % 3);
    for (size_t i = 0; i < w->rim_count; i++)
        if (s->other[w->rim[i]] != UINT32_MAX && !grow_from(s, s->other[w->rim[i]]))
            return false;
    return true;
}

/* Is a half-edge on the border of bore and recess together? */
static bool on_border(const sink *s, uint32_t h)
{
    uint32_t across = vugi_across(s->mesh, s->other, h);
    if (across == UINT32_MAX)
        return true;
    if (s->mark[h / 3] & RECESS)
        return !(s->mark[across / 3] & RECESS) && !(s->mark[across / 3] & 2 << across % 3);
    return s->mark[h / 3] & 2 << h % 3 && !(s->mark[across / 3] & RECESS);
}

static uint32_t next_in_triangle(uint32_t h)
{
    return h % 3 == 2 ? h - 2 : h + 1;
}

/* Around the end of a half-edge of the border to the next. */
static uint32_t next_of(const sink *s, uint32_t h)
{
    uint32_t e = next_in_triangle(h);
    for (size_t turns = 0; turns < 3 * s->count && !on_border(s, e); turns++)
        e = next_in_triangle(vugi_across(s->mesh, s->other, e));
    return e;
}

static bool walk(sink *s, uint32_t h, uint32_t **half, size_t *count)
{
    size_t capacity = 0;
    while (!(s->mark[h / 3] & 16 << h % 3)) {
        s->mark[h / 3] |= (uint8_t)(16 << h % 3);
        if (!vugi_reserve(&s->ctx->mem, half, &capacity, *count + 1, sizeof **half))
            return false;
        (*half)[(*count)++] = h;
        h = next_of(s, h);
    }
    return true;
}

/* Sharp all around, and higher than the rim's plane. */
static bool is_edge(const sink *s, const uint32_t *half, size_t count)
{
    const vugi_wall *w = s->wall;
    double level, slope[2], length = 0.0, sharp = 0.0, mean = 0.0, least = INFINITY, height;
    double *rim = vugi_alloc(&s->ctx->mem, 3 * w->rim_count, sizeof *rim);
    if (!rim || count < 3 || vugi_wall_winding(s->mesh, w, half, count, &height) != 1) {
        vugi_free(&s->ctx->mem, rim);
        return false;
    }
    for (size_t i = 0; i < w->rim_count; i++)
        memcpy(rim + 3 * i, corner(s, w->rim[i]), 3 * sizeof *rim);
    vugi_wall_level(w, rim, w->rim_count, &level, slope);
    vugi_free(&s->ctx->mem, rim);
    for (size_t i = 0; i < count; i++) {
        double xys[3],
            part = vugi_point_distance(corner(s, half[i]),
                s->mesh->xyz + 3 * (size_t)vugi_edge_to(s->mesh, half[i]));
        vugi_wall_frame(w, corner(s, half[i]), xys);
        double rise = xys[2] - level - slope[0] * xys[0] - slope[1] * xys[1];
        length += part;
        sharp += is_sharp(s, half[i]) ? part : 0.0;
        mean += part * rise;
        least = fmin(least, rise);
    }
    mean /= length;
    return sharp >= EDGED * length && least >= -BELOW * w->radius && mean >= LEAST_DEPTH * w->radius
        && mean <= MOST_DEPTH * w->radius;
}

/* The border that goes around and is an edge becomes the rim. */
static vug_status find_edge(sink *s)
{
    vugi_wall *w = s->wall;
    for (size_t i = 0; i < 3 * s->count && w->neck_count == 0; i++) {
        uint32_t h = 3 * s->list[i / 3] + (uint32_t)(i % 3), *half = NULL;
        size_t count = 0;
        if (!on_border(s, h) || s->mark[h / 3] & 16 << h % 3)
            continue;
        if (!walk(s, h, &half, &count)) {
            vugi_free(&s->ctx->mem, half);
            return vugi_fail_memory(s->ctx);
        }
        if (!is_edge(s, half, count)) {
            vugi_free(&s->ctx->mem, half);
            continue;
        }
        w->neck = w->rim;
        w->neck_count = w->rim_count;
        w->rim = half;
        w->rim_count = count;
    }
    return VUG_OK;
}

vug_status vugi_sink_find(vug_context *ctx, const vug_mesh *mesh, const uint32_t *other,
    vugi_wall *wall)
{
    sink s = {.ctx = ctx, .mesh = mesh, .other = other, .wall = wall};
    s.mark = vugi_calloc(&ctx->mem, mesh->triangle_count, sizeof *s.mark);
    vug_status status = s.mark && grow(&s) ? VUG_OK : vugi_fail_memory(ctx);
    if (!status)
        status = find_edge(&s);
    vugi_free(&ctx->mem, s.mark);
    vugi_free(&ctx->mem, s.list);
    return status;
}

/* SPDX-License-Identifier: MIT
 * Priority-Flood over the wall of cavities.
 *
 * What a cavity holds above a height falls into pieces, and where two of them meet as the height sinks, their walls
 * meet, at a corner of the mesh. So levels are found on the triangles alone: from one to the next air comes
 * over the higher end of the edge between them. What stands up from a floor and ends below the ceiling has a wall of its
 * own: it is joined to the rest by the columns that pass it. */
#include "column/wall_flood.h"

#include "base/vec.h"

#include <math.h>
#include <string.h>

/* A triangle of one of the bodies. */
typedef struct face {
    const vug_mesh *mesh;
    uint32_t first, corner; /* of the mesh: numbers of its first triangle and corner over all */
} face;

/* Goes on to the mesh that a triangle is of; they follow each other. */
static face face_of(const vugi_bodies *bodies, uint32_t t)
{
    size_t m = 0;
    face f = {.mesh = bodies->mesh[0]};
    while (t - f.first >= f.mesh->triangle_count) {
        f.first += (uint32_t)f.mesh->triangle_count;
        f.corner += (uint32_t)f.mesh->vertex_count;
        f.mesh = bodies->mesh[++m];
    }
    return f;
}

bool vugi_wall_flood_can(const vugi_bodies *bodies, const vugi_columns *c)
{
    bool can = bodies->bore_count == 0 && c->floor && !c->side;
    for (size_t m = 0; m < bodies->count && can; m++)
        can = bodies->mesh[m]->beside != NULL;
    return can;
}

/* ---- levels ---------------------------------------------------------------------- */

static bool make_room(const vugi_allocator *mem, const vugi_bodies *bodies, vugi_wall_flood *s,
    size_t *triangles)
{
    size_t corners = 0;
    *triangles = 0;
    for (size_t m = 0; m < bodies->count; m++) {
        *triangles += bodies->mesh[m]->triangle_count;
        corners += bodies->mesh[m]->vertex_count;
    }
    return vugi_reserve(mem, &s->level, &s->level_capacity, *triangles, sizeof *s->level)
        && vugi_reserve(mem, &s->opening, &s->opening_capacity, *triangles, sizeof *s->opening)
        && vugi_reserve(mem, &s->taken, &s->taken_capacity, *triangles, sizeof *s->taken)
        && vugi_reserve(mem, &s->stack, &s->stack_capacity, *triangles, sizeof *s->stack)
        && vugi_reserve(mem, &s->height, &s->height_capacity, corners, sizeof *s->height);
}

static void find_heights(const vugi_bodies *bodies, vugi_wall_flood *s)
{
    double *height = s->height;
    s->bottom = INFINITY;
    for (size_t m = 0; m < bodies->count; m++) {
        const vug_mesh *mesh = bodies->mesh[m];
        for (size_t v = 0; v < mesh->vertex_count; v++)
            s->bottom = fmin(s->bottom, *height++ = vugi_dot(s->up, mesh->xyz + 3 * v));
    }
}

/* Lets what is at a triangle come to it at a level. */
static bool come(const vugi_allocator *mem, vugi_wall_flood *s, uint32_t t, double level,
    int32_t opening, bool lower)
{
    if (level <= s->level[t])
        return true;
    s->level[t] = level;
    s->opening[t] = opening;
    return vugi_front_push(mem, &s->front, (vugi_front_entry){level, t}, lower);
}

static bool open_gates(const vugi_allocator *mem, const vugi_bodies *bodies, const int32_t *gate,
    vugi_wall_flood *s)
{
    uint32_t t = 0, corner = 0;
    for (size_t m = 0; m < bodies->count; m++) {
        const vug_mesh *mesh = bodies->mesh[m];
        const double *z = s->height + corner;
        for (const uint32_t *v = mesh->triangles, *end = v + 3 * mesh->triangle_count; v < end;
             v += 3, t++)
            if (gate[t] >= 0
                && !come(mem, s, t, vugi_greater(z[v[0]], vugi_greater(z[v[1]], z[v[2]])), gate[t],
                    true))
                return false;
        corner += (uint32_t)mesh->vertex_count;
    }
    return true;
}

/* Over the rim of a gate all comes at the rim's own height. */
static bool spread(const vugi_allocator *mem, const vugi_bodies *bodies, const int32_t *gate,
    vugi_wall_flood *s)
{
    for (vugi_front_entry e; vugi_front_pop(&s->front, &e);) {
        if (e.level < s->level[e.at])
            continue;
        const face f = face_of(bodies, e.at);
        const size_t own = e.at - f.first;
        const uint32_t *v = f.mesh->triangles + 3 * own, *beside = f.mesh->beside + 3 * own;
        const double z[3] = {s->height[f.corner + v[0]], s->height[f.corner + v[1]],
            s->height[f.corner + v[2]]};
        for (int k = 0; k < 3; k++) {
            double edge = vugi_greater(z[k], z[(k + 1) % 3]);
            bool lower = edge < e.level;
            if (beside[k] != UINT32_MAX
                && !come(mem, s, f.first + beside[k], lower ? edge : e.level,
                    lower && gate[e.at] < 0 ? -1 : s->opening[e.at], lower))
                return false;
        }
    }
    return true;
}

/* Air comes from one end of a column to the other, at the lower one. *any: some could not do so along the wall. */
static bool pass_columns(const vugi_allocator *mem, const vugi_columns *c, bool liquid,
    vugi_wall_flood *s, bool *any)
{
    *any = false;
    for (size_t n = 0; n < c->count; n++) {
        const double lower = liquid ? -c->hi[n] : c->lo[n];
        const uint32_t ends[2] = {c->floor[n], c->ceiling[n]};
        for (int k = 0; k < 2; k++) {
            double from = s->level[ends[1 - k]], level = from < lower ? from : lower;
            if (level <= s->level[ends[k]])
                continue;
            *any = true;
            if (!come(mem, s, ends[k], level, from < lower ? s->opening[ends[1 - k]] : -1, true))
                return false;
        }
    }
    return true;
}

bool vugi_wall_flood_run(const vugi_allocator *mem, const vugi_bodies *bodies,
    const vugi_columns *c, bool liquid, const int32_t *gate, vugi_wall_flood *s)
{
    size_t triangles;
    if (!make_room(mem, bodies, s, &triangles))
        return false;
    for (int k = 0; k < 3; k++)
        s->up[k] = liquid ? -c->basis[6 + k] : c->basis[6 + k];
    s->front.heap_count = s->front.queue_count = 0;
    find_heights(bodies, s);
    for (size_t t = 0; t < triangles; t++) {
        s->level[t] = -INFINITY;
        s->opening[t] = -1;
        s->taken[t] = 0;
    }
    bool any = true, good = open_gates(mem, bodies, gate, s);
    s->unseen = 0.0;
    while (good && any) {
        good = spread(mem, bodies, gate, s) && pass_columns(mem, c, liquid, s, &any);
        s->unseen += any ? c->h * c->h * c->h : 0.0;
    }
    return good;
}

/* ---- volumes --------------------------------------------------------------------- */

static void sort_three(double z[3])
{
    for (int k = 0; k < 3; k++) {
        int i = k % 2; /* 0 1, 1 2, 0 1 */
        if (z[i] > z[i + 1]) {
            double swap = z[i];
            z[i] = z[i + 1];
            z[i + 1] = swap;
        }
    }
}

/* Mean over a triangle of its height where that is above 0, of those of its corners. */
static double mean_above(double z[3])
{
    sort_three(z);
    const double a = z[0], b = z[1], c = z[2];
    if (c <= 0.0)
        return 0.0;
    if (a >= 0.0)
        return (a + b + c) / 3.0;
    return b > 0.0 ? (a + b + c) / 3.0 - a * a / (a - b) * (a / (a - c)) / 3.0
                   : c * c / (c - a) * (c / (c - b)) / 3.0;
}

/* Adds a triangle if air is trapped behind it: as high as it is above the level, over what of the ground it covers. */
static void add_behind(const face *f, const vugi_wall_flood *s, uint32_t t, vugi_wall_sums *sums)
{
    const uint32_t *v = f->mesh->triangles + 3 * (size_t)(t - f->first);
    const double *xyz = f->mesh->xyz, *z = s->height + f->corner;
    double n[3], above[3], level = fmax(s->level[t], s->bottom),
                           top = vugi_greater(z[v[0]], vugi_greater(z[v[1]], z[v[2]]));
    if (!(top > level))
        return;
    for (int k = 0; k < 3; k++)
        above[k] = z[v[k]] - level;
    vugi_triangle_cross(xyz + 3 * (size_t)v[0], xyz + 3 * (size_t)v[1], xyz + 3 * (size_t)v[2], n);
    double twice = vugi_dot(n, s->up);
    sums->volume += 0.5 * twice * mean_above(above);
    sums->side += 0.5 * sqrt(fmax(0.0, vugi_dot(n, n) - twice * twice));
    sums->squares += 0.25 * vugi_dot(n, n);
}

vugi_wall_sums vugi_wall_flood_caught(const vugi_bodies *bodies, const vugi_wall_flood *s)
{
    vugi_wall_sums sums = {.unseen = s->unseen};
    face f = {.mesh = NULL};
    for (size_t m = 0; m < bodies->count; m++) {
        f.mesh = bodies->mesh[m];
        uint32_t end = f.first + (uint32_t)f.mesh->triangle_count;
        for (uint32_t t = f.first; t < end; t++)
            add_behind(&f, s, t, &sums);
        f.first = end;
        f.corner += (uint32_t)f.mesh->vertex_count;
    }
    return sums;
}

void vugi_wall_flood_pocket(const vugi_bodies *bodies, vugi_wall_flood *s, uint32_t triangle,
    vugi_wall_sums *sums)
{
    const face f = face_of(bodies, triangle);
    size_t count = 0;
    if (s->taken[triangle])
        return;
    s->taken[triangle] = 1;
    s->stack[count++] = triangle;
    while (count > 0) {
        const uint32_t t = s->stack[--count], *v = f.mesh->triangles + 3 * (size_t)(t - f.first);
        const double *z = s->height + f.corner;
        add_behind(&f, s, t, sums);
        for (int k = 0; k < 3; k++) {
            uint32_t n = f.mesh->beside[3 * (size_t)(t - f.first) + (size_t)k];
            if (n == UINT32_MAX || s->taken[f.first + n] || s->level[f.first + n] != s->level[t]
                || !(vugi_greater(z[v[k]], z[v[(k + 1) % 3]]) > s->level[t]))
                continue;
            s->taken[f.first + n] = 1;
            s->stack[count++] = f.first + n;
        }
    }
}

void vugi_wall_flood_free(const vugi_allocator *mem, vugi_wall_flood *s)
{
    vugi_free(mem, s->level);
    vugi_free(mem, s->opening);
    vugi_free(mem, s->height);
    vugi_free(mem, s->taken);
    vugi_free(mem, s->stack);
    vugi_front_free(mem, &s->front);
    *s = (vugi_wall_flood){.level = NULL};
}

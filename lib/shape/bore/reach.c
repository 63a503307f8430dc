/* SPDX-License-Identifier: MIT */
#include "shape/bore/reach.h"

#include "base/angle.h"
#include "base/sort.h"

#include <math.h>

enum { RINGS = 4, AROUND = 16, VERTICES = 160, MOST_LINES = 1 + RINGS * AROUND + VERTICES };

typedef struct pass {
    double w;
    uint32_t line;
    int8_t in; /* 1: into the solid, -1: out of it */
} pass;

typedef struct stretch {
    double from, to;
    uint32_t line;
    bool wall; /* belongs to the wall at the point */
} stretch;

typedef struct lines {
    const vugi_allocator *mem;
    double uv[MOST_LINES][2];
    uint32_t count;
    pass *pass;
    size_t passes, pass_capacity;
    stretch *stretch; /* of solid, by line */
    size_t stretches;
} lines;

static void spread(lines *l, double radius)
{
    static const double share[RINGS] = {0.3, 0.6, 0.85, 0.99};
    l->uv[l->count][0] = l->uv[l->count][1] = 0.0;
    l->count++;
    for (int ring = 0; ring < RINGS; ring++)
        for (int i = 0; i < AROUND; i++) {
            double angle = VUGI_PI * (2.0 * i + 0.618 * (ring + 1)) / AROUND;
            l->uv[l->count][0] = share[ring] * radius * cos(angle);
            l->uv[l->count][1] = share[ring] * radius * sin(angle);
            l->count++;
        }
}

static bool add_passes(lines *l, const uint32_t vertex[3], double x[3][3])
{
    for (uint32_t i = 0; i < l->count; i++) {
        double w;
        int in = vugi_line_pass(vertex, x, l->uv[i], &w);
        if (in == 0)
            continue;
        if (!vugi_reserve(l->mem, &l->pass, &l->pass_capacity, l->passes + 1, sizeof *l->pass))
            return false;
        l->pass[l->passes++] = (pass){w, i, (int8_t)in};
    }
    return true;
}

static void add_vertices(lines *l, const vugi_carving *carving, const vugi_tool *tool,
    const vugi_reachable *list, double radius)
{
    size_t each = list->count / VERTICES + 1;
    for (size_t i = 0; i < list->count && l->count < MOST_LINES; i += each) {
        double x[3][3];
        vugi_carving_corners(carving, tool, list->triangle[i], x);
        if (hypot(x[0][0], x[0][1]) < radius) {
            l->uv[l->count][0] = x[0][0];
            l->uv[l->count][1] = x[0][1];
            l->count++;
        }
    }
}

static int compare_passes(const void *left, const void *right, const void *user)
{
    const pass *p = left, *q = right;
    (void)user;
    if (p->line != q->line)
        return p->line < q->line ? -1 : 1;
    return (p->w > q->w) - (p->w < q->w);
}

static bool find_stretches(lines *l)
{
    l->stretch = vugi_alloc(l->mem, l->passes, sizeof *l->stretch);
    if (!l->stretch
        || !vugi_sort(l->mem, l->pass, l->passes, sizeof *l->pass, compare_passes, NULL))
        return false;
    int winding = 0;
    double from = 0.0;
    for (size_t i = 0; i < l->passes; i++) {
        const pass *p = &l->pass[i];
        if (i > 0 && p->line != p[-1].line)
            winding = 0;
        if (winding == 0)
            from = p->w;
        winding += p->in;
        if (winding == 0 && p->w > from)
            l->stretch[l->stretches++] = (stretch){from, p->w, p->line, false};
    }
    return true;
}

/* The wall: the first solid at or behind the point, from the middle outward, and what meets it. */
static bool find_wall(lines *l, double tolerance, vugi_reach *reach)
{
    bool found = false;
    for (size_t i = 0; i < l->stretches; i++) {
        stretch *s = &l->stretch[i];
        if (!found && s->to > tolerance) {
            found = true;
            reach->skin = reach->from = s->from;
            reach->to = s->to;
        }
        s->wall = found && s->from <= reach->to && s->to >= reach->from;
        if (s->wall) {
            reach->from = fmin(reach->from, s->from);
            reach->to = fmax(reach->to, s->to);
        }
    }
    return found;
}

static void find_room(const lines *l, vugi_reach *reach)
{
    reach->before = reach->behind = INFINITY;
    reach->last = reach->to;
    for (size_t i = 0; i < l->stretches; i++) {
        const stretch *s = &l->stretch[i];
        reach->last = fmax(reach->last, s->to);
        if (s->wall)
            continue;
        if (s->to <= reach->from)
            reach->before = fmin(reach->before, reach->from - s->to);
        else if (s->from >= reach->to)
            reach->behind = fmin(reach->behind, s->from - reach->to);
        else if (s->to <= 0.5 * (reach->from + reach->to))
            reach->before = 0.0;
        else
            reach->behind = 0.0;
    }
}

vug_status vugi_reach_find(const vugi_carving *carving, const vugi_tool *tool,
    const vugi_reachable *list, double radius, vugi_reach *reach)
{
    const vugi_allocator *mem = &carving->mem;
    lines *l = vugi_calloc(mem, 1, sizeof *l);
    if (!l)
        return VUG_ERR_MEMORY;
    l->mem = mem;
    spread(l, radius);
    add_vertices(l, carving, tool, list, radius);
    bool memory = true;
    for (size_t i = 0; memory && i < list->count; i++) {
        double x[3][3];
        vugi_carving_corners(carving, tool, list->triangle[i], x);
        memory = add_passes(l, carving->triangle + 3 * (size_t)list->triangle[i], x);
    }
    vug_status status = memory && find_stretches(l) ? VUG_OK : VUG_ERR_MEMORY;
    if (!status && !find_wall(l, 1e-3 * radius, reach))
        status = VUG_ERR_NOT_FOUND;
    if (!status)
        find_room(l, reach);
    vugi_free(mem, l->pass);
    vugi_free(mem, l->stretch);
    vugi_free(mem, l);
    return status;
}

bool vugi_reach_flat(const vugi_carving *carving, const vugi_tool *tool, const vugi_reachable *list,
    double w, double tolerance)
{
    for (size_t i = 0; i < list->count; i++) {
        double x[3][3];
        vugi_carving_corners(carving, tool, list->triangle[i], x);
        if (fabs(x[0][2] - w) < tolerance && fabs(x[1][2] - w) < tolerance
            && fabs(x[2][2] - w) < tolerance)
            return true;
    }
    return false;
}

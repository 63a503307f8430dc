/* SPDX-License-Identifier: MIT */
#include "shape/bore/cut.h"

#include "shape/bore/faces.h"
#include "shape/bore/pieces.h"

#include "base/sort.h"
#include "base/vec.h"

#include <math.h>
#include <string.h>

/* ---- is it sound? --------------------------------------------------------------------------- */

typedef struct half {
    uint32_t low, high;
    bool up, added;
} half;

static void list_halves(const uint32_t row[3], bool added, half *list)
{
    for (int k = 0; k < 3; k++) {
        uint32_t a = row[k], b = row[(k + 1) % 3];
        list[k] = (half){a < b ? a : b, a < b ? b : a, a < b, added};
    }
}

/* Half-edges of one edge: what is added is bounded as what is removed; an edge with a new vertex
 * has two triangles, another no more than before. */
static bool edge_sound(const half *list, size_t count, uint32_t base)
{
    int balance = 0, added[2] = {0, 0}, removed[2] = {0, 0};
    for (size_t i = 0; i < count; i++) {
        balance += (list[i].up ? 1 : -1) * (list[i].added ? 1 : -1);
        ++*(list[i].added ? &added[list[i].up] : &removed[list[i].up]);
    }
    if (list->high >= base)
        return added[0] == 1 && added[1] == 1;
    return balance == 0 && added[0] <= removed[0] && added[1] <= removed[1];
}

static vug_status check_edges(const vugi_cutting *cut)
{
    const vugi_allocator *mem = &cut->carving->mem;
    size_t count = 3 * (cut->added.count + cut->removed_count), at = 0;
    half *list = vugi_alloc(mem, count, sizeof *list);
    if (!list)
        return VUG_ERR_MEMORY;
    for (size_t i = 0; i < cut->added.count; i++, at += 3)
        list_halves(cut->added.row + 3 * i, true, list + at);
    for (size_t i = 0; i < cut->removed_count; i++, at += 3)
        list_halves(cut->carving->triangle + 3 * (size_t)cut->removed[i], false, list + at);
    vug_status status = vugi_sort(mem, list, count, sizeof *list, vugi_by_pair, NULL)
        ? VUG_OK
        : VUG_ERR_MEMORY;
    for (size_t i = 0, end; !status && i < count; i = end) {
        for (end = i + 1; end < count && vugi_by_pair(&list[i], &list[end], NULL) == 0; end++)
            ;
        if (!edge_sound(list + i, end - i, cut->base))
            status = VUG_ERR_MESH;
    }
    vugi_free(mem, list);
    return status;
}

static void place_of(const vugi_cutting *cut, uint32_t id, double x[3])
{
    if (id < cut->base)
        vugi_tool_local(cut->tool, cut->carving->xyz + 3 * (size_t)id, x);
    else
        memcpy(x, cut->points.point[id - cut->base].x, 3 * sizeof *x);
}

static double signed_volume(const vugi_cutting *cut, const uint32_t row[3])
{
    double x[3][3], normal[3];
    for (int k = 0; k < 3; k++)
        place_of(cut, row[k], x[k]);
    vugi_cross(x[0], x[1], normal);
    return vugi_dot(normal, x[2]) / 6.0;
}

/* No new edge too short, no new triangle flatter than rounding moves its corners: others might cross it. */
static bool shapes_sound(const vugi_cutting *cut, double shortest, double flattest)
{
    for (size_t i = 0; i < cut->added.count; i++) {
        const uint32_t *row = cut->added.row + 3 * i;
        double x[3][3], normal[3], longest = 0.0;
        for (int k = 0; k < 3; k++)
            place_of(cut, row[k], x[k]);
        for (int k = 0; k < 3; k++) {
            double edge = vugi_point_distance(x[k], x[(k + 1) % 3]);
            longest = fmax(longest, edge);
            if ((row[k] >= cut->base || row[(k + 1) % 3] >= cut->base) && edge < shortest)
                return false;
        }
        vugi_triangle_cross(x[0], x[1], x[2], normal);
        if (!(vugi_length(normal) > flattest * longest))
            return false;
    }
    return true;
}

/* ---- make it so ------------------------------------------------------------------------------ */

static vug_status apply(vugi_carving *carving, const vugi_cutting *cut)
{
    size_t vertices = carving->vertex_count + cut->points.count;
    size_t triangles = carving->triangle_count + cut->added.count;
    if (vertices >= UINT32_MAX || triangles > VUG_MAX_TRIANGLES)
        return VUG_ERR_LIMIT;
    if (!vugi_reserve(&carving->mem, &carving->xyz, &carving->vertex_capacity, vertices,
            3 * sizeof(double))
        || !vugi_reserve(&carving->mem, &carving->triangle, &carving->triangle_capacity, triangles,
            3 * sizeof(uint32_t)))
        return VUG_ERR_MEMORY;
    for (size_t i = 0; i < cut->points.count; i++)
        vugi_tool_part(cut->tool, cut->points.point[i].x,
            carving->xyz + 3 * (carving->vertex_count + i));
    for (size_t i = 0; i < cut->removed_count; i++)
        carving->triangle[3 * (size_t)cut->removed[i]] = VUGI_CARVED;
    if (cut->added.count > 0)
        memcpy(carving->triangle + 3 * carving->triangle_count, cut->added.row,
            cut->added.count * 3 * sizeof(uint32_t));
    carving->vertex_count = vertices;
    carving->triangle_count = triangles;
    return VUG_OK;
}

vug_status vugi_cut(vugi_carving *carving, const vugi_tool *tool, const vugi_reachable *list,
    double shortest, double flattest, vugi_cut_result *result)
{
    const vugi_allocator *mem = &carving->mem;
    vugi_cutting cut = {.carving = carving, .tool = tool, .list = list};
    cut.base = (uint32_t)carving->vertex_count;
    cut.points.mem = cut.added.mem = cut.outline.mem = *mem;
    cut.slice = vugi_alloc(mem, 1, sizeof *cut.slice);
    vug_status status = cut.slice ? vugi_cut_pieces(&cut) : VUG_ERR_MEMORY;
    if (!status)
        status = vugi_cut_faces(&cut);
    if (!status)
        status = check_edges(&cut);
    if (!status && !shapes_sound(&cut, shortest, flattest))
        status = VUG_ERR_MESH;
    if (!status) {
        *result = (vugi_cut_result){0.0, cut.removed_count, cut.added.count};
        for (size_t i = 0; i < cut.removed_count; i++)
            result->volume_mm3 += signed_volume(&cut,
                carving->triangle + 3 * (size_t)cut.removed[i]);
        for (size_t i = 0; i < cut.added.count; i++)
            result->volume_mm3 -= signed_volume(&cut, cut.added.row + 3 * i);
        status = apply(carving, &cut);
    }
    vugi_points_free(&cut.points);
    vugi_outline_free(&cut.outline);
    vugi_free(mem, cut.seam);
    vugi_free(mem, cut.added.row);
    vugi_free(mem, cut.removed);
    vugi_free(mem, cut.slice);
    return status;
}

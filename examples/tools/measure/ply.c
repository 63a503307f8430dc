/* SPDX-License-Identifier: MIT
 * measure, in colour. The part's own triangles and the caps of its openings, with a colour for
 * each vertex. A vertex of a cavity's wall is known by its place. */
#include "ply.h"

#include "../tool/fail.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

static const uint8_t grey[3] = {190, 190, 190}, orange[3] = {240, 120, 20}, black[3] = {0, 0, 0};

/* Told apart by people who do not see red or green (M. Okabe, K. Ito, Color universal design,
 * 2008, from memory), less the two above. */
static const uint8_t wall_colours[][3] = {
    {0, 114, 178},
    {204, 121, 167},
    {0, 158, 115},
    {86, 180, 233},
    {240, 228, 66},
};

typedef struct paint {
    double *xyz; /* of the part and of all cavity meshes, one after another */
    uint32_t *triangle;
    size_t vertices, triangles;
} paint;

static bool add_mesh(paint *p, const vug_mesh *mesh)
{
    size_t v = vug_mesh_vertex_count(mesh), t = vug_mesh_triangle_count(mesh);
    double *xyz = realloc(p->xyz, 3 * (p->vertices + v) * sizeof *xyz);
    p->xyz = xyz ? xyz : p->xyz;
    uint32_t *triangle = realloc(p->triangle, 3 * (p->triangles + t) * sizeof *triangle);
    p->triangle = triangle ? triangle : p->triangle;
    if (!xyz || !triangle)
        return false;
    memcpy(xyz + 3 * p->vertices, vug_mesh_vertices(mesh), 3 * v * sizeof *xyz);
    for (size_t i = 0; i < 3 * t; i++)
        triangle[3 * p->triangles + i] = vug_mesh_triangles(mesh)[i] + (uint32_t)p->vertices;
    p->vertices += v;
    p->triangles += t;
    return true;
}

/* All in one mesh, so that equal places are one vertex: the part's triangles, then each cavity's. */
static vug_status weld(const measured *m, vug_mesh **all)
{
    paint p = {NULL, NULL, 0, 0};
    bool good = add_mesh(&p, m->mesh);
    for (size_t i = 0; good && i < vug_cavities_count(m->cavities); i++)
        good = add_mesh(&p, vug_cavities_mesh(m->cavities, i, NULL));
    vug_status status = good
        ? vug_mesh_from_arrays(m->ctx, p.xyz, p.vertices, 0, p.triangle, p.triangles, 0, all)
        : VUG_ERR_MEMORY;
    free(p.xyz);
    free(p.triangle);
    return status;
}

static void paint_corners(uint8_t *rgb, const uint32_t *triangle, const uint8_t colour[3])
{
    for (int k = 0; k < 3; k++)
        memcpy(rgb + 3 * (size_t)triangle[k], colour, 3);
}

/* Colours of all vertices; keep[t] tells which triangles are shown. Caps last: they win. */
static void paint_all(const measured *m, const vug_mesh *all, uint8_t *rgb, bool *keep)
{
    const uint32_t *triangle = vug_mesh_triangles(all);
    size_t own = vug_mesh_triangle_count(m->mesh);
    for (size_t v = 0; v < vug_mesh_vertex_count(all); v++)
        memcpy(rgb + 3 * v, grey, 3);
    /* The part's triangles come first in all and have their corners in the same order. */
    const double *thickness = vug_thickness_vertices(m->wall);
    for (size_t c = 0; thickness && c < 3 * own; c++) {
        double wall = thickness[vug_mesh_triangles(m->mesh)[c]];
        if (wall >= 0.0 && wall < m->thin_mm)
            memcpy(rgb + 3 * (size_t)triangle[c], black, 3);
    }
    for (size_t t = 0; t < vug_mesh_triangle_count(all); t++)
        keep[t] = t < own;
    for (int caps = 0; caps < 2; caps++) {
        size_t t = own;
        for (size_t i = 0; i < vug_cavities_count(m->cavities); i++) {
            const int32_t *tag = NULL;
            size_t count = vug_mesh_triangle_count(vug_cavities_mesh(m->cavities, i, &tag));
            const uint8_t *wall = wall_colours[i % (sizeof wall_colours / sizeof *wall_colours)];
            for (size_t k = 0; k < count; k++, t++) {
                if ((tag[k] >= 0) != caps)
                    continue;
                paint_corners(rgb, triangle + 3 * t, caps ? orange : wall);
                keep[t] = caps;
            }
        }
    }
}

/* The triangles kept, with the vertices they use, in order: so that colours stay with them. */
static vug_status save_kept(const measured *m, const vug_mesh *all, uint8_t *rgb, const bool *keep,
    const char *file)
{
    size_t vertices = vug_mesh_vertex_count(all), count = vug_mesh_triangle_count(all), kept = 0;
    bool *used = calloc(vertices, sizeof *used);
    uint32_t *triangle = malloc(3 * count * sizeof *triangle);
    vug_mesh *shown = NULL;
    vug_status status = used && triangle ? VUG_OK : VUG_ERR_MEMORY;
    for (size_t t = 0; !status && t < count; t++) {
        if (!keep[t])
            continue;
        memcpy(triangle + 3 * kept, vug_mesh_triangles(all) + 3 * t, 3 * sizeof *triangle);
        for (int k = 0; k < 3; k++)
            used[triangle[3 * kept + (size_t)k]] = true;
        kept++;
    }
    size_t n = 0;
    for (size_t v = 0; !status && v < vertices; v++)
        if (used[v])
            memmove(rgb + 3 * n++, rgb + 3 * v, 3);
    if (!status)
        status = vug_mesh_from_arrays(m->ctx, vug_mesh_vertices(all), vertices, 0, triangle, kept,
            0, &shown);
    if (!status)
        status = vug_mesh_save(m->ctx, shown, file, VUG_FORMAT_PLY, rgb);
    vug_mesh_free(shown);
    free(used);
    free(triangle);
    return status;
}

int measure_ply(const tool *program, const measured *m, const char *file)
{
    vug_mesh *all = NULL;
    vug_status status = weld(m, &all);
    uint8_t *rgb = status ? NULL : malloc(3 * vug_mesh_vertex_count(all));
    bool *keep = status ? NULL : malloc(vug_mesh_triangle_count(all) * sizeof *keep);
    if (!status && (!rgb || !keep))
        status = VUG_ERR_MEMORY;
    if (!status) {
        paint_all(m, all, rgb, keep);
        status = save_kept(m, all, rgb, keep, file);
    }
    free(rgb);
    free(keep);
    vug_mesh_free(all);
    if (status == VUG_ERR_MEMORY)
        return fail(program, "no memory");
    return status ? fail_status(program, m->ctx, status) : DONE;
}

/* SPDX-License-Identifier: MIT
 * measure, for programs. */
#include "json.h"

#include "../tool/json.h"

static json_t *count_json(uint64_t count)
{
    return json_integer((json_int_t)count);
}

static json_t *mesh_json(const measured *m)
{
    const vug_mesh_measures *q = &m->measures;
    return json_pack("{s:o, s:o, s:b, s:o, s:f, s:f, s:o, s:o, s:o, s:o, s:o, s:o, s:o}",
        "triangles", count_json(q->triangles), "vertices", count_json(q->vertices), "closed",
        (int)q->closed, "shells", count_json(q->shells), "volume_mm3", q->volume_mm3, "area_mm2",
        q->area_mm2, "centroid_mm", json_triple(q->centroid_mm), "lo_mm", json_triple(q->lo_mm),
        "hi_mm", json_triple(q->hi_mm), "degenerate", count_json(q->degenerate), "edges_open",
        count_json(q->edges_open), "edges_nonmanifold", count_json(q->edges_nonmanifold),
        "edges_flipped", count_json(q->edges_flipped));
}

static json_t *shells_json(const measured *m)
{
    json_t *list = json_array();
    for (size_t i = 0; i < vug_shells_count(m->shells); i++) {
        vug_mesh_measures q = {.struct_size = sizeof q};
        if (vug_shells_get(m->shells, i, &q) == VUG_OK)
            json_array_append_new(list,
                json_pack("{s:o, s:b, s:f, s:f, s:o, s:o}", "triangles", count_json(q.triangles),
                    "closed", (int)q.closed, "volume_mm3", q.volume_mm3, "area_mm2", q.area_mm2,
                    "lo_mm", json_triple(q.lo_mm), "hi_mm", json_triple(q.hi_mm)));
    }
    return list;
}

static json_t *openings_json(const measured *m, const vug_cavity_info *c)
{
    json_t *list = json_array();
    for (size_t k = 0; k < c->openings; k++) {
        vug_opening_info o = {.struct_size = sizeof o};
        if (vug_cavities_opening(m->cavities, c->first_opening + k, &o) == VUG_OK)
            json_array_append_new(list,
                json_pack("{s:i, s:o, s:o, s:f, s:f, s:f, s:f, s:f, s:o, s:b, s:b}", "number",
                    (int)(c->first_opening + k), "center_mm", json_triple(o.center_mm), "normal",
                    json_triple(o.normal), "diameter_mm", o.diameter_mm, "inscribed_diameter_mm",
                    o.inscribed_diameter_mm, "area_mm2", o.area_mm2, "perimeter_mm", o.perimeter_mm,
                    "bore_length_mm", o.bore_length_mm, "inner_mm", json_triple(o.inner_mm),
                    "planned", (int)o.planned, "exact", (int)o.exact));
    }
    return list;
}

static json_t *chambers_json(const measured *m, size_t cavity, size_t count)
{
    json_t *list = json_array();
    for (size_t i = 0; i < count; i++) {
        vug_chamber_info h = {.struct_size = sizeof h};
        if (vug_cavities_chamber(m->cavities, cavity, i, &h) == VUG_OK)
            json_array_append_new(list,
                json_pack("{s:o, s:f, s:f}", "center_mm", json_triple(h.center_mm), "radius_mm",
                    h.radius_mm, "volume_mm3", h.volume_mm3));
    }
    return list;
}

static json_t *throats_json(const measured *m, size_t cavity, size_t count)
{
    json_t *list = json_array();
    for (size_t i = 0; i < count; i++) {
        vug_throat_info t = {.struct_size = sizeof t};
        if (vug_cavities_throat(m->cavities, cavity, i, &t) == VUG_OK)
            json_array_append_new(list,
                json_pack("{s:o, s:f, s:o, s:[i, i], s:f}", "center_mm", json_triple(t.center_mm),
                    "radius_mm", t.radius_mm, "direction", json_triple(t.direction), "chambers",
                    (int)t.chamber_a, (int)t.chamber_b, "resistance_mm3", t.resistance_mm3));
    }
    return list;
}

static json_t *sight_json(const measured *m)
{
    vug_sight_info s = {.struct_size = sizeof s};
    if (vug_cavities_sight(m->cavities, &s) != VUG_OK || s.cells_across == 0)
        return json_null();
    return json_pack("{s:I, s:f, s:f, s:f}", "cells_across", (json_int_t)s.cells_across, "cell_mm",
        s.cell_mm, "window_mm", s.window_mm, "hollow_mm", s.hollow_mm);
}

static json_t *cavities_json(const measured *m)
{
    json_t *list = json_array();
    for (size_t i = 0; i < vug_cavities_count(m->cavities); i++) {
        vug_cavity_info c = {.struct_size = sizeof c};
        if (vug_cavities_get(m->cavities, i, &c) == VUG_OK)
            json_array_append_new(list,
                json_pack("{s:f, s:f, s:f, s:o, s:o, s:o, s:b, s:b, s:o, s:o, s:o}", "volume_mm3",
                    c.volume_mm3, "volume_error_mm3", c.volume_error_mm3, "area_mm2", c.area_mm2,
                    "centroid_mm", json_triple(c.centroid_mm), "lo_mm", json_triple(c.lo_mm),
                    "hi_mm", json_triple(c.hi_mm), "sealed", (int)c.sealed, "exact", (int)c.exact,
                    "openings", openings_json(m, &c), "chambers", chambers_json(m, i, c.chambers),
                    "throats", throats_json(m, i, c.throats)));
    }
    return list;
}

/* Area of skin in 20 equal steps of thickness, from 0 to the thickest. */
static json_t *histogram_json(const measured *m, double max_mm)
{
    double bins[20] = {0};
    const size_t count = sizeof bins / sizeof bins[0];
    json_t *list = json_array();
    if (vug_thickness_histogram(m->wall, 0.0, max_mm, bins, count) == VUG_OK)
        for (size_t i = 0; i < count; i++)
            json_array_append_new(list, json_real(bins[i]));
    return list;
}

static json_t *wall_json(const measured *m)
{
    vug_thickness_info w = {.struct_size = sizeof w};
    json_t *list = json_array();
    for (size_t i = 0; i < m->thin_count; i++)
        json_array_append_new(list,
            json_pack("{s:o, s:f, s:f}", "center_mm", json_triple(m->thin + 5 * i), "thickness_mm",
                m->thin[5 * i + 3], "area_mm2", m->thin[5 * i + 4]));
    if (vug_thickness_get(m->wall, &w) != VUG_OK) {
        json_decref(list);
        return json_null();
    }
    return json_pack("{s:f, s:o, s:f, s:f, s:f, s:f, s:f, s:f, s:o, s:o, s:o}", "min_mm", w.min_mm,
        "min_at_mm", json_triple(w.min_at_mm), "p1_mm", w.p1_mm, "p5_mm", w.p5_mm, "p50_mm",
        w.p50_mm, "max_mm", w.max_mm, "area_mm2", w.area_mm2, "coincident_mm2", w.coincident_mm2,
        "coincident_at_mm", w.coincident_mm2 > 0.0 ? json_triple(w.coincident_at_mm) : json_null(),
        "thin", list, "area_by_thickness_mm2", histogram_json(m, w.max_mm));
}

json_t *measure_json(const measured *m)
{
    json_t *root = json_pack("{s:o, s:o, s:o}", "mesh", mesh_json(m), "shells", shells_json(m),
        "cavities", cavities_json(m));
    if (root)
        json_object_set_new(root, "sight", sight_json(m));
    if (root && m->why[0])
        json_object_set_new(root, "cavities_unknown", json_string(m->why));
    if (root && m->wall)
        json_object_set_new(root, "wall", wall_json(m));
    json_t *warnings = json_array();
    for (size_t i = 0; vug_context_warning(m->ctx, i); i++)
        json_array_append_new(warnings, json_string(vug_context_warning(m->ctx, i)));
    if (root)
        json_object_set_new(root, "warnings", warnings);
    return root;
}

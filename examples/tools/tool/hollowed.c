/* SPDX-License-Identifier: MIT */
#include "hollowed.h"

#include "amounts.h"
#include "json.h"

#include <stdio.h>

enum { SPOT_NUMBERS = 5, LISTED = 10 };

vug_status hollowed_make(vug_context *ctx, const vug_hollow_options *options, vug_mesh **mesh,
    hollowed *made)
{
    vug_mesh *hollow = NULL;
    made->info.struct_size = sizeof made->info;
    vug_status status = vug_shape_hollow(ctx, *mesh, options, &hollow, &made->info, &made->spots,
        &made->spot_count);
    if (status)
        return status;
    vug_mesh_free(*mesh);
    *mesh = hollow;
    return VUG_OK;
}

void hollowed_print_cavity(const hollowed *made)
{
    const vug_hollow_info *i = &made->info;
    printf("cavity: %.1f mL without holes, behind a wall of %.2f mm or more, %.0f mm2 of inner "
           "surface\n",
        i->volume_mm3 / 1000.0, i->least_wall_mm, i->area_mm2);
    if (i->triangles_before != i->triangles)
        printf("its surface has %llu triangles, %llu before it was simplified: it moved by %.3f mm "
               "at "
               "most\n",
            (unsigned long long)i->triangles, (unsigned long long)i->triangles_before,
            i->simplify_error_mm);
    if (i->chambers > 1)
        printf("it is in %llu pieces that are not connected: each needs openings of its own\n",
            (unsigned long long)i->chambers);
    if (i->too_small)
        printf("left solid: %llu place%s with room for a smaller chamber than asked\n",
            (unsigned long long)i->too_small, i->too_small > 1 ? "s" : "");
    if (i->overlaps)
        printf("left solid: %llu place%s in two bodies at once\n", (unsigned long long)i->overlaps,
            i->overlaps > 1 ? "s" : "");
}

void hollowed_print_solid(const hollowed *made)
{
    if (made->spot_count)
        puts("solid, because too thin to hollow:");
    for (size_t k = 0; k < made->spot_count && k < LISTED; k++) {
        const double *row = made->spots + SPOT_NUMBERS * k;
        printf("  around %s: %.1f mm wide, %s\n", amount_place(row, 1).text, row[3],
            amount_ml(row[4]).text);
    }
    if (made->spot_count > LISTED)
        printf("  and %zu smaller ones\n", made->spot_count - LISTED);
}

json_t *hollowed_cavity_json(const hollowed *made)
{
    const vug_hollow_info *i = &made->info;
    return json_pack("{s:f, s:f, s:f, s:I, s:I, s:I, s:I, s:I, s:f}", "volume_mm3", i->volume_mm3,
        "area_mm2", i->area_mm2, "least_wall_mm", i->least_wall_mm, "chambers",
        (json_int_t)i->chambers, "too_small", (json_int_t)i->too_small, "overlaps",
        (json_int_t)i->overlaps, "triangles", (json_int_t)i->triangles, "triangles_before",
        (json_int_t)i->triangles_before, "simplify_error_mm", i->simplify_error_mm);
}

json_t *hollowed_solid_json(const hollowed *made)
{
    json_t *spots = json_array();
    for (size_t k = 0; k < made->spot_count; k++) {
        const double *row = made->spots + SPOT_NUMBERS * k;
        json_array_append_new(spots,
            json_pack("{s:o, s:f, s:f}", "point_mm", json_triple(row), "width_mm", row[3],
                "volume_mm3", row[4]));
    }
    return spots;
}

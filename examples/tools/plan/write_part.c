/* SPDX-License-Identifier: MIT */
#include "write_part.h"
#include "../tool/fail.h"

#include <stdlib.h>

/* Rows of vug_shape_bore(), each through the wall that is there; how many. */
static size_t list_holes(const fill_plan *plan, double *rows)
{
    size_t count = 0;
    for (size_t i = 0; i < plan->opening_count; i++) {
        const plan_opening *o = &plan->openings[i];
        if (!o->info.planned)
            continue;
        double *row = rows + VUG_BORE_ROW * count++;
        for (int k = 0; k < 3; k++) {
            row[k] = o->bore ? o->bore->point_mm[k] : o->info.center_mm[k];
            row[3 + k] = o->bore ? o->bore->direction[k]
                                 : o->info.inner_mm[k] - o->info.center_mm[k];
        }
        row[6] = o->bore ? o->bore->diameter_mm : o->info.diameter_mm;
    }
    return count;
}

int plan_write_part(const tool *program, const fill_plan *plan, const char *path)
{
    double *rows = calloc(plan->opening_count + 1, VUG_BORE_ROW * sizeof *rows);
    if (!rows)
        return fail(program, "no memory");
    vug_mesh *bored = NULL;
    size_t count = list_holes(plan, rows);
    vug_status status = VUG_OK;
    if (count > 0)
        status = vug_shape_bore(plan->ctx, plan->mesh, rows, count, NULL, NULL, &bored);
    if (!status)
        status = vug_mesh_save(plan->ctx, bored ? bored : plan->mesh, path, VUG_FORMAT_AUTO, NULL);
    free(rows);
    vug_mesh_free(bored);
    return status ? fail_status(program, plan->ctx, status) : DONE;
}

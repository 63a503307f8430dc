/* SPDX-License-Identifier: MIT
 * How much air stays inside when the part is filled upside down, where it is, and where a vent would
 * let it out. */
#include <stdio.h>
#include <stdlib.h>
#include <vug.h>

int main(int argc, char **argv)
{
    const char *file = argc > 1 ? argv[1] : "gourd.stl";
    vug_context *ctx = NULL;
    vug_mesh *part = NULL;
    vug_cavities *inside = NULL;
    vug_pockets *pockets = NULL;
    const double up[3] = {0, 0, -1}; /* what points up, in the part's own axes */

    vug_status status = vug_context_create(NULL, &ctx);
    if (!status)
        status = vug_mesh_load(ctx, file, NULL, &part);
    if (!status)
        status = vug_cavities_find(ctx, part, NULL, 0, NULL, &inside);
    if (!status)
        status = vug_pockets_find(ctx, inside, up, NULL, 0, NULL, &pockets);
    if (!status)
        printf("%.0f of %.0f mm3 stay empty\n", vug_pockets_trapped_mm3(pockets),
            vug_pockets_capacity_mm3(pockets));
    for (size_t i = 0; !status && i < vug_pockets_count(pockets); i++) {
        vug_pocket_info pocket = {.struct_size = sizeof pocket};
        vug_bore_info bore = {.struct_size = sizeof bore};
        status = vug_pockets_get(pockets, i, &pocket);
        if (!status)
            status = vug_pockets_bore(ctx, inside, pockets, i, &bore);
        if (!status)
            printf("pocket %zu: %.0f mm3; drill at (%.0f, %.0f, %.0f), %.0f mm deep\n", i,
                pocket.volume_mm3, bore.point_mm[0], bore.point_mm[1], bore.point_mm[2],
                bore.depth_mm);
    }
    if (status)
        fprintf(stderr, "%s\n", vug_context_message(ctx));

    vug_pockets_free(pockets);
    vug_cavities_free(inside);
    vug_mesh_free(part);
    vug_context_free(ctx);
    return status ? EXIT_FAILURE : EXIT_SUCCESS;
}

/* SPDX-License-Identifier: MIT
 * How to hold, drill, fill and turn the part so that hardly any air stays; the cautions with it. */
#include <stdio.h>
#include <stdlib.h>
#include <vug.h>

int main(int argc, char **argv)
{
    const char *file = argc > 1 ? argv[1] : "gourd.stl";
    vug_context *ctx = NULL;
    vug_mesh *part = NULL;
    vug_cavities *inside = NULL;
    vug_plan *plan = NULL;
    vug_plan_info info = {.struct_size = sizeof info};

    vug_status status = vug_context_create(NULL, &ctx);
    if (!status)
        status = vug_mesh_load(ctx, file, NULL, &part);
    if (!status)
        status = vug_cavities_find(ctx, part, NULL, 0, NULL, &inside);
    if (!status)
        status = vug_plan_make(ctx, inside, NULL, NULL, NULL, 0, NULL, &plan);
    if (!status)
        status = vug_plan_get(plan, 0, &info); /* the best of several */
    for (uint32_t i = 0; !status && i < info.bores; i++) {
        vug_plan_bore_info bore = {.struct_size = sizeof bore};
        status = vug_plan_bore(plan, 0, i, &bore);
        if (!status)
            printf("drill %.1f mm at (%.0f, %.0f, %.0f), %.0f mm deep\n", bore.diameter_mm,
                bore.point_mm[0], bore.point_mm[1], bore.point_mm[2], bore.depth_mm);
    }
    for (uint32_t i = 0; !status && i < info.steps; i++) {
        vug_step_info step = {.struct_size = sizeof step};
        char words[320];
        status = vug_plan_step(plan, 0, VUG_PLAN_FILL, i, &step);
        if (!status)
            status = vug_pose_words(ctx, NULL, step.up, words, sizeof words);
        if (!status)
            printf("Hold it %s. Inject %.1f ml.%s\n", words, 1e-3 * step.inject_mm3,
                step.cover ? " Cover what lies under paint." : "");
    }
    if (!status)
        printf("%.1f %% of the cavity stays air\n", 100 * info.trapped_mm3 / info.capacity_mm3);
    for (int32_t i = 0; !status && i < VUG_CAUTION_COUNT; i++)
        if (vug_plan_caution(plan, 0, i))
            printf("- %s\n", vug_caution_text(i));
    if (status)
        fprintf(stderr, "%s\n", vug_context_message(ctx));

    vug_plan_free(plan);
    vug_cavities_free(inside);
    vug_mesh_free(part);
    vug_context_free(ctx);
    return status ? EXIT_FAILURE : EXIT_SUCCESS;
}

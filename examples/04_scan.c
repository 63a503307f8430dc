/* SPDX-License-Identifier: MIT
 * Looks at many poses: how much air each traps, and which traps least. */
#include <stdio.h>
#include <stdlib.h>
#include <vug.h>

int main(int argc, char **argv)
{
    const char *file = argc > 1 ? argv[1] : "gourd.stl";
    vug_context *ctx = NULL;
    vug_mesh *part = NULL;
    vug_cavities *inside = NULL;
    vug_pose_scan *scan = NULL;
    vug_pose_options options;
    vug_pose_options_init(&options, sizeof options);
    options.pose_count = 200;

    vug_status status = vug_context_create(NULL, &ctx);
    if (!status)
        status = vug_mesh_load(ctx, file, NULL, &part);
    if (!status)
        status = vug_cavities_find(ctx, part, NULL, 0, NULL, &inside);
    if (!status)
        status = vug_pose_scan_run(ctx, inside, NULL, 0, &options, &scan);
    if (!status) {
        const size_t best = vug_pose_scan_best(scan), count = vug_pose_scan_count(scan);
        const double *up = vug_pose_scan_ups(scan) + 3 * best;
        const double *trapped = vug_pose_scan_trapped_mm3(scan);
        double worst = 0;
        char words[320];
        for (size_t i = 0; i < count; i++)
            worst = trapped[i] > worst ? trapped[i] : worst;
        status = vug_pose_words(ctx, NULL, up, words, sizeof words);
        printf("of %zu poses the worst traps %.0f mm3, the best %.0f mm3\n", count, worst,
            trapped[best]);
        printf("that is %s\n", words);
    }
    if (status)
        fprintf(stderr, "%s\n", vug_context_message(ctx));

    vug_pose_scan_free(scan);
    vug_cavities_free(inside);
    vug_mesh_free(part);
    vug_context_free(ctx);
    return status ? EXIT_FAILURE : EXIT_SUCCESS;
}

/* SPDX-License-Identifier: MIT
 * What happens, one thing after the other, while the part is filled without hurry. */
#include <stdio.h>
#include <stdlib.h>
#include <vug.h>

static const char *const words[] = {
    [VUG_EVENT_BASIN] = "liquid comes to a basin",
    [VUG_EVENT_SILL] = "a basin runs over into another",
    [VUG_EVENT_MERGE] = "two pools become one",
    [VUG_EVENT_POCKET] = "air is cut off",
    [VUG_EVENT_SPILL] = "liquid is at the lip of an opening",
    [VUG_EVENT_RIM] = "an opening lets no more air out",
    [VUG_EVENT_FULL] = "full",
    [VUG_EVENT_WAIT] = "air and liquid have to pass each other", /* the others belong to draining */
};

int main(int argc, char **argv)
{
    const char *file = argc > 1 ? argv[1] : "gourd.stl";
    vug_context *ctx = NULL;
    vug_mesh *part = NULL;
    vug_cavities *inside = NULL;
    vug_course *course = NULL;
    const double up[3] = {0, 0, -1};

    vug_status status = vug_context_create(NULL, &ctx);
    if (!status)
        status = vug_mesh_load(ctx, file, NULL, &part);
    if (!status)
        status = vug_cavities_find(ctx, part, NULL, 0, NULL, &inside);
    if (!status)
        status = vug_fill_run(ctx, inside, NULL, up, NULL, 0, NULL, &course);
    for (size_t i = 0; !status && i < vug_course_event_count(course); i++) {
        vug_event_info event = {.struct_size = sizeof event};
        status = vug_course_event(course, i, &event);
        if (!status)
            printf("%8.0f mm3: %s\n", event.liquid_mm3, words[event.kind]);
    }
    if (!status) {
        vug_course_info end = {.struct_size = sizeof end};
        status = vug_course_get(course, &end);
        printf("%8.0f mm3 of air stay\n", end.trapped_mm3);
    }
    if (status)
        fprintf(stderr, "%s\n", vug_context_message(ctx));

    vug_course_free(course);
    vug_cavities_free(inside);
    vug_mesh_free(part);
    vug_context_free(ctx);
    return status ? EXIT_FAILURE : EXIT_SUCCESS;
}

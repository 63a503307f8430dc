/* SPDX-License-Identifier: MIT
 * The smallest hole by which uncured resin drains in a minute and lets air in, and the drill for it. A
 * liquid is known as a range, so the answer is one too; the drill is for the worst corner. */
#include <stdio.h>
#include <stdlib.h>
#include <vug.h>

int main(void)
{
    vug_context *ctx = NULL;
    vug_fluid resin[3];
    vug_hole_task task;
    vug_interval least = {.struct_size = sizeof least};
    vug_hole_choice worst = {.struct_size = sizeof worst};
    vug_hole_task_init(&task, sizeof task);
    task.drain_s = 60;
    task.drain_area_mm2 = 250; /* about that of the gourd */
    task.drain_to_mm = 5;
    task.exchange = 1; /* air has no other way in */

    vug_status status = vug_context_create(NULL, &ctx);
    for (int32_t level = 0; !status && level < 3; level++) {
        vug_fluid_init(&resin[level], sizeof resin[level]);
        status = vug_fluid_preset(ctx, VUG_FLUID_RESIN, level, 20.0, &resin[level]);
    }
    if (!status)
        status = vug_hole_choose_range(ctx, &resin[0], &resin[1], &resin[2], &task, &least, &worst);
    if (!status) {
        printf("at least %.2f mm, between %.2f and %.2f\n", least.typical, least.low, least.high);
        printf("drill %.2f mm, %s\n", worst.drill_mm,
            worst.decides == VUG_HOLE_DRAIN ? "so that it drains in time" : "so that air gets in");
    } else {
        fprintf(stderr, "%s\n", vug_context_message(ctx));
    }
    vug_context_free(ctx);
    return status ? EXIT_FAILURE : EXIT_SUCCESS;
}

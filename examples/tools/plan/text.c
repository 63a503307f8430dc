/* SPDX-License-Identifier: MIT
 * The plan in words: the library's. */
#include "text.h"

#include "../tool/fail.h"
#include "../tool/file_name.h"

#include <stdio.h>

int plan_print(const tool *program, const fill_plan *plan)
{
    char name[64], *text = NULL;
    short_name(plan->settings->file, name);
    vug_status status = vug_plan_text(plan->ctx, plan->made, 0, name, plan->paint.name,
        plan->rinse.name, 0, &text);
    if (status)
        return fail_status(program, plan->ctx, status);
    if (plan->settings->wall_mm > 0.0) {
        hollowed_print_cavity(&plan->hollowed);
        hollowed_print_solid(&plan->hollowed);
        puts("");
    }
    if (plan->settings->part && plan->info.bores > 0)
        printf("The new holes of this plan are cut into %s: print that.\n\n", plan->settings->part);
    fputs(text, stdout);
    vug_free(plan->ctx, text);
    return DONE;
}

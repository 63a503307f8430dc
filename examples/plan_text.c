/* SPDX-License-Identifier: MIT
 * The plan in words, for the bench. */
#include "plan.h"

#include <math.h>
#include <stdio.h>

void plan_pose_words(const double up[3], char *text, size_t size)
{
    int main_axis = 0, lean_axis = -1;
    for (int k = 1; k < 3; k++)
        if (fabs(up[k]) > fabs(up[main_axis]))
            main_axis = k;
    for (int k = 0; k < 3; k++)
        if (k != main_axis && (lean_axis < 0 || fabs(up[k]) > fabs(up[lean_axis])))
            lean_axis = k;
    double lean = 57.29577951308232 * atan2(hypot(up[(main_axis + 1) % 3], up[(main_axis + 2) % 3]),
        fabs(up[main_axis]));
    int used = snprintf(text, size, "its %c%c side up", up[main_axis] < 0.0 ? '-' : '+',
        'x' + main_axis);
    if (lean >= 1.0 && used > 0 && (size_t)used < size)
        snprintf(text + used, size - (size_t)used, ", leaning %.0f degrees so that its %c%c side "
            "rises", lean, up[lean_axis] < 0.0 ? '-' : '+', 'x' + lean_axis);
}

/* x to the given decimals, and 0 without a sign. */
static double tidy(double x, int decimals)
{
    double unit = pow(10.0, -decimals);
    return round(x / unit) * unit + 0.0;
}

/* Decimals that millilitres are told with. */
static int fine(double ml)
{
    return ml < 2.0 ? 2 : 1;
}

static void print_openings(const fill_plan *plan)
{
    printf("Openings the part has\n");
    for (size_t i = 0; i < plan->opening_count; i++) {
        const plan_opening *o = &plan->openings[i];
        if (!o->vent)
            printf("  %s  %.1f mm wide, %.1f mm through the wall, at (%.1f, %.1f, %.1f)%s\n", o->label,
                o->info.diameter_mm, o->info.bore_length_mm, tidy(o->info.center_mm[0], 1),
                tidy(o->info.center_mm[1], 1), tidy(o->info.center_mm[2], 1),
                i == plan->inlet ? ": fill here" : "");
    }
}

static void print_vents(const fill_plan *plan)
{
    if (plan->vent_count == 0)
        return;
    printf("\nDrill these vents first, %.2g mm wide\n", plan->settings->drill_mm);
    for (size_t i = 0; i < plan->vent_count; i++) {
        const plan_vent *v = &plan->vents[i];
        if (v->bore.depth_mm > 0.0)
            printf("  %zu  at (%.1f, %.1f, %.1f), drilling towards (%.2f, %.2f, %.2f), %.1f mm deep: "
                "frees %.2f mL\n", i + 1, tidy(v->bore.point_mm[0], 1),
                tidy(v->bore.point_mm[1], 1), tidy(v->bore.point_mm[2], 1),
                tidy(v->bore.direction[0], 2), tidy(v->bore.direction[1], 2),
                tidy(v->bore.direction[2], 2), v->bore.depth_mm, 1e-3 * v->pocket.volume_mm3);
        else
            printf("  %zu  %.2f mL of air under (%.1f, %.1f, %.1f) cannot be reached straight from "
                "outside\n", i + 1, 1e-3 * v->pocket.volume_mm3, tidy(v->pocket.top_mm[0], 1),
                tidy(v->pocket.top_mm[1], 1), tidy(v->pocket.top_mm[2], 1));
    }
    printf("  Mark each place, put tape over it, turn the drill by hand and stop when it gives.\n");
}

static void print_covers(const fill_plan *plan)
{
    bool any = false;
    for (size_t i = 0; i < plan->opening_count; i++)
        any = any || plan->openings[i].cover;
    if (!any)
        return;
    printf("  Leave all other openings free until paint shows in them, then cover each with tape");
    const char *comma = ":\n  in this order, the lowest first: ";
    bool done[VUG_MAX_OPENINGS] = {false};
    for (;;) {
        size_t lowest = plan->opening_count;
        for (size_t i = 0; i < plan->opening_count; i++)
            if (plan->openings[i].cover && !done[i] && (lowest == plan->opening_count ||
                plan->openings[i].height_mm < plan->openings[lowest].height_mm))
                lowest = i;
        if (lowest == plan->opening_count)
            break;
        printf("%s%s", comma, plan->openings[lowest].label);
        comma = ", ";
        done[lowest] = true;
    }
    printf(".\n");
}

static void print_fill(const fill_plan *plan)
{
    double inject = 1e-3 * (plan->capacity_mm3 - plan->trapped_mm3);
    char pose[96];
    plan_pose_words(plan->up, pose, sizeof pose);
    printf("\nHold the part with %s.\n  Up is (%.3f, %.3f, %.3f) in the part's own axes.\n", pose,
        tidy(plan->up[0], 3), tidy(plan->up[1], 3), tidy(plan->up[2], 3));
    printf("\nFill through %s with a needle that leaves air room beside it\n",
        plan->openings[plan->inlet].label);
    printf("  %.*f mL in all: %lld load%s of a %g mL syringe, the last one %.*f mL.\n", fine(inject), inject,
        (long long)plan->supply.loads, plan->supply.loads == 1 ? "" : "s",
        plan->settings->syringe_ml, fine(plan->supply.last_load_ml), plan->supply.last_load_ml);
    printf("  Have %.*f mL of paint ready; a tenth is for what stays in cups and syringe.\n",
        fine(plan->supply.paint_ml), plan->supply.paint_ml);
    printf("  Go slowly: stop when paint stands in the opening, wait, tap the part, go on.\n");
    print_covers(plan);
    printf("\nWhat stays inside as air: %.2f mL, %.1f %% of the cavity", 1e-3 * plan->trapped_mm3,
        plan_percent(plan, plan->trapped_mm3));
    if (plan->vent_count > 0)
        printf(" (without the vents %.2f mL, %.1f %%)",
            1e-3 * vug_pockets_trapped_mm3(plan->pockets),
            plan_percent(plan, vug_pockets_trapped_mm3(plan->pockets)));
    printf(".\n");
}

static void print_cautions(void)
{
    printf("\nTake care\n"
        "  Drill and fill only a part that is washed, dry and fully cured. Uncured resin and wash\n"
        "  solvent harm skin, eyes and lungs: gloves, goggles, fresh air, no flames.\n"
        "  Drilling dust is harmful to breathe: drill wet or with a mask and extraction.\n"
        "  Plug the openings as the glue's data sheet says, in fresh air. A cavity sealed brimful can\n"
        "  burst or leak when it warms: leave a little air, and keep it from heat and frost.\n"
        "  Data sheets and local rules come before this plan.\n");
}

void plan_print(const fill_plan *plan)
{
    printf("%s: the cavity takes %.2f mL\n\n", plan->settings->file, 1e-3 * plan->capacity_mm3);
    print_openings(plan);
    print_vents(plan);
    print_fill(plan);
    print_cautions();
}

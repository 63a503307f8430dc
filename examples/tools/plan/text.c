/* SPDX-License-Identifier: MIT
 * The plan in words, for the bench. */
#include "text.h"

#include "../tool/clock.h"
#include "../tool/file_name.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { WIDTH = 98 };

/* Prints text in lines of WIDTH, indented but for the first, which goes on at column `at`. */
static void print_wrapped(const char *text, int at, int indent)
{
    int column = at;
    bool first = true;
    while (*text) {
        int word = (int)strcspn(text, " ");
        if (!first && column + 1 + word > WIDTH) {
            printf("\n%*s", indent, "");
            column = indent;
        } else if (!first) {
            putchar(' ');
            column++;
        }
        printf("%.*s", word, text);
        column += word;
        first = false;
        text += word + (text[word] == ' ');
    }
    putchar('\n');
}

static void print_indented(const char *text)
{
    printf("     ");
    print_wrapped(text, 5, 5);
}

/* For two decimals: never "-0.00". */
static double plain(double x)
{
    return fabs(x) < 0.005 ? 0.0 : x;
}

static void print_openings(const fill_plan *plan)
{
    bool any = false;
    for (size_t i = 0; i < plan->opening_count; i++)
        any = any || !plan->openings[i].bore;
    if (!any)
        return;
    printf("\nOpenings the part has\n");
    for (size_t i = 0; i < plan->opening_count; i++) {
        const plan_opening *o = &plan->openings[i];
        if (!o->bore)
            printf("  %s  %.1f mm wide, %.1f mm through the wall, at (%.1f, %.1f, %.1f)\n",
                o->label, o->info.diameter_mm, o->info.bore_length_mm, o->info.center_mm[0],
                o->info.center_mm[1], o->info.center_mm[2]);
    }
}

/* Each cavity with the openings that lead into it: paint does not get from one to another. */
static void print_several(const fill_plan *plan, const char *name)
{
    size_t count = vug_cavities_count(plan->drilled);
    printf("%s: its %zu cavities take %.2f mL\n", name, count, 1e-3 * plan->info.capacity_mm3);
    for (size_t i = 0; i < count; i++) {
        vug_cavity_info c = {.struct_size = sizeof c};
        char labels[160];
        uint32_t *number;
        if (vug_cavities_get(plan->drilled, i, &c)
            || !(number = malloc((c.openings + 1) * sizeof *number)))
            continue;
        for (uint32_t k = 0; k < c.openings; k++)
            number[k] = c.first_opening + k;
        fill_plan_labels(plan, (opening_list){number, c.openings}, labels, sizeof labels);
        free(number);
        printf("  %.2f mL %s%s\n", 1e-3 * c.volume_mm3,
            c.openings > 0 ? "by " : "sealed: no opening leads to it, so it stays empty", labels);
    }
}

static void print_bores(const fill_plan *plan)
{
    if (plan->info.bores == 0) {
        printf("\nNo new hole is needed.\n");
        return;
    }
    printf("\nDrill first, once the part is washed, dry and fully cured\n");
    for (size_t i = 0; i < plan->info.bores; i++) {
        const vug_plan_bore_info *b = &plan->bores[i];
        printf("  %zu  %.2f mm wide (%.2f would do) at (%.1f, %.1f, %.1f), towards (%.2f, %.2f, "
               "%.2f),\n     %.1f mm through the wall%s%s\n",
            i + 1, b->diameter_mm, b->least_mm, b->point_mm[0], b->point_mm[1], b->point_mm[2],
            plain(b->direction[0]), plain(b->direction[1]), plain(b->direction[2]), b->depth_mm,
            b->visibility < 0.1 ? ", where it hardly shows" : "",
            b->chuck_clear ? "" : "; the chuck does not get there: use a pin vise");
    }
    printf("  Mark each place, put tape over it, turn the drill by hand and stop when it gives.\n");
}

static void pose_line(const fill_plan *plan, const vug_step_info *before, const vug_step_info *step,
    char *text, size_t size)
{
    char words[200] = "";
    if (before)
        vug_pose_words(plan->ctx, before->up, step->up, words, sizeof words);
    else
        vug_pose_words(plan->ctx, NULL, step->up, words, sizeof words);
    snprintf(text, size, "%s%s. Up is (%.2f, %.2f, %.2f) in the part's own axes%s.",
        before ? "T" : "Hold it ", before ? words + 1 : words, plain(step->up[0]),
        plain(step->up[1]), plain(step->up[2]),
        step->stand_mm > 0.5 ? "; it stands so by itself" : "");
}

/* Seconds for people: to 5 s below a minute, to half minutes up below an hour and a half. */
static void time_words(double seconds, char *text, size_t size)
{
    if (seconds > 5400.0)
        clock_words(seconds, text, size);
    else if (seconds < 60.0)
        snprintf(text, size, "%.0f seconds", 5.0 * ceil(seconds / 5.0));
    else
        snprintf(text, size, "%.1f minutes", 0.5 * ceil(seconds / 30.0));
}

/* A wait in a fill, with its range if that decides what to do. */
static void wait_words(const vug_step_info *step, char *text, size_t size)
{
    const double patience_s = 120.0;
    char time[40], worst[40];
    if (step->wait_s < 0.0) {
        snprintf(text, size, "tap and shake it: bubbles hardly move");
        return;
    }
    time_words(step->wait_s, time, sizeof time);
    clock_words(step->wait_high_s, worst, sizeof worst);
    if (step->wait_high_s >= 0.0 && step->wait_high_s <= patience_s)
        snprintf(text, size, "%s", time);
    else
        snprintf(text, size,
            "%s, in thick or old paint %s, for air and paint to pass each other in a narrow place; "
            "sooner if you draw the air out from behind it with needle and syringe",
            time, worst);
}

static void print_rinse(const fill_plan *plan)
{
    char line[400], time[40];
    printf("\nRinse and drain before curing, with %s\n", plan->settings->rinse);
    for (uint32_t i = 0; i < plan->info.steps; i++) {
        const vug_step_info *step = plan->drain + i;
        pose_line(plan, i > 0 ? step - 1 : NULL, step, line, sizeof line);
        printf("  %u  ", (unsigned)i + 1);
        print_wrapped(line, 5, 5);
        if (step->wait_s < 0.0)
            printf("     It does not run out by itself, %.1f mL: %sdraw it out with the syringe.\n",
                1e-3 * step->inject_mm3,
                plan->opening_count > 1
                    ? "lean it until one hole stands\n     clearly above the other, and "
                    : "");
        else {
            time_words(step->wait_s, time, sizeof time);
            if (step->inject_mm3 < 1.0)
                printf("     Wait %s.\n", time);
            else
                printf("     All openings free. %.1f mL run out: give it %s.\n",
                    1e-3 * step->inject_mm3, time);
        }
    }
    printf("  %.2f mL stay inside each time. Then blow it dry and let it stand until it no longer "
           "smells.\n",
        1e-3 * plan->info.residue_mm3);
}

static void print_first(const fill_plan *plan, const vug_step_info *step)
{
    char cover[160], feeds[200], line[700];
    fill_plan_labels(plan, (opening_list){step->cover, step->cover_count}, cover, sizeof cover);
    char rate[80] = "slowly";
    if (step->rate_mm3_s > 0.0 && step->rate_mm3_s < 1e4)
        snprintf(rate, sizeof rate, "not faster than %.2g mL a second", 1e-3 * step->rate_mm3_s);
    fill_plan_feeds(plan, step, feeds, sizeof feeds);
    bool several = step->feed_count > 1;
    int used = snprintf(line, sizeof line,
        "Inject %s%s with a needle that leaves room for air beside it, %s, until no more goes in: "
        "%s.%s",
        several ? "into one cavity after the other" : "by ",
        several ? "," : plan->openings[step->inlet].label, rate, feeds,
        several ? " Paint does not get from one into another." : "");
    if (cover[0] && used > 0)
        snprintf(line + used, sizeof line - (size_t)used,
            " Leave the other openings free until paint "
            "shows in them, then cover %s.",
            cover);
    print_indented(line);
    if (step->wait_s != 0.0 || step->wait_high_s != 0.0) {
        char wait[300];
        wait_words(step, wait, sizeof wait);
        snprintf(line, sizeof line, "Wait meanwhile: %s.", wait);
        print_indented(line);
    }
}

/* Labels of what is in a list and not in another; how many. */
static size_t labels_without(const fill_plan *plan, opening_list list, opening_list without,
    char *text, size_t size)
{
    size_t count = 0;
    uint32_t *number = malloc((list.count + 1) * sizeof *number);
    text[0] = '\0';
    for (size_t i = 0; number && i < list.count; i++)
        if (!fill_plan_listed(without, list.number[i]))
            number[count++] = list.number[i];
    if (number)
        fill_plan_labels(plan, (opening_list){number, count}, text, size);
    free(number);
    return count;
}

static void print_turn(const fill_plan *plan, const vug_step_info *step)
{
    char cover[160], vent[160], feeds[200], inlets[160], time[300], line[1200];
    int used = 0;
    const uint32_t inlet = (uint32_t)step->inlet;
    const opening_list all = {step->vent, step->vent_count};
    const opening_list by_inlet = step->feed_count > 0
        ? (opening_list){step->feed, step->feed_count}
        : (opening_list){&inlet, step->inlet >= 0};
    labels_without(plan, (opening_list){step->cover, step->cover_count}, all, cover, sizeof cover);
    size_t vents = labels_without(plan, all, by_inlet, vent, sizeof vent);
    const char *then = vents == 0 ? "" : vents > 1 ? ", then one by one " : ", then ";
    wait_words(step, time, sizeof time);
    if (step->inlet < 0) {
        snprintf(line, sizeof line, "All openings stay covered. Wait: %s.", time);
    } else {
        fill_plan_labels(plan, by_inlet, inlets, sizeof inlets);
        fill_plan_feeds(plan, step, feeds, sizeof feeds);
        used = snprintf(line, sizeof line, "Wait: %s. Then free %s%s%s%s and top up %s.", time,
            inlets, then, vent, vents > 0 ? "," : "", feeds);
        if (cover[0] && used > 0 && (size_t)used < sizeof line)
            snprintf(line + used, sizeof line - (size_t)used, " Keep %s covered.", cover);
    }
    print_indented(line);
}

static void print_fill(const fill_plan *plan)
{
    char line[400];
    printf("\nFill with %s: %.1f mL in %lld load%s of a %g mL syringe, the last one %.1f mL\n",
        plan->settings->paint, 1e-3 * plan->info.inject_mm3, (long long)plan->info.loads,
        plan->info.loads == 1 ? "" : "s", plan->settings->syringe_ml, plan->info.last_load_ml);
    printf("  Have %.1f mL ready; a tenth is for what stays in cups and syringe.\n",
        plan->info.paint_ml);
    for (uint32_t i = 0; i < plan->info.steps; i++) {
        const vug_step_info *step = plan->fill + i;
        if (i > 0 && step[-1].inlet >= 0)
            printf("     Cover all openings.\n");
        pose_line(plan, i > 0 ? step - 1 : NULL, step, line, sizeof line);
        printf("  %u  ", (unsigned)i + 1);
        print_wrapped(line, 5, 5);
        if (i == 0)
            print_first(plan, step);
        else
            print_turn(plan, step);
        printf("     Air inside now: %.2f mL (%.1f %%).\n", 1e-3 * step->trapped_mm3,
            fill_plan_percent(plan, step->trapped_mm3));
    }
    printf("\nWhat stays inside as air: %.2f mL, %.2f %% of the cavity; held a few degrees askew, "
           "up to "
           "%.1f %%.\n",
        1e-3 * plan->info.trapped_mm3, fill_plan_percent(plan, plan->info.trapped_mm3),
        fill_plan_percent(plan, plan->info.tilted_mm3));
}

static void print_others(const fill_plan *plan)
{
    size_t count = vug_plan_count(plan->made);
    if (count < 2)
        return;
    printf("\nOther ways to do it\n");
    for (size_t i = 1; i < count; i++) {
        vug_plan_info info = {.struct_size = sizeof info};
        if (vug_plan_get(plan->made, i, &info))
            continue;
        printf("  %u new hole%s, %u turn%s: %.2f %% of the cavity stays air%s\n",
            (unsigned)info.bores, info.bores == 1 ? "" : "s", (unsigned)info.steps - 1,
            info.steps == 2 ? "" : "s", fill_plan_percent(plan, info.trapped_mm3),
            info.within_limit ? "" : " (more than asked for)");
    }
}

static void print_cautions(const fill_plan *plan)
{
    printf("\nTake care\n");
    for (int32_t k = 0; k < VUG_CAUTION_COUNT; k++) {
        if (!vug_plan_caution(plan->made, 0, k))
            continue;
        printf("  - ");
        print_wrapped(vug_caution_text(k), 4, 4);
    }
    printf("  Data sheets and local rules come before this plan.\n");
}

void plan_print(const fill_plan *plan)
{
    char name[64];
    short_name(plan->settings->file, name);
    if (vug_cavities_count(plan->drilled) > 1)
        print_several(plan, name);
    else
        printf("%s: the cavity takes %.2f mL\n", name, 1e-3 * plan->info.capacity_mm3);
    print_openings(plan);
    print_bores(plan);
    print_rinse(plan);
    print_fill(plan);
    printf(
        "\nSeal: wipe the rims, plug the openings as the glue's data sheet says, in fresh air.\n");
    print_others(plan);
    print_cautions(plan);
}

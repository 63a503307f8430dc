/* SPDX-License-Identifier: MIT
 * The plan in words, for the bench. */
#include "text.h"

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

/* Openings that were named and are not in the mesh are still to be made. */
static bool print_openings_that(const fill_plan *plan, bool planned, const char *title)
{
    bool any = false;
    for (size_t i = 0; i < plan->opening_count; i++) {
        const plan_opening *o = &plan->openings[i];
        if (o->bore || (o->info.planned != 0) != planned)
            continue;
        if (!any)
            printf("\n%s\n", title);
        any = true;
        printf("  %s  %.1f mm wide, %.1f mm through the wall, at (%.1f, %.1f, %.1f)\n", o->label,
            o->info.diameter_mm, o->info.bore_length_mm, o->info.center_mm[0], o->info.center_mm[1],
            o->info.center_mm[2]);
    }
    return any;
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
    bool named = print_openings_that(plan, true,
        "Holes that you named and the part does not have yet: drill them, or put them into the "
        "model");
    if (plan->info.bores == 0) {
        printf(named ? "\nNo hole besides these is needed.\n" : "\nNo new hole is needed.\n");
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

/* Seconds for people: to 5 s below a minute, else to half minutes up. */
static void time_words(double seconds, char *text, size_t size)
{
    if (seconds < 60.0)
        snprintf(text, size, "%.0f seconds", 5.0 * ceil(seconds / 5.0));
    else
        snprintf(text, size, "%.1f minutes", 0.5 * ceil(seconds / 30.0));
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

/* Where paint shows before the end: openings are covered then, and the syringe seals the one it is in. */
static void print_shows(const fill_plan *plan, const vug_step_info *step, char *line, size_t size)
{
    char show[160];
    const opening_list list = {step->show, step->show_count}, feed = {step->feed, step->feed_count};
    size_t others = labels_without(plan, list, feed, show, sizeof show), used = 0;
    line[0] = '\0';
    if (others > 0)
        used = (size_t)snprintf(line, size, " Once paint shows in %s, cover %s.", show,
            others > 1 ? "each of them" : "it");
    for (size_t i = 0; i < feed.count && used < size; i++)
        if (fill_plan_listed(list, feed.number[i]))
            used += (size_t)snprintf(line + used, size - used,
                " Once paint stands in %s, press the syringe tight into it.",
                plan->openings[feed.number[i]].label);
}

static void print_first(const fill_plan *plan, const vug_step_info *step)
{
    char cover[160], show[300], feeds[200], line[900];
    fill_plan_labels(plan, (opening_list){step->cover, step->cover_count}, cover, sizeof cover);
    print_shows(plan, step, show, sizeof show);
    if (step->inlet < 0) {
        print_indented("No paint goes in by any opening in this pose.");
        return;
    }
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
        used += snprintf(line + used, sizeof line - (size_t)used, " Keep %s covered meanwhile.",
            cover);
    if (show[0] && used > 0)
        snprintf(line + used, sizeof line - (size_t)used, "%s", show);
    print_indented(line);
}

static void print_turn(const fill_plan *plan, const vug_step_info *step)
{
    char cover[160], open[160], show[300], feeds[200], inlets[160], time[40], line[1000];
    const opening_list by_inlet = {step->feed, step->feed_count};
    fill_plan_labels(plan, (opening_list){step->cover, step->cover_count}, cover, sizeof cover);
    print_shows(plan, step, show, sizeof show);
    size_t others = labels_without(plan, (opening_list){step->open, step->open_count}, by_inlet,
        open, sizeof open);
    if (step->wait_s < 0.0)
        snprintf(time, sizeof time, "tap and shake it: bubbles hardly move");
    else
        time_words(step->wait_s, time, sizeof time);
    if (step->inlet < 0) {
        snprintf(line, sizeof line, "All openings stay covered. Wait: %s.", time);
    } else {
        fill_plan_labels(plan, by_inlet, inlets, sizeof inlets);
        fill_plan_feeds(plan, step, feeds, sizeof feeds);
        int used = snprintf(line, sizeof line, "Wait: %s. Then free %s%s%s%s and top up %s.", time,
            inlets, others > 0 ? ", then " : "", open, others > 0 ? "," : "", feeds);
        if (cover[0])
            used += snprintf(line + used, sizeof line - (size_t)used, " Keep %s covered.", cover);
        if (show[0])
            snprintf(line + used, sizeof line - (size_t)used, "%s", show);
    }
    print_indented(line);
}

/* How fast to turn, where it matters. */
static void print_pace(const fill_plan *plan, const vug_step_info *step)
{
    char line[200];
    if (plan->info.any_pace)
        return;
    if (step->way_count == 0)
        snprintf(line, sizeof line, "Turn it in one go.");
    else
        snprintf(line, sizeof line,
            "Turn it slowly: stop every %.0f degrees until the bubbles have come to rest.",
            step->angle_deg / (double)(step->way_count + 1));
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
            print_pace(plan, step);
        if (i > 0)
            print_turn(plan, step);
        printf("     Air inside now: %.2f mL (%.1f %%).\n", 1e-3 * step->trapped_mm3,
            fill_plan_percent(plan, step->trapped_mm3));
    }
    printf("\nWhat stays inside as air: %.2f mL, %.2f %% of the cavity%s.\n",
        1e-3 * plan->info.trapped_mm3, fill_plan_percent(plan, plan->info.trapped_mm3),
        plan->info.steps > 1 && plan->info.any_pace
            ? ", the most at any pace of the turns from one go to slow"
            : "");
    printf("Held 5 degrees askew, each pose any way: 19 times out of 20 no more than %.1f %%.\n",
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
    print_openings_that(plan, false, "Openings the part has");
    print_bores(plan);
    print_rinse(plan);
    print_fill(plan);
    printf(
        "\nSeal: wipe the rims, plug the openings as the glue's data sheet says, in fresh air.\n");
    print_others(plan);
    print_cautions(plan);
}

/* SPDX-License-Identifier: MIT
 * vug-fill: what happens when a hollow part is filled, from the first drop to the last. */
#include "../part/choices.h"
#include "../part/events.h"
#include "../part/liquid.h"
#include "../part/part.h"
#include "../picture/course.h"
#include "../tool/clock.h"
#include "../tool/fail.h"
#include "../tool/file_name.h"
#include "../tool/json.h"
#include "../tool/options.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct settings {
    part_settings part;
    const char *json, *picture;
    bool poured, tight, stop;
    double volume_mm3, rate_mm3_s;
    bool viscous, limit, release, rigid;
    double pressure_pa;
    liquid_settings asked;
    liquid liquid;
} settings;

static const char *end_text(int32_t end)
{
    switch (end) {
    case VUG_END_FULL:
        return "Full: what is empty now is trapped air.";
    case VUG_END_CUT_OFF:
        return "Trapped air bars the way: part of the cavity stays empty although it has a vent.";
    case VUG_END_SUPPLY:
        return "The liquid at hand is used up.";
    case VUG_END_SPILL:
        return "Stopped at the first spill.";
    default:
        return "Nothing goes in: the air has no way out.";
    }
}

static const char *end_key(int32_t end)
{
    static const char *const key[] = {"full", "cut off", "supply", "spill", "blocked", "drained"};
    return end >= 0 && (size_t)end < sizeof key / sizeof key[0] ? key[end] : "other";
}

/* Air and liquid that have to pass each other are not in the times of a fill. */
static void print_wait(const vug_course_info *s)
{
    char words[160];
    if (s->wait_s == 0.0 && s->wait_high_s == 0.0)
        return;
    clock_range_words(s->wait_s, s->wait_low_s, s->wait_high_s, words, sizeof words);
    printf("Wait           %s, for air and liquid to pass each other in throats; the times above "
           "leave it out\n",
        words);
    if (s->wait_high_s < 0.0 || s->wait_high_s > 120.0)
        puts("               Draw the air out with the syringe's needle beyond the throat, or open "
             "a hole there");
}

static void print(const vug_course *course, const vug_course_info *s, const vug_moment *end)
{
    vug_pocket_info pocket = {.struct_size = sizeof pocket};
    double percent = 100.0 / s->capacity_mm3;
    events_print(course, s->time_s > 0.0);
    printf("\n%s\n", end_text(s->end));
    if (s->held)
        puts("The inlet is too narrow to pour through: liquid and air don't get past each other "
             "there. "
             "Use a needle.");
    printf("Cavity         %10.3f mL\nFilled         %10.3f mL (%.2f %%)\n",
        s->capacity_mm3 / 1000.0, s->liquid_mm3 / 1000.0, s->liquid_mm3 * percent);
    printf("Trapped air    %10.3f mL (%.2f %%)\nNever reached  %10.3f mL (%.2f %%)\n",
        s->trapped_mm3 / 1000.0, s->trapped_mm3 * percent, s->empty_mm3 / 1000.0,
        s->empty_mm3 * percent);
    if (s->first_spill_opening >= 0)
        printf("First spill    %10.3f mL, at opening %d\n", s->first_spill_mm3 / 1000.0,
            (int)s->first_spill_opening);
    if (s->lag_mm > 0.0)
        printf("Levels differ  %10.2f mm at most within a pool on the way\n", s->lag_mm);
    if (s->peak_pressure_pa >= 0.5)
        printf("At the inlet   %10.0f Pa at most inside\n", s->peak_pressure_pa);
    if (s->returned_mm3 > 0.0)
        printf("Flows back     %10.3f mL when the syringe is taken off\n",
            s->returned_mm3 / 1000.0);
    print_wait(s);
    for (size_t i = 0; i < s->pockets && i < 12; i++) {
        if (vug_moment_pocket(end, i, &pocket) == VUG_OK)
            printf("Pocket %zu: %.3f mL under (%.1f, %.1f, %.1f), down to level %.2f mm\n", i + 1,
                pocket.volume_mm3 / 1000.0, pocket.top_mm[0], pocket.top_mm[1], pocket.top_mm[2],
                pocket.level_mm);
    }
    if (s->pockets > 12)
        printf("and %u smaller pockets\n", (unsigned)s->pockets - 12);
}

static json_t *pockets_json(const vug_moment *end, size_t count)
{
    json_t *list = json_array();
    vug_pocket_info pocket = {.struct_size = sizeof pocket};
    for (size_t i = 0; i < count; i++) {
        if (vug_moment_pocket(end, i, &pocket) == VUG_OK)
            json_array_append_new(list,
                json_pack("{s:f, s:o, s:f, s:f}", "volume_mm3", pocket.volume_mm3, "top_mm",
                    json_triple(pocket.top_mm), "level_mm", pocket.level_mm, "area_mm2",
                    pocket.area_mm2));
    }
    return list;
}

static json_t *to_json(const vug_course *course, const vug_course_info *s, const vug_moment *end)
{
    json_t *root = json_pack("{s:f, s:f, s:f, s:f, s:s, s:i, s:i, s:b, s:f, s:f}", "capacity_mm3",
        s->capacity_mm3, "filled_mm3", s->liquid_mm3, "trapped_mm3", s->trapped_mm3,
        "never_reached_mm3", s->empty_mm3, "end", end_key(s->end), "cavity", (int)s->cavity,
        "inlet", (int)s->inlet, "too_narrow_to_pour", s->held, "time_s", s->time_s, "spacing_mm",
        s->spacing_mm);
    if (s->first_spill_opening >= 0)
        json_object_set_new(root, "first_spill",
            json_pack("{s:i, s:f, s:f}", "opening", (int)s->first_spill_opening, "liquid_mm3",
                s->first_spill_mm3, "time_s", s->first_spill_s));
    if (s->lag_mm > 0.0)
        json_object_set_new(root, "viscous",
            json_pack("{s:f, s:f, s:o}", "lag_mm", s->lag_mm, "slope_mm", s->slope_mm, "settled_s",
                seconds_json(s->settled_s)));
    json_object_set_new(root, "peak_pressure_pa", json_real(s->peak_pressure_pa));
    json_object_set_new(root, "returned_mm3", json_real(s->returned_mm3));
    json_object_set_new(root, "wait_s", waits_json(s->wait_s, s->wait_low_s, s->wait_high_s));
    json_object_set_new(root, "pockets", pockets_json(end, s->pockets));
    json_object_set_new(root, "pools", pools_json(end, s->pools));
    json_object_set_new(root, "events", events_json(course));
    return root;
}

static int draw(const tool *program, const char *file, part *p, const settings *s,
    const vug_course *course, const vug_course_info *summary)
{
    char name[64], title[120], subtitle[160];
    short_name(file, name);
    snprintf(title, sizeof title, "%s: filling it with (%.3g, %.3g, %.3g) up", name, s->part.up[0],
        s->part.up[1], s->part.up[2]);
    snprintf(subtitle, sizeof subtitle, "%.2f mL go in, %.2f mL of air (%.1f %%) stay caught",
        1e-3 * summary->liquid_mm3, 1e-3 * summary->trapped_mm3,
        100.0 * summary->trapped_mm3 / summary->capacity_mm3);
    course_picture picture = {.file = file,
        .base = s->picture,
        .title = title,
        .subtitle = subtitle,
        .liquid = "liquid",
        .cavities = p->cavities,
        .course = course,
        .up = s->part.up,
        .roles = p->role,
        .opening_count = p->openings};
    return course_draw(program, p->ctx, &picture);
}

static void print_limit(double limit)
{
    if (limit >= 0.999e5) /* where the search ends */
        puts("Rate limit      no limit found below 6000 mL/min");
    else if (limit > 0.0 && limit <= 1.02e-3)
        puts(
            "Rate limit      none is slow enough: something spills before the rest is full at any");
    else if (limit > 0.0)
        printf("Rate limit     %10.3f mL/min: above it something spills before the rest is full\n",
            limit * 0.06);
    else
        puts("Rate limit      none: nothing spills in this pose");
}

static int report(const tool *program, const char *file, part *p, const settings *s,
    const vug_course *course, double limit)
{
    vug_course_info summary = {.struct_size = sizeof summary};
    vug_moment *end = NULL;
    vug_status status = vug_course_get(course, &summary);
    if (!status)
        status = vug_course_at_time(p->ctx, course, INFINITY, &end);
    if (status)
        return fail_status(program, p->ctx, status);
    int code = DONE;
    if (!s->json || strcmp(s->json, "-") != 0) {
        printf("Liquid: %s\n\n", s->liquid.words);
        print(course, &summary, end);
        if (s->limit)
            print_limit(limit);
    }
    if (s->json) {
        json_t *root = to_json(course, &summary, end);
        if (s->limit)
            json_object_set_new(root, "rate_limit_mm3_s",
                limit > 0.0 ? json_real(limit) : json_null());
        code = json_write(program, root, s->json);
    }
    if (code == DONE && s->picture)
        code = draw(program, file, p, s, course, &summary);
    vug_moment_free(end);
    return code;
}

static int run(const tool *program, const char *file, settings *s)
{
    part p;
    vug_course *course = NULL;
    int code = part_open(program, file, &s->part, VUG_ROLE_INLET, &p);
    if (code == DONE) {
        vug_fill_options options;
        vug_fill_options_init(&options, sizeof options);
        options.entry = s->poured ? VUG_ENTRY_POURED : VUG_ENTRY_INJECTED;
        options.inlet_sealed = s->tight;
        options.stop_at_spill = s->stop;
        options.columns_across = (uint32_t)s->part.columns;
        options.volume_mm3 = s->volume_mm3;
        options.rate_mm3_s = s->rate_mm3_s;
        options.viscous = s->viscous && (s->rate_mm3_s > 0.0 || s->pressure_pa > 0.0);
        options.pressure_pa = s->pressure_pa;
        options.release = s->release;
        options.rigid_air = s->rigid;
        options.settle = options.viscous;
        options.fluid_low = &s->liquid.low;
        options.fluid_high = &s->liquid.high;
        vug_status status = vug_fill_run(p.ctx, p.cavities, &s->liquid.typical, s->part.up, p.role,
            p.openings, &options, &course);
        double limit = 0.0;
        if (!status && s->limit) {
            status = vug_fill_rate_limit(p.ctx, p.cavities, &s->liquid.typical, s->part.up, p.role,
                p.openings, &options, &limit);
            if (status == VUG_ERR_NOT_FOUND)
                status = VUG_OK;
        }
        code = status ? fail_status(program, p.ctx, status)
                      : report(program, file, &p, s, course, limit);
    }
    vug_course_free(course);
    part_close(&p, &s->part);
    return code;
}

int main(int argc, char **argv)
{
    settings s = {.part = part_usual(), .asked = liquid_unasked()};
    const option ways[] = {
        {.name = "--poured",
            .kind = OPTION_FLAG,
            .target = &s.poured,
            .help = "pour by gravity instead of injecting with a needle thinner than the hole"},
        {.name = "--tight",
            .kind = OPTION_FLAG,
            .target = &s.tight,
            .help = "the syringe seals the inlet: no air leaves beside it"},
        {.name = "--stop-at-spill",
            .kind = OPTION_FLAG,
            .target = &s.stop,
            .help = "end when liquid comes to a lip, instead of covering that opening"},
        {.name = "--volume",
            .value = "MM3",
            .kind = OPTION_NUMBER,
            .target = &s.volume_mm3,
            .lo = 0.0,
            .hi = 1e12,
            .help = "liquid at hand; as much as goes in unless given"},
        {.name = "--rate",
            .value = "MM3/S",
            .kind = OPTION_NUMBER,
            .target = &s.rate_mm3_s,
            .lo = 0.0,
            .hi = 1e9,
            .help = "steady rate of filling, for the times"},
        {.name = "--viscous",
            .kind = OPTION_FLAG,
            .target = &s.viscous,
            .help = "with --rate or --pressure: take the time into account that the liquid needs "
                    "to level"},
        {.name = "--rate-limit",
            .kind = OPTION_FLAG,
            .target = &s.limit,
            .help = "also find the highest rate at which nothing spills before the rest is full"},
        {.name = "--pressure",
            .value = "PA",
            .kind = OPTION_NUMBER,
            .target = &s.pressure_pa,
            .lo = 0.0,
            .hi = 1e7,
            .help = "of the syringe: with --viscous it drives the liquid, else it presses on up "
                    "to that once no open surface can rise"},
        {.name = "--release",
            .kind = OPTION_FLAG,
            .target = &s.release,
            .help =
                "take the syringe off at the end: liquid under pressure at the inlet flows back"},
        {.name = "--rigid-air",
            .kind = OPTION_FLAG,
            .target = &s.rigid,
            .help = "closed air keeps its volume and its place, whatever stands over it"},
    };
    const option outcome[] = {
        {.name = "--picture",
            .value = "BASE",
            .kind = OPTION_TEXT,
            .target = &s.picture,
            .help = "draw the part cut open at six moments of the fill: BASE.png and BASE.svg"},
        {.name = "--json",
            .value = "FILE",
            .kind = OPTION_TEXT,
            .target = &s.json,
            .help = "write the outcome as JSON; - for standard output"},
    };
    option options[PART_CHOICES + LIQUID_CHOICES + 1 + sizeof ways / sizeof ways[0]
        + sizeof outcome / sizeof outcome[0]],
        *next = options;
    next = part_choices(next, &s.part, "direction that points up while filling; 0,0,1 unless given",
        "opening to fill by",
        "opening that stays open to air; may be given again. If neither --inlet nor --vent "
        "is given all openings are open and the first is the inlet, else those not named "
        "are "
        "sealed");
    next = options_add(next, ways, sizeof ways / sizeof ways[0]);
    next = liquid_choices(next, &s.asked);
    next = columns_choice(next, &s.part);
    next = options_add(next, outcome, sizeof outcome / sizeof outcome[0]);
    const tool program = {.name = "vug-fill",
        .operands = "MESH",
        .operand_count = 1,
        .about =
            "Fills a hollow part in one pose and tells what happens on the way: which basin fills "
            "first, when it runs over, where air is cut off, when an opening starts to spill.",
        .notes =
            "Volumes are in mm3 (1000 mm3 = 1 mL). Openings are numbered as measure lists them, "
            "from 0. Paint, resin and solvent: gloves, goggles, air; their data sheets and local "
            "rules "
            "come first.",
        .options = options,
        .option_count = (size_t)(next - options)};
    const char *file;
    int code = options_read(&program, argc, argv, &file);
    if (code == GO_ON)
        code = liquid_read(&program, &s.asked, &s.liquid);
    if (code == GO_ON)
        return run(&program, file, &s);
    free(s.part.holes.number);
    free(s.part.vents.number);
    return code;
}

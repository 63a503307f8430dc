/* SPDX-License-Identifier: MIT
 * vug-fill: what happens when a hollow part is filled, from the first drop to the last. */
#include "../part/choices.h"
#include "../part/events.h"
#include "../part/outcome.h"
#include "../part/part.h"
#include "../tool/amounts.h"
#include "../tool/clock.h"
#include "../tool/fail.h"
#include "../tool/json.h"
#include "../tool/liquid.h"

#include <math.h>
#include <stdio.h>

typedef struct settings {
    part_settings part;
    bool poured, tight, stop;
    double volume_mm3, rate_mm3_s;
    bool viscous, limit, release, rigid;
    double pressure_pa;
    liquid_settings asked;
    known_liquid liquid;
    double highest_mm3_s; /* found, if limit is asked for */
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

static bool is_timed(const settings *asked)
{
    return asked->rate_mm3_s > 0.0 || (asked->viscous && asked->pressure_pa > 0.0);
}

static void print_limit(double limit)
{
    if (limit >= 0.999e5) /* where the search ends */
        puts("Rate limit      no limit found below 6000 mL/min");
    else if (limit > 0.0 && limit <= 1.02e-3)
        puts(
            "Rate limit      none is slow enough: something spills before the rest is full at any");
    else if (limit > 0.0 && limit * 0.06 < 0.05)
        puts("Rate limit      less than 0.05 mL/min, slower than a hand presses: something spills "
             "before the rest is full");
    else if (limit > 0.0)
        printf("Rate limit     %10.3f mL/min: above it something spills before the rest is full\n",
            limit * 0.06);
    else
        puts("Rate limit      none: nothing spills in this pose");
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

static void print_pockets(const vug_moment *end, size_t count)
{
    vug_pocket_info pocket = {.struct_size = sizeof pocket};
    size_t told = 0;
    for (size_t i = 0; i < count && i < 12; i++) {
        if (vug_moment_pocket(end, i, &pocket) != VUG_OK || pocket.volume_mm3 < LEAST_MM3)
            continue;
        told++;
        printf("Pocket %zu: %s under %s, down to level %.2f mm\n", i + 1,
            amount_ml(pocket.volume_mm3).text, amount_place(pocket.top_mm, 1).text,
            pocket.level_mm);
    }
    if (count > told)
        printf("%s%zu smaller pocket%s\n", told > 0 ? "and " : "", count - told,
            count - told == 1 ? "" : "s");
}

/* What a syringe can press, as vug-sums has it: common practice, no source. */
static const double syringe_pa = 2e6;

static void print_on_the_way(const vug_course_info *s)
{
    char name[24];
    if (s->first_spill_opening >= 0) {
        vug_opening_letter(NULL, (size_t)s->first_spill_opening, name, sizeof name);
        if (s->first_spill_mm3 < LEAST_MM3)
            printf("First spill       at once, at opening %s\n", name);
        else
            printf("First spill    %10.3f mL, at opening %s\n", s->first_spill_mm3 / 1000.0, name);
    }
    if (s->lag_mm > 0.0)
        printf("Levels differ  %10.2f mm at most within a pool on the way\n", s->lag_mm);
    if (s->sill_head_mm > 0.0)
        printf("Over a sill    %10.2f mm at most, while it runs over\n", s->sill_head_mm);
    if (s->peak_pressure_pa > syringe_pa)
        puts("At the inlet      out of reach of a syringe (2 MPa): less flow, a thinner liquid, a "
             "wider opening");
    else if (s->peak_pressure_pa >= 0.5)
        printf("At the inlet   %10.0f Pa at most inside\n", s->peak_pressure_pa);
}

static void print(const outcome *o, const void *asked)
{
    const vug_course_info *s = &o->summary;
    const settings *how = asked;
    printf("Liquid: %s\n\n", how->liquid.words);
    events_print(o->course, is_timed(how));
    printf("\n%s\n", end_text(s->end));
    if (s->held)
        puts("The inlet is too narrow to pour through: liquid and air don't get past each other "
             "there. "
             "Use a needle.");
    printf("Cavity         %10.3f mL\nFilled         %s\n", s->capacity_mm3 / 1000.0,
        amount_of(s->liquid_mm3, s->capacity_mm3).text);
    printf("Trapped air    %s\nNever reached  %s\n",
        amount_of(s->trapped_mm3, s->capacity_mm3).text,
        amount_of(s->empty_mm3, s->capacity_mm3).text);
    print_on_the_way(s);
    if (s->returned_mm3 > 0.0)
        printf("Flows back        %s when the syringe is taken off\n",
            amount_ml(s->returned_mm3).text);
    print_wait(s);
    print_pockets(o->end, s->pockets);
    part_print_doubt(o->part, s->cavity);
    part_print_others(o->part, s->cavity);
    if (how->limit)
        print_limit(how->highest_mm3_s);
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

static json_t *to_json(const outcome *o, const void *asked)
{
    const vug_course_info *s = &o->summary;
    const settings *how = asked;
    json_t *root = json_pack("{s:f, s:f, s:f, s:f, s:s, s:i, s:i, s:b, s:o, s:f}", "capacity_mm3",
        s->capacity_mm3, "filled_mm3", s->liquid_mm3, "trapped_mm3", s->trapped_mm3,
        "never_reached_mm3", s->empty_mm3, "end", end_key(s->end), "cavity", (int)s->cavity,
        "inlet", (int)s->inlet, "too_narrow_to_pour", s->held, "time_s",
        is_timed(how) ? json_real(s->time_s) : json_null(), "spacing_mm", s->spacing_mm);
    if (s->first_spill_opening >= 0)
        json_object_set_new(root, "first_spill",
            json_pack("{s:i, s:f, s:f}", "opening", (int)s->first_spill_opening, "liquid_mm3",
                s->first_spill_mm3, "time_s", s->first_spill_s));
    if (s->lag_mm > 0.0 || s->sill_head_mm > 0.0)
        json_object_set_new(root, "viscous",
            json_pack("{s:f, s:f, s:f, s:o}", "lag_mm", s->lag_mm, "slope_mm", s->slope_mm,
                "sill_head_mm", s->sill_head_mm, "settled_s", seconds_json(s->settled_s)));
    json_object_set_new(root, "left_aside", part_others_json(o->part, s->cavity));
    json_object_set_new(root, "peak_pressure_pa", json_real(s->peak_pressure_pa));
    json_object_set_new(root, "returned_mm3", json_real(s->returned_mm3));
    json_object_set_new(root, "wait_s", waits_json(s->wait_s, s->wait_low_s, s->wait_high_s));
    json_object_set_new(root, "pockets", pockets_json(o->end, s->pockets));
    json_object_set_new(root, "pools", pools_json(o->end, s->pools));
    json_object_set_new(root, "events", events_json(o->course));
    if (how->limit)
        json_object_set_new(root, "rate_limit_mm3_s",
            how->highest_mm3_s > 0.0 ? json_real(how->highest_mm3_s) : json_null());
    return root;
}

static int run(const tool *program, const char *file, settings *s)
{
    part p = {.ctx = NULL};
    vug_course *course = NULL;
    int code = liquid_read(program, &s->asked, &s->liquid);
    if (code == DONE)
        code = part_open(program, file, &s->part, VUG_ROLE_INLET, &p);
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
        if (!status && s->limit) {
            status = vug_fill_rate_limit(p.ctx, p.cavities, &s->liquid.typical, s->part.up, p.role,
                p.openings, &options, &s->highest_mm3_s);
            if (status == VUG_ERR_NOT_FOUND)
                status = VUG_OK;
        }
        const outcome_teller teller = {print, to_json, s, false};
        code = status ? fail_status(program, p.ctx, status)
                      : outcome_tell(program, file, &p, &s->part, course, &teller);
    }
    vug_course_free(course);
    part_close(&p);
    return code;
}

int main(int argc, char **argv)
{
    settings s = {.part = part_usual(), .asked = liquid_usual()};
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
    option
        options[PART_CHOICES + LIQUID_CHOICES + 1 + OUTCOME_CHOICES + sizeof ways / sizeof ways[0]],
        *next = options;
    next = part_choices(next, &s.part,
        "how it is held: the direction X,Y,Z of its file that points up, or words such as \"its "
        "top up, "
        "leaning 25 degrees so that its front rises\"; 0,0,1 unless given",
        "opening to fill by",
        "opening that stays open to air; may be given again. If neither --inlet nor --vent "
        "is given all openings are open and the first --hole is the inlet, or opening A, else "
        "those not named "
        "are "
        "sealed");
    next = options_add(next, ways, sizeof ways / sizeof ways[0]);
    next = liquid_choices(next, &s.asked);
    next = columns_choice(next, &s.part);
    next = outcome_choices(next, &s.part,
        "draw the part cut open at six moments of the fill, with its curves: BASE.png, BASE.svg "
        "and BASE.pdf");
    const tool program = {.name = "vug-fill",
        .operands = "MESH",
        .operand_count = 1,
        .about =
            "Fills a hollow part in one pose and tells what happens on the way: which basin fills "
            "first, when it runs over, where air is cut off, when an opening starts to spill.",
        .notes = "Volumes are in mm3 (1000 mm3 = 1 mL). Openings are called A, B ... as "
                 "vug-measure lists "
                 "them; their numbers from 0 do too. Paint, resin and solvent: gloves, goggles, "
                 "air; their data sheets and local "
                 "rules "
                 "come first.",
        .options = options,
        .option_count = (size_t)(next - options)};
    const char *file;
    int code = options_read(&program, argc, argv, &file);
    if (code == GO_ON && s.release && (s.viscous || s.rigid))
        code = fail_usage(&program, "--release does not go with --viscous or --rigid-air");
    if (code == GO_ON)
        code = run(&program, file, &s);
    part_settings_free(&s.part);
    return code;
}

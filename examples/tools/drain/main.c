/* SPDX-License-Identifier: MIT
 * vug-drain: what runs out of a hollow part held in one pose, how long it takes, what stays behind. */
#include "printing.h"

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

typedef struct settings {
    part_settings part;
    int64_t cavity;
    liquid_settings asked;
    known_liquid liquid;
    double drip_s;
    bool printing;
    printing_settings how;
} settings;

/* What there is to tell: what was asked, and the cups if they were asked for. */
typedef struct answer {
    const settings *asked;
    const printing *found;
} answer;

/* What runs out by itself, as a plan tells it: until when (-1: nothing does), and how much of what could leave hangs. */
typedef struct running {
    double time_s, stuck_mm3;
} running;

static running find_running(const part *p, const vug_course *course, const vug_course_info *s)
{
    const double patience_s = 57600.0;
    running r = {-1.0, 0.0};
    double *row = NULL;
    size_t count = 0;
    if (vug_course_curve(p->ctx, course, &row, &count) != VUG_OK)
        return r;
    if (count > 0)
        r.stuck_mm3 = row[1] - s->liquid_mm3;
    for (size_t i = 1; i < count; i++)
        if (row[3 * i] >= 0.0 && row[3 * i] <= patience_s
            && row[3 * i + 1] - s->liquid_mm3 < r.stuck_mm3)
            r = (running){row[3 * i], row[3 * i + 1] - s->liquid_mm3};
    vug_free(p->ctx, row);
    return r;
}

static void print_held(running r, const vug_fluid *fluid)
{
    if (r.time_s >= 0.0 && r.stuck_mm3 < LEAST_MM3) {
        printf("Time           %10.1f s; the last drops, less than 0.05 mL, hang in the way out\n",
            r.time_s);
        return;
    }
    if (r.time_s >= 0.0)
        printf("Time           %10.1f s for what runs out by itself; the rest does not:\n",
            r.time_s);
    else
        fputs("Time                never by itself: ", stdout);
    if (fluid->yield_stress_pa > 0.0)
        puts("its yield stress holds the liquid, or the way out is too narrow for air to come in "
             "past it.\nThin it, open a wider or a second hole, higher up, or turn and shake the "
             "part.");
    else
        puts("the way out is too narrow for air to come in past the liquid.\n"
             "Open a second hole, higher up, or turn and shake the part.");
}

static void print_rest(const vug_course_info *s, running r)
{
    const char *plural = s->pools == 1 ? "" : "s";
    bool hangs = s->held && r.stuck_mm3 >= LEAST_MM3;
    printf("\nCavity         %10.3f mL\nStays behind   %s", s->capacity_mm3 / 1000.0,
        amount_of(s->liquid_mm3 + (hangs ? r.stuck_mm3 : 0.0), s->capacity_mm3).text);
    if (hangs && s->pools > 0)
        printf("; once helped, in %u pool%s: %s\n", (unsigned)s->pools, plural,
            amount_ml(s->liquid_mm3).text);
    else if (hangs)
        puts("; once helped, nothing");
    else
        printf(s->pools > 0 ? " in %u pool%s\n" : "\n", (unsigned)s->pools, plural);
    /* a film is what is left of liquid that ran out: of what hangs there is none */
    double ran = fmax(0.0, s->capacity_mm3 - s->liquid_mm3 - (hangs ? r.stuck_mm3 : 0.0));
    double film = fmin(s->film_mm3, ran);
    if (film >= LEAST_MM3)
        printf("Film on walls  %10.3f mL (%.3f mm)\n", film / 1000.0,
            s->film_mm * film / s->film_mm3);
    else
        printf("Film on walls     %s\n", amount_ml(film).text);
}

static void print_course(const part *p, const vug_fluid *fluid, const vug_course *course,
    const vug_course_info *s, const vug_moment *end)
{
    vug_pool_info pool = {.struct_size = sizeof pool};
    const running r = find_running(p, course, s);
    events_print(course, true);
    print_rest(s, r);
    if (s->time_s > clock_longest_s)
        puts(
            "Time            more than a day: thin the liquid, open a wider hole, or press air in");
    else if (s->time_s >= 0.0)
        printf("Time           %10.1f s%s\n", s->time_s,
            s->held                         ? ""
                : s->end == VUG_END_BLOCKED ? " (nothing runs out)"
                                            : "");
    else
        print_held(r, fluid);
    size_t told = 0;
    for (size_t i = 0; i < s->pools && i < 12; i++) {
        if (vug_moment_pool(end, i, &pool) != VUG_OK || pool.volume_mm3 < LEAST_MM3)
            continue;
        told++;
        printf("Pool %zu: %s, lowest at %s, up to level %.2f mm\n", i + 1,
            amount_ml(pool.volume_mm3).text, amount_place(pool.bottom_mm, 1).text, pool.level_mm);
    }
    if (s->pools > told)
        printf("%s%zu smaller pool%s\n", told > 0 ? "and " : "", s->pools - told,
            s->pools - told == 1 ? "" : "s");
}

/* What a lone hole that wide does, in words that go with the time that is told. */
static const char *lone_words(double diameter, double slides, double held, bool ran)
{
    if (diameter <= slides)
        return "does not run by itself";
    if (!ran)
        return "is wide enough, perhaps, for air, but what is told above holds the liquid all the "
               "same";
    return diameter > held ? "runs by itself"
                           : "may or may not run by itself, and takes that time if it does";
}

/* A hole alone lets liquid out only in exchange for air. ran: does it, by the run? */
static void print_lone_hole(const part *p, const settings *s, uint32_t cavity, bool ran)
{
    vug_opening_info info = {.struct_size = sizeof info}, lone;
    size_t open = 0;
    double slides = 0.0, held = 0.0;
    for (size_t i = 0; i < p->openings; i++) {
        if (p->role[i] == VUG_ROLE_SEALED || vug_cavities_opening(p->cavities, i, &info) != VUG_OK
            || info.cavity != cavity)
            continue;
        lone = info;
        open++;
    }
    if (open != 1 || vug_exchange_diameter(NULL, &s->liquid.typical, &slides, &held) != VUG_OK)
        return;
    printf("A lone hole of %.2f mm %s. Holes let air in past the liquid from %.2f mm on if the "
           "line of "
           "contact slides, from %.2f mm on if a sharp rim holds it\n",
        lone.diameter_mm, lone_words(lone.diameter_mm, slides, held, ran), slides, held);
}

static void print(const outcome *o, const void *asked)
{
    const answer *a = asked;
    printf("Liquid: %s\n\n", a->asked->liquid.words);
    print_course(o->part, &a->asked->liquid.typical, o->course, &o->summary, o->end);
    part_print_doubt(o->part, o->summary.cavity);
    part_print_others(o->part, o->summary.cavity);
    if (o->summary.end != VUG_END_BLOCKED)
        print_lone_hole(o->part, a->asked, o->summary.cavity, o->summary.time_s >= 0.0);
    if (a->found)
        printing_print(a->found);
}

static json_t *to_json(const outcome *o, const void *asked)
{
    const vug_course_info *s = &o->summary;
    const answer *a = asked;
    json_t *root = json_pack("{s:f, s:f, s:f, s:f, s:o, s:b, s:i, s:f, s:o, s:o}", "capacity_mm3",
        s->capacity_mm3, "residue_mm3", s->liquid_mm3, "film_mm3", s->film_mm3, "film_mm",
        s->film_mm, "time_s", seconds_json(s->time_s), "too_narrow_to_drain", s->held, "cavity",
        (int)s->cavity, "spacing_mm", s->spacing_mm, "pools", pools_json(o->end, s->pools),
        "events", events_json(o->course));
    running r = find_running(o->part, o->course, s);
    json_object_set_new(root, "left_aside", part_others_json(o->part, s->cavity));
    json_object_set_new(root, "runs_s", seconds_json(r.time_s));
    json_object_set_new(root, "stuck_mm3", json_real(r.stuck_mm3));
    if (a->found)
        json_object_set_new(root, "printing", printing_json(a->found));
    return root;
}

static int print_printing(const tool *program, const settings *s, const printing *found)
{
    if (wants_text(s->part.json))
        printing_print(found);
    return s->part.json
        ? json_write(program, json_pack("{s:o}", "printing", printing_json(found)), s->part.json)
        : DONE;
}

/* A part without a cavity has nothing to drain, but it may be a cup. */
static int only_print(const tool *program, part *p, const settings *s)
{
    printing found;
    vug_status status = printing_find(p, -1, s->part.up, s->part.columns, &s->how, &found);
    int code = status ? fail_status(program, p->ctx, status) : print_printing(program, s, &found);
    printing_free(&found);
    return code;
}

static int drain(const tool *program, const char *file, part *p, const settings *s)
{
    vug_course *course = NULL;
    printing found = {.inside = NULL};
    vug_drain_options options;
    vug_drain_options_init(&options, sizeof options);
    options.cavity = (int32_t)s->cavity;
    options.columns_across = (uint32_t)s->part.columns;
    options.drip_s = s->drip_s;
    vug_status status = vug_drain_run(p->ctx, p->cavities, &s->liquid.typical, s->part.up, p->role,
        p->openings, &options, &course);
    if (!status && s->printing) {
        vug_course_info summary = {.struct_size = sizeof summary};
        status = vug_course_get(course, &summary);
        if (!status)
            status = printing_find(p, (int32_t)summary.cavity, s->part.up, s->part.columns, &s->how,
                &found);
    }
    const answer a = {s, s->printing ? &found : NULL};
    const outcome_teller teller = {print, to_json, &a, true};
    int code = status ? fail_status(program, p->ctx, status)
                      : outcome_tell(program, file, p, &s->part, course, &teller);
    printing_free(&found);
    vug_course_free(course);
    return code;
}

static int run(const tool *program, const char *file, settings *s)
{
    part p = {.ctx = NULL};
    int code = liquid_read(program, &s->asked, &s->liquid);
    if (code == DONE)
        code = part_open(program, file, &s->part, VUG_ROLE_VENT, &p);
    if (code == DONE)
        code = s->printing && vug_cavities_count(p.cavities) == 0 ? only_print(program, &p, s)
                                                                  : drain(program, file, &p, s);
    part_close(&p);
    return code;
}

int main(int argc, char **argv)
{
    settings s = {.part = part_usual(), .asked = liquid_usual(), .cavity = -1, .drip_s = 60.0};
    s.how = printing_usual();
    const option ways[] = {
        {.name = "--cavity",
            .value = "N",
            .kind = OPTION_WHOLE,
            .target = &s.cavity,
            .lo = 0,
            .hi = 1e9,
            .help = "cavity to drain; that of the first open opening unless given"},
    };
    const option then[] = {
        {.name = "--drip",
            .value = "S",
            .kind = OPTION_NUMBER,
            .target = &s.drip_s,
            .lo = 1e-3,
            .hi = 1e9,
            .help = "how long the walls drip once the flow has ended; 60 unless given"},
    };
    const option cups[] = {
        {.name = "--printing",
            .kind = OPTION_FLAG,
            .target = &s.printing,
            .help =
                "also list the closed cups and the suction while the part is printed, up being the "
                "build direction from the plate; needs no cavity"},
        {.name = "--supports",
            .kind = OPTION_FLAG,
            .target = &s.how.supports,
            .help = "it is printed on supports: the plate shuts no opening"},
        {.name = "--layer",
            .value = "MM",
            .kind = OPTION_NUMBER,
            .target = &s.how.layer_mm,
            .lo = 1e-3,
            .hi = 10.0,
            .help = "height of a layer while printing; 0.05 unless given"},
        {.name = "--lift",
            .value = "MM/S",
            .kind = OPTION_NUMBER,
            .target = &s.how.lift_mm_s,
            .lo = 1e-3,
            .hi = 1e3,
            .help = "speed at which a layer is lifted off the film; 1 unless given"},
        {.name = "--film",
            .value = "PA",
            .kind = OPTION_NUMBER,
            .target = &s.how.film_pa,
            .lo = 1.0,
            .hi = 101325.0,
            .help = "suction that the film may bear; 2000 unless given"},
        {.name = "--resin-density",
            .value = "KG/M3",
            .kind = OPTION_NUMBER,
            .target = &s.how.vat_kg_m3,
            .lo = 1.0,
            .hi = 30000.0,
            .help = "of the resin in the vat; 1100 unless given"},
        {.name = "--resin-viscosity",
            .value = "PA_S",
            .kind = OPTION_NUMBER,
            .target = &s.how.vat_pa_s,
            .lo = 1e-6,
            .hi = 1e6,
            .help = "of the resin in the vat; 0.2 unless given"},
    };
    option
        options[PART_CHOICES + LIQUID_CHOICES + 1 + OUTCOME_CHOICES + sizeof ways / sizeof ways[0]
            + sizeof then / sizeof then[0] + sizeof cups / sizeof cups[0]],
        *next = options;
    next = part_choices(next, &s.part,
        "how it is held: the direction X,Y,Z of its file that points up, or words such as \"its "
        "top up, "
        "leaning 25 degrees so that its front rises\"; 0,0,1 unless given",
        "opening that is open, like --vent",
        "opening that is open, to liquid and to air; may be given again. If none is named "
        "all are open, else those not named are sealed");
    next = options_add(next, ways, sizeof ways / sizeof ways[0]);
    next = liquid_choices(next, &s.asked);
    next = options_add(next, then, sizeof then / sizeof then[0]);
    next = columns_choice(next, &s.part);
    next = options_add(next, cups, sizeof cups / sizeof cups[0]);
    next = outcome_choices(next, &s.part,
        "draw the part cut open at six moments of the drain, with its curves: BASE.png, BASE.svg "
        "and BASE.pdf");
    const tool program = {.name = "vug-drain",
        .operands = "MESH",
        .operand_count = 1,
        .about =
            "Drains a full hollow part in one pose: what runs out, how long it takes, what stays "
            "behind in pools and as a film.",
        .notes = "Volumes are in mm3 (1000 mm3 = 1 mL). Openings are called A, B ... as "
                 "vug-measure lists "
                 "them; their numbers from 0 do too. Solvent and uncured resin: gloves, goggles, "
                 "fresh air, no flame; collect what "
                 "runs "
                 "out; the data sheets and local rules come first.",
        .options = options,
        .option_count = (size_t)(next - options)};
    const char *file;
    int code = options_read(&program, argc, argv, &file);
    if (code == GO_ON)
        code = run(&program, file, &s);
    part_settings_free(&s.part);
    return code;
}

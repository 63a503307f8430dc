/* SPDX-License-Identifier: MIT
 * vug-drain: what runs out of a hollow part held in one pose, how long it takes, what stays behind. */
#include "printing.h"

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
#include <stdlib.h>
#include <string.h>

typedef struct settings {
    part_settings part;
    const char *json, *picture;
    int64_t cavity;
    liquid_settings asked;
    liquid liquid;
    double drip_s;
    bool printing;
    printing_settings how;
} settings;

static void print(const vug_course *course, const vug_course_info *s, const vug_moment *end)
{
    vug_pool_info pool = {.struct_size = sizeof pool};
    double percent = 100.0 / s->capacity_mm3;
    events_print(course, true);
    printf("\nCavity         %10.3f mL\nStays behind   %10.3f mL (%.2f %%) in %u pools\n",
        s->capacity_mm3 / 1000.0, s->liquid_mm3 / 1000.0, s->liquid_mm3 * percent,
        (unsigned)s->pools);
    printf("Film on walls  %10.3f mL (%.3f mm)\n", s->film_mm3 / 1000.0, s->film_mm);
    if (s->time_s > clock_longest_s)
        puts(
            "Time            more than a day: thin the liquid, open a wider hole, or press air in");
    else if (s->time_s >= 0.0)
        printf("Time           %10.1f s%s\n", s->time_s,
            s->held                         ? ""
                : s->end == VUG_END_BLOCKED ? " (nothing runs out)"
                                            : "");
    else
        puts("Time                never by itself: the way out is too narrow for air to come in "
             "past the "
             "liquid.\nOpen a second hole, higher up, or turn and shake the part.");
    for (size_t i = 0; i < s->pools && i < 12; i++) {
        if (vug_moment_pool(end, i, &pool) == VUG_OK)
            printf("Pool %zu: %.3f mL, lowest at (%.1f, %.1f, %.1f), up to level %.2f mm\n", i + 1,
                pool.volume_mm3 / 1000.0, pool.bottom_mm[0], pool.bottom_mm[1], pool.bottom_mm[2],
                pool.level_mm);
    }
    if (s->pools > 12)
        printf("and %u smaller pools\n", (unsigned)s->pools - 12);
}

/* A hole alone lets liquid out only in exchange for air. */
static void print_lone_hole(const part *p, const settings *s, uint32_t cavity)
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
    double d = lone.diameter_mm;
    printf("A lone hole of %.2f mm %s: holes let air in past the liquid from %.2f mm on if the "
           "line of "
           "contact slides, from %.2f mm on if a sharp rim holds it\n",
        d,
        d > held         ? "runs"
            : d > slides ? "may or may not run"
                         : "does not run by itself",
        slides, held);
}

static json_t *to_json(const vug_course *course, const vug_course_info *s, const vug_moment *end)
{
    return json_pack("{s:f, s:f, s:f, s:f, s:o, s:b, s:i, s:f, s:o, s:o}", "capacity_mm3",
        s->capacity_mm3, "residue_mm3", s->liquid_mm3, "film_mm3", s->film_mm3, "film_mm",
        s->film_mm, "time_s", seconds_json(s->time_s), "too_narrow_to_drain", s->held, "cavity",
        (int)s->cavity, "spacing_mm", s->spacing_mm, "pools", pools_json(end, s->pools), "events",
        events_json(course));
}

static int draw(const tool *program, const char *file, part *p, const settings *s,
    const vug_course *course, const vug_course_info *summary)
{
    char name[64], title[120], subtitle[160];
    short_name(file, name);
    snprintf(title, sizeof title, "%s: draining it with (%.3g, %.3g, %.3g) up", name, s->part.up[0],
        s->part.up[1], s->part.up[2]);
    snprintf(subtitle, sizeof subtitle, "%.2f mL of %.2f mL stay behind in pools (%.1f %%)",
        1e-3 * summary->liquid_mm3, 1e-3 * summary->capacity_mm3,
        100.0 * summary->liquid_mm3 / summary->capacity_mm3);
    course_picture picture = {.file = file,
        .base = s->picture,
        .title = title,
        .subtitle = subtitle,
        .liquid = "liquid",
        .cavities = p->cavities,
        .course = course,
        .up = s->part.up,
        .roles = p->role,
        .opening_count = p->openings,
        .drain = true};
    return course_draw(program, p->ctx, &picture);
}

static int report(const tool *program, const char *file, part *p, const settings *s,
    const vug_course *course, const printing *found)
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
        print_lone_hole(p, s, summary.cavity);
        if (found)
            printing_print(found);
    }
    if (s->json) {
        json_t *root = to_json(course, &summary, end);
        if (found)
            json_object_set_new(root, "printing", printing_json(found));
        code = json_write(program, root, s->json);
    }
    if (code == DONE && s->picture)
        code = draw(program, file, p, s, course, &summary);
    vug_moment_free(end);
    return code;
}

static int print_printing(const tool *program, const settings *s, const printing *found)
{
    if (!s->json || strcmp(s->json, "-") != 0)
        printing_print(found);
    return s->json
        ? json_write(program, json_pack("{s:o}", "printing", printing_json(found)), s->json)
        : DONE;
}

/* A part without a cavity has nothing to drain, but it may be a cup. */
static int only_print(const tool *program, const char *file, part *p, const settings *s)
{
    printing found;
    vug_status status = printing_find(p, file, -1, s->part.up, s->part.columns, &s->how, &found);
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
            status = printing_find(p, file, (int32_t)summary.cavity, s->part.up, s->part.columns,
                &s->how, &found);
    }
    int code = status ? fail_status(program, p->ctx, status)
                      : report(program, file, p, s, course, s->printing ? &found : NULL);
    printing_free(&found);
    vug_course_free(course);
    return code;
}

static int run(const tool *program, const char *file, settings *s)
{
    part p;
    int code = part_open(program, file, &s->part, VUG_ROLE_VENT, &p);
    if (code == DONE)
        code = s->printing && vug_cavities_count(p.cavities) == 0 ? only_print(program, file, &p, s)
                                                                  : drain(program, file, &p, s);
    part_close(&p, &s->part);
    return code;
}

int main(int argc, char **argv)
{
    settings s = {.part = part_usual(), .cavity = -1, .asked = liquid_unasked(), .drip_s = 60.0};
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
    const option outcome[] = {
        {.name = "--picture",
            .value = "BASE",
            .kind = OPTION_TEXT,
            .target = &s.picture,
            .help = "draw the part cut open at six moments of the drain: BASE.png and BASE.svg"},
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
        {.name = "--json",
            .value = "FILE",
            .kind = OPTION_TEXT,
            .target = &s.json,
            .help = "write the outcome as JSON; - for standard output"},
    };
    option options[PART_CHOICES + LIQUID_CHOICES + 1 + sizeof ways / sizeof ways[0]
        + sizeof then / sizeof then[0] + sizeof outcome / sizeof outcome[0]],
        *next = options;
    next = part_choices(next, &s.part,
        "direction that points up while draining; 0,0,1 unless given",
        "opening that is open, like --vent",
        "opening that is open, to liquid and to air; may be given again. If none is named "
        "all are open, else those not named are sealed");
    next = options_add(next, ways, sizeof ways / sizeof ways[0]);
    next = liquid_choices(next, &s.asked);
    next = options_add(next, then, sizeof then / sizeof then[0]);
    next = columns_choice(next, &s.part);
    next = options_add(next, outcome, sizeof outcome / sizeof outcome[0]);
    const tool program = {.name = "vug-drain",
        .operands = "MESH",
        .operand_count = 1,
        .about =
            "Drains a full hollow part in one pose: what runs out, how long it takes, what stays "
            "behind in pools and as a film.",
        .notes =
            "Volumes are in mm3 (1000 mm3 = 1 mL). Openings are numbered as measure lists them, "
            "from 0. Solvent and uncured resin: gloves, goggles, fresh air, no flame; collect what "
            "runs "
            "out; the data sheets and local rules come first.",
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

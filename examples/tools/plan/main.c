/* SPDX-License-Identifier: MIT
 * vug-plan: how to fill a hollow part: how to hold it, how to turn it, where to drill, how much paint,
 * step by step, with a picture. */
#include "draw.h"
#include "json.h"
#include "make.h"
#include "page.h"
#include "text.h"
#include "write_part.h"
#include "../sheet/backlit.h"
#include "../sheet/globe.h"
#include "../sheet/sheet.h"
#include "../tool/fail.h"
#include "../tool/json.h"
#include "../tool/progress.h"

#include <stdlib.h>
#include <string.h>

static int report(const tool *program, const fill_plan *plan)
{
    const plan_settings *s = plan->settings;
    int code = DONE;
    if (!s->json || s->json[0] != '-' || s->json[1] != '\0')
        code = plan_print(program, plan);
    if (code == DONE && s->json)
        code = json_write(program, plan_json(plan), s->json);
    if (code == DONE && s->picture)
        code = plan_draw(program, plan, s->picture);
    if (code == DONE && s->part)
        code = plan_write_part(program, plan, s->part);
    if (code == DONE && s->sheet)
        code = plan_sheet(program, plan, s->sheet, s->paper);
    if (code == DONE && s->page)
        code = plan_page(program, plan, s->page);
    if (code == DONE && s->globe)
        code = plan_globe(program, plan, s->globe);
    if (code == DONE && s->backlit)
        code = plan_backlit(program, plan, s->backlit);
    return code;
}

static int run(const tool *program, const plan_settings *settings)
{
    fill_plan plan = {.settings = settings};
    int code = settings->page ? plan_page_ready(program) : DONE;
    if (code != DONE)
        return code;
    code = plan_make(program, &plan);
    progress_clear();
    print_warnings(program, plan.ctx);
    if (code == DONE)
        code = report(program, &plan);
    fill_plan_free(&plan);
    return code;
}

/* What goes with what is inside already. */
static int check_start(const tool *program, const plan_settings *s)
{
    bool held = s->held[0] != 0.0 || s->held[1] != 0.0 || s->held[2] != 0.0;
    if (s->inside_ml > 0.0 && !held)
        return fail_usage(program, "--inside-ml wants --held: how it is held now");
    if (s->inside_ml <= 0.0 && (held || s->air.count > 0))
        return fail_usage(program, "%s wants --inside-ml: how much is in it",
            held ? "--held" : "--air-at");
    if (s->inside_ml > 0.0 && (s->pose_given || s->design))
        return fail_usage(program, "--inside-ml does not go with %s: the part is filled already",
            s->design ? "--design" : "--up");
    return GO_ON;
}

/* Who asks for a cavity still prints the part. */
static int check_hollow(const tool *program, const plan_settings *s)
{
    if (s->wall_mm > 0.0 && !s->design)
        return fail_usage(program, "--hollow goes with --design: the part is not printed yet");
    if (s->simplify_mm > 0.0 && !(s->wall_mm > 0.0))
        return fail_usage(program, "--simplify goes with --hollow");
    return GO_ON;
}

int main(int argc, char **argv)
{
    plan_settings s = {.mesh = mesh_usual(),
        .clear = {.width = 4},
        .prefer = {.width = 4},
        .views = {.width = 3},
        .air = {.width = 3},
        .plugged = {.width = 1},
        .paint = "thinned acrylic",
        .rinse = "isopropanol",
        .paper = "a4",
        .inlet = -1,
        .syringe_ml = 10.0,
        .limit_percent = 0.5,
        .bare_percent = 100.0,
        .temperature_c = 20.0,
        .angle_deg = -1.0,
        .poses = 96,
        .columns = 280,
        .turns = 4,
        .repeats = 2,
        .bores = 3};
    const option own[] = {
        {"--design", NULL,
            "The part is not printed yet: new holes belong into its model, for rinsing and curing "
            "too. A part without openings gets its first ones proposed, and each cavity two where "
            "one alone may hold the liquid in.",
            OPTION_FLAG, &s.design, 0, 0, 0},
        {"--hollow", "MM",
            "The part is solid: make a cavity in it first, behind a wall so thick; with --design. "
            "--write-part saves it hollow.",
            OPTION_NUMBER, &s.wall_mm, 0.1, 1000.0, 0},
        {"--simplify", "MM",
            "Then, fewer triangles for the cavity's surface, which moves by no more than this.",
            OPTION_NUMBER, &s.simplify_mm, 0, 1000.0, 0},
        {"--up", "POSE",
            "Fill it held so, in place of the best pose found: the direction X,Y,Z of its file "
            "that "
            "points up, or words such as \"its top up, leaning 25 degrees so that its front "
            "rises\". "
            "The nearest pose that such words say is taken.",
            OPTION_UP, s.up, 0, 0, 3},
        {"--inside-ml", "ML", "So much is in it already: plan the way on from there. Takes --held.",
            OPTION_NUMBER, &s.inside_ml, 0.0, 1e6, 0},
        {"--held", "POSE", "How it is held now, with all openings covered, as for --up.", OPTION_UP,
            s.held, 0, 0, 3},
        {"--air-at", "X,Y,Z",
            "Air is seen here, on the skin or inside, with --inside-ml. Any number of times "
            "(default: where a fill "
            "in that pose leaves it).",
            OPTION_ROWS, &s.air, 0, 0, 0},
        {"--plugged", "OPENING", "This opening is plugged and stays so. Any number of times.",
            OPTION_OPENINGS, &s.plugged, 0, 0, 0},
        {"--inlet", "OPENING", "Inject by this opening: A, B ... or its number from 0.",
            OPTION_OPENING, &s.inlet, 0, 0, 0},
        {"--liquid", "NAME",
            "What it is filled with: craft-acrylic, thinned-acrylic (default), dyed-epoxy, "
            "plaster-slip, resin, isopropanol, water.",
            OPTION_TEXT, &s.paint, 0, 0, 0},
        {"--paint", "NAME", "The same as --liquid.", OPTION_TEXT, &s.paint, 0, 0, 0},
        {"--angle", "DEG",
            "Contact angle of the paint on the part (default: as the paint is known).",
            OPTION_NUMBER, &s.angle_deg, 0.0, 180.0, 0},
        {"--rinse", "NAME", "What it is rinsed with: isopropanol (default) or another of these.",
            OPTION_TEXT, &s.rinse, 0, 0, 0},
        {"--turns", "N", "Turns allowed after the first fill (default 4).", OPTION_WHOLE, &s.turns,
            0, VUG_MAX_TURNS, 0},
        {"--repeats", "N",
            "How often the last turns may be done again for hands that are not exact, or, twice as "
            "often, the part be held anew where there is no turn (default 2; 0: never).",
            OPTION_WHOLE, &s.repeats, 0, VUG_MAX_TURNS, 0},
        {"--bores", "N", "New holes allowed (default 3).", OPTION_WHOLE, &s.bores, 0, VUG_MAX_BORES,
            0},
        {"--limit", "PERCENT", "How much of the cavity may stay air (default 0.5).", OPTION_NUMBER,
            &s.limit_percent, 0.0, 100.0, 0},
        {"--bare", "PERCENT", "How much of the skin may stay bare (default 100).", OPTION_NUMBER,
            &s.bare_percent, 0.0, 100.0, 0},
        {"--drill", "MM", "Diameter of new holes (default: chosen for each).", OPTION_NUMBER,
            &s.drill_mm, 0.2, 25.0, 0},
        {"--keep-clear", "X,Y,Z,R", "No new hole within R mm of this point. Any number of times.",
            OPTION_ROWS, &s.clear, 0, 0, 0},
        {"--prefer", "X,Y,Z,R", "Rather drill within R mm of this point. Any number of times.",
            OPTION_ROWS, &s.prefer, 0, 0, 0},
        {"--view", "X,Y,Z",
            "The part is looked at from this direction: new holes hide from it. Any "
            "number of times (default: from all sides and above).",
            OPTION_ROWS, &s.views, 0, 0, 0},
        {"--syringe", "ML", "Size of the syringe (default 10).", OPTION_NUMBER, &s.syringe_ml, 0.5,
            1000.0, 0},
        {"--poses", "N", "Poses to search among (default 96).", OPTION_WHOLE, &s.poses, 1, 1000, 0},
        {"--columns", "N", "Columns across the cavity that volumes are measured on (default 280).",
            OPTION_WHOLE, &s.columns, 20, 5000, 0},
        {"--json", "FILE|-",
            "Write the plan as JSON ('-': to standard output, in place of the text).", OPTION_TEXT,
            &s.json, 0, 0, 0},
        {"--write-part", "FILE",
            "Save the part with the new holes cut into it, to be printed instead of drilled: STL, "
            "PLY or 3MF "
            "by the ending.",
            OPTION_TEXT, &s.part, 0, 0, 0},
        {"--picture", "BASE", "Draw the plan: BASE.png, BASE.svg and BASE.pdf.", OPTION_TEXT,
            &s.picture, 0, 0, 0},
        {"--sheet", "FILE.pdf",
            "Pages to print for the bench: steps to tick off, with the part as it is held, and "
            "places "
            "to drill in true size.",
            OPTION_TEXT, &s.sheet, 0, 0, 0},
        {"--paper", "a4|letter", "Paper of the sheet (default a4).", OPTION_TEXT, &s.paper, 0, 0,
            0},
        {"--page", "FILE.html",
            "A page for a browser with the part and its plan inside: to turn the part by hand and "
            "see where paint and air go, and the plan's steps one by one. It needs no network.",
            OPTION_TEXT, &s.page, 0, 0, 0},
        {"--globe", "FILE",
            "Map of the air that stays in every pose, with the new holes in it: PNG, SVG or PDF by "
            "the ending.",
            OPTION_TEXT, &s.globe, 0, 0, 0},
        {"--backlit", "BASE",
            "The part against the light: BASE-empty.png, BASE-half.png, BASE-full.png.",
            OPTION_TEXT, &s.backlit, 0, 0, 0},
    };
    option options[MESH_CHOICES + sizeof own / sizeof own[0]];
    option *next = options_add(mesh_choices(options, &s.mesh), own, sizeof own / sizeof own[0]);
    const tool program = {"vug-plan", "MESH", 1,
        "Plans how to fill the hollow part in MESH with paint: how to hold it, how to turn it so "
        "that "
        "the air gets out, where to drill if turning is not enough, through which opening to fill, "
        "how "
        "much paint in how many syringes, and how to rinse and drain it before. MESH is an STL in "
        "mm, "
        "or another format that the library was built for.",
        "Filling is measured on the part with the new holes in it, washing on the part as it is "
        "then: "
        "without --design, new holes are drilled in the washed and cured part.",
        options, (size_t)(next - options)};
    int code = options_read(&program, argc, argv, &s.file);
    if (code == GO_ON && s.up[0] * s.up[0] + s.up[1] * s.up[1] + s.up[2] * s.up[2] > 0.0)
        s.pose_given = true;
    if (code == GO_ON)
        code = check_start(&program, &s);
    if (code == GO_ON)
        code = check_hollow(&program, &s);
    if (code == GO_ON && strcmp(s.paper, "a4") != 0 && strcmp(s.paper, "letter") != 0)
        code = fail_usage(&program, "there is no paper %s: a4 or letter", s.paper);
    if (code == GO_ON)
        code = run(&program, &s);
    mesh_settings_free(&s.mesh);
    free(s.clear.number);
    free(s.prefer.number);
    free(s.views.number);
    free(s.air.number);
    free(s.plugged.number);
    return code;
}

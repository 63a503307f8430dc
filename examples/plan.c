/* SPDX-License-Identifier: MIT
 * plan: how to fill a hollow part: how to hold it, which vents to drill, how much paint, step by
 * step, with a picture. */
#include "plan.h"

#include <math.h>
#include <stdlib.h>

static vug_status load(fill_plan *plan)
{
    vug_status status = vug_context_create(NULL, &plan->ctx);
    if (!status)
        status = vug_mesh_load(plan->ctx, plan->settings->file, NULL, &plan->mesh);
    return status;
}

static int report(const example *program, const fill_plan *plan)
{
    const plan_settings *s = plan->settings;
    int code = DONE;
    if (!s->json || s->json[0] != '-' || s->json[1] != '\0')
        plan_print(plan);
    if (s->json)
        code = json_write(program, plan_json(plan), s->json);
    if (code == DONE && s->picture)
        code = plan_draw(program, plan, s->picture);
    return code;
}

static int run(const example *program, const plan_settings *settings)
{
    fill_plan plan = {.settings = settings};
    int code;
    vug_status status = load(&plan);
    if (!status)
        status = plan_make(&plan);
    print_warnings(program, plan.ctx);
    if (status && plan.closed)
        code = fail(program, vug_cavities_count(plan.cavities) == 0
            ? "%s: there is no cavity in it; if it opens by a hole, name that with --hole"
            : "%s: its cavity has no opening; say with --hole where to drill one", settings->file);
    else if (status && plan.mesh)
        code = fail(program, "%s: %s", settings->file, vug_context_message(plan.ctx));
    else if (status)
        code = fail_status(program, plan.ctx, status);
    else
        code = report(program, &plan);
    plan_free(&plan);
    return code;
}

int main(int argc, char **argv)
{
    plan_settings s = {.holes = {.width = 7}, .drill_mm = 1.0, .syringe_ml = 5.0,
        .limit_percent = 0.5, .poses = 1000, .columns = 280};
    const option options[] = {
        {"--hole", "X,Y,Z,DX,DY,DZ,D", "An opening: a point on the skin, the direction out of the "
            "part, the diameter in mm. Once for each opening. Openings that nobody names are looked "
            "for.", OPTION_ROWS, &s.holes, 0, 0, 0},
        {"--up", "X,Y,Z", "Hold the part so, this direction of its own axes up, in place of the best "
            "pose found.", OPTION_ROW, s.up, 0, 0, 3},
        {"--drill", "MM", "Diameter of the vents to drill (default 1).", OPTION_NUMBER, &s.drill_mm,
            0.2, 25.0, 0},
        {"--limit", "PERCENT", "How much of the cavity may stay air (default 0.5).", OPTION_NUMBER,
            &s.limit_percent, 0.0, 100.0, 0},
        {"--syringe", "ML", "Size of the syringe (default 5).", OPTION_NUMBER, &s.syringe_ml, 0.5,
            1000.0, 0},
        {"--poses", "N", "Poses to try (default 1000).", OPTION_WHOLE, &s.poses, 6, 1e6, 0},
        {"--columns", "N", "Columns across the cavity that volumes are measured on (default 280).",
            OPTION_WHOLE, &s.columns, 20, 5000, 0},
        {"--json", "FILE|-", "Write the plan as JSON ('-': to standard output, in place of the text).",
            OPTION_TEXT, &s.json, 0, 0, 0},
        {"--picture", "BASE", "Draw the plan: BASE.png and BASE.svg.", OPTION_TEXT, &s.picture, 0, 0,
            0},
    };
    const example program = {
        "plan", "MESH", 1,
        "Plans how to fill the hollow part in MESH with paint: how to hold it, which vents to drill "
        "so that no air stays, through which opening to fill, how much paint in how many syringes. "
        "MESH is an STL in mm, or another format that the library was built for.",
        "Every figure is measured on the part with the vents in it. The part must be washed and "
        "cured before it is drilled; see the cautions at the end of the plan.",
        options, sizeof options / sizeof options[0]};
    int code = options_read(&program, argc, argv, &s.file);
    if (code == GO_ON && s.up[0] * s.up[0] + s.up[1] * s.up[1] + s.up[2] * s.up[2] > 0.0)
        s.pose_given = true;
    if (code == GO_ON)
        code = run(&program, &s);
    free(s.holes.number);
    return code;
}

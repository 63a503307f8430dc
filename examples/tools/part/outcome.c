/* SPDX-License-Identifier: MIT
 * What came of a fill or a drain: told, written and drawn alike. */
#include "outcome.h"

#include "../picture/course.h"
#include "../tool/amounts.h"
#include "../tool/fail.h"
#include "../tool/file_name.h"
#include "../tool/json.h"
#include "../tool/progress.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

bool wants_text(const char *json)
{
    return !json || strcmp(json, "-") != 0;
}

/* Is that much inside on the way? */
static int check_at(const tool *program, const part_settings *s, const vug_course_info *sum,
    bool drain)
{
    const number_rows *at = &s->at;
    double least = drain ? sum->liquid_mm3 : 0.0,
           most = drain ? sum->capacity_mm3 : sum->liquid_mm3;
    if (at->count && !s->picture)
        return fail_usage(program, "--at says what to draw: give --picture too");
    for (size_t i = 0; i < at->count; i++)
        if (!(at->number[i] >= 0.99999 * least && at->number[i] <= 1.00001 * most))
            return fail_usage(program, "--at %g: there are %.6g to %.6g mm3 inside on the way",
                at->number[i], 1e-3 * round(1e3 * least), 1e-3 * round(1e3 * most));
    return DONE;
}

static int draw(const tool *program, const char *file, const part_settings *s, const outcome *o,
    bool drain)
{
    char name[64], title[320], subtitle[200], pose[200] = "";
    const vug_course_info *sum = &o->summary;
    vug_pose_words(o->part->ctx, NULL, s->up, pose, sizeof pose);
    short_name(file, name);
    snprintf(title, sizeof title, "%s: %s it, %s", name, drain ? "draining" : "filling", pose);
    if (drain)
        snprintf(subtitle, sizeof subtitle, "%s inside at first; stays behind in pools: %s",
            amount_ml(sum->capacity_mm3).text, amount_ml(sum->liquid_mm3).text);
    else
        snprintf(subtitle, sizeof subtitle, "liquid goes in: %s, air stays caught: %s",
            amount_ml(sum->liquid_mm3).text, amount_ml(sum->trapped_mm3).text);
    course_picture picture = {.mesh = o->part->mesh,
        .base = s->picture,
        .title = title,
        .subtitle = subtitle,
        .liquid = "liquid",
        .cavities = o->part->cavities,
        .course = o->course,
        .up = s->up,
        .roles = o->part->role,
        .opening_count = o->part->openings,
        .at_mm3 = s->at.number,
        .at_count = s->at.count,
        .drain = drain};
    return course_draw(program, o->part->ctx, &picture);
}

int outcome_tell(const tool *program, const char *file, const part *p, const part_settings *s,
    const vug_course *course, const outcome_teller *teller)
{
    outcome o = {.part = p, .course = course, .summary = {.struct_size = sizeof o.summary}};
    int code = DONE;
    vug_status status = vug_course_get(course, &o.summary);
    if (!status)
        status = vug_course_at_time(p->ctx, course, INFINITY, &o.end);
    if (status)
        return fail_status(program, p->ctx, status);
    progress_clear();
    code = check_at(program, s, &o.summary, teller->drain);
    if (code == DONE && wants_text(s->json))
        teller->print(&o, teller->asked);
    if (code == DONE && s->json)
        code = json_write(program, teller->json(&o, teller->asked), s->json);
    if (code == DONE && s->picture)
        code = draw(program, file, s, &o, teller->drain);
    vug_moment_free(o.end);
    return code;
}

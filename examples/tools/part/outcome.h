/* SPDX-License-Identifier: MIT
 * What came of a fill or a drain: told, written and drawn alike. */
#ifndef TOOLS_PART_OUTCOME_H
#define TOOLS_PART_OUTCOME_H

#include "part.h"

#include <jansson.h>
#include <stdbool.h>

typedef struct outcome {
    const part *part;
    const vug_course *course;
    vug_course_info summary;
    vug_moment *end; /* how it is in the end */
} outcome;

/* How a program tells it; asked is its own. */
typedef struct outcome_teller {
    void (*print)(const outcome *outcome, const void *asked);
    json_t *(*json)(const outcome *outcome, const void *asked);
    const void *asked;
    bool drain;
} outcome_teller;

/* As text unless JSON takes its place, as JSON and as a picture if asked for. DONE or an exit code. */
int outcome_tell(const tool *program, const char *file, const part *p,
    const part_settings *settings, const vug_course *course, const outcome_teller *teller);

/* Is text wanted on standard output, with this for --json? */
bool wants_text(const char *json);

#endif

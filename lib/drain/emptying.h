/* SPDX-License-Identifier: MIT
 * Emptying a full cavity. */
#ifndef VUGI_DRAIN_EMPTYING_H
#define VUGI_DRAIN_EMPTYING_H

#include "course/course_types.h"

/* Drains the course's scene through its open mouths, with times: history and summary. start: of each
 * arc, its level at first; NULL: all are full. */
vug_status vugi_emptying_run(vug_context *ctx, vug_course *course, const vug_fluid *fluid,
    const double *start);

#endif

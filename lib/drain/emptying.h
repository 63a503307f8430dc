/* SPDX-License-Identifier: MIT
 * Emptying a full cavity. */
#ifndef VUGI_DRAIN_EMPTYING_H
#define VUGI_DRAIN_EMPTYING_H

#include "course/course_types.h"

/* How long walls drip where nobody says it, s. */
#define VUGI_DRIP_S 60.0

/* Drains the course's scene through its open mouths, with times: history and summary. start: of each
 * arc, its level at first; NULL: all are full. fluid: NULL: in its order alone, without times, which is several times
 * as quick. */
vug_status vugi_emptying_run(vug_context *ctx, vug_course *course, const vug_fluid *fluid,
    const double *start);

/* How thick the film is on the walls of a cavity of this area, mm2, once they have dripped for a time, and its volume:
 * on what is no longer under liquid. Into the summary. */
void vugi_emptying_film(vug_course *course, const vug_fluid *fluid, double area, double drip_s);

#endif

/* SPDX-License-Identifier: MIT
 * How long air and liquid take to pass each other in the throats of a cavity. */
#ifndef VUGI_FILL_WAITS_H
#define VUGI_FILL_WAITS_H

#include "fill/job.h"

#include "course/chambers.h"
#include "course/course_types.h"

/* Sets the waits of a course that was made by the job, and adds its events. before: liquid in the chambers in the pose
 * that the part was turned from with its openings covered, job->start being the levels after it; NULL: it was not turned. */
vug_status vugi_fill_waits(vug_context *ctx, const vugi_fill_job *job, const double *before,
    vug_course *course);

#endif

/* SPDX-License-Identifier: MIT
 * How far the volumes at the end of a course may be off. */
#ifndef VUGI_COURSE_ERROR_H
#define VUGI_COURSE_ERROR_H

#include "course/course_types.h"

#include "cavity/cavity.h"

/* Sets the errors in the summary of a course that is finished. cavities: those that its scene was made of. */
vug_status vugi_course_set_errors(vug_context *ctx, const vug_cavities *cavities,
    vug_course *course);

#endif

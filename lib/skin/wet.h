/* SPDX-License-Identifier: MIT
 * What a course wets of a skin. */
#ifndef VUGI_SKIN_WET_H
#define VUGI_SKIN_WET_H

#include "course/course_types.h"
#include "skin/skin_types.h"

/* As vug_skin_wet(). end: the moment at the end of the course; NULL: not known yet. */
vug_status vugi_skin_wet(vug_context *ctx, struct vug_skin *skin, const vug_fluid *fluid,
    const vug_course *course, const vug_moment *end);

#endif

/* SPDX-License-Identifier: MIT
 * The state at one moment: which liquid is one pool, which air is one pocket. */
#ifndef VUGI_COURSE_STATE_H
#define VUGI_COURSE_STATE_H

#include "course/course_types.h"

#include "hydrostatic/history.h"

/* The moment of these levels, which it takes over. */
vug_status vugi_state_make(vug_context *ctx, const vug_course *course, const vugi_allocator *mem,
    double *level, const vugi_frame *frame, vug_moment **out);

#endif

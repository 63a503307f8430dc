/* SPDX-License-Identifier: MIT
 * From levels of arcs back to heights of liquid in the columns, and a section through them. */
#ifndef VUGI_COURSE_LEVELS_H
#define VUGI_COURSE_LEVELS_H

#include "course/course_types.h"

/* The height in each span up to which liquid stands. top: one for each span. */
vug_status vugi_column_levels(vug_context *ctx, const vugi_allocator *mem, const vug_moment *moment,
    double *top);

/* Keeps them in a moment that nobody else reads yet. */
vug_status vugi_moment_look(vug_context *ctx, vug_moment *moment);

/* Is there a surface in an arc, at its level? *pool: number in links of the liquid below it. */
bool vugi_arc_surface(const vug_moment *moment, uint32_t arc, uint32_t *pool);

#endif

/* SPDX-License-Identifier: MIT
 * The result of a fill or a drain. */
#ifndef VUGI_COURSE_COURSE_H
#define VUGI_COURSE_COURSE_H

#include "course/course_types.h"

#include "gravity/scene.h"

vug_course *vugi_course_new(vug_context *ctx, vugi_scene *scene);

/* Levels of the end and counts of what is left, into summary. */
vug_status vugi_course_finish(vug_context *ctx, vug_course *course);

#endif

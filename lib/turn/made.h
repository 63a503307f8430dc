/* SPDX-License-Identifier: MIT
 * A moment that is not of a course: so much liquid inside, and air where it is seen. */
#ifndef VUGI_TURN_MADE_H
#define VUGI_TURN_MADE_H

#include "course/course_types.h"
#include "gravity/scene.h"

/* Everything at rest in the scene's pose, all openings covered. air: points of the part, 3 each, that the air rises
 * from in equal parts; none: it rises from everywhere alike. */
vug_status vugi_moment_made(vug_context *ctx, vugi_scene *scene, double liquid, const double *air,
    size_t air_count, vug_moment **out);

#endif

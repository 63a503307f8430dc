/* SPDX-License-Identifier: MIT
 * Filling, as the caller asks for it. */
#ifndef VUGI_FILL_FILL_H
#define VUGI_FILL_FILL_H

#include "fill/job.h"

#include "cavity/cavity.h"
#include "course/course_types.h"
#include "gravity/scene.h"

/* Checks all that the caller gave. cavity: the one to fill, SIZE_MAX: that of the inlet. Free the job also
 * after a failure. */
vug_status vugi_fill_read(vug_context *ctx, const struct vug_cavities *cavities,
    const vug_fluid *fluid, const double *up, const int32_t *roles, size_t role_count,
    const vug_fill_options *options, size_t cavity, vugi_fill_job *job);
void vugi_fill_job_free(vug_context *ctx, vugi_fill_job *job);

/* A viscous fill needs something that drives it. */
vug_status vugi_fill_driven(vug_context *ctx, const vugi_fill_job *job);

/* One fill of a scene that is built already. */
vug_status vugi_fill_scene(vug_context *ctx, const vugi_fill_job *job, vugi_scene *scene,
    vug_course **out);

#endif

/* SPDX-License-Identifier: MIT
 * The result of a fill or a drain. */
#ifndef VUGI_COURSE_COURSE_H
#define VUGI_COURSE_COURSE_H

#include "hydrostatic/history.h"

struct vug_course {
    vugi_allocator mem;
    vugi_scene *scene;
    bool *open; /* of each mouth: air passes */
    bool draining;
    bool compressible; /* closed air has the volume that the pressure on it leaves it */
    vugi_history history;
    vug_course_summary summary;
};

struct vug_moment {
    vugi_allocator mem;
    vugi_scene *scene;
    double *level; /* of each arc */
    vugi_links links;
    vug_moment_info info;
    uint32_t inlet;    /* mouth, or VUGI_NONE */
    bool compressible; /* as of its course */
    vug_pocket_info *pocket;
    uint32_t *pocket_air; /* of each pocket: the number of its air in links */
    vug_pool_info *pool;
    uint32_t *pool_number; /* of each pool listed: its number in links */
};

vug_course *vugi_course_new(vug_context *ctx, vugi_scene *scene);

/* Levels of the end and counts of what is left, into summary. */
vug_status vugi_course_finish(vug_context *ctx, vug_course *course);

/* The moment of these levels, which it takes over. */
vug_status vugi_state_make(vug_context *ctx, const vug_course *course, const vugi_allocator *mem,
    double *level, const vugi_frame *frame, vug_moment **out);

/* The height in each span up to which liquid stands. top: one for each span. */
vug_status vugi_column_levels(vug_context *ctx, const vugi_allocator *mem, const vug_moment *moment,
    double *top);

#endif

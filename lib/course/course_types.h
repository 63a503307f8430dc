/* SPDX-License-Identifier: MIT
 * Types of what a caller reads after a fill or a drain, shared by the files of this room. */
#ifndef VUGI_COURSE_COURSE_TYPES_H
#define VUGI_COURSE_COURSE_TYPES_H

#include "gravity/links.h"
#include "gravity/scene.h"
#include "hydrostatic/history.h"

struct vug_course {
    vugi_allocator mem;
    vugi_scene *scene;
    bool *open; /* of each mouth: air passes */
    bool draining;
    bool compressible; /* closed air has the volume that the pressure on it leaves it */
    vugi_history history;
    vug_course_info summary;
};

struct vug_moment {
    vugi_allocator mem;
    vugi_scene *scene;
    double *level; /* of each arc */
    double *top;   /* of each span: the height of liquid in it, once it is known; or NULL */
    vugi_links links;
    vug_moment_info info;
    uint32_t inlet;    /* mouth, or VUGI_NONE */
    bool compressible; /* as of its course */
    vug_pocket_info *pocket;
    uint32_t *pocket_air; /* of each pocket: the number of its air in links */
    vug_pool_info *pool;
    uint32_t *pool_number; /* of each pool listed: its number in links */
};

#endif

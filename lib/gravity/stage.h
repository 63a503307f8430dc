/* SPDX-License-Identifier: MIT
 * From the caller's cavities, pose and roles to a scene. */
#ifndef VUGI_GRAVITY_STAGE_H
#define VUGI_GRAVITY_STAGE_H

#include "gravity/scene.h"

#include "cavity/cavity.h"

struct vug_cavities;

typedef struct vugi_stage {
    const struct vug_cavities *cavities;
    size_t cavity;
    double up[3]; /* unit */
    double spacing;
    const bool *open; /* of each opening: whether anything passes it; NULL: all are open */
    bool doors; /* throats on the level part it, for what happens in time: see gravity/doors.h */
    int sills;  /* whose are put where the mesh has them: VUGI_SILLS_ */
    int dips;   /* what comes through openings, of the same: see gravity/dip.h; 0: neither */
} vugi_stage;

/* Those that air passes under, those that liquid passes over. */
enum { VUGI_SILLS_AIR = 1, VUGI_SILLS_LIQUID = 2 };

/* up: any length. *role: of each opening, open where the caller says nothing; the caller frees it. */
vug_status vugi_read_up(vug_context *ctx, const double *up, double unit[3]);
vug_status vugi_read_roles(vug_context *ctx, const struct vug_cavities *cavities,
    const int32_t *roles, size_t role_count, int32_t **role);

/* *open: of each opening, that it is not sealed; the caller frees it. */
vug_status vugi_open_by_role(vug_context *ctx, const struct vug_cavities *cavities,
    const int32_t *role, bool **open);

/* The scene of a cavity: its mouths are its openings, in order. */
vug_status vugi_stage_scene(vug_context *ctx, const vugi_allocator *mem, const vugi_stage *stage,
    vugi_scene **out);

#endif

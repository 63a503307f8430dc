/* SPDX-License-Identifier: MIT
 * Floor 6: poses. */
#ifndef VUGI_POSE_POSE_H
#define VUGI_POSE_POSE_H

#include "cavity/cavity.h"
#include "cavity/gates.h"
#include "column/column.h"
#include "column/estimate.h"
#include "column/flood.h"
#include "column/sill.h"
#include "column/wall_flood.h"

/* What one thread needs to look at poses; all zero to start with. */
typedef struct vugi_pose_room {
    double basis[9];      /* of the pose: rows, the last is up */
    bool sound;           /* the walls tell all: nothing of columns is there */
    vugi_columns columns; /* else: columns, and the flood over them */
    vugi_flood flood;
    double *scale; /* of each cavity, of volumes by its columns */
    size_t scale_capacity;
    vugi_estimate_room estimate;
    vugi_sill_room sills;
    vugi_wall_look walls;
    bool exact; /* what is caught is what the walls say, not the columns */
} vugi_pose_room;

/* Options and roles of a public call, checked and filled in. */
typedef struct vugi_pose_setup {
    double spacing;
    uint32_t pose_count;
    int32_t *role; /* of each opening */
    vug_pose_options options;
} vugi_pose_setup;

/* usual: how many columns across, where nobody says. Free the setup also after a failure. */
vug_status vugi_pose_setup_read(vug_context *ctx, const vug_cavities *cavities,
    const int32_t *roles, size_t role_count, const vug_pose_options *options, uint32_t usual,
    vugi_pose_setup *setup);
void vugi_pose_setup_free(vug_context *ctx, vugi_pose_setup *setup);

/* Unit vector along up, or VUG_ERR_ARGUMENT. */
vug_status vugi_unit(vug_context *ctx, const char *name, const double *given, double unit[3]);

/* The columns of a pose, with all openings. */
vug_status vugi_pose_columns(vug_context *ctx, const vugi_allocator *mem,
    const vug_cavities *cavities, double spacing, const double up[3], vugi_columns *columns);

/* Bytes of the room of a pose whose walls tell all, measured; 0: columns are needed, and nobody knows yet. */
double vugi_pose_room_bytes(const vug_cavities *cavities);

/* The level to which air can leave in a pose: by the walls, or over its columns. */
vug_status vugi_pose_trap(vug_context *ctx, const vugi_allocator *mem, const vug_cavities *cavities,
    const vugi_pose_setup *setup, const double up[3], vugi_pose_room *room);

/* The same for the part turned over, after vugi_pose_trap(): its columns, if any, are used once more. */
vug_status vugi_pose_trap_over(vug_context *ctx, const vugi_allocator *mem,
    const vug_cavities *cavities, const vugi_pose_setup *setup, vugi_pose_room *room);

/* What that comes to. Volumes are the cavities' own, and so is the scale of what is trapped in them. */
typedef struct vugi_pose_sums {
    double capacity, trapped;
    double capacity_error, trapped_error;
    double
        known_error; /* of the whole that what is trapped is a share of: without the caps of what is open */
    vugi_estimate estimate;
} vugi_pose_sums;

vug_status vugi_pose_sum(vug_context *ctx, const vugi_allocator *mem, const vug_cavities *cavities,
    const vugi_pose_setup *setup, vugi_pose_room *room, vugi_pose_sums *sums);

void vugi_pose_room_free(const vugi_allocator *mem, vugi_pose_room *room);

#endif

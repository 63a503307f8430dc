/* SPDX-License-Identifier: MIT
 * How much of a line through a cavity lies in liquid, at a moment of a fill or a drain. */
#ifndef VUGI_LOOK_WET_H
#define VUGI_LOOK_WET_H

#include "course/course_types.h"

typedef struct vugi_wet {
    const vugi_columns *columns; /* of the moment's pose */
    double *top; /* height of the liquid in each span, infinite in a full one, -infinite in a dry */
    int32_t body;                 /* the cavity that the moment is of */
    double all_below, none_above; /* nothing but liquid below, no liquid above these heights */
    double *block;                /* the same two for each square of columns, row by row */
    int64_t blocks_across;
} vugi_wet;

vug_status vugi_wet_make(vug_context *ctx, const vug_moment *moment, vugi_wet *wet);
void vugi_wet_free(const vugi_allocator *mem, vugi_wet *wet);

/* A line in the pose of the moment: start + t direction (unit). */
typedef struct vugi_ray {
    double start[3], direction[3];
} vugi_ray;

/* Length in liquid of the stretch from .. to of a line, all of which lies in the cavity. It is cut where
 * it passes from column to column: in each the liquid stands as high as in the column's span there. */
double vugi_wet_length(const vugi_wet *wet, const vugi_ray *ray, double from, double to);

#endif

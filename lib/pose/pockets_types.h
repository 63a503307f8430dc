/* SPDX-License-Identifier: MIT
 * What pockets are made of, for the files that read them. */
#ifndef VUGI_POSE_POCKETS_TYPES_H
#define VUGI_POSE_POCKETS_TYPES_H

#include "pose/pose.h"

#include <math.h>

struct vug_pockets {
    vugi_allocator mem;
    vugi_pose_room room;
    double up[3];
    vugi_pose_sums sums;
    bool trusted;
    size_t count, room_for, found_room;
    vug_pocket_info *pocket;
    uint32_t *found; /* of each pocket: its number in of */
    uint32_t *of;    /* by columns: of each span the number of its pocket, as found; 0: none */
    double spacing;  /* of columns, which are made when they are asked for where the walls tell all */
    vug_cavities *cavities; /* its own */
};

/* Pockets as columns see them. level: down to which the air of a span reaches at most; of: its pocket's number. */
typedef struct vugi_pockets_view {
    const vugi_columns *columns;
    const double *level;
    const uint32_t *of;
    vugi_columns own_columns;
    double *own_level;
    uint32_t *own_of;
} vugi_pockets_view;

vug_status vugi_pockets_look(vug_context *ctx, const vug_pockets *pockets, vugi_pockets_view *view);
void vugi_pockets_view_free(vug_context *ctx, vugi_pockets_view *view);

/* Lower end of what of a span is air. */
static inline double vugi_pockets_air_floor(const vugi_pockets_view *v, size_t span)
{
    const vugi_columns *c = v->columns;
    return fmin(c->hi[span], fmax(c->lo[span], v->level[span]));
}

#endif

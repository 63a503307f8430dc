/* SPDX-License-Identifier: MIT
 * The pockets of a pose as its columns see them: for what is drawn or asked at a place. */
#ifndef VUGI_POSE_POCKETS_VIEW_H
#define VUGI_POSE_POCKETS_VIEW_H

#include "pose/pockets_types.h"

#include <math.h>

/* level: down to which the air of a span reaches at most; of: the number of its pocket, 0: none. */
typedef struct vugi_pockets_view {
    const vugi_columns *columns;
    const double *level;
    const uint32_t *of;
    vugi_columns own_columns;
    double *own_level;
    uint32_t *own_of;
} vugi_pockets_view;

/* Makes the columns if the walls told all. Free the view also after a failure. */
vug_status vugi_pockets_look(vug_context *ctx, const vug_pockets *pockets, vugi_pockets_view *view);
void vugi_pockets_view_free(vug_context *ctx, vugi_pockets_view *view);

/* Lower end of what of a span is trapped air; its ceiling when there is none. */
static inline double vugi_pockets_air_floor(const vugi_pockets_view *v, size_t span)
{
    const vugi_columns *c = v->columns;
    return fmin(c->hi[span], fmax(c->lo[span], v->level[span]));
}

#endif

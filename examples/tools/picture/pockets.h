/* SPDX-License-Identifier: MIT
 * Fills a drawing with what is inside: where to cut, liquid and air in the cut, and all air as seen from outside. */
#ifndef TOOLS_PICTURE_POCKETS_H
#define TOOLS_PICTURE_POCKETS_H

#include "drawing.h"

#include <vug.h>

/* What a pose traps; or how cavities are filled at a moment, each by its own (pockets is NULL then). */
typedef struct drawing_state {
    const vug_pockets *pockets;
    vug_moment *const *moment;
    size_t moment_count;
} drawing_state;

/* Sets toward, point_mm, step, spans and air of a drawing whose mesh, up, spacing and marks are set. The
 * cut goes through the top of the largest pocket, turned to show most trapped air; the viewer
 * stands where most marks face. Beside the air it goes on through an opening in use if one plane does not meet both.
 * drawing_pockets_free() afterwards. */
vug_status drawing_take_pockets(vug_context *ctx, const vug_cavities *cavities,
    const drawing_state *state, drawing *picture);
void drawing_pockets_free(drawing *picture);

/* The spans of another state in the cut of a drawing; free(*rows). */
vug_status drawing_section(vug_context *ctx, const drawing_state *state, const drawing *picture,
    double **rows, size_t *count);

#endif

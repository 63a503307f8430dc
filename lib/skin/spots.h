/* SPDX-License-Identifier: MIT
 * Bare pieces of a skin that hang together. */
#ifndef VUGI_SKIN_SPOTS_H
#define VUGI_SKIN_SPOTS_H

#include "skin/skin_types.h"

/* What became of a piece. */
enum { VUGI_PIECE_BACKED, VUGI_PIECE_FILMED, VUGI_PIECE_BARE, VUGI_PIECE_UNKNOWN };
int vugi_piece_state(const vugi_skin_piece *piece);

typedef struct vugi_skin_spot {
    double middle[3]; /* that of the piece nearest to the middle of all */
    double area, seen;
} vugi_skin_spot;

/* The largest first. The caller frees *spot with ctx's allocator. */
vug_status vugi_skin_find_spots(vug_context *ctx, const struct vug_skin *skin,
    vugi_skin_spot **spot, size_t *count);

#endif

/* SPDX-License-Identifier: MIT
 * Cuts the skin of cavities into pieces. */
#ifndef VUGI_SKIN_PIECE_H
#define VUGI_SKIN_PIECE_H

#include "skin/skin_types.h"

#include "cavity/cavity.h"

/* How many pieces their skin makes. */
size_t vugi_pieces_count(const vug_cavities *cavities, double spacing);

/* Into skin->part and skin->piece, by skin->spacing. */
vug_status vugi_pieces_cut(vug_context *ctx, const vug_cavities *cavities, struct vug_skin *skin);

/* How visible each is from directions, 3 doubles each, unit. */
vug_status vugi_pieces_see(vug_context *ctx, const vug_cavities *cavities, const double *view,
    size_t view_count, struct vug_skin *skin);

#endif

/* SPDX-License-Identifier: MIT
 * The region of a field as cells: its pieces, which of them stay, and corners at which it would touch itself. */
#ifndef VUGI_HOLLOW_REGION_H
#define VUGI_HOLLOW_REGION_H

#include "shape/hollow/field.h"

typedef struct vugi_piece { /* cells of the region that hang together by their faces */
    size_t deepest;         /* the cell farthest from its border */
    double place[3],
        depth; /* the deepest point near it, and how far it is from the surface itself, mm */
    size_t cells;
} vugi_piece;

/* in: 1 for the cells of the region. Pieces for which keep says no are taken out of both; *kept and *dropped are
 * counted. */
typedef bool (*vugi_keep_fn)(const vugi_piece *piece, void *user);
vug_status vugi_region_pieces(vug_context *ctx, vugi_field *field, uint8_t *in, vugi_keep_fn keep,
    void *user, size_t *kept, size_t *dropped);

/* Takes cells out until no two cells of the region, nor two outside it, touch at an edge or a corner alone: the surface
 * between is a manifold then (well-composed sets: Latecki 1997, CVGIP 59). */
vug_status vugi_region_part_corners(vug_context *ctx, vugi_field *field, uint8_t *in);

#endif

/* SPDX-License-Identifier: MIT
 * Levels of sills, closer than columns see them. */
#ifndef VUGI_COLUMN_SILL_H
#define VUGI_COLUMN_SILL_H

#include "column/columns.h"
#include "column/flood.h"

/* Fine columns around a sill, and what of them lies before it and beyond. */
typedef struct vugi_sill_square {
    vugi_columns columns;
    uint32_t *column, *order, *parent; /* of each span */
    unsigned char *side, *joined;      /* of each span; of each set of them */
    size_t column_capacity, order_capacity, parent_capacity, side_capacity, joined_capacity;
} vugi_sill_square;

/* What it takes; an all-zero room may be used again and again. */
typedef struct vugi_sill_room {
    vugi_sill_square square[2];
    vugi_near near;
    double *area;
    size_t area_capacity;
} vugi_sill_room;

/* Looks closer, through finer and finer columns of the mesh itself, at the sills of a flood that much
 * hangs on, and moves the levels that they give to what is seen there. flood: just made over the columns, and
 * with what it recalls; the columns were just built of these bodies, or reflected afterwards, and may have been
 * given bodies' numbers that are higher by `shift`. false: no memory. */
bool vugi_flood_sharpen(const vugi_allocator *mem, const vugi_bodies *bodies, int32_t shift,
    const vugi_columns *columns, bool liquid, vugi_flood *flood, vugi_sill_room *room);
/* What was seen of its sills when some spans were put at their levels. flood: made anew over the columns as they are
 * since. Sills that it has no more are left out. false: no memory. */
bool vugi_flood_recall(const vugi_allocator *mem, const vugi_columns *columns, bool liquid,
    const vugi_sharps *known, vugi_flood *flood);
void vugi_sill_room_free(const vugi_allocator *mem, vugi_sill_room *room);

#endif

/* SPDX-License-Identifier: MIT
 * The skin of cavities in small pieces, and what became of each. */
#ifndef VUGI_SKIN_SKIN_TYPES_H
#define VUGI_SKIN_SKIN_TYPES_H

#include "base/base.h"

#include <stdbool.h>

typedef struct vugi_skin_piece {
    double point[3];  /* its middle */
    double inward[3]; /* unit */
    double area, seen;
    double film; /* mm; only where it is filmed */
    uint32_t triangle;
    bool wetted, backed, known; /* known: a course had columns there */
} vugi_skin_piece;

/* The pieces of one cavity: piece[first] .. piece[first + count - 1]. */
typedef struct vugi_skin_part {
    size_t first, count, triangles;
    double volume;
    uint32_t courses;
} vugi_skin_part;

struct vug_skin {
    vugi_allocator mem;
    double spacing, depth, after;
    vugi_skin_part *part;
    size_t part_count;
    vugi_skin_piece *piece;
    size_t piece_count;
};

#endif

/* SPDX-License-Identifier: MIT
 * The void of a part on a grid: which of it is cavity, in which chamber, and where chambers and the
 * outside meet. Types that void and border share. */
#ifndef VUGI_CAVITY_VOID_TYPES_H
#define VUGI_CAVITY_VOID_TYPES_H

#include "grid/grid.h"
#include "grid/sign.h"

enum { VUGI_OUTSIDE = -1 };

/* From the middle of a cavity to the cells of its wall it is at least this far, in cells. */
enum { VUGI_HOLLOW_CELLS = 3 };

/* Labels of cells that are in no chamber. */
static const uint32_t vugi_label_solid = UINT32_MAX, vugi_label_outside = UINT32_MAX - 1;

typedef struct vugi_chamber {
    int32_t cavity;
    uint32_t peak, top; /* cell of the largest inscribed ball, its squared radius in cells */
    size_t cells;
} vugi_chamber;

/* A connected piece of the border between two chambers, or a chamber and the outside. */
typedef struct vugi_border {
    int32_t a, b;         /* chambers; b may be VUGI_OUTSIDE */
    uint32_t value, cell; /* highest squared distance on it, in cells, and where (a's side) */
    size_t faces;
    double center[3]; /* mean of its faces */
    double normal[3]; /* mean of their directions from a to b, unit; 0 if they cancel */
    double area;      /* length of their sum: area seen along normal, mm2 */
    double extent;    /* farthest face from center, mm */
} vugi_border;

typedef struct vugi_void {
    vugi_grid grid;
    vugi_sign_report sign;
    uint32_t *weight;  /* of the part's triangles (mesh/same.h), or NULL */
    uint8_t *cell;     /* VUGI_VOID, VUGI_SOLID, VUGI_SHEET */
    uint32_t *squared; /* to the solid, in cells */
    uint32_t *label;   /* chamber of each cell, or one of the two above */
    bool coarse;       /* something in it is about as narrow as a cell */
    size_t cavity_count;
    size_t chamber_count; /* by cavity */
    vugi_chamber *chamber;
    size_t border_count; /* openings of a chamber and throats from it, widest first */
    vugi_border *border;
} vugi_void;

typedef struct vugi_void_rule {
    int32_t cells_across;
    double cavity_ratio;  /* largest ball of a cavity to the widest way out */
    double chamber_ratio; /* largest ball of a chamber to the widest throat */
} vugi_void_rule;

#endif

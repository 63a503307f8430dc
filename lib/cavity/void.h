/* SPDX-License-Identifier: MIT
 * The void of a part on a grid: which of it is cavity, in which chamber, and where chambers and the
 * outside meet. */
#ifndef VUGI_VOID_H
#define VUGI_VOID_H

#include "grid/grid.h"

enum { VUGI_OUTSIDE = -1 };

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
    uint8_t *cell;     /* VUGI_VOID, VUGI_SOLID, VUGI_SHEET */
    uint32_t *squared; /* to the solid, in cells */
    uint32_t *label;   /* chamber of each cell, or one of the two above */
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

/* A branch of the merge tree of the distance to the solid is a cavity when its largest inscribed
 * ball is cavity_ratio times as wide as the neck through which it meets the outside, or when it
 * never does; inside it, chambers are told apart the same way by chamber_ratio (after Gostick 2017,
 * Physical Review E 96:023307, with persistence in place of smoothing). */
vug_status vugi_void_build(vug_context *ctx, const vug_mesh *mesh, const vugi_void_rule *rule,
    vugi_void *out);
void vugi_void_free(const vugi_allocator *mem, vugi_void *v);

/* The borders of labelled cells: fills border and border_count. */
vug_status vugi_void_borders(vug_context *ctx, vugi_void *v);

/* Gives to the outside what is open for more than a seventh of its boundary: a cage, not a cavity. */
vug_status vugi_void_drop_cages(vug_context *ctx, vugi_void *v);

#endif

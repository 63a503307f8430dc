/* SPDX-License-Identifier: MIT
 * A region of cells as upright spans, each with its ceiling: how far that may be lowered, and how far liquid comes. */
#ifndef VUGI_HOLLOW_UPRIGHTS_H
#define VUGI_HOLLOW_UPRIGHTS_H

#include "grid/grid.h"

typedef struct vugi_upright {
    int32_t from, to; /* the first cell, and past the last */
    uint32_t column;  /* i + j nx */
    uint32_t parent;  /* the span by which its air leaves; VUGI_NO_UPRIGHT: an outlet, or none */
    double lo, hi;    /* its ends, mm along z, between cells */
    double deep;      /* the ceiling stays above this; -INFINITY: it may go as low as its floor */
    double need;      /* and above this, as liquid has to stand so high here */
    double ceiling;   /* as it is made, at most hi */
    double level;     /* its air leaves as long as liquid stands no higher; -INFINITY: never */
} vugi_upright;

#define VUGI_NO_UPRIGHT UINT32_MAX

typedef struct vugi_uprights {
    vug_context *ctx;
    const vugi_grid *grid;
    vugi_upright *span;
    size_t count, room;
    size_t *first;    /* of each column, and past the last */
    uint32_t *root;   /* of each span, as disjoint sets: spans that touch */
    uint32_t *outlet; /* of each root, by its number */
    uint32_t *order;  /* as the last flood came to them */
    size_t reached;   /* how many of them */
    uint8_t *flooded; /* 1 for those */
} vugi_uprights;

/* Spans of the cells below 0. depth: how far each cell is from the skin; what is farther than deep keeps its
 * ceiling. Air leaves by the highest point of each piece, or, in the piece next to it, where outlet (may be NULL) is. */
vug_status vugi_uprights_find(vugi_uprights *u, const float *value, const float *depth, double deep,
    const double outlet[3]);
void vugi_uprights_free(vugi_uprights *u);

/* The span of a column (i + j nx) that cell k lies in, or NULL. */
vugi_upright *vugi_uprights_at(const vugi_uprights *u, size_t column, int32_t k);

/* The spans of a neighbouring column that touch span s: their range. side: 0 to 3. false: there is no such column. */
bool vugi_uprights_beside(const vugi_uprights *u, uint32_t s, int side, size_t range[2]);

static inline bool vugi_uprights_touch(const vugi_upright *a, const vugi_upright *b)
{
    return a->lo < b->hi && b->lo < a->hi;
}

#endif

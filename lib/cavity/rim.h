/* SPDX-License-Identifier: MIT
 * Openings in a pose: the heights that air and liquid pass at, and the spans they pass from. */
#ifndef VUGI_CAVITY_RIM_H
#define VUGI_CAVITY_RIM_H

#include "cavity/cavity.h"

#include "column/column.h"

/* Finds, if a bore is round, how far from its axis the corners of its wall are, and up to what distance points of its
 * ends count. Slivers of the skin beside a round bore, as cutting leaves them, can carry its outline off its wall: air
 * does not pass there. Once, when its ends and its width are known. */
void vugi_opening_find_wall(vugi_opening *opening);

/* Height of the highest and of the lowest point of an opening's rim on the outer skin in a pose. What is
 * in the bore leaves by it: air while liquid is below the first, liquid while it is above the second. */
void vugi_opening_outer_rim(const vugi_opening *opening, const double up[3], double *top,
    double *lip);

/* The same for what is in the cavity at the mouth, and has to pass the bore: the lower of the highest
 * points of rim and mouth, the higher of the lowest. In between, the wall of a straight bore has its
 * highest line, which runs from one to the other. */
void vugi_opening_rim(const vugi_opening *opening, const double up[3], double *top, double *lip);

/* How far those may be off: by how far the point that makes them is off the wall of a round bore, or the peak of the cap
 * over the rim. */
double vugi_opening_rim_error(const vugi_opening *opening, const double up[3], bool liquid);

/* A span of a column at an opening: its air leaves while liquid is below top, its liquid while that is
 * above lip. */
typedef struct vugi_opening_span {
    uint32_t span;
    double top, lip;
} vugi_opening_span;

/* Makes the columns pass an opening as its bore does, just after they are built. Next to the mouth of a bore
 * that rises outward the columns' ceilings are above its own highest point, by up to their spacing times
 * the slope: they are lowered to it, floors of a bore that falls are raised. A bore too narrow for the
 * columns to hang together in it is taken out: vugi_opening_spans() leads past it. */
void vugi_opening_fit(const vugi_opening *opening, vugi_columns *columns);

/* A span as a tree of domes keeps it: side by side, as they are asked for. */
typedef struct vugi_span_ends {
    float lo, hi;
} vugi_span_ends;

/* The columns of a pose, as they are or as a tree of domes keeps them (lo and hi are NULL then). */
typedef struct vugi_pose_spans {
    const double *basis;
    double h, x0, y0;
    int32_t nx, ny;
    const uint32_t *first;
    const int32_t *body;
    const double *lo, *hi;
    const vugi_span_ends *ends;
} vugi_pose_spans;

vugi_pose_spans vugi_spans_of_columns(const vugi_columns *columns);

/* The spans at an opening, those at its rim and those at its mouth, into *span (from mem, caller
 * frees). A bore that the columns are too wide apart for is passed all the same: what is at its mouth
 * counts by the heights of the bore itself. in_columns: the columns have its bore. */
vug_status vugi_opening_spans(vug_context *ctx, const vugi_allocator *mem,
    const vugi_opening *opening, const vugi_pose_spans *spans, bool in_columns,
    vugi_opening_span **span, size_t *count);

#endif

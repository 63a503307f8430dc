/* SPDX-License-Identifier: MIT
 * One view on the page. */
#ifndef TOOLS_PICTURE_FRAME_H
#define TOOLS_PICTURE_FRAME_H

/* One of the two views: where its millimetres are on the page. */
typedef struct frame {
    double x, y;      /* page place of (left, top) */
    double left, top; /* mm */
    double scale;     /* page units per mm */
} frame;

/* Where a place of the part is on the page. */
void frame_place(const frame *panel, double across, double height, double *x, double *y);

#endif

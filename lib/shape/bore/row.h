/* SPDX-License-Identifier: MIT
 * The numbers that say what a bore is. */
#ifndef VUGI_SHAPE_ROW_H
#define VUGI_SHAPE_ROW_H

#include "shape/bore/tool.h"

/* Columns of a row. */
enum {
    VUGI_BORE_POINT = 0,
    VUGI_BORE_DIRECTION = 3,
    VUGI_BORE_DIAMETER = 6,
    VUGI_BORE_DEPTH,
    VUGI_BORE_TAPER,
    VUGI_BORE_SINK,
    VUGI_BORE_SINK_ANGLE
};

/* VUG_ERR_DOMAIN unless least <= x <= most. */
vug_status vugi_check_number(vug_context *ctx, const char *name, double x, double least,
    double most);

/* Is a row within its ranges? number: of the bore, for messages. */
vug_status vugi_bore_check(vug_context *ctx, const double *row, size_t number);

double vugi_bore_sink_angle(const double *row);

/* The frame of a row: origin at its point, w the way it goes. */
void vugi_bore_frame(const double *row, vugi_tool *tool);

#endif

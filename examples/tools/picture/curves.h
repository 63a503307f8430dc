/* SPDX-License-Identifier: MIT
 * A fill or a drain as curves: level, pressure and rate over the time, or over the liquid inside where there is no
 * time. */
#ifndef TOOLS_PICTURE_CURVES_H
#define TOOLS_PICTURE_CURVES_H

#include <cairo.h>
#include <stdbool.h>
#include <vug.h>

typedef struct curves {
    size_t count;
    double *time_s, *liquid_mm3, *pressure_pa, *level_mm; /* of each moment; level: the highest
                                                                liquid over the cavity's lowest place */
    double height_mm;                                     /* of the cavity */
    bool timed, drain, held; /* held: in the end nothing runs out by itself */
} curves;

enum { CURVES_TALL = 330 };

/* Of a course in a pose. curves_free(), also after a failure. */
vug_status curves_take(vug_context *ctx, const vug_course *course, const vug_cavities *cavities,
    const double up[3], bool drain, curves *taken);
void curves_free(curves *taken);

/* Next to each other, wide page units in all, CURVES_TALL high. */
void curves_draw(cairo_t *cr, const curves *taken, double x, double y, double wide);

#endif

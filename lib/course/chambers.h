/* SPDX-License-Identifier: MIT
 * What the chambers of a cavity hold in a pose. */
#ifndef VUGI_COURSE_CHAMBERS_H
#define VUGI_COURSE_CHAMBERS_H

#include "course/course_types.h"

enum { VUGI_CHAMBERS = 255 }; /* at most, see cavity/atlas.h */

/* Liquid in each chamber in mm3, at the levels of a moment; all 0 if the chambers are not known. */
vug_status vugi_chambers_liquid(vug_context *ctx, const vug_moment *moment,
    double liquid[VUGI_CHAMBERS]);

#endif

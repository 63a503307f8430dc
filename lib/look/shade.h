/* SPDX-License-Identifier: MIT
 * From lengths in resin and in liquid to the bytes of a pixel. */
#ifndef VUGI_LOOK_SHADE_H
#define VUGI_LOOK_SHADE_H

#include "base/base.h"

enum { VUGI_SHADE_STEPS = 1 << 14 };

typedef struct vugi_shade {
    double resin[3], liquid[3], background[3]; /* per mm, per mm, share of white */
    unsigned char code[VUGI_SHADE_STEPS + 1];  /* byte for a share of white */
} vugi_shade;

void vugi_shade_make(const vug_backlit *options, vugi_shade *shade);

void vugi_shade_pixel(const vugi_shade *shade, double resin_mm, double liquid_mm,
    unsigned char rgba[4]);

#endif

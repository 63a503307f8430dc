/* SPDX-License-Identifier: MIT
 * From lengths in resin and in liquid to the bytes of a pixel: Beer-Lambert, then the curve of sRGB
 * (IEC 61966-2-1), read from a table that is finer than a byte's steps. */
#include "look/shade.h"

#include <math.h>
#include <string.h>

static double encode(double share)
{
    return share <= 0.0031308 ? 12.92 * share : 1.055 * pow(share, 1.0 / 2.4) - 0.055;
}

void vugi_shade_make(const vug_backlit *o, vugi_shade *shade)
{
    memcpy(shade->resin, o->resin_per_mm, sizeof shade->resin);
    memcpy(shade->liquid, o->liquid_per_mm, sizeof shade->liquid);
    memcpy(shade->background, o->background, sizeof shade->background);
    for (int i = 0; i <= VUGI_SHADE_STEPS; i++) {
        double share = (double)i / VUGI_SHADE_STEPS;
        shade->code[i] = (unsigned char)(255.0 * (o->linear ? share : encode(share)) + 0.5);
    }
}

void vugi_shade_pixel(const vugi_shade *shade, double resin_mm, double liquid_mm,
    unsigned char rgba[4])
{
    double depth = NAN, through = 1.0;
    for (int k = 0; k < 3; k++) {
        double here = shade->resin[k] * resin_mm + shade->liquid[k] * liquid_mm;
        if (here != depth) /* grey costs one exponential */
            through = here > 0.0 ? exp(-here) : 1.0;
        depth = here;
        rgba[k] = shade->code[(int)(shade->background[k] * through * VUGI_SHADE_STEPS + 0.5)];
    }
    rgba[3] = 255;
}

/* SPDX-License-Identifier: MIT
 * Equal-area spiral: Saff and Kuijlaars, Math. Intelligencer 19(1), 1997; golden-angle turns as in
 * Gonzalez, Math. Geosci. 42, 2010. */
#include "base/angle.h"

#include <math.h>

void vugi_sphere_point(size_t index, size_t count, double direction[3])
{
    const double golden = VUGI_PI * (3.0 - sqrt(5.0));
    double z = 1.0 - (2.0 * (double)index + 1.0) / (double)count;
    double r = sqrt(fmax(0.0, 1.0 - z * z)), turn = fmod(golden * (double)index, 2.0 * VUGI_PI);
    direction[0] = r * cos(turn);
    direction[1] = r * sin(turn);
    direction[2] = z;
}

/* SPDX-License-Identifier: MIT
 * Room between bores. */
#ifndef VUGI_CAVITY_CLEAR_H
#define VUGI_CAVITY_CLEAR_H

#include "cavity/cavity.h"

/* Distance between two stretches of straight lines, from a to b and from c to d. */
double vugi_stretch_distance(const double a[3], const double b[3], const double c[3],
    const double d[3]);

/* Does a bar of a radius from a to b keep `apart` mm away from the bores of all openings? */
bool vugi_openings_clear(const vug_cavities *cavities, const double a[3], const double b[3],
    double radius, double apart);

#endif

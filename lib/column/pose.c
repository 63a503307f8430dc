/* SPDX-License-Identifier: MIT
 * The frame of a pose. In double: single precision would spoil the exactness of span ends. */
#include "column/pose.h"

#include <math.h>

/* Duff et al., "Building an Orthonormal Basis, Revisited", JCGT 6(1), 2017. */
void vugi_basis(const double up[3], double basis[9])
{
    double sign = copysign(1.0, up[2]);
    double a = -1.0 / (sign + up[2]);
    double b = up[0] * up[1] * a;
    double x[3] = {1.0 + sign * up[0] * up[0] * a, sign * b, -sign * up[0]};
    double y[3] = {b, sign + up[1] * up[1] * a, -up[1]};
    for (int k = 0; k < 3; k++) {
        basis[k] = x[k];
        basis[3 + k] = y[k];
        basis[6 + k] = up[k];
    }
}

void vugi_to_part(const double basis[9], const double pose[3], double part[3])
{
    for (int k = 0; k < 3; k++)
        part[k] = basis[k] * pose[0] + basis[3 + k] * pose[1] + basis[6 + k] * pose[2];
}

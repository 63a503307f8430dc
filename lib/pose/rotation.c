/* SPDX-License-Identifier: MIT
 * Turns from one pose to another. */
#include "pose/rotation.h"

#include "base/angle.h"
#include "base/vec.h"
#include "vug.h"

#include <math.h>
#include <string.h>

/* The part turns one way, up in part coordinates the other. */
void vugi_rotation_between(const double from[3], const double to[3], double axis[3],
    double *angle_deg)
{
    vugi_cross(to, from, axis);
    double sine = vugi_length(axis), cosine = vugi_dot(from, to);
    *angle_deg = atan2(sine, cosine) / VUGI_DEGREE;
    if (sine < 1e-9 && cosine < 0.0) {
        double x[3] = {1.0, 0.0, 0.0}, y[3] = {0.0, 1.0, 0.0};
        const double *near_axis = fabs(from[0]) < 0.9 ? x : y;
        double along = vugi_dot(near_axis, from);
        for (int k = 0; k < 3; k++)
            axis[k] = near_axis[k] - along * from[k];
        sine = vugi_length(axis);
    }
    for (int k = 0; k < 3; k++)
        axis[k] = sine > 1e-12 ? axis[k] / sine : 0.0;
}

/* Rodrigues' formula, by minus the angle. */
void vugi_rotation_up(const double up[3], const double axis[3], double angle_deg, double out[3])
{
    double c = cos(angle_deg * VUGI_DEGREE), s = -sin(angle_deg * VUGI_DEGREE), w[3],
           along = vugi_dot(axis, up);
    vugi_cross(axis, up, w);
    for (int k = 0; k < 3; k++)
        out[k] = up[k] * c + w[k] * s + axis[k] * along * (1.0 - c);
}

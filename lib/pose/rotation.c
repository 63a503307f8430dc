/* SPDX-License-Identifier: MIT
 * Turns from one pose to another. */
#include "pose/rotation.h"

#include "vug.h"

#include <math.h>
#include <string.h>

static const double DEGREE = 0.017453292519943295;

static void cross(const double a[3], const double b[3], double out[3])
{
    for (int k = 0; k < 3; k++)
        out[k] = a[(k + 1) % 3] * b[(k + 2) % 3] - a[(k + 2) % 3] * b[(k + 1) % 3];
}

static double dot(const double a[3], const double b[3])
{
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

/* The part turns one way, up in part coordinates the other. */
void vugi_rotation_between(const double from[3], const double to[3], double axis[3],
    double *angle_deg)
{
    cross(to, from, axis);
    double sine = sqrt(dot(axis, axis)), cosine = dot(from, to);
    *angle_deg = atan2(sine, cosine) / DEGREE;
    if (sine < 1e-9 && cosine < 0.0) {
        double x[3] = {1.0, 0.0, 0.0}, y[3] = {0.0, 1.0, 0.0};
        const double *near_axis = fabs(from[0]) < 0.9 ? x : y;
        double along = dot(near_axis, from);
        for (int k = 0; k < 3; k++)
            axis[k] = near_axis[k] - along * from[k];
        sine = sqrt(dot(axis, axis));
    }
    for (int k = 0; k < 3; k++)
        axis[k] = sine > 1e-12 ? axis[k] / sine : 0.0;
}

/* Rodrigues' formula, by minus the angle. */
void vugi_rotation_up(const double up[3], const double axis[3], double angle_deg, double out[3])
{
    double c = cos(angle_deg * DEGREE), s = -sin(angle_deg * DEGREE), w[3], along = dot(axis, up);
    cross(axis, up, w);
    for (int k = 0; k < 3; k++)
        out[k] = up[k] * c + w[k] * s + axis[k] * along * (1.0 - c);
}

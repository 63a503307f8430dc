/* SPDX-License-Identifier: MIT */
#include "project.h"

#include <math.h>

void picture_project(const drawing *picture, const double p[3], double to[3])
{
    const double *u = picture->up, *n = picture->toward;
    double right[3] = {u[1] * n[2] - u[2] * n[1], u[2] * n[0] - u[0] * n[2],
        u[0] * n[1] - u[1] * n[0]};
    to[0] = to[1] = to[2] = 0.0;
    for (int k = 0; k < 3; k++) {
        to[0] += right[k] * (p[k] - picture->point_mm[k]);
        to[1] += u[k] * p[k];
        to[2] += n[k] * (p[k] - picture->point_mm[k]);
    }
}

double picture_cut_nearness(const drawing *picture, double across)
{
    const picture_step *s = &picture->step;
    return s->side * (across - s->at_mm) > 0.0 ? s->nearer_mm : 0.0;
}

void project_square(const double way[3], double x[3], double y[3])
{
    int least = 0;
    for (int k = 1; k < 3; k++)
        if (fabs(way[k]) < fabs(way[least]))
            least = k;
    double length = 0.0;
    for (int k = 0; k < 3; k++) {
        x[k] = (k == least) - way[least] * way[k];
        length += x[k] * x[k];
    }
    for (int k = 0; k < 3; k++)
        x[k] /= sqrt(length);
    for (int k = 0; k < 3; k++)
        y[k] = way[(k + 1) % 3] * x[(k + 2) % 3] - way[(k + 2) % 3] * x[(k + 1) % 3];
}

/* SPDX-License-Identifier: MIT */
#include "cavity/confirm.h"

#include <math.h>

/* Counting errs by up to half a cell along the walls, all of them alike in a box; in a bore the grid's border with the outside
 * may lie anywhere. */
static double slack_of(const vugi_void *v, const vug_cavities *c, size_t j)
{
    const vugi_cavity *cavity = c->cavity + j;
    double slack = 0.002 * cavity->volume + 0.5 * v->grid.h * cavity->area;
    for (size_t i = 0; i < c->opening_count; i++)
        if (c->opening[i].cavity == (int32_t)j)
            slack += c->opening[i].area * (c->opening[i].bore_length + 3.0 * v->grid.h);
    return slack;
}

bool vugi_void_confirms(const vugi_void *v, const vug_cavities *c, size_t j, const int32_t *of)
{
    double cells = 0.0;
    for (size_t i = 0; i < v->chamber_count; i++)
        if (of[v->chamber[i].cavity] == (int32_t)j)
            cells += (double)v->chamber[i].cells;
    const double counted = cells * v->grid.h * v->grid.h * v->grid.h;
    return counted == 0.0 || fabs(c->cavity[j].volume - counted) <= slack_of(v, c, j);
}

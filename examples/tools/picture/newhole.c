/* SPDX-License-Identifier: MIT */
#include "newhole.h"

#include "marks.h"
#include "project.h"

#include <math.h>
#include <string.h>

enum { SIDES = 32 };

void newhole_take(const vug_opening_info *opening, picture_mark *mark)
{
    memcpy(mark->point_mm, opening->center_mm, sizeof mark->point_mm);
    memcpy(mark->outward, opening->normal, sizeof mark->outward);
    mark->diameter_mm = opening->diameter_mm;
    mark->depth_mm = 0.0;
    double length = 0.0, way[3];
    for (int k = 0; k < 3; k++) {
        way[k] = opening->center_mm[k] - opening->inner_mm[k];
        length += way[k] * way[k];
    }
    length = sqrt(length);
    if (!opening->planned || !(length > 0.0))
        return;
    mark->depth_mm = length;
    for (int k = 0; k < 3; k++)
        mark->outward[k] = way[k] / length;
}

/* What of a convex outline lies where a x + b y <= most. */
static size_t clip(double *corners, size_t count, double a, double b, double most)
{
    double kept[2 * NEWHOLE_CORNERS];
    size_t kept_count = 0;
    for (size_t i = 0; i < count; i++) {
        const double *p = corners + 2 * i, *q = corners + 2 * ((i + 1) % count);
        const double over = a * p[0] + b * p[1] - most, next = a * q[0] + b * q[1] - most;
        if (over <= 0.0)
            memcpy(kept + 2 * kept_count++, p, 2 * sizeof *p);
        if ((over < 0.0) != (next < 0.0) && over != next) {
            const double t = over / (over - next);
            for (int k = 0; k < 2; k++)
                kept[2 * kept_count + k] = p[k] + t * (q[k] - p[k]);
            kept_count++;
        }
    }
    memcpy(corners, kept, 2 * kept_count * sizeof *kept);
    return kept_count;
}

/* A drill's cylinder lies between planes: its sides, and its ends. */
size_t newhole_section(const drawing *picture, const picture_mark *mark, double wider_mm,
    double deep_mm, double corners[2 * NEWHOLE_CORNERS])
{
    const double radius = 0.5 * (mark->diameter_mm + wider_mm), reach = deep_mm + 4.0 * radius;
    double at[3], way[3], first[3], second[3];
    if (mark->depth_mm <= 0.0)
        return 0;
    marks_project(picture, mark, at, way);
    project_square(way, first, second);
    size_t count = 4;
    for (size_t i = 0; i < count; i++) {
        corners[2 * i] = at[0] + (i == 1 || i == 2 ? reach : -reach);
        corners[2 * i + 1] = at[1] + (i >= 2 ? reach : -reach);
    }
    for (int i = 0; i < SIDES + 2 && count > 0; i++) {
        const double turn = 6.283185307179586 * i / SIDES;
        double n[3], most = i <= SIDES ? radius : deep_mm;
        for (int k = 0; k < 3; k++)
            n[k] = i < SIDES ? cos(turn) * first[k] + sin(turn) * second[k]
                : i == SIDES ? way[k]
                             : -way[k];
        most += n[0] * at[0] + n[1] * at[1] + n[2] * at[2];
        count = clip(corners, count, n[0], n[1], most);
    }
    return count;
}

/* SPDX-License-Identifier: MIT
 * How thin the wall is in a cut: of all ways from the face of a cavity straight to another face, through resin alone, the
 * shortest. */
#include "wall.h"

#include <math.h>
#include <stdlib.h>

static const double slant = 0.3; /* sine of how far a face may be from square */

typedef struct segment {
    const double *a, *b;
    double way[2], length; /* unit, from a to b */
} segment;

static segment segment_of(const cut_outlines *cut, size_t outline, size_t k)
{
    size_t next = k + 1 < cut->first[outline + 1] ? k + 1 : cut->first[outline];
    segment s = {cut->point + 2 * k, cut->point + 2 * next, {0.0, 0.0}, 0.0};
    s.length = hypot(s.b[0] - s.a[0], s.b[1] - s.a[1]);
    for (int i = 0; i < 2 && s.length > 0.0; i++)
        s.way[i] = (s.b[i] - s.a[i]) / s.length;
    return s;
}

static bool is_resin(const cut_outlines *cut, const double p[2])
{
    bool inside = false;
    for (size_t i = 0; i < cut->count; i++)
        for (size_t k = cut->first[i]; k < cut->first[i + 1]; k++) {
            const double *a = cut->point + 2 * k,
                         *b = k + 1 < cut->first[i + 1] ? a + 2 : cut->point + 2 * cut->first[i];
            if ((a[1] > p[1]) != (b[1] > p[1])
                && p[0] < a[0] + (p[1] - a[1]) / (b[1] - a[1]) * (b[0] - a[0]))
                inside = !inside;
        }
    return inside;
}

static bool is_cavity(const drawing *picture, const double p[2])
{
    for (size_t i = 0; i < picture->span_count; i++) {
        const double *s = picture->spans + 4 * i;
        if (fabs(s[0] - p[0]) <= 0.5 * picture->spacing_mm && p[1] > s[1] && p[1] < s[3])
            return true;
    }
    return false;
}

/* From the middle of one face to the nearest point of another, if that is shorter than the best so far. */
static bool is_shorter(const drawing *picture, const cut_outlines *cut, const segment *face,
    const segment *other, double *best, double q[2])
{
    double p[2], u[2], middle[2], beyond[2], along = 0.0;
    for (int k = 0; k < 2; k++) {
        p[k] = 0.5 * (face->a[k] + face->b[k]);
        along += (p[k] - other->a[k]) * other->way[k];
    }
    along = fmin(fmax(along, 0.0), other->length);
    for (int k = 0; k < 2; k++) {
        q[k] = other->a[k] + along * other->way[k];
        u[k] = q[k] - p[k];
    }
    const double d = hypot(u[0], u[1]);
    if (!(d > 1e-6) || d >= *best || fabs(u[0] * face->way[0] + u[1] * face->way[1]) > slant * d
        || fabs(u[0] * other->way[0] + u[1] * other->way[1]) > slant * d)
        return false;
    for (int k = 0; k < 2; k++) {
        middle[k] = 0.5 * (p[k] + q[k]);
        beyond[k] = p[k] - picture->spacing_mm * u[k] / d;
    }
    if (!is_cavity(picture, beyond) || !is_resin(cut, middle))
        return false;
    *best = d;
    return true;
}

/* All segments of the outlines that have a length and are wall; free(). NULL without memory. */
static segment *list_segments(const drawing *picture, const cut_outlines *cut, size_t *count)
{
    segment *list = malloc((cut->first[cut->count] + 1) * sizeof *list);
    *count = 0;
    for (size_t i = 0; list && i < cut->count; i++)
        for (size_t k = cut->first[i]; k < cut->first[i + 1]; k++) {
            const segment s = list[*count] = segment_of(cut, i, k);
            *count += s.length > 0.0 && !cut_is_step(picture, s.a, s.b);
        }
    return list;
}

bool picture_thinnest(const drawing *picture, const cut_outlines *cut, double from[2], double to[2])
{
    double best = INFINITY, q[2];
    size_t count;
    segment *list = list_segments(picture, cut, &count);
    for (size_t i = 0; list && i < count; i++)
        for (size_t k = 0; k < count; k++) {
            if (fabs(list[k].a[0] - list[i].a[0]) - list[k].length - list[i].length > best
                || !is_shorter(picture, cut, list + i, list + k, &best, q))
                continue;
            for (int n = 0; n < 2; n++) {
                from[n] = 0.5 * (list[i].a[n] + list[i].b[n]);
                to[n] = q[n];
            }
        }
    free(list);
    return isfinite(best);
}

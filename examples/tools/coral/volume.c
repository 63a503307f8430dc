/* SPDX-License-Identifier: MIT
 * The true volume of the cavity, from its field alone. */
#include "volume.h"

#include <math.h>

/* Where the field changes sign between s and t along one axis, by false position (Illinois). */
static double root(const coral_shape *coral, double p[3], int axis, double s, double fs, double t,
    double ft)
{
    for (int i = 0; i < 60 && fabs(t - s) > 1e-9; i++) {
        double m = s - fs * (t - s) / (ft - fs);
        p[axis] = m;
        double fm = coral_cavity(coral, p);
        if (fabs(fm) < 1e-10)
            return m;
        if ((fm < 0) == (ft < 0)) {
            fs *= 0.5;
        } else {
            s = t;
            fs = ft;
        }
        t = m;
        ft = fm;
    }
    return t;
}

/* The box of the cavity; its lowest face is the floor, so no line of a sum straddles that. */
static void cavity_box(const coral_shape *coral, double lo[3], double hi[3])
{
    coral_bounds(coral, lo, hi);
    lo[2] = coral_floor(coral);
}

/* Length inside the cavity along a line. The field changes by at most 1 per mm, so a step of its
 * own size never jumps a wall; the least step misses only chords shorter than it. */
static double length_inside(const coral_shape *coral, double p[3], int axis, double start,
    double end)
{
    const double least = 0.04;
    double inside = 0.0, s = start, entered = start;
    p[axis] = s;
    double fs = coral_cavity(coral, p);
    while (s < end) {
        double t = s + fmax(fabs(fs), least);
        p[axis] = t;
        double ft = coral_cavity(coral, p);
        if ((fs < 0.0) != (ft < 0.0)) {
            double r = root(coral, p, axis, s, fs, t, ft);
            if (ft < 0.0)
                entered = r;
            else
                inside += r - entered;
        }
        s = t;
        fs = ft;
    }
    return inside;
}

/* Sum over the lines along one axis. Each row is shifted by the golden section, along z where it
 * can: lines in a square grid would fall in step with the outline and with the flat shoulders. */
static double volume_along(const coral_shape *coral, int axis, double spacing)
{
    int a = axis == 2 ? 0 : 2, b = 3 - axis - a;
    double total = 0.0, p[3], lo[3], hi[3];
    cavity_box(coral, lo, hi);
    long na = (long)((hi[a] - lo[a]) / spacing) + 1, nb = (long)((hi[b] - lo[b]) / spacing) + 1;
    for (long j = 0; j < nb; j++) {
        double row = 0.0, shift = fmod((double)j * 0.6180339887498949, 1.0);
        for (long i = 0; i < na; i++) {
            p[a] = lo[a] + ((double)i + shift) * spacing;
            p[b] = lo[b] + ((double)j + 0.5) * spacing;
            row += length_inside(coral, p, axis, lo[axis], hi[axis]);
        }
        total += row;
    }
    return total * spacing * spacing;
}

double coral_cavity_volume(const coral_shape *coral, double *error)
{
    double spacing = coral_height(coral) / 240.0, along[3], mean = 0.0, spread = 0.0;
    for (int axis = 0; axis < 3; axis++) {
        along[axis] = volume_along(coral, axis, spacing);
        mean += along[axis] / 3.0;
    }
    for (int axis = 0; axis < 3; axis++)
        spread = fmax(spread, fabs(along[axis] - mean));
    *error = 2.0 * spread;
    return mean;
}

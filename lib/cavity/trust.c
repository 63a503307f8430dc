/* SPDX-License-Identifier: MIT
 * How far what is known of a cavity can be trusted. */
#include "cavity/trust.h"

#include "cavity/rim.h"

#include <math.h>

bool vugi_opening_exact(const vug_cavities *c, const vugi_opening *o)
{
    return o->planned
        || (!c->cavity[o->cavity].gridded && o->outline_count >= 3 && o->mouth_count >= 3);
}

/* Mean distance from the axis of the points of rim and mouth that are farther than `from`, up to `most`. */
static double mean_beyond(const vugi_opening *o, double from, double most, double *largest)
{
    double sum = 0.0;
    size_t count = 0;
    *largest = from;
    for (size_t i = 0; i < o->outline_count + o->mouth_count; i++) {
        double r = vugi_opening_from_axis(o, o->outline + 3 * i);
        if (r < from || r > most)
            continue;
        *largest = fmax(*largest, r);
        sum += r;
        count++;
    }
    return count > 0 ? sum / (double)count : from;
}

/* How far the outline of a round bore is off its own wall: the corners of its polygon, which are farther than
 * the mean, lie equally far from the axis. */
static double off_wall(const vugi_opening *o)
{
    double most = vugi_opening_reach(o), largest;
    if (!isfinite(most))
        return 0.0;
    double corners = mean_beyond(o, mean_beyond(o, 0.0, most, &largest), most, &largest);
    return fmax(0.0, largest - corners);
}

double vugi_opening_error(const vug_cavities *c, const vugi_opening *o)
{
    return vugi_opening_exact(c, o) ? off_wall(o) : o->inscribed_radius;
}

bool vugi_cavity_trusted(const vug_cavities *c, size_t cavity)
{
    bool trusted = !c->cavity[cavity].gridded;
    for (size_t i = 0; i < c->opening_count && trusted; i++)
        trusted = c->opening[i].cavity != (int32_t)cavity || vugi_opening_exact(c, c->opening + i);
    return trusted;
}

bool vugi_cavities_trusted(const vug_cavities *c)
{
    bool trusted = true;
    for (size_t i = 0; i < c->cavity_count && trusted; i++)
        trusted = vugi_cavity_trusted(c, i);
    return trusted;
}

/* A rim that lies in one plane has a flat cap. Over one that does not, the skin that was drilled away may
 * have stood as much above the cap as the rim is out of plane. */
static double cap_error(const vugi_opening *o)
{
    double most = 0.0;
    for (size_t i = 0; i < o->outline_count; i++) {
        double away = 0.0;
        for (int k = 0; k < 3; k++)
            away += (o->outline[3 * i + (size_t)k] - o->center[k]) * o->normal[k];
        most = fmax(most, fabs(away));
    }
    return o->planned ? 0.0 : most * o->area;
}

double vugi_cavity_error(const vug_cavities *c, size_t cavity)
{
    double error = c->cavity[cavity].volume_error;
    for (size_t i = 0; i < c->opening_count; i++)
        if (c->opening[i].cavity == (int32_t)cavity)
            error += cap_error(c->opening + i);
    return error;
}

/* SPDX-License-Identifier: MIT
 * How far what is known of a cavity can be trusted. */
#include "cavity/trust.h"

#include "cavity/rim.h"

#include <math.h>

/* Has it the part's own rim, or that of a planned bore? */
static bool has_rim(const vug_cavities *c, const vugi_opening *o)
{
    return o->planned || (!c->cavity[o->cavity].gridded && o->outline_count >= 3);
}

bool vugi_opening_exact(const vug_cavities *c, const vugi_opening *o)
{
    return has_rim(c, o) && (o->planned || o->mouth_count >= 3);
}

double vugi_opening_error(const vug_cavities *c, const vugi_opening *o, const double up[3],
    bool liquid)
{
    return has_rim(c, o) ? vugi_opening_rim_error(o, up, liquid) : o->inscribed_radius;
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

double vugi_out_of_plane(const vugi_opening *o)
{
    double most = 0.0;
    for (size_t i = 0; i < o->outline_count; i++) {
        double away = 0.0;
        for (int k = 0; k < 3; k++)
            away += (o->outline[3 * i + (size_t)k] - o->center[k]) * o->normal[k];
        most = fmax(most, fabs(away));
    }
    return most;
}

/* Where nothing tells how the skin went, it may have stood as much above the cap as the rim is out of plane. */
double vugi_cap_error(const vugi_opening *o)
{
    return o->planned ? 0.0 : o->peaked ? o->cap_error : vugi_out_of_plane(o) * o->area;
}

double vugi_cavities_grain(const vug_cavities *c)
{
    double most = 0.0;
    for (size_t i = 0; i < c->cavity_count; i++)
        most = fmax(most, c->cavity[i].grain);
    return most;
}

double vugi_caps_error(const vug_cavities *c, size_t cavity, const int32_t *role)
{
    double sum = 0.0;
    for (size_t i = 0; i < c->opening_count; i++) {
        double error = vugi_cap_error(c->opening + i);
        if (c->opening[i].cavity == (int32_t)cavity && (!role || role[i] == VUG_ROLE_SEALED))
            sum += error * error;
    }
    return sqrt(sum);
}

double vugi_grid_error(const vug_cavities *c, size_t cavity)
{
    return c->cavity[cavity].gridded ? c->cavity[cavity].volume_error : 0.0;
}

double vugi_cavity_error(const vug_cavities *c, size_t cavity)
{
    return c->cavity[cavity].volume_error + vugi_caps_error(c, cavity, NULL);
}

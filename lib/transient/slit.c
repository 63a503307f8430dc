/* SPDX-License-Identifier: MIT
 * Heads on the sides of a door. */
#include "transient/slit.h"

#include <math.h>

/* How much wider a slot is than it is high, by what it resists: a round bore comes to 0.3, a square one to 0.4. */
static const double slot = 1.2;

vugi_slit vugi_slit_make(const vugi_scene *s, const vugi_door *d)
{
    const vugi_scene_throat *t = s->throat + d->throat;
    double gap = fmax(d->hi - d->lo, 0.5 * s->columns.h),
           wide = 12.0 * t->length / (pow(gap, 4) * t->thin);
    vugi_slit slit = {.path = {t->length, t->thin, t->edge}, .floor = d->lo, .gap = gap};
    /* A slot: its sheet carries four times as much as if it touched the roof. Else what is under liquid carries its share,
     * so that the middle counts when it is full. */
    slit.whole = wide > slot ? gap : 0.5 * gap;
    slit.power = wide > slot ? 4.0 : 2.0;
    return slit;
}

double vugi_slit_drive(const vugi_slit *s, bool air, double height, double *slope)
{
    double over = height - s->floor, part = fmax(0.0, over / s->gap);
    *slope = 1.0;
    if (!air)
        return over;
    if (part >= 1.0)
        return over - s->gap + s->whole;
    *slope = s->whole * s->power / s->gap * pow(part, s->power - 1.0);
    return s->whole * pow(part, s->power);
}

double vugi_slit_press(const vugi_slit *s, bool air, double height, double *slope)
{
    vugi_slit sheet = *s;
    sheet.power = 2.0;
    return vugi_slit_drive(&sheet, air, height, slope);
}

uint32_t vugi_slit_air(const vugi_graph *g, const double *level, const vugi_links *links,
    const vugi_door *d)
{
    uint32_t a = vugi_door_air(g, level, d, 0), b = vugi_door_air(g, level, d, 1);
    uint32_t arc = a != VUGI_NONE ? a : b;
    return arc != VUGI_NONE ? links->air[arc] : VUGI_NONE;
}

/* SPDX-License-Identifier: MIT
 * Holes under a head that falls, and the air that must come in for it. */
#include "drain/orifice.h"

#include "base/root.h"
#include "flow/flow.h"
#include "flow/fluid.h"
#include "flow/hole.h"
#include "flow/viscosity.h"
#include "hydrostatic/liquid.h"

#include <assert.h>
#include <math.h>

double vugi_glug(const vug_fluid *fluid, double diameter_mm)
{
    assert(diameter_mm > 0.0);
    double free_mm, flow;
    if (vug_exchange_diameter(NULL, fluid, &free_mm, NULL) != VUG_OK || diameter_mm < free_mm
        || vug_exchange_flow(NULL, fluid, diameter_mm, &flow) != VUG_OK)
        return 0.0;
    return flow;
}

/* Part of a round opening below the level, and the head on that part in mm. An opening that looks up
 * or down is under liquid as a whole. In the last tenth of one that looks aside it drips: no law holds
 * there, the rate is taken as steady. */
static double wet_part(const vugi_scene_mouth *m, double level, double *head)
{
    double height = m->top - m->lip, x = level - m->lip;
    if (x <= 0.0)
        return 0.0;
    if (x >= height) {
        *head = level - 0.5 * (m->top + m->lip);
        return 1.0;
    }
    double r = 0.5 * height;
    x = fmax(x, 0.1 * height);
    *head = 0.5 * x;
    return (r * r * acos((r - x) / r) - (r - x) * sqrt(fmax(0.0, 2.0 * r * x - x * x)))
        / (VUGI_PI * r * r);
}

/* Head in mm that a flow in m3/s out by a mouth takes on the way to it. */
static double lost_inside(const vugi_outlets *o, uint32_t mouth, double flow)
{
    double part = o->share[mouth] * flow / VUGI_MM3;
    return part * vugi_path_resistance(o->fluid, o->path + mouth, part);
}

/* What the hole passes when the way to it takes so much, less that: m3/s. */
static double past(const vugi_outlets *o, uint32_t mouth, const vugi_orifice *hole, double pressure,
    double flow)
{
    double left = pressure - vugi_head_pressure(o->fluid, lost_inside(o, mouth, flow));
    return (left > 0.0 ? vugi_orifice_flow(hole, left) : 0.0) - flow;
}

/* Through the hole and the way to it, one after the other: m3/s. */
static double flow_in_series(const vugi_outlets *o, uint32_t mouth, double pressure)
{
    const vugi_scene_mouth *m = o->scene->mouth + mouth;
    vugi_orifice hole = vugi_orifice_make(o->fluid, m->diameter, m->length);
    double lo = 0.0, hi = vugi_orifice_flow(&hole, pressure);
    if (!o->path || !(o->path[mouth].thin > 0.0) || !(hi > 0.0))
        return hi;
    /* Below, more would pass than was taken; above, less: regula falsi (Illinois). */
    double at_lo = hi, at_hi = past(o, mouth, &hole, pressure, hi);
    for (int i = 0, side = 0; i < 40 && hi - lo > 1e-6 * hi && at_hi < -1e-5 * hi; i++) {
        double mid = (lo * at_hi - hi * at_lo) / (at_hi - at_lo);
        double at = past(o, mouth, &hole, pressure, mid);
        if (fabs(at) <= 1e-6 * mid)
            return mid;
        if (at > 0.0) {
            lo = mid;
            at_lo = at;
            at_hi *= side == 1 ? 0.5 : 1.0;
            side = 1;
        } else {
            hi = mid;
            at_hi = at;
            at_lo *= side == 2 ? 0.5 : 1.0;
            side = 2;
        }
    }
    return hi;
}

/* Openings are taken as round, air falls short by the pressure it needs. Flow in m3/s. */
static double flow_under(const vugi_outlets *o, double level, double suction)
{
    double sum = 0.0;
    for (uint32_t i = 0; i < o->scene->mouth_count; i++) {
        const vugi_scene_mouth *m = o->scene->mouth + i;
        double head, part;
        if (!o->use[i] || i == o->air || (part = wet_part(m, level, &head)) <= 0.0)
            continue;
        double pressure = vugi_head_pressure(o->fluid, head) - suction;
        if (!(pressure > 0.0))
            continue;
        double flow = flow_in_series(o, i, pressure);
        sum += flow > 0.0 ? part * flow : 0.0;
    }
    return sum;
}

/* Suction that lets so much air in: through the mouth, and as bubbles while it is under liquid. */
static double air_suction(const vugi_outlets *o, double level, double flow)
{
    const vugi_scene_mouth *m = o->scene->mouth + o->air;
    vugi_orifice hole = vugi_orifice_immersed(vugi_air_fluid(), m->diameter, m->length);
    double bubbles = level > m->top ? 4.0 * o->fluid->surface_tension_n_m / (m->diameter * VUGI_MM)
                                    : 0.0;
    double drop = flow > 0.0 ? vugi_orifice_pressure(&hole, flow) : 0.0;
    return bubbles + (drop > 0.0 ? drop : 0.0);
}

typedef struct balance {
    const vugi_outlets *o;
    double level, drive;
} balance;

/* Does more run out than the flow of air in that the suction is for? */
static bool runs_faster(void *user, double flow)
{
    const balance *b = user;
    return flow_under(b->o, b->drive, air_suction(b->o, b->level, flow)) > flow;
}

/* While the air inlet is under liquid the other openings may let it in too, glug by glug. */
double vugi_outflow(const vugi_outlets *o, double level)
{
    const vugi_scene_mouth *air = o->scene->mouth + o->air;
    double drive = fmin(level,
        air->top); /* Mariotte's bottle while the air inlet is under liquid */
    double lo = 0.0, hi = flow_under(o, drive, air_suction(o, level, 0.0)), glug = 0.0;
    balance b = {o, level, drive};
    vugi_halve(runs_faster, &b, &lo, &hi, 60, 1e-6);
    for (uint32_t i = 0; i < o->scene->mouth_count; i++)
        if (o->use[i] && level > air->top)
            glug += vugi_glug(o->fluid, o->scene->mouth[i].diameter);
    return fmax(0.5 * (lo + hi) / VUGI_MM3, glug);
}

double vugi_film(const vug_fluid *f, double height_mm, double time_s)
{
    assert(f->density_kg_m3 > 0.0);
    assert(height_mm >= 0.0);
    double weight = f->density_kg_m3 * VUGI_G; /* Pa per m */
    double yield = vugi_fluid_yield(f), slow = vugi_fluid_flowing_viscosity(f, 1.0);
    double rate = fmax(1e-3,
        yield > 0.0 ? 1.0 : weight * 1e-4 / slow); /* at the wall, 0.1 mm thick */
    double viscosity = vugi_fluid_flowing_viscosity(f, rate);
    double draining = time_s > 0.0
        ? 2.0 / 3.0 * sqrt(viscosity * height_mm * VUGI_MM / (weight * time_s))
        : INFINITY;
    return fmax(draining, yield / weight) / VUGI_MM;
}

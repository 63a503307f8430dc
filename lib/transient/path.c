/* SPDX-License-Identifier: MIT
 * Heads that flows need along paths. */
#include "transient/path.h"

#include "flow/flow.h"
#include "flow/viscosity.h"

#include <assert.h>
#include <math.h>

static vugi_path sum(vugi_path a, vugi_path b)
{
    return (vugi_path){a.length + b.length, a.thin + b.thin, a.edge + b.edge};
}

vugi_path vugi_path_to(const vugi_scene *scene, const vugi_resistance *resist, uint32_t arc,
    double z)
{
    assert(arc < scene->graph.arc_count);
    assert(scene->graph.arc[arc].knots >= 2);
    const vugi_graph *g = &scene->graph;
    const vugi_arc *a = g->arc + arc;
    uint32_t lo = a->knot, hi = a->knot + a->knots - 1;
    while (hi - lo > 1) {
        uint32_t mid = lo + (hi - lo) / 2;
        if (g->knot[mid].z <= z)
            lo = mid;
        else
            hi = mid;
    }
    double gap = g->knot[hi].z - g->knot[lo].z;
    double part = gap > 0.0 ? fmax(0.0, fmin(1.0, (z - g->knot[lo].z) / gap)) : 0.0;
    const vugi_path *k = resist->knot + lo, *n = resist->knot + hi;
    vugi_path inside = {k->length + part * (n->length - k->length),
        k->thin + part * (n->thin - k->thin), k->edge + part * (n->edge - k->edge)};
    return sum(resist->down[arc], inside);
}

vugi_path vugi_path_through(const vugi_scene *scene, const vugi_resistance *resist, uint32_t arc)
{
    assert(arc < scene->graph.arc_count);
    return sum(vugi_path_to(scene, resist, arc, scene->graph.arc[arc].hi), resist->up[arc]);
}

/* The tube of the bundle: radius = 2 length / edge, area = 8 length / (thin radius^2). */
static double tube_of(const vugi_path *way, double *tubes)
{
    double r = 2.0 * way->length / way->edge;
    *tubes = 8.0 * way->length / (way->thin * r * r) / (VUGI_PI * r * r);
    return r;
}

double vugi_path_volume(const vugi_path *way)
{
    double tubes, r = tube_of(way, &tubes);
    return way->length > 0.0 ? tubes * VUGI_PI * r * r * way->length : 0.0;
}

bool vugi_path_resists(const vugi_path *way)
{
    return way->length > 0.0 && way->thin > 0.0 && way->edge > 0.0;
}

static const double least_mm = 1e-4, most_radius = 1e4, most_length = 1e7; /* of a tube, mm */
static const double most_pa = 9.9e9; /* asked of a tube; beyond, the flow goes on by its slope */

double vugi_path_resistance(const vug_fluid *fluid, const vugi_path *way, double flow)
{
    double weight = fluid->density_kg_m3 * VUGI_G;
    if (!vugi_path_resists(way))
        return 0.0;
    if (vugi_fluid_is_newtonian(fluid)) /* 1/mm3 to Pa s/m3 to mm per mm3/s */
        return vugi_fluid_viscosity(fluid, 0.0) * way->thin * 1e9 / weight * 1e-9 / VUGI_MM;
    double tubes, r = tube_of(way, &tubes);
    double tube = fmax(fabs(flow), 1e-6) / tubes, pressure;
    if (vug_tube_pressure(NULL, fluid, fmax(least_mm, fmin(most_radius, r)),
            fmax(least_mm, fmin(most_length, way->length)), &tube, 1, &pressure)
        != VUG_OK)
        return 0.0;
    return pressure / weight / VUGI_MM / fmax(fabs(flow), 1e-6);
}

double vugi_path_flow(const vug_fluid *fluid, const vugi_path *way, double head, double *slope)
{
    double weight = fluid->density_kg_m3 * VUGI_G * VUGI_MM; /* Pa for each mm */
    double tubes, r = tube_of(way, &tubes), flow[2];
    double press = fabs(head) * weight, asked = fmin(press, most_pa);
    const double more = 1e-4, pressure[2] = {asked, asked * (1.0 + more) + 1e-9};
    *slope = 0.0;
    if (vugi_fluid_is_newtonian(fluid)) {
        *slope = 1.0 / vugi_path_resistance(fluid, way, 0.0);
        return *slope * head;
    }
    if (vug_tube_flow(NULL, fluid, fmax(least_mm, fmin(most_radius, r)),
            fmax(least_mm, fmin(most_length, way->length)), pressure, 2, flow)
        != VUG_OK)
        return 0.0;
    double rise = (flow[1] - flow[0]) / (pressure[1] - pressure[0]);
    *slope = tubes * rise * weight;
    return copysign(tubes * (flow[0] + rise * (press - asked)), head);
}

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

double vugi_path_yield(const vug_fluid *fluid, const vugi_path *way)
{
    assert(fluid->density_kg_m3 > 0.0);
    return vugi_fluid_yield(fluid) * way->edge / (fluid->density_kg_m3 * VUGI_G) / VUGI_MM;
}

/* The tube of the bundle: radius = 2 length / edge, area = 8 length / (thin radius^2). */
double vugi_path_resistance(const vug_fluid *fluid, const vugi_path *way, double flow)
{
    double weight = fluid->density_kg_m3 * VUGI_G;
    if (!(way->length > 0.0) || !(way->thin > 0.0))
        return 0.0;
    if (vugi_fluid_is_newtonian(fluid)) /* 1/mm3 to Pa s/m3 to mm per mm3/s */
        return vugi_fluid_viscosity(fluid, 0.0) * way->thin * 1e9 / weight * 1e-9 / VUGI_MM;
    double r = 2.0 * way->length / way->edge, area = 8.0 * way->length / (way->thin * r * r);
    double tube = fmax(fabs(flow), 1e-6) * (VUGI_PI * r * r / area), pressure;
    if (vug_tube_pressure(NULL, fluid, fmax(1e-4, fmin(1e4, r)), fmax(1e-4, fmin(1e7, way->length)),
            &tube, 1, &pressure)
        != VUG_OK)
        return 0.0;
    return pressure / weight / VUGI_MM / fmax(fabs(flow), 1e-6);
}

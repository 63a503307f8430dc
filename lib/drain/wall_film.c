/* SPDX-License-Identifier: MIT
 * The film that stays on walls. */
#include "drain/wall_film.h"

#include "flow/flow.h"
#include "flow/viscosity.h"

#include <assert.h>
#include <math.h>

/* Thickness at the end of a way down a wall; mean: over all of it (Jeffreys 1930), or a yield stress that holds it. */
static double film(const vug_fluid *f, double sine, double way_mm, double time_s, bool mean)
{
    assert(f->density_kg_m3 > 0.0);
    assert(way_mm >= 0.0 && sine > 0.0);
    double weight = f->density_kg_m3 * VUGI_G * sine; /* Pa per m */
    double yield = vugi_fluid_yield(f), slow = vugi_fluid_flowing_viscosity(f, 1.0);
    double rate = fmax(1e-3,
        yield > 0.0 ? 1.0 : weight * 1e-4 / slow); /* at the wall, 0.1 mm thick */
    double viscosity = vugi_fluid_flowing_viscosity(f, rate);
    double draining = time_s > 0.0
        ? (mean ? 2.0 / 3.0 : 1.0) * sqrt(viscosity * way_mm * VUGI_MM / (weight * time_s))
        : INFINITY;
    return fmax(draining, yield / weight) / VUGI_MM;
}

double vugi_film(const vug_fluid *f, double height_mm, double time_s)
{
    return film(f, 1.0, height_mm, time_s, true);
}

double vugi_film_at(const vug_fluid *f, double sine, double way_mm, double time_s)
{
    return film(f, sine, way_mm, time_s, false);
}

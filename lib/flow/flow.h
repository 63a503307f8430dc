/* SPDX-License-Identifier: MIT
 * Floor 1: the sums. Pure functions: no mesh, no allocation, no state. Inside, lengths are in
 * metres and everything else in SI; millimetres stay at the public surface. */
#ifndef VUGI_FLOW_H
#define VUGI_FLOW_H

#include "base/base.h"

#define VUGI_G 9.80665           /* standard gravity, m/s2 */
#define VUGI_ATMOSPHERE 101325.0 /* standard atmosphere, Pa */
#define VUGI_PI 3.14159265358979323846
#define VUGI_MM 1e-3  /* m */
#define VUGI_MM2 1e-6 /* m2 */
#define VUGI_MM3 1e-9 /* m3 */

/* ---- numbers that come in and go out -------------------------------------- */

typedef struct vugi_limit {
    const char *name;
    double value, lo, hi; /* both ends allowed */
} vugi_limit;

/* VUG_ERR_DOMAIN with call, name, value and limits for the first that is NaN or outside. */
vug_status vugi_check(vug_context *ctx, const char *call, const vugi_limit *limit, size_t count);

/* VUG_ERR_ARGUMENT if pointer (called name) is NULL. */
vug_status vugi_check_result(vug_context *ctx, const char *call, const char *name,
    const void *pointer);

/* *out = value if it is finite, else VUG_ERR_DOMAIN. */
vug_status vugi_give(vug_context *ctx, const char *call, double value, double *out);

/* The caller's fluid (NULL: water) into *own, checked. */
vug_status vugi_fluid_read(vug_context *ctx, const char *call, const vug_fluid *fluid,
    vug_fluid *own);

/* One number in, one out: the body of an array form. Checks all before it writes any. */
typedef double (*vugi_sum)(const void *user, double x);
vug_status vugi_each(vug_context *ctx, const char *call, vugi_limit limit, const double *x,
    size_t count, vugi_sum sum, const void *user, double *out);

/* ---- roots ------------------------------------------------------------------ */

/* ln x where f(user, ln x) = 0 for a rising f, started from guess (in ln x). Bracketed, so it ends.
 * NaN if f does not change sign for x in 1e-300..1e300. */
double vugi_root(double (*f)(const void *user, double ln_x), const void *user, double guess);

/* ---- shear -------------------------------------------------------------------- */

/* Stress beyond the yield stress is the variable of both: given by its logarithm.
 * Tube: ln(flow / (pi radius^3)); slot: ln(flow / (2 width (gap/2)^2)). Rising in ln_excess. */
double vugi_tube_ln_rate(const vug_fluid *fluid, double ln_excess);
double vugi_slot_ln_rate(const vug_fluid *fluid, double ln_excess);

/* ---- holes ---------------------------------------------------------------------- */

typedef struct vugi_orifice {
    vug_fluid fluid;
    double radius, length; /* m */
    double length_eff;     /* with the creeping ends */
    double start;          /* Pa; no flow up to here */
    double loss;           /* inertial loss at the ends, in dynamic pressures */
} vugi_orifice;

vugi_orifice vugi_orifice_make(const vug_fluid *fluid, double diameter_mm, double length_mm);

/* m3/s and Pa, odd in their argument. NaN if there is no root. */
double vugi_orifice_flow(const vugi_orifice *hole, double pressure);
double vugi_orifice_pressure(const vugi_orifice *hole, double flow);

/* Reynolds number (Metzner and Reed's for a fluid that is not plain) of a flow in m3/s. */
double vugi_orifice_reynolds(const vugi_orifice *hole, double flow);

/* Seconds for the head (m) to fall from hi to lo while the area (m2) goes linearly from area_hi to
 * area_lo. The caller has made sure that lo is above the head at which the hole stops. */
double vugi_drain_seconds(const vugi_orifice *hole, double lo, double area_lo, double hi,
    double area_hi);

/* ---- liquids -------------------------------------------------------------------------- */

/* Water at atmospheric pressure, 0..60 C. */
double vugi_water_density(double temperature_c);
double vugi_water_viscosity(double temperature_c);
double vugi_water_tension(double temperature_c);
double vugi_water_vapour_pressure(double temperature_c); /* saturated, Pa */

/* ---- syringes ------------------------------------------------------------------------- */

/* ISO 7886-1: error allowed when expelled_ml leave, and what may stay inside. */
double vugi_syringe_tolerance(double capacity_ml, double expelled_ml);
double vugi_syringe_dead_space(double capacity_ml);

/* ---- capillarity ------------------------------------------------------------------ */

/* Critical radius / capillary length of a meniscus free to slide, and pinned. */
double vugi_exchange_free(double contact_angle_deg);
extern const double vugi_exchange_pinned;

double vugi_capillary_length(const vug_fluid *fluid); /* m */

#endif

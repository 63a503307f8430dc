/* SPDX-License-Identifier: MIT
 * Tables of what passes, in logarithms. */
#include "transient/outlet.h"

#include "flow/flow.h"
#include "flow/fluid.h"
#include "flow/hole.h"
#include "hydrostatic/liquid.h"

#include <math.h>

static const double least_head = 1e-4; /* mm beyond the start */
static const double most_sill = 50.0;  /* mm over a sill: then on as a power */
static const double most_bore = 1e4;   /* mm along a bore: the same */

/* Part of a round opening below liquid that stands x mm over its lip, and the head on that part in mm. An opening that
 * looks up or down is under liquid as a whole. In the last tenth of one that looks aside it drips: no law holds there,
 * the rate is taken as steady, but for the last of it, so that it comes to nothing. */
static double wet_part(const vugi_scene_mouth *m, double x, double *head)
{
    double height = m->top - m->lip;
    if (x >= height) {
        *head = x - 0.5 * height;
        return 1.0;
    }
    double r = 0.5 * height, last = fmin(1.0, x / (0.01 * height));
    x = fmax(x, 0.1 * height);
    *head = 0.5 * x;
    return last * (r * r * acos((r - x) / r) - (r - x) * sqrt(fmax(0.0, 2.0 * r * x - x * x)))
        / (VUGI_PI * r * r);
}

/* How far over the lip liquid stands when the head on what is wet of the opening is that. */
static double over_lip(const vugi_scene_mouth *m, double head)
{
    double height = m->top - m->lip;
    if (head <= 0.05 * height)
        return 0.0;
    return head < 0.5 * height ? 2.0 * head : head + 0.5 * height;
}

static void set_rows(vugi_outlet *o, double most_mm)
{
    o->least = log(least_head);
    o->step = log(fmax(10.0, most_mm / least_head)) / (VUGI_OUTLET_ROWS - 1);
}

static double row_head(const vugi_outlet *o, int row)
{
    return o->start + exp(o->least + row * o->step);
}

vugi_outlet vugi_outlet_liquid(const vug_fluid *fluid, const vugi_scene_mouth *m, double most_mm)
{
    vugi_orifice hole = vugi_orifice_make(fluid, m->tubes.diameter, m->length);
    double start = hole.start / vugi_head_pressure(fluid, 1.0);
    vugi_outlet o = {.zero = m->lip, .start = over_lip(m, start)};
    set_rows(&o, most_mm);
    for (int i = 0; i < VUGI_OUTLET_ROWS; i++) {
        double head, part = wet_part(m, row_head(&o, i), &head);
        double flow = vugi_orifice_flow(&hole, vugi_head_pressure(fluid, head));
        o.flow[i] = log(fmax(1e-300, part * m->tubes.count * flow / VUGI_MM3));
    }
    return o;
}

vugi_outlet vugi_outlet_air(const vug_fluid *fluid, const vugi_scene_mouth *m, double most_mm)
{
    vugi_orifice hole = vugi_orifice_immersed(vugi_air_fluid(), m->tubes.diameter, m->length);
    vugi_outlet o = {.zero = 0.0};
    set_rows(&o, most_mm);
    for (int i = 0; i < VUGI_OUTLET_ROWS; i++) {
        double flow = vugi_orifice_flow(&hole, vugi_head_pressure(fluid, row_head(&o, i)));
        o.flow[i] = log(fmax(1e-300, m->tubes.count * flow / VUGI_MM3));
    }
    return o;
}

vugi_outlet vugi_outlet_bore(const vug_fluid *fluid, const vugi_scene_mouth *m, double length_mm)
{
    vugi_orifice hole = vugi_orifice_make(fluid, m->tubes.diameter, length_mm);
    vugi_outlet o = {.zero = 0.0, .start = hole.start / vugi_head_pressure(fluid, 1.0)};
    set_rows(&o, most_bore);
    for (int i = 0; i < VUGI_OUTLET_ROWS; i++) {
        double flow = vugi_orifice_flow(&hole, vugi_head_pressure(fluid, row_head(&o, i)));
        o.flow[i] = log(fmax(1e-300, m->tubes.count * flow / VUGI_MM3));
    }
    return o;
}

vugi_outlet vugi_outlet_sill(const vug_fluid *fluid, const vugi_sill_shape *shape)
{
    vugi_outlet o = {.zero = 0.0};
    double flow = 1e-300;
    set_rows(&o, most_sill);
    for (int i = 0; i < VUGI_OUTLET_ROWS; i++) {
        flow = fmax(flow,
            vugi_sill_flow(fluid, shape, row_head(&o, i))); /* else one flow had two heads */
        o.flow[i] = log(flow);
    }
    return o;
}

/* Between two rows as a power of the head; below the first in proportion to it, also where it just begins: what goes both
 * ways would else seem to have no slope at rest. */
double vugi_outlet_flow(const vugi_outlet *o, double head, double *slope)
{
    double x = head - o->zero - o->start;
    *slope = 0.0;
    if (!(x >= 0.0))
        return 0.0;
    if (x <= least_head) {
        *slope = exp(o->flow[0]) / least_head;
        return *slope * x;
    }
    double row = (log(x) - o->least) / o->step;
    int i = (int)fmin(VUGI_OUTLET_ROWS - 2.0, floor(row));
    double rise = o->flow[i + 1] - o->flow[i], flow = exp(o->flow[i] + (row - i) * rise);
    *slope = flow * fmax(0.0, rise / o->step) / x;
    return flow;
}

double vugi_air_suction(const vug_fluid *fluid, const vugi_scene_mouth *m, bool under, double flow)
{
    vugi_orifice hole = vugi_orifice_immersed(vugi_air_fluid(), m->tubes.diameter, m->length);
    double bubbles = under ? 4.0 * fluid->surface_tension_n_m / (m->diameter * VUGI_MM) : 0.0;
    double drop = flow > 0.0 ? vugi_orifice_pressure(&hole, flow * VUGI_MM3 / m->tubes.count) : 0.0;
    return (bubbles + fmax(0.0, drop)) / vugi_head_pressure(fluid, 1.0);
}

/* Far from the balance as from nothing: as all jets' flows grow less and less, this comes to them from above. */
double vugi_outlet_ask(const vugi_ask *ask, const vugi_outlet *o, double head, double *slope)
{
    double far, flow = vugi_outlet_flow(o, head, slope), over = head - o->zero - o->start;
    vugi_outlet_flow(o, head + ask->near, &far);
    *slope = fmax(*slope, far);
    if (ask->rough && over > 0.0)
        *slope = fmax(*slope, flow / over);
    return flow;
}

double vugi_outlet_law(const vugi_ask *ask, const vugi_flow *f, const double head[3],
    double slope[3])
{
    return vugi_outlet_ask(ask, f->of, head[0], slope);
}

double vugi_outlet_law_air(const vugi_ask *ask, const vugi_flow *f, const double head[3],
    double slope[3])
{
    return copysign(vugi_outlet_ask(ask, f->of, fabs(head[0]), slope), head[0]);
}

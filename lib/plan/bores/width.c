/* SPDX-License-Identifier: MIT
 * How wide the first opening of a cavity has to be. */
#include "plan/bores/width.h"

#include <math.h>

/* Nobody is to wait longer than this, s, nor to drill wider than this, mm, for one hole to drain by itself (common
 * practice, no source); beyond both a syringe helps. */
static const double PATIENCE_S = 120.0, WIDEST_MM = 6.0;

/* The hole from which a cavity runs out in time though it is the only one, by vug_exchange_flow(). */
static double draining_alone(const vugi_planning *p, size_t cavity, double from_mm)
{
    const double volume = p->cavities->cavity[cavity].volume;
    double flow = 0.0, mm = from_mm;
    for (; mm < WIDEST_MM; mm *= 1.02)
        if (!vug_exchange_flow(NULL, &p->solvent, mm, &flow) && flow * PATIENCE_S >= 1.5 * volume)
            break;
    return fmax(from_mm, fmin(mm, WIDEST_MM));
}

/* Where no sum tells (common practice, no source). */
static const double USUAL_MM = 3.0;

/* For a needle that paint goes through. exchange: as the only hole of its cavity. */
static vug_status by_needle(const vugi_planning *p, int32_t exchange, vug_hole_choice *choice)
{
    vug_hole_task task;
    vug_hole_task_init(&task, sizeof task);
    task.needle_mm = 1.651; /* 16 G, a usual blunt needle for paint */
    task.exchange = exchange;
    return vug_hole_choose(NULL, &p->solvent, &task, choice);
}

vugi_width vugi_second_width(const vugi_planning *p)
{
    vugi_width width = {USUAL_MM, USUAL_MM};
    vug_hole_choice choice = {.struct_size = sizeof choice};
    if (!by_needle(p, 0, &choice))
        width = (vugi_width){choice.drill_mm, fmax(choice.drill_mm, USUAL_MM)};
    return width;
}

vugi_width vugi_inlet_width(const vugi_planning *p, size_t cavity)
{
    vugi_width width = {USUAL_MM, USUAL_MM};
    vug_hole_choice choice = {.struct_size = sizeof choice};
    if (!by_needle(p, 0, &choice))
        width.least_mm = choice.drill_mm;
    if (!by_needle(p, 1, &choice))
        width.wish_mm = draining_alone(p, cavity, choice.drill_mm);
    return width;
}

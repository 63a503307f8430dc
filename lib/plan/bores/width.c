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

vugi_width vugi_inlet_width(const vugi_planning *p, size_t cavity)
{
    vugi_width width = {3.0, 3.0};
    vug_hole_task task;
    vug_hole_choice choice = {.struct_size = sizeof choice};
    vug_hole_task_init(&task, sizeof task);
    task.needle_mm = 1.651; /* 16 G, a usual blunt needle for paint */
    if (!vug_hole_choose(NULL, &p->solvent, &task, &choice))
        width.least_mm = choice.drill_mm;
    task.exchange = 1;
    if (!vug_hole_choose(NULL, &p->solvent, &task, &choice))
        width.wish_mm = draining_alone(p, cavity, choice.drill_mm);
    return width;
}

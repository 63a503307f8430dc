/* SPDX-License-Identifier: MIT
 * The film that stays on the walls of a cavity that has drained. */
#ifndef VUGI_DRAIN_WALL_FILM_H
#define VUGI_DRAIN_WALL_FILM_H

#include "base/base.h"

/* Mean thickness in mm of the film left on walls of a height after draining for a time: Jeffreys
 * 1930, sqrt(viscosity z / (density g t)), mean over z; at least what the yield stress holds. */
double vugi_film(const vug_fluid *fluid, double height_mm, double time_s);

/* The same at the end of a way down a wall whose slope has this sine, above 0. */
double vugi_film_at(const vug_fluid *fluid, double sine, double way_mm, double time_s);

#endif

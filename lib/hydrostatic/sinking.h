/* SPDX-License-Identifier: MIT
 * The mirror of a drain: what is displaced is liquid, which leaves only by what is not above its own surface. */
#ifndef VUGI_HYDROSTATIC_SINKING_H
#define VUGI_HYDROSTATIC_SINKING_H

#include "hydrostatic/run.h"

/* How far the surface in an arc can rise; INFINITY where what is displaced has no weight. */
double vugi_sinking_limit(const vugi_run *run, uint32_t arc);

/* What can run over a sill yet has a way out too: marks it so in the links. */
void vugi_sinking_vents(vugi_run *run);

#endif

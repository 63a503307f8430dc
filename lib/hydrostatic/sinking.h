/* SPDX-License-Identifier: MIT
 * The mirror of a drain: what is displaced is liquid, which leaves only by what is not above its own surface. */
#ifndef VUGI_HYDROSTATIC_SINKING_H
#define VUGI_HYDROSTATIC_SINKING_H

#include "gravity/links.h"
#include "gravity/scene.h"

/* What stands where, and how it is connected. */
typedef struct vugi_sinking {
    const vugi_scene *scene;
    const double *level;  /* of each arc */
    const bool *air_open; /* of each mouth */
    vugi_links *links;
} vugi_sinking;

/* How far the surface in an arc can rise. */
double vugi_sinking_limit(const vugi_sinking *sinking, uint32_t arc);

/* What can run over a sill yet, by more than that, has a way out too: marks it so in the links. */
void vugi_sinking_vents(const vugi_sinking *sinking, double tolerance);

#endif

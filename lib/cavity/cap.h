/* SPDX-License-Identifier: MIT
 * How high the skin stood where an opening was made. */
#ifndef VUGI_CAVITY_CAP_H
#define VUGI_CAVITY_CAP_H

#include "cavity/cavity.h"
#include "cavity/wall.h"

/* The peak of the cap of an opening that is measured, and how far its volume may be off. other: neighbours of
 * mesh. */
void vugi_cap_fit(const vug_mesh *mesh, const uint32_t *other, const vugi_wall *wall,
    vugi_opening *opening);

#endif

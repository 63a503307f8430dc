/* SPDX-License-Identifier: MIT
 * How far what is known of a cavity can be trusted. */
#ifndef VUGI_CAVITY_TRUST_H
#define VUGI_CAVITY_TRUST_H

#include "cavity/cavity.h"

/* Does an opening have the part's own rim and mouth, or those of a planned bore? */
bool vugi_opening_exact(const vug_cavities *cavities, const vugi_opening *opening);

/* How far the height at which an opening passes air, or liquid, may be off in a pose. */
double vugi_opening_error(const vug_cavities *cavities, const vugi_opening *opening,
    const double up[3], bool liquid);

/* Is the cavity the part's own triangles, and are all its openings exact? */
bool vugi_cavity_trusted(const vug_cavities *cavities, size_t cavity);
bool vugi_cavities_trusted(const vug_cavities *cavities);

/* How far the rim of an opening leaves its own plane, mm. */
double vugi_out_of_plane(const vugi_opening *opening);

/* How far the volume behind an opening may be off for the skin that rose over its cap. */
double vugi_cap_error(const vugi_opening *opening);

/* Of the coarsest of their meshes: see vugi_mesh_grain(). */
double vugi_cavities_grain(const vug_cavities *cavities);

/* How far the volume of a cavity may be off for its caps, each of which tells nothing of another: of those openings alone
 * that are sealed, by role, for air under the cap of what is open has left; NULL: of all. */
double vugi_caps_error(const vug_cavities *cavities, size_t cavity, const int32_t *role);

/* How far its volume may be off for being made on a grid. */
double vugi_grid_error(const vug_cavities *cavities, size_t cavity);

/* How far the cavity's volume may be off: its own, and what the skin would rise over the caps. */
double vugi_cavity_error(const vug_cavities *cavities, size_t cavity);

#endif

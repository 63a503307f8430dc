/* SPDX-License-Identifier: MIT
 * Where the thickness of a wall is measured. */
#ifndef VUGI_CAVITY_SKIN_H
#define VUGI_CAVITY_SKIN_H

#include "cavity/cavity.h"
#include "cavity/thickness_types.h"

/* The samples without their thickness: vertices, and points on triangles with an edge longer than
 * spacing. Vertices of walls of cavities (may be NULL) are left out. */
vug_status vugi_skin_sample_mesh(vug_context *ctx, const vug_cavities *cavities, double spacing,
    vug_thickness *t);

/* Bytes that this takes, the samples included; triangles that are alike count each, lids of openings less. */
double vugi_skin_bytes(const vug_mesh *mesh, const vug_cavities *cavities, double spacing);

#endif

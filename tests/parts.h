/* SPDX-License-Identifier: MIT
 * Parts whose cavities are known by construction, for the tests of finding them. */
#ifndef VUG_PARTS_H
#define VUG_PARTS_H

#include "mesh/mesh.h"

#include "vug.h"

enum { PART_RESOLUTIONS = 3, PART_PLACES = 12 };

typedef struct part {
    const char *name;
    vug_mesh *mesh; /* the caller frees it */
    int cavities, openings, throats;
    double volume[PART_PLACES];   /* of each cavity, largest first */
    double diameter[PART_PLACES]; /* of each opening (equal area), largest first */
    double throat[PART_PLACES];   /* radius of each throat, largest first */
} part;

int part_count(void);
const char *part_name(int index);

/* Part number index at resolution 0, 1, 2 (coarse to fine). At resolution 1 and 2 it is also
 * turned, so that nothing lies along the axes. */
part part_make(vug_context *ctx, int index, int resolution);

#endif

/* SPDX-License-Identifier: MIT
 * The demo coral as fields: negative inside. Branches are chains of round cones along curves,
 * blended where they meet; the base is a few rounded discs, cut flat at z = 0. The cavity is what
 * lies deeper than the wall, cut flat at z = floor. All in mm, +z the way the specimen grows. */
#ifndef TOOLS_CORAL_SHAPE_H
#define TOOLS_CORAL_SHAPE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum { CORAL_BORES_MAX = 2 };

typedef struct coral_params {
    double height; /* of the whole specimen, about */
    double wall;   /* thickness of the skin, and of the floor of the base */
    double bore;   /* diameter of the bores in the base */
    int64_t bores; /* 0 .. CORAL_BORES_MAX; 0 leaves the cavity closed */
    int64_t seed;  /* 0: the specimen as drawn; others bend it a little */
    bool smooth;   /* without the cups */
} coral_params;

typedef struct coral_shape coral_shape;

/* NULL without memory. */
coral_shape *coral_create(const coral_params *params);
void coral_free(coral_shape *coral);

/* Radius of the thinnest place of a branch: the wall must stay well below it. */
double coral_thinnest(const coral_params *params);

/* The skin without its cups. Changes by at most 1 per mm. */
double coral_skin(const coral_shape *coral, const double p[3]);

/* The skin with its cups. Differs from coral_skin by less than coral_relief. */
double coral_outside(const coral_shape *coral, const double p[3]);
double coral_relief(const coral_shape *coral);

/* The cavity without its flat floor and without the bores. */
double coral_cavity(const coral_shape *coral, const double p[3]);
double coral_floor(const coral_shape *coral);

double coral_height(const coral_shape *coral);
void coral_bounds(const coral_shape *coral, double lo[3], double hi[3]);

/* Centre of bore number i on the outer face of the base, z = 0; it runs along z to the floor. */
void coral_bore(const coral_shape *coral, int i, double center[3]);

#endif

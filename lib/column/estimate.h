/* SPDX-License-Identifier: MIT
 * What columns and a flood over them add up to, and how far that may be off. */
#ifndef VUGI_COLUMN_ESTIMATE_H
#define VUGI_COLUMN_ESTIMATE_H

#include "column/column.h"
#include "column/flood.h"
#include "column/wall_flood.h"

/* volume: of all spans; caught: of what a flood leaves behind, air above its levels or liquid below them.
 * Variances are those of sampling upright lines where walls stand between them: of what is caught, and of
 * the rest. level: what sills seen through the columns may add to or take from what is caught. */
typedef struct vugi_estimate {
    double volume, caught;
    double caught_variance, rest_variance;
    double level;
    double grain_variance; /* of what is caught, for coordinates that are rounded */
    double beyond;         /* of what is caught: for what is not known of its walls */
} vugi_estimate;

/* An all-zero room may be used again and again. */
typedef struct vugi_estimate_room {
    double *caught, *rest; /* of each column: lengths of its spans */
    size_t caught_capacity, rest_capacity;
    double *run;
    size_t run_capacity;
} vugi_estimate_room;

/* scale: of each body, what its volumes are multiplied by. false: no memory. */
bool vugi_estimate_flood(const vugi_allocator *mem, const vugi_columns *columns,
    const vugi_flood *flood, bool liquid, const double *scale, vugi_estimate_room *room,
    vugi_estimate *out);

/* The same where the walls have told what is caught, of a volume; grain: of their coordinates, see vugi_mesh_grain(); beyond: what
 * else what is caught may be off by. */
vugi_estimate vugi_estimate_exact(double volume, const vugi_wall_sums *caught, double grain,
    double beyond);
void vugi_estimate_room_free(const vugi_allocator *mem, vugi_estimate_room *room);

/* Most that the ceiling (liquid: the floor) changes from a span to those that touch it in the columns beside: up to
 * VUGI_STEEPEST spacings, what is steeper is a wall. */
enum { VUGI_STEEPEST = 4 };
double vugi_ceiling_step(const vugi_columns *columns, bool liquid, size_t span, uint32_t column);

/* How far the level of a span may be off: by what the columns around its sill differ. */
double vugi_level_error(const vugi_columns *columns, const vugi_flood *flood, bool liquid,
    size_t span);

/* Errors in the volume caught, once the whole is scaled to a volume known within whole_error. */
double vugi_caught_error(const vugi_estimate *e, double whole_error);

#endif

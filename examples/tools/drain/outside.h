/* SPDX-License-Identifier: MIT
 * Cups on the outside of a part: what its own shape shuts against the film while it grows. */
#ifndef TOOLS_DRAIN_OUTSIDE_H
#define TOOLS_DRAIN_OUTSIDE_H

#include <vug.h>

#include <stdbool.h>

/* How it is printed. */
typedef struct printing_settings {
    double layer_mm, lift_mm_s, film_pa, vat_kg_m3, vat_pa_s;
    bool supports; /* 0: the part stands on the plate itself */
} printing_settings;

/* Options and resin of a search for cups. */
void printing_ask(const printing_settings *settings, int64_t columns, vug_cup_options *options,
    vug_fluid *resin);

/* Lowest level of the part along up. */
double outside_lowest(const vug_mesh *mesh, const double *up);

/* Does the point lie in a closed mesh? */
bool outside_is_in(const vug_mesh *mesh, const double point[3]);

typedef struct outside {
    vug_cups **cups; /* of each room around the part */
    size_t rooms;
    double plate; /* a cup that begins below this level begins on the plate */
} outside;

/* found: outside_free(), in failure too. */
vug_status outside_find(vug_context *ctx, const vug_mesh *mesh, const double *up, int64_t columns,
    const printing_settings *settings, outside *found);
void outside_free(outside *found);

#endif

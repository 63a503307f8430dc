/* SPDX-License-Identifier: MIT
 * Where air can still reach a vent (or liquid an outlet), over the spans of a pose. */
#ifndef VUGI_COLUMN_FLOOD_H
#define VUGI_COLUMN_FLOOD_H

#include "column/column.h"
#include "column/wall_flood.h"

typedef struct vugi_seed {
    uint32_t span;
    double level; /* air: highest point of the vent's rim; liquid: the lip */
    double error; /* how far that may be off */
} vugi_seed;

/* A sill that was looked at closer: its level, and what the ceiling changes there from column to column. */
typedef struct vugi_sharp {
    uint32_t sill;
    double level, error;
} vugi_sharp;

/* So many of a flood are looked at, at most. */
enum { VUGI_SHARP_MOST = 4 };

typedef struct vugi_sharps {
    vugi_sharp at[VUGI_SHARP_MOST];
    size_t count;
    bool liquid; /* seen in a flood of liquid */
} vugi_sharps;

typedef struct vugi_flood {
    double *level;  /* of each span: see below */
    uint32_t *sill; /* of each span: see vugi_flood_sill() */
    size_t capacity, sill_capacity;
    vugi_sharp *sharp; /* see column/sill.h; none after a flood */
    size_t sharp_count, sharp_capacity;
    struct vugi_flood_room *room;
} vugi_flood;

/* level[s]: the highest level at which air in span s still reaches a seed, -INFINITY if never: the
 * greatest, over all paths, of the lowest ceiling on the path. What lies above it is trapped. liquid: the
 * mirror image, the lowest level down to which liquid in span s drains to a seed, INFINITY if never; what
 * lies below it stays behind. Priority-Flood (Barnes, Lehman, Mulla 2014) from the vents downward, over
 * ceilings; spans whose ceiling does not limit go through a plain queue. An all-zero vugi_flood may be
 * used again and again, then freed. */
vug_status vugi_flood_run(vug_context *ctx, const vugi_allocator *mem, const vugi_columns *columns,
    bool liquid, const vugi_seed *seed, size_t seed_count, vugi_flood *flood);

/* The same from what walls have told, of the same pose; error: of the height of each opening. All sills are exact then. */
bool vugi_flood_from(const vugi_allocator *mem, const vugi_bodies *bodies,
    const vugi_columns *columns, bool liquid, const vugi_wall_flood *walls, const double *error,
    size_t openings, vugi_flood *flood);

/* The span whose ceiling (liquid: floor) gave a span its level; or, if that is a seed's own level, UINT32_MAX and
 * the seed's error. */
uint32_t vugi_flood_sill(const vugi_flood *flood, size_t span, double *seed_error);
/* What a closer look at a sill has shown; NULL: nobody has looked. */
const vugi_sharp *vugi_flood_sharp(const vugi_flood *flood, uint32_t sill);
/* The column of a span, as the flood has it. */
uint32_t vugi_flood_column(const vugi_flood *flood, size_t span);

void vugi_flood_free(const vugi_allocator *mem, vugi_flood *flood);


#endif

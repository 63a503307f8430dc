/* SPDX-License-Identifier: MIT
 * Finite air in the nodes of a pose: where it comes to rest, what leaves by the vents, and where it
 * goes when the part is turned. Fill-Spill-Merge (Barnes, Callaghan, Wickert 2021, Earth Surf. Dynam.
 * 9:105) upside down, with vents. */
#ifndef VUGI_AIRTREE_AIR_H
#define VUGI_AIRTREE_AIR_H

#include "airtree/tree.h"

#include "cavity/cavity.h"

/* How much each node of a pose holds with a given set of openings open to air. */
typedef struct vugi_vents {
    double *room;  /* of each node: down to its sill or its vent */
    double *level; /* which lies there */
    int32_t *vent; /* opening by which the rest leaves; -1: none, over the sill */
} vugi_vents;

/* In the place of an opening: a gate that liquid flows through. */
enum { VUGI_VENT_GATE = VUG_MAX_OPENINGS };

/* opening: opening_count of them; closed[i]: passes nothing (NULL: all open). The columns have the
 * bores of the first in_columns. */
vug_status vugi_vents_build(vug_context *ctx, const vugi_allocator *mem, const vugi_airtree *tree,
    const vugi_opening *const *opening, const bool *closed, size_t opening_count, size_t in_columns,
    vugi_vents *vents);
void vugi_vents_free(const vugi_allocator *mem, vugi_vents *vents);

/* Opening number index lets air out of a span while the liquid there is below level. */
void vugi_vents_span(const vugi_airtree *tree, uint32_t span, double level, int32_t index,
    vugi_vents *vents);

/* Air at rest. own[node]: of a leaf, its air; of an inner node, what it holds beyond its parts. */
typedef struct vugi_air {
    double *own;
    double total;   /* with what has not moved */
    double stuck;   /* in bubbles too small to move, wherever they are */
    double escaped; /* by openings, in the last settling */
} vugi_air;

/* Scratch of one thread, for any pose; all zero to start with. */
typedef struct vugi_air_room {
    double *rising; /* air that arrives below each leaf */
    unsigned char *full;
    double stuck, stuck_mark; /* air that stays where it was, and a number that tells where */
    size_t rising_capacity, full_capacity;
} vugi_air_room;

void vugi_air_room_free(const vugi_allocator *mem, vugi_air_room *room);

/* Makes ready for tree->count nodes: rising is 0. false: no memory. */
bool vugi_air_room_ready(const vugi_allocator *mem, const vugi_airtree *tree, vugi_air_room *room);

/* Lets room->rising come to rest with all openings covered, then frees them, so that air above a vent
 * leaves while liquid is topped up. air->own has tree->count places. */
void vugi_air_settle(const vugi_airtree *tree, const vugi_vents *vents, vugi_air_room *room,
    vugi_air *air);

/* A first fill: as much air as the nodes hold. */
void vugi_air_first(const vugi_airtree *tree, const vugi_vents *vents, vugi_air_room *room,
    vugi_air *air);

/* One body of air at rest. */
typedef struct vugi_bubble {
    uint32_t node;
    double volume, level;
} vugi_bubble;

/* The bodies of air, by falling number of their node. *bubble from mem, the caller frees it. */
vug_status vugi_air_bubbles(vug_context *ctx, const vugi_allocator *mem, const vugi_airtree *tree,
    const vugi_vents *vents, const double *own, vugi_bubble **bubble, size_t *count);

/* A bit of air that moves on its own when the part is turned. */
typedef struct vugi_parcel {
    double volume;
    float bubble; /* volume of the body of air that it is a bit of */
    float at[3];  /* part coordinates */
    int32_t body;
} vugi_parcel;

/* Cuts the air at rest into parcels, about `most` of them at most. *parcel from mem, the caller
 * frees it; their volumes add up to the air's. */
vug_status vugi_air_parcels(vug_context *ctx, const vugi_allocator *mem, const vugi_airtree *tree,
    const vugi_vents *vents, const double *own, size_t most, vugi_parcel **parcel, size_t *count);

/* Turns the part to the pose of nodes: the parcels rise under its ceilings, into room->rising. Bubbles
 * smaller than held mm3 stay where they are, in room->stuck. */
void vugi_air_release(const vugi_airtree *tree, const vugi_parcel *parcel, size_t count,
    double held, vugi_air_room *room);

/* Adds those that stayed to *to. */
bool vugi_air_keep(const vugi_allocator *mem, const vugi_parcel *parcel, size_t count, double held,
    vugi_parcel **to, size_t *to_count);

#endif

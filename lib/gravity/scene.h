/* SPDX-License-Identifier: MIT
 * A cavity in a pose, ready to be filled or drained: its columns, its gravity graph, and where its
 * openings lie on the graph. Shared by the results that were made on it. */
#ifndef VUGI_GRAVITY_SCENE_H
#define VUGI_GRAVITY_SCENE_H

#include "gravity/doors.h"
#include "gravity/graph.h"

#include "cavity/rim.h"
#include "column/column.h"
#include "column/flood.h"
#include "flow/section.h"

/* An opening, as the scene wants it. */
typedef struct vugi_scene_mouth {
    int32_t opening;               /* its number */
    double top, lip;               /* highest and lowest point of its rim, along up */
    double inner_top, inner_lip;   /* of the way to it from the inner end of its bore */
    double point[3];               /* centre of the rim, part coordinates */
    double inside[3];              /* a little inside the inner end of its bore */
    double diameter, length;       /* of the bore behind it; the widest that fits in it */
    vugi_tubes tubes;              /* what passes it */
    const vugi_opening_span *span; /* spans at it; only read while the scene is built */
    size_t spans;
    uint32_t
        basin; /* of a scene that is made: into which liquid from it runs; VUGI_NONE: as the floors lead it */
} vugi_scene_mouth;

/* Where a mouth opens into an arc. z: for air, the level that covers it; for liquid, the lip. */
typedef struct vugi_port {
    uint32_t mouth, arc;
    double z;
} vugi_port;

typedef struct vugi_scene {
    vugi_allocator mem;
    atomic_size_t owners;
    double up[3];
    vug_mesh *wall; /* of the cavity, shared with it; NULL: not known */
    vugi_columns columns;
    vugi_sharps sharp; /* sills that were looked at closer in them */
    vugi_graph graph;
    vugi_scene_mouth *mouth;
    uint32_t *entry;   /* of each mouth: the span by which liquid enters, or VUGI_NONE */
    uint32_t *landing; /* of each mouth: the basin into which liquid from it runs; or VUGI_NONE */
    size_t mouth_count;
    vugi_port *vent, *lip; /* by mouth */
    size_t vent_count, lip_count;
    struct vugi_atlas *atlas; /* chambers by place; NULL: not known */
    vugi_scene_throat *throat;
    size_t throat_count;
    vugi_door *door; /* throats at which the graph is parted */
    size_t door_count;
    uint32_t *gate; /* of each span, for the sweep; NULL: no doors */
} vugi_scene;

/* Takes over the columns (from mem), in success and in failure. doors: the chambers whose level throats become doors;
 * NULL: none. */
vug_status vugi_scene_make(vug_context *ctx, const vugi_allocator *mem, vugi_columns *columns,
    const double up[3], int32_t body, double volume, const vugi_scene_mouth *mouth,
    size_t mouth_count, const vugi_scene_throat *throat, size_t throat_count,
    const struct vugi_atlas *doors, vugi_scene **out);
/* The basins into which liquid from the mouths runs, into landing. entry: a span for each mouth. */
vug_status vugi_scene_land(vug_context *ctx, vugi_scene *scene);
/* Height of the inner end of the bore of a mouth: what lies beyond is the mouth's own. */
double vugi_scene_mouth_inside(const vugi_scene_mouth *mouth);

vugi_scene *vugi_scene_share(vugi_scene *scene);
void vugi_scene_free(vugi_scene *scene);

#endif

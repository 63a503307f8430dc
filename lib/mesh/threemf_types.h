/* SPDX-License-Identifier: MIT
 * What a 3MF holds, by the core specification of the 3MF Consortium, 1.3: objects that are meshes or
 * lists of other objects, and a build that names those to be printed. */
#ifndef VUGI_MESH_THREEMF_TYPES_H
#define VUGI_MESH_THREEMF_TYPES_H

#include "mesh/gather.h"

/* A use of an object in a place: a component, or an item of the build. */
typedef struct vugi_3mf_use {
    uint32_t part,
        id; /* of the object: the part of the archive that it stands in, its number there */
    vugi_place3 place;
} vugi_3mf_use;

/* Rows of lists of the model, first and count of each. */
typedef struct vugi_3mf_object {
    uint32_t part, id;
    bool support;
    size_t vertex, vertex_count;
    size_t triangle, triangle_count;
    size_t component, component_count;
} vugi_3mf_object;

typedef struct vugi_3mf_model {
    vug_context *ctx;
    const char *name; /* of the file, for messages */
    double unit_mm;   /* of the part that the build is in */
    vugi_3mf_object *object;
    size_t object_count, object_room;
    double *xyz; /* rows of 3 */
    size_t vertex_count, vertex_room;
    uint32_t *triangle; /* rows of 3 */
    size_t triangle_count, triangle_room;
    vugi_3mf_use *component;
    size_t component_count, component_room;
    vugi_3mf_use *item;
    size_t item_count, item_room;
    char **part; /* paths in the archive, without a leading slash; 0: that of the build */
    size_t part_count, part_room;
} vugi_3mf_model;

#endif

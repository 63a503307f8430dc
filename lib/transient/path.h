/* SPDX-License-Identifier: MIT
 * What a liquid finds in its way inside a cavity: each arc as a bundle of equal tubes, and throats between chambers. */
#ifndef VUGI_TRANSIENT_PATH_H
#define VUGI_TRANSIENT_PATH_H

#include "gravity/scene.h"

/* Along an arc from its lower end: length, integral of 8 / (area radius^2) and integral of 2 / radius
 * (mm, 1/mm^3, 1): a tube bundle of that length with the same viscous and the same yield pressure. */
typedef struct vugi_path {
    double length, thin, edge;
} vugi_path;

/* A place in a node: the chamber of the cavity, -1: the only one. */
typedef struct vugi_spot {
    uint32_t node;
    int32_t chamber;
} vugi_spot;

/* What joins two spots besides the arcs. A throat: while both are flooded. A pipe: beside an arc in several chambers,
 * while that is full. A surface: the level that such an arc has in common while it is not. */
typedef enum vugi_joint_kind {
    VUGI_JOINT_THROAT,
    VUGI_JOINT_PIPE,
    VUGI_JOINT_SURFACE
} vugi_joint_kind;

typedef struct vugi_joint {
    vugi_joint_kind kind;
    uint32_t arc, from, to;
    vugi_path path;
} vugi_joint;

typedef struct vugi_resistance {
    vugi_path *knot;      /* up to each knot of the graph */
    vugi_path *down, *up; /* of each arc: the way across the wider arc that it meets below, above */
    vugi_spot *spot;
    size_t spots;
    uint32_t *foot, *crown; /* of each arc: the spots at its ends */
    vugi_joint *joint;
    size_t joints;
} vugi_resistance;

/* From the node below an arc up to height z in it, or all the way to the node above. */
vugi_path vugi_path_to(const vugi_scene *scene, const vugi_resistance *resist, uint32_t arc,
    double z);
vugi_path vugi_path_through(const vugi_scene *scene, const vugi_resistance *resist, uint32_t arc);

/* false: nothing is lost on it. */
bool vugi_path_resists(const vugi_path *way);

/* Of the tubes of a bundle, mm3. */
double vugi_path_volume(const vugi_path *way);

/* Head in mm of the fluid that drives a flow in mm3/s along the way, over the flow. */
double vugi_path_resistance(const vug_fluid *fluid, const vugi_path *way, double flow);

/* The other way round: mm3/s that a head in mm drives along the way, nothing up to what the yield stress holds, and how
 * it grows with the head. */
double vugi_path_flow(const vug_fluid *fluid, const vugi_path *way, double head, double *slope);

#endif

/* SPDX-License-Identifier: MIT
 * Many poses at once: their nodes and vents, on all threads. */
#ifndef VUGI_AIRTREE_POSE_SET_H
#define VUGI_AIRTREE_POSE_SET_H

#include "airtree/air.h"
#include "airtree/barrier.h"
#include "airtree/tree.h"

#include "cavity/cavity.h"

/* Candidate poses with their nodes, and the vents of the openings that are looked at. */
typedef struct vugi_pose_set {
    size_t count;
    double *up;   /* 3 each, unit */
    double *ease; /* what holding it costs, in turns: 0 stands straight */
    vugi_airtree *tree;
    vugi_vents *vents;
    vugi_vents *shut;              /* the same with every opening covered, as on the way */
    vugi_vents *filling;           /* and for a first fill; empty without barriers: as vents */
    const vugi_barriers *barriers; /* borrowed */
    double capacity;               /* mm3, mean over the poses */
} vugi_pose_set;

/* Builds the nodes of the given poses on all threads: spacing h. Vents are not set yet. barriers: kept,
 * not copied. */
vug_status vugi_pose_set_build(vug_context *ctx, const vug_cavities *cavities,
    const vugi_barriers *barriers, const double *up, const double *ease, size_t count, double h,
    vugi_pose_set *pose_set);

/* The vents of a first fill in a pose. */
static inline const vugi_vents *vugi_pose_set_filling(const vugi_pose_set *s, size_t pose)
{
    return s->filling[pose].room ? s->filling + pose : s->vents + pose;
}

/* Sets the vents anew: see vugi_vents_build(). */
vug_status vugi_pose_set_vent(vug_context *ctx, const vugi_opening *const *opening,
    const bool *closed, size_t opening_count, size_t in_columns, vugi_pose_set *pose_set);

/* Moves the poses of more to the end of s; more is empty then. */
vug_status vugi_pose_set_append(vug_context *ctx, vugi_pose_set *s, vugi_pose_set *more);

/* Air of a first fill in one pose. */
vug_status vugi_pose_set_first(vug_context *ctx, const vugi_pose_set *s, size_t pose, double *air);
void vugi_pose_set_free(const vugi_allocator *mem, vugi_pose_set *pose_set);

#endif

/* SPDX-License-Identifier: MIT
 * The wall of a hole in the mesh: from a section across the hole outward to its rim on the skin, and
 * inward to its mouth in the cavity. Both are closed walks along edges that the mesh has. */
#ifndef VUGI_CAVITY_WALL_H
#define VUGI_CAVITY_WALL_H

#include "cavity/section.h"

typedef struct vugi_wall {
    double origin[3];  /* on the axis */
    double axis[3];    /* unit, outward: as square as can be to the wall's normals */
    double u[3], v[3]; /* u, v, axis right-handed */
    double radius;     /* of the circle through the section, or of equal area */
    bool clean;        /* all of the section lies on the wall */
    uint32_t *rim;     /* half-edges of the wall's triangles, counter-clockwise seen from outside */
    uint32_t *mouth;   /* the same at the inner end, clockwise; none if the wall has no clear end */
    uint32_t *neck;    /* if the bore begins in a recess: its rim there, see cavity/sink.h */
    size_t rim_count, mouth_count, neck_count;
    size_t ends; /* how many closed walks border it: of a hollow in the skin the rim alone does */
} vugi_wall;

/* Grows the wall from a loop around the hole: all triangles that hang together with it and stay by its
 * outline seen along the axis, which is fitted to them. other: neighbours of the mesh. *found: there is
 * a rim all around. */
vug_status vugi_wall_grow(vug_context *ctx, const vug_mesh *mesh, const uint32_t *other,
    const vugi_plane *plane, const vugi_loop *loop, vugi_wall *wall, bool *found);

/* The same of the triangles that the loop runs through alone, for a hole whose wall is too uneven to grow:
 * the rim is their outer border, and there is no mouth. */
vug_status vugi_wall_strip(vug_context *ctx, const vug_mesh *mesh, const uint32_t *other,
    const vugi_plane *plane, const vugi_loop *loop, vugi_wall *wall, bool *found);

/* One wall of bores that run into one another on their way out, grown from a loop of each; those of no more than a few
 * places add nothing. It has the axis of the first, and no mouth. *found: it has a rim; around: of each, whether that goes
 * around its axis. */
vug_status vugi_wall_join(vug_context *ctx, const vug_mesh *mesh, const uint32_t *other,
    const vugi_plane *plane, const vugi_loop *loop, size_t count, vugi_wall *wall, bool *around,
    bool *found);
void vugi_wall_free(const vugi_allocator *mem, vugi_wall *wall);

/* x, y across the axis and s along it of a point. */
void vugi_wall_frame(const vugi_wall *wall, const double p[3], double xys[3]);

/* The plane s = level + slope . (x, y) through points around the axis (3 each), by least squares with
 * each point's share of the angle as its weight. */
void vugi_wall_level(const vugi_wall *wall, const double *point, size_t count, double *level,
    double slope[2]);

/* How often a closed walk along half-edges goes around the axis, and its mean height. */
int vugi_wall_winding(const vug_mesh *mesh, const vugi_wall *wall, const uint32_t *half,
    size_t count, double *height);

/* Half-edge on the other side of half-edge h, UINT32_MAX if it is open. */
uint32_t vugi_across(const vug_mesh *mesh, const uint32_t *other, uint32_t h);

/* Is a triangle in the set whose border is walked along? */
typedef bool (*vugi_member_fn)(const void *set, uint32_t triangle);

/* The half-edge that follows h along the border of a set of triangles: around their common corner,
 * inside the set. */
uint32_t vugi_border_next(const vug_mesh *mesh, const uint32_t *other, vugi_member_fn member,
    const void *set, uint32_t h);

#endif

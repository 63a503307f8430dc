/* SPDX-License-Identifier: MIT
 * Quick answers about a mesh: nearest point, triangles in a box, first triangle on a ray. */
#ifndef VUGI_MESH_TREE_H
#define VUGI_MESH_TREE_H

#include "mesh/mesh.h"

enum { VUGI_TREE_PARTS = 4 };

typedef struct vugi_tree_node {
    double lo[3][VUGI_TREE_PARTS], hi[3][VUGI_TREE_PARTS]; /* a box around each part */
    /* The mean normal of each part, or 0: the axis of a disc around the middle of the box that holds all of it, */
    double normal[3][VUGI_TREE_PARTS];
    /* which begins and ends at these heights, and its radius */
    double below[VUGI_TREE_PARTS], above[VUGI_TREE_PARTS], wide[VUGI_TREE_PARTS];
    double cosine[VUGI_TREE_PARTS],
        sine[VUGI_TREE_PARTS]; /* of the angle within which all triangles' normals lie of it; -1: of any */
    uint32_t first[VUGI_TREE_PARTS],
        count[VUGI_TREE_PARTS]; /* triangles in order[], or 0 and a node */
    uint32_t parts;             /* others repeat the first */
} vugi_tree_node;

typedef struct vugi_tree {
    vugi_allocator mem;
    const vug_mesh *mesh; /* borrowed */
    uint32_t *weight;     /* of its triangles (mesh/same.h), or NULL */
    uint32_t *order;      /* of triangles that are alike, the first alone */
    vugi_tree_node *node;
    size_t node_count;
} vugi_tree;

/* Boxes around boxes, split at medians. Errors: VUG_ERR_MEMORY, VUG_ERR_CANCELLED. */
vug_status vugi_tree_build(vug_context *ctx, const vug_mesh *mesh, vugi_tree *tree);
void vugi_tree_free(vugi_tree *tree);

/* Bytes of a tree over so many triangles that are not alike. */
double vugi_tree_bytes(size_t triangles);

/* Distance from p to the nearest point of the mesh, or INFINITY if none is nearer than most. nearest
 * and triangle may be NULL. */
double vugi_tree_nearest(const vugi_tree *tree, const double p[3], double most, double nearest[3],
    uint32_t *triangle);

/* The same, sooner found from a triangle that is likely near: the nearest of a point beside p. Of several that are
 * equally near, that one. *triangle: any of the mesh; gets the nearest. */
double vugi_tree_nearest_from(const vugi_tree *tree, const double p[3], uint32_t *triangle,
    double nearest[3]);

/* The same among the triangles that face along direction, within the angle whose cosine is least. */
double vugi_tree_nearest_facing(const vugi_tree *tree, const double p[3], double most,
    const double direction[3], double least, double nearest[3], uint32_t *triangle);

/* First hit of the ray from origin along direction at a parameter above from, or INFINITY. */
double vugi_tree_ray(const vugi_tree *tree, const double origin[3], const double direction[3],
    double from, uint32_t *triangle);

/* The first triangle above a vertex of the mesh, of those that do not have it as a corner, or UINT32_MAX. basis: rows
 * of a rotation, the last is up. No gap between two triangles that share an edge lets it through. */
uint32_t vugi_tree_above(const vugi_tree *tree, uint32_t vertex, const double basis[9]);

/* Appends the triangles whose bounds meet the box to the growing array *list. false: no memory. */
bool vugi_tree_in_box(const vugi_tree *tree, const double lo[3], const double hi[3],
    uint32_t **list, size_t *count, size_t *capacity);

/* Nearest point of triangle abc to p. */
void vugi_triangle_nearest(const double *a, const double *b, const double *c, const double p[3],
    double nearest[3]);

#endif

/* SPDX-License-Identifier: MIT
 * Floor 3: what is inside a part. Each cavity is a closed mesh that bounds the liquid space
 * (turned outward from the liquid): the wall triangles, and flat caps across its openings. */
#ifndef VUGI_CAVITY_H
#define VUGI_CAVITY_H

#include "column/column.h"

typedef struct vugi_opening {
    int32_t cavity;
    bool planned;     /* not in the mesh yet: a bore to drill */
    double center[3]; /* on the cap, at the outer end of the bore */
    double normal[3]; /* unit, outward, of the cap */
    double axis[3];   /* unit, outward, of the bore behind it */
    double radius;    /* of the circle of equal area, square to the axis */
    double inscribed_radius;
    double area, perimeter;
    double bore_length; /* from the cap to where the bore widens into the cavity */
    double inner[3];    /* centre of the inner end of the bore */
    size_t outline_count;
    double *outline; /* outline_count points, counter-clockwise seen from outside */
} vugi_opening;

typedef struct vugi_place {   /* a chamber or a throat */
    double center[3], radius; /* of the inscribed ball */
    double volume;            /* chamber: as the grid counts it */
    double direction[3];      /* throat: from chamber a to chamber b */
    int32_t a, b;             /* throat: chambers of its cavity that it joins */
    /* Throat: as a bundle of tubes, see vugi_passage; thin 0: not known. */
    double length, thin, edge;
} vugi_place;

/* Chambers by place, see cavity/throat.h. */
typedef struct vugi_atlas vugi_atlas;

typedef struct vugi_cavity {
    vug_mesh *mesh; /* closed, outward from the liquid */
    int32_t *tag;   /* of each triangle: -1 wall, else number of the opening it caps */
    double volume, volume_error, area; /* area: wall only */
    double centroid[3];
    size_t chamber_count, throat_count;
    vugi_place *chamber, *throat;
    vugi_atlas *atlas; /* NULL: fewer than two chambers */
    bool sealed;
    bool gridded; /* mesh made on a grid, not of the part's own triangles */
} vugi_cavity;

struct vug_cavities {
    vugi_allocator mem;
    vug_mesh *part;
    size_t cavity_count;
    vugi_cavity *cavity;
    size_t opening_count; /* numbered over all cavities, by cavity, in order */
    vugi_opening *opening;
    size_t bore_count; /* planned openings as bores, for the columns */
    vugi_bore *bore;
    const vug_mesh **body; /* cavity[i].mesh, as vugi_bodies wants them */
};

vugi_bodies vugi_cavities_bodies(const vug_cavities *cavities);

/* Height of the highest and of the lowest point of an opening's rim in a pose: air leaves while
 * liquid is below the first, liquid leaves while it is above the second. For what is in the bore its
 * outer rim counts; for what is in the cavity behind it the governing end: the lower of the two
 * highest points, the higher of the two lowest. */
void vugi_opening_outer_rim(const vugi_opening *opening, const double up[3], double *top,
    double *lip);
void vugi_opening_rim(const vugi_opening *opening, const double up[3], double *top, double *lip);

/* Spans of columns that touch opening number index, into *span (from mem, caller frees). */
vug_status vugi_opening_spans(vug_context *ctx, const vugi_allocator *mem,
    const vug_cavities *cavities, size_t index, const vugi_columns *columns, uint32_t **span,
    size_t *count);

/* After a flood of air from the governing rim of an opening: lets what is in its bore itself out over
 * its outer rim, by raising the level of the spans whose ceiling lies in the bore. */
void vugi_opening_clear_bore(const vugi_opening *opening, const double up[3],
    const vugi_columns *columns, double *level);

/* A hole that someone named or found: where to look for it, and how far. */
typedef struct vugi_hole {
    double center[3]; /* on the outer skin, or in the bore */
    double normal[3]; /* unit, outward */
    double reach;     /* its outline lies within this of center */
    double diameter;  /* to drill when there is no hole here; 0: never drill */
    bool placed;      /* center lies in the plane of the cap, and the bore is known: */
    double bore_length, inner[3];
} vugi_hole;

/* Cuts the part along flat caps across its holes and gathers the closed meshes of its cavities. The
 * part must be closed and consistently turned. Cavities below min_volume are left out. A hole that leads
 * into no cavity is VUG_ERR_NOT_FOUND; a placed one only sets its place in astray, if that is given. */
vug_status vugi_cavities_build(vug_context *ctx, const vug_mesh *part, const vugi_hole *hole,
    size_t hole_count, double min_volume, bool *astray, vug_cavities **out);

/* The same cavities with more bores, as the last openings of their cavities. VUG_ERR_NOT_FOUND: one
 * leads into no cavity. */
vug_status vugi_cavities_extend(vug_context *ctx, const vug_cavities *from, const vugi_hole *hole,
    size_t hole_count, vug_cavities **out);

/* An empty set that shares the part, for code that fills it otherwise. NULL: no memory. */
vug_cavities *vugi_cavities_new(const vugi_allocator *mem, const vug_mesh *part);

void vugi_cavity_free(const vugi_allocator *mem, vugi_cavity *cavity);

/* Puts one more cavity with its openings (which it takes over; their outlines are from the set's
 * allocator) in its place by volume. Numbers of later cavities and openings move up. */
vug_status vugi_cavities_insert(vug_context *ctx, vug_cavities *c, const vugi_cavity *cavity,
    const vugi_opening *opening, size_t opening_count);

/* Takes cavity number index and its openings out again. */
void vugi_cavities_remove(vug_cavities *c, size_t index);

/* Distance along the line from o in direction d to triangle t, INFINITY if it misses; below 0 behind o.
 * *out on a hit: the line leaves the solid there. */
double vugi_triangle_hit(const vug_mesh *mesh, uint32_t t, const double o[3], const double d[3],
    bool *out);

/* First hit of the ray from origin along unit direction with mesh beyond distance `from`: distance,
 * or INFINITY. *triangle (may be NULL) gets the one hit. */
double vugi_ray_hit(const vug_mesh *mesh, const double origin[3], const double direction[3],
    double from, uint32_t *triangle);

#endif

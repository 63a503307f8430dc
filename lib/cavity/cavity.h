/* SPDX-License-Identifier: MIT
 * Floor 3: what is inside a part. Each cavity is a closed mesh that bounds the liquid space
 * (turned outward from the liquid): the wall triangles, and flat caps across its openings. */
#ifndef VUGI_CAVITY_CAVITY_H
#define VUGI_CAVITY_CAVITY_H

#include "column/column.h"
#include "mesh/mesh.h"

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

/* A hole that someone named or found: where to look for it, and how far. */
typedef struct vugi_hole {
    double center[3]; /* on the outer skin, or in the bore */
    double normal[3]; /* unit, outward */
    double reach;     /* its outline lies within this of center */
    double diameter;  /* to drill when there is no hole here; 0: never drill */
    bool placed;      /* center lies in the plane of the cap, and the bore is known: */
    double bore_length, inner[3];
} vugi_hole;

#endif

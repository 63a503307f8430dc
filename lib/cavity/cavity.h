/* SPDX-License-Identifier: MIT
 * Floor 3: what is inside a part. Each cavity is a closed mesh that bounds the liquid space
 * (turned outward from the liquid): the wall triangles, those of its bores too, and caps across the
 * rims of its openings on the outer skin. */
#ifndef VUGI_CAVITY_CAVITY_H
#define VUGI_CAVITY_CAVITY_H

#include "column/column.h"
#include "mesh/mesh.h"

/* Made once, read by all: what passes an opening passes its rim, its bore and its mouth. */
typedef struct vugi_opening {
    int32_t cavity;
    bool planned;     /* not in the mesh yet: a bore to drill */
    double center[3]; /* on the axis of the bore, amid the rim */
    double normal[3]; /* unit, outward, of the rim's area */
    double axis[3];   /* unit, outward, of the bore: fitted to its wall */
    double radius;    /* of the circle of equal area, square to the axis */
    double inscribed_radius;
    double area, perimeter;        /* of the rim itself */
    double bore_length;            /* along the axis, from the skin to the cavity */
    double inner[3];               /* on the axis, amid the mouth */
    double rim_level, mouth_level; /* where those planes meet the axis, from center outward */
    double rim_slope[2],
        mouth_slope[2]; /* rise along the axis of the planes through rim and mouth, over u
                                            and v of vugi_plane_at(center, axis) */
    double mouth_rise;  /* how far the mouth comes outward of its plane */
    double peak[3]; /* of its cap; peaked: the skin around the rim tells where, see cavity/cap.h */
    double cap_error; /* mm3 by which the skin that was there may have differed; if not peaked, */
    bool peaked;      /* as vugi_cap_error() says */
    bool tapered; /* rim and mouth are not of one size: no cylinder leads from one to the other */
    double corners, reach; /* of a round bore, see vugi_opening_find_wall(); 0: of another */
    size_t outline_count, mouth_count, neck_count;
    double
        *outline; /* outline_count points of the rim on the outer skin, counter-clockwise seen from
                        outside; then mouth_count points around the inner end of a straight bore, then
                        neck_count around its outer end, if that lies in a recess */
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
    double grain;                      /* see vugi_mesh_grain() */
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
    uint32_t cells_across; /* of the grid it was looked for on, 0: none, and its spacing */
    double cell;
    const vug_mesh **body; /* cavity[i].mesh, as vugi_bodies wants them */
};

/* A hole that someone named or found: where to look for it, and how far. */
typedef struct vugi_hole {
    double center[3]; /* on the outer skin, or in the bore */
    double normal[3]; /* unit, outward */
    double reach;     /* its outline lies within this of center */
    double diameter;  /* to drill when there is no hole here; 0: never drill */
    bool placed;      /* center lies in the plane of the cap, and the bore is known: */
    bool
        seen; /* by its wall, as a cylinder; not placed: as if named, but never drilled; the bore is known: */
    double bore_length, inner[3];
} vugi_hole;

#endif

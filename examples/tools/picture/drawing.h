/* SPDX-License-Identifier: MIT
 * What a picture shows: a part, how it is held, and what is in it. */
#ifndef TOOLS_PICTURE_DRAWING_H
#define TOOLS_PICTURE_DRAWING_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum mark_kind {
    MARK_INLET,  /* liquid comes in */
    MARK_VENT,   /* air goes out */
    MARK_OUTLET, /* liquid goes out */
    MARK_SEALED, /* covered */
    MARK_DRILL   /* a bore to drill */
};

/* An opening or a bore to drill. */
typedef struct picture_mark {
    enum mark_kind kind;
    double point_mm[3]; /* on the skin */
    double outward[3];  /* unit */
    double diameter_mm;
    double depth_mm; /* of a bore to drill */
    char label[24];  /* in the circle beside it, such as "A" or "1" */
    char text[96];   /* in the list below the drawing */
} picture_mark;

/* One way to hold the part. */
typedef struct picture_pose {
    double up[3];         /* unit */
    int32_t inlet;        /* number of the mark to fill by; -1: all are covered */
    const uint32_t *open; /* numbers of the marks that are not covered from the first */
    size_t open_count;
    char text[80];
} picture_pose;

/* What is behind a triangle of the skin, or resin alone. */
enum skin_kind { SKIN_RESIN, SKIN_BACKED, SKIN_FILMED, SKIN_BARE, SKIN_UNKNOWN, SKIN_KINDS };

/* The walls of the cavities at the end of a plan, seen through the resin. */
typedef struct picture_skin {
    double *xyz;
    uint32_t *triangles;
    unsigned char *kind; /* a skin_kind of each triangle */
    size_t vertex_count, triangle_count;
    char text[SKIN_KINDS][80]; /* for the key; empty: there is none */
} picture_skin;

/* Where the cut goes on in a plane beside its own, as sections of technical drawings do. */
typedef struct picture_step {
    double side;      /* 1: right of at_mm, -1: left of it; 0: there is one plane */
    double at_mm;     /* across */
    double nearer_mm; /* that plane, towards the viewer */
} picture_step;

typedef struct drawing {
    const char *title;    /* one line, large */
    const char *subtitle; /* one line of figures */
    const double *xyz;    /* the part: rows of 3 */
    const uint32_t *triangles;
    size_t vertex_count, triangle_count;
    double up[3];       /* unit, in part coordinates */
    double toward[3];   /* unit, square to up: from the part to the viewer */
    double point_mm[3]; /* the cut runs through it, square to toward */
    picture_step step;
    double spacing_mm; /* of the columns that the spans come from */
    double *spans;     /* of the cut: rows of 4 as vug_pockets_section() gives them */
    size_t span_count;
    double *air; /* all trapped air as seen from outside: rows of across, lowest,
                    highest */
    size_t air_count;
    const picture_mark *marks;
    size_t mark_count;
    const picture_pose *poses; /* one after the other, the first as drawn large */
    size_t pose_count;         /* shown from 2 on */
    const char *again;        /* NULL, or what is done again after them, as the end of a sentence */
    const picture_skin *skin; /* NULL: not shown */
    const unsigned char *kind;   /* a skin_kind of each triangle; NULL: resin */
    const struct curves *curves; /* below the stages; NULL: none */
    const char *liquid;          /* its name in the key, such as "paint" */
    const char *air_name; /* what lies above the liquid in the spans, such as "trapped air" */
    bool air_free;        /* that air can leave: drawn pale, not hatched */
} drawing;

/* One moment of a fill or a drain. */
typedef struct picture_stage {
    double *spans; /* as in a drawing */
    size_t span_count;
    bool air_free;
    char text[80]; /* below it */
} picture_stage;

#endif

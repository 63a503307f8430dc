/* SPDX-License-Identifier: MIT
 * What the plan program knows once it has looked at a part, for its text, JSON and picture. */
#ifndef EXAMPLE_PLAN_H
#define EXAMPLE_PLAN_H

#include "common.h"

enum { VENTS_MAX = 32, ROUNDS = 3 };

typedef struct plan_settings {
    const char *file, *json, *picture;
    number_rows holes;
    double up[3];
    bool pose_given;
    double drill_mm, syringe_ml;
    double limit_percent;        /* of the cavity may stay air */
    int64_t poses, columns;
} plan_settings;

/* A pocket of air, and the vent that lets it out. */
typedef struct plan_vent {
    vug_pocket_info pocket;
    vug_bore_info bore;          /* depth_mm 0: the pocket cannot be reached straight from outside */
} plan_vent;

/* An opening in the finished plan: one that the part has, or a vent. */
typedef struct plan_opening {
    vug_opening_info info;
    const plan_vent *vent;       /* NULL: the part has it */
    double height_mm;            /* along up */
    bool cover;                  /* lower than the inlet: to be covered once liquid shows */
    char label[8];               /* A, B ... for openings, 1, 2 ... for vents */
} plan_opening;

typedef struct fill_plan {
    const plan_settings *settings;
    vug_context *ctx;
    vug_mesh *mesh;
    vug_cavities *cavities;      /* with the openings that the part has */
    vug_pockets *pockets;        /* in the pose, through these */
    vug_cavities *vented;        /* with the vents too */
    vug_pockets *left;           /* in the pose, through all of them */
    bool closed;                 /* no cavity, or none with an opening: nothing to plan */
    double up[3], spacing_mm, capacity_mm3;
    plan_vent vents[VENTS_MAX];
    size_t vent_count;
    plan_opening openings[VUG_MAX_OPENINGS];
    size_t opening_count, inlet; /* inlet: number of the opening to fill through */
    double trapped_mm3;          /* with the vents */
    vug_supply supply;
} fill_plan;

/* Works the plan out. Free with plan_free() also after a failure. */
vug_status plan_make(fill_plan *plan);
void plan_free(fill_plan *plan);

/* Part of the cavity in percent. */
double plan_percent(const fill_plan *plan, double volume_mm3);

/* "-z up, the +x side raised by 12 degrees" */
void plan_pose_words(const double up[3], char *text, size_t size);

void plan_print(const fill_plan *plan);
json_t *plan_json(const fill_plan *plan);
int plan_draw(const example *program, const fill_plan *plan, const char *base);

#endif

/* SPDX-License-Identifier: MIT
 * What the program knows once it has planned a part, for its text, JSON and picture. */
#ifndef TOOLS_PLAN_FILL_PLAN_H
#define TOOLS_PLAN_FILL_PLAN_H

#include "../tool/hollowed.h"
#include "../tool/liquid.h"
#include "../tool/mesh.h"

#include <stdbool.h>
#include <vug.h>

typedef struct plan_settings {
    const char *file, *json, *picture, *part, *sheet, *paper, *globe, *backlit, *page;
    const char *paint, *rinse; /* names of fluids */
    mesh_settings mesh;
    number_rows clear, prefer, views, air, plugged;
    double up[3], held[3]; /* 0,0,0: not said */
    double inside_ml;      /* 0: nothing is in it yet */
    double wall_mm;        /* of a solid part that is hollowed first; 0: it is not */
    double simplify_mm;    /* of its inner surface */
    bool pose_given, design;
    int64_t inlet; /* -1: not named */
    double drill_mm, syringe_ml;
    double limit_percent; /* of the cavity may stay air */
    double bare_percent;  /* of the skin may stay bare */
    double temperature_c;
    double angle_deg; /* of the paint on the part; below 0: as the paint is known */
    int64_t poses, columns, turns, repeats, bores;
} plan_settings;

/* An opening in the finished plan: one that the part has, or a bore to drill. */
typedef struct plan_opening {
    vug_opening_info info;
    const vug_plan_bore_info *bore; /* NULL: the part has it */
    char label[24];                 /* A, B ... */
} plan_opening;

/* A cavity after the first step. */
typedef struct first_air {
    vug_moment *moment; /* NULL: nothing was let in */
    vug_moment_info info;
} first_air;

typedef struct fill_plan {
    const plan_settings *settings;
    vug_context *ctx;
    vug_mesh *mesh;
    hollowed hollowed;         /* with wall_mm: how */
    vug_cavities *cavities;    /* with the openings that the part has */
    known_liquid paint, rinse; /* rinsed with the typical one */
    vug_plan *made;
    vug_plan_info info; /* of the best alternative */
    vug_step_info fill[VUG_MAX_TURNS + 1], drain[VUG_MAX_TURNS + 1];
    vug_plan_bore_info *bores;   /* info.bores of them */
    const vug_cavities *drilled; /* with its bores; belongs to made */
    plan_opening *openings;
    size_t opening_count;
    first_air *first; /* of each cavity of drilled */
    size_t first_count;
} fill_plan;

void fill_plan_free(fill_plan *plan);

/* Does an empty part take nothing that a syringe measures? */
bool fill_plan_unfilled(const fill_plan *plan);

/* Steps of filling that are told one by one: without those that do earlier ones again. */
uint32_t fill_plan_told(const fill_plan *plan);

/* Turns, with those that are done again: a step may stay in the pose before it. */
unsigned fill_plan_turns(const fill_plan *plan);

/* Part of the cavity in percent. */
double fill_plan_percent(const fill_plan *plan, double volume_mm3);

/* The same in words, as the plan's text has it. */
typedef struct percent_words {
    char text[24];
} percent_words;

percent_words fill_plan_share(const fill_plan *plan, double volume_mm3);

/* The cavity that has something in it already: that of the inlet, or of the first opening that is not plugged. */
size_t fill_plan_start_cavity(const fill_plan *plan);

/* Openings of a step, rising. */
typedef struct opening_list {
    const uint32_t *number;
    size_t count;
} opening_list;

bool fill_plan_listed(opening_list list, size_t opening);

#endif

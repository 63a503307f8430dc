/* SPDX-License-Identifier: MIT
 * Places where a bore might help, and sets of them by what a first fill would leave. */
#ifndef VUGI_PLAN_BORES_CANDIDATES_H
#define VUGI_PLAN_BORES_CANDIDATES_H

#include "plan/bores/site.h"
#include "plan/planning.h"

#include "airtree/air.h"
#include "airtree/tree.h"

enum { VUGI_CANDIDATES = 24, VUGI_SETS = 2500 };

typedef struct vugi_vent_candidate {
    vugi_site site;
    double top[3]; /* of the node it is for, part coordinates */
    double up[3];
} vugi_vent_candidate;

typedef struct vugi_candidates {
    vugi_planning *p;
    vugi_vent_candidate *list; /* VUGI_CANDIDATES places */
    size_t count;
    vugi_vents
        *alone;    /* of candidate i with the base in pose k: [i * poses + k], for a first fill */
    size_t vented; /* candidates whose alone is there */
    const vugi_site *base; /* sites that are there while others are looked for */
    size_t bases;
    double *air;       /* of a first fill, of each pose */
    uint32_t *order;   /* poses by rising air */
    double *rising;    /* air inside already, where it rises to in each pose, by node; NULL: none */
    size_t *rising_at; /* of each pose: where its nodes begin */
} vugi_candidates;

/* A set of candidates. */
typedef struct vugi_set {
    uint8_t member[VUG_MAX_BORES];
    double value; /* less is better */
} vugi_set;

vug_status vugi_candidates_open(vugi_planning *p, vugi_candidates *candidates);
void vugi_candidates_close(vugi_candidates *candidates);

/* The air that is left in a pose with these vents: of a first fill, or of what is inside already once it is turned
 * there. false: no memory. */
bool vugi_candidates_air(const vugi_candidates *candidates, size_t pose, const vugi_vents *vents,
    vugi_air_room *room, vugi_air *air);

/* The vents that are for it in the pose sets. */
const vugi_vents *vugi_candidates_vents(const vugi_candidates *candidates, size_t pose);

/* Adds the nodes that the best poses still have with the given sites. */
vug_status vugi_candidates_fill(vugi_candidates *candidates, vugi_site *site, size_t sites);

/* Points just under the ceiling of a node that holds air down to level: its top, and others nearly as
 * high. inside has VUGI_POINTS rows of 3. */
enum { VUGI_POINTS = 5 };
size_t vugi_points_under(const vugi_airtree *tree, const vugi_bubble *bubble, double *inside);

#endif

/* SPDX-License-Identifier: MIT
 * Holes that are the only one of their cavity: what is to run out by them may stay in. */
#ifndef VUGI_PLAN_BORES_LONE_H
#define VUGI_PLAN_BORES_LONE_H

#include "plan/bores/site.h"
#include "plan/planning.h"

/* The only hole into a cavity: how wide it is, and where it opens into it. */
typedef struct vugi_lone {
    double inner[3], diameter;
    size_t opening; /* SIZE_MAX: it is a site's */
} vugi_lone;

/* Has a cavity one hole alone among the openings that are not closed and these sites? */
bool vugi_lone_hole(const vug_cavities *cavities, const bool *closed, const vugi_site *site,
    size_t sites, int32_t cavity, vugi_lone *own);

/* Has the cavity of a model one hole alone, with those at these sites, that may hold the rinsing liquid in? */
bool vugi_lone_find(const vugi_planning *p, const vugi_site *site, size_t sites, int32_t cavity,
    vugi_lone *own);

/* Cavities of a model whose only hole, with those at these sites, may hold the rinsing liquid in. None in a part that is
 * printed: it has the holes that it has. */
size_t vugi_lone_count(const vugi_planning *p, const vugi_site *site, size_t sites);

#endif

/* SPDX-License-Identifier: MIT
 * Places for a bore: through the wall near a point inside, straight from outside, out of sight. */
#ifndef VUGI_PLAN_BORES_SITE_H
#define VUGI_PLAN_BORES_SITE_H

#include "cavity/cavity.h"
#include "cavity/raygrid.h"
#include "mesh/mesh.h"

enum { VUGI_SITE_RIM = 24 };

/* A part made ready for questions about bores. */
typedef struct vugi_skin {
    const vug_cavities *cavities;
    const vug_mesh *part;
    const vug_plan_options *options;
    vug_fluid fluid;
    vugi_raygrid rays;
    double *view; /* unit, 3 each */
    size_t view_count;
} vugi_skin;

vug_status vugi_skin_build(vug_context *ctx, const vug_cavities *cavities,
    const vug_plan_options *options, const vug_fluid *fluid, vugi_skin *skin);
void vugi_skin_free(const vugi_allocator *mem, vugi_skin *skin);

typedef struct vugi_site {
    vug_plan_bore_info bore;
    int32_t cavity;
    double inner[3]; /* where it opens into the cavity */
    double cost;     /* what speaks against it; 0 nothing, 1 much */
    double outline[3 * VUGI_SITE_RIM];
} vugi_site;

/* How wide a bore has to be, and how wide it had better be, if the cavity has room behind it. Both 0: a vent. */
typedef struct vugi_width {
    double least_mm, wish_mm;
} vugi_width;

/* The site with the least cost among ways out of the given points in the cavity, that do not lead
 * down in the pose and keep clear of the bores that are there. */
vug_status vugi_site_find(vug_context *ctx, const vugi_skin *skin, const double *inside,
    size_t inside_count, int32_t cavity, const double up[3], const vugi_width *width,
    vugi_site *site, bool *found);

/* The site as an opening; it borrows the site's outline. */
vugi_opening vugi_site_opening(vugi_site *site);

/* And as a hole to plan. */
vugi_hole vugi_site_hole(const vugi_site *site);

#endif

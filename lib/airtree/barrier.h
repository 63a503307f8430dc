/* SPDX-License-Identifier: MIT
 * Throats that are too narrow for air and liquid to pass each other: barriers that hold air back, drawn
 * as sheets across the columns of a pose. */
#ifndef VUGI_AIRTREE_BARRIER_H
#define VUGI_AIRTREE_BARRIER_H

#include "cavity/cavity.h"
#include "cavity/section.h"

/* One throat with its section, a closed curve in its plane. */
typedef struct vugi_barrier {
    int32_t body;
    double diameter;  /* of the inscribed ball */
    vugi_plane plane; /* across the throat, normal from chamber a to chamber b */
    size_t corners;
    double *corner; /* in the plane, 2 each */
    double reach;   /* of the farthest corner */
} vugi_barrier;

typedef struct vugi_barriers {
    size_t count;
    vugi_barrier *barrier;
    double limit; /* diameter below which a throat holds, mm */
} vugi_barriers;

/* The throats of all cavities narrower than limit. Those of cavities that were found without looking
 * for chambers are not known. */
vug_status vugi_barriers_build(vug_context *ctx, const vug_cavities *cavities, double limit,
    vugi_barriers *barriers);
void vugi_barriers_free(const vugi_allocator *mem, vugi_barriers *barriers);

#endif

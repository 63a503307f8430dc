/* SPDX-License-Identifier: MIT
 * The pockets of a pose: trapped stretches of spans, joined where they touch. */
#ifndef VUGI_POSE_POCKETS_H
#define VUGI_POSE_POCKETS_H

#include "pose/pose.h"

/* Those of one pose. ctx gets the message, NULL in worker threads. */
vug_status vugi_pockets_make(vug_context *ctx, const vugi_allocator *mem,
    const vug_cavities *cavities, const vugi_pose_setup *setup, const double unit[3],
    vug_pockets **out);

/* For the code beside pockets.c. */
const double *vugi_pockets_up(const vug_pockets *pockets);
double vugi_pockets_spacing(const vug_pockets *pockets);

#endif

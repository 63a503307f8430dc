/* SPDX-License-Identifier: MIT
 * The pockets of a pose: trapped stretches of spans, joined where they touch. */
#ifndef VUGI_POSE_POCKETS_H
#define VUGI_POSE_POCKETS_H

#include "base/base.h"

/* For the code beside pockets.c. */
const double *vugi_pockets_up(const vug_pockets *pockets);
double vugi_pockets_spacing(const vug_pockets *pockets);

#endif

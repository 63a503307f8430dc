/* SPDX-License-Identifier: MIT
 * Filling without hurry: liquid always finds its level before more comes. */
#ifndef VUGI_HYDROSTATIC_QUASISTATIC_H
#define VUGI_HYDROSTATIC_QUASISTATIC_H

#include "hydrostatic/history.h"
#include "hydrostatic/run.h"

/* level: of each arc, the end. Event times are 0. */
vug_status vugi_quasistatic_run(vug_context *ctx, const vugi_fill_task *task, vugi_history *history,
    double *level);

#endif

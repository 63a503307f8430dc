/* SPDX-License-Identifier: MIT
 * Filling in time: liquid that needs a head to move through the cavity. */
#ifndef VUGI_TRANSIENT_RUN_H
#define VUGI_TRANSIENT_RUN_H

#include "transient/task.h"

vug_status vugi_transient_run(vug_context *ctx, const vugi_transient *task, vugi_history *history,
    double *level, vugi_transient_result *result);

#endif

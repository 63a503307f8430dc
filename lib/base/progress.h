/* SPDX-License-Identifier: MIT
 * Progress: begin once at a public call, then step. */
#ifndef VUGI_BASE_PROGRESS_H
#define VUGI_BASE_PROGRESS_H

#include "vug.h"

#include <stdbool.h>

/* Starts a long public call: fraction 0, whole range. */
void vugi_progress_begin(vug_context *ctx, const char *stage);

/* A part of a longer call. Saves the current range and narrows it to lo..hi of it. */
typedef struct vugi_range {
    double lo, hi;
    const char *stage;
} vugi_range;
vugi_range vugi_progress_enter(vug_context *ctx, double lo, double hi, const char *stage);
void vugi_progress_leave(vug_context *ctx, vugi_range saved);

/* Reports fraction 0..1 of the current range, from the calling thread only. VUG_OK, or
 * VUG_ERR_CANCELLED with the message set: then clean up and return it. */
vug_status vugi_step(vug_context *ctx, double fraction);

/* The same from within a loop of several threads, where only the first of them reports: has someone
 * cancelled? Then leave the loop; the vugi_step() after it returns the status. */
bool vugi_pulse(vug_context *ctx, double fraction);

/* For worker threads: has someone cancelled? The thread that called reports it by vugi_step. */
bool vugi_cancelled(const vug_context *ctx);

#endif

/* SPDX-License-Identifier: MIT
 *
 * What a JavaScript host cannot give by itself: a function of C's kind for progress. It passes on
 * to the one the module imports. */
#include "vug.h"

__attribute__((import_module("env"), import_name("vug_js_progress"))) extern int32_t
vug_js_progress(double fraction, const char *stage);

vug_status vug_js_watch(vug_context *ctx);

static int32_t tell(void *user, double fraction, const char *stage)
{
    (void)user;
    return vug_js_progress(fraction, stage);
}

/* Calls the host back while a long call runs on ctx. */
vug_status vug_js_watch(vug_context *ctx)
{
    return vug_context_set_progress(ctx, tell, NULL);
}

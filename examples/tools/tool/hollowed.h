/* SPDX-License-Identifier: MIT
 * A solid part made hollow, and what is told of it. */
#ifndef TOOLS_TOOL_HOLLOWED_H
#define TOOLS_TOOL_HOLLOWED_H

#include "tool.h"

#include <jansson.h>
#include <vug.h>

typedef struct hollowed {
    vug_hollow_info info;
    double *spots; /* rows of SPOT_NUMBERS: place, width, volume; freed by vug_free */
    size_t spot_count;
} hollowed;

/* *mesh becomes the hollow one. */
vug_status hollowed_make(vug_context *ctx, const vug_hollow_options *options, vug_mesh **mesh,
    hollowed *made);

/* Its cavity, and what was left solid. */
void hollowed_print_cavity(const hollowed *made);
void hollowed_print_solid(const hollowed *made);
json_t *hollowed_cavity_json(const hollowed *made);
json_t *hollowed_solid_json(const hollowed *made);

#endif

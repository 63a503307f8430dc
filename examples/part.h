/* SPDX-License-Identifier: MIT
 * A part as the programs that fill and drain it get it: mesh, pose, named holes, roles of openings. */
#ifndef EXAMPLE_PART_H
#define EXAMPLE_PART_H

#include "common.h"

typedef struct part_settings {
    double up[3];
    number_rows holes; /* --hole: 7 numbers each */
    number_rows vents; /* --vent: an opening's number each */
    int64_t inlet;     /* --inlet: -1 when not named */
    int64_t columns;
} part_settings;

typedef struct part {
    vug_context *ctx;
    vug_cavities *cavities;
    int32_t *role; /* of each opening */
    size_t openings;
} part;

/* Loads the mesh, finds its cavities, and gives the openings their roles: all open if none is named,
 * else those not named are sealed. DONE or an exit code. */
int part_open(const example *program, const char *file, const part_settings *settings,
    int32_t named_role, part *out);
void part_close(part *part, part_settings *settings);

/* Course of a fill or drain for people and programs. */
json_t *events_json(const vug_course *course);
json_t *pools_json(const vug_moment *moment, size_t count);
json_t *seconds_json(double seconds);                    /* null for never, below 0 */
void events_print(const vug_course *course, bool timed); /* not timed: "-" for the time */

/* "opening 3 at (1.0, 2.0, 3.0)", or just the place. */
void place_text(const vug_course_event *event, char *text, size_t size);

#endif

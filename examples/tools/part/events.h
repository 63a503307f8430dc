/* SPDX-License-Identifier: MIT
 * Course of a fill or drain for people and programs. */
#ifndef TOOLS_PART_EVENTS_H
#define TOOLS_PART_EVENTS_H

#include <jansson.h>
#include <stdbool.h>
#include <vug.h>

json_t *events_json(const vug_course *course);
json_t *pools_json(const vug_moment *moment, size_t count);
json_t *waits_json(double typical, double low, double high); /* [low, typical, high] */
json_t *seconds_json(double seconds);                        /* null for never, below 0 */
void events_print(const vug_course *course, bool timed);     /* not timed: no time */

/* "opening C at (1.0, 2.0, 3.0)", or just the place. */
void place_text(const vug_event_info *event, char *text, size_t size);

#endif

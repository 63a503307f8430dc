/* SPDX-License-Identifier: MIT
 * Times as people have them. */
#ifndef TOOLS_TOOL_CLOCK_H
#define TOOLS_TOOL_CLOCK_H

#include <stddef.h>

/* A hand waits no longer than a day. */
static const double clock_longest_s = 86400.0;

/* "12 s", "3.5 minutes", "2 hours", "more than a day", and "never" for what is below 0. */
void clock_words(double seconds, char *text, size_t size);

/* What goes on beside other work, such as drying: "3 days", "5 weeks", "more than a year"; from a day on. */
void clock_long_words(double seconds, char *text, size_t size);

/* Waits: "about 1.2 hours; over the liquid's range from 45 s to never". */
void clock_range_words(double typical, double low, double high, char *text, size_t size);

#endif

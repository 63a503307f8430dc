/* SPDX-License-Identifier: MIT */
#include "clock.h"

#include <stdio.h>

void clock_words(double seconds, char *text, size_t size)
{
    if (seconds < 0.0)
        snprintf(text, size, "never");
    else if (seconds > clock_longest_s)
        snprintf(text, size, "more than a day");
    else if (seconds >= 5400.0)
        snprintf(text, size, "%.1f hours", seconds / 3600.0);
    else if (seconds >= 120.0)
        snprintf(text, size, "%.0f minutes", seconds / 60.0);
    else
        snprintf(text, size, seconds < 10.0 ? "%.1f s" : "%.0f s", seconds);
}

void clock_long_words(double seconds, char *text, size_t size)
{
    double days = seconds / 86400.0;
    if (days < 13.5)
        snprintf(text, size, "%.1f days", days);
    else if (days <= 366.0)
        snprintf(text, size, "%.0f weeks", days / 7.0);
    else
        snprintf(text, size, "more than a year");
}

void clock_range_words(double typical, double low, double high, char *text, size_t size)
{
    char words[3][40];
    clock_words(typical, words[0], sizeof words[0]);
    clock_words(low, words[1], sizeof words[1]);
    clock_words(high, words[2], sizeof words[2]);
    const char *about = typical < 0.0 || typical > clock_longest_s ? "" : "about ";
    if (low == high)
        snprintf(text, size, "%s%s", about, words[0]);
    else
        snprintf(text, size, "%s%s; over the liquid's range from %s to %s", about, words[0],
            words[1], words[2]);
}

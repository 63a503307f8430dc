/* SPDX-License-Identifier: MIT */
#ifndef VUGI_BASE_CLOCK_H
#define VUGI_BASE_CLOCK_H

#include <stdbool.h>
#include <stdint.h>

/* Nanoseconds since some moment, by a clock that nobody sets back. false: there is none. */
bool vugi_clock_ns(int64_t *ns);

#endif

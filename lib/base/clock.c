/* SPDX-License-Identifier: MIT */
#define _POSIX_C_SOURCE 200809L /* clock_gettime */

#include "base/clock.h"

#if defined(_WIN32)

#include <windows.h>

bool vugi_clock_ns(int64_t *ns)
{
    *ns = (int64_t)GetTickCount64() * 1000000;
    return true;
}

#else

#include <time.h>

bool vugi_clock_ns(int64_t *ns)
{
    struct timespec t;
    if (clock_gettime(CLOCK_MONOTONIC, &t) != 0)
        return false;
    *ns = (int64_t)t.tv_sec * 1000000000 + t.tv_nsec;
    return true;
}

#endif

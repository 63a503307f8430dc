/* SPDX-License-Identifier: MIT
 * How far a long call is, on a terminal: one line that is written over, and gone at the end. */
#include "progress.h"

#include "fail.h"

#include <stdio.h>
#include <time.h>
#include <unistd.h>

static const double QUIET_S = 1.0, EVERY_S = 0.2;

/* The terminal is the process's, so is this. */
static struct {
    const char *program;
    double began_s, told_s, fraction;
    int width; /* of the line that stands there */
} shown;

static double now_s(void)
{
    struct timespec t = {0};
    timespec_get(&t, TIME_UTC);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

void progress_clear(void)
{
    if (shown.width > 0)
        fprintf(stderr, "\r%*s\r", shown.width, "");
    shown.width = 0;
}

static int32_t tell(void *user, double fraction, const char *stage)
{
    double now = now_s();
    (void)user;
    if (shown.began_s == 0.0 || fraction < shown.fraction) /* another call */
        shown.began_s = now;
    shown.fraction = fraction;
    if (fraction >= 1.0)
        progress_clear();
    else if (now - shown.began_s > QUIET_S && now - shown.told_s > EVERY_S) {
        progress_clear();
        shown.told_s = now;
        shown.width = fprintf(stderr, "%s: %s, %.0f %%", shown.program, stage, 100.0 * fraction);
        fflush(stderr);
    }
    return 0;
}

int context_open(const tool *program, vug_context **ctx)
{
    if (vug_context_create(NULL, ctx) != VUG_OK)
        return fail(program, "no memory");
    shown.program = program->name;
    if (isatty(STDERR_FILENO))
        vug_context_set_progress(*ctx, tell, NULL);
    return DONE;
}

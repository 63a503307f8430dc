/* SPDX-License-Identifier: MIT
 * One cavity while it is played with: what is in it, and the pose it is in. */
#ifndef VUGI_PLAN_VERIFY_PLAY_H
#define VUGI_PLAN_VERIFY_PLAY_H

#include "plan/verify/move.h"

#include "course/chambers.h"
#include "course/course_types.h"
#include "fill/job.h"

/* So many scenes are made side by side at most, ahead of what happens in them. */
enum { VUGI_AHEAD = 4 };

typedef struct vugi_play {
    vug_context *ctx;
    const vugi_replay *task;
    size_t cavity;
    int sills;                    /* VUGI_SILLS_: of filling or of draining */
    double done;                  /* share of the whole task, for the progress */
    vug_moment *now;              /* what is in it; NULL: nothing yet */
    const vug_moment *lent;       /* what was in it at first, where somebody else frees that */
    vugi_scene *scene;            /* of this pose */
    double *start;                /* of each arc of it: what was carried over; NULL: nothing */
    double before[VUGI_CHAMBERS]; /* liquid in the chambers before the turn */
} vugi_play;

void vugi_play_stop(vugi_play *play);

/* Remembers what the chambers hold before a turn, for the waits after it. */
vug_status vugi_play_remember(vugi_play *play);

/* Covers all, and turns what is inside to a pose. */
vug_status vugi_play_turn(vugi_play *play, const vugi_move *to);

/* A job as read, with these openings open. */
vug_status vugi_play_job(const vugi_play *play, const double up[3], const bool *open,
    vugi_feed feed, vugi_fill_job *job);

/* Lets liquid in, in the pose that it is in; nothing by no inlet, with all covered. */
vug_status vugi_play_fill(vugi_play *play, const vugi_move *move, vugi_feed feed,
    vug_course **course);

/* What a course wets that has come to its end, which is kept: into the skin of the task, if it has one. */
vug_status vugi_play_wet(vugi_play *play, const vug_course *course);

/* Goes on from the end of a course that a move came to, and adds what it says to an outcome. */
vug_status vugi_play_note(vugi_play *play, const vugi_move *move, vug_course *course,
    vugi_outcome *outcome);

/* The same for a cavity that nothing was ever let into. */
void vugi_play_note_empty(const vugi_play *play, vugi_outcome *outcome);

#endif

/* SPDX-License-Identifier: MIT
 * What happened in a fill or a drain: events, and the levels of all arcs, state by state. */
#ifndef VUGI_HYDROSTATIC_HISTORY_H
#define VUGI_HYDROSTATIC_HISTORY_H

#include "gravity/graph.h"

typedef struct vugi_event {
    int32_t kind;    /* VUG_EVENT_ */
    int32_t opening; /* number of it, or -1 */
    double liquid, time;
    double level;
    double volume;   /* of a pocket when it was sealed */
    double point[3]; /* part coordinates */
    double wait[3];  /* at a throat, s: typical, low, high */
    double diameter;
} vugi_event;

/* The state at a time: the levels that differ from those of the state before. */
typedef struct vugi_frame {
    double liquid, time, pressure;
    double lost; /* liquid that has left through openings so far */
    size_t change, changes;
    bool together; /* since then the surfaces moved at one common level; else each arc
                      changed its volume steadily */
} vugi_frame;

typedef struct vugi_level {
    uint32_t arc;
    double z;
} vugi_level;

typedef struct vugi_history {
    vugi_allocator mem;
    vugi_event *event;
    size_t event_count, event_capacity;
    vugi_frame *frame;
    size_t frame_count, frame_capacity;
    vugi_level *level;
    size_t level_count, level_capacity;
    int32_t end; /* VUG_END_ */
} vugi_history;

bool vugi_history_event(vugi_history *history, vugi_event event);

/* A new state: what is different in now from before is noted. */
bool vugi_history_frame(vugi_history *history, const vugi_graph *graph, const double *before,
    const double *now, vugi_frame frame);
void vugi_history_free(vugi_history *history);

/* Levels at a time between frames: by liquid inside, or by time. level: one for each arc. */
void vugi_history_at(const vugi_history *history, const vugi_graph *graph, double x, bool by_time,
    double *level, vugi_frame *frame);

#endif

/* SPDX-License-Identifier: MIT
 * Writes the history down and looks states up. */
#include "hydrostatic/history.h"

#include "base/root.h"

#include <assert.h>
#include <math.h>

bool vugi_history_event(vugi_history *h, vugi_event event)
{
    if (!vugi_reserve(&h->mem, &h->event, &h->event_capacity, h->event_count + 1, sizeof *h->event))
        return false;
    h->event[h->event_count++] = event;
    return true;
}

bool vugi_history_frame(vugi_history *h, const vugi_graph *g, const double *before,
    const double *now, vugi_frame frame)
{
    frame.change = h->level_count;
    frame.changes = 0;
    for (uint32_t a = 0; a < g->arc_count; a++) {
        if (now[a] == before[a])
            continue;
        if (!vugi_reserve(&h->mem, &h->level, &h->level_capacity, h->level_count + 1,
                sizeof *h->level))
            return false;
        assert(now[a] >= g->arc[a].lo && now[a] <= g->arc[a].hi);
        h->level[h->level_count++] = (vugi_level){a, now[a]};
        frame.changes++;
    }
    if (!vugi_reserve(&h->mem, &h->frame, &h->frame_capacity, h->frame_count + 1, sizeof *h->frame))
        return false;
    assert(frame.change + frame.changes == h->level_count);
    assert(h->frame_count == 0 || frame.time >= h->frame[h->frame_count - 1].time);
    h->frame[h->frame_count++] = frame;
    return true;
}

void vugi_history_free(vugi_history *h)
{
    vugi_free(&h->mem, h->event);
    vugi_free(&h->mem, h->frame);
    vugi_free(&h->mem, h->level);
    *h = (vugi_history){.mem = h->mem};
}

/* Moves the arcs that a frame changed part of the way, by volume, each at its own pace. */
static void move_steadily(const vugi_graph *g, const vugi_level *change, size_t count, double part,
    double *level)
{
    assert(part >= 0.0);
    for (size_t i = 0; i < count; i++) {
        uint32_t a = change[i].arc;
        double from = vugi_arc_volume(g, a, level[a]), to = vugi_arc_volume(g, a, change[i].z);
        level[a] = vugi_arc_level(g, a, from + part * (to - from));
    }
}

/* Volume gained when the changed arcs stand at z, each no further than its own end. */
static double gained(const vugi_graph *g, const vugi_level *change, size_t count,
    const double *level, double z)
{
    double sum = 0.0;
    for (size_t i = 0; i < count; i++) {
        uint32_t a = change[i].arc;
        double lo = fmin(level[a], change[i].z), hi = fmax(level[a], change[i].z);
        sum += vugi_arc_volume(g, a, fmax(lo, fmin(hi, z))) - vugi_arc_volume(g, a, level[a]);
    }
    return sum;
}

typedef struct gain_search {
    const vugi_graph *g;
    const vugi_level *change;
    size_t count;
    const double *level;
    double gain;
} gain_search;

static bool gains_less(void *user, double z)
{
    const gain_search *s = user;
    return gained(s->g, s->change, s->count, s->level, z) < s->gain;
}

/* Moves them to the common level at which they have gained that much. */
static void move_together(const vugi_graph *g, const vugi_level *change, size_t count, double gain,
    double *level)
{
    double lo = INFINITY, hi = -INFINITY;
    for (size_t i = 0; i < count; i++) {
        lo = fmin(lo, fmin(level[change[i].arc], change[i].z));
        hi = fmax(hi, fmax(level[change[i].arc], change[i].z));
    }
    bool rising = gained(g, change, count, level, hi) >= gain
        && gained(g, change, count, level, lo) <= gain;
    gain_search search = {g, change, count, level, gain};
    if (rising)
        vugi_halve(gains_less, &search, &lo, &hi, 80, 0.0);
    for (size_t i = 0; i < count; i++) {
        uint32_t a = change[i].arc;
        double from = fmin(level[a], change[i].z), to = fmax(level[a], change[i].z);
        level[a] = fmax(from, fmin(to, hi));
    }
}

void vugi_history_at(const vugi_history *h, const vugi_graph *g, double x, bool by_time,
    double *level, vugi_frame *frame)
{
    for (uint32_t a = 0; a < g->arc_count; a++)
        level[a] = g->arc[a].lo;
    *frame = (vugi_frame){.liquid = 0.0};
    bool falling = !by_time && h->frame_count > 1
        && h->frame[h->frame_count - 1].liquid < h->frame[0].liquid;
    for (size_t i = 0; i < h->frame_count; i++) {
        const vugi_frame *f = h->frame + i;
        const vugi_level *change = f->changes ? h->level + f->change : NULL;
        double from = by_time ? frame->time : frame->liquid, to = by_time ? f->time : f->liquid;
        bool before = falling ? x > to : x < to;
        if (i > 0 && before) {
            double part = to != from && isfinite(to) ? fmax(0.0, (x - from) / (to - from)) : 0.0;
            if (f->together)
                move_together(g, change, f->changes, part * (f->liquid - frame->liquid), level);
            else
                move_steadily(g, change, f->changes, part, level);
            if (part == 0.0)
                return;
            frame->liquid += part * (f->liquid - frame->liquid);
            frame->time += part * (f->time - frame->time);
            frame->pressure += part * (f->pressure - frame->pressure);
            frame->lost += part * (f->lost - frame->lost);
            return;
        }
        for (size_t k = 0; k < f->changes; k++)
            level[change[k].arc] = change[k].z;
        *frame = *f;
    }
}

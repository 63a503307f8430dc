/* SPDX-License-Identifier: MIT
 * Which arcs lie in a bore that leads up and out. */
#include "transient/bores.h"

#include "flow/flow.h"

#include <math.h>

/* An arc is a bore's where it is no wider than that, in sections of it on the level. */
static const double wider = 2.0;

static bool leads_up(const vugi_scene_mouth *m)
{
    return m->inner_top < m->top && m->length > 0.0;
}

/* Columns have the bore at a height of the arc, and not the chamber that they lead past it from. */
static bool is_narrow(const vugi_scene *s, const vugi_scene_mouth *m, uint32_t arc, double z)
{
    double wide = sqrt(m->tubes.count) * m->tubes.diameter + s->columns.h;
    double rise = fmax((m->top - m->inner_top) / m->length, wide / (m->length + wide));
    double section = 0.25 * VUGI_PI * wide * wide / rise;
    double up = z + 0.5 * (s->graph.arc[arc].hi - z);
    return vugi_arc_area(&s->graph, arc, up) <= wider * section;
}

/* Columns show nothing of a bore that is narrow for them: the dome ends at its inner end. As much as it holds, the last of the
 * arc, then stands for what rises in it: what it resists is right, the head in it is left out. Of several at one roof the
 * narrowest is full last, with the whole flow. */
static void take_unseen(const vugi_scene *s, uint32_t mouth, uint32_t arc, vugi_bore_stretch *of)
{
    const vugi_arc *a = s->graph.arc + arc;
    const vugi_scene_mouth *m = s->mouth + mouth, *other = NULL;
    double from = vugi_arc_level(&s->graph, arc,
        a->volume - vugi_tubes_area(&m->tubes) * m->length);
    if (of[arc].from < INFINITY && of[arc].mouth != VUGI_NONE)
        other = s->mouth + of[arc].mouth;
    if (from < a->hi && (!other || m->tubes.diameter < other->tubes.diameter))
        of[arc] = (vugi_bore_stretch){from, a->hi, mouth};
}

/* The lowest arc in the bore: down from the one at its rim to where it leaves its chamber. */
static void find_bore(const vugi_scene *s, uint32_t mouth, uint32_t arc, vugi_bore_stretch *of)
{
    const vugi_graph *g = &s->graph;
    const vugi_scene_mouth *m = s->mouth + mouth;
    double inner = vugi_scene_mouth_inside(m), h = s->columns.h;
    if (inner >= g->arc[arc].hi) {
        if (vugi_arc_is_dome(g, arc))
            take_unseen(s, mouth, arc, of);
        return;
    }
    for (;;) {
        const vugi_arc *a = g->arc + arc;
        const vugi_node *from = g->node + a->from;
        double z = fmax(a->lo, inner);
        if (!(z < a->hi) || !is_narrow(s, m, arc, z) || of[arc].from < INFINITY)
            return;
        bool on = a->lo > inner + h && from->downs == 1
            && is_narrow(s, m, g->link[from->link], g->arc[g->link[from->link]].lo);
        of[arc] = (vugi_bore_stretch){z, fmax(m->top, a->hi), on ? VUGI_NONE : mouth};
        if (!on)
            return;
        arc = g->link[from->link];
    }
}

void vugi_bores_find(const vugi_scene *s, vugi_bore_stretch *of)
{
    for (size_t a = 0; a < s->graph.arc_count; a++)
        of[a] = (vugi_bore_stretch){INFINITY, INFINITY, VUGI_NONE};
    for (size_t i = 0; i < s->vent_count; i++)
        if (leads_up(s->mouth + s->vent[i].mouth))
            find_bore(s, s->vent[i].mouth, s->vent[i].arc, of);
}

static int eighths(const vugi_bore_stretch *s, double level)
{
    double part = (level - s->from) / (s->to - s->from);
    return 1 + (int)fmax(0.0, fmin(7.0, floor(8.0 * part + 1e-6)));
}

double vugi_bore_next(const vugi_bore_stretch *s, double level)
{
    return level < s->from ? s->from : s->from + 0.125 * eighths(s, level) * (s->to - s->from);
}

void vugi_bore_fill(const vug_fluid *fluid, const vugi_scene_mouth *m, const vugi_bore_stretch *s,
    double level, vugi_bore_part *part)
{
    int full = eighths(s, level);
    if (full == part->eighths)
        return;
    part->law = vugi_outlet_bore(fluid, m, 0.125 * full * m->length);
    part->eighths = full;
}

double vugi_bore_law(const vugi_ask *ask, const vugi_flow *f, const double head[3], double slope[3])
{
    const vugi_bore_part *part = f->of;
    double over = head[0] - head[1], flow = vugi_outlet_ask(ask, &part->law, fabs(over), slope);
    slope[1] = -slope[0];
    return copysign(flow, over);
}

/* SPDX-License-Identifier: MIT
 * What a course wets of a skin: the heights of liquid in the columns, looked up at each piece. */
#include "skin/skin_types.h"

#include "base/threads.h"
#include "base/vec.h"
#include "column/pose.h"
#include "course/course_types.h"
#include "course/levels.h"
#include "drain/orifice.h"
#include "flow/fluid.h"

#include <math.h>
#include <string.h>

/* Columns are looked for around the point this far behind the skin, in spacings of them: it lies in the cavity
 * though a wall stands between two columns, and on the right side of a thin one. */
static const double BEHIND = 0.75;

/* A span farther from there is none of this place, in spacings. */
static const double NEAR = 2.0;

/* Walls flatter than this hold a film as if they were so steep. */
static const double FLATTEST = 0.08715574274765817; /* sin 5 degrees */

typedef struct wetting {
    const vug_course *course;
    struct vug_skin *skin;
    const vug_fluid *fluid;
    double *high, *end; /* of each span: where liquid ever stood, and where it does at last */
} wetting;

/* ---- levels ------------------------------------------------------------------------- */

/* Of each arc, the highest of all moments and the last one. */
static void follow(const vug_course *course, double *high, double *end)
{
    const vugi_graph *g = &course->scene->graph;
    const vugi_history *h = &course->history;
    for (uint32_t a = 0; a < g->arc_count; a++)
        high[a] = end[a] = g->arc[a].lo;
    for (size_t i = 0; i < h->frame_count; i++)
        for (size_t k = 0; k < h->frame[i].changes; k++) {
            const vugi_level *change = h->level + h->frame[i].change + k;
            end[change->arc] = change->z;
            high[change->arc] = fmax(high[change->arc], change->z);
        }
}

static vug_status find_tops(vug_context *ctx, wetting *w)
{
    const vugi_scene *scene = w->course->scene;
    size_t arcs = scene->graph.arc_count;
    double *high = vugi_alloc(&ctx->mem, arcs, sizeof *high);
    double *end = vugi_alloc(&ctx->mem, arcs, sizeof *end);
    vug_status status = high && end ? VUG_OK : vugi_fail_memory(ctx);
    vug_moment state = {.mem = ctx->mem, .scene = w->course->scene};
    if (!status) {
        follow(w->course, high, end);
        state.level = end;
        status = vugi_column_levels(ctx, &ctx->mem, &state, w->end);
    }
    if (!status && memcmp(high, end, arcs * sizeof *high) == 0) {
        memcpy(w->high, w->end, scene->columns.count * sizeof *w->high);
    } else if (!status) {
        state.level = high;
        status = vugi_column_levels(ctx, &ctx->mem, &state, w->high);
    }
    vugi_free(&ctx->mem, high);
    vugi_free(&ctx->mem, end);
    return status;
}

/* ---- a piece ------------------------------------------------------------------------- */

/* A span that was found, and the square of how far it is. */
typedef struct nearby {
    double square;
    uint32_t span;
} nearby;

/* Of a column, if it can have a nearer span; of equals the first counts. */
static void try_column(const vugi_columns *c, const double at[3], int64_t i, int64_t j,
    nearby *best)
{
    if (i < 0 || j < 0 || i >= c->nx || j >= c->ny)
        return;
    const double dx = c->x0 + c->h * (double)i - at[0], dy = c->y0 + c->h * (double)j - at[1],
                 across = dx * dx + dy * dy;
    if (across > best->square)
        return;
    const size_t k = (size_t)j * (size_t)c->nx + (size_t)i;
    for (uint32_t s = c->first[k]; s < c->first[k + 1]; s++) {
        const double gap = vugi_greater(0.0, vugi_greater(c->lo[s] - at[2], at[2] - c->hi[s]));
        const double square = across + gap * gap;
        if (square < best->square
            || (square == best->square && best->span != VUGI_NONE && s < best->span))
            *best = (nearby){square, s};
    }
}

/* The span nearest to a point of the pose, VUGI_NONE if none is near. Its own column goes first: mostly no other can
 * be nearer. */
static uint32_t nearest_span(const vugi_columns *c, const double at[3])
{
    const double most = NEAR * c->h;
    const int64_t x = llround((at[0] - c->x0) / c->h), y = llround((at[1] - c->y0) / c->h);
    nearby best = {most * most, VUGI_NONE};
    try_column(c, at, x, y, &best);
    for (int64_t j = y - 2; j <= y + 2; j++)
        for (int64_t i = x - 2; i <= x + 2; i++)
            try_column(c, at, i, j, &best);
    return best.span;
}

/* Does liquid up to top in a span reach a height in it? */
static bool reaches(const vugi_columns *c, uint32_t span, double top, double z, double slack)
{
    return top > c->lo[span] + slack && top >= fmin(z, c->hi[span]) - slack;
}

/* A film on this piece, and how it runs in this pose. */
static double film_on(const wetting *w, const double inward[3], double z)
{
    const vugi_columns *c = &w->course->scene->columns;
    double sine = fmax(FLATTEST, sqrt(fmax(0.0, 1.0 - inward[2] * inward[2])));
    double way = fmax(0.0, c->zhi - z) / sine;
    return vugi_film_at(w->fluid, sine, way, w->skin->after);
}

static void wet_piece(const wetting *w, vugi_skin_piece *p)
{
    const vugi_graph *g = &w->course->scene->graph;
    const vugi_columns *c = &w->course->scene->columns;
    double at[3], inward[3], behind[3], slack = 2.0 * g->sweep.scale.step;
    vugi_to_pose(c->basis, p->point, at);
    vugi_to_pose(c->basis, p->inward, inward);
    vugi_along(at, inward, BEHIND * c->h, behind);
    uint32_t span = nearest_span(c, behind);
    if (span == VUGI_NONE)
        return;
    p->known = true;
    bool was = p->backed, now = reaches(c, span, w->high[span], at[2], slack);
    p->wetted = p->wetted || now;
    p->backed = reaches(c, span, w->end[span], at[2], slack);
    if (!p->backed && w->skin->depth > 0.0) {
        double z = at[2] + inward[2] * w->skin->depth;
        vugi_along(at, inward, fmax(w->skin->depth, BEHIND * c->h), behind);
        behind[2] = z;
        span = nearest_span(c, behind);
        p->backed = span != VUGI_NONE && z <= c->hi[span]
            && reaches(c, span, w->end[span], z, slack);
    }
    if (!p->backed && (was || now))
        p->film = film_on(w, inward, at[2]);
}

static void wet_pieces(vug_context *ctx, const wetting *w, vugi_skin_part *part)
{
    int threads = vugi_threads(ctx, part->count);
    (void)threads; /* without OpenMP */
#pragma omp parallel for schedule(static) num_threads(threads)
    for (size_t i = 0; i < part->count; i++)
        wet_piece(w, w->skin->piece + part->first + i);
    part->courses++;
}

/* ---- the call -------------------------------------------------------------------------- */

/* Volumes of one cavity, by its mesh and by coarse columns, differ by no more than this share, or it is another
 * part's. */
static const double SAME = 0.5;

static vug_status check_course(vug_context *ctx, const vug_skin *skin, const vug_course *course)
{
    size_t cavity = (size_t)course->scene->graph.sweep.body;
    double volume = course->scene->graph.capacity;
    if (cavity >= skin->part_count
        || fabs(skin->part[cavity].volume - volume)
            > SAME * fmax(volume, skin->part[cavity].volume))
        return vugi_fail(ctx, VUG_ERR_ARGUMENT,
            "the course is of cavity %zu with %g mm3, which is not one that the skin was made of",
            cavity, volume);
    return VUG_OK;
}

vug_status vug_skin_wet(vug_context *ctx, vug_skin *skin, const vug_fluid *fluid,
    const vug_course *course)
{
    vug_fluid own;
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!skin || !course)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "skin or course is NULL");
    vug_status status = check_course(ctx, skin, course);
    if (!status)
        status = vugi_fluid_read(ctx, __func__, fluid, &own);
    if (status)
        return status;
    size_t spans = course->scene->columns.count;
    wetting w = {.course = course, .skin = skin, .fluid = &own};
    w.high = vugi_alloc(&ctx->mem, spans + 1, sizeof *w.high);
    w.end = vugi_alloc(&ctx->mem, spans + 1, sizeof *w.end);
    status = w.high && w.end ? find_tops(ctx, &w) : vugi_fail_memory(ctx);
    if (!status)
        wet_pieces(ctx, &w, skin->part + course->scene->graph.sweep.body);
    vugi_free(&ctx->mem, w.high);
    vugi_free(&ctx->mem, w.end);
    return status;
}

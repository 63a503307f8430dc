/* SPDX-License-Identifier: MIT
 * What a course wets of a skin: the heights of liquid in the columns, looked up at each piece. */
#include "skin/wet.h"

#include "base/threads.h"
#include "base/vec.h"
#include "column/pose.h"
#include "course/levels.h"
#include "drain/wall_film.h"
#include "flow/fluid.h"

#include <math.h>
#include <string.h>

/* Columns are looked for around the point this far behind the skin, in spacings of them: it lies in the cavity
 * though a wall stands between two columns, and on the right side of a thin one. */
static const double BEHIND = 0.75;

/* So many columns to each side are looked at. */
enum { REACH = 2 };

/* A span farther from there is none of this place, in spacings. */
static const double NEAR = 2.0;

/* Walls flatter than this hold a film as if they were so steep. */
static const double FLATTEST = 0.08715574274765817; /* sin 5 degrees */

typedef struct wetting {
    const vug_course *course;
    struct vug_skin *skin;
    const vug_fluid *fluid;
    double *high, *end; /* of each span: where liquid ever stood, and where it does at last */
    uint8_t *
        air; /* of each column: a span in it or in one nearby is not full at last, see mark_air() */
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

static vug_status find_tops(vug_context *ctx, const vug_moment *last, wetting *w)
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
        if (last && memcmp(last->level, end, arcs * sizeof *end) == 0)
            state.top = last->top;
        status = vugi_column_levels(ctx, &ctx->mem, &state, w->end);
    }
    if (!status && memcmp(high, end, arcs * sizeof *high) == 0) {
        memcpy(w->high, w->end, scene->columns.count * sizeof *w->high);
    } else if (!status) {
        state.level = high;
        state.top = NULL;
        status = vugi_column_levels(ctx, &ctx->mem, &state, w->high);
    }
    vugi_free(&ctx->mem, high);
    vugi_free(&ctx->mem, end);
    return status;
}

/* Spreads the marks of a row, or of a column of rows, to those up to REACH away. */
static void spread(uint8_t *mark, size_t count, size_t stride)
{
    size_t left = 0; /* to mark on from the last that was marked */
    for (size_t i = 0; i < count; i++) {
        const bool own = mark[i * stride] == 1;
        for (size_t k = 1; own && k <= REACH && k <= i; k++)
            if (mark[(i - k) * stride] == 0)
                mark[(i - k) * stride] = 2;
        if (!own && left > 0)
            mark[i * stride] = 2;
        left = own ? REACH : left > 0 ? left - 1 : 0;
    }
    for (size_t i = 0; i < count; i++)
        mark[i * stride] = mark[i * stride] > 0;
}

/* Columns from which a piece may be looked for in a span that liquid does not fill. Beside the others whatever is
 * nearest is full, at last and so before. */
static void mark_air(const wetting *w)
{
    const vugi_columns *c = &w->course->scene->columns;
    const double slack = 2.0 * w->course->scene->graph.sweep.scale.step;
    const size_t nx = (size_t)c->nx, ny = (size_t)c->ny;
    for (size_t k = 0; k < nx * ny; k++) {
        w->air[k] = 0;
        for (uint32_t s = c->first[k]; s < c->first[k + 1]; s++)
            if (w->end[s] < c->hi[s] || !(c->hi[s] > c->lo[s] + slack))
                w->air[k] = 1;
    }
    for (size_t j = 0; j < ny; j++)
        spread(w->air + j * nx, nx, 1);
    for (size_t i = 0; i < nx; i++)
        spread(w->air + i, ny, nx);
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

/* Columns to each side beyond which all are further across than what was found; a rounding further. */
static int64_t reach_of(const vugi_columns *c, double square)
{
    const double one = 0.49 * c->h, two = 1.49 * c->h;
    return square < one * one ? 0 : square < two * two ? 1 : REACH;
}

/* The span nearest to a point of the pose, VUGI_NONE if none is near. Its own column goes first: mostly no other can
 * be nearer. */
static uint32_t nearest_span(const vugi_columns *c, const double at[3])
{
    const double most = NEAR * c->h;
    const int64_t x = llround((at[0] - c->x0) / c->h), y = llround((at[1] - c->y0) / c->h);
    nearby best = {most * most, VUGI_NONE};
    try_column(c, at, x, y, &best);
    const int64_t reach = reach_of(c, best.square);
    for (int64_t j = y - reach; j <= y + reach; j++)
        for (int64_t i = x - reach; i <= x + reach; i++)
            try_column(c, at, i, j, &best);
    return best.span;
}

/* Is there a span in the column of a point, and nothing but liquid near it? */
static bool in_liquid(const wetting *w, const double at[3])
{
    const vugi_columns *c = &w->course->scene->columns;
    const double x = floor((at[0] - c->x0) / c->h + 0.5), y = floor((at[1] - c->y0) / c->h + 0.5);
    if (!(x >= 0.0) || !(y >= 0.0) || x >= c->nx || y >= c->ny)
        return false;
    const size_t k = (size_t)y * (size_t)c->nx + (size_t)x;
    bool found = false;
    for (uint32_t s = c->first[k]; s < c->first[k + 1] && !w->air[k]; s++)
        found |= c->lo[s] <= at[2] && at[2] <= c->hi[s];
    return found;
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
    if (in_liquid(w, behind)) {
        p->known = p->wetted = p->backed = true;
        return;
    }
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

vug_status vugi_skin_wet(vug_context *ctx, struct vug_skin *skin, const vug_fluid *fluid,
    const vug_course *course, const vug_moment *end)
{
    vug_fluid own;
    vug_status status = check_course(ctx, skin, course);
    if (!status)
        status = vugi_fluid_read(ctx, "vug_skin_wet", fluid, &own);
    if (status)
        return status;
    const vugi_columns *c = &course->scene->columns;
    wetting w = {.course = course, .skin = skin, .fluid = &own};
    w.high = vugi_alloc(&ctx->mem, c->count + 1, sizeof *w.high);
    w.end = vugi_alloc(&ctx->mem, c->count + 1, sizeof *w.end);
    w.air = vugi_alloc(&ctx->mem, (size_t)c->nx * (size_t)c->ny, sizeof *w.air);
    status = w.high && w.end && w.air ? find_tops(ctx, end, &w) : vugi_fail_memory(ctx);
    if (!status) {
        mark_air(&w);
        wet_pieces(ctx, &w, skin->part + course->scene->graph.sweep.body);
    }
    vugi_free(&ctx->mem, w.high);
    vugi_free(&ctx->mem, w.end);
    vugi_free(&ctx->mem, w.air);
    return status;
}

vug_status vug_skin_wet(vug_context *ctx, vug_skin *skin, const vug_fluid *fluid,
    const vug_course *course)
{
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!skin || !course)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "skin or course is NULL");
    return vugi_skin_wet(ctx, skin, fluid, course, NULL);
}

/* SPDX-License-Identifier: MIT */
#include "pockets.h"

#include "marks.h"
#include "project.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

typedef struct bar {
    long across; /* in columns from the cut's point */
    double lo, hi;
} bar;

typedef struct bars {
    bar *bar;
    size_t count, capacity;
} bars;

/* ---- what is inside ------------------------------------------------------------------------ */

static bool append(double **rows, size_t *count, const double *more, size_t more_count)
{
    double *grown = realloc(*rows, (*count + more_count + 1) * 4 * sizeof *grown);
    if (!grown)
        return false;
    if (more_count > 0)
        memcpy(grown + 4 * *count, more, more_count * 4 * sizeof *more);
    *rows = grown;
    *count += more_count;
    return true;
}

/* Spans of a cut, through all that is known; free(*rows), NULL if it fails. */
static vug_status section(vug_context *ctx, const drawing_state *state, const double point[3],
    const double toward[3], double **rows, size_t *count)
{
    vug_status status = VUG_OK;
    *rows = NULL;
    *count = 0;
    for (size_t i = 0; i < (state->pockets ? 1 : state->moment_count) && !status; i++) {
        double *own = NULL;
        size_t own_count = 0;
        status = state->pockets
            ? vug_pockets_section(ctx, state->pockets, point, toward, &own, &own_count)
            : vug_moment_section(ctx, state->moment[i], point, toward, &own, &own_count);
        if (!status && !append(rows, count, own, own_count))
            status = VUG_ERR_MEMORY;
        vug_free(ctx, own);
    }
    if (status) {
        free(*rows);
        *rows = NULL;
    }
    return status;
}

/* The largest pocket; its volume is 0 if there is none. */
static vug_status find_largest(const drawing_state *state, vug_pocket_info *largest)
{
    *largest = (vug_pocket_info){.struct_size = sizeof *largest};
    if (state->pockets)
        return vug_pockets_count(state->pockets) > 0 ? vug_pockets_get(state->pockets, 0, largest)
                                                     : VUG_OK;
    for (size_t i = 0; i < state->moment_count; i++) {
        vug_moment_info info = {.struct_size = sizeof info};
        vug_status status = vug_moment_get(state->moment[i], &info);
        for (uint32_t k = 0; k < info.pockets && !status; k++) {
            vug_pocket_info own = {.struct_size = sizeof own};
            status = vug_moment_pocket(state->moment[i], k, &own);
            if (own.volume_mm3 > largest->volume_mm3)
                *largest = own;
        }
        if (status)
            return status;
    }
    return VUG_OK;
}

static vug_status cut_point(const vug_cavities *cavities, const drawing_state *state,
    double point[3])
{
    vug_pocket_info pocket;
    vug_cavity_info cavity = {.struct_size = sizeof cavity};
    vug_status status = find_largest(state, &pocket);
    if (!status && pocket.volume_mm3 > 0.0) {
        memcpy(point, pocket.top_mm, sizeof pocket.top_mm);
        return VUG_OK;
    }
    if (!status)
        status = vug_cavities_get(cavities, 0, &cavity);
    memcpy(point, cavity.centroid_mm, sizeof cavity.centroid_mm);
    return status;
}

/* ---- the cut ----------------------------------------------------------------------------------- */

enum { CUT_TURNS = 24 };

/* Trapped air in the cut, and a little for all of the cavity. */
static double score(const double *rows, size_t count)
{
    double air = 0.0, all = 0.0;
    for (size_t i = 0; i < count; i++) {
        air += rows[4 * i + 3] - rows[4 * i + 2];
        all += rows[4 * i + 3] - rows[4 * i + 1];
    }
    return air + 0.15 * all;
}

/* Marks that the viewer sees, less those at the back. */
static int facing(const drawing *d, const double toward[3])
{
    int sum = 0;
    for (size_t i = 0; i < d->mark_count; i++) {
        const double *out = d->marks[i].outward;
        double dot = out[0] * toward[0] + out[1] * toward[1] + out[2] * toward[2];
        sum += (dot > 0.2) - (dot < -0.2);
    }
    return sum;
}

/* A quarter more for each opening that the cut goes through, and all of it again for a hole that is to be made. */
static double favour(const drawing *d, const double toward[3])
{
    double times = 1.0;
    drawing turned = *d;
    memcpy(turned.toward, toward, sizeof turned.toward);
    for (size_t i = 0; i < d->mark_count; i++) {
        double at[3];
        picture_project(&turned, d->marks[i].point_mm, at);
        if (fabs(at[2]) < 0.25 * d->marks[i].diameter_mm)
            times += d->marks[i].depth_mm > 0.0 ? 1.0 : 0.25;
    }
    return times;
}

/* A cut all round in even steps, then those that go through an opening: its angle. */
static double cut_angle(const drawing *d, const double x[3], const double y[3], size_t i)
{
    double ahead = 0.0, aside = 0.0;
    if (i < CUT_TURNS)
        return 3.141592653589793 * (double)i / CUT_TURNS;
    for (int k = 0; k < 3; k++) {
        const double off = d->marks[i - CUT_TURNS].point_mm[k] - d->point_mm[k];
        ahead += off * x[k];
        aside += off * y[k];
    }
    return atan2(ahead, -aside);
}

/* Which way the viewer stands, for the cut that shows most. */
static vug_status choose_cut(vug_context *ctx, const drawing_state *state, drawing *d)
{
    double x[3], y[3], best = -1.0;
    project_square(d->up, x, y);
    for (size_t i = 0; i < CUT_TURNS + d->mark_count; i++) {
        double angle = cut_angle(d, x, y, i), side[3], back[3], *rows = NULL;
        size_t count = 0;
        for (int k = 0; k < 3; k++) {
            side[k] = cos(angle) * x[k] + sin(angle) * y[k];
            back[k] = -side[k];
        }
        vug_status status = section(ctx, state, d->point_mm, side, &rows, &count);
        if (status)
            return status;
        double value = favour(d, side) * score(rows, count);
        free(rows);
        if (value <= best)
            continue;
        best = value;
        memcpy(d->toward, facing(d, back) > facing(d, side) ? back : side, sizeof d->toward);
    }
    return VUG_OK;
}

/* Those on that side of the step; a bar is somewhat wider than a column. */
static size_t keep_side(const drawing *d, double side, double *rows, size_t count)
{
    size_t kept = 0;
    for (size_t i = 0; i < count; i++)
        if (side * (rows[4 * i] - d->step.at_mm) > 0.7 * d->spacing_mm)
            memmove(rows + 4 * kept++, rows + 4 * i, 4 * sizeof *rows);
    return kept;
}

vug_status drawing_section(vug_context *ctx, const drawing_state *state, const drawing *d,
    double **rows, size_t *count)
{
    double point[3], *beyond = NULL;
    size_t beyond_count = 0;
    vug_status status = section(ctx, state, d->point_mm, d->toward, rows, count);
    if (status || d->step.side == 0.0)
        return status;
    for (int k = 0; k < 3; k++)
        point[k] = d->point_mm[k] + d->step.nearer_mm * d->toward[k];
    status = section(ctx, state, point, d->toward, &beyond, &beyond_count);
    *count = keep_side(d, -d->step.side, *rows, *count);
    beyond_count = keep_side(d, d->step.side, beyond, beyond_count);
    if (!status && !append(rows, count, beyond, beyond_count))
        status = VUG_ERR_MEMORY;
    free(beyond);
    if (status) {
        free(*rows);
        *rows = NULL;
    }
    return status;
}

/* From where to where the cut shows trapped air, a column deep at least; its own point if it shows none. */
static void air_between(const drawing *d, double *lo, double *hi)
{
    *lo = *hi = 0.0;
    for (size_t i = 0; i < d->span_count; i++) {
        const double *s = d->spans + 4 * i;
        if (s[3] - s[2] < d->spacing_mm)
            continue;
        *lo = fmin(*lo, s[0]);
        *hi = fmax(*hi, s[0]);
    }
}

/* Half way between the air, from lo to hi, and a mark. false: the mark stands before the air or behind it. */
static bool can_step(const drawing *d, double lo, double hi, const picture_mark *mark,
    picture_step *step)
{
    double at[3];
    picture_project(d, mark->point_mm, at);
    const double free_mm = mark->diameter_mm + 2.0 * d->spacing_mm;
    const bool right = at[0] - free_mm > hi;
    *step = right ? (picture_step){1.0, 0.5 * (hi + at[0] - 0.5 * free_mm), at[2]}
                  : (picture_step){-1.0, 0.5 * (lo + at[0] + 0.5 * free_mm), at[2]};
    return right || at[0] + free_mm < lo;
}

/* Where the cut goes through no opening that is in use: beside the air it goes on through one, the inlet if it can. */
static void choose_step(drawing *d)
{
    picture_step step;
    double lo, hi;
    for (size_t i = 0; i < d->mark_count; i++)
        if (d->marks[i].kind != MARK_SEALED && marks_near_cut(d, d->marks + i))
            return;
    air_between(d, &lo, &hi);
    for (int inlet = 1; inlet >= 0; inlet--)
        for (size_t i = 0; i < d->mark_count && d->step.side == 0.0; i++)
            if (d->marks[i].kind != MARK_SEALED && (d->marks[i].kind == MARK_INLET) == inlet
                && can_step(d, lo, hi, d->marks + i, &step))
                d->step = step;
}

static vug_status take_spans(vug_context *ctx, const drawing_state *state, drawing *d)
{
    free(d->spans);
    d->spans = NULL;
    return drawing_section(ctx, state, d, &d->spans, &d->span_count);
}

static bool add_air(bars *list, const double *rows, size_t count, double spacing)
{
    for (size_t i = 0; i < count; i++) {
        if (!(rows[4 * i + 3] > rows[4 * i + 2]))
            continue;
        if (list->count == list->capacity) {
            size_t room = list->capacity ? 2 * list->capacity : 1024;
            bar *grown = realloc(list->bar, room * sizeof *grown);
            if (!grown)
                return false;
            list->bar = grown;
            list->capacity = room;
        }
        bar *b = &list->bar[list->count++];
        b->across = lround(rows[4 * i] / spacing);
        b->lo = rows[4 * i + 2];
        b->hi = rows[4 * i + 3];
    }
    return true;
}

static int compare_bars(const void *a, const void *b)
{
    const bar *p = a, *q = b;
    if (p->across != q->across)
        return p->across < q->across ? -1 : 1;
    return p->lo < q->lo ? -1 : p->lo > q->lo;
}

/* Bars that overlap become one. */
static bool merge_air(bars *list, drawing *d)
{
    if (list->count > 0)
        qsort(list->bar, list->count, sizeof *list->bar, compare_bars);
    double *air = malloc((list->count + 1) * 3 * sizeof *air);
    if (!air)
        return false;
    size_t count = 0;
    for (size_t i = 0; i < list->count; i++) {
        const bar *b = &list->bar[i];
        double *last = count ? air + 3 * (count - 1) : NULL,
               across = (double)b->across * d->spacing_mm;
        if (last && last[0] == across && b->lo <= last[2]) {
            last[2] = fmax(last[2], b->hi);
            continue;
        }
        air[3 * count] = across;
        air[3 * count + 1] = b->lo;
        air[3 * count++ + 2] = b->hi;
    }
    d->air = air;
    d->air_count = count;
    return true;
}

/* Cuts side by side through the whole part. */
static vug_status gather_air(vug_context *ctx, const drawing_state *state, drawing *d)
{
    bars list = {0};
    double near = 0.0, far = 0.0;
    vug_status status = VUG_OK;
    bool good = true;
    for (size_t i = 0; i < d->vertex_count; i++) {
        double p[3];
        picture_project(d, d->xyz + 3 * i, p);
        near = fmax(near, p[2]);
        far = fmin(far, p[2]);
    }
    for (double s = far; s <= near && good; s += d->spacing_mm) {
        double point[3], *rows = NULL;
        size_t count = 0;
        for (int k = 0; k < 3; k++)
            point[k] = d->point_mm[k] + s * d->toward[k];
        status = section(ctx, state, point, d->toward, &rows, &count);
        good = status == VUG_OK && add_air(&list, rows, count, d->spacing_mm);
        free(rows);
    }
    good = good && merge_air(&list, d);
    free(list.bar);
    return good ? VUG_OK : status ? status : VUG_ERR_MEMORY;
}

vug_status drawing_take_pockets(vug_context *ctx, const vug_cavities *cavities,
    const drawing_state *state, drawing *picture)
{
    vug_status status = cut_point(cavities, state, picture->point_mm);
    if (!status)
        status = choose_cut(ctx, state, picture);
    if (!status)
        status = take_spans(ctx, state, picture);
    if (!status)
        choose_step(picture);
    if (!status && picture->step.side != 0.0)
        status = take_spans(ctx, state, picture);
    if (!status)
        status = gather_air(ctx, state, picture);
    return status;
}

void drawing_pockets_free(drawing *picture)
{
    free(picture->spans);
    free(picture->air);
    picture->spans = picture->air = NULL;
}

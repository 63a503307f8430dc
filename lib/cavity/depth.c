/* SPDX-License-Identifier: MIT
 * The ends of a bore. */
#include "cavity/depth.h"

#include "base/angle.h"
#include "base/sort.h"
#include "base/vec.h"
#include "cavity/ray.h"
#include "cavity/section.h"

#include <math.h>
#include <string.h>

enum { PAIRS = 12, RINGS = 2, LEAST_PAIRS = 4 };

/* Skin and cavity are looked at so far from the axis, in farthest distances of the rim from it: clear of a
 * broken edge, and not far. */
static const double RING[RINGS] = {1.35, 2.2};

/* The axis meets them at most so far from the level of rim or mouth, in those. */
static const double FARTHEST = 0.75;

void vugi_area_vector(const double *point, size_t count, double area[3])
{
    const double *o = point;
    area[0] = area[1] = area[2] = 0.0;
    for (size_t i = 1; i + 1 < count; i++) {
        const double *a = point + 3 * i, *b = a + 3;
        for (int k = 0; k < 3; k++) {
            int x = (k + 1) % 3, y = (k + 2) % 3;
            area[k] += 0.5 * ((a[x] - o[x]) * (b[y] - o[y]) - (a[y] - o[y]) * (b[x] - o[x]));
        }
    }
}

void vugi_opening_rim_size(vugi_opening *o, const double along[3])
{
    double area[3];
    const size_t n = o->outline_count;
    vugi_area_vector(o->outline, n, area);
    o->area = vugi_length(area);
    o->perimeter = 0.0;
    for (size_t i = 0; i < n; i++)
        o->perimeter += vugi_point_distance(o->outline + 3 * i, o->outline + 3 * ((i + 1) % n));
    for (int k = 0; k < 3; k++)
        o->normal[k] = o->area > 0.0 ? area[k] / o->area : along[k];
}

void vugi_opening_mouth(const vugi_wall *w, vugi_opening *o)
{
    double level, center[3];
    const double *mouth = o->outline + 3 * o->outline_count;
    vugi_wall_frame(w, o->center, center);
    vugi_wall_level(w, mouth, o->mouth_count, &level, o->mouth_slope);
    o->mouth_level = level - center[2];
    o->bore_length = -o->mouth_level;
    o->mouth_rise = 0.0;
    for (size_t i = 0; i < o->mouth_count; i++) {
        double at[3];
        vugi_wall_frame(w, mouth + 3 * i, at);
        o->mouth_rise = fmax(o->mouth_rise,
            at[2] - level - o->mouth_slope[0] * at[0] - o->mouth_slope[1] * at[1]);
    }
    vugi_along(w->origin, w->axis, level, o->inner);
}

/* ---- from the skin to the cavity ---------------------------------------------------- */

typedef struct sounding {
    const vug_mesh *part;
    const vugi_wall *wall;
    const vugi_opening *opening;
    uint32_t *list, *met; /* triangles about the bore, and of those the ones that a line may meet */
    size_t count;
    double *box;              /* of each: least and greatest place across the bore */
    double reach, rim, mouth; /* levels of both planes on the axis */
} sounding;

/* Triangles are larger here than they are, by more than rounding: in farthest distances of the rim. */
static const double SLACK = 1e-6;

/* Where the triangles are across the bore. false: no memory. */
static bool lay_boxes(const vugi_allocator *mem, const vugi_plane *across, sounding *s)
{
    s->box = vugi_alloc(mem, 4 * s->count, sizeof *s->box);
    s->met = vugi_alloc(mem, s->count, sizeof *s->met);
    if (!s->box || !s->met)
        return false;
    for (size_t i = 0; i < s->count; i++)
        vugi_triangle_along(s->part, s->list[i], across, s->box + 4 * i, s->box + 4 * i + 2);
    return true;
}

/* Lists those that a line at (x, y) may meet. */
static size_t list_met(const sounding *s, double x, double y)
{
    const double slack = SLACK * s->reach;
    size_t count = 0;
    for (size_t i = 0; i < s->count; i++) {
        const double *lo = s->box + 4 * i, *hi = lo + 2;
        if (lo[0] <= x + slack && lo[1] <= y + slack && hi[0] >= x - slack && hi[1] >= y - slack)
            s->met[count++] = s->list[i];
    }
    return count;
}

/* Where a line beside the bore, along its axis, leaves the solid outward and inward. */
static bool sound(const sounding *s, double x, double y, double level[2])
{
    const vugi_wall *w = s->wall;
    const vugi_opening *o = s->opening;
    double between = 0.5
        * (s->rim + s->mouth + (o->rim_slope[0] + o->mouth_slope[0]) * x
            + (o->rim_slope[1] + o->mouth_slope[1]) * y);
    double from[3], inward[3];
    for (int k = 0; k < 3; k++) {
        from[k] = w->origin[k] + x * w->u[k] + y * w->v[k] + between * w->axis[k];
        inward[k] = -w->axis[k];
    }
    const size_t count = list_met(s, x, y);
    for (int i = 0; i < 2; i++) {
        bool out = false;
        double t = vugi_ray_hit_of(s->part, s->met, count, from, i ? inward : w->axis, 0.0, &out);
        if (!out)
            return false;
        level[i] = between + (i ? -t : t);
    }
    return true;
}

/* The levels on the axis that two opposite sides of the bore tell: of each ring the mean is a parabola's, a
 * + c r2. */
static bool sound_pair(const sounding *s, double angle, double level[2])
{
    double mean[RINGS][2] = {{0.0}};
    for (int r = 0; r < RINGS; r++) {
        for (int side = -1; side <= 1; side += 2) {
            double at[2], d = side * RING[r] * s->reach;
            if (!sound(s, d * cos(angle), d * sin(angle), at))
                return false;
            mean[r][0] += 0.5 * at[0];
            mean[r][1] += 0.5 * at[1];
        }
    }
    double near2 = RING[0] * RING[0], far2 = RING[1] * RING[1];
    for (int i = 0; i < 2; i++)
        level[i] = (far2 * mean[0][i] - near2 * mean[1][i]) / (far2 - near2);
    return true;
}

static int compare_levels(const void *left, const void *right, const void *user)
{
    (void)user;
    const double *p = left, *q = right;
    return (*p > *q) - (*p < *q);
}

static double middle(double *level, size_t count)
{
    size_t half = count / 2;
    return count % 2 ? level[half] : 0.5 * (level[half - 1] + level[half]);
}

/* Medians over all pairs: another bore, a step or a corner beside this one moves few of them. */
static bool sound_all(const vugi_allocator *mem, const sounding *s, double *skin, double *cavity)
{
    double level[2][PAIRS], pair[2];
    size_t count = 0;
    for (int i = 0; i < PAIRS; i++) {
        if (!sound_pair(s, VUGI_PI * i / PAIRS, pair))
            continue;
        level[0][count] = pair[0];
        level[1][count++] = pair[1];
    }
    if (count < LEAST_PAIRS
        || !vugi_sort(mem, level[0], count, sizeof *level[0], compare_levels, NULL)
        || !vugi_sort(mem, level[1], count, sizeof *level[1], compare_levels, NULL))
        return false;
    *skin = middle(level[0], count);
    *cavity = middle(level[1], count);
    return fabs(*skin - s->rim) <= FARTHEST * s->reach
        && fabs(*cavity - s->mouth) <= FARTHEST * s->reach && *skin > *cavity;
}

vug_status vugi_bore_depth(vug_context *ctx, const vug_mesh *part, const vugi_wall *w,
    vugi_opening *o)
{
    sounding s = {.part = part, .wall = w, .opening = o};
    double at[3], skin, cavity;
    for (size_t i = 0; i < o->outline_count; i++) {
        vugi_wall_frame(w, o->outline + 3 * i, at);
        s.reach = fmax(s.reach, hypot(at[0], at[1]));
    }
    vugi_wall_frame(w, o->center, at);
    s.rim = at[2] + o->rim_level;
    s.mouth = at[2] + o->mouth_level;
    const vugi_plane across = {{w->origin[0], w->origin[1], w->origin[2]},
        {w->axis[0], w->axis[1], w->axis[2]}, {w->u[0], w->u[1], w->u[2]},
        {w->v[0], w->v[1], w->v[2]}};
    vug_status status = vugi_triangles_along(ctx, part, &across, RING[RINGS - 1] * s.reach, &s.list,
        &s.count);
    if (!status && !lay_boxes(&ctx->mem, &across, &s))
        status = vugi_fail_memory(ctx);
    if (!status && sound_all(&ctx->mem, &s, &skin, &cavity))
        o->bore_length = skin - cavity;
    vugi_free(&ctx->mem, s.list);
    vugi_free(&ctx->mem, s.met);
    vugi_free(&ctx->mem, s.box);
    return status;
}

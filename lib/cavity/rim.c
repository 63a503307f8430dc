/* SPDX-License-Identifier: MIT
 * Openings in a pose: the heights that air and liquid pass at, and the spans they pass from. */
#include "cavity/rim.h"

#include "base/vec.h"
#include "cavity/cavity.h"
#include "cavity/depth.h"
#include "cavity/section.h"

#include "column/columns.h"
#include "column/pose.h"
#include "column/raster.h"

#include <float.h>
#include <math.h>
#include <string.h>

/* A bore of fewer columns across than this is passed by its own geometry along all of its length. In
 * spacings: how far from rim and mouth spans are looked for. */
static const double NARROW = 6.0, NEAR = 1.5;

/* Of fewer than this the columns need not hang together in it. */
static const double LOOSE = 3.0;

/* In spacings: by so much a bore that is not straight may be wider than its rim near that. */
static const double WIDENS = 0.5;

/* Where the corners of a bore are not known, columns may stand so much outside the circle of equal area and still be in
 * it. */
static const double CORNERS = 1.05;

/* In spacings: spans end on the wall of a bore but for rounding, which is more where the wall is steep. */
static const double HAIR = 0.01;

/* In radii: a bore is round if no point of its ends is nearer to its axis, but for the flats of a
 * polygon: a hexagon's are nearest. */
static const double ROUND = 0.95;

/* A bore is tapered if the areas of its ends, along its axis, are as this to one. */
static const double TAPERED = 1.1;

/* Of a polygon of n sides the flats are nearer than the circle of equal area by (pi/n)^2 / 6 of its radius, to
 * the leading order, the corners farther by twice as much: a little more, and what a fitted axis is off, in
 * radii. A point is on the wall if it is no farther than the corners are on average, by some of what they stand
 * out and as much as the axis may be off. */
static const double CORNERS_PER_FLAT = 2.2, OFF_AXIS = 0.006, SLACK = 0.003, STAND_OUT = 0.3;

/* A point that has left the wall by 1 may have gone so far along it; up to so many radii beyond those that count it
 * may be right. */
static const double ALONG = 2.0, DOUBTFUL = 0.02;

static double from_axis(const vugi_opening *o, const double point[3])
{
    double away[3];
    for (int k = 0; k < 3; k++)
        away[k] = point[k] - o->center[k];
    double along = vugi_dot(away, o->axis);
    return sqrt(fmax(0.0, vugi_dot(away, away) - along * along));
}

/* The least distance from the axis of the points of a ring and of the middles between them: a square's corners
 * are all far from it, its sides are not. */
static double nearest_of(const vugi_opening *o, const double *point, size_t count)
{
    double least = INFINITY;
    for (size_t i = 0; i < count; i++) {
        const double *p = point + 3 * i, *q = point + 3 * ((i + 1) % count);
        const double middle[3] = {0.5 * (p[0] + q[0]), 0.5 * (p[1] + q[1]), 0.5 * (p[2] + q[2])};
        least = fmin(least, fmin(from_axis(o, p), from_axis(o, middle)));
    }
    return least;
}

static size_t points_of(const vugi_opening *o)
{
    return o->outline_count + o->mouth_count + o->neck_count;
}

/* The outer end of the bore itself: its rim, if that does not lie in a recess. */
static const double *outer_end(const vugi_opening *o, size_t *count)
{
    *count = o->neck_count > 0 ? o->neck_count : o->outline_count;
    return o->outline + 3 * (o->neck_count > 0 ? o->outline_count + o->mouth_count : 0);
}

/* Mean distance from the axis of the points of rim and mouth that are from `from` to `most` away. */
static double mean_between(const vugi_opening *o, double from, double most)
{
    double sum = 0.0;
    size_t count = 0;
    for (size_t i = o->neck_count > 0 ? o->outline_count : 0, n = points_of(o); i < n; i++) {
        double r = from_axis(o, o->outline + 3 * i);
        if (r < from || r > most)
            continue;
        sum += r;
        count++;
    }
    return count > 0 ? sum / (double)count : from;
}

/* Area of a ring seen along the axis. */
static double area_across(const vugi_opening *o, const double *point, size_t count)
{
    double area[3];
    vugi_area_vector(point, count, area);
    return fabs(vugi_dot(area, o->axis));
}

/* Do most points of a ring lie within the reach of the bore? */
static bool within_reach(const vugi_opening *o, const double *point, size_t count)
{
    size_t within = 0;
    for (size_t i = 0; i < count; i++)
        within += from_axis(o, point + 3 * i) <= o->reach;
    return 2 * within >= count;
}

void vugi_opening_find_wall(vugi_opening *o)
{
    if (o->planned || o->mouth_count == 0)
        return;
    size_t count;
    const double *outer = outer_end(o, &count), *mouth = o->outline + 3 * o->outline_count;
    const double wider = area_across(o, outer, count) / area_across(o, mouth, o->mouth_count);
    o->tapered = !(wider < TAPERED && wider > 1.0 / TAPERED);
    if (o->tapered)
        return;
    double least = fmin(nearest_of(o, outer, count),
        nearest_of(o, o->outline + 3 * o->outline_count, o->mouth_count));
    if (least < ROUND * o->radius)
        return;
    double flat = fmax(0.0, 1.0 - least / o->radius);
    o->reach = o->radius * (1.0 + CORNERS_PER_FLAT * flat + OFF_AXIS);
    for (int k = 0; k < 4; k++) {
        double mean = mean_between(o, 0.0, o->reach);
        o->corners = mean_between(o, mean, o->reach);
        o->reach = fmin(o->reach, o->corners + STAND_OUT * (o->corners - mean) + SLACK * o->radius);
    }
    o->tapered = !within_reach(o, outer, count) || !within_reach(o, mouth, o->mouth_count);
    if (o->tapered)
        o->corners = o->reach = 0.0;
}

static void heights(const vugi_opening *o, const double *point, size_t count, const double up[3],
    double *top, double *lip)
{
    const bool recess = o->neck_count > 0 && point == o->outline;
    *top = -INFINITY;
    *lip = INFINITY;
    for (size_t i = 0; i < count; i++) {
        const double *p = point + 3 * i;
        double z = vugi_dot(p, up);
        if (!recess && o->reach > 0.0 && from_axis(o, p) > o->reach)
            continue;
        *top = fmax(*top, z);
        *lip = fmin(*lip, z);
    }
}

void vugi_opening_outer_rim(const vugi_opening *o, const double up[3], double *top, double *lip)
{
    heights(o, o->outline, o->outline_count, up, top, lip);
    if (o->peaked) {
        *top = fmax(*top, vugi_dot(o->peak, up));
        *lip = fmin(*lip, vugi_dot(o->peak, up));
    }
}

/* A bent bore, and one without a clear end, has a disc for its mouth. */
static void mouth_heights(const vugi_opening *o, const double up[3], double *top, double *lip)
{
    double inner = 0.0, tilt = 0.0;
    if (o->mouth_count > 0) {
        heights(o, o->outline + 3 * o->outline_count, o->mouth_count, up, top, lip);
        return;
    }
    for (int k = 0; k < 3; k++) {
        inner += o->inner[k] * up[k];
        tilt += o->axis[k] * up[k];
    }
    double rise = o->inscribed_radius * sqrt(fmax(0.0, 1.0 - tilt * tilt));
    *top = inner + rise;
    *lip = inner - rise;
}

/* What is in the bore passes its outer end too, if that lies in a recess. */
static void bore_heights(const vugi_opening *o, const double up[3], double *top, double *lip)
{
    double neck_top, neck_lip;
    size_t count;
    const double *neck = outer_end(o, &count);
    vugi_opening_outer_rim(o, up, top, lip);
    if (o->neck_count == 0)
        return;
    heights(o, neck, count, up, &neck_top, &neck_lip);
    *top = fmin(*top, neck_top);
    *lip = fmax(*lip, neck_lip);
}

void vugi_opening_rim(const vugi_opening *o, const double up[3], double *top, double *lip)
{
    double mouth_top, mouth_lip;
    bore_heights(o, up, top, lip);
    mouth_heights(o, up, &mouth_top, &mouth_lip);
    *top = fmin(*top, mouth_top);
    *lip = fmax(*lip, mouth_lip);
}

/* How far the highest point of a ring (`up` turned over: its lowest) may be off. If it stands out from the corners of
 * the wall it may have gone along the bore as well, and so may one that does not count; what is on the
 * wall is right. */
static double ring_error(const vugi_opening *o, const double *point, size_t count,
    const double up[3])
{
    const double corners = o->corners, most = o->reach;
    double top = -INFINITY, sound = -INFINITY, out = 0.0, higher = 0.0;
    if (!(most > 0.0))
        return 0.0;
    for (size_t i = 0; i < count; i++) {
        double z = vugi_dot(point + 3 * i, up), r = from_axis(o, point + 3 * i);
        if (r <= corners)
            sound = fmax(sound, z);
        if (r <= most && z > top) {
            top = z;
            out = fmax(0.0, r - corners);
        }
    }
    for (size_t i = 0; i < count; i++) {
        double z = vugi_dot(point + 3 * i, up), r = from_axis(o, point + 3 * i);
        if (r > most && r <= most + DOUBTFUL * o->radius)
            higher = fmax(higher, fmin(z - top, ALONG * (r - corners)));
    }
    return fmax(higher, fmin(ALONG * out, top > sound ? top - sound : 0.0));
}

double vugi_opening_rim_error(const vugi_opening *o, const double up[3], bool liquid)
{
    const double sign = liquid ? -1.0 : 1.0, over[3] = {sign * up[0], sign * up[1], sign * up[2]};
    double top[2], lip[2], rim_top, rim_lip;
    size_t count;
    const double *outer = outer_end(o, &count);
    bore_heights(o, over, top, lip);
    mouth_heights(o, over, top + 1, lip + 1);
    heights(o, o->outline, o->outline_count, over, &rim_top, &rim_lip);
    return top[1] < top[0] && o->mouth_count > 0
        ? ring_error(o, o->outline + 3 * o->outline_count, o->mouth_count, over)
        : fmax(fmax(0.0, top[0] - rim_top), ring_error(o, outer, count, over));
}

vugi_pose_spans vugi_spans_of_columns(const vugi_columns *c)
{
    return (vugi_pose_spans){.basis = c->basis,
        .h = c->h,
        .x0 = c->x0,
        .y0 = c->y0,
        .nx = c->nx,
        .ny = c->ny,
        .first = c->first,
        .body = c->body,
        .lo = c->lo,
        .hi = c->hi};
}

static double floor_of(const vugi_pose_spans *c, size_t s)
{
    return c->lo ? c->lo[s] : (double)c->ends[s].lo;
}

static double ceiling_of(const vugi_pose_spans *c, size_t s)
{
    return c->hi ? c->hi[s] : (double)c->ends[s].hi;
}

/* ---- an opening among the columns ------------------------------------------------- */

/* The bore in the pose frame: between two planes s = level + slope . (x, y), s along the axis. */
typedef struct view {
    const vugi_opening *o;
    const vugi_pose_spans *c;
    double center[3], u[3], v[3], axis[3];
    const double *ring;            /* of a bore that is not round: the narrower of its ends */
    size_t ring_count;             /* 0: it is round */
    double radius, spread;         /* spread: how far a plane rises over the radius */
    double rim_level, mouth_level; /* of the planes, from center outward */
    const double *mouth_slope;
    double mouth_rise; /* how far the mouth comes outward of its plane */
    bool narrow;
    double top, lip, through_top, through_lip, mouth_top, mouth_lip;
    vugi_opening_span *list;
    size_t count, capacity;
} view;

/* Is the bore one cylinder from rim to mouth? */
static bool is_straight(const vugi_opening *o)
{
    return o->planned || (o->mouth_count > 0 && !o->tapered);
}

/* A bore that is not round goes along its axis as wide as the narrower of its ends; of a tapered one the rim is known. */
static void take_ring(view *w)
{
    const vugi_opening *o = w->o;
    const double *mouth = o->outline + 3 * o->outline_count;
    size_t count;
    const double *outer = outer_end(o, &count);
    bool rim = o->tapered || area_across(o, outer, count) < area_across(o, mouth, o->mouth_count);
    w->ring = rim ? outer : mouth;
    w->ring_count = rim ? count : o->mouth_count;
    w->radius = 0.0;
    for (size_t i = 0; i < w->ring_count; i++)
        w->radius = fmax(w->radius, from_axis(o, w->ring + 3 * i));
}

static view look_at(const vugi_opening *o, const vugi_pose_spans *c)
{
    view w = {.o = o,
        .c = c,
        .mouth_slope = o->mouth_slope,
        .rim_level = o->rim_level,
        .mouth_level = o->mouth_level,
        .mouth_rise = o->mouth_rise};
    vugi_plane across = vugi_plane_at(o->center, o->axis);
    vugi_to_pose(c->basis, o->center, w.center);
    vugi_to_pose(c->basis, o->axis, w.axis);
    vugi_to_pose(c->basis, across.u, w.u);
    vugi_to_pose(c->basis, across.v, w.v);
    w.radius = o->reach > 0.0 ? o->reach : CORNERS * o->radius;
    if (!(o->reach > 0.0) && o->mouth_count > 0)
        take_ring(&w);
    w.narrow = 2.0 * o->inscribed_radius < NARROW * c->h;
    if (!is_straight(o)) { /* only what is close to the rim is known to be straight */
        w.mouth_level = -fmin(o->bore_length, 2.0 * NEAR * c->h);
        w.mouth_slope = o->rim_slope;
        w.mouth_rise = 0.0;
    }
    w.spread = w.radius
        * fmax(hypot(o->rim_slope[0], o->rim_slope[1]), hypot(w.mouth_slope[0], w.mouth_slope[1]));
    bore_heights(o, c->basis + 6, &w.top, &w.lip);
    vugi_opening_rim(o, c->basis + 6, &w.through_top, &w.through_lip);
    mouth_heights(o, c->basis + 6, &w.mouth_top, &w.mouth_lip);
    return w;
}

/* From a place of the mouth's edge on along it, up, or with sign -1 down, over what turns back by less than a spacing: how high
 * that leads. */
static double climb(const view *w, size_t from, bool onward, double sign)
{
    const vugi_opening *o = w->o;
    const double *ring = o->outline + 3 * o->outline_count, *up = w->c->basis + 6;
    const size_t count = o->mouth_count;
    double best = sign * vugi_dot(ring + 3 * from, up);
    for (size_t k = 1; k < count; k++) {
        const double *p = ring + 3 * ((onward ? from + k : from + count - k) % count);
        const double z = sign * vugi_dot(p, up);
        if (o->reach > 0.0 && from_axis(o, p) > o->reach)
            continue;
        if (z < best - w->c->h)
            break;
        best = fmax(best, z);
    }
    return sign * best;
}

/* The mouth beside a stretch of a vertical line: where it opens into rooms with walls between them, it has a top and a lip for
 * each. */
static void mouth_beside(const view *w, double x, double y, double lo, double hi, double *top,
    double *lip)
{
    const vugi_opening *o = w->o;
    double least = INFINITY;
    size_t nearest = 0;
    *top = w->mouth_top;
    *lip = w->mouth_lip;
    for (size_t i = 0; i < o->mouth_count; i++) {
        const double *p = o->outline + 3 * (o->outline_count + i);
        double at[3];
        if (o->reach > 0.0 && from_axis(o, p) > o->reach)
            continue;
        vugi_to_pose(w->c->basis, p, at);
        const double dx = at[0] - x, dy = at[1] - y;
        const double dz = fmax(0.0, fmax(lo - at[2], at[2] - hi));
        const double away = dx * dx + dy * dy + dz * dz;
        if (away < least) {
            least = away;
            nearest = i;
        }
    }
    if (!(least < INFINITY))
        return;
    *top = fmin(*top, fmax(climb(w, nearest, true, 1.0), climb(w, nearest, false, 1.0)));
    *lip = fmax(*lip, fmin(climb(w, nearest, true, -1.0), climb(w, nearest, false, -1.0)));
}

/* Clips the stretch lo .. hi of a vertical line to one side of a plane across the bore. */
static bool clip(const view *w, double x, double y, const double slope[2], double level,
    bool outward, double *lo, double *hi)
{
    double n[3], at[3];
    for (int k = 0; k < 3; k++) {
        n[k] = w->axis[k] - slope[0] * w->u[k] - slope[1] * w->v[k];
        n[k] = outward ? -n[k] : n[k];
        at[k] = w->center[k] + level * w->axis[k];
    }
    return vugi_line_behind(x, y, at, n, lo, hi);
}

/* A corner of the ring, in the plane across the axis, from where a vertical line meets that at height 0; turned so that the
 * line goes along the first axis there. */
static void corner_of(const view *w, size_t i, const double start[2], const double way[2],
    double at[2])
{
    double p[3], across[2];
    vugi_to_pose(w->c->basis, w->ring + 3 * i, p);
    for (int k = 0; k < 3; k++)
        p[k] -= w->center[k];
    across[0] = vugi_dot(p, w->u) - start[0];
    across[1] = vugi_dot(p, w->v) - start[1];
    at[0] = across[0] * way[0] + across[1] * way[1];
    at[1] = across[1] * way[0] - across[0] * way[1];
}

/* Clips the stretch lo .. hi of a vertical line to the inside of the ring, as far as that reaches along the axis. */
static bool clip_to_ring(const view *w, double x, double y, double *lo, double *hi)
{
    const double dx = x - w->center[0], dy = y - w->center[1], z = -w->center[2];
    const double start[2] = {dx * w->u[0] + dy * w->u[1] + z * w->u[2],
        dx * w->v[0] + dy * w->v[1] + z * w->v[2]};
    const double tilt = hypot(w->u[2], w->v[2]);
    const bool upright = tilt < 1e-6;
    const double way[2] = {upright ? 1.0 : w->u[2] / tilt, upright ? 0.0 : w->v[2] / tilt};
    double from = INFINITY, to = -INFINITY, a[2], b[2];
    bool within = false;
    corner_of(w, w->ring_count - 1, start, way, a);
    for (size_t i = 0; i < w->ring_count; i++) {
        corner_of(w, i, start, way, b);
        if ((a[1] > 0.0) != (b[1] > 0.0)) {
            double t = a[0] + (b[0] - a[0]) * a[1] / (a[1] - b[1]);
            from = fmin(from, t);
            to = fmax(to, t);
            within ^= t > 0.0;
        }
        memcpy(a, b, sizeof a);
    }
    if (upright)
        return within && *lo < *hi;
    *lo = fmax(*lo, from / tilt);
    *hi = fmin(*hi, to / tilt);
    return *lo < *hi;
}

/* The stretch of a vertical line in the bore from `out` beyond its rim to `deep` beyond its mouth. */
static bool line_in_bore(const view *w, double x, double y, double out, double deep, double *lo,
    double *hi)
{
    double start[3], inward[3], from = w->rim_level + out, to = w->mouth_level - deep;
    for (int k = 0; k < 3; k++) {
        start[k] = w->center[k] + (from + w->spread) * w->axis[k];
        inward[k] = -w->axis[k];
    }
    return vugi_line_in_bar(x, y, start, inward, from - to + 2.0 * w->spread, w->radius, lo, hi)
        && clip(w, x, y, w->o->rim_slope, from, false, lo, hi)
        && clip(w, x, y, w->mouth_slope, to, true, lo, hi)
        && (w->ring_count == 0 || clip_to_ring(w, x, y, lo, hi));
}

static bool add_span(const vugi_allocator *mem, view *w, size_t span, double top, double lip)
{
    if (!vugi_reserve(mem, &w->list, &w->capacity, w->count + 1, sizeof *w->list))
        return false;
    w->list[w->count++] = (vugi_opening_span){(uint32_t)span, top, lip};
    return true;
}

/* How far along the axis the columns next to a plane across it may be. */
static double reach_of(const view *w, const double slope[2])
{
    return NEAR * w->c->h * sqrt(1.0 + slope[0] * slope[0] + slope[1] * slope[1]);
}

/* Does a stretch of the bore come near its rim or its mouth? */
static bool near_an_end(const view *w, double x, double y, double lo, double hi)
{
    double rim = reach_of(w, w->o->rim_slope), mouth = reach_of(w, w->mouth_slope);
    double a = lo, b = hi, p = lo, q = hi;
    return w->narrow || clip(w, x, y, w->o->rim_slope, w->rim_level - rim, true, &a, &b)
        || clip(w, x, y, w->mouth_slope, w->mouth_level + mouth, false, &p, &q);
}

/* Spans of one column that meet the bore or the room in front of its mouth. A span whose ceiling is in
 * the bore lets its air out over the rim; another has to come through the mouth first. */
static bool add_column(const vugi_allocator *mem, view *w, int32_t i, int32_t j)
{
    const vugi_pose_spans *c = w->c;
    size_t column = (size_t)j * (size_t)c->nx + (size_t)i;
    double x = c->x0 + i * c->h, y = c->y0 + j * c->h, lo, hi, in_lo = INFINITY, in_hi = -INFINITY;
    const bool straight = is_straight(w->o);
    const double deep = straight ? reach_of(w, w->mouth_slope) : 0.0, out = w->radius;
    const double slack = (straight ? HAIR : WIDENS) * c->h;
    if (c->first[column] == c->first[column + 1] || !line_in_bore(w, x, y, out, deep, &lo, &hi)
        || !near_an_end(w, x, y, lo, hi))
        return true;
    if (!line_in_bore(w, x, y, out, -w->mouth_rise, &in_lo, &in_hi)) {
        in_lo = INFINITY;
        in_hi = -INFINITY;
    }
    for (size_t s = c->first[column]; s < c->first[column + 1]; s++) {
        bool top = ceiling_of(c, s) >= in_lo - slack && ceiling_of(c, s) <= in_hi + slack;
        bool lip = floor_of(c, s) >= in_lo - slack && floor_of(c, s) <= in_hi + slack;
        if (c->body[s] != w->o->cavity || floor_of(c, s) > hi || ceiling_of(c, s) < lo
            || (!straight && !top && !lip))
            continue;
        double beside_top = w->mouth_top, beside_lip = w->mouth_lip;
        if (!w->narrow && !(top && lip))
            mouth_beside(w, x, y, floor_of(c, s), ceiling_of(c, s), &beside_top, &beside_lip);
        if (!add_span(mem, w, s, top ? w->top : fmin(w->through_top, beside_top),
                lip ? w->lip : fmax(w->through_lip, beside_lip)))
            return false;
    }
    return true;
}

/* The columns that the bore may meet: i from box[0] to box[1], j from box[2] to box[3]. */
static void columns_over(const view *w, int32_t box[4])
{
    const vugi_pose_spans *c = w->c;
    double from = w->rim_level + w->radius + w->spread,
           to = w->mouth_level - reach_of(w, w->mouth_slope) - w->spread;
    const double origin[2] = {c->x0, c->y0}, last[2] = {c->nx - 1.0, c->ny - 1.0};
    for (int k = 0; k < 2; k++) {
        double a = w->center[k] + from * w->axis[k], b = w->center[k] + to * w->axis[k];
        box[2 * k] = (int32_t)fmax(0.0, ceil((fmin(a, b) - w->radius - origin[k]) / c->h));
        box[2 * k + 1] = (int32_t)fmin(last[k], floor((fmax(a, b) + w->radius - origin[k]) / c->h));
    }
}

/* Spans of one column in the recess. */
static bool add_recess_column(const vugi_allocator *mem, view *w, int32_t i, int32_t j)
{
    const vugi_pose_spans *c = w->c;
    size_t column = (size_t)j * (size_t)c->nx + (size_t)i;
    double lo, hi;
    if (!line_in_bore(w, c->x0 + i * c->h, c->y0 + j * c->h, 0.0, 0.0, &lo, &hi))
        return true;
    for (size_t s = c->first[column]; s < c->first[column + 1]; s++)
        if (c->body[s] == w->o->cavity && floor_of(c, s) < hi && ceiling_of(c, s) > lo
            && !add_span(mem, w, s,
                ceiling_of(c, s) > lo && ceiling_of(c, s) < hi ? w->top : w->through_top,
                floor_of(c, s) > lo && floor_of(c, s) < hi ? w->lip : w->through_lip))
            return false;
    return true;
}

static bool add_columns(const vugi_allocator *mem, view *w)
{
    int32_t box[4];
    columns_over(w, box);
    for (int32_t j = box[2]; j <= box[3]; j++)
        for (int32_t i = box[0]; i <= box[1]; i++)
            if (!add_column(mem, w, i, j))
                return false;
    return true;
}

/* The spans in a recess around the rim: what is there leaves over the recess's own rim. */
static bool add_recess(const vugi_allocator *mem, view *w)
{
    const vugi_opening *o = w->o;
    const double neck[2] = {w->top, w->lip};
    const size_t bore = w->ring_count;
    int32_t box[4];
    if (o->neck_count == 0)
        return true;
    vugi_opening_outer_rim(o, w->c->basis + 6, &w->top, &w->lip);
    w->ring_count = 0;
    for (size_t i = 0; i < o->outline_count; i++)
        w->radius = fmax(w->radius, from_axis(o, o->outline + 3 * i));
    w->mouth_level = w->rim_level;
    w->mouth_slope = o->rim_slope;
    w->rim_level = 2.0 * w->radius;
    columns_over(w, box);
    for (int32_t j = box[2]; j <= box[3]; j++)
        for (int32_t i = box[0]; i <= box[1]; i++)
            if (!add_recess_column(mem, w, i, j))
                return false;
    w->top = neck[0];
    w->lip = neck[1];
    w->ring_count = bore;
    return true;
}

/* The span of the cavity that comes nearest to a point. */
static bool nearest(const vugi_pose_spans *c, int32_t body, const double p[3], uint32_t *span)
{
    double best = DBL_MAX;
    for (int32_t j = 0; j < c->ny; j++) {
        for (int32_t i = 0; i < c->nx; i++) {
            size_t col = (size_t)j * (size_t)c->nx + (size_t)i;
            double dx = c->x0 + i * c->h - p[0], dy = c->y0 + j * c->h - p[1];
            if (dx * dx + dy * dy >= best)
                continue;
            for (size_t s = c->first[col]; s < c->first[col + 1]; s++) {
                double dz = fmax(0.0, fmax(floor_of(c, s) - p[2], p[2] - ceiling_of(c, s)));
                double d2 = dx * dx + dy * dy + dz * dz;
                if (c->body[s] == body && d2 < best) {
                    best = d2;
                    *span = (uint32_t)s;
                }
            }
        }
    }
    return best < DBL_MAX;
}

/* The room in front of the mouth of a bore that the columns may miss. */
static bool add_room(const vugi_allocator *mem, view *w)
{
    double inner[3], at[3];
    uint32_t span = 0;
    vugi_to_pose(w->c->basis, w->o->inner, inner);
    for (int k = 0; k < 3; k++)
        at[k] = inner[k] - (w->o->inscribed_radius + 0.5 * w->c->h) * w->axis[k];
    return !nearest(w->c, w->o->cavity, at, &span)
        || add_span(mem, w, span, w->through_top, w->through_lip);
}

vug_status vugi_opening_spans(vug_context *ctx, const vugi_allocator *mem, const vugi_opening *o,
    const vugi_pose_spans *c, bool in_columns, vugi_opening_span **span, size_t *count)
{
    view w = look_at(o, c);
    if (!in_columns) {
        w.top = w.through_top;
        w.lip = w.through_lip;
    }
    bool ok = add_columns(mem, &w) && ((!w.narrow && w.count > 0) || add_room(mem, &w))
        && add_recess(mem, &w);
    *span = ok ? w.list : NULL;
    *count = ok ? w.count : 0;
    if (ok)
        return VUG_OK;
    vugi_free(mem, w.list);
    return vugi_fail_memory(ctx);
}

/* ---- fitting the columns to an opening ----------------------------------------------- */

/* The part of a span that lies in a loose bore is cut off; all of it: lo = hi. */
static void cut_off(vugi_columns *c, size_t s, double in_lo, double in_hi)
{
    const double from = in_lo - HAIR * c->h, to = in_hi + HAIR * c->h;
    bool top = c->hi[s] >= from && c->hi[s] <= to, lip = c->lo[s] >= from && c->lo[s] <= to;
    if (top && lip)
        c->hi[s] = c->lo[s];
    else if (top)
        c->hi[s] = fmax(c->lo[s], in_lo);
    else if (lip)
        c->lo[s] = fmin(c->hi[s], in_hi);
}

/* A span of the bore at its mouth keeps at least half of itself, so that it hangs together with the next:
 * over one spacing the bore rises by less than half its height, as it is more than two columns wide. One that goes on
 * into the room is held back if it ends in the bore near the mouth, within `near`. */
static void hold_back(const view *w, vugi_columns *c, size_t s, const double at[2],
    const double in[2], const double near[2])
{
    double lo = c->lo[s], hi = c->hi[s], middle = 0.5 * (lo + hi), mouth_top, mouth_lip;
    mouth_beside(w, at[0], at[1], fmax(lo, near[0]), fmin(hi, near[1]), &mouth_top, &mouth_lip);
    bool top = hi >= in[0] && hi <= in[1], lip = lo >= in[0] && lo <= in[1];
    if (top && (lip || hi <= near[1]) && lo < mouth_top && hi > mouth_top)
        c->hi[s] = fmax(lip ? middle : lo, mouth_top);
    if (lip && (top || lo >= near[0]) && hi > mouth_lip && lo < mouth_lip)
        c->lo[s] = fmin(top ? middle : hi, mouth_lip);
}

static void fit_column(const view *w, vugi_columns *c, int32_t i, int32_t j, bool loose)
{
    size_t column = (size_t)j * (size_t)c->nx + (size_t)i;
    double x = c->x0 + i * c->h, y = c->y0 + j * c->h, lo, hi;
    if (c->first[column] == c->first[column + 1]
        || !line_in_bore(w, x, y, w->radius, -w->mouth_rise, &lo, &hi))
        return;
    const double at[2] = {x, y}, in[2] = {lo, hi};
    double near[2] = {lo, hi};
    if (!loose
        && !clip(w, x, y, w->mouth_slope, w->mouth_level + reach_of(w, w->mouth_slope), false, near,
            near + 1))
        return;
    for (size_t s = c->first[column]; s < c->first[column + 1]; s++) {
        if (c->body[s] != w->o->cavity)
            continue;
        if (loose)
            cut_off(c, s, lo, hi);
        else
            hold_back(w, c, s, at, in, near);
    }
}

/* Takes out spans without height. */
static void drop_empty(vugi_columns *c)
{
    size_t columns = (size_t)c->nx * (size_t)c->ny, kept = 0;
    for (size_t column = 0; column < columns; column++) {
        size_t from = c->first[column], to = c->first[column + 1];
        c->first[column] = (uint32_t)kept;
        for (size_t s = from; s < to; s++) {
            if (!(c->hi[s] > c->lo[s]))
                continue;
            vugi_columns_move_span(c, s, kept++);
        }
        if (column + 1 == columns)
            c->first[columns] = (uint32_t)kept;
    }
    c->count = kept;
}

void vugi_opening_fit(const vugi_opening *o, vugi_columns *c)
{
    const vugi_pose_spans spans = vugi_spans_of_columns(c);
    view w = look_at(o, &spans);
    bool loose = 2.0 * o->inscribed_radius < LOOSE * c->h;
    int32_t box[4];
    if (!is_straight(o))
        return;
    columns_over(&w, box);
    for (int32_t j = box[2]; j <= box[3]; j++)
        for (int32_t i = box[0]; i <= box[1]; i++)
            fit_column(&w, c, i, j, loose);
    if (loose)
        drop_empty(c);
}

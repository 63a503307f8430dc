/* SPDX-License-Identifier: MIT */
#include "shape.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- the specimen as drawn, 80 mm high ------------------------------------- */

enum { POINTS_MAX = 5, STEPS = 5 };

typedef struct drawn_branch {
    int points;
    double at[POINTS_MAX][4]; /* x, y, z, radius of the skin */
} drawn_branch;

/* Tips point up, sideways and down, so that whichever way the base is turned some tip is high;
 * three branches hook over towards the base and hold air when it is up; the bridge makes a loop. */
static const drawn_branch drawn_branches[] = {
    /* trunk */
    {4, {{0, 0, 2, 7.6}, {0.6, 0.2, 14, 6.2}, {0.8, 0.5, 25, 5.7}, {0, 0, 33, 5.3}}},
    /* three stems, tips up */
    {5,
        {{0, 0, 29, 5.3}, {-7, 2, 40, 4.9}, {-12, 4, 52, 4.6}, {-13, 6, 64, 4.1},
            {-16, 8, 75, 4.4}}},
    {5, {{0, 0, 29, 5.3}, {7, -2, 38, 4.9}, {13, -4, 49, 4.6}, {14, -4, 60, 4}, {18, -6, 71, 4.3}}},
    {5, {{1, 1, 23, 5.1}, {3, 7, 32, 4.6}, {4, 11, 44, 4.3}, {2, 12, 56, 4}, {4, 14, 67, 4.2}}},
    /* hooks, tips down: -x, +x, +y */
    {5,
        {{-12, 4, 52, 4}, {-18, 2, 58, 3.7}, {-23.5, 0, 56, 3.5}, {-25, -1, 47, 3.7},
            {-24, -2, 39, 4.3}}},
    {5,
        {{13, -4, 49, 4}, {19, -5, 55, 3.7}, {24.5, -4, 53, 3.5}, {25.5, -3, 44, 3.7},
            {24, -2, 36, 4.3}}},
    {5,
        {{4, 11, 44, 4}, {-2, 16, 49, 3.7}, {-7, 19, 46, 3.5}, {-8, 19, 37, 3.6},
            {-7, 18, 29, 4.1}}},
    /* bridge between the first two stems */
    {4, {{-12.4, 4.4, 56, 3.5}, {-4, -1, 60, 3.3}, {5, -3, 59, 3.3}, {13.6, -4, 54, 3.5}}},
    /* tips sideways and outward: -y, +x then up, -x then down */
    {4, {{0, -1, 19, 4.8}, {-1, -9, 23, 4.1}, {-3, -15, 25, 3.8}, {-4, -20.5, 26, 4.3}}},
    {4, {{1, 1, 14, 4.6}, {9, 5, 18, 4}, {16, 8, 20, 3.7}, {20, 9, 28, 4.2}}},
    {4, {{-1, 0, 17, 4.6}, {-10, -3, 22, 4}, {-16.5, -5, 20, 3.7}, {-19, -6, 13, 4.1}}},
    /* a short one low on the second stem, tip to -y */
    {4, {{8, -2.5, 40, 4.2}, {10, -9, 42, 3.8}, {9, -15, 40, 3.6}, {8, -19, 44, 4}}},
};
enum {
    BRANCHES = sizeof drawn_branches / sizeof drawn_branches[0],
    CHAIN = (POINTS_MAX - 1) * STEPS
};

typedef struct disc {
    double x, y, radius, top, rounding;
} disc;

static const disc drawn_discs[] = {
    {0.5, 0.0, 14.0, 7.0, 4.5},
    {-6.0, -4.0, 10.0, 5.6, 4.0},
    {6.5, 3.5, 10.5, 6.2, 4.2},
};
enum { DISCS = sizeof drawn_discs / sizeof drawn_discs[0] };

static const double drawn_height = 80.0;
static const double drawn_bores[CORAL_BORES_MAX][2] = {{-8.5, -1.5}, {8.5, 2.0}};

/* ---- the specimen as made --------------------------------------------------- */

typedef struct cone {     /* round cone: ball of radius ra at a, of radius rb at b */
    double a[3], axis[3]; /* axis: unit, from a to b */
    double length, ra;
    double slope; /* (ra - rb) / length, the sine of the half angle */
    double tangent;
} cone;

typedef struct branch {
    cone cones[CHAIN];
    int count;
    double middle[3], reach; /* a ball around it */
    double tip[3], out[3], tip_radius;
} branch;

typedef struct cup {
    double center[3], out[3];
} cup;

struct coral_shape {
    coral_params params;
    double scale, blend;
    branch branches[BRANCHES];
    disc discs[DISCS];
    uint16_t *near;       /* for each bin: runs of branch, count, numbers of its near cones */
    uint32_t *near_first; /* where the runs of a bin start */
    cup *cups;
    size_t cup_count;
    uint32_t *first; /* cups of bin b: first[b] .. first[b + 1] - 1 of sorted */
    uint32_t *sorted;
    int bins[3];
    double lo[3], hi[3];
};

static double dot(const double a[3], const double b[3])
{
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

static double distance(const double a[3], const double b[3])
{
    double d[3] = {a[0] - b[0], a[1] - b[1], a[2] - b[2]};
    return sqrt(dot(d, d));
}

/* Uniform cubic through p[1] at t = 0 and p[2] at t = 1 (Catmull and Rom 1974). */
static double curve(const double p[4], double t)
{
    double a = 2.0 * p[1], b = p[2] - p[0];
    double c = 2.0 * p[0] - 5.0 * p[1] + 4.0 * p[2] - p[3];
    double d = 3.0 * (p[1] - p[2]) + p[3] - p[0];
    return 0.5 * (a + t * (b + t * (c + t * d)));
}

/* Bends space softly, more the higher; equal points stay equal, so branches stay joined. */
static void bend(const coral_shape *coral, double p[3])
{
    if (coral->params.seed == 0)
        return;
    uint64_t state = (uint64_t)coral->params.seed;
    double lift = fmin(1.0, fmax(0.0, p[2] / (0.3 * coral->params.height))), moved[3];
    for (int k = 0; k < 3; k++) {
        double phase[3];
        for (int m = 0; m < 3; m++) { /* Knuth's 64-bit linear congruential generator */
            state = state * 6364136223846793005u + 1442695040888963407u;
            phase[m] = (double)(state >> 40) / 16777216.0 * 6.283185307179586;
        }
        double w = 5.0 / coral->params.height;
        moved[k] = p[k]
            + 1.0 * coral->scale * lift
                * (sin(w * p[0] + phase[0]) + sin(w * p[1] + phase[1]) + sin(w * p[2] + phase[2]));
    }
    memcpy(p, moved, sizeof moved);
}

static void drawn_point(const coral_shape *coral, const drawn_branch *drawn, int index, double t,
    double point[4])
{
    for (int k = 0; k < 4; k++) {
        double p[4];
        for (int m = 0; m < 4; m++) {
            int i = index - 1 + m;
            /* beyond the ends: straight on */
            if (i < 0)
                p[m] = 2.0 * drawn->at[0][k] - drawn->at[1][k];
            else if (i >= drawn->points)
                p[m] = 2.0 * drawn->at[drawn->points - 1][k] - drawn->at[drawn->points - 2][k];
            else
                p[m] = drawn->at[i][k];
        }
        point[k] = coral->scale * curve(p, t);
    }
    bend(coral, point);
}

static cone make_cone(const double a[4], const double b[4])
{
    cone c = {.ra = a[3], .length = distance(a, b)};
    for (int k = 0; k < 3; k++) {
        c.a[k] = a[k];
        c.axis[k] = (b[k] - a[k]) / c.length;
    }
    c.slope = (a[3] - b[3]) / c.length;
    c.tangent = c.slope / sqrt(1.0 - c.slope * c.slope);
    return c;
}

static void make_branch(const coral_shape *coral, const drawn_branch *drawn, branch *made)
{
    double last[4], next[4], lo[3], hi[3];
    drawn_point(coral, drawn, 0, 0.0, last);
    for (int k = 0; k < 3; k++)
        lo[k] = hi[k] = last[k];
    double widest = last[3];
    for (int i = 0; i + 1 < drawn->points; i++) {
        for (int s = 1; s <= STEPS; s++) {
            drawn_point(coral, drawn, i, (double)s / STEPS, next);
            made->cones[made->count++] = make_cone(last, next);
            for (int k = 0; k < 3; k++) {
                lo[k] = fmin(lo[k], next[k]);
                hi[k] = fmax(hi[k], next[k]);
            }
            widest = fmax(widest, next[3]);
            memcpy(last, next, sizeof last);
        }
    }
    for (int k = 0; k < 3; k++)
        made->middle[k] = 0.5 * (lo[k] + hi[k]);
    made->reach = 0.5 * distance(lo, hi) + widest;
    memcpy(made->tip, last, sizeof made->tip);
    memcpy(made->out, made->cones[made->count - 1].axis, sizeof made->out);
    made->tip_radius = last[3];
}

static const double bin_size = 2.5;

/* ---- fields ------------------------------------------------------------------ */

/* Exact distance: the nearest ball of the cone has its centre where the cone's normal through p
 * meets the axis. */
static double cone_distance(const cone *c, const double p[3])
{
    double d[3] = {p[0] - c->a[0], p[1] - c->a[1], p[2] - c->a[2]};
    double along = dot(d, c->axis);
    double across = sqrt(fmax(0.0, dot(d, d) - along * along));
    double s = fmin(fmax(along - across * c->tangent, 0.0), c->length);
    return hypot(across, along - s) - (c->ra - c->slope * s);
}

static double branch_distance(const branch *b, const double p[3])
{
    double least = INFINITY;
    for (int i = 0; i < b->count; i++)
        least = fmin(least, cone_distance(&b->cones[i], p));
    return least;
}

/* Upright disc with rounded rim; it goes down far below z = 0. */
static double disc_distance(const disc *d, const double p[3])
{
    double out = hypot(p[0] - d->x, p[1] - d->y) - (d->radius - d->rounding);
    double up = p[2] - (d->top - d->rounding);
    double corner = hypot(fmax(out, 0.0), fmax(up, 0.0));
    return fmin(fmax(out, up), 0.0) + corner - d->rounding;
}

/* Smooth least of two: as far as blend apart it is the plain one. */
static double blended(double a, double b, double blend)
{
    double h = fmax(blend - fabs(a - b), 0.0) / blend;
    return fmin(a, b) - 0.25 * blend * h * h;
}

/* The bin that p lies in, or the nearest. */
static int bin_of(const coral_shape *coral, const double p[3], int bin[3])
{
    for (int k = 0; k < 3; k++) {
        bin[k] = (int)floor((p[k] - coral->lo[k]) / bin_size);
        bin[k] = bin[k] < 0 ? 0 : bin[k] >= coral->bins[k] ? coral->bins[k] - 1 : bin[k];
    }
    return (bin[2] * coral->bins[1] + bin[1]) * coral->bins[0] + bin[0];
}

static bool inside_bins(const coral_shape *coral, const double p[3])
{
    for (int k = 0; k < 3; k++)
        if (p[k] < coral->lo[k] || p[k] >= coral->lo[k] + coral->bins[k] * bin_size)
            return false;
    return true;
}

static double discs_distance(const coral_shape *coral, const double p[3])
{
    double skin = INFINITY;
    for (int i = 0; i < DISCS; i++)
        skin = i ? blended(skin, disc_distance(&coral->discs[i], p), 2.0 * coral->blend)
                 : disc_distance(&coral->discs[i], p);
    return skin;
}

double coral_skin(const coral_shape *coral, const double p[3])
{
    double skin = discs_distance(coral, p);
    int bin[3];
    if (coral->near && inside_bins(coral, p)) {
        int b = bin_of(coral, p, bin);
        const uint16_t *run = coral->near + coral->near_first[b];
        const uint16_t *end = coral->near + coral->near_first[b + 1];
        while (run < end) {
            const cone *cones = coral->branches[run[0]].cones;
            double least = INFINITY;
            for (int i = 0; i < run[1]; i++)
                least = fmin(least, cone_distance(&cones[run[2 + i]], p));
            skin = blended(skin, least, coral->blend);
            run += 2 + run[1];
        }
        return skin;
    }
    for (int i = 0; i < BRANCHES; i++) {
        const branch *b = &coral->branches[i];
        if (distance(p, b->middle) - b->reach < skin + 2.0 * coral->blend)
            skin = blended(skin, branch_distance(b, p), coral->blend);
    }
    return skin;
}

/* ---- bins: which cones can matter where ------------------------------------------
 * Distances change by at most 1 per mm, so what is farther at the middle of a bin than the nearest
 * by the bin's diameter is nowhere nearest in it; blends reach a little further. */

static void bin_middle(const coral_shape *coral, const int bin[3], double p[3])
{
    for (int k = 0; k < 3; k++)
        p[k] = coral->lo[k] + ((double)bin[k] + 0.5) * bin_size;
}

/* The runs of one bin into run (NULL: only counted). Returns their length. */
static uint32_t find_near(const coral_shape *coral, const double p[3], uint16_t *run)
{
    const double across = sqrt(3.0) * bin_size;
    double value[BRANCHES][CHAIN], least[BRANCHES], nearest = discs_distance(coral, p);
    for (int i = 0; i < BRANCHES; i++) {
        least[i] = INFINITY;
        for (int j = 0; j < coral->branches[i].count; j++) {
            value[i][j] = cone_distance(&coral->branches[i].cones[j], p);
            least[i] = fmin(least[i], value[i][j]);
        }
        nearest = fmin(nearest, least[i]);
    }
    uint32_t length = 0;
    for (int i = 0; i < BRANCHES; i++) {
        if (least[i] > nearest + across + 2.0 * coral->blend)
            continue;
        uint32_t head = length;
        length += 2;
        for (int j = 0; j < coral->branches[i].count; j++)
            if (value[i][j] <= least[i] + across) {
                if (run)
                    run[length] = (uint16_t)j;
                length++;
            }
        if (run) {
            run[head] = (uint16_t)i;
            run[head + 1] = (uint16_t)(length - head - 2);
        }
    }
    return length;
}

static bool make_bins(coral_shape *coral)
{
    size_t total = 1;
    for (int k = 0; k < 3; k++) {
        coral->bins[k] = 1 + (int)((coral->hi[k] - coral->lo[k]) / bin_size);
        total *= (size_t)coral->bins[k];
    }
    uint32_t *first = calloc(total + 1, sizeof *first);
    uint16_t *near = NULL;
    for (int fill = 0; fill < 2 && first; fill++) {
        uint32_t length = 0;
        int bin[3];
        size_t b = 0;
        for (bin[2] = 0; bin[2] < coral->bins[2]; bin[2]++)
            for (bin[1] = 0; bin[1] < coral->bins[1]; bin[1]++)
                for (bin[0] = 0; bin[0] < coral->bins[0]; bin[0]++) {
                    double p[3];
                    bin_middle(coral, bin, p);
                    first[b++] = length;
                    length += find_near(coral, p, near ? near + length : NULL);
                }
        first[total] = length;
        if (!near)
            near = malloc((length + 1) * sizeof *near);
        if (!near)
            break;
    }
    coral->near_first = first;
    coral->near = near;
    return first && near;
}

double coral_cavity(const coral_shape *coral, const double p[3])
{
    return coral_skin(coral, p) + coral->params.wall;
}

double coral_floor(const coral_shape *coral)
{
    return coral->params.wall;
}

static void skin_normal(const coral_shape *coral, const double p[3], double n[3])
{
    const double e = 1e-4;
    double q[3] = {p[0], p[1], p[2]};
    for (int k = 0; k < 3; k++) {
        q[k] = p[k] + e;
        n[k] = coral_skin(coral, q);
        q[k] = p[k] - e;
        n[k] -= coral_skin(coral, q);
        q[k] = p[k];
    }
    double length = sqrt(dot(n, n));
    for (int k = 0; k < 3; k++)
        n[k] /= length;
}

/* ---- cups --------------------------------------------------------------------- */

/* A rim of this radius, half width and height around a hollow, on the skin. */
static const double rim_radius = 1.6, rim_half_width = 1.05, rim_height = 0.6;
static const double hollow_radius = 1.4, hollow_depth = 0.4;
static const double cup_spacing = 4.8, cup_reach = 2.5;

double coral_relief(const coral_shape *coral)
{
    return coral->cup_count ? rim_height + hollow_depth : 0.0;
}

/* 1 at 0, smoothly 0 from 1 on. */
static double bump(double x)
{
    double y = fmax(0.0, 1.0 - x * x);
    return y * y;
}

static double cup_height(const coral_shape *coral, const cup *c, const double p[3])
{
    double d[3] = {p[0] - c->center[0], p[1] - c->center[1], p[2] - c->center[2]};
    double along = dot(d, c->out);
    double across = sqrt(fmax(0.0, dot(d, d) - along * along));
    double depth = fmin(hollow_depth, 0.25 * coral->params.wall);
    return bump(along / cup_reach)
        * (rim_height * bump((across - rim_radius) / rim_half_width)
            - depth * bump(across / hollow_radius));
}

double coral_outside(const coral_shape *coral, const double p[3])
{
    double skin = coral_skin(coral, p);
    if (coral->cup_count == 0 || fabs(skin) > cup_reach)
        return skin;
    double rim = 0.0, hollow = 0.0;
    int at[3], bin[3];
    bin_of(coral, p, at);
    for (int z = -1; z <= 1; z++)
        for (int y = -1; y <= 1; y++)
            for (int x = -1; x <= 1; x++) {
                bin[0] = at[0] + x;
                bin[1] = at[1] + y;
                bin[2] = at[2] + z;
                if (bin[0] < 0 || bin[1] < 0 || bin[2] < 0 || bin[0] >= coral->bins[0]
                    || bin[1] >= coral->bins[1] || bin[2] >= coral->bins[2])
                    continue;
                int b = (bin[2] * coral->bins[1] + bin[1]) * coral->bins[0] + bin[0];
                for (uint32_t i = coral->first[b]; i < coral->first[b + 1]; i++) {
                    double h = cup_height(coral, &coral->cups[coral->sorted[i]], p);
                    rim = fmax(rim, h);
                    hollow = fmin(hollow, h);
                }
            }
    return skin - rim - hollow;
}

/* On the skin, clear of the base and of the other cups. */
static bool cup_fits(const coral_shape *coral, const cup *c)
{
    if (fabs(coral_skin(coral, c->center)) > 0.05 || c->center[2] < 8.0 * coral->scale)
        return false;
    for (size_t i = 0; i < coral->cup_count; i++)
        if (distance(coral->cups[i].center, c->center) < 0.8 * cup_spacing)
            return false;
    return true;
}

/* A cup at p, which is brought onto the skin if it is not far, where branches blend. */
static bool add_cup(coral_shape *coral, const double p[3])
{
    cup c;
    memcpy(c.center, p, sizeof c.center);
    for (int i = 0; i < 3; i++) {
        double skin = coral_skin(coral, c.center);
        if (fabs(skin) > 1.5)
            return true;
        skin_normal(coral, c.center, c.out);
        for (int k = 0; k < 3; k++)
            c.center[k] -= skin * c.out[k];
    }
    if (!cup_fits(coral, &c))
        return true;
    cup *grown = realloc(coral->cups, (coral->cup_count + 1) * sizeof *grown);
    if (!grown)
        return false;
    coral->cups = grown;
    coral->cups[coral->cup_count++] = c;
    return true;
}

/* One on the tip, then down the branch in a spiral by the golden angle, as buds sit on stems. */
static bool add_cups_of_branch(coral_shape *coral, const branch *b)
{
    const double golden = 2.399963229728653;
    double p[3];
    for (int k = 0; k < 3; k++)
        p[k] = b->tip[k] + b->tip_radius * b->out[k];
    bool good = add_cup(coral, p);
    double angle = 0.0, left = 0.3;
    for (int i = b->count - 1; i >= 0 && good; i--) {
        const cone *o = &b->cones[i];
        double u[3], v[3], aside[3] = {0, 0, 0};
        aside[fabs(o->axis[2]) < 0.7 ? 2 : 0] = 1.0;
        for (int k = 0; k < 3; k++)
            u[k] = o->axis[(k + 1) % 3] * aside[(k + 2) % 3]
                - o->axis[(k + 2) % 3] * aside[(k + 1) % 3];
        double length = sqrt(dot(u, u));
        for (int k = 0; k < 3; k++)
            u[k] /= length;
        for (int k = 0; k < 3; k++)
            v[k] = o->axis[(k + 1) % 3] * u[(k + 2) % 3] - o->axis[(k + 2) % 3] * u[(k + 1) % 3];
        while (left < o->length && good) {
            double s = o->length - left, r = o->ra - o->slope * s;
            for (int k = 0; k < 3; k++)
                p[k] = o->a[k] + s * o->axis[k] + r * (cos(angle) * u[k] + sin(angle) * v[k]);
            good = add_cup(coral, p);
            angle += golden;
            left += cup_spacing * cup_spacing / (6.283185307179586 * r);
        }
        left -= o->length;
    }
    return good;
}

static bool sort_cups(coral_shape *coral)
{
    int bin[3];
    size_t total = (size_t)coral->bins[0] * (size_t)coral->bins[1] * (size_t)coral->bins[2];
    coral->first = calloc(total + 2, sizeof *coral->first);
    coral->sorted = calloc(coral->cup_count + 1, sizeof *coral->sorted);
    if (!coral->first || !coral->sorted)
        return false;
    for (size_t i = 0; i < coral->cup_count; i++)
        coral->first[bin_of(coral, coral->cups[i].center, bin) + 2]++;
    for (size_t b = 2; b < total + 2; b++)
        coral->first[b] += coral->first[b - 1];
    for (size_t i = 0; i < coral->cup_count; i++)
        coral->sorted[coral->first[bin_of(coral, coral->cups[i].center, bin) + 1]++] = (uint32_t)i;
    return true;
}

static bool add_cups(coral_shape *coral)
{
    for (int i = BRANCHES - 1; i >= 0; i--)
        if (!add_cups_of_branch(coral, &coral->branches[i]))
            return false;
    return sort_cups(coral);
}

/* ---- making -------------------------------------------------------------------- */

static void make_bounds(coral_shape *coral)
{
    for (int k = 0; k < 3; k++) {
        coral->lo[k] = INFINITY;
        coral->hi[k] = -INFINITY;
    }
    for (int i = 0; i < BRANCHES; i++) {
        const branch *b = &coral->branches[i];
        for (int j = 0; j < b->count; j++)
            for (int k = 0; k < 3; k++)
                for (int end = 0; end <= 1; end++) {
                    const cone *c = &b->cones[j];
                    double s = end ? c->length : 0.0, r = c->ra - c->slope * s;
                    coral->lo[k] = fmin(coral->lo[k], c->a[k] + s * c->axis[k] - r);
                    coral->hi[k] = fmax(coral->hi[k], c->a[k] + s * c->axis[k] + r);
                }
    }
    for (int i = 0; i < DISCS; i++) {
        const disc *d = &coral->discs[i];
        coral->lo[0] = fmin(coral->lo[0], d->x - d->radius);
        coral->hi[0] = fmax(coral->hi[0], d->x + d->radius);
        coral->lo[1] = fmin(coral->lo[1], d->y - d->radius);
        coral->hi[1] = fmax(coral->hi[1], d->y + d->radius);
    }
    for (int k = 0; k < 3; k++) { /* room for blends and cups */
        coral->lo[k] -= 0.5 * coral->blend + rim_height;
        coral->hi[k] += 0.5 * coral->blend + rim_height;
    }
    coral->lo[2] = 0.0;
}

coral_shape *coral_create(const coral_params *params)
{
    coral_shape *coral = calloc(1, sizeof *coral);
    if (!coral)
        return NULL;
    coral->params = *params;
    coral->scale = params->height / drawn_height;
    coral->blend = 3.0 * coral->scale;
    for (int i = 0; i < DISCS; i++) {
        coral->discs[i] = drawn_discs[i];
        coral->discs[i].x *= coral->scale;
        coral->discs[i].y *= coral->scale;
        coral->discs[i].radius *= coral->scale;
        coral->discs[i].top *= coral->scale;
        coral->discs[i].rounding *= coral->scale;
    }
    for (int i = 0; i < BRANCHES; i++)
        make_branch(coral, &drawn_branches[i], &coral->branches[i]);
    make_bounds(coral);
    if (!make_bins(coral) || (!params->smooth && !add_cups(coral))) {
        coral_free(coral);
        return NULL;
    }
    return coral;
}

void coral_free(coral_shape *coral)
{
    if (!coral)
        return;
    free(coral->near);
    free(coral->near_first);
    free(coral->cups);
    free(coral->first);
    free(coral->sorted);
    free(coral);
}

double coral_thinnest(const coral_params *params)
{
    double least = INFINITY;
    for (int i = 0; i < BRANCHES; i++)
        for (int j = 0; j < drawn_branches[i].points; j++)
            least = fmin(least, drawn_branches[i].at[j][3]);
    return least * params->height / drawn_height;
}

double coral_height(const coral_shape *coral)
{
    return coral->params.height;
}

void coral_bounds(const coral_shape *coral, double lo[3], double hi[3])
{
    memcpy(lo, coral->lo, sizeof coral->lo);
    memcpy(hi, coral->hi, sizeof coral->hi);
}

void coral_bore(const coral_shape *coral, int i, double center[3])
{
    center[0] = drawn_bores[i][0] * coral->scale;
    center[1] = drawn_bores[i][1] * coral->scale;
    center[2] = 0.0;
}

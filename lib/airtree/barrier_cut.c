/* SPDX-License-Identifier: MIT
 * Columns cut at barriers. */
#include "airtree/barrier_cut.h"

#include "airtree/barrier.h"

#include "base/vec.h"
#include "column/columns.h"
#include "column/pose.h"

#include <math.h>
#include <string.h>

enum { SIDES = sizeof((vugi_sides *)0)->at / sizeof *((vugi_sides *)0)->at, SAMPLES = 64 };

/* A barrier in the pose. */
typedef struct posed {
    const vugi_barrier *barrier;
    int16_t number; /* from 1 */
    double center[3], normal[3], u[3], v[3];
} posed;

typedef struct piece {
    double lo, hi;
    int32_t body;
    vugi_sides sides;
} piece;

typedef struct cutting {
    const vugi_allocator *mem;
    const vugi_columns *from;
    posed *barrier;
    size_t barriers;
    piece *piece; /* of one column, upward */
    size_t count, capacity;
} cutting;

/* How far a point of the plane lies outside the section; 0 inside. */
static double outside(const vugi_barrier *g, double x, double y)
{
    bool in = false;
    double least = INFINITY;
    const double *a = g->corner + 2 * (g->corners - 1);
    for (size_t i = 0; i < g->corners; i++) {
        const double *b = g->corner + 2 * i;
        double dx = b[0] - a[0], dy = b[1] - a[1], px = x - a[0], py = y - a[1];
        if ((a[1] > y) != (b[1] > y) && x < a[0] + dx * (y - a[1]) / dy)
            in = !in;
        double square = dx * dx + dy * dy, t = square > 0.0 ? (px * dx + py * dy) / square : 0.0;
        t = fmin(1.0, fmax(0.0, t));
        least = fmin(least, hypot(px - t * dx, py - t * dy));
        a = b;
    }
    return in ? 0.0 : least;
}

/* Of the point of a column at height z: outside its section, and *above the plane. */
static double off_section(const posed *g, double x, double y, double z, double *above)
{
    double d[3] = {x - g->center[0], y - g->center[1], z - g->center[2]};
    *above = vugi_dot(d, g->normal);
    return outside(g->barrier, vugi_dot(d, g->u), vugi_dot(d, g->v));
}

static void put_side(vugi_sides *sides, int16_t side)
{
    for (int k = 0; k < SIDES; k++)
        if (sides->at[k] == 0) {
            sides->at[k] = side;
            return;
        }
}

/* The piece goes through the section: it becomes two. */
static bool split(cutting *c, size_t index, double z, const posed *g)
{
    if (!vugi_reserve(c->mem, &c->piece, &c->capacity, c->count + 1, sizeof *c->piece))
        return false;
    piece *p = c->piece + index;
    memmove(p + 1, p, (c->count - index) * sizeof *p);
    c->count++;
    p[0].hi = p[1].lo = z;
    int16_t upper = (int16_t)(g->normal[2] > 0.0 ? g->number : -g->number);
    put_side(&p[0].sides, (int16_t)-upper);
    put_side(&p[1].sides, upper);
    return true;
}

/* The piece passes by close to the section: the side of its point nearest to it. */
static void pass_by(const cutting *c, piece *p, double x, double y, const posed *g)
{
    double h = c->from->h, lo = p->lo, hi = p->hi, least = INFINITY, side = 0.0;
    double at_center = (x - g->center[0]) * g->normal[0] + (y - g->center[1]) * g->normal[1]
        - g->center[2] * g->normal[2];
    if (fabs(g->normal[2]) > 1e-6) { /* the stretch within h of the plane */
        double middle = -at_center / g->normal[2], half = 1.01 * h / fabs(g->normal[2]);
        lo = fmax(lo, middle - half);
        hi = fmin(hi, middle + half);
    } else if (fabs(at_center) > 1.01 * h) {
        return;
    }
    lo = fmax(lo, g->center[2] - g->barrier->reach - h);
    hi = fmin(hi, g->center[2] + g->barrier->reach + h);
    if (!(lo <= hi))
        return;
    int samples = (int)fmin(SAMPLES, 2.0 + ceil((hi - lo) / (0.25 * g->barrier->diameter)));
    for (int i = 0; i < samples; i++) {
        double above, z = lo + (hi - lo) * i / (samples - 1.0);
        double off = off_section(g, x, y, z, &above);
        if (off < least && above != 0.0) {
            least = off;
            side = above;
        }
    }
    if (least <= h)
        put_side(&p->sides, side > 0.0 ? g->number : (int16_t)-g->number);
}

static bool cut_piece(cutting *c, size_t *index, double x, double y, const posed *g)
{
    piece *p = c->piece + *index;
    if (p->body != g->barrier->body)
        return true;
    if (fabs(g->normal[2]) > 1e-6) {
        double above,
            z = g->center[2]
            - ((x - g->center[0]) * g->normal[0] + (y - g->center[1]) * g->normal[1])
                / g->normal[2];
        if (z > p->lo && z < p->hi && off_section(g, x, y, z, &above) <= 0.25 * c->from->h) {
            if (!split(c, *index, z, g))
                return false;
            (*index)++;
            return true;
        }
    }
    pass_by(c, p, x, y, g);
    return true;
}

static bool cut_column(cutting *c, double x, double y, size_t first, size_t last)
{
    c->count = 0;
    if (!vugi_reserve(c->mem, &c->piece, &c->capacity, last - first, sizeof *c->piece))
        return false;
    for (size_t s = first; s < last; s++)
        c->piece[c->count++] = (piece){c->from->lo[s], c->from->hi[s], c->from->body[s], {{0}}};
    for (size_t k = 0; k < c->barriers; k++) {
        const posed *g = c->barrier + k;
        double reach = g->barrier->reach + 2.0 * c->from->h;
        if (fabs(x - g->center[0]) > reach || fabs(y - g->center[1]) > reach)
            continue;
        for (size_t i = 0; i < c->count; i++)
            if (!cut_piece(c, &i, x, y, g))
                return false;
    }
    return true;
}

static bool put_column(const cutting *c, vugi_columns *to, size_t *lo_room, size_t *hi_room,
    size_t *body_room, size_t *side_room)
{
    size_t need = to->count + c->count;
    if (!vugi_reserve(c->mem, &to->lo, lo_room, need, sizeof *to->lo)
        || !vugi_reserve(c->mem, &to->hi, hi_room, need, sizeof *to->hi)
        || !vugi_reserve(c->mem, &to->body, body_room, need, sizeof *to->body)
        || !vugi_reserve(c->mem, &to->side, side_room, need, sizeof *to->side))
        return false;
    for (size_t i = 0; i < c->count; i++, to->count++) {
        to->lo[to->count] = c->piece[i].lo;
        to->hi[to->count] = c->piece[i].hi;
        to->body[to->count] = c->piece[i].body;
        to->side[to->count] = c->piece[i].sides;
    }
    return true;
}

static bool pose_barriers(cutting *c, const vugi_barriers *barriers)
{
    const double *basis = c->from->basis;
    c->barrier = vugi_alloc(c->mem, barriers->count, sizeof *c->barrier);
    if (!c->barrier)
        return false;
    for (size_t i = 0; i < barriers->count; i++) {
        posed *g = c->barrier + c->barriers++;
        const vugi_plane *plane = &barriers->barrier[i].plane;
        g->barrier = barriers->barrier + i;
        g->number = (int16_t)(i + 1);
        vugi_to_pose(basis, plane->center, g->center);
        vugi_to_pose(basis, plane->normal, g->normal);
        vugi_to_pose(basis, plane->u, g->u);
        vugi_to_pose(basis, plane->v, g->v);
    }
    return true;
}

bool vugi_barriers_cut(const vugi_allocator *mem, const vugi_barriers *barriers,
    const vugi_columns *from, vugi_columns *to)
{
    size_t columns = (size_t)from->nx * (size_t)from->ny, room[4] = {0};
    cutting c = {.mem = mem, .from = from};
    vugi_columns_free(mem, to);
    *to = (vugi_columns){.h = from->h,
        .x0 = from->x0,
        .y0 = from->y0,
        .zlo = from->zlo,
        .zhi = from->zhi,
        .nx = from->nx,
        .ny = from->ny};
    memcpy(to->basis, from->basis, sizeof to->basis);
    to->first = vugi_alloc(mem, columns + 1, sizeof *to->first);
    bool good = to->first && pose_barriers(&c, barriers);
    for (size_t col = 0; col < columns && good; col++) {
        double x = from->x0 + (double)(col % (size_t)from->nx) * from->h;
        double y = from->y0 + (double)(col / (size_t)from->nx) * from->h;
        to->first[col] = (uint32_t)to->count;
        good = cut_column(&c, x, y, from->first[col], from->first[col + 1])
            && put_column(&c, to, room, room + 1, room + 2, room + 3);
    }
    if (good)
        to->first[columns] = (uint32_t)to->count;
    else
        vugi_columns_free(mem, to);
    vugi_free(mem, c.barrier);
    vugi_free(mem, c.piece);
    return good;
}

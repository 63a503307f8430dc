/* SPDX-License-Identifier: MIT
 * Meshes in a pose to columns of spans. */
#include "column/columns.h"

#include "base/vec.h"
#include "column/column.h"
#include "column/pose.h"
#include "column/raster.h"

#include <assert.h>
#include <float.h>
#include <math.h>
#include <string.h>

/* A stretch of a column that a planned bore opens. */
typedef struct bore_piece {
    double lo, hi;
    uint32_t column;
    int32_t body;
} bore_piece;

struct vugi_columns_room {
    double *pose; /* turned vertices of all meshes, 3 each */
    size_t pose_capacity;
    int32_t *fixed; /* their x and y in fixed point, 2 each */
    size_t fixed_capacity;
    uint32_t *cell; /* and the first columns and rows at or above those, in 16 bits each */
    size_t cell_capacity;
    vugi_crossings crossings;
    vugi_crossing *sorted;
    size_t sorted_capacity;
    bore_piece *piece;
    size_t piece_count, piece_capacity;
    bool reflected;   /* pose is as before the columns were reflected */
    uint32_t *number; /* of the first triangle of each body, and one beyond the last */
    size_t number_capacity, bodies;
    size_t first_capacity, span_capacity, hi_capacity, body_capacity, floor_capacity,
        ceiling_capacity;
};

typedef struct bounds {
    double lo[3], hi[3];
} bounds;

static void bounds_add(bounds *b, const double p[3], double radius)
{
    for (int k = 0; k < 3; k++) {
        double lo = p[k] - radius, hi = p[k] + radius;
        b->lo[k] = vugi_lesser(lo, b->lo[k]);
        b->hi[k] = vugi_greater(hi, b->hi[k]);
    }
}

/* A planned bore in the pose frame: a bar, and the planes that cut its ends off, if they slant. */
typedef struct bar {
    double from[3], axis[3], length, radius;
    bool cut;
    double rim[3], end[3], at_rim[3],
        at_end[3]; /* normals that point out of the bore, and places */
} bar;

/* How far a plane across a bore runs along it. */
static double spread(const vugi_bore *bore, const double normal[3])
{
    double across = vugi_length(normal), along = fabs(vugi_dot(normal, bore->axis));
    return along > 0.0 ? bore->radius * sqrt(fmax(0.0, across * across / (along * along) - 1.0))
                       : 0.0;
}

static bar bar_of(const vugi_bore *bore, const double basis[9])
{
    bar b = {.radius = bore->radius};
    double out = spread(bore, bore->rim), in = spread(bore, bore->end), start[3];
    vugi_along(bore->mouth, bore->axis, -out, start);
    vugi_to_pose(basis, start, b.from);
    vugi_to_pose(basis, bore->axis, b.axis);
    b.length = bore->length + out + in;
    b.cut = out > 0.0 || in > 0.0;
    vugi_to_pose(basis, out > 0.0 ? bore->rim : bore->axis, b.rim);
    vugi_to_pose(basis, in > 0.0 ? bore->end : bore->axis, b.end);
    bool rim_out = vugi_dot(b.rim, b.axis)<0.0, end_out = vugi_dot(b.end, b.axis)> 0.0;
    for (int k = 0; k < 3; k++) {
        b.rim[k] = rim_out ? b.rim[k] : -b.rim[k];
        b.end[k] = end_out ? b.end[k] : -b.end[k];
    }
    vugi_along(b.from, b.axis, out, b.at_rim);
    vugi_along(b.at_rim, b.axis, bore->length, b.at_end);
    return b;
}

/* Turns all vertices into room->pose and bounds them, bores included. */
static bool turn(const vugi_allocator *mem, const vugi_bodies *bodies, const double basis[9],
    struct vugi_columns_room *room, bounds *box)
{
    size_t total = 0;
    for (size_t m = 0; m < bodies->count; m++)
        total += bodies->mesh[m]->vertex_count;
    if (!vugi_reserve(mem, &room->pose, &room->pose_capacity, 3 * total, sizeof *room->pose)
        || !vugi_reserve(mem, &room->fixed, &room->fixed_capacity, 2 * total, sizeof *room->fixed)
        || !vugi_reserve(mem, &room->cell, &room->cell_capacity, total, sizeof *room->cell))
        return false;
    for (int k = 0; k < 3; k++) {
        box->lo[k] = DBL_MAX;
        box->hi[k] = -DBL_MAX;
    }
    double *out = room->pose;
    room->reflected = false;
    for (size_t m = 0; m < bodies->count; m++) {
        const vug_mesh *mesh = bodies->mesh[m];
        for (size_t v = 0; v < mesh->vertex_count; v++, out += 3) {
            vugi_to_pose(basis, mesh->xyz + 3 * v, out);
            bounds_add(box, out, 0.0);
        }
    }
    for (size_t i = 0; i < bodies->bore_count; i++) {
        const bar b = bar_of(bodies->bore + i, basis);
        double end[3];
        vugi_along(b.from, b.axis, b.length, end);
        bounds_add(box, b.from, b.radius);
        bounds_add(box, end, b.radius);
    }
    return true;
}

/* Lays the grid centred over the bounds, so that a symmetric part is sampled symmetrically. */
static vug_status lay_grid(vug_context *ctx, const bounds *box, double h, vugi_columns *c)
{
    double nx = fmax(1.0, ceil((box->hi[0] - box->lo[0]) / h));
    double ny = fmax(1.0, ceil((box->hi[1] - box->lo[1]) / h));
    if (!(nx <= VUG_MAX_COLUMNS_ACROSS) || !(ny <= VUG_MAX_COLUMNS_ACROSS))
        return vugi_fail(ctx, VUG_ERR_LIMIT,
            "a spacing of %g mm needs %.0f x %.0f columns, the limit is %d along a side; "
            "use a coarser spacing",
            h, nx, ny, VUG_MAX_COLUMNS_ACROSS);
    c->h = h;
    c->nx = (int32_t)nx;
    c->ny = (int32_t)ny;
    c->x0 = 0.5 * (box->lo[0] + box->hi[0]) - 0.5 * (nx - 1.0) * h;
    c->y0 = 0.5 * (box->lo[1] + box->hi[1]) - 0.5 * (ny - 1.0) * h;
    c->zlo = box->lo[2];
    c->zhi = box->hi[2];
    return VUG_OK;
}

/* floor() would be a call, where the processor may be an old one. */
static int32_t nearest(double v)
{
    int32_t whole = (int32_t)(v + 0.5);
    return whole - ((double)whole > v + 0.5);
}

static void to_fixed(const vugi_columns *c, struct vugi_columns_room *room, size_t vertices)
{
    double scale = (double)(1 << VUGI_SUBCELL_BITS) / c->h;
    double left = c->x0 - 0.5 * c->h, front = c->y0 - 0.5 * c->h;
    for (size_t v = 0; v < vertices; v++) {
        const int32_t x = nearest((room->pose[3 * v] - left) * scale),
                      y = nearest((room->pose[3 * v + 1] - front) * scale);
        room->fixed[2 * v] = x;
        room->fixed[2 * v + 1] = y;
        room->cell[v] = ((uint32_t)vugi_raster_first(x) & 0xffff)
            | (uint32_t)vugi_raster_first(y) << 16;
    }
}

/* Triangles are counted over all bodies. */
static bool number_triangles(const vugi_allocator *mem, const vugi_bodies *bodies,
    struct vugi_columns_room *room)
{
    if (!vugi_reserve(mem, &room->number, &room->number_capacity, bodies->count + 1,
            sizeof *room->number))
        return false;
    room->number[0] = 0;
    room->bodies = bodies->count;
    for (size_t m = 0; m < bodies->count; m++)
        room->number[m + 1] = room->number[m] + (uint32_t)bodies->mesh[m]->triangle_count;
    return true;
}

static int32_t body_of(const struct vugi_columns_room *room, uint32_t triangle)
{
    size_t body = 0;
    while (body + 1 < room->bodies && triangle >= room->number[body + 1])
        body++;
    return (int32_t)body;
}

/* Triangles that are looked at together. */
enum { BLOCK = 512 };

/* Those with columns and rows between their corners; where triangles are fine most have none. By no branch, as no
 * processor could guess it. Returns how many. */
static size_t list_near(const uint32_t *triangle, size_t count, const uint32_t *cell,
    uint16_t *list)
{
    size_t n = 0;
    for (size_t t = 0; t < count; t++, triangle += 3) {
        const uint32_t a = cell[triangle[0]];
        const uint32_t differ = (a ^ cell[triangle[1]]) | (a ^ cell[triangle[2]]);
        list[n] = (uint16_t)t;
        n += (size_t)((differ & 0xffff) != 0) & (size_t)(differ >> 16 != 0);
    }
    return n;
}

/* A triangle of corners in a pose. */
static bool raster_one(const vugi_allocator *mem, const double *pose, const int32_t *fixed,
    const uint32_t *v, uint32_t number, const vugi_columns *c, vugi_crossings *out)
{
    const int32_t x[3] = {fixed[2 * v[0]], fixed[2 * v[1]], fixed[2 * v[2]]};
    const int32_t y[3] = {fixed[2 * v[0] + 1], fixed[2 * v[1] + 1], fixed[2 * v[2] + 1]};
    const double z[3] = {pose[3 * v[0] + 2], pose[3 * v[1] + 2], pose[3 * v[2] + 2]};
    return vugi_raster_triangle(mem, x, y, z, number, c->nx, c->ny, out);
}

static bool raster_bodies(const vugi_allocator *mem, const vugi_bodies *bodies,
    const vugi_columns *c, struct vugi_columns_room *room)
{
    const double *pose = room->pose;
    const int32_t *fixed = room->fixed;
    const uint32_t *cell = room->cell;
    for (size_t m = 0; m < bodies->count; m++) {
        const vug_mesh *mesh = bodies->mesh[m];
        const uint32_t first = room->number[m];
        for (size_t t = 0; t < mesh->triangle_count; t += BLOCK) {
            uint16_t list[BLOCK];
            const size_t left = mesh->triangle_count - t;
            const uint32_t *v = mesh->triangles + 3 * t;
            const size_t near = list_near(v, left < BLOCK ? left : BLOCK, cell, list);
            for (size_t i = 0; i < near; i++)
                if (!raster_one(mem, pose, fixed, v + 3 * (size_t)list[i],
                        first + (uint32_t)t + list[i], c, &room->crossings))
                    return false;
        }
        pose += 3 * mesh->vertex_count;
        fixed += 2 * mesh->vertex_count;
        cell += mesh->vertex_count;
    }
    return true;
}

static bool line_in(const bar *b, double x, double y, double *lo, double *hi)
{
    return vugi_line_in_bar(x, y, b->from, b->axis, b->length, b->radius, lo, hi)
        && (!b->cut
            || (vugi_line_behind(x, y, b->at_rim, b->rim, lo, hi)
                && vugi_line_behind(x, y, b->at_end, b->end, lo, hi)));
}

/* The stretches of columns that planned bores open, by column. */
static bool bore_pieces(const vugi_allocator *mem, const vugi_bodies *bodies, const vugi_columns *c,
    struct vugi_columns_room *room)
{
    room->piece_count = 0;
    for (size_t n = 0; n < bodies->bore_count; n++) {
        const bar b = bar_of(bodies->bore + n, c->basis);
        double xa = fmin(b.from[0], b.from[0] + b.length * b.axis[0]) - b.radius;
        double xb = fmax(b.from[0], b.from[0] + b.length * b.axis[0]) + b.radius;
        double ya = fmin(b.from[1], b.from[1] + b.length * b.axis[1]) - b.radius;
        double yb = fmax(b.from[1], b.from[1] + b.length * b.axis[1]) + b.radius;
        int32_t i0 = (int32_t)fmax(0.0, ceil((xa - c->x0) / c->h));
        int32_t i1 = (int32_t)fmin(c->nx - 1.0, floor((xb - c->x0) / c->h));
        int32_t j0 = (int32_t)fmax(0.0, ceil((ya - c->y0) / c->h));
        int32_t j1 = (int32_t)fmin(c->ny - 1.0, floor((yb - c->y0) / c->h));
        for (int32_t j = j0; j <= j1; j++) {
            for (int32_t i = i0; i <= i1; i++) {
                bore_piece piece = {.column = (uint32_t)j * (uint32_t)c->nx + (uint32_t)i,
                    .body = bodies->bore[n].body};
                if (!line_in(&b, c->x0 + i * c->h, c->y0 + j * c->h, &piece.lo, &piece.hi))
                    continue;
                if (!vugi_reserve(mem, &room->piece, &room->piece_capacity, room->piece_count + 1,
                        sizeof *room->piece))
                    return false;
                /* Insertion keeps them by column; bores are few and small. */
                size_t at = room->piece_count++;
                for (; at > 0 && room->piece[at - 1].column > piece.column; at--)
                    room->piece[at] = room->piece[at - 1];
                room->piece[at] = piece;
            }
        }
    }
    return true;
}

/* Counting sort by column: end[c] becomes the end of what is of column c. */
static void sort_crossings(const vugi_crossings *in, size_t columns, uint32_t *end,
    vugi_crossing *sorted)
{
    memset(end, 0, (columns + 1) * sizeof *end);
    for (size_t i = 0; i < in->count; i++)
        end[in->list[i].column + 1]++;
    for (size_t c = 0; c < columns; c++)
        end[c + 1] += end[c];
    for (size_t i = 0; i < in->count; i++)
        sorted[end[in->list[i].column]++] = in->list[i];
}

/* Those of one column by height. At equal heights entering goes first, so that faces that touch do not part the
 * space. */
static void put_in_height(vugi_crossing *x, size_t count)
{
    for (size_t i = 1; i < count; i++) {
        const vugi_crossing moving = x[i];
        size_t at = i;
        for (; at > 0
             && (x[at - 1].z > moving.z
                 || (x[at - 1].z == moving.z && (moving.code & 1) && !(x[at - 1].code & 1)));
             at--)
            x[at] = x[at - 1];
        x[at] = moving;
    }
}

static void push_span(vugi_columns *c, const vugi_crossing *lo, const vugi_crossing *hi)
{
    assert(hi->z > lo->z);
    assert(c->count < c->room->span_capacity && c->count < c->room->hi_capacity);
    c->lo[c->count] = lo->z;
    c->hi[c->count] = hi->z;
    c->floor[c->count] = lo->code >> 1;
    c->ceiling[c->count] = hi->code >> 1;
    c->body[c->count++] = body_of(c->room, lo->code >> 1);
}

void vugi_columns_move_span(vugi_columns *c, size_t from, size_t to)
{
    c->lo[to] = c->lo[from];
    c->hi[to] = c->hi[from];
    c->body[to] = c->body[from];
    c->floor[to] = c->floor[from];
    c->ceiling[to] = c->ceiling[from];
}

/* A bore's stretch and the spans from `from` on that it meets become one. */
static void open_bore(vugi_columns *c, size_t from, bore_piece piece)
{
    assert(from <= c->count);
    assert(piece.lo <= piece.hi);
    size_t kept = from;
    uint32_t floor = VUGI_NO_TRIANGLE, ceiling = VUGI_NO_TRIANGLE;
    for (size_t s = from; s < c->count; s++) {
        if (c->body[s] != piece.body || c->lo[s] > piece.hi || piece.lo > c->hi[s]) {
            vugi_columns_move_span(c, s, kept++);
            continue;
        }
        floor = c->lo[s] < piece.lo ? c->floor[s] : floor;
        ceiling = c->hi[s] > piece.hi ? c->ceiling[s] : ceiling;
        piece.lo = fmin(piece.lo, c->lo[s]);
        piece.hi = fmax(piece.hi, c->hi[s]);
    }
    size_t at = kept;
    for (; at > from && c->lo[at - 1] > piece.lo; at--)
        vugi_columns_move_span(c, at - 1, at);
    c->lo[at] = piece.lo;
    c->hi[at] = piece.hi;
    c->floor[at] = floor;
    c->ceiling[at] = ceiling;
    c->body[at] = piece.body;
    c->count = kept + 1;
}

/* Cuts a column into spans by the winding number. */
static void cut_column(vugi_columns *c, const vugi_crossing *x, const vugi_crossing *end)
{
    int32_t winding = 0;
    const vugi_crossing *lo = NULL;
    for (; x < end; x++) {
        bool enter = x->code & 1;
        if (enter && winding == 0)
            lo = x;
        winding += enter ? 1 : -1;
        if (!enter && winding == 0 && x->z > lo->z)
            push_span(c, lo, x);
        if (winding < 0)
            winding = 0;
    }
}

/* c->first: ends of the crossings of each column, which make way for the spans. */
static void make_spans(vugi_columns *c, const struct vugi_columns_room *room)
{
    size_t columns = (size_t)c->nx * (size_t)c->ny, next_piece = 0;
    vugi_crossing *x = room->sorted;
    c->count = 0;
    for (size_t col = 0; col < columns; col++) {
        vugi_crossing *end = room->sorted + c->first[col];
        size_t from = c->count;
        c->first[col] = (uint32_t)from;
        if (end > x) {
            put_in_height(x, (size_t)(end - x));
            cut_column(c, x, end);
        }
        x = end;
        for (; next_piece < room->piece_count && room->piece[next_piece].column == col;
             next_piece++)
            open_bore(c, from, room->piece[next_piece]);
    }
    c->first[columns] = (uint32_t)c->count;
}

static bool reserve_output(const vugi_allocator *mem, vugi_columns *c, size_t columns, size_t spans)
{
    struct vugi_columns_room *room = c->room;
    return vugi_reserve(mem, &c->first, &room->first_capacity, columns + 1, sizeof *c->first)
        && vugi_reserve(mem, &c->lo, &room->span_capacity, spans, sizeof *c->lo)
        && vugi_reserve(mem, &c->hi, &room->hi_capacity, spans, sizeof *c->hi)
        && vugi_reserve(mem, &c->floor, &room->floor_capacity, spans, sizeof *c->floor)
        && vugi_reserve(mem, &c->ceiling, &room->ceiling_capacity, spans, sizeof *c->ceiling)
        && vugi_reserve(mem, &c->body, &room->body_capacity, spans, sizeof *c->body);
}

#ifndef NDEBUG
/* Each column's spans stand on one another, by their lower ends. */
static bool is_sound(const vugi_columns *c)
{
    size_t columns = (size_t)c->nx * (size_t)c->ny;
    for (size_t col = 0; col < columns; col++) {
        if (c->first[col] > c->first[col + 1])
            return false;
        for (size_t s = c->first[col]; s < c->first[col + 1]; s++)
            if (!(c->lo[s] <= c->hi[s]) || (s > c->first[col] && c->lo[s] < c->lo[s - 1]))
                return false;
    }
    return c->first[0] == 0 && c->first[columns] == c->count;
}
#endif

static bool reserve_room(const vugi_allocator *mem, vugi_columns *c)
{
    return c->room || (c->room = vugi_calloc(mem, 1, sizeof *c->room));
}

/* The spans between the crossings that are there. */
static vug_status end_crossings(vug_context *ctx, const vugi_allocator *mem, vugi_columns *c)
{
    struct vugi_columns_room *room = c->room;
    size_t columns = (size_t)c->nx * (size_t)c->ny;
    if (room->crossings.count > UINT32_MAX / 2)
        return vugi_fail(ctx, VUG_ERR_LIMIT,
            "%zu surface crossings in one pose, more than 2^31; use a coarser spacing",
            room->crossings.count);
    if (!vugi_reserve(mem, &room->sorted, &room->sorted_capacity, room->crossings.count,
            sizeof *room->sorted)
        || !reserve_output(mem, c, columns, room->crossings.count / 2 + room->piece_count + 1))
        return vugi_fail_memory(ctx);
    sort_crossings(&room->crossings, columns, c->first, room->sorted);
    make_spans(c, room);
    assert(is_sound(c));
    return VUG_OK;
}

/* The spans on a grid that is laid, from vertices that are turned. */
static vug_status raster(vug_context *ctx, const vugi_allocator *mem, const vugi_bodies *bodies,
    vugi_columns *c)
{
    struct vugi_columns_room *room = c->room;
    size_t vertices = 0;
    for (size_t m = 0; m < bodies->count; m++)
        vertices += bodies->mesh[m]->vertex_count;
    to_fixed(c, room, vertices);
    room->crossings.count = 0;
    if (!number_triangles(mem, bodies, room) || !raster_bodies(mem, bodies, c, room)
        || !bore_pieces(mem, bodies, c, room))
        return vugi_fail_memory(ctx);
    return end_crossings(ctx, mem, c);
}

vug_status vugi_columns_build(vug_context *ctx, const vugi_allocator *mem,
    const vugi_bodies *bodies, const double up[3], double h, vugi_columns *c)
{
    bounds box;
    vugi_basis(up, c->basis);
    if (!reserve_room(mem, c) || !turn(mem, bodies, c->basis, c->room, &box))
        return vugi_fail_memory(ctx);
    vug_status status = lay_grid(ctx, &box, h, c);
    return status ? status : raster(ctx, mem, bodies, c);
}

static void take_lattice(vugi_columns *c, const vugi_column_grid *at)
{
    memcpy(c->basis, at->basis, sizeof c->basis);
    c->h = at->h;
    c->nx = at->nx;
    c->ny = at->ny;
    c->x0 = at->x0;
    c->y0 = at->y0;
}

vug_status vugi_columns_build_on(vug_context *ctx, const vugi_allocator *mem,
    const vugi_bodies *bodies, const vugi_column_grid *at, vugi_columns *c)
{
    bounds box;
    take_lattice(c, at);
    if (!reserve_room(mem, c) || !turn(mem, bodies, c->basis, c->room, &box))
        return vugi_fail_memory(ctx);
    c->zlo = box.lo[2];
    c->zhi = box.hi[2];
    return raster(ctx, mem, bodies, c);
}

/* ---- finer columns over a small square ------------------------------------------------ */

/* The ball around the box of the corners of a heap of triangles. */
static void bound_heap(const vug_mesh *mesh, vugi_heap_of_triangles *h)
{
    const uint32_t *corner = mesh->triangles + 3 * h->first;
    double half[3];
    for (int k = 0; k < 3; k++) {
        double lo = DBL_MAX, hi = -DBL_MAX;
        for (size_t i = 0; i < 3 * h->count; i++) {
            double x = mesh->xyz[3 * (size_t)corner[i] + (size_t)k];
            lo = vugi_lesser(x, lo);
            hi = vugi_greater(x, hi);
        }
        h->center[k] = 0.5 * (lo + hi);
        half[k] = 0.5 * (hi - lo);
    }
    h->radius = vugi_length(half);
}

/* Triangles that follow each other in a mesh mostly lie close together. */
static bool heap_up(const vugi_allocator *mem, const vugi_bodies *bodies, vugi_near *near)
{
    enum { HEAP = 64 };
    uint32_t from = 0, number = 0;
    if (near->of == bodies->mesh && near->heap_count > 0)
        return true;
    near->of = bodies->mesh;
    near->heap_count = 0;
    for (size_t m = 0; m < bodies->count; m++) {
        const vug_mesh *mesh = bodies->mesh[m];
        size_t more = (mesh->triangle_count + HEAP - 1) / HEAP;
        if (!vugi_reserve(mem, &near->heap, &near->heap_capacity, near->heap_count + more,
                sizeof *near->heap))
            return false;
        for (size_t t = 0; t < mesh->triangle_count; t += HEAP) {
            size_t left = mesh->triangle_count - t;
            vugi_heap_of_triangles *h = near->heap + near->heap_count++;
            *h = (vugi_heap_of_triangles){.first = t,
                .count = left < HEAP ? left : HEAP,
                .from = from,
                .number = number,
                .body = (int32_t)m};
            bound_heap(mesh, h);
        }
        from += (uint32_t)mesh->vertex_count;
        number += (uint32_t)mesh->triangle_count;
    }
    return true;
}

/* Do the corners of a triangle lie all on one side of a square about a place? */
static bool passes_by(const struct vugi_columns_room *room, const uint32_t v[3], const double at[2],
    double reach)
{
    double sign = room->reflected ? -1.0 : 1.0;
    for (int k = 0; k < 2; k++) {
        double a = sign * room->pose[3 * (size_t)v[0] + (size_t)k] - at[k],
               b = sign * room->pose[3 * (size_t)v[1] + (size_t)k] - at[k],
               c = sign * room->pose[3 * (size_t)v[2] + (size_t)k] - at[k];
        if ((a > reach && b > reach && c > reach) || (a < -reach && b < -reach && c < -reach))
            return true;
    }
    return false;
}

bool vugi_columns_near(const vugi_allocator *mem, const vugi_bodies *bodies, const vugi_columns *c,
    uint32_t column, double reach, vugi_near *near)
{
    const double at[2] = {c->x0 + (double)(column % (uint32_t)c->nx) * c->h,
        c->y0 + (double)(column / (uint32_t)c->nx) * c->h};
    double far = reach * c->h;
    near->count = 0;
    if (!heap_up(mem, bodies, near))
        return false;
    for (size_t i = 0; i < near->heap_count; i++) {
        const vugi_heap_of_triangles *h = near->heap + i;
        double x = vugi_dot(h->center, c->basis) - at[0],
               y = vugi_dot(h->center, c->basis + 3) - at[1];
        if (fabs(x) > far + h->radius || fabs(y) > far + h->radius)
            continue;
        if (!vugi_reserve(mem, &near->triangle, &near->capacity, near->count + h->count,
                sizeof *near->triangle))
            return false;
        const uint32_t *v = bodies->mesh[h->body]->triangles + 3 * h->first;
        for (size_t t = 0; t < h->count; t++, v += 3) {
            const uint32_t corner[3] = {h->from + v[0], h->from + v[1], h->from + v[2]};
            if (!passes_by(c->room, corner, at, far))
                near->triangle[near->count++] = (vugi_near_triangle){{corner[0], corner[1],
                                                                         corner[2]},
                    h->number + (uint32_t)(h->first + t)};
        }
    }
    return true;
}

/* Turned corners of a triangle in the frame and fixed point of c; reflected: the other way round. */
static bool raster_near(const vugi_allocator *mem, const struct vugi_columns_room *turned,
    const vugi_near_triangle *t, vugi_columns *c)
{
    const double scale = (double)(1 << VUGI_SUBCELL_BITS) / c->h, sign = turned->reflected ? -1 : 1;
    const double left = c->x0 - 0.5 * c->h, front = c->y0 - 0.5 * c->h;
    int32_t x[3], y[3];
    double z[3];
    for (int k = 0; k < 3; k++) {
        const double *p = turned->pose + 3 * (size_t)t->v[turned->reflected ? 2 - k : k];
        x[k] = nearest((sign * p[0] - left) * scale);
        y[k] = nearest((sign * p[1] - front) * scale);
        z[k] = sign * p[2];
    }
    return vugi_raster_triangle(mem, x, y, z, t->number, c->nx, c->ny, &c->room->crossings);
}

vug_status vugi_columns_zoom(const vugi_allocator *mem, const vugi_bodies *bodies,
    const vugi_columns *turned, const vugi_near *near, const vugi_column_grid *at, vugi_columns *c)
{
    if (!reserve_room(mem, c))
        return VUG_ERR_MEMORY;
    take_lattice(c, at);
    c->zlo = turned->zlo;
    c->zhi = turned->zhi;
    c->room->crossings.count = 0;
    bool ok = number_triangles(mem, bodies, c->room);
    for (size_t t = 0; ok && t < near->count; t++)
        ok = raster_near(mem, turned->room, near->triangle + t, c);
    if (!ok || !bore_pieces(mem, bodies, c, c->room))
        return VUG_ERR_MEMORY;
    return end_crossings(NULL, mem, c);
}

void vugi_columns_free(const vugi_allocator *mem, vugi_columns *c)
{
    if (c->room) {
        vugi_free(mem, c->room->pose);
        vugi_free(mem, c->room->fixed);
        vugi_free(mem, c->room->cell);
        vugi_free(mem, c->room->crossings.list);
        vugi_free(mem, c->room->sorted);
        vugi_free(mem, c->room->piece);
        vugi_free(mem, c->room->number);
        vugi_free(mem, c->room);
    }
    vugi_free(mem, c->first);
    vugi_free(mem, c->lo);
    vugi_free(mem, c->hi);
    vugi_free(mem, c->body);
    vugi_free(mem, c->floor);
    vugi_free(mem, c->ceiling);
    vugi_free(mem, c->side);
    *c = (vugi_columns){.nx = 0};
}

static void reverse_ends(vugi_columns *c)
{
    for (size_t i = 0, k = c->count; i < k--; i++) {
        double lo = c->lo[i], hi = c->hi[i];
        uint32_t floor = c->floor[i], ceiling = c->ceiling[i];
        int32_t body = c->body[i];
        c->lo[i] = -c->hi[k];
        c->hi[i] = -c->lo[k];
        c->floor[i] = c->ceiling[k];
        c->ceiling[i] = c->floor[k];
        c->body[i] = c->body[k];
        c->lo[k] = -hi;
        c->hi[k] = -lo;
        c->floor[k] = ceiling;
        c->ceiling[k] = floor;
        c->body[k] = body;
    }
}

/* Column (i, j) becomes (nx - 1 - i, ny - 1 - j), and the spans of each go the other way: all lists run
 * backwards. */
void vugi_columns_reflect(vugi_columns *c)
{
    size_t columns = (size_t)c->nx * (size_t)c->ny;
    double zlo = c->zlo;
    c->room->reflected = !c->room->reflected;
    for (size_t i = 0, k = columns; i <= k; i++, k--) {
        uint32_t first = c->first[i];
        c->first[i] = (uint32_t)c->count - c->first[k];
        if (i < k)
            c->first[k] = (uint32_t)c->count - first;
    }
    reverse_ends(c);
    for (int k = 0; k < 9; k++)
        c->basis[k] = -c->basis[k];
    c->x0 = -(c->x0 + (c->nx - 1) * c->h);
    c->y0 = -(c->y0 + (c->ny - 1) * c->h);
    c->zlo = -c->zhi;
    c->zhi = -zlo;
}

void vugi_columns_of_spans(const vugi_columns *c, uint32_t *of)
{
    size_t columns = (size_t)c->nx * (size_t)c->ny;
    for (size_t col = 0; col < columns; col++)
        for (size_t s = c->first[col]; s < c->first[col + 1]; s++)
            of[s] = (uint32_t)col;
}

double vugi_columns_volume(const vugi_columns *c)
{
    double length = 0.0;
    for (size_t s = 0; s < c->count; s++)
        length += c->hi[s] - c->lo[s];
    return length * c->h * c->h;
}

double vugi_volume_scale(double true_volume, double by_columns)
{
    return fabs(true_volume - by_columns) <= 0.1 * by_columns && by_columns > 0.0
        ? true_volume / by_columns
        : 1.0;
}

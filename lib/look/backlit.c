/* SPDX-License-Identifier: MIT
 * The part against the light: columns along the line of sight, one for each pixel. */
#include "look/shade.h"
#include "look/wet.h"

#include "base/vec.h"
#include "cavity/set.h"
#include "column/columns.h"
#include "column/pose.h"
#include "flow/numbers.h"
#include "pose/pose.h"

#include <math.h>
#include <string.h>

enum {
    BAND = 128
}; /* rows of pixels that are made at once; the bytes do not depend on who makes them */

static const vug_backlit defaults = {.struct_size = sizeof defaults,
    .toward = {0.0, -1.0, 0.0},
    .up = {0.0, 0.0, 1.0},
    .resin_per_mm = {0.10, 0.12, 0.18},
    .liquid_per_mm = {20.0, 20.0, 20.0},
    .background = {1.0, 1.0, 1.0}};

vug_status vug_backlit_init(vug_backlit *options, size_t size)
{
    return vugi_struct_init(options, size, &defaults, sizeof defaults);
}

typedef struct picture {
    const vug_mesh *part;
    const vug_cavities *cavities; /* NULL: none to look at */
    const vugi_wet *wet;          /* NULL: no moment */
    bool filled;
    vugi_column_grid lattice; /* of the whole picture, its first row at the bottom */
    double turn[9];           /* from the frame of the picture to the pose of the moment */
    vugi_shade shade;
    unsigned char *rgba;
    size_t stride;
} picture;

/* ---- what the caller asks for ------------------------------------------------- */

static vug_status read_colours(vug_context *ctx, const vug_backlit *o)
{
    static const char *const name[3][3] = {{"resin_per_mm[0]", "resin_per_mm[1]",
                                               "resin_per_mm[2]"},
        {"liquid_per_mm[0]", "liquid_per_mm[1]", "liquid_per_mm[2]"},
        {"background[0]", "background[1]", "background[2]"}};
    vugi_limit limit[9];
    for (int k = 0; k < 3; k++) {
        limit[k] = (vugi_limit){name[0][k], o->resin_per_mm[k], 0.0, 1e4};
        limit[3 + k] = (vugi_limit){name[1][k], o->liquid_per_mm[k], 0.0, 1e4};
        limit[6 + k] = (vugi_limit){name[2][k], o->background[k], 0.0, 1.0};
    }
    return vugi_check(ctx, "vug_backlit_render", limit, 9);
}

static vug_status read_options(vug_context *ctx, const vug_backlit *given, vug_backlit *o)
{
    *o = defaults;
    vug_status status = vugi_struct_read(ctx, o, sizeof *o, given, "vug_backlit");
    if (!status && ((o->filled != 0 && o->filled != 1) || (o->linear != 0 && o->linear != 1)))
        status = vugi_fail(ctx, VUG_ERR_ARGUMENT, "filled is %d and linear %d: each is 0 or 1",
            (int)o->filled, (int)o->linear);
    if (!status && !(o->scale_mm >= 0.0 && isfinite(o->scale_mm)))
        status = vugi_fail(ctx, VUG_ERR_ARGUMENT, "scale_mm is %g, it must be 0 or more",
            o->scale_mm);
    return status ? status : read_colours(ctx, o);
}

/* Rows of the basis: to the viewer's right, up in the picture, towards the viewer. */
static vug_status read_view(vug_context *ctx, const vug_backlit *o, double basis[9])
{
    double up[3], *right = basis, *top = basis + 3, *toward = basis + 6;
    vug_status status = vugi_unit(ctx, "toward", o->toward, toward);
    if (!status)
        status = vugi_unit(ctx, "up", o->up, up);
    if (status)
        return status;
    vugi_cross(up, toward, right);
    if (!(vugi_normalise(right) > 1e-6))
        return vugi_fail(ctx, VUG_ERR_ARGUMENT,
            "up and toward run along the same line: which way is up in the picture?");
    vugi_cross(toward, right, top);
    return VUG_OK;
}

static void widen(const double basis[9], const vug_mesh *mesh, double lo[2], double hi[2])
{
    for (size_t v = 0; v < mesh->vertex_count; v++) {
        for (int k = 0; k < 2; k++) {
            double x = vugi_dot(basis + 3 * k, mesh->xyz + 3 * v);
            lo[k] = x < lo[k] ? x : lo[k];
            hi[k] = x > hi[k] ? x : hi[k];
        }
    }
}

/* The middle of the part's outline in the middle of the picture; unless a scale is given it fits with a
 * twentieth of the picture around it. */
static vug_status lay(vug_context *ctx, picture *p, double scale_mm, uint32_t width,
    uint32_t height)
{
    double lo[2] = {INFINITY, INFINITY}, hi[2] = {-INFINITY, -INFINITY};
    const vugi_column_grid *l = &p->lattice;
    widen(l->basis, p->part, lo, hi);
    double x = 0.5 * (lo[0] + hi[0]), y = 0.5 * (lo[1] + hi[1]);
    double fit = fmax((hi[0] - lo[0]) / width, (hi[1] - lo[1]) / height) / 0.9;
    double h = scale_mm > 0.0 ? scale_mm : fit;
    for (size_t i = 0; p->cavities && i < p->cavities->cavity_count; i++)
        widen(l->basis, p->cavities->cavity[i].mesh, lo, hi);
    double across = fmax(fmax(hi[0] - x, x - lo[0]), fmax(hi[1] - y, y - lo[1])) / h;
    if (!(h > 0.0) || !(across + 0.5 * fmax(width, height) < VUG_MAX_COLUMNS_ACROSS))
        return vugi_fail(ctx, VUG_ERR_LIMIT,
            "at %g mm a pixel the part, or a cavity, reaches %.0f pixels from the middle, too many "
            "for "
            "columns; raise scale_mm",
            h, across);
    p->lattice.h = h;
    p->lattice.nx = (int32_t)width;
    p->lattice.ny = (int32_t)height;
    p->lattice.x0 = x - 0.5 * (width - 1.0) * h;
    p->lattice.y0 = y - 0.5 * (height - 1.0) * h;
    return VUG_OK;
}

/* ---- a band of rows ------------------------------------------------------------- */

typedef struct band_room {
    vugi_columns resin, inside;
} band_room;

/* The line of a pixel in the pose of the moment; t is the height in the frame of the picture. */
static vugi_ray ray_of(const picture *p, double x, double y)
{
    const double at[3] = {x, y, 0.0};
    vugi_ray ray;
    vugi_to_pose(p->turn, at, ray.start);
    for (int k = 0; k < 3; k++)
        ray.direction[k] = p->turn[3 * k + 2];
    return ray;
}

static double in_liquid(const picture *p, const vugi_ray *ray, const vugi_columns *c, size_t s)
{
    if (!p->wet || c->body[s] != p->wet->body)
        return p->filled ? c->hi[s] - c->lo[s] : 0.0;
    return vugi_wet_length(p->wet, ray, c->lo[s], c->hi[s]);
}

/* What of a stretch lies in resin: a bore that is planned only is none. */
static double overlap(const vugi_columns *c, size_t column, double lo, double hi)
{
    double length = 0.0;
    for (size_t s = c->first[column]; s < c->first[column + 1]; s++) {
        double from = lo > c->lo[s] ? lo : c->lo[s], to = hi < c->hi[s] ? hi : c->hi[s];
        length += to > from ? to - from : 0.0;
    }
    return length;
}

static void make_row(const picture *p, const band_room *room, int32_t row, double y,
    unsigned char *rgba)
{
    const vugi_columns *resin = &room->resin, *inside = &room->inside;
    for (int32_t i = 0; i < p->lattice.nx; i++, rgba += 4) {
        size_t column = (size_t)row * (size_t)p->lattice.nx + (size_t)i;
        double solid = 0.0, liquid = 0.0;
        for (size_t s = resin->first[column]; s < resin->first[column + 1]; s++)
            solid += resin->hi[s] - resin->lo[s];
        if (p->cavities && inside->first[column] < inside->first[column + 1]) {
            vugi_ray ray = ray_of(p, p->lattice.x0 + i * p->lattice.h, y);
            for (size_t s = inside->first[column]; s < inside->first[column + 1]; s++) {
                liquid += in_liquid(p, &ray, inside, s);
                solid -= overlap(resin, column, inside->lo[s], inside->hi[s]);
            }
        }
        vugi_shade_pixel(&p->shade, solid, liquid, rgba);
    }
}

/* Rows of the columns go up, rows of the picture down. */
static vug_status make_band(const vugi_allocator *mem, const picture *p, int32_t first,
    band_room *room)
{
    vugi_column_grid lattice = p->lattice;
    lattice.y0 += first * lattice.h;
    lattice.ny = lattice.ny - first < BAND ? lattice.ny - first : BAND;
    const vugi_bodies part = {.mesh = &p->part, .count = 1};
    vug_status status = vugi_columns_build_on(NULL, mem, &part, &lattice, &room->resin);
    if (!status && p->cavities) {
        vugi_bodies bodies = vugi_cavities_bodies(p->cavities);
        status = vugi_columns_build_on(NULL, mem, &bodies, &lattice, &room->inside);
    }
    for (int32_t row = 0; row < lattice.ny && !status; row++)
        make_row(p, room, row, lattice.y0 + row * lattice.h,
            p->rgba + (size_t)(p->lattice.ny - 1 - first - row) * p->stride);
    return status;
}

static vug_status make_all(vug_context *ctx, const picture *p)
{
    int32_t bands = (p->lattice.ny + BAND - 1) / BAND;
    atomic_int failed = VUG_OK, done = 0;
    int threads = vugi_threads(ctx, (size_t)bands);
    (void)threads;
#pragma omp parallel num_threads(threads)
    {
        band_room room = {.resin = {.nx = 0}};
#pragma omp for schedule(dynamic, 1)
        for (int32_t b = 0; b < bands; b++) {
            if (atomic_load(&failed) || vugi_pulse(ctx, (double)atomic_load(&done) / bands))
                continue;
            vug_status status = make_band(&ctx->mem, p, b * BAND, &room);
            if (status)
                atomic_store(&failed, (int)status);
            atomic_fetch_add(&done, 1);
        }
        vugi_columns_free(&ctx->mem, &room.resin);
        vugi_columns_free(&ctx->mem, &room.inside);
    }
    vug_status status = (vug_status)atomic_load(&failed);
    if (status == VUG_ERR_MEMORY)
        return vugi_fail_memory(ctx);
    if (status)
        return vugi_fail(ctx, status, "%s: take a smaller picture", vug_status_string(status));
    return vugi_step(ctx, 1.0);
}

/* ---- how much memory that takes ------------------------------------------------- */

enum { MOST_BANDS = VUG_MAX_COLUMNS_ACROSS / 2 / BAND + 1 };

/* Bytes of columns for each corner of their meshes, each column and each crossing: what room they have. Room for
 * crossings grows by half at a time, from band to band: 46 to 69 bytes. */
static const double PER_CORNER = 36.0, PER_COLUMN = 8.0, PER_CROSSING = 56.0;

/* The share of the stretch lo..hi between two places. */
static double share(double lo, double hi, double from, double to)
{
    if (!(hi > lo))
        return lo >= from && lo < to ? 1.0 : 0.0;
    return fmax(0.0, fmin(hi, to) - fmax(lo, from)) / (hi - lo);
}

/* Adds what the shadow of each triangle covers in each band, as if it were spread evenly over its box. */
static void add_crossings(const picture *p, const vug_mesh *mesh, double *band)
{
    const vugi_column_grid *l = &p->lattice;
    const double start[2] = {l->x0, l->y0};
    for (size_t t = 0; t < mesh->triangle_count; t++) {
        const uint32_t *v = mesh->triangles + 3 * t;
        double lo[2] = {INFINITY, INFINITY}, hi[2] = {-INFINITY, -INFINITY}, at[3][3];
        for (int i = 0; i < 3; i++) {
            vugi_to_pose(l->basis, mesh->xyz + 3 * (size_t)v[i], at[i]);
            for (int k = 0; k < 2; k++) {
                lo[k] = fmin(lo[k], (at[i][k] - start[k]) / l->h + 0.5);
                hi[k] = fmax(hi[k], (at[i][k] - start[k]) / l->h + 0.5);
            }
        }
        double cross[3];
        vugi_triangle_cross(at[0], at[1], at[2], cross);
        double covered = 0.5 * fabs(cross[2]) / (l->h * l->h) * share(lo[0], hi[0], 0.0, l->nx);
        for (int32_t b = (int32_t)fmax(0.0, floor(lo[1] / BAND));
             b * BAND <= fmin(hi[1], l->ny - 1.0); b++)
            band[b] += covered * share(lo[1], hi[1], b * BAND, fmin((b + 1.0) * BAND, l->ny));
    }
}

/* Of columns that each of some threads has: none has more than one of the fullest bands. */
static double columns_bytes(const picture *p, const vug_mesh *const *mesh, size_t count,
    int threads)
{
    double band[MOST_BANDS] = {0.0}, bytes = 0.0, corners = 0.0;
    for (size_t i = 0; i < count; i++) {
        add_crossings(p, mesh[i], band);
        corners += (double)mesh[i]->vertex_count;
    }
    double rows = p->lattice.ny < BAND ? p->lattice.ny : BAND;
    for (int i = 0; i < threads; i++) {
        int fullest = 0;
        for (int b = 1; b < MOST_BANDS; b++)
            fullest = band[b] > band[fullest] ? b : fullest;
        bytes += PER_CORNER * corners + PER_COLUMN * rows * p->lattice.nx
            + PER_CROSSING * band[fullest];
        band[fullest] = 0.0;
    }
    return bytes;
}

static vug_status expect_memory(vug_context *ctx, const picture *p)
{
    if (!vugi_memory_limited(ctx))
        return VUG_OK;
    int threads = vugi_threads(ctx, (size_t)((p->lattice.ny + BAND - 1) / BAND));
    double bytes = columns_bytes(p, &p->part, 1, threads);
    if (p->cavities) {
        vugi_bodies inside = vugi_cavities_bodies(p->cavities);
        bytes += columns_bytes(p, inside.mesh, inside.count, threads);
    }
    return vugi_expect_memory(ctx, bytes, "a picture of this part with so many pixels");
}

/* ---- the call ------------------------------------------------------------------- */

static vug_status check(vug_context *ctx, const vug_mesh *mesh, const vug_cavities *cavities,
    const vug_moment *moment, uint32_t width, uint32_t height, const void *rgba, size_t stride)
{
    if (!mesh || !rgba)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "mesh or rgba is NULL");
    if (moment && !cavities)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "a moment needs the cavities that it is of");
    if (moment && (size_t)moment->scene->graph.sweep.body >= cavities->cavity_count)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT,
            "the moment is of cavity %d, and there are %zu: it is of other cavities",
            (int)moment->scene->graph.sweep.body, cavities->cavity_count);
    if (width == 0 || height == 0 || width > VUG_MAX_COLUMNS_ACROSS / 2
        || height > VUG_MAX_COLUMNS_ACROSS / 2)
        return vugi_fail(ctx, VUG_ERR_LIMIT, "%u x %u pixels: each side may have 1 to %d",
            (unsigned)width, (unsigned)height, VUG_MAX_COLUMNS_ACROSS / 2);
    if (stride < 4 * (size_t)width)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "stride is %zu, a row of %u pixels has %zu bytes",
            stride, (unsigned)width, 4 * (size_t)width);
    if (mesh->triangle_count == 0)
        return vugi_fail(ctx, VUG_ERR_MESH, "the mesh has no triangles: there is nothing to see");
    return VUG_OK;
}

/* turn = basis of the moment times the transpose of the picture's. */
static void turn_between(const double pose[9], const double view[9], double turn[9])
{
    for (int r = 0; r < 3; r++)
        for (int k = 0; k < 3; k++)
            turn[3 * r + k] = vugi_dot(pose + 3 * r, view + 3 * k);
}

vug_status vug_backlit_render(vug_context *ctx, const vug_mesh *mesh, const vug_cavities *cavities,
    const vug_moment *moment, const vug_backlit *options, uint32_t width, uint32_t height,
    uint8_t *rgba, size_t stride)
{
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    vug_backlit o;
    picture p = {.part = mesh, .rgba = rgba, .stride = stride ? stride : 4 * (size_t)width};
    vugi_wet wet = {.top = NULL};
    vugi_progress_begin(ctx, "backlit");
    vug_status status = check(ctx, mesh, cavities, moment, width, height, rgba, p.stride);
    if (!status)
        status = read_options(ctx, options, &o);
    if (!status)
        status = read_view(ctx, &o, p.lattice.basis);
    if (status)
        return status;
    p.filled = o.filled;
    bool seen = cavities && cavities->cavity_count > 0
        && (moment || o.filled || cavities->bore_count > 0);
    p.cavities = seen ? cavities : NULL; /* empty cavities show by the resin around them alone */
    vugi_shade_make(&o, &p.shade);
    status = lay(ctx, &p, o.scale_mm, width, height);
    if (!status)
        status = expect_memory(ctx, &p);
    if (!status && moment && seen) {
        status = vugi_wet_make(ctx, moment, &wet);
        if (!status) {
            p.wet = &wet;
            turn_between(wet.columns->basis, p.lattice.basis, p.turn);
        }
    }
    if (!status)
        status = make_all(ctx, &p);
    vugi_wet_free(&ctx->mem, &wet);
    return status;
}

/* SPDX-License-Identifier: MIT
 * Hollowing against bodies whose inner parallel body is known by formula; what stays as it was; faults, memory,
 * cancelling, threads. */
#include "base/base.h"
#include "base/context_types.h"

#include "config.h"

#include "../failing.h"
#include "../shapes.h"
#include "../test.h"

static const double PI = 3.14159265358979323846;

enum { AROUND = 128, ARC = 64 };

static vug_hollow_options options_of(double wall, int32_t cells)
{
    vug_hollow_options o;
    ck_assert_int_eq(vug_hollow_options_init(&o, sizeof o), VUG_OK);
    o.wall_mm = wall;
    o.cells = cells;
    return o;
}

/* Hollows a mesh that is kept; what came out has to be sound, and the outer surface as it was. */
static vug_hollow_info hollow(vug_context *ctx, const vug_mesh *mesh, const vug_hollow_options *o,
    vug_mesh **out)
{
    vug_hollow_info info = {.struct_size = sizeof info};
    vug_mesh_measures before = {.struct_size = sizeof before}, m = {.struct_size = sizeof m};
    vug_mesh *made = NULL;
    ck_ok(ctx, vug_shape_hollow(ctx, mesh, o, &made, &info, NULL, NULL));
    ck_ok(ctx, vug_mesh_measure(ctx, mesh, &before));
    ck_ok(ctx, vug_mesh_measure(ctx, made, &m));
    ck_assert_int_eq(m.closed, 1);
    ck_assert_uint_eq(m.edges_open + m.edges_nonmanifold + m.edges_flipped + m.degenerate, 0);
    ck_near(before.volume_mm3 - m.volume_mm3, info.volume_mm3, 1e-9);
    ck_near(m.area_mm2 - before.area_mm2, info.area_mm2, 1e-9);
    ck_assert_mem_eq(vug_mesh_vertices(made), vug_mesh_vertices(mesh),
        vug_mesh_vertex_count(mesh) * 3 * sizeof(double));
    ck_assert_mem_eq(vug_mesh_triangles(made), vug_mesh_triangles(mesh),
        vug_mesh_triangle_count(mesh) * 3 * sizeof(uint32_t));
    ck_assert(info.least_wall_mm >= o->wall_mm - 0.1 * info.step_mm);
    ck_assert(info.least_wall_mm <= o->wall_mm + 1e-9);
    if (out)
        *out = made;
    else
        vug_mesh_free(made);
    return info;
}

static vug_mesh *box(vug_context *ctx, double a, double b, double c)
{
    shape s = {0};
    shape_box(&s, (double[3]){0, 0, 0}, (double[3]){a, b, c}, 0);
    return shape_mesh(ctx, &s);
}

/* The inner parallel body of a box is a box; a surface net cuts its edges off within two steps, never more. */
START_TEST(a_box)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = box(ctx, 40, 30, 20);
    for (int32_t cells = 40; cells <= 60; cells += 20) {
        vug_hollow_options o = options_of(2, cells);
        vug_hollow_info info = hollow(ctx, mesh, &o, NULL);
        double exact = 36.0 * 26 * 16, edges = 4.0 * (36 + 26 + 16), h = info.step_mm;
        ck_close(h, 40.0 / cells, 1e-12);
        ck_assert_msg(info.volume_mm3 <= exact * (1 + 1e-6)
                && info.volume_mm3 >= exact - 0.5 * h * h * edges,
            "%g of %g", info.volume_mm3, exact);
        ck_near(info.area_mm2, 2.0 * (36 * 26 + 26 * 16 + 16 * 36), 0.03);
        ck_assert_uint_eq(info.chambers, 1);
    }
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* The opened inner body is a smaller box with a ball added: Steiner's formula. */
START_TEST(a_box_with_round_edges)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = box(ctx, 40, 30, 20);
    vug_hollow_options o = options_of(2, 100);
    o.throat_mm = 6;
    vug_hollow_info info = hollow(ctx, mesh, &o, NULL);
    double a = 30, b = 20, c = 10, r = 3;
    ck_near(info.volume_mm3,
        a * b * c + 2 * (a * b + b * c + c * a) * r + PI * (a + b + c) * r * r
            + 4.0 / 3 * PI * r * r * r,
        0.01);
    ck_near(info.area_mm2, 2 * (a * b + b * c + c * a) + 2 * PI * (a + b + c) * r + 4 * PI * r * r,
        0.01);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* edges: their length; a net cuts each off, which takes no more area than a strip a step wide. */
static void expect(vug_context *ctx, shape *s, double wall, double volume, double area,
    double edges)
{
    vug_mesh *mesh = shape_mesh(ctx, s);
    vug_hollow_options o = options_of(wall, 80);
    vug_hollow_info info = hollow(ctx, mesh, &o, NULL);
    ck_near(info.volume_mm3, volume, 0.005);
    ck_close(info.area_mm2, area, 0.005 * area + edges * info.step_mm);
    vug_mesh_free(mesh);
}

/* Ball, capsule and torus: the radius less the wall (by hand). Facets take 0.1 % (128 around). */
START_TEST(round_bodies)
{
    vug_context *ctx = test_context();
    double profile[2 * (2 * ARC + 4)], R = 12, r = 10, in = 8;
    shape s = {0};
    size_t n = shape_arc(profile, 0, 0, 0, r, -90, 90, ARC);
    shape_revolve(&s, profile, n, AROUND, 0);
    expect(ctx, &s, 2, 4.0 / 3 * PI * in * in * in, 4 * PI * in * in, 0);

    n = shape_arc(profile, 0, 0, 0, r, -90, 0, ARC / 2);
    n = shape_arc(profile, n, 0, 15, r, 0, 90, ARC / 2);
    shape_revolve(&s, profile, n, AROUND, 0);
    expect(ctx, &s, 2, 4.0 / 3 * PI * in * in * in + PI * in * in * 15,
        4 * PI * in * in + 2 * PI * in * 15, 0);

    n = shape_arc(profile, 0, R, 0, 6, -180, 180, ARC);
    shape_revolve(&s, profile, n - 1, AROUND, 0);
    expect(ctx, &s, 1.5, 2 * PI * PI * R * 4.5 * 4.5, 4 * PI * PI * R * 4.5, 0);
    vug_context_free(ctx);
}
END_TEST

/* A cone's inner parallel body is a cone of the same angle: its tip lies wall / sin of half of it below the tip
 * (by hand). */
START_TEST(a_cone)
{
    vug_context *ctx = test_context();
    const double H = 40, R = 20, w = 2, slant = sqrt(H * H + R * R);
    const double profile[] = {0, 0, R, 0, 0, H};
    shape s = {0};
    shape_revolve(&s, profile, 3, AROUND, 0);
    double h = H - w - w * slant / R, r = R * h / H;
    expect(ctx, &s, w, PI * r * r * h / 3, PI * r * (r + r * slant / R), 2 * PI * r);
    vug_context_free(ctx);
}
END_TEST

/* Two rooms of 16 mm and a channel of 4 mm between them (behind the wall). */
static vug_mesh *dumbbell(vug_context *ctx)
{
    const double profile[] = {0, 0, 10, 0, 10, 20, 4, 20, 4, 30, 10, 30, 10, 50, 0, 50};
    shape s = {0};
    shape_revolve(&s, profile, 8, AROUND, 0);
    return shape_mesh(ctx, &s);
}

START_TEST(chambers_and_throats)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = dumbbell(ctx);
    vug_hollow_options o = options_of(2, 60);
    vug_hollow_info wide = hollow(ctx, mesh, &o, NULL);
    ck_assert_uint_eq(wide.chambers, 1);
    /* two rooms and the channel, by hand */
    ck_near(wide.volume_mm3, 2 * PI * 64 * 16 + PI * 4 * 14, 0.01);
    o.throat_mm = 3.5;
    ck_assert_uint_eq(hollow(ctx, mesh, &o, NULL).chambers, 1);
    o.throat_mm = 5;
    vug_hollow_info parted = hollow(ctx, mesh, &o, NULL);
    ck_assert_uint_eq(parted.chambers, 2);
    ck_assert(parted.volume_mm3 < 2 * PI * 64 * 16);
    vug_mesh_free(mesh);

    /* a room of 16 mm, and one of 4 mm apart from it: a wall's thickness of solid between */
    const double profile[] = {0, 0, 10, 0, 10, 20, 1.5, 20, 1.5, 24, 4, 24, 4, 32, 0, 32};
    shape s = {0};
    shape_revolve(&s, profile, 8, AROUND, 0);
    mesh = shape_mesh(ctx, &s);
    o = options_of(2, 60);
    ck_assert_uint_eq(hollow(ctx, mesh, &o, NULL).chambers, 2);
    o.chamber_mm = 4.5;
    vug_hollow_info one = hollow(ctx, mesh, &o, NULL);
    ck_assert_uint_eq(one.chambers, 1);
    ck_assert_uint_eq(one.too_small, 1);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* A base of 8 mm takes the floor of the inner box to z = 8, or, lying on its side, to x = 8 (by hand). */
START_TEST(a_base)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = box(ctx, 40, 30, 20);
    vug_hollow_options o = options_of(2, 60);
    o.base_mm = 8;
    ck_near(hollow(ctx, mesh, &o, NULL).volume_mm3, 36.0 * 26 * 10, 0.01);
    o.up[0] = 3;
    o.up[2] = 0;
    ck_near(hollow(ctx, mesh, &o, NULL).volume_mm3, 30.0 * 26 * 16, 0.01);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* A box with a stem as wide as `foot` from 20 on and as `tip` at its end, hollowed behind walls of 2 mm: the one spot that
 * stays solid. */
static void solid_stem(double foot, double tip, double end, double row[5])
{
    vug_context *ctx = test_context();
    const double profile[] = {0, 0, 12, 0, 12, 20, 0.5 * foot, 20, 0.5 * tip, end, 0, end};
    shape s = {0};
    shape_revolve(&s, profile, 6, AROUND, 0);
    vug_mesh *mesh = shape_mesh(ctx, &s), *out = NULL;
    vug_hollow_options o = options_of(2, 120);
    double *rows = NULL;
    size_t count = 0;
    ck_ok(ctx, vug_shape_hollow(ctx, mesh, &o, &out, NULL, &rows, &count));
    ck_assert_uint_eq(count, 1);
    memcpy(row, rows, 5 * sizeof *row);
    vug_free(ctx, rows);
    vug_mesh_free(out);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}

/* 3 mm wide: no room. */
START_TEST(what_stays_solid)
{
    double row[5];
    solid_stem(3.0, 3.0, 50.0, row);
    ck_close(row[0], 0.0, 0.1);
    ck_close(row[1], 0.0, 0.1);
    ck_assert(row[2] > 20 && row[2] < 50);
    ck_close(row[3], 3.0, 0.05);
    /* Of the stem, what is more than 4 mm (and a step of the coarse grid) from the room, whose ceiling is at 18:
     * counted in cells of 0.83 mm, which see a disk of 3 mm to a quarter. */
    ck_near(row[4], PI * 1.5 * 1.5 * (50 - 22 - 0.8), 0.25);
}
END_TEST

/* It tapers: it is widest where it begins, 4 mm and a step of the coarse grid above the ceiling at 18 (and up to 2 mm more,
 * as cells do not see 0.2 mm of taper). There it is told to be, not in the room below, which is wider. */
START_TEST(where_it_stays_solid)
{
    double row[5];
    solid_stem(3.8, 2.0, 30.0, row);
    double z = row[2], wide = 2.0 * (1.9 - 0.09 * (z - 20.0)) * cos(atan(0.09));
    ck_assert_msg(z > 21.5 && z < 24.5, "at %g", z);
    ck_close(row[3], wide, 0.05);
}
END_TEST

/* Where two boxes overlap, a cavity in both would count as solid in one. */
START_TEST(overlapping_bodies)
{
    vug_context *ctx = test_context();
    shape s = {0};
    shape_box(&s, (double[3]){0, 0, 0}, (double[3]){40, 30, 20}, 0);
    shape_box(&s, (double[3]){25, 5, 5}, (double[3]){65, 25, 15}, 0);
    vug_mesh *mesh = shape_mesh(ctx, &s), *out = NULL;
    vug_hollow_options o = options_of(2, 80);
    vug_hollow_info info = {.struct_size = sizeof info};
    ck_ok(ctx, vug_shape_hollow(ctx, mesh, &o, &out, &info, NULL, NULL));
    ck_assert_uint_eq(info.overlaps, 1);
    ck_assert_uint_eq(info.chambers, 2);
    vug_mesh_free(out);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

static void refused(vug_context *ctx, const vug_mesh *mesh, const vug_hollow_options *o,
    vug_status status, const char *says)
{
    vug_mesh *out = NULL;
    vug_status got = vug_shape_hollow(ctx, mesh, o, &out, NULL, NULL, NULL);
    ck_assert_int_eq(got, status);
    ck_assert_msg(strstr(vug_context_message(ctx), says), "%s", vug_context_message(ctx));
    ck_assert_ptr_null(out);
}

START_TEST(faults)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = box(ctx, 40, 30, 20), *out = NULL;
    vug_hollow_options o = options_of(2, 0);
    ck_assert_int_eq(vug_shape_hollow(NULL, mesh, &o, &out, NULL, NULL, NULL), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_shape_hollow(ctx, NULL, &o, &out, NULL, NULL, NULL), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_shape_hollow(ctx, mesh, &o, NULL, NULL, NULL, NULL), VUG_ERR_ARGUMENT);
    double *values[] = {&o.wall_mm, &o.chamber_mm, &o.throat_mm, &o.base_mm};
    const char *names[] = {"wall_mm", "chamber_mm", "throat_mm", "base_mm"};
    for (int k = 0; k < 4; k++) {
        double kept = *values[k];
        *values[k] = -1;
        refused(ctx, mesh, &o, VUG_ERR_ARGUMENT, names[k]);
        *values[k] = (double)NAN;
        refused(ctx, mesh, &o, VUG_ERR_ARGUMENT, names[k]);
        *values[k] = kept;
    }
    o.cells = -1;
    refused(ctx, mesh, &o, VUG_ERR_ARGUMENT, "cells");
    o.cells = 20; /* steps of 2 mm */
    refused(ctx, mesh, &o, VUG_ERR_ARGUMENT, "use 40 or more");
    o.cells = 0;
    o.up[2] = 0;
    refused(ctx, mesh, &o, VUG_ERR_ARGUMENT, "up");
    o.up[2] = 1;
    o.wall_mm = 1e-6;
    refused(ctx, mesh, &o, VUG_ERR_LIMIT, "too fine");
    o.wall_mm = 9.5; /* the box is 20 mm high: 1 mm is left */
    refused(ctx, mesh, &o, VUG_ERR_NOT_FOUND, "too thin");
    o.wall_mm = 12;
    refused(ctx, mesh, &o, VUG_ERR_NOT_FOUND, "too thin");
    o.wall_mm = 2;
    vug_mesh *open = NULL;
    ck_ok(ctx,
        vug_mesh_from_arrays(ctx, vug_mesh_vertices(mesh), vug_mesh_vertex_count(mesh), 0,
            vug_mesh_triangles(mesh), vug_mesh_triangle_count(mesh) - 1, 0, &open));
    refused(ctx, open, &o, VUG_ERR_MESH, "not closed");
    vug_mesh_free(open);
    shape s = {0};
    shape_box(&s, (double[3]){0, 0, 0}, (double[3]){40, 30, 20}, 1);
    vug_mesh *turned = shape_mesh(ctx, &s);
    refused(ctx, turned, &o, VUG_ERR_MESH, "inside out");
    vug_mesh_free(turned);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

static vug_status hollow_it(vug_context *ctx, void *mesh)
{
    vug_mesh *out = NULL;
    double *rows = NULL;
    size_t count = 0;
    vug_hollow_options o = options_of(1, 20);
    o.throat_mm = 2;
    o.chamber_mm = 1;
#ifdef HAVE_MESHOPTIMIZER
    o.simplify_mm = 0.1;
#endif
    vug_status status = vug_shape_hollow(ctx, mesh, &o, &out, NULL, &rows, &count);
    vug_free(ctx, rows);
    vug_mesh_free(out);
    return status;
}

START_TEST(memory)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = box(ctx, 10, 8, 6);
    ck_assert_int_gt(failing_by(hollow_it, mesh, 6, test_quick() ? 0.5 : 1.0 / 6.0), 100);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

static int32_t stop(void *user, double fraction, const char *stage)
{
    int *left = user;
    ck_assert(fraction >= 0.0 && fraction <= 1.0);
    (void)stage;
    return (*left)-- <= 0;
}

START_TEST(cancelling)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = box(ctx, 40, 30, 20), *out = NULL;
    vug_hollow_options o = options_of(2, 40);
    for (int after = 0; after < 200; after += 23) {
        int left = after;
        ctx->pause_ns = 0; /* hear of all */
        ck_ok(ctx, vug_context_set_progress(ctx, stop, &left));
        vug_status status = vug_shape_hollow(ctx, mesh, &o, &out, NULL, NULL, NULL);
        ck_assert(status == VUG_ERR_CANCELLED || after > 0);
        if (!status)
            vug_mesh_free(out);
        out = NULL;
    }
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

START_TEST(same_bytes)
{
    vug_mesh *out[3] = {NULL, NULL, NULL};
    for (uint32_t threads = 1; threads <= 3; threads++) {
        vug_context_options c;
        vug_context *ctx = NULL;
        ck_assert_int_eq(vug_context_options_init(&c, sizeof c), VUG_OK);
        c.threads = threads;
        ck_assert_int_eq(vug_context_create(&c, &ctx), VUG_OK);
        vug_mesh *mesh = dumbbell(ctx);
        vug_hollow_options o = options_of(2, 50);
        o.throat_mm = 4;
#ifdef HAVE_MESHOPTIMIZER
        o.simplify_mm = 0.1;
#endif
        ck_ok(ctx, vug_shape_hollow(ctx, mesh, &o, out + threads - 1, NULL, NULL, NULL));
        vug_mesh_free(mesh);
        vug_context_free(ctx);
    }
    for (int k = 1; k < 3; k++) {
        ck_assert_uint_eq(vug_mesh_vertex_count(out[k]), vug_mesh_vertex_count(out[0]));
        ck_assert_uint_eq(vug_mesh_triangle_count(out[k]), vug_mesh_triangle_count(out[0]));
        ck_assert_mem_eq(vug_mesh_vertices(out[k]), vug_mesh_vertices(out[0]),
            vug_mesh_vertex_count(out[0]) * 3 * sizeof(double));
        ck_assert_mem_eq(vug_mesh_triangles(out[k]), vug_mesh_triangles(out[0]),
            vug_mesh_triangle_count(out[0]) * 3 * sizeof(uint32_t));
        vug_mesh_free(out[k]);
    }
    vug_mesh_free(out[0]);
}
END_TEST

#ifdef HAVE_MESHOPTIMIZER
/* Each vertex of few is one of many: by its first coordinates, sorted. */
static void is_some_of(const vug_mesh *few, const vug_mesh *many, size_t first)
{
    const double *p = vug_mesh_vertices(few), *q = vug_mesh_vertices(many);
    size_t at = first; /* both in one order */
    for (size_t v = first; v < vug_mesh_vertex_count(few); v++, at++) {
        while (at < vug_mesh_vertex_count(many) && memcmp(p + 3 * v, q + 3 * at, 24) != 0)
            at++;
        ck_assert_uint_lt(at, vug_mesh_vertex_count(many));
    }
}
#endif

/* Volume between two surfaces that are nowhere farther apart than d: no more than d times the area of the larger one
 * and what its edges gain, 5 % here. */
static void simplified(vug_context *ctx, const vug_mesh *mesh, double wall, double d, double share)
{
    vug_mesh *fine = NULL, *few = NULL;
    vug_hollow_options o = options_of(wall, 60);
    vug_hollow_info before = hollow(ctx, mesh, &o, &fine);
    ck_assert_uint_eq(before.triangles_before, before.triangles);
    ck_assert(before.simplify_error_mm == 0.0);
    o.simplify_mm = d;
#ifdef HAVE_MESHOPTIMIZER
    vug_hollow_info info = hollow(ctx, mesh, &o, &few);
    ck_assert_uint_eq(info.triangles_before, before.triangles);
    ck_assert_msg((double)info.triangles <= share * (double)before.triangles, "%llu of %llu",
        (unsigned long long)info.triangles, (unsigned long long)before.triangles);
    ck_assert(info.simplify_error_mm > 0.0 && info.simplify_error_mm <= d);
    ck_close(info.volume_mm3, before.volume_mm3, 1.05 * d * before.area_mm2);
    ck_near(info.area_mm2, before.area_mm2, 0.02);
    is_some_of(few, fine, vug_mesh_vertex_count(mesh));
    vug_mesh_free(few);
#else
    (void)share;
    ck_assert_int_eq(vug_shape_hollow(ctx, mesh, &o, &few, NULL, NULL, NULL), VUG_ERR_UNSUPPORTED);
    ck_assert_ptr_nonnull(strstr(vug_context_message(ctx), "meshoptimizer"));
    ck_assert_ptr_null(few);
#endif
    vug_mesh_free(fine);
}

/* A ball of radius r by triangles with an edge a is off by a^2 / 8 r in the middle of an edge and a^2 / 6 r in that of a
 * triangle (by hand): for 0.05 mm and r = 8 the edges may be 1.5 mm, those of the net are 1/3 mm; flat faces need
 * next to nothing. */
START_TEST(simpler)
{
    vug_context *ctx = test_context();
    double profile[2 * (ARC + 2)];
    shape s = {0};
    size_t n = shape_arc(profile, 0, 0, 0, 10, -90, 90, ARC);
    shape_revolve(&s, profile, n, AROUND, 0);
    vug_mesh *ball = shape_mesh(ctx, &s), *block = box(ctx, 40, 30, 20), *two = dumbbell(ctx);
    simplified(ctx, ball, 2, 0.05, 0.25);
    simplified(ctx, block, 2, 0.05, 0.15);
    simplified(ctx, two, 2, 0.1, 0.5);
    vug_hollow_options o = options_of(2, 40);
    o.simplify_mm = -1;
    refused(ctx, block, &o, VUG_ERR_ARGUMENT, "simplify_mm");
    vug_mesh_free(ball);
    vug_mesh_free(block);
    vug_mesh_free(two);
    vug_context_free(ctx);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("hollow");
    TCase *all = tcase_create("all");
    tcase_set_timeout(all, 120);
    tcase_add_test(all, a_box);
    tcase_add_test(all, a_box_with_round_edges);
    tcase_add_test(all, round_bodies);
    tcase_add_test(all, a_cone);
    tcase_add_test(all, chambers_and_throats);
    tcase_add_test(all, a_base);
    tcase_add_test(all, what_stays_solid);
    tcase_add_test(all, where_it_stays_solid);
    tcase_add_test(all, overlapping_bodies);
    tcase_add_test(all, faults);
    tcase_add_test(all, memory);
    tcase_add_test(all, cancelling);
    tcase_add_test(all, same_bytes);
    tcase_add_test(all, simpler);
    suite_add_tcase(suite, all);
    return test_run(suite);
}

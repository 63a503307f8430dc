/* SPDX-License-Identifier: MIT
 * cavity: finding what nobody named, on parts known by construction (parts.c says where their
 * numbers come from). */
#include "base/base.h"
#include "mesh/handles.h"
#include "cavity/cavity.h"

#include "failing.h"
#include "parts.h"
#include "shapes.h"
#include "test.h"

/* Cells across at each resolution of a part. */
static const uint32_t cells[PART_RESOLUTIONS] = {80, 100, 128};

static vug_cavities *find(vug_context *ctx, const vug_mesh *mesh, uint32_t across)
{
    vug_cavity_options options;
    vug_cavities *cavities = NULL;
    vug_cavity_options_init(&options, sizeof options);
    options.cells_across = across;
    ck_ok(ctx, vug_cavities_find(ctx, mesh, NULL, 0, &options, &cavities));
    return cavities;
}

static vug_cavity_info cavity(const vug_cavities *c, size_t i)
{
    vug_cavity_info info = {.struct_size = sizeof info};
    ck_assert_int_eq(vug_cavities_get(c, i, &info), VUG_OK);
    return info;
}

static int falling(const void *left, const void *right)
{
    const double *p = left, *q = right;
    return (*p < *q) - (*p > *q);
}

static void check_openings(const vug_cavities *c, const part *p, double step)
{
    double diameter[PART_PLACES];
    ck_assert_msg((int)vug_cavities_opening_count(c) == p->openings, "%s: %zu openings, not %d",
        p->name, vug_cavities_opening_count(c), p->openings);
    for (int i = 0; i < p->openings; i++) {
        vug_opening_info info = {.struct_size = sizeof info};
        const double *outline;
        size_t points;
        ck_assert_int_eq(vug_cavities_opening(c, (size_t)i, &info), VUG_OK);
        ck_assert_int_eq(vug_cavities_opening_outline(c, (size_t)i, &outline, &points), VUG_OK);
        ck_assert_uint_ge(points, 8);
        ck_assert(info.inscribed_diameter_mm <= info.diameter_mm * (1.0 + 1e-9));
        ck_assert(info.perimeter_mm >= 3.14159 * info.diameter_mm); /* isoperimetric inequality */
        diameter[i] = info.diameter_mm;
    }
    qsort(diameter, (size_t)p->openings, sizeof *diameter, falling);
    for (int i = 0; i < p->openings; i++)
        ck_assert_msg(fabs(diameter[i] - p->diameter[i]) <= step,
            "%s: opening %.4f, not %.4f +- %.3f", p->name, diameter[i], p->diameter[i], step);
}

static void check_throats(const vug_cavities *c, const part *p, double step)
{
    int found = 0;
    for (size_t k = 0; k < vug_cavities_count(c); k++) {
        vug_cavity_info info = cavity(c, k);
        ck_assert_uint_ge(info.chambers, 1);
        for (uint32_t i = 0; i < info.throats; i++, found++) {
            vug_throat_info throat = {.struct_size = sizeof throat};
            ck_assert_int_eq(vug_cavities_throat(c, k, i, &throat), VUG_OK);
            ck_assert_uint_ne(throat.chamber_a, throat.chamber_b);
            ck_assert_uint_lt(throat.chamber_b, info.chambers);
            if (p->throats > 0)
                ck_assert_msg(fabs(throat.radius_mm - p->throat[found]) <= step,
                    "%s: throat %.4f, not %.4f +- %.3f", p->name, throat.radius_mm,
                    p->throat[found], step);
        }
    }
    if (p->throats >= 0)
        ck_assert_msg(found == p->throats, "%s: %d throats, not %d", p->name, found, p->throats);
}

static void check_part(int index, int resolution)
{
    vug_context *ctx = test_context();
    part p = part_make(ctx, index, resolution);
    vug_cavities *c = find(ctx, p.mesh, cells[resolution]);
    double longest = 0.0;
    for (int a = 0; a < 3; a++)
        longest = fmax(longest, p.mesh->hi[a] - p.mesh->lo[a]);
    double step = longest / cells[resolution];
    ck_assert_msg((int)vug_cavities_count(c) == p.cavities, "%s at %d: %zu cavities, not %d",
        p.name, resolution, vug_cavities_count(c), p.cavities);
    size_t passages;
    ck_ok(ctx, vugi_mesh_handles(ctx, p.mesh, &passages));
    ck_assert_uint_eq(warning_count(ctx), p.cavities == 0 && passages > 0);
    for (int i = 0; i < p.cavities; i++) {
        vug_cavity_info info = cavity(c, (size_t)i);
        ck_assert_int_eq(info.exact, 1);
        ck_assert_msg(fabs(info.volume_mm3 / p.volume[i] - 1.0) <= 0.005,
            "%s at %d: volume %.3f, not %.3f", p.name, resolution, info.volume_mm3, p.volume[i]);
    }
    check_openings(c, &p, step);
    check_throats(c, &p, step);
    vug_cavities_free(c);
    vug_mesh_free(p.mesh);
    vug_context_free(ctx);
}

START_TEST(known_parts)
{
    check_part(_i % part_count(), _i / part_count());
}
END_TEST

/* Ball of 20 with a core of 18, a bore of 1.5 up and one of 1 down. */
static part two_bores(vug_context *ctx)
{
    int index = 0;
    while (strcmp(part_name(index), "ball with two bores") != 0)
        index++;
    return part_make(ctx, index, 0);
}

START_TEST(named_holes_come_first)
{
    vug_context *ctx = test_context();
    part p = two_bores(ctx);
    const double hole[7] = {0.0, 0.0, 20.0, 0.0, 0.0, 1.0, 2.0};
    vug_cavity_options options;
    vug_cavities *c = NULL;
    vug_cavity_options_init(&options, sizeof options);
    options.cells_across = 80;
    ck_ok(ctx, vug_cavities_find(ctx, p.mesh, hole, 1, &options, &c));
    ck_assert_uint_eq(vug_cavities_opening_count(c), 2);
    vug_opening_info info = {.struct_size = sizeof info};
    ck_assert_int_eq(vug_cavities_opening(c, 0, &info), VUG_OK);
    ck_near(info.diameter_mm, 2.0, 0.01);
    ck_assert_int_eq(vug_cavities_opening(c, 1, &info), VUG_OK);
    ck_near(info.diameter_mm, 5.0, 0.01);
    ck_near(info.bore_length_mm, 2.0, 0.01); /* radii 20 and 18 */
    ck_close(info.normal[2], -1.0, 1e-3);
    vug_cavities_free(c);

    options.min_ratio = 10.0; /* 18 to 2.5 is not enough then */
    ck_ok(ctx, vug_cavities_find(ctx, p.mesh, NULL, 0, &options, &c));
    ck_assert_uint_eq(vug_cavities_count(c), 0);
    vug_cavities_free(c);
    vug_mesh_free(p.mesh);
    vug_context_free(ctx);
}
END_TEST

/* By hand: a room of 40 x 20 x 10 mm in a box whose skin has a narrow gap, its walls along the cells of the grid: the volume is
 * no farther off than is said. */
START_TEST(a_grid_tells_its_error)
{
    static const uint32_t across[2] = {64, 128};
    for (int i = 0; i < 2; i++) {
        vug_context *ctx = test_context();
        const double outer[2][3] = {{-2, -2, -2}, {42, 22, 12}}, inner[2][3] = {{0}, {40, 20, 10}};
        shape box = {0};
        vug_cavities *c = NULL;
        vug_cavity_options options;
        vug_cavity_options_init(&options, sizeof options);
        options.cells_across = across[i];
        shape_box(&box, outer[0], outer[1], 0);
        shape_box(&box, inner[0], inner[1], 1);
        double gap[3];
        for (int k = 0; k < 3; k++) { /* beside the middle of a side of the first triangle */
            const uint32_t *t = box.triangles;
            gap[k] = 0.49 * box.xyz[3 * t[0] + (uint32_t)k] + 0.49 * box.xyz[3 * t[1] + (uint32_t)k]
                + 0.02 * box.xyz[3 * t[2] + (uint32_t)k];
        }
        const size_t v = box.vertex_count, n = box.triangle_count;
        const uint32_t t[3] = {box.triangles[0], box.triangles[1], box.triangles[2]};
        double *xyz = malloc(3 * (v + 1) * sizeof *xyz);
        uint32_t *triangle = malloc(3 * (n + 1) * sizeof *triangle);
        memcpy(xyz, box.xyz, 3 * v * sizeof *xyz);
        memcpy(xyz + 3 * v, gap, sizeof gap);
        memcpy(triangle, box.triangles, 3 * n * sizeof *triangle);
        const uint32_t two[6] = {t[1], t[2], (uint32_t)v, t[2], t[0], (uint32_t)v};
        memcpy(triangle, two, 3 * sizeof *two);
        memcpy(triangle + 3 * n, two + 3, 3 * sizeof *two);
        vug_mesh *mesh = NULL;
        ck_ok(ctx, vug_mesh_from_arrays(ctx, xyz, v + 1, 0, triangle, n + 1, 0, &mesh));
        ck_ok(ctx, vug_cavities_find(ctx, mesh, NULL, 0, &options, &c));
        ck_assert_uint_eq(vug_cavities_count(c), 1);
        vug_cavity_info info = cavity(c, 0);
        ck_assert_int_eq(info.exact, 0);
        ck_close(info.volume_mm3, 8000.0, info.volume_error_mm3);
        vug_cavities_free(c);
        vug_mesh_free(mesh);
        vug_mesh_free(shape_mesh(ctx, &box));
        free(xyz);
        free(triangle);
        vug_context_free(ctx);
    }
}
END_TEST

/* The same with a small gap in its skin: what cannot be cut is seen on the grid. */
START_TEST(a_gap_is_bridged)
{
    vug_context *ctx = test_context();
    part p = two_bores(ctx);
    size_t count = vug_mesh_triangle_count(p.mesh);
    uint32_t *triangles = malloc(3 * count * sizeof *triangles);
    memcpy(triangles, vug_mesh_triangles(p.mesh), 3 * count * sizeof *triangles);
    memmove(triangles + 3 * 3000, triangles + 3 * 3003, 3 * (count - 3003) * sizeof *triangles);
    vug_mesh *torn = NULL;
    ck_ok(ctx,
        vug_mesh_from_arrays(ctx, vug_mesh_vertices(p.mesh), vug_mesh_vertex_count(p.mesh), 0,
            triangles, count - 3, 0, &torn));
    vug_cavities *c = find(ctx, torn, 96);
    ck_assert_uint_eq(vug_cavities_count(c), 1);
    ck_assert_uint_ge(warning_count(ctx), 1);
    vug_cavity_info info = cavity(c, 0);
    ck_assert_int_eq(info.exact, 0);
    ck_assert_uint_eq(info.openings, 2);
    ck_close(info.volume_mm3, p.volume[0], info.volume_error_mm3);
    ck_near(info.volume_mm3, p.volume[0], 0.01);
    ck_near(info.area_mm2, 4.0 * 3.14159265 * 324.0, 0.1);
    for (size_t i = 0; i < 2; i++) {
        vug_opening_info o = {.struct_size = sizeof o};
        ck_assert_int_eq(vug_cavities_opening(c, i, &o), VUG_OK);
        ck_close(o.diameter_mm, p.diameter[i], 2.0 * 40.0 / 96.0);
        ck_close(fabs(o.normal[2]), 1.0, 0.05);
    }
    char words[400];
    ck_ok(ctx, vug_doubt_words(ctx, c, -1, words, sizeof words));
    ck_assert_msg(strncmp(words, "Not sure about A and B: ", 24) == 0, "%s", words);
    char same[400];
    ck_ok(ctx, vug_doubt_words(ctx, c, 0, same, sizeof same));
    ck_assert_str_eq(same, words);
    ck_assert_int_eq(vug_doubt_words(ctx, c, 1, same, sizeof same), VUG_ERR_NOT_FOUND);
    ck_assert_int_eq(vug_doubt_words(ctx, c, 0, same, 0), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_doubt_words(ctx, NULL, 0, same, sizeof same), VUG_ERR_ARGUMENT);
    vug_mesh_measures m = {.struct_size = sizeof m}; /* and its mesh is closed all the same */
    ck_ok(ctx, vug_mesh_measure(ctx, vug_cavities_mesh(c, 0, NULL), &m));
    ck_assert_uint_eq(m.edges_open, 0);
    vug_cavities_free(c);
    vug_mesh_free(torn);
    vug_mesh_free(p.mesh);
    free(triangles);
    vug_context_free(ctx);
}
END_TEST

/* A hollow ball with a bore, and a bar beside it that makes the part `length` long: how many cells the ball
 * has is the bar's doing. */
static vug_mesh *ball_and_bar(vug_context *ctx, double radius, double x, double length)
{
    shape s = {.xyz = NULL};
    double ring[2
        * 66]; /* wall 0.3 of the radius, bore 0.2 of it: angles by their cosines, 0.2 / 1.3 and 0.2 */
    size_t n = shape_arc(ring, 0, 0.0, 0.0, 1.3 * radius, -90.0, 81.15, 32);
    n = shape_arc(ring, n, 0.0, 0.0, radius, 78.463, -90.0, 32);
    shape_revolve(&s, ring, n, 48, 0);
    shape_shift(&s, x, 0.37 * x, 0.71 * x);
    shape_box(&s, (const double[3]){2.0 * radius + 1.0, -0.5, -0.5},
        (const double[3]){length - 1.3 * radius, 0.5, 0.5}, 0);
    return shape_mesh(ctx, &s);
}

static vug_sight_info sight(const vug_cavities *c)
{
    vug_sight_info info = {.struct_size = sizeof info};
    ck_assert_int_eq(vug_cavities_sight(c, &info), VUG_OK);
    return info;
}

/* Balls as wide as what is said to be seen are, wherever they lie among the cells. Where a ball is too small
 * for 256 cells, no cells being asked for means more of them. */
START_TEST(how_finely_it_was_looked)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh;
    vug_cavities *c;
    for (int i = 0; i < 8; i++) { /* 60 cells to 60 mm: (6 + sqrt 3) mm is seen for sure */
        mesh = ball_and_bar(ctx, 0.5 * 7.75, 0.13 * i, 60.0);
        c = find(ctx, mesh, 60);
        ck_close(sight(c).cell_mm, 1.0, 0.03);
        ck_close(sight(c).hollow_mm, (6.0 + sqrt(3.0)) * sight(c).cell_mm, 1e-9);
        ck_close(sight(c).window_mm, 4.0 * sight(c).cell_mm, 1e-9);
        if (7.75 >= sight(c).hollow_mm)
            ck_assert_uint_eq(vug_cavities_count(c), 1);
        vug_cavities_free(c);
        vug_mesh_free(mesh);
    }
    mesh = ball_and_bar(ctx, 1.0, 0.0, 100.0);
    c = find(ctx, mesh, 256);
    ck_assert_uint_eq(vug_cavities_count(c), 0); /* and it is said that it may be so: */
    ck_assert(sight(c).hollow_mm > 2.0);
    vug_cavities_free(c);
    c = find(ctx, mesh, 0);
    ck_assert_uint_eq(vug_cavities_count(c), 1);
    ck_assert_uint_eq(vug_cavities_opening_count(c), 1);
    ck_assert_uint_eq(sight(c).cells_across, 384);
    vug_cavities_free(c);
    vug_mesh_free(mesh);
    ck_assert_int_eq(vug_cavities_sight(NULL, NULL), VUG_ERR_ARGUMENT);
    vug_context_free(ctx);
}
END_TEST

/* Half of the skin is missing: no answer is better than a guess. */
START_TEST(an_open_shell_is_refused)
{
    vug_context *ctx = test_context();
    part p = two_bores(ctx);
    vug_mesh *half = NULL;
    vug_cavities *c = NULL;
    ck_ok(ctx,
        vug_mesh_from_arrays(ctx, vug_mesh_vertices(p.mesh), vug_mesh_vertex_count(p.mesh), 0,
            vug_mesh_triangles(p.mesh), vug_mesh_triangle_count(p.mesh) / 4, 0, &half));
    ck_assert_int_eq(vug_cavities_find(ctx, half, NULL, 0, NULL, &c), VUG_ERR_MESH);
    ck_assert_ptr_nonnull(strstr(vug_context_message(ctx), "too open"));
    ck_assert_ptr_null(c);
    vug_mesh_free(half);
    vug_mesh_free(p.mesh);
    vug_context_free(ctx);
}
END_TEST

/* A rod of 3 stuck through the wall of a sealed ball into its middle, as a shell of its own: the walls
 * cross, and the rod takes its part of the cavity. */
START_TEST(crossing_shells)
{
    vug_context *ctx = test_context();
    shape s = {.xyz = NULL};
    double profile[2 * 65];
    const double rod[8] = {0.0, -25.0, 3.0, -25.0, 3.0, 0.0, 0.0, 0.0}, pi = 3.14159265358979;
    shape_arc(profile, 0, 0.0, 0.0, 20.0, -90.0, 90.0, 64);
    shape_revolve(&s, profile, 65, 128, 0);
    shape_arc(profile, 0, 0.0, 0.0, 18.0, -90.0, 90.0, 64);
    shape_revolve(&s, profile, 65, 128, 1);
    shape_revolve(&s, rod, 4, 128, 0);
    vug_mesh *mesh = shape_mesh(ctx, &s);
    vug_cavities *c = find(ctx, mesh, 160);
    ck_assert_uint_eq(vug_cavities_count(c), 1);
    vug_cavity_info info = cavity(c, 0);
    /* The ball less the cylinder under its middle, and the cap of the ball below that. */
    double depth = sqrt(324.0 - 9.0), low = 18.0 - depth;
    double want = 4.0 / 3.0 * pi * 5832.0 - pi * 9.0 * depth - pi * low * low * (54.0 - low) / 3.0;
    ck_assert_int_eq(info.sealed, 1);
    ck_close(info.volume_mm3, want, info.volume_error_mm3);
    ck_near(info.volume_mm3, want, 0.01);
    vug_cavities_free(c);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* Two rooms of one box as shells of their own that cross: 12 x 20 x 20 and 10 x 18 x 18 mm, of which 2 x 18 x 18 lie in both
 * and count once. */
START_TEST(crossing_rooms)
{
    vug_context *ctx = test_context();
    shape s = {.xyz = NULL};
    const double box[6][3] = {{-15, -15, -15}, {15, 15, 15}, {-10, -10, -10}, {2, 10, 10},
        {0, -9, -9}, {10, 9, 9}};
    double total = 0.0, error = 0.0;
    for (int i = 0; i < 3; i++)
        shape_box(&s, box[2 * i], box[2 * i + 1], i > 0);
    vug_mesh *mesh = shape_mesh(ctx, &s);
    vug_cavities *c = find(ctx, mesh, 160);
    for (size_t i = 0; i < vug_cavities_count(c); i++) {
        vug_cavity_info info = cavity(c, i);
        total += info.volume_mm3;
        error += info.volume_error_mm3;
    }
    ck_assert(total <= 4800.0 + 3240.0 - 648.0 + error);
    ck_near(total, 4800.0 + 3240.0 - 648.0, 0.02);
    vug_cavities_free(c);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

START_TEST(threads_change_nothing)
{
    vug_cavity_info first = {.struct_size = 0};
    for (uint32_t threads = 1; threads <= 3; threads++) {
        vug_context_options options;
        vug_context *ctx = NULL;
        vug_context_options_init(&options, sizeof options);
        options.threads = threads;
        ck_assert_int_eq(vug_context_create(&options, &ctx), VUG_OK);
        part p = two_bores(ctx);
        vug_cavities *c = find(ctx, p.mesh, 64);
        vug_cavity_info info = cavity(c, 0);
        if (threads == 1)
            first = info;
        ck_assert_mem_eq(&info, &first, sizeof info);
        vug_cavities_free(c);
        vug_mesh_free(p.mesh);
        vug_context_free(ctx);
    }
}
END_TEST

START_TEST(cancel_is_heard)
{
    vug_context *ctx = test_context();
    part p = two_bores(ctx);
    vug_cavities *c = NULL;
    vug_context_cancel(ctx);
    ck_assert_int_eq(vug_cavities_find(ctx, p.mesh, NULL, 0, NULL, &c), VUG_ERR_CANCELLED);
    ck_assert_ptr_null(c);
    vug_mesh_free(p.mesh);
    vug_context_free(ctx);
}
END_TEST

static int32_t count_tenths(void *user, double fraction, const char *stage)
{
    (void)stage;
    ((int *)user)[fraction < 1.0 ? (int)(10.0 * fraction) : 9]++;
    return 0;
}

/* Reports come all the way, not only at its end. */
START_TEST(progress_is_reported)
{
    vug_context *ctx = test_context();
    int tenth[10] = {0};
    part p = part_make(ctx, 1, 0);
    vug_cavities *c = NULL;
    ctx->pause_ns = 0; /* hear of all */
    ck_ok(ctx, vug_context_set_progress(ctx, count_tenths, tenth));
    ck_ok(ctx, vug_cavities_find(ctx, p.mesh, NULL, 0, NULL, &c));
    for (int i = 0; i < 7; i++)
        ck_assert_msg(tenth[i] > 0, "nothing is heard from %d to %d %%", 10 * i, 10 * i + 10);
    vug_cavities_free(c);
    vug_mesh_free(p.mesh);
    vug_context_free(ctx);
}
END_TEST

static vug_status look_for_it(vug_context *ctx, void *mesh)
{
    vug_cavities *c = NULL;
    vug_cavity_options options;
    vug_cavity_options_init(&options, sizeof options);
    options.cells_across = 24;
    vug_status status = vug_cavities_find(ctx, mesh, NULL, 0, &options, &c);
    if (!status)
        ck_assert_uint_eq(vug_cavities_opening_count(c), 1);
    vug_cavities_free(c);
    return status;
}

START_TEST(memory_runs_out_cleanly)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = shape_hollow_ball(ctx, 8.0, 10.0, 1.5, 16);
    ck_assert_int_gt(failing_by(look_for_it, mesh, 20, test_quick() ? 0.2 : 0.05), 100);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("cavity detection");
    TCase *tc = tcase_create("parts");
    tcase_set_timeout(tc, 120);
    tcase_add_loop_test(tc, known_parts, 0, part_count() * (test_quick() ? 1 : PART_RESOLUTIONS));
    suite_add_tcase(suite, tc);
    tc = tcase_create("cases");
    tcase_set_timeout(tc, 120);
    tcase_add_test(tc, named_holes_come_first);
    tcase_add_test(tc, a_grid_tells_its_error);
    tcase_add_test(tc, a_gap_is_bridged);
    tcase_add_test(tc, how_finely_it_was_looked);
    tcase_add_test(tc, an_open_shell_is_refused);
    tcase_add_test(tc, crossing_shells);
    tcase_add_test(tc, crossing_rooms);
    tcase_add_test(tc, threads_change_nothing);
    tcase_add_test(tc, cancel_is_heard);
    tcase_add_test(tc, progress_is_reported);
    tcase_add_test(tc, memory_runs_out_cleanly);
    suite_add_tcase(suite, tc);
    return test_run(suite);
}

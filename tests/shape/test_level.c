/* SPDX-License-Identifier: MIT
 * Pockets, pools and surfaces as meshes: closed, as smooth as the wall, and as large as solid geometry has it; many
 * poses at once. */
#include "../failing.h"
#include "../shapes.h"
#include "../test.h"

#include "shape/bore/patch.h"

static const double PI = 3.14159265358979323846;

/* Closed, and turned outward. */
static vug_mesh_measures closed_measures(vug_context *ctx, const vug_mesh *mesh)
{
    vug_mesh_measures m = {.struct_size = sizeof m};
    ck_ok(ctx, vug_mesh_measure(ctx, mesh, &m));
    ck_assert_int_eq(m.closed, 1);
    ck_assert_uint_eq(m.edges_open, 0);
    ck_assert_uint_eq(m.edges_flipped, 0);
    ck_assert(m.volume_mm3 > 0.0);
    return m;
}

/* A ball of 10 mm in one of 12 mm, with a bore of 2 mm upward, of 64 sides: chords come up to
 * 10 (1 - cos(pi / 64)) = 0.012 mm inside it. */
static vug_cavities *ball(vug_context *ctx)
{
    const double hole[7] = {0, 0, 12, 0, 0, 1, 4};
    return cavities_by_hole(ctx, shape_hollow_ball(ctx, 10.0, 12.0, 2.0, 64), hole);
}

/* A corner that is not on the wall itself is on its chords, as far from the ball's middle: no column shows. */
static void on_ball(const vug_mesh *mesh)
{
    const double *xyz = vug_mesh_vertices(mesh);
    for (size_t i = 0; i < vug_mesh_vertex_count(mesh); i++) {
        const double *p = xyz + 3 * i;
        double r = sqrt(p[0] * p[0] + p[1] * p[1] + p[2] * p[2]);
        if (hypot(p[0], p[1]) > 2.0 + 1e-6 || p[2] < 0.0)
            ck_assert_msg(r > 10.0 - 0.025 && r < 10.0 + 1e-9, "corner %zu: %g from the middle", i,
                r);
    }
}

/* On its side air leaves by the bore down to its highest point, x = 2: what stays is a cap of the ball of height
 * 8 mm, pi h^2 (3 R - h) / 3 = 1474.5 mm3. Faceting takes 0.3 % of it (64 sides: 1 - sin(2 pi / 64) / (2 pi / 64)
 * is 0.16 %, twice). */
START_TEST(pocket_is_a_cap)
{
    vug_context *ctx = test_context();
    vug_cavities *c = ball(ctx);
    const double up[3] = {1, 0, 0};
    vug_pockets *p = NULL;
    vug_pocket_info info = {.struct_size = sizeof info};
    vug_mesh *mesh = NULL;
    ck_ok(ctx, vug_pockets_find(ctx, c, up, NULL, 0, NULL, &p));
    ck_assert_int_eq(vug_pockets_get(p, 0, &info), VUG_OK);
    ck_ok(ctx, vug_pockets_mesh(ctx, p, 0, &mesh));
    vug_mesh_measures m = closed_measures(ctx, mesh);
    ck_near(m.volume_mm3, PI * 64.0 * 22.0 / 3.0, 0.006);
    ck_close(m.volume_mm3, info.volume_mm3, info.volume_error_mm3 + 0.01 * info.volume_mm3);
    ck_close(m.lo_mm[0], 2.0, 0.05);
    on_ball(mesh);
    vug_mesh_free(mesh);
    ck_assert_int_eq(vug_pockets_mesh(ctx, p, vug_pockets_count(p), &mesh), VUG_ERR_NOT_FOUND);
    ck_assert_int_eq(vug_pockets_mesh(ctx, p, 0, NULL), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_pockets_mesh(ctx, NULL, 0, &mesh), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_pockets_mesh(NULL, p, 0, &mesh), VUG_ERR_ARGUMENT);
    vug_cavities_free(c);
    ck_ok(ctx, vug_pockets_mesh(ctx, p, 0, &mesh)); /* needs the cavities no more */
    vug_mesh_free(mesh);
    vug_pockets_free(p);
    vug_context_free(ctx);
}
END_TEST

/* The pocket of a ball on its side with a loose box in it, down to the bore's highest point, x = 2. */
static vug_mesh_measures pocket_around(vug_context *ctx, const double lo[3], const double hi[3])
{
    const double hole[7] = {0, 0, 12, 0, 0, 1, 4}, up[3] = {1, 0, 0};
    vug_mesh *mesh = shape_hollow_ball(ctx, 10.0, 12.0, 2.0, 64);
    shape s = shape_of_mesh(mesh);
    vug_pockets *p = NULL;
    vug_pocket_info info = {.struct_size = sizeof info};
    shape_box(&s, lo, hi, 0);
    vug_cavities *c = cavities_by_hole(ctx, shape_mesh(ctx, &s), hole);
    ck_ok(ctx, vug_pockets_find(ctx, c, up, NULL, 0, NULL, &p));
    ck_assert_int_eq(vug_pockets_get(p, 0, &info), VUG_OK);
    ck_ok(ctx, vug_pockets_mesh(ctx, p, 0, &mesh));
    vug_mesh_measures m = closed_measures(ctx, mesh);
    ck_close(m.volume_mm3, info.volume_mm3, 1e-9 * vug_pockets_capacity_mm3(p));
    vug_mesh_free(mesh);
    vug_pockets_free(p);
    vug_cavities_free(c);
    return m;
}

/* An island, by hand. A box of 2 x 4 mm that stands from below the level up to x = 5, 3 mm above it, takes 24 mm3 of the
 * pocket; its top and sides add 8 + 3 (2 + 4) 2 mm2 and the lid has a hole of 8 mm2. One that is all above takes its own
 * 2 x 4 x 2 mm3 and adds its faces, 2 (8 + 8 + 4) mm2; one below takes nothing. */
START_TEST(pocket_around_an_island)
{
    vug_context *ctx = test_context();
    const double low[3] = {-3, -1, -2}, high[3] = {5, 1, 2}, above[3] = {3, -1, -2};
    const double under[3] = {1, 1, 2};
    vug_mesh_measures none = pocket_around(ctx, low, under);
    vug_mesh_measures through = pocket_around(ctx, low, high);
    vug_mesh_measures inside = pocket_around(ctx, above, high);
    ck_near(none.volume_mm3, PI * 64.0 * 22.0 / 3.0, 0.006);
    ck_close(none.volume_mm3 - through.volume_mm3, 24.0, 1e-9);
    ck_close(through.area_mm2 - none.area_mm2, 8.0 + 36.0 - 8.0, 1e-9);
    ck_close(none.volume_mm3 - inside.volume_mm3, 16.0, 1e-9);
    ck_close(inside.area_mm2 - none.area_mm2, 40.0, 1e-9);
    vug_context_free(ctx);
}
END_TEST

/* The mesh of each pocket in some poses: closed, and as large as told. Returns how many there are. */
static size_t compare_meshes(vug_context *ctx, const vug_cavities *c)
{
    const double ups[8][3] = {{0, 0, 1}, {0, 0, -1}, {1, 0, 0}, {0, -1, 0}, {1, 2, 3}, {-3, 1, -2},
        {0.3, -2, 0.7}, {-5, -4, 1}};
    size_t count = 0;
    for (size_t i = 0; i < sizeof ups / sizeof *ups; i++) {
        vug_pockets *p = NULL;
        ck_ok(ctx, vug_pockets_find(ctx, c, ups[i], NULL, 0, NULL, &p));
        for (size_t k = 0; k < vug_pockets_count(p); k++, count++) {
            vug_pocket_info info = {.struct_size = sizeof info};
            vug_mesh *mesh = NULL;
            ck_assert_int_eq(vug_pockets_get(p, k, &info), VUG_OK);
            ck_ok(ctx, vug_pockets_mesh(ctx, p, k, &mesh));
            const double volume = closed_measures(ctx, mesh).volume_mm3;
            ck_close(volume, info.volume_mm3, 1e-9 * vug_pockets_capacity_mm3(p));
            vug_mesh_free(mesh);
        }
        vug_pockets_free(p);
    }
    return count;
}

static const struct {
    const char *name;
    size_t least; /* pockets, in all poses */
} real[] = {{"ct_head_skin_iso600", 80}, {"csg_with_sealed_ball", 8}, {"openings/box1020", 8},
    {"openings/box1072", 8}, {"openings/box1081", 8}, {"openings/shell2068", 8},
    {"openings/slant", 6}};

/* Meshes that others made: none is refused. */
START_TEST(pockets_of_real_meshes)
{
    vug_context *ctx = test_context();
    const char *source = getenv("VUG_SRCDIR");
    vug_mesh *mesh = NULL;
    vug_cavities *c = NULL;
    char path[1024];
    snprintf(path, sizeof path, "%s/tests/data/%s.stl", source ? source : ".", real[_i].name);
    ck_ok(ctx, vug_mesh_load(ctx, path, NULL, &mesh));
    ck_ok(ctx, vug_cavities_find(ctx, mesh, NULL, 0, NULL, &c));
    ck_assert_uint_ge(compare_meshes(ctx, c), real[_i].least);
    vug_cavities_free(c);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

static void add_square(vugi_outline *o, double x, double y, double side, bool hole)
{
    const double corner[4][2] = {{x, y}, {x + side, y}, {x + side, y + side}, {x, y + side}};
    for (int k = 0; k < 4; k++)
        ck_assert(vugi_outline_add(o, (uint32_t)o->count, corner[hole ? 3 - k : k]));
    ck_assert(vugi_outline_close(o));
}

/* A hole of 4 x 4 mm that sticks out of a square of 10 x 10 mm: it is no patch; where loops may cross its triangles have
 * the outline's edges, each once, all others twice, and 100 - 16 mm2 by their signs. */
START_TEST(patch_of_loops_that_cross)
{
    vug_context *ctx = test_context();
    vugi_outline o = {.mem = vugi_default_allocator};
    vugi_rows rows = {.mem = vugi_default_allocator};
    int runs[8][8] = {{0}};
    double twice = 0.0;
    add_square(&o, 0.0, 0.0, 10.0, false);
    add_square(&o, 7.0, 3.0, 4.0, true);
    ck_assert_int_eq(vugi_patch(&o, false, &rows), VUG_ERR_MESH);
    rows.count = 0;
    ck_assert_int_eq(vugi_patch(&o, true, &rows), VUG_OK);
    for (size_t t = 0; t < rows.count; t++) {
        const uint32_t *v = rows.row + 3 * t;
        const double *a = o.uv + 2 * v[0], *b = o.uv + 2 * v[1], *d = o.uv + 2 * v[2];
        twice += (b[0] - a[0]) * (d[1] - a[1]) - (b[1] - a[1]) * (d[0] - a[0]);
        for (int k = 0; k < 3; k++)
            runs[v[k]][v[(k + 1) % 3]]++;
    }
    ck_close(0.5 * twice, 84.0, 1e-12);
    for (int a = 0; a < 8; a++)
        for (int b = 0; b < 8; b++) {
            const bool outline = a / 4 == b / 4 && b % 4 == (a + 1) % 4;
            const bool back = a / 4 == b / 4 && a % 4 == (b + 1) % 4;
            ck_assert_int_eq(runs[a][b] - runs[b][a], outline - back);
        }
    vugi_outline_free(&o);
    vugi_free(&rows.mem, rows.row);
    vug_context_free(ctx);
}
END_TEST

/* A third of the ball's 4189 mm3: the surface's area is pi (R^2 - z^2) at its level z. */
START_TEST(pool_and_surface_of_a_ball)
{
    vug_context *ctx = test_context();
    vug_cavities *c = ball(ctx);
    const double up[3] = {0, 0, 1};
    vug_course *course = NULL;
    vug_moment *moment = NULL;
    vug_pool_info pool = {.struct_size = sizeof pool};
    vug_mesh *mesh = NULL;
    ck_ok(ctx, vug_fill_run(ctx, c, NULL, up, NULL, 0, NULL, &course));
    ck_ok(ctx, vug_course_at_volume(ctx, course, 1400.0, &moment));
    ck_assert_int_eq(vug_moment_pool(moment, 0, &pool), VUG_OK);
    ck_ok(ctx, vug_moment_pool_mesh(ctx, moment, 0, &mesh));
    vug_mesh_measures m = closed_measures(ctx, mesh);
    ck_near(m.volume_mm3, 1400.0, 0.01);
    ck_close(m.hi_mm[2], pool.level_mm, 0.05);
    on_ball(mesh);
    vug_mesh_free(mesh);
    ck_ok(ctx, vug_moment_surface(ctx, moment, &mesh));
    m = (vug_mesh_measures){.struct_size = sizeof m};
    ck_ok(ctx, vug_mesh_measure(ctx, mesh, &m));
    double z = m.hi_mm[2];
    ck_close(m.lo_mm[2], z, 1e-9);
    ck_near(m.area_mm2, PI * (100.0 - z * z), 0.006);
    vug_mesh_free(mesh);
    ck_assert_int_eq(vug_moment_pool_mesh(ctx, moment, 1, &mesh), VUG_ERR_NOT_FOUND);
    ck_assert_int_eq(vug_moment_pool_mesh(ctx, moment, 0, NULL), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_moment_pool_mesh(NULL, moment, 0, &mesh), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_moment_pocket_mesh(ctx, moment, 0, &mesh), VUG_ERR_NOT_FOUND);
    ck_assert_int_eq(vug_moment_surface(ctx, NULL, &mesh), VUG_ERR_ARGUMENT);
    vug_moment_free(moment);
    ck_ok(ctx, vug_course_at_volume(ctx, course, 0.0, &moment));
    ck_assert_int_eq(vug_moment_surface(ctx, moment, &mesh), VUG_ERR_NOT_FOUND);
    vug_moment_free(moment);
    vug_course_free(course);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* A box of 20 x 20 x 20 mm with a post of 8 x 8 mm loose in its middle, from 2 to 18 mm; 3000 mm3 stand
 * 2 + (3000 - 800) / (400 - 64) = 8.548 mm high, so the lid has a hole. Air is the rest of the box. */
START_TEST(lid_with_a_hole)
{
    vug_context *ctx = test_context();
    shape s = {.xyz = NULL};
    const double up[3] = {0, 0, 1}, lo[3] = {-2, -2, -2}, hi[3] = {22, 22, 22};
    const double in_lo[3] = {0, 0, 0}, in_hi[3] = {20, 20, 20};
    const double post_lo[3] = {6, 6, 2}, post_hi[3] = {14, 14, 18};
    shape_box(&s, lo, hi, 0);
    shape_box(&s, in_lo, in_hi, 1);
    shape_box(&s, post_lo, post_hi, 0);
    vug_mesh *part = shape_mesh(ctx, &s), *mesh = NULL;
    vug_cavities *c = NULL;
    vug_moment *moment = NULL;
    ck_ok(ctx, vug_cavities_find(ctx, part, NULL, 0, NULL, &c));
    vug_mesh_free(part);
    ck_assert_uint_eq(vug_cavities_count(c), 1);
    ck_ok(ctx, vug_moment_make(ctx, c, 0, up, 0.1, 3000.0, NULL, 0, &moment));
    ck_ok(ctx, vug_moment_pool_mesh(ctx, moment, 0, &mesh));
    vug_mesh_measures m = closed_measures(ctx, mesh);
    ck_near(m.volume_mm3, 3000.0, 1e-3);
    ck_close(m.hi_mm[2], 2.0 + 2200.0 / 336.0, 0.01);
    vug_mesh_free(mesh);
    ck_ok(ctx, vug_moment_pocket_mesh(ctx, moment, 0, &mesh));
    m = closed_measures(ctx, mesh);
    ck_near(m.volume_mm3, 8000.0 - 64.0 * 16.0 - 3000.0, 1e-3);
    vug_mesh_free(mesh);
    ck_ok(ctx, vug_moment_surface(ctx, moment, &mesh));
    m = (vug_mesh_measures){.struct_size = sizeof m};
    ck_ok(ctx, vug_mesh_measure(ctx, mesh, &m));
    ck_near(m.area_mm2, 336.0, 1e-9);
    vug_mesh_free(mesh);
    vug_moment_free(moment);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* One call for many poses gives what one call for each gives, to the last digit. */
START_TEST(many_poses_at_once)
{
    vug_context *ctx = test_context();
    vug_cavities *c = ball(ctx);
    const double ups[9] = {1, 0, 0, 0, 0, -1, 1, 2, 3}, none[6] = {0, 0, 1, 0, 0, 0};
    vug_pose_options o;
    vug_pockets *many[3] = {NULL, NULL, NULL}, *one = NULL;
    vug_pose_options_init(&o, sizeof o);
    o.columns_across = 60;
    ck_ok(ctx, vug_pockets_find_poses(ctx, c, ups, 3, NULL, 0, &o, many));
    for (int i = 0; i < 3; i++) {
        ck_ok(ctx, vug_pockets_find(ctx, c, ups + 3 * i, NULL, 0, &o, &one));
        ck_assert(vug_pockets_trapped_mm3(one) == vug_pockets_trapped_mm3(many[i]));
        ck_assert_uint_eq(vug_pockets_count(one), vug_pockets_count(many[i]));
        vug_pockets_free(one);
        vug_pockets_free(many[i]);
        many[i] = NULL;
    }
    ck_assert_int_eq(vug_pockets_find_poses(ctx, c, none, 2, NULL, 0, &o, many), VUG_ERR_ARGUMENT);
    ck_assert_ptr_nonnull(strstr(vug_context_message(ctx), "pose 1"));
    ck_assert_ptr_null(many[0]);
    ck_assert_int_eq(vug_pockets_find_poses(ctx, c, ups, 0, NULL, 0, &o, many), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_pockets_find_poses(ctx, c, NULL, 1, NULL, 0, &o, many), VUG_ERR_ARGUMENT);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

static vug_status mesh_once(vug_context *ctx, void *data)
{
    vug_mesh *mesh = NULL;
    vug_status status = vug_pockets_mesh(ctx, data, 0, &mesh);
    vug_mesh_free(mesh);
    return status;
}

START_TEST(without_memory)
{
    vug_context *ctx = test_context();
    vug_cavities *c = ball(ctx);
    const double up[3] = {1, 0, 0};
    vug_pose_options o;
    vug_pockets *p = NULL;
    vug_pose_options_init(&o, sizeof o);
    o.columns_across = 24;
    ck_ok(ctx, vug_pockets_find(ctx, c, up, NULL, 0, &o, &p));
    failing_until_success(mesh_once, p);
    vug_pockets_free(p);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

int main(void)
{
    Suite *s = suite_create("level");
    TCase *all = tcase_create("meshes");
    tcase_add_test(all, pocket_is_a_cap);
    tcase_add_test(all, pocket_around_an_island);
    tcase_add_loop_test(all, pockets_of_real_meshes, test_quick() ? 1 : 0, /* the first is large */
        sizeof real / sizeof *real);
    tcase_add_test(all, patch_of_loops_that_cross);
    tcase_add_test(all, pool_and_surface_of_a_ball);
    tcase_add_test(all, lid_with_a_hole);
    tcase_add_test(all, many_poses_at_once);
    tcase_add_test(all, without_memory);
    suite_add_tcase(s, all);
    return test_run(s);
}

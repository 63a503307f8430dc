/* SPDX-License-Identifier: MIT
 * cavity: a vent is dragged about on cavities that are kept. */
#include "failing.h"
#include "shapes.h"
#include "test.h"

static const double PI = 3.14159265358979323846;

/* A hollow ball with a bore of 3 mm on top, and where else the vent of 2 mm goes. */
static const double OUTER = 20.0, INNER = 18.0, RADIUS = 1.5;
static const double bottom[7] = {0, 0, 20, 0, 0, 1, 3};
static const double way[4][3] = {{1, 0, 0}, {0.3, -0.8, 0.5}, {-0.6, 0.2, -0.7}, {0, 0.05, -1}};

static void vent_at(int i, double vent[7])
{
    double length = sqrt(way[i][0] * way[i][0] + way[i][1] * way[i][1] + way[i][2] * way[i][2]);
    for (int k = 0; k < 3; k++) {
        vent[3 + k] = way[i][k] / length;
        vent[k] = OUTER * vent[3 + k];
    }
    vent[6] = 2.0;
}

static vug_cavities *find(vug_context *ctx, const vug_mesh *mesh, const double *holes, size_t count)
{
    vug_cavity_options options;
    vug_cavities *cavities = NULL;
    vug_cavity_options_init(&options, sizeof options);
    options.detect = 0;
    ck_ok(ctx, vug_cavities_find(ctx, mesh, holes, count, &options, &cavities));
    return cavities;
}

static vug_cavity_info cavity(const vug_cavities *c, size_t i)
{
    vug_cavity_info info = {.struct_size = sizeof info};
    ck_assert_int_eq(vug_cavities_get(c, i, &info), VUG_OK);
    return info;
}

static vug_opening_info opening(const vug_cavities *c, size_t i)
{
    vug_opening_info info = {.struct_size = sizeof info};
    ck_assert_int_eq(vug_cavities_opening(c, i, &info), VUG_OK);
    return info;
}

static vug_pockets_info air(vug_context *ctx, const vug_cavities *c, const double up[3])
{
    vug_pockets *pockets = NULL;
    vug_pockets_info info = {.struct_size = sizeof info};
    ck_ok(ctx, vug_pockets_find(ctx, c, up, NULL, 0, NULL, &pockets));
    ck_assert_int_eq(vug_pockets_totals(pockets, &info), VUG_OK);
    vug_pockets_free(pockets);
    return info;
}

/* The volume that a bore adds: to a ball its cylinder between two caps, by any handbook. */
static double bore_mm3(double r)
{
    double out = sqrt(OUTER * OUTER - r * r), in = sqrt(INNER * INNER - r * r);
    double cap = PI * (INNER - in) * (INNER - in) * (2.0 * INNER + in) / 3.0;
    double lid = PI * (OUTER - out) * (OUTER - out) * (2.0 * OUTER + out) / 3.0;
    return PI * r * r * (out - in) - cap + lid;
}

/* Each place from the same cavities: all figures are those of a search with the vent named. */
START_TEST(as_if_it_had_been_named)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = shape_hollow_ball(ctx, INNER, OUTER, RADIUS, 90);
    vug_cavities *kept = find(ctx, mesh, bottom, 1);
    double before = cavity(kept, 0).volume_mm3;
    for (int i = 0; i < 4; i++) {
        double holes[14];
        vug_cavities *moved = NULL;
        memcpy(holes, bottom, sizeof bottom);
        vent_at(i, holes + 7);
        vug_cavities *named = find(ctx, mesh, holes, 2);
        ck_ok(ctx, vug_cavities_with_bores(ctx, kept, holes + 7, 1, &moved));
        ck_assert_uint_eq(vug_cavities_count(moved), 1);
        ck_assert_uint_eq(vug_cavities_opening_count(moved), 2);
        vug_opening_info a = opening(moved, 1), b = opening(named, 1);
        ck_assert_int_eq(memcmp(&a, &b, sizeof a), 0);
        ck_assert_int_eq(a.planned, 1);
        vug_cavity_info ca = cavity(moved, 0), cb = cavity(named, 0);
        ck_close(ca.volume_mm3, cb.volume_mm3, 1e-9);
        ck_close(ca.volume_error_mm3, cb.volume_error_mm3, 1e-9);
        ck_assert_uint_eq(ca.openings, 2);
        ck_close(ca.volume_mm3 - before, bore_mm3(1.0), 0.06); /* a ball of flat faces */
        ck_assert(air(ctx, moved, way[i]).trapped_mm3 == air(ctx, named, way[i]).trapped_mm3);
        ck_assert(cavity(kept, 0).volume_mm3 == before);
        ck_assert_uint_eq(vug_cavities_opening_count(kept), 1);
        vug_cavities_free(moved);
        vug_cavities_free(named);
    }
    vug_cavities_free(kept);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* And those of the part in which the vent has really been cut, within the errors that both state. */
START_TEST(as_if_it_had_been_drilled)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = shape_hollow_ball(ctx, INNER, OUTER, RADIUS, 90);
    vug_cavities *kept = find(ctx, mesh, bottom, 1);
    vug_bore_options round;
    vug_bore_options_init(&round, sizeof round);
    round.error_mm = 1e-4; /* 0.01 mm of level would be 10 mm3 in this ball */
    for (int i = 0; i < 4; i++) {
        double holes[14], row[VUG_BORE_ROW] = {0};
        vug_mesh *drilled = NULL;
        vug_cavities *moved = NULL;
        memcpy(holes, bottom, sizeof bottom);
        vent_at(i, holes + 7);
        for (int k = 0; k < 3; k++) {
            row[k] = holes[7 + k];
            row[3 + k] = -holes[10 + k];
        }
        row[6] = holes[13];
        ck_ok(ctx, vug_cavities_with_bores(ctx, kept, holes + 7, 1, &moved));
        ck_ok(ctx, vug_shape_bore(ctx, mesh, row, 1, &round, NULL, &drilled));
        vug_cavities *cut = find(ctx, drilled, holes, 2);
        vug_cavity_info a = cavity(moved, 0), b = cavity(cut, 0);
        ck_close(a.volume_mm3, b.volume_mm3, a.volume_error_mm3 + b.volume_error_mm3 + 1e-6);
        vug_opening_info oa = opening(moved, 1), ob = opening(cut, 1);
        ck_assert_int_eq(ob.planned, 0);
        ck_close(oa.diameter_mm, ob.diameter_mm, 1e-3);
        /* On the skin against amid the rim: r^2 / 2 R below, and R (1 - cos 2 deg) for each way facets go. */
        for (int k = 0; k < 3; k++)
            ck_close(oa.center_mm[k], ob.center_mm[k], 1.0 / 40.0 + 2.0 * 0.0122);
        for (int pose = 0; pose < 4; pose++) {
            vug_pockets_info p = air(ctx, moved, way[pose]), q = air(ctx, cut, way[pose]);
            ck_close(p.trapped_mm3, q.trapped_mm3, p.trapped_error_mm3 + q.trapped_error_mm3);
        }
        ck_assert(air(ctx, moved, way[i]).trapped_mm3 < 1.0); /* the vent is the highest place */
        ck_assert(air(ctx, kept, way[3]).trapped_mm3 > 0.9 * a.volume_mm3);
        vug_cavities_free(cut);
        vug_cavities_free(moved);
        vug_mesh_free(drilled);
    }
    vug_cavities_free(kept);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* A block with two sealed rooms, the larger on the left. Walls of 2 mm, by hand. */
static vug_cavities *two_rooms(vug_context *ctx)
{
    static const double box[6][3] = {{0, 0, 0}, {42, 20, 20}, {2, 2, 2}, {22, 18, 18}, {24, 2, 2},
        {40, 18, 18}};
    shape s = {.xyz = NULL};
    shape_box(&s, box[0], box[1], 0);
    shape_box(&s, box[2], box[3], 1);
    shape_box(&s, box[4], box[5], 1);
    vug_mesh *mesh = shape_mesh(ctx, &s);
    vug_cavities *c = find(ctx, mesh, NULL, 0);
    vug_mesh_free(mesh);
    return c;
}

/* Later openings move up; bores add up, wherever they are added. By hand: pi r^2 times 2 mm. */
START_TEST(openings_keep_their_order)
{
    static const double right[7] = {32, 10, 20, 0, 0, 1, 4}, left[7] = {12, 10, 20, 0, 0, 2, 2};
    vug_context *ctx = test_context();
    vug_cavities *none = two_rooms(ctx), *one = NULL, *two = NULL, *copy = NULL;
    ck_ok(ctx, vug_cavities_with_bores(ctx, none, right, 1, &one));
    ck_assert_uint_eq(opening(one, 0).cavity, 1);
    ck_assert_int_eq(cavity(one, 0).sealed, 1);
    ck_assert_int_eq(cavity(one, 1).sealed, 0);
    ck_ok(ctx, vug_cavities_with_bores(ctx, one, left, 1, &two));
    ck_assert_uint_eq(opening(two, 0).cavity, 0);
    ck_assert_uint_eq(opening(two, 1).cavity, 1);
    ck_close(opening(two, 1).diameter_mm, 4.0, 1e-12);
    ck_close(cavity(two, 0).volume_mm3, 20.0 * 16 * 16 + PI * 2.0, 1e-6);
    ck_close(cavity(two, 1).volume_mm3, 16.0 * 16 * 16 + PI * 4.0 * 2.0, 1e-6);
    vug_cavities_free(none);
    vug_cavities_free(one); /* each keeps what it needs */
    ck_ok(ctx, vug_cavities_with_bores(ctx, two, NULL, 0, &copy));
    vug_cavities_free(two);
    ck_assert_uint_eq(vug_cavities_opening_count(copy), 2);
    ck_close(opening(copy, 0).bore_length_mm, 2.0, 1e-9);
    vug_cavities_free(copy);
    vug_context_free(ctx);
}
END_TEST

START_TEST(no_room_for_a_bore)
{
    static const double good[7] = {12, 10, 20, 0, 0, 1, 2};
    static const struct {
        double hole[7];
        vug_status status;
        const char *says;
    } cases[] = {
        {{100, 100, 20, 0, 0, 1, 2}, VUG_ERR_NOT_FOUND, "no wall"},
        {{12, 12.5, 20, 0, 0, 1, 4}, VUG_ERR_NOT_FOUND, "another opening"},
        {{12, 10, 20, 0, 0, 1, 2}, VUG_ERR_NOT_FOUND, "another opening"},
        {{32, 10, 20, 0, 0, 0, 2}, VUG_ERR_ARGUMENT, "no length"},
        {{32, NAN, 20, 0, 0, 1, 2}, VUG_ERR_ARGUMENT, "not finite"},
        {{32, 10, 20, 0, 0, 1, 0}, VUG_ERR_ARGUMENT, "not above 0"},
    };
    vug_context *ctx = test_context();
    vug_cavities *none = two_rooms(ctx), *one = NULL, *out = NULL;
    ck_ok(ctx, vug_cavities_with_bores(ctx, none, good, 1, &one));
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        ck_assert_int_eq(vug_cavities_with_bores(ctx, one, cases[i].hole, 1, &out),
            cases[i].status);
        ck_assert_msg(strstr(vug_context_message(ctx), cases[i].says) != NULL, "%s",
            vug_context_message(ctx));
        ck_assert_ptr_null(out);
    }
    ck_assert_int_eq(vug_cavities_with_bores(NULL, one, good, 1, &out), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_cavities_with_bores(ctx, NULL, good, 1, &out), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_cavities_with_bores(ctx, one, NULL, 1, &out), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_cavities_with_bores(ctx, one, good, 1, NULL), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_cavities_with_bores(ctx, one, good, VUG_MAX_OPENINGS + 1, &out),
        VUG_ERR_LIMIT);
    vug_context_cancel(ctx);
    ck_assert_int_eq(vug_cavities_with_bores(ctx, none, good, 1, &out), VUG_ERR_CANCELLED);
    ck_assert_ptr_null(out);
    vug_cavities_free(one);
    vug_cavities_free(none);
    vug_context_free(ctx);
}
END_TEST

static vug_status plan_two(vug_context *ctx, void *data)
{
    static const double holes[14] = {12, 10, 20, 0, 0, 1, 2, 32, 10, 20, 0, 0, 1, 4};
    vug_cavities *out = NULL;
    vug_status status = vug_cavities_with_bores(ctx, data, holes, 2, &out);
    vug_cavities_free(out);
    return status;
}

START_TEST(memory_fails)
{
    vug_context *ctx = test_context();
    vug_cavities *none = two_rooms(ctx);
    failing_until_success(plan_two, none);
    vug_cavities_free(none);
    vug_context_free(ctx);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("with_bores");
    TCase *tc = tcase_create("with_bores");
    tcase_add_test(tc, as_if_it_had_been_named);
    tcase_add_test(tc, as_if_it_had_been_drilled);
    tcase_add_test(tc, openings_keep_their_order);
    tcase_add_test(tc, no_room_for_a_bore);
    tcase_add_test(tc, memory_fails);
    suite_add_tcase(suite, tc);
    return test_run(suite);
}

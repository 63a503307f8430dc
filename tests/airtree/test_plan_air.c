/* SPDX-License-Identifier: MIT
 * plan: nodes of a pose and finite air in them, against volumes that any handbook gives and against
 * the flood from the vents. */
#include "cavity/set.h"
#include "column/columns.h"
#include "column/pose.h"
#include "plan/search/tilt.h"
#include "pose/pose.h"

#include "shapes.h"
#include "test.h"

static const double PI = 3.14159265358979323846;

/* A round cavity with two nodes: a cylinder r 10 up to z 25 in the middle, a ring 12 < r < 20 up to
 * z 30, both over a sill at z 20; floor at 0; in a block with a 2 mm wall. */
static vug_cavities *two_domes(vug_context *ctx)
{
    const double inner[] = {0, 0, 20, 0, 20, 30, 12, 30, 12, 20, 10, 20, 10, 25, 0, 25};
    const double outer[] = {0, -2, 22, -2, 22, 32, 0, 32};
    shape s = {0};
    shape_revolve(&s, outer, 4, 360, 0);
    shape_revolve(&s, inner, 8, 360, 1);
    vug_mesh *mesh = shape_mesh(ctx, &s);
    vug_cavities *c = NULL;
    vug_cavity_options options;
    vug_cavity_options_init(&options, sizeof options);
    options.detect = 0;
    ck_ok(ctx, vug_cavities_find(ctx, mesh, NULL, 0, &options, &c));
    vug_mesh_free(mesh);
    return c;
}

static void domes_of(vug_context *ctx, const vug_cavities *c, const double up[3], double h,
    vugi_airtree *d)
{
    vugi_columns columns = {.nx = 0};
    vugi_bodies bodies = vugi_cavities_bodies(c);
    ck_ok(ctx, vugi_columns_build(ctx, &ctx->mem, &bodies, up, h, &columns));
    ck_ok(ctx,
        vugi_airtree_build(ctx, &ctx->mem, &columns, vugi_columns_volume(&columns), 4.0 * h * h * h,
            d));
    vugi_columns_free(&ctx->mem, &columns);
}

static uint32_t leaf_at(const vugi_airtree *d, double x, double y, double z)
{
    const double part[3] = {x, y, z};
    double pose[3];
    vugi_to_pose(d->basis, part, pose);
    return d->leaf[vugi_airtree_span(d, pose, -1)];
}

START_TEST(two_domes_and_their_sill)
{
    vug_context *ctx = test_context();
    vug_cavities *c = two_domes(ctx);
    vugi_airtree d = {.nx = 0};
    const double up[3] = {0, 0, 1};
    domes_of(ctx, c, up, 0.25, &d);
    ck_assert_uint_eq(d.count, 3);
    uint32_t middle = leaf_at(&d, 0.0, 0.0, 5.0), ring = leaf_at(&d, 15.0, 3.0, 28.0);
    ck_assert_uint_ne(middle, ring);
    double v_middle = PI * 100.0 * 5.0, v_ring = PI * (400.0 - 144.0) * 10.0;
    ck_near(d.node[middle].room, v_middle, 0.01);
    ck_near(d.node[ring].room, v_ring, 0.01);
    ck_close(d.node[middle].sill, 20.0, 1e-4);
    ck_assert_uint_eq(d.node[middle].beyond, ring);
    ck_assert_uint_eq(d.node[ring].beyond, middle);
    ck_near(vugi_airnode_volume(&d, ring, 25.0), v_ring / 2.0, 0.01);
    ck_close(vugi_airnode_level(&d, ring, v_ring / 4.0), 27.5, 0.05);
    ck_near(d.volume, v_middle + v_ring + PI * 400.0 * 20.0, 0.005);
    vugi_airtree_free(&ctx->mem, &d);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* What is too small for a node of its own is counted to the one behind its sill; a vent up in it lets air of
 * that node out only down to where both meet, at 20 by hand. */
START_TEST(a_vent_in_a_speck_works_from_its_sill)
{
    vug_context *ctx = test_context();
    vug_cavities *c = two_domes(ctx);
    vugi_columns columns = {.nx = 0};
    const vugi_bodies bodies = vugi_cavities_bodies(c);
    vugi_airtree d = {.nx = 0};
    vugi_vents v = {.room = NULL};
    const double up[3] = {0, 0, 1}, speck = 1.1 * PI * 100.0 * 5.0, in_middle[3] = {0, 0, 24};
    ck_ok(ctx, vugi_columns_build(ctx, &ctx->mem, &bodies, up, 0.25, &columns));
    ck_ok(ctx,
        vugi_airtree_build(ctx, &ctx->mem, &columns, vugi_columns_volume(&columns), speck, &d));
    ck_assert_uint_eq(d.count, 1);
    ck_ok(ctx, vugi_vents_build(ctx, &ctx->mem, &d, NULL, NULL, 0, 0, &v));
    double pose[3];
    vugi_to_pose(d.basis, in_middle, pose);
    vugi_vents_span(&d, vugi_airtree_span(&d, pose, -1), 24.5, 7, &v);
    ck_assert_int_eq(v.vent[0], 7);
    ck_close(v.level[0], 20.0, 1e-4);
    vugi_vents_free(&ctx->mem, &v);
    vugi_columns_free(&ctx->mem, &columns);
    vugi_airtree_free(&ctx->mem, &d);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* Air below the middle fills it, then the ring, then both sink below the sill as one. */
START_TEST(air_fills_spills_and_merges)
{
    vug_context *ctx = test_context();
    vug_cavities *c = two_domes(ctx);
    vugi_airtree d = {.nx = 0};
    vugi_vents v = {.room = NULL};
    vugi_air_room room = {.rising = NULL};
    const double up[3] = {0, 0, 1};
    domes_of(ctx, c, up, 0.25, &d);
    uint32_t middle = leaf_at(&d, 0.0, 0.0, 5.0), ring = leaf_at(&d, 15.0, 3.0, 28.0);
    uint32_t both = d.node[ring].parent;
    double own[3], v_middle = d.node[middle].room, v_ring = d.node[ring].room;
    vugi_air air = {.own = own};
    ck_ok(ctx, vugi_vents_build(ctx, &ctx->mem, &d, NULL, NULL, 0, 0, &v));
    for (int step = 1; step <= 12; step++) {
        double given = step * 1000.0;
        ck_assert(vugi_air_room_ready(&ctx->mem, &d, &room));
        room.rising[middle] = given;
        vugi_air_settle(&d, &v, &room, &air);
        ck_near(air.total, given, 1e-12);
        ck_close(own[middle], fmin(given, v_middle), 1e-6);
        ck_close(own[ring], fmin(fmax(0.0, given - v_middle), v_ring), 1e-6);
        ck_close(own[both], fmax(0.0, given - v_middle - v_ring), 1e-6);
    }
    vugi_bubble *bubble;
    size_t count;
    ck_ok(ctx, vugi_air_bubbles(ctx, &ctx->mem, &d, &v, own, &bubble, &count));
    ck_assert_uint_eq(count, 1); /* 12000 mm3: one body, (12000 - both nodes) / (pi 400) below 20 */
    ck_close(bubble[0].level, 20.0 - (12000.0 - PI * (500.0 + 2560.0)) / (PI * 400.0), 0.1);
    vugi_free(&ctx->mem, bubble);
    vugi_air_room_free(&ctx->mem, &room);
    vugi_vents_free(&ctx->mem, &v);
    vugi_airtree_free(&ctx->mem, &d);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* Turned over, the air of both nodes rises to the flat floor and stays one body; turned back, what
 * is no more than the middle holds goes where it is above. Nothing is lost on the way. */
START_TEST(turning_keeps_the_air)
{
    vug_context *ctx = test_context();
    vug_cavities *c = two_domes(ctx);
    vugi_airtree d[3] = {{.nx = 0}};
    vugi_vents v[3] = {{.room = NULL}};
    double *own[3];
    vugi_air_room room = {.rising = NULL};
    const double up[3][3] = {{0, 0, 1}, {0.6, 0, -0.8}, {0, 0, -1}};
    for (int i = 0; i < 3; i++) {
        domes_of(ctx, c, up[i], 0.3, d + i);
        ck_ok(ctx, vugi_vents_build(ctx, &ctx->mem, d + i, NULL, NULL, 0, 0, v + i));
        own[i] = calloc(d[i].count, sizeof(double));
    }
    uint32_t middle = leaf_at(d, 0.0, 0.0, 5.0);
    vugi_air air[3] = {{.own = own[0]}, {.own = own[1]}, {.own = own[2]}};
    ck_assert(vugi_air_room_ready(&ctx->mem, d, &room));
    room.rising[middle] = 3000.0;
    vugi_air_settle(d, v, &room, air);
    for (int from = 0; from < 2; from++) {
        int to = from + 1;
        ck_assert(vugi_air_room_ready(&ctx->mem, d + to, &room));
        vugi_parcel *parcel;
        size_t parcels;
        ck_ok(ctx,
            vugi_air_parcels(ctx, &ctx->mem, d + from, v + from, own[from], 5000, &parcel,
                &parcels));
        vugi_air_release(d + to, parcel, parcels, 0.0, &room);
        vugi_free(&ctx->mem, parcel);
        vugi_air_settle(d + to, v + to, &room, air + to);
        ck_near(air[to].total, 3000.0, 1e-9);
    }
    vugi_bubble *bubble;
    size_t count;
    ck_ok(ctx, vugi_air_bubbles(ctx, &ctx->mem, d + 2, v + 2, own[2], &bubble, &count));
    ck_assert_uint_eq(count, 1);
    ck_close(-bubble[0].level, 3000.0 / (PI * 400.0), 0.05); /* a disc below the old floor */
    vugi_free(&ctx->mem, bubble);
    for (int i = 0; i < 3; i++) {
        free(own[i]);
        vugi_vents_free(&ctx->mem, v + i);
        vugi_airtree_free(&ctx->mem, d + i);
    }
    vugi_air_room_free(&ctx->mem, &room);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* A first fill with vents: the walls themselves (another algorithm, without columns) say the same, the level at
 * which the rim lets go within half a spacing: here through the bore as the columns see it, there by the rim's
 * highest point. */
START_TEST(first_fill_equals_the_flood)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = shape_hollow_ball(ctx, 20.0, 22.0, 1.5, 200);
    double hole[7] = {0, 0, 22, 0, 0, 1, 3}, ups[3 * 40];
    vug_cavities *c = NULL;
    vug_cavity_options options;
    vug_cavity_options_init(&options, sizeof options);
    options.detect = 0;
    ck_ok(ctx, vug_cavities_find(ctx, mesh, hole, 1, &options, &c));
    vug_sphere_points(40, ups);
    int32_t role = VUG_ROLE_OPEN;
    for (int i = 0; i < 40; i++) {
        vugi_pose_setup setup = {.spacing = 0.3, .role = &role};
        vugi_pose_room pose = {.sound = false};
        vugi_pose_sums sums;
        vugi_columns columns = {.nx = 0};
        vugi_airtree d = {.nx = 0};
        vugi_vents v = {.room = NULL};
        vugi_air_room room = {.rising = NULL};
        const vugi_opening *opening = c->opening;
        ck_ok(ctx, vugi_pose_trap(ctx, &ctx->mem, c, &setup, ups + 3 * i, &pose));
        ck_ok(ctx, vugi_pose_sum(ctx, &ctx->mem, c, &setup, &pose, &sums));
        ck_ok(ctx, vugi_pose_columns(ctx, &ctx->mem, c, setup.spacing, ups + 3 * i, &columns));
        ck_ok(ctx,
            vugi_airtree_build(ctx, &ctx->mem, &columns, vugi_columns_volume(&columns), 4 * 0.027,
                &d));
        ck_ok(ctx, vugi_vents_build(ctx, &ctx->mem, &d, &opening, NULL, 1, 1, &v));
        double *own = calloc(d.count, sizeof *own);
        vugi_air air = {.own = own};
        ck_assert(vugi_air_room_ready(&ctx->mem, &d, &room));
        vugi_air_first(&d, &v, &room, &air);
        ck_close(air.total, sums.trapped, 0.5 * d.h * PI * 400.0);
        /* all air there is, rising, comes to the same as a first fill */
        ck_assert(vugi_air_room_ready(&ctx->mem, &d, &room));
        room.rising[d.leaf[0]] = d.volume;
        double first = air.total;
        vugi_air_settle(&d, &v, &room, &air);
        ck_close(air.total, first, 0.002 * d.volume);
        ck_near(air.total + air.escaped, d.volume, 1e-9);
        free(own);
        vugi_air_room_free(&ctx->mem, &room);
        vugi_vents_free(&ctx->mem, &v);
        vugi_airtree_free(&ctx->mem, &d);
        vugi_columns_free(&ctx->mem, &columns);
        vugi_pose_room_free(&ctx->mem, &pose);
    }
    vug_cavities_free(c);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* ---- the search against all sequences ---------------------------------------------------- */

/* A round cavity of blind annular and central recesses above and below, so that turning matters. */
static vug_cavities *recessed(vug_context *ctx)
{
    const double inner[] = {0, 6, 5, 6, 5, 10, 9, 10, 9, 0, 20, 0, 20, 30, 13, 30, 13, 18, 9, 18, 9,
        27, 0, 27};
    const double outer[] = {0, -2, 22, -2, 22, 32, 0, 32};
    const double hole[7] = {22, 0, 24, 1, 0, 0, 3};
    shape s = {0};
    shape_revolve(&s, outer, 4, 120, 0);
    shape_revolve(&s, inner, 12, 120, 1);
    vug_mesh *mesh = shape_mesh(ctx, &s);
    vug_cavities *c = NULL;
    vug_cavity_options options;
    vug_cavity_options_init(&options, sizeof options);
    options.detect = 0;
    ck_ok(ctx, vug_cavities_find(ctx, mesh, hole, 1, &options, &c));
    vug_mesh_free(mesh);
    return c;
}

/* Least air over all sequences of exactly `more` turns from this state, by trying every one. */
static void try_all(vug_context *ctx, const vugi_pose_set *s, size_t pose, const double *own,
    int more, int done, double *least)
{
    vugi_parcel *parcel = NULL;
    size_t parcels = 0;
    double total = 0.0;
    for (size_t i = 0; i < s->tree[pose].count; i++)
        total += own[i];
    least[done] = fmin(least[done], total);
    if (more == 0)
        return;
    ck_ok(ctx,
        vugi_air_parcels(ctx, &ctx->mem, s->tree + pose, s->vents + pose, own, 500, &parcel,
            &parcels));
    for (size_t to = 0; to < s->count; to++) {
        vugi_air_room room = {.rising = NULL};
        if (to == pose)
            continue;
        vugi_air air = {.own = calloc(s->tree[to].count, sizeof(double))};
        ck_assert(vugi_air_room_ready(&ctx->mem, s->tree + to, &room));
        vugi_air_release(s->tree + to, parcel, parcels, 0.0, &room);
        vugi_air_settle(s->tree + to, s->vents + to, &room, &air);
        try_all(ctx, s, to, air.own, more - 1, done + 1, least);
        free(air.own);
        vugi_air_room_free(&ctx->mem, &room);
    }
    vugi_free(&ctx->mem, parcel);
}

/* With room for every state the search finds for each number of turns what trying every sequence
 * finds; with the room it has in a plan it comes as close as the states it takes for the same. */
START_TEST(search_equals_trying_all)
{
    enum { POSES = 9, TURNS = 3 };
    vug_context *ctx = test_context();
    vug_cavities *c = recessed(ctx);
    const vugi_opening *opening = c->opening;
    double ups[3 * POSES], least[TURNS + 1];
    vugi_barriers none = {.count = 0};
    vugi_pose_set s = {.count = 0};
    vugi_tilt best[TURNS + 1];
    size_t count;
    vug_sphere_points(POSES, ups);
    ck_ok(ctx, vugi_pose_set_build(ctx, c, &none, ups, NULL, POSES, 0.8, &s));
    ck_ok(ctx, vugi_pose_set_vent(ctx, &opening, NULL, 1, 1, &s));
    for (int i = 0; i <= TURNS; i++)
        least[i] = INFINITY;
    for (size_t i = 0; i < POSES; i++) {
        vugi_air_room room = {.rising = NULL};
        vugi_air air = {.own = calloc(s.tree[i].count, sizeof(double))};
        ck_assert(vugi_air_room_ready(&ctx->mem, s.tree + i, &room));
        vugi_air_first(s.tree + i, s.vents + i, &room, &air);
        try_all(ctx, &s, i, air.own, TURNS, 0, least);
        free(air.own);
        vugi_air_room_free(&ctx->mem, &room);
    }
    ck_assert(least[TURNS] < 0.9 * least[0]); /* turning does help here */
    for (int small = 0; small < 2; small++) {
        vugi_tilt_task task = {.first = UINT32_MAX,
            .last = UINT32_MAX,
            .max_turns = TURNS,
            .width = small ? 3 : 1000,
            .frontier = small ? POSES + 32 : 100000,
            .limit = -1.0,
            .same = small ? 2e-4 * s.capacity : 0.0};
        ck_ok(ctx, vugi_tilt_search(ctx, &s, &task, best, &count));
        ck_assert_uint_ge(count, 2);
        for (size_t i = 0; i < count; i++)
            ck_close(best[i].air[best[i].turns], least[best[i].turns], 1e-3 * s.capacity);
        for (size_t i = 0; i < count && !small; i++)
            ck_near(best[i].air[best[i].turns], least[best[i].turns], 1e-9);
    }
    vugi_pose_set_free(&ctx->mem, &s);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("plan air");
    TCase *tc = tcase_create("air");
    tcase_add_test(tc, two_domes_and_their_sill);
    tcase_add_test(tc, a_vent_in_a_speck_works_from_its_sill);
    tcase_add_test(tc, air_fills_spills_and_merges);
    tcase_add_test(tc, turning_keeps_the_air);
    tcase_add_test(tc, first_fill_equals_the_flood);
    tcase_add_test(tc, search_equals_trying_all);
    suite_add_tcase(suite, tc);
    return test_run(suite);
}

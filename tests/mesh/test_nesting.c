/* SPDX-License-Identifier: MIT
 * mesh: which shell lies in which, exact signs. The truth is known by construction: boxes on a
 * grid of whole numbers, so that rays meet edges and corners all the time. */
#include "mesh/exact.h"
#include "mesh/nesting.h"
#include "test.h"

enum { MAX_BOXES = 4000 };

typedef struct box {
    int lo[3], hi[3];
    int32_t parent;
    uint32_t depth;
    bool inward;
} box;

typedef struct boxes {
    box list[MAX_BOXES];
    uint32_t count;
} boxes;

static uint32_t add_box(boxes *b, const int lo[3], const int hi[3], int32_t parent, bool inward)
{
    box *one = &b->list[b->count];
    memcpy(one->lo, lo, sizeof one->lo);
    memcpy(one->hi, hi, sizeof one->hi);
    one->parent = parent;
    one->depth = parent < 0 ? 0 : b->list[parent].depth + 1;
    one->inward = inward;
    return b->count++;
}

/* open: leave out that many triangles of each box. */
static vug_mesh *boxes_mesh(vug_context *ctx, const boxes *b, uint32_t open)
{
    static const uint32_t corners[36] = {0, 2, 1, 1, 2, 3, 4, 5, 6, 5, 7, 6, 0, 1, 4, 1, 5, 4, 2, 6,
        3, 3, 6, 7, 0, 4, 2, 2, 4, 6, 1, 3, 5, 3, 7, 5};
    double *xyz = malloc(b->count * 24 * sizeof *xyz);
    uint32_t *triangles = malloc(b->count * 36 * sizeof *triangles), *t = triangles;
    for (uint32_t i = 0; i < b->count; i++) {
        for (uint32_t c = 0; c < 8; c++)
            for (uint32_t k = 0; k < 3; k++)
                xyz[24 * i + 3 * c + k] = c >> k & 1 ? b->list[i].hi[k] : b->list[i].lo[k];
        for (uint32_t j = 0; j < 36 - 3 * open; j++) {
            uint32_t corner = b->list[i].inward && j % 3 ? j + 3 - 2 * (j % 3) : j;
            *t++ = 8 * i + corners[corner];
        }
    }
    vug_mesh *mesh = NULL;
    ck_ok(ctx,
        vug_mesh_from_arrays(ctx, xyz, 8 * b->count, 0, triangles, (size_t)(t - triangles) / 3, 0,
            &mesh));
    free(xyz);
    free(triangles);
    return mesh;
}

static void check_boxes(const boxes *b, uint32_t open)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = boxes_mesh(ctx, b, open);
    vug_shells *shells = NULL;
    vugi_nesting nesting;
    ck_ok(ctx, vug_mesh_shells(ctx, mesh, &shells));
    ck_assert_uint_eq(vug_shells_count(shells), b->count);
    ck_ok(ctx, vugi_shells_nesting(ctx, mesh, shells, NULL, &nesting));
    for (uint32_t i = 0; i < b->count; i++) {
        ck_assert_msg((int32_t)nesting.parent[i] == b->list[i].parent
                && nesting.depth[i] == b->list[i].depth,
            "box %u: parent %d depth %u, not %d %u", i, (int32_t)nesting.parent[i],
            nesting.depth[i], b->list[i].parent, b->list[i].depth);
        ck_assert_uint_eq(nesting.body[i], i);
    }
    vugi_nesting_free(ctx, &nesting);
    vug_shells_free(shells);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}

static uint32_t next_random(uint32_t *state)
{
    *state = *state * 1664525u + 1013904223u; /* Numerical Recipes' quick generator */
    return *state >> 8;
}

/* Fills a box with a grid of smaller ones, some of which hold boxes again. */
static void fill(boxes *b, int32_t parent, uint32_t *state)
{
    box around = b->list[parent];
    int room = around.hi[0] - around.lo[0];
    if (room < 8)
        return;
    int parts = 1 + (int)(next_random(state) % 3), step = (room - 2) / parts;
    for (int i = 0; i < parts * parts * parts && b->count < MAX_BOXES; i++) {
        if (next_random(state) % 3 == 0 || step < 3)
            continue;
        int at[3] = {i % parts, i / parts % parts, i / parts / parts}, lo[3], hi[3];
        for (int k = 0; k < 3; k++) {
            lo[k] = around.lo[k] + 1 + at[k] * step;
            hi[k] = lo[k] + step - 1;
        }
        uint32_t one = add_box(b, lo, hi, parent, next_random(state) % 2);
        fill(b, (int32_t)one, state);
    }
}

START_TEST(boxes_in_boxes)
{
    boxes *b = malloc(sizeof *b);
    for (uint32_t seed = 1; seed <= 20; seed++) {
        b->count = 0;
        uint32_t state = seed;
        for (int i = 0; i < 3; i++) {
            const int lo[3] = {100 * i, 0, 0}, hi[3] = {100 * i + 90, 90, 90};
            uint32_t one = add_box(b, lo, hi, -1, false);
            fill(b, (int32_t)one, &state);
        }
        ck_assert_uint_gt(b->count, 3);
        check_boxes(b, 0);
    }
    free(b);
}
END_TEST

START_TEST(thousands_of_boxes_in_one)
{
    boxes *b = malloc(sizeof *b);
    b->count = 0;
    const int lo[3] = {-1, -1, -1}, hi[3] = {100, 100, 100};
    add_box(b, lo, hi, -1, false);
    for (int i = 0; i < 15 * 15 * 15; i++) {
        const int a[3] = {i % 15 * 5, i / 15 % 15 * 5, i / 225 * 5};
        const int c[3] = {a[0] + 3, a[1] + 3, a[2] + 3};
        add_box(b, a, c, 0, true);
    }
    check_boxes(b, 0);
    free(b);
}
END_TEST

START_TEST(open_boxes_still_hold)
{
    boxes *b = malloc(sizeof *b);
    b->count = 0;
    const int lo[3] = {0, 0, 0}, hi[3] = {90, 90, 90};
    const int lo2[3] = {20, 30, 40}, hi2[3] = {70, 60, 55};
    const int lo3[3] = {31, 41, 43}, hi3[3] = {52, 55, 51};
    uint32_t one = add_box(b, lo, hi, -1, false);
    one = add_box(b, lo2, hi2, (int32_t)one, false);
    add_box(b, lo3, hi3, (int32_t)one, false);
    check_boxes(b, 1); /* without one triangle of the side x = hi */
    check_boxes(b, 2); /* without that side */
    free(b);
}
END_TEST

START_TEST(crossing_boxes_are_one_body)
{
    vug_context *ctx = test_context();
    boxes *b = malloc(sizeof *b);
    b->count = 0;
    const int lo[3] = {0, 0, 0}, hi[3] = {10, 10, 10};
    const int lo2[3] = {5, 1, 1}, hi2[3] = {15, 9, 9}; /* half in, half out */
    const int lo3[3] = {6, 3, 3}, hi3[3] = {8, 5, 5};  /* in both */
    const int lo4[3] = {20, 0, 0}, hi4[3] = {30, 10, 10};
    const int lo5[3] = {12, 3, 3}, hi5[3] = {14, 5, 5}; /* in the second only */
    add_box(b, lo, hi, -1, false);
    add_box(b, lo2, hi2, -1, false);
    add_box(b, lo3, hi3, -1, false);
    add_box(b, lo4, hi4, -1, false);
    add_box(b, lo5, hi5, -1, false);
    vug_mesh *mesh = boxes_mesh(ctx, b, 0);
    vug_shells *shells = NULL;
    vugi_nesting n;
    ck_ok(ctx, vug_mesh_shells(ctx, mesh, &shells));
    ck_ok(ctx, vugi_shells_nesting(ctx, mesh, shells, NULL, &n));
    const uint32_t body[5] = {0, 0, 2, 3, 4}, depth[5] = {0, 0, 1, 0, 1};
    for (int i = 0; i < 5; i++) {
        ck_assert_uint_eq(n.body[i], body[i]);
        ck_assert_uint_eq(n.depth[i], depth[i]);
    }
    ck_assert_uint_eq(n.parent[2], 1); /* the smaller of the two around it */
    ck_assert_uint_eq(n.parent[4], 1);
    ck_assert_uint_eq(n.parent[1], UINT32_MAX);
    vugi_nesting_free(ctx, &n);
    vug_shells_free(shells);
    vug_mesh_free(mesh);
    free(b);
    vug_context_free(ctx);
}
END_TEST

START_TEST(turns_are_exact)
{
    /* Points near (0.5, 0.5) by steps of 2^-53, against a line through 12 and 24: the example of
     * L. Kettner et al., Classroom examples of robustness problems in geometric computations,
     * Computational Geometry 40, 2008. The line is the diagonal, so the truth is plain. */
    const double b[2] = {12.0, 12.0}, c[2] = {24.0, 24.0};
    int naive_wrong = 0;
    for (int i = 0; i < 64; i++) {
        for (int j = 0; j < 64; j++) {
            const double a[2] = {0.5 + i * 0x1p-53, 0.5 + j * 0x1p-53};
            int want = (j > i) - (j < i);
            ck_assert_int_eq(vugi_turn(a, b, c), want);
            ck_assert_int_eq(vugi_turn(c, b, a), -want);
            double naive = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
            naive_wrong += (naive > 0.0) - (naive < 0.0) != want;
        }
    }
    ck_assert_int_gt(naive_wrong, 0); /* the example is hard enough */
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("nesting");
    TCase *tc = tcase_create("nesting");
    tcase_add_test(tc, boxes_in_boxes);
    tcase_add_test(tc, thousands_of_boxes_in_one);
    tcase_add_test(tc, open_boxes_still_hold);
    tcase_add_test(tc, crossing_boxes_are_one_body);
    tcase_add_test(tc, turns_are_exact);
    suite_add_tcase(suite, tc);
    return test_run(suite);
}

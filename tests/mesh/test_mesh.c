/* SPDX-License-Identifier: MIT
 * mesh: arrays, welding, edges, measures, shells, sharing. */
#include "mesh/edges.h"
#include "mesh/mesh.h"
#include "mesh/number.h"
#include "mesh/shells.h"
#include "mesh/tree.h"

#include "test.h"

#include <fenv.h>

/* ---- shapes -------------------------------------------------------------------- */

/* Counts and measures below are those of unit cubes, by hand: 8 corners, 12 triangles, 18 edges (Euler: 8 - 18 +
 * 12 = 2), volume 1, area 6, and what two of them have in common where they touch. */

static const double cube_xyz[24] = {0, 0, 0, 1, 0, 0, 1, 1, 0, 0, 1, 0, 0, 0, 1, 1, 0, 1, 1, 1, 1,
    0, 1, 1};
static const uint32_t cube_triangles[36] = {0, 2, 1, 0, 3, 2, 4, 5, 6, 4, 6, 7, 0, 1, 5, 0, 5, 4, 1,
    2, 6, 1, 6, 5, 2, 3, 7, 2, 7, 6, 3, 0, 4, 3, 4, 7};

static vug_mesh *make(vug_context *ctx, const double *xyz, size_t vertices,
    const uint32_t *triangles, size_t count)
{
    vug_mesh *mesh = NULL;
    ck_ok(ctx, vug_mesh_from_arrays(ctx, xyz, vertices, 0, triangles, count, 0, &mesh));
    return mesh;
}

static vug_mesh_measures measure(vug_context *ctx, const vug_mesh *mesh)
{
    vug_mesh_measures m = {.struct_size = sizeof m};
    ck_ok(ctx, vug_mesh_measure(ctx, mesh, &m));
    return m;
}

/* Two cubes: the second is the first moved by (dx, dy, dz). */
static vug_mesh *two_cubes(vug_context *ctx, double dx, double dy, double dz)
{
    double xyz[48];
    uint32_t triangles[72];
    for (int i = 0; i < 24; i++) {
        xyz[i] = cube_xyz[i];
        xyz[24 + i] = cube_xyz[i] + (i % 3 == 0 ? dx : i % 3 == 1 ? dy : dz);
    }
    for (int i = 0; i < 36; i++) {
        triangles[i] = cube_triangles[i];
        triangles[36 + i] = cube_triangles[i] + 8;
    }
    return make(ctx, xyz, 16, triangles, 24);
}

/* ---- arrays and welding ---------------------------------------------------------- */

START_TEST(cube_has_its_measures)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = make(ctx, cube_xyz, 8, cube_triangles, 12);
    vug_mesh_measures m = measure(ctx, mesh);
    ck_assert_uint_eq(m.vertices, 8);
    ck_assert_uint_eq(m.triangles, 12);
    ck_assert_uint_eq(m.shells, 1);
    ck_assert_int_eq(m.closed, 1);
    ck_assert_uint_eq(m.degenerate + m.edges_open + m.edges_nonmanifold + m.edges_flipped, 0);
    ck_near(m.volume_mm3, 1.0, 1e-15);
    ck_near(m.area_mm2, 6.0, 1e-15);
    for (int k = 0; k < 3; k++) {
        ck_close(m.centroid_mm[k], 0.5, 1e-15);
        ck_assert(m.lo_mm[k] == 0.0 && m.hi_mm[k] == 1.0);
    }
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

START_TEST(equal_vertices_are_welded)
{
    vug_context *ctx = test_context();
    double xyz[3 * 36];
    uint32_t triangles[36];
    for (uint32_t i = 0; i < 36; i++) {
        for (int k = 0; k < 3; k++)
            xyz[3 * i + (uint32_t)k] = cube_xyz[3 * cube_triangles[i] + (uint32_t)k];
        if (xyz[3 * i] == 0.0 && i % 2)
            xyz[3 * i] = -0.0; /* equals 0 */
        triangles[i] = i;
    }
    vug_mesh *mesh = make(ctx, xyz, 36, triangles, 12);
    ck_assert_uint_eq(vug_mesh_vertex_count(mesh), 8);
    ck_assert_uint_eq(vug_mesh_triangle_count(mesh), 12);
    for (size_t i = 0; i < 24; i++)
        ck_assert(!signbit(vug_mesh_vertices(mesh)[i]));
    vug_mesh_measures m = measure(ctx, mesh);
    ck_assert_int_eq(m.closed, 1);
    ck_near(m.volume_mm3, 1.0, 1e-15);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

START_TEST(rows_may_be_apart)
{
    struct row {
        double p[3];
        float colour[4];
    } rows[8];
    struct face {
        uint32_t material;
        uint32_t corner[3];
    } faces[12];
    vug_context *ctx = test_context();
    for (int v = 0; v < 8; v++)
        memcpy(rows[v].p, cube_xyz + 3 * v, sizeof rows[v].p);
    for (int t = 0; t < 12; t++)
        memcpy(faces[t].corner, cube_triangles + 3 * t, sizeof faces[t].corner);
    vug_mesh *mesh = NULL;
    ck_ok(ctx,
        vug_mesh_from_arrays(ctx, rows[0].p, 8, sizeof rows[0], faces[0].corner, 12,
            sizeof faces[0], &mesh));
    ck_assert_int_eq(memcmp(vug_mesh_vertices(mesh), cube_xyz, sizeof cube_xyz), 0);
    ck_assert_int_eq(memcmp(vug_mesh_triangles(mesh), cube_triangles, sizeof cube_triangles), 0);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

START_TEST(unused_vertices_are_left_out)
{
    vug_context *ctx = test_context();
    double xyz[27] = {100.0, 100.0, 100.0};
    uint32_t triangles[36];
    memcpy(xyz + 3, cube_xyz, sizeof cube_xyz);
    for (int i = 0; i < 36; i++)
        triangles[i] = cube_triangles[i] + 1;
    vug_mesh *mesh = make(ctx, xyz, 9, triangles, 12);
    ck_assert_uint_eq(vug_mesh_vertex_count(mesh), 8);
    ck_assert(measure(ctx, mesh).hi_mm[0] == 1.0);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

static void refused(const double *xyz, size_t vertices, size_t stride, const uint32_t *triangles,
    size_t count, size_t triangle_stride, vug_status status, const char *message)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = NULL;
    ck_assert_int_eq(vug_mesh_from_arrays(ctx, xyz, vertices, stride, triangles, count,
                         triangle_stride, &mesh),
        status);
    ck_assert_ptr_null(mesh);
    ck_assert_msg(strstr(vug_context_message(ctx), message), "'%s' is not in '%s'", message,
        vug_context_message(ctx));
    vug_context_free(ctx);
}

/* A metre away steps of a float are 6e-5 mm (24 bits); from an origin nearby they are as fine as near 0. */
START_TEST(vertices_as_floats)
{
    vug_context *ctx = test_context();
    const double xyz[9] = {1000.0, 0.0, 0.0, 1000.00001, 1.0, 0.0, 1000.0, 0.0, 0.1};
    const uint32_t triangle[3] = {0, 1, 2};
    const double origin[3] = {1000.0, 0.0, 0.0};
    float got[9];
    vug_mesh *mesh = NULL;
    ck_ok(ctx, vug_mesh_from_arrays(ctx, xyz, 3, 0, triangle, 1, 0, &mesh));
    ck_assert_int_eq(vug_mesh_vertices_float(mesh, NULL, got), VUG_OK);
    ck_assert(got[0] == got[3] && got[8] == 0.1f);
    ck_assert_int_eq(vug_mesh_vertices_float(mesh, origin, got), VUG_OK);
    ck_close(got[3], 0.00001, 1e-9);
    ck_assert_int_eq(vug_mesh_vertices_float(NULL, NULL, got), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_mesh_vertices_float(mesh, NULL, NULL), VUG_ERR_ARGUMENT);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

START_TEST(bad_arrays_are_refused)
{
    double bad[24];
    uint32_t far[36];
    const uint32_t *t = cube_triangles;
    refused(NULL, 8, 0, t, 12, 0, VUG_ERR_ARGUMENT, "xyz is NULL");
    refused(cube_xyz, 8, 0, NULL, 12, 0, VUG_ERR_ARGUMENT, "triangles is NULL");
    refused(cube_xyz, 8, 23, t, 12, 0, VUG_ERR_ARGUMENT, "23");
    refused(cube_xyz, 8, 0, t, 12, 11, VUG_ERR_ARGUMENT, "11");
    refused(cube_xyz, 8, 0, t, 0, 0, VUG_ERR_MESH, "no triangle");
    refused(cube_xyz, 8, 0, t, (size_t)VUG_MAX_TRIANGLES + 1, 0, VUG_ERR_LIMIT, "2147483648");
    refused(cube_xyz, 8, 0, t, SIZE_MAX, 0, VUG_ERR_LIMIT, "limit");
    refused(cube_xyz, SIZE_MAX, 0, t, 12, 0, VUG_ERR_LIMIT, "limit");
    refused(cube_xyz, 6, 0, t, 12, 0, VUG_ERR_MESH, "triangle 2 names vertex 6");
    memcpy(far, t, sizeof far);
    far[35] = UINT32_MAX;
    refused(cube_xyz, 8, 0, far, 12, 0, VUG_ERR_MESH, "triangle 11 names vertex 4294967295");
    memcpy(bad, cube_xyz, sizeof bad);
    bad[4] = (double)NAN;
    refused(bad, 8, 0, t, 12, 0, VUG_ERR_MESH, "vertex 1: coordinate y");
    bad[4] = -(double)INFINITY;
    refused(bad, 8, 0, t, 12, 0, VUG_ERR_MESH, "vertex 1: coordinate y");
    bad[4] = 2e9;
    refused(bad, 8, 0, t, 12, 0, VUG_ERR_LIMIT, "vertex 1: coordinate y is 2e+09");
}
END_TEST

START_TEST(null_is_harmless)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = NULL;
    vug_shells *shells = NULL;
    vug_mesh_measures m = {.struct_size = sizeof m};
    vug_mesh_free(NULL);
    vug_shells_free(NULL);
    ck_assert_uint_eq(vug_mesh_vertex_count(NULL) + vug_mesh_triangle_count(NULL), 0);
    ck_assert_ptr_null(vug_mesh_vertices(NULL));
    ck_assert_ptr_null(vug_mesh_triangles(NULL));
    ck_assert_uint_eq(vug_shells_count(NULL), 0);
    ck_assert_ptr_null(vug_shells_of_triangles(NULL));
    ck_assert_int_eq(vug_mesh_from_arrays(NULL, cube_xyz, 8, 0, cube_triangles, 12, 0, &mesh),
        VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_mesh_from_arrays(ctx, cube_xyz, 8, 0, cube_triangles, 12, 0, NULL),
        VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_mesh_measure(ctx, NULL, &m), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_mesh_shells(ctx, NULL, &shells), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_shells_get(NULL, 0, &m), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_mesh_load(ctx, NULL, NULL, &mesh), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_mesh_load_memory(ctx, NULL, 5, NULL, NULL, &mesh), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_mesh_save(ctx, NULL, "x", VUG_FORMAT_STL, NULL), VUG_ERR_ARGUMENT);
    ck_assert_ptr_null(mesh);
    vug_context_free(ctx);
}
END_TEST

START_TEST(mesh_outlives_context_and_owners)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = make(ctx, cube_xyz, 8, cube_triangles, 12);
    vug_mesh *again = vugi_mesh_share(mesh);
    vug_context_free(ctx);
    vug_mesh_free(mesh);
    ck_assert_uint_eq(vug_mesh_vertex_count(again), 8);
    vug_mesh_free(again);
}
END_TEST

/* ---- edges -------------------------------------------------------------------------- */

START_TEST(open_edges_are_counted)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = make(ctx, cube_xyz, 8, cube_triangles,
        10); /* one side is missing: its 4 edges */
    vug_mesh_measures m = measure(ctx, mesh);
    ck_assert_uint_eq(m.edges_open, 4);
    ck_assert_uint_eq(m.edges_nonmanifold + m.edges_flipped, 0);
    ck_assert_int_eq(m.closed, 0);
    ck_near(m.area_mm2, 5.0, 1e-15);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

START_TEST(flipped_triangles_are_counted)
{
    vug_context *ctx = test_context();
    uint32_t triangles[36];
    memcpy(triangles, cube_triangles, sizeof triangles);
    triangles[1] = cube_triangles[2];
    triangles[2] = cube_triangles[1];
    vug_mesh *mesh = make(ctx, cube_xyz, 8, triangles, 12);
    vug_mesh_measures m = measure(ctx, mesh);
    ck_assert_uint_eq(m.edges_flipped, 3); /* those of the one triangle */
    ck_assert_uint_eq(m.edges_open + m.edges_nonmanifold, 0);
    ck_assert_int_eq(m.closed, 0);
    ck_assert_uint_eq(m.shells, 1);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

START_TEST(cubes_that_touch_stay_apart)
{
    vug_context *ctx = test_context();
    /* sharing an edge: four triangles meet there, two of each cube */
    vug_mesh *mesh = two_cubes(ctx, 1.0, 1.0, 0.0);
    vug_mesh_measures m = measure(ctx, mesh);
    ck_assert_uint_eq(m.edges_nonmanifold, 1);
    ck_assert_uint_eq(m.edges_open + m.edges_flipped, 0);
    ck_assert_int_eq(m.closed, 1);
    ck_assert_uint_eq(m.shells, 2);
    ck_assert_uint_eq(m.vertices, 14);
    ck_near(m.volume_mm3, 2.0, 1e-15);
    uint32_t other[72];
    ck_ok(ctx, vugi_mesh_neighbours(ctx, mesh, other));
    for (uint32_t h = 0; h < 72; h++)
        ck_assert_uint_eq(other[h] < 12, h / 3 < 12);
    vug_mesh_free(mesh);

    mesh = two_cubes(ctx, 1.0, 1.0, 1.0); /* sharing a corner */
    ck_assert_uint_eq(measure(ctx, mesh).shells, 2);
    ck_assert_uint_eq(measure(ctx, mesh).vertices, 15);
    vug_mesh_free(mesh);

    mesh = two_cubes(ctx, 0.0, 0.0, 0.0); /* one in the same place as the other */
    m = measure(ctx, mesh);
    ck_assert_uint_eq(m.edges_nonmanifold, 18);
    ck_assert_int_eq(m.closed, 1);
    ck_near(m.volume_mm3, 2.0, 1e-15);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

START_TEST(neighbours_lie_across)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = make(ctx, cube_xyz, 8, cube_triangles, 10);
    uint32_t other[30];
    ck_ok(ctx, vugi_mesh_neighbours(ctx, mesh, other));
    int open = 0;
    for (uint32_t h = 0; h < 30; h++) {
        uint32_t a = cube_triangles[h], b = cube_triangles[h % 3 == 2 ? h - 2 : h + 1];
        bool found = false;
        for (uint32_t g = 0; g < 30; g++)
            if (cube_triangles[g] == b && cube_triangles[g % 3 == 2 ? g - 2 : g + 1] == a) {
                ck_assert_uint_eq(other[h], g / 3);
                found = true;
            }
        if (!found)
            ck_assert_uint_eq(other[h], UINT32_MAX);
        open += !found;
    }
    ck_assert_int_eq(open, 4);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* Four leaves meet at each spine, two of either direction: each has its neighbour in its own book, wherever in the list
 * of edges the book stands. The triangles in front shift all books against the blocks that threads take. */
START_TEST(books_are_alike_wherever_they_stand)
{
    enum { BOOKS = 3000, FRONT = 4 };
    const double leaf[6][3] = {{0, 0, 0}, {0, 0, 1}, {1, 0, 0}, {0, 1, 0}, {-1, 0, 0}, {0, -1, 0}};
    const uint32_t book[4][3] = {{0, 1, 2}, {1, 0, 3}, {0, 1, 4}, {1, 0, 5}};
    static double xyz[3 * (3 * FRONT + 6 * BOOKS)];
    static uint32_t triangles[3 * (FRONT + 4 * BOOKS)], other[3 * (FRONT + 4 * BOOKS)];
    vug_context *ctx = test_context();
    for (uint32_t front = 0; front < FRONT; front++) {
        for (uint32_t v = 0; v < 3 * front + 6 * BOOKS; v++) {
            const uint32_t k = v < 3 * front ? v / 3 : (v - 3 * front) / 6;
            for (int i = 0; i < 3; i++)
                xyz[3 * v + i] = leaf[v < 3 * front ? v % 3 : (v - 3 * front) % 6][i]
                    + (i == 0 ? 4.0 * k : 0.0);
            xyz[3 * v + 1] -= v < 3 * front ? 9.0 : 0.0;
        }
        for (uint32_t h = 0; h < 3 * (front + 4 * BOOKS); h++)
            triangles[h] = h < 3 * front
                ? h
                : 3 * front + (h - 3 * front) / 12 * 6 + book[(h - 3 * front) / 3 % 4][h % 3];
        vug_mesh *mesh = make(ctx, xyz, 3 * front + 6 * BOOKS, triangles, front + 4 * BOOKS);
        ck_ok(ctx, vugi_mesh_neighbours(ctx, mesh, other));
        const uint32_t *first = other + 3 * front;
        for (uint32_t t = 0; t < 4; t++) { /* the spine is each leaf's edge 0 */
            ck_assert_uint_lt(first[3 * t] - front, 4);
            ck_assert_uint_eq(first[3 * (first[3 * t] - front)], front + t);
        }
        for (uint32_t k = 1; k < BOOKS; k++)
            for (uint32_t t = 0; t < 4; t++)
                ck_assert_msg(first[12 * k + 3 * t] == first[3 * t] + 4 * k,
                    "leaf %u of book %u, %u in front", t, k, front);
        vug_mesh_free(mesh);
    }
    vug_context_free(ctx);
}
END_TEST

/* An edge's triangles have to be put in order around it, however many they are. Copies of one triangle
 * that all face one way, that turn over one by one, and copies of two triangles in turn: these took
 * Shell's gaps 27 s where a merge sort takes a tenth of one, and the time limit of the test case ends
 * it if that comes back. Sides (1, 2, 2), (2, 1, -2) and (-2, 2, -1): square to each other, 3 long. */
START_TEST(many_triangles_share_an_edge)
{
    enum { COPIES = 262144, ONE_WAY = 0, TURNING, TWO, CASES };
    const uint32_t shape[CASES][2][3] = {{{0, 1, 2}, {0, 1, 2}}, {{0, 1, 2}, {0, 2, 1}},
        {{0, 1, 2}, {0, 1, 3}}};
    const double xyz[12] = {0.0, 0.0, 0.0, 1.0, 2.0, 2.0, 2.0, 1.0, -2.0, -2.0, 2.0, -1.0};
    vug_context *ctx = test_context();
    uint32_t *triangles = malloc(3 * COPIES * sizeof *triangles);
    uint32_t *other = malloc(3 * COPIES * sizeof *other);
    ck_assert(triangles && other);
    for (int which = 0; which < CASES; which++) {
        for (size_t h = 0; h < 3 * COPIES; h++)
            triangles[h] = shape[which][h / 3 % 2][h % 3];
        vug_mesh *mesh = make(ctx, xyz, which == TWO ? 4 : 3, triangles, COPIES);
        vug_mesh_measures m = measure(ctx, mesh);
        ck_near(m.area_mm2, 4.5 * COPIES, 1e-12);
        ck_assert_uint_eq(m.edges_nonmanifold, which == TWO ? 5 : 3);
        ck_assert_uint_eq(m.edges_open, 0);
        ck_ok(ctx, vugi_mesh_neighbours(ctx, mesh, other));
        size_t alone = 0, one_sided = 0, alike = 0;
        for (size_t h = 0; h < 3 * COPIES; h++) {
            size_t o = other[h] < COPIES ? 3 * (size_t)other[h] : SIZE_MAX;
            alone += o == SIZE_MAX;
            if (o == SIZE_MAX)
                continue;
            one_sided += other[o] != h / 3 && other[o + 1] != h / 3 && other[o + 2] != h / 3;
            alike += o / 3 % 2 == h / 3 % 2;
        }
        ck_assert_uint_eq(alone, 0); /* an even number: none is left over */
        ck_assert_uint_eq(one_sided, 0);
        if (which == TURNING) /* solid lies between a triangle and one that faces the other way */
            ck_assert_uint_eq(alike, 0);
        if (which == TWO) /* they stand at different angles: each goes with its like */
            ck_assert_uint_eq(alike, 3 * COPIES);
        vug_mesh_free(mesh);
    }
    free(triangles);
    free(other);
    vug_context_free(ctx);
}
END_TEST

START_TEST(degenerate_triangles_are_counted)
{
    vug_context *ctx = test_context();
    double xyz[27];
    uint32_t triangles[42];
    memcpy(xyz, cube_xyz, sizeof cube_xyz);
    xyz[24] = 0.5; /* the middle of the edge from vertex 0 to vertex 1 */
    xyz[25] = xyz[26] = 0.0;
    memcpy(triangles, cube_triangles, sizeof cube_triangles);
    const uint32_t more[6] = {0, 0, 1, 0, 8, 1}; /* two corners alike; three in line */
    memcpy(triangles + 36, more, sizeof more);
    vug_mesh *mesh = make(ctx, xyz, 9, triangles, 14);
    vug_mesh_measures m = measure(ctx, mesh);
    ck_assert_uint_eq(m.degenerate, 2);
    ck_assert_uint_eq(m.shells, 1);
    ck_near(m.volume_mm3, 1.0, 1e-15);
    ck_near(m.area_mm2, 6.0, 1e-15);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* ---- shells --------------------------------------------------------------------------- */

START_TEST(shells_have_their_own_measures)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = two_cubes(ctx, 5.0, 0.0, 0.0);
    vug_shells *shells = NULL;
    ck_ok(ctx, vug_mesh_shells(ctx, mesh, &shells));
    ck_assert_uint_eq(vug_shells_count(shells), 2);
    const uint32_t *of = vug_shells_of_triangles(shells);
    for (size_t t = 0; t < 24; t++)
        ck_assert_uint_eq(of[t], t / 12);
    for (size_t s = 0; s < 2; s++) {
        vug_mesh_measures m = {.struct_size = sizeof m};
        ck_assert_int_eq(vug_shells_get(shells, s, &m), VUG_OK);
        ck_assert_uint_eq(m.vertices, 8);
        ck_assert_uint_eq(m.triangles, 12);
        ck_assert_int_eq(m.closed, 1);
        ck_near(m.volume_mm3, 1.0, 1e-15);
        ck_near(m.area_mm2, 6.0, 1e-15);
        ck_close(m.centroid_mm[0], 0.5 + 5.0 * (double)s, 1e-14);
        ck_assert(m.lo_mm[0] == 5.0 * (double)s);
    }
    vug_mesh_measures m = {.struct_size = sizeof m};
    ck_assert_int_eq(vug_shells_get(shells, 2, &m), VUG_ERR_NOT_FOUND);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
    ck_assert_uint_eq(vug_shells_count(shells), 2); /* outlives both */
    vug_shells_free(shells);
}
END_TEST

/* ---- numbers in text --------------------------------------------------------------------- */

START_TEST(numbers_are_read_as_c_reads_them)
{
    static const char *const good[] = {"0", "-0", "1", "+1", "1.", ".5", "-12.25", "1e3", "1E+3",
        "2.5e-3", "0.57735027", "123456789012345678901234567890",
        "0.000000000000000000000000123456789", "1e22", "1e-22", "9007199254740993",
        "3.4028234663852886e38", "1.17549435e-38", "1e-400", "00012.50"};
    for (size_t i = 0; i < sizeof good / sizeof *good; i++) {
        double got = -1.0, want = strtod(good[i], NULL); /* in the C locale */
        ck_assert_int_eq(vugi_number_read((const unsigned char *)good[i], strlen(good[i]), &got),
            VUGI_NUMBER_OK);
        ck_assert_msg(fabs(got - want) <= 2.3e-16 * fabs(want), "%s: %.17g %.17g", good[i], got,
            want);
    }
    static const char *const bad[] = {"", "-", ".", "e5", "1,5", "1e", "1e+", "0x10", "1.2.3",
        "abc"};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        double got = 0.0;
        ck_assert_msg(vugi_number_read((const unsigned char *)bad[i], strlen(bad[i]), &got)
                == VUGI_NUMBER_BAD,
            "%s", bad[i]);
    }
    static const char *const wild[] = {"nan", "NaN", "-inf", "Infinity", "1.#QNAN", "1e400"};
    for (size_t i = 0; i < sizeof wild / sizeof *wild; i++) {
        double got = 0.0;
        ck_assert_msg(vugi_number_read((const unsigned char *)wild[i], strlen(wild[i]), &got)
                == VUGI_NUMBER_NOT_FINITE,
            "%s", wild[i]);
    }
}
END_TEST

/* 17 digits name a double (IEEE 754-2019, 5.12.2): any that is written so is read as what it was. */
START_TEST(numbers_of_17_digits_come_back)
{
    uint64_t random = UINT64_C(88172645463325252);
    for (int i = 0; i < 100000; i++) {
        char text[40];
        double number, got = 0.0;
        random ^= random << 13; /* xorshift: Marsaglia, 2003 */
        random ^= random >> 7;
        random ^= random << 17;
        memcpy(&number, &random, sizeof number);
        if (!isfinite(number))
            continue;
        snprintf(text, sizeof text, "%.17g", number);
        ck_assert_int_eq(vugi_number_read((const unsigned char *)text, strlen(text), &got),
            VUGI_NUMBER_OK);
        ck_assert_msg(got == number, "%s: %.17g", text, got);
    }
}
END_TEST

/* Triangles that are a point or a line have a nearest point too: by hand. */
START_TEST(flat_triangles_have_a_nearest_point)
{
    const double a[3] = {1, 2, 3}, b[3] = {3, 2, 3}, p[3] = {2, 4, 3}, far[3] = {9, 2, 3};
    const double *const flat[4][3] = {{a, a, a}, {a, a, b}, {a, b, a}, {b, a, a}};
    for (int i = 0; i < 4; i++) {
        double near_p[3], near_far[3];
        feclearexcept(FE_ALL_EXCEPT);
        vugi_triangle_nearest(flat[i][0], flat[i][1], flat[i][2], p, near_p);
        vugi_triangle_nearest(flat[i][0], flat[i][1], flat[i][2], far, near_far);
        ck_assert(!fetestexcept(FE_DIVBYZERO | FE_INVALID));
        for (int k = 0; k < 3; k++) {
            ck_assert(near_p[k] == (i > 0 && k == 0 ? 2.0 : a[k]));
            ck_assert(near_far[k] == (i > 0 ? b[k] : a[k]));
        }
    }
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("mesh");
    TCase *tc = tcase_create("mesh");
    tcase_add_test(tc, cube_has_its_measures);
    tcase_add_test(tc, equal_vertices_are_welded);
    tcase_add_test(tc, rows_may_be_apart);
    tcase_add_test(tc, unused_vertices_are_left_out);
    tcase_add_test(tc, vertices_as_floats);
    tcase_add_test(tc, bad_arrays_are_refused);
    tcase_add_test(tc, null_is_harmless);
    tcase_add_test(tc, mesh_outlives_context_and_owners);
    tcase_add_test(tc, open_edges_are_counted);
    tcase_add_test(tc, flipped_triangles_are_counted);
    tcase_add_test(tc, cubes_that_touch_stay_apart);
    tcase_add_test(tc, neighbours_lie_across);
    tcase_add_test(tc, books_are_alike_wherever_they_stand);
    tcase_add_test(tc, degenerate_triangles_are_counted);
    tcase_add_test(tc, shells_have_their_own_measures);
    tcase_add_test(tc, numbers_are_read_as_c_reads_them);
    tcase_add_test(tc, numbers_of_17_digits_come_back);
    tcase_add_test(tc, flat_triangles_have_a_nearest_point);
    TCase *many = tcase_create("many");
    tcase_set_timeout(many, 20);
    tcase_add_test(many, many_triangles_share_an_edge);
    suite_add_tcase(suite, many);
    suite_add_tcase(suite, tc);
    return test_run(suite);
}

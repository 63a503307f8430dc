/* SPDX-License-Identifier: MIT
 * mesh: repair. Sound shapes are broken on purpose, so the truth is known; what is sound must come
 * back byte for byte. */
#include "mesh/mesh.h"

#include "failing.h"

static const double pi = 3.14159265358979323846;

static const char *data_path(const char *name)
{
    static char path[4096];
    const char *root = getenv("VUG_SRCDIR");
    snprintf(path, sizeof path, "%s/tests/data/%s", root ? root : ".", name);
    return path;
}

/* ---- a mesh in the making: triangles with their own corners ---------------------------------------- */

typedef struct soup {
    double *corner; /* rows of 9 */
    size_t count, room;
} soup;

static void add(soup *s, const double *a, const double *b, const double *c)
{
    double one[9]; /* first, as they may stand in what realloc moves */
    memcpy(one, a, 24);
    memcpy(one + 3, b, 24);
    memcpy(one + 6, c, 24);
    if (s->count == s->room) {
        s->room = 2 * s->room + 64;
        s->corner = realloc(s->corner, s->room * sizeof one);
    }
    memcpy(s->corner + 9 * s->count++, one, sizeof one);
}

static void flip(soup *s, size_t t)
{
    double swap[3], *p = s->corner + 9 * t;
    memcpy(swap, p, 24);
    memcpy(p, p + 3, 24);
    memcpy(p + 3, swap, 24);
}

static void add_box(soup *s, double x0, double y0, double z0, double size, int inward)
{
    static const int corners[36] = {0, 2, 1, 1, 2, 3, 4, 5, 6, 5, 7, 6, 0, 1, 4, 1, 5, 4, 2, 6, 3,
        3, 6, 7, 0, 4, 2, 2, 4, 6, 1, 3, 5, 3, 7, 5};
    double p[8][3];
    for (int i = 0; i < 8; i++) {
        p[i][0] = x0 + (i & 1 ? size : 0.0);
        p[i][1] = y0 + (i & 2 ? size : 0.0);
        p[i][2] = z0 + (i & 4 ? size : 0.0);
    }
    for (int t = 0; t < 12; t++) {
        const int *c = corners + 3 * t;
        add(s, p[c[0]], p[c[inward ? 2 : 1]], p[c[inward ? 1 : 2]]);
    }
}

/* Sphere of radius 20: rows rings of 2 rows points. move: shifts the upper half. */
static void add_sphere(soup *s, int rows, double move)
{
    for (int i = 0; i < rows; i++) {
        for (int j = 0; j < 2 * rows; j++) {
            double p[4][3];
            for (int k = 0; k < 4; k++) {
                double u = pi * (i + (k > 1)) / rows;
                double v = pi * ((j + (k == 1 || k == 2)) % (2 * rows)) / rows;
                int pole = i + (k > 1) == 0 || i + (k > 1) == rows;
                p[k][0] = pole ? 0.0 : 20.0 * sin(u) * cos(v);
                p[k][1] = pole ? 0.0 : 20.0 * sin(u) * sin(v);
                p[k][2] = 20.0 * cos(u) + (i < rows / 2 ? move : 0.0);
            }
            if (i > 0)
                add(s, p[0], p[2], p[1]);
            if (i < rows - 1)
                add(s, p[0], p[3], p[2]);
        }
    }
}

static vug_mesh *mesh_of(vug_context *ctx, soup *s)
{
    uint32_t *triangles = malloc(12 * s->count);
    vug_mesh *mesh = NULL;
    for (uint32_t i = 0; i < 3 * s->count; i++)
        triangles[i] = i;
    ck_ok(ctx,
        vug_mesh_from_arrays(ctx, s->corner, 3 * s->count, 0, triangles, s->count, 0, &mesh));
    free(triangles);
    free(s->corner);
    *s = (soup){NULL, 0, 0};
    return mesh;
}

typedef struct cleaned {
    vug_context *ctx;
    vug_mesh *mesh;
    vug_mesh_clean_report report;
    vug_mesh_measures measures;
} cleaned;

static cleaned clean_mesh(vug_context *ctx, vug_mesh *mesh, const vug_mesh_clean_options *options)
{
    cleaned c = {.ctx = ctx, .measures = {.struct_size = sizeof c.measures}};
    c.report.struct_size = sizeof c.report;
    ck_ok(ctx, vug_mesh_clean(ctx, mesh, options, &c.mesh, &c.report));
    ck_ok(ctx, vug_mesh_measure(ctx, c.mesh, &c.measures));
    ck_assert_uint_eq(c.report.triangles_before, vug_mesh_triangle_count(mesh));
    ck_assert_uint_eq(c.report.triangles_after, vug_mesh_triangle_count(c.mesh));
    ck_assert_int_eq(c.report.closed_after, c.measures.closed);
    ck_assert_uint_eq(c.report.edges_open_after, c.measures.edges_open);
    vug_mesh_free(mesh);
    return c;
}

static cleaned clean_soup(soup *s)
{
    vug_context *ctx = test_context();
    return clean_mesh(ctx, mesh_of(ctx, s), NULL);
}

static void end(cleaned *c)
{
    vug_mesh_free(c->mesh);
    vug_context_free(c->ctx);
}

/* ---- what is sound ----------------------------------------------------------------------------------- */

START_TEST(sound_meshes_come_back_as_they_are)
{
    static const char *const files[] = {"ct_vase_iso60.stl", "ct_head_skin_iso600.stl",
        "csg_with_sealed_ball.stl", "pencil_holder_hollow.stl", "suzanne.stl"};
    for (size_t i = 0; i < sizeof files / sizeof *files; i++) {
        vug_context *ctx = test_context();
        vug_mesh *mesh = NULL, *copy = NULL;
        ck_ok(ctx, vug_mesh_load(ctx, data_path(files[i]), NULL, &mesh));
        vug_context_clear_warnings(ctx); /* of sizes that look like another unit */
        ck_ok(ctx, vug_mesh_clean(ctx, mesh, NULL, &copy, NULL));
        size_t vertices = vug_mesh_vertex_count(mesh), count = vug_mesh_triangle_count(mesh);
        ck_assert_uint_eq(vug_mesh_vertex_count(copy), vertices);
        ck_assert_uint_eq(vug_mesh_triangle_count(copy), count);
        ck_assert_int_eq(memcmp(vug_mesh_vertices(mesh), vug_mesh_vertices(copy), 24 * vertices),
            0);
        ck_assert_int_eq(memcmp(vug_mesh_triangles(mesh), vug_mesh_triangles(copy), 12 * count), 0);
        /* the eyes of suzanne overlap her head */
        ck_assert_uint_eq(warning_count(ctx), i == 4);
        vug_mesh_free(mesh);
        vug_mesh_free(copy);
        vug_context_free(ctx);
    }
}
END_TEST

/* ---- doubled and empty triangles ----------------------------------------------------------------------- */

START_TEST(doubled_triangles_go)
{
    soup s = {NULL, 0, 0};
    for (int i = 0; i < 3; i++)
        add_box(&s, 0, 0, 0, 10, 0); /* all three times */
    cleaned c = clean_soup(&s);
    ck_assert_uint_eq(c.report.duplicates_removed, 24);
    ck_assert_int_eq(c.measures.closed, 1);
    ck_near(c.measures.volume_mm3, 1000.0, 1e-14);
    end(&c);

    for (size_t t = 0; t < 12; t++) { /* one of them again, turned over */
        add_box(&s, 0, 0, 0, 10, 0);
        add(&s, s.corner + 9 * t, s.corner + 9 * t + 3, s.corner + 9 * t + 6);
        flip(&s, t % 2 ? 12 : t);
        c = clean_soup(&s);
        ck_assert_uint_eq(c.report.duplicates_removed, 1);
        ck_assert_int_eq(c.measures.closed, 1);
        ck_near(c.measures.volume_mm3, 1000.0, 1e-14);
        end(&c);
    }
}
END_TEST

START_TEST(walls_of_two_bodies_stay)
{
    soup s = {NULL, 0, 0}; /* two boxes share a side: there its triangles lie on each other */
    add_box(&s, 0, 0, 0, 10, 0);
    add_box(&s, 10, 0, 0, 10, 0);
    vug_context *ctx = test_context();
    vug_mesh *mesh = mesh_of(ctx, &s);
    ck_assert_uint_eq(vug_mesh_vertex_count(mesh), 12);
    cleaned c = clean_mesh(ctx, mesh, NULL);
    ck_assert_uint_eq(c.report.duplicates_removed, 0);
    ck_assert_int_eq(c.measures.closed, 1);
    ck_near(c.measures.volume_mm3, 2000.0, 1e-14);
    end(&c);
}
END_TEST

/* Two tetrahedra on one base, by half of the same height and whole, that both name its triangle: each
 * edge has as many triangles up as down. Volumes by hand: 10 * 10 / 2 * 10 / 3 and twice that. */
START_TEST(a_face_in_common_stays)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = NULL;
    ck_ok(ctx, vug_mesh_load(ctx, data_path("shared_face.obj"), NULL, &mesh));
    cleaned c = clean_mesh(ctx, mesh, NULL);
    ck_assert_int_eq(c.report.closed_before, 1);
    ck_assert_int_eq(c.measures.closed, 1);
    ck_assert_uint_eq(c.measures.triangles, 8);
    ck_assert_uint_eq(c.report.duplicates_removed, 0);
    ck_near(c.measures.volume_mm3, 500.0 / 3.0 + 1000.0 / 3.0, 1e-14);
    end(&c);

    soup s = {NULL, 0, 0}; /* two boxes, flush with each other below: no triangle has a twin */
    for (int twice = 0; twice < 2; twice++) {
        add_box(&s, 0, 0, 0, 10, 0);
        add_box(&s, 0, 0, 0, 5, 0);
        if (twice) /* all of it again: what is too much goes, what they had in common stays */
            for (size_t t = 0, n = s.count; t < n; t++)
                add(&s, s.corner + 9 * t, s.corner + 9 * t + 3, s.corner + 9 * t + 6);
        c = clean_soup(&s);
        ck_assert_uint_eq(c.report.duplicates_removed, twice ? 24 : 0);
        ck_assert_int_eq(c.measures.closed, 1);
        end(&c);
    }

    for (size_t t = 0; t < 2; t++) { /* the face is there a third time: one too many */
        ctx = test_context();
        ck_ok(ctx, vug_mesh_load(ctx, data_path("shared_face.obj"), NULL, &mesh));
        uint32_t triangles[27];
        memcpy(triangles, vug_mesh_triangles(mesh), 24 * sizeof *triangles);
        memcpy(triangles + 24, triangles + 12 * t, 3 * sizeof *triangles);
        vug_mesh *third = NULL;
        ck_ok(ctx,
            vug_mesh_from_arrays(ctx, vug_mesh_vertices(mesh), 5, 0, triangles, 9, 0, &third));
        vug_mesh_free(mesh);
        c = clean_mesh(ctx, third, NULL);
        ck_assert_uint_eq(c.report.duplicates_removed, 1);
        ck_assert_int_eq(c.measures.closed, 1);
        end(&c);
    }
}
END_TEST

START_TEST(triangles_without_area_go)
{
    soup s = {NULL, 0, 0};
    add_box(&s, 0, 0, 0, 10, 0);
    const double a[3] = {0, 0, 0}, b[3] = {0, 10, 0}, m[3] = {0, 4, 0}, x[3] = {10, 0, 0};
    add(&s, a, a, b);
    add(&s, b, b, b);
    /* the edge from a to b gets m by a sliver: triangle 0 (a, b, x) becomes two plus the sliver */
    memcpy(s.corner, a, 24);
    memcpy(s.corner + 3, m, 24);
    memcpy(s.corner + 6, x, 24);
    add(&s, m, b, x);
    cleaned c = clean_soup(&s);
    ck_assert_uint_eq(c.report.degenerate_removed, 2);
    ck_assert_uint_eq(c.report.joints_split, 1); /* m on the other triangle's edge */
    ck_assert_int_eq(c.measures.closed, 1);
    ck_assert_uint_eq(c.measures.degenerate, 0);
    ck_near(c.measures.volume_mm3, 1000.0, 1e-14);
    end(&c);

    add_box(&s, 0, 0, 0, 10, 0);
    memcpy(s.corner + 3, m, 24); /* a sliver closes the joint: it goes, the joint is split */
    memcpy(s.corner, a, 24);
    memcpy(s.corner + 6, x, 24);
    add(&s, m, b, x);
    add(&s, a, b, m);
    c = clean_soup(&s);
    ck_assert_int_eq(c.report.closed_before, 1);
    ck_assert_uint_eq(c.report.degenerate_removed, 1);
    ck_assert_int_eq(c.measures.closed, 1);
    ck_assert_uint_eq(c.measures.degenerate, 0);
    end(&c);
}
END_TEST

START_TEST(slivers_stay_when_gaps_are_left)
{
    soup s = {NULL, 0, 0};
    add_box(&s, 0, 0, 0, 10, 0);
    const double a[3] = {0, 0, 0}, b[3] = {0, 10, 0}, m[3] = {0, 4, 0}, x[3] = {10, 0, 0};
    memcpy(s.corner, a, 24);
    memcpy(s.corner + 3, m, 24);
    memcpy(s.corner + 6, x, 24);
    add(&s, m, b, x);
    add(&s, a, b, m);
    vug_context *ctx = test_context();
    vug_mesh_clean_options options;
    ck_assert_int_eq(vug_mesh_clean_options_init(&options, sizeof options), VUG_OK);
    options.close_gaps = 0;
    cleaned c = clean_mesh(ctx, mesh_of(ctx, &s), &options);
    ck_assert_int_eq(c.measures.closed, 1);
    ck_assert_uint_eq(c.measures.degenerate, 1);
    ck_assert(c.report.tolerance_mm == 0.0);
    end(&c);
}
END_TEST

/* ---- gaps ---------------------------------------------------------------------------------------------- */

START_TEST(small_gaps_close)
{
    static const struct {
        double gap, tolerance;
        int closes;
    } cases[] = {
        {1e-4, 0.0, 1}, /* the default is 1e-5 of 40 mm, 4e-4 mm */
        {0.01, 0.0, 0},
        {0.01, 0.02, 1},
        {0.01, 0.005, 0},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        soup s = {NULL, 0, 0};
        add_sphere(&s, 40, cases[i].gap);
        vug_context *ctx = test_context();
        vug_mesh_clean_options options;
        ck_assert_int_eq(vug_mesh_clean_options_init(&options, sizeof options), VUG_OK);
        options.tolerance_mm = cases[i].tolerance;
        cleaned c = clean_mesh(ctx, mesh_of(ctx, &s), &options);
        ck_assert_uint_eq(c.report.edges_open_before, 160);
        ck_assert_int_eq(c.measures.closed, cases[i].closes);
        ck_assert_uint_eq(c.report.vertices_welded, cases[i].closes ? 80 : 0);
        if (cases[i].closes) /* the exact sphere's volume, but for the facets */
            ck_near(c.measures.volume_mm3, 4.0 / 3.0 * pi * 8000.0, 0.005);
        else
            ck_assert_uint_eq(c.report.shells_open, 2);
        end(&c);
    }
}
END_TEST

START_TEST(t_joints_are_split)
{
    /* Box of side 10 whose top is a fan around many points on its rim; the sides know none. */
    soup s = {NULL, 0, 0};
    add_box(&s, 0, 0, 0, 10, 0);
    memmove(s.corner + 9 * 2, s.corner + 9 * 4, (s.count - 4) * 72); /* less z = 10 */
    s.count -= 2;
    const double middle[3] = {5, 5, 10};
    for (int i = 0; i < 28; i++) { /* 7 points on each side, unevenly */
        double p[2][3];
        for (int k = 0; k < 2; k++) {
            int j = (i + k) % 28;
            double at = 10.0 * pow((j % 7) / 7.0, 1.3);
            const double corner[4][2] = {{at, 0}, {10, at}, {10 - at, 10}, {0, 10 - at}};
            p[k][0] = corner[j / 7][0];
            p[k][1] = corner[j / 7][1];
            p[k][2] = 10;
        }
        add(&s, p[0], p[1], middle);
    }
    cleaned c = clean_soup(&s);
    ck_assert_int_eq(c.report.closed_before, 0);
    ck_assert_int_eq(c.measures.closed, 1);
    ck_assert_uint_eq(c.report.joints_split, 24);
    ck_near(c.measures.volume_mm3, 1000.0, 1e-13);
    ck_near(c.measures.area_mm2, 600.0, 1e-13);
    end(&c);
}
END_TEST

START_TEST(a_facet_of_four_is_made_whole)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = NULL;
    ck_ok(ctx, vug_mesh_load(ctx, data_path("stl_malformed/quad.ascii.stl"), NULL, &mesh));
    cleaned c = clean_mesh(ctx, mesh, NULL);
    ck_assert_int_eq(c.report.closed_before, 0);
    ck_assert_int_eq(c.measures.closed, 1);
    ck_near(c.measures.volume_mm3, 1.0 / 6.0, 1e-14);
    end(&c);
}
END_TEST

/* ---- turning -------------------------------------------------------------------------------------------- */

START_TEST(turned_triangles_are_turned_back)
{
    soup s = {NULL, 0, 0};
    add_sphere(&s, 30, 0.0);
    size_t turned = 0;
    for (size_t t = 0; t < s.count; t++) {
        if (t * 7919 % 100 >= 40)
            continue;
        flip(&s, t);
        turned++;
    }
    cleaned c = clean_soup(&s);
    ck_assert_uint_eq(c.report.triangles_turned, turned);
    ck_assert_uint_eq(c.report.shells_turned, 0);
    ck_assert_int_eq(c.measures.closed, 1);
    ck_near(c.measures.volume_mm3, 4.0 / 3.0 * pi * 8000.0, 0.01);
    end(&c);
}
END_TEST

START_TEST(shells_turn_by_their_nesting)
{
    /* Box in box in box in box, and one beside, in all directions: 64 - 36 + 16 - 4 and 1. */
    for (int directions = 0; directions < 32; directions++) {
        soup s = {NULL, 0, 0};
        static const double size[5] = {40, 30, 20, 10, 10};
        int wrong = 0;
        for (int i = 0; i < 5; i++) {
            int inward = directions >> i & 1;
            add_box(&s, i < 4 ? -size[i] / 2 : 100, -size[i] / 2, -size[i] / 2, size[i], inward);
            wrong += inward != (i == 1 || i == 3);
        }
        cleaned c = clean_soup(&s);
        ck_assert_uint_eq(c.report.shells, 5);
        ck_assert_uint_eq(c.report.shells_turned, wrong);
        ck_assert_uint_eq(c.report.shells_crossing, 0);
        ck_near(c.measures.volume_mm3, 64000.0 - 27000.0 + 8000.0 - 1000.0 + 1000.0, 1e-13);
        end(&c);
    }
}
END_TEST

START_TEST(twisted_strips_are_left)
{
    soup s = {NULL, 0, 0}; /* a Moebius strip */
    for (int i = 0; i < 24; i++) {
        double p[4][3];
        for (int k = 0; k < 4; k++) {
            int at = i + (k == 1 || k == 2), over = at == 24;
            double u = 2.0 * pi * (at % 24) / 24, w = ((k > 1) != over ? 1.0 : -1.0);
            p[k][0] = (10.0 + w * cos(u / 2)) * cos(u);
            p[k][1] = (10.0 + w * cos(u / 2)) * sin(u);
            p[k][2] = w * sin(u / 2);
        }
        add(&s, p[0], p[1], p[2]);
        add(&s, p[0], p[2], p[3]);
    }
    cleaned c = clean_soup(&s);
    ck_assert_uint_eq(c.report.shells_twisted, 1);
    ck_assert_uint_eq(c.report.shells_open, 1);
    ck_assert_uint_eq(c.report.triangles_after, 48);
    end(&c);
}
END_TEST

START_TEST(overlapping_parts_are_kept)
{
    soup s = {NULL, 0, 0};
    add_box(&s, 0, 0, 0, 10, 0);
    add_box(&s, 5, 1, 1, 8, 1); /* partly inside the first, and inside out */
    add_box(&s, 30, 0, 0, 10, 0);
    cleaned c = clean_soup(&s);
    ck_assert_uint_eq(c.report.shells_crossing, 2);
    ck_assert_uint_eq(c.report.shells_turned, 1);
    ck_near(c.measures.volume_mm3, 2000.0 + 512.0, 1e-13);
    end(&c);
}
END_TEST

START_TEST(thousands_of_shells)
{
    soup s = {NULL, 0, 0};
    for (int i = 0; i < 8000; i++)
        add_box(&s, 3 * (i % 20), 3 * (i / 20 % 20), 3 * (i / 400), 2, i % 3 == 0);
    cleaned c = clean_soup(&s);
    ck_assert_uint_eq(c.report.shells, 8000);
    ck_assert_uint_eq(c.report.shells_turned, 2667);
    ck_near(c.measures.volume_mm3, 64000.0, 1e-12);
    end(&c);
}
END_TEST

START_TEST(all_at_once)
{
    /* A hollow ball (radius 20, inside a box of 10) with every fault at the same time. */
    soup s = {NULL, 0, 0};
    add_sphere(&s, 24, 1e-4);
    size_t sphere = s.count;
    for (size_t t = 0; t < sphere; t += 5)
        flip(&s, t);
    for (size_t t = 0; t < sphere; t += 17) { /* again */
        double copy[9];
        memcpy(copy, s.corner + 9 * t, sizeof copy);
        add(&s, copy, copy + 3, copy + 6);
        add(&s, copy, copy, copy + 6);
    }
    add_box(&s, -5, -5, -5, 10, 0);
    cleaned c = clean_soup(&s);
    ck_assert_int_eq(c.report.closed_before, 0);
    ck_assert_int_eq(c.measures.closed, 1);
    ck_assert_uint_eq(c.measures.shells, 2);
    ck_assert_uint_eq(c.report.shells_turned, 1);
    ck_assert_uint_eq(c.report.triangles_after, sphere + 12);
    ck_near(c.measures.volume_mm3, 4.0 / 3.0 * pi * 8000.0 - 1000.0, 0.02);
    end(&c);
}
END_TEST

/* ---- bad input --------------------------------------------------------------------------------------------- */

START_TEST(bad_input_is_refused)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = NULL, *out = NULL;
    vug_mesh_clean_options options;
    vug_mesh_clean_report report = {.struct_size = 0};
    ck_assert_int_eq(vug_mesh_clean_options_init(NULL, sizeof options), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_mesh_clean(ctx, NULL, NULL, &out, NULL), VUG_ERR_ARGUMENT);
    const double flat[9] = {0, 0, 0, 1, 0, 0, 2, 0, 0};
    const uint32_t t[3] = {0, 1, 2};
    ck_ok(ctx, vug_mesh_from_arrays(ctx, flat, 3, 0, t, 1, 0, &mesh));
    ck_assert_int_eq(vug_mesh_clean(ctx, mesh, NULL, &out, NULL), VUG_ERR_MESH);
    ck_assert_int_eq(vug_mesh_clean(ctx, mesh, NULL, NULL, NULL), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_mesh_clean_options_init(&options, sizeof options), VUG_OK);
    options.tolerance_mm = -1.0;
    ck_assert_int_eq(vug_mesh_clean(ctx, mesh, &options, &out, NULL), VUG_ERR_ARGUMENT);
    options.tolerance_mm = (double)NAN;
    ck_assert_int_eq(vug_mesh_clean(ctx, mesh, &options, &out, NULL), VUG_ERR_ARGUMENT);
    vug_mesh_free(mesh);

    soup s = {NULL, 0, 0};
    add_box(&s, 0, 0, 0, 10, 0);
    mesh = mesh_of(ctx, &s);
    ck_assert_int_eq(vug_mesh_clean(ctx, mesh, NULL, &out, &report), VUG_ERR_ARGUMENT);
    vug_context_cancel(ctx);
    ck_assert_int_eq(vug_mesh_clean(ctx, mesh, NULL, &out, NULL), VUG_ERR_CANCELLED);
    ck_assert_ptr_null(out);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

static vug_status clean_once(vug_context *ctx, void *data)
{
    vug_mesh *mesh = NULL, *out = NULL;
    vug_mesh_clean_report report, before;
    memset(&report, 0x5a, sizeof report);
    report.struct_size = sizeof report;
    before = report;
    soup *s = data;
    uint32_t triangles[3 * 400];
    for (uint32_t i = 0; i < 3 * s->count; i++)
        triangles[i] = i;
    vug_status status = vug_mesh_from_arrays(ctx, s->corner, 3 * s->count, 0, triangles, s->count,
        0, &mesh);
    if (!status)
        status = vug_mesh_clean(ctx, mesh, NULL, &out, &report);
    if (status)
        ck_assert_mem_eq(&report, &before, sizeof report); /* untouched on failure */
    vug_mesh_free(mesh);
    vug_mesh_free(out);
    return status;
}

START_TEST(every_allocation_may_fail)
{
    soup s = {NULL, 0, 0};
    add_sphere(&s, 8, 1e-4);
    flip(&s, 5);
    add_box(&s, -5, -5, -5, 10, 0);
    const double m[3] = {-5, 0, -5};
    memcpy(s.corner + 9 * (s.count - 12) + 3, m, 24); /* a hole and a joint */
    ck_assert_uint_lt(s.count, 400);
    failing_until_success(clean_once, &s);
    free(s.corner);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("clean");
    TCase *tc = tcase_create("clean");
    tcase_add_test(tc, sound_meshes_come_back_as_they_are);
    tcase_add_test(tc, doubled_triangles_go);
    tcase_add_test(tc, walls_of_two_bodies_stay);
    tcase_add_test(tc, a_face_in_common_stays);
    tcase_add_test(tc, triangles_without_area_go);
    tcase_add_test(tc, slivers_stay_when_gaps_are_left);
    tcase_add_test(tc, small_gaps_close);
    tcase_add_test(tc, t_joints_are_split);
    tcase_add_test(tc, a_facet_of_four_is_made_whole);
    tcase_add_test(tc, turned_triangles_are_turned_back);
    tcase_add_test(tc, shells_turn_by_their_nesting);
    tcase_add_test(tc, twisted_strips_are_left);
    tcase_add_test(tc, overlapping_parts_are_kept);
    tcase_add_test(tc, thousands_of_shells);
    tcase_add_test(tc, all_at_once);
    tcase_add_test(tc, bad_input_is_refused);
    tcase_add_test(tc, every_allocation_may_fail);
    suite_add_tcase(suite, tc);
    return test_run(suite);
}

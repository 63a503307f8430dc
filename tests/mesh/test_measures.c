/* SPDX-License-Identifier: MIT
 * mesh: measures against formulas. Polyhedra are exact; curved solids are approached by meshes
 * that get finer, whose error must fall with the square of the step, so that two of them give the
 * limit to many digits (L. F. Richardson's extrapolation).
 *
 * Formulas of solids: D. Zwillinger (ed.), CRC Standard Mathematical Tables and Formulae, chapter
 * on geometry (from memory). */
#include "mesh/mesh.h"

#include "test.h"

static const double pi = 3.14159265358979323846;

/* ---- surfaces of revolution ------------------------------------------------------------------ */

/* A profile: point number i of n + 1, from parameter 0 to 1, as (distance from axis, height). */
typedef void profile(double at, double *r, double *z);

static vug_mesh *revolve(vug_context *ctx, profile *shape, uint32_t along, uint32_t around,
    int ring)
{
    uint32_t rows = along + 1, count = 0;
    double *xyz = malloc((size_t)rows * around * 3 * sizeof *xyz);
    uint32_t *triangles = malloc((size_t)along * around * 6 * sizeof *triangles);
    for (uint32_t i = 0; i < rows; i++) {
        double r, z;
        shape((double)(ring && i == along ? 0 : i) / along, &r, &z);
        for (uint32_t j = 0; j < around; j++) {
            double a = 2.0 * pi * j / around, *p = xyz + 3 * (i * around + j);
            p[0] = r * cos(a); /* all of a ring of radius 0 are welded to one */
            p[1] = r * sin(a);
            p[2] = z;
        }
    }
    for (uint32_t i = 0; i < along; i++) {
        for (uint32_t j = 0; j < around; j++) {
            uint32_t a = i * around + j, b = i * around + (j + 1) % around;
            const uint32_t two[6] = {a, b, a + around, b, b + around, a + around};
            memcpy(triangles + 3 * count, two, sizeof two);
            count += 2;
        }
    }
    vug_mesh *mesh = NULL;
    ck_ok(ctx,
        vug_mesh_from_arrays(ctx, xyz, (size_t)rows * around, 0, triangles, count, 0, &mesh));
    free(xyz);
    free(triangles);
    return mesh;
}

/* Sphere of radius 20 about the origin, from the lowest point up. */
static void sphere(double at, double *r, double *z)
{
    *r = at <= 0.0 || at >= 1.0 ? 0.0 : 20.0 * sin(pi * at);
    *z = -20.0 * cos(pi * at);
}

/* Torus, R = 20, r = 5. */
static void torus(double at, double *r, double *z)
{
    *r = 20.0 + 5.0 * cos(2.0 * pi * at);
    *z = 5.0 * sin(2.0 * pi * at);
}

/* Frustum of a cone, radii 20 and 10, height 30: bottom, side, top. */
static void frustum(double at, double *r, double *z)
{
    static const double radius[4] = {0.0, 20.0, 10.0, 0.0}, height[4] = {0.0, 0.0, 30.0, 30.0};
    int leg = at >= 1.0 ? 2 : (int)(3.0 * at);
    double part = at >= 1.0 ? 1.0 : 3.0 * at - leg;
    *r = radius[leg] + part * (radius[leg + 1] - radius[leg]);
    *z = height[leg] + part * (height[leg + 1] - height[leg]);
}

/* Capsule: cylinder of radius 20 and length 100 between two half spheres. */
static void capsule(double at, double *r, double *z)
{
    if (at < 1.0 / 3.0)
        sphere(1.5 * at, r, z);
    else if (at > 2.0 / 3.0)
        sphere(1.5 * at - 0.5, r, z);
    else
        *r = 20.0, *z = 100.0 * (3.0 * at - 1.0);
    if (at > 2.0 / 3.0)
        *z += 100.0;
}

static vug_mesh_measures measure_once(profile *shape, uint32_t along, uint32_t around, int ring)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = revolve(ctx, shape, along, around, ring);
    vug_mesh_measures m = {.struct_size = sizeof m};
    ck_ok(ctx, vug_mesh_measure(ctx, mesh, &m));
    ck_assert_int_eq(m.closed, 1);
    ck_assert_uint_eq(m.shells, 1);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
    return m;
}

/* Twice and four times as fine: the error falls to a quarter each time. */
static void converges(double coarse, double middle, double fine, double want)
{
    ck_assert_msg(fabs(fine - want) < 0.002 * want, "%.9g, expected %.9g", fine, want);
    double ratio = (middle - coarse) / (fine - middle);
    ck_assert_msg(ratio > 3.9 && ratio < 4.1, "the error falls by %g, expected 4", ratio);
    double limit = fine + (fine - middle) / 3.0;
    ck_assert_msg(fabs(limit - want) < 2e-6 * want, "limit %.12g, expected %.12g", limit, want);
}

static void approaches(profile *shape, uint32_t along, int ring, double volume, double area,
    double height)
{
    vug_mesh_measures m[3];
    for (uint32_t i = 0; i < 3; i++)
        m[i] = measure_once(shape, along << i, 64u << i, ring);
    converges(m[0].volume_mm3, m[1].volume_mm3, m[2].volume_mm3, volume);
    converges(m[0].area_mm2, m[1].area_mm2, m[2].area_mm2, area);
    ck_close(m[2].centroid_mm[0], 0.0, 1e-9);
    ck_close(m[2].centroid_mm[1], 0.0, 1e-9);
    ck_near(m[2].centroid_mm[2] + 1.0, height + 1.0, 2e-4);
}

START_TEST(sphere_torus_frustum_capsule)
{
    approaches(sphere, 64, 0, 4.0 / 3.0 * pi * 8000.0, 4.0 * pi * 400.0, 0.0);
    approaches(torus, 32, 1, 2.0 * pi * pi * 20.0 * 25.0, 4.0 * pi * pi * 20.0 * 5.0, 0.0);
    /* V = pi h (R^2 + R r + r^2) / 3; side pi (R + r) s, s^2 = (R - r)^2 + h^2; the centroid is
     * at h (R^2 + 2 R r + 3 r^2) / (4 (R^2 + R r + r^2)). */
    approaches(frustum, 3, 0, pi * 30.0 * 700.0 / 3.0, pi * 30.0 * sqrt(1000.0) + pi * 500.0,
        30.0 * 1100.0 / 2800.0);
    approaches(capsule, 96, 0, 4.0 / 3.0 * pi * 8000.0 + pi * 400.0 * 100.0,
        4.0 * pi * 400.0 + 2.0 * pi * 20.0 * 100.0, 50.0);
}
END_TEST

START_TEST(frustum_of_a_pyramid_is_exact)
{
    /* V = h (A + a + sqrt(A a)) / 3 for bases A and a, here regular polygons of n sides and
     * circumradii 20 and 10: A = n R^2 sin(2 pi / n) / 2. */
    for (uint32_t n = 3; n < 12; n++) {
        double big = 0.5 * n * 400.0 * sin(2.0 * pi / n), small = big / 4.0;
        double foot = 20.0 * cos(pi / n), top = 10.0 * cos(pi / n); /* inscribed radii */
        double slant = sqrt((foot - top) * (foot - top) + 900.0);
        double side = 0.5 * n * slant * (2.0 * 20.0 + 2.0 * 10.0) * sin(pi / n);
        vug_mesh_measures m = measure_once(frustum, 3, n, 0);
        ck_near(m.volume_mm3, 30.0 * (big + small + sqrt(big * small)) / 3.0, 1e-13);
        ck_near(m.area_mm2, big + small + side, 1e-13);
    }
}
END_TEST

START_TEST(icosahedron_is_exact)
{
    /* V = 5 (3 + sqrt 5) a^3 / 12, A = 5 sqrt(3) a^2; corners (0, +-1, +-g) and so on have the
     * side a = 2, with g = (1 + sqrt 5) / 2. */
    double g = 0.5 * (1.0 + sqrt(5.0)), xyz[36];
    for (int v = 0; v < 12; v++) {
        int axis = v / 4;
        xyz[3 * v + axis] = 0.0;
        xyz[3 * v + (axis + 1) % 3] = v & 1 ? 1.0 : -1.0;
        xyz[3 * v + (axis + 2) % 3] = v & 2 ? g : -g;
    }
    uint32_t triangles[60], count = 0; /* all triples of neighbours, turned outward */
    for (uint32_t a = 0; a < 12; a++) {
        for (uint32_t b = a + 1; b < 12; b++) {
            for (uint32_t c = b + 1; c < 12; c++) {
                const uint32_t t[3] = {a, b, c};
                double det = 0.0;
                int near = 1;
                for (int k = 0; k < 3; k++) {
                    double d2 = 0.0;
                    for (int j = 0; j < 3; j++)
                        d2 += pow(xyz[3 * t[k] + (uint32_t)j]
                                - xyz[3 * t[(k + 1) % 3] + (uint32_t)j],
                            2);
                    near &= d2 < 4.1;
                    det += xyz[3 * a + (uint32_t)k]
                        * (xyz[3 * b + (uint32_t)(k + 1) % 3] * xyz[3 * c + (uint32_t)(k + 2) % 3]
                            - xyz[3 * b + (uint32_t)(k + 2) % 3]
                                * xyz[3 * c + (uint32_t)(k + 1) % 3]);
                }
                if (!near)
                    continue;
                ck_assert_uint_lt(count, 60);
                triangles[count++] = a;
                triangles[count++] = det > 0.0 ? b : c;
                triangles[count++] = det > 0.0 ? c : b;
            }
        }
    }
    ck_assert_uint_eq(count, 60);
    vug_context *ctx = test_context();
    vug_mesh *mesh = NULL;
    vug_mesh_measures m = {.struct_size = sizeof m};
    ck_ok(ctx, vug_mesh_from_arrays(ctx, xyz, 12, 0, triangles, 20, 0, &mesh));
    ck_ok(ctx, vug_mesh_measure(ctx, mesh, &m));
    ck_assert_int_eq(m.closed, 1);
    ck_near(m.volume_mm3, 5.0 * (3.0 + sqrt(5.0)) * 8.0 / 12.0, 1e-14);
    ck_near(m.area_mm2, 5.0 * sqrt(3.0) * 4.0, 1e-14);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* ---- properties on a real mesh ------------------------------------------------------------------ */

typedef struct flat {
    double *xyz;
    uint32_t *triangles;
    size_t vertices, count;
} flat;

static flat load_flat(vug_context *ctx)
{
    char path[4096];
    const char *root = getenv("VUG_SRCDIR");
    vug_mesh *mesh = NULL;
    snprintf(path, sizeof path, "%s/tests/data/pencil_holder_hollow.stl", root ? root : ".");
    ck_ok(ctx, vug_mesh_load(ctx, path, NULL, &mesh));
    flat f = {.vertices = vug_mesh_vertex_count(mesh), .count = vug_mesh_triangle_count(mesh)};
    f.xyz = malloc(f.vertices * 24);
    f.triangles = malloc(f.count * 12);
    memcpy(f.xyz, vug_mesh_vertices(mesh), f.vertices * 24);
    memcpy(f.triangles, vug_mesh_triangles(mesh), f.count * 12);
    vug_mesh_free(mesh);
    return f;
}

static vug_mesh_measures measure_flat(vug_context *ctx, const flat *f)
{
    vug_mesh *mesh = NULL;
    vug_mesh_measures m = {.struct_size = sizeof m};
    ck_ok(ctx, vug_mesh_from_arrays(ctx, f->xyz, f->vertices, 0, f->triangles, f->count, 0, &mesh));
    ck_ok(ctx, vug_mesh_measure(ctx, mesh, &m));
    vug_mesh_free(mesh);
    return m;
}

/* Rotation by Euler's angles, row major. */
static void rotation(double a, double b, double c, double m[9])
{
    const double r[9] = {cos(a) * cos(b), cos(a) * sin(b) * sin(c) - sin(a) * cos(c),
        cos(a) * sin(b) * cos(c) + sin(a) * sin(c), sin(a) * cos(b),
        sin(a) * sin(b) * sin(c) + cos(a) * cos(c), sin(a) * sin(b) * cos(c) - cos(a) * sin(c),
        -sin(b), cos(b) * sin(c), cos(b) * cos(c)};
    memcpy(m, r, sizeof r);
}

static void apply(const double m[9], const double p[3], double out[3])
{
    for (int i = 0; i < 3; i++)
        out[i] = m[3 * i] * p[0] + m[3 * i + 1] * p[1] + m[3 * i + 2] * p[2];
}

START_TEST(turning_and_moving_change_no_size)
{
    vug_context *ctx = test_context();
    flat f = load_flat(ctx);
    vug_mesh_measures was = measure_flat(ctx, &f);
    double m[9], p[3];
    for (int i = 0; i < 8; i++) {
        rotation(0.7 * i + 0.1, 1.3 * i, 2.9 * i, m);
        flat g = f;
        g.xyz = malloc(f.vertices * 24);
        for (size_t v = 0; v < f.vertices; v++) {
            apply(m, f.xyz + 3 * v, p);
            for (int k = 0; k < 3; k++)
                g.xyz[3 * v + (size_t)k] = p[k] + 1000.0 * (k - 1) * i;
        }
        vug_mesh_measures now = measure_flat(ctx, &g);
        ck_assert_int_eq(now.closed, 1);
        ck_near(now.volume_mm3, was.volume_mm3, 1e-10);
        ck_near(now.area_mm2, was.area_mm2, 1e-10);
        apply(m, was.centroid_mm, p);
        for (int k = 0; k < 3; k++)
            ck_close(now.centroid_mm[k], p[k] + 1000.0 * (k - 1) * i, 1e-8);
        free(g.xyz);
    }
    free(f.xyz);
    free(f.triangles);
    vug_context_free(ctx);
}
END_TEST

START_TEST(mirroring_turns_the_sign)
{
    vug_context *ctx = test_context();
    flat f = load_flat(ctx);
    vug_mesh_measures was = measure_flat(ctx, &f);
    for (size_t v = 0; v < f.vertices; v++)
        f.xyz[3 * v] = -f.xyz[3 * v];
    vug_mesh_measures now = measure_flat(ctx, &f);
    ck_near(now.volume_mm3, -was.volume_mm3, 1e-12);
    ck_near(now.area_mm2, was.area_mm2, 1e-12);
    ck_close(now.centroid_mm[0], -was.centroid_mm[0], 1e-9);
    for (size_t t = 0; t < f.count; t++) { /* turned back */
        uint32_t swap = f.triangles[3 * t];
        f.triangles[3 * t] = f.triangles[3 * t + 1];
        f.triangles[3 * t + 1] = swap;
    }
    ck_near(measure_flat(ctx, &f).volume_mm3, was.volume_mm3, 1e-12);
    free(f.xyz);
    free(f.triangles);
    vug_context_free(ctx);
}
END_TEST

START_TEST(scaling_follows_its_powers)
{
    vug_context *ctx = test_context();
    flat f = load_flat(ctx);
    vug_mesh_measures was = measure_flat(ctx, &f);
    for (size_t i = 0; i < 3 * f.vertices; i++)
        f.xyz[i] *= 25.4;
    vug_mesh_measures now = measure_flat(ctx, &f);
    ck_near(now.volume_mm3, was.volume_mm3 * 25.4 * 25.4 * 25.4, 1e-12);
    ck_near(now.area_mm2, was.area_mm2 * 25.4 * 25.4, 1e-12);
    free(f.xyz);
    free(f.triangles);
    vug_context_free(ctx);
}
END_TEST

START_TEST(splitting_triangles_changes_nothing)
{
    vug_context *ctx = test_context();
    flat f = load_flat(ctx);
    vug_mesh_measures was = measure_flat(ctx, &f);
    flat g = {.vertices = f.vertices + 3 * f.count, .count = 4 * f.count};
    g.xyz = malloc(g.vertices * 24);
    g.triangles = malloc(g.count * 12);
    memcpy(g.xyz, f.xyz, f.vertices * 24);
    for (uint32_t t = 0; t < f.count; t++) { /* edge middles appear twice: welding joins them */
        const uint32_t *c = f.triangles + 3 * t;
        uint32_t m = (uint32_t)f.vertices + 3 * t;
        for (uint32_t e = 0; e < 3; e++)
            for (uint32_t k = 0; k < 3; k++)
                g.xyz[3 * (m + e) + k] = 0.5
                    * (f.xyz[3 * c[e] + k] + f.xyz[3 * c[(e + 1) % 3] + k]);
        const uint32_t four[12] = {c[0], m, m + 2, m, c[1], m + 1, m + 2, m + 1, c[2], m, m + 1,
            m + 2};
        memcpy(g.triangles + 12 * t, four, sizeof four);
    }
    vug_mesh_measures now = measure_flat(ctx, &g);
    ck_assert_int_eq(now.closed, 1);
    ck_assert_uint_eq(now.vertices, was.vertices + 3 * was.triangles / 2); /* one for each edge */
    ck_near(now.volume_mm3, was.volume_mm3, 1e-12);
    ck_near(now.area_mm2, was.area_mm2, 1e-12);
    free(f.xyz);
    free(f.triangles);
    free(g.xyz);
    free(g.triangles);
    vug_context_free(ctx);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("measures");
    TCase *tc = tcase_create("measures");
    tcase_add_test(tc, sphere_torus_frustum_capsule);
    tcase_add_test(tc, frustum_of_a_pyramid_is_exact);
    tcase_add_test(tc, icosahedron_is_exact);
    tcase_add_test(tc, turning_and_moving_change_no_size);
    tcase_add_test(tc, mirroring_turns_the_sign);
    tcase_add_test(tc, scaling_follows_its_powers);
    tcase_add_test(tc, splitting_triangles_changes_nothing);
    suite_add_tcase(suite, tc);
    return test_run(suite);
}

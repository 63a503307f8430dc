/* SPDX-License-Identifier: MIT */
#include "mesh/mesh.h"

#include "shapes.h"
#include "test.h"

static const double PI = 3.14159265358979323846;

static uint32_t add_vertex(shape *s, double x, double y, double z)
{
    if (s->vertex_count % 1024 == 0)
        s->xyz = realloc(s->xyz, 3 * (s->vertex_count + 1024) * sizeof *s->xyz);
    double *p = s->xyz + 3 * s->vertex_count;
    p[0] = x;
    p[1] = y;
    p[2] = z;
    return (uint32_t)s->vertex_count++;
}

static void add_triangle(shape *s, uint32_t a, uint32_t b, uint32_t c)
{
    if (a == b || b == c || c == a)
        return;
    if (s->triangle_count % 1024 == 0)
        s->triangles = realloc(s->triangles, 3 * (s->triangle_count + 1024) * sizeof *s->triangles);
    uint32_t *t = s->triangles + 3 * s->triangle_count++;
    t[0] = a;
    t[1] = b;
    t[2] = c;
}

static double volume_from(const shape *s, size_t first)
{
    double six = 0.0;
    for (size_t t = first; t < s->triangle_count; t++) {
        const double *a = s->xyz + 3 * s->triangles[3 * t];
        const double *b = s->xyz + 3 * s->triangles[3 * t + 1];
        const double *c = s->xyz + 3 * s->triangles[3 * t + 2];
        six += a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2])
            + a[2] * (b[0] * c[1] - b[1] * c[0]);
    }
    return six;
}

static void turn_over(shape *s, size_t first)
{
    for (size_t t = first; t < s->triangle_count; t++) {
        uint32_t swap = s->triangles[3 * t];
        s->triangles[3 * t] = s->triangles[3 * t + 1];
        s->triangles[3 * t + 1] = swap;
    }
}

static void set_sense(shape *s, size_t first, int inward)
{
    if ((volume_from(s, first) < 0.0) != (inward != 0))
        turn_over(s, first);
}

void shape_revolve(shape *s, const double *profile, size_t count, size_t around, int inward)
{
    size_t first = s->triangle_count;
    int on_axis = profile[0] == 0.0 && profile[2 * (count - 1)] == 0.0;
    uint32_t *row = malloc(count * around * sizeof *row);
    for (size_t i = 0; i < count; i++) {
        for (size_t k = 0; k < around; k++) {
            double angle = 2.0 * PI * (double)k / (double)around, r = profile[2 * i];
            row[i * around + k] = r == 0.0 && k > 0
                ? row[i * around]
                : add_vertex(s, r * cos(angle), r * sin(angle), profile[2 * i + 1]);
        }
    }
    for (size_t i = 0; i + (on_axis ? 1 : 0) < count; i++) {
        size_t j = (i + 1) % count;
        for (size_t k = 0; k < around; k++) {
            size_t l = (k + 1) % around;
            uint32_t a = row[i * around + k], b = row[i * around + l];
            uint32_t c = row[j * around + k], d = row[j * around + l];
            add_triangle(s, a, b, d);
            add_triangle(s, a, d, c);
        }
    }
    free(row);
    set_sense(s, first, inward);
}

void shape_box(shape *s, const double lo[3], const double hi[3], int inward)
{
    static const int face[12][3] = {{0, 2, 1}, {1, 2, 3}, {4, 5, 6}, {5, 7, 6}, {0, 1, 4},
        {1, 5, 4}, {2, 6, 3}, {3, 6, 7}, {0, 4, 2}, {2, 4, 6}, {1, 3, 5}, {3, 7, 5}};
    size_t first = s->triangle_count;
    uint32_t v[8];
    for (int i = 0; i < 8; i++)
        v[i] = add_vertex(s, i & 1 ? hi[0] : lo[0], i & 2 ? hi[1] : lo[1], i & 4 ? hi[2] : lo[2]);
    for (int f = 0; f < 12; f++)
        add_triangle(s, v[face[f][0]], v[face[f][1]], v[face[f][2]]);
    set_sense(s, first, inward);
}

size_t shape_arc(double *profile, size_t at, double r0, double z0, double radius, double a0,
    double a1, size_t n)
{
    for (size_t i = 0; i <= n; i++, at++) {
        double angle = (a0 + (a1 - a0) * (double)i / (double)n) * PI / 180.0;
        double r = r0 + radius * cos(angle);
        profile[2 * at] = fabs(r) < 1e-9 * radius ? 0.0 : r;
        profile[2 * at + 1] = z0 + radius * sin(angle);
    }
    return at;
}

void shape_turn(shape *s, const double axis[3], double angle)
{
    double l = sqrt(axis[0] * axis[0] + axis[1] * axis[1] + axis[2] * axis[2]);
    double k[3] = {axis[0] / l, axis[1] / l, axis[2] / l};
    double c = cos(angle * PI / 180.0), w = sin(angle * PI / 180.0);
    for (size_t i = 0; i < s->vertex_count; i++) { /* Rodrigues' formula */
        double *p = s->xyz + 3 * i, d = k[0] * p[0] + k[1] * p[1] + k[2] * p[2];
        double x = p[0] * c + (k[1] * p[2] - k[2] * p[1]) * w + k[0] * d * (1.0 - c);
        double y = p[1] * c + (k[2] * p[0] - k[0] * p[2]) * w + k[1] * d * (1.0 - c);
        double z = p[2] * c + (k[0] * p[1] - k[1] * p[0]) * w + k[2] * d * (1.0 - c);
        p[0] = x;
        p[1] = y;
        p[2] = z;
    }
}

void shape_scale(shape *s, double factor)
{
    for (size_t i = 0; i < 3 * s->vertex_count; i++)
        s->xyz[i] *= factor;
}

void shape_shift(shape *s, double x, double y, double z)
{
    for (size_t i = 0; i < s->vertex_count; i++) {
        s->xyz[3 * i] += x;
        s->xyz[3 * i + 1] += y;
        s->xyz[3 * i + 2] += z;
    }
}

void shape_mirror(shape *s)
{
    for (size_t i = 0; i < s->vertex_count; i++)
        s->xyz[3 * i] = -s->xyz[3 * i];
    turn_over(s, 0);
}

vug_mesh *shape_mesh(vug_context *ctx, shape *s)
{
    vug_mesh *mesh = NULL;
    ck_ok(ctx,
        vug_mesh_from_arrays(ctx, s->xyz, s->vertex_count, 0, s->triangles, s->triangle_count, 0,
            &mesh));
    free(s->xyz);
    free(s->triangles);
    *s = (shape){.xyz = NULL};
    return mesh;
}

vug_mesh *shape_hollow_ball(vug_context *ctx, double a, double b, double r, size_t around)
{
    shape s = {.xyz = NULL};
    double *profile = malloc(8 * (around + 4) * sizeof *profile);
    size_t n = around / 2;
    if (r > 0.0) {
        double ao = 90.0 - asin(r / b) * 180.0 / PI, ai = 90.0 - asin(r / a) * 180.0 / PI;
        size_t at = shape_arc(profile, 0, 0.0, 0.0, b, -90.0, ao, n);
        at = shape_arc(profile, at, 0.0, 0.0, a, ai, -90.0, n);
        shape_revolve(&s, profile, at, around, 0);
    } else {
        size_t at = shape_arc(profile, 0, 0.0, 0.0, b, -90.0, 90.0, n);
        shape_revolve(&s, profile, at, around, 0);
        at = shape_arc(profile, 0, 0.0, 0.0, a, -90.0, 90.0, n);
        shape_revolve(&s, profile, at, around, 1);
    }
    free(profile);
    return shape_mesh(ctx, &s);
}

/* What can be added to has room up to the next 1024, see add_vertex(). */
static size_t room_for(size_t count)
{
    return (count + 1023) / 1024 * 1024;
}

shape shape_of_mesh(vug_mesh *mesh)
{
    shape s = {.vertex_count = vug_mesh_vertex_count(mesh),
        .triangle_count = vug_mesh_triangle_count(mesh)};
    s.xyz = malloc(3 * room_for(s.vertex_count) * sizeof *s.xyz);
    s.triangles = malloc(3 * room_for(s.triangle_count) * sizeof *s.triangles);
    ck_assert(s.xyz && s.triangles);
    memcpy(s.xyz, vug_mesh_vertices(mesh), 3 * s.vertex_count * sizeof *s.xyz);
    memcpy(s.triangles, vug_mesh_triangles(mesh), 3 * s.triangle_count * sizeof *s.triangles);
    vug_mesh_free(mesh);
    return s;
}

vug_cavities *cavities_by_hole(vug_context *ctx, vug_mesh *mesh, const double hole[7])
{
    vug_cavities *c = NULL;
    vug_cavity_options options;
    vug_cavity_options_init(&options, sizeof options);
    options.detect = 0;
    ck_ok(ctx, vug_cavities_find(ctx, mesh, hole, 1, &options, &c));
    vug_mesh_free(mesh);
    return c;
}

vug_course_info summary_of(const vug_course *course)
{
    vug_course_info s = {.struct_size = sizeof s};
    ck_assert_int_eq(vug_course_get(course, &s), VUG_OK);
    return s;
}

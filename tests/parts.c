/* SPDX-License-Identifier: MIT
 * Volumes, diameters and radii are those of the smooth shapes: sums of balls, cones, cylinders and
 * prisms by the handbook formulas, or, for the free shapes, counted finely on the formula that
 * defines them. */
#include "grid/grid.h"
#include "grid/net.h"

#include "parts.h"
#include "shapes.h"
#include "test.h"

static const double PI = 3.14159265358979323846;

/* ---- formulas ----------------------------------------------------------------- */

static double ball_volume(double r)
{
    return 4.0 / 3.0 * PI * r * r * r;
}

/* Between the planes at heights z0 and z1 above the centre. */
static double ball_zone(double r, double z0, double z1)
{
    return PI * (r * r * (z1 - z0) - (z1 * z1 * z1 - z0 * z0 * z0) / 3.0);
}

static double cylinder(double r, double length)
{
    return PI * r * r * length;
}

static double cone(double r0, double r1, double length)
{
    return PI / 3.0 * length * (r0 * r0 + r0 * r1 + r1 * r1);
}

/* ---- bodies of revolution, straight or along a curve ----------------------------- */

typedef struct outline {
    double rz[2 * 2048];
    size_t count;
} outline;

static void point(outline *o, double r, double z)
{
    o->rz[2 * o->count] = r;
    o->rz[2 * o->count++ + 1] = z;
}

static void line(outline *o, double r, double z, size_t n)
{
    double r0 = o->rz[2 * o->count - 2], z0 = o->rz[2 * o->count - 1];
    for (size_t i = 1; i <= n; i++)
        point(o, r0 + (r - r0) * (double)i / (double)n, z0 + (z - z0) * (double)i / (double)n);
}

static void arc(outline *o, double z0, double radius, double a0, double a1, size_t n)
{
    o->count = shape_arc(o->rz, o->count, 0.0, z0, radius, a0, a1, n);
}

static size_t around_at(int resolution)
{
    return (size_t)(96 + 24 * resolution);
}

static double degrees(double sine)
{
    return asin(sine) * 180.0 / PI;
}

static void revolve(shape *s, const outline *o, int resolution, int inward)
{
    shape_revolve(s, o->rz, o->count, around_at(resolution), inward);
}

static void ball(shape *s, double radius, double z0, int resolution, int inward)
{
    outline o = {.count = 0};
    arc(&o, z0, radius, -90.0, 90.0, around_at(resolution) / 2);
    revolve(s, &o, resolution, inward);
}

static void add_shape(shape *to, shape *from)
{
    to->xyz = realloc(to->xyz, 3 * (to->vertex_count + from->vertex_count + 1024) * sizeof(double));
    to->triangles = realloc(to->triangles,
        3 * (to->triangle_count + from->triangle_count + 1024) * sizeof(uint32_t));
    memcpy(to->xyz + 3 * to->vertex_count, from->xyz, 3 * from->vertex_count * sizeof(double));
    for (size_t i = 0; i < 3 * from->triangle_count; i++)
        to->triangles[3 * to->triangle_count + i] = from->triangles[i] + (uint32_t)to->vertex_count;
    to->vertex_count += from->vertex_count;
    to->triangle_count += from->triangle_count;
    free(from->xyz);
    free(from->triangles);
    *from = (shape){.xyz = NULL};
}

static part ball_sealed(shape *s, int res)
{
    ball(s, 20.0, 0.0, res, 0);
    ball(s, 18.0, 0.0, res, 1);
    return (part){.cavities = 1, .volume = {ball_volume(18.0)}};
}

/* Outer ball 20, inner ball 18, bores of radius `top` and `bottom` along z (0: none). */
static void bored_ball(shape *s, double top, double bottom, int res)
{
    outline o = {.count = 0};
    size_t n = around_at(res) / 2;
    double a = 90.0 - degrees(top / 20.0), b = 90.0 - degrees(top / 18.0);
    double c = -90.0 + degrees(bottom / 20.0), d = -90.0 + degrees(bottom / 18.0);
    arc(&o, 0.0, 20.0, c, a, n);
    arc(&o, 0.0, 18.0, b, d, n);
    revolve(s, &o, res, 0);
}

static double bore_in_ball(double r)
{
    double inner = sqrt(18.0 * 18.0 - r * r), outer = sqrt(400.0 - r * r);
    return cylinder(r, outer - inner) - ball_zone(18.0, inner, 18.0);
}

static part ball_one_bore(shape *s, int res)
{
    bored_ball(s, 1.5, 0.0, res);
    return (part){.cavities = 1,
        .openings = 1,
        .diameter = {3.0},
        .volume = {ball_volume(18.0) + bore_in_ball(1.5)}};
}

static part ball_two_bores(shape *s, int res)
{
    bored_ball(s, 1.0, 2.5, res);
    return (part){.cavities = 1,
        .openings = 2,
        .diameter = {5.0, 2.0},
        .volume = {ball_volume(18.0) + bore_in_ball(1.0) + bore_in_ball(2.5)}};
}

/* Three quarters of a ball: the mouth has half the width of the ball. */
static part ball_wide_mouth(shape *s, int res)
{
    bored_ball(s, 0.0, 9.0, res);
    return (part){.cavities = 1,
        .openings = 1,
        .diameter = {18.0},
        .volume = {ball_volume(18.0) + bore_in_ball(9.0)}};
}

static part box_sealed(shape *s, int res)
{
    (void)res;
    shape_box(s, (const double[3]){0, 0, 0}, (const double[3]){40, 30, 20}, 0);
    shape_box(s, (const double[3]){2, 2, 2}, (const double[3]){38, 28, 18}, 1);
    return (part){.cavities = 1, .volume = {36.0 * 26.0 * 16.0}};
}

/* A bottle: body 18, shoulder, neck 5. */
static part bottle(shape *s, int res)
{
    outline o = {.count = 0};
    point(&o, 0.0, 0.0);
    line(&o, 20.0, 0.0, 8);
    line(&o, 20.0, 50.0, 20);
    line(&o, 7.0, 65.0, 10);
    line(&o, 7.0, 80.0, 8);
    line(&o, 5.0, 80.0, 2);
    line(&o, 5.0, 65.0, 8);
    line(&o, 18.0, 50.0, 10);
    line(&o, 18.0, 2.0, 20);
    line(&o, 0.0, 2.0, 8);
    revolve(s, &o, res, 0);
    return (part){.cavities = 1,
        .openings = 1,
        .diameter = {10.0},
        .volume = {cylinder(18.0, 48.0) + cone(18.0, 5.0, 15.0) + cylinder(5.0, 15.0)}};
}

/* A ball of 15 with a neck of radius 2, 40 long. */
static part long_neck(shape *s, int res)
{
    outline o = {.count = 0};
    size_t n = around_at(res) / 2;
    arc(&o, 0.0, 17.0, -90.0, 90.0 - degrees(4.0 / 17.0), n);
    line(&o, 4.0, 55.0, 20);
    line(&o, 2.0, 55.0, 2);
    line(&o, 2.0, 20.0, 20);
    arc(&o, 0.0, 15.0, 90.0 - degrees(2.0 / 15.0), -90.0, n);
    revolve(s, &o, res, 0);
    double start = sqrt(15.0 * 15.0 - 4.0);
    return (part){.cavities = 1,
        .openings = 1,
        .diameter = {4.0},
        .volume = {ball_zone(15.0, -15.0, start) + cylinder(2.0, 55.0 - start)}};
}

/* Balls of 12 and 10, centres 26 apart, joined by a throat of radius 3 from ball to ball. */
static void two_bulbs(outline *o, size_t n, double wall, double bore)
{
    double a = 12.0 + wall, b = 10.0 + wall, t = 3.0 + wall;
    if (wall > 0.0) {
        arc(o, 0.0, a, -90.0 + degrees(bore / a), 90.0 - degrees(t / a), n);
        arc(o, 26.0, b, -90.0 + degrees(t / b), 90.0, n);
    } else {
        arc(o, 26.0, b, 90.0, -90.0 + degrees(t / b), n);
        arc(o, 0.0, a, 90.0 - degrees(t / a), -90.0 + degrees(bore / a), n);
    }
}

static double two_bulbs_volume(void)
{
    double p = sqrt(144.0 - 9.0), q = sqrt(100.0 - 9.0);
    return ball_zone(12.0, -12.0, p) + ball_zone(10.0, -q, 10.0) + cylinder(3.0, 26.0 - q - p);
}

static part bulbs_sealed(shape *s, int res)
{
    outline outer = {.count = 0}, inner = {.count = 0};
    size_t n = around_at(res) / 2;
    two_bulbs(&outer, n, 2.0, 0.0);
    two_bulbs(&inner, n, 0.0, 0.0);
    revolve(s, &outer, res, 0);
    revolve(s, &inner, res, 1);
    return (part){.cavities = 1, .throats = 1, .throat = {3.0}, .volume = {two_bulbs_volume()}};
}

static part bulbs_bored(shape *s, int res)
{
    outline o = {.count = 0};
    size_t n = around_at(res) / 2;
    two_bulbs(&o, n, 2.0, 1.25);
    two_bulbs(&o, n, 0.0, 1.25);
    revolve(s, &o, res, 0);
    double inner = sqrt(144.0 - 1.25 * 1.25), outer = sqrt(196.0 - 1.25 * 1.25);
    return (part){.cavities = 1,
        .openings = 1,
        .throats = 1,
        .throat = {3.0},
        .diameter = {2.5},
        .volume = {
            two_bulbs_volume() + cylinder(1.25, outer - inner) - ball_zone(12.0, inner, 12.0)}};
}

static part cup(shape *s, int res)
{
    outline o = {.count = 0};
    point(&o, 0.0, 0.0);
    line(&o, 15.0, 0.0, 8);
    line(&o, 15.0, 40.0, 20);
    line(&o, 13.0, 40.0, 2);
    line(&o, 12.0, 2.0, 20);
    line(&o, 0.0, 2.0, 8);
    revolve(s, &o, res, 0);
    return (part){.cavities = 0};
}

static part bowl(shape *s, int res)
{
    outline o = {.count = 0};
    size_t n = around_at(res) / 2;
    arc(&o, 0.0, 22.0, -90.0, 0.0, n);
    arc(&o, 0.0, 20.0, 0.0, -90.0, n);
    revolve(s, &o, res, 0);
    return (part){.cavities = 0};
}

static part tunnel(shape *s, int res)
{
    outline o = {.count = 0};
    point(&o, 4.0, 0.0);
    line(&o, 20.0, 0.0, 8);
    line(&o, 20.0, 30.0, 20);
    line(&o, 4.0, 30.0, 8);
    line(&o, 4.0, 1.0, 19);
    revolve(s, &o, res, 0);
    return (part){.cavities = 0};
}

/* A ring: torus of 20 and 8, its cavity 6. */
static part ring(shape *s, int res)
{
    outline o = {.count = 0};
    size_t n = around_at(res);
    o.count = shape_arc(o.rz, 0, 20.0, 0.0, 8.0, 0.0, 360.0 * (double)(n - 1) / (double)n, n - 1);
    revolve(s, &o, res, 0);
    o.count = shape_arc(o.rz, 0, 20.0, 0.0, 6.0, 0.0, 360.0 * (double)(n - 1) / (double)n, n - 1);
    revolve(s, &o, res, 1);
    return (part){.cavities = 1, .volume = {2.0 * PI * PI * 20.0 * 36.0}};
}

/* A ball in a ball in a ball: the solid inside is loose and hollow itself. */
static part nested(shape *s, int res)
{
    ball(s, 30.0, 0.0, res, 0);
    ball(s, 27.0, 0.0, res, 1);
    ball(s, 15.0, 4.0, res, 0);
    ball(s, 11.0, 4.0, res, 1);
    return (
        part){.cavities = 2, .volume = {ball_volume(27.0) - ball_volume(15.0), ball_volume(11.0)}};
}

/* The same with a bore into the outer cavity. */
static part nested_bored(shape *s, int res)
{
    bored_ball(s, 1.5, 0.0, res);
    ball(s, 9.0, -4.0, res, 0);
    ball(s, 6.0, -4.0, res, 1);
    return (part){.cavities = 2,
        .openings = 1,
        .diameter = {3.0},
        .volume = {ball_volume(18.0) + bore_in_ball(1.5) - ball_volume(9.0), ball_volume(6.0)}};
}

static part two_pieces(shape *s, int res)
{
    shape second = {.xyz = NULL};
    bored_ball(s, 1.5, 0.0, res);
    bored_ball(&second, 2.0, 1.0, res);
    shape_shift(&second, 50.0, 7.0, -3.0);
    add_shape(s, &second);
    double v = ball_volume(18.0);
    return (part){.cavities = 2,
        .openings = 3,
        .diameter = {4.0, 3.0, 2.0},
        .volume = {v + bore_in_ball(2.0) + bore_in_ball(1.0), v + bore_in_ball(1.5)}};
}

/* ---- tubes along a curve ----------------------------------------------------------- */

/* Four turns of radius 14 and pitch 10. */
static void helix(double t, double p[3])
{
    double turn = 8.0 * PI * t;
    p[0] = 14.0 * cos(turn);
    p[1] = 14.0 * sin(turn);
    p[2] = 40.0 * t;
}

static double helix_length(void)
{
    return sqrt(pow(8.0 * PI * 14.0, 2.0) + 1600.0);
}

/* Rows of (radius, place along the helix 0..1), turned about the helix as shape_revolve() turns
 * about z. The binormal of a helix makes a constant angle with z: no twist. */
static void sweep(shape *s, const outline *o, int resolution)
{
    shape tube = {.xyz = NULL};
    shape_revolve(&tube, o->rz, o->count, around_at(resolution), 0);
    double slope = 40.0 / (8.0 * PI * 14.0), k = 1.0 / sqrt(1.0 + slope * slope);
    for (size_t i = 0; i < tube.vertex_count; i++) {
        double *p = tube.xyz + 3 * i, c[3], turn = 8.0 * PI * p[2], x = p[0], y = p[1];
        helix(p[2], c);
        const double normal[3] = {cos(turn), sin(turn), 0.0};
        const double binormal[3] = {k * slope * sin(turn), -k * slope * cos(turn), k};
        for (int a = 0; a < 3; a++)
            p[a] = c[a] + x * normal[a] + y * binormal[a];
    }
    double six = 0.0; /* the frame may have turned it inside out */
    for (size_t t = 0; t < tube.triangle_count; t++) {
        const double *a = tube.xyz + 3 * (size_t)tube.triangles[3 * t];
        const double *b = tube.xyz + 3 * (size_t)tube.triangles[3 * t + 1];
        const double *d = tube.xyz + 3 * (size_t)tube.triangles[3 * t + 2];
        six += a[0] * (b[1] * d[2] - b[2] * d[1]) + a[1] * (b[2] * d[0] - b[0] * d[2])
            + a[2] * (b[0] * d[1] - b[1] * d[0]);
    }
    for (size_t t = 0; six < 0.0 && t < tube.triangle_count; t++) {
        uint32_t swap = tube.triangles[3 * t];
        tube.triangles[3 * t] = tube.triangles[3 * t + 1];
        tube.triangles[3 * t + 1] = swap;
    }
    add_shape(s, &tube);
}

/* A coil of bore 3 that narrows to 1 over its last fifth. */
static part coil(shape *s, int res)
{
    outline o = {.count = 0};
    size_t n = (size_t)(200 + 100 * res);
    point(&o, 0.0, 0.0);
    line(&o, 4.0, 0.0, 3);
    line(&o, 4.0, 1.0, n);
    line(&o, 1.0, 1.0, 2);
    line(&o, 3.0, 0.8, n / 5);
    line(&o, 3.0, 0.01, n * 4 / 5);
    line(&o, 0.0, 0.01, 3);
    sweep(s, &o, res);
    /* Pappus: sections square to the helix, centred on it. */
    double l = helix_length();
    return (part){.cavities = 1,
        .openings = 1,
        .diameter = {2.0},
        .volume = {cylinder(3.0, 0.79 * l) + cone(3.0, 1.0, 0.2 * l)}};
}

/* ---- free shapes: where a formula is negative ---------------------------------------- */

typedef double (*formula)(const double p[3]);

static double norm(double x, double y, double z)
{
    return sqrt(x * x + y * y + z * z);
}

static double ball_at(const double p[3], double x, double y, double z, double r)
{
    return norm(p[0] - x, p[1] - y, p[2] - z) - r;
}

static double box_at(const double p[3], const double center[3], const double half[3])
{
    double outside = 0.0, inside = -INFINITY;
    for (int k = 0; k < 3; k++) {
        double d = fabs(p[k] - center[k]) - half[k];
        outside += d > 0.0 ? d * d : 0.0;
        inside = fmax(inside, d);
    }
    return inside > 0.0 ? sqrt(outside) : inside;
}

/* Half-infinite rod from a point along a unit direction. */
static double rod(const double p[3], const double from[3], const double axis[3], double r)
{
    double d[3] = {p[0] - from[0], p[1] - from[1], p[2] - from[2]};
    double t = d[0] * axis[0] + d[1] * axis[1] + d[2] * axis[2];
    double across = norm(d[0] - t * axis[0], d[1] - t * axis[1], d[2] - t * axis[2]);
    return fmax(across - r, -t);
}

/* Smooth union (quadratic blend over k). */
static double blend(double a, double b, double k)
{
    double h = fmax(k - fabs(a - b), 0.0) / k;
    return fmin(a, b) - 0.25 * h * h * k;
}

/* Volume where f is negative, by cells that count by how much of them is inside. */
static double count_volume(formula f, const double lo[3], const double hi[3], int n)
{
    double h = 0.0, sum = 0.0;
    for (int k = 0; k < 3; k++)
        h = fmax(h, (hi[k] - lo[k]) / n);
    for (double z = lo[2] + 0.5 * h; z < hi[2]; z += h)
        for (double y = lo[1] + 0.5 * h; y < hi[1]; y += h)
            for (double x = lo[0] + 0.5 * h; x < hi[0]; x += h) {
                const double p[3] = {x, y, z};
                sum += fmin(1.0, fmax(0.0, 0.5 - f(p) / h));
            }
    return sum * h * h * h;
}

static void polygonise(vug_context *ctx, shape *s, formula f, const double lo[3],
    const double hi[3], int cells)
{
    vugi_grid grid;
    vug_mesh *mesh = NULL;
    ck_ok(ctx, vugi_grid_fit(ctx, lo, hi, cells, 2, &grid));
    size_t count = vugi_grid_count(&grid);
    float *field = malloc(count * sizeof *field);
    for (size_t c = 0; c < count; c++) {
        double p[3];
        vugi_grid_point(&grid, c, p);
        field[c] = (float)f(p);
    }
    ck_ok(ctx, vugi_surface_net(ctx, &grid, field, 0.0, &mesh));
    free(field);
    shape made = {.vertex_count = mesh->vertex_count, .triangle_count = mesh->triangle_count};
    made.xyz = malloc(3 * made.vertex_count * sizeof(double));
    made.triangles = malloc(3 * made.triangle_count * sizeof(uint32_t));
    memcpy(made.xyz, mesh->xyz, 3 * made.vertex_count * sizeof(double));
    memcpy(made.triangles, mesh->triangles, 3 * made.triangle_count * sizeof(uint32_t));
    vug_mesh_free(mesh);
    add_shape(s, &made);
}

/* A figure of blended balls with a wall of 2.5 and four bores. */
static double organic_skin(const double p[3])
{
    double d = blend(ball_at(p, 0.0, 0.0, 0.0, 16.0), ball_at(p, 4.0, 2.0, 22.0, 11.0), 6.0);
    d = blend(d, ball_at(p, 18.0, -3.0, 6.0, 8.0), 5.0);
    return blend(d, ball_at(p, -16.0, 6.0, -6.0, 9.0), 5.0);
}

static double organic_core(const double p[3])
{
    return organic_skin(p) + 2.5;
}

static double organic(const double p[3])
{
    double d = fmax(organic_skin(p), -organic_core(p));
    d = fmax(d, -rod(p, (const double[3]){4.0, 2.0, 22.0}, (const double[3]){0, 0, 1}, 1.25));
    d = fmax(d, -rod(p, (const double[3]){0.0, 0.0, 0.0}, (const double[3]){0, 0, -1}, 1.5));
    d = fmax(d, -rod(p, (const double[3]){18.0, -3.0, 6.0}, (const double[3]){1, 0, 0}, 1.5));
    return fmax(d, -rod(p, (const double[3]){-16.0, 6.0, -6.0}, (const double[3]){-1, 0, 0}, 1.5));
}

static part organic_part(vug_context *ctx, shape *s, int res)
{
    const double lo[3] = {-28, -18, -18}, hi[3] = {28, 18, 34};
    polygonise(ctx, s, organic, lo, hi, 90 + 25 * res);
    double bores = cylinder(1.25, 2.5) + 3.0 * cylinder(1.5, 2.5);
    return (part){.cavities = 1,
        .openings = 4,
        .diameter = {3.0, 3.0, 3.0, 2.5},
        .throats = -1,
        .volume = {count_volume(organic_core, lo, hi, 160) + bores}};
}

/* Hollow box with a slot 10 long, 2 wide, with round ends, through its lid of 2. */
static double slotted(const double p[3])
{
    double d = box_at(p, (const double[3]){0, 0, 0}, (const double[3]){17, 13, 11});
    d = fmax(d, -box_at(p, (const double[3]){0, 0, 0}, (const double[3]){15, 11, 9}));
    double x = fmax(fabs(p[0]) - 4.0, 0.0);
    return fmax(d, -fmax(sqrt(x * x + p[1] * p[1]) - 1.0, -p[2]));
}

static part slot(vug_context *ctx, shape *s, int res)
{
    const double lo[3] = {-17, -13, -11}, hi[3] = {17, 13, 11};
    double area = 8.0 * 2.0 + PI;
    polygonise(ctx, s, slotted, lo, hi, 90 + 25 * res);
    return (part){.cavities = 1,
        .openings = 1,
        .diameter = {2.0 * sqrt(area / PI)},
        .volume = {30.0 * 22.0 * 18.0 + 2.0 * area}};
}

/* A hollow ball with a bore that leaves it at 45 degrees to the skin. */
static double oblique(const double p[3])
{
    double d = fmax(ball_at(p, 0, 0, 0, 20.0), -ball_at(p, 0, 0, 0, 17.0));
    const double axis[3] = {0.0, 0.0, 1.0};
    return fmax(d, -rod(p, (const double[3]){13.0, 0.0, 5.0}, axis, 1.5));
}

static part oblique_bore(vug_context *ctx, shape *s, int res)
{
    const double lo[3] = {-20, -20, -20}, hi[3] = {20, 20, 20};
    polygonise(ctx, s, oblique, lo, hi, 90 + 25 * res);
    /* Up to the plane square to the bore where it is still closed: the lowest point of its rim, at
     * x = 14.5; behind it the slanted cut of the inner ball, at its middle. */
    double top = sqrt(400.0 - 14.5 * 14.5), bottom = sqrt(289.0 - 169.0);
    return (part){.cavities = 1,
        .openings = 1,
        .diameter = {3.0},
        .volume = {ball_volume(17.0) + cylinder(1.5, top - bottom)}};
}

/* Seven six-sided cells of width 9 across flats, in a block, each with a bore of 1.5 below. */
static double hexagon(double x, double y)
{
    double d = fabs(y);
    d = fmax(d, fabs(0.8660254037844386 * x + 0.5 * y));
    return fmax(d, fabs(0.8660254037844386 * x - 0.5 * y));
}

static double honeycomb_solid(const double p[3])
{
    double d = fmax(hexagon(p[1], p[0]) - 17.5, fabs(p[2]) - 9.0);
    for (int c = 0; c < 7; c++) {
        double a = PI / 6.0 + PI / 3.0 * c, far = c == 6 ? 0.0 : 10.5;
        double x = p[0] - far * cos(a), y = p[1] - far * sin(a);
        d = fmax(d, -fmax(hexagon(x, y) - 4.5, fabs(p[2]) - 7.0));
        d = fmax(d, -fmax(hypot(x, y) - 0.75, p[2]));
    }
    return d;
}

static part honeycomb(vug_context *ctx, shape *s, int res)
{
    const double lo[3] = {-21, -21, -9}, hi[3] = {21, 21, 9};
    polygonise(ctx, s, honeycomb_solid, lo, hi, 150 + 30 * res);
    part made = {.cavities = 7, .openings = 7};
    for (int c = 0; c < 7; c++) {
        /* A hexagon of inner radius r has the area 2 sqrt 3 r^2. */
        made.volume[c] = 2.0 * sqrt(3.0) * 4.5 * 4.5 * 14.0 + cylinder(0.75, 2.0);
        made.diameter[c] = 1.5;
    }
    return made;
}

/* A round figure on a flat foot with three bores side by side. */
static double footed(const double p[3])
{
    double outer = blend(ball_at(p, 0, 0, 12.0, 14.0), ball_at(p, 3.0, 0, 28.0, 9.0), 6.0);
    double inner = fmax(outer + 2.0, 2.0 - p[2]);
    double d = fmax(fmax(outer, -p[2]), -inner);
    for (int b = -1; b <= 1; b++)
        d = fmax(d, -fmax(hypot(p[0] - 3.5 * b, p[1]) - 1.25, p[2] - 6.0));
    return d;
}

static double footed_core(const double p[3])
{
    double outer = blend(ball_at(p, 0, 0, 12.0, 14.0), ball_at(p, 3.0, 0, 28.0, 9.0), 6.0);
    return fmax(outer + 2.0, 2.0 - p[2]);
}

static part foot(vug_context *ctx, shape *s, int res)
{
    const double lo[3] = {-15, -15, 0}, hi[3] = {15, 15, 38};
    polygonise(ctx, s, footed, lo, hi, 90 + 25 * res);
    return (part){.cavities = 1,
        .openings = 3,
        .diameter = {2.5, 2.5, 2.5},
        .throats = -1,
        .volume = {count_volume(footed_core, lo, hi, 160) + 3.0 * cylinder(1.25, 2.0)}};
}

/* A solid figure: arms at its sides leave creases and a gap under each. */
static double armed(const double p[3])
{
    double d = ball_at(p, 0, 0, 0, 14.0);
    d = blend(d, ball_at(p, 0, 0, 18.0, 8.0), 3.0);
    for (int side = -1; side <= 1; side += 2)
        for (int i = 0; i < 5; i++)
            d = blend(d,
                ball_at(p, side * (12.0 + 3.0 * i - 0.9 * i * i), 0.0, 10.0 - 5.0 * i, 3.5), 1.5);
    return d;
}

static part armpits(vug_context *ctx, shape *s, int res)
{
    const double lo[3] = {-24, -15, -16}, hi[3] = {24, 15, 27};
    polygonise(ctx, s, armed, lo, hi, 90 + 25 * res);
    return (part){.cavities = 0};
}

/* Two hollows side by side in one block, a wall between them, a bore from each. */
static double paired(const double p[3])
{
    double d = box_at(p, (const double[3]){0, 0, 0}, (const double[3]){19, 10, 10});
    d = fmax(d, -ball_at(p, -9.0, 0, 0, 8.0));
    d = fmax(d, -ball_at(p, 9.0, 0, 0, 8.0));
    d = fmax(d, -rod(p, (const double[3]){-9, 0, 0}, (const double[3]){0, 0, -1}, 1.0));
    return fmax(d, -rod(p, (const double[3]){9, 0, 0}, (const double[3]){0, 0, -1}, 1.5));
}

static part pair(vug_context *ctx, shape *s, int res)
{
    const double lo[3] = {-19, -10, -10}, hi[3] = {19, 10, 10};
    polygonise(ctx, s, paired, lo, hi, 90 + 25 * res);
    double a = ball_volume(8.0) + cylinder(1.5, 10.0 - sqrt(64.0 - 2.25))
        - ball_zone(8.0, sqrt(64.0 - 2.25), 8.0);
    double b = ball_volume(8.0) + cylinder(1.0, 10.0 - sqrt(63.0))
        - ball_zone(8.0, sqrt(63.0), 8.0);
    return (part){.cavities = 2, .openings = 2, .diameter = {3.0, 2.0}, .volume = {a, b}};
}

/* A countersunk hole: 3 wide for 1, then a cone to 9 over 3, h pi / 3 (r2 + r R + R2) up to the skin. */
static part countersunk(shape *s, int res)
{
    outline o = {.count = 0};
    point(&o, 0.0, 0.0);
    line(&o, 16.0, 0.0, 8);
    line(&o, 16.0, 30.0, 20);
    line(&o, 4.5, 30.0, 8);
    line(&o, 1.5, 27.0, 8);
    line(&o, 1.5, 26.0, 2);
    line(&o, 14.0, 26.0, 8);
    line(&o, 14.0, 2.0, 20);
    line(&o, 0.0, 2.0, 8);
    revolve(s, &o, res, 0);
    return (part){.cavities = 1,
        .openings = 1,
        .diameter = {3.0},
        .volume = {
            cylinder(14.0, 24.0) + cylinder(1.5, 1.0) + PI * (1.5 * 1.5 + 1.5 * 4.5 + 4.5 * 4.5)}};
}

/* ---- the list ------------------------------------------------------------------------ */

typedef part (*turned_part)(shape *s, int resolution);
typedef part (*free_part)(vug_context *ctx, shape *s, int resolution);

static const struct {
    const char *name;
    turned_part turned;
    free_part free;
} list[] = {
    {"ball, sealed", ball_sealed, NULL},
    {"ball with a bore", ball_one_bore, NULL},
    {"ball with two bores", ball_two_bores, NULL},
    {"ball with a wide mouth", ball_wide_mouth, NULL},
    {"box, sealed", box_sealed, NULL},
    {"bottle", bottle, NULL},
    {"bulb with a long neck", long_neck, NULL},
    {"two bulbs, sealed", bulbs_sealed, NULL},
    {"two bulbs with a bore", bulbs_bored, NULL},
    {"cup", cup, NULL},
    {"bowl", bowl, NULL},
    {"tunnel", tunnel, NULL},
    {"ring", ring, NULL},
    {"nested balls", nested, NULL},
    {"nested balls with a bore", nested_bored, NULL},
    {"two pieces", two_pieces, NULL},
    {"coil", coil, NULL},
    {"countersunk hole", countersunk, NULL},
    {"organic with four bores", NULL, organic_part},
    {"slot", NULL, slot},
    {"oblique bore in a curved skin", NULL, oblique_bore},
    {"honeycomb", NULL, honeycomb},
    {"three bores in one foot", NULL, foot},
    {"armpits", NULL, armpits},
    {"two cavities side by side", NULL, pair},
};

int part_count(void)
{
    return (int)(sizeof list / sizeof *list);
}

const char *part_name(int index)
{
    return list[index].name;
}

part part_make(vug_context *ctx, int index, int resolution)
{
    shape s = {.xyz = NULL};
    part made = list[index].turned ? list[index].turned(&s, resolution)
                                   : list[index].free(ctx, &s, resolution);
    if (resolution > 0)
        shape_turn(&s, (const double[3]){0.3, -0.7, 0.4}, 37.0 * resolution);
    made.name = list[index].name;
    made.mesh = shape_mesh(ctx, &s);
    return made;
}

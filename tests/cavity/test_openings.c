/* SPDX-License-Identifier: MIT
 * An opening is what it is in the mesh, and pockets, filling and draining say the same of it. The parts of
 * tests/data/openings have figures by an independent count (README.md there says how); boxes with one
 * slanting bore have figures by hand. */
#include "test.h"

#include <stdbool.h>

enum { AROUND = 192 };

static const double PI = 3.14159265358979323846;

/* ---- three answers to one question --------------------------------------------------- */

typedef struct answers {
    double pockets, fill, drain; /* trapped air by each, mm3 */
} answers;

static double capacity_of(const vug_cavities *c)
{
    vug_cavity_info info;
    info.struct_size = sizeof info;
    ck_assert_int_eq(vug_cavities_get(c, 0, &info), VUG_OK);
    return info.volume_mm3;
}

static vug_course_info summarize(vug_course *course)
{
    vug_course_info s = {.struct_size = sizeof s};
    ck_assert_int_eq(vug_course_get(course, &s), VUG_OK);
    vug_course_free(course);
    return s;
}

static answers ask(vug_context *ctx, const vug_cavities *c, const double up[3], uint32_t columns)
{
    const double down[3] = {-up[0], -up[1], -up[2]};
    answers a;
    vug_pose_options pose;
    vug_fill_options fill;
    vug_drain_options drain;
    vug_pockets *pockets = NULL;
    vug_course *course = NULL;
    vug_pose_options_init(&pose, sizeof pose);
    vug_fill_options_init(&fill, sizeof fill);
    vug_drain_options_init(&drain, sizeof drain);
    pose.columns_across = fill.columns_across = drain.columns_across = columns;
    ck_ok(ctx, vug_pockets_find(ctx, c, up, NULL, 0, &pose, &pockets));
    a.pockets = vug_pockets_trapped_mm3(pockets);
    vug_pockets_info all = {.struct_size = sizeof all};
    ck_assert_int_eq(vug_pockets_totals(pockets, NULL), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_pockets_totals(pockets, &all), VUG_OK);
    ck_assert(all.trapped_mm3 == a.pockets && all.trapped_mm3 <= all.capacity_mm3);
    ck_near(all.capacity_mm3, capacity_of(c), 1e-9); /* that of the mesh, in every pose */
    vug_pockets_free(pockets);
    ck_ok(ctx, vug_fill_run(ctx, c, NULL, up, NULL, 0, &fill, &course));
    vug_course_info s = summarize(course);
    a.fill = s.trapped_mm3 + s.empty_mm3;
    ck_ok(ctx, vug_drain_run(ctx, c, NULL, down, NULL, 0, &drain, &course));
    a.drain = summarize(course).liquid_mm3;
    return a;
}

static void check(vug_context *ctx, const vug_cavities *c, const double up[3], uint32_t columns,
    double want, double slack, const char *what)
{
    answers a = ask(ctx, c, up, columns);
    ck_assert_msg(fabs(a.pockets - want) <= slack && fabs(a.fill - want) <= slack
            && fabs(a.drain - want) <= slack,
        "%s at (%.3f %.3f %.3f), %u columns: pockets %.1f, fill %.1f, drain %.1f, not %.1f +- %.1f",
        what, up[0], up[1], up[2], (unsigned)columns, a.pockets, a.fill, a.drain, want, slack);
}

/* ---- parts with figures by an independent count ------------------------------------------ */

enum { MOST_BORES = 3, MOST_POSES = 3 };

typedef struct known_part {
    const char *name;
    double capacity;
    int bores;
    double diameter[MOST_BORES];
    int poses;
    struct {
        double up[3], trapped, grid; /* mm3; grid: how far two spacings of the count are apart */
    } pose[MOST_POSES];
} known_part;

/* From the README.md beside the files. */
static const known_part known[] = {
    {"box1020", 3972, 1, {3.4}, 3,
        {{{0.234177, 0.535410, -0.811478}, 115, 4}, {{0.078279, 0.306157, 0.948757}, 2381, 0},
            {{0.586160, -0.769013, -0.255020}, 1049, 1}}},
    {"box1072", 5319, 3, {3.2, 2.4, 2.0}, 3,
        {{{0.852532, -0.244624, -0.461896}, 1390, 1}, {{-0.621119, 0.690437, 0.370821}, 185, 5},
            {{0.899944, 0.405995, 0.158961}, 138, 2}}},
    {"box1081", 2960, 2, {2.2, 1.7}, 3,
        {{{0.569909, -0.079899, -0.817814}, 1841, 2}, {{-0.962778, 0.250004, 0.102748}, 246, 34},
            {{-0.015631, -0.776363, -0.630092}, 1082, 40}}},
    {"shell2068", 3126, 1, {2.1}, 3,
        {{{-0.067005, -0.124037, -0.990013}, 1610, 5}, {{0.329432, 0.226367, 0.916642}, 691, 5},
            {{0.290424, 0.377551, 0.879266}, 576, 10}}},
    /* by hand: 30 x 30 mm2 of air above the highest point of the outer rim, and the air in the bore */
    {"slant", 27092, 1, {4.0}, 1, {{{0.0, 0.0, 1.0}, 18632, 0}}},
};

static vug_mesh *load_mesh(vug_context *ctx, const char *name)
{
    char path[1024];
    const char *source = getenv("VUG_SRCDIR");
    vug_mesh *mesh = NULL;
    snprintf(path, sizeof path, "%s/tests/data/openings/%s.stl", source ? source : ".", name);
    ck_ok(ctx, vug_mesh_load(ctx, path, NULL, &mesh));
    return mesh;
}

static vug_cavities *load(vug_context *ctx, const char *name)
{
    vug_mesh *mesh = load_mesh(ctx, name);
    vug_cavities *c = NULL;
    ck_ok(ctx, vug_cavities_find(ctx, mesh, NULL, 0, NULL, &c));
    vug_mesh_free(mesh);
    return c;
}

static int falling(const void *left, const void *right)
{
    const double *p = left, *q = right;
    return (*p < *q) - (*p > *q);
}

/* What is there: one cavity on the part's own triangles up to the skin, and bores as wide as they were
 * made. The many-sided bores of the files are narrower than round ones of the same name by up to 2 %. */
START_TEST(openings_are_what_they_are)
{
    const known_part *p = known + _i;
    double diameter[VUG_MAX_OPENINGS];
    vug_context *ctx = test_context();
    vug_cavities *c = load(ctx, p->name);
    vug_cavity_info info;
    info.struct_size = sizeof info;
    ck_assert_uint_eq(vug_cavities_count(c), 1);
    ck_assert_int_eq(vug_cavities_get(c, 0, &info), VUG_OK);
    ck_assert_int_eq(info.exact, 1);
    ck_near(info.volume_mm3, p->capacity, 0.001);
    ck_assert_uint_eq(info.openings, (unsigned)p->bores);
    for (int i = 0; i < p->bores; i++) {
        vug_opening_info o;
        o.struct_size = sizeof o;
        ck_assert_int_eq(vug_cavities_opening(c, (size_t)i, &o), VUG_OK);
        diameter[i] = o.diameter_mm;
        ck_assert(o.bore_length_mm > 0.0);
    }
    qsort(diameter, (size_t)p->bores, sizeof *diameter, falling);
    for (int i = 0; i < p->bores; i++)
        ck_near(diameter[i], p->diameter[i], 0.025);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* ridge.stl: the wide bore leaves over an edge of the body, so obliquely that no section square to it is closed;
 * slivers of skin lie along the rims. Volume (convex pieces, divergence theorem) and bores as made: README.md there. */
START_TEST(bores_without_a_section)
{
    static const double hole[21] = {3.709378, -7.777871, -3.480931, 0.362852, -0.913474, -0.184128,
        3.000410, 7.372259, -4.091470, 7.056501, 0.683018, -0.514446, 0.518490, 2.107738, -8.366109,
        -0.940437, 7.410331, -0.695434, -0.226397, 0.681994, 4.024352};
    vug_context *ctx = test_context();
    vug_cavities *c = NULL;
    vug_mesh *mesh = load_mesh(ctx, "ridge");
    vug_cavity_options options;
    vug_cavity_options_init(&options, sizeof options);
    options.detect = 0;
    ck_ok(ctx, vug_cavities_find(ctx, mesh, hole, 3, &options, &c));
    vug_mesh_free(mesh);
    vug_cavity_info info;
    info.struct_size = sizeof info;
    ck_assert_uint_eq(vug_cavities_count(c), 1);
    ck_assert_int_eq(vug_cavities_get(c, 0, &info), VUG_OK);
    ck_assert_int_eq(info.exact, 1);
    ck_near(info.volume_mm3, 3410.992, 0.001);
    ck_assert_uint_eq(info.openings, 3);
    for (size_t i = 0; i < 3; i++) {
        vug_opening_info o;
        o.struct_size = sizeof o;
        ck_assert_int_eq(vug_cavities_opening(c, i, &o), VUG_OK);
        ck_assert_int_eq(o.planned, 0);
        ck_near(o.diameter_mm, hole[7 * i + 6], 0.015);
    }
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

START_TEST(trapped_air_as_counted)
{
    const known_part *p = known + _i;
    vug_context *ctx = test_context();
    vug_cavities *c = load(ctx, p->name);
    for (int i = 0; i < p->poses; i++)
        check(ctx, c, p->pose[i].up, 280, p->pose[i].trapped,
            fmax(0.005 * capacity_of(c), 2.0 * p->pose[i].grid), p->name);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* ---- a box with one slanting bore, by hand -------------------------------------------------- */

/* The hollow is 30 mm wide in walls of 6 mm; the bore goes through the +x wall, its outer end lower. */
static const double HALF = 15.0, SKIN = 21.0;

typedef struct slanted {
    double angle, radius; /* radians, mm */
    double axis_z;        /* where the axis meets the hollow's wall */
} slanted;

static double axis_height(const slanted *s, double x)
{
    return s->axis_z - (x - HALF) * tan(s->angle);
}

typedef struct soup {
    double *xyz;
    uint32_t *triangles;
    size_t vertices, count;
} soup;

static uint32_t add_vertex(soup *m, double x, double y, double z)
{
    double *p = m->xyz + 3 * m->vertices;
    p[0] = x;
    p[1] = y;
    p[2] = z;
    return (uint32_t)m->vertices++;
}

static void add_triangle(soup *m, uint32_t a, uint32_t b, uint32_t c, bool turned)
{
    uint32_t *v = m->triangles + 3 * m->count++;
    v[0] = a;
    v[1] = turned ? c : b;
    v[2] = turned ? b : c;
}

/* A cube of side 2 s but for a hole in its +x face around the bore, if it has a radius; returns the first
 * vertex of the rim, which runs counter-clockwise seen from +x. */
static uint32_t add_cube(soup *m, double s, const slanted *bore, bool turned)
{
    /* corners by bits: x 1, y 2, z 4 */
    static const uint32_t quad[6][4] = {{0, 4, 6, 2}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 2, 3, 1},
        {4, 5, 7, 6}, {1, 3, 7, 5}};
    const bool whole = !(bore->radius > 0.0);
    uint32_t first = (uint32_t)m->vertices;
    for (int i = 0; i < 8; i++)
        add_vertex(m, i & 1 ? s : -s, i & 2 ? s : -s, i & 4 ? s : -s);
    for (int i = 0; i < 5 + whole; i++) {
        add_triangle(m, first + quad[i][0], first + quad[i][1], first + quad[i][2], turned);
        add_triangle(m, first + quad[i][0], first + quad[i][2], first + quad[i][3], turned);
    }
    uint32_t rim = (uint32_t)m->vertices;
    if (whole)
        return rim;
    for (int i = 0; i < AROUND; i++) {
        double a = 2.0 * PI * i / AROUND;
        add_vertex(m, s, bore->radius * cos(a),
            axis_height(bore, s) + bore->radius / cos(bore->angle) * sin(a));
    }
    /* each piece of the rim sees one corner: +y+z, -y+z, -y-z, +y-z */
    static const uint32_t corner[4] = {7, 5, 1, 3};
    for (uint32_t i = 0; i < AROUND; i++) {
        uint32_t here = rim + i, next = rim + (i + 1) % AROUND, at = first + corner[4 * i / AROUND];
        uint32_t after = first + corner[4 * ((i + 1) % AROUND) / AROUND];
        add_triangle(m, here, at, next, turned);
        if (after != at)
            add_triangle(m, next, at, after, turned);
    }
    return rim;
}

static vug_mesh *make_slanted(vug_context *ctx, const slanted *bore, const double turn[9],
    double scale)
{
    soup m = {.xyz = malloc(3 * (16 + 2 * AROUND) * sizeof *m.xyz),
        .triangles = malloc(3 * (40 + 8 * AROUND) * sizeof *m.triangles)};
    uint32_t outer = add_cube(&m, SKIN, bore, false), inner = add_cube(&m, HALF, bore, true);
    vug_mesh *mesh = NULL;
    for (uint32_t i = 0; i < AROUND && bore->radius > 0.0; i++) {
        uint32_t n = (i + 1) % AROUND;
        add_triangle(&m, outer + i, outer + n, inner + i, false);
        add_triangle(&m, outer + n, inner + n, inner + i, false);
    }
    for (size_t v = 0; v < m.vertices; v++) {
        double p[3];
        for (int k = 0; k < 3; k++)
            p[k] = scale
                * (turn[3 * k] * m.xyz[3 * v] + turn[3 * k + 1] * m.xyz[3 * v + 1]
                    + turn[3 * k + 2] * m.xyz[3 * v + 2]);
        memcpy(m.xyz + 3 * v, p, sizeof p);
    }
    ck_ok(ctx, vug_mesh_from_arrays(ctx, m.xyz, m.vertices, 0, m.triangles, m.count, 0, &mesh));
    free(m.xyz);
    free(m.triangles);
    return mesh;
}

/* Area of a unit circle above height t: the segment, by the handbook. */
static double segment(double t)
{
    return t >= 1.0 ? 0.0 : t <= -1.0 ? PI : acos(t) - t * sqrt(1.0 - t * t);
}

/* Air of the bore above a level: each section x = const is an ellipse. */
static double bore_above(const slanted *s, double level)
{
    enum { SLICES = 4000 };
    double sum = 0.0, tall = s->radius / cos(s->angle), dx = (SKIN - HALF) / SLICES;
    for (int i = 0; i < SLICES; i++)
        sum += s->radius * tall * dx
            * segment((level - axis_height(s, HALF + (i + 0.5) * dx)) / tall);
    return sum;
}

/* Trapped air by hand in the six poses along the axes, up to +-x, +-y, +-z. */
static double trapped_by_hand(const slanted *s, int pose)
{
    const double area = 4.0 * HALF * HALF, tall = s->radius / cos(s->angle);
    const double rim = axis_height(s, SKIN) + tall, mouth = -axis_height(s, HALF) + tall;
    switch (pose) {
    case 0: /* the bore is on top of a flat ceiling */
        return 0.0;
    case 1: /* below a flat floor: no air leaves once its rim is covered */
        return area * 2.0 * HALF + PI * s->radius * tall * (SKIN - HALF);
    case 2:
    case 3: /* the bore is level: up to its highest line */
        return area * (HALF - s->radius);
    case 4: /* down and out: above the highest point of the outer rim, in the hollow and in the bore */
        return area * (HALF - rim) + bore_above(s, rim);
    default: /* up and out: above the highest point of the mouth; the bore empties itself */
        return area * (HALF - mouth);
    }
}

static void random_turn(unsigned *seed, double turn[9])
{
    double q[4], n = 0.0;
    for (int i = 0; i < 4; i++) {
        *seed = *seed * 1664525u + 1013904223u; /* Numerical Recipes' generator */
        q[i] = (*seed >> 8) / 8388608.0 - 1.0;
        n += q[i] * q[i];
    }
    n = sqrt(n);
    double w = q[0] / n, x = q[1] / n, y = q[2] / n, z = q[3] / n;
    const double r[9] = {1 - 2 * (y * y + z * z), 2 * (x * y - w * z), 2 * (x * z + w * y),
        2 * (x * y + w * z), 1 - 2 * (x * x + z * z), 2 * (y * z - w * x), 2 * (x * z - w * y),
        2 * (y * z + w * x), 1 - 2 * (x * x + y * y)};
    memcpy(turn, r, sizeof r);
}

static const double straight[9] = {1, 0, 0, 0, 1, 0, 0, 0, 1};

static vug_cavities *find_slanted(vug_context *ctx, const slanted *bore, const double turn[9],
    double scale)
{
    vug_cavities *c = NULL;
    vug_mesh *mesh = make_slanted(ctx, bore, turn, scale);
    ck_ok(ctx, vug_cavities_find(ctx, mesh, NULL, 0, NULL, &c));
    vug_mesh_free(mesh);
    ck_assert_uint_eq(vug_cavities_count(c), 1);
    ck_assert_uint_eq(vug_cavities_opening_count(c), 1);
    return c;
}

static void pose_up(const double turn[9], int pose, double up[3])
{
    for (int k = 0; k < 3; k++)
        up[k] = turn[3 * k + pose / 2] * (pose % 2 ? -1.0 : 1.0);
}

/* The bore as a maker names it: where its axis meets the skin, outward, its width. */
static void name_bore(const slanted *s, const double turn[9], double hole[7])
{
    for (int k = 0; k < 3; k++) {
        hole[k] = turn[3 * k] * SKIN + turn[3 * k + 2] * axis_height(s, SKIN);
        hole[3 + k] = turn[3 * k] * cos(s->angle) - turn[3 * k + 2] * sin(s->angle);
    }
    hole[6] = 2.0 * s->radius;
}

static slanted slanted_at(double degrees, double radius)
{
    slanted s = {degrees * PI / 180.0, radius, 0.0};
    s.axis_z = 0.5 * (SKIN - HALF) * tan(s.angle); /* amid the wall at height 0 */
    return s;
}

static const double angles[] = {0.0, 15.0, 30.0, 45.0, 60.0};

/* The bore's own measures: capacity up to the skin, width square to the axis, length along it. */
START_TEST(slanted_bore_is_measured)
{
    vug_context *ctx = test_context();
    slanted s = slanted_at(angles[_i], 2.0);
    vug_cavities *c = find_slanted(ctx, &s, straight, 1.0);
    vug_opening_info o;
    o.struct_size = sizeof o;
    ck_assert_int_eq(vug_cavities_opening(c, 0, &o), VUG_OK);
    ck_near(capacity_of(c), 27000.0 + PI * 4.0 * 6.0 / cos(s.angle), 1e-5);
    ck_near(o.diameter_mm, 4.0, 0.001);
    ck_near(o.area_mm2, PI * 4.0 / cos(s.angle), 0.001);
    ck_near(o.bore_length_mm, 6.0 / cos(s.angle), 0.001);
    ck_close(o.center_mm[0], SKIN, 0.01);
    ck_close(o.center_mm[2], axis_height(&s, SKIN), 0.01);
    ck_close(o.normal[0], 1.0, 1e-6);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* Pockets, fill and drain against the sums by hand, the part turned in any way. */
START_TEST(slanted_bore_by_hand)
{
    vug_context *ctx = test_context();
    slanted s = slanted_at(angles[_i], 2.0);
    unsigned seed = 7u + (unsigned)_i;
    for (int round = 0; round < 2; round++) {
        double turn[9], up[3];
        random_turn(&seed, turn);
        vug_cavities *c = find_slanted(ctx, &s, turn, 1.0);
        pose_up(turn, 4, up);
        double below = 0.0, rim = axis_height(&s, SKIN) + s.radius / cos(s.angle);
        ck_ok(ctx, vug_mesh_volume_below(ctx, vug_cavities_mesh(c, 0, NULL), up, rim, &below));
        ck_close(capacity_of(c) - below, trapped_by_hand(&s, 4), 1e-3 * capacity_of(c));
        for (int pose = 0; pose < 6; pose++) {
            pose_up(turn, pose, up);
            check(ctx, c, up, round ? 280 : 140, trapped_by_hand(&s, pose), 0.005 * capacity_of(c),
                "slanted bore");
        }
        vug_cavities_free(c);
    }
    vug_context_free(ctx);
}
END_TEST

/* A bore narrower than the columns are apart is passed by its own geometry, wherever they stand. */
START_TEST(narrow_bore_by_hand)
{
    vug_context *ctx = test_context();
    slanted s = slanted_at(35.0, 0.25);
    unsigned seed = 99u + (unsigned)_i;
    double turn[9], up[3];
    random_turn(&seed, turn);
    vug_mesh *mesh = make_slanted(ctx, &s, turn, 1.0);
    double hole[7];
    name_bore(&s, turn, hole);
    vug_cavities *c = NULL;
    ck_ok(ctx, vug_cavities_find(ctx, mesh, hole, 1, NULL, &c));
    ck_assert_uint_eq(vug_cavities_opening_count(c), 1);
    for (int pose = 0; pose < 6; pose++) {
        pose_up(turn, pose, up);
        for (uint32_t columns = 40; columns <= (test_quick() ? 40 : 160); columns *= 2)
            check(ctx, c, up, columns, trapped_by_hand(&s, pose),
                fmax(0.005 * capacity_of(c), 900.0 * 0.02 * 30.0 / columns), "narrow bore");
    }
    vug_cavities_free(c);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* A bore that is only planned is measured like one that is cut, and passes the same: by hand, in each pose. */
START_TEST(planned_bore_is_as_cut)
{
    vug_context *ctx = test_context();
    const slanted s = slanted_at(angles[_i], 2.0), none = {s.angle, 0.0, s.axis_z};
    unsigned seed = 31u + (unsigned)_i;
    double turn[9], up[3], hole[7];
    vug_cavities *c = NULL;
    vug_opening_info o = {.struct_size = sizeof o};
    random_turn(&seed, turn);
    name_bore(&s, turn, hole);
    vug_mesh *mesh = make_slanted(ctx, &none, turn, 1.0);
    ck_ok(ctx, vug_cavities_find(ctx, mesh, hole, 1, NULL, &c));
    vug_mesh_free(mesh);
    ck_assert_uint_eq(vug_cavities_count(c), 1);
    ck_ok(ctx, vug_cavities_opening(c, 0, &o));
    ck_assert_int_eq(o.planned, 1);
    ck_near(capacity_of(c), 27000.0 + PI * 4.0 * 6.0 / cos(s.angle), 1e-6);
    ck_near(o.diameter_mm, 4.0, 1e-9);
    ck_near(o.area_mm2, PI * 4.0 / cos(s.angle), 0.004); /* by a polygon of 48 sides */
    ck_near(o.bore_length_mm, 6.0 / cos(s.angle), 1e-6);
    for (int k = 0; k < 3; k++)
        ck_close(o.normal[k], turn[3 * k], 1e-6);
    for (int pose = 0; pose < 6; pose++) {
        pose_up(turn, pose, up);
        check(ctx, c, up, 200, trapped_by_hand(&s, pose), 0.005 * capacity_of(c), "planned bore");
    }
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* A dry bore that slopes down and out: the volumes settle with the columns, and no liquid goes in after
 * the last air has left. */
START_TEST(dry_bore_settles)
{
    vug_context *ctx = test_context();
    static const uint32_t columns[] = {100, 140, 200, 280, 400};
    slanted s = slanted_at(35.0, 2.0);
    vug_cavities *c = find_slanted(ctx, &s, straight, 1.0);
    const double up[3] = {0.0, 0.0, 1.0};
    for (size_t i = 0; i < sizeof columns / sizeof *columns; i++) {
        vug_fill_options options;
        vug_course *course = NULL;
        vug_fill_options_init(&options, sizeof options);
        options.columns_across = columns[i];
        ck_ok(ctx, vug_fill_run(ctx, c, NULL, up, NULL, 0, &options, &course));
        double covered = -1.0;
        for (size_t e = 0; e < vug_course_event_count(course); e++) {
            vug_event_info event = {.struct_size = sizeof event};
            ck_assert_int_eq(vug_course_event(course, e, &event), VUG_OK);
            if (event.kind == VUG_EVENT_RIM)
                covered = event.liquid_mm3;
        }
        vug_course_info end = summarize(course);
        ck_close(end.liquid_mm3, capacity_of(c) - trapped_by_hand(&s, 4), 0.002 * capacity_of(c));
        ck_close(covered, end.liquid_mm3, 1e-6 * capacity_of(c));
    }
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* ---- the same part told otherwise --------------------------------------------------------------- */

/* Every triangle in four, in the other order. */
static vug_mesh *retold(vug_context *ctx, const vug_mesh *from, bool split, bool mirrored)
{
    size_t n = vug_mesh_triangle_count(from), parts = split ? 4 : 1;
    double *xyz = malloc(n * parts * 9 * sizeof *xyz), *p = xyz;
    uint32_t *triangles = malloc(n * parts * 3 * sizeof *triangles);
    vug_mesh *mesh = NULL;
    for (size_t t = n; t-- > 0;) {
        double c[6][3]; /* corners, then middles of the sides after them */
        static const int piece[4][3] = {{0, 3, 5}, {3, 1, 4}, {5, 4, 2}, {3, 4, 5}};
        for (size_t k = 0; k < 3; k++)
            memcpy(c[k], vug_mesh_vertices(from) + 3 * (size_t)vug_mesh_triangles(from)[3 * t + k],
                sizeof *c);
        for (size_t k = 0; k < 3; k++)
            for (int d = 0; d < 3; d++)
                c[3 + k][d] = 0.5 * (c[k][d] + c[(k + 1) % 3][d]);
        for (size_t s = 0; s < parts; s++)
            for (int k = 0; k < 3; k++, p += 3) {
                int at = split ? piece[s][mirrored ? 2 - k : k] : mirrored ? 2 - k : k;
                memcpy(p, c[at], sizeof *c);
                p[1] = mirrored ? -p[1] : p[1];
            }
    }
    for (uint32_t i = 0; i < n * parts * 3; i++)
        triangles[i] = i;
    ck_ok(ctx, vug_mesh_from_arrays(ctx, xyz, n * parts * 3, 0, triangles, n * parts, 0, &mesh));
    free(xyz);
    free(triangles);
    return mesh;
}

START_TEST(told_otherwise)
{
    vug_context *ctx = test_context();
    slanted s = slanted_at(30.0, 2.0);
    const double up[3] = {0.31, 0.22, 0.92}, mirrored_up[3] = {0.31, -0.22, 0.92};
    vug_mesh *plain = make_slanted(ctx, &s, straight, 1.0),
             *twice = make_slanted(ctx, &s, straight, 2.0);
    vug_mesh *mesh[4] = {retold(ctx, plain, false, false), retold(ctx, plain, true, false),
        retold(ctx, plain, true, true), twice};
    vug_cavities *c = NULL;
    ck_ok(ctx, vug_cavities_find(ctx, plain, NULL, 0, NULL, &c));
    answers want = ask(ctx, c, up, 200);
    double capacity = capacity_of(c);
    vug_cavities_free(c);
    for (int i = 0; i < 4; i++) {
        double volume = i == 3 ? 8.0 : 1.0, slack = 0.002 * capacity;
        ck_ok(ctx, vug_cavities_find(ctx, mesh[i], NULL, 0, NULL, &c));
        ck_near(capacity_of(c) / volume, capacity, 1e-6);
        answers got = ask(ctx, c, i == 2 ? mirrored_up : up, 200);
        ck_close(got.pockets / volume, want.pockets, slack);
        ck_close(got.fill / volume, want.fill, slack);
        ck_close(got.drain / volume, want.drain, slack);
        vug_cavities_free(c);
        vug_mesh_free(mesh[i]);
    }
    vug_mesh_free(plain);
    vug_context_free(ctx);
}
END_TEST

/* ---- two slots that meet at one edge of the skin, by hand ---------------------------------- */

/* A hollow 14 mm wide in walls of 3 mm. Two slots 3 mm square in the skin lead up from it, parted by a wedge
 * whose edge lies in the skin and whose back, 0.8 mm wide, faces the hollow. */
static const double slotted[30][3] = {{-10, -10, 10}, {10, -10, 10}, {10, 10, 10}, {-10, 10, 10},
    {-10, -10, -10}, {10, -10, -10}, {10, 10, -10}, {-10, 10, -10}, /* the skin */
    {-3, -1.5, 10}, {0, -1.5, 10}, {3, -1.5, 10}, {3, 1.5, 10}, {0, 1.5, 10}, {-3, 1.5, 10},
    {-7, -7, 7}, {7, -7, 7}, {7, 7, 7}, {-7, 7, 7}, /* the hollow */
    {-7, -7, -7}, {7, -7, -7}, {7, 7, -7}, {-7, 7, -7}, {-3, -1.5, 7}, {-0.4, -1.5, 7},
    {0.4, -1.5, 7}, {3, -1.5, 7}, {3, 1.5, 7}, {0.4, 1.5, 7}, {-0.4, 1.5, 7}, {-3, 1.5, 7}};

/* Seen from outside of the skin, and from the wall into the hollow; a triangle names its last corner twice. */
static const uint32_t skin_faces[][4] = {{0, 1, 10, 10}, {0, 10, 9, 9}, {0, 9, 8, 8},
    {1, 2, 11, 10}, {2, 3, 13, 13}, {2, 13, 12, 12}, {2, 12, 11, 11}, {3, 0, 8, 13}, {0, 4, 5, 1},
    {1, 5, 6, 2}, {2, 6, 7, 3}, {3, 7, 4, 0}, {4, 7, 6, 5}};
static const uint32_t hollow_faces[][4] = {{14, 15, 25, 25}, {14, 25, 24, 24}, {14, 24, 23, 23},
    {14, 23, 22, 22}, {15, 16, 26, 25}, {16, 17, 29, 29}, {16, 29, 28, 28}, {16, 28, 27, 27},
    {16, 27, 26, 26}, {17, 14, 22, 29}, {23, 24, 27, 28}, {14, 18, 19, 15}, {15, 19, 20, 16},
    {16, 20, 21, 17}, {17, 21, 18, 14}, {18, 21, 20, 19}};
static const uint32_t slot_rim[2][4] = {{8, 9, 12, 13}, {9, 10, 11, 12}};
static const uint32_t slot_end[2][4] = {{22, 23, 28, 29}, {24, 25, 26, 27}};

static void add_quad(soup *m, const uint32_t q[4], bool turned)
{
    add_triangle(m, q[0], q[1], q[2], turned);
    if (q[3] != q[2])
        add_triangle(m, q[0], q[2], q[3], turned);
}

static vug_mesh *make_slotted(vug_context *ctx)
{
    uint32_t corner[3 * 2 * (13 + 16 + 8)];
    soup m = {.triangles = corner};
    vug_mesh *mesh = NULL;
    for (size_t i = 0; i < sizeof skin_faces / sizeof *skin_faces; i++)
        add_quad(&m, skin_faces[i], false);
    for (size_t i = 0; i < sizeof hollow_faces / sizeof *hollow_faces; i++)
        add_quad(&m, hollow_faces[i], true);
    for (int slot = 0; slot < 2; slot++)
        for (int i = 0; i < 4; i++) {
            int n = (i + 1) % 4;
            const uint32_t wall[4] = {slot_rim[slot][i], slot_rim[slot][n], slot_end[slot][n],
                slot_end[slot][i]};
            add_quad(&m, wall, false);
        }
    ck_ok(ctx, vug_mesh_from_arrays(ctx, slotted[0], 30, 0, corner, m.count, 0, &mesh));
    return mesh;
}

/* By hand: 14^3 in the hollow, and each slot is 3 mm long and wide and 2.6 to 3 mm across, 25.2 mm3. With the
 * slots in a side wall, air stays above the upper one: 4 of the 14 mm. */
START_TEST(rims_may_share_an_edge)
{
    vug_context *ctx = test_context();
    const double up[3] = {1, 0, 0};
    vug_mesh *mesh = make_slotted(ctx);
    vug_cavities *c = NULL;
    vug_cavity_info info = {.struct_size = sizeof info};
    ck_ok(ctx, vug_cavities_find(ctx, mesh, NULL, 0, NULL, &c));
    ck_assert_uint_eq(vug_cavities_count(c), 1);
    ck_ok(ctx, vug_cavities_get(c, 0, &info));
    ck_assert(info.exact);
    ck_assert_uint_eq(info.openings, 2);
    ck_near(info.volume_mm3, 14.0 * 14.0 * 14.0 + 2.0 * 25.2, 1e-12);
    for (uint32_t i = 0; i < 2; i++) {
        vug_opening_info o = {.struct_size = sizeof o};
        ck_ok(ctx, vug_cavities_opening(c, i, &o));
        ck_near(o.area_mm2, 9.0, 1e-12);
        ck_near(o.normal[2], 1.0, 1e-12);
    }
    check(ctx, c, up, 150, 4.0 * 14.0 * 14.0, 0.01 * 2794.4, "two slots");
    vug_cavities_free(c);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* Outside 20 mm, inside 16, a hole of 4 x 4 mm in the top, all in 44 triangles: corners ring by ring, half the side
 * and the height. */
static vug_mesh *make_plain_jar(vug_context *ctx)
{
    static const double ring[6][2] = {{10, -10}, {10, 10}, {2, 10}, {2, 8}, {8, 8}, {8, -8}};
    static const uint32_t ends[2][4] = {{0, 3, 2, 1}, {20, 21, 22, 23}};
    double xyz[24][3];
    uint32_t corner[3 * 64];
    soup m = {.triangles = corner};
    vug_mesh *mesh = NULL;
    for (uint32_t i = 0; i < 24; i++) {
        double half = ring[i / 4][0];
        xyz[i][0] = i % 4 == 1 || i % 4 == 2 ? half : -half;
        xyz[i][1] = i % 4 >= 2 ? half : -half;
        xyz[i][2] = ring[i / 4][1];
    }
    for (uint32_t i = 0; i < 20; i++) {
        uint32_t n = i % 4 == 3 ? i - 3 : i + 1;
        const uint32_t wall[4] = {i, n, n + 4, i + 4};
        add_quad(&m, wall, false);
    }
    add_quad(&m, ends[0], false);
    add_quad(&m, ends[1], false);
    ck_ok(ctx, vug_mesh_from_arrays(ctx, xyz[0], 24, 0, corner, m.count, 0, &mesh));
    return mesh;
}

/* By hand: 16^3 and 4 x 4 x 2; upside down all but what is below the hole's rim stays. The skin of so plain a part
 * is no piece of the bore's wall, few triangles as it has. */
START_TEST(plain_jar)
{
    vug_context *ctx = test_context();
    const double down[3] = {0, 0, -1}, hole[7] = {0, 0, 10, 0, 0, 1, 4.5};
    vug_mesh *mesh = make_plain_jar(ctx);
    vug_cavities *c = NULL;
    vug_cavity_info info = {.struct_size = sizeof info};
    vug_opening_info o = {.struct_size = sizeof o};
    ck_ok(ctx, vug_cavities_find(ctx, mesh, hole, (size_t)_i, NULL, &c));
    ck_assert_uint_eq(vug_cavities_count(c), 1);
    ck_ok(ctx, vug_cavities_get(c, 0, &info));
    ck_assert(info.exact);
    ck_assert_uint_eq(info.openings, 1);
    ck_near(info.volume_mm3, 4096.0 + 32.0, 1e-12);
    ck_ok(ctx, vug_cavities_opening(c, 0, &o));
    ck_near(o.area_mm2, 16.0, 1e-12);
    check(ctx, c, down, 150, 4128.0, 0.01 * 4128.0, "a plain jar");
    vug_cavities_free(c);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

int main(void)
{
    const int parts = test_quick() ? 2 : (int)(sizeof known / sizeof *known);
    const int slants = test_quick() ? 2 : (int)(sizeof angles / sizeof *angles);
    Suite *suite = suite_create("openings");
    TCase *counted = tcase_create("counted"), *hand = tcase_create("hand");
    tcase_add_loop_test(counted, openings_are_what_they_are, 0, parts);
    tcase_add_test(counted, bores_without_a_section);
    tcase_add_loop_test(counted, trapped_air_as_counted, 0, parts);
    tcase_add_loop_test(hand, slanted_bore_is_measured, 0, slants);
    tcase_add_loop_test(hand, slanted_bore_by_hand, 0, slants);
    tcase_add_loop_test(hand, narrow_bore_by_hand, 0, test_quick() ? 1 : 2);
    tcase_add_loop_test(hand, planned_bore_is_as_cut, 0, slants);
    if (!test_quick()) {
        tcase_add_test(hand, told_otherwise);
        tcase_add_test(hand, dry_bore_settles);
    }
    tcase_add_test(hand, rims_may_share_an_edge);
    tcase_add_loop_test(hand, plain_jar, 0, 2);
    tcase_set_timeout(counted, 600);
    tcase_set_timeout(hand, 600);
    suite_add_tcase(suite, counted);
    suite_add_tcase(suite, hand);
    return test_run(suite);
}

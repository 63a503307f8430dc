/* SPDX-License-Identifier: MIT
 * grid: what passages resist, against closed forms of slow flow (Poiseuille's for the tube, the others in White,
 * Viscous Fluid Flow, and Shah and London 1978, from memory), for any place of the grid against them. */
#include "grid/conductivity.h"
#include "grid/sign.h"
#include "shapes.h"
#include "test.h"

static const double PI = 3.14159265358979323846;

/* A block with a passage in it, turned, and the way along the passage of a point. */
typedef struct bench {
    shape s;
    double axis[3], degrees;
    double (*along)(const double p[3]);
} bench;

static double along_z(const double p[3])
{
    return p[2];
}

/* Of a ring about z: from one side to the other by both halves, radius 6. */
static double around_z(const double p[3])
{
    return 6.0 * fabs(atan2(p[1], p[0])) - 3.0 * PI;
}

static void turn_back(const bench *b, const double p[3], double q[3])
{
    double l = sqrt(b->axis[0] * b->axis[0] + b->axis[1] * b->axis[1] + b->axis[2] * b->axis[2]);
    double a = -b->degrees * PI / 180.0, c = cos(a), s = sin(a), dot = 0.0, n[3];
    for (int k = 0; k < 3; k++) {
        n[k] = l > 0.0 ? b->axis[k] / l : 0.0;
        dot += n[k] * p[k];
    }
    for (int k = 0; k < 3; k++) {
        int u = (k + 1) % 3, v = (k + 2) % 3;
        q[k] = c * p[k] + s * (n[u] * p[v] - n[v] * p[u]) + (1.0 - c) * dot * n[k];
    }
}

static void block_around(bench *b, double half)
{
    const double lo[3] = {-half, -half, -half}, hi[3] = {half, half, half};
    shape_box(&b->s, lo, hi, 0);
}

static const double no_axis[3] = {0, 0, 0}, skew[3] = {1.0, 2.0, 0.7};

/* k of all cells of the cavity, and their states between two places along the way. */
typedef struct sample {
    vugi_grid grid;
    uint8_t *cell, *gap, *state;
    double *k;
} sample;

static sample sample_of(vug_context *ctx, bench *b, double half, double h, const double shift[3])
{
    vug_mesh *mesh;
    if (b->degrees != 0.0)
        shape_turn(&b->s, b->axis, b->degrees);
    block_around(b, 1.8 * half);
    mesh = shape_mesh(ctx, &b->s);
    sample s;
    s.grid.h = h;
    for (int k = 0; k < 3; k++) {
        s.grid.n[k] = (int32_t)(2.0 * half / h) + 4;
        s.grid.origin[k] = -half - 2.0 * h + shift[k] * h;
    }
    size_t count = vugi_grid_count(&s.grid);
    uint32_t *work = malloc(count * sizeof *work);
    vugi_sign_report report;
    s.cell = malloc(count);
    s.state = malloc(count);
    s.gap = malloc(6 * count);
    s.k = malloc(count * sizeof *s.k);
    ck_ok(ctx, vugi_grid_sign(ctx, mesh, NULL, &s.grid, s.cell, work, &report));
    ck_ok(ctx, vugi_grid_walls(ctx, mesh, NULL, &s.grid, s.gap));
    for (size_t c = 0; c < count; c++)
        s.state[c] = s.cell[c] == VUGI_VOID ? VUGI_CELL_IN : VUGI_CELL_WALL;
    ck_ok(ctx, vugi_conductivity(ctx, &s.grid, s.state, s.gap, NULL, s.k));
    free(work);
    vug_mesh_free(mesh);
    return s;
}

static vugi_passage between(vug_context *ctx, const bench *b, sample *s, double from, double to)
{
    vugi_passage out;
    for (size_t c = 0; c < vugi_grid_count(&s->grid); c++) {
        double p[3], q[3];
        if (s->cell[c] != VUGI_VOID)
            continue;
        vugi_grid_point(&s->grid, c, p);
        turn_back(b, p, q);
        double at = b->along(q);
        s->state[c] = at < from ? VUGI_CELL_FROM : at > to ? VUGI_CELL_TO : VUGI_CELL_IN;
    }
    ck_ok(ctx,
        vugi_passage_measure(ctx, &s->grid, s->state, s->k, &(vugi_ends){.wide = NULL}, &out));
    return out;
}

static void sample_free(sample *s)
{
    free(s->cell);
    free(s->gap);
    free(s->state);
    free(s->k);
}

static const double shifts[3][3] = {{0.13, 0.27, 0.41}, {0.5, 0.5, 0.5}, {0.03, 0.71, 0.9}};

typedef void (*maker)(bench *b);

/* A round section whose polygon has the circle's area. */
static double rounded(double r, int around)
{
    return r * sqrt(2.0 * PI / around / sin(2.0 * PI / around));
}

static void make_tube(bench *b)
{
    const double r = rounded(1.0, 64), p[] = {0, -8, r, -8, r, 8, 0, 8};
    shape_revolve(&b->s, p, 4, 64, 1);
}

static void make_square(bench *b)
{
    const double lo[3] = {-1, -1, -8}, hi[3] = {1, 1, 8};
    shape_box(&b->s, lo, hi, 1);
}

static void make_slot(bench *b)
{
    const double lo[3] = {-1, -4, -8}, hi[3] = {1, 4, 8};
    shape_box(&b->s, lo, hi, 1);
}

/* 2 mm wide: the ring is as wide as the tube. */
static void make_ring(bench *b)
{
    const double r = rounded(2.0, 96), q = rounded(4.0, 96);
    const double p[] = {r, -8, q, -8, q, 8, r, 8};
    shape_revolve(&b->s, p, 4, 96, 1);
}

static void make_bend(bench *b)
{
    double p[48];
    for (int i = 0; i < 24; i++) {
        p[2 * i] = 6.0 + rounded(1.0, 24) * cos(2.0 * PI * i / 24);
        p[2 * i + 1] = rounded(1.0, 24) * sin(2.0 * PI * i / 24);
    }
    shape_revolve(&b->s, p, 24, 96, 1);
}

typedef struct passage_case {
    const char *name;
    maker make;
    double (*along)(const double p[3]);
    double conductance, edge; /* flow times viscosity over slope, mm4; wall over area, 1/mm */
    double ways;              /* how many there are side by side */
} passage_case;

/* Differences of two lengths, so that the ends on the grid don't count. The bend turns with six times its radius:
 * slow flow loses there what it loses in a straight tube within 1 % (Larrain and Bonilla 1970, from memory). */
static const passage_case cases[] = {
    {"tube", make_tube, along_z, 0.39269908, 2.0, 1.0},
    {"square", make_square, along_z, 0.035144 * 16.0, 2.0, 1.0},
    {"slot", make_slot, along_z, 8.0 * 8.0 * 0.070203, 1.25, 1.0},
    {"ring", make_ring, along_z, 0.39269908 * 256.0 * 0.125984, 1.0, 1.0},
    {"bend", make_bend, around_z, 0.39269908, 2.0, 2.0},
};

static void check_case(const passage_case *p, int across, double tolerance)
{
    for (int i = 0; i < 6; i++) {
        vug_context *ctx = test_context();
        bench b = {.along = p->along, .degrees = i < 3 ? 0.0 : 37.0};
        memcpy(b.axis, i < 3 ? no_axis : skew, sizeof b.axis);
        p->make(&b);
        sample s = sample_of(ctx, &b, 8.5, 2.0 / across, shifts[i % 3]);
        vugi_passage near = between(ctx, &b, &s, -2.0, 2.0);
        vugi_passage far = between(ctx, &b, &s, -6.0, 6.0);
        double want = 8.0 / p->conductance / p->ways, thin = far.thin - near.thin;
        if (getenv("PASSAGE_SHOW"))
            fprintf(stderr, "%s %d cells, place %d: %+.1f %%, length %+.1f %%, edge %+.1f %%\n",
                p->name, across, i, 100.0 * (thin / want - 1.0),
                100.0 * ((far.length - near.length) / 8.0 - 1.0),
                100.0 * ((far.edge - near.edge) / 8.0 / p->edge - 1.0));
        ck_assert_msg(fabs(thin / want - 1.0) <= tolerance,
            "%s, %d cells across, place %d: %+.1f %%", p->name, across, i,
            100.0 * (thin / want - 1.0));
        ck_near(far.length - near.length, 8.0, tolerance);
        ck_near(far.edge - near.edge, 8.0 * p->edge, 2.0 * tolerance);
        sample_free(&s);
        vug_context_free(ctx);
    }
}

START_TEST(eight_cells_across)
{
    check_case(cases + _i, 8, 0.05);
}
END_TEST

START_TEST(four_cells_across)
{
    check_case(cases + _i, 4, 0.15);
}
END_TEST

/* A cone from 1 to 2 mm over 8 mm: 8 / (3 pi slope) (1 / r1^3 - 1 / r2^3) (Hagen and Poiseuille in each slice). */
START_TEST(cone)
{
    const double a = rounded(1.0, 64), b2 = rounded(2.0, 64);
    const double p[] = {0, -6, a, -6, a, -4, b2, 4, b2, 6, 0, 6};
    vug_context *ctx = test_context();
    bench b = {.along = along_z};
    shape_revolve(&b.s, p, 6, 64, 1);
    sample s = sample_of(ctx, &b, 6.5, 0.25, shifts[0]);
    vugi_passage way = between(ctx, &b, &s, -4.0, 4.0);
    double from = -INFINITY,
           to = INFINITY; /* the middles of the cells at the ends, in the straight parts */
    for (int32_t k = 0; k < s.grid.n[2]; k++) {
        double z = s.grid.origin[2] + s.grid.h * k;
        from = z < -4.0 ? fmax(from, z) : from;
        to = z > 4.0 ? fmin(to, z) : to;
    }
    double want = 8.0 / (3.0 * PI * 0.125) * (1.0 - 1.0 / 8.0);
    want += 8.0 / PI * (-4.0 - from) + 8.0 / (16.0 * PI) * (to - 4.0);
    ck_near(way.thin, want, 0.05);
    sample_free(&s);
    vug_context_free(ctx);
}
END_TEST

/* Ends that don't hang together are told, and a cancelled call says so. */
START_TEST(no_way_and_cancelled)
{
    const double lo[3] = {-1, -1, -5}, hi[3] = {1, 1, -1}, up[3] = {1, 1, 5}, base[3] = {-1, -1, 1};
    vug_context *ctx = test_context();
    bench b = {.along = along_z};
    shape_box(&b.s, lo, hi, 1);
    shape_box(&b.s, base, up, 1);
    sample s = sample_of(ctx, &b, 6.0, 0.4, shifts[0]);
    vugi_passage out;
    for (size_t c = 0; c < vugi_grid_count(&s.grid); c++) {
        double p[3];
        vugi_grid_point(&s.grid, c, p);
        if (s.cell[c] == VUGI_VOID)
            s.state[c] = p[2] < -4.0 ? VUGI_CELL_FROM : p[2] > 4.0 ? VUGI_CELL_TO : VUGI_CELL_IN;
    }
    ck_assert_int_eq(vugi_passage_measure(ctx, &s.grid, s.state, s.k, &(vugi_ends){.wide = NULL},
                         &out),
        VUG_ERR_NOT_FOUND);
    vug_context_cancel(ctx);
    ck_assert_int_eq(vugi_conductivity(ctx, &s.grid, s.state, s.gap, NULL, s.k), VUG_ERR_CANCELLED);
    sample_free(&s);
    vug_context_free(ctx);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("passage");
    TCase *tc = tcase_create("passage");
    tcase_set_timeout(tc, 60.0);
    tcase_add_loop_test(tc, eight_cells_across, 0, (int)(sizeof cases / sizeof cases[0]));
    tcase_add_loop_test(tc, four_cells_across, 0, (int)(sizeof cases / sizeof cases[0]));
    tcase_add_test(tc, cone);
    tcase_add_test(tc, no_way_and_cancelled);
    suite_add_tcase(suite, tc);
    return test_run(suite);
}

/* SPDX-License-Identifier: MIT
 * cavity: what throats between chambers resist, against figures of OpenFOAM 1912 for slow flow through parts of
 * the same shape (simpleFoam, one phase; its own error is about 3 %, 5 % for the tube). */
#include "cavity/cavity.h"
#include "cavity/extend.h"
#include "cavity/rim.h"

#include "blocks.h"

static const double PI = 3.14159265358979323846, G = 9.80665;

/* *edge: pressure over the yield stress that it just holds. */
static double resistance(vug_context *ctx, vug_mesh *part, double radius, double *edge)
{
    vug_cavity_options options;
    vug_cavities *c = NULL;
    vug_cavity_info info = {.struct_size = sizeof info};
    vug_throat_info throat = {.struct_size = sizeof throat};
    vug_cavity_options_init(&options, sizeof options);
    options.cells_across = 128;
    ck_ok(ctx, vug_cavities_find(ctx, part, NULL, 0, &options, &c));
    ck_assert_uint_eq(vug_cavities_count(c), 1);
    ck_ok(ctx, vug_cavities_get(c, 0, &info));
    ck_assert_uint_eq(info.throats, 1);
    ck_ok(ctx, vug_cavities_throat(c, 0, 0, &throat));
    ck_near(throat.radius_mm, radius, 0.1);
    *edge = c->cavity[0].throat[0].edge;
    vug_cavities_free(c);
    vug_mesh_free(part);
    return throat.resistance_mm3;
}

/* Two chambers 20 mm long and deep, joined by a slot over the whole depth; in cells of 2 mm. With both surfaces rising
 * alike half of the rate goes through the slot, and their difference of level is what it takes; side walls, which the
 * figures leave out, narrow it to 1 - 0.63 gap / 20 (Boussinesq). */
typedef struct slot_case {
    int length, gap, floor; /* cells */
    double rate, viscosity; /* mm3/s, Pa s */
    double lag;             /* mm, at 1100 kg/m3 */
} slot_case;

static const slot_case slots[] = {{1, 1, 0, 400, 1.0, 5.99}, {5, 1, 0, 400, 0.5, 8.51},
    {10, 1, 0, 200, 0.5, 7.71}, {5, 2, 0, 3200, 0.5, 10.24}, {5, 1, 5, 400, 0.5, 7.86},
    {10, 1, 5, 200, 0.5, 7.38}, {1, 1, 5, 0, 0, 0}}; /* 0: no figure */

/* Plastic limit of a duct, pressure over yield stress and length: what moves leaves out the corners (Mosolov & Miasnikov
 * 1965, J. Appl. Math. Mech. 29:545-577, from memory), for a rectangle by hand, 2 / gap in a wide one. Slots on the floor
 * come out up to 7 % too high: the chamber's floor goes on in their own. */
static double limit_of_rectangle(double a, double b)
{
    return (4.0 - PI) / (a + b - sqrt((a - b) * (a - b) + PI * a * b));
}

START_TEST(slots_between_chambers)
{
    static blocks b;
    const slot_case *s = slots + _i;
    vug_context *ctx = test_context();
    int top = s->floor + s->gap + 6;
    memset(&b, 0, sizeof b);
    dig(&b, 1, 11, 1, 11, 1, 1 + top);
    dig(&b, 11, 11 + s->length, 1, 11, 1 + s->floor, 1 + s->floor + s->gap);
    dig(&b, 11 + s->length, 21 + s->length, 1, 11, 1, 1 + top);
    double edge, got = resistance(ctx, part_of(ctx, &b, 2.0), s->gap, &edge);
    double pressure = s->lag * 1e-3 * 1100.0 * G / (1.0 - 0.63 * 2.0 * s->gap / 20.0);
    if (s->rate > 0.0)
        ck_near(got, pressure / (s->viscosity * 0.5 * s->rate), 0.1);
    if (s->floor > 0 || s->length > s->gap)
        ck_near(edge, 2.0 * s->length * limit_of_rectangle(2.0 * s->gap, 20.0),
            s->floor > 0 ? 0.015 : 0.07);
    vug_context_free(ctx);
}
END_TEST

static void revolve(shape *s, const double (*p)[2], size_t count, double scale, int inward)
{
    double profile[32];
    double k = sqrt(2.0 * PI / 96.0 / sin(2.0 * PI / 96.0)); /* the circle's area */
    for (size_t i = 0; i < count; i++) {
        profile[2 * i] = k * scale * p[i][0];
        profile[2 * i + 1] = scale * p[i][1];
    }
    shape_revolve(s, profile, count, 96, inward);
}

/* Chambers of radius 12 mm, 15 mm high, over each other, with a throat of 2 mm, 6 mm long: 890 Pa (simpleFoam), 844
 * (interFoam) at 500 mm3/s of 0.1 Pa s. At any scale the resistance goes with 1 / length^3. */
START_TEST(tube_between_chambers)
{
    static const double outer[][2] = {{0, -2}, {14, -2}, {14, 38}, {0, 38}};
    static const double inner[][2] = {{0, 0}, {12, 0}, {12, 15}, {1, 15}, {1, 21}, {12, 21},
        {12, 36}, {0, 36}};
    for (int i = test_quick() ? 1 : 0; i < 2; i++) {
        vug_context *ctx = test_context();
        const double axis[3] = {1, 0.4, 0.2}, scale = i == 0 ? 1.0 : 3.0;
        shape s = {.xyz = NULL};
        revolve(&s, outer, 4, scale, 0);
        revolve(&s, inner, 8, scale, 1);
        if (i == 1)
            shape_turn(&s, axis, 40.0);
        double edge, got = resistance(ctx, shape_mesh(ctx, &s), scale, &edge);
        ck_near(got * scale * scale * scale, 890.0 / (0.1 * 500.0), 0.1);
        ck_near(got * scale * scale * scale, 844.0 / (0.1 * 500.0), 0.1);
        ck_near(edge, 2.0 * 6.0,
            0.04); /* 2 length / radius: the force on the section is the wall's */
        vug_context_free(ctx);
    }
}
END_TEST

/* Openings a tenth narrower and wider, by hand: diameters by as much, and the lip of a hole in a side, its radius below its
 * middle, as much nearer or farther; the set they were copied from stays as it was. */
START_TEST(holes_come_out_wider)
{
    static blocks b;
    vug_context *ctx = test_context();
    const double hole[7] = {0, 8, 8, -1, 0, 0, 2};
    memset(&b, 0, sizeof b);
    dig(&b, 1, 15, 1, 15, 1, 15);
    vug_cavities *c = cavities_of(ctx, &b, hole, 1);
    const double up[3] = {0.0, 0.0, 1.0};
    double top, lip;
    vugi_opening_outer_rim(c->opening, up, &top, &lip);
    const double middle = 0.5 * (top + lip), high = 0.5 * (top - lip);
    for (int i = -1; i <= 1; i += 2) {
        const double factor = 1.0 + 0.1 * i;
        vug_opening_info told = {.struct_size = sizeof told}, own = {.struct_size = sizeof own};
        vug_cavities *wide = NULL;
        ck_ok(ctx, vugi_cavities_extend(ctx, c, NULL, 0, false, &wide));
        vugi_cavities_widen(wide, factor);
        ck_assert_int_eq(vug_cavities_opening(c, 0, &told), VUG_OK);
        ck_assert_int_eq(vug_cavities_opening(wide, 0, &own), VUG_OK);
        ck_near(told.diameter_mm, 2.0, 1e-2);
        ck_near(own.diameter_mm, factor * told.diameter_mm, 1e-12);
        vugi_opening_outer_rim(wide->opening, up, &top, &lip);
        ck_close(0.5 * (top + lip), middle, 1e-2);
        ck_near(0.5 * (top - lip), factor * high, 1e-2);
        vug_cavities_free(wide);
    }
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* The wall of a bore of 4 mm stays where its mesh has it when the hole comes out a tenth narrower: by hand its corners are 2 mm
 * from the axis, 2.2 a tenth wider. What lies beside a narrower reach is taken for the outside, and nothing goes in. */
START_TEST(a_narrower_hole_reaches_its_wall)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = shape_hollow_ball(ctx, 8.0, 10.0, 2.0, 64);
    vug_cavities *c = NULL;
    ck_ok(ctx, vug_cavities_find(ctx, mesh, NULL, 0, NULL, &c));
    ck_assert_uint_eq(c->opening_count, 1);
    for (double factor = 0.9; factor < 1.15; factor += 0.1) {
        vug_cavities *other = NULL;
        ck_ok(ctx, vugi_cavities_extend(ctx, c, NULL, 0, false, &other));
        vugi_cavities_widen(other, factor);
        ck_near(other->opening[0].radius, factor * c->opening[0].radius, 1e-9);
        ck_assert_double_ge(other->opening[0].reach, 2.0 * fmax(1.0, factor));
        vug_cavities_free(other);
    }
    vug_cavities_free(c);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("throat");
    TCase *tc = tcase_create("throat");
    tcase_set_timeout(tc, 60.0);
    const int count = sizeof slots / sizeof slots[0];
    tcase_add_loop_test(tc, slots_between_chambers, test_quick() ? count - 1 : 0, count);
    tcase_add_test(tc, tube_between_chambers);
    tcase_add_test(tc, holes_come_out_wider);
    tcase_add_test(tc, a_narrower_hole_reaches_its_wall);
    suite_add_tcase(suite, tc);
    return test_run(suite);
}

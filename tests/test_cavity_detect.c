/* SPDX-License-Identifier: MIT
 * cavity: finding what nobody named, on parts known by construction (parts.c says where their
 * numbers come from). */
#include "cavity/place.h"
#include "failing.h"
#include "parts.h"
#include "shapes.h"
#include "test.h"

/* Cells across at each resolution of a part. */
static const uint32_t cells[PART_RESOLUTIONS] = {80, 100, 128};

static vug_cavities *find(vug_context *ctx, const vug_mesh *mesh, uint32_t across)
{
    vug_cavity_options options;
    vug_cavities *cavities = NULL;
    vug_cavity_options_init(&options, sizeof options);
    options.cells_across = across;
    ck_ok(ctx, vug_cavities_find(ctx, mesh, NULL, 0, &options, &cavities));
    return cavities;
}

static vug_cavity_info cavity(const vug_cavities *c, size_t i)
{
    vug_cavity_info info;
    vug_cavity_info_init(&info, sizeof info);
    ck_assert_int_eq(vug_cavities_info(c, i, &info), VUG_OK);
    return info;
}

static int falling(const void *left, const void *right)
{
    const double *p = left, *q = right;
    return (*p < *q) - (*p > *q);
}

static void check_openings(const vug_cavities *c, const part *p, double step)
{
    double diameter[PART_PLACES];
    ck_assert_msg((int)vug_cavities_opening_count(c) == p->openings, "%s: %zu openings, not %d",
        p->name, vug_cavities_opening_count(c), p->openings);
    for (int i = 0; i < p->openings; i++) {
        vug_opening_info info;
        const double *outline;
        size_t points;
        vug_opening_info_init(&info, sizeof info);
        ck_assert_int_eq(vug_cavities_opening(c, (size_t)i, &info), VUG_OK);
        ck_assert_int_eq(vug_cavities_opening_outline(c, (size_t)i, &outline, &points), VUG_OK);
        ck_assert_uint_ge(points, 8);
        ck_assert(info.inscribed_diameter_mm <= info.diameter_mm * (1.0 + 1e-9));
        ck_assert(info.perimeter_mm >= 3.14159 * info.diameter_mm); /* isoperimetric inequality */
        diameter[i] = info.diameter_mm;
    }
    qsort(diameter, (size_t)p->openings, sizeof *diameter, falling);
    for (int i = 0; i < p->openings; i++)
        ck_assert_msg(fabs(diameter[i] - p->diameter[i]) <= step, "%s: opening %.4f, not %.4f +- %.3f",
            p->name, diameter[i], p->diameter[i], step);
}

static void check_throats(const vug_cavities *c, const part *p, double step)
{
    int found = 0;
    for (size_t k = 0; k < vug_cavities_count(c); k++) {
        vug_cavity_info info = cavity(c, k);
        ck_assert_uint_ge(info.chambers, 1);
        for (uint32_t i = 0; i < info.throats; i++, found++) {
            vug_throat_info throat;
            vug_throat_info_init(&throat, sizeof throat);
            ck_assert_int_eq(vug_cavities_throat(c, k, i, &throat), VUG_OK);
            ck_assert_uint_ne(throat.chamber_a, throat.chamber_b);
            ck_assert_uint_lt(throat.chamber_b, info.chambers);
            if (p->throats > 0)
                ck_assert_msg(fabs(throat.radius_mm - p->throat[found]) <= step,
                    "%s: throat %.4f, not %.4f +- %.3f", p->name, throat.radius_mm,
                    p->throat[found], step);
        }
    }
    if (p->throats >= 0)
        ck_assert_msg(found == p->throats, "%s: %d throats, not %d", p->name, found, p->throats);
}

static void check_part(int index, int resolution)
{
    vug_context *ctx = test_context();
    part p = part_make(ctx, index, resolution);
    vug_cavities *c = find(ctx, p.mesh, cells[resolution]);
    double longest = 0.0;
    for (int a = 0; a < 3; a++)
        longest = fmax(longest, p.mesh->hi[a] - p.mesh->lo[a]);
    double step = longest / cells[resolution];
    ck_assert_msg((int)vug_cavities_count(c) == p.cavities, "%s at %d: %zu cavities, not %d", p.name,
        resolution, vug_cavities_count(c), p.cavities);
    ck_assert_uint_eq(vug_context_warning_count(ctx), 0);
    for (int i = 0; i < p.cavities; i++) {
        vug_cavity_info info = cavity(c, (size_t)i);
        ck_assert_int_eq(info.exact, 1);
        ck_assert_msg(fabs(info.volume_mm3 / p.volume[i] - 1.0) <= 0.005,
            "%s at %d: volume %.3f, not %.3f", p.name, resolution, info.volume_mm3, p.volume[i]);
    }
    check_openings(c, &p, step);
    check_throats(c, &p, step);
    vug_cavities_free(c);
    vug_mesh_free(p.mesh);
    vug_context_free(ctx);
}

START_TEST(known_parts)
{
    check_part(_i / PART_RESOLUTIONS, _i % PART_RESOLUTIONS);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("cavity detection");
    TCase *tc = tcase_create("parts");
    tcase_set_timeout(tc, 120);
    tcase_add_loop_test(tc, known_parts, 0, part_count() * PART_RESOLUTIONS);
    suite_add_tcase(suite, tc);
    return test_run(suite);
}

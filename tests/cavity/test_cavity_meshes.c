/* SPDX-License-Identifier: MIT
 * cavity: what is found in meshes that others made (tests/data/README.md says whose), against what is known of them from
 * elsewhere: sealed voids by CGAL 5.5.1, admesh 0.98.4 and VTK 9.1, which agree; none in what is a solid, a bag of solids
 * or a tube by its source's own words; and of a file that breaks its format in one way, whether what is left is a
 * closed mesh, by hand. */
#include "cavity/cavity.h"

#include "test.h"

#include <stdio.h>

enum { MOST = 7 };

static const struct known {
    const char *file;
    vug_status status;
    size_t sealed;
    double mm3[MOST]; /* the largest first */
} known[] = {
    {"csg_with_sealed_ball.stl", VUG_OK, 1, {112.644}},
    {"ct_head_skin_iso600.stl", VUG_OK, 7,
        {4694.58, 910.591, 675.003, 164.88, 102.472, 35.8946, 27.4018}},
    {"ct_vase_iso60.stl", VUG_OK, 0, {0}},
    {"suzanne.stl", VUG_OK, 0, {0}},
    {"pencil_holder_hollow.stl", VUG_OK, 0, {0}},
    {"spot.ply", VUG_OK, 0, {0}},
    {"heart_lv_endocardium_open.obj", VUG_ERR_MESH, 0, {0}}, /* 72 open edges */
    {"3mf/Globo.3mf", VUG_OK, 0, {0}},
    {"3mf/HierarchicalComponent.3mf", VUG_OK, 0, {0}},
    {"3mf/MUSTPASS_Chapter3.2c_MultipleItemsTransform.3mf", VUG_OK, 0, {0}},
    {"3mf/MUSTPASS_Chapter4.2_Components.3mf", VUG_OK, 0, {0}},
    {"3mf/dodeca_chain_loop.3mf", VUG_OK, 0, {0}},
    {"3mf/heartgears.3mf", VUG_OK, 0, {0}},
    {"3mf/multiple_cylinders.3mf", VUG_OK, 0, {0}},
    {"stl_malformed/empty.stl", VUG_ERR_FORMAT, 0, {0}},
    {"stl_malformed/faceless.ascii.stl", VUG_ERR_MESH, 0, {0}},
    {"stl_malformed/fourVertices.ascii.stl", VUG_ERR_FORMAT, 0, {0}},
    {"stl_malformed/incorrectFaceCounter.bin.stl", VUG_OK, 0, {0}}, /* all four faces are there */
    {"stl_malformed/missingEndsolid.ascii.stl", VUG_OK, 0, {0}},
    {"stl_malformed/missingFace.ascii.stl", VUG_ERR_MESH, 0, {0}}, /* open where it was */
    {"stl_malformed/missingNormal.ascii.stl", VUG_OK, 0, {0}},
    {"stl_malformed/multiWordName.ascii.stl", VUG_OK, 0, {0}},
    {"stl_malformed/multiWordName.bin.stl", VUG_ERR_FORMAT, 0, {0}},
    {"stl_malformed/namelessSolid.ascii.stl", VUG_OK, 0, {0}},
    {"stl_malformed/notANumberNormal.ascii.stl", VUG_OK, 0, {0}}, /* normals are not read */
    {"stl_malformed/quad.ascii.stl", VUG_OK, 0, {0}},
    {"stl_malformed/singleFace.ascii.stl", VUG_ERR_MESH, 0, {0}},
    {"stl_malformed/solidNameMismatch.ascii.stl", VUG_OK, 0, {0}},
    {"stl_malformed/tetrahedron.min.ascii.stl", VUG_OK, 0, {0}},
    {"stl_malformed/tetrahedronMinusZero.bin.stl", VUG_OK, 0, {0}},
    {"stl_malformed/twoVertices.ascii.stl", VUG_ERR_FORMAT, 0, {0}},
    {"stl_malformed/wrongHeader.bin.stl", VUG_OK, 0, {0}},
    {"stl_malformed/wrongNormal.ascii.stl", VUG_OK, 0, {0}},
};

enum { FILES = sizeof known / sizeof *known };

static vug_status find_in(vug_context *ctx, const char *name, vug_mesh **mesh, vug_cavities **c)
{
    char path[1024];
    const char *source = getenv("VUG_SRCDIR");
    vug_cavity_options options;
    snprintf(path, sizeof path, "%s/tests/data/%s", source ? source : ".", name);
    vug_cavity_options_init(&options, sizeof options);
    options.cells_across = test_quick() ? 80 : 160;
    vug_status status = vug_mesh_load(ctx, path, NULL, mesh);
    return status ? status : vug_cavities_find(ctx, *mesh, NULL, 0, &options, c);
}

START_TEST(sealed_voids_are_those_that_are_known)
{
    const struct known *k = known + _i;
    vug_context *ctx = test_context();
    vug_mesh *mesh = NULL;
    vug_cavities *c = NULL;
    size_t sealed = 0;
    vug_status status = find_in(ctx, k->file, &mesh, &c);
    if (status != VUG_ERR_UNSUPPORTED) /* built without this format */
        ck_assert_msg(status == k->status, "%s: %s", k->file, vug_context_message(ctx));
    for (size_t i = 0; i < vug_cavities_count(c); i++) {
        vug_cavity_info info = {.struct_size = sizeof info};
        ck_ok(ctx, vug_cavities_get(c, i, &info));
        if (info.openings > 0)
            continue;
        ck_assert_msg(sealed < k->sealed, "%s: a void of %g mm3 that is none", k->file,
            info.volume_mm3);
        ck_near(info.volume_mm3, k->mm3[sealed], 1e-5);
        sealed++;
    }
    ck_assert_uint_eq(sealed, status ? 0 : k->sealed);
    if (strncmp(k->file, "ct_head", 7) != 0) /* its airway is a cavity too */
        ck_assert_uint_eq(vug_cavities_count(c), sealed);
    vug_cavities_free(c);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* The nostrils of the head meet at one edge of the mesh, which is in both rims: the cavity behind them needs
 * no grid for that, and none of it is taken for a cavity of its own. */
START_TEST(head_is_measured_on_its_triangles)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = NULL;
    vug_cavities *c = NULL;
    ck_ok(ctx, find_in(ctx, "ct_head_skin_iso600.stl", &mesh, &c));
    for (size_t i = 0; i < vug_cavities_count(c); i++) {
        vug_cavity_info info = {.struct_size = sizeof info};
        ck_ok(ctx, vug_cavities_get(c, i, &info));
        ck_assert(info.exact);
        ck_assert_uint_eq(info.openings, i == 0 ? 5 : 0);
    }
    vug_cavities_free(c);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("cavities of meshes");
    TCase *tc = tcase_create("meshes");
    tcase_set_timeout(tc, 300);
    tcase_add_loop_test(tc, sealed_voids_are_those_that_are_known, 0, FILES);
    if (!test_quick())
        tcase_add_test(tc, head_is_measured_on_its_triangles);
    suite_add_tcase(suite, tc);
    return test_run(suite);
}

/* SPDX-License-Identifier: MIT
 * cavity: what is found in meshes that others made (tests/data/README.md says whose), against
 * tests/data/cavities.txt, a record that was read and judged sane line by line. To write it anew:
 *     VUG_RECORD=cavities.txt tests/cavity/test_cavity_meshes */
#include "cavity/cavity.h"

#include "test.h"

#include <stdio.h>

static const char *const files[] = {
    "csg_with_sealed_ball.stl",
    "ct_head_skin_iso600.stl",
    "ct_vase_iso60.stl",
    "suzanne.stl",
    "pencil_holder_hollow.stl",
    "spot.ply",
    "heart_lv_endocardium_open.obj",
    "3mf/Globo.3mf",
    "3mf/HierarchicalComponent.3mf",
    "3mf/MUSTPASS_Chapter3.2c_MultipleItemsTransform.3mf",
    "3mf/MUSTPASS_Chapter4.2_Components.3mf",
    "3mf/dodeca_chain_loop.3mf",
    "3mf/heartgears.3mf",
    "3mf/multiple_cylinders.3mf",
    "stl_malformed/empty.stl",
    "stl_malformed/faceless.ascii.stl",
    "stl_malformed/fourVertices.ascii.stl",
    "stl_malformed/incorrectFaceCounter.bin.stl",
    "stl_malformed/missingEndsolid.ascii.stl",
    "stl_malformed/missingFace.ascii.stl",
    "stl_malformed/missingNormal.ascii.stl",
    "stl_malformed/multiWordName.ascii.stl",
    "stl_malformed/multiWordName.bin.stl",
    "stl_malformed/namelessSolid.ascii.stl",
    "stl_malformed/notANumberNormal.ascii.stl",
    "stl_malformed/quad.ascii.stl",
    "stl_malformed/singleFace.ascii.stl",
    "stl_malformed/solidNameMismatch.ascii.stl",
    "stl_malformed/tetrahedron.min.ascii.stl",
    "stl_malformed/tetrahedronMinusZero.bin.stl",
    "stl_malformed/twoVertices.ascii.stl",
    "stl_malformed/wrongHeader.bin.stl",
    "stl_malformed/wrongNormal.ascii.stl",
};

enum { FILES = sizeof files / sizeof *files, TEXT = 4096 };

static void describe_openings(const vug_cavities *c, const vug_cavity_info *info, char *text)
{
    for (uint32_t k = 0; k < info->openings; k++) {
        vug_opening_info o = {.struct_size = sizeof o};
        size_t at = strlen(text);
        ck_assert_int_eq(vug_cavities_opening(c, info->first_opening + k, &o), VUG_OK);
        snprintf(text + at, TEXT - at, k ? ", %.2f" : " open %.2f", o.diameter_mm);
    }
}

static void describe(const vug_cavities *c, char *text)
{
    strcpy(text, vug_cavities_count(c) ? "" : "no cavity");
    for (size_t i = 0; i < vug_cavities_count(c); i++) {
        vug_cavity_info info = {.struct_size = sizeof info};
        ck_assert_int_eq(vug_cavities_get(c, i, &info), VUG_OK);
        size_t at = strlen(text);
        snprintf(text + at, TEXT - at, "%s%.4g mm3%s in %u chambers", i ? "; " : "",
            info.volume_mm3, info.exact ? "" : " (grid)", (unsigned)info.chambers);
        describe_openings(c, &info, text);
    }
}

static vug_status find_in(vug_context *ctx, const char *name, vug_mesh **mesh, vug_cavities **c)
{
    char path[1024];
    const char *source = getenv("VUG_SRCDIR");
    vug_cavity_options options;
    snprintf(path, sizeof path, "%s/tests/data/%s", source ? source : ".", name);
    vug_cavity_options_init(&options, sizeof options);
    options.cells_across = 160;
    vug_status status = vug_mesh_load(ctx, path, NULL, mesh);
    return status ? status : vug_cavities_find(ctx, *mesh, NULL, 0, &options, c);
}

/* One line for a file: what was found, or why not. */
static void examine(const char *name, char *text)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = NULL;
    vug_cavities *c = NULL;
    vug_status status = find_in(ctx, name, &mesh, &c);
    if (status)
        snprintf(text, TEXT, "%s", vug_status_name(status));
    else
        describe(c, text);
    vug_cavities_free(c);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}

START_TEST(as_recorded)
{
    char text[TEXT], path[1024], line[TEXT] = "", want[TEXT + 64];
    const char *source = getenv("VUG_SRCDIR");
    size_t length = strlen(files[_i]);
    snprintf(path, sizeof path, "%s/tests/data/cavities.txt", source ? source : ".");
    examine(files[_i], text);
    FILE *file = fopen(path, "r");
    ck_assert_ptr_nonnull(file);
    while (fgets(line, sizeof line, file))
        if (strncmp(line, files[_i], length) == 0 && line[length] == ':')
            break;
    fclose(file);
    if (strcmp(text, "VUG_ERR_UNSUPPORTED") == 0)
        return; /* built without this format */
    snprintf(want, sizeof want, "%s: %s\n", files[_i], text);
    ck_assert_str_eq(want, line);
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

START_TEST(record)
{
    char text[TEXT];
    FILE *file = fopen(getenv("VUG_RECORD"), "w");
    ck_assert_ptr_nonnull(file);
    for (int i = 0; i < FILES; i++) {
        examine(files[i], text);
        fprintf(file, "%s: %s\n", files[i], text);
    }
    fclose(file);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("cavities of meshes");
    TCase *tc = tcase_create("meshes");
    tcase_set_timeout(tc, 300);
    if (getenv("VUG_RECORD"))
        tcase_add_test(tc, record);
    else {
        tcase_add_loop_test(tc, as_recorded, 0, FILES);
        if (!test_quick())
            tcase_add_test(tc, head_is_measured_on_its_triangles);
    }
    suite_add_tcase(suite, tc);
    return test_run(suite);
}

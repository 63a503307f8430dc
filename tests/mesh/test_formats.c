/* SPDX-License-Identifier: MIT
 * mesh: files in any format, and out as PLY and 3MF. */
#define _POSIX_C_SOURCE 200809L /* mkdtemp */

#include "base/base.h"
#include "mesh/mesh.h"

#include "failing.h"

#include <unistd.h>

static const char *data_path(const char *name)
{
    static char path[4096];
    const char *root = getenv("VUG_SRCDIR");
    snprintf(path, sizeof path, "%s/tests/data/%s", root ? root : ".", name);
    return path;
}

static vug_mesh_measures measure(vug_context *ctx, const vug_mesh *mesh)
{
    vug_mesh_measures m = {.struct_size = sizeof m};
    ck_ok(ctx, vug_mesh_measure(ctx, mesh, &m));
    return m;
}

/* A file for this test, removed when it is done. */
static char file_path[64];

static const char *write_file(const char *ending, const void *data, size_t size)
{
    snprintf(file_path, sizeof file_path, "/tmp/vug-format-%ld%s", (long)getpid(), ending);
    FILE *file = fopen(file_path, "wb");
    ck_assert_ptr_nonnull(file);
    ck_assert_uint_eq(fwrite(data, 1, size, file), size);
    fclose(file);
    return file_path;
}

static vug_mesh *load(vug_context *ctx, const char *path, double unit_mm)
{
    vug_mesh_load_options options;
    vug_mesh *mesh = NULL;
    ck_assert_int_eq(vug_mesh_load_options_init(&options, sizeof options), VUG_OK);
    options.unit_mm = unit_mm;
    ck_ok(ctx, vug_mesh_load(ctx, path, &options, &mesh));
    return mesh;
}

/* What a build without the format's library says instead. */
static int missing(const char *feature, const char *path)
{
    if (vug_feature(feature))
        return 0;
    vug_context *ctx = test_context();
    vug_mesh *mesh = NULL;
    ck_assert_int_eq(vug_mesh_load(ctx, path, NULL, &mesh), VUG_ERR_UNSUPPORTED);
    ck_assert_ptr_null(mesh);
    ck_assert_ptr_nonnull(strstr(vug_context_message(ctx), "STL"));
    vug_context_free(ctx);
    return 1;
}

/* ---- real files ----------------------------------------------------------------------------- */

START_TEST(real_files_have_known_measures)
{
    /* By CGAL 5.5.1, admesh 0.98.4, VTK 9.1 and numpy, which agree; see data/README.md. */
    static const struct {
        const char *file, *feature;
        uint64_t triangles, shells, open, degenerate;
        double volume, area;
    } real[] = {
        {"spot.ply", "", 5856, 1, 0, 0, 0.7182588, 5.70952},
        {"heart_lv_endocardium_open.obj", "", 3072, 1, 72, 0, 0, 15374.1},
        {"3mf/dodeca_chain_loop.3mf", "3mf", 7680, 40, 0, 0, 32583.88, 59736.6},
        {"3mf/heartgears.3mf", "3mf", 30636, 1, 0, 4, 120179.3, 33719},
        {"3mf/multiple_cylinders.3mf", "3mf", 528, 6, 0, 0, 37188.56, 11233.1},
        {"3mf/MUSTPASS_Chapter3.2c_MultipleItemsTransform.3mf", "3mf", 60, 2, 0, 0, 14000, 6000},
        {"3mf/MUSTPASS_Chapter4.2_Components.3mf", "3mf", 60, 2, 0, 0, 14000, 6000},
        {"3mf/Globo.3mf", "3mf", 5140, 2, 0, 0, 66800.96, 12004.4},
        {"3mf/HierarchicalComponent.3mf", "3mf", 12, 1, 0, 0, 1000000, 60000},
        {"ct_vase_iso60.stl", "", 52900, 1, 0, 0, 61706.62, 18799.8},
    };
    for (size_t i = 0; i < sizeof real / sizeof *real; i++) {
        if (real[i].feature[0] && missing(real[i].feature, data_path(real[i].file)))
            continue;
        vug_context *ctx = test_context();
        vug_mesh *mesh = load(ctx, data_path(real[i].file), 1.0);
        vug_mesh_measures m = measure(ctx, mesh);
        ck_assert_uint_eq(m.triangles, real[i].triangles);
        ck_assert_uint_eq(m.shells, real[i].shells);
        ck_assert_uint_eq(m.edges_open, real[i].open);
        ck_assert_uint_eq(m.degenerate, real[i].degenerate);
        ck_assert_int_eq(m.closed, real[i].open == 0);
        if (m.closed)
            ck_near(m.volume_mm3, real[i].volume, 3e-7);
        ck_near(m.area_mm2, real[i].area, 5e-6);
        vug_mesh_free(mesh);
        vug_context_free(ctx);
    }
}
END_TEST

START_TEST(malformed_3mf_gives_a_status)
{
    static const struct {
        const char *file;
        vug_status status;
    } bad[] = {
        {"DOS-FUZ-LIB3MF.3mf", VUG_ERR_FORMAT},
        {"GEN-C-ADA-COMPONENT-TRANSFORM-0.3mf",
            VUG_ERR_FORMAT}, /* an attribute twice: XML 1.0, 3.1 */
        {"MUSTFAIL_Chapter2.3.2a_NonUTF_Encoding.3mf", VUG_ERR_FORMAT},
        {"MUSTFAIL_Chapter2.3.2b_DataTypeDefinitionInXMLMarkup.3mf", VUG_ERR_FORMAT},
        {"MUSTFAIL_Chapter3.4.3.1a_NotMatchingObjectIdInBuildItem.3mf", VUG_ERR_FORMAT},
        {"MUSTFAIL_Chapter3.4a_MoreThanOneModel.3mf", VUG_ERR_FORMAT},
        {"MUSTFAIL_Chapter3.4b_MissingBuildElement.3mf", VUG_ERR_FORMAT},
        {"MUSTFAIL_Chapter3.4c_MissingResourceElement.3mf", VUG_ERR_FORMAT},
        {"MustWarnOrFail.3mf", VUG_OK},        /* with a warning */
        {"N_XXX_0422_01.3mf", VUG_ERR_FORMAT}, /* decimal commas */
    };
    if (missing("3mf", data_path("3mf/Globo.3mf")))
        return;
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        char name[256];
        vug_context *ctx = test_context();
        vug_mesh *mesh = NULL;
        snprintf(name, sizeof name, "3mf_malformed/%s", bad[i].file);
        vug_status status = vug_mesh_load(ctx, data_path(name), NULL, &mesh);
        ck_assert_msg(status == bad[i].status, "%s: %s: %s", name, vug_status_name(status),
            vug_context_message(ctx));
        if (status)
            ck_assert_ptr_nonnull(strstr(vug_context_message(ctx), bad[i].file));
        else
            ck_assert_int_eq(measure(ctx, mesh).closed, 1);
        ck_assert_uint_eq(warning_count(ctx), i == 8);
        vug_mesh_free(mesh);
        vug_context_free(ctx);
    }
}
END_TEST

START_TEST(cut_3mf_gives_a_status)
{
    static unsigned char data[20000];
    if (missing("3mf", data_path("made_places.3mf")))
        return;
    FILE *file = fopen(data_path("made_places.3mf"), "rb");
    ck_assert_ptr_nonnull(file);
    size_t whole = fread(data, 1, sizeof data, file);
    fclose(file);
    for (size_t size = 4; size < whole; size += 13) {
        vug_context *ctx = test_context();
        vug_mesh *mesh = NULL;
        ck_assert_int_ne(vug_mesh_load(ctx, write_file(".3mf", data, size), NULL, &mesh), VUG_OK);
        ck_assert_ptr_null(mesh);
        vug_context_free(ctx);
    }
    remove(file_path);
}
END_TEST

/* ---- places and units -------------------------------------------------------------------------- */

START_TEST(components_items_and_units_are_honoured)
{
    /* data/make_3mf.py: three tetrahedra of 1/6 cubic inch, the second twice as long. The 3MF core
     * specification multiplies rows (x, y, z, 1) by the transform: the second maps x to 2 y and y
     * to -x, so it covers x from -1 to 0 and y from 20 to 22. An inch is 25.4 mm. The support is
     * left out, with a warning. */
    if (missing("3mf", data_path("made_places.3mf")))
        return;
    const double lo[3] = {-1.0, 0.0, 94.0}, hi[3] = {11.0, 22.0, 101.0};
    for (int given = 0; given < 2; given++) {
        vug_context *ctx = test_context();
        double mm = given ? 10.0 : 25.4; /* a given unit overrules the file's */
        vug_mesh *mesh = load(ctx, data_path("made_places.3mf"), given ? mm : 0.0);
        vug_mesh_measures m = measure(ctx, mesh);
        ck_assert_int_eq(m.closed, 1);
        ck_assert_uint_eq(m.triangles, 12);
        ck_near(m.volume_mm3, mm * mm * mm * 4.0 / 6.0, 1e-6); /* a mirrored one is not negative */
        for (int k = 0; k < 3; k++) {
            ck_close(m.lo_mm[k], mm * lo[k], 1e-4);
            ck_close(m.hi_mm[k], mm * hi[k], 1e-4);
        }
        ck_assert_uint_eq(warning_count(ctx), 1);
        ck_assert_ptr_nonnull(strstr(vug_context_warning(ctx, 0), "support"));
        vug_mesh_free(mesh);
        vug_context_free(ctx);
    }
}
END_TEST

static const char obj[] = "# a tetrahedron\nv 0 0 0\nv 60 0 0\nv 0 60 0\nv 0 0 60\n"
                          "f 1 3 2\nf 1 2 4\nf 1 4 3\nf 2 3 4\n";
static const char off[] = "OFF\n4 4 6\n0 0 0\n60 0 0\n0 60 0\n0 0 60\n"
                          "3 0 2 1\n3 0 1 3\n3 0 3 2\n3 1 2 3\n";
static const char ply[] =
    "ply\nformat ascii 1.0\nelement vertex 4\nproperty float x\n"
    "property float y\nproperty float z\nelement face 4\nproperty list uchar int vertex_indices\n"
    "end_header\n0 0 0\n60 0 0\n0 60 0\n0 0 60\n3 0 2 1\n3 0 1 3\n3 0 3 2\n3 1 2 3\n";

START_TEST(small_texts_in_each_format)
{
    /* A corner of a cube of side 60: V = 60^3 / 6. */
    static const struct {
        const char *ending, *text;
        size_t size;
    } files[] = {
        {".obj", obj, sizeof obj - 1},
        {".off", off, sizeof off - 1},
        {".OFF", off, sizeof off - 1},
        {".ply", ply, sizeof ply - 1},
        {".bin", ply, sizeof ply - 1},
        {"", off, sizeof off - 1},
    };
    for (size_t i = 0; i < sizeof files / sizeof *files; i++) {
        const char *path = write_file(files[i].ending, files[i].text, files[i].size);
        vug_context *ctx = test_context();
        vug_mesh *mesh = load(ctx, path, 0.0);
        vug_mesh_measures m = measure(ctx, mesh);
        ck_assert_int_eq(m.closed, 1);
        ck_near(m.volume_mm3, 36000.0, 1e-12);
        ck_assert_uint_eq(warning_count(ctx), 0);
        vug_mesh_free(mesh);
        mesh = load(ctx, path, 25.4);
        ck_near(measure(ctx, mesh).volume_mm3, 36000.0 * 25.4 * 25.4 * 25.4, 1e-12);
        vug_mesh_free(mesh);
        vug_context_free(ctx);
        remove(path);
    }
}
END_TEST

START_TEST(odd_sizes_give_a_warning)
{
    static const struct {
        double side;
        const char *word;
    } sizes[] = {{0.08, "metres"}, {3.0, "inches"}, {60.0, NULL}, {300.0, NULL},
        {80000.0, "micrometres"}};
    for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
        char text[1024];
        double s = sizes[i].side;
        int size = snprintf(text, sizeof text,
            "solid\n"
            "facet\nouter loop\nvertex %g 0 0\nvertex 0 %g 0\nvertex 0 0 %g\nendloop\nendfacet\n"
            "endsolid\n",
            s, s, s);
        const char *path = write_file(".stl", text, (size_t)size);
        vug_context *ctx = test_context();
        vug_mesh *mesh = load(ctx, path, 0.0);
        ck_assert_uint_eq(warning_count(ctx), sizes[i].word ? 1 : 0);
        if (sizes[i].word)
            ck_assert_msg(strstr(vug_context_warning(ctx, 0), sizes[i].word), "%s",
                vug_context_warning(ctx, 0));
        vug_mesh_free(mesh);
        vug_context_clear_warnings(ctx);
        mesh = load(ctx, path, 2.0); /* who gives a unit knows */
        ck_assert_uint_eq(warning_count(ctx), 0);
        ck_near(measure(ctx, mesh).hi_mm[1], 2.0 * s, 1e-12);
        vug_mesh_free(mesh);
        vug_mesh_load_options options;
        ck_assert_int_eq(vug_mesh_load_options_init(&options, sizeof options), VUG_OK);
        options.warn_of_size = 0;
        ck_ok(ctx, vug_mesh_load(ctx, path, &options, &mesh));
        ck_assert_uint_eq(warning_count(ctx), 0);
        vug_mesh_free(mesh);
        vug_context_free(ctx);
        remove(path);
    }
}
END_TEST

/* ---- bad input ----------------------------------------------------------------------------------- */

static void refused(const char *ending, const char *text, size_t size, vug_status status,
    vug_status other)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = NULL;
    const char *path = write_file(ending, text, size);
    vug_status got = vug_mesh_load(ctx, path, NULL, &mesh);
    ck_assert_msg(got == status || got == other, "%s %.60s: %s: %s", ending, text,
        vug_status_name(got), vug_context_message(ctx));
    ck_assert_ptr_null(mesh);
    ck_assert_msg(strstr(vug_context_message(ctx), path), "%s", vug_context_message(ctx));
    vug_context_free(ctx);
    remove(path);
}

START_TEST(bad_files_are_refused)
{
    static const char *const endings[] = {".stl", ".obj", ".ply", ".off", ".3mf"};
    for (size_t i = 0; i < sizeof endings / sizeof *endings; i++) {
        refused(endings[i], "", 0, VUG_ERR_FORMAT, VUG_ERR_FORMAT);
        if (i > 3 && !vug_feature("3mf"))
            continue;
        refused(endings[i], "no mesh at all", 14, VUG_ERR_FORMAT, VUG_ERR_MESH);
        refused(endings[i], "PK\003\004 but no archive", 19, VUG_ERR_FORMAT, VUG_ERR_UNSUPPORTED);
    }
    refused(".obj", "v 0 0 0\nv 1 0 0\nv 0 1 nan\nf 1 2 3\n", 34, VUG_ERR_MESH, VUG_ERR_FORMAT);
    refused(".obj", "v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 9\n", 32, VUG_ERR_MESH, VUG_ERR_FORMAT);
    static const char
        greedy[] = "ply\nformat binary_little_endian 1.0\nelement vertex 3000000000\n"
                   "property float x\nproperty float y\nproperty float z\nelement face 1\n"
                   "property list uchar int vertex_indices\nend_header\n";
    refused(".ply", greedy, sizeof greedy, VUG_ERR_FORMAT, VUG_ERR_FORMAT);
    for (size_t size = 4; size < sizeof ply - 10; size += 7)
        refused(".ply", ply, size, VUG_ERR_FORMAT, VUG_ERR_MESH);
}
END_TEST

START_TEST(obj_may_be_odd)
{
    /* Corners with texture and normal numbers, counted back, in quads, on a continued line: a cube
     * of side 60. */
    static const char text[] =
        "mtllib a.mtl\r\no part\r\nv 0 0 0 1\r\nv 60 0 0 0.5 0.5 0.5\r\n"
        "v 60 60 0\nv 0 60 0\nvt 0 0\nvn 0 0 1\nv 0 0 60\nv 60 0 60\nv 60 60 60\nv 0 60 60\n"
        "s off\nf 4/1/1 3/1/1 2/1/1 1/1/1\nf -4 -3 -2 -1\nf 1//1 2//1 6//1 5//1\nf 2/1 3/1 7/1 "
        "6/1\n"
        "f 3 4 \\\n 8 7\nf 4 1 5 8 # last\nl 1 2\np 1\n";
    vug_context *ctx = test_context();
    vug_mesh *mesh = load(ctx, write_file(".obj", text, sizeof text - 1), 0.0);
    vug_mesh_measures m = measure(ctx, mesh);
    ck_assert_int_eq(m.closed, 1);
    ck_assert_uint_eq(m.triangles, 12);
    ck_near(m.volume_mm3, 216000.0, 1e-15);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
    remove(file_path);
}
END_TEST

static void put_back(unsigned char **p, const void *value, size_t size)
{
    for (size_t i = 0; i < size; i++) /* from a little-endian machine */
        *(*p)++ = ((const unsigned char *)value)[size - 1 - i];
}

START_TEST(ply_may_be_big_endian_with_more_properties)
{
    static const char head[] =
        "ply\nformat binary_big_endian 1.0\ncomment made here\n"
        "element camera 1\nproperty list ushort short lens\nelement vertex 4\nproperty uchar red\n"
        "property double y\nproperty float x\nproperty float32 z\nelement face 4\n"
        "property float area\nproperty list uint8 uint16 vertex_index\nend_header\n";
    static const float xyz[12] = {0, 0, 0, 60, 0, 0, 0, 60, 0, 0, 0, 60};
    static const uint16_t corner[12] = {0, 2, 1, 0, 1, 3, 0, 3, 2, 1, 2, 3};
    unsigned char file[1024], *p = file + sizeof head - 1;
    memcpy(file, head, sizeof head - 1);
    const uint16_t two = 2;
    put_back(&p, &two, 2);
    p += 4;
    for (int v = 0; v < 4; v++) {
        double y = (double)xyz[3 * v + 1];
        *p++ = 200;
        put_back(&p, &y, 8);
        put_back(&p, xyz + 3 * v, 4);
        put_back(&p, xyz + 3 * v + 2, 4);
    }
    for (int f = 0; f < 4; f++) {
        put_back(&p, xyz + 3, 4);
        *p++ = 3;
        for (int k = 0; k < 3; k++)
            put_back(&p, corner + 3 * f + k, 2);
    }
    vug_context *ctx = test_context();
    vug_mesh *mesh = load(ctx, write_file(".ply", file, (size_t)(p - file)), 0.0);
    vug_mesh_measures m = measure(ctx, mesh);
    ck_assert_int_eq(m.closed, 1);
    ck_near(m.volume_mm3, 36000.0, 1e-12);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
    for (size_t size = sizeof head - 1; size < (size_t)(p - file); size++)
        refused(".ply", (const char *)file, size, VUG_ERR_FORMAT, VUG_ERR_FORMAT);
    remove(file_path);
}
END_TEST

START_TEST(bad_off_is_refused_with_its_line)
{
    static const struct {
        const char *text;
        vug_status status;
        const char *message;
    } bad[] = {
        {"OFF\n3 1 0\n0 0 0\n1 0 0\n0 1 0\n3 0 1 7\n", VUG_ERR_MESH, "line 6: vertex 7"},
        {"OFF\n3000000000 1 0\n0 0 0\n", VUG_ERR_FORMAT, "line 2: the numbers"},
        {"OFF\n3 99999999999999999999999 0\n0 0 0\n", VUG_ERR_FORMAT, "line 2: the numbers"},
        {"OFF\n", VUG_ERR_FORMAT, "line 2: the numbers"},
        {"OFF\n3 1 0\n0 0 0\n1 0\n0 1 0\n3 0 1 2\n", VUG_ERR_FORMAT, "line 4: a vertex"},
        {"OFF\n3 1 0\n0 0 0\n1 0 x\n0 1 0\n3 0 1 2\n", VUG_ERR_FORMAT, "line 4: a vertex"},
        {"OFF\n3 1 0\n0 0 0\n1 0 nan\n0 1 0\n3 0 1 2\n", VUG_ERR_MESH, "line 4: coordinate z"},
        {"OFF\n3 1 0\n0 0 0\n1 0 2e9\n0 1 0\n3 0 1 2\n", VUG_ERR_LIMIT, "coordinate z"},
        {"OFF\n3 2 0\n0 0 0\n1 0 0\n0 1 0\n3 0 1 2\n", VUG_ERR_FORMAT, "line 7: a face"},
        {"OFF\n3 1 0\n0 0 0\n1 0 0\n0 1 0\n3 0 1\n", VUG_ERR_FORMAT, "line 6: a vertex number"},
        {"OFF\n3 1 0\n0 0 0\n1 0 0\n0 1 0\n2 0 1\n", VUG_ERR_MESH, "no triangle"},
        {"OFF BINARY\n", VUG_ERR_UNSUPPORTED, "binary"},
        {"4OFF\n1 1 0\n", VUG_ERR_UNSUPPORTED, "coordinates"},
    };
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        vug_context *ctx = test_context();
        vug_mesh *mesh = NULL;
        const char *path = write_file(".off", bad[i].text, strlen(bad[i].text));
        vug_status status = vug_mesh_load(ctx, path, NULL, &mesh);
        ck_assert_msg(status == bad[i].status && strstr(vug_context_message(ctx), bad[i].message),
            "%s\n%s: %s", bad[i].text, vug_status_name(status), vug_context_message(ctx));
        ck_assert_ptr_null(mesh);
        vug_context_free(ctx);
    }
    remove(file_path);
}
END_TEST

START_TEST(off_may_have_colours_comments_and_polygons)
{
    /* A cube of side 60 from six squares. */
    static const char text[] =
        "COFF # coloured\n\n# a cube\n8 6 12\n"
        "0 0 0 255 0 0 255\n60 0 0\n60 60 0\n0 60 0\n0 0 60\n60 0 60\n60 60 60\n0 60 60\n"
        "4 3 2 1 0 0.5 0.5 0.5\n4 4 5 6 7\n\n4 0 1 5 4\n4 1 2 6 5 # side\n4 2 3 7 6\n4 3 0 4 7";
    vug_context *ctx = test_context();
    vug_mesh *mesh = load(ctx, write_file(".off", text, sizeof text - 1), 0.0);
    vug_mesh_measures m = measure(ctx, mesh);
    ck_assert_int_eq(m.closed, 1);
    ck_assert_uint_eq(m.triangles, 12);
    ck_near(m.volume_mm3, 216000.0, 1e-15);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
    remove(file_path);
}
END_TEST

START_TEST(any_format_loads_from_memory)
{
    /* One tetrahedron of 36 mm3 (6 * 6 * 6 / 6), as OFF, which its content tells, and as OBJ, which only
     * its name does. */
    static const char
        off_text[] = "OFF\n4 4 0\n0 0 0\n6 0 0\n0 6 0\n0 0 6\n3 0 2 1\n3 0 1 3\n3 0 3 2\n3 1 2 3\n";
    static const char
        obj_text[] = "v 0 0 0\nv 6 0 0\nv 0 6 0\nv 0 0 6\nf 1 3 2\nf 1 2 4\nf 1 4 3\nf 2 3 4\n";
    vug_context *ctx = test_context();
    vug_mesh_load_options options;
    vug_mesh *mesh = NULL;
    ck_assert_int_eq(vug_mesh_load_options_init(&options, sizeof options), VUG_OK);
    options.unit_mm = 10.0;
    for (int i = 0; i < 2; i++) {
        const char *text = i ? obj_text : off_text, *name = i ? "part.OBJ" : NULL;
        ck_ok(ctx, vug_mesh_load_memory(ctx, text, strlen(text), name, NULL, &mesh));
        ck_near(measure(ctx, mesh).volume_mm3, 36.0, 1e-12);
        vug_mesh_free(mesh);
        ck_ok(ctx, vug_mesh_load_memory(ctx, text, strlen(text), name, &options, &mesh));
        ck_near(measure(ctx, mesh).volume_mm3, 36000.0, 1e-12);
        vug_mesh_free(mesh);
        mesh = NULL;
    }
    ck_assert_int_eq(vug_mesh_load_memory(ctx, obj_text, strlen(obj_text), NULL, NULL, &mesh),
        VUG_ERR_FORMAT); /* without a name it is taken for an STL */
    options.unit_mm = 0.0;
    options.format = VUG_FORMAT_OBJ;
    ck_ok(ctx, vug_mesh_load_memory(ctx, obj_text, strlen(obj_text), NULL, &options, &mesh));
    vug_mesh_free(mesh);
    mesh = NULL;
    options.format = VUG_FORMAT_STL; /* nothing but STL is read, whatever the content looks like */
    ck_assert_int_eq(vug_mesh_load_memory(ctx, off_text, strlen(off_text), NULL, &options, &mesh),
        VUG_ERR_FORMAT);
    options.format = VUG_FORMAT_COUNT;
    ck_assert_int_eq(vug_mesh_load_memory(ctx, off_text, strlen(off_text), NULL, &options, &mesh),
        VUG_ERR_ARGUMENT);
    options.format = VUG_FORMAT_AUTO;
    options.unit_mm = -1.0;
    ck_assert_int_eq(vug_mesh_load_memory(ctx, off_text, strlen(off_text), NULL, &options, &mesh),
        VUG_ERR_ARGUMENT);
    ck_assert_ptr_null(mesh);
    vug_context_free(ctx);
}
END_TEST

START_TEST(bad_options_are_refused)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = NULL;
    vug_mesh_load_options options;
    ck_assert_int_eq(vug_mesh_load_options_init(NULL, sizeof options), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_mesh_load_options_init(&options, sizeof options), VUG_OK);
    static const double bad[] = {-1.0, 1e7};
    for (size_t i = 0; i < 3; i++) {
        options.unit_mm = i < 2 ? bad[i] : (double)NAN;
        ck_assert_int_eq(vug_mesh_load(ctx, data_path("suzanne.stl"), &options, &mesh),
            VUG_ERR_ARGUMENT);
    }
    ck_assert_int_eq(vug_mesh_load(ctx, NULL, NULL, &mesh), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_mesh_load(ctx, "/", NULL, &mesh), VUG_ERR_IO);
    ck_assert_int_eq(vug_mesh_load(ctx, "/no/such.3mf", NULL, &mesh), VUG_ERR_IO);
    ck_assert_ptr_null(mesh);
    vug_context_free(ctx);
}
END_TEST

/* ---- saving --------------------------------------------------------------------------------------- */

static const uint8_t colours[12] = {255, 0, 0, 0, 255, 0, 0, 0, 255, 1, 2, 3};

static vug_mesh *tetrahedron(vug_context *ctx)
{
    const double xyz[12] = {0, 0, 0, 60, 0, 0, 0, 60, 0, 0, 0, 60};
    const uint32_t corner[12] = {0, 2, 1, 0, 1, 3, 0, 3, 2, 1, 2, 3};
    vug_mesh *mesh = NULL;
    ck_ok(ctx, vug_mesh_from_arrays(ctx, xyz, 4, 0, corner, 4, 0, &mesh));
    return mesh;
}

START_TEST(ply_is_written_as_the_format_says)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = tetrahedron(ctx);
    for (int with = 0; with < 2; with++) {
        const char *path = write_file(".ply", "", 0);
        ck_ok(ctx, vug_mesh_save(ctx, mesh, path, VUG_FORMAT_PLY, with ? colours : NULL));
        char text[1024] = "";
        FILE *file = fopen(path, "rb");
        size_t size = fread(text, 1, sizeof text - 1, file);
        fclose(file);
        ck_assert_int_eq(strncmp(text, "ply\nformat binary_little_endian 1.0\n", 36), 0);
        ck_assert_int_eq(strstr(text, "property uchar red") != NULL, with);
        char *body = strstr(text, "end_header\n") + 11;
        size_t row = with ? 15 : 12;
        ck_assert_uint_eq((size_t)(text + size - body), 4 * row + 4 * 13);
        float x;
        memcpy(&x, body + row, 4);
        ck_assert(x == 60.0f);
        if (with)
            ck_assert_int_eq(memcmp(body + row + 12, colours + 3, 3), 0);
        ck_assert_int_eq(body[4 * row], 3);
        vug_mesh *again = load(ctx, path, 1.0);
        ck_near(measure(ctx, again).volume_mm3, 36000.0, 1e-12);
        vug_mesh_free(again);
        remove(path);
    }
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

START_TEST(large_meshes_survive_ply_and_3mf)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = load(ctx, data_path("ct_vase_iso60.stl"), 1.0);
    vug_mesh_measures was = measure(ctx, mesh);
    for (int kind = 0; kind < 2; kind++) {
        if (kind && !vug_feature("3mf"))
            continue;
        const char *path = write_file(kind ? ".3mf" : ".ply", "", 0);
        ck_ok(ctx, vug_mesh_save(ctx, mesh, path, VUG_FORMAT_AUTO, NULL));
        vug_mesh *again = load(ctx, path, 0.0);
        vug_mesh_measures now = measure(ctx, again);
        ck_assert_uint_eq(now.vertices, was.vertices);
        ck_assert_uint_eq(now.triangles, was.triangles);
        ck_assert_int_eq(now.closed, 1);
        ck_near(now.volume_mm3, was.volume_mm3, 1e-6); /* 3MF's text has six decimals */
        vug_mesh_free(again);
        remove(path);
    }
    ck_assert_uint_eq(warning_count(ctx), 0);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

START_TEST(open_meshes_become_surfaces_in_3mf)
{
    const double xyz[12] = {0, 0, 0, 60, 0, 0, 0, 60, 0, 0, 0, 60};
    const uint32_t corner[12] = {0, 2, 1, 0, 1, 3, 0, 3, 2, 1, 1, 3};
    vug_context *ctx = test_context();
    vug_mesh *mesh = NULL;
    const char *path = write_file(".3mf", "", 0);
    ck_ok(ctx, vug_mesh_from_arrays(ctx, xyz, 4, 0, corner, 4, 0, &mesh));
    vug_status status = vug_mesh_save(ctx, mesh, path, VUG_FORMAT_3MF, NULL);
    ck_assert_int_eq(status, vug_feature("3mf") ? VUG_OK : VUG_ERR_UNSUPPORTED);
    if (!status) {
        vug_mesh *again = load(ctx, path, 0.0);
        ck_assert_uint_eq(vug_mesh_triangle_count(again), 3); /* less the one without area */
        vug_mesh_free(again);
    }
    vug_mesh_free(mesh);
    remove(path);
    vug_context_free(ctx);
}
END_TEST

START_TEST(formats_to_save_are_named_or_known)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = tetrahedron(ctx);
    ck_assert_int_eq(vug_mesh_save(ctx, NULL, "x", VUG_FORMAT_3MF, NULL), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_mesh_save(ctx, NULL, "x", VUG_FORMAT_PLY, NULL), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_mesh_save(ctx, mesh, "x", VUG_FORMAT_AUTO, NULL), VUG_ERR_UNSUPPORTED);
    ck_assert_int_eq(vug_mesh_save(ctx, mesh, "x.obj", VUG_FORMAT_AUTO, NULL), VUG_ERR_UNSUPPORTED);
    ck_assert_int_eq(vug_mesh_save(ctx, mesh, "x.stl", VUG_FORMAT_OBJ, NULL), VUG_ERR_UNSUPPORTED);
    ck_assert_int_eq(vug_mesh_save(ctx, mesh, "x.stl", VUG_FORMAT_NONE, NULL), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_mesh_save(ctx, mesh, "x.stl", VUG_FORMAT_COUNT, NULL), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_mesh_save(ctx, mesh, "x.stl", VUG_FORMAT_AUTO, colours),
        VUG_ERR_UNSUPPORTED);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

static vug_status load_and_save(vug_context *ctx, void *data)
{
    vug_mesh *mesh = NULL;
    vug_status status = vug_mesh_load(ctx, data, NULL, &mesh);
    if (!status)
        status = vug_mesh_save(ctx, mesh, file_path, VUG_FORMAT_PLY, NULL);
    if (!status && vug_feature("3mf"))
        status = vug_mesh_save(ctx, mesh, file_path, VUG_FORMAT_3MF, NULL);
    vug_mesh_free(mesh);
    return status;
}

START_TEST(every_allocation_may_fail)
{
    char path[128];
    strcpy(path, write_file(".obj", obj, sizeof obj - 1));
    char places[4096];
    strcpy(places, data_path("made_places.3mf"));
    write_file(".out", "", 0);
    failing_until_success(load_and_save, path);
    strcpy(path, write_file(".ply", ply, sizeof ply - 1));
    failing_until_success(load_and_save, path);
    remove(path);
    strcpy(path, write_file(".off", off, sizeof off - 1));
    failing_until_success(load_and_save, path);
    write_file(".out", "", 0);
    if (vug_feature("3mf"))
        failing_until_success(load_and_save, places);
    remove(path);
    remove(file_path);
}
END_TEST

static int stop_on_the_tenth(void *user, double fraction, const char *stage)
{
    (void)fraction;
    (void)stage;
    return ++*(long *)user == 10;
}

/* A face of two million corners on one line: a caller who says stop on the tenth look is heard. (There
 * are four when only whole lines are counted.) */
START_TEST(one_long_line_can_be_cancelled)
{
    static const char start[] = "v 0 0 0\nv 9 0 0\nv 0 9 0\nv 0 0 9\nf";
    const size_t size = sizeof start - 1 + 4 * 1000000 /* " 1 2" */;
    char *text = malloc(size);
    ck_assert_ptr_nonnull(text);
    memcpy(text, start, sizeof start - 1);
    for (size_t i = sizeof start - 1; i < size; i += 4)
        memcpy(text + i, " 1 2", 4);
    vug_context *ctx = test_context();
    vug_mesh *mesh = NULL;
    long seen = 0;
    const char *path = write_file(".obj", text, size);
    ctx->pause_ns = 0; /* hear of all */
    ck_ok(ctx, vug_context_set_progress(ctx, stop_on_the_tenth, &seen));
    ck_assert_int_eq(vug_mesh_load(ctx, path, NULL, &mesh), VUG_ERR_CANCELLED);
    ck_assert_ptr_null(mesh);
    ck_assert_int_eq(seen, 10);
    remove(path);
    free(text);
    vug_context_free(ctx);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("formats");
    TCase *tc = tcase_create("formats");
    tcase_add_test(tc, real_files_have_known_measures);
    tcase_add_test(tc, malformed_3mf_gives_a_status);
    tcase_add_test(tc, cut_3mf_gives_a_status);
    tcase_add_test(tc, components_items_and_units_are_honoured);
    tcase_add_test(tc, small_texts_in_each_format);
    tcase_add_test(tc, odd_sizes_give_a_warning);
    tcase_add_test(tc, bad_files_are_refused);
    tcase_add_test(tc, obj_may_be_odd);
    tcase_add_test(tc, ply_may_be_big_endian_with_more_properties);
    tcase_add_test(tc, bad_off_is_refused_with_its_line);
    tcase_add_test(tc, off_may_have_colours_comments_and_polygons);
    tcase_add_test(tc, any_format_loads_from_memory);
    tcase_add_test(tc, formats_to_save_are_named_or_known);
    tcase_add_test(tc, bad_options_are_refused);
    tcase_add_test(tc, ply_is_written_as_the_format_says);
    tcase_add_test(tc, large_meshes_survive_ply_and_3mf);
    tcase_add_test(tc, open_meshes_become_surfaces_in_3mf);
    tcase_add_test(tc, every_allocation_may_fail);
    tcase_add_test(tc, one_long_line_can_be_cancelled);
    suite_add_tcase(suite, tc);
    return test_run(suite);
}

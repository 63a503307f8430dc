/* SPDX-License-Identifier: MIT
 * mesh: STL in and out; good, odd, damaged and hostile files. */
#define _POSIX_C_SOURCE 200809L /* truncate, mkdtemp */

#include "base/base.h"
#include "mesh/mesh.h"
#include "mesh/shells.h"

#include "failing.h"

#include <dirent.h>
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

/* ---- help ------------------------------------------------------------------------------ */

static const char *data_path(const char *name)
{
    static char path[4096];
    const char *root = getenv("VUG_SRCDIR");
    snprintf(path, sizeof path, "%s/tests/data/%s", root ? root : ".", name);
    return path;
}

/* Test bodies are of any size: no warnings of a size that looks like another unit. */
static const vug_mesh_load_options quiet = {.struct_size = sizeof quiet, .format = VUG_FORMAT_STL};

/* A directory for this test, removed by leave_room(). */
static char room[64];

static void enter_room(void)
{
    strcpy(room, "/tmp/vug-stl-XXXXXX");
    ck_assert_ptr_nonnull(mkdtemp(room));
}

static int room_files(void)
{
    DIR *dir = opendir(room);
    int count = 0;
    while (readdir(dir))
        count++;
    closedir(dir);
    return count - 2; /* . and .. */
}

static void leave_room(void)
{
    DIR *dir = opendir(room);
    for (struct dirent *e; (e = readdir(dir)) != NULL;)
        unlinkat(dirfd(dir), e->d_name, 0);
    closedir(dir);
    rmdir(room);
}

static const char *room_path(const char *name)
{
    static char path[128];
    snprintf(path, sizeof path, "%s/%s", room, name);
    return path;
}

static void write_file(const char *path, const void *data, size_t size)
{
    FILE *file = fopen(path, "wb");
    ck_assert_ptr_nonnull(file);
    ck_assert_uint_eq(fwrite(data, 1, size, file), size);
    fclose(file);
}

static vug_mesh_measures measure(vug_context *ctx, const vug_mesh *mesh)
{
    vug_mesh_measures m = {.struct_size = sizeof m};
    ck_ok(ctx, vug_mesh_measure(ctx, mesh, &m));
    return m;
}

/* ---- real meshes ------------------------------------------------------------------------- */

START_TEST(real_meshes_have_known_measures)
{
    /* By CGAL 5.5.1, admesh 0.98.4, VTK 9.1 and numpy, which agree; see data/README.md. */
    static const struct {
        const char *file;
        uint64_t triangles, shells;
        double volume, area;
    } real[] = {
        {"csg_with_sealed_ball.stl", 4160, 2, 3023.905, 1514.54},
        {"ct_head_skin_iso600.stl", 65346, 8, 2194483, 144585},
        {"ct_vase_iso60.stl", 52900, 1, 61706.62, 18799.8},
        {"suzanne.stl", 4012, 3, 2.101768, 11.7068},
    };
    for (size_t i = 0; i < sizeof real / sizeof *real; i++) {
        vug_context *ctx = test_context();
        vug_mesh *mesh = NULL;
        ck_ok(ctx, vug_mesh_load(ctx, data_path(real[i].file), &quiet, &mesh));
        vug_mesh_measures m = measure(ctx, mesh);
        ck_assert_uint_eq(m.triangles, real[i].triangles);
        ck_assert_uint_eq(m.shells, real[i].shells);
        ck_assert_int_eq(m.closed, 1);
        ck_near(m.volume_mm3, real[i].volume, 3e-7); /* the digits given */
        ck_near(m.area_mm2, real[i].area, 5e-6);
        ck_assert_uint_eq(warning_count(ctx), 0);
        vug_mesh_free(mesh);
        vug_context_free(ctx);
    }
}
END_TEST

START_TEST(sealed_voids_have_known_volumes)
{
    /* Shells that turn inward, by CGAL and VTK; see data/README.md. */
    static const double head[] = {4694.58, 910.591, 675.003, 164.88, 102.472, 35.8946, 27.4018};
    vug_context *ctx = test_context();
    vug_mesh *mesh = NULL;
    vug_shells *shells = NULL;
    ck_ok(ctx, vug_mesh_load(ctx, data_path("ct_head_skin_iso600.stl"), &quiet, &mesh));
    ck_ok(ctx, vug_mesh_shells(ctx, mesh, &shells));
    int found = 0;
    for (size_t s = 0; s < vug_shells_count(shells); s++) {
        vug_mesh_measures m = {.struct_size = sizeof m};
        ck_assert_int_eq(vug_shells_get(shells, s, &m), VUG_OK);
        ck_assert_int_eq(m.closed, 1);
        for (size_t i = 0; i < 7; i++)
            found += fabs(-m.volume_mm3 - head[i]) < 5e-6 * head[i];
    }
    ck_assert_int_eq(found, 7);
    vug_shells_free(shells);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* ---- malformed files made by others ------------------------------------------------------- */

START_TEST(malformed_files_are_told_apart)
{
    /* What is wrong is in the name; a tetrahedron of three right corners has the volume 1/6. */
    static const struct {
        const char *file;
        vug_status status;
        const char *text; /* in the message or in the first warning; NULL: no warning */
        uint64_t triangles;
        int32_t closed;
        double volume;
    } cases[] = {
        {"empty.stl", VUG_ERR_FORMAT, "the file is empty", 0, 0, 0},
        {"faceless.ascii.stl", VUG_ERR_MESH, "no triangle", 0, 0, 0},
        {"fourVertices.ascii.stl", VUG_ERR_FORMAT, "line 2: a facet with 4 vertices", 0, 0, 0},
        {"incorrectFaceCounter.bin.stl", VUG_OK, "header says 66 triangles", 4, 1, 1.0 / 6},
        {"missingEndsolid.ascii.stl", VUG_OK, "'endsolid' is missing", 4, 1, 1.0 / 6},
        {"missingFace.ascii.stl", VUG_OK, NULL, 3, 0, 0},
        {"missingNormal.ascii.stl", VUG_OK, NULL, 4, 1, 1.0 / 6},
        {"multiWordName.ascii.stl", VUG_OK, NULL, 4, 1, 1.0 / 6},
        {"multiWordName.bin.stl", VUG_ERR_FORMAT, "a text tool has replaced bytes", 0, 0, 0},
        {"namelessSolid.ascii.stl", VUG_OK, NULL, 4, 1, 1.0 / 6},
        {"notANumberNormal.ascii.stl", VUG_OK, NULL, 4, 1, 1.0 / 6},
        {"quad.ascii.stl", VUG_OK, "line 2: a facet with 4 vertices", 5, 0, 0},
        {"singleFace.ascii.stl", VUG_OK, NULL, 1, 0, 0},
        {"solidNameMismatch.ascii.stl", VUG_OK, NULL, 4, 1, 1.0 / 6},
        {"tetrahedron.min.ascii.stl", VUG_OK, NULL, 4, 1, 1.0 / 6},
        {"tetrahedronMinusZero.bin.stl", VUG_OK, NULL, 4, 1, 1.0 / 6},
        {"twoVertices.ascii.stl", VUG_ERR_FORMAT, "line 2: a facet with 2 vertices", 0, 0, 0},
        {"wrongHeader.bin.stl", VUG_OK, NULL, 12, 1, 1000000},
        {"wrongNormal.ascii.stl", VUG_OK, "normals of 1 of 4 triangles", 4, 1, 1.0 / 6},
        {"wrongNormals.ascii.stl", VUG_OK, NULL, 4, 1, 1.0 / 6},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char name[256];
        vug_context *ctx = test_context();
        vug_mesh *mesh = NULL;
        snprintf(name, sizeof name, "stl_malformed/%s", cases[i].file);
        vug_status status = vug_mesh_load(ctx, data_path(name), &quiet, &mesh);
        ck_assert_msg(status == cases[i].status, "%s: %s", cases[i].file, vug_status_name(status));
        size_t warnings = warning_count(ctx);
        const char *text = status ? vug_context_message(ctx) : vug_context_warning(ctx, 0);
        ck_assert_msg(cases[i].text ? text && strstr(text, cases[i].text) : !warnings, "%s: '%s'",
            cases[i].file, text ? text : "");
        if (status) {
            ck_assert_ptr_null(mesh);
        } else {
            vug_mesh_measures m = measure(ctx, mesh);
            ck_assert_uint_eq(m.triangles, cases[i].triangles);
            ck_assert_int_eq(m.closed, cases[i].closed);
            if (m.closed)
                ck_near(m.volume_mm3, cases[i].volume, 1e-7);
        }
        vug_mesh_free(mesh);
        vug_context_free(ctx);
    }
}
END_TEST

/* ---- text ------------------------------------------------------------------------------------ */

#define FACET(a, b, c) \
    "facet normal 0 0 0\nouter loop\nvertex " a "\nvertex " b "\nvertex " c "\nendloop\nendfacet" \
    "\n"
#define TETRAHEDRON \
    FACET("1 0 0", "0 1 0", "0 0 1") \
    FACET("0 0 0", "1 0 0", "0 0 1") \
    FACET("0 0 0", "0 0 1", "0 1 0") FACET("0 0 0", "0 1 0", "1 0 0")

/* Changes text: each character c of from becomes the one in to, or a string for '\n'. */
static char *rewrite(const char *text, const char *newline, int upper)
{
    char *out = malloc(2 * strlen(text) + 1), *to = out;
    for (; *text; text++) {
        if (*text == '\n')
            to = stpcpy(to, newline);
        else
            *to++ = (char)(upper && *text >= 'a' && *text <= 'z' ? *text - 32 : *text);
    }
    *to = 0;
    return out;
}

static void accepts(const void *text, size_t size, uint64_t triangles, size_t warnings)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = NULL;
    vug_status status = vug_mesh_load_memory(ctx, text, size, NULL, &quiet, &mesh);
    ck_assert_msg(status == VUG_OK, "%s\n%.300s", vug_context_message(ctx), (const char *)text);
    vug_mesh_measures m = measure(ctx, mesh);
    ck_assert_uint_eq(m.triangles, triangles);
    ck_assert_int_eq(m.closed, 1);
    ck_near(m.volume_mm3, (double)triangles / 24.0, 1e-12);
    ck_assert_msg(warning_count(ctx) == warnings, "%zu warnings: %s\n%.300s", warning_count(ctx),
        vug_context_warning(ctx, 0), (const char *)text);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}

START_TEST(text_may_be_spaced_and_cased_at_will)
{
    static const char *const newlines[] = {"\n", "\r\n", "\r", " \t \n\n\n  ", "\t"};
    const char *plain = "solid a b c\n" TETRAHEDRON "endsolid a b c\n";
    for (size_t n = 0; n < sizeof newlines / sizeof *newlines; n++) {
        for (int upper = 0; upper < 2; upper++) {
            char *text = rewrite(plain, newlines[n], upper);
            accepts(text, strlen(text), 4, 0);
            free(text);
        }
    }
}
END_TEST

START_TEST(text_may_be_odd)
{
    static const struct {
        const char *text;
        size_t warnings;
    } odd[] = {
        {"\xEF\xBB\xBFsolid\n" TETRAHEDRON "endsolid\n", 0}, /* UTF-8 mark */
        {"solid fa\xC3\xA7"
         "ade facet\n" TETRAHEDRON "endsolid x",
            0}, /* name in UTF-8 */
        {"solid facet\n" TETRAHEDRON "endsolid facet\n", 0},
        {"solid endsolid\n" TETRAHEDRON "endsolid solid\n", 0},
        {"solid\n" TETRAHEDRON "end solid\n", 0},
        {"solid\n" TETRAHEDRON, 1},                                 /* no endsolid */
        {TETRAHEDRON, 1},                                           /* and no solid */
        {"solid\ncolor 0.5 0.5 0.5\n" TETRAHEDRON "endsolid\n", 1}, /* an unknown line */
        {"solid\n" TETRAHEDRON "endsolid\nmade by hand\n", 1},
    };
    for (size_t i = 0; i < sizeof odd / sizeof *odd; i++)
        accepts(odd[i].text, strlen(odd[i].text), 4, odd[i].warnings);
    static const char padded[] = "solid\n" TETRAHEDRON "endsolid\n\0\0\0\0\0\0";
    accepts(padded, sizeof padded, 4, 0);
}
END_TEST

START_TEST(text_may_hold_several_solids)
{
    /* The second is the first mirrored at the origin: it touches it in one point. */
    const char *two = "solid one\n" TETRAHEDRON
                      "endsolid one\nsolid two\n" FACET("0 -1 0", "-1 0 0", "0 0 -1")
                          FACET("-1 0 0", "0 0 0", "0 0 -1") FACET("0 0 -1", "0 0 0", "0 -1 0")
                              FACET("0 -1 0", "0 0 0", "-1 0 0") "endsolid two\n";
    accepts(two, strlen(two), 8, 0);
}
END_TEST

static void rejects(const char *text, vug_status status, const char *message)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = NULL;
    vug_status got = vug_mesh_load_memory(ctx, text, strlen(text), "t.stl", &quiet, &mesh);
    ck_assert_msg(got == status, "%s: %s\n%s", vug_status_name(got), vug_context_message(ctx),
        text);
    ck_assert_ptr_null(mesh);
    ck_assert_msg(strstr(vug_context_message(ctx), message), "'%s' is not in '%s'", message,
        vug_context_message(ctx));
    ck_assert_ptr_nonnull(strstr(vug_context_message(ctx), "t.stl"));
    vug_context_free(ctx);
}

START_TEST(bad_text_is_refused_with_its_line)
{
    rejects("", VUG_ERR_FORMAT, "empty");
    rejects("hello, this is a letter", VUG_ERR_FORMAT, "no STL");
    rejects("solid gold is a metal.\nSo is lead.", VUG_ERR_FORMAT, "line 2: 'So'");
    rejects("solid\nendsolid", VUG_ERR_MESH, "no triangle");
    rejects("solid\n" FACET("1 0 0", "0 nan 0", "0 0 1"), VUG_ERR_MESH,
        "line 5: coordinate y is 'nan'");
    rejects("solid\n" FACET("1 0 0", "0 0 -inf", "0 0 1"), VUG_ERR_MESH,
        "line 5: coordinate z is '-inf'");
    rejects("solid\n" FACET("1e999 0 0", "0 0 0", "0 0 1"), VUG_ERR_MESH, "line 4: coordinate x");
    rejects("solid\n" FACET("2e9 0 0", "0 0 0", "0 0 1"), VUG_ERR_LIMIT, "line 4: coordinate x");
    rejects("solid\n" FACET("1,5 0 0", "0 1 0", "0 0 1"), VUG_ERR_FORMAT, "line 4: '1,5'");
    rejects("solid\n" FACET("1 0", "0 1 0", "0 0 1"), VUG_ERR_FORMAT, "line 5: 'vertex'");
    rejects("solid\n" FACET("1 0 0 0", "0 1 0", "0 0 1"), VUG_ERR_FORMAT, "line 4: '0'");
    rejects("solid\nfacet\nouter vertex 1 0 0", VUG_ERR_FORMAT, "line 3: 'vertex'");
    rejects("solid\nvertex 1 0 0\n", VUG_ERR_FORMAT, "line 2: 'vertex'");
    rejects("solid\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 1 0 0\n", VUG_ERR_FORMAT,
        "line 6: the file ends inside a facet");
    rejects("solid\nfacet normal 0 0 1\n", VUG_ERR_FORMAT, "the file ends inside a facet");
    rejects("solid\nfacet endfacet\nendsolid\n", VUG_ERR_FORMAT, "line 2: a facet with 0 vertices");
}
END_TEST

/* ---- binary ----------------------------------------------------------------------------------- */

enum { TETRAHEDRON_SIZE = 84 + 4 * 50 };

static void put(unsigned char *p, float value)
{
    memcpy(p, &value, sizeof value); /* tests run on little-endian machines */
}

static void binary_tetrahedron(unsigned char *file, uint32_t count)
{
    static const float corner[4][9] = {{1, 0, 0, 0, 1, 0, 0, 0, 1}, {0, 0, 0, 1, 0, 0, 0, 0, 1},
        {0, 0, 0, 0, 0, 1, 0, 1, 0}, {0, 0, 0, 0, 1, 0, 1, 0, 0}};
    memset(file, 0, TETRAHEDRON_SIZE);
    memcpy(file + 80, &count, 4);
    for (int t = 0; t < 4; t++)
        for (int k = 0; k < 9; k++)
            put(file + 84 + 50 * t + 12 + 4 * k, corner[t][k]);
}

START_TEST(binary_is_known_by_its_size)
{
    unsigned char file[TETRAHEDRON_SIZE + 50];
    binary_tetrahedron(file, 4);
    accepts(file, TETRAHEDRON_SIZE, 4, 0);
    memcpy(file, "solid", 5); /* as some programs begin binary files */
    accepts(file, TETRAHEDRON_SIZE, 4, 0);
    memcpy(file, "solid facet normal 0 0 0                                                       ",
        79);
    accepts(file, TETRAHEDRON_SIZE, 4, 0);
    memcpy(file + 80, "\3\0\0\0", 4);
    accepts(file, TETRAHEDRON_SIZE, 4, 1); /* the size decides, with a warning */
    memcpy(file + 80, "\xFF\xFF\xFF\xFF", 4);
    accepts(file, TETRAHEDRON_SIZE, 4, 1);
    binary_tetrahedron(file, 4);
    accepts(file, TETRAHEDRON_SIZE + 7, 4, 1); /* something after the end */
    put(file + 84 + 12, -0.0f + 1.0f);
    file[84 + 48] = 0x1F; /* colour bits are allowed */
    accepts(file, TETRAHEDRON_SIZE, 4, 0);
}
END_TEST

START_TEST(bad_binary_is_refused_with_its_byte)
{
    static const struct {
        float value;
        vug_status status;
        const char *text;
    } bad[] = {
        {NAN, VUG_ERR_MESH, "byte 212: triangle 2, corner 1: coordinate y is not a finite"},
        {INFINITY, VUG_ERR_MESH, "byte 212: triangle 2, corner 1: coordinate y is not a finite"},
        {-3e38f, VUG_ERR_LIMIT, "byte 212: triangle 2, corner 1: coordinate y is -3e+38"},
    };
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        unsigned char file[TETRAHEDRON_SIZE];
        vug_context *ctx = test_context();
        vug_mesh *mesh = NULL;
        binary_tetrahedron(file, 4);
        put(file + 84 + 2 * 50 + 12 + 4 * 4, bad[i].value);
        ck_assert_int_eq(vug_mesh_load_memory(ctx, file, sizeof file, "b", &quiet, &mesh),
            bad[i].status);
        ck_assert_ptr_null(mesh);
        ck_assert_msg(strstr(vug_context_message(ctx), bad[i].text), "%s",
            vug_context_message(ctx));
        vug_context_free(ctx);
    }
}
END_TEST

START_TEST(cut_files_never_crash)
{
    const char *text = "solid\n" TETRAHEDRON "endsolid\n";
    unsigned char file[TETRAHEDRON_SIZE];
    binary_tetrahedron(file, 4);
    for (int kind = 0; kind < 2; kind++) {
        size_t whole = kind ? strlen(text) - 1 : sizeof file; /* the last newline may go */
        for (size_t size = 0; size < whole; size++) {
            vug_context *ctx = test_context();
            vug_mesh *mesh = NULL;
            char *cut = malloc(size + 1); /* exact, so that a read past the end is seen */
            memcpy(cut, kind ? text : (const char *)file, size);
            vug_status status = vug_mesh_load_memory(ctx, cut, size, NULL, &quiet, &mesh);
            ck_assert((status == VUG_OK) == (mesh != NULL));
            if (status == VUG_OK) { /* only where it ends after a facet, and then with a warning */
                ck_assert_uint_gt(warning_count(ctx), 0);
            } else {
                ck_assert(status == VUG_ERR_FORMAT || status == VUG_ERR_MESH);
                ck_assert_int_gt(strlen(vug_context_message(ctx)), 0);
            }
            free(cut);
            vug_mesh_free(mesh);
            vug_context_free(ctx);
        }
    }
}
END_TEST

/* ---- files ------------------------------------------------------------------------------------ */

static void load_fails(const char *path, vug_status status, const char *message)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = NULL;
    ck_assert_int_eq(vug_mesh_load(ctx, path, &quiet, &mesh), status);
    ck_assert_ptr_null(mesh);
    ck_assert_msg(strstr(vug_context_message(ctx), message), "%s", vug_context_message(ctx));
    ck_assert_msg(strstr(vug_context_message(ctx), path), "%s", vug_context_message(ctx));
    vug_context_free(ctx);
}

START_TEST(files_that_cannot_be_read)
{
    enter_room();
    load_fails(room_path("none.stl"), VUG_ERR_IO, "no such file");
    load_fails(room, VUG_ERR_IO, "directory");
    load_fails("", VUG_ERR_IO, "");
    write_file(room_path("empty.stl"), "", 0);
    load_fails(room_path("empty.stl"), VUG_ERR_FORMAT, "empty");
    static const unsigned char picture[200] = {0x89, 'P', 'N', 'G', '\r', '\n', 0x1A, '\n', 1};
    write_file(room_path("picture.stl"), picture, sizeof picture);
    load_fails(room_path("picture.stl"), VUG_ERR_FORMAT, "");
    leave_room();
}
END_TEST

START_TEST(more_triangles_than_the_limit)
{
    enter_room(); /* a file with a hole: it takes no space */
    write_file(room_path("huge.stl"), "", 0);
    int made = truncate(room_path("huge.stl"), (off_t)84 + (off_t)50 * 2147483648LL);
    if (made == 0) /* some file systems have a smaller limit */
        load_fails(room_path("huge.stl"), VUG_ERR_LIMIT, "the limit is 107374182434");
    leave_room();
    ck_assert_int_eq(made, 0);
}
END_TEST

START_TEST(saved_is_what_was_loaded)
{
    static const char *const files[] = {"ct_vase_iso60.stl", "suzanne.stl"};
    enter_room();
    for (size_t i = 0; i < 2; i++) {
        vug_context *ctx = test_context();
        vug_mesh *mesh = NULL, *again = NULL;
        ck_ok(ctx, vug_mesh_load(ctx, data_path(files[i]), &quiet, &mesh));
        ck_ok(ctx, vug_mesh_save(ctx, mesh, room_path("copy.stl"), VUG_FORMAT_STL, NULL));
        ck_assert_int_eq(room_files(), 1);
        ck_ok(ctx, vug_mesh_load(ctx, room_path("copy.stl"), &quiet, &again));
        ck_assert_uint_eq(warning_count(ctx), 0);
        size_t vertices = vug_mesh_vertex_count(mesh), count = vug_mesh_triangle_count(mesh);
        ck_assert_uint_eq(vug_mesh_vertex_count(again), vertices);
        ck_assert_uint_eq(vug_mesh_triangle_count(again), count);
        ck_assert_int_eq(memcmp(vug_mesh_vertices(mesh), vug_mesh_vertices(again), 24 * vertices),
            0);
        ck_assert_int_eq(memcmp(vug_mesh_triangles(mesh), vug_mesh_triangles(again), 12 * count),
            0);
        vug_mesh_free(mesh);
        vug_mesh_free(again);
        vug_context_free(ctx);
    }
    leave_room();
}
END_TEST

static int32_t stop(void *user, double fraction, const char *stage)
{
    (void)user;
    (void)fraction;
    (void)stage;
    return 1;
}

START_TEST(failed_saves_leave_nothing)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = NULL;
    enter_room();
    ck_ok(ctx, vug_mesh_load(ctx, data_path("suzanne.stl"), &quiet, &mesh));
    ck_assert_int_eq(vug_mesh_save(ctx, mesh, room_path("no/such/dir.stl"), VUG_FORMAT_STL, NULL),
        VUG_ERR_IO);
    ck_assert_int_eq(vug_mesh_save(ctx, mesh, room, VUG_FORMAT_STL, NULL), VUG_ERR_IO);
    ck_assert_ptr_nonnull(strstr(vug_context_message(ctx), "directory"));
    write_file(room_path("old.stl"), "precious", 8);
    ctx->pause_ns = 0; /* hear of all */
    ck_ok(ctx, vug_context_set_progress(ctx, stop, NULL));
    ck_assert_int_eq(vug_mesh_save(ctx, mesh, room_path("old.stl"), VUG_FORMAT_STL, NULL),
        VUG_ERR_CANCELLED);
    ck_ok(ctx, vug_context_set_progress(ctx, NULL, NULL));
    ck_assert_int_eq(room_files(), 1);
    char kept[16] = "";
    FILE *file = fopen(room_path("old.stl"), "rb");
    ck_assert_uint_eq(fread(kept, 1, sizeof kept, file), 8);
    fclose(file);
    ck_assert_str_eq(kept, "precious");
    ck_ok(ctx,
        vug_mesh_save(ctx, mesh, room_path("old.stl"), VUG_FORMAT_STL,
            NULL)); /* replaced as a whole */
    ck_assert_int_eq(room_files(), 1);
    if (access("/dev/full", W_OK) == 0) { /* a device is written to, never replaced */
        ck_assert_int_eq(vug_mesh_save(ctx, mesh, "/dev/full", VUG_FORMAT_STL, NULL), VUG_ERR_IO);
        ck_assert_msg(strstr(vug_context_message(ctx), "no space left"), "%s",
            vug_context_message(ctx));
        struct stat info;
        ck_assert_int_eq(stat("/dev/full", &info), 0);
        ck_assert(S_ISCHR(info.st_mode));
    }
    vug_mesh_free(mesh);
    vug_context_free(ctx);
    leave_room();
}
END_TEST

/* ---- memory, cancelling, threads ---------------------------------------------------------------- */

static vug_status whole_path(vug_context *ctx, void *data)
{
    vug_mesh *mesh = NULL, *copy = NULL;
    vug_shells *shells = NULL;
    vug_mesh_measures m = {.struct_size = sizeof m};
    const char *text = data;
    vug_status status = vug_mesh_load_memory(ctx, text, strlen(text), NULL, &quiet, &mesh);
    if (!status)
        status = vug_mesh_measure(ctx, mesh, &m);
    if (!status)
        status = vug_mesh_shells(ctx, mesh, &shells);
    if (!status)
        status = vug_mesh_from_arrays(ctx, vug_mesh_vertices(mesh), vug_mesh_vertex_count(mesh), 0,
            vug_mesh_triangles(mesh), vug_mesh_triangle_count(mesh), 0, &copy);
    if (!status)
        status = vug_mesh_save(ctx, mesh, room_path("out.stl"), VUG_FORMAT_STL, NULL);
    if (!status) {
        vug_mesh_free(copy);
        copy = NULL;
        status = vug_mesh_load(ctx, room_path("out.stl"), &quiet, &copy);
    }
    vug_shells_free(shells);
    vug_mesh_free(mesh);
    vug_mesh_free(copy);
    return status;
}

START_TEST(every_allocation_may_fail)
{
    char text[] = "solid\n" TETRAHEDRON "endsolid\n";
    enter_room();
    failing_until_success(whole_path, text);
    ck_assert_int_eq(room_files(), 1);
    leave_room();
}
END_TEST

START_TEST(loading_can_be_cancelled)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = NULL;
    vug_mesh_measures m = {.struct_size = sizeof m, .volume_mm3 = 77.0};
    vug_shells *shells = NULL;
    vug_context_cancel(ctx);
    ck_assert_int_eq(vug_mesh_load(ctx, data_path("suzanne.stl"), &quiet, &mesh),
        VUG_ERR_CANCELLED);
    ck_assert_ptr_null(mesh);
    ck_ok(ctx, vug_mesh_load(ctx, data_path("suzanne.stl"), &quiet, &mesh));
    vug_context_cancel(ctx);
    ck_assert_int_eq(vug_mesh_measure(ctx, mesh, &m), VUG_ERR_CANCELLED);
    ck_assert(m.volume_mm3 == 77.0); /* untouched */
    vug_context_cancel(ctx);
    ck_assert_int_eq(vug_mesh_shells(ctx, mesh, &shells), VUG_ERR_CANCELLED);
    ck_assert_ptr_null(shells);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

START_TEST(threads_change_no_byte)
{
    vug_mesh_measures first = {.struct_size = sizeof first};
    for (uint32_t threads = 1; threads <= 5; threads += 2) {
        vug_context_options options;
        vug_context *ctx = NULL;
        vug_mesh *mesh = NULL;
        vug_mesh_measures m = {.struct_size = sizeof m};
        ck_assert_int_eq(vug_context_options_init(&options, sizeof options), VUG_OK);
        options.threads = threads;
        ck_assert_int_eq(vug_context_create(&options, &ctx), VUG_OK);
        ck_ok(ctx, vug_mesh_load(ctx, data_path("ct_head_skin_iso600.stl"), &quiet, &mesh));
        ck_ok(ctx, vug_mesh_measure(ctx, mesh, &m));
        if (threads == 1)
            first = m;
        ck_assert_int_eq(memcmp(&first, &m, sizeof m), 0);
        vug_mesh_free(mesh);
        vug_context_free(ctx);
    }
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("stl");
    TCase *tc = tcase_create("stl");
    tcase_add_test(tc, real_meshes_have_known_measures);
    tcase_add_test(tc, sealed_voids_have_known_volumes);
    tcase_add_test(tc, malformed_files_are_told_apart);
    tcase_add_test(tc, text_may_be_spaced_and_cased_at_will);
    tcase_add_test(tc, text_may_be_odd);
    tcase_add_test(tc, text_may_hold_several_solids);
    tcase_add_test(tc, bad_text_is_refused_with_its_line);
    tcase_add_test(tc, binary_is_known_by_its_size);
    tcase_add_test(tc, bad_binary_is_refused_with_its_byte);
    tcase_add_test(tc, cut_files_never_crash);
    tcase_add_test(tc, files_that_cannot_be_read);
    tcase_add_test(tc, more_triangles_than_the_limit);
    tcase_add_test(tc, saved_is_what_was_loaded);
    tcase_add_test(tc, failed_saves_leave_nothing);
    tcase_add_test(tc, every_allocation_may_fail);
    tcase_add_test(tc, loading_can_be_cancelled);
    tcase_add_test(tc, threads_change_no_byte);
    suite_add_tcase(suite, tc);
    return test_run(suite);
}

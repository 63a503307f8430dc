/* SPDX-License-Identifier: MIT
 * vug-measure: the health of a mesh, its sizes, its shells, and the cavities inside. */
#include "json.h"
#include "ply.h"
#include "text.h"
#include "../tool/fail.h"
#include "../tool/json.h"
#include "../tool/options.h"

#include <stdlib.h>
#include <string.h>

typedef struct settings {
    const char *json, *ply, *save, *units;
    number_rows holes;
    bool skip_cavities, repair;
    int64_t cells;
    double thin_mm;
} settings;

static const struct {
    const char *name;
    double mm;
} units[] = {
    {"um", 0.001},
    {"mm", 1.0},
    {"cm", 10.0},
    {"m", 1000.0},
    {"in", 25.4},
    {"ft", 304.8},
};

static int read_units(const tool *program, const char *name, double *mm)
{
    *mm = 0.0;
    for (size_t i = 0; name && i < sizeof units / sizeof units[0]; i++)
        if (strcmp(name, units[i].name) == 0)
            *mm = units[i].mm;
    if (name && *mm <= 0.0)
        return fail_usage(program, "--units wants um, mm, cm, m, in or ft, not '%s'", name);
    return DONE;
}

static vug_status repair(measured *m)
{
    vug_mesh *clean = NULL;
    vug_status status = vug_mesh_clean(m->ctx, m->mesh, NULL, &clean, NULL);
    if (!status) {
        vug_mesh_free(m->mesh);
        m->mesh = clean;
    }
    return status;
}

static int load(const tool *program, const settings *s, double unit_mm, measured *m)
{
    vug_mesh_load_options options;
    vug_mesh_load_options_init(&options, sizeof options);
    m->measures.struct_size = sizeof m->measures;
    options.unit_mm = unit_mm;
    vug_status status = vug_mesh_load(m->ctx, m->file, &options, &m->mesh);
    if (!status && s->repair)
        status = repair(m);
    if (!status)
        status = vug_mesh_measure(m->ctx, m->mesh, &m->measures);
    if (!status)
        status = vug_mesh_shells(m->ctx, m->mesh, &m->shells);
    return status ? fail_status(program, m->ctx, status) : DONE;
}

/* A mesh that is not fit for cavities is still measured; a hole that was named must be found. */
static int find_cavities(const tool *program, const settings *s, measured *m)
{
    vug_cavity_options options;
    vug_cavity_options_init(&options, sizeof options);
    options.cells_across = (uint32_t)s->cells;
    vug_status status = vug_cavities_find(m->ctx, m->mesh, s->holes.number, s->holes.count,
        &options, &m->cavities);
    if (status == VUG_ERR_MESH && s->holes.count == 0)
        snprintf(m->why, sizeof m->why, "%s", vug_context_message(m->ctx));
    else if (status)
        return fail_status(program, m->ctx, status);
    return DONE;
}

/* The outer skin's, or every skin's when it is not known which is outer. */
static int measure_wall(const tool *program, measured *m)
{
    vug_status status = vug_thickness_measure(m->ctx, m->mesh, m->cavities, 0.0, &m->wall);
    if (!status && m->thin_mm > 0.0)
        status = vug_thickness_spots(m->ctx, m->wall, m->thin_mm, &m->thin, &m->thin_count);
    return status ? fail_status(program, m->ctx, status) : DONE;
}

/* The format by the end of the name. */
static int save(const tool *program, const measured *m, const char *file)
{
    const char *dot = strrchr(file, '.');
    vug_status status = VUG_OK;
    if (dot && strcmp(dot, ".stl") == 0)
        status = vug_mesh_save(m->ctx, m->mesh, file, VUG_FORMAT_STL, NULL);
    else if (dot && strcmp(dot, ".ply") == 0)
        status = vug_mesh_save(m->ctx, m->mesh, file, VUG_FORMAT_PLY, NULL);
    else if (dot && strcmp(dot, ".3mf") == 0)
        status = vug_mesh_save(m->ctx, m->mesh, file, VUG_FORMAT_3MF, NULL);
    else
        return fail_usage(program, "--save wants a name that ends in .stl, .ply or .3mf, not '%s'",
            file);
    return status ? fail_status(program, m->ctx, status) : DONE;
}

static int run(const tool *program, const char *file, const settings *s)
{
    measured m = {.file = file, .thin_mm = s->thin_mm};
    double unit_mm = 0.0;
    int code = read_units(program, s->units, &unit_mm);
    if (code != DONE)
        return code;
    if (vug_context_create(NULL, &m.ctx) != VUG_OK)
        return fail(program, "no memory");
    code = load(program, s, unit_mm, &m);
    if (code == DONE && s->skip_cavities)
        snprintf(m.why, sizeof m.why, "not looked for");
    else if (code == DONE)
        code = find_cavities(program, s, &m);
    if (code == DONE && !s->skip_cavities)
        code = measure_wall(program, &m);
    if (code == DONE) {
        print_warnings(program, m.ctx);
        if (!s->json || strcmp(s->json, "-") != 0)
            measure_print(&m);
        if (s->save)
            code = save(program, &m, s->save);
        if (code == DONE && s->ply)
            code = measure_ply(program, &m, s->ply);
        if (code == DONE && s->json)
            code = json_write(program, measure_json(&m), s->json);
    }
    vug_free(m.ctx, m.thin);
    vug_thickness_free(m.wall);
    vug_cavities_free(m.cavities);
    vug_shells_free(m.shells);
    vug_mesh_free(m.mesh);
    vug_context_free(m.ctx);
    return code;
}

int main(int argc, char **argv)
{
    settings s = {.holes = {.width = 7}, .cells = 0};
    const option options[] = {
        {"--hole", "x,y,z,dx,dy,dz,d",
            "An opening: a point on the outer skin, the direction outward, "
            "the diameter. Its bore is found there, or planned if there is none. Again for more.",
            OPTION_ROWS, &s.holes, 0, 0, 7},
        {"--units", "UNIT",
            "Unit of the file: um, mm, cm, m, in or ft. Otherwise the file's own if it "
            "has one (3MF), else mm.",
            OPTION_TEXT, &s.units, 0, 0, 0},
        {"--json", "FILE|-",
            "Write everything as JSON; - is standard output, in place of the text.", OPTION_TEXT,
            &s.json, 0, 0, 0},
        {"--ply", "FILE",
            "Write the part as a coloured PLY: grey outside, each cavity in a colour of "
            "its own, openings orange.",
            OPTION_TEXT, &s.ply, 0, 0, 0},
        {"--repair", NULL,
            "Repair the mesh first: small gaps, doubled and empty triangles, turning. "
            "What was done is told on standard error.",
            OPTION_FLAG, &s.repair, 0, 0, 0},
        {"--save", "FILE", "Save the mesh as .stl, .ply or .3mf, in mm.", OPTION_TEXT, &s.save, 0,
            0, 0},
        {"--cells", "N",
            "Cells of the grid along the longest side when looking for openings that "
            "nobody named; 256 or, where the part is too fine for that, 384 unless given.",
            OPTION_WHOLE, &s.cells, 16, 2048, 0},
        {"--thin", "MM",
            "List the spots where the wall is thinner than this, and show them black in the "
            "coloured PLY.",
            OPTION_NUMBER, &s.thin_mm, 0, 1e6, 0},
        {"--no-cavities", NULL, "Measure the mesh only.", OPTION_FLAG, &s.skip_cavities, 0, 0, 0},
    };
    const tool program = {
        .name = "vug-measure",
        .operands = "MESH",
        .operand_count = 1,
        .about =
            "Tells how healthy a mesh is and how large, which shells it has, and what is inside: "
            "cavities, the openings that lead to them, their chambers and the throats between; and "
            "how "
            "thick the wall is.",
        .notes = "MESH is an STL, OBJ, PLY, OFF or 3MF file. Lengths are in mm, volumes in mL "
                 "and mm3. Openings are numbered as the other programs number them.",
        .options = options,
        .option_count = sizeof options / sizeof options[0],
    };
    const char *operand[1];
    int code = options_read(&program, argc, argv, operand);
    if (code == GO_ON)
        code = run(&program, operand[0], &s);
    free(s.holes.number);
    return code;
}

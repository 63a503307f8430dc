/* SPDX-License-Identifier: MIT
 * vug-measure: the health of a mesh, its sizes, its shells, and the cavities inside. */
#include "json.h"
#include "ply.h"
#include "text.h"
#include "../tool/fail.h"
#include "../tool/json.h"
#include "../tool/mesh.h"
#include "../tool/progress.h"

#include <stdlib.h>
#include <string.h>

typedef struct settings {
    mesh_settings mesh;
    const char *json, *ply, *save;
    bool skip_cavities, repair;
    int64_t cells;
    double thin_mm;
} settings;

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

static int load(const tool *program, const settings *s, measured *m)
{
    int code = mesh_open(program, m->ctx, m->file, &s->mesh, &m->mesh);
    if (code != DONE)
        return code;
    m->measures.struct_size = sizeof m->measures;
    vug_status status = s->repair ? repair(m) : VUG_OK;
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
    vug_status status = vug_cavities_find(m->ctx, m->mesh, s->mesh.holes.number,
        s->mesh.holes.count, &options, &m->cavities);
    if (status == VUG_ERR_MESH && s->mesh.holes.count == 0)
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
    int code = context_open(program, &m.ctx);
    if (code == DONE)
        code = load(program, s, &m);
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
    settings s = {.mesh = mesh_usual(), .cells = 0};
    const option own[] = {
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
    option options[MESH_CHOICES + sizeof own / sizeof own[0]];
    option *next = options_add(mesh_choices(options, &s.mesh), own, sizeof own / sizeof own[0]);
    const tool program = {
        .name = "vug-measure",
        .operands = "MESH",
        .operand_count = 1,
        .about =
            "Tells how healthy a mesh is and how large, which shells it has, and what is inside: "
            "cavities, the openings that lead to them, their chambers and the throats between; and "
            "how "
            "thick the wall is.",
        .notes =
            "MESH is an STL, OBJ, PLY, OFF or 3MF file. Lengths are in mm, volumes in mL "
            "and mm3. Openings are called A, B ... as the other programs call them; JSON has their "
            "numbers, from 0.",
        .options = options,
        .option_count = (size_t)(next - options),
    };
    const char *operand[1];
    int code = options_read(&program, argc, argv, operand);
    if (code == GO_ON)
        code = run(&program, operand[0], &s);
    mesh_settings_free(&s.mesh);
    return code;
}

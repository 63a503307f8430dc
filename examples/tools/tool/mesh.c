/* SPDX-License-Identifier: MIT
 * The mesh that a program is about. */
#include "mesh.h"

#include "fail.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

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

mesh_settings mesh_usual(void)
{
    return (mesh_settings){.holes = {.width = 7}};
}

option *mesh_units(option *to, const char **name)
{
    *to++ = (option){.name = "--units",
        .value = "UNIT",
        .kind = OPTION_TEXT,
        .target = (void *)name,
        .help = "unit of the file: um, mm, cm, m, in or ft; the file's own if it has one (3MF), "
                "else mm"};
    return to;
}

option *mesh_choices(option *to, mesh_settings *s)
{
    to = mesh_units(to, &s->units);
    *to++ = (option){.name = "--hole",
        .value = "X,Y,Z,DX,DY,DZ,D",
        .kind = OPTION_ROWS,
        .target = &s->holes,
        .help =
            "an opening: a point on the outer skin, the direction out of the part, the diameter, "
            "in "
            "mm. The bore is taken as it is in the mesh; where there is none it is planned, to be "
            "drilled. Once for each opening; those that nobody names are looked for"};
    return to;
}

void mesh_settings_free(mesh_settings *settings)
{
    free(settings->holes.number);
    settings->holes.number = NULL;
}

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

int mesh_open(const tool *program, vug_context *ctx, const char *file,
    const mesh_settings *settings, vug_mesh **mesh)
{
    vug_mesh_load_options options;
    vug_mesh_load_options_init(&options, sizeof options);
    int code = read_units(program, settings->units, &options.unit_mm);
    if (code != DONE)
        return code;
    vug_status status = vug_mesh_load(ctx, file, &options, mesh);
    return status ? fail_status(program, ctx, status) : DONE;
}

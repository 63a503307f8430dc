/* SPDX-License-Identifier: MIT
 * vug-coral: makes the demo part, a hollow branching coral on a small base, as a binary STL, with its
 * true cavity volume and its bores as JSON. */
#include "hole.h"
#include "net.h"
#include "shape.h"
#include "volume.h"
#include "../tool/fail.h"
#include "../tool/json.h"
#include "../tool/options.h"
#include "../tool/whole_file.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double pi = 3.141592653589793;

typedef struct settings {
    coral_params params;
    int64_t resolution; /* grid cells over the height */
    const char *out, *json;
} settings;

typedef struct made_part {
    surface_net net;
    double cavity_mm3; /* that the triangles enclose, bores not counted */
} made_part;

/* ---- the mesh --------------------------------------------------------------- */

static double outside_value(const void *coral, const double p[3])
{
    return coral_outside(coral, p);
}

static double cavity_value(const void *coral, const double p[3])
{
    return coral_cavity(coral, p);
}

/* The wall of a bore, between the edges of its two holes. */
static bool add_bore_wall(surface_net *net, uint32_t outer, uint32_t inner, uint32_t sides)
{
    for (uint32_t i = 0; i < sides; i++) {
        uint32_t j = (i + 1) % sides;
        if (!net_add_triangle(net, outer + i, outer + j, inner + j)
            || !net_add_triangle(net, outer + i, inner + j, inner + i))
            return false;
    }
    return true;
}

/* Cuts the bores through both faces and joins skin and cavity, turned inside out, into one. */
static int join(const tool *program, const coral_shape *coral, const settings *s, surface_net *skin,
    surface_net *cavity)
{
    double spacing = s->params.height / (double)s->resolution, radius = 0.5 * s->params.bore;
    uint32_t sides = (uint32_t)fmax(32.0, ceil(4.0 * pi * radius / spacing));
    uint32_t outer[CORAL_BORES_MAX], inner[CORAL_BORES_MAX];
    int bores = (int)s->params.bores;
    for (int i = 0; i < bores; i++) {
        double center[3];
        coral_bore(coral, i, center);
        if (!net_cut_hole(skin, 0.0, center, radius, sides, spacing, &outer[i])
            || !net_cut_hole(cavity, coral_floor(coral), center, radius, sides, 1.25 * spacing,
                &inner[i]))
            return fail(program,
                "bore %d, %g mm wide, does not fit into the flat of the base: make "
                "the bore smaller, the part higher or the resolution finer",
                i + 1, s->params.bore);
    }
    uint32_t first = (uint32_t)skin->vertex_count;
    bool good = net_append_flipped(skin, cavity);
    for (int i = 0; i < bores && good; i++)
        good = add_bore_wall(skin, outer[i], first + inner[i], sides);
    if (!good)
        return fail(program, "no memory");
    if (!net_closed(skin))
        return fail(program, "the mesh does not close at this resolution: make it finer");
    return DONE;
}

static int make_part(const tool *program, const coral_shape *coral, const settings *s,
    made_part *part)
{
    double spacing = s->params.height / (double)s->resolution;
    net_field outside = {outside_value, coral, coral_relief(coral), {0}, {0}, 0.0};
    net_field inside = {cavity_value, coral, 0.0, {0}, {0}, coral_floor(coral)};
    surface_net cavity = {0};
    int code;
    coral_bounds(coral, outside.lo, outside.hi);
    coral_bounds(coral, inside.lo, inside.hi);
    if (net_make(&outside, spacing, &part->net) && net_make(&inside, 1.25 * spacing, &cavity)) {
        part->cavity_mm3 = net_volume(&cavity);
        code = join(program, coral, s, &part->net, &cavity);
    } else {
        code = fail(program, "no memory for so fine a resolution");
    }
    net_free(&cavity);
    return code;
}

/* ---- STL ---------------------------------------------------------------------- */

static void put_u32(unsigned char *to, uint32_t value)
{
    for (int i = 0; i < 4; i++)
        to[i] = (unsigned char)(value >> 8 * i);
}

static void put_row(unsigned char *to, const double v[3])
{
    for (int k = 0; k < 3; k++) {
        float single = (float)v[k];
        uint32_t bits;
        memcpy(&bits, &single, sizeof bits);
        put_u32(to + 4 * k, bits);
    }
}

static bool put_triangle(FILE *stream, const surface_net *net, const uint32_t *t)
{
    unsigned char record[50] = {0};
    double n[3], length, side[2][3];
    for (int k = 0; k < 3; k++) {
        side[0][k] = net->xyz[3 * (size_t)t[1] + k] - net->xyz[3 * (size_t)t[0] + k];
        side[1][k] = net->xyz[3 * (size_t)t[2] + k] - net->xyz[3 * (size_t)t[0] + k];
    }
    for (int k = 0; k < 3; k++)
        n[k] = side[0][(k + 1) % 3] * side[1][(k + 2) % 3]
            - side[0][(k + 2) % 3] * side[1][(k + 1) % 3];
    length = sqrt(n[0] * n[0] + n[1] * n[1] + n[2] * n[2]);
    for (int k = 0; k < 3; k++)
        n[k] = length > 0.0 ? n[k] / length : 0.0;
    put_row(record, n);
    for (int c = 0; c < 3; c++)
        put_row(record + 12 * (c + 1), net->xyz + 3 * (size_t)t[c]);
    return fwrite(record, sizeof record, 1, stream) == 1;
}

static int write_stl(const tool *program, const surface_net *net, const char *file)
{
    unsigned char head[84] = "demo coral, binary STL, mm";
    char *beside = NULL;
    FILE *stream = whole_open(program, file, &beside);
    if (!stream)
        return FAILED;
    put_u32(head + 80, (uint32_t)net->triangle_count);
    bool good = fwrite(head, sizeof head, 1, stream) == 1;
    for (size_t i = 0; i < net->triangle_count && good; i++)
        good = put_triangle(stream, net, net->triangles + 3 * i);
    return whole_close(program, stream, file, beside, good);
}

/* ---- JSON ----------------------------------------------------------------------- */

static json_t *bores_json(const coral_shape *coral, const settings *s)
{
    json_t *bores = json_array();
    for (int i = 0; i < s->params.bores; i++) {
        double center[3], out[3] = {0.0, 0.0, -1.0};
        coral_bore(coral, i, center);
        char hole[160];
        snprintf(hole, sizeof hole, "%.9g,%.9g,0,0,0,-1,%.9g", center[0], center[1],
            s->params.bore);
        json_array_append_new(bores,
            json_pack("{s:o,s:o,s:f,s:f,s:s}", "center_mm", json_triple(center), "direction",
                json_triple(out), "diameter_mm", s->params.bore, "length_mm", coral_floor(coral),
                "hole", hole));
    }
    return bores;
}

static json_t *report(const coral_shape *coral, const settings *s, const made_part *part)
{
    double error, cavity = coral_cavity_volume(coral, &error);
    double bores = (double)s->params.bores * pi * 0.25 * s->params.bore * s->params.bore
        * coral_floor(coral);
    return json_pack("{s:{s:f,s:f,s:f,s:f}, s:o, s:{s:I,s:f,s:f}, s:{s:f,s:f,s:I,s:I,s:b}}",
        "cavity", "volume_mm3", cavity + bores, "volume_error_mm3", error,
        "volume_without_bores_mm3", cavity, "mesh_volume_without_bores_mm3", part->cavity_mm3,
        "bores", bores_json(coral, s), "mesh", "triangles", (json_int_t)part->net.triangle_count,
        "volume_mm3", net_volume(&part->net), "wall_mm", s->params.wall, "parameters", "height_mm",
        s->params.height, "bore_mm", s->params.bore, "resolution", (json_int_t)s->resolution,
        "seed", (json_int_t)s->params.seed, "smooth", s->params.smooth);
}

/* ---- main -------------------------------------------------------------------------- */

static int run(const tool *program, const settings *s)
{
    made_part part = {0};
    if (!s->out && !s->json)
        return fail_usage(program, "nothing to do: give --out, --json or both");
    double thinnest = coral_thinnest(&s->params);
    if (s->params.wall > 0.6 * thinnest)
        return fail_usage(program, "--wall %g is too thick: at this height it can be at most %.2f",
            s->params.wall, 0.6 * thinnest);
    coral_shape *coral = coral_create(&s->params);
    if (!coral)
        return fail(program, "no memory");
    int code = make_part(program, coral, s, &part);
    if (code == DONE && s->out)
        code = write_stl(program, &part.net, s->out);
    if (code == DONE && s->json)
        code = json_write(program, report(coral, s, &part), s->json);
    net_free(&part.net);
    coral_free(coral);
    return code;
}

int main(int argc, char **argv)
{
    settings s = {{80.0, 1.5, 3.0, 2, 0, false}, 85, NULL, NULL};
    const option options[] = {
        {"--out", "FILE.stl", "Write the part there.", OPTION_TEXT, &s.out, 0, 0, 0},
        {"--json", "FILE|-",
            "Write its true cavity volume and its bores there ('-': to standard "
            "output).",
            OPTION_TEXT, &s.json, 0, 0, 0},
        {"--height", "MM", "Height of the whole part (default 80).", OPTION_NUMBER,
            &s.params.height, 40.0, 400.0, 0},
        {"--wall", "MM", "Thickness of the wall and of the floor of the base (default 1.5).",
            OPTION_NUMBER, &s.params.wall, 0.4, 20.0, 0},
        {"--bore", "MM", "Diameter of the bores in the base (default 3).", OPTION_NUMBER,
            &s.params.bore, 0.5, 20.0, 0},
        {"--bores", "N", "How many bores, 0 to 2 (default 2). With 0 the cavity is closed.",
            OPTION_WHOLE, &s.params.bores, 0, CORAL_BORES_MAX, 0},
        {"--seed", "N",
            "Bend the branches a little, each seed in its own way (default 0: as "
            "drawn).",
            OPTION_WHOLE, &s.params.seed, 0, 1e9, 0},
        {"--smooth", NULL, "Leave out the cups on the skin.", OPTION_FLAG, &s.params.smooth, 0, 0,
            0},
        {"--resolution", "N",
            "Grid cells over the height (default 85). The number of triangles "
            "grows with its square.",
            OPTION_WHOLE, &s.resolution, 40, 1000, 0},
    };
    const tool program = {"vug-coral", "", 0,
        "Makes a hollow branching coral on a small base, a part to try fill plans on: tips that "
        "point up, sideways and down and hold air, a bridge that makes a loop, cups on the skin, "
        "bores in the base. The same options give the same bytes.",
        "Lengths are in mm; the base stands on z = 0. The JSON gives each bore as its centre on "
        "the outer face, its outward direction, its diameter and its length through the wall, and "
        "once more as the text that --hole of the other programs takes. The cavity volume is "
        "integrated from the shape itself, not from the triangles, and includes the bores up to "
        "the outer face.",
        options, sizeof options / sizeof options[0]};
    int code = options_read(&program, argc, argv, NULL);
    return code == GO_ON ? run(&program, &s) : code;
}

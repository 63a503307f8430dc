/* SPDX-License-Identifier: MIT
 * vug-hollow: a solid part gets a cavity behind a wall, and bores into it. */
#include "../tool/amounts.h"
#include "../tool/fail.h"
#include "../tool/hollowed.h"
#include "../tool/json.h"
#include "../tool/mesh.h"
#include "../tool/options.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { BORE_NUMBERS = 7 };

typedef struct settings {
    const char *json, *units;
    number_rows bores;
    vug_hollow_options hollow;
    int64_t cells;
    bool fillable;
} settings;

typedef struct hollow_part {
    vug_context *ctx;
    vug_mesh *mesh;
    hollowed made;
    double *cuts; /* rows of VUG_BORE_CUT */
    size_t bore_count;
} hollow_part;

static vug_status cut_bores(const settings *s, hollow_part *part)
{
    size_t count = s->bores.count;
    double *rows = calloc(count * VUG_BORE_ROW, sizeof *rows);
    part->cuts = calloc(count * VUG_BORE_CUT, sizeof *part->cuts);
    if (!rows || !part->cuts) {
        free(rows);
        return VUG_ERR_MEMORY;
    }
    for (size_t b = 0; b < count; b++)
        memcpy(rows + b * VUG_BORE_ROW, s->bores.number + b * BORE_NUMBERS,
            BORE_NUMBERS * sizeof *rows);
    vug_mesh *bored = NULL;
    vug_status status = vug_shape_bore(part->ctx, part->mesh, rows, count, NULL, part->cuts,
        &bored);
    free(rows);
    if (status)
        return status;
    vug_mesh_free(part->mesh);
    part->mesh = bored;
    part->bore_count = count;
    return VUG_OK;
}

static vug_status make(const char *to, const settings *s, hollow_part *part)
{
    vug_status status = hollowed_make(part->ctx, &s->hollow, &part->mesh, &part->made);
    if (!status && s->bores.count)
        status = cut_bores(s, part);
    if (!status)
        status = vug_mesh_save(part->ctx, part->mesh, to, VUG_FORMAT_AUTO, NULL);
    return status;
}

/* ---- told ------------------------------------------------------------------------- */

static void print_filling(const vug_hollow_info *i, double asked_deg)
{
    printf("made to be filled: air that would stay in that pose: %s, before: %s; cavity that it "
           "took: "
           "%s\n",
        amount_ml(i->trapped_mm3).text, amount_ml(i->trapped_before_mm3).text,
        amount_ml(i->added_mm3).text);
    if (i->slope_deg > 0.0)
        printf("ceilings rise by %.3g degrees to the outlet where the wall lets them\n",
            i->slope_deg);
    printf("ceilings flatter than %.3g degrees: %.0f mm2\n", asked_deg, i->flat_mm2);
    printf("skin without liquid behind it within the greatest wall: %.0f mm2, %.0f before\n",
        i->bare_mm2, i->bare_before_mm2);
}

static void print(const settings *s, const hollow_part *part)
{
    hollowed_print_cavity(&part->made);
    if (s->hollow.simplify_mm > 0.0
        && part->made.info.triangles == part->made.info.triangles_before)
        puts("nothing of its surface could be simplified");
    if (s->fillable)
        print_filling(&part->made.info, s->hollow.slope_deg);
    hollowed_print_solid(&part->made);
    for (size_t b = 0; b < part->bore_count; b++) {
        const double *row = s->bores.number + BORE_NUMBERS * b,
                     *cut = part->cuts + VUG_BORE_CUT * b;
        printf("bore %zu: %.2f mm wide, %.2f mm deep, at (%.1f, %.1f, %.1f)\n", b + 1, row[6],
            cut[2] - cut[1], row[0], row[1], row[2]);
    }
    if (part->bore_count == 0)
        puts("There is no opening yet: resin stays inside. Have holes cut with --bore.");
    puts(
        "Uncured resin irritates skin and eyes: drain, rinse and cure the inside, with gloves on.");
}

static json_t *to_json(const settings *s, const hollow_part *part)
{
    const vug_hollow_info *i = &part->made.info;
    json_t *bores = json_array();
    for (size_t b = 0; b < part->bore_count; b++) {
        const double *row = s->bores.number + BORE_NUMBERS * b,
                     *cut = part->cuts + VUG_BORE_CUT * b;
        json_array_append_new(bores,
            json_pack("{s:o, s:o, s:f, s:f, s:f}", "point_mm", json_triple(row), "direction",
                json_triple(row + 3), "diameter_mm", row[6], "depth_mm", cut[2] - cut[1],
                "volume_mm3", cut[0]));
    }
    json_t *filling = s->fillable
        ? json_pack("{s:f, s:f, s:f, s:f, s:f, s:f, s:f}", "trapped_before_mm3",
            i->trapped_before_mm3, "trapped_mm3", i->trapped_mm3, "added_mm3", i->added_mm3,
            "slope_deg", i->slope_deg, "bare_before_mm2", i->bare_before_mm2, "bare_mm2",
            i->bare_mm2, "flat_mm2", i->flat_mm2)
        : json_null();
    return json_pack("{s:o, s:o, s:f, s:I, s:o, s:o}", "cavity", hollowed_cavity_json(&part->made),
        "filling", filling, "step_mm", i->step_mm, "triangles",
        (json_int_t)vug_mesh_triangle_count(part->mesh), "solid", hollowed_solid_json(&part->made),
        "bores", bores);
}

static int run(const tool *program, const char *const *files, settings *s)
{
    hollow_part part = {.ctx = NULL};
    if (vug_context_create(NULL, &part.ctx) != VUG_OK)
        return fail(program, "no memory");
    s->hollow.cells = (int32_t)s->cells;
    s->fillable = s->hollow.most_wall_mm > 0.0;
    const mesh_settings from = {.units = s->units};
    int code = mesh_open(program, part.ctx, files[0], &from, &part.mesh);
    vug_status status = code == DONE ? make(files[1], s, &part) : VUG_OK;
    print_warnings(program, part.ctx);
    code = status ? fail_status(program, part.ctx, status) : code;
    if (code == DONE && (!s->json || strcmp(s->json, "-") != 0))
        print(s, &part);
    if (code == DONE && s->json)
        code = json_write(program, to_json(s, &part), s->json);
    free(part.cuts);
    vug_free(part.ctx, part.made.spots);
    vug_mesh_free(part.mesh);
    vug_context_free(part.ctx);
    return code;
}

/* What shapes a cavity to be filled means nothing without --fillable. */
static bool left_over(const settings *s)
{
    vug_hollow_options plain;
    vug_hollow_options_init(&plain, sizeof plain);
    return !(s->hollow.most_wall_mm > 0.0)
        && (memcmp(s->hollow.fill_up, plain.fill_up, sizeof plain.fill_up) != 0
            || s->hollow.slope_deg != plain.slope_deg || !isnan(s->hollow.outlet_mm[0]));
}

int main(int argc, char **argv)
{
    settings s = {.bores = {.width = BORE_NUMBERS}};
    vug_hollow_options_init(&s.hollow, sizeof s.hollow);
    option units;
    mesh_units(&units, &s.units);
    const option options[] = {
        units,
        {"--wall", "MM",
            "How far the cavity stays from the outer surface, measured to its nearest point; 2 "
            "unless given.",
            OPTION_NUMBER, &s.hollow.wall_mm, 0.01, 1e4, 0},
        {"--bore", "x,y,z,dx,dy,dz,d",
            "Cut a round hole through the wall: a point on the skin, the direction in which it "
            "goes "
            "in, the diameter. Again for more.",
            OPTION_ROWS, &s.bores, 0, 0, BORE_NUMBERS},
        {"--chamber", "MM", "Open a chamber only if a ball so wide fits into it; 3 unless given.",
            OPTION_NUMBER, &s.hollow.chamber_mm, 0, 1e6, 0},
        {"--throat", "MM",
            "Close channels inside that are narrower than this, and round the inner edges: a ball "
            "so wide reaches every place of the cavity.",
            OPTION_NUMBER, &s.hollow.throat_mm, 0, 1e6, 0},
        {"--base", "MM", "Keep all solid up to this height above the lowest point.", OPTION_NUMBER,
            &s.hollow.base_mm, 0, 1e6, 0},
        {"--up", "x,y,z", "Direction that points up, for the base; 0,0,1 unless given.", OPTION_ROW,
            s.hollow.up, 0, 0, 3},
        {"--fillable", "MM",
            "Shape the cavity so that less air stays when it is filled: its ceilings are lowered "
            "into slopes towards the outlet, with no wall thicker than this for it.",
            OPTION_NUMBER, &s.hollow.most_wall_mm, 0.01, 1e4, 0},
        {"--fill-up", "x,y,z",
            "Then, the direction that points up while filling, or while printing if ceilings are "
            "to "
            "print; 0,0,1 unless given.",
            OPTION_ROW, s.hollow.fill_up, 0, 0, 3},
        {"--outlet", "x,y,z",
            "Then, where air leaves: the ceiling nearest to this point; the highest place unless "
            "given.",
            OPTION_ROW, s.hollow.outlet_mm, 0, 0, 3},
        {"--slope", "DEG", "Then, how steep ceilings are to be; 10 unless given.", OPTION_NUMBER,
            &s.hollow.slope_deg, 0, 60, 0},
        {"--cells", "N",
            "Cells of the grid along the longest side: more make the inner surface finer. As many "
            "as the wall needs unless given.",
            OPTION_WHOLE, &s.cells, 2, 4096, 0},
        {"--simplify", "MM",
            "Fewer triangles for the inner surface, which moves by no more than this.",
            OPTION_NUMBER, &s.hollow.simplify_mm, 0, 1e4, 0},
        {"--json", "FILE|-",
            "Write everything as JSON; - is standard output, in place of the text.", OPTION_TEXT,
            &s.json, 0, 0, 0},
    };
    const tool program = {
        .name = "vug-hollow",
        .operands = "IN OUT",
        .operand_count = 2,
        .about =
            "Hollows a solid part for printing: the outer surface stays as it is, a cavity is made "
            "behind a wall, and bores are cut into it.",
        .notes =
            "IN is an STL, OBJ, PLY, OFF or 3MF file with a closed mesh; OUT is saved in mm as "
            ".stl, .ply or .3mf. Places too thin to hollow stay solid and are listed.",
        .options = options,
        .option_count = sizeof options / sizeof options[0],
    };
    const char *operand[2];
    int code = options_read(&program, argc, argv, operand);
    if (code == GO_ON && left_over(&s))
        code = fail_usage(&program, "--fill-up, --outlet and --slope need --fillable");
    if (code == GO_ON)
        code = run(&program, operand, &s);
    free(s.bores.number);
    return code;
}

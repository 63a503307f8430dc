/* SPDX-License-Identifier: MIT
 * Fuzz target: any bytes as what is asked of results: numbers past the end, points and levels that are not
 * numbers, options of pictures and shapes. The part and its results are made once, from a hollow cube. */
#include "../jobs.h"
#include "fuzz.h"

#include <string.h>

const char *const fuzz_kept[] = {"fuzz/corpus/results", NULL};
const unsigned fuzz_rounds = 4;

enum { ROOM = 64, PIXELS = 12 };

/* ---- the part ---------------------------------------------------------------------------- */

typedef struct results {
    vug_context *ctx;
    job_part p;
    vug_shells *shells;
    vug_thickness *thickness;
    vug_pockets *pockets;
    vug_pose_scan *scan;
    vug_course *course;
    vug_moment *moment;
    vug_cups *cups;
    vug_plan *plan;
    vug_skin *skin;
} results;

/* Skin of 20 mm, cavity of 16, a square hole of 4 in its top: corners by ring, then faces. */
static vug_mesh *hollow_cube(vug_context *ctx)
{
    static const double ring[6][2] = {{10, -10}, {10, 10}, {2, 10}, {2, 8}, {8, 8}, {8, -8}};
    double xyz[3 * 4 * 6];
    uint32_t triangle[6 * 4 * 6];
    size_t count = 0;
    for (uint32_t r = 0; r < 6; r++)
        for (uint32_t i = 0; i < 4; i++) {
            double *v = xyz + 3 * (4 * r + i);
            v[0] = i == 1 || i == 2 ? ring[r][0] : -ring[r][0];
            v[1] = i >= 2 ? ring[r][0] : -ring[r][0];
            v[2] = ring[r][1];
        }
    for (uint32_t r = 0; r + 1 < 6; r++)
        for (uint32_t i = 0; i < 4; i++) {
            uint32_t a = 4 * r + i, b = 4 * r + (i + 1) % 4;
            const uint32_t quad[6] = {a, b, b + 4, a, b + 4, a + 4};
            memcpy(triangle + 3 * count, quad, sizeof quad);
            count += 2;
        }
    const uint32_t ends[12] = {0, 2, 1, 0, 3, 2, 20, 21, 22, 20, 22, 23};
    memcpy(triangle + 3 * count, ends, sizeof ends);
    vug_mesh *mesh = NULL;
    job_must(vug_mesh_from_arrays(ctx, xyz, 24, 0, triangle, count + 4, 0, &mesh) == VUG_OK);
    return mesh;
}

static void make_liquid(results *r)
{
    vug_fill_options fill = job_fill_options();
    vug_skin_options skin;
    vug_course_info info = {.struct_size = sizeof info};
    vug_skin_options_init(&skin, sizeof skin);
    skin.spacing_mm = 4.0;
    job_must(
        !vug_fill_run(r->ctx, r->p.cavities, &r->p.fluid, r->p.up, NULL, 0, &fill, &r->course));
    job_must(!vug_course_get(r->course, &info));
    job_must(!vug_course_at_volume(r->ctx, r->course, 0.4 * info.liquid_mm3, &r->moment));
    job_must(!vug_skin_make(r->ctx, r->p.cavities, &skin, &r->skin));
    job_must(!vug_skin_wet(r->ctx, r->skin, &r->p.fluid, r->course));
}

static results *make_results(void)
{
    static results r;
    const double hole[7] = {0.0, 0.0, 10.0, 0.0, 0.0, 1.0, 4.5};
    vug_pose_options pose;
    vug_cup_options cup;
    vug_plan_options plan;
    vug_pose_options_init(&pose, sizeof pose);
    vug_cup_options_init(&cup, sizeof cup);
    vug_plan_options_init(&plan, sizeof plan);
    pose.columns_across = cup.columns_across = plan.columns_across = plan.verify_across =
        JOB_ACROSS;
    pose.pose_count = plan.pose_count = 8;
    plan.max_turns = 1;
    cup.layer_mm = 1.0;
    job_must(!vug_context_create(NULL, &r.ctx) && !vug_fluid_init(&r.p.fluid, sizeof r.p.fluid));
    memcpy(r.p.hole, hole, sizeof hole);
    r.p.up[2] = r.p.holes = 1;
    r.p.up[0] = 0.7;
    r.p.mesh = hollow_cube(r.ctx);
    job_must(!vug_mesh_shells(r.ctx, r.p.mesh, &r.shells));
    job_must(!vug_cavities_find(r.ctx, r.p.mesh, r.p.hole, 1, NULL, &r.p.cavities));
    job_must(
        vug_cavities_count(r.p.cavities) == 1 && vug_cavities_opening_count(r.p.cavities) == 1);
    const vug_cavities *c = r.p.cavities;
    job_must(!vug_thickness_measure(r.ctx, r.p.mesh, c, 0.0, &r.thickness));
    job_must(!vug_pockets_find(r.ctx, c, r.p.up, NULL, 0, &pose, &r.pockets));
    job_must(!vug_pose_scan_run(r.ctx, c, NULL, 0, &pose, &r.scan));
    job_must(!vug_cups_find(r.ctx, c, NULL, r.p.up, NULL, 0, &cup, &r.cups));
    job_must(!vug_plan_make(r.ctx, c, &r.p.fluid, NULL, NULL, 0, &plan, &r.plan));
    make_liquid(&r);
    return &r;
}

/* ---- what the bytes ask -------------------------------------------------------------------- */

typedef struct bytes {
    const uint8_t *data;
    size_t size;
} bytes;

static uint8_t next(bytes *b)
{
    if (b->size == 0)
        return 0;
    b->size--;
    return *b->data++;
}

static double number(bytes *b)
{
    static const double odd[] = {0.0, -1.0, NAN, INFINITY, -INFINITY, 1e-310, 1e300, 1e-12, -1e300,
        1e16, -1e9, 1e-160};
    uint8_t kind = next(b);
    int8_t x = (int8_t)next(b);
    return kind < 48 ? odd[kind % (sizeof odd / sizeof *odd)] : x / (kind % 2 ? 8.0 : 64.0);
}

static size_t place(bytes *b)
{
    uint8_t kind = next(b);
    return kind < 16 ? SIZE_MAX - kind : kind < 32 ? (size_t)1 << 32 : kind % 8;
}

static void triple(bytes *b, double v[3])
{
    for (int k = 0; k < 3; k++)
        v[k] = number(b);
}

/* Some of the options are set, the others stay. */
static void set_some(bytes *b, double *const *option, size_t count)
{
    for (int n = next(b) % 4; n > 0; n--)
        *option[next(b) % count] = number(b);
}

/* A list and its length, or neither. */
static void rows_end(vug_context *ctx, vug_status status, double *rows, size_t count)
{
    job_must(status ? !rows && count == 0 : rows || count == 0);
    vug_free(ctx, rows);
}

/* A bore anywhere, or near the skin of the cube. */
static void plan_bore(results *r, bytes *b)
{
    double hole[7];
    vug_cavities *more = NULL;
    vug_cavity_info info = {.struct_size = sizeof info};
    triple(b, hole);
    triple(b, hole + 3);
    hole[6] = number(b);
    vug_status status = vug_cavities_with_bores(r->ctx, r->p.cavities, hole, 1, &more);
    if (job_ends(r->ctx, status, more) == VUG_OK) {
        job_must(vug_cavities_opening_count(more) == 2);
        job_must(!vug_cavities_get(more, 0, &info) && isfinite(info.volume_mm3));
    }
    vug_cavities_free(more);
}

static void ask_part(results *r, bytes *b)
{
    vug_mesh_measures shell = {.struct_size = sizeof shell};
    vug_cavity_info cavity = {.struct_size = sizeof cavity};
    vug_chamber_info chamber = {.struct_size = sizeof chamber};
    vug_throat_info throat = {.struct_size = sizeof throat};
    vug_opening_info opening = {.struct_size = sizeof opening};
    vug_sight_info sight = {.struct_size = sizeof sight};
    const vug_cavities *c = r->p.cavities;
    const double *points = NULL;
    const int32_t *tags = NULL;
    size_t count = 0;
    char text[ROOM];
    job_must(!vug_cavities_sight(c, &sight));
    (void)vug_shells_get(r->shells, place(b), &shell);
    (void)vug_cavities_get(c, place(b), &cavity);
    (void)vug_cavities_chamber(c, place(b), place(b), &chamber);
    (void)vug_cavities_throat(c, place(b), place(b), &throat);
    (void)vug_cavities_opening(c, place(b), &opening);
    if (!vug_cavities_opening_outline(c, place(b), &points, &count))
        job_must(points && count > 0);
    job_must(vug_cavities_mesh(c, SIZE_MAX, &tags) == NULL);
    (void)vug_sides_words(r->ctx, c, text, next(b) % (sizeof text + 1));
    (void)vug_doubt_words(r->ctx, c, (int32_t)next(b) - 2, text, next(b) % (sizeof text + 1));
    plan_bore(r, b);
}

static void ask_walls(results *r, bytes *b)
{
    double point[3], mm, bins[ROOM], *rows = NULL;
    size_t count = 0;
    vug_thickness_info info = {.struct_size = sizeof info};
    triple(b, point);
    job_must(!vug_thickness_get(r->thickness, &info));
    if (!vug_thickness_at(r->thickness, point, &mm))
        job_must(!isnan(mm));
    double lo = number(b), hi = number(b);
    (void)vug_thickness_histogram(r->thickness, lo, hi, bins, next(b) % ROOM);
    vug_status status = vug_thickness_spots(r->ctx, r->thickness, number(b), &rows, &count);
    rows_end(r->ctx, status, rows, count);
    triple(b, point);
    if (!vug_mesh_volume_below(r->ctx, r->p.mesh, point, number(b), &mm))
        job_must(isfinite(mm));
    if (!vug_mesh_level(r->ctx, r->p.mesh, point, number(b), &mm))
        job_must(isfinite(mm));
}

/* A pocket as a mesh, with its vertices as floats about any origin; and two poses, any of them no direction. */
static void ask_pocket_meshes(results *r, bytes *b, const double *origin)
{
    double ups[6];
    vug_mesh *mesh = NULL;
    vug_pockets *two[2] = {NULL};
    vug_pose_options pose;
    job_must(!vug_pose_options_init(&pose, sizeof pose));
    pose.columns_across = 20;
    vug_status status = vug_pockets_mesh(r->ctx, r->pockets, place(b), &mesh);
    if (mesh && vug_mesh_vertex_count(mesh) > 0) {
        float *xyz = malloc(3 * vug_mesh_vertex_count(mesh) * sizeof *xyz);
        job_must(xyz && !vug_mesh_vertices_float(mesh, isfinite(origin[0]) ? origin : NULL, xyz));
        free(xyz);
    }
    job_mesh_ends(r->ctx, status, mesh);
    triple(b, ups);
    triple(b, ups + 3);
    status = vug_pockets_find_poses(r->ctx, r->p.cavities, ups, 2, NULL, 0, &pose, two);
    job_ends(r->ctx, status, two[0]);
    for (int i = 0; i < 2; i++)
        vug_pockets_free(two[i]);
}

static void ask_pockets(results *r, bytes *b)
{
    double point[3], way[3], *rows = NULL, level = 0.0, ups[3 * ROOM];
    size_t count = 0;
    vug_pockets_info all = {.struct_size = sizeof all};
    vug_pocket_info pocket = {.struct_size = sizeof pocket};
    vug_bore_info bore = {.struct_size = sizeof bore};
    vug_pose_info pose = {.struct_size = sizeof pose};
    vug_cup_info cup = {.struct_size = sizeof cup};
    triple(b, point);
    triple(b, way);
    job_must(!vug_pockets_totals(r->pockets, &all));
    (void)vug_pockets_get(r->pockets, place(b), &pocket);
    (void)vug_pockets_bore(r->ctx, r->p.cavities, r->pockets, place(b), &bore);
    (void)vug_pockets_levels(r->ctx, r->pockets, point, 1, &level);
    vug_status status = vug_pockets_section(r->ctx, r->pockets, point, way, &rows, &count);
    rows_end(r->ctx, status, rows, count);
    (void)vug_pose_scan_get(r->scan, place(b), &pose);
    (void)vug_cups_get(r->cups, place(b), &cup);
    (void)vug_cups_layers(r->cups, &count);
    (void)vug_sphere_points(next(b) % (ROOM + 1), ups);
    ask_pocket_meshes(r, b, point);
}

static void ask_course(results *r, bytes *b)
{
    double *rows = NULL, volumes[ROOM] = {0.0}, liquid;
    size_t count = 0;
    vug_event_info event = {.struct_size = sizeof event};
    vug_moment *moment = NULL;
    (void)vug_course_event(r->course, place(b), &event);
    vug_status status = vug_course_curve(r->ctx, r->course, &rows, &count);
    rows_end(r->ctx, status, rows, count);
    status = vug_course_at_time(r->ctx, r->course, number(b), &moment);
    job_ends(r->ctx, status, moment);
    vug_moment_free(moment);
    moment = NULL;
    status = vug_course_at_volume(r->ctx, r->course, number(b), &moment);
    job_ends(r->ctx, status, moment);
    vug_moment_free(moment);
    if (!vug_moment_squeeze(r->ctx, r->moment, &r->p.fluid, number(b), number(b), volumes,
            next(b) % ROOM, &liquid))
        job_must(isfinite(liquid));
}

static void ask_moment(results *r, bytes *b)
{
    double point[3], way[3], *rows = NULL, x = 0.0;
    size_t count = 0;
    vug_mesh *mesh = NULL;
    vug_moment_info info = {.struct_size = sizeof info};
    vug_pocket_info pocket = {.struct_size = sizeof pocket};
    vug_pool_info pool = {.struct_size = sizeof pool};
    triple(b, point);
    triple(b, way);
    job_must(!vug_moment_get(r->moment, &info));
    (void)vug_moment_pocket(r->moment, place(b), &pocket);
    (void)vug_moment_pool(r->moment, place(b), &pool);
    (void)vug_moment_levels(r->ctx, r->moment, point, 1, &x);
    if (!vug_moment_pool_volume(r->ctx, r->moment, place(b), number(b), &x))
        job_must(isfinite(x));
    if (!vug_moment_pool_level(r->ctx, r->moment, place(b), number(b), &x))
        job_must(isfinite(x));
    vug_status status = vug_moment_section(r->ctx, r->moment, point, way, &rows, &count);
    rows_end(r->ctx, status, rows, count);
    status = vug_moment_pocket_mesh(r->ctx, r->moment, place(b), &mesh);
    job_mesh_ends(r->ctx, status, mesh);
    mesh = NULL;
    status = vug_moment_pool_mesh(r->ctx, r->moment, place(b), &mesh);
    job_mesh_ends(r->ctx, status, mesh);
    mesh = NULL;
    status = vug_moment_surface(r->ctx, r->moment, &mesh);
    job_mesh_ends(r->ctx, status, mesh);
    vug_moment *made = NULL;
    status = vug_moment_make(r->ctx, r->p.cavities, place(b), way, 1.0, number(b), point,
        next(b) % 2, &made);
    job_ends(r->ctx, status, made);
    vug_moment_free(made);
}

static void ask_plan(results *r, bytes *b)
{
    vug_plan_info info = {.struct_size = sizeof info};
    vug_step_info step = {.struct_size = sizeof step};
    vug_plan_bore_info bore = {.struct_size = sizeof bore};
    char letter[ROOM], *text = NULL;
    (void)vug_plan_get(r->plan, place(b), &info);
    (void)vug_plan_step(r->plan, place(b), next(b) % 4, place(b), &step);
    (void)vug_plan_bore(r->plan, place(b), place(b), &bore);
    (void)vug_plan_cavities(r->plan, place(b));
    (void)vug_plan_caution(r->plan, place(b), (int32_t)next(b) - 8);
    (void)vug_plan_letter(r->ctx, r->plan, place(b), place(b), letter, next(b) % (ROOM + 1));
    vug_status status = vug_plan_text(r->ctx, r->plan, place(b), NULL, NULL, "x", next(b), &text);
    job_ends(r->ctx, status, text);
    vug_free(r->ctx, text);
}

static void ask_look(results *r, bytes *b)
{
    uint8_t pixel[4 * PIXELS * PIXELS];
    double *rows = NULL;
    size_t count = 0;
    vug_skin_info info = {.struct_size = sizeof info};
    vug_backlit o;
    vug_backlit_init(&o, sizeof o);
    double *const options[] = {o.toward, o.toward + 1, o.up, o.up + 2, &o.scale_mm, o.resin_per_mm,
        o.liquid_per_mm + 1, o.background + 2};
    set_some(b, options, sizeof options / sizeof *options);
    o.filled = next(b) % 3;
    (void)vug_backlit_render(r->ctx, r->p.mesh, r->p.cavities, next(b) % 2 ? r->moment : NULL, &o,
        next(b) % (PIXELS + 1), next(b) % (PIXELS + 1), pixel, 4 * PIXELS);
    job_must(!vug_skin_get(r->ctx, r->skin, &info));
    vug_status status = vug_skin_triangles(r->ctx, r->skin, place(b), &rows, &count);
    rows_end(r->ctx, status, rows, count);
    rows = NULL;
    count = 0;
    status = vug_skin_spots(r->ctx, r->skin, &rows, &count);
    rows_end(r->ctx, status, rows, count);
}

static void ask_bores(results *r, bytes *b)
{
    double row[VUG_BORE_ROW];
    vug_mesh *mesh = NULL;
    vug_bore_options bore;
    vug_plug_options plug;
    vug_guide_options guide;
    vug_bore_options_init(&bore, sizeof bore);
    vug_plug_options_init(&plug, sizeof plug);
    vug_guide_options_init(&guide, sizeof guide);
    double *const options[] = {&bore.error_mm, &plug.clearance_mm, &plug.length_mm, &plug.head_mm,
        &plug.rim_mm, &plug.error_mm, &guide.clearance_mm, &guide.play_mm, &guide.wall_mm,
        &guide.skirt_mm, &guide.drill_mm, &guide.height_mm};
    set_some(b, options, sizeof options / sizeof *options);
    job_row(&r->p, row);
    for (int n = next(b) % 6; n > 0; n--)
        row[next(b) % VUG_BORE_ROW] = number(b);
    vug_status status = vug_shape_bore(r->ctx, r->p.mesh, row, 1, &bore, NULL, &mesh);
    job_mesh_ends(r->ctx, status, mesh);
    mesh = NULL;
    status = vug_shape_plug(r->ctx, row, &plug, &mesh);
    job_mesh_ends(r->ctx, status, mesh);
    mesh = NULL;
    status = vug_shape_guide(r->ctx, r->p.mesh, row, &guide, &mesh);
    job_mesh_ends(r->ctx, status, mesh);
}

static void ask_shapes(results *r, bytes *b)
{
    double up[3] = {0.0, 0.0, 1.0};
    vug_mesh *mesh = NULL;
    vug_hollow_options hollow;
    vug_cradle_options cradle;
    vug_hollow_options_init(&hollow, sizeof hollow);
    vug_cradle_options_init(&cradle, sizeof cradle);
    hollow.wall_mm = 0.5;
    double *const options[] = {&hollow.wall_mm, &hollow.chamber_mm, &hollow.throat_mm,
        &hollow.base_mm, hollow.up + 2, &cradle.clearance_mm, &cradle.depth_mm, &cradle.margin_mm,
        &cradle.floor_mm, &cradle.free_mm, up, up + 2};
    set_some(b, options, sizeof options / sizeof *options);
    hollow.cells = next(b) % 90;
    cradle.cells = next(b) % 90;
    vug_status status = vug_shape_hollow(r->ctx, r->p.mesh, &hollow, &mesh, NULL, NULL, NULL);
    job_mesh_ends(r->ctx, status, mesh);
    mesh = NULL;
    status = vug_shape_cradle(r->ctx, r->p.mesh, up, NULL, 0, &cradle, NULL, &mesh);
    job_mesh_ends(r->ctx, status, mesh);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static void (*const asks[])(results *, bytes *) = {ask_part, ask_walls, ask_pockets, ask_course,
        ask_moment, ask_plan, ask_look, ask_bores, ask_shapes};
    static results *made;
    bytes b = {data, size};
    if (!made)
        made = make_results();
    asks[next(&b) % (sizeof asks / sizeof *asks)](made, &b);
    return 0;
}

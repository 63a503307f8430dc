/* SPDX-License-Identifier: MIT
 * From a part and its holes to closed cavity meshes. */
#include "cavity/build.h"

#include "base/sort.h"
#include "cavity/cavity.h"
#include "cavity/hole.h"
#include "cavity/planned.h"
#include "cavity/set.h"
#include "cavity/sound.h"
#include "cavity/split.h"

#include "mesh/measure.h"
#include "mesh/nesting.h"

#include <math.h>
#include <string.h>

/* ---- parting --------------------------------------------------------------- */

typedef struct found_hole {
    bool
        joined; /* leaves by the rim of another that was named before, and has no opening of its own */
    bool placed;     /* in the mesh, with a rim */
    bool to_outside; /* one side of its cap is not a cavity */
    vugi_wall wall;
    vugi_opening opening;
} found_hole;

/* Has another hole this rim, or a piece of it? Takes it if not. */
static bool take_rim(uint8_t *taken, const vugi_wall *wall)
{
    for (size_t i = 0; i < wall->rim_count; i++)
        if (taken[wall->rim[i]])
            return false;
    for (size_t i = 0; i < wall->rim_count; i++)
        taken[wall->rim[i]] = 1;
    return true;
}

static void drop(vug_context *ctx, found_hole *f)
{
    vugi_free(&ctx->mem, f->opening.outline);
    vugi_wall_free(&ctx->mem, &f->wall);
    f->opening = (vugi_opening){.cavity = -1};
    f->placed = false;
}

/* Numbers of the named bores that meet hole i or one another, i the first; those that came before have been looked at. */
static size_t list_meeting(const vugi_hole *hole, size_t hole_count, const found_hole *found,
    size_t i, size_t *number)
{
    size_t count = 1;
    number[0] = i;
    for (size_t n = 0; n < count; n++) {
        for (size_t k = i + 1; k < hole_count; k++) {
            bool known = found[k].joined || !vugi_holes_meet(hole + number[n], hole + k);
            for (size_t m = 0; m < count && !known; m++)
                known = number[m] == k;
            if (!known)
                number[count++] = k;
        }
    }
    return count;
}

/* Named bores that may share a rim: their numbers, and themselves in the same order. */
typedef struct meeting {
    size_t *number, count;
    const vugi_hole **member;
    bool *around; /* of each: the rim goes around it */
} meeting;

static vug_status begin_meeting(vug_context *ctx, const vugi_hole *hole, size_t hole_count,
    const found_hole *found, size_t i, meeting *m)
{
    m->number = vugi_alloc(&ctx->mem, hole_count, sizeof *m->number);
    m->member = vugi_alloc(&ctx->mem, hole_count, sizeof *m->member);
    m->around = vugi_calloc(&ctx->mem, hole_count, sizeof *m->around);
    if (!m->number || !m->member || !m->around)
        return vugi_fail_memory(ctx);
    m->count = list_meeting(hole, hole_count, found, i, m->number);
    for (size_t k = 0; k < m->count; k++)
        m->member[k] = hole + m->number[k];
    return VUG_OK;
}

static void widest_first(meeting *m)
{
    size_t widest = 0;
    for (size_t k = 1; k < m->count; k++)
        widest = m->member[k]->diameter > m->member[widest]->diameter ? k : widest;
    const vugi_hole *member = m->member[0];
    size_t number = m->number[0];
    m->member[0] = m->member[widest];
    m->number[0] = m->number[widest];
    m->member[widest] = member;
    m->number[widest] = number;
}

/* Is the rim that was found that of hole i too? The others that it goes around have no opening of their own. */
static bool join_all(const meeting *m, found_hole *found, size_t i)
{
    bool own = false;
    for (size_t k = 0; k < m->count; k++)
        own = own || (m->around[k] && m->number[k] == i);
    for (size_t k = 0; k < m->count && own; k++)
        found[m->number[k]].joined = m->around[k] && m->number[k] != i;
    return own;
}

/* Looks if hole i and others share a rim: then i has the opening of all. A wider one that does not share it is left for its
 * own turn. */
static vug_status place_joined(vug_context *ctx, const vug_mesh *part, const uint32_t *other,
    const vugi_hole *hole, size_t hole_count, found_hole *found, size_t i)
{
    found_hole *f = found + i;
    meeting m = {.count = 0};
    vug_status status = begin_meeting(ctx, hole, hole_count, found, i, &m);
    while (!status && m.count > 1 && !f->placed) {
        widest_first(&m);
        status = vugi_hole_join(ctx, part, other, m.member, m.count, &f->wall, &f->opening,
            m.around, &f->placed);
        if (!status && f->placed && !join_all(&m, found, i))
            drop(ctx, f);
        if (m.number[0] == i)
            break;
        m.number[0] = m.number[--m.count];
        m.member[0] = m.member[m.count];
    }
    vugi_free(&ctx->mem, m.number);
    vugi_free(&ctx->mem, m.member);
    vugi_free(&ctx->mem, m.around);
    return status;
}

/* Looks for all holes in the mesh. Of two in one place the first counts. */
static vug_status place_holes(vug_context *ctx, const vug_mesh *part, const uint32_t *other,
    const vugi_hole *hole, size_t hole_count, found_hole *found)
{
    uint8_t *taken = vugi_calloc(&ctx->mem, 3 * part->triangle_count, sizeof *taken);
    vug_status status = taken ? VUG_OK : vugi_fail_memory(ctx);
    for (size_t i = 0; i < hole_count && !status; i++) {
        found_hole *f = found + i;
        if (f->joined)
            continue;
        status = place_joined(ctx, part, other, hole, hole_count, found, i);
        if (!status && !f->placed)
            status = vugi_hole_place(ctx, part, other, hole + i, &f->wall, &f->opening, &f->placed);
        if (!status && f->placed && !take_rim(taken, &f->wall))
            drop(ctx, f);
        if (!status)
            status = vugi_step(ctx, 0.2 * (double)(i + 1) / (double)hole_count);
    }
    vugi_free(&ctx->mem, taken);
    return status;
}

static vug_status part_mesh(vug_context *ctx, const vug_mesh *part, const uint32_t *other,
    size_t hole_count, found_hole *found, vugi_tagged *work)
{
    size_t count = 0;
    vugi_cap *cap = vugi_calloc(&ctx->mem, hole_count, sizeof *cap);
    if (!cap)
        return vugi_fail_memory(ctx);
    for (size_t i = 0; i < hole_count; i++) {
        if (!found[i].placed)
            continue;
        cap[count] = (vugi_cap){.wall = &found[i].wall, .tag = (int32_t)i};
        memcpy(cap[count++].peak, found[i].opening.peak, sizeof cap->peak);
    }
    vug_status status = vugi_split_mesh(ctx, part, other, cap, count, work);
    vugi_free(&ctx->mem, cap);
    return status;
}

/* Finds the holes in the part and parts it along their rims. */
static vug_status part_holes(vug_context *ctx, const vug_mesh *part, const vugi_hole *hole,
    size_t hole_count, found_hole *found, vugi_tagged *work)
{
    uint32_t *other = vugi_alloc(&ctx->mem, 3 * part->triangle_count, sizeof *other);
    vug_status status = other ? vugi_mesh_neighbours(ctx, part, other) : vugi_fail_memory(ctx);
    if (!status)
        status = place_holes(ctx, part, other, hole, hole_count, found);
    if (!status)
        status = part_mesh(ctx, part, other, hole_count, found, work);
    vugi_free(&ctx->mem, other);
    return status;
}

/* ---- gathering ------------------------------------------------------------- */

/* How the shells of the cut mesh lie in one another. */
typedef struct shell_tree {
    vug_shells *shells;
    const uint32_t *of; /* shell of each triangle */
    vugi_nesting nesting;
    size_t count;
} shell_tree;

/* Which corners tell badly on what side of a rim they lie: 2 on a cap, which both sides have, a hair apart; 1 next
 * to one. Where slivers end on a rim, its cap may pass by them a little. */
static uint8_t *near_caps(vug_context *ctx, const vugi_tagged *work)
{
    const uint32_t *corner = work->mesh->triangles;
    uint8_t *near_cap = vugi_calloc(&ctx->mem, work->mesh->vertex_count, sizeof *near_cap);
    for (size_t i = 0; near_cap && i < 3 * work->mesh->triangle_count; i++)
        if (work->tag[i / 3] >= 0)
            near_cap[corner[i]] = 2;
    for (size_t i = 0; near_cap && i < 9 * work->mesh->triangle_count; i++) {
        const uint32_t *v = corner + 3 * (i / 9);
        uint8_t *here = near_cap + v[i % 3];
        if (near_cap[v[i / 3 % 3]] == 2 && *here == 0)
            *here = 1;
    }
    return near_cap;
}

static vug_status make_tree(vug_context *ctx, const vugi_tagged *work, shell_tree *tree)
{
    vugi_range saved = vugi_progress_enter(ctx, 0.3, 0.6, "finding shells");
    vug_status status = vugi_shells_find(ctx, work->mesh, &tree->shells);
    vugi_progress_leave(ctx, saved);
    if (status)
        return status;
    tree->count = vug_shells_count(tree->shells);
    tree->of = vug_shells_of_triangles(tree->shells);
    uint8_t *near_cap = near_caps(ctx, work);
    status = near_cap ? vugi_shells_nesting(ctx, work->mesh, tree->shells, near_cap, &tree->nesting)
                      : vugi_fail_memory(ctx);
    vugi_free(&ctx->mem, near_cap);
    return status;
}

static void free_tree(vug_context *ctx, shell_tree *tree)
{
    vugi_nesting_free(ctx, &tree->nesting);
    vug_shells_free(tree->shells);
}

/* Cavity walls lie at odd depth, solids at even. */
static bool is_wall(const shell_tree *tree, size_t s)
{
    return tree->nesting.depth[s] % 2 == 1;
}

static double shell_volume(const shell_tree *tree, size_t s)
{
    return tree->shells->measures[s].volume_mm3;
}

/* Cavity of each shell: its own number at odd depth, its parent's for a loose solid right inside a
 * cavity, -1 for the rest. Returns how many. */
static size_t number_cavities(const shell_tree *tree, double min_volume, int32_t *cavity)
{
    size_t count = 0;
    for (size_t s = 0; s < tree->count; s++)
        cavity[s] = is_wall(tree, s) && fabs(shell_volume(tree, s)) >= min_volume ? (int32_t)count++
                                                                                  : -1;
    for (size_t s = 0; s < tree->count; s++)
        if (tree->nesting.depth[s] > 0 && !is_wall(tree, s))
            cavity[s] = cavity[tree->nesting.parent[s]];
    return count;
}

/* Copies the triangles of cavity number `number`, turned over to face away from the liquid; a shell
 * that is inside out already is kept as it is. */
static vug_status gather(vug_context *ctx, const vugi_tagged *work, const shell_tree *tree,
    const int32_t *cavity_of_shell, int32_t number, vugi_cavity *out)
{
    const vug_mesh *mesh = work->mesh;
    vug_status status = VUG_OK;
    size_t triangles = 0, vertices = 0;
    uint32_t *renumber = vugi_alloc(&ctx->mem, mesh->vertex_count, sizeof *renumber);
    double *xyz = NULL;
    uint32_t *corner = NULL;
    if (!renumber)
        return vugi_fail_memory(ctx);
    for (size_t v = 0; v < mesh->vertex_count; v++)
        renumber[v] = UINT32_MAX;
    for (size_t t = 0; t < mesh->triangle_count; t++) {
        if (cavity_of_shell[tree->of[t]] != number)
            continue;
        triangles++;
        for (int k = 0; k < 3; k++) {
            uint32_t v = mesh->triangles[3 * t + (size_t)k];
            if (renumber[v] == UINT32_MAX)
                renumber[v] = (uint32_t)vertices++;
        }
    }
    xyz = vugi_alloc(&ctx->mem, 3 * vertices, sizeof *xyz);
    corner = vugi_alloc(&ctx->mem, 3 * triangles, sizeof *corner);
    out->tag = vugi_alloc(&ctx->mem, triangles, sizeof *out->tag);
    if (!xyz || !corner || !out->tag) {
        status = vugi_fail_memory(ctx);
        goto done;
    }
    for (size_t v = 0; v < mesh->vertex_count; v++)
        if (renumber[v] != UINT32_MAX)
            memcpy(xyz + 3 * (size_t)renumber[v], mesh->xyz + 3 * v, 3 * sizeof *xyz);
    size_t n = 0;
    for (size_t t = 0; t < mesh->triangle_count; t++) {
        uint32_t s = tree->of[t];
        if (cavity_of_shell[s] != number)
            continue;
        const uint32_t *v = mesh->triangles + 3 * t;
        bool cavity_wall = is_wall(tree, s), turned = shell_volume(tree, s) < 0.0;
        bool flip = cavity_wall ? turned : !turned;
        corner[3 * n] = renumber[v[0]];
        corner[3 * n + 1] = renumber[flip ? v[2] : v[1]];
        corner[3 * n + 2] = renumber[flip ? v[1] : v[2]];
        out->tag[n++] = work->tag[t];
    }
    out->mesh = vugi_mesh_adopt(&ctx->mem, xyz, vertices, corner, triangles);
    xyz = NULL;
    corner = NULL;
    status = out->mesh ? VUG_OK : vugi_fail_memory(ctx);
done:
    vugi_free(&ctx->mem, renumber);
    vugi_free(&ctx->mem, xyz);
    vugi_free(&ctx->mem, corner);
    return status;
}

/* Wall area, volume and centroid from the closed mesh. */
static vug_status measure_cavity(vug_context *ctx, vugi_cavity *cavity)
{
    vug_mesh_measures m = {.struct_size = sizeof m};
    vugi_range saved = vugi_progress_enter(ctx, 0.8, 1.0, "measuring");
    vug_status status = vugi_mesh_measure(ctx, cavity->mesh, &m);
    vugi_progress_leave(ctx, saved);
    if (status)
        return status;
    cavity->volume = m.volume_mm3;
    memcpy(cavity->centroid, m.centroid_mm, sizeof cavity->centroid);
    cavity->area = 0.0;
    const vug_mesh *mesh = cavity->mesh;
    double squares = 0.0;
    cavity->grain = vugi_mesh_grain(mesh);
    for (size_t t = 0; t < mesh->triangle_count; t++) {
        double area = vugi_triangle_area(mesh, t);
        squares += area * area;
        if (cavity->tag[t] < 0)
            cavity->area += area;
    }
    /* Rounding: of the sums, and of coordinates, each of which moves its triangles: two standard deviations. */
    cavity->volume_error = 1e-12 * m.volume_mm3 + 2.0 * cavity->grain * sqrt(squares);
    return VUG_OK;
}

/* A cap with cavity on both sides was put across a cavity, not at its way out. */
static void look_outside(const vugi_tagged *work, const shell_tree *tree, found_hole *found)
{
    for (size_t t = 0; t < work->mesh->triangle_count; t++)
        if (work->tag[t] >= 0 && !is_wall(tree, tree->of[t]))
            found[work->tag[t]].to_outside = true;
}

static vug_status gather_cavities(vug_context *ctx, const vugi_tagged *work, double min_volume,
    found_hole *found, vug_cavities *c)
{
    shell_tree tree = {.count = 0};
    int32_t *cavity_of_shell = NULL;
    vug_status status = make_tree(ctx, work, &tree);
    if (status)
        goto done;
    cavity_of_shell = vugi_alloc(&ctx->mem, tree.count, sizeof *cavity_of_shell);
    if (!cavity_of_shell) {
        status = vugi_fail_memory(ctx);
        goto done;
    }
    for (size_t s = 0; s < tree.count; s++)
        if (is_wall(&tree, s) && shell_volume(&tree, s) > 0.0)
            vugi_warn(ctx,
                "shell %zu lies inside another but faces outward; "
                "taken as the wall of a cavity that is inside out",
                s);
    look_outside(work, &tree, found);
    size_t count = number_cavities(&tree, min_volume, cavity_of_shell);
    c->cavity = vugi_calloc(&c->mem, count, sizeof *c->cavity);
    if (!c->cavity) {
        status = vugi_fail_memory(ctx);
        goto done;
    }
    c->cavity_count = count;
    for (size_t i = 0; i < count && !status; i++) {
        status = gather(ctx, work, &tree, cavity_of_shell, (int32_t)i, c->cavity + i);
        if (!status)
            status = measure_cavity(ctx, c->cavity + i);
        if (!status)
            status = vugi_cavity_lay(ctx, c->cavity + i);
    }
done:
    vugi_free(&ctx->mem, cavity_of_shell);
    free_tree(ctx, &tree);
    return status;
}

/* ---- largest first, openings in order --------------------------------------- */

static int compare_cavities(const void *left, const void *right, const void *user)
{
    const vugi_cavity *p = left, *q = right;
    (void)user;
    return (p->volume < q->volume) - (p->volume > q->volume);
}

/* The cavity whose mesh carries cap number tag, or -1. */
static int32_t cavity_of_cap(const vug_cavities *c, int32_t tag)
{
    for (size_t i = 0; i < c->cavity_count; i++)
        for (size_t t = 0; t < c->cavity[i].mesh->triangle_count; t++)
            if (c->cavity[i].tag[t] == tag)
                return (int32_t)i;
    return -1;
}

/* Numbers the openings by cavity and rewrites the tags from hole to opening. */
static vug_status number_openings(vug_context *ctx, vug_cavities *c, found_hole *found,
    size_t hole_count)
{
    int32_t *opening_of_hole = vugi_alloc(&ctx->mem, hole_count, sizeof *opening_of_hole);
    c->opening = vugi_calloc(&c->mem, hole_count, sizeof *c->opening);
    if (!c->opening || !opening_of_hole) {
        vugi_free(&ctx->mem, opening_of_hole);
        return vugi_fail_memory(ctx);
    }
    for (size_t i = 0; i < c->cavity_count; i++) {
        c->cavity[i].sealed = true;
        for (size_t k = 0; k < hole_count; k++) {
            if (found[k].opening.cavity != (int32_t)i)
                continue;
            opening_of_hole[k] = (int32_t)c->opening_count;
            c->opening[c->opening_count++] = found[k].opening;
            found[k].opening.outline = NULL; /* c owns it now */
            c->cavity[i].sealed = false;
        }
        for (size_t t = 0; t < c->cavity[i].mesh->triangle_count; t++)
            if (c->cavity[i].tag[t] >= 0)
                c->cavity[i].tag[t] = opening_of_hole[c->cavity[i].tag[t]];
    }
    vugi_free(&ctx->mem, opening_of_hole);
    return VUG_OK;
}

/* Joins each hole to its cavity: by its cap, or by drilling. */
static vug_status join_holes(vug_context *ctx, vug_cavities *c, const vugi_hole *hole,
    size_t hole_count, found_hole *found, bool *astray)
{
    c->bore = vugi_alloc(&c->mem, hole_count, sizeof *c->bore);
    if (!c->bore)
        return vugi_fail_memory(ctx);
    for (size_t i = 0; i < hole_count; i++) {
        vugi_opening *o = &found[i].opening;
        double volume[2];
        bool planned = false;
        o->cavity = found[i].placed && found[i].to_outside ? cavity_of_cap(c, (int32_t)i) : -1;
        if (found[i].joined)
            continue;
        if (!found[i].placed && hole[i].diameter > 0.0 && !hole[i].seen) {
            vug_status status = vugi_hole_plan(ctx, c, hole + i, o, c->bore + c->bore_count, volume,
                &planned);
            if (status)
                return status;
        }
        if (o->cavity < 0 && (hole[i].placed || hole[i].seen) && astray) {
            astray[i] = true;
            continue;
        }
        if (o->cavity < 0)
            return vugi_fail(ctx, VUG_ERR_NOT_FOUND,
                "hole %zu at (%g, %g, %g) leads into no closed cavity: check its point and outward "
                "direction, and name every hole of that cavity",
                i, hole[i].center[0], hole[i].center[1], hole[i].center[2]);
        if (planned) {
            vugi_cavity *cavity = c->cavity + o->cavity;
            c->bore_count++;
            cavity->volume += volume[0];
            cavity->volume_error += volume[1];
        }
    }
    return VUG_OK;
}

static vug_status list_bodies(vug_context *ctx, vug_cavities *c)
{
    c->body = vugi_alloc(&c->mem, c->cavity_count, sizeof *c->body);
    if (!c->body)
        return vugi_fail_memory(ctx);
    for (size_t i = 0; i < c->cavity_count; i++)
        c->body[i] = c->cavity[i].mesh;
    return VUG_OK;
}

vug_status vugi_cavities_build(vug_context *ctx, const vug_mesh *part, const vugi_hole *hole,
    size_t hole_count, double min_volume, bool *astray, vug_cavities **out)
{
    vugi_tagged work = {.mesh = NULL};
    found_hole *found = vugi_calloc(&ctx->mem, hole_count, sizeof *found);
    vug_cavities *c = vugi_cavities_new(&ctx->mem, part);
    vug_status status = !found || !c ? vugi_fail_memory(ctx) : VUG_OK;
    if (!status)
        status = part_holes(ctx, part, hole, hole_count, found, &work);
    if (!status)
        status = gather_cavities(ctx, &work, min_volume, found, c);
    if (!status
        && !vugi_sort(&ctx->mem, c->cavity, c->cavity_count, sizeof *c->cavity, compare_cavities,
            NULL))
        status = vugi_fail_memory(ctx);
    if (!status)
        status = join_holes(ctx, c, hole, hole_count, found, astray);
    if (!status)
        status = number_openings(ctx, c, found, hole_count);
    if (!status)
        status = list_bodies(ctx, c);
    if (!status) {
        *out = c;
        c = NULL;
    }
    vugi_tagged_free(&ctx->mem, &work);
    for (size_t i = 0; found && i < hole_count; i++) {
        vugi_wall_free(&ctx->mem, &found[i].wall);
        vugi_free(&ctx->mem, found[i].opening.outline);
    }
    vugi_free(&ctx->mem, found);
    vug_cavities_free(c);
    return status;
}

/* SPDX-License-Identifier: MIT */
#include "plan/bores/site.h"

#include "base/angle.h"
#include "base/vec.h"
#include "cavity/clear.h"
#include "column/pose.h"
#include "plan/cost.h"

#include <assert.h>
#include <math.h>
#include <string.h>

enum { WAYS = 240, SHORT_LIST = 10, AROUND = 12, VIEWS = 80 };

/* ---- the part ------------------------------------------------------------------ */

static vug_status list_views(vug_context *ctx, const vug_plan_options *o, vugi_skin *skin)
{
    double even[3 * VIEWS];
    size_t count = o->view ? o->view_count : VIEWS;
    const double *from = o->view ? o->view : even;
    skin->view = vugi_alloc(&ctx->mem, 3 * count, sizeof *skin->view);
    if (!skin->view)
        return vugi_fail_memory(ctx);
    vug_sphere_points(VIEWS, even);
    for (size_t i = 0; i < count; i++) {
        double length = sqrt(vugi_dot(from + 3 * i, from + 3 * i));
        if (!o->view && from[3 * i + 2] < -0.2)
            continue; /* nobody looks from below */
        for (int k = 0; k < 3; k++)
            skin->view[3 * skin->view_count + (size_t)k] = from[3 * i + (size_t)k] / length;
        skin->view_count++;
    }
    return VUG_OK;
}

vug_status vugi_skin_build(vug_context *ctx, const vug_cavities *cavities,
    const vug_plan_options *options, const vug_fluid *fluid, vugi_skin *skin)
{
    const vug_mesh *part = cavities->part;
    *skin = (vugi_skin){.cavities = cavities, .part = part, .options = options, .fluid = *fluid};
    vug_status status = list_views(ctx, options, skin);
    if (!status)
        status = vugi_raygrid_build(ctx, &ctx->mem, part, &skin->rays);
    if (status)
        vugi_skin_free(&ctx->mem, skin);
    return status;
}

void vugi_skin_free(const vugi_allocator *mem, vugi_skin *skin)
{
    vugi_raygrid_free(mem, &skin->rays);
    vugi_free(mem, skin->view);
    skin->view = NULL;
}

static void triangle_normal(const vug_mesh *mesh, uint32_t t, double n[3])
{
    const uint32_t *v = mesh->triangles + 3 * (size_t)t;
    const double *a = mesh->xyz + 3 * (size_t)v[0];
    const double *b = mesh->xyz + 3 * (size_t)v[1], *c = mesh->xyz + 3 * (size_t)v[2];
    vugi_triangle_cross(a, b, c, n);
    vugi_normalise(n);
}

/* ---- one way through the wall ----------------------------------------------------- */

typedef struct way {
    double out[3], point[3], inner[3], normal[3];
    double depth, cost;
    bool preferred;
} way;

static bool in_rows(const double *row, size_t count, const double p[3])
{
    for (size_t i = 0; i < count; i++, row += 4) {
        double d[3] = {p[0] - row[0], p[1] - row[1], p[2] - row[2]};
        if (vugi_dot(d, d) <= row[3] * row[3])
            return true;
    }
    return false;
}

/* The ray from inside enters the wall, leaves it, and meets nothing more. */
static bool way_through(const vugi_skin *skin, const double from[3], const double out[3], way *w)
{
    const vug_plan_options *o = skin->options;
    vugi_hit wall = vugi_raygrid_hit(&skin->rays, from, out, 0.0);
    if (!(wall.distance < INFINITY) || wall.out)
        return false;
    vugi_hit surface = vugi_raygrid_hit(&skin->rays, from, out, wall.distance + 1e-9);
    if (!(surface.distance < INFINITY) || !surface.out
        || vugi_raygrid_hit(&skin->rays, from, out, surface.distance + 1e-6).distance < INFINITY)
        return false;
    *w = (way){.depth = surface.distance - wall.distance};
    memcpy(w->out, out, sizeof w->out);
    vugi_along(from, out, surface.distance, w->point);
    vugi_along(from, out, wall.distance, w->inner);
    triangle_normal(skin->part, surface.triangle, w->normal);
    uint8_t flag = o->triangle_flags ? o->triangle_flags[surface.triangle] : 0;
    if (flag == 1 || in_rows(o->keep_clear, o->keep_clear_count, w->point))
        return false;
    w->preferred = flag == 2 || in_rows(o->preferred, o->preferred_count, w->point);
    return true;
}

static double slant_deg(const way *w)
{
    return VUGI_RADIAN * acos(fmin(1.0, fmax(-1.0, vugi_dot(w->out, w->normal))));
}

static double visibility(const vugi_skin *skin, const way *w)
{
    double seen = 0.0, from[3];
    vugi_along(w->point, w->normal, 0.02, from);
    for (size_t i = 0; i < skin->view_count; i++) {
        const double *v = skin->view + 3 * i;
        double square = vugi_dot(w->normal, v);
        if (square > 0.0 && vugi_raygrid_hit(&skin->rays, from, v, 1e-6).distance == INFINITY)
            seen += square;
    }
    return seen / fmax(1.0, (double)skin->view_count);
}

/* Two directions square to the drill. */
static void across(const double out[3], double u[3], double v[3])
{
    double basis[9];
    vugi_basis(out, basis);
    memcpy(u, basis, 3 * sizeof *u);
    memcpy(v, basis + 3, 3 * sizeof *v);
}

static void around(const way *w, double radius, int i, double height, double p[3])
{
    assert(radius >= 0.0);
    double u[3], v[3], angle = 2.0 * VUGI_PI * i / AROUND;
    across(w->out, u, v);
    vugi_along(w->point, u, radius * cos(angle), p);
    vugi_along(p, v, radius * sin(angle), p);
    vugi_along(p, w->out, height, p);
}

/* Does the drill, and behind it its chuck, come to the skin without touching the part? */
static bool chuck_clear(const vugi_skin *skin, const way *w, double diameter)
{
    for (int i = 0; i < AROUND; i++) {
        double p[3];
        around(w, 0.5 * diameter, i, diameter, p);
        if (vugi_raygrid_hit(&skin->rays, p, w->out, 0.0).distance < INFINITY)
            return false;
        around(w, 0.5 * skin->options->chuck_mm, i, skin->options->reach_mm, p);
        if (vugi_raygrid_hit(&skin->rays, p, w->out, 0.0).distance < INFINITY)
            return false;
    }
    return true;
}

/* Looks at the skin around, ring by ring, from outside: how far it goes on without a bend, and how
 * thick the wall below is. */
static void look_around(const vugi_skin *skin, const way *w, double diameter, double *edge,
    double *thinnest)
{
    double inward[3] = {-w->out[0], -w->out[1], -w->out[2]}, high = 4.0 * diameter;
    *edge = 4.0 * diameter;
    *thinnest = w->depth;
    for (int ring = 1; ring <= 8; ring++) {
        double radius = 0.5 * diameter * ring;
        for (int i = 0; i < AROUND; i++) {
            double p[3], n[3];
            around(w, radius, i, high, p);
            vugi_hit top = vugi_raygrid_hit(&skin->rays, p, inward, 0.0);
            bool bent = top.distance > high + 1.8 * radius;
            if (!bent) {
                triangle_normal(skin->part, top.triangle, n);
                bent = vugi_dot(n, w->normal) < 0.7071;
            }
            if (bent) {
                *edge = fmin(*edge, radius - 0.5 * diameter);
                continue;
            }
            vugi_hit below = vugi_raygrid_hit(&skin->rays, p, inward, top.distance + 1e-6);
            if (radius <= 2.0 * diameter && below.distance < INFINITY)
                *thinnest = fmin(*thinnest, below.distance - top.distance);
        }
        if (*edge < radius)
            return;
    }
}

/* Share of the bore's rim that is still in the wall a little beyond its inner end: there it runs into the side of the
 * cavity. */
static double grazing(const vugi_skin *skin, const way *w, double diameter)
{
    int in_wall = 0;
    for (int i = 0; i < AROUND; i++) {
        double p[3];
        around(w, 0.45 * diameter, i, -w->depth - 0.5 * diameter, p);
        vugi_hit wall = vugi_raygrid_hit(&skin->rays, p, w->out, 0.0);
        in_wall += wall.distance < INFINITY && wall.out;
    }
    return (double)in_wall / AROUND;
}

/* ---- the drill ------------------------------------------------------------------------ */

/* What is asked of a hole by its fluid is a limit: it is made so much wider (common practice, no source). */
static const double OVER_LIMIT = 1.15;

/* Is there room for a drill as far behind the wall as it is thick? */
static bool has_room(const vugi_skin *skin, const way *w, double diameter)
{
    double from[3], u[3], v[3], aside[3];
    vugi_along(w->inner, w->out, -0.5 * diameter, from);
    across(w->out, u, v);
    for (int i = 0; i < AROUND; i++) {
        double angle = 2.0 * VUGI_PI * i / AROUND;
        for (int k = 0; k < 3; k++)
            aside[k] = cos(angle) * u[k] + sin(angle) * v[k];
        vugi_hit wall = vugi_raygrid_hit(&skin->rays, from, aside, 0.0);
        if (wall.out || wall.distance < 0.5 * diameter)
            return false;
    }
    return true;
}

/* A drill deeper than 10 diameters wanders (common practice, no source); the recommended one is no
 * thinner than 1 mm and a fifth of its depth, so that it does not break or clog with paint, and wider than
 * it must be, up to what is wished, only where the cavity has room for it. */
static void choose_drill(const vugi_skin *skin, const way *w, const vugi_width *width,
    vug_plan_bore_info *bore)
{
    const vug_plan_options *o = skin->options;
    vug_hole_task task;
    vug_hole_choice choice = {.struct_size = sizeof choice};
    double depth = w->depth, least = fmax(width->least_mm, depth / 10.0), wish = width->wish_mm,
           drill;
    vug_hole_task_init(&task, sizeof task);
    task.wall_mm = depth;
    task.air_mm3_s = 1000.0; /* a syringe emptied without hurry */
    const vug_fluid *low = o->fluid_low ? o->fluid_low : &skin->fluid;
    const vug_fluid *high = o->fluid_high ? o->fluid_high : &skin->fluid;
    if (!vug_hole_choose_range(NULL, low, &skin->fluid, high, &task, NULL, &choice))
        least = fmax(least, choice.least_mm);
    if (vug_drill_next(NULL, o->drills, VUG_AT_OR_ABOVE, least, &drill))
        drill = least;
    bore->least_mm = drill;
    bore->diameter_mm = o->bore_mm;
    if (o->bore_mm > 0.0)
        return;
    while (wish > drill && !has_room(skin, w, OVER_LIMIT * wish))
        wish *= 0.95;
    double good = fmax(fmax(OVER_LIMIT * fmax(drill, wish), 1.0), depth / 5.0);
    if (vug_drill_next(NULL, o->drills, VUG_AT_OR_ABOVE, good, &bore->diameter_mm))
        bore->diameter_mm = good;
}

/* Between a new bore and one that is there at least so much wall is left, in widths of the new one: less
 * breaks out (a rule of thumb, no source). */
static const double APART = 0.5;

/* Does the way keep clear of the bores that are there, if it is drilled so wide? */
static bool clear_of_bores(const vugi_skin *skin, const way *w, double diameter)
{
    return vugi_openings_clear(skin->cavities, w->point, w->inner, 0.5 * diameter,
        APART * diameter);
}

/* ---- choosing ---------------------------------------------------------------------------- */

static void rank(way *list, size_t *count, const way *w)
{
    size_t at = *count < SHORT_LIST ? (*count)++ : SHORT_LIST;
    if (at == SHORT_LIST && !(w->cost < list[SHORT_LIST - 1].cost))
        return;
    if (at == SHORT_LIST)
        at--;
    for (; at > 0 && list[at - 1].cost > w->cost; at--)
        list[at] = list[at - 1];
    list[at] = *w;
}

static void assess(const vugi_skin *skin, const way *w, const vugi_width *width, vugi_site *site)
{
    vug_plan_bore_info *b = &site->bore;
    *b = (vug_plan_bore_info){.struct_size = sizeof *b,
        .depth_mm = w->depth,
        .preferred = w->preferred};
    memcpy(b->point_mm, w->point, sizeof b->point_mm);
    memcpy(site->inner, w->inner, sizeof site->inner);
    for (int k = 0; k < 3; k++)
        b->direction[k] = -w->out[k];
    choose_drill(skin, w, width, b);
    b->slant_deg = slant_deg(w);
    b->visibility = visibility(skin, w);
    b->chuck_clear = chuck_clear(skin, w, b->diameter_mm);
    look_around(skin, w, b->diameter_mm, &b->edge_mm, &b->thinnest_mm);
    site->cost = vugi_cost_place(w->cost, b, grazing(skin, w, b->diameter_mm));
}

static void draw_outline(vugi_site *site)
{
    double out[3], u[3], v[3];
    for (int k = 0; k < 3; k++)
        out[k] = -site->bore.direction[k];
    across(out, u, v);
    for (int i = 0; i < VUGI_SITE_RIM; i++) {
        double angle = 2.0 * VUGI_PI * i / VUGI_SITE_RIM, r = 0.5 * site->bore.diameter_mm;
        double *p = site->outline + 3 * i;
        vugi_along(site->bore.point_mm, u, r * cos(angle), p);
        vugi_along(p, v, r * sin(angle), p);
    }
}

vug_status vugi_site_find(vug_context *ctx, const vugi_skin *skin, const double *inside,
    size_t inside_count, int32_t cavity, const double up[3], const vugi_width *width,
    vugi_site *site, bool *found)
{
    double ways[3 * WAYS];
    way list[SHORT_LIST];
    size_t count = 0;
    *found = false;
    vug_sphere_points(WAYS, ways);
    memcpy(ways, up, 3 * sizeof *ways);
    for (size_t p = 0; p < inside_count; p++) {
        vug_status status = vugi_step(ctx, (double)p / (double)inside_count);
        if (status)
            return status;
        for (int i = 0; i < WAYS; i++) {
            way w;
            if (vugi_dot(ways + 3 * i, up) < 0.0
                || !way_through(skin, inside + 3 * p, ways + 3 * i, &w)
                || !clear_of_bores(skin, &w, fmax(width->least_mm, skin->options->bore_mm)))
                continue; /* a bore that leads down holds the air back */
            w.cost = vugi_cost_way(w.depth, slant_deg(&w), w.preferred);
            rank(list, &count, &w);
        }
    }
    for (size_t i = 0; i < count; i++) {
        vugi_site here = {.cavity = cavity};
        assess(skin, list + i, width, &here);
        if ((*found && here.cost >= site->cost)
            || !clear_of_bores(skin, list + i, here.bore.diameter_mm))
            continue;
        *site = here;
        *found = true;
    }
    if (*found)
        draw_outline(site);
    return VUG_OK;
}

vugi_opening vugi_site_opening(vugi_site *site)
{
    const vug_plan_bore_info *b = &site->bore;
    double r = 0.5 * b->diameter_mm;
    vugi_opening o = {.cavity = site->cavity,
        .planned = true,
        .radius = r,
        .inscribed_radius = r,
        .area = VUGI_PI * r * r,
        .perimeter = 2.0 * VUGI_PI * r,
        .bore_length = b->depth_mm,
        .mouth_level = -b->depth_mm,
        .outline_count = VUGI_SITE_RIM,
        .outline = site->outline};
    memcpy(o.center, b->point_mm, sizeof o.center);
    memcpy(o.inner, site->inner, sizeof o.inner);
    for (int k = 0; k < 3; k++)
        o.normal[k] = o.axis[k] = -b->direction[k];
    return o;
}

vugi_hole vugi_site_hole(const vugi_site *site)
{
    const vug_plan_bore_info *b = &site->bore;
    vugi_hole hole = {.reach = b->diameter_mm, .diameter = b->diameter_mm};
    memcpy(hole.center, b->point_mm, sizeof hole.center);
    for (int k = 0; k < 3; k++)
        hole.normal[k] = -b->direction[k];
    return hole;
}

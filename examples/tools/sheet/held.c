/* SPDX-License-Identifier: MIT */
#include "held.h"

#include "../picture/ink.h"
#include "../picture/outside.h"

#include <math.h>
#include <string.h>

static double dot(const double a[3], const double b[3])
{
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

void held_front(const double up[3], double front[3])
{
    bool lying = fabs(up[1]) > fmax(fabs(up[0]), fabs(up[2]));
    front[0] = 0.0;
    front[1] = lying ? 0.0 : -1.0;
    front[2] = lying ? copysign(1.0, up[1]) : 0.0;
}

held_view held_look(const fill_plan *plan, const double up[3], const double front[3])
{
    held_view v = {.scale = 1.0};
    double along = dot(front, up), length = 0.0, lo[2] = {INFINITY, INFINITY},
           hi[2] = {-INFINITY, -INFINITY};
    for (int k = 0; k < 3; k++) {
        v.up[k] = up[k];
        v.toward[k] = front[k] - along * up[k];
        length += v.toward[k] * v.toward[k];
    }
    for (int k = 0; k < 3; k++)
        v.toward[k] /= sqrt(length);
    for (int k = 0; k < 3; k++)
        v.right[k] = up[(k + 1) % 3] * v.toward[(k + 2) % 3]
            - up[(k + 2) % 3] * v.toward[(k + 1) % 3];
    const double *xyz = vug_mesh_vertices(plan->mesh);
    for (size_t i = 0; i < vug_mesh_vertex_count(plan->mesh); i++, xyz += 3) {
        const double at[2] = {dot(v.right, xyz), dot(up, xyz)};
        for (int k = 0; k < 2; k++) {
            lo[k] = fmin(lo[k], at[k]);
            hi[k] = fmax(hi[k], at[k]);
        }
    }
    v.left = lo[0];
    v.top = hi[1];
    v.wide = hi[0] - lo[0];
    v.tall = hi[1] - lo[1];
    return v;
}

bool held_draw(pages *p, const fill_plan *plan, const held_view *view, double x, double y)
{
    const double fine = 12.0; /* pixels for a mm of paper: 300 to the inch */
    const double edge = 0.3;  /* mm of paper around, for the outline */
    drawing d = {.xyz = vug_mesh_vertices(plan->mesh),
        .triangles = vug_mesh_triangles(plan->mesh),
        .vertex_count = vug_mesh_vertex_count(plan->mesh),
        .triangle_count = vug_mesh_triangle_count(plan->mesh)};
    memcpy(d.up, view->up, sizeof d.up);
    memcpy(d.toward, view->toward, sizeof d.toward);
    int width = (int)ceil((view->wide * view->scale + 2.0 * edge) * fine);
    int height = (int)ceil((view->tall * view->scale + 2.0 * edge) * fine);
    if (p->dry || width > 4000 || height > 4000)
        return true; /* larger than any paper: nothing to see */
    cairo_surface_t *image = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, width, height);
    bool good = cairo_surface_status(image) == CAIRO_STATUS_SUCCESS
        && picture_outside(&d, view->left - edge / view->scale, view->top + edge / view->scale,
            fine * view->scale, width, height, cairo_image_surface_get_stride(image),
            cairo_image_surface_get_data(image));
    ink_image(p->cr, image, x - edge, y - edge, fine);
    return good;
}

void held_place(const held_view *view, const double point[3], double *x, double *y)
{
    *x = (dot(view->right, point) - view->left) * view->scale;
    *y = (view->top - dot(view->up, point)) * view->scale;
}

void held_letter(pages *p, const held_view *view, const plan_opening *o, double x, double y,
    bool busy)
{
    cairo_t *cr = p->cr;
    double at[2], out[2] = {dot(view->right, o->info.normal), -dot(view->up, o->info.normal)};
    const double r = 1.9, dash[1] = {0.7};
    bool behind = dot(view->toward, o->info.normal) < -0.1;
    double length = hypot(out[0], out[1]), reach = length > 0.3 ? r + 1.2 : 0.0;
    held_place(view, o->info.center_mm, &at[0], &at[1]);
    at[0] += x;
    at[1] += y;
    double cx = at[0] + (reach > 0.0 ? reach * out[0] / length : 0.0);
    double cy = at[1] + (reach > 0.0 ? reach * out[1] / length : 0.0);
    if (o->bore && !behind) { /* the part has no hole there yet */
        cairo_new_path(cr);
        cairo_arc(cr, at[0], at[1], fmax(0.4, 0.5 * o->bore->diameter_mm * view->scale), 0.0,
            2.0 * 3.14159265358979);
        ink_use(cr, text_ink);
        cairo_fill(cr);
    }
    cairo_new_path(cr);
    cairo_arc(cr, cx, cy, r, 0.0, 2.0 * 3.14159265358979);
    ink_use(cr, busy ? text_ink : paper);
    cairo_fill_preserve(cr);
    ink_use(cr, text_ink);
    cairo_set_line_width(cr, 0.3);
    if (behind)
        cairo_set_dash(cr, dash, 1, 0.0);
    cairo_stroke(cr);
    cairo_set_dash(cr, NULL, 0, 0.0);
    ink_write(cr, cx - 0.5 * ink_width(cr, 2.6, true, o->label), cy + 0.95, 2.6, true,
        busy ? paper : text_ink, o->label);
}

/* SPDX-License-Identifier: MIT
 * Each place of the map is the side of the part that points up. Equal areas (Mollweide 1805): x = 2 sqrt(2) /
 * pi longitude cos(a), y = sqrt(2) sin(a), 2 a + sin(2 a) = pi sin(latitude). The front is in the middle. */
#include "globe.h"

#include "../picture/ink.h"
#include "../tool/fail.h"
#include "../tool/file_name.h"
#include "../tool/whole_file.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { WIDE = 760, TALL = 575, HALF = 330, MID_X = 380, MID_Y = 295, SHADES = 7, CELL = 2 };

static const double pi = 3.14159265358979;

/* From the least air to the most, in grey that tells them apart in print too. */
static const double light[SHADES] = {1.0, 0.90, 0.78, 0.64, 0.50, 0.36, 0.20};

typedef struct map {
    const fill_plan *plan;
    const vug_pose_scan *scan;
    cairo_t *cr;
    double from, step; /* of the shades, percent of the cavity */
    double most;       /* percent that stay in the worst pose */
} map;

/* The direction at a place of the map, in units of half its width. false: beside it. */
static bool direction_at(double x, double y, double up[3])
{
    if (x * x + 4.0 * y * y >= 1.0)
        return false;
    double a = asin(2.0 * y), latitude = asin((2.0 * a + sin(2.0 * a)) / pi);
    double longitude = pi * x / cos(a);
    up[0] = cos(latitude) * sin(longitude); /* to the right of the front */
    up[1] = -cos(latitude) * cos(longitude);
    up[2] = sin(latitude);
    return true;
}

static void place_of(const double up[3], double *x, double *y)
{
    double a = asin(fmax(-1.0, fmin(1.0, up[2]))), want = pi * up[2];
    double lo = -0.5 * pi, hi = 0.5 * pi;
    for (int i = 0; i < 60; i++) {
        a = 0.5 * (lo + hi);
        if (2.0 * a + sin(2.0 * a) < want)
            lo = a;
        else
            hi = a;
    }
    *x = MID_X + HALF * atan2(up[0], -up[1]) / pi * cos(a);
    *y = MID_Y - 0.5 * HALF * sin(a);
}

static size_t nearest(const map *m, const double up[3])
{
    const double *ups = vug_pose_scan_ups(m->scan);
    size_t best = 0, count = vug_pose_scan_count(m->scan);
    double most_along = -2.0;
    for (size_t i = 0; i < count; i++) {
        double along = up[0] * ups[3 * i] + up[1] * ups[3 * i + 1] + up[2] * ups[3 * i + 2];
        if (along > most_along) {
            most_along = along;
            best = i;
        }
    }
    return best;
}

/* Shades in even steps of a round number, so that they reach from the least air to the most. */
static void set_steps(map *m)
{
    const double *air = vug_pose_scan_trapped_mm3(m->scan);
    double lo = INFINITY, hi = 0.0;
    for (size_t i = 0; i < vug_pose_scan_count(m->scan); i++) {
        lo = fmin(lo, fill_plan_percent(m->plan, air[i]));
        hi = fmax(hi, fill_plan_percent(m->plan, air[i]));
    }
    double ten = 0.1;
    m->most = hi;
    static const double part[5] = {1.0, 1.5, 2.0, 3.0, 5.0};
    for (int i = 0;; i++) {
        m->step = ten * part[i % 5];
        m->from = floor(lo / m->step) * m->step;
        if (m->from + SHADES * m->step >= hi)
            return;
        ten *= i % 5 == 4 ? 10.0 : 1.0;
    }
}

static int shade_of(const map *m, double percent)
{
    return (int)fmax(0.0, fmin(SHADES - 1.0, floor((percent - m->from) / m->step)));
}

/* Shade of the cell from x and y on; -1: beside the map. */
static int cell_shade(const map *m, int x, int y)
{
    const double *air = vug_pose_scan_trapped_mm3(m->scan);
    double up[3];
    if (x >= MID_X + HALF
        || !direction_at((x + 0.5 * CELL - MID_X) / HALF, (MID_Y - y - 0.5 * CELL) / HALF, up))
        return -1;
    return shade_of(m, fill_plan_percent(m->plan, air[nearest(m, up)]));
}

/* Cells of one shade beside each other are one rectangle. */
static void draw_row(const map *m, int y)
{
    int from = MID_X - HALF, shade = -1;
    for (int x = from; x <= MID_X + HALF; x += CELL) {
        int here = cell_shade(m, x, y);
        if (here == shade)
            continue;
        if (shade >= 0) {
            cairo_set_source_rgb(m->cr, light[shade], light[shade], light[shade]);
            cairo_rectangle(m->cr, from, y, x - from, CELL);
            cairo_fill(m->cr);
        }
        from = x;
        shade = here;
    }
}

static void draw_poses(const map *m)
{
    cairo_set_antialias(m->cr, CAIRO_ANTIALIAS_NONE);
    for (int y = MID_Y - HALF / 2; y < MID_Y + HALF / 2; y += CELL)
        draw_row(m, y);
    cairo_set_antialias(m->cr, CAIRO_ANTIALIAS_DEFAULT);
    cairo_save(m->cr);
    cairo_translate(m->cr, MID_X, MID_Y);
    cairo_scale(m->cr, 1.0, 0.5);
    cairo_arc(m->cr, 0.0, 0.0, HALF, 0.0, 2.0 * pi);
    cairo_restore(m->cr);
    ink_use(m->cr, text_ink);
    cairo_set_line_width(m->cr, 1.5);
    cairo_stroke(m->cr);
}

static void label(const map *m, double x, double y, const char *text)
{
    double wide = ink_width(m->cr, 15.0, true, text);
    cairo_rectangle(m->cr, x - 0.5 * wide - 4.0, y - 10.0, wide + 8.0, 20.0);
    ink_use(m->cr, paper);
    cairo_fill(m->cr);
    ink_write(m->cr, x - 0.5 * wide, y + 5.0, 15.0, true, text_ink, text);
}

/* A cross where the side is straight up, its name beside it, clear of the rings. */
static void side(const map *m, double x, double y, double off, const char *text)
{
    ink_use(m->cr, paper);
    cairo_arc(m->cr, x, y, 5.0, 0.0, 2.0 * pi);
    cairo_fill(m->cr);
    ink_use(m->cr, text_ink);
    cairo_set_line_width(m->cr, 1.5);
    cairo_move_to(m->cr, x - 5.0, y);
    cairo_line_to(m->cr, x + 5.0, y);
    cairo_move_to(m->cr, x, y - 5.0);
    cairo_line_to(m->cr, x, y + 5.0);
    cairo_stroke(m->cr);
    label(m, x, y + off, text);
}

static void draw_sides(const map *m)
{
    side(m, MID_X, MID_Y - 0.5 * HALF, -24.0, "top");
    side(m, MID_X, MID_Y + 0.5 * HALF, 24.0, "base");
    side(m, MID_X, MID_Y, -24.0, "front");
    side(m, MID_X - 0.5 * HALF, MID_Y, -24.0, "left");
    side(m, MID_X + 0.5 * HALF, MID_Y, -24.0, "right");
    side(m, MID_X - HALF, MID_Y, -24.0, "back");
    side(m, MID_X + HALF, MID_Y, -24.0, "back");
}

/* A white ring in a black one shows on every shade. */
static void ring(const map *m, const double up[3], const char *text)
{
    double x, y;
    place_of(up, &x, &y);
    cairo_new_path(m->cr);
    cairo_arc(m->cr, x, y, 11.0, 0.0, 2.0 * pi);
    ink_use(m->cr, paper);
    cairo_fill_preserve(m->cr);
    ink_use(m->cr, text_ink);
    cairo_set_line_width(m->cr, 2.0);
    cairo_stroke(m->cr);
    ink_write(m->cr, x - 0.5 * ink_width(m->cr, 14.0, true, text), y + 5.0, 14.0, true, text_ink,
        text);
}

static void draw_key(const map *m)
{
    const double x0 = 50.0, y = TALL - 56.0, wide = 94.0;
    for (int i = 0; i < SHADES && (i == 0 || m->from + i * m->step < m->most); i++) {
        char text[32];
        double x = x0 + wide * i;
        cairo_rectangle(m->cr, x, y, wide, 18.0);
        cairo_set_source_rgb(m->cr, light[i], light[i], light[i]);
        cairo_fill_preserve(m->cr);
        ink_use(m->cr, text_ink);
        cairo_set_line_width(m->cr, 1.0);
        cairo_stroke(m->cr);
        snprintf(text, sizeof text, "%g to %g %%", fmin(100.0, m->from + i * m->step),
            fmin(100.0, m->from + (i + 1) * m->step));
        ink_write(m->cr, x + 6.0, y + 34.0, 13.0, false, text_ink, text);
    }
}

static void draw(const map *m)
{
    const fill_plan *plan = m->plan;
    char name[64], line[200];
    short_name(plan->settings->file, name);
    size_t best = vug_pose_scan_best(m->scan);
    ink_use(m->cr, paper);
    cairo_paint(m->cr);
    snprintf(line, sizeof line, "%s: air that stays, by the side that points up", name);
    ink_write(m->cr, 30.0, 34.0, 19.0, true, text_ink, line);
    snprintf(line, sizeof line, "In percent of the cavity, filled in one pose without turning%s.",
        plan->info.bores > 0 ? ", with the new holes" : "");
    ink_write(m->cr, 30.0, 56.0, 14.0, false, soft_ink, line);
    snprintf(line, sizeof line,
        "* the best pose: %.1f %%. Numbers: poses of the plan, one after the other.",
        fill_plan_percent(plan, vug_pose_scan_trapped_mm3(m->scan)[best]));
    ink_write(m->cr, 30.0, 76.0, 14.0, false, soft_ink, line);
    draw_poses(m);
    draw_sides(m);
    for (uint32_t i = fill_plan_told(plan); i-- > 0;) {
        char number[12];
        snprintf(number, sizeof number, "%u", (unsigned)i + 1);
        ring(m, plan->fill[i].up, number);
    }
    ring(m, vug_pose_scan_ups(m->scan) + 3 * best, "*");
    draw_key(m);
}

static cairo_status_t write_some(void *stream, const unsigned char *data, unsigned int length)
{
    return fwrite(data, 1, length, stream) == length ? CAIRO_STATUS_SUCCESS
                                                     : CAIRO_STATUS_WRITE_ERROR;
}

static bool ends_with(const char *file, const char *ending)
{
    size_t length = strlen(file), n = strlen(ending), same = 0;
    while (length >= n && same < n && (file[length - n + same] | 0x20) == ending[same])
        same++;
    return same == n;
}

/* SVG and PDF by the name's ending, else pixels. */
static cairo_surface_t *surface_for(const char *file, FILE *stream)
{
    if (ends_with(file, ".svg"))
        return cairo_svg_surface_create_for_stream(write_some, stream, WIDE, TALL);
    if (ends_with(file, ".pdf"))
        return cairo_pdf_surface_create_for_stream(write_some, stream, WIDE, TALL);
    return cairo_image_surface_create(CAIRO_FORMAT_RGB24, WIDE, TALL);
}

static bool draw_map(map *m, const char *file, FILE *stream)
{
    cairo_surface_t *surface = surface_for(file, stream);
    m->cr = cairo_create(surface);
    draw(m);
    bool good = cairo_status(m->cr) == CAIRO_STATUS_SUCCESS;
    cairo_destroy(m->cr);
    if (cairo_surface_get_type(surface) == CAIRO_SURFACE_TYPE_IMAGE)
        good = good
            && cairo_surface_write_to_png_stream(surface, write_some, stream)
                == CAIRO_STATUS_SUCCESS;
    cairo_surface_finish(surface);
    good = good && cairo_surface_status(surface) == CAIRO_STATUS_SUCCESS;
    cairo_surface_destroy(surface);
    return good;
}

static int write_map(const tool *program, map *m, const char *file)
{
    char *beside = NULL;
    FILE *stream = whole_open(program, file, &beside);
    if (!stream)
        return FAILED;
    bool good = draw_map(m, file, stream);
    if (!good)
        fail(program, "cannot draw %s", file);
    return whole_close(program, stream, file, beside, good);
}

int plan_globe(const tool *program, const fill_plan *plan, const char *file)
{
    vug_pose_options options;
    vug_pose_scan *scan = NULL;
    vug_pose_options_init(&options, sizeof options);
    options.columns_across = 120;
    vug_status status = vug_pose_scan_run(plan->ctx, plan->drilled, NULL, 0, &options, &scan);
    if (status)
        return fail_status(program, plan->ctx, status);
    map m = {.plan = plan, .scan = scan};
    set_steps(&m);
    int code = write_map(program, &m, file);
    vug_pose_scan_free(scan);
    return code;
}

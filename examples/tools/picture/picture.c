/* SPDX-License-Identifier: MIT
 * Lays out the page: title, the part from outside, the part cut open, key and list. */
#include "picture.h"

#include "behind.h"
#include "curves.h"
#include "cut.h"
#include "frame.h"
#include "ink.h"
#include "marks.h"
#include "newhole.h"
#include "outside.h"
#include "project.h"
#include "sides.h"
#include "wall.h"
#include "../tool/fail.h"
#include "../tool/whole_file.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum {
    PAGE = 1500,
    MARGIN = 44,
    HEAD = 128,
    PANEL = 690,
    TALL = 800,
    AROUND = 76,
    ROW = 31,
    STRIP = 430,
    THUMB = 353
};

static const double PAPER = 595.276
    / PAGE; /* points of a PDF for each unit of the page: as wide as A4 */

typedef struct bounds {
    double lo[2], hi[2]; /* across, height */
} bounds;

static bounds find_bounds(const drawing *picture)
{
    bounds b = {{INFINITY, INFINITY}, {-INFINITY, -INFINITY}};
    for (size_t i = 0; i < picture->vertex_count; i++) {
        double p[3];
        picture_project(picture, picture->xyz + 3 * i, p);
        for (int k = 0; k < 2; k++) {
            b.lo[k] = fmin(b.lo[k], p[k]);
            b.hi[k] = fmax(b.hi[k], p[k]);
        }
    }
    return b;
}

/* ---- the two views ------------------------------------------------------------------ */

static void add_bar(cairo_t *cr, const frame *panel, double across, double half, double lo,
    double hi)
{
    double x, y, w = 2.0 * half * panel->scale;
    frame_place(panel, across - half, hi, &x, &y);
    cairo_rectangle(cr, x, y, w, (hi - lo) * panel->scale);
}

/* How far a bar may reach beyond its end into the wall, which is drawn over it so that the steps of
 * the columns do not show: not at all where an opening lets one look in. */
static double overlap(const drawing *picture, double across, double height)
{
    for (size_t i = 0; i < picture->mark_count; i++) {
        const picture_mark *mark = &picture->marks[i];
        double p[3], way[3];
        marks_project(picture, mark, p, way);
        double off[3] = {across - p[0], height - p[1], -p[2]}, along = 0.0, square = 0.0;
        for (int k = 0; k < 3; k++) {
            along += off[k] * way[k];
            square += off[k] * off[k];
        }
        if (fabs(along) < 0.5 && sqrt(square) < 0.5 * mark->diameter_mm + 2.0 * picture->spacing_mm)
            return 0.0;
    }
    return 0.4;
}

static void draw_contents(cairo_t *cr, const drawing *picture, const frame *panel)
{
    const double half = 1.2 * picture->spacing_mm;
    for (size_t i = 0; i < picture->span_count; i++) {
        const double *s = picture->spans + 4 * i;
        double top = s[2] < s[3] ? 0.0 : overlap(picture, s[0], s[2]);
        if (s[2] > s[1])
            add_bar(cr, panel, s[0], half, s[1] - overlap(picture, s[0], s[1]), s[2] + top);
    }
    ink_use(cr, liquid_ink);
    cairo_fill(cr);
    for (size_t i = 0; i < picture->span_count; i++) {
        const double *s = picture->spans + 4 * i;
        double under = s[2] > s[1] ? 0.0 : overlap(picture, s[0], s[2]);
        if (s[3] > s[2])
            add_bar(cr, panel, s[0], half, s[2] - under, s[3] + overlap(picture, s[0], s[3]));
    }
    cairo_save(cr);
    ink_use(cr, picture->air_free ? free_ink : air_ink);
    cairo_fill_preserve(cr);
    cairo_clip(cr);
    if (!picture->air_free)
        ink_hatch(cr, hatch_ink);
    cairo_restore(cr);
}

/* A line between two places of the page with its length in mm beside its middle, which is left free. */
static void draw_dimension(cairo_t *cr, double x0, double y0, double x1, double y1, double mm)
{
    char text[32];
    snprintf(text, sizeof text, "%.1f mm", mm);
    const bool flat = y0 == y1;
    const double wide = ink_width(cr, 14.0, false, text), free = flat ? 0.5 * wide + 6.0 : 12.0;
    const double x = 0.5 * (x0 + x1), y = 0.5 * (y0 + y1), end = 6.0;
    ink_use(cr, soft_ink);
    cairo_set_line_width(cr, 1.2);
    cairo_move_to(cr, x0 - (flat ? 0.0 : end), y0 - (flat ? end : 0.0));
    cairo_line_to(cr, x0 + (flat ? 0.0 : end), y0 + (flat ? end : 0.0));
    cairo_move_to(cr, x1 - (flat ? 0.0 : end), y1 - (flat ? end : 0.0));
    cairo_line_to(cr, x1 + (flat ? 0.0 : end), y1 + (flat ? end : 0.0));
    cairo_move_to(cr, x0, y0);
    cairo_line_to(cr, flat ? fmax(x0, x - free) : x0, flat ? y0 : fmax(y0, y - free));
    cairo_move_to(cr, flat ? fmin(x1, x + free) : x1, flat ? y1 : fmin(y1, y + free));
    cairo_line_to(cr, x1, y1);
    cairo_stroke(cr);
    ink_write(cr, x - 0.5 * wide, y + 5.0, 14.0, false, text_ink, text);
}

/* Does no arrow of the cut stand that way? axis 0: to the right, 1: up. */
static bool is_free(const drawing *picture, int axis, double sign)
{
    for (size_t i = 0; i < picture->mark_count; i++) {
        const picture_mark *mark = &picture->marks[i];
        double p[3], way[3];
        marks_project(picture, mark, p, way);
        if (marks_near_cut(picture, mark) && sign * way[axis] > 0.3)
            return false;
    }
    return true;
}

/* How wide and tall the cut is, below it and on its left, or where no arrow is in the way. */
static void draw_size(cairo_t *cr, const drawing *picture, const cut_outlines *cut,
    const frame *panel)
{
    const double past = arrow_length + 2.0 * label_radius + 16.0; /* an arrow and its label */
    bounds b = {{INFINITY, INFINITY}, {-INFINITY, -INFINITY}};
    double x0, y0, x1, y1;
    for (size_t i = 0; i < 2 * cut->first[cut->count]; i++) {
        b.lo[i % 2] = fmin(b.lo[i % 2], cut->point[i]);
        b.hi[i % 2] = fmax(b.hi[i % 2], cut->point[i]);
    }
    if (!(b.hi[0] > b.lo[0]))
        return;
    frame_place(panel, b.lo[0], b.hi[1], &x0, &y0);
    frame_place(panel, b.hi[0], b.lo[1], &x1, &y1);
    double level = is_free(picture, 1, -1.0) ? y1 + 30.0
        : is_free(picture, 1, 1.0)           ? y0 - 30.0
                                             : y1 + past;
    double upright = is_free(picture, 0, -1.0) ? x0 - 48.0
        : is_free(picture, 0, 1.0)             ? x1 + 48.0
                                               : x0 - past;
    draw_dimension(cr, x0, level, x1, level, b.hi[0] - b.lo[0]);
    draw_dimension(cr, upright, y0, upright, y1, b.hi[1] - b.lo[1]);
}

/* A mark through the wall where it is thinnest; the key says how thin. */
static void draw_thinnest(cairo_t *cr, const drawing *picture, const cut_outlines *cut,
    const frame *panel)
{
    double from[2], to[2], x0, y0, x1, y1;
    if (!picture_thinnest(picture, cut, from, to))
        return;
    frame_place(panel, from[0], from[1], &x0, &y0);
    frame_place(panel, to[0], to[1], &x1, &y1);
    const double long_px = hypot(x1 - x0, y1 - y0), ux = (x1 - x0) / long_px,
                 uy = (y1 - y0) / long_px;
    ink_use(cr, text_ink);
    cairo_set_line_width(cr, 1.6);
    cairo_move_to(cr, x0, y0);
    cairo_line_to(cr, x1, y1);
    for (int end = 0; end < 2; end++) {
        double x = end ? x1 : x0, y = end ? y1 : y0;
        cairo_move_to(cr, x - 5.0 * uy, y + 5.0 * ux);
        cairo_line_to(cr, x + 5.0 * uy, y - 5.0 * ux);
    }
    cairo_stroke(cr);
}

/* The outlines of the cut. Of a picture: the faces of its wall alone, not where the cut goes on in another plane. */
static void trace_wall(cairo_t *cr, const drawing *picture, const cut_outlines *cut,
    const frame *panel)
{
    cairo_new_path(cr);
    for (size_t i = 0; i < cut->count; i++) {
        const size_t first = cut->first[i], end = cut->first[i + 1];
        const double *before = NULL;
        for (size_t k = first; k <= end; k++) {
            const double *p = cut->point + 2 * (k < end ? k : first);
            double x, y;
            frame_place(panel, p[0], p[1], &x, &y);
            if (before && !(picture && cut_is_step(picture, before, p)))
                cairo_line_to(cr, x, y);
            else
                cairo_move_to(cr, x, y);
            before = p;
        }
    }
}

/* A hole to be made: white, with dashed edges; one that is there is open and has the wall's. */
static void paint_new_hole(cairo_t *cr)
{
    const double dash[] = {5.0, 3.0};
    ink_use(cr, paper);
    cairo_fill_preserve(cr);
    ink_use(cr, drill_ink);
    cairo_set_line_width(cr, 2.0);
    cairo_set_dash(cr, dash, 2, 0.0);
    cairo_stroke(cr);
    cairo_set_dash(cr, NULL, 0, 0.0);
}

static void trace_new_hole(cairo_t *cr, const drawing *picture, const picture_mark *mark,
    double wider_mm, double deep_mm, const frame *panel)
{
    double corners[2 * NEWHOLE_CORNERS], x, y;
    size_t count = newhole_section(picture, mark, wider_mm, deep_mm, corners);
    cairo_new_path(cr);
    for (size_t k = 0; k < count; k++) {
        frame_place(panel, corners[2 * k], corners[2 * k + 1], &x, &y);
        cairo_line_to(cr, x, y);
    }
    cairo_close_path(cr);
}

/* What the columns have in a new hole that slants, past the skin: the wall is drawn over the rest. */
static void clear_new_holes(cairo_t *cr, const drawing *picture, const frame *panel)
{
    ink_use(cr, paper);
    for (size_t i = 0; i < picture->mark_count; i++) {
        const picture_mark *mark = &picture->marks[i];
        trace_new_hole(cr, picture, mark, 3.0 * picture->spacing_mm, 0.5 * mark->depth_mm, panel);
        cairo_fill(cr);
    }
}

/* As far as there is a wall. */
static void draw_new_holes(cairo_t *cr, const drawing *picture, const cut_outlines *cut,
    const frame *panel)
{
    cairo_save(cr);
    trace_wall(cr, NULL, cut, panel);
    cairo_clip(cr);
    for (size_t i = 0; i < picture->mark_count; i++) {
        const picture_mark *mark = &picture->marks[i];
        trace_new_hole(cr, picture, mark, 0.0, mark->depth_mm + 0.5 * mark->diameter_mm, panel);
        paint_new_hole(cr);
    }
    cairo_restore(cr);
}

/* Where the cut goes on in another plane: the line of such a place in technical drawings, dashes and dots (ISO 128). */
static void draw_step(cairo_t *cr, const drawing *picture, const frame *panel)
{
    const double dash[] = {12.0, 3.0, 2.0, 3.0}, past = 2.0; /* mm */
    double x, y, low;
    if (picture->step.side == 0.0)
        return;
    const bounds b = find_bounds(picture);
    frame_place(panel, picture->step.at_mm, b.hi[1] + past, &x, &y);
    frame_place(panel, picture->step.at_mm, b.lo[1] - past, &x, &low);
    ink_use(cr, soft_ink);
    cairo_set_line_width(cr, 1.0);
    cairo_set_dash(cr, dash, 4, 0.0);
    cairo_move_to(cr, x, y);
    cairo_line_to(cr, x, low);
    cairo_stroke(cr);
    cairo_set_dash(cr, NULL, 0, 0.0);
}

static bool draw_cut(cairo_t *cr, const drawing *picture, const frame *panel, bool sized)
{
    cut_outlines cut;
    if (!picture_cut(picture, &cut))
        return false;
    draw_contents(cr, picture, panel);
    clear_new_holes(cr, picture, panel);
    cairo_set_fill_rule(cr, CAIRO_FILL_RULE_EVEN_ODD);
    trace_wall(cr, NULL, &cut, panel);
    ink_use(cr, wall_ink);
    cairo_fill(cr);
    trace_wall(cr, picture, &cut, panel);
    ink_use(cr, line_ink);
    cairo_set_line_width(cr, 1.3);
    cairo_set_line_join(cr, CAIRO_LINE_JOIN_ROUND);
    cairo_set_line_cap(cr, CAIRO_LINE_CAP_ROUND);
    cairo_stroke(cr);
    cairo_set_line_cap(cr, CAIRO_LINE_CAP_BUTT);
    draw_step(cr, picture, panel);
    draw_new_holes(cr, picture, &cut, panel);
    cairo_set_fill_rule(cr, CAIRO_FILL_RULE_WINDING);
    if (sized) {
        draw_size(cr, picture, &cut, panel);
        draw_thinnest(cr, picture, &cut, panel);
    }
    outlines_free(&cut);
    return true;
}

static bool draw_outside(cairo_t *cr, const drawing *picture, const frame *panel, const bounds *b)
{
    const double fine = BEHIND_FINE;
    int width = (int)ceil((b->hi[0] - b->lo[0]) * panel->scale * fine) + 4;
    int height = (int)ceil((b->hi[1] - b->lo[1]) * panel->scale * fine) + 4;
    double edge = 2.0 / (fine * panel->scale), x, y;
    cairo_surface_t *image = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, width, height);
    bool good = cairo_surface_status(image) == CAIRO_STATUS_SUCCESS
        && picture_outside(picture, b->lo[0] - edge, b->hi[1] + edge, fine * panel->scale, width,
            height, cairo_image_surface_get_stride(image), cairo_image_surface_get_data(image));
    frame_place(panel, b->lo[0] - edge, b->hi[1] + edge, &x, &y);
    ink_image(cr, image, x, y, fine);
    for (size_t i = 0; i < picture->air_count; i++) {
        const double *a = picture->air + 3 * i;
        add_bar(cr, panel, a[0], 0.55 * picture->spacing_mm, a[1], a[2]);
    }
    cairo_save(cr);
    cairo_set_source_rgba(cr, air_ink.red, air_ink.green, air_ink.blue, 0.8);
    cairo_fill_preserve(cr);
    cairo_clip(cr);
    ink_hatch(cr, hatch_ink);
    cairo_restore(cr);
    return good;
}

/* The part's sides stand right of the title, which is as large as that leaves. */
static void draw_title(cairo_t *cr, const drawing *picture)
{
    const double room = PAGE - 2.0 * MARGIN - 250.0;
    double size = fmin(27.0, 27.0 * room / ink_width(cr, 27.0, true, picture->title));
    ink_write(cr, MARGIN, 48.0, size, true, text_ink, picture->title);
    ink_write(cr, MARGIN, 78.0, 17.0, false, soft_ink, picture->subtitle);
    sides_draw(cr, picture, PAGE - MARGIN - 150.0, 62.0);
}

/* ---- head, key, list ------------------------------------------------------------------- */

static void draw_up(cairo_t *cr, double x, double y)
{
    marks_arrow(cr, x, y + 34.0, x, y - 22.0, true, text_ink);
    ink_write(cr, x - 0.5 * ink_width(cr, 15.0, true, "up"), y + 53.0, 15.0, true, text_ink, "up");
}

/* The longest of 1, 2, 5 x 10^n mm that takes at most a fifth of a panel. */
static void draw_scale(cairo_t *cr, double x, double y, double scale)
{
    double most = 0.2 * PANEL / scale, length = pow(10.0, floor(log10(most)));
    length *= most >= 5.0 * length ? 5.0 : most >= 2.0 * length ? 2.0 : 1.0;
    char text[32];
    snprintf(text, sizeof text, "%g mm", length);
    ink_use(cr, text_ink);
    cairo_set_line_width(cr, 2.5);
    cairo_move_to(cr, x, y - 6.0);
    cairo_line_to(cr, x, y + 6.0);
    cairo_move_to(cr, x, y);
    cairo_line_to(cr, x + length * scale, y);
    cairo_move_to(cr, x + length * scale, y - 6.0);
    cairo_line_to(cr, x + length * scale, y + 6.0);
    cairo_stroke(cr);
    ink_write(cr, x + length * scale + 10.0, y + 5.0, 15.0, false, text_ink, text);
}

static void draw_swatch(cairo_t *cr, double x, double y, ink color, bool hatched, const char *text)
{
    cairo_rectangle(cr, x, y - 14.0, 34.0, 18.0);
    cairo_save(cr);
    ink_use(cr, color);
    cairo_fill_preserve(cr);
    if (hatched) {
        cairo_clip_preserve(cr);
        cairo_path_t *outline = cairo_copy_path(cr);
        cairo_new_path(cr);
        ink_hatch(cr, hatch_ink);
        cairo_append_path(cr, outline);
        cairo_path_destroy(outline);
    }
    cairo_restore(cr);
    ink_use(cr, line_ink);
    cairo_set_line_width(cr, 1.2);
    cairo_stroke(cr);
    ink_write(cr, x + 46.0, y, 15.0, false, text_ink, text);
}

/* Ways to hold it that are drawn small. */
static size_t count_poses(const drawing *picture)
{
    return picture->pose_count > 1 ? picture->pose_count : 0;
}

/* Is such a sign on the page? */
static bool has_mark(const drawing *picture, enum mark_kind kind, bool cut_only)
{
    for (size_t i = 0; i < picture->mark_count; i++)
        if (picture->marks[i].kind == kind
            && !(cut_only && !marks_near_cut(picture, &picture->marks[i])))
            return true;
    for (size_t i = 0; i < count_poses(picture); i++) {
        const picture_pose *pose = &picture->poses[i];
        size_t open = pose->inlet < 0 ? 0 : pose->open_count;
        if (kind == MARK_INLET && pose->inlet >= 0)
            return true;
        for (size_t k = 0; k < open && kind == MARK_VENT; k++)
            if (pose->open[k] != (uint32_t)pose->inlet)
                return true;
        if (kind == MARK_SEALED && open < picture->mark_count)
            return true;
    }
    return false;
}

static void draw_sign_key(cairo_t *cr, double x, double y, enum mark_kind kind, const char *text)
{
    mark_place m = {.x = x, .y = y - 5.0, .dx = 34.0 / arrow_length, .dy = 0.0};
    if (kind == MARK_SEALED)
        m.x += 17.0;
    marks_sign(cr, kind, &m);
    ink_write(cr, x + 46.0, y, 15.0, false, text_ink, text);
}

static const struct {
    enum mark_kind kind;
    const char *text;
} signs[] = {{MARK_INLET, "fill here"}, {MARK_VENT, "air leaves here"},
    {MARK_OUTLET, "liquid leaves here"}, {MARK_SEALED, "closed"},
    {MARK_DRILL, "new hole, this way"}};

static bool cuts_new_hole(const drawing *picture)
{
    double corners[2 * NEWHOLE_CORNERS];
    for (size_t i = 0; i < picture->mark_count; i++)
        if (newhole_section(picture, &picture->marks[i], 0.0, picture->marks[i].depth_mm, corners)
            > 0)
            return true;
    return false;
}

/* Of the key, or of the list beside it if that has more. */
static int key_rows(const drawing *picture, bool cut_only)
{
    int kinds = 1 + (picture->liquid != NULL) + cuts_new_hole(picture) + picture->air_free
        + (picture->air_count > 0),
        seen = 0;
    for (size_t i = 0; i < sizeof signs / sizeof signs[0]; i++)
        seen += has_mark(picture, signs[i].kind, cut_only);
    kinds = kinds > seen ? kinds : seen;
    return (int)picture->mark_count > kinds ? (int)picture->mark_count : kinds;
}

static void draw_wall_key(cairo_t *cr, const drawing *picture, double x, double y)
{
    char text[64] = "printed wall, cut";
    double from[2], to[2];
    cut_outlines cut;
    if (picture_cut(picture, &cut) && picture_thinnest(picture, &cut, from, to))
        snprintf(text, sizeof text, "cut wall; thinnest: %.1f mm",
            hypot(to[0] - from[0], to[1] - from[1]));
    outlines_free(&cut);
    draw_swatch(cr, x, y, wall_ink, false, text);
}

static void draw_key(cairo_t *cr, const drawing *picture, double x, double y, bool cut_only)
{
    double step = ROW, top = y;
    draw_wall_key(cr, picture, x, y);
    if (cuts_new_hole(picture)) {
        cairo_rectangle(cr, x, (y += step) - 14.0, 34.0, 18.0);
        paint_new_hole(cr);
        ink_write(cr, x + 46.0, y, 15.0, false, text_ink, "hole to be made, cut");
    }
    if (picture->liquid)
        draw_swatch(cr, x, y += step, liquid_ink, false, picture->liquid);
    if (picture->air_free)
        draw_swatch(cr, x, y += step, free_ink, false, "air");
    if (picture->air_count > 0)
        draw_swatch(cr, x, y += step, air_ink, true, picture->air_name);
    y = top - step;
    for (size_t i = 0; i < sizeof signs / sizeof signs[0]; i++)
        if (has_mark(picture, signs[i].kind, cut_only))
            draw_sign_key(cr, x + 320.0, y += step, signs[i].kind, signs[i].text);
}

/* A to Z, then A2 to Z2. */
static int by_label(const void *a, const void *b)
{
    const picture_mark *x = *(const picture_mark *const *)a, *y = *(const picture_mark *const *)b;
    const size_t left = strlen(x->label), right = strlen(y->label);
    return left != right ? (left < right ? -1 : 1) : strcmp(x->label, y->label);
}

static void draw_list(cairo_t *cr, const drawing *picture, double x, double y, bool cut_only)
{
    const picture_mark **list = malloc((picture->mark_count + 1) * sizeof *list);
    if (!list)
        return;
    for (size_t i = 0; i < picture->mark_count; i++)
        list[i] = &picture->marks[i];
    qsort(list, picture->mark_count, sizeof *list, by_label);
    for (size_t i = 0; i < picture->mark_count; i++, y += ROW) {
        const picture_mark *mark = list[i];
        marks_label(cr, x + label_radius, y - 5.0, mark->label, marks_color(mark->kind), false);
        ink_write(cr, x + 38.0, y, 15.0, false, text_ink, mark->text);
        if (cut_only && !marks_near_cut(picture, mark))
            ink_write(cr, x + 38.0 + ink_width(cr, 15.0, false, mark->text), y, 15.0, false,
                soft_ink, "; not in this cut");
    }
    free(list);
}

/* ---- each bore to drill, turned to the front ------------------------------------------------- */

static size_t count_drills(const drawing *picture)
{
    size_t count = 0;
    for (size_t i = 0; i < picture->mark_count; i++)
        count += picture->marks[i].kind == MARK_DRILL;
    return count;
}

/* Small views that fit into one row, and the text under each. */
enum { MOST_ACROSS = (PAGE - 2 * MARGIN) / THUMB, UNDER = 24 };

/* Of a small view. */
typedef struct place {
    double x, y, wide, tall;
} place;

static size_t strip_rows(size_t count)
{
    return (count + MOST_ACROSS - 1) / MOST_ACROSS;
}

/* Width of each of count views: rows are alike and take all of the page's width. */
static double strip_wide(size_t count)
{
    const size_t rows = strip_rows(count);
    return (PAGE - 2.0 * MARGIN) / (double)((count + rows - 1) / rows);
}

/* Height of a row of views of the part as it is held: as its width leaves the part. */
static int row_tall(const drawing *picture, size_t count)
{
    const bounds b = find_bounds(picture);
    const double room = strip_wide(count) - 2.0 * AROUND;
    return (
        int)fmin(STRIP, room * (b.hi[1] - b.lo[1]) / (b.hi[0] - b.lo[0]) + 2.0 * AROUND + UNDER);
}

/* Height of a strip of count small views with its heading. */
static int views_height(size_t count, int row)
{
    return count ? 40 + (int)strip_rows(count) * row : 0;
}

/* Where one of count views in a strip below y is. */
static place strip_place(size_t count, size_t index, int row, double y)
{
    const size_t rows = strip_rows(count), across = (count + rows - 1) / rows;
    const double wide = strip_wide(count);
    return (place){.x = MARGIN + (double)(index % across) * wide,
        .y = y + 10.0 + (double)(index / across) * row,
        .wide = wide,
        .tall = row};
}

/* From where it was looked at, and from behind. */
static size_t count_skins(const drawing *picture)
{
    return picture->skin ? 2 : 0;
}

/* Up to two bores to drill stand beside the skins, whose key then goes below them. */
static bool is_beside(const drawing *picture)
{
    return count_skins(picture) > 0 && count_drills(picture) > 0
        && count_skins(picture) + count_drills(picture) <= MOST_ACROSS;
}

/* Places of the skins' row: theirs and the bores', or half of it for their key. */
static size_t beside_skins(const drawing *picture)
{
    return is_beside(picture) ? count_skins(picture) + count_drills(picture) : MOST_ACROSS;
}

static int skins_height(const drawing *picture)
{
    const size_t count = count_skins(picture);
    int height = views_height(count, row_tall(picture, beside_skins(picture)));
    for (int kind = SKIN_BACKED; kind < SKIN_KINDS && is_beside(picture); kind++)
        height += picture->skin->text[kind][0] ? ROW : 0;
    return height;
}

static int strip_height(const drawing *picture)
{
    const size_t drills = is_beside(picture) ? 0 : count_drills(picture);
    return views_height(count_poses(picture), STRIP) + skins_height(picture)
        + (drills ? views_height(drills, row_tall(picture, drills)) : 0);
}

/* The viewer stays where he is while the part is turned from one up to the next the shortest way:
 * in part coordinates he moves with up (Rodrigues' rotation). */
static void follow(const double from[3], const double to[3], double toward[3])
{
    double axis[3], cosine = 0.0, sine = 0.0, along = 0.0, turned[3];
    for (int k = 0; k < 3; k++) {
        axis[k] = from[(k + 1) % 3] * to[(k + 2) % 3] - from[(k + 2) % 3] * to[(k + 1) % 3];
        cosine += from[k] * to[k];
        sine += axis[k] * axis[k];
    }
    sine = sqrt(sine);
    if (sine < 1e-6) /* the same, or turned over about the line of sight */
        return;
    for (int k = 0; k < 3; k++) {
        axis[k] /= sine;
        along += axis[k] * toward[k];
    }
    for (int k = 0; k < 3; k++)
        turned[k] = cosine * toward[k] + (1.0 - cosine) * along * axis[k]
            + sine
                * (axis[(k + 1) % 3] * toward[(k + 2) % 3]
                    - axis[(k + 2) % 3] * toward[(k + 1) % 3]);
    memcpy(toward, turned, sizeof turned);
}

/* The viewer's place from which a mark faces him, and how far the part turns for that: degrees
 * clockwise seen from above. */
static double turn_to(const drawing *picture, const picture_mark *mark, double toward[3])
{
    const double *u = picture->up, *n = picture->toward, *out = mark->outward;
    double right[3], level = 0.0, length = 0.0, ahead = 0.0, aside = 0.0;
    for (int k = 0; k < 3; k++) {
        right[k] = u[(k + 1) % 3] * n[(k + 2) % 3] - u[(k + 2) % 3] * n[(k + 1) % 3];
        level += out[k] * u[k];
    }
    for (int k = 0; k < 3; k++) {
        toward[k] = out[k] - level * u[k];
        length += toward[k] * toward[k];
    }
    if (length < 0.01) { /* it looks straight up or down */
        memcpy(toward, n, 3 * sizeof *toward);
        return 0.0;
    }
    for (int k = 0; k < 3; k++) {
        toward[k] /= sqrt(length);
        ahead += toward[k] * n[k];
        aside += toward[k] * right[k];
    }
    return 57.29577951308232 * atan2(aside, ahead);
}

/* Room around the part, for its marks if it has any, and below it for a line of text. */
static frame thumb_frame(const bounds *b, double around, const place *at)
{
    const double room_x = at->wide - 2.0 * around, room_y = at->tall - 2.0 * around - UNDER;
    double wide = b->hi[0] - b->lo[0], tall = b->hi[1] - b->lo[1];
    frame p = {.scale = fmin(room_x / wide, room_y / tall)};
    p.x = at->x + around + 0.5 * (room_x - wide * p.scale);
    p.y = at->y + around + 0.5 * (room_y - tall * p.scale);
    p.left = b->lo[0];
    p.top = b->hi[1];
    return p;
}

static void write_under(cairo_t *cr, const place *at, ink color, const char *text)
{
    ink_write(cr, at->x + 0.5 * (at->wide - ink_width(cr, 14.0, false, text)),
        at->y + at->tall - 8.0, 14.0, false, color, text);
}

static bool draw_turned(cairo_t *cr, const drawing *picture, const picture_mark *mark,
    const place *at)
{
    drawing turned = *picture;
    turned.air_count = 0;
    double turn = turn_to(picture, mark, turned.toward);
    bounds b = find_bounds(&turned);
    frame panel = thumb_frame(&b, AROUND, at);
    char text[64];
    bool good = draw_outside(cr, &turned, &panel, &b);
    marks_draw(cr, &turned, &panel, false, mark->label);
    snprintf(text, sizeof text,
        fabs(turn) < 5.0 ? "as above"
            : turn > 0.0 ? "turned %.0f\302\260 clockwise"
                         : "turned %.0f\302\260 anticlockwise",
        fabs(turn));
    write_under(cr, at, soft_ink, text);
    return good;
}

/* The marks as they are used in a pose: one to fill by, others for the air, the rest covered. */
static void use_marks(const drawing *picture, const picture_pose *pose, picture_mark *marks)
{
    for (size_t i = 0; i < picture->mark_count; i++) {
        marks[i] = picture->marks[i];
        marks[i].kind = (int32_t)i == pose->inlet ? MARK_INLET : MARK_SEALED;
        for (size_t k = 0; k < pose->open_count && marks[i].kind == MARK_SEALED && pose->inlet >= 0;
             k++)
            if (pose->open[k] == i)
                marks[i].kind = MARK_VENT;
    }
}

static bool draw_poses(cairo_t *cr, const drawing *picture, double y)
{
    drawing held = *picture;
    picture_mark *marks = malloc((picture->mark_count + 1) * sizeof *marks);
    bool good = marks != NULL;
    held.air_count = 0;
    held.marks = marks;
    char heading[120];
    snprintf(heading, sizeof heading, "How to hold it, one after the other%s",
        picture->again ? picture->again : "");
    if (count_poses(picture) > 0)
        ink_write(cr, MARGIN, y, 16.0, true, text_ink, heading);
    for (size_t i = 0; i < count_poses(picture) && good; i++) {
        const picture_pose *pose = &picture->poses[i];
        const place at = strip_place(count_poses(picture), i, STRIP, y);
        follow(held.up, pose->up, held.toward);
        memcpy(held.up, pose->up, sizeof held.up);
        use_marks(picture, pose, marks);
        bounds b = find_bounds(&held);
        frame panel = thumb_frame(&b, AROUND, &at);
        good = draw_outside(cr, &held, &panel, &b);
        marks_draw(cr, &held, &panel, false, NULL);
        write_under(cr, &at, text_ink, pose->text);
    }
    free(marks);
    return good;
}

/* ---- what is behind the skin in the end -------------------------------------------------------- */

static void draw_skin_key(cairo_t *cr, const picture_skin *skin, double x, double y)
{
    for (int kind = SKIN_BACKED; kind < SKIN_KINDS; kind++) {
        if (!skin->text[kind][0])
            continue;
        behind_swatch(cr, x, y - 14.0, (enum skin_kind)kind);
        ink_write(cr, x + 46.0, y, 15.0, false, text_ink, skin->text[kind]);
        y += ROW;
    }
}

/* The walls of the cavities in a pale part. */
static bool draw_skin(cairo_t *cr, const drawing *held, const place *at)
{
    const picture_skin *skin = held->skin;
    drawing walls = *held;
    bounds b = find_bounds(held);
    frame panel = thumb_frame(&b, 0.4 * AROUND, at);
    walls.xyz = skin->xyz;
    walls.vertex_count = skin->vertex_count;
    walls.triangles = skin->triangles;
    walls.triangle_count = skin->triangle_count;
    walls.kind = skin->kind;
    cairo_push_group(cr);
    bool good = draw_outside(cr, held, &panel, &b);
    cairo_pop_group_to_source(cr);
    cairo_paint_with_alpha(cr, 0.35);
    b = find_bounds(&walls);
    return draw_outside(cr, &walls, &panel, &b) && good;
}

static bool draw_skins(cairo_t *cr, const drawing *picture, double y)
{
    static const char *const side[] = {"from the side shown above", "from behind"};
    if (count_skins(picture) == 0)
        return true;
    const int row = row_tall(picture, beside_skins(picture));
    drawing held = *picture;
    bool good = true;
    held.air_count = held.mark_count = 0;
    ink_write(cr, MARGIN, y, 16.0, true, text_ink,
        "What is behind the skin once all steps are done");
    for (size_t i = 0; i < picture->pose_count; i++) {
        follow(held.up, picture->poses[i].up, held.toward);
        memcpy(held.up, picture->poses[i].up, sizeof held.up);
    }
    for (size_t i = 0; i < count_skins(picture) && good; i++) {
        const place at = strip_place(beside_skins(picture), i, row, y);
        good = draw_skin(cr, &held, &at);
        write_under(cr, &at, soft_ink, side[i]);
        for (int k = 0; k < 3; k++)
            held.toward[k] = -held.toward[k];
    }
    if (is_beside(picture))
        draw_skin_key(cr, picture->skin, MARGIN, y + 10.0 + row + ROW);
    else
        draw_skin_key(cr, picture->skin, PAGE - MARGIN - PANEL, y + 10.0 + AROUND);
    return good;
}

static bool draw_strip(cairo_t *cr, const drawing *picture, double y)
{
    const size_t first = is_beside(picture) ? count_skins(picture) : 0;
    const size_t count = first ? beside_skins(picture) : count_drills(picture);
    size_t index = first;
    bool good = true;
    for (size_t i = 0; i < picture->mark_count && good; i++) {
        if (picture->marks[i].kind != MARK_DRILL)
            continue;
        const place at = strip_place(count, index, row_tall(picture, count), y);
        if (index++ == first)
            ink_write(cr, at.x, y, 16.0, true, text_ink,
                "Where new holes go (turns as seen from above)");
        good = draw_turned(cr, picture, &picture->marks[i], &at);
    }
    return good;
}

/* ---- the page ------------------------------------------------------------------------------ */

/* Of the two views: as tall as their width leaves the part, up to TALL. */
static int panel_height(const bounds *b)
{
    double tall = (PANEL - 2.0 * AROUND) * (b->hi[1] - b->lo[1]) / (b->hi[0] - b->lo[0]);
    return (int)fmin(TALL, fmax(0.4 * TALL, tall + 2.0 * AROUND));
}

static int page_height(const drawing *picture)
{
    bounds b = find_bounds(picture);
    return HEAD + panel_height(&b) + 60 + key_rows(picture, false) * ROW + strip_height(picture)
        + MARGIN;
}

static frame make_panel(const bounds *b, double x)
{
    double wide = b->hi[0] - b->lo[0], tall = b->hi[1] - b->lo[1], high = panel_height(b);
    frame p = {.x = x + AROUND, .y = HEAD + AROUND};
    p.scale = fmin((PANEL - 2.0 * AROUND) / wide, (high - 2.0 * AROUND) / tall);
    p.left = b->lo[0] - 0.5 * ((PANEL - 2.0 * AROUND) / p.scale - wide);
    p.top = b->hi[1] + 0.5 * ((high - 2.0 * AROUND) / p.scale - tall);
    return p;
}

static bool draw_page(cairo_t *cr, const drawing *picture)
{
    bounds b = find_bounds(picture);
    frame outside = make_panel(&b, MARGIN), cut = make_panel(&b, PAGE - MARGIN - PANEL);
    double below = HEAD + panel_height(&b) + 22.0;
    ink_use(cr, paper);
    cairo_paint(cr);
    draw_title(cr, picture);
    ink_write(cr, MARGIN, HEAD - 4.0, 16.0, true, text_ink, "From outside");
    ink_write(cr, PAGE - MARGIN - PANEL, HEAD - 4.0, 16.0, true, text_ink,
        picture->step.side != 0.0 ? "Cut open in two planes, seen from the same side"
                                  : "Cut open, seen from the same side");
    bool good = draw_outside(cr, picture, &outside, &b) && draw_cut(cr, picture, &cut, true)
        && draw_poses(cr, picture, below + 40.0)
        && draw_skins(cr, picture, below + 40.0 + views_height(count_poses(picture), STRIP))
        && draw_strip(cr, picture,
            below + 40.0 + views_height(count_poses(picture), STRIP)
                + (is_beside(picture) ? 0 : skins_height(picture)));
    marks_draw(cr, picture, &outside, false, NULL);
    marks_draw(cr, picture, &cut, true, NULL);
    draw_up(cr, PAGE - MARGIN - 14.0, 44.0);
    draw_scale(cr, MARGIN, below, outside.scale);
    double key = below + 48.0 + strip_height(picture);
    draw_key(cr, picture, MARGIN, key, false);
    draw_list(cr, picture, PAGE - MARGIN - PANEL, key, false);
    return good;
}

/* ---- a course, moment by moment ------------------------------------------------------------ */

/* How the stages are laid out: all alike, as large as the page's width allows, up to a height. */
typedef struct stage_plan {
    bounds part;
    size_t across;            /* next to each other */
    double scale, wide, tall; /* of each, with its title and arrows */
    double above;             /* the part in it */
    double height;            /* of all */
} stage_plan;

static stage_plan plan_stages(const drawing *picture, size_t count)
{
    static const double most[] = {0.0, 760.0, 600.0, 480.0};
    const double arrow = arrow_length + 2.0 * label_radius + 8.0;
    const bool down = !is_free(picture, 1, -1.0), up = !is_free(picture, 1, 1.0);
    stage_plan p = {.part = find_bounds(picture),
        .across = count == 4 ? 2
            : count < 3      ? count
                             : 3}; /* so that they leave no hole */
    double wide = p.part.hi[0] - p.part.lo[0], tall = p.part.hi[1] - p.part.lo[1];
    p.wide = (PAGE - 2.0 * MARGIN) / (double)p.across;
    p.scale = fmin((p.wide - 2.0 * 84.0) / wide, most[p.across] / tall);
    p.above = 34.0 + (up ? arrow : down ? 46.0 : 0.0);
    p.tall = p.above + p.scale * tall + (up && down ? arrow + 40.0 : down ? arrow + 14.0 : 62.0);
    p.height = (double)((count + p.across - 1) / p.across) * p.tall;
    return p;
}

static frame stage_frame(const stage_plan *p, size_t index, double *x, double *y)
{
    frame f = {.scale = p->scale, .left = p->part.lo[0], .top = p->part.hi[1]};
    *x = MARGIN + (double)(index % p->across) * p->wide;
    *y = HEAD + (double)(index / p->across) * p->tall;
    f.x = *x + 0.5 * (p->wide - p->scale * (p->part.hi[0] - p->part.lo[0]));
    f.y = *y + p->above;
    return f;
}

static int curves_height(const drawing *picture)
{
    return picture->curves ? CURVES_TALL + 10 : 0;
}

static bool draw_stages(cairo_t *cr, const drawing *picture, const picture_stage *stages,
    size_t count)
{
    const stage_plan plan = plan_stages(picture, count);
    double below = HEAD + plan.height + 24.0, x, y;
    bool good = true;
    ink_use(cr, paper);
    cairo_paint(cr);
    draw_title(cr, picture);
    for (size_t i = 0; i < count && good; i++) {
        drawing moment = *picture;
        moment.spans = stages[i].spans;
        moment.span_count = stages[i].span_count;
        moment.air_free = stages[i].air_free;
        frame panel = stage_frame(&plan, i, &x, &y);
        good = draw_cut(cr, &moment, &panel, i == 0);
        marks_draw(cr, &moment, &panel, true, NULL);
        ink_write(cr, x, y + 18.0, 16.0, true, text_ink, stages[i].text);
    }
    draw_up(cr, PAGE - MARGIN - 14.0, 44.0);
    draw_scale(cr, MARGIN, below - 10.0, plan.scale);
    if (picture->curves)
        curves_draw(cr, picture->curves, MARGIN, below + 14.0, PAGE - 2.0 * MARGIN);
    below += curves_height(picture);
    draw_key(cr, picture, MARGIN, below + 30.0, true);
    draw_list(cr, picture, PAGE - MARGIN - PANEL, below + 30.0, true);
    return good;
}

static cairo_status_t write_some(void *stream, const unsigned char *data, unsigned int length)
{
    bool good = fwrite(data, 1, length, stream) == length;
    return good ? CAIRO_STATUS_SUCCESS : CAIRO_STATUS_WRITE_ERROR;
}

/* What goes onto a page: how tall it is, and how it is drawn. */
typedef struct sheet {
    const drawing *picture;
    const picture_stage *stages; /* NULL: the two views */
    size_t stage_count;
    int height;
} sheet;

static bool draw_on(cairo_surface_t *surface, const sheet *page, FILE *png)
{
    cairo_t *cr = cairo_create(surface);
    if (cairo_surface_get_type(surface) == CAIRO_SURFACE_TYPE_PDF)
        cairo_scale(cr, PAPER, PAPER);
    bool good = page->stages ? draw_stages(cr, page->picture, page->stages, page->stage_count)
                             : draw_page(cr, page->picture);
    good = good && cairo_status(cr) == CAIRO_STATUS_SUCCESS;
    cairo_destroy(cr);
    if (png)
        good = cairo_surface_write_to_png_stream(surface, write_some, png) == CAIRO_STATUS_SUCCESS
            && good;
    cairo_surface_finish(surface);
    good = cairo_surface_status(surface) == CAIRO_STATUS_SUCCESS && good;
    cairo_surface_destroy(surface);
    return good;
}

static int write_one(const tool *program, const sheet *page, const char *base, const char *ending)
{
    int code = FAILED;
    size_t size = strlen(base) + strlen(ending) + 1;
    char *file = malloc(size), *beside = NULL;
    if (!file)
        return fail(program, "no memory");
    snprintf(file, size, "%s%s", base, ending);
    FILE *stream = whole_open(program, file, &beside);
    if (stream) {
        bool png = strcmp(ending, ".png") == 0, pdf = strcmp(ending, ".pdf") == 0;
        cairo_surface_t *surface = png
            ? cairo_image_surface_create(CAIRO_FORMAT_RGB24, PAGE, page->height)
            : pdf ? cairo_pdf_surface_create_for_stream(write_some, stream, PAPER * PAGE,
                  PAPER * page->height)
                  : cairo_svg_surface_create_for_stream(write_some, stream, PAGE, page->height);
        bool good = draw_on(surface, page, png ? stream : NULL);
        if (!good)
            fail(program, "cannot draw %s", file);
        code = whole_close(program, stream, file, beside, good);
    }
    free(file);
    return code;
}

static int write_all(const tool *program, const sheet *page, const char *base)
{
    static const char *const ending[] = {".png", ".svg", ".pdf"};
    int code = DONE;
    for (int i = 0; i < 3 && code == DONE; i++)
        code = write_one(program, page, base, ending[i]);
    return code;
}

int picture_write(const tool *program, const drawing *picture, const char *base)
{
    sheet page = {.picture = picture, .height = page_height(picture)};
    return write_all(program, &page, base);
}

int picture_write_stages(const tool *program, const drawing *picture, const picture_stage *stages,
    size_t count, const char *base)
{
    sheet page = {.picture = picture, .stages = stages, .stage_count = count};
    page.height = HEAD + (int)plan_stages(picture, count).height + 40 + curves_height(picture)
        + key_rows(picture, true) * ROW + MARGIN;
    return write_all(program, &page, base);
}

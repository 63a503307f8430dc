/* SPDX-License-Identifier: MIT
 * The library's words for the plan, laid out on paper with a picture beside each pose. */
#include "sheet.h"

#include "held.h"
#include "paper.h"
#include "template.h"

#include "../picture/ink.h"
#include "../tool/fail.h"
#include "../tool/file_name.h"
#include "../tool/whole_file.h"

#include <cairo-pdf.h>
#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { ALL_IN_ONE_LINE = 10000, THUMB = 36 };

typedef struct layout {
    pages paper;
    const fill_plan *plan;
    int sequence; /* numbers that began with 1 so far: 1: while it drains, 2: while it is filled */
    bool good;
} layout;

static cairo_status_t write_some(void *stream, const unsigned char *data, unsigned int length)
{
    return fwrite(data, 1, length, stream) == length ? CAIRO_STATUS_SUCCESS
                                                     : CAIRO_STATUS_WRITE_ERROR;
}

static void tick_box(pages *p)
{
    cairo_rectangle(p->cr, PAPER_MARGIN, p->y + 0.4, 3.4, 3.4);
    ink_use(p->cr, text_ink);
    cairo_set_line_width(p->cr, 0.3);
    cairo_stroke(p->cr);
}

/* The part as it is held in a step, to the right of its words; without the bores before they are drilled. */
static void draw_pose(layout *l, const vug_step_info *step, bool drilled)
{
    pages *p = &l->paper;
    double front[3];
    held_front(step->up, front);
    held_view v = held_look(l->plan, step->up, front);
    v.scale = THUMB / fmax(v.wide, v.tall);
    double x = p->width - PAPER_MARGIN - 4.0 - 0.5 * (THUMB + v.wide * v.scale), y = p->y + 4.0;
    l->good = held_draw(p, l->plan, &v, x, y) && l->good;
    for (size_t i = 0; i < l->plan->opening_count; i++)
        if (drilled || !l->plan->openings[i].bore)
            held_letter(p, &v, l->plan->openings + i, x, y,
                fill_plan_listed((opening_list){step->feed, step->feed_count}, i));
    p->narrow_to = y + v.tall * v.scale + 5.0;
    p->narrow = THUMB + 14.0;
}

static void below_picture(pages *p)
{
    p->y = fmax(p->y, p->narrow_to);
    p->narrow_to = 0.0;
}

/* What is to be done at an opening: a hole to drill, or one to seal. */
static bool is_task(const layout *l, const char *mark)
{
    const fill_plan *plan = l->plan;
    const bool filled = l->sequence >= (plan->info.given ? 1 : 2);
    for (size_t i = 0; i < plan->opening_count; i++)
        if ((plan->openings[i].bore || filled) && strcmp(plan->openings[i].label, mark) == 0)
            return true;
    return false;
}

/* A number is a step, with its pose; a letter may be a hole to drill or to seal: they are ticked off. */
static void put_mark(layout *l, const char *mark)
{
    pages *p = &l->paper;
    long number = isdigit((unsigned char)mark[0]) ? strtol(mark, NULL, 10) : 0;
    const long given = l->plan->info.given;
    l->sequence += number == 1;
    const bool drains = l->sequence == 1 && !given;
    const uint32_t steps = drains ? l->plan->info.drain_steps : fill_plan_told(l->plan);
    if (number > 0 && number + given <= steps) {
        below_picture(p);
        paper_need(p, THUMB + 12.0);
        draw_pose(l, (drains ? l->plan->drain : l->plan->fill) + number - 1 + given, !drains);
    } else {
        paper_need(p, 5.0);
    }
    if (number > 0 || is_task(l, mark))
        tick_box(p);
    paper_write(p, PAPER_MARGIN + 5.5, 3.4, true, mark);
}

/* Is there a numbered step within two lines? Then the title goes with it, and with its picture. */
static bool leads_to_step(const char *next)
{
    for (int i = 0; i < 2 && *next; i++) {
        next += strspn(next, " ");
        if (isdigit((unsigned char)next[0])
            && next[1 + (isdigit((unsigned char)next[1]) != 0)] == ' ')
            return true;
        next += strcspn(next, "\n");
        next += *next == '\n';
    }
    return false;
}

static void put_title(layout *l, const char *text, const char *next)
{
    pages *p = &l->paper;
    below_picture(p);
    paper_need(p, leads_to_step(next) ? 32.0 + THUMB : 26.0);
    p->y += 3.0;
    ink_use(p->cr, soft_ink);
    cairo_set_line_width(p->cr, 0.2);
    cairo_move_to(p->cr, PAPER_MARGIN, p->y);
    cairo_line_to(p->cr, p->width - PAPER_MARGIN, p->y);
    cairo_stroke(p->cr);
    p->y += 1.5;
    paper_wrap(p, PAPER_MARGIN, 4.4, true, text);
    p->y += 0.8;
}

/* A line of the text: at the margin a title, else an item, with its mark before it. */
static void put_line(layout *l, char *text, const char *next)
{
    size_t blank = strspn(text, " ");
    char *words = text + blank;
    if (blank == 0 && *words)
        put_title(l, words, next);
    if (blank == 0)
        return;
    if (blank < 5 && strcspn(words, " ") < 4 && words[strcspn(words, " ")] == ' ') {
        char *rest = words + strcspn(words, " ");
        *rest++ = '\0';
        rest += strspn(rest, " ");
        paper_keep(&l->paper, PAPER_MARGIN + 11.0, 3.4, false, rest); /* with its mark */
        put_mark(l, words);
        words = rest;
    }
    paper_wrap(&l->paper, PAPER_MARGIN + 11.0, 3.4, false, words);
    l->paper.y += 0.8;
}

/* On a sheet that is so much smaller than the paper, and then shrunk or enlarged onto that; templates are in true size. */
static void draw_all(layout *l, char *text, double shrunk)
{
    pages *p = &l->paper;
    bool told = false;
    for (char *line = text, *end; *line; line = end) {
        end = line + strcspn(line, "\n");
        if (*end)
            *end++ = '\0';
        put_line(l, line, end);
        if (!told)
            paper_wrap(p, PAPER_MARGIN, 3.2, false,
                "Tick each box when it is done. In the pictures up is up and the letters are the "
                "openings: white on black where it is filled, dashed on the far side.");
        told = true;
    }
    below_picture(p);
    cairo_scale(p->cr, 1.0 / shrunk, 1.0 / shrunk);
    p->width *= shrunk;
    p->height *= shrunk;
    p->y *= shrunk;
    l->good = template_draw(p, l->plan) && l->good;
    paper_foot(p);
    cairo_show_page(p->cr);
}

typedef struct sheet {
    const fill_plan *plan;
    const char *name, *text;
    double width, height; /* of the paper */
} sheet;

/* How far it reaches. */
typedef struct reach {
    int page;
    double share; /* of the last one */
} reach;

/* stream: NULL to see how far it reaches. */
static bool draw(const sheet *s, FILE *stream, double shrunk, reach *to)
{
    const double point = 72.0 / 25.4;
    layout l = {.paper = {.title = s->name,
                    .width = s->width / shrunk,
                    .height = s->height / shrunk,
                    .y = PAPER_MARGIN,
                    .page = 1,
                    .dry = !stream},
        .plan = s->plan,
        .good = true};
    char *text = malloc(strlen(s->text) + 1); /* lines are cut off it */
    if (!text)
        return false;
    cairo_surface_t *pdf = cairo_pdf_surface_create_for_stream(stream ? write_some : NULL, stream,
        s->width * point, s->height * point);
    l.paper.cr = cairo_create(pdf);
    cairo_scale(l.paper.cr, point * shrunk, point * shrunk);
    draw_all(&l, strcpy(text, s->text), shrunk);
    *to = (reach){l.paper.page, l.paper.y / l.paper.height};
    bool good = cairo_status(l.paper.cr) == CAIRO_STATUS_SUCCESS && l.good;
    cairo_destroy(l.paper.cr);
    cairo_surface_finish(pdf);
    good = cairo_surface_status(pdf) == CAIRO_STATUS_SUCCESS && good;
    cairo_surface_destroy(pdf);
    free(text);
    return good;
}

/* Where little stands on the last page, a little smaller it may go onto those before it: 8 point is the least for a bench
 * (common practice, no source). */
static bool draw_well(const sheet *s, FILE *stream)
{
    static const double little = 0.4, shrunk[] = {0.95, 0.9, 0.86};
    double best = 1.0;
    reach whole, less;
    if (!draw(s, NULL, 1.0, &whole))
        return false;
    for (size_t i = 0; i < sizeof shrunk / sizeof *shrunk && !(best < 1.0) && whole.share < little;
         i++)
        if (draw(s, NULL, shrunk[i], &less) && less.page < whole.page)
            best = shrunk[i];
    return draw(s, stream, best, &less);
}

int plan_sheet(const tool *program, const fill_plan *plan, const char *file, const char *size)
{
    char name[64], *text = NULL, *beside = NULL;
    bool letter = strcmp(size, "letter") == 0;
    short_name(plan->settings->file, name);
    vug_status status = vug_plan_text(plan->ctx, plan->made, 0, name, plan->paint.name,
        plan->rinse.name, ALL_IN_ONE_LINE, &text);
    if (status)
        return fail_status(program, plan->ctx, status);
    int code = FAILED;
    FILE *stream = whole_open(program, file, &beside);
    if (stream) {
        const sheet all = {plan, name, text, letter ? 215.9 : 210.0, letter ? 279.4 : 297.0};
        bool good = draw_well(&all, stream);
        if (!good)
            fail(program, "cannot draw %s", file);
        code = whole_close(program, stream, file, beside, good);
    }
    vug_free(plan->ctx, text);
    return code;
}

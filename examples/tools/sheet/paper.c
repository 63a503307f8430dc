/* SPDX-License-Identifier: MIT */
#include "paper.h"

#include "../picture/ink.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

static const double foot = 10.0, leading = 1.35;

void paper_foot(pages *p)
{
    char text[160];
    snprintf(text, sizeof text, "%.100s, page %d", p->title, p->page);
    ink_write(p->cr, PAPER_MARGIN, p->height - foot, 2.8, false, soft_ink, text);
}

void paper_need(pages *p, double height)
{
    if (p->y + height <= p->height - foot - 6.0)
        return;
    paper_foot(p);
    cairo_show_page(p->cr);
    p->page++;
    p->y = PAPER_MARGIN;
    p->narrow_to = 0.0;
}

void paper_write(pages *p, double x, double size, bool bold, const char *text)
{
    ink_write(p->cr, x, p->y + size, size, bold, text_ink, text);
}

static double room(const pages *p, double x)
{
    return p->width - PAPER_MARGIN - x - (p->y < p->narrow_to ? p->narrow : 0.0);
}

void paper_keep(pages *p, double x, double size, bool bold, const char *text)
{
    double lines = ceil(1.1 * ink_width(p->cr, size, bold, text) / room(p, x));
    if (lines < 12.0)
        paper_need(p, lines * size * leading);
}

/* Up to where a line may be broken: a number stays with its unit. */
static size_t word_length(const char *text)
{
    size_t word = strcspn(text, " "), unit = text[word] ? strcspn(text + word + 1, " ") : 0;
    return isdigit((unsigned char)text[0]) && unit > 0 && unit < 3 ? word + 1 + unit : word;
}

void paper_wrap(pages *p, double x, double size, bool bold, const char *text)
{
    char line[400] = "";
    paper_keep(p, x, size, bold, text);
    while (*text) {
        char longer[400];
        size_t word = word_length(text);
        snprintf(longer, sizeof longer, "%.200s%s%.*s", line, line[0] ? " " : "",
            (int)(word < 150 ? word : 150), text);
        if (line[0] && ink_width(p->cr, size, bold, longer) > room(p, x)) {
            paper_need(p, size * leading);
            paper_write(p, x, size, bold, line);
            p->y += size * leading;
            line[0] = '\0';
            continue;
        }
        strcpy(line, longer);
        text += word;
        text += strspn(text, " ");
    }
    paper_need(p, size * leading);
    paper_write(p, x, size, bold, line);
    p->y += size * leading;
}

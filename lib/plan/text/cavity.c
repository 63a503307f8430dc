/* SPDX-License-Identifier: MIT
 * The part as it is before anything is done: its cavities, its sides, its openings. */
#include "plan/text/cavity.h"

#include "cavity/doubt.h"
#include "mesh/apart.h"
#include "pose/sides.h"

#include <math.h>
#include <string.h>

static const vugi_openings none = {NULL, 0};

/* Up to the skin: more than a cavity without its holes. */
static const char *with_holes(const vugi_writing *w)
{
    return w->o->cavities->opening_count > 0 ? ", up to the skin in its holes" : "";
}

static bool opened(const vug_cavities *c, size_t cavity)
{
    for (size_t k = 0; k < c->opening_count; k++)
        if (c->opening[k].cavity == (int32_t)cavity)
            return true;
    return false;
}

/* Those that no opening leads to, together. */
static void write_sealed(vugi_writing *w, size_t count, double mm3)
{
    const bool one = count == 1, more = w->o->sites > 0 && w->o->sites >= w->plan->most_bores;
    char number[32] = "";
    if (!one)
        vugi_print(number, sizeof number, " in %zu cavities", count);
    vugi_page_item(&w->page, "-", "%s sealed%s: no opening leads to %s, so %s empty%s%s",
        vugi_words_ml(mm3).text, number, one ? "it" : "them", one ? "it stays" : "they stay",
        more ? ", and what resin the print leaves in " : "",
        !more     ? ""
            : one ? "it stays too; allow more new holes, and it gets one"
                  : "them stays too; allow more new holes, and each gets one");
}

/* Each cavity with the openings that lead into it: paint does not get from one into another. */
static void write_several(vugi_writing *w)
{
    const vug_cavities *c = w->o->cavities;
    double shut = 0.0;
    size_t sealed = 0;
    for (size_t i = 0; i < c->cavity_count; i++)
        if (!opened(c, i)) {
            shut += c->cavity[i].volume;
            sealed++;
        }
    if (sealed > 0)
        vugi_page_title(&w->page, "%s: %zu of its %zu cavities take%s %s%s", w->part,
            c->cavity_count - sealed, c->cavity_count, c->cavity_count - sealed == 1 ? "s" : "",
            vugi_words_ml(w->o->info.capacity_mm3).text, with_holes(w));
    else
        vugi_page_title(&w->page, "%s: its %zu cavities take %s%s", w->part, c->cavity_count,
            vugi_words_ml(w->o->info.capacity_mm3).text, with_holes(w));
    for (size_t i = 0; i < c->cavity_count; i++) {
        uint32_t *number = vugi_alloc(w->page.mem, c->opening_count + 1, sizeof *number);
        size_t count = 0;
        for (size_t k = 0; k < c->opening_count && number; k++)
            if (c->opening[k].cavity == (int32_t)i)
                number[count++] = (uint32_t)k;
        w->page.failed |= !number;
        if (count > 0)
            vugi_page_item(&w->page, "-", "%s by %s%s", vugi_words_ml(c->cavity[i].volume).text,
                vugi_words_openings(w, (vugi_openings){number, count}, none, NULL).text,
                !vugi_option_is_worth(w->o, i) ? ": leave that out" : "");
        vugi_free(w->page.mem, number);
    }
    if (sealed > 0)
        write_sealed(w, sealed, shut);
}

static void write_sides(vugi_writing *w)
{
    char text[700];
    size_t count = w->o->cavities->opening_count;
    size_t *named = vugi_alloc(w->page.mem, count + 1, sizeof *named);
    for (size_t i = 0; i < count && named; i++)
        named[i] = vugi_is_new(w->o, i) ? SIZE_MAX : w->letter[i];
    if (named && !vugi_sides_words(w->ctx, w->o->cavities, named, text, sizeof text)) {
        vugi_page_title(&w->page, "Which side is which");
        vugi_page_item(&w->page, "", "%s", text);
    } else {
        w->page.failed = true;
    }
    vugi_free(w->page.mem, named);
}

static void write_openings(vugi_writing *w)
{
    bool titled = false;
    for (size_t i = 0; i < w->o->cavities->opening_count; i++) {
        const vugi_opening *o = w->o->cavities->opening + i;
        char name[16] = "";
        bool given = w->o->info.given && !vugi_is_new(w->o, i);
        if (o->planned && !given) /* to be drilled: told with the new ones */
            continue;
        if (!titled)
            vugi_page_title(&w->page, "Openings the part has");
        titled = true;
        vug_opening_letter(NULL, w->letter[i], name, sizeof name);
        vugi_page_item(&w->page, name,
            "%s mm wide, %.1f mm through the wall, at (%.1f, %.1f, %.1f)",
            vugi_words_mm(2.0 * o->radius).text, o->bore_length, vugi_plain(o->center[0], 1),
            vugi_plain(o->center[1], 1), vugi_plain(o->center[2], 1));
    }
}

/* The part's file has another unit than what is told. */
static void write_unit(vugi_writing *w)
{
    static const struct {
        double mm;
        const char *name;
    } units[] = {{0.001, "um"}, {10.0, "cm"}, {25.4, "in"}, {304.8, "ft"}, {1000.0, "m"}};
    const double mm = w->o->cavities->part->unit_mm;
    const char *name = "unit";
    for (size_t i = 0; i < sizeof units / sizeof *units; i++)
        if (fabs(mm - units[i].mm) <= 1e-9 * mm)
            name = units[i].name;
    if (fabs(mm - 1.0) > 1e-9)
        vugi_page_item(&w->page, "",
            "Lengths and places are in mm here: 1 %s of the file is %g mm.", name, mm);
}

/* Solids that lie beside each other in the file are held as one. */
static void write_apart(vugi_writing *w)
{
    const size_t apart = vugi_solids_apart(w->o->cavities->part);
    w->page.failed |= apart == 0;
    if (apart > 1)
        vugi_page_item(&w->page, "!",
            "The file has %zu solids that nothing joins. This plan holds and turns them as one, as "
            "they lie in it: fix them to each other so, or plan each from a file of its own.",
            apart);
}

void vugi_write_cavity(vugi_writing *w)
{
    char doubt[400];
    if (w->o->cavities->cavity_count > 1)
        write_several(w);
    else
        vugi_page_title(&w->page, "%s: the cavity takes %s%s", w->part,
            vugi_words_ml(w->o->info.capacity_mm3).text, with_holes(w));
    vugi_doubt_words(w->o->cavities, -1, w->letter, doubt, sizeof doubt);
    if (doubt[0])
        vugi_page_item(&w->page, "", "%s", doubt);
    write_apart(w);
    write_unit(w);
    write_sides(w);
    write_openings(w);
}

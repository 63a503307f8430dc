/* SPDX-License-Identifier: MIT
 * Where to drill. */
#include "plan/text/bores.h"

static const char *name_of(const vugi_writing *w, size_t opening, char name[24])
{
    vug_opening_letter(NULL, w->letter[opening], name, 24);
    return name;
}

/* A hole that was named and is not there yet. */
static void write_named(vugi_writing *w, size_t opening)
{
    const vugi_opening *o = w->o->cavities->opening + opening;
    char name[24];
    vugi_page_item(&w->page, name_of(w, opening, name),
        "%s mm wide at (%.1f, %.1f, %.1f), towards (%.2f, %.2f, %.2f), %.1f mm through the wall: "
        "named, but not in the mesh yet",
        vugi_words_mm(2.0 * o->radius).text, vugi_plain(o->center[0], 1),
        vugi_plain(o->center[1], 1), vugi_plain(o->center[2], 1), vugi_plain(-o->axis[0], 2),
        vugi_plain(-o->axis[1], 2), vugi_plain(-o->axis[2], 2), o->bore_length);
}

static void write_new(vugi_writing *w, const vug_plan_bore_info *b)
{
    char name[24], least[80] = "";
    if (b->least_mm < b->diameter_mm - 0.005)
        vugi_print(least, sizeof least, " (%s would do)", vugi_words_mm(b->least_mm).text);
    vugi_page_item(&w->page, name_of(w, b->opening, name),
        "%s mm wide%s at (%.1f, %.1f, %.1f), towards (%.2f, %.2f, %.2f), %.1f mm through the "
        "wall%s%s",
        vugi_words_mm(b->diameter_mm).text, least, vugi_plain(b->point_mm[0], 1),
        vugi_plain(b->point_mm[1], 1), vugi_plain(b->point_mm[2], 1),
        vugi_plain(b->direction[0], 2), vugi_plain(b->direction[1], 2),
        vugi_plain(b->direction[2], 2), b->depth_mm,
        b->visibility < 0.1 ? ", where it hardly shows" : "",
        b->chuck_clear ? "" : "; the chuck does not get there: use a pin vise");
}

void vugi_write_bores(vugi_writing *w)
{
    const vug_cavities *c = w->o->cavities;
    size_t planned = 0;
    for (size_t i = 0; i < c->opening_count; i++)
        planned += c->opening[i].planned;
    if (planned == 0) {
        vugi_page_title(&w->page, "No new hole is needed.");
        return;
    }
    vugi_page_title(&w->page, "Drill first, once the part is washed, dry and fully cured");
    for (size_t i = 0; i < c->opening_count; i++)
        if (c->opening[i].planned && !vugi_is_new(w->o, i))
            write_named(w, i);
    for (size_t i = 0; i < w->o->sites; i++)
        write_new(w, &w->o->site[i].bore);
    vugi_page_item(&w->page, "",
        "Mark each place, put tape over it, turn the drill by hand and stop when it gives.");
}

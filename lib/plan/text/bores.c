/* SPDX-License-Identifier: MIT
 * Where to drill. */
#include "plan/text/bores.h"

#include <math.h>

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

/* How a new hole is to be, wherever it is made. */
static void write_new(vugi_writing *w, const vug_plan_bore_info *b, const char *more)
{
    char name[24], least[80] = "";
    if (b->least_mm < b->diameter_mm - 0.005)
        vugi_print(least, sizeof least, " (no less than %s mm)", vugi_words_mm(b->least_mm).text);
    vugi_page_item(&w->page, name_of(w, b->opening, name),
        "%s mm wide%s at (%.1f, %.1f, %.1f), towards (%.2f, %.2f, %.2f), %.1f mm through the "
        "wall%s%s",
        vugi_words_mm(b->diameter_mm).text, least, vugi_plain(b->point_mm[0], 1),
        vugi_plain(b->point_mm[1], 1), vugi_plain(b->point_mm[2], 1),
        vugi_plain(b->direction[0], 2), vugi_plain(b->direction[1], 2),
        vugi_plain(b->direction[2], 2), b->depth_mm,
        b->visibility < 0.1 ? ", where it hardly shows" : "", more);
}

/* Where a hole is, as a rule measures it: from the nearer of each two sides. */
static void write_measured(vugi_writing *w, const double *point)
{
    static const char *const side[3][2] = {{"left", "right"}, {"front", "back"}, {"base", "top"}};
    const vug_mesh *part = w->o->cavities->part;
    const double *lo = part->lo, *hi = part->hi;
    const char *from[3];
    double away[3];
    for (int k = 0; k < 3; k++) {
        bool high = hi[k] - point[k] < point[k] - lo[k];
        from[k] = side[k][high];
        away[k] = high ? hi[k] - point[k] : point[k] - lo[k];
    }
    vugi_page_item(&w->page, "",
        "By a caliper from its outermost points: %.1f mm from its %s, %.1f mm from its %s, %.1f mm "
        "from its %s.",
        vugi_plain(away[0], 1), from[0], vugi_plain(away[1], 1), from[1], vugi_plain(away[2], 1),
        from[2]);
}

/* Holes to make: what a part has been filled by is there. */
static size_t planned_of(const vugi_writing *w)
{
    const vug_cavities *c = w->o->cavities;
    size_t planned = 0;
    for (size_t i = 0; i < c->opening_count; i++)
        planned += c->opening[i].planned && (!w->o->info.given || vugi_is_new(w->o, i));
    return planned;
}

static void write_all_named(vugi_writing *w)
{
    const vug_cavities *c = w->o->cavities;
    for (size_t i = 0; i < c->opening_count; i++)
        if (c->opening[i].planned && !vugi_is_new(w->o, i))
            write_named(w, i);
}

/* Are all its holes still to be made? */
static bool is_shut(const vugi_writing *w)
{
    return planned_of(w) == w->o->cavities->opening_count;
}

/* Why there are more than filling takes. */
static void write_company(vugi_writing *w)
{
    double pinned = 0.0;
    const vug_step_info *wash = w->o->drain;
    if (w->o->lone > 0 || w->o->sites == 0 || wash->wait_s < 0.0 /* it holds all the same */
        || wash->stuck_mm3 >= VUGI_LEAST_MM3
        || vug_exchange_diameter(NULL, &w->plan->solvent, NULL, &pinned))
        return;
    vugi_page_item(&w->page, "",
        "No cavity has one narrow hole alone: by one air comes in while liquid goes out by "
        "another. A lone hole of less than %s mm may hold the liquid in.",
        vugi_words_mm(0.1 * ceil(10.0 * pinned)).text);
}

void vugi_write_model(vugi_writing *w)
{
    if (!w->o->info.in_model || planned_of(w) == 0)
        return;
    vugi_page_title(&w->page, "Before printing: put these holes into the model.%s",
        is_shut(w) ? " A part that is shut can't be washed or cured inside."
                   : " Then it is washed and cured by them too.");
    write_all_named(w);
    for (size_t i = 0; i < w->o->sites; i++)
        write_new(w, &w->o->site[i].bore, "");
    write_company(w);
    vugi_page_item(&w->page, "",
        "Printed holes come out narrow: run a drill of their width through them by hand, once "
        "cured.");
}

/* What is left to do by the openings that are there is told by itself, where a part is not filled, or is already. */
static void write_none(vugi_writing *w)
{
    const vug_plan_info *info = &w->o->info;
    if (vugi_option_unfilled(w->o) || info->steps == (uint32_t)info->given)
        return;
    vugi_page_title(&w->page, "%s",
        info->within_limit            ? "No new hole is needed."
            : w->plan->most_bores > 0 ? "No new hole that was tried makes it better."
                                      : "No new hole: none was allowed.");
}

void vugi_write_bores(vugi_writing *w)
{
    if (planned_of(w) == 0) {
        write_none(w);
        return;
    }
    if (w->o->info.in_model)
        return;
    const bool full = w->o->info.given != 0;
    vugi_page_title(&w->page, "%s",
        full ? "Drill into the filled part, each hole in the step that says so"
             : "Drill, now that the part is washed, dry and fully cured, and before anything is in "
               "it");
    vugi_write_caution(w, VUG_CAUTION_DUST);
    vugi_write_caution(w, VUG_CAUTION_FULL);
    vugi_write_caution(w, VUG_CAUTION_THIN);
    if (!full)
        write_all_named(w);
    for (size_t i = 0; i < w->o->sites; i++) {
        const vug_plan_bore_info *b = &w->o->site[i].bore;
        write_new(w, b, b->chuck_clear ? "" : "; the chuck does not get there: use a pin vise");
        write_measured(w, b->point_mm);
        vugi_page_item(&w->page, "", "Put tape round the drill %.0f mm from its tip: no deeper.",
            ceil(b->depth_mm + 1.0));
    }
    if (full)
        vugi_page_item(&w->page, "",
            "Mark the places now. Work over a tray, turn the drill by hand, stop when it gives, "
            "and wipe off what "
            "comes out with the dust.");
    else
        vugi_page_item(&w->page, "",
            "Work over a tray, turn the drill by hand, stop when it gives, and rinse and blow the "
            "dust out.");
}

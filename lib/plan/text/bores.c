/* SPDX-License-Identifier: MIT
 * Where to drill. */
#include "plan/text/bores.h"

#include <math.h>

/* For two decimals: never "-0.00". */
static double plain(double x)
{
    return fabs(x) < 0.005 ? 0.0 : x;
}

void vugi_write_bores(vugi_writing *w)
{
    if (w->o->sites == 0) {
        vugi_page_title(&w->page, "No new hole is needed.");
        return;
    }
    vugi_page_title(&w->page, "Drill first, once the part is washed, dry and fully cured");
    for (size_t i = 0; i < w->o->sites; i++) {
        const vug_plan_bore_info *b = &w->o->site[i].bore;
        char name[16] = "", least[80] = "";
        vug_opening_letter(NULL, w->letter[b->opening], name, sizeof name);
        if (b->least_mm < b->diameter_mm - 0.005)
            vugi_print(least, sizeof least, " (%s would do)", vugi_words_mm(b->least_mm).text);
        vugi_page_item(&w->page, name,
            "%s mm wide%s at (%.1f, %.1f, %.1f), towards (%.2f, %.2f, %.2f), %.1f mm through the "
            "wall%s%s",
            vugi_words_mm(b->diameter_mm).text, least, b->point_mm[0], b->point_mm[1],
            b->point_mm[2], plain(b->direction[0]), plain(b->direction[1]), plain(b->direction[2]),
            b->depth_mm, b->visibility < 0.1 ? ", where it hardly shows" : "",
            b->chuck_clear ? "" : "; the chuck does not get there: use a pin vise");
    }
    vugi_page_line(&w->page,
        "  Mark each place, put tape over it, turn the drill by hand and stop when it gives.");
}

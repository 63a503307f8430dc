/* SPDX-License-Identifier: MIT
 * How to dry and cure it. */
#include "plan/text/cure.h"

/* Does most of the light come in by an opening? */
static bool by_opening(const vugi_writing *w)
{
    return w->o->wall_light <= 0.5;
}

/* By which way the light comes in: the minutes hold for nothing else. */
static void write_way(vugi_writing *w)
{
    const double none = 0.05;
    if (!by_opening(w))
        return;
    vugi_page_item(&w->page, "",
        "%s of that light comes through the wall, the rest by an opening: turn %s to the lamp all "
        "that time. Where no light falls by it, behind a bend or in a "
        "blind end, the inside stays wet: put a small light or a light guide in there, and wash it "
        "all the better before.",
        w->o->wall_light < none ? "Hardly any" : "Less than half",
        vugi_words_widest(w, NULL, true).text);
}

void vugi_write_cure(vugi_writing *w)
{
    const vug_plan_info *info = &w->o->info;
    if (info->given)
        return;
    vugi_page_title(&w->page, "Dry and cure");
    vugi_page_item(&w->page, "",
        "Blow it dry and let it stand, openings free, until nothing smells at them: vapour and "
        "resin must be out before light gets in.");
    vugi_write_caution(w, VUG_CAUTION_UV);
    if (info->cure_high_s <= 0.0 || info->cure_low_s > VUGI_LONGEST_S) {
        vugi_page_item(&w->page, "",
            "Hardly any light of a lamp gets inside: cure it with a light that goes in by an "
            "opening.");
        return;
    }
    char most[80];
    if (info->cure_high_s > VUGI_LONGEST_S)
        vugi_print(most, sizeof most, "more than a day");
    else
        vugi_print(most, sizeof most, "%s", vugi_words_time(info->cure_high_s).text);
    vugi_page_item(&w->page, "",
        "%sThe inside, behind walls of %.1f mm on half of it, needs "
        "%s (a lamp of 20 "
        "mW/cm2) to %s (5 mW/cm2); the resin's data sheet comes first. Done when nothing inside is "
        "tacky.",
        by_opening(w) ? "" : "Turn it before the lamp, so that all sides get light. ",
        info->wall_mm, vugi_words_time(info->cure_low_s).text, most);
    write_way(w);
}

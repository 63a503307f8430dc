/* SPDX-License-Identifier: MIT
 * How to rinse it, and let it run out. */
#include "plan/text/rinse.h"

static void write_step(vugi_writing *w, const vug_step_info *step)
{
    bool lone = w->o->cavities->opening_count < 2;
    if (step->inject_mm3 < VUGI_LEAST_MM3)
        vugi_page_item(&w->page, "", "Nothing more runs out so.");
    else if (step->wait_s < 0.0 || step->wait_s > VUGI_LONGEST_S)
        vugi_page_item(&w->page, "",
            "It does not run out by itself, %s: %sdraw it out with the syringe.",
            vugi_words_ml(step->inject_mm3).text,
            lone ? "" : "lean it until one hole stands clearly above the other, and ");
    else
        vugi_page_item(&w->page, "", "All openings free. %s run out: give it %s.",
            vugi_words_ml(step->inject_mm3).text, vugi_words_time(step->wait_s).text);
}

void vugi_write_rinse(vugi_writing *w)
{
    vugi_page_title(&w->page, "Rinse and drain before curing, with %s", w->rinse);
    for (uint32_t i = 0; i < w->o->info.steps; i++) {
        const vug_step_info *step = w->o->drain + i;
        vugi_write_pose(w, i + 1, i > 0 ? step - 1 : NULL, step);
        write_step(w, step);
    }
    vugi_page_item(&w->page, "",
        "What stays inside each time: %s. Then blow it dry and let it stand until it no longer "
        "smells.",
        vugi_words_ml(w->o->info.residue_mm3).text);
}

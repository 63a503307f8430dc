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

/* The only opening of its cavity that is not sealed. */
static bool is_lone(const vugi_option *o, size_t opening)
{
    const vugi_opening *all = o->cavities->opening;
    if (o->closed[opening])
        return false;
    for (size_t i = 0; i < o->cavities->opening_count; i++)
        if (i != opening && all[i].cavity == all[opening].cavity && !o->closed[i])
            return false;
    return true;
}

/* Between these diameters nobody knows whether air comes in past the liquid: that is up to the rim. */
static void write_lone(vugi_writing *w)
{
    double slides = 0.0, pinned = 0.0;
    if (vug_exchange_diameter(NULL, &w->plan->solvent, &slides, &pinned))
        return;
    for (uint32_t i = 0; i < w->o->cavities->opening_count; i++) {
        vug_opening_info info = {.struct_size = sizeof info};
        if (!is_lone(w->o, i) || vug_cavities_opening(w->o->cavities, i, &info)
            || info.diameter_mm <= slides || info.diameter_mm > pinned)
            continue;
        vugi_page_item(&w->page, "",
            "A lone hole such as %s, %s mm wide, may or may not run: air comes in past the liquid "
            "from %s mm on if the liquid's edge slides along the wall, from %s mm on if a sharp "
            "rim "
            "holds it. If it does not run, tap it, tilt it, or draw it out with the syringe.",
            vugi_words_openings(w, (vugi_openings){&i, 1}, (vugi_openings){NULL, 0}, NULL).text,
            vugi_words_mm(info.diameter_mm).text, vugi_words_mm(slides).text,
            vugi_words_mm(pinned).text);
    }
}

void vugi_write_rinse(vugi_writing *w)
{
    vugi_page_title(&w->page, "Rinse and drain before curing, with %s", w->rinse);
    for (uint32_t i = 0; i < w->o->info.steps; i++) {
        const vug_step_info *step = w->o->drain + i;
        vugi_write_pose(w, i + 1, i > 0 ? step - 1 : NULL, step);
        write_step(w, step);
    }
    write_lone(w);
    vugi_page_item(&w->page, "",
        "What stays inside each time: %s. Then blow it dry and let it stand until it no longer "
        "smells.",
        vugi_words_ml(w->o->info.residue_mm3).text);
}

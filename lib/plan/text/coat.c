/* SPDX-License-Identifier: MIT
 * A coat instead of a core, for who wants it light, or soon dry. */
#include "plan/text/coat.h"

/* As a kitchen scale or a jeweller's has it. */
static vugi_words words_grams(double grams)
{
    vugi_words w;
    vugi_print(w.text, sizeof w.text, grams < 9.95 ? "%.1f g" : "%.0f g", grams);
    return w;
}

void vugi_write_coat(vugi_writing *w)
{
    const vug_plan_info *info = &w->o->info;
    const double grams = 1e-6 * w->plan->fluid.density_kg_m3; /* of a mm3 */
    const bool sets = !(w->plan->fluid.volatile_share > 0.0);
    if (info->coats == 0)
        return;
    vugi_page_title(&w->page, "Or coat it, instead of filling it");
    vugi_page_item(&w->page, "",
        "Put in %s, cover all openings and hold it upright. Tip it once around end over "
        "end, then once around sideways, an eighth of a turn at a time, and wait each time until "
        "all has run down: so the %s comes to %s of the skin. Let the rest run out%s.",
        vugi_words_shares(w, w->plan->coat.share).text, w->stuff,
        vugi_words_percent(info->coat_wetted_mm2, info->skin_mm2).text,
        info->coats > 1 && !sets ? ", and keep it for the next coat" : "");
    vugi_page_item(&w->page, "",
        "%d coat%s of %s make%s a dry film of 0.1 mm: %s of %s stay in it, %s, where a "
        "filling is "
        "%s, %s.",
        (int)info->coats, info->coats == 1 ? "" : "s", w->paint, info->coats == 1 ? "s" : "",
        vugi_words_ml(info->coat_mm3).text, w->stuff, words_grams(grams * info->coat_mm3).text,
        vugi_words_ml(info->inject_mm3).text, words_grams(grams * info->inject_mm3).text);
    if (!sets && info->coat_dry_s > 0.0)
        vugi_page_item(&w->page, "",
            "Paint with water in it needs %s at least for each coat to dry, all openings free; air "
            "blown "
            "in makes it less.",
            vugi_words_long(info->coat_dry_s).text);
    else
        vugi_page_item(&w->page, "", "Turn it on until it has set%s.",
            info->coats > 1 ? ", and mix anew for each coat" : "");
}

/* SPDX-License-Identifier: MIT
 * What is inside already, as the plan takes it. */
#include "plan/text/inside.h"

void vugi_write_inside(vugi_writing *w)
{
    const vug_plan_info *info = &w->o->info;
    const vug_step_info *now = w->o->fill;
    char words[320] = "";
    if (!info->given)
        return;
    vug_pose_words(w->ctx, NULL, now->up, words, sizeof words);
    vugi_page_title(&w->page, "What is inside now: %s of %s, and %s of air (%s)",
        vugi_words_ml(now->inject_mm3).text, w->paint, vugi_words_ml(now->trapped_mm3).text,
        vugi_words_percent(now->trapped_mm3, info->capacity_mm3).text);
    vugi_page_item(&w->page, "", "Held %s%s. All openings are covered until a step says otherwise.",
        vugi_with_of(words), words);
    if (now->inlet >= 0)
        vugi_page_item(&w->page, "",
            "The air is taken to lie where a fill by %s in this pose leaves it. Look against a "
            "lamp: if "
            "you see it elsewhere, say where.",
            vugi_words_openings(w, (vugi_openings){now->feed, now->feed_count},
                (vugi_openings){NULL, 0}, NULL)
                .text);
    else if (info->unseen)
        vugi_page_item(&w->page, "",
            "A fill in this pose takes less, so it was held otherwise before. The air is taken to "
            "have "
            "risen from everywhere alike. Look against a lamp, and say where you see it.");
    else
        vugi_page_item(&w->page, "", "The air lies where you see it.");
}

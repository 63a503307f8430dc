/* SPDX-License-Identifier: MIT
 * A part that takes no paint in the pose and by the openings that it may have: why, and what would help. */
#include "plan/text/unfilled.h"

/* "Another pose or a new hole": what was not allowed and would help; "" for nothing. */
static vugi_list_words help_words(const vug_plan *plan)
{
    const char *help[3];
    size_t count = 0, used = 0;
    vugi_list_words words = {.text = ""};
    if (plan->most_turns == 0)
        help[count++] = "a turn";
    if (plan->pose_given)
        help[count++] = "another pose to begin with";
    if (plan->most_bores == 0)
        help[count++] = "a new hole";
    for (size_t i = 0; i < count; i++)
        used += vugi_print(words.text + used, sizeof words.text - used, "%s%s",
            i == 0              ? ""
                : i + 1 < count ? ", "
                                : " or ",
            help[i]);
    return words;
}

void vugi_write_unfilled(vugi_writing *w)
{
    const vug_step_info *step = w->o->fill;
    const bool held = vug_plan_caution(w->plan, w->index, VUG_CAUTION_HELD);
    const vugi_list_words help = help_words(w->plan);
    char pose[320] = "";
    if (!vugi_option_unfilled(w->o))
        return;
    vug_pose_words(w->ctx, NULL, step->up, pose, sizeof pose);
    vugi_page_title(&w->page, "It can't be filled so: hardly any %s stays in it", w->paint);
    vugi_page_item(&w->page, "", "Held %s%s, it takes %s by its openings: %s.", vugi_with_of(pose),
        pose, vugi_words_ml(w->o->info.inject_mm3).text,
        held ? "it and air hardly pass each other inside"
             : "none of them lies above the room that is to be filled, and what goes in runs out "
               "again");
    if (help.text[0])
        vugi_page_item(&w->page, "", "What would help: allow %s.%s", help.text,
            held ? " Or thin it." : "");
    else
        vugi_page_item(&w->page, "", "No turn and no new hole that was allowed helps.%s",
            held ? " Thin it." : "");
}

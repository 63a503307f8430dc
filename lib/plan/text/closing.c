/* SPDX-License-Identifier: MIT
 * Other ways to do it, and what to watch out for. */
#include "plan/text/closing.h"

#include <math.h>

/* "no", "1", "2" */
static vugi_words words_count(uint32_t count)
{
    vugi_words words = {"no"};
    if (count > 0)
        vugi_print(words.text, sizeof words.text, "%u", (unsigned)count);
    return words;
}

void vugi_write_others(vugi_writing *w)
{
    bool titled = false;
    for (size_t i = 0; i < w->plan->count; i++) {
        const vug_plan_info *info = &w->plan->option[i]->info;
        if (i == w->index)
            continue;
        if (!titled)
            vugi_page_title(&w->page, "Other ways to do it");
        titled = true;
        uint32_t turns = vugi_turns(w->plan->option[i]);
        char bare[80] = "", askew[120] = "";
        if (w->plan->bare_limit < 1.0)
            vugi_print(bare, sizeof bare, ", %s of the skin bare",
                vugi_words_percent(info->bare_mm2, info->skin_mm2).text);
        if (!info->within_limit && !(w->plan->tilt_deg > 0.0))
            vugi_print(askew, sizeof askew, " (more than asked for)");
        else if (!info->within_limit)
            vugi_print(askew, sizeof askew, " (more than asked for), held askew up to %s",
                vugi_words_percent(info->tilted_mm3, info->capacity_mm3).text);
        else if (w->plan->tilt_deg > 0.0)
            vugi_print(askew, sizeof askew,
                ", held askew up to %s, within the limit %.0f times out of 100",
                vugi_words_percent(info->tilted_mm3, info->capacity_mm3).text,
                floor(100.0 * info->chance));
        vugi_page_item(&w->page, "-", "%s new hole%s, %s turn%s: %s of the cavity stays air%s%s",
            words_count(info->bores).text, info->bores == 1 ? "" : "s", words_count(turns).text,
            turns == 1 ? "" : "s", vugi_words_percent(info->trapped_mm3, info->capacity_mm3).text,
            askew, bare);
    }
}

/* Those that stand where the work is, and that the plan's own words tell. */
static bool told_before(const vugi_writing *w, int32_t k)
{
    switch (k) {
    case VUG_CAUTION_RESIN:
    case VUG_CAUTION_SOLVENT:
    case VUG_CAUTION_UV:
    case VUG_CAUTION_DUST:
    case VUG_CAUTION_GLUE:
    case VUG_CAUTION_SEALED:
    case VUG_CAUTION_PRESSURE:
    case VUG_CAUTION_EXCHANGE:
    case VUG_CAUTION_TILT:
    case VUG_CAUTION_FULL:
        return true;
    case VUG_CAUTION_THIN:
        return !w->o->info.in_model;
    case VUG_CAUTION_LIMIT:
        return vugi_option_unfilled(w->o);
    default:
        return false;
    }
}

/* A hole of a model is moved, not drilled with care; what the steps see to is not told as open. */
static const char *text_of(const vugi_writing *w, int32_t k)
{
    if (k == VUG_CAUTION_THIN && w->o->info.in_model)
        return "A new hole comes near an edge or a thin wall: move it a little, or make the wall "
               "thicker there.";
    if (k == VUG_CAUTION_SEARCH && w->o->info.in_model)
        return "The estimate and the simulation differ: plan again with more columns before "
               "printing.";
    if (k == VUG_CAUTION_THROAT && w->o->info.within_limit)
        return "Passages inside are too narrow for bubbles in this liquid: it pushes the air "
               "through them, as the steps have it. Keep to their order.";
    return vug_caution_text(k);
}

void vugi_write_cautions(vugi_writing *w)
{
    vugi_page_title(&w->page, "Take care: data sheets and local rules come before this plan.");
    for (int32_t k = 0; k < VUG_CAUTION_COUNT; k++)
        if (!told_before(w, k) && vug_plan_caution(w->plan, w->index, k))
            vugi_page_item(&w->page, "-", "%s", text_of(w, k));
}

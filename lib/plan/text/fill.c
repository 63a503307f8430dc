/* SPDX-License-Identifier: MIT
 * How to fill it, step by step, and what stays. */
#include "plan/text/fill.h"

static const vugi_openings none = {NULL, 0};

static void write_first(vugi_writing *w, const vug_step_info *step)
{
    const char *cover = "";
    bool several = step->feed_count > 1;
    vugi_words rate = {"slowly"};
    vugi_list_words covered = vugi_words_openings(w,
        (vugi_openings){step->cover, step->cover_count}, none, NULL);
    vugi_list_words feeds = vugi_words_feeds(w, step);
    const uint32_t inlet = (uint32_t)step->inlet;
    if (step->rate_mm3_s > 0.0 && step->rate_mm3_s < 1e4)
        vugi_print(rate.text, sizeof rate.text, "not faster than %s",
            vugi_words_rate(step->rate_mm3_s).text);
    if (covered.text[0])
        cover = " Leave the other openings free until paint shows in them, then cover ";
    vugi_page_item(&w->page, "",
        "Inject %s%s with a needle that leaves room for air beside it, %s, until no more goes in: "
        "%s.%s%s%s%s",
        several ? "into one cavity after the other" : "by ",
        several ? "," : vugi_words_openings(w, (vugi_openings){&inlet, 1}, none, NULL).text,
        rate.text, feeds.text[0] ? feeds.text : "less than 0.05 mL",
        several ? " Paint does not get from one into another." : "", cover, covered.text,
        covered.text[0] ? "." : "");
}

static vugi_words wait_words(const vug_step_info *step)
{
    if (step->wait_s < 0.0 || step->wait_s > VUGI_LONGEST_S)
        return (vugi_words){"tap and shake it: bubbles hardly move"};
    return vugi_words_time(step->wait_s);
}

static void write_turn(vugi_writing *w, const vug_step_info *step)
{
    const uint32_t inlet = (uint32_t)step->inlet;
    const vugi_openings all = {step->vent, step->vent_count};
    const vugi_openings by = step->feed_count > 0 ? (vugi_openings){step->feed, step->feed_count}
                                                  : (vugi_openings){&inlet, step->inlet >= 0};
    vugi_words wait = wait_words(step);
    if (step->inlet < 0) {
        vugi_page_item(&w->page, "", "All openings stay covered. Wait: %s.", wait.text);
        return;
    }
    size_t vents;
    vugi_list_words vent = vugi_words_openings(w, all, by, &vents);
    vugi_list_words cover = vugi_words_openings(w, (vugi_openings){step->cover, step->cover_count},
        all, NULL);
    vugi_list_words inlets = vugi_words_openings(w, by, none, NULL);
    vugi_list_words feeds = vugi_words_feeds(w, step);
    vugi_page_item(&w->page, "", "Wait: %s. Then free %s%s%s%s%s%s%s.%s%s%s", wait.text,
        inlets.text,
        vents == 0      ? ""
            : vents > 1 ? ", then one by one "
                        : ", then ",
        vent.text, vents > 0 ? "," : "", feeds.text[0] ? " and top up " : " and let the air out",
        feeds.text, feeds.text[0] ? "" : "; nothing to top up", cover.text[0] ? " Keep " : "",
        cover.text, cover.text[0] ? " covered." : "");
}

static void write_loads(vugi_writing *w)
{
    const vug_plan_info *info = &w->o->info;
    if (info->loads == 1)
        vugi_page_title(&w->page, "Fill with %s: %s, which one load of a %g mL syringe holds",
            w->paint, vugi_words_ml(info->inject_mm3).text, w->plan->syringe_ml);
    else
        vugi_page_title(&w->page,
            "Fill with %s: %s, in %lld loads of a %g mL syringe, the last one %s", w->paint,
            vugi_words_ml(info->inject_mm3).text, (long long)info->loads, w->plan->syringe_ml,
            vugi_words_ml(1e3 * info->last_load_ml).text);
    vugi_page_item(&w->page, "", "Have %s ready; a tenth is for what stays in cups and syringe.",
        vugi_words_ml(1e3 * info->paint_ml).text);
}

void vugi_write_fill(vugi_writing *w)
{
    const vug_plan_info *info = &w->o->info;
    write_loads(w);
    for (uint32_t i = 0; i < info->steps; i++) {
        const vug_step_info *step = w->o->fill + i;
        if (i > 0 && step[-1].inlet >= 0)
            vugi_page_item(&w->page, "", "Cover all openings.");
        vugi_write_pose(w, i + 1, i > 0 ? step - 1 : NULL, step);
        if (i == 0)
            write_first(w, step);
        else
            write_turn(w, step);
        vugi_page_item(&w->page, "", "Air inside now: %s (%s).",
            vugi_words_ml(step->trapped_mm3).text,
            vugi_words_percent(step->trapped_mm3, info->capacity_mm3).text);
    }
    vugi_page_title(&w->page,
        "What stays inside as air: %s, %s of the cavity; held a few degrees askew, up to %s.",
        vugi_words_ml(info->trapped_mm3).text,
        vugi_words_percent(info->trapped_mm3, info->capacity_mm3).text,
        vugi_words_percent(info->tilted_mm3, info->capacity_mm3).text);
}

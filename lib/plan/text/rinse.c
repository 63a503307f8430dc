/* SPDX-License-Identifier: MIT
 * How to rinse it, and let it run out. */
#include "plan/text/rinse.h"

#include "plan/bores/lone.h"

#include <math.h>

/* Nobody stands by a sink longer than this, in s (common practice, no source). */
static const double PATIENCE_S = 600.0;

/* By hand, load by load. */
static bool can_draw(const vugi_writing *w, double mm3)
{
    return mm3 <= 1e3 * VUGI_MANY_LOADS * w->o->info.syringe_ml;
}

static void write_step(vugi_writing *w, const vug_step_info *step, const double *stuck)
{
    const bool alone = step->wait_s >= 0.0, helped = !alone || step->stuck_mm3 >= VUGI_LEAST_MM3;
    const double runs = step->inject_mm3 - (helped ? step->stuck_mm3 : 0.0);
    const bool draw = step->wait_s > PATIENCE_S && can_draw(w, runs);
    if (alone)
        vugi_page_item(&w->page, "", "All openings free. %s run out: give it %s%s%s.",
            vugi_words_ml(runs).text, vugi_words_time(step->wait_s).text,
            draw ? ", or draw it out by " : "",
            draw ? vugi_words_widest(w, helped ? stuck : NULL, false).text : "");
    const vugi_words drawn = vugi_words_ml(alone ? step->stuck_mm3 : step->inject_mm3);
    if (helped)
        vugi_page_item(&w->page, "",
            "%s%s does not run out by itself: draw %s out by %s with syringe and needle, letting "
            "air in between.",
            alone ? drawn.text : "All openings free. It", alone ? " more" : "",
            alone ? "it" : drawn.text, vugi_words_widest(w, stuck, true).text);
}

/* "A, 4.0 mm wide, or B, 3.9 mm wide,": the holes between these widths by which alone a cavity is washed; "" for none. */
static vugi_list_words lone_words(const vugi_writing *w, double over, double upto)
{
    vugi_list_words words = {.text = ""};
    size_t used = 0;
    for (size_t i = 0; i < w->o->cavities->cavity_count && used + 60 < sizeof words.text; i++) {
        vugi_lone own;
        if (!vugi_lone_hole(w->o->cavities, w->o->later, (int32_t)i, &own) || own.diameter <= over
            || own.diameter > upto)
            continue;
        const uint32_t number = (uint32_t)own.opening;
        const vugi_list_words name = vugi_words_openings(w, (vugi_openings){&number, 1},
            (vugi_openings){NULL, 0}, NULL);
        used += vugi_print(words.text + used, sizeof words.text - used, "%s%s, %s mm wide,",
            used > 0 ? " or " : "", name.text, vugi_words_mm(own.diameter).text);
    }
    return words;
}

/* Between these diameters nobody knows whether air comes in past the liquid: that is up to the rim. */
static void write_lone(vugi_writing *w)
{
    double slides = 0.0, pinned = 0.0;
    if (vug_exchange_diameter(NULL, &w->plan->solvent, &slides, &pinned))
        return;
    const vugi_list_words lone = lone_words(w, slides, pinned);
    if (lone.text[0])
        vugi_page_item(&w->page, "",
            "A lone hole such as %s may or may not run: air comes in past the liquid from %s mm on "
            "if the liquid's edge slides along the wall, from %s mm on if a sharp rim holds it. If "
            "it does not run, tap it, tilt it, or draw it out with the syringe.",
            lone.text, vugi_words_mm(0.1 * ceil(10.0 * slides)).text,
            vugi_words_mm(0.1 * ceil(10.0 * pinned)).text);
}

/* Does raw resin stay in, or hardly run? */
static bool resin_hardly(const vug_plan_info *info)
{
    return info->resin_mm3 > 0.5 * info->capacity_mm3;
}

bool vugi_rinse_draws(const vugi_writing *w)
{
    const vug_plan_info *info = &w->o->info;
    return info->resin_s < 0.0 || 1.5 * info->resin_s > VUGI_LONGEST_S || resin_hardly(info);
}

static void write_resin(vugi_writing *w)
{
    const vug_plan_info *info = &w->o->info;
    const bool more = info->drain_steps > 1 && info->resin_mm3 >= VUGI_LEAST_MM3;
    if (vugi_rinse_draws(w))
        vugi_page_item(&w->page, "",
            "First the raw resin, which %s out by itself here: draw it out by %s with a "
            "syringe kept for resin.",
            resin_hardly(info) && info->resin_s >= 0.0 ? "hardly runs" : "does not run",
            vugi_words_widest(w, NULL, true).text);
    else
        vugi_page_item(&w->page, "",
            "First let the raw resin run out, held as in 1: up to %s from a full part (resin of "
            "0.3 Pa s)%s. Then %s of it is left%s.",
            vugi_words_time(1.5 * info->resin_s).text,
            info->resin_s > 1800.0 && can_draw(w, info->capacity_mm3)
                ? ", or draw it out with a syringe kept for resin"
                : "",
            vugi_words_ml(info->resin_mm3).text,
            !more ? ", for the rinses"
                : info->drain_steps == 2
                ? ": give it as long again held as in 2. The rest is for the rinses"
                : ": give it as long again held in each of the others. The rest "
                  "is for the rinses");
}

/* "in 1", "in 1 and 2", "in 1 to 3" */
static vugi_words words_steps(uint32_t steps)
{
    vugi_words words;
    if (steps > 1)
        vugi_print(words.text, sizeof words.text, "in 1 %s %u", steps == 2 ? "and" : "to",
            (unsigned)steps);
    else
        vugi_print(words.text, sizeof words.text, "in 1");
    return words;
}

/* Nobody fills a part with more solvent than this, mm3 (common practice, no source). */
static const double MUCH_MM3 = 5e5;

/* With a tenth of it at a time, as vug_rinse_compare() has it for a cavity that holds no more: false where it is filled. */
static bool swirled(const vugi_writing *w, double *at_a_time, vug_rinse *told)
{
    const vug_plan_info *info = &w->o->info;
    const double tenth = 0.1, left = 1e-3;
    const double stays = info->residue_mm3 + info->film_mm3;
    *told = (vug_rinse){.struct_size = sizeof *told};
    *at_a_time = tenth * (info->capacity_mm3 - stays);
    return info->rinses > 0 && info->capacity_mm3 >= MUCH_MM3
        && !vug_rinse_compare(NULL, stays + *at_a_time, stays, 1.0, left, told);
}

double vugi_rinse_amount(const vugi_writing *w)
{
    double at_a_time;
    vug_rinse told;
    return swirled(w, &at_a_time, &told) ? told.soak_mm3 : w->o->info.rinse_mm3;
}

/* "once", "2 times" */
static vugi_words words_times(int count)
{
    vugi_words words = {"once"};
    if (count > 1)
        vugi_print(words.text, sizeof words.text, "%d times", count);
    return words;
}

/* How often, and with how much. */
static void write_times(vugi_writing *w)
{
    const vug_plan_info *info = &w->o->info;
    const vugi_words steps = words_steps(info->drain_steps);
    double at_a_time;
    vug_rinse told;
    if (info->rinses == 0)
        vugi_page_item(&w->page, "",
            "So little runs out that no count of rinses cleans it: draw each out with a syringe, "
            "or give "
            "the part another hole.");
    else if (swirled(w, &at_a_time, &told))
        vugi_page_item(&w->page, "",
            "Full of solvent it would be a fire in waiting: swirl it with %s of fresh liquid at a "
            "time, so that it comes to all sides, %s, %s in all, and let it out as %s. Then a "
            "thousandth of the resin is left.",
            vugi_words_ml(at_a_time).text, words_times((int)told.soak_cycles).text,
            vugi_words_ml(told.soak_mm3).text, steps.text);
    else
        vugi_page_item(&w->page, "",
            "Rinse it %s, with fresh liquid%s, %s in all: fill it, cover the openings, shake for a "
            "minute, let it out as %s. Then a thousandth of the resin is left.",
            words_times((int)info->rinses).text, info->rinses > 1 ? " each time" : "",
            vugi_words_ml(info->rinse_mm3).text, steps.text);
}

static void write_count(vugi_writing *w)
{
    const vug_plan_info *info = &w->o->info;
    const bool pools = info->residue_mm3 >= VUGI_LEAST_MM3;
    write_times(w);
    if (!pools && info->film_mm3 < VUGI_LEAST_MM3)
        vugi_page_item(&w->page, "", "Hardly anything stays inside each time.");
    else
        vugi_page_item(&w->page, "",
            "What stays inside each time: %s in blind ends, and %s on the walls.%s",
            vugi_words_ml(info->residue_mm3).text, vugi_words_ml(info->film_mm3).text,
            pools && info->rinses > 0
                ? " Neither one more pose nor a straight needle gets it out; the shaking mixes it "
                  "with what is fresh, and the count allows for it. After the last time blow "
                  "through one opening, or let it dry out."
                : "");
}

void vugi_write_rinse(vugi_writing *w)
{
    if (w->o->info.given)
        return;
    vugi_page_title(&w->page, "Wash before curing: rinse with %s, and let it run out", w->rinse);
    vugi_write_caution(w, VUG_CAUTION_RESIN);
    vugi_write_caution(w, VUG_CAUTION_SOLVENT);
    write_resin(w);
    for (uint32_t i = 0; i < w->o->info.drain_steps; i++) {
        const vug_step_info *step = w->o->drain + i;
        vugi_write_pose(w, i + 1, i > 0 ? step - 1 : NULL, step);
        write_step(w, step, w->o->stuck + i * w->o->cavities->cavity_count);
    }
    write_lone(w);
    write_count(w);
}

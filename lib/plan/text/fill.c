/* SPDX-License-Identifier: MIT
 * How to fill it, step by step, and what stays. */
#include "plan/text/fill.h"

#include "base/angle.h"
#include "base/vec.h"
#include "flow/viscosity.h"
#include "pose/say.h"

#include <math.h>
#include <string.h>

static const vugi_openings none = {NULL, 0};

/* Nobody is to wait longer than this, in s, without being told what helps (common practice, no source). */
static const double PATIENCE_S = 120.0;

static vugi_words rate_words(const vug_step_info *step)
{
    vugi_words rate = {"slowly"};
    if (step->rate_mm3_s > 0.0 && step->rate_mm3_s < 1e4)
        vugi_print(rate.text, sizeof rate.text, "not faster than %s",
            vugi_words_rate(step->rate_mm3_s).text);
    return rate;
}

/* Where paint shows before the end: openings are covered then, and the syringe seals the one it is in. */
static vugi_list_words show_words(const vugi_writing *w, const vug_step_info *step)
{
    vugi_list_words words = {.text = ""};
    const vugi_openings list = {step->show, step->show_count},
                        feed = {step->feed, step->feed_count};
    size_t others, used = 0;
    vugi_list_words show = vugi_words_openings(w, list, feed, &others);
    if (others > 0)
        used = vugi_print(words.text, sizeof words.text, " Once %s shows in %s, cover %s.",
            w->stuff, show.text, others > 1 ? "each of them" : "it");
    for (size_t i = 0; i < feed.count && used < sizeof words.text; i++)
        if (vugi_listed(list, feed.number[i]))
            used += vugi_print(words.text + used, sizeof words.text - used,
                " Once %s stands in %s, press the syringe tight into it.", w->stuff,
                vugi_words_openings(w, (vugi_openings){feed.number + i, 1}, none, NULL).text);
    return words;
}

static vugi_words worst_words(double seconds)
{
    if (seconds < 0.0)
        return (vugi_words){"never"};
    return seconds > VUGI_LONGEST_S ? (vugi_words){"more than a day"} : vugi_words_time(seconds);
}

/* A wait, with the worst of its range where that decides what to do. */
static vugi_list_words wait_words(const vugi_writing *w, const vug_step_info *step)
{
    vugi_list_words words;
    bool never = step->wait_s < 0.0 || step->wait_s > VUGI_LONGEST_S;
    vugi_words time = worst_words(step->wait_s), worst = worst_words(step->wait_high_s);
    bool alike = strcmp(time.text, worst.text) == 0;
    if (never)
        vugi_print(words.text, sizeof words.text,
            "tap and shake it, or draw the air out with needle and syringe: bubbles hardly move");
    else if (step->wait_high_s >= 0.0 && step->wait_high_s <= PATIENCE_S)
        vugi_print(words.text, sizeof words.text, "%s", time.text);
    else
        vugi_print(words.text, sizeof words.text,
            "%s%s%s%s, for air and %s to pass each other in a narrow place; sooner if you draw "
            "the air out with needle and syringe from behind it",
            time.text, alike ? "" : ", if it is thick or old ", alike ? "" : worst.text,
            !alike && step->wait_high_s < 0.0 ? " (thin it)" : "", w->stuff);
    return words;
}

static void write_first(vugi_writing *w, const vug_step_info *step)
{
    bool several = step->feed_count > 1;
    vugi_list_words cover = vugi_words_openings(w, (vugi_openings){step->cover, step->cover_count},
        none, NULL);
    vugi_list_words show = show_words(w, step);
    vugi_list_words feeds = vugi_words_feeds(w, step);
    const uint32_t inlet = (uint32_t)step->inlet;
    if (step->inlet < 0) {
        vugi_page_item(&w->page, "", "No %s goes in by any opening in this pose.", w->stuff);
        return;
    }
    vugi_page_item(&w->page, "",
        "%s %s%s with a %s that leaves room for air beside it, %s, until no more goes in: "
        "%s.%s%s%s%s%s",
        vugi_by_hose(w) ? "Let it run in" : "Inject",
        several ? "into one cavity after the other" : "by ",
        several ? "," : vugi_words_openings(w, (vugi_openings){&inlet, 1}, none, NULL).text,
        vugi_by_hose(w) ? "hose" : "needle", rate_words(step).text,
        feeds.text[0] ? feeds.text : "less than 0.05 mL",
        several ? " Nothing gets from one into another." : "", cover.text[0] ? " Keep " : "",
        cover.text, cover.text[0] ? " covered meanwhile." : "", show.text);
    if (step->wait_s != 0.0 || step->wait_high_s != 0.0)
        vugi_page_item(&w->page, "", "Wait meanwhile: %s.", wait_words(w, step).text);
}

/* What is drilled in steps first to last of a filled part: "C"; "" for nothing. */
static vugi_list_words drilled_words(const vugi_writing *w, size_t first, size_t last)
{
    const vugi_missing before = vugi_not_drilled(w->o, first - 1),
                       after = vugi_not_drilled(w->o, last);
    return vugi_words_openings(w, (vugi_openings){before.number, before.count},
        (vugi_openings){after.number, after.count}, NULL);
}

/* " Drill C over a tray.": what is drilled in step k. */
static vugi_list_words drill_words(const vugi_writing *w, size_t k)
{
    const vugi_list_words now = drilled_words(w, k, k);
    vugi_list_words words = {.text = ""};
    if (now.text[0])
        vugi_print(words.text, sizeof words.text, " Drill %s, over a tray, and wipe.", now.text);
    return words;
}

/* Paint that is inside already stands over an inlet when an opening that is freed after it lies higher. */
static bool stands_over(const vugi_writing *w, const vug_step_info *step)
{
    const double clear_mm = 1.0;
    const vugi_opening *all = w->o->cavities->opening;
    for (size_t i = 0; i < step->feed_count; i++)
        for (size_t k = 0; k < step->open_count; k++) {
            const vugi_opening *in = all + step->feed[i], *out = all + step->open[k];
            if (in->cavity == out->cavity
                && vugi_dot(out->center, step->up) > vugi_dot(in->center, step->up) + clear_mm)
                return true;
        }
    return false;
}

static void write_turn(vugi_writing *w, size_t k, const vug_step_info *step)
{
    const vugi_openings by = {step->feed, step->feed_count};
    vugi_list_words wait = wait_words(w, step);
    if (step->inlet < 0) {
        vugi_page_item(&w->page, "", "All openings stay covered. Wait: %s.", wait.text);
        return;
    }
    size_t others;
    vugi_list_words open = vugi_words_openings(w, (vugi_openings){step->open, step->open_count}, by,
        &others);
    const vugi_missing missing = vugi_not_drilled(w->o, k);
    vugi_list_words cover = vugi_words_openings(w, (vugi_openings){step->cover, step->cover_count},
        (vugi_openings){missing.number, missing.count}, NULL);
    vugi_list_words show = show_words(w, step);
    vugi_list_words inlets = vugi_words_openings(w, by, none, NULL);
    vugi_list_words feeds = vugi_words_feeds(w, step);
    const bool over = feeds.text[0] && stands_over(w, step);
    vugi_page_item(&w->page, "", "Wait: %s.%s Then %s %s%s%s%s%s%s.%s%s%s%s", wait.text,
        drill_words(w, k).text, over ? "press the syringe tight into" : "free", inlets.text,
        others > 0 ? (over ? ", free " : ", then ") : "", open.text, others > 0 ? "," : "",
        feeds.text[0] ? " and top up " : " and let the air out; there is nothing to top up",
        feeds.text, cover.text[0] ? " Keep " : "", cover.text, cover.text[0] ? " covered." : "",
        show.text);
}

/* To all four sides, each time in words of the sides that rise. */
static void write_lean(vugi_writing *w, const vug_step_info *step)
{
    const int up = vugi_say(step->up).up;
    if (!(step->lean_deg > 0.0))
        return;
    vugi_page_item(&w->page, "",
        "Keep all openings covered and lean it from there by %g degrees, so that its %s rises, "
        "then "
        "its %s, its %s and its %s, each until the bubbles have come to rest, and hold it as "
        "before.",
        step->lean_deg, vugi_side_name(vugi_side_around(up, 0)),
        vugi_side_name(vugi_side_around(up, 1)), vugi_side_name(vugi_side_around(up, 2)),
        vugi_side_name(vugi_side_around(up, 3)));
}

/* "once", "twice", "3 times" */
static vugi_words times_words(uint32_t count)
{
    vugi_words words = {"once"};
    if (count == 2)
        return (vugi_words){"twice"};
    if (count > 2)
        vugi_print(words.text, sizeof words.text, "%u times", (unsigned)count);
    return words;
}

/* The only pose, held anew. */
static void write_anew(vugi_writing *w, const char *mark, const vug_step_info *step)
{
    const vugi_openings by = {step->feed, step->feed_count};
    size_t others, covered;
    vugi_list_words inlets = vugi_words_openings(w, by, none, NULL);
    vugi_list_words open = vugi_words_openings(w, (vugi_openings){step->open, step->open_count}, by,
        &others);
    vugi_list_words cover = vugi_words_openings(w, (vugi_openings){step->cover, step->cover_count},
        none, &covered);
    const uint32_t repeats = w->o->info.repeats;
    char times[40] = "", show[200] = "";
    if (repeats > 1)
        vugi_print(times, sizeof times, " Do that %s.", times_words(repeats).text);
    if (others > 0)
        vugi_print(show, sizeof show, " As soon as %s shows in %s, cover %s.", w->stuff, open.text,
            others > 1 ? "each of them" : "it");
    vugi_page_item(&w->page, mark,
        "Put it down, all openings covered, and hold it anew as in 1. Wait: %s. Then free %s%s%s, "
        "and top up by %s what goes in, also if it is hardly any: no hand is exact, and air that "
        "missed its way finds it when the part is held a little otherwise.%s%s%s%s%s",
        wait_words(w, step).text, inlets.text, others > 0 ? ", then " : "", open.text, inlets.text,
        show, covered > 0 ? " Keep " : "", cover.text, covered > 0 ? " covered meanwhile." : "",
        times);
}

/* The last turn and the one before. A first fill is not done again: then the part is only held so. */
static void write_pair(vugi_writing *w, const char *mark, uint32_t last)
{
    const bool given = w->o->info.given != 0, fill = last == 2 - (uint32_t)given;
    const uint32_t end = last - (uint32_t)!given; /* step number last */
    const bool drilled = drilled_words(w, fill ? end : end - 1, end).text[0] != '\0';
    char held[16] = "at first", again[32], more[48] = "";
    if (!fill || !given)
        vugi_print(held, sizeof held, "in %u", (unsigned)last - 1);
    if (fill)
        vugi_print(again, sizeof again, "%u", (unsigned)last);
    else
        vugi_print(again, sizeof again, "%u and %u", (unsigned)last - 1, (unsigned)last);
    if (w->o->info.repeats > 1)
        vugi_print(more, sizeof more, "; all that %s", times_words(w->o->info.repeats).text);
    vugi_page_item(&w->page, mark,
        "Turn it back to how it was held %s, all openings covered, and do %s again%s%s, also if "
        "hardly any %s goes in: no hand is exact, and what missed its way finds it then.",
        held, again, drilled ? ", but for the drilling" : "", more, w->stuff);
}

/* The last steps, done again. */
static void write_again(vugi_writing *w, uint32_t number)
{
    const vug_plan_info *info = &w->o->info;
    const vug_step_info *first = w->o->fill + info->steps - info->again;
    char mark[24];
    double inject = 0.0;
    if (info->repeats == 0)
        return;
    for (uint32_t i = 0; i < info->again; i++)
        inject += first[i].inject_mm3;
    vugi_print(mark, sizeof mark, "%u", (unsigned)number);
    vugi_page_item(&w->page, "", "Cover all openings.");
    if (info->again == info->repeats)
        write_anew(w, mark, first);
    else
        write_pair(w, mark, number - 1);
    if (inject >= VUGI_LEAST_MM3)
        vugi_page_item(&w->page, "", "%s go in by that.", vugi_words_ml(inject).text);
    vugi_page_item(&w->page, "", "Air inside now: %s (%s).", vugi_words_ml(info->trapped_mm3).text,
        vugi_words_percent(info->trapped_mm3, info->capacity_mm3).text);
}

/* How fast to turn, where it matters. */
static void write_pace(vugi_writing *w, const vug_step_info *step)
{
    if (w->o->info.any_pace || !(step->angle_deg > 0.0))
        return;
    if (step->way_count == 0)
        vugi_page_item(&w->page, "", "Turn it in one go.");
    else
        vugi_page_item(&w->page, "",
            "Turn it slowly, with %zu stop%s on the way at equal steps, each until the bubbles "
            "have "
            "come to rest.",
            step->way_count, step->way_count == 1 ? "" : "s");
}

/* Smaller bare spots are not told, mm2. */
static const double LEAST_SPOT = 1.0;

/* "towards its top and its left side": on which sides of the part a point lies; those it lies amid are left out. */
static vugi_words where_words(const vugi_writing *w, const double point[3])
{
    const vug_mesh *part = w->o->cavities->part;
    const double off = 0.2; /* of the way from side to side, from the middle */
    vugi_words words = {"near the middle of the part"};
    size_t used = 0;
    for (int k = 2; k >= 0; k--) {
        double way = part->hi[k] - part->lo[k], mid = 0.5 * (part->hi[k] + part->lo[k]);
        if (!(fabs(point[k] - mid) > off * way))
            continue;
        used += vugi_print(words.text + used, sizeof words.text - used, "%s its %s",
            used > 0 ? " and" : "towards", vugi_side_name(2 * k + (point[k] < mid)));
    }
    return words;
}

/* So little of the skin is not told apart: nobody finds it. */
static const double LEAST_SKIN = 1e-3;

static void write_skin(vugi_writing *w)
{
    const vug_plan_info *info = &w->o->info;
    const double all = info->skin_mm2, rest = info->filmed_mm2 + info->bare_mm2;
    char film[60], bare[60];
    vugi_print(film, sizeof film, ", %s", vugi_words_percent(info->filmed_mm2, all).text);
    vugi_print(bare, sizeof bare, ", %s", vugi_words_percent(info->bare_mm2, all).text);
    if (rest <= LEAST_SKIN * all)
        vugi_page_item(&w->page, "", "All of the skin%s has %s behind it.",
            rest > 0.0 ? " but less than a thousandth" : "", w->stuff);
    else
        vugi_page_item(&w->page, "",
            "Of the skin, as it is seen from outside, %s has %s behind it%s%s%s%s.",
            vugi_words_percent(info->backed_mm2, all).text, w->stuff,
            info->filmed_mm2 > 0.0 ? film : "", info->filmed_mm2 > 0.0 ? " a film of it" : "",
            info->bare_mm2 > 0.0 ? bare : "", info->bare_mm2 > 0.0 ? " is bare" : "");
    if (info->spot_mm2 >= LEAST_SPOT)
        vugi_page_item(&w->page, "", "The largest bare spot, about %.0f mm across, lies %s.",
            fmax(1.0, 2.0 * sqrt(info->spot_mm2 / VUGI_PI)), where_words(w, info->spot_at_mm).text);
}

/* What it takes to be surer of it. */
static void write_surer(vugi_writing *w)
{
    const double alike = 0.05, sure = 0.95;
    const vug_plan_info *info = &w->o->info;
    const vugi_option *best = w->o;
    for (size_t i = 0; i < w->plan->count; i++)
        if (w->plan->option[i]->info.chance > best->info.chance)
            best = w->plan->option[i];
    if (info->chance >= sure)
        return;
    if (best->info.chance > info->chance + alike)
        vugi_page_item(&w->page, "",
            "With %u new hole%s and %u turn%s, see below, it is within %.0f times out of 100.",
            (unsigned)best->info.bores, best->info.bores == 1 ? "" : "s",
            (unsigned)vugi_turns(best), vugi_turns(best) == 1 ? "" : "s",
            floor(100.0 * best->info.chance));
    else
        vugi_page_item(&w->page, "",
            "No way that was tried is surer%s: look for bubbles against a lamp before %s, and "
            "draw them out with needle and syringe, or drill where one stays.",
            info->bores == 0 ? ""
                : info->in_model
                ? ". Where the new hole is, and how wide, decides it: before you print, plan again "
                  "with a drill a fifth wider, or another pose. If that is no surer"
                : ". Where the new hole is, and how wide, decides it: before you drill, plan again "
                  "with a drill a fifth wider, or another pose. If that is no surer",
            w->plan->fluid.volatile_share > 0.0 ? "sealing" : "it sets");
}

/* What may become of it in other hands. */
static void write_askew(vugi_writing *w)
{
    const vug_plan_info *info = &w->o->info;
    const bool missed = vugi_option_air(w->o, 0.0) > w->plan->limit;
    char within[120];
    if (missed)
        vugi_print(within, sizeof within,
            "; with what stays sealed it is more than the %g %% that were asked for in any hand",
            100.0 * w->plan->limit);
    else
        vugi_print(within, sizeof within,
            ", and %.0f times out of 100 it is within the %g %% that were asked for",
            floor(100.0 * info->chance), 100.0 * w->plan->limit);
    vugi_page_item(&w->page, "",
        "Held %g degrees askew, each pose any way, holes a tenth wider or narrower, %s a tenth "
        "thicker or thinner: 19 times out of 20 it is %s at most%s.",
        w->plan->tilt_deg, w->stuff, vugi_words_percent(info->tilted_mm3, info->capacity_mm3).text,
        within);
    if (!missed)
        write_surer(w);
}

static void write_rest(vugi_writing *w)
{
    const vug_plan_info *info = &w->o->info;
    vugi_page_title(&w->page, "What stays inside as air: %s, %s of %s%s.",
        vugi_words_ml(info->trapped_mm3).text,
        vugi_words_percent(info->trapped_mm3, info->capacity_mm3).text,
        info->sealed_mm3 > 0.0 ? "what openings lead to" : "the cavity",
        vugi_turns(w->o) > 0 && info->any_pace ? ", however fast or slowly it is turned" : "");
    if (w->plan->tilt_deg > 0.0 && info->steps > (uint32_t)info->given)
        write_askew(w);
    write_skin(w);
}

/* How far a needle goes past the wall, mm: 5 (common practice, no source), but to half the way across where that is
 * less. A way across is 4 V / A on average (Cauchy's mean chord). */
static double needle_past(const vugi_writing *w)
{
    const vug_step_info *first = w->o->fill + w->o->info.given;
    const vug_cavities *c = w->o->cavities;
    double past = 5.0;
    for (size_t i = 0; i < first->feed_count; i++) {
        const vugi_cavity *in = c->cavity + c->opening[first->feed[i]].cavity;
        past = fmin(past, floor(2.0 * in->volume / in->area));
    }
    return fmax(1.0, past);
}

/* Nobody presses evenly for longer, s: then it goes in by small pushes, mm3; and what sets is hardly given longer for all of
 * it (common practice, no source). */
static const double STEADY_S = 300.0, PUSH_MM3 = 200.0, SETS_S = 1200.0;

/* The first pose's rate, as seconds for a syringe. */
static void write_pace_of_load(vugi_writing *w)
{
    const vug_step_info *first = w->o->fill;
    const double rate = first->rate_mm3_s;
    double load = 1e3 * fmin(w->o->info.syringe_ml, 1e-3 * first->inject_mm3);
    if (w->o->info.loads > VUGI_MANY_LOADS || !(rate > 0.0) || rate >= 1e4 || load < VUGI_LEAST_MM3
        || load / rate > VUGI_LONGEST_S)
        return;
    if (load / rate <= STEADY_S)
        vugi_page_item(&w->page, "", "Take at least %s for each load, or it spills.",
            vugi_words_time(load / rate).text);
    else
        vugi_page_item(&w->page, "",
            "Take at least %s for each load, or it spills: in pushes of 0.2 mL, one every %s.",
            vugi_words_time(load / rate).text, vugi_words_time(PUSH_MM3 / rate).text);
    if (!(w->plan->fluid.volatile_share > 0.0) && first->inject_mm3 / rate > SETS_S)
        vugi_page_item(&w->page, "!",
            "The first step takes %s at least so: use what sets no sooner, or give it wider holes.",
            vugi_words_long(first->inject_mm3 / rate).text);
}

/* More than a hand holds, kg (common practice, no source). */
static const double HEAVY_KG = 3.0;

static void write_tools(vugi_writing *w)
{
    const vug_plan_info *info = &w->o->info;
    const double kg = 1e-9 * info->inject_mm3 * w->plan->fluid.density_kg_m3;
    if (info->needle_gauge > 0)
        vugi_page_item(&w->page, "", "Push the %s %g mm past the wall.",
            vugi_by_hose(w) ? "hose" : "needle", needle_past(w));
    if (kg > HEAVY_KG)
        vugi_page_item(&w->page, "!",
            "Full, it weighs %.0f kg more than empty: hold and turn it in a cradle, by two people, "
            "not in the hand.",
            kg);
}

/* By a layer on a plate that is tilted: what creeps is no stiffer than the paint of the plan. */
static void write_stiffness(vugi_writing *w)
{
    const double layer_mm = 1.0, steepest = 85.0, step = 5.0;
    double stress = 0.0, slope = step;
    if (vugi_fluid_yield(&w->plan->fluid) <= 0.0) /* creeps on any */
        return;
    if (vug_yield_from_slope(NULL, w->plan->fluid.density_kg_m3, layer_mm, steepest, &stress)
        || stress < vugi_fluid_yield(&w->plan->fluid))
        return;
    while (slope < steepest
        && (vug_yield_from_slope(NULL, w->plan->fluid.density_kg_m3, layer_mm, slope, &stress)
            || stress < vugi_fluid_yield(&w->plan->fluid)))
        slope += step;
    vugi_page_item(&w->page, "",
        "Try the %s: a layer of 1 mm on a plate must creep once the plate leans %.0f degrees, "
        "or it is stiffer "
        "than this plan bears.",
        w->stuff, slope);
}

static void write_loads(vugi_writing *w)
{
    const vug_plan_info *info = &w->o->info;
    if (info->given && info->inject_mm3 < VUGI_LEAST_MM3)
        vugi_page_title(&w->page, "Go on: the air has to get out, but hardly any %s fits in",
            w->stuff);
    else if (vugi_by_hose(w))
        vugi_page_title(&w->page,
            "Fill with %s: %s, by a funnel and a hose, in place of %lld loads of a %g mL syringe",
            w->paint, vugi_words_ml(info->inject_mm3).text, (long long)info->loads,
            w->o->info.syringe_ml);
    else if (info->loads == 1)
        vugi_page_title(&w->page, "Fill with %s: %s, which one load of a %g mL syringe holds",
            w->paint, vugi_words_ml(info->inject_mm3).text, w->o->info.syringe_ml);
    else
        vugi_page_title(&w->page,
            "Fill with %s: %s, in %lld loads of a %g mL syringe, the last one %s", w->paint,
            vugi_words_ml(info->inject_mm3).text, (long long)info->loads, w->o->info.syringe_ml,
            vugi_words_ml(1e3 * info->last_load_ml).text);
    vugi_write_caution(w, VUG_CAUTION_PRESSURE);
    vugi_write_caution(w, VUG_CAUTION_TILT);
    if (!(w->plan->fluid.volatile_share > 0.0))
        vugi_page_item(&w->page, "!",
            "It sets: mix it when all is at hand, be done within the time its data sheet gives, "
            "and fill no more at once than that allows: much of it gets hot as it sets. Until it "
            "has, it may irritate and sensitise skin: nitrile gloves, goggles, fresh air, and its "
            "safety data sheet.");
    write_pace_of_load(w);
    write_tools(w);
    write_stiffness(w);
}

/* A part that is filled as it is. */
static void write_nothing(vugi_writing *w)
{
    const vug_plan_info *info = &w->o->info;
    if (info->within_limit)
        vugi_page_title(&w->page,
            "Nothing is left to do but to close it: no more air is inside than the %g %% that may "
            "stay.",
            100.0 * w->plan->limit);
    else
        vugi_page_title(&w->page,
            "No turn and no new hole that was allowed brings out more air than there is now.");
}

void vugi_write_fill(vugi_writing *w)
{
    const vug_plan_info *info = &w->o->info;
    const uint32_t given = (uint32_t)info->given;
    if (info->steps > given)
        write_loads(w);
    else
        write_nothing(w);
    const uint32_t different = info->steps - info->again;
    for (uint32_t i = given; i < different; i++) {
        const vug_step_info *step = w->o->fill + i;
        if (i > given && step[-1].inlet >= 0)
            vugi_page_item(&w->page, "", "Cover all openings.");
        vugi_write_pose(w, i + 1 - given, i > 0 ? step - 1 : NULL, step);
        if (i == 0) {
            write_first(w, step);
        } else {
            write_pace(w, step);
            write_lean(w, step);
            write_turn(w, i, step);
        }
        vugi_page_item(&w->page, "", "Air inside now: %s (%s).",
            vugi_words_ml(step->trapped_mm3).text,
            vugi_words_percent(step->trapped_mm3, info->capacity_mm3).text);
    }
    write_again(w, different + 1 - given);
    write_rest(w);
}

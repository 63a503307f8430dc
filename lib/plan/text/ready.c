/* SPDX-License-Identifier: MIT
 * What to have on the bench before beginning. */
#include "plan/text/ready.h"

#include "plan/text/rinse.h"
#include "plan/verify/bench.h"

#include <math.h>

/* Usual lengths of needles, mm. */
static const double LENGTHS[] = {13.0, 25.0, 38.0, 50.0};

static double needle_length(const vugi_writing *w)
{
    const double beyond = 5.0; /* of the wall: common practice, no source */
    double need = 0.0;
    for (uint32_t k = (uint32_t)w->o->info.given; k < w->o->info.steps; k++)
        for (size_t i = 0; i < w->o->fill[k].feed_count; i++)
            need = fmax(need, w->o->cavities->opening[w->o->fill[k].feed[i]].bore_length + beyond);
    for (size_t i = 0; i < sizeof LENGTHS / sizeof *LENGTHS; i++)
        if (LENGTHS[i] >= need)
            return LENGTHS[i];
    return 10.0 * ceil(need / 10.0);
}

/* Is this the first site of its diameter? One drill does for all of them. */
static bool is_first_of_its(const vugi_writing *w, size_t site)
{
    for (size_t i = 0; i < site; i++)
        if (w->o->site[i].bore.diameter_mm == w->o->site[site].bore.diameter_mm)
            return false;
    return true;
}

static vugi_list_words drills(const vugi_writing *w)
{
    const double pin_vise_mm = 3.2; /* what it holds (common practice, no source) */
    vugi_list_words words = {.text = ""};
    size_t used = 0, count = 0, told = 0;
    double widest = 0.0;
    for (size_t i = 0; i < w->o->sites; i++) {
        count += is_first_of_its(w, i);
        widest = fmax(widest, w->o->site[i].bore.diameter_mm);
    }
    for (size_t i = 0; i < w->o->sites && used + 60 < sizeof words.text; i++) {
        if (!is_first_of_its(w, i))
            continue;
        const char *before = told > 0 ? (told + 1 == count ? " and " : ", ")
            : count == 1              ? "a drill of "
                                      : "drills of ";
        used += vugi_print(words.text + used, sizeof words.text - used, "%s%s mm", before,
            vugi_words_mm(w->o->site[i].bore.diameter_mm).text);
        told++;
    }
    if (used > 0)
        vugi_print(words.text + used, sizeof words.text - used, " in a %s; ",
            widest > pin_vise_mm ? "hand drill" : "pin vise");
    return words;
}

/* What paint goes in by. */
static void write_syringe(vugi_writing *w)
{
    const vug_plan_info *info = &w->o->info;
    if (info->given && info->inject_mm3 < VUGI_LEAST_MM3)
        vugi_page_item(&w->page, "-", "a syringe, to draw %s out again for the air to seal in",
            w->stuff);
    else if (info->needle_gauge <= 0)
        vugi_page_item(&w->page, "-",
            "a %g mL syringe; no needle leaves room for air in the opening", info->syringe_ml);
    else if (vugi_by_hose(w))
        vugi_page_item(&w->page, "-",
            "a funnel and a hose, %.1f mm outside or thinner, so that air gets out beside it; a "
            "%g mL syringe for the last of it",
            info->needle_mm, info->syringe_ml);
    else
        vugi_page_item(&w->page, "-",
            "a %g mL syringe with a blunt needle of gauge %d (%.1f mm outside) or thinner, %g mm "
            "long or more",
            info->syringe_ml, (int)info->needle_gauge, info->needle_mm, needle_length(w));
}

/* Nobody presses longer than this for a load, s, with a thumb's force, N (common practice, no source). */
static const double PRESSES_S = 300.0, THUMB_N = 30.0;

/* So long a load of a liquid takes through the needle that fits; 0: no sum tells. */
static double load_time(const vugi_writing *w, const vug_fluid *fluid)
{
    const vug_plan_info *info = &w->o->info;
    vug_needle needle = {.struct_size = sizeof needle};
    vug_syringe syringe = {.struct_size = sizeof syringe};
    vug_injected told = {.struct_size = sizeof told};
    vug_injection by;
    if (vug_injection_init(&by, sizeof by)
        || vug_needle_by_gauge(NULL, info->needle_gauge, &needle))
        return 0.0;
    if (!vug_syringe_by_size(NULL, info->syringe_ml, &syringe))
        by.plunger_mm = syringe.plunger_mm;
    by.needle_bore_mm = needle.bore_mm;
    by.needle_length_mm = needle_length(w);
    by.load_ml = fmin(info->syringe_ml, 1e-3 * info->inject_mm3);
    return vug_inject(NULL, fluid, &by, 0.0, THUMB_N, &told) ? 0.0 : told.load_time_s;
}

/* The narrowest opening that paint goes in by; NULL: none does. */
static const vugi_opening *narrowest(const vugi_writing *w, uint32_t *number)
{
    const vugi_opening *all = w->o->cavities->opening, *found = NULL;
    for (uint32_t k = (uint32_t)w->o->info.given; k < w->o->info.steps; k++)
        for (size_t i = 0; i < w->o->fill[k].feed_count; i++)
            if (vugi_option_is_worth(w->o, (size_t)all[w->o->fill[k].feed[i]].cavity)
                && (!found || all[w->o->fill[k].feed[i]].radius < found->radius)) {
                *number = w->o->fill[k].feed[i];
                found = all + *number;
            }
    return found;
}

/* Does no needle that fits let paint through, nor raw resin, where it is washed by that opening? */
static bool is_narrow(const vugi_writing *w, bool washed)
{
    vug_fluid raw;
    if (w->o->info.needle_gauge <= 0)
        return true;
    return load_time(w, &w->plan->fluid) > PRESSES_S
        || (washed && !vugi_bench_resin(w->ctx, &raw) && load_time(w, &raw) > PRESSES_S);
}

/* A hole that paint and resin do not pass by needle. */
static void write_narrow(vugi_writing *w)
{
    const vug_plan_info *info = &w->o->info;
    uint32_t number = 0;
    const vugi_opening *by = narrowest(w, &number);
    vug_hole_task task;
    vug_hole_choice choice = {.struct_size = sizeof choice};
    if (info->inject_mm3 < VUGI_LEAST_MM3 || !by || vug_hole_task_init(&task, sizeof task))
        return;
    const bool told = info->given ? vugi_is_new(w->o, number) : w->o->later[number];
    if (!is_narrow(w, !info->given && !told))
        return;
    task.needle_mm = 1.27; /* 18 G, the thinnest for paint and resin (common practice, no source) */
    if (vug_hole_choose(NULL, &w->plan->solvent, &task, &choice))
        return;
    vugi_page_item(&w->page, "!",
        "%s, by which it goes in, is too narrow: the needle that fits lets hardly any %s or "
        "resin through. Make it %s mm wide or more, %s.",
        vugi_words_openings(w, (vugi_openings){&number, 1}, (vugi_openings){NULL, 0}, NULL).text,
        w->stuff, vugi_words_mm(choice.drill_mm).text,
        info->in_model ? "in the model"
            : told     ? "with another drill than is told below"
                       : "by hand with a drill, over a tray, before anything else");
}

void vugi_write_ready(vugi_writing *w)
{
    const vug_plan_info *info = &w->o->info;
    const bool unfilled = vugi_option_unfilled(w->o);
    size_t holes = 0;
    for (size_t i = 0; i < w->o->cavities->opening_count; i++)
        holes += !w->o->closed[i];
    vugi_page_title(&w->page, "Have ready");
    vugi_page_item(&w->page, "-", "nitrile gloves, goggles, a tray, paper, fresh air");
    if (!info->given && info->rinses > 0)
        vugi_page_item(&w->page, "-", "%s of %s, a closed can for what is used; a curing lamp",
            vugi_words_ml(vugi_rinse_amount(w)).text, w->rinse);
    else if (!info->given)
        vugi_page_item(&w->page, "-", "%s, a closed can for what is used; a curing lamp", w->rinse);
    if (!info->given && vugi_rinse_draws(w))
        vugi_page_item(&w->page, "-", "a syringe kept for raw resin");
    if (info->inject_mm3 >= VUGI_LEAST_MM3)
        vugi_page_item(&w->page, "-", "%s of %s, with what stays in cups and syringe",
            vugi_words_ml(1e3 * info->paint_ml).text, w->paint);
    if (!unfilled)
        write_syringe(w);
    vugi_page_item(&w->page, "-", "%stape or plugs for %zu opening%s%s%s%s", drills(w).text, holes,
        holes == 1 ? "" : "s", holes > 2 ? " (two fingers don't cover them)" : "",
        unfilled ? "" : "; glue, ",
        unfilled                              ? ""
            : info->plug_mm3 < VUGI_LEAST_MM3 ? "some drops"
                                              : vugi_words_ml(info->plug_mm3).text);
    write_narrow(w);
}

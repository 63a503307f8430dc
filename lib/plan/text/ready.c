/* SPDX-License-Identifier: MIT
 * What to have on the bench before beginning. */
#include "plan/text/ready.h"

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

void vugi_write_ready(vugi_writing *w)
{
    const vug_plan_info *info = &w->o->info;
    size_t holes = 0;
    for (size_t i = 0; i < w->o->cavities->opening_count; i++)
        holes += !w->o->closed[i];
    vugi_page_title(&w->page, "Have ready");
    vugi_page_item(&w->page, "-", "nitrile gloves, goggles, a tray, paper, fresh air");
    if (!info->given && info->rinses > 0)
        vugi_page_item(&w->page, "-", "%s of %s, a closed can for what is used; a curing lamp",
            vugi_words_ml(info->rinse_mm3).text, w->rinse);
    else if (!info->given)
        vugi_page_item(&w->page, "-", "%s, a closed can for what is used; a curing lamp", w->rinse);
    if (!info->given || info->inject_mm3 >= VUGI_LEAST_MM3)
        vugi_page_item(&w->page, "-", "%s of %s, with what stays in cups and syringe",
            vugi_words_ml(1e3 * info->paint_ml).text, w->paint);
    if (info->given && info->inject_mm3 < VUGI_LEAST_MM3)
        vugi_page_item(&w->page, "-", "a syringe, to draw paint out again for the air to seal in");
    else if (info->needle_gauge > 0)
        vugi_page_item(&w->page, "-",
            "a %g mL syringe with a blunt needle of gauge %d (%.1f mm outside) or thinner, %g mm "
            "long or more",
            w->o->info.syringe_ml, (int)info->needle_gauge, info->needle_mm, needle_length(w));
    else
        vugi_page_item(&w->page, "-",
            "a %g mL syringe; no needle leaves room for air in the opening", w->o->info.syringe_ml);
    vugi_page_item(&w->page, "-", "%stape or plugs for %zu opening%s%s; glue, %s", drills(w).text,
        holes, holes == 1 ? "" : "s", holes > 2 ? " (two fingers don't cover them)" : "",
        info->plug_mm3 < VUGI_LEAST_MM3 ? "some drops" : vugi_words_ml(info->plug_mm3).text);
}

/* SPDX-License-Identifier: MIT
 * How much air to seal in, and how to close it. */
#include "plan/text/seal.h"

#include <math.h>

/* A shorter bore holds no plug, mm (common practice, no source). */
static const double HOLDS_MM = 1.0;

static bool sets(const vugi_writing *w)
{
    return !(w->plan->fluid.volatile_share > 0.0);
}

/* The openings in the order of closing: inlets last, since they may have to let paint out. */
static void write_plugs(vugi_writing *w)
{
    const double deepest = 3.0; /* mm: as info.plug_mm3 */
    const vug_cavities *c = w->o->cavities;
    const vug_step_info *last = w->o->fill + w->o->info.steps - 1;
    const vugi_openings feed = {last->feed, last->feed_count};
    const char *then = sets(w) ? " before it sets. Once it has," : " and";
    size_t told = 0;
    for (int inlets = 0; inlets < 2; inlets++)
        for (uint32_t i = 0; i < c->opening_count; i++) {
            double glue = 0.0, depth = fmin(c->opening[i].bore_length, deepest);
            if (w->o->closed[i] || vugi_listed(feed, i) != (inlets == 1) || told++ >= 8)
                continue;
            const vugi_list_words name = vugi_words_openings(w, (vugi_openings){&i, 1},
                (vugi_openings){NULL, 0}, NULL);
            if (depth < HOLDS_MM
                || vug_plug(NULL, 2.0 * c->opening[i].radius, depth, 0.0, &glue, NULL))
                vugi_page_item(&w->page, name.text,
                    "wipe it clean all round%s close it with glue over it: the wall is too "
                    "thin there to hold a plug",
                    then);
            else
                vugi_page_item(&w->page, name.text,
                    "wipe it clean %.1f mm deep%s fill that with %s of glue, or a plug of %s "
                    "mm in it",
                    depth, then, glue < VUGI_LEAST_MM3 ? "a drop" : vugi_words_ml(glue).text,
                    vugi_words_mm(2.0 * c->opening[i].radius).text);
        }
    if (told > 8)
        vugi_page_item(&w->page, "", "And so the %zu others.", told - 8);
}

/* The opening of a cavity that is closed last; UINT32_MAX: none leads to it. */
static uint32_t last_of(const vugi_writing *w, size_t cavity)
{
    const vug_cavities *c = w->o->cavities;
    const vug_step_info *last = w->o->fill + w->o->info.steps - 1;
    const vugi_openings feed = {last->feed, last->feed_count};
    uint32_t found = UINT32_MAX;
    for (uint32_t i = 0; i < c->opening_count; i++)
        if (c->opening[i].cavity == (int32_t)cavity && !w->o->closed[i]
            && (found == UINT32_MAX || vugi_listed(feed, i) || !vugi_listed(feed, found)))
            found = i;
    return found;
}

/* ": 0.10 mL by A, 0.05 mL by B": so much less, of each cavity its share. *all: what that comes to, mm3. */
static vugi_list_words drawn_words(const vugi_writing *w, double mm3, double *all)
{
    const vug_cavities *c = w->o->cavities;
    vugi_list_words words = {.text = ""};
    size_t used = 0;
    *all = 0.0;
    for (size_t i = 0; i < c->cavity_count && used + 60 < sizeof words.text; i++) {
        const uint32_t last = last_of(w, i);
        if (last == UINT32_MAX || !vugi_option_is_worth(w->o, i))
            continue;
        const double own = vugi_need_mm3(mm3 * c->cavity[i].volume / w->o->info.capacity_mm3);
        *all += own;
        used += vugi_print(words.text + used, sizeof words.text - used, "%s%s by %s",
            used > 0 ? ", " : ": ", vugi_words_ml(own).text,
            vugi_words_openings(w, (vugi_openings){&last, 1}, (vugi_openings){NULL, 0}, NULL).text);
    }
    return words;
}

/* Is more than one cavity closed? */
static bool many_closed(const vugi_writing *w)
{
    size_t count = 0;
    for (size_t i = 0; i < w->o->cavities->cavity_count; i++)
        count += last_of(w, i) != UINT32_MAX && vugi_option_is_worth(w->o, i);
    return count > 1;
}

static void write_air(vugi_writing *w)
{
    const vug_plan_info *info = &w->o->info;
    const double more = info->warm_air_mm3 - info->trapped_mm3,
                 frost = vugi_need_mm3(info->frost_air_mm3);
    const bool several = many_closed(w);
    double drawn = more > 0.0 ? vugi_need_mm3(more) : 0.0;
    vugi_list_words each = {.text = ""};
    if (several && more > 0.0)
        each = drawn_words(w, more, &drawn);
    if (info->warm_air_mm3 < 0.0)
        vugi_page_item(&w->page, "",
            "No room of air is enough for warmth up to 40 C: leave a hole the width of a needle "
            "open, or keep it cool.");
    else if (more > 0.0)
        vugi_page_item(&w->page, "",
            "What is inside grows when it warms. Hold the last opening%s up and draw %s%sout "
            "again%s, so "
            "that %s of air %s: enough for 40 C. The filling has got the air out of where it is "
            "seen; this goes where it is not.",
            several ? " of each cavity" : "", several ? "" : vugi_words_ml(drawn).text,
            several ? "" : " ", each.text, vugi_words_ml(info->trapped_mm3 + drawn).text,
            several || info->trapped_mm3 >= VUGI_LEAST_MM3 ? "are inside" : "lie under its plug");
    else
        vugi_page_item(&w->page, "", "The air that stays is enough for warmth up to 40 C.");
    if (frost < 0.5 * info->capacity_mm3)
        vugi_page_item(&w->page, "",
            "Frost of -18 C would want %s of air, %.0f %% of the cavity: leave that, or keep it "
            "from frost.",
            vugi_words_ml(frost).text, floor(100.0 * frost / info->capacity_mm3 + 0.5));
    else
        vugi_page_item(&w->page, "", "Keep it from frost: it would crack.");
}

/* What is open runs out where it does not look up. */
static void write_order(vugi_writing *w)
{
    size_t count = 0;
    for (size_t i = 0; i < w->o->cavities->opening_count; i++)
        count += !w->o->closed[i];
    if (count > 1)
        vugi_page_item(&w->page, "",
            "Close them one after the other, each held straight up while the others stay covered, "
            "and let the glue set before you turn it to the next.");
}

/* What dries leaves nothing behind. */
static bool never_sets(const vugi_writing *w)
{
    return 1.0 - w->plan->fluid.volatile_share < 0.005;
}

static void write_brimful(vugi_writing *w)
{
    if (never_sets(w))
        vugi_page_item(&w->page, "!",
            "A cavity sealed brimful can crack or leak when it warms up or freezes: leave some "
            "air, and keep it from heat and frost.");
    else
        vugi_write_caution(w, VUG_CAUTION_SEALED);
}

/* Wet under its plugs, or dried first. */
static void write_wet(vugi_writing *w)
{
    const double stays = 1.0 - w->plan->fluid.volatile_share;
    if (never_sets(w)) {
        vugi_page_item(&w->page, "",
            "It never sets: it leaks if a plug does, and what dries leaves nothing behind.");
        return;
    }
    vugi_page_item(&w->page, "",
        "Under glue the paint stays wet: it may leak if a plug does. Dried first, through open "
        "holes, paint with water in it takes %s at least and shrinks to %.0f %%: top up, and "
        "expect voids.",
        vugi_words_long(w->o->info.dry_s).text, 100.0 * stays);
}

/* What sets or cures. Another opening than the highest one would let it run out before. */
static void write_set(vugi_writing *w)
{
    vugi_page_item(&w->page, "",
        "Let it set first, held as in the last step, %s, as long as its data "
        "sheet says; top up what it shrinks. Set, it neither leaks nor boils, and the plugs are "
        "for looks.",
        w->o->cavities->opening_count > 1
            ? "the highest opening of each cavity free and the others covered"
            : "its opening up and free");
}

void vugi_write_seal(vugi_writing *w)
{
    vugi_page_title(&w->page, "Seal, in fresh air, as the glue's data sheet says");
    vugi_write_caution(w, VUG_CAUTION_GLUE);
    if (sets(w)) {
        write_set(w);
    } else {
        write_brimful(w);
        write_air(w);
        write_order(w);
    }
    write_plugs(w);
    if (!sets(w))
        write_wet(w);
}

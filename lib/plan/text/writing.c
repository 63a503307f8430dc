/* SPDX-License-Identifier: MIT
 * Openings, amounts and poses within sentences. */
#include "plan/text/writing.h"

#include "base/base.h"
#include "base/vec.h"
#include "cavity/doubt.h"

#include <math.h>
#include <string.h>

/* ---- openings --------------------------------------------------------------------------- */

static size_t site_of(const vugi_option *o, size_t opening)
{
    for (size_t k = 0; k < o->sites; k++)
        if (o->site[k].bore.opening == opening)
            return k;
    return SIZE_MAX;
}

size_t *vugi_letters(const vugi_allocator *mem, const vugi_option *o)
{
    size_t count = o->cavities->opening_count, own = 0;
    size_t *letter = vugi_alloc(mem, count + 1, sizeof *letter);
    for (size_t i = 0; i < count && letter; i++)
        if (!vugi_is_new(o, i))
            letter[i] = own++;
    for (size_t i = 0; i < count && letter; i++)
        if (vugi_is_new(o, i))
            letter[i] = own + site_of(o, i);
    return letter;
}

bool vugi_is_new(const vugi_option *o, size_t opening)
{
    return site_of(o, opening) != SIZE_MAX;
}

bool vugi_listed(vugi_openings list, size_t opening)
{
    for (size_t i = 0; i < list.count; i++)
        if (list.number[i] == opening)
            return true;
    return false;
}

vugi_list_words vugi_words_openings(const vugi_writing *w, vugi_openings list,
    vugi_openings without, size_t *count)
{
    vugi_list_words words = {.text = ""};
    size_t used = 0, total = 0, told = 0;
    for (size_t i = 0; i < list.count; i++)
        total += !vugi_listed(without, list.number[i]);
    if (count)
        *count = total;
    bool more = true;
    for (size_t i = 0; i < list.count && more; i++)
        if (!vugi_listed(without, list.number[i])) {
            more = vugi_list_letter(words.text, sizeof words.text, &used, w->letter[list.number[i]],
                told, total - told);
            told++;
        }
    return words;
}

vugi_missing vugi_not_drilled(const vugi_option *o, size_t k)
{
    vugi_missing missing = {.count = 0};
    for (size_t i = 0; i < o->sites && o->info.given; i++) {
        bool drilled = false;
        for (size_t n = 0; n <= k && n < o->info.steps; n++)
            drilled |= vugi_listed((vugi_openings){o->fill[n].open, o->fill[n].open_count},
                o->site[i].bore.opening);
        if (!drilled)
            missing.number[missing.count++] = o->site[i].bore.opening;
    }
    return missing;
}

uint32_t vugi_turns(const vugi_option *o)
{
    uint32_t turns = 0;
    for (size_t k = 1; k < o->info.steps; k++)
        turns += o->fill[k].angle_deg > 0.0;
    return turns;
}

/* So much by each. */
static vugi_list_words amounts_words(const vugi_writing *w, const uint32_t *by,
    const double *amount, size_t count)
{
    vugi_list_words words = {.text = ""};
    size_t used = 0, last = 0, told = 0;
    const vugi_openings none = {NULL, 0};
    for (size_t i = 0; i < count; i++)
        if (amount[i] >= VUGI_LEAST_MM3)
            last = i;
    for (size_t i = 0; i < count; i++) {
        if (amount[i] < VUGI_LEAST_MM3 || used + 40 >= sizeof words.text)
            continue;
        used += vugi_print(words.text + used, sizeof words.text - used, "%s%s by %s",
            told == 0       ? ""
                : i == last ? " and "
                            : ", ",
            vugi_words_ml(amount[i]).text,
            vugi_words_openings(w, (vugi_openings){by + i, 1}, none, NULL).text);
        told++;
    }
    return words;
}

vugi_list_words vugi_words_feeds(const vugi_writing *w, const vug_step_info *step)
{
    const uint32_t inlet = (uint32_t)step->inlet;
    if (step->feed_count > 0)
        return amounts_words(w, step->feed, step->feed_mm3, step->feed_count);
    return amounts_words(w, &inlet, &step->inject_mm3, step->inlet >= 0);
}

/* The widest opening of a cavity that is not drilled later; UINT32_MAX: there is none. */
static uint32_t widest_of(const vugi_option *o, size_t cavity)
{
    uint32_t most = UINT32_MAX;
    for (uint32_t i = 0; i < o->cavities->opening_count; i++) {
        const vugi_opening *own = o->cavities->opening + i;
        if (own->cavity == (int32_t)cavity && !o->later[i]
            && (most == UINT32_MAX || own->radius > o->cavities->opening[most].radius))
            most = i;
    }
    return most;
}

vugi_list_words vugi_words_shares(vugi_writing *w, double share)
{
    const vug_cavities *c = w->o->cavities;
    vugi_list_words words = {.text = ""};
    size_t count = 0;
    uint32_t *by = vugi_alloc(w->page.mem, c->cavity_count, sizeof *by);
    double *amount = vugi_alloc(w->page.mem, c->cavity_count, sizeof *amount);
    w->page.failed |= !by || !amount;
    for (size_t i = 0; i < c->cavity_count && by && amount; i++) {
        by[count] = widest_of(w->o, i);
        amount[count] = fmax(VUGI_LEAST_MM3, share * c->cavity[i].volume);
        count += by[count] != UINT32_MAX && vugi_option_is_worth(w->o, i);
    }
    if (by && amount)
        words = amounts_words(w, by, amount, count);
    vugi_free(w->page.mem, by);
    vugi_free(w->page.mem, amount);
    return words;
}

vugi_list_words vugi_words_widest(vugi_writing *w, const double *stuck, bool held)
{
    const size_t cavities = w->o->cavities->cavity_count;
    size_t count = 0;
    double most = 0.0;
    for (size_t i = 0; i < cavities && stuck; i++)
        most = fmax(most, stuck[i]);
    uint32_t *number = vugi_alloc(w->page.mem, cavities, sizeof *number);
    w->page.failed |= !number;
    for (size_t i = 0; i < cavities && number; i++) {
        uint32_t own = widest_of(w->o, i);
        const bool lies = !stuck || stuck[i] >= fmin(VUGI_LEAST_MM3, held ? most : INFINITY);
        if (own != UINT32_MAX && vugi_option_is_worth(w->o, i) && (!stuck || lies == held))
            number[count++] = own;
    }
    vugi_list_words words = vugi_words_openings(w, (vugi_openings){number, count},
        (vugi_openings){NULL, 0}, NULL);
    vugi_free(w->page.mem, number);
    if (count > 1) {
        size_t used = strlen(words.text);
        vugi_print(words.text + used, sizeof words.text - used, " (each cavity by its own)");
    }
    return words;
}

/* ---- poses ------------------------------------------------------------------------------ */

const char *vugi_with_of(const char *pose)
{
    return strncmp(pose, "its ", 4) == 0 ? "with " : "";
}

/* Openings that are to be free and that a table shuts: they look down on it from nearer than this, mm (common practice, no
 * source). */
static const double CLEAR_MM = 3.0;

/* " It stands so by itself."; "" where it does not. */
static vugi_list_words stand_words(const vugi_writing *w, const vug_step_info *step)
{
    const vug_mesh *part = w->o->cavities->part;
    vugi_list_words words = {.text = ""};
    uint32_t low[8];
    size_t count = 0;
    double lowest = INFINITY;
    if (!(step->stand_mm > 0.5))
        return words;
    for (size_t i = 0; i < part->vertex_count; i++)
        lowest = fmin(lowest, vugi_dot(part->xyz + 3 * i, step->up));
    for (size_t i = 0; i < step->open_count && count < sizeof low / sizeof *low; i++) {
        const vugi_opening *o = w->o->cavities->opening + step->open[i];
        if (vugi_dot(o->axis, step->up) < -0.5 && vugi_dot(o->center, step->up) < lowest + CLEAR_MM)
            low[count++] = step->open[i];
    }
    if (count > 0)
        vugi_print(words.text, sizeof words.text, " It stands so, but on %s: prop it up.",
            vugi_words_openings(w, (vugi_openings){low, count}, (vugi_openings){NULL, 0}, NULL)
                .text);
    else
        vugi_print(words.text, sizeof words.text, " It stands so by itself.");
    return words;
}

void vugi_write_pose(vugi_writing *w, size_t number, const vug_step_info *before,
    const vug_step_info *step)
{
    char words[320] = "", mark[24];
    vugi_print(mark, sizeof mark, "%zu", number);
    vug_pose_words(w->ctx, before ? before->up : NULL, step->up, words, sizeof words);
    if (before && words[0] >= 'a' && words[0] <= 'z')
        words[0] = (char)(words[0] - 'a' + 'A');
    vugi_page_item(&w->page, mark, "%s%s%s.%s", before ? "" : "Hold it ",
        before ? "" : vugi_with_of(words), words, stand_words(w, step).text);
}

/* ---- cautions ----------------------------------------------------------------------------- */

void vugi_write_caution(vugi_writing *w, int32_t caution)
{
    if (vug_plan_caution(w->plan, w->index, caution))
        vugi_page_item(&w->page, "!", "%s", vug_caution_text(caution));
}

/* SPDX-License-Identifier: MIT
 * What the stages of a plan's text share. */
#ifndef VUGI_PLAN_TEXT_WRITING_H
#define VUGI_PLAN_TEXT_WRITING_H

#include "plan/planning.h"
#include "plan/text/amounts.h"
#include "plan/text/page.h"

typedef struct vugi_writing {
    vug_context *ctx;
    const vug_plan *plan;
    const vugi_option *o; /* the alternative that is told */
    size_t index;         /* its number */
    const char *part, *paint, *rinse;
    const char *stuff; /* "paint", where it is one; else what it is called */
    size_t *letter;    /* of each opening: which one it is called by */
    vugi_page page;
} vugi_writing;

/* More loads nobody injects by hand, nor draws out (common practice, no source). */
#define VUGI_MANY_LOADS 24

/* Is there so much to fill in that it goes by a funnel and a hose? */
static inline bool vugi_by_hose(const vugi_writing *w)
{
    return w->o->info.loads > VUGI_MANY_LOADS;
}

/* Numbers of openings, rising. */
typedef struct vugi_openings {
    const uint32_t *number;
    size_t count;
} vugi_openings;

/* A list of letters or of what goes in: as long as a sentence bears. */
typedef struct vugi_list_words {
    char text[480];
} vugi_list_words;

/* Letters of all openings of an alternative: those that the part has first, then the new ones. NULL: no memory. */
size_t *vugi_letters(const vugi_allocator *mem, const vugi_option *o);

/* Is it one of the bores of the alternative? */
bool vugi_is_new(const vugi_option *o, size_t opening);

bool vugi_listed(vugi_openings list, size_t opening);

/* "A, B and D", or "A, B and 70 more"; "" for none. Those that are in `without` are left out; *count (may be
 * NULL): how many there are. */
vugi_list_words vugi_words_openings(const vugi_writing *w, vugi_openings list,
    vugi_openings without, size_t *count);

/* New openings of a filled part that are not drilled before the end of step k. */
typedef struct vugi_missing {
    uint32_t number[VUGI_SITES];
    size_t count;
} vugi_missing;

vugi_missing vugi_not_drilled(const vugi_option *o, size_t k);

/* Turns of the alternative. */
uint32_t vugi_turns(const vugi_option *o);

/* "2.0 mL by A and 0.25 mL by C": what goes in in a step, each cavity by its own opening; "" where nothing does. */
vugi_list_words vugi_words_feeds(const vugi_writing *w, const vug_step_info *step);

/* The same of a share of each cavity, by its widest opening. */
vugi_list_words vugi_words_shares(vugi_writing *w, double share);

/* What lies in a cavity is in reach of a syringe by its widest opening: each by its own, if more than a trace of stuck lies
 * in it; not held: if no more does. NULL: all of them. Openings that are drilled later do not count. */
vugi_list_words vugi_words_widest(vugi_writing *w, const double *stuck, bool held);

/* A caution that applies, where the work is; else nothing. */
void vugi_write_caution(vugi_writing *w, int32_t caution);

/* "with ", if that goes before the words of a pose: "held with its top up", but "held upside down". */
const char *vugi_with_of(const char *pose);

/* How the part is held in a step, a whole sentence. before: NULL in the first one. */
void vugi_write_pose(vugi_writing *w, size_t number, const vug_step_info *before,
    const vug_step_info *step);

#endif

/* SPDX-License-Identifier: MIT
 * Which openings are not sure, in words: by letter, and what is not clear about them. */
#include "cavity/doubt.h"

#include "base/format.h"
#include "base/message.h"
#include "cavity/trust.h"

#include <string.h>

/* What one more of a list takes at most: a letter, its number, " and N more". */
enum { LETTER_ROOM = 40 };

bool vugi_list_letter(char *text, size_t size, size_t *used, size_t letter, size_t told,
    size_t left)
{
    char name[24] = "";
    if (*used + LETTER_ROOM >= size && left > 1) {
        *used += vugi_print(text + *used, size - *used, " and %zu more", left);
        return false;
    }
    vug_opening_letter(NULL, letter, name, sizeof name);
    *used += vugi_print(text + *used, size - *used, "%s%s",
        told == 0       ? ""
            : left == 1 ? " and "
                        : ", ",
        name);
    return left > 1;
}

/* Openings that are not exact, and cavities that are on a grid; an opening of such a one is so for that. */
typedef struct doubts {
    size_t openings, grids, elsewhere; /* elsewhere: not exact, though its cavity is */
} doubts;

static bool is_asked(int32_t asked, size_t cavity)
{
    return asked < 0 || (size_t)asked == cavity;
}

static bool is_doubtful(const vug_cavities *c, int32_t cavity, size_t opening)
{
    const vugi_opening *o = c->opening + opening;
    return is_asked(cavity, (size_t)o->cavity) && !vugi_opening_exact(c, o);
}

static doubts count_doubts(const vug_cavities *c, int32_t cavity)
{
    doubts d = {.openings = 0};
    for (size_t i = 0; i < c->cavity_count; i++)
        d.grids += is_asked(cavity, i) && c->cavity[i].gridded;
    for (size_t i = 0; i < c->opening_count; i++)
        if (is_doubtful(c, cavity, i)) {
            d.openings++;
            d.elsewhere += !c->cavity[c->opening[i].cavity].gridded;
        }
    return d;
}

void vugi_doubt_words(const vug_cavities *c, int32_t cavity, const size_t *letter, char *text,
    size_t size)
{
    const doubts d = count_doubts(c, cavity);
    char names[200] = "";
    size_t used = 0, told = 0;
    text[0] = '\0';
    bool more = true;
    for (size_t i = 0; i < c->opening_count && more; i++)
        if (is_doubtful(c, cavity, i)) {
            more = vugi_list_letter(names, sizeof names, &used, letter ? letter[i] : i, told,
                d.openings - told);
            told++;
        }
    if (d.openings == 0 && d.grids > 0)
        vugi_print(text, size,
            "Not sure about the cavity: its mesh is not clear, so it is measured on a grid. Check "
            "before you drill.");
    else if (d.openings > 0)
        vugi_print(text, size, "Not sure about %s: %s. Look at %s and measure before you drill.",
            names,
            d.elsewhere == 0   ? "the mesh there is not clear, so all is measured on a grid"
                : d.grids == 0 ? "rim or inner end of the bore is not clear in the mesh"
                               : "the mesh there, or an end of the bore, is not clear",
            d.openings == 1 ? "it" : "them");
}

vug_status vug_doubt_words(vug_context *ctx, const vug_cavities *cavities, int32_t cavity,
    char *text, size_t size)
{
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!cavities || !text || size == 0)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "cavities or text is NULL, or text has no room");
    if (cavity >= 0 && (size_t)cavity >= cavities->cavity_count)
        return vugi_fail(ctx, VUG_ERR_NOT_FOUND, "there is no cavity %d", (int)cavity);
    vugi_doubt_words(cavities, cavity, NULL, text, size);
    return VUG_OK;
}

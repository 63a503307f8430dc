/* SPDX-License-Identifier: MIT
 * A plan in words, for the bench: one stage after the other, each in a file of its own. */
#include "base/message.h"
#include "plan/text/bores.h"
#include "plan/text/cavity.h"
#include "plan/text/closing.h"
#include "plan/text/coat.h"
#include "plan/text/cure.h"
#include "plan/text/fill.h"
#include "plan/text/inside.h"
#include "plan/text/ready.h"
#include "plan/text/rinse.h"
#include "plan/text/seal.h"
#include "plan/text/show.h"
#include "plan/text/unfilled.h"
#include "plan/text/writing.h"

#include <string.h>

enum { USUAL_WIDTH = 98, LEAST_WIDTH = 40, MOST_WIDTH = 10000 };

/* What dries and leaves solids is paint; what sets, or leaves nothing, is called by its name, if that fits a sentence. */
static const char *stuff_of(const vug_plan *plan, const char *name)
{
    const size_t longest = 40;
    const double volatile_share = plan->fluid.volatile_share;
    if (!name || (volatile_share > 0.0 && volatile_share < 0.995))
        return "paint";
    return strlen(name) <= longest ? name : "liquid";
}

/* In the order of the bench. */
static const struct {
    void (*write)(vugi_writing *);
    bool filled; /* only of a part that is */
} stages[] = {
    {vugi_write_cavity, false},
    {vugi_write_inside, false},
    {vugi_write_unfilled, false},
    {vugi_write_ready, false},
    {vugi_write_model, false},
    {vugi_write_rinse, false},
    {vugi_write_cure, false},
    {vugi_write_bores, false},
    {vugi_write_fill, true},
    {vugi_write_seal, true},
    {vugi_write_show, true},
    {vugi_write_coat, true},
    {vugi_write_others, false},
    {vugi_write_cautions, false},
};

static vug_status check(vug_context *ctx, const vug_plan *plan, size_t index, uint32_t width,
    char **text)
{
    if (!plan || !text)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "plan or text is NULL");
    if (index >= plan->count)
        return vugi_fail(ctx, VUG_ERR_NOT_FOUND, "there is no alternative %zu: the plan has %zu",
            index, plan->count);
    if (width != 0 && (width < LEAST_WIDTH || width > MOST_WIDTH))
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "width is %u, it must be 0 or %d to %d",
            (unsigned)width, LEAST_WIDTH, MOST_WIDTH);
    return VUG_OK;
}

vug_status vug_plan_text(vug_context *ctx, const vug_plan *plan, size_t index, const char *part,
    const char *paint, const char *rinse, uint32_t width, char **text)
{
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    vug_status status = check(ctx, plan, index, width, text);
    if (status)
        return status;
    vugi_writing w = {.ctx = ctx,
        .plan = plan,
        .o = plan->option[index],
        .index = index,
        .part = part ? part : "The part",
        .paint = paint ? paint : "paint",
        .stuff = stuff_of(plan, paint),
        .rinse = rinse ? rinse : "the rinsing liquid",
        .letter = vugi_letters(&ctx->mem, plan->option[index]),
        .page = {.mem = &ctx->mem, .width = width ? width : USUAL_WIDTH}};
    w.page.failed = !w.letter;
    for (size_t i = 0; i < sizeof stages / sizeof *stages && !w.page.failed; i++)
        if (!stages[i].filled || !vugi_option_unfilled(w.o))
            stages[i].write(&w);
    vugi_free(&ctx->mem, w.letter);
    if (w.page.failed) {
        vugi_free(&ctx->mem, w.page.text);
        return vugi_fail_memory(ctx);
    }
    *text = w.page.text;
    return VUG_OK;
}

vug_status vug_plan_letter(vug_context *ctx, const vug_plan *plan, size_t index, size_t opening,
    char *text, size_t size)
{
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!plan)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "plan is NULL");
    if (index >= plan->count || opening >= plan->option[index]->cavities->opening_count)
        return vugi_fail(ctx, VUG_ERR_NOT_FOUND, "alternative %zu has no opening %zu", index,
            opening);
    size_t *letter = vugi_letters(&ctx->mem, plan->option[index]);
    if (!letter)
        return vugi_fail_memory(ctx);
    vug_status status = vug_opening_letter(ctx, letter[opening], text, size);
    vugi_free(&ctx->mem, letter);
    return status;
}

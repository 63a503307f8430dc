/* SPDX-License-Identifier: MIT */
#include "plan/expect.h"

#include "base/context_types.h"
#include "base/message.h"
#include "plan/verify/play.h"
#include "plan/verify/sample.h"
#include "skin/skin.h"

#include <math.h>

/* Bytes for each span, from what eleven parts used, right to a third: of the trees of the poses that are searched, each of
 * which is kept; of poses that are simulated, by one thread and by each further one, of which some make poses ahead; and
 * of what is kept of each sample. For each triangle of the part: where it could be drilled. */
static const double OF_SEARCH = 37.0, OF_PLAY = 400.0, OF_THREAD = 100.0, OF_SAMPLE = 260.0,
                    OF_SITES = 150.0;

/* Spans of a pose, over all directions alike: one stands in each column under half of the shadow of all walls, which is
 * half of their area (Cauchy 1841). */
static double spans_at(const vugi_planning *p, double spacing)
{
    double area = 0.0;
    for (size_t i = 0; i < p->cavities->cavity_count; i++)
        area += p->cavities->cavity[i].area;
    return 0.25 * area / (spacing * spacing);
}

vug_status vugi_plan_expect_memory(const vugi_planning *p)
{
    if (!vugi_memory_limited(p->ctx))
        return VUG_OK;
    const vug_plan_options *o = &p->options;
    const uint32_t threads = p->ctx->threads < VUGI_AHEAD ? p->ctx->threads : VUGI_AHEAD;
    const double search = OF_SEARCH * o->pose_count * spans_at(p, p->h);
    const double sites = OF_SITES * (double)p->cavities->part->triangle_count;
    const double play = fmax(vugi_skin_pieces_bytes(p->cavities), sites)
        + (OF_PLAY + OF_THREAD * (threads - 1)) * spans_at(p, p->square / o->verify_across);
    const bool sampled = o->tilt_deg > 0.0 && o->max_repeats > 0;
    const double samples = sampled
        ? OF_SAMPLE * VUG_PLAN_SAMPLES * spans_at(p, p->square / VUGI_ASKEW_ACROSS)
        : 0.0;
    return vugi_expect_memory(p->ctx, search + fmax(play, samples),
        "a plan of this part on so many columns");
}

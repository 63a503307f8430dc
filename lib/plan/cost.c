/* SPDX-License-Identifier: MIT
 * The prices. Where no source is named, the number is the judgement of those who wrote it: common practice, no source. */
#include "plan/cost.h"

#include "base/angle.h"

#include <assert.h>
#include <math.h>

/* ---- poses and turns, in turns -------------------------------------------------------- */

/* What holding a pose costs: the part stands on its base or its head by itself; on a side it is leant against
 * something; on an edge or a corner hands hold it, and find it without a protractor; any other needs one. */
static const double EASE_BASE = 0.0, EASE_SIDE = 0.05, EASE_EDGE = 0.15, EASE_CORNER = 0.2,
                    EASE_ANY = 0.3;

/* A half turn is a tenth more work than a little one: between plans with as many turns the smaller turns win. */
static const double TURN_ANGLE = 0.1;

double vugi_cost_ease(int sides, bool upright)
{
    assert(sides >= 1 && sides <= 3);
    return sides == 2 ? EASE_EDGE : sides == 3 ? EASE_CORNER : upright ? EASE_BASE : EASE_SIDE;
}

double vugi_cost_ease_any(void)
{
    return EASE_ANY;
}

double vugi_cost_ease_first(void)
{
    return EASE_CORNER;
}

double vugi_cost_turn(double angle, double ease)
{
    assert(angle >= 0.0 && ease >= 0.0);
    return 1.0 + ease + TURN_ANGLE * angle / VUGI_PI;
}

/* Four small tilts and their waits, openings covered: half a turn. */
static const double LEAN = 0.5;

double vugi_cost_lean(void)
{
    return LEAN;
}

/* All is covered, the part put down and held so anew, and freed: half a turn. */
static const double HOLD = 0.5;

double vugi_cost_hold(void)
{
    return HOLD;
}

/* ---- a whole plan, in turns --------------------------------------------------------------- */

/* Air is priced by the hundredth of the cavity. */
static const double HUNDREDTHS = 100.0;
/* Of a bore's price, for each point that its place costs: the worst place that is drilled at all, about four points, is
 * worth a bore more. */
static const double BORE_PLACE = 0.25;
/* Beyond the limit air weighs more: it was asked to go. To be over it at all is worth three turns, and each hundredth
 * three more. Columns see the air to a part in a thousand of the cavity or so, so that from that much below the
 * limit to that much above the price rises evenly, and the choice does not turn on the last digit. */
static const double OVER_LIMIT = 3.0, BEYOND_LIMIT = 300.0, LIMIT_ERROR = 5e-4;

double vugi_cost_of_air(const vug_plan_options *options, double share)
{
    return options->air_cost * HUNDREDTHS * share;
}

double vugi_cost_of_turns(const vug_plan_options *options, double effort)
{
    return options->turn_cost * effort;
}

/* A preferred place makes a bore no cheaper than its price. */
double vugi_cost_of_bore(const vug_plan_options *options, double place)
{
    return options->bore_cost * (1.0 + BORE_PLACE * fmax(0.0, place));
}

/* Each wash by syringe, and resin that stays in a blind end and cracks the wall months later: more than the worst place for
 * another hole. */
static const double LONE_BORES = 2.5;

double vugi_cost_of_lone(const vug_plan_options *options, size_t count)
{
    return options->bore_cost * LONE_BORES * (double)count;
}

/* The mean of what stays and of the worst when it is held askew. */
double vugi_cost_air_share(double share, double askew)
{
    return 0.5 * (share + fmax(askew, share));
}

static double limit_error(const vug_plan_options *options)
{
    return fmin(LIMIT_ERROR, 0.2 * options->limit);
}

double vugi_cost_free_share(const vug_plan_options *options)
{
    return options->limit - limit_error(options);
}

double vugi_cost_of_limit(const vug_plan_options *options, double share)
{
    double error = limit_error(options), over = share - options->limit;
    double surely = error > 0.0 ? fmin(1.0, fmax(0.0, 0.5 + 0.5 * over / error)) : over > 0.0;
    return OVER_LIMIT * surely + BEYOND_LIMIT * fmax(0.0, over);
}

/* A part that came out with a bubble is done again, or drilled where the bubble is: a bore's price besides. */
double vugi_cost_of_samples(const vug_plan_options *options, const double *left, size_t count,
    double capacity)
{
    double sum = 0.0;
    for (size_t i = 0; i < count; i++)
        sum += vugi_cost_of_limit(options, left[i] / capacity)
            + (left[i] > options->limit * capacity ? options->bore_cost : 0.0);
    return count > 0 ? sum / (double)count : 0.0;
}

/* No rounding of columns: skin is counted in thousands of pieces. */
double vugi_cost_of_bare(const vug_plan_options *options, double share)
{
    double over = fmax(0.0, share - options->bare_limit);
    return over > 0.0 ? OVER_LIMIT + BEYOND_LIMIT * over : 0.0;
}

/* A hand has two fingers to cover openings with while the other turns the part. Each more is taped before the turns,
 * and freed and taped again at each of them: half a turn's work and mess. */
static const double FINGERS = 2.0, TAPE = 0.25;

double vugi_cost_of_covers(const vug_plan_options *options, size_t openings, size_t turns)
{
    return options->turn_cost * TAPE * fmax(0.0, (double)openings - FINGERS) * (double)turns;
}

/* ---- washing, in shares of the cavity -------------------------------------------------------- */

/* An hour of running out is worth a fifth of the cavity that has to be drawn out; longer nobody waits. */
static const double WASH_HOUR = 0.2, HOUR_S = 3600.0;
/* A pose on a corner is held rather than one in which a fiftieth more runs out. */
static const double WASH_EASE = 0.1;

double vugi_cost_of_wash(double stays, double time_s, double ease)
{
    double hours = time_s < 0.0 ? 1.0 : fmin(1.0, time_s / HOUR_S);
    return stays + WASH_HOUR * hours + WASH_EASE * ease;
}

/* ---- a place to drill, in points ---------------------------------------------------------- */

/* Each millimetre of wall to drill through. */
static const double DEPTH = 0.1;
/* A drill skids on a slant: from 30 degrees on it is hard to start, and at 90 a point dearer (common practice, no
 * source). */
static const double SLANT_FREE_DEG = 30.0, SLANT_POINT_DEG = 60.0;
/* A place that the maker prefers: more than all that speaks against one that is drilled at all. */
static const double PREFERRED = 4.0;
/* Seen from everywhere: the measure of the others. */
static const double VISIBILITY = 1.0;
/* The chuck meets the part: another drill, or by hand. */
static const double CHUCK = 1.0;
/* An edge nearer than one and a half diameters chips, the nearer the more. */
static const double EDGE = 0.5, EDGE_DIAMETERS = 1.5;
/* A bore that runs into the side of the cavity, not into the room: with all of its rim. */
static const double GRAZE = 4.0;

double vugi_cost_way(double depth_mm, double slant_deg, bool preferred)
{
    return DEPTH * depth_mm + fmax(0.0, slant_deg - SLANT_FREE_DEG) / SLANT_POINT_DEG
        - (preferred ? PREFERRED : 0.0);
}

double vugi_cost_place(double way, const vug_plan_bore_info *bore, double grazing)
{
    assert(bore->diameter_mm > 0.0);
    return way + GRAZE * grazing + VISIBILITY * bore->visibility + (bore->chuck_clear ? 0.0 : CHUCK)
        + EDGE * fmax(0.0, 1.0 - bore->edge_mm / (EDGE_DIAMETERS * bore->diameter_mm));
}

/* The whole cavity left full of air is worth a point, and so is a turn: where it shows counts twice more than for a
 * vent, since a first opening is large and its plug stays in sight, while turns get the air out later. */
static const double SHOWS_MORE = 2.0;

double vugi_cost_first_opening(double share, double place, double visibility, double ease)
{
    return share + place + SHOWS_MORE * VISIBILITY * visibility + ease;
}

/* ---- sets of bores, in hundredths of the cavity ------------------------------------------- */

/* Air over the limit decides; a pose that is hard to hold is worth a fifth of its turns, a place half its points. */
static const double SET_EASE = 0.2, SET_PLACE = 0.5;

double vugi_cost_set_pose(double over, double ease)
{
    return HUNDREDTHS * over + SET_EASE * ease;
}

/* A preferred place is worth as much as one in sight costs, no more: air comes first. */
double vugi_cost_set_place(double place)
{
    return SET_PLACE * fmax(place, -VISIBILITY);
}

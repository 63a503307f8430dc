/* SPDX-License-Identifier: MIT
 * What the planner weighs against what: every price has its name, its unit and its reason in cost.c, and no other file of
 * the plan has one.
 *
 * There are two currencies. A whole plan is valued in turns: vug_plan_options has the price of a turn, of a bore and of
 * a hundredth of the cavity that stays air, and what a maker asks for counts. A place to drill is valued in points, in
 * which one point is a place that all the directions one looks from see, and a bore at such a place costs a quarter
 * more. Neither time nor residue has a price: they are told, and the limit alone decides on air. */
#ifndef VUGI_PLAN_COST_H
#define VUGI_PLAN_COST_H

#include "base/base.h"

/* Prices in turns that a caller may change. */
#define VUGI_COST_TURN 1.0 /* the measure of the others */
/* Drill, clean, plug and cure are about three turns with their waits; and a hole stays: its plug may show, and leak, which
 * no turn does. That is worth another one: a finished figure is not drilled to save two turns. */
#define VUGI_COST_BORE 4.0
#define VUGI_COST_AIR 1.0 /* for each hundredth of the cavity: a turn is worth 1 % */

/* A pose, by how many coordinates of its up are not zero, from 1; upright: up or down. In turns. */
double vugi_cost_ease(int sides, bool upright);
double vugi_cost_ease_any(void);
/* The least convenient pose that a first opening is looked for in. In turns. */
double vugi_cost_ease_first(void);

/* A turn by an angle into a pose of this ease. In turns. */
double vugi_cost_turn(double angle, double ease);

/* Leaning the part to all four sides. In turns. */
double vugi_cost_lean(void);

/* In turns: holding a part in the pose that it is in anew. */
double vugi_cost_hold(void);

/* A whole way of filling: effort in turns, air as a share of the cavity. In turns. */
double vugi_cost_of_air(const vug_plan_options *options, double share);
double vugi_cost_of_turns(const vug_plan_options *options, double effort);
double vugi_cost_of_bore(const vug_plan_options *options, double place);
/* Holes of a model that may hold in what is to run out. */
double vugi_cost_of_lone(const vug_plan_options *options, size_t count);
/* What air counts after a plan was played: hands are not exact. Shares of the cavity, held as told and askew. */
double vugi_cost_air_share(double share, double askew);
/* Added where more air stays than the limit, or may: a share of the cavity. In turns. */
double vugi_cost_of_limit(const vug_plan_options *options, double share);
/* No more than this share costs nothing. */
double vugi_cost_free_share(const vug_plan_options *options);
/* The same over samples of how it may come out, mm3 of so many mm3: on average. */
double vugi_cost_of_samples(const vug_plan_options *options, const double *left, size_t count,
    double capacity);

/* The same for bare skin. */
double vugi_cost_of_bare(const vug_plan_options *options, double share);
/* Openings that a hand has to keep covered while the part is turned. In turns. */
double vugi_cost_of_covers(const vug_plan_options *options, size_t openings, size_t turns);

/* A pose to wash in: what of the cavity does not run out by itself, until the rest has, s (-1: nothing does), and its ease.
 * In shares of the cavity. */
double vugi_cost_of_wash(double stays, double time_s, double ease);

/* A place to drill. In points. */
double vugi_cost_way(double depth_mm, double slant_deg, bool preferred);
/* grazing: share of its rim that does not come out into the cavity. */
double vugi_cost_place(double way, const vug_plan_bore_info *bore, double grazing);
/* A first opening: air that the first fill leaves with it, a share of the cavity, and the pose. */
double vugi_cost_first_opening(double share, double place, double visibility, double ease);
/* A set of new bores: the best pose to fill in, by what is over the limit, a share of the cavity; and for each bore its
 * place. */
double vugi_cost_set_pose(double over, double ease);
double vugi_cost_set_place(double place);

#endif

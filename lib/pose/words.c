/* SPDX-License-Identifier: MIT
 * Poses, turns and cautions in plain words. */
#include "base/angle.h"
#include "base/format.h"
#include "pose/pose.h"
#include "pose/rotation.h"

#include <math.h>
#include <string.h>

static const char *const cautions[VUG_CAUTION_COUNT] = {
    [VUG_CAUTION_RESIN] =
        "Uncured resin irritates and sensitises skin: wear nitrile gloves and "
        "goggles, and wash the inside until it is no longer tacky. Follow the resin's safety data "
        "sheet.",
    [VUG_CAUTION_SOLVENT] =
        "Rinsing liquid may burn and its vapour is harmful: fresh air, no flame or "
        "spark, a closed container for the used liquid, never down the drain. Follow its safety "
        "data "
        "sheet and local rules.",
    [VUG_CAUTION_UV] = "Cure the inside too, with the lamp shielded from eyes and skin. Follow the "
                       "lamp's and the resin's instructions.",
    [VUG_CAUTION_DUST] =
        "Drill by hand or slowly, only after curing, with eye protection; keep the "
        "dust wet or extracted and do not breathe it.",
    [VUG_CAUTION_GLUE] = "Glue fumes irritate and quick glue bonds skin: fresh air, gloves and "
                         "goggles. Follow the glue's data sheet.",
    [VUG_CAUTION_SEALED] =
        "A cavity sealed brimful can crack or leak when it warms up or freezes: let "
        "the paint dry first or leave some air, and keep it from heat and frost.",
    [VUG_CAUTION_PRESSURE] =
        "Openings have to be covered while paint stands above them: press gently, "
        "stop when it resists, and wear goggles; never force the plunger.",
    [VUG_CAUTION_LIMIT] = "More air stays inside than was asked for: allow more turns or bores, or "
                          "live with it.",
    [VUG_CAUTION_HELD] =
        "Bubbles may stick in narrow passages or stiff paint: thin the paint, tap the "
        "part, and wait longer than stated.",
    [VUG_CAUTION_EXCHANGE] =
        "The openings are too narrow, or too much at one height, for air to come in "
        "while liquid runs out: draw the liquid out with a syringe, or shake it out.",
    [VUG_CAUTION_TILT] =
        "The result depends on the angle: hold the part within a few degrees, or lean "
        "it slowly to all sides while waiting.",
    [VUG_CAUTION_THIN] =
        "A bore comes near an edge or a thin wall: start with a thinner drill and back "
        "the wall up.",
    [VUG_CAUTION_SEARCH] =
        "The estimate and the simulation differ: plan again with more columns before "
        "drilling.",
    [VUG_CAUTION_THROAT] =
        "Passages inside are too narrow for bubbles in this paint: air behind them "
        "stays, unless paint pushes it through. Thin the paint, or fill what lies behind by a bore "
        "of "
        "its own.",
    [VUG_CAUTION_BRISK] =
        "Turn the part within a second or two and then wait: turned slowly, bubbles "
        "slide into other places on the way and more air stays.",
    [VUG_CAUTION_CUT_OFF] =
        "In a step some room is left that has an opening but that paint does not get "
        "to, because air in between bars the way: lean the part there, or inject by that opening "
        "too.",
};

const char *vug_caution_text(int32_t caution)
{
    return caution >= 0 && caution < VUG_CAUTION_COUNT ? cautions[caution] : NULL;
}

/* ---- poses ------------------------------------------------------------------------------ */

/* Sides of the part: right, left, back, front, top, base. */
static const char *const sides[6] = {"right side", "left side", "back", "front", "top", "base"};

static const char *side(const double d[3], int skip, int *axis)
{
    int best = skip == 0 ? 1 : 0;
    for (int k = 0; k < 3; k++)
        if (k != skip && fabs(d[k]) > fabs(d[best]) + 1e-9)
            best = k;
    if (axis)
        *axis = best;
    return sides[2 * best + (d[best] < 0.0)];
}

static vug_status check(vug_context *ctx, const char *text, size_t size)
{
    if (!text || size == 0)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "text is NULL or has no room");
    return VUG_OK;
}

static void pose_words(const double up[3], char *text, size_t size)
{
    int axis;
    const char *main_side = side(up, -1, &axis);
    double rest = hypot(up[(axis + 1) % 3], up[(axis + 2) % 3]);
    double lean = atan2(rest, fabs(up[axis])) * VUGI_RADIAN;
    const char *stands = axis == 2 ? (up[2] > 0.0 ? "upright, " : "upside down, ") : "lying, ";
    if (lean < 2.0)
        vugi_print(text, size, "%sits %s straight up", stands, main_side);
    else
        vugi_print(text, size, "%sits %s up, leaning %.0f degrees so that its %s rises", stands,
            main_side, lean, side(up, axis, NULL));
}

/* For two decimals: never "-0.00". */
static double plain(double x)
{
    return fabs(x) < 0.005 ? 0.0 : x;
}

static void turn_words(const double from[3], const double to[3], char *text, size_t size)
{
    double axis[3], angle;
    char pose[128];
    vugi_rotation_between(from, to, axis, &angle);
    pose_words(to, pose, sizeof pose);
    if (angle < 0.5)
        vugi_print(text, size, "do not turn it: %s", pose);
    else if (angle > 175.0)
        vugi_print(text, size, "turn it over, by %.0f degrees: now %s", angle, pose);
    else /* the side that comes up leads the way */
        vugi_print(text, size,
            "turn it by %.0f degrees about the line (%.2f, %.2f, %.2f) of the part: "
            "now %s",
            angle, plain(axis[0]), plain(axis[1]), plain(axis[2]), pose);
}

vug_status vug_pose_words(vug_context *ctx, const double *from, const double *up, char *text,
    size_t size)
{
    double a[3], b[3];
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    vug_status status = from ? vugi_unit(ctx, "from", from, a) : VUG_OK;
    if (!status)
        status = vugi_unit(ctx, "up", up, b);
    if (!status)
        status = check(ctx, text, size);
    if (status)
        return status;
    if (from)
        turn_words(a, b, text, size);
    else
        pose_words(b, text, size);
    return VUG_OK;
}

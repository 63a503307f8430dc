/* SPDX-License-Identifier: MIT
 * Poses and turns in plain words, and poses from words. A turn is told as the hand does it: which side faces
 * the maker, which way what is up goes, and how far; how the part is held then is said in full, and counts. */
#include "base/angle.h"
#include "base/format.h"
#include "base/message.h"
#include "base/vec.h"
#include "pose/pose.h"
#include "pose/rotation.h"
#include "pose/say.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static vug_status check(vug_context *ctx, const char *text, size_t size)
{
    if (!text || size == 0)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "text is NULL or has no room");
    return VUG_OK;
}

/* ---- poses ------------------------------------------------------------------------------ */

static void pose_words(const double up[3], char *text, size_t size)
{
    const vugi_saying say = vugi_say(up);
    const char *side = vugi_side_name(say.up), *stands = "lying, ";
    int lean = VUGI_LEAN_STEP * say.lean_steps;
    if (say.up / 2 == VUGI_TOP / 2)
        stands = lean > 30 ? "" : say.up == VUGI_TOP ? "upright, " : "upside down, ";
    if (lean == 0)
        vugi_print(text, size, "%sits %s straight up", stands, side);
    else if (say.rise[1] < 0)
        vugi_print(text, size, "%sits %s up, leaning %d degrees so that its %s rises", stands, side,
            lean, vugi_side_name(say.rise[0]));
    else
        vugi_print(text, size, "%sits %s up, leaning %d degrees so that its %s and %s rise alike",
            stands, side, lean, vugi_side_name(say.rise[0]), vugi_side_name(say.rise[1]));
}

/* ---- turns ------------------------------------------------------------------------------ */

static const char *const ways[8] = {"tip its %s away from you",
    "tip its %s away from you and to the left", "roll its %s to the left",
    "tip its %s towards you and to the left", "tip its %s towards you",
    "tip its %s towards you and to the right", "roll its %s to the right",
    "tip its %s away from you and to the right"};

/* The side that faces the maker: the front, and where that is up or down what is next to it when the part was
 * tipped from upright. */
static int facing_side(int up)
{
    return up == VUGI_FRONT ? VUGI_BASE : up == VUGI_BACK ? VUGI_TOP : VUGI_FRONT;
}

/* Which way the hand goes, clockwise from 0: what faces the maker comes up. In degrees; 90: the right side does. */
static double hand_way(const double from[3], const double to[3], int facing)
{
    double near[3], right[3], rises[3], along = vugi_dot(from, to);
    vugi_side_vector(facing, near);
    double off = vugi_dot(near, from);
    for (int k = 0; k < 3; k++) {
        near[k] -= off * from[k];
        rises[k] = to[k] - along * from[k];
    }
    vugi_normalise(near);
    vugi_cross(from, near, right); /* the maker looks against near */
    return atan2(vugi_dot(rises, right), vugi_dot(rises, near)) * VUGI_RADIAN;
}

static void angle_words(double angle, bool about, char *text, size_t size)
{
    int steps = (int)floor(angle / VUGI_LEAN_STEP + 0.5);
    const char *word = about ? "about " : "";
    steps = steps > 0 ? steps : 1;
    if (steps == 18)
        vugi_print(text, size, "%sa quarter turn (90 degrees)", word);
    else
        vugi_print(text, size, "%s%d degrees", word, VUGI_LEAN_STEP * steps);
}

#if defined(__GNUC__)
#pragma GCC diagnostic ignored "-Wformat-nonliteral" /* one of ways */
#endif

static void turn_words(const double from[3], const double to[3], char *text, size_t size)
{
    double axis[3], angle;
    char pose[160], way[80], far[60];
    vugi_rotation_between(from, to, axis, &angle);
    pose_words(to, pose, sizeof pose);
    if (angle < 0.5 * VUGI_LEAN_STEP) {
        vugi_print(text, size, "do not turn it: %s", pose);
        return;
    }
    if (angle > 180.0 - 0.5 * VUGI_LEAN_STEP) {
        vugi_print(text, size, "turn it over, by half a turn: now %s", pose);
        return;
    }
    int up = vugi_say(from).up, facing = facing_side(up);
    double hand = hand_way(from, to, facing), steps = floor(hand / 45.0 + 0.5);
    bool about = fabs(hand - 45.0 * steps) > 1.0
        || fabs(angle - VUGI_LEAN_STEP * floor(angle / VUGI_LEAN_STEP + 0.5)) > 1.0;
    vugi_print(way, sizeof way, ways[((int)steps + 8) % 8], vugi_side_name(up));
    angle_words(angle, about, far, sizeof far);
    vugi_print(text, size, "with its %s facing you %s by %s: now %s", vugi_side_name(facing), way,
        far, pose);
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

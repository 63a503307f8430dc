/* SPDX-License-Identifier: MIT
 * A pose from the words that say it. */
#include "base/message.h"
#include "base/vec.h"
#include "pose/say.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

static bool is_space(char c)
{
    return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

static char small(char c)
{
    return (char)(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
}

/* *at goes behind the words, in which a space stands for any white space. */
static bool take(const char **at, const char *words)
{
    const char *text = *at;
    for (; *words; words++) {
        if (*words == ' ') {
            if (!is_space(*text))
                return false;
            while (is_space(*text))
                text++;
        } else if (small(*text++) != *words) {
            return false;
        }
    }
    *at = text;
    return true;
}

static bool take_side(const char **at, int *side)
{
    for (*side = 0; *side < VUGI_SIDES; ++*side)
        if (take(at, vugi_side_name(*side)))
            return true;
    return false;
}

/* Up to 3 digits. */
static bool take_degrees(const char **at, int *degrees)
{
    size_t digits = strspn(*at, "0123456789");
    *degrees = 0;
    for (size_t i = 0; i < digits && i < 4; i++)
        *degrees = 10 * *degrees + (*(*at)++ - '0');
    return digits > 0 && digits < 4;
}

/* These words, and no more is said. */
static bool ends(const char *at, const char *words)
{
    if (!take(&at, words))
        return false;
    while (is_space(*at) || *at == '.')
        at++;
    return *at == '\0';
}

/* A pose that begins here, mostly with "its". degrees: of the lean. */
static bool take_pose(const char *at, vugi_saying *say, int *degrees)
{
    *say = (vugi_saying){.rise = {-1, -1}};
    *degrees = 0;
    if (ends(at, "upright") || ends(at, "upside down")) {
        say->up = ends(at, "upright") ? VUGI_TOP : VUGI_BASE;
        return true;
    }
    if (!take(&at, "its ") || !take_side(&at, &say->up))
        return false;
    if (take(&at, " straight up") || ends(at, " up"))
        return true;
    return take(&at, " up, leaning ") && take_degrees(&at, degrees)
        && take(&at, " degrees so that its ") && take_side(&at, &say->rise[0])
        && (take(&at, " rises")
            || (take(&at, " and ") && take_side(&at, &say->rise[1]) && take(&at, " rise alike")));
}

/* The direction, if it is one of those that are said. */
static bool find(vugi_saying *say, int degrees, double up[3])
{
    double said[3], nearest[3];
    if (degrees % VUGI_LEAN_STEP != 0)
        return false;
    for (int i = 0; i < 2; i++)
        if (say->rise[i] >= 0 && say->rise[i] / 2 == (i > 0 ? say->rise[0] : say->up) / 2)
            return false;
    if (say->rise[1] >= 0 && say->rise[1] / 2 == say->up / 2)
        return false;
    say->lean_steps = degrees / VUGI_LEAN_STEP;
    vugi_said(say, said);
    memcpy(nearest, said, sizeof nearest);
    vugi_say_nearest(nearest);
    if (!(vugi_dot(said, nearest) > 1.0 - 1e-12))
        return false;
    memcpy(up, nearest, sizeof nearest);
    return true;
}

vug_status vug_pose_parse(vug_context *ctx, const char *text, double *up)
{
    vugi_saying say, last = {.rise = {-1, -1}};
    int degrees, lean = -1;
    if (!text || !up)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "text or up is NULL");
    for (const char *at = text; *at; at++)
        if ((at == text || is_space(at[-1])) && take_pose(at, &say, &degrees)) {
            last = say;
            lean = degrees;
        }
    if (lean < 0)
        return vugi_fail(ctx, VUG_ERR_NOT_FOUND,
            "'%.60s' says no pose: it has to be as in \"its top straight up\" or \"its top up, "
            "leaning 25 degrees so that its front rises\"",
            text);
    if (!find(&last, lean, up))
        return vugi_fail(ctx, VUG_ERR_DOMAIN,
            "a lean of %d degrees so that the %s%s%s rises from where the %s is up is not said: it "
            "goes "
            "in steps of %d degrees, and on to where another side is up",
            lean, last.rise[0] < 0 ? "" : vugi_side_name(last.rise[0]),
            last.rise[1] < 0 ? "" : " and ", last.rise[1] < 0 ? "" : vugi_side_name(last.rise[1]),
            vugi_side_name(last.up), VUGI_LEAN_STEP);
    return VUG_OK;
}

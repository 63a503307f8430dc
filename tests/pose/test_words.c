/* SPDX-License-Identifier: MIT
 * Poses in words and back, turns as a hand makes them, letters of openings, sides of a part. */
#include "shapes.h"
#include "test.h"

static const double DEGREE = 3.14159265358979323846 / 180.0;

enum { POINTS = 3000, MOST = 600 };

static double dot(const double a[3], const double b[3])
{
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

static double apart(const double a[3], const double b[3])
{
    return sqrt((a[0] - b[0]) * (a[0] - b[0]) + (a[1] - b[1]) * (a[1] - b[1])
        + (a[2] - b[2]) * (a[2] - b[2]));
}

/* ---- reading the words again, by what the manual says and not by the library ------------------ */

static const struct {
    const char *name;
    double out[3];
} sides[6] = {{"top", {0, 0, 1}}, {"base", {0, 0, -1}}, {"front", {0, -1, 0}}, {"back", {0, 1, 0}},
    {"right side", {1, 0, 0}}, {"left side", {-1, 0, 0}}};

static const double *side_at(const char *text, const char **after)
{
    for (size_t i = 0; i < 6; i++)
        if (strncmp(text, sides[i].name, strlen(sides[i].name)) == 0) {
            *after = text + strlen(sides[i].name);
            return sides[i].out;
        }
    ck_abort_msg("no side: %s", text);
    return NULL;
}

/* "... its A up, leaning N degrees so that its B and C rise alike": cos N A + sin N (B + C) / |B + C|. */
static void by_hand(const char *words, double up[3])
{
    const char *at = strstr(words, "its ") + 4, *after;
    const double *side = side_at(at, &after), *rises[2] = {NULL, NULL};
    int lean = 0;
    if (sscanf(after, " up, leaning %d degrees", &lean) == 1) {
        at = strstr(after, "so that its ") + 12;
        rises[0] = side_at(at, &after);
        if (strncmp(after, " and ", 5) == 0)
            rises[1] = side_at(after + 5, &after);
    } else {
        ck_assert_str_eq(after, " straight up");
    }
    ck_assert_int_eq(lean % 5, 0);
    double share = rises[1] ? sqrt(0.5) : 1.0;
    for (int k = 0; k < 3; k++) {
        up[k] = cos(lean * DEGREE) * side[k];
        for (int i = 0; i < 2; i++)
            up[k] += rises[i] ? share * sin(lean * DEGREE) * rises[i][k] : 0.0;
    }
}

typedef struct said_poses {
    char words[MOST][320];
    double up[MOST][3];
    size_t count;
} said_poses;

static void gather(vug_context *ctx, const double up[3], said_poses *set)
{
    char words[320];
    ck_ok(ctx, vug_pose_words(ctx, NULL, up, words, sizeof words));
    for (size_t i = 0; i < set->count; i++)
        if (strcmp(set->words[i], words) == 0)
            return;
    ck_assert_uint_lt(set->count, MOST);
    strcpy(set->words[set->count], words);
    ck_ok(ctx, vug_pose_parse(ctx, words, set->up[set->count++]));
}

static said_poses *all_poses(vug_context *ctx)
{
    static said_poses set;
    static double points[3 * POINTS];
    set.count = 0;
    vug_sphere_points(POINTS, points);
    for (size_t i = 0; i < POINTS; i++)
        gather(ctx, points + 3 * i, &set);
    for (int axis = 0; axis < 3; axis++)
        for (int sign = -1; sign < 2; sign += 2) {
            double up[3] = {0.0, 0.0, 0.0};
            up[axis] = sign;
            gather(ctx, up, &set);
        }
    return &set;
}

/* 6 sides straight up; between two neighbours of the 12 pairs, 17 leans; to two neighbours alike, from each of
 * 24 corners of sides, 10 leans to 50 degrees, and from top and base 55, 8 of them: 6 + 204 + 240 + 8. */
START_TEST(words_bring_the_same_pose)
{
    vug_context *ctx = test_context();
    const said_poses *set = all_poses(ctx);
    ck_assert_uint_eq(set->count, 458);
    for (size_t i = 0; i < set->count; i++) {
        double hand[3], over[3], back[3];
        char words[320];
        by_hand(set->words[i], hand);
        ck_assert_msg(apart(hand, set->up[i]) < 1e-12, "%s", set->words[i]);
        ck_ok(ctx, vug_pose_words(ctx, NULL, set->up[i], words, sizeof words));
        ck_assert_str_eq(words, set->words[i]);
        for (int k = 0; k < 3; k++) /* turned over it can be said too */
            over[k] = -set->up[i][k];
        ck_ok(ctx, vug_pose_words(ctx, NULL, over, words, sizeof words));
        ck_ok(ctx, vug_pose_parse(NULL, words, back));
        ck_assert_msg(apart(over, back) < 1e-15, "%s, turned over: %s", set->words[i], words);
    }
    vug_context_free(ctx);
}
END_TEST

/* No direction is said by a pose that is not the nearest, and none is farther than half the way between two of
 * the eight ways to lean where they are widest apart: 22.5 degrees at a lean of 45, asin(sin 45 sin 22.5) =
 * 15.7, and 2.5 more. */
START_TEST(nearest_is_said)
{
    vug_context *ctx = test_context();
    const said_poses *set = all_poses(ctx);
    static double points[3 * POINTS];
    vug_sphere_points(POINTS, points);
    for (size_t i = 0; i < POINTS; i += 7) {
        double up[3], best = -1.0;
        char words[320];
        ck_ok(ctx, vug_pose_words(ctx, NULL, points + 3 * i, words, sizeof words));
        ck_ok(ctx, vug_pose_parse(ctx, words, up));
        for (size_t k = 0; k < set->count; k++)
            best = fmax(best, dot(set->up[k], points + 3 * i));
        ck_close(dot(up, points + 3 * i), best, 1e-12);
        ck_assert(best > cos(18.2 * DEGREE));
    }
    vug_context_free(ctx);
}
END_TEST

/* ---- turns --------------------------------------------------------------------------------- */

static void cross(const double a[3], const double b[3], double out[3])
{
    for (int k = 0; k < 3; k++)
        out[k] = a[(k + 1) % 3] * b[(k + 2) % 3] - a[(k + 2) % 3] * b[(k + 1) % 3];
}

/* Does what the words tell the hand to do, from a pose: the side named first faces the maker as nearly as the pose
 * lets it; what goes away from him brings up what faced him, what goes to the left what was at his right. */
static void follow(const char *words, const double from[3], double up[3])
{
    const char *after;
    if (strncmp(words, "turn it over", 12) == 0) {
        for (int k = 0; k < 3; k++)
            up[k] = -from[k];
        return;
    }
    ck_assert_msg(strncmp(words, "with its ", 9) == 0, "%s", words);
    double near[3], right[3], way[2] = {0.0, 0.0}, length;
    memcpy(near, side_at(words + 9, &after), sizeof near);
    double off = dot(near, from);
    for (int k = 0; k < 3; k++)
        near[k] -= off * from[k];
    length = sqrt(dot(near, near));
    for (int k = 0; k < 3; k++)
        near[k] /= length;
    cross(from, near, right); /* up x (towards him) is at his right */
    char hand[200];
    snprintf(hand, sizeof hand, "%.*s", (int)(strstr(words, " by ") - after), after);
    way[0] = strstr(hand, "away from you") ? 1.0 : strstr(hand, "towards you") ? -1.0 : 0.0;
    way[1] = strstr(hand, "to the left") ? 1.0 : strstr(hand, "to the right") ? -1.0 : 0.0;
    length = hypot(way[0], way[1]);
    ck_assert(length > 0.0);
    const char *number = strpbrk(strstr(words, " by "), "0123456789");
    double angle = atof(number) * DEGREE;
    for (int k = 0; k < 3; k++)
        up[k] = cos(angle) * from[k] + sin(angle) * (way[0] * near[k] + way[1] * right[k]) / length;
}

/* Eight ways for the hand are told, so the way is off by at most 22.5 degrees, and the angle by 2.5. What is told as
 * sure ("by 30", not "by about 30") is right to 2 degrees. The pose that the words end with is the one meant. */
START_TEST(turns_lead_there)
{
    vug_context *ctx = test_context();
    const said_poses *set = all_poses(ctx);
    for (size_t i = 0; i < set->count; i += 5)
        for (size_t j = 0; j < set->count; j += 11) {
            char words[400];
            double got[3], meant[3];
            const double *from = set->up[i], *to = set->up[j];
            ck_ok(ctx, vug_pose_words(ctx, from, to, words, sizeof words));
            ck_ok(ctx, vug_pose_parse(ctx, words, meant));
            ck_assert(apart(meant, to) < 1e-12);
            if (strncmp(words, "do not turn", 11) == 0) {
                ck_assert(dot(from, to) > cos(2.6 * DEGREE));
                continue;
            }
            follow(words, from, got);
            double turn = acos(fmax(-1.0, fmin(1.0, dot(from, to))));
            double most = strstr(words, "about ")
                ? 2.0 * asin(sin(turn) * sin(11.25 * DEGREE)) + 2.51 * DEGREE
                : 2.0 * DEGREE;
            if (strncmp(words, "turn it over", 12) == 0)
                most = 2.6 * DEGREE;
            ck_assert_msg(acos(fmin(1.0, dot(got, to))) <= most, "%s -> %s: %g degrees off",
                set->words[i], words, acos(fmin(1.0, dot(got, to))) / DEGREE);
        }
    vug_context_free(ctx);
}
END_TEST

/* By hand, with the part in it: an upright part whose front faces the maker, tipped away from him, lies with its
 * front up; rolled to the left, with its right side up. */
START_TEST(turns_by_hand)
{
    vug_context *ctx = test_context();
    const double top[3] = {0, 0, 1}, front[3] = {0, -1, 0}, right[3] = {1, 0, 0};
    char words[400];
    ck_ok(ctx, vug_pose_words(ctx, top, front, words, sizeof words));
    ck_assert_str_eq(words,
        "with its front facing you tip its top away from you by a quarter turn (90 degrees): now "
        "lying, its front straight up");
    ck_ok(ctx, vug_pose_words(ctx, top, right, words, sizeof words));
    ck_assert_str_eq(words,
        "with its front facing you roll its top to the left by a quarter turn (90 degrees): now "
        "lying, its right side straight up");
    vug_context_free(ctx);
}
END_TEST

START_TEST(words_that_say_no_pose)
{
    vug_context *ctx = test_context();
    double up[3] = {7.0, 7.0, 7.0};
    const double diagonal[3] = {0.0, -sqrt(0.5), sqrt(0.5)};
    ck_assert_int_eq(vug_pose_parse(ctx, NULL, up), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_pose_parse(ctx, "its top straight up", NULL), VUG_ERR_ARGUMENT);
    const char *const none[] = {"", "up", "its top", "its lid straight up",
        "its top up, leaning degrees so that its front rises",
        "its top up, leaning 12345 degrees so that its front rises", "itsits top straight up",
        "upside down or upright, who knows",
        "its top up, leaning 20 degrees so that its front and left side"};
    for (size_t i = 0; i < sizeof none / sizeof *none; i++)
        ck_assert_msg(vug_pose_parse(ctx, none[i], up) == VUG_ERR_NOT_FOUND, "%s", none[i]);
    const char *const off[] = {"its top up, leaning 22 degrees so that its front rises",
        "its top up, leaning 20 degrees so that its base rises",
        "its top up, leaning 60 degrees so that its front and right side rise alike",
        "its top up, leaning 20 degrees so that its front and back rise alike"};
    for (size_t i = 0; i < sizeof off / sizeof *off; i++)
        ck_assert_msg(vug_pose_parse(ctx, off[i], up) == VUG_ERR_DOMAIN, "%s", off[i]);
    ck_close(up[0], 7.0, 0.0);
    /* said from the other side, broken into lines, in capitals: the same */
    ck_ok(ctx,
        vug_pose_parse(ctx,
            "Hold it,\n  Its front up, LEANING 45\n\tdegrees so that\nits top  rises.", up));
    ck_assert(apart(up, diagonal) < 1e-15);
    /* straight up goes without saying */
    ck_ok(ctx, vug_pose_parse(ctx, "its top up.", up));
    ck_assert(apart(up, (const double[]){0.0, 0.0, 1.0}) < 1e-15);
    ck_ok(ctx, vug_pose_parse(ctx, "its base straight up, then its top straight up", up));
    ck_close(up[2], 1.0, 0.0); /* the last one counts */
    ck_ok(ctx, vug_pose_parse(ctx, "Upside down.", up));
    ck_assert(apart(up, (const double[]){0.0, 0.0, -1.0}) < 1e-15);
    ck_ok(ctx, vug_pose_parse(ctx, "its base straight up, then upright", up));
    ck_assert(apart(up, (const double[]){0.0, 0.0, 1.0}) < 1e-15);
    vug_context_free(ctx);
}
END_TEST

/* ---- openings and sides ------------------------------------------------------------------------ */

START_TEST(letters)
{
    const struct {
        size_t number;
        const char *name;
    } list[] = {{0, "A"}, {1, "B"}, {25, "Z"}, {26, "A2"}, {51, "Z2"}, {52, "A3"}, {260, "A11"}};
    char name[24];
    size_t number;
    for (size_t i = 0; i < sizeof list / sizeof *list; i++) {
        ck_assert_int_eq(vug_opening_letter(NULL, list[i].number, name, sizeof name), VUG_OK);
        ck_assert_str_eq(name, list[i].name);
    }
    for (size_t i = 0; i < 70000; i += 37) {
        ck_assert_int_eq(vug_opening_letter(NULL, i, name, sizeof name), VUG_OK);
        ck_assert_int_eq(vug_opening_number(NULL, name, &number), VUG_OK);
        ck_assert_uint_eq(number, i);
    }
    ck_assert_int_eq(vug_opening_number(NULL, "b2", &number), VUG_OK);
    ck_assert_uint_eq(number, 27);
    ck_assert_int_eq(vug_opening_number(NULL, "17", &number), VUG_OK);
    ck_assert_uint_eq(number, 17);
    const char *const bad[] = {"", "AA", "A1", "A0", "A02", "-1", "1.5", "A2x", "007", "1234567",
        " A", "\xc3\x84"};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
        ck_assert_msg(vug_opening_number(NULL, bad[i], &number) == VUG_ERR_DOMAIN, "%s", bad[i]);
    ck_assert_uint_eq(number, 17);
    ck_assert_int_eq(vug_opening_number(NULL, NULL, &number), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_opening_number(NULL, "A", NULL), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_opening_letter(NULL, 0, NULL, 3), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_opening_letter(NULL, 0, name, 0), VUG_ERR_ARGUMENT);
}
END_TEST

/* A ball of 44 mm with its one hole in +z: the hole is at its top, and nothing else tells its sides apart. */
START_TEST(sides_of_a_ball)
{
    vug_context *ctx = test_context();
    const double hole[7] = {0.0, 0.0, 22.0, 0.0, 0.0, 1.0, 3.0};
    vug_cavities *c = cavities_by_hole(ctx, shape_hollow_ball(ctx, 20.0, 22.0, 1.5, 40), hole);
    char text[700];
    ck_ok(ctx, vug_sides_words(ctx, c, text, sizeof text));
    ck_assert_ptr_nonnull(strstr(text, "44 mm from base to top, its longest,"));
    ck_assert_ptr_nonnull(strstr(text, "44 mm from front to back"));
    ck_assert_ptr_nonnull(strstr(text, "Opening A is at its top."));
    ck_assert_ptr_nonnull(strstr(text, "Mark its front with tape"));
    ck_assert_int_eq(vug_sides_words(ctx, NULL, text, sizeof text), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_sides_words(ctx, c, NULL, 9), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_sides_words(NULL, c, text, sizeof text), VUG_ERR_ARGUMENT);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("words");
    TCase *tc = tcase_create("words");
    tcase_add_test(tc, words_bring_the_same_pose);
    tcase_add_test(tc, nearest_is_said);
    tcase_add_test(tc, turns_lead_there);
    tcase_add_test(tc, turns_by_hand);
    tcase_add_test(tc, words_that_say_no_pose);
    tcase_add_test(tc, letters);
    tcase_add_test(tc, sides_of_a_ball);
    suite_add_tcase(suite, tc);
    return test_run(suite);
}

/* SPDX-License-Identifier: MIT
 * What the library says reads the same in a process that writes 0,51: messages and words of poses. The
 * C library's own text in the C locale is what is compared with. Skipped (77) where no locale with a
 * comma is there or can be made by localedef. */
#define _POSIX_C_SOURCE 200809L /* mkdtemp, setenv */

#include "base/format.h"
#include "test.h"


#include <locale.h>
#include <stdbool.h>
#include <stdint.h>
#include <unistd.h>

static char folder[64] = "/tmp/vug-locale-XXXXXX";

static bool comma_in(const char *name)
{
    return setlocale(LC_ALL, name) && localeconv()->decimal_point[0] == ',';
}

/* Makes a German locale in a folder of its own. */
static bool comma_made(void)
{
    char command[256];
    if (!mkdtemp(folder))
        return false;
    snprintf(command, sizeof command, "localedef -i de_DE -f UTF-8 %s/de_DE.UTF-8 >/dev/null 2>&1",
        folder);
    return system(command) == 0 && setenv("LOCPATH", folder, 1) == 0 && comma_in("de_DE.UTF-8");
}

static void remove_folder(void)
{
    char command[128];
    snprintf(command, sizeof command, "rm -rf %s", folder);
    if (system(command) != 0)
        perror(folder);
}

static const char *locale_name(void)
{
    static const char *const known[] = {"de_DE.UTF-8", "de_DE", "fr_FR.UTF-8", "nl_NL.UTF-8"};
    for (size_t i = 0; i < sizeof known / sizeof *known; i++)
        if (comma_in(known[i]))
            return known[i];
    return comma_made() ? "de_DE.UTF-8" : NULL;
}

static const char *comma;

#define AS_C(...) \
    do { \
        char want[700], got[700]; \
        setlocale(LC_ALL, "C"); \
        int length = snprintf(want, sizeof want, __VA_ARGS__); \
        ck_assert_ptr_nonnull(setlocale(LC_ALL, comma)); \
        ck_assert_uint_eq(vugi_print(got, sizeof got, __VA_ARGS__), length); \
        ck_assert_str_eq(got, want); \
    } while (0)

START_TEST(text_is_that_of_the_c_locale)
{
    AS_C("%g %f %e %G %.3g %.0f %8.2f|%-8.1f|%+.2e|%08.3f|%#.0f", 0.51, -0.51, 1.5e300, 2.5,
        1234.5678, 2.5, 3.14159, 2.25, -1e-310, 2.5, 3.0);
    AS_C("%f", 1.7976931348623157e308);
    AS_C("%g %g %g %8.1f|", (double)INFINITY, -(double)INFINITY, (double)NAN, (double)INFINITY);
    AS_C("%d %i %u %5d|%-5u|%05d %x %c %% %s %.3s %.0s|", -7, 8, 9u, 10, 11u, 12, 255u, 'q', "a,b",
        "abcdef", "no");
    AS_C("%ld %lu %lld %llu %zu %jd %td", -1L, 2UL, -3LL, UINT64_MAX + 0ULL, SIZE_MAX, (intmax_t)-4,
        (ptrdiff_t)5);
}
END_TEST

START_TEST(text_is_cut_to_its_room)
{
    char text[6] = "?????";
    ck_assert_uint_eq(vugi_print(text, sizeof text, "%.2f mm", 12.345), 8);
    ck_assert_str_eq(text, "12.35");
    ck_assert_uint_eq(vugi_print(NULL, 0, "%d", 123), 3);
}
END_TEST

/* What a caller reads, in whatever locale is set. */
static void speak(char message[512], char words[256])
{
    const double from[3] = {0.0, 0.0, 1.0}, to[3] = {0.3, 0.4, 0.5};
    vug_context *ctx = test_context();
    const double thickness = 2.0;
    double share = 0.0;
    ck_assert_int_eq(vug_wall_transmission(ctx, 0.1, 0.51, &thickness, 1, &share), VUG_ERR_DOMAIN);
    snprintf(message, 512, "%s", vug_context_message(ctx));
    ck_ok(ctx, vug_pose_words(ctx, from, to, words, 256));
    vug_context_free(ctx);
}

START_TEST(messages_and_words_have_points)
{
    char message[2][512], words[2][256];
    setlocale(LC_ALL, "C");
    speak(message[0], words[0]);
    ck_assert_ptr_nonnull(strstr(message[0], "0.51"));
    ck_assert_ptr_nonnull(setlocale(LC_ALL, comma));
    speak(message[1], words[1]);
    ck_assert_str_eq(message[1], message[0]);
    ck_assert_str_eq(words[1], words[0]);
}
END_TEST

int main(void)
{
    comma = locale_name();
    if (!comma) {
        puts("no locale with a decimal comma, and localedef makes none");
        return 77;
    }
    Suite *suite = suite_create("locale");
    TCase *tc = tcase_create("locale");
    tcase_add_test(tc, text_is_that_of_the_c_locale);
    tcase_add_test(tc, text_is_cut_to_its_room);
    tcase_add_test(tc, messages_and_words_have_points);
    suite_add_tcase(suite, tc);
    int failed = test_run(suite);
    if (strcmp(folder + strlen(folder) - 6, "XXXXXX") != 0)
        remove_folder();
    return failed;
}

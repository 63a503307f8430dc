/* SPDX-License-Identifier: MIT
 * Openings by letter, as people call them: A to Z, A2 to Z2, A3 ... */
#include "base/format.h"
#include "base/message.h"

#include <stdbool.h>
#include <string.h>

enum { LETTERS = 26 };

vug_status vug_opening_letter(vug_context *ctx, size_t number, char *text, size_t size)
{
    if (!text || size == 0)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "text is NULL or has no room");
    if (number < LETTERS)
        vugi_print(text, size, "%c", (int)('A' + number));
    else
        vugi_print(text, size, "%c%zu", (int)('A' + number % LETTERS), number / LETTERS + 1);
    return VUG_OK;
}

/* Digits without sign, space or leading zero but for 0 itself. */
static bool read_digits(const char *text, size_t *value)
{
    size_t digits = strspn(text, "0123456789");
    if (digits == 0 || digits > 6 || text[digits] != '\0' || (digits > 1 && text[0] == '0'))
        return false;
    for (*value = 0; *text; text++)
        *value = 10 * *value + (size_t)(*text - '0');
    return true;
}

vug_status vug_opening_number(vug_context *ctx, const char *text, size_t *number)
{
    size_t value = 0;
    if (!text || !number)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "text or number is NULL");
    char first = text[0];
    if (first >= 'a' && first <= 'z')
        first = (char)(first - 'a' + 'A');
    bool letter = first >= 'A' && first <= 'Z';
    if (letter && text[1] == '\0')
        value = (size_t)(first - 'A');
    else if (letter && read_digits(text + 1, &value) && value >= 2)
        value = (value - 1) * LETTERS + (size_t)(first - 'A');
    else if (letter || !read_digits(text, &value))
        return vugi_fail(ctx, VUG_ERR_DOMAIN,
            "'%.20s' is no opening: they are called A to Z, A2 to Z2 and so on, or by number from "
            "0",
            text);
    *number = value;
    return VUG_OK;
}

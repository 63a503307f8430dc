/* SPDX-License-Identifier: MIT
 * Text that grows line by line, broken at spaces. */
#include "plan/text/page.h"

#include <stdarg.h>
#include <string.h>

static void put(vugi_page *page, const char *text, size_t length)
{
    if (page->failed
        || !vugi_reserve(page->mem, &page->text, &page->room, page->length + length + 1, 1)) {
        page->failed = true;
        return;
    }
    memcpy(page->text + page->length, text, length);
    page->length += length;
    page->text[page->length] = '\0';
}

static void put_spaces(vugi_page *page, size_t count)
{
    for (size_t i = 0; i < count; i++)
        put(page, " ", 1);
}

/* A number stays with its unit, or what it counts. */
static size_t word_length(const char *text)
{
    size_t word = strcspn(text, " ");
    while (word > 0 && text[word] == ' ' && text[word - 1] >= '0' && text[word - 1] <= '9'
        && text[word + 1] && text[word + 1] != ' ')
        word += 1 + strcspn(text + word + 1, " ");
    return word;
}

/* From column `at` on, further lines indented. */
static void put_wrapped(vugi_page *page, const char *text, size_t at, size_t indent)
{
    for (bool first = true; *text; first = false) {
        size_t word = word_length(text);
        if (!first && at + 1 + word > page->width) {
            put(page, "\n", 1);
            put_spaces(page, indent);
            at = indent;
        } else if (!first) {
            put(page, " ", 1);
            at++;
        }
        put(page, text, word);
        at += word;
        text += word + (text[word] == ' ');
    }
    put(page, "\n", 1);
}

VUGI_PRINTF(4, 0)
static void put_formatted(vugi_page *page, size_t at, size_t indent, const char *format,
    va_list args)
{
    char end[1];
    va_list again;
    va_copy(again, args);
    size_t length = vugi_vprint(end, sizeof end, format, again);
    va_end(again);
    char *line = page->failed ? NULL : vugi_alloc(page->mem, length + 1, 1);
    if (line) {
        vugi_vprint(line, length + 1, format, args);
        put_wrapped(page, line, at, indent);
    }
    page->failed = !line;
    vugi_free(page->mem, line);
}

void vugi_page_title(vugi_page *page, const char *format, ...)
{
    va_list args;
    if (page->length > 0)
        put(page, "\n", 1);
    va_start(args, format);
    put_formatted(page, 0, 2, format, args);
    va_end(args);
}

void vugi_page_item(vugi_page *page, const char *mark, const char *format, ...)
{
    va_list args;
    size_t wide = strlen(mark), at = 2 + wide;
    put_spaces(page, 2);
    put(page, mark, wide);
    put_spaces(page, at < VUGI_PAGE_INDENT ? VUGI_PAGE_INDENT - at : 1);
    va_start(args, format);
    put_formatted(page, at < VUGI_PAGE_INDENT ? VUGI_PAGE_INDENT : at + 1, VUGI_PAGE_INDENT, format,
        args);
    va_end(args);
}

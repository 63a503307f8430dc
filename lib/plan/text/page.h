/* SPDX-License-Identifier: MIT
 * Text that grows line by line, broken at spaces. */
#ifndef VUGI_PLAN_TEXT_PAGE_H
#define VUGI_PLAN_TEXT_PAGE_H

#include "base/format.h"
#include "base/memory.h"

enum { VUGI_PAGE_INDENT = 5 };

typedef struct vugi_page {
    const vugi_allocator *mem;
    char *text; /* ended; NULL: nothing yet */
    size_t length, room, width;
    bool failed; /* no memory: what is added is lost */
} vugi_page;

/* An empty line, if there is any text, and a line at the margin. */
void vugi_page_title(vugi_page *page, const char *format, ...) VUGI_PRINTF(2, 3);

/* Indented lines; the first begins with a mark such as "1" or "-", which may be "". */
void vugi_page_item(vugi_page *page, const char *mark, const char *format, ...) VUGI_PRINTF(3, 4);

#endif

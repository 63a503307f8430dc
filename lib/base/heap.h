/* SPDX-License-Identifier: MIT
 * Floor 0: a binary heap in an array of any elements, the first of them on top. Inline, so that the
 * compiler knows the size and the comparison where it is used. */
#ifndef VUGI_HEAP_H
#define VUGI_HEAP_H

#include <assert.h>
#include <stdbool.h>
#include <stddef.h>
#include <string.h>

/* Must a stand above b? For the same bytes everywhere no two elements may be equal in it. */
typedef bool (*vugi_before)(const void *a, const void *b);

/* Adds an element to *count that are there; the array has room for it. */
static inline void vugi_heap_push(void *heap, size_t *count, size_t size, const void *element,
    vugi_before before)
{
    char *list = heap;
    size_t at = (*count)++;
    while (at > 0 && before(element, list + (at - 1) / 2 * size)) {
        memcpy(list + at * size, list + (at - 1) / 2 * size, size);
        at = (at - 1) / 2;
    }
    memcpy(list + at * size, element, size);
}

/* Takes the top element of *count, 1 at least, into *top. */
static inline void vugi_heap_pop(void *heap, size_t *count, size_t size, void *top,
    vugi_before before)
{
    assert(*count > 0);
    char *list = heap;
    size_t at = 0, left = --*count;
    const char *last = list + left * size;
    memcpy(top, list, size);
    for (size_t child; (child = 2 * at + 1) < left; at = child) {
        if (child + 1 < left && before(list + (child + 1) * size, list + child * size))
            child++;
        if (!before(list + child * size, last))
            break;
        memcpy(list + at * size, list + child * size, size);
    }
    if (at < left)
        memcpy(list + at * size, last, size);
    assert(left == 0 || !before(list, top));
}

#endif

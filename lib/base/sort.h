/* SPDX-License-Identifier: MIT
 * Floor 0: sorting and searching lists of any elements. */
#ifndef VUGI_SORT_H
#define VUGI_SORT_H

#include "base/base.h"

/* Below 0: a goes before b; above 0: after; 0: as they stand. */
typedef int (*vugi_compare)(const void *a, const void *b, const void *user);

/* Elements that begin with two uint32_t: by the first, then by the second. */
int vugi_by_pair(const void *a, const void *b, const void *user);

/* Elements that begin with a double, which is a number: rising. */
int vugi_by_number(const void *a, const void *b, const void *user);

/* Sorts count elements of size bytes in O(n log n) comparisons whatever their order. Stable: equal
 * elements keep their order. false: no memory, and the list is as it was; lists of up to
 * VUGI_SORT_SMALL bytes need none. */
enum { VUGI_SORT_SMALL = 2048 };
bool vugi_sort(const vugi_allocator *mem, void *list, size_t count, size_t size,
    vugi_compare compare, const void *user);

/* Stable radix sort of count numbers by key[number]; swap has room for as many. */
void vugi_sort_keys(uint32_t *number, const uint32_t *key, size_t count, uint32_t *swap);

/* Place of the first element of a sorted list that does not go before key; count if all do. */
size_t vugi_lower_bound(const void *key, const void *list, size_t count, size_t size,
    vugi_compare compare, const void *user);

/* An element of a sorted list that is equal to key, the first of them; NULL if there is none. */
const void *vugi_search(const void *key, const void *list, size_t count, size_t size,
    vugi_compare compare, const void *user);

#endif

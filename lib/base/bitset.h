/* SPDX-License-Identifier: MIT
 * A set of numbers below a bound, a bit for each. */
#ifndef VUGI_BITSET_H
#define VUGI_BITSET_H

#include "base/base.h"

typedef struct vugi_bitset {
    uint64_t *word;
    size_t words;
} vugi_bitset;

/* Empty, for numbers below bound. false: no memory; vugi_bitset_free() is harmless then too. */
bool vugi_bitset_make(const vugi_allocator *mem, size_t bound, vugi_bitset *set);
void vugi_bitset_free(const vugi_allocator *mem, vugi_bitset *set);

void vugi_bitset_add(vugi_bitset *set, size_t number);       /* below bound */
bool vugi_bitset_has(const vugi_bitset *set, size_t number); /* false from bound on */
size_t vugi_bitset_count(const vugi_bitset *set);

/* The members in rising order: *list from mem, the caller frees it; NULL of an empty set. false: no
 * memory. */
bool vugi_bitset_list(const vugi_allocator *mem, const vugi_bitset *set, uint32_t **list,
    size_t *count);

#endif

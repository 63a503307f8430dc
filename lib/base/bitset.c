/* SPDX-License-Identifier: MIT */
#include "base/bitset.h"

enum { BITS = 64 };

bool vugi_bitset_make(const vugi_allocator *mem, size_t bound, vugi_bitset *set)
{
    set->words = bound / BITS + 1;
    set->word = vugi_calloc(mem, set->words, sizeof *set->word);
    return set->word != NULL;
}

void vugi_bitset_free(const vugi_allocator *mem, vugi_bitset *set)
{
    vugi_free(mem, set->word);
    *set = (vugi_bitset){.word = NULL};
}

void vugi_bitset_add(vugi_bitset *set, size_t number)
{
    set->word[number / BITS] |= (uint64_t)1 << number % BITS;
}

bool vugi_bitset_has(const vugi_bitset *set, size_t number)
{
    return number / BITS < set->words && (set->word[number / BITS] >> number % BITS & 1u);
}

size_t vugi_bitset_count(const vugi_bitset *set)
{
    size_t count = 0;
    for (size_t i = 0; i < set->words; i++)
        for (uint64_t w = set->word[i]; w != 0; w &= w - 1) /* takes the lowest bit away */
            count++;
    return count;
}

bool vugi_bitset_list(const vugi_allocator *mem, const vugi_bitset *set, uint32_t **list,
    size_t *count)
{
    size_t n = 0, all = vugi_bitset_count(set);
    *list = NULL;
    *count = 0;
    if (all == 0)
        return true;
    if (!(*list = vugi_alloc(mem, all, sizeof **list)))
        return false;
    for (size_t i = 0; i < BITS * set->words; i++)
        if (vugi_bitset_has(set, i))
            (*list)[n++] = (uint32_t)i;
    *count = all;
    return true;
}

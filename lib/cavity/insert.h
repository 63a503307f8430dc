/* SPDX-License-Identifier: MIT
 * One more or one less cavity in a set that is sorted and numbered. */
#ifndef VUGI_CAVITY_INSERT_H
#define VUGI_CAVITY_INSERT_H

#include "cavity/cavity.h"

/* Puts one more cavity with its openings (which it takes over; their outlines are from the set's
 * allocator) in its place by volume. Numbers of later cavities and openings move up. */
vug_status vugi_cavities_insert(vug_context *ctx, vug_cavities *c, const vugi_cavity *cavity,
    const vugi_opening *opening, size_t opening_count);

/* Takes cavity number index and its openings out again. */
void vugi_cavities_remove(vug_cavities *c, size_t index);

#endif

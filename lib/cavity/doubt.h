/* SPDX-License-Identifier: MIT
 * Which openings are not sure, in words. */
#ifndef VUGI_CAVITY_DOUBT_H
#define VUGI_CAVITY_DOUBT_H

#include "cavity/cavity.h"

#include <stdbool.h>

/* One more of a list "A, B and D" in text, which *used bytes of size hold: told are in it, left are still to come, this
 * one with them. Where the room ends it says how many more there are: then, and after the last, false. */
bool vugi_list_letter(char *text, size_t size, size_t *used, size_t letter, size_t told,
    size_t left);

/* As vug_doubt_words(). letter: how each opening is called, by the number of its letter; NULL: by its own number. */
void vugi_doubt_words(const vug_cavities *cavities, int32_t cavity, const size_t *letter,
    char *text, size_t size);

#endif

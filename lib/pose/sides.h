/* SPDX-License-Identifier: MIT
 * Which side of a part is its top, its front, its left, told by what a maker sees of it. */
#ifndef VUGI_POSE_SIDES_H
#define VUGI_POSE_SIDES_H

#include "cavity/cavity.h"

/* letter: how each opening is called, by the number of its letter; SIZE_MAX: not named here. NULL: by its own
 * number. */
vug_status vugi_sides_words(vug_context *ctx, const vug_cavities *cavities, const size_t *letter,
    char *text, size_t size);

#endif

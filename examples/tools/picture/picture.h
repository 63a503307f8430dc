/* SPDX-License-Identifier: MIT
 * Draws a part in the pose in which it is held, up being up on the page: seen from outside, and cut
 * open, with liquid, trapped air, openings and bores to drill. PNG, SVG and PDF from one drawing. */
#ifndef TOOLS_PICTURE_PICTURE_H
#define TOOLS_PICTURE_PICTURE_H

#include "drawing.h"
#include "../tool/tool.h"

#include <stddef.h>

/* Writes base.png, base.svg and base.pdf, each whole or not at all. DONE or FAILED. */
int picture_write(const tool *program, const drawing *picture, const char *base);

/* The same, with the part cut open at count moments one after the other in place of the two
 * views. */
int picture_write_stages(const tool *program, const drawing *picture, const picture_stage *stages,
    size_t count, const char *base);

#endif

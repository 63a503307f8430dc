/* SPDX-License-Identifier: MIT
 * What is behind the skin, by colour and pattern: paint is dark, a film of it dotted, bare skin crossed. */
#ifndef TOOLS_PICTURE_BEHIND_H
#define TOOLS_PICTURE_BEHIND_H

#include "drawing.h"

#include <cairo.h>

/* Colour at a place of an image that is BEHIND_FINE pixels a page unit: blue, green, red, 0 to 255. */
enum { BEHIND_FINE = 2 };
void behind_color(enum skin_kind kind, int x, int y, float color[3]);

/* A field of it for the key. */
void behind_swatch(cairo_t *cr, double x, double y, enum skin_kind kind);

#endif

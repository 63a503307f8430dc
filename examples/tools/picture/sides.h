/* SPDX-License-Identifier: MIT
 * Which sides of the part are seen, by the names that poses are said with. */
#ifndef TOOLS_PICTURE_SIDES_H
#define TOOLS_PICTURE_SIDES_H

#include "drawing.h"

#include <cairo.h>

/* Three labelled strokes from (x, y) to the sides of the part that look up, aside and at the viewer. */
void sides_draw(cairo_t *cr, const drawing *picture, double x, double y);

#endif

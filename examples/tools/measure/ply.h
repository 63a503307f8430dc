/* SPDX-License-Identifier: MIT
 * The part in colours. */
#ifndef TOOLS_MEASURE_PLY_H
#define TOOLS_MEASURE_PLY_H

#include "measured.h"
#include "../tool/tool.h"

/* A coloured PLY: outer skin grey, each cavity's wall in a colour of its own, openings
 * orange, skin over a wall that is too thin black. */
int measure_ply(const tool *program, const measured *m, const char *file);

#endif

/* SPDX-License-Identifier: MIT
 * How thin the wall is in a cut. */
#ifndef TOOLS_PICTURE_WALL_H
#define TOOLS_PICTURE_WALL_H

#include "cut.h"

/* The shortest way through the wall of a cavity, both of its faces square to it within 17 degrees: from the cavity's face
 * to the other one, points of across, height. false: the cut has none. */
bool picture_thinnest(const drawing *picture, const cut_outlines *cut, double from[2],
    double to[2]);

#endif

/* SPDX-License-Identifier: MIT
 * Poses that words can say: a side of the part that looks up, and one lean. */
#ifndef VUGI_POSE_SAY_H
#define VUGI_POSE_SAY_H

#include "base/base.h"

#include <stdbool.h>

/* Sides of the part: axis * 2, and 1 more for the negative one. */
enum {
    VUGI_RIGHT,
    VUGI_LEFT,
    VUGI_BACK,
    VUGI_FRONT,
    VUGI_TOP,
    VUGI_BASE,
    VUGI_SIDES,
    VUGI_LEAN_STEP = 5
};

/* A side up, and leaning so that one other side, or two alike, rise. */
typedef struct vugi_saying {
    int up;         /* side */
    int rise[2];    /* sides; the second -1: only one, both: no lean */
    int lean_steps; /* of VUGI_LEAN_STEP degrees */
} vugi_saying;

/* "right side", and so on. */
const char *vugi_side_name(int side);

/* Unit vector out of a side. */
void vugi_side_vector(int side, double out[3]);

/* Of the four sides around one that is up, number i of 0 to 3: each next to the one before. */
int vugi_side_around(int up, int i);

/* The direction that points up then: the one formula by which words, plans and callers get it. */
void vugi_said(const vugi_saying *say, double up[3]);

/* How the pose that is nearest to a unit vector is said. The same for a vector that vugi_said() made. */
vugi_saying vugi_say(const double up[3]);

/* Is this a way in which vugi_say() says something? */
bool vugi_sayable(const vugi_saying *say);

/* up becomes the nearest direction that can be said. */
void vugi_say_nearest(double up[3]);

#endif

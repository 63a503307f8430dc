/* SPDX-License-Identifier: MIT
 * What is inside already. */
#ifndef VUGI_PLAN_TEXT_INSIDE_H
#define VUGI_PLAN_TEXT_INSIDE_H

#include "plan/text/writing.h"

/* In a plan that goes on from there; else nothing. */
void vugi_write_inside(vugi_writing *w);

#endif

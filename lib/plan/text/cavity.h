/* SPDX-License-Identifier: MIT
 * The part as it is before anything is done. */
#ifndef VUGI_PLAN_TEXT_CAVITY_H
#define VUGI_PLAN_TEXT_CAVITY_H

#include "plan/text/writing.h"

void vugi_write_cavity(vugi_writing *w);

#endif

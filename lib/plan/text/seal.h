/* SPDX-License-Identifier: MIT
 * How to close it. */
#ifndef VUGI_PLAN_TEXT_SEAL_H
#define VUGI_PLAN_TEXT_SEAL_H

#include "plan/text/writing.h"

void vugi_write_seal(vugi_writing *w);

#endif

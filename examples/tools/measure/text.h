/* SPDX-License-Identifier: MIT
 * The measures in words. */
#ifndef TOOLS_MEASURE_TEXT_H
#define TOOLS_MEASURE_TEXT_H

#include "measured.h"

void measure_print(const measured *m);

#endif

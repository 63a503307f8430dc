/* SPDX-License-Identifier: MIT
 * The measures as JSON. */
#ifndef TOOLS_MEASURE_JSON_H
#define TOOLS_MEASURE_JSON_H

#include "measured.h"

#include <jansson.h>

json_t *measure_json(const measured *m);

#endif

/* SPDX-License-Identifier: MIT
 * What the part does while it is printed: closed cups, outside and inside, and their pull on the film. */
#ifndef TOOLS_DRAIN_PRINTING_H
#define TOOLS_DRAIN_PRINTING_H

#include "outside.h"

#include "../part/part.h"
#include "../tool/json.h"

#include <vug.h>

typedef struct printing {
    vug_cups *inside; /* NULL without a cavity */
    outside outside;
    bool *on_plate; /* of each opening: the plate shuts it */
    size_t openings;
    const vug_mesh *cavity; /* the part's: what begins in it is told as inside; NULL: none */
    double lo[3], hi[3];    /* its bounds */
    double aside_mm;        /* so far aside of it a cup may seem to begin that begins in it */
    double up[3];           /* unit */
    double lowest_mm;       /* of the part along up */
    printing_settings settings;
} printing;

printing_settings printing_usual(void);

/* cavity: its number; below 0: none. */
vug_status printing_find(part *p, int32_t cavity, const double *up, int64_t columns,
    const printing_settings *settings, printing *out);
void printing_free(printing *found);

void printing_print(const printing *found);
json_t *printing_json(const printing *found);

#endif

/* SPDX-License-Identifier: MIT
 * A fill or a drain moment by moment, as a picture. */
#ifndef TOOLS_PICTURE_COURSE_H
#define TOOLS_PICTURE_COURSE_H

#include "../tool/tool.h"

#include <stdbool.h>
#include <vug.h>

typedef struct course_picture {
    const vug_mesh *mesh;
    const char *base; /* base.png, base.svg, base.pdf */
    const char *title, *subtitle, *liquid;
    const vug_cavities *cavities;
    const vug_course *course;
    const double *up;
    const int32_t *roles; /* of the openings */
    size_t opening_count;
    const double *at_mm3; /* draw it with these volumes inside; none: in even steps */
    size_t at_count;
    bool drain; /* liquid leaves: what is left at the end is liquid, not air */
} course_picture;

/* DONE or FAILED. */
int course_draw(const tool *program, vug_context *ctx, const course_picture *course);

#endif

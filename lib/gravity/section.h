/* SPDX-License-Identifier: MIT
 * The section of a sweep that is done, at any height. */
#ifndef VUGI_GRAVITY_SECTION_H
#define VUGI_GRAVITY_SECTION_H

#include "gravity/sweep.h"

typedef struct vugi_section vugi_section;

/* Of a column: the raw arc, the span; VUGI_NONE: it is not in the section. */
uint32_t vugi_section_arc(const vugi_section *section, size_t column);
uint32_t vugi_section_span(const vugi_section *section, size_t column);

typedef vug_status (*vugi_section_fn)(void *user, size_t stop, const vugi_section *section);

/* Calls with the section at each of the heights, which rise. */
vug_status vugi_sections(vug_context *ctx, const vugi_allocator *mem, const vugi_sweep *sweep,
    const double *z, size_t count, vugi_section_fn visit, void *user);

#endif

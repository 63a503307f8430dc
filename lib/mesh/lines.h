/* SPDX-License-Identifier: MIT
 * Text files read line by line, word by word; # begins a comment. */
#ifndef VUGI_MESH_LINES_H
#define VUGI_MESH_LINES_H

#include "mesh/gather.h"

typedef struct vugi_lines {
    vugi_gather *gather;
    const unsigned char *at, *end;
    size_t line; /* from 1 */
} vugi_lines;

typedef struct vugi_word {
    const unsigned char *text;
    size_t length; /* 0: the line, or the file, is at its end */
} vugi_word;

vugi_word vugi_lines_word(vugi_lines *lines);
void vugi_lines_skip(vugi_lines *lines);       /* to the next line */
vugi_word vugi_lines_first(vugi_lines *lines); /* of the next line that has one, from here on */
bool vugi_word_is(vugi_word word, const char *text);

/* A count or number from 0 to limit. */
bool vugi_word_count(vugi_word word, size_t limit, size_t *count);

/* Three coordinates, the first of which is in word; the rest of the line is left. */
vug_status vugi_lines_point(vugi_lines *lines, vugi_word word, double p[3]);

/* VUG_ERR_FORMAT: expected should stand here. */
vug_status vugi_lines_fail(const vugi_lines *lines, const char *expected);

/* Polygons, gathered as fans of triangles. */
typedef struct vugi_fans {
    vug_context *ctx;
    uint32_t *triangle; /* rows of 3 */
    size_t count, capacity;
    size_t corners; /* of the polygon so far */
    uint32_t first, last;
} vugi_fans;

vug_status vugi_fans_corner(vugi_fans *fans, size_t vertex);
void vugi_fans_close(vugi_fans *fans);

#endif

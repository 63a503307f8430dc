/* SPDX-License-Identifier: MIT */
#include "json.h"

#include "fail.h"
#include "whole_file.h"

#include <stdio.h>
#include <string.h>

json_t *json_triple(const double v[3])
{
    return json_pack("[f,f,f]", v[0], v[1], v[2]);
}

int json_write(const tool *program, json_t *root, const char *file)
{
    const size_t flags = JSON_INDENT(2) | JSON_REAL_PRECISION(17);
    if (!root)
        return fail(program, "no memory for the JSON");
    int code;
    if (strcmp(file, "-") == 0) {
        bool good = json_dumpf(root, stdout, flags) == 0 && putchar('\n') != EOF;
        code = good && fflush(stdout) == 0 ? DONE : fail(program, "cannot write to stdout");
    } else {
        char *beside = NULL;
        FILE *stream = whole_open(program, file, &beside);
        bool good = stream && json_dumpf(root, stream, flags) == 0 && fputc('\n', stream) != EOF;
        code = stream ? whole_close(program, stream, file, beside, good) : FAILED;
    }
    json_decref(root);
    return code;
}

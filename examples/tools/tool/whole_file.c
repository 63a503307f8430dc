/* SPDX-License-Identifier: MIT */
#include "whole_file.h"

#include "fail.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

FILE *whole_open(const tool *program, const char *file, char **beside)
{
    struct stat found;
    size_t size = strlen(file) + sizeof ".part";
    *beside = malloc(size);
    if (!*beside) {
        fail(program, "no memory");
        return NULL;
    }
    bool special = stat(file, &found) == 0 && !S_ISREG(found.st_mode);
    snprintf(*beside, size, "%s%s", file, special ? "" : ".part");
    FILE *stream = fopen(*beside, "wb");
    if (!stream) {
        fail(program, "cannot write %s: %s", *beside, strerror(errno));
        free(*beside);
        *beside = NULL;
    }
    return stream;
}

int whole_close(const tool *program, FILE *stream, const char *file, char *beside, bool good)
{
    bool special = strcmp(file, beside) == 0, written = !ferror(stream);
    written = fclose(stream) == 0 && written;
    good = good && written && (special || rename(beside, file) == 0);
    if (!good) {
        fail(program, "cannot write %s%s%s", file, written ? "" : ": ",
            written ? "" : strerror(errno));
        if (!special)
            remove(beside);
    }
    free(beside);
    return good ? DONE : FAILED;
}

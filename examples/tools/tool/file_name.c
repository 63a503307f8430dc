/* SPDX-License-Identifier: MIT */
#include "file_name.h"

#include <jansson.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

void short_name(const char *file, char name[64])
{
    const char *slash = strrchr(file, '/');
    snprintf(name, 64, "%.60s", slash ? slash + 1 : file);
    json_t *valid = json_string(name); /* NULL unless UTF-8 */
    for (size_t i = 0; name[i] && !valid; i++)
        if ((unsigned char)name[i] >= 0x80)
            name[i] = '?';
    json_decref(valid);
}

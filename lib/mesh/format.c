/* SPDX-License-Identifier: MIT
 * Formats of mesh files: which one a file is. */
#include "mesh/format.h"

#include "mesh/stl_text.h"

#include <string.h>

bool vugi_ends_with(const char *path, const char *ending)
{
    size_t length = strlen(path), n = strlen(ending);
    if (length < n)
        return false;
    for (size_t i = 0; i < n; i++)
        if ((path[length - n + i] | 0x20) != ending[i])
            return false;
    return true;
}

static bool begins_with(const unsigned char *data, size_t size, const char *text)
{
    size_t n = strlen(text);
    return size >= n && memcmp(data, text, n) == 0;
}

/* OFF, COFF, NOFF, STOFF, 4OFF ... as the first word. */
static bool is_off(const unsigned char *data, size_t size)
{
    size_t i = 0;
    while (i < size && i < 6 && data[i] > ' ')
        i++;
    return i >= 3 && i < 6 && memcmp(data + i - 3, "OFF", 3) == 0;
}

int32_t vugi_format_of(const char *path, const unsigned char *data, size_t size)
{
    if (begins_with(data, size, "PK\003\004"))
        return VUG_FORMAT_3MF;
    if (begins_with(data, size, "ply\n") || begins_with(data, size, "ply\r"))
        return VUG_FORMAT_PLY;
    if (is_off(data, size))
        return VUG_FORMAT_OFF;
    if (vugi_stl_is_text(data, size))
        return VUG_FORMAT_STL;
    static const struct {
        const char *ending;
        int32_t format;
    } endings[] = {
        {".obj", VUG_FORMAT_OBJ},
        {".3mf", VUG_FORMAT_3MF},
        {".ply", VUG_FORMAT_PLY},
        {".off", VUG_FORMAT_OFF},
    };
    for (size_t i = 0; i < sizeof endings / sizeof *endings; i++)
        if (vugi_ends_with(path, endings[i].ending))
            return endings[i].format;
    return VUG_FORMAT_STL;
}

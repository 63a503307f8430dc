/* SPDX-License-Identifier: MIT */
#include "config.h"
#include "vug.h"

#include <string.h>

int32_t vug_version_number(void)
{
    return VUG_VERSION_MAJOR * 10000 + VUG_VERSION_MINOR * 100 + VUG_VERSION_PATCH;
}

const char *vug_version_string(void)
{
    return VUG_VERSION_STRING;
}

static const struct {
    const char *name;
    int32_t present;
} features[] = {
#ifdef _OPENMP
    {"openmp", 1},
#else
    {"openmp", 0},
#endif
#ifdef HAVE_3MF
    {"3mf", 1},
#else
    {"3mf", 0},
#endif
};

int32_t vug_feature(const char *name)
{
    for (size_t i = 0; name && i < sizeof features / sizeof features[0]; i++)
        if (strcmp(name, features[i].name) == 0)
            return features[i].present;
    return 0;
}

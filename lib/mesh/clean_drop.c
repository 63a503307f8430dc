/* SPDX-License-Identifier: MIT
 * Taking triangles away. */
#include "mesh/clean_drop.h"

#include <string.h>

size_t vugi_clean_drop(vugi_clean *c, const unsigned char *gone)
{
    size_t kept = 0;
    for (size_t t = 0; t < c->mesh.triangle_count; t++) {
        if (gone[t])
            continue;
        if (kept < t)
            memcpy(c->mesh.triangles + 3 * kept, c->mesh.triangles + 3 * t,
                3 * sizeof *c->mesh.triangles);
        kept++;
    }
    size_t dropped = c->mesh.triangle_count - kept;
    c->mesh.triangle_count = kept;
    return dropped;
}

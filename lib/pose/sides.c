/* SPDX-License-Identifier: MIT
 * Which side of a part is its top, its front, its left: those of its file, told by how far it is from one to the
 * other, and by an opening or by where the part is heavier. */
#include "pose/sides.h"

#include "base/format.h"
#include "base/message.h"
#include "mesh/measure.h"
#include "pose/say.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

/* A landmark is so far off the middle, as a share of the way from side to side, that it is seen. */
static const double SEEN = 0.1, HEAVIER = 0.03;

typedef struct landmarks {
    double lo[3], hi[3], center[3]; /* of mass */
} landmarks;

static double offset(const landmarks *l, const double point[3], int axis)
{
    double way = l->hi[axis] - l->lo[axis];
    return way > 0.0 ? (point[axis] - 0.5 * (l->lo[axis] + l->hi[axis])) / way : 0.0;
}

/* The opening that is farthest to one end of an axis, or SIZE_MAX if none is seen to be. */
static size_t farthest(const vug_cavities *cavities, const size_t *letter, const landmarks *l,
    int axis)
{
    size_t best = SIZE_MAX;
    double most = SEEN;
    for (size_t i = 0; i < cavities->opening_count; i++) {
        double off = fabs(offset(l, cavities->opening[i].center, axis));
        if ((!letter || letter[i] != SIZE_MAX) && off > most + 1e-9) {
            most = off;
            best = i;
        }
    }
    return best;
}

/* "Opening A is at its base." "" where nothing tells the two sides of an axis apart. */
static void say_axis(const vug_cavities *cavities, const size_t *letter, const landmarks *l,
    int axis, char *text, size_t size)
{
    size_t i = farthest(cavities, letter, l, axis);
    double heavy = offset(l, l->center, axis);
    char name[24] = "";
    text[0] = '\0';
    if (i != SIZE_MAX) {
        double off = offset(l, cavities->opening[i].center, axis);
        vug_opening_letter(NULL, letter ? letter[i] : i, name, sizeof name);
        vugi_print(text, size, " Opening %s is %s its %s.", name,
            fabs(off) > 0.45 ? "at" : "nearer to", vugi_side_name(2 * axis + (off < 0.0)));
    } else if (fabs(heavy) > HEAVIER) {
        vugi_print(text, size, " It is heavier towards its %s.",
            vugi_side_name(2 * axis + (heavy < 0.0)));
    }
}

static vug_status find_landmarks(vug_context *ctx, const vug_cavities *cavities, landmarks *l)
{
    vug_mesh_measures measures = {.struct_size = sizeof measures};
    vug_status status = vugi_mesh_measure(ctx, cavities->part, &measures);
    const double *xyz = vug_mesh_vertices(cavities->part);
    for (int k = 0; k < 3 && !status; k++) {
        l->center[k] = measures.centroid_mm[k];
        l->lo[k] = INFINITY;
        l->hi[k] = -INFINITY;
        for (size_t i = 0; i < vug_mesh_vertex_count(cavities->part); i++) {
            l->lo[k] = fmin(l->lo[k], xyz[3 * i + (size_t)k]);
            l->hi[k] = fmax(l->hi[k], xyz[3 * i + (size_t)k]);
        }
    }
    return status;
}

vug_status vugi_sides_words(vug_context *ctx, const vug_cavities *cavities, const size_t *letter,
    char *text, size_t size)
{
    landmarks l;
    vug_status status = find_landmarks(ctx, cavities, &l);
    if (status)
        return status;
    double way[3];
    int longest = 2;
    for (int k = 0; k < 3; k++)
        way[k] = l.hi[k] - l.lo[k];
    for (int k = 1; k >= 0; k--)
        if (way[k] > 1.02 * way[longest])
            longest = k;
    const char *mark[3] = {"", "", ""};
    mark[longest] = ", its longest";
    size_t used = vugi_print(text, size,
        "Its top is +z in its file, its front -y, its left side -x; looked at from the front, left "
        "is left. "
        "It measures %.0f mm from base to top%s, %.0f mm from front to back%s, %.0f mm from left "
        "to "
        "right%s.",
        way[2], mark[2], way[1], mark[1], way[0], mark[0]);
    bool told[3] = {false, false, false};
    for (int k = 2; k >= 0 && used < size; k--) {
        char line[80];
        say_axis(cavities, letter, &l, k, line, sizeof line);
        used += vugi_print(text + used, size - used, "%s", line);
        told[k] = line[0] != '\0';
    }
    if (told[0] + told[1] + told[2] < 2 && used < size) /* two tell the third */
        vugi_print(text + used, size - used, " Mark its %s with tape before you begin.",
            told[2]                  ? "front"
                : told[0] || told[1] ? "top"
                                     : "top and its front");
    return VUG_OK;
}

vug_status vug_sides_words(vug_context *ctx, const vug_cavities *cavities, char *text, size_t size)
{
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!cavities || !text || size == 0)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "cavities or text is NULL, or text has no room");
    return vugi_sides_words(ctx, cavities, NULL, text, size);
}

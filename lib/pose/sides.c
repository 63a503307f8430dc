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

/* What tells the two sides of an axis apart: an opening, BODY, or SIZE_MAX for nothing. */
static const size_t BODY = SIZE_MAX - 1;

typedef struct mark {
    size_t by;
    char where[32]; /* "at its base" */
} mark;

static mark mark_axis(const vug_cavities *cavities, const size_t *letter, const landmarks *l,
    int axis)
{
    mark m = {.by = farthest(cavities, letter, l, axis)};
    const double heavy = offset(l, l->center, axis);
    if (m.by != SIZE_MAX) {
        double off = offset(l, cavities->opening[m.by].center, axis);
        vugi_print(m.where, sizeof m.where, "%s its %s", fabs(off) > 0.45 ? "at" : "nearer to",
            vugi_side_name(2 * axis + (off < 0.0)));
    } else if (fabs(heavy) > HEAVIER) {
        m.by = BODY;
        vugi_print(m.where, sizeof m.where, "towards its %s",
            vugi_side_name(2 * axis + (heavy < 0.0)));
    }
    return m;
}

/* All that one landmark tells, in one sentence: " Opening A is at its base and nearer to its left side." */
static size_t say_mark(const mark all[3], size_t by, const size_t *letter, char *text, size_t size)
{
    char name[24] = "";
    const char *where[3];
    size_t count = 0, used = 0;
    for (int k = 2; k >= 0; k--)
        if (all[k].by == by)
            where[count++] = all[k].where;
    if (by == BODY)
        used = vugi_print(text, size, " It is heavier");
    else if (!vug_opening_letter(NULL, letter ? letter[by] : by, name, sizeof name))
        used = vugi_print(text, size, " Opening %s is", name);
    for (size_t i = 0; i < count && used < size; i++)
        used += vugi_print(text + used, size - used, "%s%s",
            i == 0               ? " "
                : i + 1 == count ? " and "
                                 : ", ",
            where[i]);
    return used < size ? used + vugi_print(text + used, size - used, ".") : used;
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
    const char *most[3] = {"", "", ""};
    most[longest] = ", its longest";
    size_t used = vugi_print(text, size,
        "Its top is +z in its file, its front -y, its left side -x; looked at from the front, left "
        "is left. "
        "It measures %.0f mm from base to top%s, %.0f mm from front to back%s, %.0f mm from left "
        "to "
        "right%s.",
        way[2], most[2], way[1], most[1], way[0], most[0]);
    mark all[3];
    bool told[3];
    for (int k = 0; k < 3; k++) {
        all[k] = mark_axis(cavities, letter, &l, k);
        told[k] = all[k].by != SIZE_MAX;
    }
    for (int k = 2; k >= 0 && used < size; k--) {
        bool said = !told[k];
        for (int before = 2; before > k; before--)
            said |= all[before].by == all[k].by;
        if (!said)
            used += say_mark(all, all[k].by, letter, text + used, size - used);
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

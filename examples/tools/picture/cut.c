/* SPDX-License-Identifier: MIT
 * The outlines where a plane, or one plane and another beside it, cuts a mesh. */
#include "cut.h"

#include "project.h"

#include <stdlib.h>
#include <string.h>

typedef struct crossing { /* of a mesh edge, in one of its triangles */
    uint32_t a, b;        /* the edge's ends, a < b */
    uint32_t segment;     /* 2 t for the first crossing of triangle t in the list, 2 t + 1 */
} crossing;

static int compare(const void *x, const void *y)
{
    const crossing *p = x, *q = y;
    if (p->a != q->a)
        return p->a < q->a ? -1 : 1;
    if (p->b != q->b)
        return p->b < q->b ? -1 : 1;
    return p->segment < q->segment ? -1 : p->segment > q->segment;
}

/* Both crossings of each cut triangle, those of triangle number n of them at 2 n and 2 n + 1. */
static size_t find_crossings(const drawing *picture, const double *nearness, crossing *list)
{
    size_t count = 0;
    for (size_t t = 0; t < picture->triangle_count; t++) {
        const uint32_t *v = picture->triangles + 3 * t;
        for (int k = 0; k < 3; k++) {
            uint32_t a = v[k], b = v[(k + 1) % 3];
            if ((nearness[a] < 0.0) == (nearness[b] < 0.0))
                continue;
            if (list) {
                list[count].a = a < b ? a : b;
                list[count].b = a < b ? b : a;
                list[count].segment = (uint32_t)count;
            }
            count++;
        }
    }
    return count;
}

static void crossing_point(const drawing *picture, const double *nearness, const crossing *c,
    double point[2])
{
    double p[3], q[3], t = nearness[c->a] / (nearness[c->a] - nearness[c->b]);
    picture_project(picture, picture->xyz + 3 * (size_t)c->a, p);
    picture_project(picture, picture->xyz + 3 * (size_t)c->b, q);
    point[0] = p[0] + t * (q[0] - p[0]);
    point[1] = p[1] + t * (q[1] - p[1]);
}

/* mate[s]: the same edge's crossing in the neighbour triangle (itself at an open edge). */
static void find_mates(crossing *sorted, size_t count, uint32_t *mate)
{
    qsort(sorted, count, sizeof *sorted, compare);
    for (size_t i = 0; i < count; i++)
        mate[sorted[i].segment] = sorted[i].segment;
    for (size_t i = 0; i + 1 < count; i++)
        if (sorted[i].a == sorted[i + 1].a && sorted[i].b == sorted[i + 1].b) {
            mate[sorted[i].segment] = sorted[i + 1].segment;
            mate[sorted[i + 1].segment] = sorted[i].segment;
            i++;
        }
}

/* Follows triangle after triangle until the outline closes. */
static void walk(const drawing *picture, const double *nearness, const crossing *list,
    const uint32_t *mate, size_t count, bool *seen, cut_outlines *out)
{
    size_t points = 0;
    out->count = 0;
    for (size_t start = 0; start < count; start++) {
        if (seen[start])
            continue;
        out->first[out->count++] = points;
        size_t at = start;
        while (!seen[at]) {
            seen[at] = seen[at ^ 1] = true;
            crossing_point(picture, nearness, &list[at ^ 1], out->point + 2 * points++);
            at = mate[at ^ 1];
        }
    }
    out->first[out->count] = points;
}

static bool cut_plane(const drawing *picture, double plane, cut_outlines *out)
{
    memset(out, 0, sizeof *out);
    double *nearness = malloc((picture->vertex_count + 1) * sizeof *nearness);
    if (!nearness)
        return false;
    for (size_t i = 0; i < picture->vertex_count; i++) {
        double p[3];
        picture_project(picture, picture->xyz + 3 * i, p);
        nearness[i] = p[2] - plane;
    }
    size_t count = find_crossings(picture, nearness, NULL);
    crossing *list = malloc((count + 1) * sizeof *list),
             *sorted = malloc((count + 1) * sizeof *sorted);
    uint32_t *mate = malloc((count + 1) * sizeof *mate);
    bool *seen = calloc(count + 2, sizeof *seen);
    out->point = malloc((count + 1) * 2 * sizeof *out->point);
    out->first = malloc((count + 2) * sizeof *out->first);
    bool good = list && sorted && mate && seen && out->point && out->first;
    if (good) {
        find_crossings(picture, nearness, list);
        memcpy(sorted, list, count * sizeof *list);
        find_mates(sorted, count, mate);
        walk(picture, nearness, list, mate, count, seen, out);
    } else {
        outlines_free(out);
    }
    free(nearness);
    free(list);
    free(sorted);
    free(mate);
    free(seen);
    return good;
}

/* What of an outline lies on that side of the step; room for twice as many points. */
static size_t keep_side(const double *point, size_t count, double at, double side, double *kept)
{
    size_t n = 0;
    for (size_t i = 0; i < count; i++) {
        const double *p = point + 2 * i, *q = point + 2 * ((i + 1) % count);
        if (side * (p[0] - at) >= 0.0)
            memcpy(kept + 2 * n++, p, 2 * sizeof *p);
        if ((p[0] < at) == (q[0] < at))
            continue;
        kept[2 * n] = at;
        kept[2 * n++ + 1] = p[1] + (at - p[0]) / (q[0] - p[0]) * (q[1] - p[1]);
    }
    return n;
}

static void append_side(const cut_outlines *from, double at, double side, cut_outlines *out)
{
    for (size_t i = 0; i < from->count; i++) {
        const size_t start = out->first[out->count];
        const size_t kept = keep_side(from->point + 2 * from->first[i],
            from->first[i + 1] - from->first[i], at, side, out->point + 2 * start);
        if (kept > 0)
            out->first[++out->count] = start + kept;
    }
}

bool picture_cut(const drawing *picture, cut_outlines *out)
{
    const picture_step *step = &picture->step;
    cut_outlines own = {0}, beyond = {0};
    if (step->side == 0.0)
        return cut_plane(picture, 0.0, out);
    memset(out, 0, sizeof *out);
    bool good = cut_plane(picture, 0.0, &own) && cut_plane(picture, step->nearer_mm, &beyond);
    if (good) {
        const size_t points = own.first[own.count] + beyond.first[beyond.count];
        out->point = malloc((2 * points + 1) * 2 * sizeof *out->point);
        out->first = calloc(own.count + beyond.count + 1, sizeof *out->first);
        good = out->point && out->first;
    }
    if (good) {
        append_side(&own, step->at_mm, -step->side, out);
        append_side(&beyond, step->at_mm, step->side, out);
    } else {
        outlines_free(out);
    }
    outlines_free(&own);
    outlines_free(&beyond);
    return good;
}

bool cut_is_step(const drawing *picture, const double a[2], const double b[2])
{
    const picture_step *s = &picture->step;
    return s->side != 0.0 && a[0] == s->at_mm && b[0] == s->at_mm;
}

void outlines_free(cut_outlines *outlines)
{
    free(outlines->point);
    free(outlines->first);
    memset(outlines, 0, sizeof *outlines);
}

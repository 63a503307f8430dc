/* SPDX-License-Identifier: MIT
 * The tool's planes in the solid: bounded by seams, and where those end at an edge of the tool, by that
 * edge until the next begins. */
#include "shape/bore/faces.h"

#include "base/sort.h"

#include <string.h>

/* An edge of the tool passes the surface. */
typedef struct event {
    double along;
    uint32_t edge, point;
    bool enters; /* going forward, into the solid */
} event;

typedef struct faces {
    vugi_cutting *cut;
    event *event; /* by edge, then along it */
    size_t count;
    uint32_t *first;  /* first event of each edge, and the end */
    uint32_t *place;  /* of each point among the events */
    uint32_t *starts; /* seam that starts at each point */
    uint32_t *ends;   /* seam that ends there */
    int8_t *in;       /* of each corner: 1 in the solid, 0 not, -1 not known */
    uint8_t *done;    /* of each seam */
} faces;

/* ---- seams and points ----------------------------------------------------------------------- */

/* One seam has to end and one to start at each point; at an edge of the mesh both in the same plane. */
static vug_status link_seams(faces *f)
{
    const vugi_cutting *cut = f->cut;
    for (size_t i = 0; i < cut->points.count; i++)
        f->starts[i] = f->ends[i] = UINT32_MAX;
    for (size_t i = 0; i < cut->seam_count; i++) {
        const vugi_seam *s = &cut->seam[i];
        if (f->starts[s->from] != UINT32_MAX || f->ends[s->to] != UINT32_MAX)
            return VUG_ERR_MESH;
        f->starts[s->from] = f->ends[s->to] = (uint32_t)i;
    }
    for (size_t i = 0; i < cut->points.count; i++) {
        if (f->starts[i] == UINT32_MAX || f->ends[i] == UINT32_MAX)
            return VUG_ERR_MESH;
        bool one = cut->seam[f->starts[i]].plane == cut->seam[f->ends[i]].plane;
        if (one != (cut->points.point[i].kind == VUGI_POINT_EDGE))
            return VUG_ERR_MESH;
    }
    return VUG_OK;
}

/* Place of an edge around a plane. */
static uint32_t rim_place(const vugi_tool *tool, uint32_t plane, uint32_t edge, bool *forward)
{
    uint32_t n = vugi_tool_rim_count(tool, plane), i = 0;
    while (i + 1 < n && vugi_tool_rim(tool, plane, i, forward) != edge)
        i++;
    vugi_tool_rim(tool, plane, i, forward);
    return i;
}

static int compare_events(const void *left, const void *right, const void *user)
{
    const event *p = left, *q = right;
    (void)user;
    if (p->edge != q->edge)
        return p->edge < q->edge ? -1 : 1;
    if (p->along < q->along || p->along > q->along)
        return p->along < q->along ? -1 : 1;
    return (p->point > q->point) - (p->point < q->point);
}

static vug_status list_events(faces *f)
{
    const vugi_cutting *cut = f->cut;
    for (uint32_t i = 0; i < cut->points.count; i++) {
        const vugi_point *p = &cut->points.point[i];
        if (p->kind != VUGI_POINT_PIERCE)
            continue;
        bool forward;
        rim_place(cut->tool, cut->seam[f->ends[i]].plane, p->a, &forward);
        f->event[f->count++] = (event){vugi_tool_along(cut->tool, p->a, p->x), p->a, i, forward};
    }
    if (!vugi_sort(&cut->carving->mem, f->event, f->count, sizeof *f->event, compare_events, NULL))
        return VUG_ERR_MEMORY;
    size_t at = 0;
    for (uint32_t edge = 0; edge <= 3 * cut->tool->sides; edge++) {
        while (at < f->count && f->event[at].edge < edge)
            at++;
        f->first[edge] = (uint32_t)at;
    }
    for (size_t i = 0; i < f->count; i++)
        f->place[f->event[i].point] = (uint32_t)i;
    return VUG_OK;
}

/* ---- corners -------------------------------------------------------------------------------- */

static bool set_corner(faces *f, uint32_t corner, bool in)
{
    bool agrees = f->in[corner] < 0 || f->in[corner] == (int8_t)in;
    f->in[corner] = (int8_t)in;
    return agrees;
}

/* Along an edge the surface is passed in and out in turns; both of its corners follow. */
static bool corners_of_edge(faces *f, uint32_t edge, bool *changed)
{
    uint32_t a = vugi_tool_edge_corner(f->cut->tool, edge, false);
    uint32_t b = vugi_tool_edge_corner(f->cut->tool, edge, true);
    uint32_t first = f->first[edge], end = f->first[edge + 1];
    if (first == end) {
        if (f->in[a] < 0 && f->in[b] < 0)
            return true;
        *changed |= f->in[a] < 0 || f->in[b] < 0;
        return f->in[a] < 0 ? set_corner(f, a, f->in[b]) : set_corner(f, b, f->in[a]);
    }
    for (uint32_t i = first; i + 1 < end; i++)
        if (f->event[i].enters == f->event[i + 1].enters)
            return false;
    *changed |= f->in[a] < 0 || f->in[b] < 0;
    return set_corner(f, a, !f->event[first].enters) && set_corner(f, b, f->event[end - 1].enters);
}

static vug_status find_corners(faces *f)
{
    const vugi_tool *tool = f->cut->tool;
    uint32_t n = tool->sides;
    memset(f->in, -1, 2 * (size_t)n);
    if (f->count == 0) {
        double x[3];
        vugi_tool_corner(tool, 0, x);
        int winding = vugi_line_winding(f->cut->carving, tool, f->cut->list, x);
        if (winding != 0 && winding != 1)
            return VUG_ERR_MESH;
        f->in[0] = (int8_t)winding;
    }
    for (bool changed = true; changed;) {
        changed = false;
        for (uint32_t edge = 0; edge < 3 * n; edge++)
            if (!corners_of_edge(f, edge, &changed))
                return VUG_ERR_MESH;
    }
    if (f->cut->removed_count == 0 && f->in[0] == 0)
        return VUG_ERR_NOT_FOUND;
    return VUG_OK;
}

/* ---- loops ---------------------------------------------------------------------------------- */

static bool add_point(faces *f, uint32_t plane, uint32_t number)
{
    double uv[2];
    vugi_tool_flat(f->cut->tool, plane, f->cut->points.point[number].x, uv);
    return vugi_outline_add(&f->cut->outline, f->cut->base + number, uv);
}

static bool add_corner(faces *f, uint32_t plane, uint32_t corner)
{
    vugi_point p = {.kind = VUGI_POINT_CORNER, .a = corner};
    vugi_tool_corner(f->cut->tool, corner, p.x);
    uint32_t number;
    return vugi_points_add(&f->cut->points, &p, &number) && add_point(f, plane, number);
}

/* From point *at along the rim of a plane to the next, through solid; corners on the way are added. */
static vug_status follow_rim(faces *f, uint32_t plane, uint32_t *at)
{
    const vugi_tool *tool = f->cut->tool;
    bool forward;
    uint32_t edge = f->cut->points.point[*at].a, n = vugi_tool_rim_count(tool, plane);
    uint32_t i = rim_place(tool, plane, edge, &forward), here = f->place[*at];
    for (uint32_t walked = 0; walked <= n; walked++) {
        uint32_t first = f->first[edge], end = f->first[edge + 1];
        uint32_t next = forward ? here + 1 : here - 1; /* below 0 it is far above the end */
        if (next >= first && next < end) {
            *at = f->event[next].point;
            return VUG_OK;
        }
        if (!add_corner(f, plane, vugi_tool_edge_corner(tool, edge, forward)))
            return VUG_ERR_MEMORY;
        i = (i + 1) % n;
        edge = vugi_tool_rim(tool, plane, i, &forward);
        here = forward ? f->first[edge] - 1 : f->first[edge + 1];
    }
    return VUG_ERR_MESH;
}

static vug_status follow_loop(faces *f, uint32_t first)
{
    const vugi_cutting *cut = f->cut;
    uint32_t seam = first, plane = cut->seam[first].plane;
    do {
        const vugi_seam *s = &cut->seam[seam];
        if (f->done[seam] || s->plane != plane)
            return VUG_ERR_MESH;
        f->done[seam] = 1;
        if (!add_point(f, plane, s->from))
            return VUG_ERR_MEMORY;
        uint32_t at = s->to;
        if (cut->points.point[at].kind == VUGI_POINT_PIERCE) {
            if (!add_point(f, plane, at))
                return VUG_ERR_MEMORY;
            vug_status status = follow_rim(f, plane, &at);
            if (status)
                return status;
        }
        seam = f->starts[at];
    } while (seam != first);
    return vugi_outline_close(&f->cut->outline) ? VUG_OK : VUG_ERR_MEMORY;
}

/* A rim that no seam ends at: all in the solid, or all outside. */
static vug_status add_whole_rim(faces *f, uint32_t plane)
{
    const vugi_tool *tool = f->cut->tool;
    uint32_t n = vugi_tool_rim_count(tool, plane);
    bool forward;
    for (uint32_t i = 0; i < n; i++) {
        uint32_t edge = vugi_tool_rim(tool, plane, i, &forward);
        if (f->first[edge] != f->first[edge + 1]
            || f->in[vugi_tool_edge_corner(tool, edge, forward)] != 1)
            return VUG_OK;
    }
    for (uint32_t i = 0; i < n; i++) {
        uint32_t edge = vugi_tool_rim(tool, plane, i, &forward);
        if (!add_corner(f, plane, vugi_tool_edge_corner(tool, edge, forward)))
            return VUG_ERR_MEMORY;
    }
    return vugi_outline_close(&f->cut->outline) ? VUG_OK : VUG_ERR_MEMORY;
}

static int compare_seams(const void *left, const void *right, const void *user)
{
    const vugi_seam *p = left, *q = right;
    (void)user;
    return (p->plane > q->plane) - (p->plane < q->plane);
}

static vug_status add_faces(faces *f)
{
    vugi_cutting *cut = f->cut;
    size_t at = 0;
    for (uint32_t plane = 0; plane < cut->tool->sides + 2; plane++) {
        vugi_outline_clear(&cut->outline);
        vug_status status = add_whole_rim(f, plane);
        for (; !status && at < cut->seam_count && cut->seam[at].plane == plane; at++)
            if (!f->done[at])
                status = follow_loop(f, (uint32_t)at);
        if (!status && cut->outline.loops > 0)
            status = vugi_patch(&cut->outline, false, &cut->added);
        if (status)
            return status;
    }
    return VUG_OK;
}

vug_status vugi_cut_faces(vugi_cutting *cut)
{
    const vugi_allocator *mem = &cut->carving->mem;
    size_t points = cut->points.count, edges = 3 * (size_t)cut->tool->sides;
    faces f = {.cut = cut};
    f.event = vugi_alloc(mem, points, sizeof *f.event);
    f.first = vugi_alloc(mem, edges + 1, sizeof *f.first);
    f.place = vugi_alloc(mem, points, sizeof *f.place);
    f.starts = vugi_alloc(mem, points, sizeof *f.starts);
    f.ends = vugi_alloc(mem, points, sizeof *f.ends);
    f.in = vugi_alloc(mem, edges, 1);
    f.done = vugi_calloc(mem, cut->seam_count, 1);
    vug_status status = f.event && f.first && f.place && f.starts && f.ends && f.in && f.done
            && vugi_sort(mem, cut->seam, cut->seam_count, sizeof *cut->seam, compare_seams, NULL)
        ? VUG_OK
        : VUG_ERR_MEMORY;
    if (!status)
        status = link_seams(&f);
    if (!status)
        status = list_events(&f);
    if (!status)
        status = find_corners(&f);
    if (!status)
        status = add_faces(&f);
    vugi_free(mem, f.event);
    vugi_free(mem, f.first);
    vugi_free(mem, f.place);
    vugi_free(mem, f.starts);
    vugi_free(mem, f.ends);
    vugi_free(mem, f.in);
    vugi_free(mem, f.done);
    return status;
}

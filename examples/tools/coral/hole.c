/* SPDX-License-Identifier: MIT
 * Round holes in the flat face of a net: the quads that the hole touches go, and the gap between
 * what is left and the circle is stitched by angle. */
#include "hole.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

typedef struct ring { /* edge of the gap, in the order of the quads that went */
    uint32_t *from, *to;
    double *angle; /* of from, unwrapped; falls along the ring, seen from above */
    size_t count;
} ring;

static const double full_turn = 6.283185307179586;

static bool quad_is_flat(const surface_net *net, size_t quad, double plane)
{
    for (size_t i = 6 * quad; i < 6 * quad + 6; i++)
        if (fabs(net->xyz[3 * (size_t)net->triangles[i] + 2] - plane) > 1e-9)
            return false;
    return true;
}

static bool quad_touches(const surface_net *net, size_t quad, double plane, const double center[2],
    double reach)
{
    for (size_t i = 6 * quad; i < 6 * quad + 6; i++) {
        const double *p = net->xyz + 3 * (size_t)net->triangles[i];
        if (fabs(p[2] - plane) < 1e-9 && hypot(p[0] - center[0], p[1] - center[1]) < reach)
            return true;
    }
    return false;
}

/* Takes out the quads; their outer sides become the ring, in no order yet. */
static bool take_out(surface_net *net, double plane, const double center[2], double reach, ring *r)
{
    size_t kept = 0, gone = 0, quads = net->triangle_count / 2;
    uint32_t *side = malloc((quads * 6 + 1) * 2 * sizeof *side);
    if (!side)
        return false;
    bool flat = true;
    for (size_t q = 0; q < quads; q++) {
        uint32_t *t = net->triangles + 6 * q;
        if (!quad_touches(net, q, plane, center, reach)) {
            memmove(net->triangles + 6 * kept++, t, 6 * sizeof *t);
            continue;
        }
        flat = flat && quad_is_flat(net, q, plane);
        for (size_t i = 0; i < 6; i++) {
            side[2 * gone] = t[i];
            side[2 * gone++ + 1] = t[i - i % 3 + (i + 1) % 3];
        }
    }
    memmove(net->triangles + 6 * kept, net->triangles + 6 * quads,
        3 * (net->triangle_count - 2 * quads) * sizeof *net->triangles);
    net->triangle_count -= 2 * (quads - kept);
    r->from = malloc((gone + 1) * sizeof *r->from);
    r->to = malloc((gone + 1) * sizeof *r->to);
    r->angle = malloc((gone + 2) * sizeof *r->angle);
    bool good = flat && r->from && r->to && r->angle;
    for (size_t i = 0; i < gone && good; i++) {
        bool inner = false;
        for (size_t j = 0; j < gone && !inner; j++)
            inner = side[2 * j] == side[2 * i + 1] && side[2 * j + 1] == side[2 * i];
        if (!inner) {
            r->from[r->count] = side[2 * i];
            r->to[r->count++] = side[2 * i + 1];
        }
    }
    free(side);
    return good && r->count >= 3;
}

/* Puts the sides one behind the other. false if they are not one ring that runs once around. */
static bool put_in_order(const surface_net *net, const double center[2], ring *r)
{
    for (size_t i = 0; i < r->count; i++) {
        size_t next = i + 1;
        while (next < r->count && r->from[next] != r->to[i])
            next++;
        if (i + 1 < r->count && next == r->count)
            return false;
        if (i + 1 < r->count) {
            uint32_t from = r->from[next], to = r->to[next];
            r->from[next] = r->from[i + 1];
            r->to[next] = r->to[i + 1];
            r->from[i + 1] = from;
            r->to[i + 1] = to;
        }
        const double *p = net->xyz + 3 * (size_t)r->from[i];
        r->angle[i] = atan2(p[1] - center[1], p[0] - center[0]);
        while (i > 0 && r->angle[i] > r->angle[i - 1])
            r->angle[i] -= full_turn;
        if (i > 0 && r->angle[i] < r->angle[i - 1] - 0.5 * full_turn)
            return false;
    }
    r->angle[r->count] = r->angle[0] - full_turn;
    return r->to[r->count - 1] == r->from[0] && r->angle[r->count - 1] > r->angle[r->count];
}

static bool add_circle(surface_net *net, double plane, const double center[2], double radius,
    size_t count)
{
    double *grown = realloc(net->xyz, (net->vertex_count + count + 1) * 3 * sizeof *grown);
    if (!grown)
        return false;
    net->xyz = grown;
    for (size_t i = 0; i < count; i++) { /* clockwise from above, as the ring */
        double a = -full_turn * (double)i / (double)count;
        double *p = grown + 3 * net->vertex_count++;
        p[0] = center[0] + radius * cos(a);
        p[1] = center[1] + radius * sin(a);
        p[2] = plane;
    }
    return true;
}

/* Whether a, b, c turn clockwise seen from above: outward, for a face that looks down. */
static bool faces_down(const surface_net *net, uint32_t a, uint32_t b, uint32_t c)
{
    const double *p = net->xyz + 3 * (size_t)a, *q = net->xyz + 3 * (size_t)b,
                 *r = net->xyz + 3 * (size_t)c;
    return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]) < 0.0;
}

static double apart(const surface_net *net, uint32_t a, uint32_t b)
{
    const double *p = net->xyz + 3 * (size_t)a, *q = net->xyz + 3 * (size_t)b;
    return hypot(p[0] - q[0], p[1] - q[1]);
}

/* Walks ring and circle side by side, always to the nearer next point that leaves a triangle
 * the right way round. false if there is none, or no memory. */
static bool stitch(surface_net *net, const ring *r, uint32_t first, size_t count)
{
    long n = (long)count, start = lround(-r->angle[0] / full_turn * (double)n);
    size_t i = 0, j = 0;
    while (i < r->count || j < count) {
        long here = start + (long)j;
        uint32_t c = first + (uint32_t)((here % n + n) % n);
        uint32_t d = first + (uint32_t)(((here + 1) % n + n) % n);
        uint32_t at = r->from[i % r->count], to = r->to[i % r->count];
        bool along_ring = i < r->count && faces_down(net, at, to, c);
        bool along_circle = j < count && faces_down(net, at, d, c);
        if (along_ring && along_circle)
            along_ring = apart(net, to, c) <= apart(net, at, d);
        if (!along_ring && !along_circle)
            return false;
        if (!net_add_triangle(net, at, along_ring ? to : d, c))
            return false;
        i += along_ring;
        j += !along_ring;
    }
    return true;
}

bool net_cut_hole(surface_net *net, double plane, const double center[2], double radius,
    size_t count, double spacing, uint32_t *first)
{
    ring r = {0};
    *first = (uint32_t)net->vertex_count;
    bool good = take_out(net, plane, center, fmax(radius + 0.35 * spacing, 0.75 * spacing), &r)
        && put_in_order(net, center, &r) && add_circle(net, plane, center, radius, count)
        && stitch(net, &r, *first, count);
    free(r.from);
    free(r.to);
    free(r.angle);
    return good;
}

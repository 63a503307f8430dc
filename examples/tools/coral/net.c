/* SPDX-License-Identifier: MIT */
#include "net.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- the cell: corners, edges, sheets ------------------------------------------
 * Corner c has bit 0 for x, 1 for y, 2 for z. Edge 4 a + u + 2 v runs along axis a from the corner
 * whose next axis bit is u and the one after v. A cell's crossed edges fall into one or more
 * sheets of surface; each gets its own vertex, so that sheets that only meet in a cell stay
 * apart. */

static int edge_corner(int edge, int end)
{
    int a = edge / 4, u = edge & 1, v = edge >> 1 & 1;
    return end << a | u << (a + 1) % 3 | v << (a + 2) % 3;
}

/* Sheet of each edge (-1: not crossed) for the cell whose inside corners are the bits of config.
 * On a face with four crossed edges each inside corner keeps its own sheet: both cells of the face
 * see the same. Returns the number of sheets. */
static int find_sheets(int config, int8_t sheet[12])
{
    int parent[12];
    for (int e = 0; e < 12; e++)
        parent[e] = e;
    for (int a = 0; a < 3; a++)
        for (int side = 0; side < 2; side++) {
            /* edges and corners around the face whose axis-a bit is side */
            int b = (a + 1) % 3, c = (a + 2) % 3;
            int corner[4] = {side << a, side << a | 1 << b, side << a | 1 << b | 1 << c,
                side << a | 1 << c};
            int edge[4] = {4 * b + 2 * side, 4 * c + side + 2, 4 * b + 2 * side + 1, 4 * c + side};
            /* edge along b at c = u: next axis of b is c, then a: u + 2 side;
             * edge along c at b = v: next axis of c is a, then b: side + 2 v */
            int crossed = 0, other = -1;
            for (int i = 0; i < 4; i++)
                if ((config >> corner[i] & 1) != (config >> corner[(i + 1) % 4] & 1)) {
                    crossed++;
                    other = other < 0 ? i : other;
                }
            for (int i = 0; i < 4; i++) {
                bool here = (config >> corner[i] & 1) != (config >> corner[(i + 1) % 4] & 1);
                int joined = -1;
                if (crossed == 4 && (config >> corner[i] & 1))
                    joined = (i + 3) % 4;
                else if (crossed == 2 && here && i != other)
                    joined = other;
                if (joined < 0)
                    continue;
                int p = edge[i], q = edge[joined];
                while (parent[p] != p)
                    p = parent[p];
                while (parent[q] != q)
                    q = parent[q];
                parent[p > q ? p : q] = p > q ? q : p;
            }
        }
    int count = 0, name[12];
    for (int e = 0; e < 12; e++) {
        int p = e;
        while (parent[p] != p)
            p = parent[p];
        bool crossed = (config >> edge_corner(e, 0) & 1) != (config >> edge_corner(e, 1) & 1);
        if (crossed && p == e)
            name[e] = count++;
        sheet[e] = (int8_t)(crossed ? name[p] : -1);
    }
    return count;
}

/* ---- the grid -------------------------------------------------------------------- */

typedef struct grid {
    const net_field *field;
    double h, origin[3];
    size_t n[3];     /* points along each axis */
    uint8_t *inside; /* of each point */
    uint32_t *first; /* vertex of a cell's sheet 0; a cell is named by its lowest point */
    int8_t sheets[256][12];
    int sheet_count[256];
} grid;

enum { CURVED = 1, FLAT = 2 }; /* what a vertex lies on */

static size_t at(const grid *g, size_t i, size_t j, size_t k)
{
    return (k * g->n[1] + j) * g->n[0] + i;
}

static bool grid_setup(grid *g, const net_field *field, double spacing)
{
    memset(g, 0, sizeof *g);
    g->field = field;
    g->h = spacing;
    for (int k = 0; k < 3; k++) {
        g->origin[k] = field->lo[k] - 1.5 * spacing;
        if (k == 2) /* the plane halfway up the lowest layer */
            g->origin[k] = field->plane - 0.5 * spacing;
        g->n[k] = (size_t)((field->hi[k] - g->origin[k]) / spacing) + 3;
    }
    size_t total = g->n[0] * g->n[1] * g->n[2];
    g->inside = calloc(total, 1);
    g->first = malloc(total * sizeof *g->first);
    if (!g->inside || !g->first) {
        free(g->inside);
        free(g->first);
        return false;
    }
    for (int config = 0; config < 256; config++)
        g->sheet_count[config] = find_sheets(config, g->sheets[config]);
    return true;
}

static void grid_point(const grid *g, size_t i, size_t j, size_t k, double p[3])
{
    p[0] = g->origin[0] + (double)i * g->h;
    p[1] = g->origin[1] + (double)j * g->h;
    p[2] = g->origin[2] + (double)k * g->h;
}

/* The field tells how far its surface is at least: points up to there have the same sign. */
static void grid_sample(grid *g)
{
    double p[3];
    for (size_t k = 1; k + 1 < g->n[2]; k++) /* point 0 is below the plane */
        for (size_t j = 0; j < g->n[1]; j++)
            for (size_t i = 0; i < g->n[0];) {
                grid_point(g, i, j, k, p);
                double value = g->field->value(g->field->user, p);
                double clear = (fabs(value) - g->field->slack) / g->h;
                size_t run = clear > 1.0 ? (size_t)clear : 1;
                run = run < g->n[0] - i ? run : g->n[0] - i;
                if (value < 0.0)
                    memset(g->inside + at(g, i, j, k), 1, run);
                i += run;
            }
}

static int cell_config(const grid *g, size_t i, size_t j, size_t k)
{
    int config = 0;
    for (int c = 0; c < 8; c++) {
        size_t point = at(g, i + (c & 1), j + (c >> 1 & 1), k + (c >> 2));
        config |= g->inside[point] << c;
    }
    return config;
}

/* ---- vertices --------------------------------------------------------------------- */

static void gradient(const net_field *f, const double p[3], double n[3])
{
    const double e = 1e-4;
    double q[3] = {p[0], p[1], p[2]};
    for (int k = 0; k < 3; k++) {
        q[k] = p[k] + e;
        n[k] = f->value(f->user, q);
        q[k] = p[k] - e;
        n[k] = (n[k] - f->value(f->user, q)) / (2.0 * e);
        q[k] = p[k];
    }
}

/* Newton's steps along the gradient onto the curved surface, in the plane if it lies on that
 * too. */
static void settle(const grid *g, double p[3], int kind)
{
    const net_field *f = g->field;
    if (kind & FLAT)
        p[2] = f->plane;
    if (!(kind & CURVED))
        return;
    double start[3] = {p[0], p[1], p[2]};
    for (int i = 0; i < 8; i++) {
        double n[3], value = f->value(f->user, p);
        if (fabs(value) < 1e-7)
            return;
        gradient(f, p, n);
        if (kind & FLAT)
            n[2] = 0.0;
        double square = n[0] * n[0] + n[1] * n[1] + n[2] * n[2];
        if (square < 0.01)
            break; /* near a ridge of the field: stay */
        for (int k = 0; k < 3; k++)
            p[k] -= value * n[k] / square;
    }
    double away = fmax(fabs(p[0] - start[0]), fmax(fabs(p[1] - start[1]), fabs(p[2] - start[2])));
    if (away > g->h)
        memcpy(p, start, sizeof start);
}

/* Where the surface crosses an edge of the cell, and what it is there. */
static int crossing(const grid *g, const double corner[8][3], int edge, int inside, double p[3])
{
    const double *in = corner[edge_corner(edge, inside >> edge_corner(edge, 0) & 1 ? 0 : 1)];
    const double *out = corner[edge_corner(edge, inside >> edge_corner(edge, 0) & 1 ? 1 : 0)];
    const net_field *f = g->field;
    int kind = CURVED;
    double t;
    if (out[2] < f->plane) {
        t = (f->plane - in[2]) / (out[2] - in[2]);
        kind = FLAT;
    } else {
        double a = f->value(f->user, in), b = f->value(f->user, out);
        t = b - a > 0.0 ? fmin(fmax(-a / (b - a), 0.0), 1.0) : 0.5;
    }
    for (int k = 0; k < 3; k++)
        p[k] = in[k] + t * (out[k] - in[k]);
    return kind;
}

static void place(const grid *g, size_t i, size_t j, size_t k, int config, double *xyz,
    uint8_t *kind)
{
    double corner[8][3];
    for (int c = 0; c < 8; c++)
        grid_point(g, i + (c & 1), j + (c >> 1 & 1), k + (c >> 2), corner[c]);
    for (int s = 0; s < g->sheet_count[config]; s++) {
        double sum[3] = {0, 0, 0}, p[3];
        int count = 0;
        kind[s] = 0;
        for (int e = 0; e < 12; e++) {
            if (g->sheets[config][e] != s)
                continue;
            kind[s] |= (uint8_t)crossing(g, (const double(*)[3])corner, e, config, p);
            for (int m = 0; m < 3; m++)
                sum[m] += p[m];
            count++;
        }
        for (int m = 0; m < 3; m++)
            xyz[3 * s + m] = sum[m] / count;
        settle(g, xyz + 3 * s, kind[s]);
    }
}

static bool make_vertices(grid *g, surface_net *out, uint8_t **kind)
{
    size_t total = 0;
    for (size_t k = 0; k + 1 < g->n[2]; k++)
        for (size_t j = 0; j + 1 < g->n[1]; j++)
            for (size_t i = 0; i + 1 < g->n[0]; i++) {
                g->first[at(g, i, j, k)] = (uint32_t)total;
                total += (size_t)g->sheet_count[cell_config(g, i, j, k)];
            }
    out->xyz = malloc((total + 1) * 3 * sizeof *out->xyz);
    *kind = malloc(total + 1);
    if (!out->xyz || !*kind || total > UINT32_MAX / 4)
        return false;
    out->vertex_count = total;
    for (size_t k = 0; k + 1 < g->n[2]; k++)
        for (size_t j = 0; j + 1 < g->n[1]; j++)
            for (size_t i = 0; i + 1 < g->n[0]; i++) {
                int config = cell_config(g, i, j, k);
                size_t v = g->first[at(g, i, j, k)];
                if (g->sheet_count[config])
                    place(g, i, j, k, config, out->xyz + 3 * v, *kind + v);
            }
    return true;
}

/* ---- faces --------------------------------------------------------------------------- */

bool net_add_triangle(surface_net *net, uint32_t a, uint32_t b, uint32_t c)
{
    size_t n = net->triangle_count;
    if ((n & (n - 1)) == 0) { /* full at each power of two */
        size_t room = n ? 2 * n : 1;
        uint32_t *grown = realloc(net->triangles, room * 3 * sizeof *grown);
        if (!grown)
            return false;
        net->triangles = grown;
    }
    uint32_t *t = net->triangles + 3 * n;
    t[0] = a;
    t[1] = b;
    t[2] = c;
    net->triangle_count++;
    return true;
}

/* How far the middle between two vertices is from the curved surface. */
static double sag(const net_field *f, const surface_net *net, uint32_t a, uint32_t b)
{
    const double *p = net->xyz + 3 * (size_t)a, *q = net->xyz + 3 * (size_t)b;
    double m[3] = {0.5 * (p[0] + q[0]), 0.5 * (p[1] + q[1]), 0.5 * (p[2] + q[2])};
    return f->value(f->user, m);
}

/* Split along the diagonal that follows the surface better. */
static bool add_quad(const grid *g, surface_net *net, const uint8_t *kind, const uint32_t q[4])
{
    bool flat = kind[q[0]] & kind[q[1]] & kind[q[2]] & kind[q[3]] & FLAT;
    bool other = !flat
        && fabs(sag(g->field, net, q[0], q[2])) > fabs(sag(g->field, net, q[1], q[3]));
    if (other)
        return net_add_triangle(net, q[1], q[2], q[3]) && net_add_triangle(net, q[1], q[3], q[0]);
    return net_add_triangle(net, q[0], q[1], q[2]) && net_add_triangle(net, q[0], q[2], q[3]);
}

/* The quad around a crossed grid edge: its four cells, counter-clockwise seen against the axis. */
static bool add_face(const grid *g, surface_net *net, const uint8_t *kind, const size_t point[3],
    int axis)
{
    static const int turn[4][2] = {{1, 1}, {0, 1}, {0, 0}, {1, 0}};
    size_t next[3] = {point[0], point[1], point[2]};
    next[axis]++;
    bool inside = g->inside[at(g, point[0], point[1], point[2])];
    if (inside == (bool)g->inside[at(g, next[0], next[1], next[2])])
        return true;
    uint32_t quad[4];
    for (int c = 0; c < 4; c++) {
        int u = turn[c][0], v = turn[c][1]; /* where the edge sits in the cell */
        size_t cell[3] = {point[0], point[1], point[2]};
        cell[(axis + 1) % 3] -= (size_t)u;
        cell[(axis + 2) % 3] -= (size_t)v;
        int config = cell_config(g, cell[0], cell[1], cell[2]);
        quad[inside ? c : 3 - c] = g->first[at(g, cell[0], cell[1], cell[2])]
            + (uint32_t)g->sheets[config][4 * axis + u + 2 * v];
    }
    return add_quad(g, net, kind, quad);
}

static bool make_faces(const grid *g, surface_net *net, const uint8_t *kind)
{
    size_t p[3];
    for (p[2] = 0; p[2] + 1 < g->n[2]; p[2]++)
        for (p[1] = 0; p[1] + 1 < g->n[1]; p[1]++)
            for (p[0] = 0; p[0] + 1 < g->n[0]; p[0]++)
                for (int axis = 0; axis < 3; axis++)
                    if (!add_face(g, net, kind, p, axis))
                        return false;
    return true;
}

/* ---- volume ----------------------------------------------------------------------------
 * Flat triangles with corners on a bulging surface enclose too little. The space between is,
 * up to third order, the area times the mean sag at the middles of the three sides. Vertices are
 * lifted by the mean of their triangles, weighted by area: then the whole volume is right. */

static double triangle_area(const surface_net *net, const uint32_t *t)
{
    const double *a = net->xyz + 3 * (size_t)t[0], *b = net->xyz + 3 * (size_t)t[1],
                 *c = net->xyz + 3 * (size_t)t[2];
    double u[3], v[3];
    for (int k = 0; k < 3; k++) {
        u[k] = b[k] - a[k];
        v[k] = c[k] - a[k];
    }
    return 0.5
        * hypot(hypot(u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2]),
            u[0] * v[1] - u[1] * v[0]);
}

static bool lift(const grid *g, surface_net *net, const uint8_t *kind)
{
    double *rise = calloc(net->vertex_count + 1, 2 * sizeof *rise); /* area * sag, area */
    if (!rise)
        return false;
    for (size_t i = 0; i < net->triangle_count; i++) {
        const uint32_t *t = net->triangles + 3 * i;
        if (kind[t[0]] & kind[t[1]] & kind[t[2]] & FLAT)
            continue;
        double area = triangle_area(net, t);
        double mean = -(sag(g->field, net, t[0], t[1]) + sag(g->field, net, t[1], t[2])
                          + sag(g->field, net, t[2], t[0]))
            / 3.0;
        for (int k = 0; k < 3; k++) {
            rise[2 * (size_t)t[k]] += area * mean;
            rise[2 * (size_t)t[k] + 1] += area;
        }
    }
    for (size_t v = 0; v < net->vertex_count; v++) {
        if (kind[v] != CURVED || rise[2 * v + 1] == 0.0)
            continue;
        double n[3], up = rise[2 * v] / rise[2 * v + 1];
        gradient(g->field, net->xyz + 3 * v, n);
        double length = sqrt(n[0] * n[0] + n[1] * n[1] + n[2] * n[2]);
        up = fmin(fmax(up, -0.2 * g->h), 0.2 * g->h);
        for (int k = 0; k < 3 && length > 0.0; k++)
            net->xyz[3 * v + k] += up * n[k] / length;
    }
    free(rise);
    return true;
}

/* ---- public ------------------------------------------------------------------------------ */

bool net_make(const net_field *field, double spacing, surface_net *out)
{
    grid g;
    uint8_t *kind = NULL;
    memset(out, 0, sizeof *out);
    if (!grid_setup(&g, field, spacing))
        return false;
    grid_sample(&g);
    bool good = make_vertices(&g, out, &kind) && make_faces(&g, out, kind) && lift(&g, out, kind);
    free(g.inside);
    free(g.first);
    free(kind);
    if (!good)
        net_free(out);
    return good;
}

void net_free(surface_net *net)
{
    free(net->xyz);
    free(net->triangles);
    memset(net, 0, sizeof *net);
}

bool net_append_flipped(surface_net *a, const surface_net *b)
{
    uint32_t base = (uint32_t)a->vertex_count;
    double *grown = realloc(a->xyz, (a->vertex_count + b->vertex_count + 1) * 3 * sizeof *grown);
    if (!grown)
        return false;
    a->xyz = grown;
    memcpy(grown + 3 * a->vertex_count, b->xyz, b->vertex_count * 3 * sizeof *grown);
    a->vertex_count += b->vertex_count;
    for (size_t i = 0; i < b->triangle_count; i++) {
        const uint32_t *t = b->triangles + 3 * i;
        if (!net_add_triangle(a, base + t[0], base + t[2], base + t[1]))
            return false;
    }
    return true;
}

double net_volume(const surface_net *net)
{
    double six = 0.0;
    for (size_t i = 0; i < net->triangle_count; i++) {
        const uint32_t *t = net->triangles + 3 * i;
        const double *a = net->xyz + 3 * (size_t)t[0], *b = net->xyz + 3 * (size_t)t[1],
                     *c = net->xyz + 3 * (size_t)t[2];
        six += a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2])
            + a[2] * (b[0] * c[1] - b[1] * c[0]);
    }
    return six / 6.0;
}

static int compare_sides(const void *a, const void *b)
{
    uint64_t x = *(const uint64_t *)a, y = *(const uint64_t *)b;
    return (x > y) - (x < y);
}

bool net_closed(const surface_net *net)
{
    size_t n = 3 * net->triangle_count;
    uint64_t *side = malloc((2 * n + 1) * sizeof *side), *back = side ? side + n : NULL;
    if (!side)
        return false;
    for (size_t i = 0; i < n; i++) {
        uint64_t a = net->triangles[i], b = net->triangles[i - i % 3 + (i + 1) % 3];
        side[i] = a << 32 | b;
        back[i] = b << 32 | a;
    }
    qsort(side, n, sizeof *side, compare_sides);
    qsort(back, n, sizeof *back, compare_sides);
    bool closed = n > 0 && memcmp(side, back, n * sizeof *side) == 0;
    for (size_t i = 1; i < n && closed; i++)
        closed = side[i] != side[i - 1];
    free(side);
    return closed;
}

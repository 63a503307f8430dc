/* SPDX-License-Identifier: MIT */
#include "cavity/section.h"

#include "base/vec.h"

#include <assert.h>
#include <math.h>
#include <string.h>

vugi_plane vugi_plane_at(const double center[3], const double normal[3])
{
    vugi_plane p;
    double sign = copysign(1.0, normal[2]), a = -1.0 / (sign + normal[2]);
    double b = normal[0] * normal[1] * a; /* Duff et al., JCGT 6(1), 2017 */
    memcpy(p.center, center, sizeof p.center);
    memcpy(p.normal, normal, sizeof p.normal);
    p.u[0] = 1.0 + sign * normal[0] * normal[0] * a;
    p.u[1] = sign * b;
    p.u[2] = -sign * normal[0];
    p.v[0] = b;
    p.v[1] = sign + normal[1] * normal[1] * a;
    p.v[2] = -normal[1];
    return p;
}

void vugi_in_plane(const vugi_plane *plane, const double p[3], double uv[2])
{
    double d[3];
    vugi_subtract(p, plane->center, d);
    uv[0] = vugi_dot(d, plane->u);
    uv[1] = vugi_dot(d, plane->v);
}

double vugi_above(const vugi_plane *plane, const double p[3])
{
    double d[3];
    vugi_subtract(p, plane->center, d);
    double s = vugi_dot(d, plane->normal);
    return s == 0.0 ? 1e-300 : s;
}

/* Where the edge a-b meets the plane, the same to the bit from both of its triangles. */
static void edge_point(const vug_mesh *mesh, const vugi_plane *plane, uint32_t a, uint32_t b,
    double point[3])
{
    assert(a < mesh->vertex_count && b < mesh->vertex_count);
    if (a > b) {
        uint32_t swap = a;
        a = b;
        b = swap;
    }
    const double *pa = mesh->xyz + 3 * (size_t)a, *pb = mesh->xyz + 3 * (size_t)b;
    double da = vugi_above(plane, pa), db = vugi_above(plane, pb), t = da / (da - db);
    for (int k = 0; k < 3; k++)
        point[k] = pa[k] + t * (pb[k] - pa[k]);
}

/* The edge of triangle t through which the curve leaves: where, walking around the triangle, the
 * plane is crossed from above to below. -1: the plane misses t. Each crossed triangle has just one
 * such edge and one in the other sense, and its neighbour across it is entered there: the walk
 * keeps its direction over a consistently turned mesh. */
static int exit_edge(const vug_mesh *mesh, const vugi_plane *plane, uint32_t t)
{
    assert(t < mesh->triangle_count);
    const uint32_t *v = mesh->triangles + 3 * (size_t)t;
    bool up[3];
    for (int k = 0; k < 3; k++)
        up[k] = vugi_above(plane, mesh->xyz + 3 * (size_t)v[k]) > 0.0;
    for (int k = 0; k < 3; k++)
        if (up[k] && !up[(k + 1) % 3])
            return k;
    return -1;
}

static bool loop_push(const vugi_allocator *mem, vugi_loop *loop, uint32_t triangle,
    const double point[3])
{
    if (!vugi_reserve(mem, &loop->triangle, &loop->capacity, loop->count + 1,
            sizeof *loop->triangle)
        || !vugi_reserve(mem, &loop->point, &loop->point_capacity, 3 * (loop->count + 1),
            sizeof *loop->point))
        return false;
    loop->triangle[loop->count] = triangle;
    memcpy(loop->point + 3 * loop->count++, point, 3 * sizeof *point);
    return true;
}

/* Walks from triangle start. *closed: it came back without leaving the reach. */
static bool trace(const vugi_allocator *mem, const vug_mesh *mesh, const uint32_t *other,
    const vugi_plane *plane, uint32_t start, double reach, unsigned char *seen, vugi_loop *loop,
    bool *closed)
{
    uint32_t t = start;
    loop->count = 0;
    *closed = false;
    do {
        int k = exit_edge(mesh, plane, t);
        if (k < 0)
            return true;
        seen[t] = 1;
        const uint32_t *v = mesh->triangles + 3 * (size_t)t;
        double point[3];
        edge_point(mesh, plane, v[k], v[(k + 1) % 3], point);
        t = other[3 * (size_t)t + (size_t)k];
        if (t == UINT32_MAX || vugi_square_distance(point, plane->center) > reach * reach
            || loop->count > mesh->triangle_count)
            return true;
        if (!loop_push(mem, loop, t, point))
            return false;
    } while (t != start);
    *closed = true;
    return true;
}

/* Area, reach, and whether it goes around the centre. */
static bool measure(const vugi_plane *plane, vugi_loop *loop)
{
    double turned = 0.0, area = 0.0, reach2 = 0.0, previous[2], here[2];
    vugi_in_plane(plane, loop->point + 3 * (loop->count - 1), previous);
    for (size_t i = 0; i < loop->count; i++) {
        vugi_in_plane(plane, loop->point + 3 * i, here);
        double cross = previous[0] * here[1] - previous[1] * here[0];
        area += 0.5 * cross;
        turned += atan2(cross, previous[0] * here[0] + previous[1] * here[1]);
        reach2 = fmax(reach2, here[0] * here[0] + here[1] * here[1]);
        memcpy(previous, here, sizeof previous);
    }
    loop->area = area;
    loop->reach = sqrt(reach2);
    return fabs(turned) > 3.0; /* 2 pi around it, 0 beside it */
}

static void loop_swap(vugi_loop *a, vugi_loop *b)
{
    vugi_loop t = *a;
    *a = *b;
    *b = t;
}

vug_status vugi_section_hole(vug_context *ctx, const vug_mesh *mesh, const uint32_t *other,
    const uint32_t *near_list, size_t near_count, const vugi_plane *plane, double reach,
    vugi_loop *loop, bool *found)
{
    vug_status status = VUG_OK;
    vugi_loop trial = {.count = 0};
    size_t count = near_list ? near_count : mesh->triangle_count;
    unsigned char *seen = vugi_calloc(&ctx->mem, mesh->triangle_count, 1);
    *found = false;
    if (!seen)
        return vugi_fail_memory(ctx);
    for (size_t i = 0; i < count; i++) {
        uint32_t t = near_list ? near_list[i] : (uint32_t)i;
        bool closed;
        if (seen[t])
            continue;
        if (!trace(&ctx->mem, mesh, other, plane, t, reach, seen, &trial, &closed)) {
            status = vugi_fail_memory(ctx);
            break;
        }
        if (!closed || trial.count < 3 || !measure(plane, &trial) || trial.area <= 0.0)
            continue;
        if (!*found || trial.area < loop->area)
            loop_swap(&trial, loop);
        *found = true;
    }
    vugi_loop_free(&ctx->mem, &trial);
    vugi_free(&ctx->mem, seen);
    return status;
}

void vugi_loop_free(const vugi_allocator *mem, vugi_loop *loop)
{
    vugi_free(mem, loop->triangle);
    vugi_free(mem, loop->point);
    *loop = (vugi_loop){.count = 0};
}

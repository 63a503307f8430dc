/* SPDX-License-Identifier: MIT */
#include "shape/fitting/envelope.h"

#include <math.h>

enum { EVERY = 4096 };

/* First and last node along an axis between two places. */
static void range(const vugi_envelope *e, int k, double least, double most, size_t *first,
    size_t *last)
{
    double a = ceil((least - e->lo[k]) / e->step), b = floor((most - e->lo[k]) / e->step);
    double end = (double)e->across[k] - 1.0;
    *first = (size_t)fmin(fmax(a, 0.0), end);
    *last = b < 0.0 ? 0 : (size_t)fmin(b, end);
    if (b < 0.0 || a > end)
        *first = *last + 1;
}

/* What of the surface lies between the nodes: a vertex counts at the four around it. */
static void add_vertex(vugi_envelope *e, const double x[3], double start)
{
    double i = floor((x[0] - e->lo[0]) / e->step), j = floor((x[1] - e->lo[1]) / e->step);
    if (x[2] < start || i < 0.0 || j < 0.0 || i > (double)e->across[0] - 2.0
        || j > (double)e->across[1] - 2.0)
        return;
    for (size_t k = 0; k < 4; k++) {
        double *w = &e->w[((size_t)j + k / 2) * e->across[0] + (size_t)i + k % 2];
        *w = fmin(*w, x[2]);
    }
}

static void add_triangle(vugi_envelope *e, const uint32_t vertex[3], double x[3][3], double start,
    int8_t *inside)
{
    size_t first[2], last[2];
    for (int k = 0; k < 2; k++)
        range(e, k, fmin(x[0][k], fmin(x[1][k], x[2][k])), fmax(x[0][k], fmax(x[1][k], x[2][k])),
            &first[k], &last[k]);
    for (size_t j = first[1]; j <= last[1]; j++)
        for (size_t i = first[0]; i <= last[0]; i++) {
            const double uv[2] = {e->lo[0] + e->step * (double)i, e->lo[1] + e->step * (double)j};
            double w;
            int in = vugi_line_pass(vertex, x, uv, &w);
            size_t node = j * e->across[0] + i;
            if (in != 0 && w < start)
                inside[node] = (int8_t)(inside[node] + in);
            else if (in == 1)
                e->w[node] = fmin(e->w[node], w);
        }
}

vug_status vugi_envelope_make(vug_context *ctx, const vugi_carving *carving, const vugi_tool *frame,
    const vugi_reachable *list, const double lo[2], const double hi[2], double step, double start,
    vugi_envelope *envelope)
{
    *envelope = (vugi_envelope){.mem = ctx->mem, .lo = {lo[0], lo[1]}, .step = step};
    for (int k = 0; k < 2; k++)
        envelope->across[k] = (size_t)ceil((hi[k] - lo[k]) / step) + 1;
    size_t nodes = envelope->across[0] * envelope->across[1];
    envelope->w = vugi_alloc(&ctx->mem, nodes, sizeof *envelope->w);
    envelope->blocked = vugi_alloc(&ctx->mem, nodes, 1);
    int8_t *inside = vugi_calloc(&ctx->mem, nodes, 1);
    vug_status status = envelope->w && envelope->blocked && inside ? VUG_OK : vugi_fail_memory(ctx);
    for (size_t i = 0; !status && i < nodes; i++)
        envelope->w[i] = INFINITY;
    for (size_t i = 0; !status && i < list->count; i++) {
        double x[3][3];
        vugi_carving_corners(carving, frame, list->triangle[i], x);
        add_triangle(envelope, carving->triangle + 3 * (size_t)list->triangle[i], x, start, inside);
        for (int k = 0; k < 3; k++)
            add_vertex(envelope, x[k], start);
        if (i % EVERY == 0)
            status = vugi_step(ctx, 0.5 * (double)i / (double)list->count);
    }
    for (size_t i = 0; !status && i < nodes; i++)
        envelope->blocked[i] = inside[i] > 0;
    vugi_free(&ctx->mem, inside);
    return status;
}

/* The least among count nodes, apart nodes from each other, as far as reach to either side. */
static void least_along(const double *from, double *to, size_t count, size_t apart, size_t reach)
{
    for (size_t i = 0; i < count; i++) {
        size_t first = i > reach ? i - reach : 0, last = i + reach < count ? i + reach : count - 1;
        double least = INFINITY;
        for (size_t j = first; j <= last; j++)
            least = fmin(least, from[j * apart]);
        to[i * apart] = least;
    }
}

vug_status vugi_envelope_widen(vug_context *ctx, vugi_envelope *envelope, double reach_mm)
{
    size_t nu = envelope->across[0], nv = envelope->across[1];
    size_t reach = (size_t)fmax(1.0, ceil(reach_mm / envelope->step));
    double *swap = vugi_alloc(&ctx->mem, nu * nv, sizeof *swap);
    if (!swap)
        return vugi_fail_memory(ctx);
    for (size_t j = 0; j < nv; j++)
        least_along(envelope->w + j * nu, swap + j * nu, nu, 1, reach);
    for (size_t i = 0; i < nu; i++)
        least_along(swap + i, envelope->w + i, nv, nu, reach);
    vugi_free(&ctx->mem, swap);
    return vugi_step(ctx, 0.6);
}

double vugi_envelope_at(const vugi_envelope *e, double u, double v)
{
    double i = floor((u - e->lo[0]) / e->step), j = floor((v - e->lo[1]) / e->step);
    size_t a = (size_t)fmin(fmax(i, 0.0), (double)e->across[0] - 2.0);
    size_t b = (size_t)fmin(fmax(j, 0.0), (double)e->across[1] - 2.0);
    const double *w = e->w + b * e->across[0] + a;
    return fmin(fmin(w[0], w[1]), fmin(w[e->across[0]], w[e->across[0] + 1]));
}

void vugi_envelope_free(vugi_envelope *envelope)
{
    vugi_free(&envelope->mem, envelope->w);
    vugi_free(&envelope->mem, envelope->blocked);
    envelope->w = NULL;
    envelope->blocked = NULL;
}

/* SPDX-License-Identifier: MIT
 * Conjugate gradients. One thread: sums keep their order, so the bytes are the same on any machine's
 * number of threads; the systems are small. */
#include "grid/lattice.h"

#include <math.h>
#include <string.h>

enum { ROUNDS = 5000 };

bool vugi_lattice_alloc(const vugi_allocator *mem, size_t count, vugi_lattice *l)
{
    l->count = count;
    l->before = vugi_alloc(mem, 3 * count, sizeof *l->before);
    l->link = vugi_calloc(mem, 3 * count, sizeof *l->link);
    l->diagonal = vugi_calloc(mem, count, sizeof *l->diagonal);
    if (l->before)
        memset(l->before, 0xff, 3 * count * sizeof *l->before);
    return l->before && l->link && l->diagonal;
}

void vugi_lattice_free(const vugi_allocator *mem, vugi_lattice *l)
{
    vugi_free(mem, l->before);
    vugi_free(mem, l->link);
    vugi_free(mem, l->diagonal);
    *l = (vugi_lattice){.count = 0};
}

static void multiply(const vugi_lattice *l, const double *x, double *y)
{
    for (size_t i = 0; i < l->count; i++) {
        double sum = l->diagonal[i] * x[i];
        for (size_t k = 3 * i; k < 3 * i + 3; k++) {
            if (l->before[k] == UINT32_MAX)
                continue;
            sum -= l->link[k] * x[l->before[k]];
            y[l->before[k]] -= l->link[k] * x[i];
        }
        y[i] = sum;
    }
}

/* The diagonal of the incomplete factors. */
static void factor(const vugi_lattice *l, double *d)
{
    for (size_t i = 0; i < l->count; i++) {
        double left = l->diagonal[i];
        for (size_t k = 3 * i; k < 3 * i + 3; k++)
            if (l->before[k] != UINT32_MAX)
                left -= l->link[k] * l->link[k] / d[l->before[k]];
        d[i] = fmax(left, fmax(1e-9 * l->diagonal[i], 1e-300));
    }
}

/* z = the residual, as the factors have it. */
static void precondition(const vugi_lattice *l, const double *d, const double *r, double *z)
{
    for (size_t i = 0; i < l->count; i++) {
        double sum = r[i];
        for (size_t k = 3 * i; k < 3 * i + 3; k++)
            if (l->before[k] != UINT32_MAX)
                sum += l->link[k] * z[l->before[k]];
        z[i] = sum / d[i];
    }
    for (size_t i = l->count; i-- > 0;)
        for (size_t k = 3 * i; k < 3 * i + 3; k++)
            if (l->before[k] != UINT32_MAX)
                z[l->before[k]] += l->link[k] * z[i] / d[l->before[k]];
}

static double inner_product(const double *a, const double *b, size_t n)
{
    double sum = 0.0;
    for (size_t i = 0; i < n; i++)
        sum += a[i] * b[i];
    return sum;
}

/* Room: five vectors. */
static vug_status iterate(vug_context *ctx, const vugi_lattice *l, const double *right, double *x,
    double tolerance, double *room)
{
    size_t n = l->count;
    double *d = room, *r = room + n, *z = room + 2 * n, *p = room + 3 * n, *q = room + 4 * n;
    double goal = tolerance * sqrt(inner_product(right, right, n));
    factor(l, d);
    multiply(l, x, q);
    for (size_t i = 0; i < n; i++)
        r[i] = right[i] - q[i];
    precondition(l, d, r, z);
    memcpy(p, z, n * sizeof *p);
    double rz = inner_product(r, z, n);
    for (int round = 0; round < ROUNDS; round++) {
        if (!(sqrt(inner_product(r, r, n)) > goal))
            return VUG_OK;
        if (vugi_cancelled(ctx))
            return vugi_step(ctx, 0.5);
        multiply(l, p, q);
        double step = rz / inner_product(p, q, n);
        for (size_t i = 0; i < n; i++) {
            x[i] += step * p[i];
            r[i] -= step * q[i];
        }
        precondition(l, d, r, z);
        double next = inner_product(r, z, n), share = next / rz;
        rz = next;
        for (size_t i = 0; i < n; i++)
            p[i] = z[i] + share * p[i];
    }
    return vugi_fail(ctx, VUG_ERR_CONVERGENCE, "a flow on %zu cells did not settle in %d rounds", n,
        ROUNDS);
}

vug_status vugi_lattice_solve(vug_context *ctx, const vugi_lattice *l, const double *right,
    double *x, double tolerance)
{
    double *room = vugi_alloc(&ctx->mem, 5 * l->count, sizeof *room);
    if (!room)
        return vugi_fail_memory(ctx);
    vug_status status = iterate(ctx, l, right, x, tolerance, room);
    vugi_free(&ctx->mem, room);
    return status;
}

/* SPDX-License-Identifier: MIT
 * The exact distance transform: one axis after the other, the lower envelope of parabolas along
 * each line, in integers. */
#include "grid/distance.h"

enum { LINES = 16 }; /* neighbouring lines done together: whole cache lines are used */

static const uint32_t far = UINT32_MAX;

/* Along x: steps to the nearest feature in the row, squared. */
static void first_axis(const uint8_t *cell, bool invert, int32_t n, uint32_t *squared)
{
    int64_t last = -1;
    for (int32_t i = 0; i < n; i++) {
        if ((cell[i] != 0) != invert)
            last = i;
        squared[i] = last < 0 ? far : (uint32_t)((i - last) * (i - last));
    }
    last = -1;
    for (int32_t i = n - 1; i >= 0; i--) {
        if ((cell[i] != 0) != invert)
            last = i;
        if (last >= 0 && (uint32_t)((last - i) * (last - i)) < squared[i])
            squared[i] = (uint32_t)((last - i) * (last - i));
    }
}

typedef struct envelope { /* parabolas that are lowest somewhere, and from where on */
    int32_t *site, *from;
} envelope;

static int32_t floor_div(int32_t a, int32_t b)
{
    int32_t q = a / b;
    return q * b > a ? q - 1 : q;
}

/* Does cell u of a line, a feature, lie among others? They know what they get, and no other is nearest to it. */
static bool among_features(const uint32_t *f, int32_t n, int32_t u)
{
    return f[u] == 0 && (u == 0 || f[u - 1] == 0) && (u + 1 == n || f[u + 1] == 0);
}

/* f[x] = min over s of f[s] + (x - s)^2. All terms fit: n <= VUG_MAX_COLUMNS_ACROSS = 2^14. */
static void next_axis(uint32_t *f, uint32_t *value, int32_t n, const envelope *e)
{
    int32_t top = -1;
    for (int32_t u = 0; u < n; u++) {
        if (f[u] == far || among_features(f, n, u))
            continue;
        int32_t from = 0;
        while (top >= 0) {
            int32_t s = e->site[top];
            int32_t rise = (u - s) * (u + s) + (int32_t)(f[u] - value[top]);
            from = floor_div(rise, 2 * (u - s)) + 1;
            if (from > e->from[top])
                break;
            top--;
        }
        if (top < 0)
            from = 0;
        if (from >= n)
            continue;
        top++;
        e->site[top] = u;
        e->from[top] = from;
        value[top] = f[u];
    }
    for (int32_t x = n - 1; top >= 0; top--) {
        int32_t s = e->site[top];
        for (; x >= e->from[top]; x--)
            if (f[x] > 0)
                f[x] = value[top] + (uint32_t)((x - s) * (x - s));
    }
}

typedef struct scratch {
    uint32_t *line, *value;
    envelope e;
} scratch;

static void scratch_free(const vugi_allocator *mem, scratch *s)
{
    vugi_free(mem, s->line);
    vugi_free(mem, s->value);
    vugi_free(mem, s->e.site);
    vugi_free(mem, s->e.from);
}

static bool scratch_make(const vugi_allocator *mem, size_t threads, size_t n, scratch *s)
{
    s->line = vugi_alloc(mem, threads * LINES * n, sizeof *s->line);
    s->value = vugi_alloc(mem, threads * n, sizeof *s->value);
    s->e.site = vugi_alloc(mem, threads * n, sizeof *s->e.site);
    s->e.from = vugi_alloc(mem, threads * n, sizeof *s->e.from);
    return s->line && s->value && s->e.site && s->e.from;
}

/* Up to LINES lines that start at squared[0], [1], ... and go on by stride. */
static void do_lines(uint32_t *squared, int32_t lines, int32_t n, size_t stride, const scratch *all,
    size_t thread)
{
    size_t nn = (size_t)n;
    uint32_t *line = all->line + thread * LINES * nn;
    uint32_t *value = all->value + thread * nn;
    envelope e = {all->e.site + thread * nn, all->e.from + thread * nn};
    for (int32_t i = 0; i < n; i++)
        for (int32_t l = 0; l < lines; l++)
            line[(size_t)l * nn + (size_t)i] = squared[(size_t)i * stride + (size_t)l];
    for (int32_t l = 0; l < lines; l++)
        next_axis(line + (size_t)l * nn, value, n, &e);
    for (int32_t i = 0; i < n; i++)
        for (int32_t l = 0; l < lines; l++)
            squared[(size_t)i * stride + (size_t)l] = line[(size_t)l * nn + (size_t)i];
}

static vug_status do_axis(vug_context *ctx, const int32_t n[3], int a, uint32_t *squared)
{
    size_t nx = (size_t)n[0], plane = nx * (size_t)n[1];
    int32_t slices = a == 1 ? n[2] : n[1];
    size_t slice_stride = a == 1 ? plane : nx, stride = a == 1 ? nx : plane;
    int threads = vugi_threads(ctx, (size_t)slices);
    scratch s = {0};
    if (!scratch_make(&ctx->mem, (size_t)threads, (size_t)n[a], &s)) {
        scratch_free(&ctx->mem, &s);
        return vugi_fail_memory(ctx);
    }
#pragma omp parallel for schedule(dynamic, 4) num_threads(threads)
    for (int32_t k = 0; k < slices; k++) {
        if (vugi_pulse(ctx, (a == 1 ? 0.1 : 0.5) + (a == 1 ? 0.4 : 0.5) * k / slices))
            continue;
        for (int32_t i = 0; i < n[0]; i += LINES)
            do_lines(squared + (size_t)k * slice_stride + (size_t)i,
                n[0] - i < LINES ? n[0] - i : LINES, n[a], stride, &s, (size_t)vugi_thread_index());
    }
    scratch_free(&ctx->mem, &s);
    return VUG_OK;
}

vug_status vugi_distance(vug_context *ctx, const int32_t n[3], const uint8_t *cell, bool invert,
    uint32_t *squared)
{
    size_t rows = (size_t)n[1] * (size_t)n[2];
#pragma omp parallel for schedule(static) num_threads(vugi_threads(ctx, rows))
    for (size_t r = 0; r < rows; r++)
        if (r % 64 != 0 || !vugi_pulse(ctx, 0.1 * (double)r / (double)rows))
            first_axis(cell + r * (size_t)n[0], invert, n[0], squared + r * (size_t)n[0]);
    vug_status status = vugi_step(ctx, 0.1);
    for (int a = 1; a < 3 && !status; a++) {
        status = do_axis(ctx, n, a, squared);
        if (!status)
            status = vugi_step(ctx, a == 1 ? 0.5 : 1.0);
    }
    return status;
}

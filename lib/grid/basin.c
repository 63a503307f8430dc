/* SPDX-License-Identifier: MIT
 * Basins of steepest ascent, the passes between them, and the merge tree. */
#include "grid/basin.h"

#include "base/disjoint_set.h"
#include "base/sort.h"

#include <string.h>

static const uint32_t none = UINT32_MAX;
static const uint32_t peak_bit = 0x80000000u; /* of a label: the rest is a basin, not a cell */

/* The neighbours of a cell that come after it in number: 3 or 13 steps. */
static const int8_t later[13][3] = {
    {1, 0, 0},
    {0, 1, 0},
    {0, 0, 1},
    {1, 1, 0},
    {-1, 1, 0},
    {1, 0, 1},
    {-1, 0, 1},
    {0, 1, 1},
    {0, -1, 1},
    {1, 1, 1},
    {-1, 1, 1},
    {1, -1, 1},
    {-1, -1, 1},
};

typedef struct field {
    const int32_t *n;
    const uint32_t *value;
    int steps; /* rows of later[] in use */
    ptrdiff_t offset[13];
} field;

static field field_of(const int32_t n[3], const uint32_t *value, int connectivity)
{
    field f = {.n = n, .value = value, .steps = connectivity == 26 ? 13 : 3};
    for (int s = 0; s < 13; s++)
        f.offset[s] = later[s][0] + (ptrdiff_t)n[0] * (later[s][1] + (ptrdiff_t)n[1] * later[s][2]);
    return f;
}

static bool inside(const int32_t n[3], const int32_t at[3], const int8_t step[3], int sign)
{
    for (int a = 0; a < 3; a++) {
        int32_t x = at[a] + sign * step[a];
        if (x < 0 || x >= n[a])
            return false;
    }
    return true;
}

static bool on_border(const int32_t n[3], const int32_t at[3])
{
    for (int a = 0; a < 3; a++)
        if (at[a] == 0 || at[a] == n[a] - 1)
            return true;
    return false;
}

/* The highest of a cell and its neighbours; among equals the last. */
static size_t ascend(const field *f, const int32_t at[3], size_t c, bool border)
{
    uint32_t best = f->value[c];
    size_t to = c;
    for (int s = 0; s < f->steps; s++) {
        if (!border || inside(f->n, at, later[s], -1)) {
            size_t o = c - (size_t)f->offset[s];
            if (f->value[o] > best || (f->value[o] == best && o > to)) {
                best = f->value[o];
                to = o;
            }
        }
        if (!border || inside(f->n, at, later[s], 1)) {
            size_t o = c + (size_t)f->offset[s];
            if (f->value[o] > best || (f->value[o] == best && o > to)) {
                best = f->value[o];
                to = o;
            }
        }
    }
    return to;
}

/* label: the cell to go on to; peaks point at themselves and are counted. */
static uint32_t ascend_slice(const field *f, int32_t k, uint32_t *label)
{
    uint32_t peaks = 0;
    size_t c = (size_t)k * (size_t)f->n[0] * (size_t)f->n[1];
    for (int32_t j = 0; j < f->n[1]; j++) {
        for (int32_t i = 0; i < f->n[0]; i++, c++) {
            const int32_t at[3] = {i, j, k};
            if (f->value[c] == 0) {
                label[c] = none;
                continue;
            }
            size_t to = ascend(f, at, c, on_border(f->n, at));
            label[c] = (uint32_t)to;
            peaks += to == c;
        }
    }
    return peaks;
}

static vug_status find_peaks(vug_context *ctx, const field *f, uint32_t *label, vugi_basins *basins)
{
    int32_t nz = f->n[2];
    size_t plane = (size_t)f->n[0] * (size_t)f->n[1];
    uint32_t *first = vugi_calloc(&ctx->mem, (size_t)nz + 1, sizeof *first);
    if (!first)
        return vugi_fail_memory(ctx);
#pragma omp parallel for schedule(dynamic, 4) num_threads(vugi_threads(ctx, (size_t)nz))
    for (int32_t k = 0; k < nz; k++)
        if (!vugi_pulse(ctx, 0.4 * k / nz))
            first[k + 1] = ascend_slice(f, k, label);
    vug_status status = vugi_step(ctx, 0.4);
    if (status)
        goto done;
    for (int32_t k = 0; k < nz; k++)
        first[k + 1] += first[k];

    basins->count = first[nz];
    basins->peak = vugi_alloc(&ctx->mem, basins->count, sizeof *basins->peak);
    basins->top = vugi_alloc(&ctx->mem, basins->count, sizeof *basins->top);
    if (!basins->peak || !basins->top) {
        status = vugi_fail_memory(ctx);
        goto done;
    }
#pragma omp parallel for schedule(static) num_threads(vugi_threads(ctx, (size_t)nz))
    for (int32_t k = 0; k < nz; k++) {
        uint32_t b = first[k];
        for (size_t c = (size_t)k * plane; c < (size_t)(k + 1) * plane; c++) {
            if (label[c] == (uint32_t)c) {
                basins->peak[b] = (uint32_t)c;
                basins->top[b] = f->value[c];
                label[c] = peak_bit | b++;
            }
        }
    }
done:
    vugi_free(&ctx->mem, first);
    return status;
}

/* Labels are read and written by all threads at once: whoever comes first, a cell points to some
 * cell further up its own path or to its peak. */
static uint32_t read_label(const uint32_t *label)
{
    uint32_t x;
#pragma omp atomic read
    x = *label;
    return x;
}

static void climb(uint32_t *label, size_t c)
{
    uint32_t x = read_label(label + c);
    if (x & peak_bit)
        return;
    while (!(x & peak_bit))
        x = read_label(label + x);
    for (uint32_t at = (uint32_t)c; !(at & peak_bit);) {
        uint32_t next = read_label(label + at);
#pragma omp atomic write
        label[at] = x;
        at = next;
    }
}

static vug_status follow_paths(vug_context *ctx, const field *f, uint32_t *label)
{
    size_t plane = (size_t)f->n[0] * (size_t)f->n[1];
    int threads = vugi_threads(ctx, (size_t)f->n[2]);
    (void)threads; /* without OpenMP */
#pragma omp parallel for schedule(dynamic, 4) num_threads(threads)
    for (int32_t k = 0; k < f->n[2]; k++)
        if (!vugi_pulse(ctx, 0.4 + 0.2 * k / f->n[2]))
            for (size_t c = (size_t)k * plane; c < (size_t)(k + 1) * plane; c++)
                climb(label, c);
#pragma omp parallel for schedule(static) num_threads(threads)
    for (int32_t k = 0; k < f->n[2]; k++)
        for (size_t c = (size_t)k * plane; c < (size_t)(k + 1) * plane; c++)
            if (label[c] != none)
                label[c] &= ~peak_bit;
    return vugi_step(ctx, 0.6);
}

/* ---- passes: a hash of pairs of basins ----------------------------------- */

typedef struct table {
    const vugi_allocator *mem;
    vugi_pass *slot;   /* value 0: free */
    size_t size, used; /* size: a power of two */
} table;

static size_t slot_of(const table *t, uint32_t a, uint32_t b)
{
    uint64_t key = ((uint64_t)a << 32 | b) * 0x9E3779B97F4A7C15u;
    size_t s = (size_t)(key >> 20) & (t->size - 1);
    while (t->slot[s].value && (t->slot[s].a != a || t->slot[s].b != b))
        s = (s + 1) & (t->size - 1);
    return s;
}

static bool table_grow(table *t)
{
    table bigger = {t->mem, NULL, t->size ? 2 * t->size : 4096, t->used};
    bigger.slot = vugi_calloc(t->mem, bigger.size, sizeof *bigger.slot);
    if (!bigger.slot)
        return false;
    for (size_t s = 0; s < t->size; s++)
        if (t->slot[s].value)
            bigger.slot[slot_of(&bigger, t->slot[s].a, t->slot[s].b)] = t->slot[s];
    vugi_free(t->mem, t->slot);
    *t = bigger;
    return true;
}

/* Keeps the highest value of each pair, and the first cell that has it. */
static bool table_add(table *t, uint32_t a, uint32_t b, uint32_t value, size_t cell)
{
    if (2 * t->used >= t->size && !table_grow(t))
        return false;
    if (a > b) {
        uint32_t swap = a;
        a = b;
        b = swap;
    }
    vugi_pass *pass = t->slot + slot_of(t, a, b);
    if (value > pass->value) {
        t->used += pass->value == 0;
        *pass = (vugi_pass){a, b, value, (uint32_t)cell};
    }
    return true;
}

static bool add_passes(const field *f, const uint32_t *label, int32_t k, uint32_t outside, table *t)
{
    size_t c = (size_t)k * (size_t)f->n[0] * (size_t)f->n[1];
    for (int32_t j = 0; j < f->n[1]; j++) {
        for (int32_t i = 0; i < f->n[0]; i++, c++) {
            const int32_t at[3] = {i, j, k};
            if (label[c] == none)
                continue;
            bool border = on_border(f->n, at);
            if (border && outside != none && !table_add(t, label[c], outside, f->value[c], c))
                return false;
            for (int s = 0; s < f->steps; s++) {
                if (border && !inside(f->n, at, later[s], 1))
                    continue;
                size_t o = c + (size_t)f->offset[s];
                if (label[o] == label[c] || label[o] == none)
                    continue;
                bool here = f->value[c] <= f->value[o];
                if (!table_add(t, label[c], label[o], f->value[here ? c : o], here ? c : o))
                    return false;
            }
        }
    }
    return true;
}

static int compare_passes(const void *left, const void *right, const void *user)
{
    const vugi_pass *p = left, *q = right;
    (void)user;
    if (p->value != q->value)
        return p->value > q->value ? -1 : 1;
    if (p->a != q->a)
        return p->a < q->a ? -1 : 1;
    return (p->b > q->b) - (p->b < q->b);
}

/* Slices of the grid that a thread goes through, and their passes. */
typedef struct slab {
    table passes;
    bool failed;
} slab;

static void search_slab(vug_context *ctx, const field *f, const uint32_t *label, uint32_t outside,
    int32_t from, int32_t to, slab *s)
{
    s->failed = !table_grow(&s->passes);
    for (int32_t k = from; k < to && !s->failed; k++)
        if (!vugi_pulse(ctx, 0.6 + 0.3 * (k - from) / (to - from)))
            s->failed = !add_passes(f, label, k, outside, &s->passes);
}

/* Slab after slab, so that of equal values the first cell is kept. */
static bool gather(table *all, const table *more)
{
    for (size_t s = 0; s < more->size; s++) {
        const vugi_pass *pass = more->slot + s;
        if (pass->value && !table_add(all, pass->a, pass->b, pass->value, pass->cell))
            return false;
    }
    return true;
}

static vug_status search_all(vug_context *ctx, const field *f, const uint32_t *label,
    uint32_t outside, table *all)
{
    const int32_t nz = f->n[2], slabs = vugi_threads(ctx, (size_t)nz);
    slab *list = vugi_calloc(&ctx->mem, (size_t)slabs, sizeof *list);
    bool done = list != NULL;
#pragma omp parallel for schedule(static, 1) num_threads(slabs)
    for (int32_t i = 0; i < slabs; i++)
        if (list) {
            list[i].passes.mem = &ctx->mem;
            search_slab(ctx, f, label, outside, (int32_t)((int64_t)nz * i / slabs),
                (int32_t)((int64_t)nz * (i + 1) / slabs), list + i);
        }
    for (int32_t i = 0; i < slabs && list; i++) {
        done = done && !list[i].failed && (i == 0 || gather(&list[0].passes, &list[i].passes));
        if (i > 0)
            vugi_free(&ctx->mem, list[i].passes.slot);
    }
    if (list)
        *all = list[0].passes;
    vugi_free(&ctx->mem, list);
    return done ? vugi_step(ctx, 0.9) : vugi_fail_memory(ctx);
}

static vug_status find_passes(vug_context *ctx, const field *f, const uint32_t *label, bool outside,
    vugi_basins *basins)
{
    table t = {.mem = &ctx->mem};
    const uint32_t beyond = outside ? (uint32_t)basins->count : none;
    vug_status status = search_all(ctx, f, label, beyond, &t);
    if (status) {
        vugi_free(&ctx->mem, t.slot);
        return status;
    }
    size_t used = 0;
    for (size_t s = 0; s < t.size; s++)
        if (t.slot[s].value)
            t.slot[used++] = t.slot[s];
    basins->pass = t.slot;
    basins->pass_count = used;
    if (!vugi_sort(&ctx->mem, t.slot, used, sizeof *t.slot, compare_passes, NULL))
        return vugi_fail_memory(ctx);
    return vugi_step(ctx, 1.0);
}

vug_status vugi_basins_build(vug_context *ctx, const int32_t n[3], const uint32_t *value,
    int connectivity, bool outside, uint32_t *label, vugi_basins *basins)
{
    field f = field_of(n, value, connectivity);
    vugi_basins own = {0};
    vug_status status = find_peaks(ctx, &f, label, &own);
    if (!status)
        status = follow_paths(ctx, &f, label);
    if (!status)
        status = find_passes(ctx, &f, label, outside, &own);
    if (status) {
        vugi_basins_free(&ctx->mem, &own);
        return status;
    }
    *basins = own;
    return VUG_OK;
}

void vugi_basins_free(const vugi_allocator *mem, vugi_basins *basins)
{
    vugi_free(mem, basins->peak);
    vugi_free(mem, basins->top);
    vugi_free(mem, basins->pass);
    memset(basins, 0, sizeof *basins);
}

/* ---- merge tree ---------------------------------------------------------- */

/* The elder rule: the higher peak lives on; among equals the later cell, as in the ascent. */
static bool elder(const vugi_basins *basins, uint32_t a, uint32_t b)
{
    if (a == basins->count || b == basins->count)
        return a == basins->count;
    if (basins->top[a] != basins->top[b])
        return basins->top[a] > basins->top[b];
    return basins->peak[a] > basins->peak[b];
}

vug_status vugi_merge_tree(vug_context *ctx, const vugi_basins *basins, vugi_branch *branch)
{
    uint32_t *parent = vugi_alloc(&ctx->mem, basins->count + 1, sizeof *parent);
    if (!parent)
        return vugi_fail_memory(ctx);
    vugi_sets_init(parent, basins->count + 1);
    for (size_t b = 0; b < basins->count; b++)
        branch[b] = (vugi_branch){basins->peak[b], basins->top[b], none, 0};
    for (size_t p = 0; p < basins->pass_count; p++) {
        const vugi_pass *pass = basins->pass + p;
        uint32_t a = vugi_sets_find(parent, pass->a), b = vugi_sets_find(parent, pass->b);
        if (a == b)
            continue;
        if (elder(basins, b, a)) {
            uint32_t swap = a;
            a = b;
            b = swap;
        }
        parent[b] = a; /* the representative is always the eldest */
        branch[b].saddle = pass->cell;
        branch[b].death = pass->value;
    }
    vugi_free(&ctx->mem, parent);
    return VUG_OK;
}

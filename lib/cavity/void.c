/* SPDX-License-Identifier: MIT
 * Cavities and chambers as branches of the merge tree of the distance to the solid. */
#include "cavity/void.h"

#include "base/disjoint_set.h"
#include "cavity/border.h"

#include "grid/basin.h"
#include "grid/distance.h"
#include "mesh/same.h"

#include <math.h>
#include <string.h>

/* Bytes in use at the most, measured: a cell takes its sign, its distance and its basin, and a little; a triangle its part
 * of a tree, of edges and of copies. */
static const double PER_POINT = 9.5, PER_TRIANGLE = 200.0;

/* In cells: a branch must outgrow its neck by so much, and hold a ball of so much, or it may be
 * an accident of the grid. */
static const double LEAST_RISE = 1.5, LEAST_RADIUS = VUGI_HOLLOW_CELLS - 0.5;

/* A ball of at least this, in cells, may be a cavity that finer cells would show. */
static const double DOUBTFUL_RADIUS = 1.5;

/* The distance goes from centre to centre of cells; half a cell of it lies in the solid. */
static double radius_of(uint32_t squared)
{
    double r = sqrt((double)squared) - 0.5;
    return r > 0.5 ? r : 0.5;
}

static bool stands_out(uint32_t birth, uint32_t death, double ratio)
{
    double b = radius_of(birth), d = radius_of(death);
    return b >= LEAST_RADIUS && b >= ratio * d && b - d >= LEAST_RISE;
}

/* It stands out, but for how few cells it is. */
static bool is_doubtful(uint32_t birth, uint32_t death, double ratio)
{
    double b = radius_of(birth), d = radius_of(death);
    return b >= DOUBTFUL_RADIUS && b >= ratio * d && !stands_out(birth, death, ratio);
}

/* Two partitions of the basins. A component of the void is joined at every pass below which it does
 * not stand out; a chamber likewise, within its component. */
typedef struct partition {
    const vugi_basins *basins;
    const vugi_void_rule *rule;
    uint32_t *component, *chamber; /* union-find; the representative is the eldest */
    uint8_t *kept;                 /* of a component: it stands out against the outside */
    uint32_t outside;
    bool doubtful; /* a branch would stand out if cells were smaller */
} partition;

static bool elder(const partition *p, uint32_t a, uint32_t b)
{
    if (a == p->outside || b == p->outside)
        return a == p->outside;
    if (p->basins->top[a] != p->basins->top[b])
        return p->basins->top[a] > p->basins->top[b];
    return a > b;
}

static void join(const partition *p, uint32_t *parent, uint32_t a, uint32_t b)
{
    if (a == b)
        return;
    if (elder(p, a, b))
        parent[b] = a;
    else
        parent[a] = b;
}

static void take_pass(partition *p, const vugi_pass *pass)
{
    uint32_t a = vugi_sets_find(p->component, pass->a), b = vugi_sets_find(p->component, pass->b);
    if (a == b)
        return;
    uint32_t younger = elder(p, a, b) ? b : a, older = younger == a ? b : a;
    uint32_t birth = p->basins->top[younger];
    if (older == p->outside) {
        if (!p->kept[younger]) {
            p->kept[younger] = stands_out(birth, pass->value, p->rule->cavity_ratio);
            p->doubtful |= is_doubtful(birth, pass->value, p->rule->cavity_ratio);
        }
        if (!p->kept[younger])
            p->component[younger] = older;
        return;
    }
    if (!stands_out(birth, pass->value, p->rule->chamber_ratio))
        join(p, p->chamber, vugi_sets_find(p->chamber, pass->a),
            vugi_sets_find(p->chamber, pass->b));
    p->component[younger] = older;
    p->kept[older] |= p->kept[younger];
}

/* Numbers the chambers of cavities into chamber_of: by cavity, largest ball first within the
 * order of basins. */
static vug_status number_chambers(vug_context *ctx, const partition *p, uint32_t *chamber_of,
    vugi_void *v)
{
    const vugi_basins *basins = p->basins;
    size_t count = 0;
    for (uint32_t b = 0; b < basins->count; b++) {
        bool root = vugi_sets_find(p->chamber, b) == b;
        uint32_t c = vugi_sets_find(p->component, b);
        chamber_of[b] = vugi_label_outside;
        if (root && c != p->outside && radius_of(basins->top[c]) >= LEAST_RADIUS)
            count++;
        /* closed as the grid sees it, but its way out may be narrower than a cell */
        v->coarse |= b == c && c != p->outside && radius_of(basins->top[c]) >= DOUBTFUL_RADIUS
            && radius_of(basins->top[c]) < LEAST_RADIUS;
    }
    v->chamber = vugi_calloc(&ctx->mem, count, sizeof *v->chamber);
    if (!v->chamber)
        return vugi_fail_memory(ctx);
    for (uint32_t c = 0; c < basins->count; c++) {
        if (vugi_sets_find(p->component, c) != c || radius_of(basins->top[c]) < LEAST_RADIUS)
            continue;
        int32_t cavity = (int32_t)v->cavity_count++;
        chamber_of[c] = (uint32_t)v->chamber_count; /* the eldest is the root of its chamber too */
        v->chamber[v->chamber_count++] = (vugi_chamber){cavity, basins->peak[c], basins->top[c], 0};
    }
    /* The other chambers follow their cavity's first. */
    size_t first_count = v->chamber_count;
    for (uint32_t b = 0; b < basins->count; b++) {
        uint32_t c = vugi_sets_find(p->component, b);
        if (b == c || vugi_sets_find(p->chamber, b) != b || c == p->outside
            || chamber_of[c] >= first_count)
            continue;
        chamber_of[b] = (uint32_t)v->chamber_count;
        v->chamber[v->chamber_count++] = (vugi_chamber){v->chamber[chamber_of[c]].cavity,
            basins->peak[b], basins->top[b], 0};
    }
    for (uint32_t b = 0; b < basins->count; b++) {
        uint32_t root = vugi_sets_find(p->chamber, b), c = vugi_sets_find(p->component, b);
        if (c != p->outside)
            chamber_of[b] = chamber_of[root];
    }
    return VUG_OK;
}

/* By cavity, in a counting sort that keeps the order within. */
static vug_status sort_chambers(vug_context *ctx, vugi_void *v, uint32_t *chamber_of, size_t basins)
{
    size_t n = v->chamber_count;
    vugi_chamber *sorted = vugi_alloc(&ctx->mem, n, sizeof *sorted);
    uint32_t *place = vugi_alloc(&ctx->mem, n, sizeof *place);
    size_t *next = vugi_calloc(&ctx->mem, v->cavity_count + 1, sizeof *next);
    if (!sorted || !place || !next) {
        vugi_free(&ctx->mem, sorted);
        vugi_free(&ctx->mem, place);
        vugi_free(&ctx->mem, next);
        return vugi_fail_memory(ctx);
    }
    for (size_t i = 0; i < n; i++)
        next[v->chamber[i].cavity + 1]++;
    for (size_t i = 0; i < v->cavity_count; i++)
        next[i + 1] += next[i];
    for (size_t i = 0; i < n; i++) {
        place[i] = (uint32_t)next[v->chamber[i].cavity]++;
        sorted[place[i]] = v->chamber[i];
    }
    for (size_t b = 0; b < basins; b++)
        if (chamber_of[b] < n)
            chamber_of[b] = place[chamber_of[b]];
    vugi_free(&ctx->mem, v->chamber);
    vugi_free(&ctx->mem, place);
    vugi_free(&ctx->mem, next);
    v->chamber = sorted;
    return VUG_OK;
}

static vug_status label_cells(vug_context *ctx, const uint32_t *chamber_of, vugi_void *v)
{
    int32_t nz = v->grid.n[2];
    size_t plane = (size_t)v->grid.n[0] * (size_t)v->grid.n[1];
    size_t *tally = vugi_calloc(&ctx->mem, (size_t)nz * (v->chamber_count + 1), sizeof *tally);
    if (!tally)
        return vugi_fail_memory(ctx);
#pragma omp parallel for schedule(static) num_threads(vugi_threads(ctx, (size_t)nz))
    for (int32_t k = 0; k < nz; k++) {
        size_t *own = tally + (size_t)k * (v->chamber_count + 1);
        if (vugi_pulse(ctx, 0.9))
            continue;
        for (size_t c = (size_t)k * plane; c < (size_t)(k + 1) * plane; c++) {
            if (v->label[c] == vugi_label_solid)
                continue;
            v->label[c] = chamber_of[v->label[c]];
            if (v->label[c] < v->chamber_count)
                own[v->label[c]]++;
        }
    }
    vug_status status = vugi_step(ctx, 0.9);
    for (int32_t k = 0; k < nz; k++)
        for (size_t i = 0; i < v->chamber_count; i++)
            v->chamber[i].cells += tally[(size_t)k * (v->chamber_count + 1) + i];
    vugi_free(&ctx->mem, tally);
    return status;
}

static vug_status classify(vug_context *ctx, const vugi_void_rule *rule, const vugi_basins *basins,
    vugi_void *v)
{
    size_t n = basins->count + 1;
    partition p = {.basins = basins, .rule = rule, .outside = (uint32_t)basins->count};
    uint32_t *chamber_of = vugi_alloc(&ctx->mem, n, sizeof *chamber_of);
    p.component = vugi_alloc(&ctx->mem, n, sizeof *p.component);
    p.chamber = vugi_alloc(&ctx->mem, n, sizeof *p.chamber);
    p.kept = vugi_calloc(&ctx->mem, n, 1);
    vug_status status = VUG_OK;
    if (!chamber_of || !p.component || !p.chamber || !p.kept) {
        status = vugi_fail_memory(ctx);
        goto done;
    }
    vugi_sets_init(p.component, n);
    vugi_sets_init(p.chamber, n);
    for (size_t i = 0; i < basins->pass_count; i++)
        take_pass(&p, basins->pass + i);
    v->coarse = p.doubtful;
    status = number_chambers(ctx, &p, chamber_of, v);
    if (!status)
        status = sort_chambers(ctx, v, chamber_of, basins->count);
    if (!status)
        status = label_cells(ctx, chamber_of, v);
done:
    vugi_free(&ctx->mem, chamber_of);
    vugi_free(&ctx->mem, p.component);
    vugi_free(&ctx->mem, p.chamber);
    vugi_free(&ctx->mem, p.kept);
    return status;
}

static vug_status measure_void(vug_context *ctx, const vug_mesh *mesh, vugi_void *v,
    vugi_basins *basins)
{
    vugi_range saved = vugi_progress_enter(ctx, 0.0, 0.3, "inside or outside");
    vug_status status = vugi_grid_sign(ctx, mesh, v->weight, &v->grid, v->cell, v->squared,
        &v->sign);
    vugi_progress_leave(ctx, saved);
    if (status)
        return status;
    saved = vugi_progress_enter(ctx, 0.3, 0.6, "distance");
    status = vugi_distance(ctx, v->grid.n, v->cell, false, v->squared);
    vugi_progress_leave(ctx, saved);
    if (status)
        return status;
    saved = vugi_progress_enter(ctx, 0.6, 0.9, "chambers");
    status = vugi_basins_build(ctx, v->grid.n, v->squared, 6, true, v->label, basins);
    vugi_progress_leave(ctx, saved);
    return status;
}

/* Is a way out of a cavity about one cell wide? Such ways are as likely to be missed. */
static bool any_way_narrow(const vugi_void *v)
{
    for (size_t i = 0; i < v->border_count; i++)
        if (v->border[i].b == VUGI_OUTSIDE && v->border[i].value <= 1)
            return true;
    return false;
}

vug_status vugi_void_build(vug_context *ctx, const vug_mesh *mesh, const vugi_void_rule *rule,
    vugi_void *out)
{
    vugi_void v = {.cavity_count = 0};
    vugi_basins basins = {.count = 0};
    vug_status status = vugi_grid_fit(ctx, mesh->lo, mesh->hi, rule->cells_across, 2, &v.grid);
    size_t count = status ? 0 : vugi_grid_count(&v.grid);
    if (!status)
        status = vugi_expect_memory(ctx,
            PER_POINT * (double)count + PER_TRIANGLE * (double)mesh->triangle_count,
            "finding the cavities");
    if (status)
        return status;
    v.cell = vugi_alloc(&ctx->mem, count, sizeof *v.cell);
    v.squared = vugi_alloc(&ctx->mem, count, sizeof *v.squared);
    v.label = vugi_alloc(&ctx->mem, count, sizeof *v.label);
    status = v.cell && v.squared && v.label ? VUG_OK : vugi_fail_memory(ctx);
    if (!status)
        status = vugi_mesh_weights(ctx, mesh, &v.weight);
    if (!status)
        status = measure_void(ctx, mesh, &v, &basins);
    if (!status)
        status = classify(ctx, rule, &basins, &v);
    vugi_basins_free(&ctx->mem, &basins);
    if (!status)
        status = vugi_void_borders(ctx, &v);
    if (!status && v.cavity_count > 0)
        status = vugi_void_drop_cages(ctx, &v);
    if (!status)
        v.coarse |= any_way_narrow(&v);
    if (status) {
        vugi_void_free(&ctx->mem, &v);
        return status;
    }
    *out = v;
    return VUG_OK;
}

void vugi_void_free(const vugi_allocator *mem, vugi_void *v)
{
    vugi_free(mem, v->weight);
    vugi_free(mem, v->cell);
    vugi_free(mem, v->squared);
    vugi_free(mem, v->label);
    vugi_free(mem, v->chamber);
    vugi_free(mem, v->border);
    memset(v, 0, sizeof *v);
}

/* SPDX-License-Identifier: MIT
 * Edges collapse by quadrics (M. Garland, P. Heckbert, Surface simplification using quadric error metrics, 1997;
 * meshoptimizer), by halves; what a look finds unsound is left as the last level had it. */
#include "shape/hollow/simplify.h"

#include "shape/hollow/coarse.h"
#include "shape/hollow/sliver.h"

#include "config.h"

#include <math.h>
#include <string.h>

#ifdef HAVE_MESHOPTIMIZER

#include <meshoptimizer.h>

enum { LEVELS = 6, ROUNDS = 8 };

/* Of the bound: a quadric tells a mean of errors, the look the greatest. And how many triangles a level takes away: where
 * the next one is not sound, much is won already. */
static const double SHARE = 0.8, FEWER = 0.5;

/* Where more triangles are left than this share, the next level is not worth its time. */
static const double WORTH = 0.9;

/* Of a step: what is lower is turned. */
static const double SLIVER = 0.02;

typedef struct rows {
    uint32_t *row;
    size_t count;
} rows;

typedef struct job {
    vugi_simplifying *s;
    vugi_coarse look;
    float *place, scale; /* of the vertices, for the library */
    uint32_t *open;      /* triangles that may go */
    uint32_t *spare;     /* scratch: as many */
    rows now, next;
    uint8_t *fixed; /* triangles of now */
    uint8_t *mark;  /* vertices */
} job;

bool vugi_simplify_known(void)
{
    return true;
}

static bool begin(job *j, const vug_mesh *net)
{
    const vugi_allocator *mem = &j->s->ctx->mem;
    size_t vertices = net->vertex_count, triangles = net->triangle_count;
    j->place = vugi_alloc(mem, vertices, 3 * sizeof *j->place);
    j->open = vugi_alloc(mem, triangles, 3 * sizeof *j->open);
    j->spare = vugi_alloc(mem, triangles, 3 * sizeof *j->spare);
    j->now.row = vugi_alloc(mem, triangles, 3 * sizeof *j->now.row);
    j->next.row = vugi_alloc(mem, triangles, 3 * sizeof *j->next.row);
    j->fixed = vugi_alloc(mem, triangles, 1);
    j->mark = vugi_alloc(mem, vertices, 1);
    if (!j->place || !j->open || !j->spare || !j->now.row || !j->next.row || !j->fixed || !j->mark)
        return false;
    for (size_t i = 0; i < 3 * vertices; i++)
        j->place[i] = (float)(net->xyz[i] - net->lo[i % 3]);
    j->scale = meshopt_simplifyScale(j->place, vertices, 3 * sizeof *j->place);
    memcpy(j->now.row, net->triangles, 3 * triangles * sizeof *j->now.row);
    j->now.count = triangles;
    return true;
}

/* Puts those of next that are rows of open behind the others: meshoptimizer keeps their order, and all of which no
 * vertex went. spare: room for them. Returns how many others there are. */
static size_t part_fresh(const job *j, size_t open_count, uint32_t *spare)
{
    size_t fresh = 0, kept = 0, at = 0;
    uint32_t *row = j->next.row;
    memset(j->mark, 0, j->look.fine->vertex_count);
    for (size_t i = 0; i < 3 * j->next.count; i++)
        j->mark[row[i]] = 1;
    for (size_t o = 0; o < open_count; o++) {
        const uint32_t *was = j->open + 3 * o;
        if (!j->mark[was[0]] || !j->mark[was[1]] || !j->mark[was[2]])
            continue;
        for (; at < j->next.count && memcmp(row + 3 * at, was, 3 * sizeof *was) != 0; at++)
            memmove(row + 3 * fresh++, row + 3 * at, 3 * sizeof *row);
        if (at < j->next.count)
            memcpy(spare + 3 * kept++, row + 3 * at++, 3 * sizeof *row);
    }
    for (; at < j->next.count; at++)
        memmove(row + 3 * fresh++, row + 3 * at, 3 * sizeof *row);
    memcpy(row + 3 * fresh, spare, 3 * kept * sizeof *row);
    return fresh;
}

/* next: the fixed triangles of now, and fewer in place of the others. */
static void reduce(job *j)
{
    size_t count = 0, vertices = j->look.fine->vertex_count;
    for (size_t t = 0; t < j->now.count; t++)
        if (!j->fixed[t])
            memcpy(j->open + 3 * count++, j->now.row + 3 * t, 3 * sizeof *j->open);
    j->next.count = meshopt_simplify(j->next.row, j->open, 3 * count, j->place, vertices,
                        3 * sizeof *j->place, 3 * (size_t)(FEWER * (double)count),
                        (float)(SHARE * j->s->bound) / j->scale, meshopt_SimplifyLockBorder, NULL)
        / 3;
    j->look.fresh = part_fresh(j, count, j->spare);
    for (size_t t = 0; t < j->now.count; t++)
        if (j->fixed[t])
            memcpy(j->next.row + 3 * j->next.count++, j->now.row + 3 * t, 3 * sizeof *j->now.row);
}

/* What lies nearest to a bad triangle, or at its corners, stays. */
static void fix_bad(job *j)
{
    const vugi_coarse *c = &j->look;
    memset(j->mark, 0, c->fine->vertex_count);
    for (size_t t = 0; t < j->next.count; t++)
        for (size_t k = 3 * t; c->bad[t] && k < 3 * t + 3; k++)
            j->mark[j->next.row[k]] = 1;
    for (size_t v = 0; v < c->fine->vertex_count; v++)
        j->mark[v] |= c->bad[c->near[v]];
    for (size_t t = 0; t < j->now.count; t++) {
        const uint32_t *row = j->now.row + 3 * t;
        j->fixed[t] |= j->mark[row[0]] | j->mark[row[1]] | j->mark[row[2]];
    }
}

/* fine's vertices with the triangles of next; owns nothing. */
static vug_mesh seen(const job *j)
{
    const vug_mesh *fine = j->look.fine;
    vug_mesh view = {.vertex_count = fine->vertex_count,
        .triangle_count = j->next.count,
        .xyz = fine->xyz,
        .triangles = j->next.row};
    memcpy(view.lo, fine->lo, sizeof view.lo);
    memcpy(view.hi, fine->hi, sizeof view.hi);
    return view;
}

static vug_status take_level(job *j, int level)
{
    memset(j->fixed, 0, j->now.count);
    for (int round = 0; round < ROUNDS; round++) {
        reduce(j);
        if (j->next.count >= j->now.count)
            return VUG_OK;
        vug_mesh view = seen(j);
        vug_status status = vugi_step(j->s->ctx, (level + (double)round / ROUNDS) / (double)LEVELS);
        if (!status)
            status = vugi_sliver_turn(j->s->ctx, &view, j->look.fresh, SLIVER * j->s->step);
        if (!status)
            status = vugi_coarse_look(&j->look, &view);
        if (status)
            return status;
        if (j->look.faults == 0) {
            rows spare = j->now;
            j->now = j->next;
            j->next = spare;
            j->s->error = fmax(j->s->error, j->look.error);
            j->s->thinnest = fmin(j->s->thinnest, j->look.thinnest);
            return VUG_OK;
        }
        fix_bad(j);
    }
    return VUG_OK;
}

/* A mesh of the rows that are left and their vertices, in the order of net's. */
static vug_status gather(const job *j, const vug_mesh *net, vug_mesh **out)
{
    const vugi_allocator *mem = &j->s->ctx->mem;
    size_t vertices = 0;
    uint32_t *number = vugi_calloc(mem, net->vertex_count, sizeof *number);
    double *xyz = vugi_alloc(mem, net->vertex_count, 3 * sizeof *xyz);
    uint32_t *row = vugi_alloc(mem, j->now.count, 3 * sizeof *row);
    if (!number || !xyz || !row) {
        vugi_free(mem, number);
        vugi_free(mem, xyz);
        vugi_free(mem, row);
        return vugi_fail_memory(j->s->ctx);
    }
    for (size_t i = 0; i < 3 * j->now.count; i++)
        number[j->now.row[i]] = 1;
    for (size_t v = 0; v < net->vertex_count; v++)
        if (number[v]) {
            memcpy(xyz + 3 * vertices, net->xyz + 3 * v, 3 * sizeof *xyz);
            number[v] = (uint32_t)vertices++;
        }
    for (size_t i = 0; i < 3 * j->now.count; i++)
        row[i] = number[j->now.row[i]];
    vugi_free(mem, number);
    *out = vugi_mesh_adopt(mem, xyz, vertices, row, j->now.count);
    return *out ? VUG_OK : vugi_fail_memory(j->s->ctx);
}

vug_status vugi_simplify(vugi_simplifying *s, vug_mesh **net)
{
    const vugi_allocator *mem = &s->ctx->mem;
    vugi_tree tree = {.node = NULL};
    vug_mesh *simple = NULL;
    job j = {.s = s,
        .look = {.ctx = s->ctx,
            .fine = *net,
            .fine_tree = &tree,
            .outer = s->outer,
            .least = s->least,
            .step = s->step,
            .bound = s->bound}};
    s->error = 0.0;
    vug_status status = vugi_tree_build(s->ctx, *net, &tree);
    if (!status)
        status = vugi_coarse_begin(&j.look);
    if (!status && !begin(&j, *net))
        status = vugi_fail_memory(s->ctx);
    bool won = !status;
    for (int level = 0; won && !status && level < LEVELS; level++) {
        size_t before = j.now.count;
        status = take_level(&j, level);
        won = (double)j.now.count < WORTH * (double)before;
    }
    if (!status)
        status = gather(&j, *net, &simple);
    vugi_tree_free(&tree);
    vugi_coarse_end(&j.look);
    vugi_free(mem, j.place);
    vugi_free(mem, j.open);
    vugi_free(mem, j.spare);
    vugi_free(mem, j.now.row);
    vugi_free(mem, j.next.row);
    vugi_free(mem, j.fixed);
    vugi_free(mem, j.mark);
    if (!status) {
        vug_mesh_free(*net);
        *net = simple;
    }
    return status;
}

#else

bool vugi_simplify_known(void)
{
    return false;
}

/* Not asked for: options are checked. */
vug_status vugi_simplify(vugi_simplifying *s, vug_mesh **net)
{
    (void)net;
    return vugi_fail(s->ctx, VUG_ERR_UNSUPPORTED, "this build is without meshoptimizer");
}

#endif

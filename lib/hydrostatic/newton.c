/* SPDX-License-Identifier: MIT
 * Newton's method for pools and closed air. Each body has one equation, that its amount is kept, and
 * one unknown, its head. Without bodies that run over the equations are the slopes of the energy of
 * liquid and air, which is convex, so there is one answer. */
#include "hydrostatic/newton.h"

#include "hydrostatic/linear.h"

#include <assert.h>
#include <math.h>
#include <string.h>

enum { ROUNDS = 60, HALVES = 30 };

bool vugi_balance_body(vugi_balance *b, vugi_body body, uint32_t *number)
{
    if (!vugi_reserve(&b->mem, &b->body, &b->body_capacity, b->bodies + 1, sizeof *b->body))
        return false;
    *number = (uint32_t)b->bodies;
    b->body[b->bodies++] = body;
    return true;
}

bool vugi_balance_surface(vugi_balance *b, vugi_surface surface)
{
    assert(surface.pool < b->bodies && surface.air < b->bodies);
    assert(surface.arc < b->graph->arc_count);
    if (!vugi_reserve(&b->mem, &b->surface, &b->surface_capacity, b->surfaces + 1,
            sizeof *b->surface))
        return false;
    b->surface[b->surfaces++] = surface;
    return true;
}

bool vugi_balance_ready(vugi_balance *b)
{
    size_t n = b->bodies;
    return vugi_reserve(&b->mem, &b->matrix, &b->matrix_capacity, n * n, sizeof *b->matrix)
        && vugi_reserve(&b->mem, &b->right, &b->right_capacity, n, sizeof *b->right)
        && vugi_reserve(&b->mem, &b->start, &b->start_capacity, n, sizeof *b->start)
        && vugi_reserve(&b->mem, &b->taken, &b->taken_capacity, n, sizeof *b->taken);
}

void vugi_balance_free(vugi_balance *b)
{
    void *all[] = {b->surface, b->body, b->matrix, b->right, b->start, b->taken};
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++)
        vugi_free(&b->mem, all[i]);
    *b = (vugi_balance){.mem = b->mem};
}

/* ---- who decides a head, and who takes what leaves ------------------------------ */

static uint32_t root_of(const vugi_balance *b, uint32_t i, double *offset)
{
    assert(i < b->bodies);
    *offset = 0.0;
    for (; b->body[i].tied != VUGI_NONE; i = b->body[i].tied)
        *offset += b->body[i].tie;
    return i;
}

/* The row of the equation that an amount belongs to; VUGI_NONE: to none, it is lost outside. */
static uint32_t row_of_amount(const vugi_balance *b, uint32_t i)
{
    while (i != VUGI_NONE && b->body[i].tied != VUGI_NONE)
        i = b->body[i].to;
    return i == VUGI_NONE ? VUGI_NONE : b->body[i].row;
}

static void number_rows(vugi_balance *b)
{
    b->rows = 0;
    for (size_t i = 0; i < b->bodies; i++) {
        vugi_body *o = b->body + i;
        o->row = o->vented || o->tied != VUGI_NONE ? VUGI_NONE : (uint32_t)b->rows++;
    }
}

static void spread_heads(vugi_balance *b)
{
    for (uint32_t i = 0; i < b->bodies; i++) {
        double offset;
        uint32_t root = root_of(b, i, &offset);
        b->body[i].head = (b->body[root].vented ? 0.0 : b->body[root].head) + offset;
    }
}

/* ---- amounts ---------------------------------------------------------------------- */

/* An arc goes on past its ends as wide as it is there, so that there is always an answer; what stands
 * past an end is an event. */
static double end_area(const vugi_graph *g, const vugi_arc *arc, uint32_t a, bool top)
{
    double in = 1e-3 * (arc->hi - arc->lo);
    return fmax(g->columns->h * g->columns->h,
        vugi_arc_area(g, a, top ? arc->hi - in : arc->lo + in));
}

static double volume_at(const vugi_graph *g, uint32_t a, double z, double *area)
{
    assert(a < g->arc_count);
    const vugi_arc *arc = g->arc + a;
    if (z >= arc->hi) {
        *area = end_area(g, arc, a, true);
        return arc->volume + *area * (z - arc->hi);
    }
    if (z <= arc->lo) {
        *area = end_area(g, arc, a, false);
        return *area * (z - arc->lo);
    }
    *area = vugi_arc_area(g, a, z);
    return vugi_arc_volume(g, a, z);
}

static void add(vugi_balance *b, uint32_t row, uint32_t body, double slope)
{
    assert(body < b->bodies);
    assert(row == VUGI_NONE || row < b->rows);
    double offset;
    uint32_t column = b->body[root_of(b, body, &offset)].row;
    if (row != VUGI_NONE && column != VUGI_NONE)
        b->matrix[row * b->rows + column] += slope;
}

/* Residues at the heads of now; the matrix of their slopes too. Returns the sum of squares by row. */
static double measure(vugi_balance *b, double part, bool slopes)
{
    double *sum = b->right, squares = 0.0, area;
    spread_heads(b);
    for (size_t i = 0; i < b->bodies; i++)
        b->body[i].residual = b->body[i].air ? b->body[i].whole : 0.0;
    if (slopes)
        memset(b->matrix, 0, b->rows * b->rows * sizeof *b->matrix);
    for (size_t i = 0; i < b->surfaces; i++) {
        vugi_surface *s = b->surface + i;
        vugi_body *pool = b->body + s->pool, *air = b->body + s->air;
        if (s->fixed)
            s->z = s->from;
        else
            s->z = pool->head - air->head + s->misfit * (1.0 - part);
        double volume = volume_at(b->graph, s->arc, s->z, &area);
        pool->residual += volume;
        air->residual += b->graph->arc[s->arc].volume - volume;
        if (!slopes || s->fixed)
            continue;
        double press = 1.0 + b->compressibility * air->head;
        add(b, row_of_amount(b, s->pool), s->pool, area);
        add(b, row_of_amount(b, s->pool), s->air, -area);
        if (!air->vented) {
            add(b, row_of_amount(b, s->air), s->air, press * area);
            add(b, row_of_amount(b, s->air), s->pool, -press * area);
        }
    }
    for (size_t k = 0; k < b->rows; k++)
        sum[k] = 0.0;
    for (uint32_t i = 0; i < b->bodies; i++) {
        vugi_body *o = b->body + i;
        uint32_t row = o->vented ? VUGI_NONE : row_of_amount(b, i);
        if (o->air && slopes && row != VUGI_NONE)
            add(b, row, i, b->compressibility * o->residual);
        if (o->air)
            o->residual *= 1.0 + b->compressibility * o->head;
        o->residual -= o->amount + part * o->feed;
        if (row != VUGI_NONE)
            sum[row] += o->residual;
    }
    for (size_t k = 0; k < b->rows; k++)
        squares += sum[k] * sum[k];
    assert(!isnan(squares));
    return squares;
}

/* ---- Newton ------------------------------------------------------------------------- */

/* Air can't have less than no pressure. */
static void set_heads(vugi_balance *b, double share)
{
    for (size_t i = 0; i < b->bodies; i++) {
        vugi_body *o = b->body + i;
        if (o->row == VUGI_NONE)
            continue;
        o->head = b->start[i] - share * b->taken[o->row];
        if (b->compressibility > 0.0 && o->air)
            o->head = fmax(o->head, -0.9 / b->compressibility);
    }
}

static bool step(vugi_balance *b, double part, double *squares)
{
    size_t n = b->rows;
    double h = b->graph->columns->h, old = *squares, share = 1.0;
    for (size_t k = 0; k < n; k++)
        b->matrix[k * n + k] += 1e-9 * h * h; /* what nothing holds stays put */
    if (!vugi_eliminate(b->matrix, b->right, n))
        return false;
    memcpy(b->taken, b->right, n * sizeof *b->taken);
    for (size_t i = 0; i < b->bodies; i++)
        b->start[i] = b->body[i].head;
    for (int i = 0; i < HALVES; i++, share *= 0.5) {
        set_heads(b, share);
        *squares = measure(b, part, false);
        if (*squares < old)
            return true;
    }
    return false;
}

bool vugi_balance_solve(vugi_balance *b, double part)
{
    assert(b->matrix_capacity >= b->bodies * b->bodies);
    assert(part >= 0.0 && part <= 1.0);
    double enough = 1e-13 * b->graph->capacity;
    number_rows(b);
    if (b->rows == 0) {
        measure(b, part, false);
        return true;
    }
    double squares = measure(b, part, true), old = INFINITY;
    for (int i = 0; i < ROUNDS && squares > enough * enough && squares < old; i++) {
        old = squares;
        if (!step(b, part, &squares))
            break;
        measure(b, part, true);
    }
    return squares <= 1e4 * enough * enough;
}

double vugi_balance_left(const vugi_balance *b, uint32_t body)
{
    assert(body < b->bodies);
    double left = -b->body[body].residual;
    for (uint32_t i = 0; i < b->bodies; i++)
        if (i != body && b->body[i].tied != VUGI_NONE && b->body[i].to == body)
            left += vugi_balance_left(b, i);
    return left;
}

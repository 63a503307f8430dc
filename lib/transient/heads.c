/* SPDX-License-Identifier: MIT
 * Each flow grows with the head that it leaves and falls with the one that it comes to, so that the sum of what is not
 * balanced grows less along Newton's move; where flows go by differences of heads alone, the balance is the lowest point of
 * one convex sum too, and a move ends where that stops to fall. */
#include "transient/heads.h"

#include "base/disjoint_set.h"

#include <assert.h>
#include <float.h>
#include <math.h>
#include <string.h>

enum { ROUGH = 3, CUTS = 40 };

/* ---- places, flows and rows ---------------------------------------------------------------- */

bool vugi_heads_alloc(const vugi_allocator *mem, size_t places, vugi_heads *b)
{
    *b = (vugi_heads){.mem = mem, .places = places, .late = places};
    b->group = vugi_alloc(mem, places, sizeof *b->group);
    b->row = vugi_alloc(mem, places, sizeof *b->row);
    b->known = vugi_alloc(mem, places, sizeof *b->known);
    for (size_t p = 0; p < places && b->known; p++)
        b->known[p] = NAN;
    return b->group && b->row && b->known;
}

void vugi_heads_free(vugi_heads *b)
{
    if (!b->mem)
        return;
    void *all[] = {b->group, b->row, b->known, b->flow, b->head, b->low, b->high, b->next, b->force,
        b->move};
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++)
        vugi_free(b->mem, all[i]);
    vugi_skyline_free(b->mem, &b->matrix);
    b->mem = NULL;
}

void vugi_heads_begin(vugi_heads *b)
{
    b->flows = 0;
    vugi_sets_init(b->group, b->places);
}

void vugi_heads_unite(vugi_heads *b, uint32_t place, uint32_t other)
{
    vugi_sets_unite(b->group, place, other);
}

bool vugi_heads_add(vugi_heads *b, vugi_flow flow)
{
    if (!vugi_reserve(b->mem, &b->flow, &b->flow_room, b->flows + 1, sizeof *b->flow))
        return false;
    b->flow[b->flows++] = flow;
    return true;
}

bool vugi_heads_put(vugi_heads *b, vugi_flow_law law, const void *of, size_t index, uint32_t from,
    uint32_t to, uint32_t third)
{
    return vugi_heads_add(b, (vugi_flow){law, of, index, {from, to, third}, {0}, 0.0, 0.0});
}

/* Scratch: groups in the order of their rows, and of each group the ends of flows that are at it, one after the other. */
typedef struct numbering {
    uint32_t *queue, *first, *next;
} numbering;

static void give_rows(vugi_heads *b, const vugi_flow *f, bool late, uint32_t *queue)
{
    for (int k = 0; k < VUGI_FLOW_ENDS; k++) {
        uint32_t group = f->row[k];
        if (group == VUGI_NONE || b->row[group] != VUGI_NONE || (!late && f->place[k] >= b->late))
            continue;
        queue[b->rows] = group;
        b->row[group] = (uint32_t)b->rows++;
    }
}

static void find_ends(vugi_heads *b, numbering *at)
{
    for (size_t p = 0; p < b->places; p++)
        at->first[p] = b->row[p] = VUGI_NONE;
    for (size_t i = 0; i < VUGI_FLOW_ENDS * b->flows; i++) {
        vugi_flow *f = b->flow + i / VUGI_FLOW_ENDS;
        uint32_t place = f->place[i % VUGI_FLOW_ENDS], *row = f->row + i % VUGI_FLOW_ENDS;
        *row = place == VUGI_NONE ? VUGI_NONE : vugi_sets_find(b->group, place);
        if (*row == VUGI_NONE)
            continue;
        at->next[i] = at->first[*row];
        at->first[*row] = (uint32_t)i;
    }
}

/* From each place on to those that it is joined with, so that rows that know each other are near (Cuthill and McKee
 * 1969). */
static void number_rows(vugi_heads *b, numbering *at)
{
    size_t done = 0;
    b->rows = 0;
    find_ends(b, at);
    for (size_t i = 0; i < b->flows; i++) {
        give_rows(b, b->flow + i, false, at->queue);
        for (; done < b->rows; done++)
            for (uint32_t k = at->first[at->queue[done]]; k != VUGI_NONE; k = at->next[k])
                give_rows(b, b->flow + k / VUGI_FLOW_ENDS, false, at->queue);
    }
    for (size_t i = 0; i < b->flows; i++)
        give_rows(b, b->flow + i, true, at->queue);
    for (uint32_t p = 0; p < b->places; p++)
        b->row[p] = b->row[vugi_sets_find(b->group, p)];
}

/* All rows of a flow know each other. */
static void pair_rows(vugi_heads *b, vugi_flow *f)
{
    uint32_t low = VUGI_NONE;
    for (int k = 0; k < VUGI_FLOW_ENDS; k++) {
        f->row[k] = f->place[k] == VUGI_NONE ? VUGI_NONE : b->row[f->place[k]];
        low = f->row[k] < low ? f->row[k] : low;
    }
    for (int k = 0; k < VUGI_FLOW_ENDS; k++)
        if (f->row[k] != VUGI_NONE && low < b->matrix.first[f->row[k]])
            b->matrix.first[f->row[k]] = low;
}

bool vugi_heads_rows(vugi_heads *b)
{
    double **vector[] = {&b->head, &b->low, &b->high, &b->next, &b->force, &b->move};
    size_t room = b->row_room, scratch = 2 * b->places + VUGI_FLOW_ENDS * b->flows;
    uint32_t *queue = vugi_alloc(b->mem, scratch, sizeof *queue);
    if (!queue)
        return false;
    number_rows(b, &(numbering){queue, queue + b->places, queue + 2 * b->places});
    vugi_free(b->mem, queue);
    for (size_t i = 0; i < sizeof vector / sizeof vector[0]; i++) {
        room = b->row_room;
        if (!vugi_reserve(b->mem, vector[i], &room, b->rows, sizeof **vector[i]))
            return false;
    }
    b->row_room = room;
    if (!vugi_skyline_rows(b->mem, &b->matrix, b->rows))
        return false;
    for (size_t i = 0; i < b->flows; i++)
        pair_rows(b, b->flow + i);
    return true;
}

bool vugi_heads_same(const vugi_heads *b, uint32_t place, uint32_t other)
{
    return b->row[place] == b->row[other];
}

double vugi_heads_at(const vugi_heads *b, uint32_t place)
{
    return b->row[place] == VUGI_NONE ? NAN : b->head[b->row[place]];
}

double vugi_heads_highest(const vugi_heads *b)
{
    double most = 0.0;
    for (size_t i = 0; i < b->rows; i++)
        most = fmax(most, b->head[i]);
    return most;
}

void vugi_heads_from(vugi_heads *b, uint32_t place, double head, double low, double high)
{
    uint32_t row = b->row[place];
    if (row == VUGI_NONE)
        return;
    b->low[row] = low;
    b->high[row] = high;
    b->head[row] = fmax(low, fmin(high, head));
}

/* ---- flows at heads ------------------------------------------------------------------------ */

static void put_slopes(vugi_heads *b, const vugi_flow *f, const double *slope)
{
    for (int k = 0; k < VUGI_FLOW_ENDS; k++) {
        if (f->row[k] == VUGI_NONE || slope[k] == 0.0)
            continue;
        if (f->row[0] != VUGI_NONE)
            *vugi_skyline_at(&b->matrix, f->row[0], f->row[k]) += slope[k];
        if (f->row[1] != VUGI_NONE)
            *vugi_skyline_at(&b->matrix, f->row[1], f->row[k]) -= (1.0 - f->lost) * slope[k];
    }
}

/* What leaves each place less what comes; with its slopes. Returns the greatest. */
static double weigh(vugi_heads *b, const double *head, const vugi_ask *ask, bool slopes)
{
    double worst = 0.0;
    memset(b->force, 0, b->rows * sizeof *b->force);
    for (size_t i = 0; slopes && i < b->rows; i++)
        *vugi_skyline_at(&b->matrix, i, i) = 1e-9; /* a place that nothing tells stays put */
    for (size_t i = 0; i < b->flows; i++) {
        vugi_flow *f = b->flow + i;
        double at[VUGI_FLOW_ENDS], slope[VUGI_FLOW_ENDS] = {0.0, 0.0, 0.0};
        if (f->row[0] == f->row[1])
            continue;
        for (int k = 0; k < VUGI_FLOW_ENDS; k++)
            at[k] = f->row[k] == VUGI_NONE ? 0.0 : head[f->row[k]];
        f->flow = f->law(ask, f, at, slope);
        if (f->row[0] != VUGI_NONE)
            b->force[f->row[0]] += f->flow;
        if (f->row[1] != VUGI_NONE)
            b->force[f->row[1]] -= (1.0 - f->lost) * f->flow;
        if (slopes)
            put_slopes(b, f, slope);
    }
    for (size_t i = 0; i < b->rows; i++)
        worst = isnan(b->force[i]) ? INFINITY : fmax(worst, fabs(b->force[i]));
    return worst;
}

/* What rounding of the heads alone makes of the flows at a place, at most: beyond that they cannot agree. Slopes are known. */
static double blur(vugi_heads *b)
{
    double most = 0.0;
    for (size_t i = 0; i < b->rows; i++)
        most = fmax(most, fabs(b->head[i]) * *vugi_skyline_at(&b->matrix, i, i));
    return 2.0 * DBL_EPSILON * most;
}

static double sum_of_all(const vugi_heads *b)
{
    double sum = 0.0;
    for (size_t i = 0; i < b->rows; i++)
        sum += fabs(b->force[i]);
    return sum;
}

/* How much the sum whose slopes the flows are falls along the move, at heads: it is lowest where that is nothing. */
static double falls(const vugi_heads *b)
{
    double sum = 0.0;
    for (size_t i = 0; i < b->rows; i++)
        sum -= b->force[i] * b->move[i];
    return sum;
}

/* ---- moves --------------------------------------------------------------------------------- */

/* A move that leads no head beyond its limits. */
static bool limit(vugi_heads *b)
{
    bool cut = false;
    for (size_t i = 0; i < b->rows; i++) {
        double to = fmax(b->low[i], fmin(b->high[i], b->head[i] + b->move[i]));
        cut = cut || to != b->head[i] + b->move[i];
        b->move[i] = to - b->head[i];
    }
    return cut;
}

/* Newton's move; where it leads up, for its limits, each head by its own slope: that leads down. Returns how much. */
static double find_move(vugi_heads *b)
{
    for (size_t i = 0; i < b->rows; i++) {
        b->next[i] = *vugi_skyline_at(&b->matrix, i, i);
        b->move[i] = -b->force[i];
    }
    vugi_skyline_solve(&b->matrix, b->move);
    bool cut = limit(b);
    double fall = falls(b);
    if (fall > 0.0 || !cut)
        return fall;
    for (size_t i = 0; i < b->rows; i++)
        b->move[i] = -b->force[i] / b->next[i];
    limit(b);
    return falls(b);
}

static void try(vugi_heads *b, double part, const vugi_ask *ask)
{
    for (size_t i = 0; i < b->rows; i++)
        b->next[i] = b->head[i] + part * b->move[i];
    weigh(b, b->next, ask, false);
}

/* To about the lowest point on the way: as the sum is convex, its fall grows less all along. */
static double go_down(vugi_heads *b, double first, const vugi_ask *ask)
{
    double lo = 0.0, hi = 1.0, at_lo = first, part = 1.0, fall = falls(b), at_hi = fall;
    for (int cut = 0; cut < CUTS; cut++) {
        if (fall >= -0.25 * first && (part >= 1.0 || fall <= 0.5 * first))
            break;
        part = lo + (hi - lo) * fmax(0.1, fmin(0.9, at_lo / (at_lo - at_hi)));
        try(b, part, ask);
        fall = falls(b);
        *(fall > 0.0 ? &lo : &hi) = part;
        *(fall > 0.0 ? &at_lo : &at_hi) = fall;
    }
    return part;
}

/* To where less is not balanced in all. */
static double go_back(vugi_heads *b, double before, const vugi_ask *ask)
{
    double part = 1.0;
    for (int cut = 0; cut < CUTS && sum_of_all(b) > (1.0 - 0.1 * part) * before; cut++) {
        part *= 0.5;
        try(b, part, ask);
    }
    return part;
}

/* The greatest change of what drives a flow, and between which heads lie, mm. */
static double most_moved(const vugi_heads *b, double *room)
{
    double most = 0.0, low = INFINITY, high = -INFINITY;
    for (size_t i = 0; i < b->rows; i++) {
        low = fmin(low, b->next[i]);
        high = fmax(high, b->next[i]);
    }
    for (size_t i = 0; i < b->flows; i++) {
        const uint32_t *row = b->flow[i].row;
        if (row[0] != VUGI_NONE && row[1] != VUGI_NONE)
            most = fmax(most, fabs(b->move[row[0]] - b->move[row[1]]));
    }
    *room = high - low + 1.0;
    return most;
}

/* All of the way where less than ever is left then: less than just before could go round in circles with moves down.
 * A move that gets only a small part of its way has met what is steeper there than its slopes said: the next look
 * farther. Where no one sum has its lowest point, Newton's own slopes are what leads on. */
static void move(vugi_heads *b, const vugi_ask *ask)
{
    double before = sum_of_all(b), part = 1.0, room;
    double first = find_move(b);
    bool down = first > 0.0;
    try(b, 1.0, ask);
    b->best = fmin(b->best, before);
    if (sum_of_all(b) > 0.5 * b->best)
        part = down ? go_down(b, first, ask) : go_back(b, before, ask);
    double moved = part * most_moved(b, &room);
    bool steep = down && part >= 1.0 && sum_of_all(b) > 0.5 * before;
    if (!down)
        b->near = 0.0;
    else if (part < 0.3)
        b->near = fmin(room, fmax(4.0 * b->near, moved));
    else if (steep) /* nothing in the way: the farther off the longer that is so */
        b->near *= b->fade;
    else
        b->near = fmin(b->near, fmax(0.25 * b->near, 0.5 * moved));
    b->fade = steep ? b->fade * b->fade : 0.25;
    memcpy(b->head, b->next, b->rows * sizeof *b->head);
}

vug_status vugi_heads_solve(vug_context *ctx, vugi_heads *b, double usual, double all)
{
    /* Small beside what flows, and in volume as small as rounding lets it be: steps of slow sheets last days. */
    double most = fmax(1e-9 * usual, 1e-13 * all), goal = fmin(most, 1e-10 * all), last = INFINITY,
           enough = most;
    b->near = 0.0;
    b->fade = 0.25;
    b->best = INFINITY;
    for (b->round = 0; b->round < VUGI_HEADS_ROUNDS; b->round++) {
        const vugi_ask ask = {b->near, b->round < ROUGH || b->round % ROUGH == 0};
        if (!vugi_skyline_values(b->mem, &b->matrix))
            return vugi_fail_memory(ctx);
        b->rest = weigh(b, b->head, &ask, true);
        b->rounds++;
        double least = fmin(blur(b), 1e-9 * all);
        enough = fmax(most, 8.0 * least);
        if (b->rest <= fmax(goal, least) || (b->rest <= enough && b->rest > 0.5 * last))
            break;
        last = b->rest;
        move(b, &ask);
    }
    for (uint32_t p = 0; p < b->places && b->rest <= enough; p++)
        b->known[p] = vugi_heads_at(b, p);
    return VUG_OK;
}

/* SPDX-License-Identifier: MIT
 * Follows the pieces of a rising horizontal section. A pixel that comes can join pieces: union-find.
 * A pixel that goes can part one: looked for in the ring of eight around it first, and only if the
 * ring does not tell, by searches that start from each side in turn, so that a part that comes off
 * costs its own size and no more. The result is the Reeb graph of height on the cavity (Doraiswamy
 * and Natarajan 2009 describe the general problem; the pixels make it simpler). */
#include "gravity/sweep.h"

#include "base/disjoint_set.h"
#include "base/sort.h"
#include "column/columns.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { SIDES = 4 };

typedef struct side {
    uint32_t *pixel; /* visited, in order of visit */
    size_t count, next, capacity;
    uint32_t joined; /* side that it met, or itself */
} side;

/* The section as it rises. */
typedef struct rising {
    vugi_sweep *out; /* what gets built */
    const vugi_allocator *mem;
    uint32_t *label;  /* of each pixel: an arc that leads to its own, or VUGI_NONE */
    uint32_t *span;   /* of each pixel in the section */
    uint32_t *parent; /* of each arc: the arc that it went into, or itself */
    size_t parent_capacity;
    uint32_t *pixels, *since; /* of each arc: pixels now, and the key of the last change */
    int32_t *straight, *diagonal;
    size_t pixels_capacity, since_capacity, straight_capacity, diagonal_capacity;
    uint32_t *mark; /* of each pixel: stamp of the search that saw it, times SIDES, plus side */
    uint32_t stamp;
    double z; /* exact height of the event that is being played */
    side side[SIDES];
    uint32_t width, height; /* with a border of one pixel, so that no neighbour is outside */
    int32_t ring[8];        /* steps to the eight neighbours, around */
} rising;

uint32_t vugi_scale_key(vugi_scale scale, double z)
{
    assert(scale.step > 0.0);
    assert(!isnan(z));
    double key = (z - scale.zero) / scale.step;
    if (!(key > 0.0))
        return 0;
    return key >= 4294967294.0 ? 4294967294u : (uint32_t)(key + 0.5);
}

/* The grid of keys stands off the ends by an odd part of a step, so that a flat floor with rounding
 * in its heights does not straddle two keys when the bounds are its own. */
static vugi_scale scale_of(const vugi_columns *c)
{
    double range = fmax(c->zhi - c->zlo, 1e-9);
    double step = range / 4294967000.0;
    return (vugi_scale){c->zlo - 64.37 * step, step};
}

static size_t padded(const rising *s, size_t column)
{
    assert(column < (size_t)(s->width - 2) * (s->height - 2));
    size_t nx = s->width - 2;
    return (column / nx + 1) * s->width + column % nx + 1;
}

static uint32_t arc_at(const rising *s, size_t column)
{
    uint32_t label = s->label[padded(s, column)];
    return label == VUGI_NONE ? VUGI_NONE : vugi_sets_find(s->parent, label);
}

static bool new_node(rising *s, uint32_t key, uint32_t span, uint32_t *node)
{
    vugi_sweep *o = s->out;
    if (!vugi_reserve(s->mem, &o->node, &o->node_capacity, o->node_count + 1, sizeof *o->node))
        return false;
    *node = (uint32_t)o->node_count;
    o->node[o->node_count++] = (vugi_raw_node){key, span, s->z};
    return true;
}

static bool new_change(rising *s, vugi_change change)
{
    vugi_sweep *o = s->out;
    if (!vugi_reserve(s->mem, &o->change, &o->change_capacity, o->change_count + 1,
            sizeof *o->change))
        return false;
    o->change[o->change_count++] = change;
    return true;
}

/* An arc that begins at a node with so many pixels. */
static bool new_arc(rising *s, uint32_t key, uint32_t node, uint32_t pixels, int32_t straight,
    int32_t diagonal, uint32_t *arc)
{
    vugi_sweep *o = s->out;
    size_t n = o->arc_count;
    if (!vugi_reserve(s->mem, &o->arc, &o->arc_capacity, n + 1, sizeof *o->arc)
        || !vugi_reserve(s->mem, &s->parent, &s->parent_capacity, n + 1, sizeof *s->parent)
        || !vugi_reserve(s->mem, &s->pixels, &s->pixels_capacity, n + 1, sizeof *s->pixels)
        || !vugi_reserve(s->mem, &s->since, &s->since_capacity, n + 1, sizeof *s->since)
        || !vugi_reserve(s->mem, &s->straight, &s->straight_capacity, n + 1, sizeof *s->straight)
        || !vugi_reserve(s->mem, &s->diagonal, &s->diagonal_capacity, n + 1, sizeof *s->diagonal))
        return false;
    *arc = (uint32_t)n;
    o->arc[n] = (vugi_raw_arc){key, key, node, VUGI_NONE, VUGI_NONE, 0.0};
    o->arc_count++;
    s->parent[n] = (uint32_t)n;
    s->pixels[n] = pixels;
    s->straight[n] = straight;
    s->diagonal[n] = diagonal;
    s->since[n] = key;
    if (pixels == 0)
        return true;
    return new_change(s, (vugi_change){s->z, *arc, (int32_t)pixels, straight, diagonal});
}

static void account(rising *s, uint32_t arc, uint32_t key)
{
    s->out->arc[arc].volume += s->pixels[arc]
        * ((double)(key - s->since[arc]) * s->out->scale.step);
    s->since[arc] = key;
}

static bool change_arc(rising *s, uint32_t arc, uint32_t key, int32_t pixels, int32_t straight,
    int32_t diagonal)
{
    account(s, arc, key);
    s->pixels[arc] = (uint32_t)((int32_t)s->pixels[arc] + pixels);
    s->straight[arc] += straight;
    s->diagonal[arc] += diagonal;
    return new_change(s, (vugi_change){s->z, arc, pixels, straight, diagonal});
}

static bool end_arc(rising *s, uint32_t arc, uint32_t key, uint32_t node)
{
    account(s, arc, key);
    s->out->arc[arc].hi = key;
    s->out->arc[arc].to = node;
    if (s->pixels[arc] == 0)
        return true;
    return new_change(s,
        (vugi_change){s->z, arc, -(int32_t)s->pixels[arc], -s->straight[arc], -s->diagonal[arc]});
}

bool vugi_gates_part(const uint32_t *gate, uint32_t span, uint32_t other)
{
    if (!gate)
        return false;
    uint32_t a = gate[span], b = gate[other];
    return a != b && a > 0 && b > 0 && (a - 1) / 2 == (b - 1) / 2;
}

/* What lies on either side of a door is not one piece. */
static bool parted(const rising *s, size_t p, size_t q)
{
    return vugi_gates_part(s->out->gate, s->span[p], s->span[q]);
}

/* Which of the eight neighbours are in: a bit for each, around; those beside it are even. */
enum { STRAIGHT = 0x55 };

static uint32_t around(const rising *s, size_t p)
{
    uint32_t in = 0;
    for (int k = 0; k < 8; k++)
        in |= (uint32_t)(s->label[(size_t)((int64_t)p + s->ring[k])] != VUGI_NONE) << k;
    return in;
}

/* Of the even bits. */
static int32_t count_straight(uint32_t bits)
{
    return (int32_t)((bits & 1) + (bits >> 2 & 1) + (bits >> 4 & 1) + (bits >> 6 & 1));
}

/* How a pixel that comes changes the count of outline edges: one more for each neighbour that is
 * out, one less for each that is in. */
static void outline(uint32_t in, int32_t *straight, int32_t *diagonal)
{
    *straight = SIDES - 2 * count_straight(in);
    *diagonal = SIDES - 2 * count_straight(in >> 1);
}

/* The pixels of an arc that ends, but those that move to another, are in one that begins. */
static void goes_on_in(rising *s, uint32_t arc, uint32_t next)
{
    s->parent[arc] = next;
    s->out->arc[arc].next = next;
}

/* Several pieces meet at the floor of a new pixel: they end, one begins. */
static bool join(rising *s, uint32_t key, uint32_t span, const uint32_t *met,
    const uint32_t *neighbour, int count, uint32_t *arc)
{
    uint32_t node, pixels = 0;
    int32_t straight = 0, diagonal = 0;
    vugi_sweep *o = s->out;
    if (!new_node(s, key, span, &node)
        || !vugi_reserve(s->mem, &o->sill, &o->sill_capacity, o->sill_count + (size_t)count,
            sizeof *o->sill))
        return false;
    for (int i = 0; i < count; i++) {
        if (!end_arc(s, met[i], key, node))
            return false;
        pixels += s->pixels[met[i]];
        straight += s->straight[met[i]];
        diagonal += s->diagonal[met[i]];
        o->sill[o->sill_count++] = (vugi_sill){node, met[i], s->span[neighbour[i]]};
    }
    if (!new_arc(s, key, node, pixels, straight, diagonal, arc))
        return false;
    for (int i = 0; i < count; i++)
        goes_on_in(s, met[i], *arc);
    return true;
}

static bool pixel_comes(rising *s, uint32_t key, uint32_t span)
{
    size_t p = padded(s, s->out->column[span]);
    uint32_t met[4], neighbour[4], arc, node;
    int count = 0;
    s->span[p] = span;
    for (int k = 0; k < 8; k += 2) {
        size_t q = (size_t)((int64_t)p + s->ring[k]);
        if (s->label[q] == VUGI_NONE || parted(s, p, q))
            continue;
        uint32_t a = vugi_sets_find(s->parent, s->label[q]);
        int i = 0;
        while (i < count && met[i] != a)
            i++;
        if (i == count) {
            met[count] = a;
            neighbour[count++] = (uint32_t)q;
        } else if (s->out->columns->lo[s->span[q]] < s->out->columns->lo[s->span[neighbour[i]]]) {
            neighbour[i] = (uint32_t)q;
        }
    }
    if (count == 1)
        arc = met[0];
    else if (count == 0) {
        if (!new_node(s, key, span, &node) || !new_arc(s, key, node, 0, 0, 0, &arc))
            return false;
    } else if (!join(s, key, span, met, neighbour, count, &arc)) {
        return false;
    }
    int32_t straight, diagonal;
    outline(around(s, p), &straight, &diagonal);
    s->label[p] = arc;
    s->out->floor_arc[span] = arc;
    return change_arc(s, arc, key, 1, straight, diagonal);
}

/* The bits one place further around, or so many. */
static uint32_t turned(uint32_t bits, int places)
{
    return (bits << places | bits >> (8 - places)) & 0xff;
}

/* Corners that join what lies beside them: none at a door. */
static uint32_t open_corners(const rising *s, size_t p, uint32_t in)
{
    for (int k = 1; k < 8 && s->out->gate; k += 2) {
        const size_t before = (size_t)((int64_t)p + s->ring[k - 1]),
                     at = (size_t)((int64_t)p + s->ring[k]),
                     next = (size_t)((int64_t)p + s->ring[(k + 1) % 8]);
        const uint32_t three = 1u << k | 1u << (k - 1) | 1u << (k + 1) % 8;
        if ((in & three) == three && (parted(s, before, at) || parted(s, at, next)))
            in &= ~(1u << k);
    }
    return in & ~(uint32_t)STRAIGHT;
}

/* Those beside it that are in, and not beyond a door. */
static uint32_t beside(const rising *s, size_t p, uint32_t in)
{
    for (int k = 0; k < 8 && s->out->gate; k += 2)
        if ((in >> k & 1) && parted(s, p, (size_t)((int64_t)p + s->ring[k])))
            in &= ~(1u << k);
    return in & STRAIGHT;
}

/* Groups of the straight neighbours of p that are in, joined through the corners between them.
 * start: one pixel of each. Returns how many. */
static int groups_around(const rising *s, size_t p, uint32_t in, uint32_t start[SIDES])
{
    const uint32_t straight = beside(s, p, in),
                   corners = open_corners(s, p, straight | (in & ~(uint32_t)STRAIGHT));
    uint32_t first = straight & ~(turned(corners, 1) & turned(straight, 2));
    int count = 0;
    if (first == 0) /* the ring is whole, or nothing is in it */
        first = straight & 1;
    for (int k = 0; k < 8; k += 2)
        if (first >> k & 1)
            start[count++] = (uint32_t)((int64_t)p + s->ring[k]);
    return count;
}

static bool side_add(rising *s, int number, uint32_t p)
{
    side *d = s->side + number;
    if (!vugi_reserve(s->mem, &d->pixel, &d->capacity, d->count + 1, sizeof *d->pixel))
        return false;
    s->mark[p] = s->stamp * SIDES + (uint32_t)number;
    d->pixel[d->count++] = p;
    return true;
}

static uint32_t side_root(const rising *s, uint32_t number)
{
    while (s->side[number].joined != number)
        number = s->side[number].joined;
    return number;
}

/* Visits the neighbours of one pixel of a side. Sides that touch become one. */
static bool side_step(rising *s, int number, int *live)
{
    side *d = s->side + number;
    uint32_t p = d->pixel[d->next++];
    for (int k = 0; k < 8; k += 2) {
        uint32_t q = (uint32_t)((int64_t)p + s->ring[k]);
        if (s->label[q] == VUGI_NONE || parted(s, p, q))
            continue;
        if (s->mark[q] / SIDES != s->stamp) {
            if (!side_add(s, number, q))
                return false;
            continue;
        }
        uint32_t a = side_root(s, (uint32_t)number), b = side_root(s, s->mark[q] % SIDES);
        if (a != b) {
            s->side[b > a ? b : a].joined = b > a ? a : b;
            --*live;
        }
    }
    return true;
}

/* Whether every side that leads to root has been searched to its end. */
static bool exhausted(const rising *s, uint32_t root, int count)
{
    for (int i = 0; i < count; i++)
        if (side_root(s, (uint32_t)i) == root && s->side[i].next < s->side[i].count)
            return false;
    return true;
}

/* Searches from all sides in turn until one is left that could go on. closed[i]: side i is a root
 * that is searched to its end, a piece of its own. Returns how many pieces there are. */
static int part_sides(rising *s, const uint32_t start[SIDES], int count, bool closed[SIDES])
{
    int live = count, pieces;
    if (++s->stamp >= 0xffffffffu / SIDES - 1) {
        memset(s->mark, 0, (size_t)s->width * s->height * sizeof *s->mark);
        s->stamp = 1;
    }
    for (int i = 0; i < count; i++) {
        s->side[i].count = s->side[i].next = 0;
        s->side[i].joined = (uint32_t)i;
        closed[i] = false;
        if (!side_add(s, i, start[i]))
            return -1;
    }
    pieces = 1;
    while (live > 1) {
        for (int i = 0; i < count && live > 1; i++) {
            uint32_t root = side_root(s, (uint32_t)i);
            if (closed[root])
                continue;
            if (s->side[i].next < s->side[i].count) {
                if (!side_step(s, i, &live))
                    return -1;
            } else if (exhausted(s, root, count)) {
                closed[root] = true;
                live--;
                pieces++;
            }
        }
    }
    return pieces;
}

/* The span of a side's pixels beside the pixel that went that reaches highest. */
static uint32_t highest_start(const rising *s, uint32_t root, int count)
{
    uint32_t best = VUGI_NONE;
    for (int i = 0; i < count; i++) {
        uint32_t span = s->span[s->side[i].pixel[0]];
        if (side_root(s, (uint32_t)i) == root
            && (best == VUGI_NONE || s->out->columns->hi[span] > s->out->columns->hi[best]))
            best = span;
    }
    return best;
}

static bool note_crest(rising *s, uint32_t root, int count, uint32_t node, uint32_t arc)
{
    vugi_sweep *o = s->out;
    if (!vugi_reserve(s->mem, &o->sill, &o->sill_capacity, o->sill_count + 1, sizeof *o->sill))
        return false;
    o->sill[o->sill_count++] = (vugi_sill){node, arc, highest_start(s, root, count)};
    return true;
}

/* Gives the pixels of a side to an arc. */
static bool move_side(rising *s, const side *d, uint32_t key, uint32_t arc)
{
    vugi_sweep *o = s->out;
    if (!vugi_reserve(s->mem, &o->move, &o->move_capacity, o->move_count + d->count,
            sizeof *o->move))
        return false;
    for (size_t j = 0; j < d->count; j++) {
        s->label[d->pixel[j]] = arc;
        o->move[o->move_count++] = (vugi_arc_move){key, s->span[d->pixel[j]], arc};
    }
    return true;
}

/* Gives the pixels of a closed side their own arc, and counts its outline. */
static bool part_off(rising *s, uint32_t root, int count, uint32_t key, uint32_t node,
    uint32_t *pixels, int32_t *straight, int32_t *diagonal)
{
    uint32_t n = 0, arc;
    int32_t edges[2] = {0, 0};
    for (int i = 0; i < count; i++) {
        if (side_root(s, (uint32_t)i) != root)
            continue;
        n += (uint32_t)s->side[i].count;
        for (size_t j = 0; j < s->side[i].count; j++)
            for (int k = 0; k < 8; k++)
                edges[k % 2] += s->label[(size_t)((int64_t)s->side[i].pixel[j] + s->ring[k])]
                    == VUGI_NONE;
    }
    if (!new_arc(s, key, node, n, edges[0], edges[1], &arc)
        || !note_crest(s, root, count, node, arc))
        return false;
    for (int i = 0; i < count; i++)
        if (side_root(s, (uint32_t)i) == root && !move_side(s, s->side + i, key, arc))
            return false;
    *pixels -= n;
    *straight -= edges[0];
    *diagonal -= edges[1];
    return true;
}

static bool part(rising *s, uint32_t key, uint32_t span, uint32_t arc, const uint32_t start[SIDES],
    int count)
{
    bool closed[SIDES];
    int pieces = part_sides(s, start, count, closed);
    if (pieces < 0)
        return false;
    if (pieces == 1)
        return true;
    uint32_t node, rest, pixels = s->pixels[arc];
    int32_t straight = s->straight[arc], diagonal = s->diagonal[arc];
    if (!new_node(s, key, span, &node) || !end_arc(s, arc, key, node))
        return false;
    for (int i = 0; i < count; i++)
        if (closed[i] && !part_off(s, (uint32_t)i, count, key, node, &pixels, &straight, &diagonal))
            return false;
    if (!new_arc(s, key, node, pixels, straight, diagonal, &rest))
        return false;
    uint32_t root = 0;
    while (closed[side_root(s, root)])
        root++;
    if (!note_crest(s, side_root(s, root), count, node, rest))
        return false;
    goes_on_in(s, arc, rest);
    return true;
}

static bool pixel_goes(rising *s, uint32_t key, uint32_t span)
{
    size_t p = padded(s, s->out->column[span]);
    uint32_t arc = vugi_sets_find(s->parent, s->label[p]), start[SIDES], node;
    const uint32_t in = around(s, p);
    int32_t straight, diagonal;
    s->label[p] = VUGI_NONE;
    s->out->ceiling_arc[span] = arc;
    outline(in, &straight, &diagonal);
    if (!change_arc(s, arc, key, -1, -straight, -diagonal))
        return false;
    if (s->pixels[arc] == 0)
        return new_node(s, key, span, &node) && end_arc(s, arc, key, node);
    int count = groups_around(s, p, in, start);
    return count < 2 || part(s, key, span, arc, start, count);
}

/* ---- the order of things ------------------------------------------------- */

/* key, then spans that end before spans that begin, then number. */
static uint64_t event_of(uint32_t key, bool begins, uint32_t span)
{
    return (uint64_t)key << 32 | (uint64_t)begins << 31 | span;
}

/* Least significant digit first, three digits of 11 bits: bits 31 to 63. The spans come in order. */
static void sort_events(uint64_t *event, uint64_t *spare, size_t count)
{
    enum { BITS = 11, DIGITS = 1 << BITS };
    for (int shift = 31; shift < 64; shift += BITS) {
        size_t place[DIGITS] = {0}, sum = 0;
        for (size_t i = 0; i < count; i++)
            place[event[i] >> shift & (DIGITS - 1)]++;
        for (int d = 0; d < DIGITS; d++) {
            size_t n = place[d];
            place[d] = sum;
            sum += n;
        }
        for (size_t i = 0; i < count; i++)
            spare[place[event[i] >> shift & (DIGITS - 1)]++] = event[i];
        uint64_t *t = event;
        event = spare;
        spare = t;
    }
}

/* Three passes end in the spare array, which is kept. */
static vug_status make_events(vug_context *ctx, const vugi_allocator *mem, vugi_sweep *o)
{
    const vugi_columns *c = o->columns;
    uint64_t *event = vugi_alloc(mem, 2 * c->count + 1, sizeof *event);
    o->event = vugi_alloc(mem, 2 * c->count + 1, sizeof *o->event);
    if (!event || !o->event) {
        vugi_free(mem, event);
        return vugi_fail_memory(ctx);
    }
    size_t n = 0;
    for (size_t s = 0; s < c->count; s++) {
        uint32_t lo = vugi_scale_key(o->scale, c->lo[s]), hi = vugi_scale_key(o->scale, c->hi[s]);
        if (c->body[s] != o->body || lo >= hi)
            continue;
        event[n++] = event_of(lo, true, (uint32_t)s);
        event[n++] = event_of(hi, false, (uint32_t)s);
    }
    sort_events(event, o->event, n);
    vugi_free(mem, event);
    o->event_count = n;
    return VUG_OK;
}

static void section_free(rising *s)
{
    void *all[] = {s->label, s->span, s->parent, s->pixels, s->since, s->straight, s->diagonal,
        s->mark, s->side[0].pixel, s->side[1].pixel, s->side[2].pixel, s->side[3].pixel};
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++)
        vugi_free(s->mem, all[i]);
}

static vug_status section_init(vug_context *ctx, const vugi_allocator *mem, vugi_sweep *out,
    rising *s)
{
    const vugi_columns *c = out->columns;
    *s = (rising){.out = out,
        .mem = mem,
        .width = (uint32_t)c->nx + 2,
        .height = (uint32_t)c->ny + 2};
    int32_t w = c->nx + 2;
    const int32_t ring[8] = {1, w + 1, w, w - 1, -1, -w - 1, -w, -w + 1};
    memcpy(s->ring, ring, sizeof ring);
    size_t size = (size_t)s->width * s->height;
    s->label = vugi_alloc(mem, size, sizeof *s->label);
    s->span = vugi_alloc(mem, size, sizeof *s->span);
    s->mark = vugi_calloc(mem, size, sizeof *s->mark);
    if (!s->label || !s->span || !s->mark)
        return vugi_fail_memory(ctx);
    memset(s->label, 0xff, size * sizeof *s->label);
    return VUG_OK;
}

/* Plays the events up to and with a key, from number *next on. */
static bool play(rising *s, uint32_t key, size_t *next)
{
    const uint64_t *event = s->out->event;
    const size_t count = s->out->event_count;
    while (*next < count && event[*next] >> 32 <= key) {
        uint64_t e = event[(*next)++];
        uint32_t at = (uint32_t)(e >> 32), span = vugi_event_span(e);
        bool begins = vugi_event_begins(e);
        s->z = begins ? s->out->columns->lo[span] : s->out->columns->hi[span];
        if (!(begins ? pixel_comes(s, at, span) : pixel_goes(s, at, span)))
            return false;
    }
    return true;
}

uint32_t vugi_query_key(const vugi_sweep *o, const vugi_query *q)
{
    uint32_t lo = vugi_scale_key(o->scale, o->columns->lo[q->span]);
    uint32_t hi = vugi_scale_key(o->scale, o->columns->hi[q->span]);
    uint32_t key = vugi_scale_key(o->scale, q->z);
    if (q->below && key > 0)
        key--;
    return key >= hi ? (hi > lo ? hi - 1 : lo) : key < lo ? lo : key;
}

typedef struct turn {
    uint32_t key, query;
} turn;

static int by_key(const void *a, const void *b, const void *user)
{
    const turn *x = a, *y = b;
    (void)user;
    return x->key != y->key ? (x->key > y->key) - (x->key < y->key)
                            : (x->query > y->query) - (x->query < y->query);
}

static bool sort_queries(const vugi_allocator *mem, const vugi_sweep *o, const vugi_query *query,
    turn *order, size_t count)
{
    for (size_t i = 0; i < count; i++)
        order[i] = (turn){vugi_query_key(o, query + i), (uint32_t)i};
    return vugi_sort(mem, order, count, sizeof *order, by_key, NULL);
}

static vug_status sweep(vug_context *ctx, rising *s, vugi_query *query, const turn *order,
    size_t query_count)
{
    const uint64_t *event = s->out->event;
    const size_t count = s->out->event_count;
    size_t next = 0;
    for (size_t i = 0; next < count;) {
        size_t stop = next + 65536 < count ? next + 65536 : count;
        uint32_t key = (uint32_t)(event[stop - 1] >> 32);
        bool ask = i < query_count && order[i].key <= key;
        if (!play(s, ask ? order[i].key : key, &next))
            return vugi_fail_memory(ctx);
        if (ask) {
            vugi_query *q = query + order[i++].query;
            q->arc = arc_at(s, s->out->column[q->span]);
            continue;
        }
        if (vugi_cancelled(ctx))
            return vugi_step(ctx, 0.0);
    }
    return VUG_OK;
}

/* From the lowest event to the highest, with the answers to the queries. */
static vug_status sweep_events(vug_context *ctx, const vugi_allocator *mem, vugi_sweep *out,
    vugi_query *query, size_t query_count)
{
    rising s = {.mem = mem};
    turn *order = vugi_alloc(mem, query_count + 1, sizeof *order);
    for (size_t i = 0; i < query_count; i++)
        query[i].arc = VUGI_NONE;
    vug_status status = order ? section_init(ctx, mem, out, &s) : vugi_fail_memory(ctx);
    if (!status && !sort_queries(mem, out, query, order, query_count))
        status = vugi_fail_memory(ctx);
    if (!status)
        status = sweep(ctx, &s, query, order, query_count);
    section_free(&s);
    vugi_free(mem, order);
    return status;
}

vug_status vugi_sweep_run(vug_context *ctx, const vugi_allocator *mem, const vugi_columns *columns,
    int32_t body, const uint32_t *gate, vugi_query *query, size_t query_count, vugi_sweep *out)
{
    *out = (vugi_sweep){.columns = columns, .body = body, .gate = gate, .scale = scale_of(columns)};
    if (columns->count > 0x7fffffff)
        return vugi_fail(ctx, VUG_ERR_LIMIT,
            "%zu spans are more than a sweep takes (2147483647): "
            "take a wider spacing",
            columns->count);
    out->floor_arc = vugi_alloc(mem, columns->count + 1, sizeof *out->floor_arc);
    out->ceiling_arc = vugi_alloc(mem, columns->count + 1, sizeof *out->ceiling_arc);
    out->column = vugi_alloc(mem, columns->count + 1, sizeof *out->column);
    bool good = out->floor_arc && out->ceiling_arc && out->column;
    vug_status status = good ? VUG_OK : vugi_fail_memory(ctx);
    if (good) {
        memset(out->floor_arc, 0xff, (columns->count + 1) * sizeof *out->floor_arc);
        memset(out->ceiling_arc, 0xff, (columns->count + 1) * sizeof *out->ceiling_arc);
        vugi_columns_of_spans(columns, out->column);
        status = make_events(ctx, mem, out);
    }
    if (!status)
        status = sweep_events(ctx, mem, out, query, query_count);
    if (status)
        vugi_sweep_free(mem, out);
    return status;
}

void vugi_sweep_free(const vugi_allocator *mem, vugi_sweep *s)
{
    vugi_free(mem, s->arc);
    vugi_free(mem, s->node);
    vugi_free(mem, s->change);
    vugi_free(mem, s->sill);
    vugi_free(mem, s->move);
    vugi_free(mem, s->floor_arc);
    vugi_free(mem, s->ceiling_arc);
    vugi_free(mem, s->column);
    vugi_free(mem, s->event);
    *s = (vugi_sweep){.columns = NULL};
}

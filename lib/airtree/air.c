/* SPDX-License-Identifier: MIT */
#include "airtree/air.h"

#include "base/vec.h"
#include "cavity/rim.h"
#include "column/pose.h"

#include <assert.h>
#include <math.h>
#include <string.h>

static const double NOTHING = 1e-9; /* mm3 */

/* ---- vents ------------------------------------------------------------------- */

void vugi_vents_free(const vugi_allocator *mem, vugi_vents *v)
{
    vugi_free(mem, v->room);
    vugi_free(mem, v->level);
    vugi_free(mem, v->vent);
    *v = (vugi_vents){.room = NULL};
}

void vugi_vents_span(const vugi_airtree *d, uint32_t s, double level, int32_t index, vugi_vents *v)
{
    assert(s < d->span_count);
    level = fmin(level, d->least[s]);
    uint32_t node = vugi_airnode_at(d, s, level);
    if (level > v->level[node] || v->vent[node] < 0) {
        v->level[node] = fmax(level, d->node[node].sill);
        v->vent[node] = index;
    }
}

static vugi_pose_spans spans_of(const vugi_airtree *d)
{
    return (vugi_pose_spans){.basis = d->basis,
        .h = d->h,
        .x0 = d->x0,
        .y0 = d->y0,
        .nx = d->nx,
        .ny = d->ny,
        .first = d->column_first,
        .body = d->body,
        .ends = d->ends};
}

/* An opening lets air out of the spans at it. */
static vug_status vent_opening(vug_context *ctx, const vugi_allocator *mem, const vugi_airtree *d,
    const vugi_opening *o, int32_t index, bool in_columns, vugi_vents *v)
{
    const vugi_pose_spans spans = spans_of(d);
    vugi_opening_span *span = NULL;
    size_t count = 0;
    vug_status status = vugi_opening_spans(ctx, mem, o, &spans, in_columns, &span, &count);
    for (size_t i = 0; i < count; i++)
        vugi_vents_span(d, span[i].span, span[i].top, index, v);
    vugi_free(mem, span);
    return status;
}

vug_status vugi_vents_build(vug_context *ctx, const vugi_allocator *mem, const vugi_airtree *d,
    const vugi_opening *const *opening, const bool *closed, size_t opening_count, size_t in_columns,
    vugi_vents *v)
{
    v->room = vugi_alloc(mem, d->count, sizeof *v->room);
    v->level = vugi_alloc(mem, d->count, sizeof *v->level);
    v->vent = vugi_alloc(mem, d->count, sizeof *v->vent);
    if (!v->room || !v->level || !v->vent) {
        vugi_vents_free(mem, v);
        return vugi_fail_memory(ctx);
    }
    for (size_t i = 0; i < d->count; i++) {
        v->level[i] = d->node[i].sill;
        v->vent[i] = -1;
    }
    for (size_t i = 0; i < opening_count; i++) {
        vug_status status = closed && closed[i]
            ? VUG_OK
            : vent_opening(ctx, mem, d, opening[i], (int32_t)i, i < in_columns, v);
        if (status) {
            vugi_vents_free(mem, v);
            return status;
        }
    }
    for (size_t i = 0; i < d->count; i++)
        v->room[i] = v->vent[i] < 0 ? d->node[i].room
                                    : vugi_airnode_volume(d, (uint32_t)i, v->level[i]);
    return VUG_OK;
}

/* ---- coming to rest ------------------------------------------------------------ */

void vugi_air_room_free(const vugi_allocator *mem, vugi_air_room *room)
{
    vugi_free(mem, room->rising);
    vugi_free(mem, room->full);
    *room = (vugi_air_room){.rising = NULL};
}

bool vugi_air_room_ready(const vugi_allocator *mem, const vugi_airtree *d, vugi_air_room *room)
{
    if (!vugi_reserve(mem, &room->rising, &room->rising_capacity, d->count + 1,
            sizeof *room->rising)
        || !vugi_reserve(mem, &room->full, &room->full_capacity, d->count + 1, 1))
        return false;
    memset(room->rising, 0, d->count * sizeof *room->rising);
    room->stuck = room->stuck_mark = 0.0;
    return true;
}

typedef struct settling {
    const vugi_airtree *d;
    const vugi_vents *v;
    unsigned char *full;
    vugi_air *air;
} settling;

/* What a node holds beyond its parts. */
static double own_room(const settling *s, uint32_t n)
{
    assert(n < s->d->count);
    const vugi_airnode *node = s->d->node + n;
    double room = s->v->room[n];
    if (node->part[0] != VUGI_NO_AIRNODE)
        room -= s->v->room[node->part[0]] + s->v->room[node->part[1]];
    return fmax(0.0, room);
}

/* The same with all vents closed. */
static double closed_room(const settling *s, uint32_t n)
{
    assert(n < s->d->count);
    const vugi_airnode *node = s->d->node + n;
    double room = node->room;
    if (node->part[0] != VUGI_NO_AIRNODE)
        room -= s->d->node[node->part[0]].room + s->d->node[node->part[1]].room;
    return fmax(0.0, room);
}

/* Lets a volume rise into a leaf and over sills; returns what does not fit below `stop`. */
static double pour(const settling *s, uint32_t leaf, double volume, uint32_t stop)
{
    assert(leaf < s->d->count);
    assert(volume >= 0.0);
    for (uint32_t n = leaf;;) {
        double room = closed_room(s, n) - s->air->own[n], take = fmin(volume, fmax(0.0, room));
        s->air->own[n] += take;
        volume -= take;
        if (volume <= 0.0)
            return 0.0;
        s->full[n] = 1;
        if (n == stop)
            return volume;
        const vugi_airnode *node = s->d->node + n, *parent = s->d->node + node->parent;
        if (node->parent == VUGI_NO_AIRNODE) {
            s->air->own[n] += volume; /* no way on: rounding only */
            return 0.0;
        }
        uint32_t other = parent->part[0] == n ? parent->part[1] : parent->part[0];
        if (!s->full[other])
            volume = pour(s, node->beyond, volume, other);
        if (volume <= 0.0)
            return 0.0;
        n = node->parent;
    }
}

static void start(const vugi_airtree *d, const vugi_vents *v, vugi_air_room *room, vugi_air *air,
    settling *s)
{
    *s = (settling){d, v, room->full, air};
    memset(room->full, 0, d->count);
    memset(air->own, 0, d->count * sizeof *air->own);
    air->escaped = 0.0;
    air->stuck = room->stuck;
}

static void sum_up(const vugi_airtree *d, vugi_air *air)
{
    air->total = air->stuck;
    for (size_t i = 0; i < d->count; i++)
        air->total += air->own[i];
    assert(air->total >= 0.0 && air->total <= d->volume * (1.0 + 1e-3));
}

enum { FULL = 1, VENTED = 2, LEFT = 4 }; /* LEFT: part of a body that keeps its air */

/* Vents that lie in a node or its parts. */
static void find_vented(const settling *s)
{
    for (size_t i = 0; i < s->d->count; i++) { /* parts come before their parents */
        const vugi_airnode *node = s->d->node + i;
        bool vented = s->v->vent[i] >= 0;
        for (int k = 0; k < 2 && node->part[0] != VUGI_NO_AIRNODE; k++)
            vented |= (s->full[node->part[k]] & VENTED) != 0;
        s->full[i] = (unsigned char)(vented ? VENTED : 0);
    }
}

/* Liquid comes up to node n, whose air touches a vent: air stays above the highest vent that is free to the
 * last, and in parts that have none. */
static void let_out(const settling *s, uint32_t n)
{
    assert(n < s->d->count);
    const vugi_airnode *node = s->d->node + n;
    bool inner = node->part[0] != VUGI_NO_AIRNODE;
    bool higher = inner && ((s->full[node->part[0]] | s->full[node->part[1]]) & VENTED);
    double keep = 0.0;
    if (s->v->vent[n] >= 0 && !higher) {
        keep = s->v->room[n];
        if (inner)
            keep -= s->d->node[node->part[0]].room + s->d->node[node->part[1]].room;
    }
    keep = fmin(s->air->own[n], fmax(0.0, keep));
    s->air->escaped += s->air->own[n] - keep;
    s->air->own[n] = keep;
    for (int k = 0; k < 2 && inner; k++)
        if (s->full[node->part[k]] & VENTED)
            let_out(s, node->part[k]);
}

/* All openings are freed, and liquid is topped up. */
static void open_up(const settling *s)
{
    find_vented(s);
    for (size_t i = s->d->count; i-- > 0;) {
        const vugi_airnode *node = s->d->node + i;
        bool inner = node->part[0] != VUGI_NO_AIRNODE, body = s->air->own[i] > NOTHING;
        bool part = (s->full[i] & LEFT) != 0;
        for (int k = 0; k < 2 && inner && (body || part); k++)
            s->full[node->part[k]] |= LEFT;
        if (!body || part || !(s->full[i] & VENTED))
            continue;
        bool below = inner && ((s->full[node->part[0]] | s->full[node->part[1]]) & VENTED);
        double volume = s->air->own[i];
        if (inner)
            volume += s->d->node[node->part[0]].room + s->d->node[node->part[1]].room;
        if (below || volume > s->v->room[i])
            let_out(s, (uint32_t)i);
    }
}

/* With the openings covered while it rises: where there is much air it fills nodes that bubbles of their own
 * would have passed by, and those keep it. */
void vugi_air_settle(const vugi_airtree *d, const vugi_vents *v, vugi_air_room *room, vugi_air *air)
{
    settling s;
    start(d, v, room, air, &s);
    for (size_t i = 0; i < d->count; i++)
        if (room->rising[i] > 0.0)
            pour(&s, (uint32_t)i, room->rising[i], VUGI_NO_AIRNODE);
    open_up(&s);
    sum_up(d, air);
}

/* Every leaf runs over until nothing more finds a place; inner nodes fill when both parts are full. */
void vugi_air_first(const vugi_airtree *d, const vugi_vents *v, vugi_air_room *room, vugi_air *air)
{
    settling s;
    start(d, v, room, air, &s);
    for (size_t i = 0; i < d->count; i++) { /* parts come before their parents */
        const vugi_airnode *node = d->node + i;
        bool leaf = node->part[0] == VUGI_NO_AIRNODE;
        if (!leaf && (!s.full[node->part[0]] || !s.full[node->part[1]]))
            continue;
        air->own[i] = own_room(&s, (uint32_t)i);
        s.full[i] = v->vent[i] < 0;
    }
    sum_up(d, air);
}

/* ---- bodies of air ---------------------------------------------------------------- */

/* Is node n the largest that one body of air fills or begins to fill? */
static bool body_at(const vugi_airtree *d, const double *own, uint32_t n, unsigned char *covered,
    const vugi_vents *v, vugi_bubble *bubble)
{
    assert(n < d->count);
    const vugi_airnode *node = d->node + n;
    bool inner = node->part[0] != VUGI_NO_AIRNODE;
    bool body = !covered[n] && own[n] > NOTHING;
    if (inner && (body || covered[n]))
        covered[node->part[0]] = covered[node->part[1]] = 1;
    if (!body)
        return false;
    *bubble = (vugi_bubble){.node = n, .volume = own[n]};
    if (inner)
        bubble->volume += v->room[node->part[0]] + v->room[node->part[1]];
    bubble->level = bubble->volume > v->room[n] * (1.0 - 1e-6)
        ? fmax(v->level[n], -INFINITY)
        : vugi_airnode_level(d, n, bubble->volume);
    return true;
}

vug_status vugi_air_bubbles(vug_context *ctx, const vugi_allocator *mem, const vugi_airtree *d,
    const vugi_vents *v, const double *own, vugi_bubble **bubble, size_t *count)
{
    size_t capacity = 0;
    unsigned char *covered = vugi_calloc(mem, d->count, 1);
    *bubble = NULL;
    *count = 0;
    if (!covered)
        return vugi_fail_memory(ctx);
    for (size_t i = d->count; i-- > 0;) {
        vugi_bubble found;
        if (!body_at(d, own, (uint32_t)i, covered, v, &found))
            continue;
        if (!vugi_reserve(mem, bubble, &capacity, *count + 1, sizeof **bubble)) {
            vugi_free(mem, covered);
            vugi_free(mem, *bubble);
            *bubble = NULL;
            return vugi_fail_memory(ctx);
        }
        (*bubble)[(*count)++] = found;
    }
    vugi_free(mem, covered);
    return VUG_OK;
}

/* ---- turning ------------------------------------------------------------------------ */

typedef struct cutting {
    const vugi_allocator *mem;
    const vugi_airtree *d;
    double grain; /* mm3 of a parcel, about */
    double saved; /* air not yet given to a parcel */
    float bubble; /* volume of the body being cut */
    vugi_parcel *parcel;
    size_t count, capacity;
} cutting;

/* Air in the column of span s around height z. A parcel is made when enough has come together. */
static bool cut(cutting *c, uint32_t s, double z, double volume)
{
    assert(s < c->d->span_count);
    assert(c->grain >= 0.0);
    c->saved += volume;
    if (c->saved < c->grain)
        return true;
    if (!vugi_reserve(c->mem, &c->parcel, &c->capacity, c->count + 1, sizeof *c->parcel))
        return false;
    double part[3];
    vugi_airtree_point(c->d, s, z, part);
    c->parcel[c->count++] = (vugi_parcel){c->saved, c->bubble,
        {(float)part[0], (float)part[1], (float)part[2]}, c->d->body[s]};
    c->saved = 0.0;
    return true;
}

static bool cut_body(cutting *c, const vugi_bubble *bubble)
{
    assert(bubble->node < c->d->count);
    enum { PIECES = 8 };
    const vugi_airtree *d = c->d;
    const vugi_airnode *node = d->node + bubble->node;
    double held = vugi_airnode_volume(d, bubble->node, bubble->level);
    double scale = held > 0.0 ? bubble->volume / held * d->cell : 0.0;
    const double long_piece = 4.0 * d->h;
    size_t before = c->count;
    c->saved = 0.0;
    c->bubble = (float)bubble->volume;
    for (uint32_t i = node->first; i < node->last; i++) {
        const vugi_span_ends *own = d->member_ends + i;
        double lo = vugi_greater(own->lo, bubble->level), length = own->hi - lo;
        if (!(length > 0.0))
            continue;
        uint32_t s = d->member[i];
        int pieces = length <= long_piece ? 1 : (int)fmin(PIECES, ceil(length / long_piece));
        for (int k = 0; k < pieces; k++)
            if (!cut(c, s, lo + (k + 0.5) * length / pieces, scale * length / pieces))
                return false;
    }
    double rest = c->saved;
    if (c->count > before) {
        c->parcel[c->count - 1].volume += rest;
        return true;
    }
    c->saved = c->grain; /* smaller than a grain: one parcel at its top */
    if (!cut(c, node->apex, node->top, 0.0))
        return false;
    c->parcel[c->count - 1].volume = bubble->volume;
    return true;
}

vug_status vugi_air_parcels(vug_context *ctx, const vugi_allocator *mem, const vugi_airtree *d,
    const vugi_vents *v, const double *own, size_t most, vugi_parcel **parcel, size_t *count)
{
    assert(most > 0);
    vugi_bubble *bubble = NULL;
    size_t bubbles = 0;
    cutting c = {.mem = mem, .d = d};
    vug_status status = vugi_air_bubbles(ctx, mem, d, v, own, &bubble, &bubbles);
    if (status)
        return status;
    for (size_t i = 0; i < bubbles; i++)
        c.grain += bubble[i].volume / (double)most;
    for (size_t i = 0; i < bubbles && !status; i++)
        if (!cut_body(&c, bubble + i))
            status = vugi_fail_memory(ctx);
    vugi_free(mem, bubble);
    if (status) {
        vugi_free(mem, c.parcel);
        return status;
    }
    *parcel = c.parcel;
    *count = c.count;
    return VUG_OK;
}

void vugi_air_release(const vugi_airtree *d, const vugi_parcel *parcel, size_t count, double held,
    vugi_air_room *room)
{
    for (size_t i = 0; i < count; i++) {
        double part[3] = {parcel[i].at[0], parcel[i].at[1], parcel[i].at[2]}, pose[3];
        if (parcel[i].bubble < held) {
            double place = 0.6180339887498949 * (part[0] + 2.0 * part[1] + 3.0 * part[2]);
            room->stuck += parcel[i].volume;
            room->stuck_mark += parcel[i].volume * (place - floor(place));
            continue;
        }
        vugi_to_pose(d->basis, part, pose);
        uint32_t span = vugi_airtree_span(d, pose, parcel[i].body);
        if (span != VUGI_NO_AIRNODE)
            room->rising[d->leaf[span]] += parcel[i].volume;
    }
}

bool vugi_air_keep(const vugi_allocator *mem, const vugi_parcel *parcel, size_t count, double held,
    vugi_parcel **to, size_t *to_count)
{
    size_t kept = 0;
    for (size_t i = 0; i < count; i++)
        kept += parcel[i].bubble < held;
    if (kept == 0)
        return true;
    vugi_parcel *grown = vugi_realloc(mem, *to, *to_count + kept, sizeof *grown);
    if (!grown)
        return false;
    *to = grown;
    for (size_t i = 0; i < count; i++)
        if (parcel[i].bubble < held)
            grown[(*to_count)++] = parcel[i];
    return true;
}

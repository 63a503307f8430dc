/* SPDX-License-Identifier: MIT
 * The merge tree of the ceilings, by a sweep from the highest ceiling down with union-find. */
#include "airtree/tree.h"

#include "base/disjoint_set.h"
#include "base/sort.h"
#include "base/vec.h"
#include "column/columns.h"
#include "column/pose.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* What the sweep knows of a connected piece of air; kept at the piece's root span. The volume above
 * level z is done + top - active * z, in units of h^2. */
typedef struct piece {
    double done, top; /* spans wholly above z: their length; others: sum of their ceilings */
    uint32_t active;
    uint32_t node;
} piece;

typedef struct neighbour {
    uint32_t root, span; /* span: the highest of the piece's that touches */
} neighbour;

typedef struct sweep {
    const vugi_allocator *mem;
    const vugi_columns *c;
    vugi_airtree *d;
    double speck;           /* in units of h^2 */
    uint32_t *event, *swap; /* 2 * span, + 1 at its floor; from high to low */
    uint32_t *key;
    uint32_t *parent; /* union-find; VUGI_NO_AIRNODE: not reached yet */
    piece *piece;
    uint32_t *taken;      /* of each node: the node that took it over, or itself */
    uint32_t *taken_leaf; /* and the leaf that its air goes to */
    double *taken_level;
    size_t node_capacity, taken_capacity, taken_leaf_capacity, taken_level_capacity;
    neighbour *near_list;
    size_t near_count, near_capacity;
} sweep;

void vugi_airtree_free(const vugi_allocator *mem, vugi_airtree *d)
{
    vugi_free(mem, d->column_first);
    vugi_free(mem, d->column);
    vugi_free(mem, d->ends);
    vugi_free(mem, d->body);
    vugi_free(mem, d->side);
    vugi_free(mem, d->leaf);
    vugi_free(mem, d->entry);
    vugi_free(mem, d->least);
    vugi_free(mem, d->rise);
    vugi_free(mem, d->member);
    vugi_free(mem, d->member_ends);
    vugi_free(mem, d->node);
    *d = (vugi_airtree){.nx = 0};
}

static bool copy_columns(const vugi_allocator *mem, const vugi_columns *c, double volume,
    vugi_airtree *d)
{
    size_t columns = (size_t)c->nx * (size_t)c->ny, n = c->count;
    memcpy(d->basis, c->basis, sizeof d->basis);
    d->h = c->h;
    d->x0 = c->x0;
    d->y0 = c->y0;
    d->nx = c->nx;
    d->ny = c->ny;
    d->span_count = n;
    double own = vugi_columns_volume(c), scale = vugi_volume_scale(volume, own);
    d->volume = scale * own;
    d->cell = scale * c->h * c->h;
    d->column_first = vugi_alloc(mem, columns + 1, sizeof *d->column_first);
    d->column = vugi_alloc(mem, n, sizeof *d->column);
    d->ends = vugi_alloc(mem, n, sizeof *d->ends);
    d->body = vugi_alloc(mem, n, sizeof *d->body);
    d->leaf = vugi_alloc(mem, n, sizeof *d->leaf);
    d->entry = vugi_alloc(mem, n, sizeof *d->entry);
    d->least = vugi_alloc(mem, n, sizeof *d->least);
    d->rise = vugi_alloc(mem, n, sizeof *d->rise);
    d->member = vugi_alloc(mem, n, sizeof *d->member);
    d->member_ends = vugi_alloc(mem, n, sizeof *d->member_ends);
    if (!d->column_first || !d->column || !d->ends || !d->body || !d->leaf || !d->entry || !d->least
        || !d->rise || !d->member || !d->member_ends)
        return false;
    memcpy(d->column_first, c->first, (columns + 1) * sizeof *d->column_first);
    vugi_columns_of_spans(c, d->column);
    memcpy(d->body, c->body, n * sizeof *d->body);
    if (c->side) {
        d->side = vugi_alloc(mem, n, sizeof *d->side);
        if (!d->side)
            return false;
        memcpy(d->side, c->side, n * sizeof *d->side);
    }
    for (size_t s = 0; s < n; s++)
        d->ends[s] = (vugi_span_ends){(float)c->lo[s], (float)c->hi[s]};
    return true;
}

/* ---- events, from high to low ------------------------------------------------ */

/* Heights are rounded to 2^-32 of the height, so that flat ceilings of a turned mesh are flat. */
static void list_events(sweep *w)
{
    const vugi_columns *c = w->c;
    double top = -INFINITY, bottom = INFINITY;
    for (size_t s = 0; s < c->count; s++) {
        top = fmax(top, c->hi[s]);
        bottom = fmin(bottom, c->lo[s]);
    }
    double scale = 4294967295.0 / fmax(top - bottom, 1e-300);
    for (size_t s = 0; s < c->count; s++) {
        w->key[2 * s] = (uint32_t)((top - c->hi[s]) * scale);
        w->key[2 * s + 1] = (uint32_t)((top - c->lo[s]) * scale);
        w->event[s] = (uint32_t)(2 * s); /* at equal heights ceilings go first */
        w->event[c->count + s] = (uint32_t)(2 * s + 1);
    }
    vugi_sort_keys(w->event, w->key, 2 * c->count, w->swap);
}

/* ---- pieces ------------------------------------------------------------------- */

static double piece_volume(const piece *p, double z)
{
    return p->done + p->top - p->active * z;
}

static bool new_node(sweep *w, uint32_t *number)
{
    vugi_airtree *d = w->d;
    size_t need = d->count + 1;
    if (need >= VUGI_NO_AIRNODE
        || !vugi_reserve(w->mem, &d->node, &w->node_capacity, need, sizeof *d->node)
        || !vugi_reserve(w->mem, &w->taken, &w->taken_capacity, need, sizeof *w->taken)
        || !vugi_reserve(w->mem, &w->taken_leaf, &w->taken_leaf_capacity, need,
            sizeof *w->taken_leaf)
        || !vugi_reserve(w->mem, &w->taken_level, &w->taken_level_capacity, need,
            sizeof *w->taken_level))
        return false;
    *number = (uint32_t)d->count++;
    w->taken[*number] = *number;
    w->taken_leaf[*number] = *number;
    w->taken_level[*number] = INFINITY;
    d->node[*number] = (vugi_airnode){.sill = -INFINITY,
        .parent = VUGI_NO_AIRNODE,
        .part = {VUGI_NO_AIRNODE, VUGI_NO_AIRNODE},
        .beyond = VUGI_NO_AIRNODE};
    return true;
}

/* The node of piece a ends at level z: over its sill lies span, of the other piece. */
static void close_node(sweep *w, const piece *a, double z, uint32_t span, uint32_t parent)
{
    assert(a->node < w->d->count && parent < w->d->count);
    vugi_airnode *node = w->d->node + a->node;
    node->sill = z;
    node->room = piece_volume(a, z) * w->d->cell;
    node->parent = parent;
    node->beyond = w->d->leaf[span];
}

/* A speck becomes part of the other piece's node. It is a leaf: its parts would be specks too. */
static void take_over(sweep *w, const piece *small, const piece *big, double z, uint32_t big_span)
{
    w->taken[small->node] = big->node;
    w->taken_leaf[small->node] = w->d->leaf[big_span];
    w->taken_level[small->node] = z;
}

/* Pieces at roots a and b meet at level z, where a_span and b_span are their spans at the sill. */
static bool join(sweep *w, uint32_t a, uint32_t b, double z, uint32_t a_span, uint32_t b_span,
    uint32_t *root)
{
    assert(a != b);
    piece *pa = w->piece + a, *pb = w->piece + b;
    double va = piece_volume(pa, z), vb = piece_volume(pb, z);
    uint32_t node = pa->node;
    if (fmin(va, vb) < w->speck) {
        bool b_small = vb <= va;
        node = b_small ? pa->node : pb->node;
        take_over(w, b_small ? pb : pa, b_small ? pa : pb, z, b_small ? a_span : b_span);
    } else {
        if (!new_node(w, &node))
            return false;
        close_node(w, pa, z, b_span, node);
        close_node(w, pb, z, a_span, node);
        vugi_airnode *both = w->d->node + node, *da = w->d->node + pa->node,
                     *db = w->d->node + pb->node;
        both->part[0] = pa->node;
        both->part[1] = pb->node;
        both->top = fmax(da->top, db->top);
        both->apex = da->top >= db->top ? da->apex : db->apex;
    }
    *root = pa->active >= pb->active ? a : b; /* by size: keeps the trees flat */
    uint32_t under = *root == a ? b : a;
    w->parent[under] = *root;
    w->piece[*root] = (piece){pa->done + pb->done, pa->top + pb->top, pa->active + pb->active,
        node};
    return true;
}

/* Pieces that span s touches, highest first. */
static bool look_around(sweep *w, uint32_t s, size_t col)
{
    const vugi_columns *c = w->c;
    for (size_t n = c->first[col]; n < c->first[col + 1]; n++) {
        if (w->parent[n] == VUGI_NO_AIRNODE || !vugi_spans_touch(c, s, n))
            continue;
        neighbour found = {vugi_sets_find(w->parent, (uint32_t)n), (uint32_t)n};
        size_t i = 0;
        while (i < w->near_count && w->near_list[i].root != found.root)
            i++;
        if (i == w->near_count) {
            if (!vugi_reserve(w->mem, &w->near_list, &w->near_capacity, w->near_count + 1,
                    sizeof *w->near_list))
                return false;
            w->near_list[w->near_count++] = found;
        } else if (c->hi[found.span] > c->hi[w->near_list[i].span]) {
            w->near_list[i].span = found.span;
        } else {
            continue;
        }
        for (; i > 0 && c->hi[w->near_list[i].span] > c->hi[w->near_list[i - 1].span]; i--) {
            neighbour exchange = w->near_list[i];
            w->near_list[i] = w->near_list[i - 1];
            w->near_list[i - 1] = exchange;
        }
    }
    return true;
}

/* The sweep comes to the ceiling of span s. */
static bool ceiling(sweep *w, uint32_t s)
{
    const vugi_columns *c = w->c;
    size_t col = w->d->column[s], x = col % (size_t)c->nx, y = col / (size_t)c->nx;
    double z = c->hi[s];
    w->near_count = 0;
    if ((x > 0 && !look_around(w, s, col - 1))
        || (x + 1 < (size_t)c->nx && !look_around(w, s, col + 1))
        || (y > 0 && !look_around(w, s, col - (size_t)c->nx))
        || (y + 1 < (size_t)c->ny && !look_around(w, s, col + (size_t)c->nx)))
        return false;
    w->parent[s] = s;
    if (w->near_count == 0) {
        uint32_t node;
        if (!new_node(w, &node))
            return false;
        w->d->node[node].top = z;
        w->d->node[node].apex = s;
        w->d->leaf[s] = w->d->entry[s] = node;
        w->d->rise[s] = s;
        w->piece[s] = (piece){0.0, z, 1, node};
        return true;
    }
    neighbour high = w->near_list[0];
    uint32_t root = high.root;
    for (size_t i = 1; i < w->near_count; i++)
        if (!join(w, root, w->near_list[i].root, z, high.span, w->near_list[i].span, &root))
            return false;
    w->parent[s] = root;
    w->piece[root].active++;
    w->piece[root].top += z;
    w->d->leaf[s] = w->d->leaf[high.span];
    w->d->entry[s] = w->piece[root].node;
    w->d->rise[s] = high.span;
    return true;
}

static bool run(sweep *w)
{
    for (size_t i = 0; i < 2 * w->c->count; i++) {
        uint32_t s = w->event[i] >> 1;
        if (w->event[i] & 1) {
            piece *p = w->piece + vugi_sets_find(w->parent, s);
            p->active--;
            p->top -= w->c->hi[s];
            p->done += w->c->hi[s] - w->c->lo[s];
        } else if (!ceiling(w, s)) {
            return false;
        }
    }
    for (size_t s = 0; s < w->c->count; s++) {
        if (w->parent[s] == s) {
            const piece *p = w->piece + s;
            w->d->node[p->node].room = p->done * w->d->cell;
        }
    }
    return true;
}

/* ---- tidying ------------------------------------------------------------------- */

/* Follows take-overs to the node that stayed, and to the leaf; *level: the lowest on the way. */
static uint32_t stayed(const sweep *w, uint32_t node, double *level)
{
    assert(node < w->d->count);
    while (w->taken[node] != node) {
        *level = fmin(*level, w->taken_level[node]);
        node = w->taken[node];
    }
    return node;
}

static uint32_t stayed_leaf(const sweep *w, uint32_t leaf)
{
    while (w->taken_leaf[leaf] != leaf)
        leaf = w->taken_leaf[leaf];
    return leaf;
}

/* Drops the nodes that were taken over and numbers the rest anew. */
static void compact(sweep *w, uint32_t *number)
{
    vugi_airtree *d = w->d;
    size_t kept = 0;
    for (size_t i = 0; i < d->count; i++)
        if (w->taken[i] == i)
            number[i] = (uint32_t)kept++;
    for (size_t s = 0; s < d->span_count; s++) {
        double level = INFINITY;
        uint32_t entry = stayed(w, d->entry[s], &level);
        d->least[s] = fminf(d->ends[s].hi, (float)level);
        d->entry[s] = number[entry];
        d->leaf[s] = number[stayed_leaf(w, d->leaf[s])];
    }
    for (size_t i = 0; i < d->count; i++) {
        if (w->taken[i] != i)
            continue;
        vugi_airnode node = d->node[i];
        if (node.parent != VUGI_NO_AIRNODE) {
            node.parent = number[node.parent];
            node.beyond = number[stayed_leaf(w, node.beyond)];
        }
        for (int k = 0; k < 2; k++)
            if (node.part[k] != VUGI_NO_AIRNODE)
                node.part[k] = number[node.part[k]];
        d->node[number[i]] = node;
    }
    d->count = kept;
}

/* Lays the spans of each node, those of its parts included, next to one another. Parents come after
 * their parts. */
static void list_members(vugi_airtree *d, uint32_t *size)
{
    memset(size, 0, d->count * sizeof *size);
    for (size_t s = 0; s < d->span_count; s++)
        size[d->entry[s]]++;
    for (size_t i = 0; i < d->count; i++)
        if (d->node[i].parent != VUGI_NO_AIRNODE)
            size[d->node[i].parent] += size[i];
    uint32_t next = 0;
    for (size_t i = d->count; i-- > 0;) {
        vugi_airnode *node = d->node + i;
        if (node->parent == VUGI_NO_AIRNODE) {
            node->first = next;
            next += size[i];
        }
        node->last = node->first + size[i];
        if (node->part[0] != VUGI_NO_AIRNODE) {
            d->node[node->part[1]].first = node->last - size[node->part[1]];
            d->node[node->part[0]].first = d->node[node->part[1]].first - size[node->part[0]];
        }
    }
    for (size_t i = 0; i < d->count; i++)
        size[i] = d->node[i].first;
    for (size_t s = 0; s < d->span_count; s++)
        d->member[size[d->entry[s]]++] = (uint32_t)s;
    for (size_t i = 0; i < d->span_count; i++)
        d->member_ends[i] = d->ends[d->member[i]];
}

#ifndef NDEBUG
/* Parts come before their node and lie within its members; each span is a member of some node. */
static bool is_sound(const vugi_airtree *d)
{
    for (size_t i = 0; i < d->count; i++) {
        const vugi_airnode *n = d->node + i;
        if (n->first > n->last || n->last > d->span_count || n->sill > n->top
            || (n->parent != VUGI_NO_AIRNODE && (n->parent <= i || n->parent >= d->count)))
            return false;
        for (int k = 0; k < 2 && n->part[0] != VUGI_NO_AIRNODE; k++) {
            const vugi_airnode *part = d->node + n->part[k];
            if (n->part[k] >= i || part->parent != i || part->first < n->first
                || part->last > n->last)
                return false;
        }
    }
    for (size_t s = 0; s < d->span_count; s++)
        if (d->entry[s] >= d->count || d->leaf[s] >= d->count || d->member[s] >= d->span_count)
            return false;
    return true;
}
#endif

vug_status vugi_airtree_build(vug_context *ctx, const vugi_allocator *mem,
    const vugi_columns *columns, double volume, double speck, vugi_airtree *d)
{
    size_t n = columns->count;
    sweep w = {.mem = mem, .c = columns, .d = d, .speck = speck / (columns->h * columns->h)};
    uint32_t *number = NULL;
    vug_status status = VUG_OK;
    vugi_airtree_free(mem, d);
    w.event = vugi_alloc(mem, 2 * n, sizeof *w.event);
    w.swap = vugi_alloc(mem, 2 * n, sizeof *w.swap);
    w.key = vugi_alloc(mem, 2 * n, sizeof *w.key);
    w.parent = vugi_alloc(mem, n, sizeof *w.parent);
    w.piece = vugi_alloc(mem, n, sizeof *w.piece);
    if (!copy_columns(mem, columns, volume, d) || !w.event || !w.swap || !w.key || !w.parent
        || !w.piece) {
        status = vugi_fail_memory(ctx);
        goto done;
    }
    memset(w.parent, 0xff, n * sizeof *w.parent);
    list_events(&w);
    number = run(&w) ? vugi_alloc(mem, d->count, sizeof *number) : NULL;
    if (!number) {
        status = vugi_fail_memory(ctx);
        goto done;
    }
    compact(&w, number);
    list_members(d, number);
    assert(is_sound(d));
done:
    vugi_free(mem, w.event);
    vugi_free(mem, w.swap);
    vugi_free(mem, w.key);
    vugi_free(mem, w.parent);
    vugi_free(mem, w.piece);
    vugi_free(mem, w.taken);
    vugi_free(mem, w.taken_leaf);
    vugi_free(mem, w.taken_level);
    vugi_free(mem, w.near_list);
    vugi_free(mem, number);
    if (status)
        vugi_airtree_free(mem, d);
    return status;
}

/* ---- questions ------------------------------------------------------------------ */

double vugi_airnode_volume(const vugi_airtree *d, uint32_t node, double level)
{
    assert(node < d->count);
    double length = 0.0;
    for (uint32_t i = d->node[node].first; i < d->node[node].last; i++) {
        const vugi_span_ends *own = d->member_ends + i;
        length += vugi_greater(0.0, own->hi - vugi_greater(own->lo, level));
    }
    return length * d->cell;
}

double vugi_airnode_level(const vugi_airtree *d, uint32_t node, double volume)
{
    assert(node < d->count);
    assert(volume >= 0.0);
    double hi = d->node[node].top, lo = d->node[node].sill;
    if (!(lo > -INFINITY)) {
        lo = hi;
        for (uint32_t i = d->node[node].first; i < d->node[node].last; i++)
            lo = vugi_lesser(d->member_ends[i].lo, lo);
    }
    /* False position with the Illinois change (Dowell and Jarratt 1971, BIT 11:168): the volume over
     * the level is monotone and nearly straight. */
    double at_lo = vugi_airnode_volume(d, node, lo) - volume, at_hi = -volume, level = hi;
    int side = 0;
    if (at_lo <= 0.0)
        return lo;
    for (int i = 0; i < 60 && hi - lo > 1e-3 * d->h; i++) {
        level = (lo * at_hi - hi * at_lo) / (at_hi - at_lo);
        double at = vugi_airnode_volume(d, node, level) - volume;
        if (fabs(at) < 1e-5 * volume)
            return level;
        if (at > 0.0) {
            lo = level;
            at_lo = at;
            if (side > 0)
                at_hi *= 0.5;
            side = 1;
        } else {
            hi = level;
            at_hi = at;
            if (side < 0)
                at_lo *= 0.5;
            side = -1;
        }
    }
    return level;
}

uint32_t vugi_airnode_at(const vugi_airtree *d, uint32_t span, double level)
{
    assert(span < d->span_count);
    assert(d->entry[span] < d->count);
    uint32_t node = d->entry[span];
    while (d->node[node].sill >= level && d->node[node].parent != VUGI_NO_AIRNODE)
        node = d->node[node].parent;
    return node;
}

uint32_t vugi_airtree_span(const vugi_airtree *d, const double p[3], int32_t body)
{
    int32_t ci = (int32_t)fmin(d->nx - 1.0, fmax(0.0, floor((p[0] - d->x0) / d->h + 0.5)));
    int32_t cj = (int32_t)fmin(d->ny - 1.0, fmax(0.0, floor((p[1] - d->y0) / d->h + 0.5)));
    int32_t far = d->nx > d->ny ? d->nx : d->ny;
    double best = INFINITY;
    uint32_t found = VUGI_NO_AIRNODE;
    for (int32_t ring = 0; ring <= far; ring++) {
        double within = (ring - 0.5) * d->h; /* no column of this ring is nearer */
        if (ring > 0 && best < within * within)
            break;
        for (int32_t j = cj - ring; j <= cj + ring; j++) {
            if (j < 0 || j >= d->ny)
                continue;
            bool whole_row = j == cj - ring || j == cj + ring;
            for (int32_t i = ci - ring; i <= ci + ring;
                 i += whole_row || ring == 0 ? 1 : 2 * ring) {
                if (i < 0 || i >= d->nx)
                    continue;
                size_t col = (size_t)j * (size_t)d->nx + (size_t)i;
                double dx = d->x0 + i * d->h - p[0], dy = d->y0 + j * d->h - p[1];
                if (dx * dx + dy * dy >= best)
                    continue;
                for (uint32_t s = d->column_first[col]; s < d->column_first[col + 1]; s++) {
                    const vugi_span_ends *own = d->ends + s;
                    double dz = p[2] < own->lo ? own->lo - p[2]
                        : p[2] > own->hi       ? p[2] - own->hi
                                               : 0.0;
                    double d2 = dx * dx + dy * dy + dz * dz;
                    if (dz == 0.0 && ring == 0)
                        d2 = 0.0;
                    if (d2 < best && (body < 0 || d->body[s] == body)) {
                        best = d2;
                        found = s;
                    }
                }
            }
        }
    }
    return found;
}

void vugi_airtree_point(const vugi_airtree *d, uint32_t span, double z, double part[3])
{
    assert(span < d->span_count);
    size_t col = d->column[span];
    double pose[3] = {d->x0 + (double)(col % (size_t)d->nx) * d->h,
        d->y0 + (double)(col / (size_t)d->nx) * d->h, z};
    vugi_to_part(d->basis, pose, part);
}

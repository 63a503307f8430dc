/* SPDX-License-Identifier: MIT
 * Bare pieces of a skin that hang together: they are gathered in the cells of a grid, by the way they look, and
 * cells beside each other are joined. */
#include "skin/spots.h"

#include "base/disjoint_set.h"
#include "base/sort.h"
#include "base/vec.h"

#include <assert.h>
#include <math.h>

int vugi_piece_state(const vugi_skin_piece *p)
{
    if (!p->known)
        return VUGI_PIECE_UNKNOWN;
    if (p->backed)
        return VUGI_PIECE_BACKED;
    return p->wetted ? VUGI_PIECE_FILMED : VUGI_PIECE_BARE;
}

/* Cavity, cell, and the direction out of the six of the axes that a piece looks to most. */
typedef struct place {
    int64_t at[4];
    int side;
} place;

typedef struct bare {
    place place;
    size_t piece;
} bare;

typedef struct gathering {
    const struct vug_skin *skin;
    bare *piece; /* by place */
    size_t count;
    bare *cell; /* the first piece of each place */
    uint32_t *cell_of, *parent;
    size_t cells;
} gathering;

static int compare_places(const place *a, const place *b)
{
    for (int k = 0; k < 4; k++)
        if (a->at[k] != b->at[k])
            return a->at[k] < b->at[k] ? -1 : 1;
    return (a->side > b->side) - (a->side < b->side);
}

static int by_place(const void *a, const void *b, const void *user)
{
    const bare *x = a, *y = b;
    (void)user;
    return compare_places(&x->place, &y->place);
}

static place place_of(const struct vug_skin *skin, size_t cavity, const vugi_skin_piece *p)
{
    place at = {.at = {(int64_t)cavity}};
    for (int k = 0; k < 3; k++) {
        at.at[k + 1] = (int64_t)floor(p->point[k] / skin->spacing);
        if (fabs(p->inward[k]) > fabs(p->inward[at.side / 2]))
            at.side = 2 * k;
    }
    at.side += p->inward[at.side / 2] < 0.0;
    return at;
}

static bool gather(const vugi_allocator *mem, gathering *g)
{
    const struct vug_skin *skin = g->skin;
    size_t room = 0;
    for (size_t i = 0; i < skin->part_count; i++) {
        const vugi_skin_part *part = skin->part + i;
        for (size_t n = part->first; n < part->first + part->count; n++) {
            if (part->courses == 0 || vugi_piece_state(skin->piece + n) != VUGI_PIECE_BARE)
                continue;
            if (!vugi_reserve(mem, &g->piece, &room, g->count + 1, sizeof *g->piece))
                return false;
            g->piece[g->count++] = (bare){place_of(skin, i, skin->piece + n), n};
        }
    }
    return vugi_sort(mem, g->piece, g->count, sizeof *g->piece, by_place, NULL);
}

static bool make_cells(const vugi_allocator *mem, gathering *g)
{
    g->cell = vugi_alloc(mem, g->count, sizeof *g->cell);
    g->cell_of = vugi_alloc(mem, g->count, sizeof *g->cell_of);
    g->parent = vugi_alloc(mem, g->count, sizeof *g->parent);
    if (!g->cell || !g->cell_of || !g->parent)
        return false;
    for (size_t i = 0; i < g->count; i++) {
        if (i == 0 || compare_places(&g->piece[i - 1].place, &g->piece[i].place) != 0)
            g->cell[g->cells++] = g->piece[i];
        g->cell_of[i] = (uint32_t)(g->cells - 1);
    }
    vugi_sets_init(g->parent, g->cells);
    return true;
}

/* With all cells around that do not look the other way. */
static void join(gathering *g, uint32_t cell)
{
    const place *from = &g->cell[cell].place;
    for (int n = 0; n < 27; n++) {
        bare key = {.place = *from};
        key.place.at[1] += n % 3 - 1;
        key.place.at[2] += n / 3 % 3 - 1;
        key.place.at[3] += n / 9 - 1;
        key.place.side = 0;
        size_t i = vugi_lower_bound(&key, g->cell, g->cells, sizeof *g->cell, by_place, NULL);
        for (; i < g->cells; i++) {
            key.place.side = g->cell[i].place.side;
            if (compare_places(&key.place, &g->cell[i].place) != 0)
                break;
            if ((key.place.side ^ from->side) != 1)
                vugi_sets_unite(g->parent, cell, (uint32_t)i);
        }
    }
}

/* Areas and middles; the piece of a spot that is nearest to its middle stands for it, as a middle may lie in the air. */
static bool measure(const vugi_allocator *mem, gathering *g, vugi_skin_spot *spot, size_t *count)
{
    const vugi_skin_piece *piece = g->skin->piece;
    uint32_t *number = vugi_alloc(mem, g->cells, sizeof *number);
    double *nearest = vugi_alloc(mem, g->cells, sizeof *nearest);
    double *sum = vugi_calloc(mem, 3 * g->cells, sizeof *sum);
    bool ok = number && nearest && sum;
    *count = 0;
    for (uint32_t c = 0; c < g->cells && ok; c++) {
        uint32_t root = vugi_sets_find(g->parent, c);
        assert(root <= c);
        number[c] = root == c ? (uint32_t)*count : number[root];
        nearest[c] = INFINITY;
        if (root == c)
            spot[(*count)++] = (vugi_skin_spot){.area = 0.0};
    }
    for (size_t i = 0; i < g->count && ok; i++) {
        const vugi_skin_piece *p = piece + g->piece[i].piece;
        uint32_t n = number[g->cell_of[i]];
        spot[n].area += p->area;
        spot[n].seen += p->area * p->seen;
        for (int k = 0; k < 3; k++)
            sum[3 * n + (uint32_t)k] += p->area * p->point[k];
    }
    for (size_t i = 0; i < g->count && ok; i++) {
        const vugi_skin_piece *p = piece + g->piece[i].piece;
        uint32_t n = number[g->cell_of[i]];
        double square = 0.0;
        for (int k = 0; k < 3; k++)
            square += pow(p->point[k] - sum[3 * n + (uint32_t)k] / spot[n].area, 2.0);
        if (square >= nearest[n])
            continue;
        nearest[n] = square;
        for (int k = 0; k < 3; k++)
            spot[n].middle[k] = p->point[k];
    }
    for (size_t n = 0; n < *count && ok; n++)
        spot[n].seen /= spot[n].area;
    vugi_free(mem, number);
    vugi_free(mem, nearest);
    vugi_free(mem, sum);
    return ok;
}

static int by_area(const void *a, const void *b, const void *user)
{
    const vugi_skin_spot *x = a, *y = b;
    (void)user;
    return (x->area < y->area) - (x->area > y->area);
}

vug_status vugi_skin_find_spots(vug_context *ctx, const struct vug_skin *skin,
    vugi_skin_spot **spot, size_t *count)
{
    const vugi_allocator *mem = &ctx->mem;
    gathering g = {.skin = skin};
    *spot = NULL;
    *count = 0;
    bool ok = gather(mem, &g) && make_cells(mem, &g);
    for (uint32_t c = 0; c < g.cells && ok; c++)
        join(&g, c);
    if (ok && g.cells > 0) {
        *spot = vugi_alloc(mem, g.cells, sizeof **spot);
        ok = *spot && measure(mem, &g, *spot, count)
            && vugi_sort(mem, *spot, *count, sizeof **spot, by_area, NULL);
    }
    vugi_free(mem, g.piece);
    vugi_free(mem, g.cell);
    vugi_free(mem, g.cell_of);
    vugi_free(mem, g.parent);
    if (ok)
        return VUG_OK;
    vugi_free(mem, *spot);
    *spot = NULL;
    return vugi_fail_memory(ctx);
}

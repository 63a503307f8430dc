/* SPDX-License-Identifier: MIT
 * Where labelled regions of the grid meet, in connected pieces. */
#include "cavity/border.h"

#include "base/disjoint_set.h"
#include "base/sort.h"
#include "base/vec.h"

#include <math.h>
#include <string.h>

/* A cell of chamber a that has faces with region b (a chamber of higher number, or outside). */
typedef struct rim_cell {
    uint32_t a, b;        /* labels */
    uint32_t cell, value; /* value: highest over its faces */
    int32_t faces;
    int32_t direction[3]; /* sum of the faces' directions, from a to b */
} rim_cell;

typedef struct rim {
    vugi_void *v;
    rim_cell *list;
    size_t count, capacity;
    uint32_t *piece; /* disjoint sets of the list */
} rim;

static int compare_rim(const void *left, const void *right, const void *user)
{
    const rim_cell *p = left, *q = right;
    (void)user;
    if (p->a != q->a)
        return p->a < q->a ? -1 : 1;
    if (p->b != q->b)
        return p->b < q->b ? -1 : 1;
    return (p->cell > q->cell) - (p->cell < q->cell);
}

static bool add_face(const vugi_allocator *mem, rim *r, size_t from, size_t to, int axis, int step)
{
    const vugi_void *v = r->v;
    uint32_t value = v->squared[from] < v->squared[to] ? v->squared[from] : v->squared[to];
    if (!vugi_reserve(mem, &r->list, &r->capacity, r->count + 1, sizeof *r->list))
        return false;
    rim_cell face = {.a = v->label[from],
        .b = v->label[to],
        .cell = (uint32_t)from,
        .value = value,
        .faces = 1};
    face.direction[axis] = step;
    r->list[r->count++] = face;
    return true;
}

/* Faces of a row of cells with the cells after them. */
static bool add_row(const vugi_allocator *mem, rim *r, int32_t j, int32_t k)
{
    const vugi_void *v = r->v;
    const vugi_grid *g = &v->grid;
    const size_t stride[3] = {1, (size_t)g->n[0], (size_t)g->n[0] * (size_t)g->n[1]};
    size_t c = vugi_grid_cell(g, 0, j, k);
    for (int32_t i = 0; i < g->n[0]; i++, c++) {
        uint32_t here = v->label[c];
        const int32_t at[3] = {i, j, k};
        if (here == vugi_label_solid)
            continue;
        for (int axis = 0; axis < 3; axis++) {
            if (at[axis] + 1 >= g->n[axis])
                continue;
            size_t o = c + stride[axis];
            uint32_t there = v->label[o];
            if (there == here || there == vugi_label_solid)
                continue;
            /* The outside has the highest label, so that it is always b. */
            if (!(here < there ? add_face(mem, r, c, o, axis, 1)
                               : add_face(mem, r, o, c, axis, -1)))
                return false;
        }
    }
    return true;
}

/* Faces of one cell with the same region become one entry. */
static void merge_faces(rim *r)
{
    size_t kept = 0;
    for (size_t i = 0; i < r->count; i++) {
        rim_cell *last = kept ? r->list + kept - 1 : NULL;
        const rim_cell *face = r->list + i;
        if (!last || compare_rim(last, face, NULL) != 0) {
            r->list[kept++] = *face;
            continue;
        }
        last->faces += face->faces;
        last->value = face->value > last->value ? face->value : last->value;
        for (int a = 0; a < 3; a++)
            last->direction[a] += face->direction[a];
    }
    r->count = kept;
}

/* Entries of the same pair whose cells touch at a corner at least are one piece. */
static void group_cells(rim *r)
{
    const vugi_grid *g = &r->v->grid;
    vugi_sets_init(r->piece, r->count);
    for (size_t i = 0; i < r->count; i++) {
        int32_t at[3];
        vugi_grid_place(g, r->list[i].cell, at);
        for (int n = 14; n < 27; n++) { /* the 13 neighbours that come after */
            int32_t to[3] = {at[0] + n % 3 - 1, at[1] + n / 3 % 3 - 1, at[2] + n / 9 - 1};
            if (to[0] < 0 || to[0] >= g->n[0] || to[1] < 0 || to[1] >= g->n[1] || to[2] >= g->n[2])
                continue;
            rim_cell key = {.a = r->list[i].a,
                .b = r->list[i].b,
                .cell = (uint32_t)vugi_grid_cell(g, to[0], to[1], to[2])};
            const rim_cell *other = vugi_search(&key, r->list + i, r->count - i, sizeof *r->list,
                compare_rim, NULL);
            if (other)
                vugi_sets_unite(r->piece, (uint32_t)i, (uint32_t)(other - r->list));
        }
    }
}

static void gather_piece(const rim *r, const rim_cell *entry, vugi_border *border)
{
    double p[3];
    vugi_grid_point(&r->v->grid, entry->cell, p);
    if (border->faces == 0) {
        border->a = (int32_t)entry->a;
        border->b = entry->b == vugi_label_outside ? VUGI_OUTSIDE : (int32_t)entry->b;
    }
    if (entry->value > border->value) {
        border->value = entry->value;
        border->cell = entry->cell;
    }
    border->faces += (size_t)entry->faces;
    for (int a = 0; a < 3; a++) {
        border->normal[a] += entry->direction[a];
        border->center[a] += entry->faces * p[a] + 0.5 * r->v->grid.h * entry->direction[a];
    }
}

static void finish_piece(const vugi_grid *grid, vugi_border *border)
{
    for (int a = 0; a < 3; a++)
        border->center[a] /= (double)border->faces;
    border->area = vugi_normalise(border->normal) * grid->h * grid->h;
}

static int compare_borders(const void *left, const void *right, const void *user)
{
    const vugi_border *p = left, *q = right;
    (void)user;
    if (p->value != q->value)
        return p->value > q->value ? -1 : 1;
    return (p->cell > q->cell) - (p->cell < q->cell);
}

static vug_status gather_pieces(vug_context *ctx, rim *r, vugi_void *v)
{
    uint32_t *number = vugi_alloc(&ctx->mem, r->count, sizeof *number);
    size_t pieces = 0;
    if (!number)
        return vugi_fail_memory(ctx);
    for (size_t i = 0; i < r->count; i++)
        if (vugi_sets_find(r->piece, (uint32_t)i) == i)
            number[i] = (uint32_t)pieces++;
    v->border = vugi_calloc(&ctx->mem, pieces, sizeof *v->border);
    if (!v->border) {
        vugi_free(&ctx->mem, number);
        return vugi_fail_memory(ctx);
    }
    v->border_count = pieces;
    for (size_t i = 0; i < r->count; i++)
        gather_piece(r, r->list + i, v->border + number[vugi_sets_find(r->piece, (uint32_t)i)]);
    for (size_t i = 0; i < pieces; i++)
        finish_piece(&v->grid, v->border + i);
    for (size_t i = 0; i < r->count; i++) {
        vugi_border *border = v->border + number[vugi_sets_find(r->piece, (uint32_t)i)];
        double p[3];
        vugi_grid_point(&v->grid, r->list[i].cell, p);
        border->extent = fmax(border->extent, vugi_point_distance(p, border->center) + v->grid.h);
    }
    vugi_free(&ctx->mem, number);
    bool sorted = vugi_sort(&ctx->mem, v->border, pieces, sizeof *v->border, compare_borders, NULL);
    return sorted ? VUG_OK : vugi_fail_memory(ctx);
}

vug_status vugi_void_borders(vug_context *ctx, vugi_void *v)
{
    rim r = {.v = v};
    vug_status status = VUG_OK;
    for (int32_t k = 0; k < v->grid.n[2] && !status; k++) {
        for (int32_t j = 0; j < v->grid.n[1] && !status; j++)
            if (!add_row(&ctx->mem, &r, j, k))
                status = vugi_fail_memory(ctx);
        if (!status)
            status = vugi_step(ctx, 0.9 + 0.1 * (k + 1) / v->grid.n[2]);
    }
    if (!status && r.count > 0) {
        r.piece = vugi_alloc(&ctx->mem, r.count, sizeof *r.piece);
        if (!r.piece || !vugi_sort(&ctx->mem, r.list, r.count, sizeof *r.list, compare_rim, NULL))
            status = vugi_fail_memory(ctx);
    }
    if (!status && r.count > 0) {
        merge_faces(&r);
        group_cells(&r);
        status = gather_pieces(ctx, &r, v);
    }
    vugi_free(&ctx->mem, r.piece);
    vugi_free(&ctx->mem, r.list);
    return status;
}

/* ---- cages ------------------------------------------------------------------------ */

/* A hollow that is open for more than one part in so many of its boundary holds nothing. */
enum { CAGE = 7 };

/* Faces of each cavity with the solid. */
static void count_walls(const vugi_void *v, size_t *wall)
{
    const vugi_grid *g = &v->grid;
    const size_t stride[3] = {1, (size_t)g->n[0], (size_t)g->n[0] * (size_t)g->n[1]};
    size_t count = vugi_grid_count(g);
    for (size_t c = 0; c < count; c++) {
        if (v->label[c] >= vugi_label_outside)
            continue; /* the border of the grid is outside, so all six neighbours exist */
        for (int a = 0; a < 3; a++)
            wall[v->chamber[v->label[c]].cavity] += (size_t)(v->label[c - stride[a]]
                                                        == vugi_label_solid)
                + (size_t)(v->label[c + stride[a]] == vugi_label_solid);
    }
}

/* Renumbers what is left. number: new number of each cavity, -1 for those to go. */
static void drop_cavities(vugi_void *v, const int32_t *number, uint32_t *chamber)
{
    size_t kept = 0, count = vugi_grid_count(&v->grid);
    for (size_t i = 0; i < v->chamber_count; i++) {
        int32_t to = number[v->chamber[i].cavity];
        chamber[i] = to < 0 ? vugi_label_outside : (uint32_t)kept;
        if (to < 0)
            continue;
        v->chamber[kept] = v->chamber[i];
        v->chamber[kept++].cavity = to;
    }
    for (size_t c = 0; c < count; c++)
        if (v->label[c] < vugi_label_outside)
            v->label[c] = chamber[v->label[c]];
    v->chamber_count = kept;
    kept = 0;
    for (size_t i = 0; i < v->border_count; i++) {
        vugi_border *border = v->border + i;
        if (chamber[border->a] == vugi_label_outside)
            continue;
        border->a = (int32_t)chamber[border->a];
        border->b = border->b == VUGI_OUTSIDE ? VUGI_OUTSIDE : (int32_t)chamber[border->b];
        v->border[kept++] = *border;
    }
    v->border_count = kept;
}

vug_status vugi_void_drop_cages(vug_context *ctx, vugi_void *v)
{
    size_t *wall = vugi_calloc(&ctx->mem, v->cavity_count, sizeof *wall), kept = 0;
    size_t *open = vugi_calloc(&ctx->mem, v->cavity_count, sizeof *open);
    int32_t *number = vugi_alloc(&ctx->mem, v->cavity_count, sizeof *number);
    uint32_t *chamber = vugi_alloc(&ctx->mem, v->chamber_count, sizeof *chamber);
    vug_status status = wall && open && number && chamber ? VUG_OK : vugi_fail_memory(ctx);
    if (!status) {
        count_walls(v, wall);
        for (size_t i = 0; i < v->border_count; i++)
            if (v->border[i].b == VUGI_OUTSIDE)
                open[v->chamber[v->border[i].a].cavity] += v->border[i].faces;
        for (size_t i = 0; i < v->cavity_count; i++)
            number[i] = CAGE * open[i] > open[i] + wall[i] ? -1 : (int32_t)kept++;
        if (kept < v->cavity_count)
            drop_cavities(v, number, chamber);
        v->cavity_count = kept;
    }
    vugi_free(&ctx->mem, wall);
    vugi_free(&ctx->mem, open);
    vugi_free(&ctx->mem, number);
    vugi_free(&ctx->mem, chamber);
    return status;
}

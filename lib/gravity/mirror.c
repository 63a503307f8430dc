/* SPDX-License-Identifier: MIT
 * A scene upside down. The gravity graph of minus the height has the same arcs and nodes; what was
 * above is below, and the volume below a level becomes that above it. */
#include "gravity/mirror.h"

#include "gravity/scene.h"

#include <string.h>

/* Spans of a column in the other order. */
uint32_t vugi_mirror_span(const vugi_columns *c, uint32_t column, uint32_t span)
{
    return c->first[column] + c->first[column + 1] - 1 - span;
}

static vug_status mirror_columns(vug_context *ctx, const vugi_allocator *mem,
    const vugi_scene *scene, vugi_columns *out)
{
    const vugi_columns *c = &scene->columns;
    size_t columns = (size_t)c->nx * (size_t)c->ny;
    *out = (vugi_columns){.h = c->h,
        .x0 = c->x0,
        .y0 = c->y0,
        .zlo = -c->zhi,
        .zhi = -c->zlo,
        .nx = c->nx,
        .ny = c->ny,
        .count = c->count};
    out->first = vugi_alloc(mem, columns + 1, sizeof *out->first);
    out->lo = vugi_alloc(mem, c->count, sizeof *out->lo);
    out->hi = vugi_alloc(mem, c->count, sizeof *out->hi);
    out->body = vugi_alloc(mem, c->count, sizeof *out->body);
    if (!out->first || !out->lo || !out->hi || !out->body)
        return vugi_fail_memory(ctx);
    for (int k = 0; k < 9; k++)
        out->basis[k] = k < 6 ? c->basis[k] : -c->basis[k];
    memcpy(out->first, c->first, (columns + 1) * sizeof *out->first);
    for (uint32_t s = 0; s < c->count; s++) {
        uint32_t t = vugi_mirror_span(c, scene->graph.sweep.column[s], s);
        out->lo[t] = -c->hi[s];
        out->hi[t] = -c->lo[s];
        out->body[t] = c->body[s];
    }
    return VUG_OK;
}

static bool alloc_graph(const vugi_allocator *mem, const vugi_graph *g, vugi_graph *out)
{
    size_t spans = g->columns->count + 1;
    out->arc = vugi_alloc(mem, g->arc_count, sizeof *out->arc);
    out->node = vugi_alloc(mem, g->node_count, sizeof *out->node);
    out->link = vugi_alloc(mem, g->link_count, sizeof *out->link);
    out->sill = vugi_alloc(mem, g->link_count, sizeof *out->sill);
    out->knot = vugi_alloc(mem, g->knot_count, sizeof *out->knot);
    out->arc_of_raw = vugi_alloc(mem, g->sweep.arc_count, sizeof *out->arc_of_raw);
    out->piece = g->piece ? vugi_alloc(mem, g->arc_count, sizeof *out->piece) : NULL;
    out->sweep.floor_arc = vugi_alloc(mem, spans, sizeof *out->sweep.floor_arc);
    out->sweep.ceiling_arc = vugi_alloc(mem, spans, sizeof *out->sweep.ceiling_arc);
    out->sweep.column = vugi_alloc(mem, spans, sizeof *out->sweep.column);
    return out->arc && out->node && out->link && out->sill && out->knot && out->arc_of_raw
        && (out->piece || !g->piece) && out->sweep.floor_arc && out->sweep.ceiling_arc
        && out->sweep.column;
}

/* Knot i of n of the mirrored arc is knot n - 1 - i; its section reaches up to the next knot, which
 * is the section below the old one. */
static void mirror_knots(const vugi_graph *g, const vugi_arc *a, vugi_knot *out)
{
    const vugi_knot *k = g->knot + a->knot;
    uint32_t n = a->knots;
    for (uint32_t i = 0; i < n; i++) {
        const vugi_knot *old = k + n - 1 - i;
        out[a->knot + i] = (vugi_knot){-old->z, a->volume - old->volume,
            i + 1 < n ? old[-1].area : 0.0, i + 1 < n ? old[-1].outline : 0.0};
    }
}

static void mirror_nodes(const vugi_graph *g, const vugi_columns *c, vugi_graph *out)
{
    for (uint32_t i = 0; i < g->node_count; i++) {
        const vugi_node *n = g->node + i;
        uint32_t at = n->link, span = vugi_mirror_span(c, g->sweep.column[n->span], n->span);
        out->node[i] = (vugi_node){-n->z, span, n->link, n->ups, n->downs};
        for (uint32_t k = 0; k < n->ups + n->downs; k++, at++) {
            uint32_t from = k < n->ups ? n->link + n->downs + k : n->link + k - n->ups;
            uint32_t sill = g->sill[from];
            out->link[at] = g->link[from];
            out->sill[at] = sill == VUGI_NONE ? VUGI_NONE
                                              : vugi_mirror_span(c, g->sweep.column[sill], sill);
        }
    }
}

static void mirror_graph(const vugi_scene *scene, vugi_graph *out)
{
    const vugi_graph *g = &scene->graph;
    const vugi_columns *c = &scene->columns;
    out->arc_count = g->arc_count;
    out->node_count = g->node_count;
    out->link_count = g->link_count;
    out->knot_count = g->knot_count;
    out->capacity = g->capacity;
    for (uint32_t a = 0; a < g->arc_count; a++) {
        const vugi_arc *old = g->arc + a;
        out->arc[a] = (vugi_arc){-old->hi, -old->lo, old->volume, old->to, old->from, old->knot,
            old->knots};
        mirror_knots(g, old, out->knot);
    }
    mirror_nodes(g, c, out);
    memcpy(out->arc_of_raw, g->arc_of_raw, g->sweep.arc_count * sizeof *out->arc_of_raw);
    if (g->piece)
        memcpy(out->piece, g->piece, g->arc_count * sizeof *out->piece);
    out->sweep.body = g->sweep.body;
    for (uint32_t s = 0; s < c->count; s++) {
        uint32_t column = g->sweep.column[s], t = vugi_mirror_span(c, column, s);
        out->sweep.column[t] = column;
        out->sweep.floor_arc[t] = g->sweep.ceiling_arc[s];
        out->sweep.ceiling_arc[t] = g->sweep.floor_arc[s];
    }
}

static bool mirror_mouths(const vugi_scene *scene, vugi_scene *out)
{
    const vugi_allocator *mem = &out->mem;
    size_t mouths = scene->mouth_count;
    out->mouth = vugi_alloc(mem, mouths, sizeof *out->mouth);
    out->entry = vugi_alloc(mem, mouths, sizeof *out->entry);
    out->vent = vugi_alloc(mem, scene->lip_count, sizeof *out->vent);
    out->lip = vugi_alloc(mem, scene->vent_count, sizeof *out->lip);
    if (!out->mouth || !out->entry || !out->vent || !out->lip)
        return false;
    out->mouth_count = mouths;
    for (size_t m = 0; m < mouths; m++) {
        uint32_t s = scene->entry[m];
        out->mouth[m] = scene->mouth[m];
        out->mouth[m].top = -scene->mouth[m].lip;
        out->mouth[m].lip = -scene->mouth[m].top;
        out->mouth[m].inner_top = -scene->mouth[m].inner_lip;
        out->mouth[m].inner_lip = -scene->mouth[m].inner_top;
        out->entry[m] = s == VUGI_NONE
            ? VUGI_NONE
            : vugi_mirror_span(&scene->columns, scene->graph.sweep.column[s], s);
    }
    out->vent_count = scene->lip_count;
    for (size_t i = 0; i < scene->lip_count; i++)
        out->vent[i] = (vugi_port){scene->lip[i].mouth, scene->lip[i].arc, -scene->lip[i].z};
    out->lip_count = scene->vent_count;
    for (size_t i = 0; i < scene->vent_count; i++)
        out->lip[i] = (vugi_port){scene->vent[i].mouth, scene->vent[i].arc, -scene->vent[i].z};
    return true;
}

static bool mirror_doors(const vugi_scene *scene, vugi_scene *out)
{
    const vugi_graph *g = &scene->graph;
    if (!(out->door = vugi_alloc(&out->mem, scene->door_count, sizeof *out->door)))
        return false;
    out->door_count = scene->door_count;
    if (out->door_count > 0) {
        if (!(out->gate = vugi_alloc(&out->mem, scene->columns.count, sizeof *out->gate)))
            return false;
        for (uint32_t s = 0; s < scene->columns.count; s++)
            out->gate[vugi_mirror_span(&scene->columns, g->sweep.column[s], s)] = scene->gate[s];
        out->graph.sweep.gate = out->gate;
    }
    for (size_t i = 0; i < scene->door_count; i++) {
        vugi_door d = scene->door[i];
        d.lo = -scene->door[i].hi;
        d.hi = -scene->door[i].lo;
        d.z = -d.z;
        for (int k = 0; k < 2; k++)
            d.span[k] = vugi_mirror_span(&scene->columns, g->sweep.column[d.span[k]], d.span[k]);
        for (int k = 0; k < 4; k++) {
            uint32_t span = scene->door[i].end_span[k / 2][k % 2];
            d.end_span[1 - k / 2][k % 2] = vugi_mirror_span(&scene->columns, g->sweep.column[span],
                span);
            d.end[1 - k / 2][k % 2] = scene->door[i].end[k / 2][k % 2];
        }
        out->door[i] = d;
    }
    return true;
}

vug_status vugi_scene_mirror(vug_context *ctx, const vugi_scene *scene, vugi_scene **out)
{
    vugi_scene *s = vugi_calloc(&scene->mem, 1, sizeof *s);
    if (!s)
        return vugi_fail_memory(ctx);
    s->mem = scene->mem;
    atomic_init(&s->owners, 1);
    for (int k = 0; k < 3; k++)
        s->up[k] = -scene->up[k];
    s->graph.columns = &s->columns;
    vug_status status = mirror_columns(ctx, &s->mem, scene, &s->columns);
    if (!status
        && (!alloc_graph(&s->mem, &scene->graph, &s->graph) || !mirror_mouths(scene, s)
            || !mirror_doors(scene, s)))
        status = vugi_fail_memory(ctx);
    if (!status) {
        mirror_graph(scene, &s->graph);
        status = vugi_scene_land(ctx, s);
    }
    if (status) {
        vugi_scene_free(s);
        return status;
    }
    *out = s;
    return VUG_OK;
}

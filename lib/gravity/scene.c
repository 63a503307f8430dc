/* SPDX-License-Identifier: MIT
 * Builds the gravity graph of a pose and finds the openings on it. */
#include "gravity/scene.h"

#include "gravity/cut.h"
#include "gravity/descend.h"

#include "cavity/atlas.h"
#include "column/columns.h"
#include "column/pose.h"

#include <math.h>
#include <string.h>

/* The span in which the middle of a throat lies, or VUGI_NONE. */
static uint32_t throat_span(const vugi_columns *c, const vugi_scene_throat *t)
{
    double x = floor((t->at[0] - c->x0) / c->h + 0.5), y = floor((t->at[1] - c->y0) / c->h + 0.5);
    if (!(x >= 0.0) || !(y >= 0.0) || x >= c->nx || y >= c->ny)
        return VUGI_NONE;
    size_t column = (size_t)y * (size_t)c->nx + (size_t)x;
    for (uint32_t s = c->first[column]; s < c->first[column + 1]; s++)
        if (c->lo[s] < t->at[2] && t->at[2] < c->hi[s])
            return s;
    return VUGI_NONE;
}

/* Two questions for each span at a mouth: which arc is just below the top of the rim, which is at
 * the lip. Then one for each side of a door, the same at their floors and roofs, and one for each throat: which it lies in. */
static vug_status make_queries(vug_context *ctx, const vugi_allocator *mem, const vugi_scene *s,
    const vugi_scene_mouth *mouth, size_t mouth_count, vugi_query **query, size_t *count)
{
    size_t n = s->throat_count + 6 * s->door_count;
    for (size_t m = 0; m < mouth_count; m++)
        n += 2 * mouth[m].spans;
    if (!(*query = vugi_alloc(mem, n, sizeof **query)))
        return vugi_fail_memory(ctx);
    n = 0;
    for (size_t m = 0; m < mouth_count; m++)
        for (size_t i = 0; i < mouth[m].spans; i++) {
            const vugi_opening_span *o = mouth[m].span + i;
            (*query)[n++] = (vugi_query){o->span, VUGI_NONE, o->top, .below = true};
            (*query)[n++] = (vugi_query){o->span, VUGI_NONE, o->lip, .below = false};
        }
    for (size_t i = 0; i < 2 * s->door_count; i++) {
        const vugi_door *d = s->door + i / 2;
        (*query)[n++] = (vugi_query){d->span[i % 2], VUGI_NONE, d->z, .below = false};
    }
    for (size_t i = 0; i < 4 * s->door_count; i++) {
        const vugi_door *d = s->door + i / 4;
        const bool roof = i % 4 > 1;
        (*query)[n++] = (vugi_query){d->end_span[roof][i % 2], VUGI_NONE, roof ? d->hi : d->lo,
            .below = roof};
    }
    for (size_t i = 0; i < s->throat_count; i++) {
        uint32_t span = throat_span(&s->columns, s->throat + i);
        if (span != VUGI_NONE)
            (*query)[n++] = (vugi_query){span, VUGI_NONE, s->throat[i].at[2], .below = false};
    }
    *count = n;
    return VUG_OK;
}

/* One port for each arc that a mouth meets: air stays free up to the highest place, liquid leaves at
 * the lowest. */
static void add_port(const vugi_graph *g, vugi_port *port, size_t *count, size_t first,
    uint32_t mouth, const vugi_query *query, double z, bool highest)
{
    if (query->arc == VUGI_NONE)
        return;
    uint32_t arc = vugi_arc_piece(g, query->arc, query->z, query->below);
    z = fmax(g->arc[arc].lo, fmin(g->arc[arc].hi, z));
    for (size_t i = first; i < *count; i++)
        if (port[i].arc == arc) {
            port[i].z = highest ? fmax(port[i].z, z) : fmin(port[i].z, z);
            return;
        }
    port[(*count)++] = (vugi_port){mouth, arc, z};
}

/* Does air reach the mouth at a height at which this span has room? */
static bool has_top(const vugi_columns *c, const vugi_opening_span *s)
{
    return c->lo[s->span] < s->top;
}

static bool has_lip(const vugi_columns *c, const vugi_opening_span *s)
{
    return c->hi[s->span] > s->lip;
}

/* An opening that lies wholly below all of its spans passes air until the first drop stands there, one
 * that lies wholly above them passes liquid when they are full. */
static void place_beyond(vugi_scene *s, uint32_t m, size_t first_vent, size_t first_lip)
{
    const vugi_graph *g = &s->graph;
    for (size_t i = 0; i < s->mouth[m].spans; i++) {
        const vugi_opening_span *o = s->mouth[m].span + i;
        uint32_t floor = vugi_arc_at_floor(g, o->span);
        uint32_t ceiling = vugi_arc_at_ceiling(g, o->span);
        if (first_vent == s->vent_count && floor != VUGI_NONE && !has_top(&s->columns, o))
            s->vent[s->vent_count++] = (vugi_port){m, floor, g->arc[floor].lo};
        if (first_lip == s->lip_count && ceiling != VUGI_NONE && !has_lip(&s->columns, o))
            s->lip[s->lip_count++] = (vugi_port){m, ceiling, g->arc[ceiling].hi};
    }
}

static vug_status place_mouths(vug_context *ctx, vugi_scene *s, const vugi_query *query)
{
    const vugi_columns *c = &s->columns;
    size_t spans = 0, n = 0;
    for (size_t m = 0; m < s->mouth_count; m++)
        spans += s->mouth[m].spans;
    s->vent = vugi_alloc(&s->mem, spans, sizeof *s->vent);
    s->lip = vugi_alloc(&s->mem, spans, sizeof *s->lip);
    if (!s->vent || !s->lip)
        return vugi_fail_memory(ctx);
    for (uint32_t m = 0; m < s->mouth_count; m++) {
        size_t first_vent = s->vent_count, first_lip = s->lip_count;
        for (size_t i = 0; i < s->mouth[m].spans; i++, n += 2) {
            const vugi_opening_span *o = s->mouth[m].span + i;
            if (has_top(c, o))
                add_port(&s->graph, s->vent, &s->vent_count, first_vent, m, query + n,
                    fmin(query[n].top, fmin(c->hi[o->span], o->top)), true);
            if (has_lip(c, o))
                add_port(&s->graph, s->lip, &s->lip_count, first_lip, m, query + n + 1,
                    fmax(query[n + 1].lip, fmax(c->lo[o->span], o->lip)), false);
        }
        place_beyond(s, m, first_vent, first_lip);
    }
    return VUG_OK;
}

/* The span at a mouth that is nearest to its centre: liquid enters there. */
static uint32_t entry_span(const vugi_scene *s, const vugi_scene_mouth *mouth)
{
    const vugi_columns *c = &s->columns;
    double pose[3], best = INFINITY;
    uint32_t span = VUGI_NONE;
    vugi_to_pose(c->basis, mouth->point, pose);
    for (size_t i = 0; i < mouth->spans; i++) {
        uint32_t n = mouth->span[i].span, column = s->graph.sweep.column[n];
        double x = c->x0 + c->h * (double)(column % (uint32_t)c->nx) - pose[0];
        double y = c->y0 + c->h * (double)(column / (uint32_t)c->nx) - pose[1];
        double z = fmax(c->lo[n] - pose[2], fmax(0.0, pose[2] - c->hi[n]));
        double d = x * x + y * y + z * z;
        if (s->graph.sweep.floor_arc[n] != VUGI_NONE && d < best) {
            best = d;
            span = n;
        }
    }
    return span;
}

vug_status vugi_scene_land(vug_context *ctx, vugi_scene *s)
{
    vugi_descent room = {.mark = NULL};
    vug_status status = VUG_OK;
    if (!s->landing && !(s->landing = vugi_alloc(&s->mem, s->mouth_count, sizeof *s->landing)))
        return vugi_fail_memory(ctx);
    for (size_t m = 0; m < s->mouth_count && !status; m++) {
        s->landing[m] = s->mouth[m].basin;
        if (s->landing[m] == VUGI_NONE && s->entry[m] != VUGI_NONE)
            status = vugi_descend(ctx, &s->mem, &s->graph, &room, s->entry[m], NULL,
                s->landing + m);
    }
    vugi_descent_free(&s->mem, &room);
    return status;
}

static vug_status place_entries(vug_context *ctx, vugi_scene *s)
{
    if (!(s->entry = vugi_alloc(&s->mem, s->mouth_count, sizeof *s->entry)))
        return vugi_fail_memory(ctx);
    for (size_t m = 0; m < s->mouth_count; m++)
        s->entry[m] = entry_span(s, s->mouth + m);
    return vugi_scene_land(ctx, s);
}

/* Parts arcs below their throats. */
static bool cut_throats(vugi_scene *s, const vugi_query *query, size_t count)
{
    vugi_graph *g = &s->graph;
    for (size_t i = 0; i < count; i++) {
        if (query[i].arc == VUGI_NONE)
            continue;
        uint32_t arc = vugi_arc_piece(g, query[i].arc, query[i].z, false);
        double z = vugi_arc_throat_end(g, arc, query[i].z);
        if (!isnan(z) && !vugi_graph_cut(&s->mem, g, arc, z, query[i].span))
            return false;
    }
    return true;
}

/* The next node of an arc upward, or downward, and the arc beyond it in *arc; VUGI_NONE: none short of a height. */
static uint32_t next_node(const vugi_graph *g, uint32_t *arc, bool up, double limit)
{
    uint32_t n = *arc == VUGI_NONE ? VUGI_NONE : up ? g->arc[*arc].to : g->arc[*arc].from;
    if (n == VUGI_NONE || (up ? g->node[n].z >= limit : g->node[n].z <= limit))
        return VUGI_NONE;
    const vugi_node *node = g->node + n;
    bool ends = up ? node->ups == 0 : node->downs == 0;
    *arc = ends ? VUGI_NONE : g->link[node->link + (up ? node->downs : 0)];
    return n;
}

/* Arcs on the sides of a door meet within its height: the columns do not show all of the border. */
static bool meet(const vugi_graph *g, uint32_t a, uint32_t b, const vugi_door *d)
{
    double h = g->columns->h;
    for (int up = 0; up < 2; up++) {
        double limit = up ? d->hi - h : d->lo + h;
        uint32_t x = a, n, m;
        while ((n = next_node(g, &x, up, limit)) != VUGI_NONE) {
            uint32_t y = b;
            while ((m = next_node(g, &y, up, limit)) != VUGI_NONE)
                if (m == n)
                    return true;
        }
    }
    return false;
}

/* Doors beside which there is another way between their chambers, or none to one of them, part nothing. Without them, and their
 * gates. Returns whether there were any. */
static bool drop_doors(vugi_scene *s, const vugi_query *query)
{
    size_t kept = 0;
    for (size_t i = 0; i < s->door_count; i++) {
        uint32_t a = query[2 * i].arc, b = query[2 * i + 1].arc;
        bool parts = a != VUGI_NONE && b != VUGI_NONE && a != b
            && !meet(&s->graph, a, b, s->door + i);
        for (size_t n = 0; n < s->columns.count; n++)
            if (s->gate[n] > 0 && (s->gate[n] - 1) / 2 == i)
                s->gate[n] = parts ? (uint32_t)(1 + 2 * kept + (s->gate[n] - 1) % 2) : 0;
        if (parts)
            s->door[kept++] = s->door[i];
    }
    bool any = kept < s->door_count;
    s->door_count = kept;
    return any;
}

/* The graph and the answers of its queries, parted at doors that part something. asked: queries at mouths. */
static vug_status build_graph(vug_context *ctx, vugi_scene *s, int32_t body, double volume,
    const vugi_scene_mouth *mouth, size_t mouth_count, vugi_query **query, size_t *count,
    size_t *asked)
{
    vug_status status = VUG_OK;
    bool again = true;
    *asked = 0;
    for (size_t m = 0; m < mouth_count; m++)
        *asked += 2 * mouth[m].spans;
    while (again && !status) {
        vugi_free(&s->mem, *query);
        vugi_graph_free(&s->mem, &s->graph);
        status = make_queries(ctx, &s->mem, s, mouth, mouth_count, query, count);
        if (!status)
            status = vugi_graph_build(ctx, &s->mem, &s->columns, body, volume,
                s->door_count > 0 ? s->gate : NULL, *query, *count, &s->graph);
        again = !status && drop_doors(s, *query + *asked);
    }
    return status;
}

/* The arc at an end of a door on one side. */
static uint32_t end_arc(const vugi_graph *g, const vugi_door *d, int side, bool roof, uint32_t arc)
{
    return arc == VUGI_NONE ? d->arc[side] : vugi_arc_piece(g, arc, roof ? d->hi : d->lo, roof);
}

/* Where a hollow before a door is counted to its neighbour, what passes the door passes the sill of that. */
static void narrow(vugi_door *d, const vugi_query ends[4])
{
    double lo = d->lo, hi = d->hi;
    for (int side = 0; side < 2; side++) {
        lo = ends[side].arc == VUGI_NONE ? lo : fmax(lo, ends[side].lip);
        hi = ends[2 + side].arc == VUGI_NONE ? hi : fmin(hi, ends[2 + side].top);
    }
    if (!(lo < hi))
        return;
    d->lo = lo;
    d->hi = hi;
}

/* The arcs on either side of the doors: first the queries at their middles, then those at their floors and roofs. */
static void place_doors(vugi_scene *s, const vugi_query *query)
{
    const vugi_query *end = query + 2 * s->door_count;
    for (size_t i = 0; i < s->door_count; i++, query += 2, end += 4) {
        vugi_door *d = s->door + i;
        narrow(d, end);
        for (int side = 0; side < 2; side++) {
            d->arc[side] = vugi_arc_piece(&s->graph, query[side].arc, d->z, false);
            for (int roof = 0; roof < 2; roof++)
                d->end[roof][side] = end_arc(&s->graph, d, side, roof, end[2 * roof + side].arc);
        }
    }
}

vug_status vugi_scene_make(vug_context *ctx, const vugi_allocator *mem, vugi_columns *columns,
    const double up[3], int32_t body, double volume, const vugi_scene_mouth *mouth,
    size_t mouth_count, const vugi_scene_throat *throat, size_t throat_count,
    const struct vugi_atlas *doors, vugi_scene **out)
{
    vugi_query *query = NULL;
    size_t query_count = 0, asked = 0;
    vugi_scene *s = vugi_calloc(mem, 1, sizeof *s);
    if (!s) {
        vugi_columns_free(mem, columns);
        return vugi_fail_memory(ctx);
    }
    s->mem = *mem;
    atomic_init(&s->owners, 1);
    memcpy(s->up, up, sizeof s->up);
    s->columns = *columns;
    *columns = (vugi_columns){.nx = 0};
    vug_status status = VUG_ERR_MEMORY;
    s->mouth = vugi_alloc(mem, mouth_count, sizeof *s->mouth);
    s->throat = vugi_alloc(mem, throat_count, sizeof *s->throat);
    if (!s->mouth || !s->throat) {
        vugi_fail_memory(ctx);
        goto done;
    }
    if (mouth_count > 0)
        memcpy(s->mouth, mouth, mouth_count * sizeof *mouth);
    s->mouth_count = mouth_count;
    for (size_t m = 0; m < mouth_count; m++)
        s->mouth[m].basin = VUGI_NONE;
    if (throat_count > 0)
        memcpy(s->throat, throat, throat_count * sizeof *throat);
    s->throat_count = throat_count;
    if ((status = vugi_doors_find(ctx, mem, &s->columns, doors, throat, throat_count, &s->door,
             &s->door_count, &s->gate))
        || (status = build_graph(ctx, s, body, volume, mouth, mouth_count, &query, &query_count,
                &asked)))
        goto done;
    size_t sides = 6 * s->door_count;
    bool cut = cut_throats(s, query + asked + sides, query_count - asked - sides);
    place_doors(s, query + asked);
    status = cut ? place_mouths(ctx, s, query) : vugi_fail_memory(ctx);
    if (status)
        goto done;
    status = place_entries(ctx, s);
done:
    vugi_free(mem, query);
    if (status) {
        vugi_scene_free(s);
        return status;
    }
    for (size_t m = 0; m < mouth_count; m++)
        s->mouth[m].span = NULL;
    *out = s;
    return VUG_OK;
}

double vugi_scene_mouth_inside(const vugi_scene_mouth *m)
{
    if (m->inner_lip > m->lip) /* it looks down */
        return m->inner_lip;
    return m->inner_top < m->top ? m->inner_top : 0.5 * (m->top + m->lip);
}

vugi_scene *vugi_scene_share(vugi_scene *s)
{
    atomic_fetch_add(&s->owners, 1);
    return s;
}

void vugi_scene_free(vugi_scene *s)
{
    if (!s || atomic_fetch_sub(&s->owners, 1) > 1)
        return;
    vugi_allocator mem = s->mem;
    vug_mesh_free(s->wall);
    vugi_graph_free(&mem, &s->graph);
    vugi_columns_free(&mem, &s->columns);
    vugi_free(&mem, s->mouth);
    vugi_free(&mem, s->entry);
    vugi_free(&mem, s->landing);
    vugi_free(&mem, s->vent);
    vugi_free(&mem, s->lip);
    vugi_free(&mem, s->throat);
    vugi_free(&mem, s->door);
    vugi_free(&mem, s->gate);
    vugi_atlas_free(s->atlas);
    vugi_free(&mem, s);
}

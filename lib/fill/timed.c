/* SPDX-License-Identifier: MIT
 * The gravity graph as a network. Full arcs are pipes, arcs with a surface are tanks at their end,
 * flooded nodes are junctions; the head at each junction is what makes the flows balance. Steps in
 * time are implicit (backward Euler), so wide arcs, which level at once, cost no small steps; apparent
 * viscosities are renewed until they agree with the flows. At a rate that goes to zero the heads vanish
 * and what is left is the fill without hurry. */
#include "fill/timed.h"

#include "flow/flow.h"

#include <math.h>
#include <string.h>

enum { STEPS = 400, ROUNDS = 40, RETRIES = 24 };

static const double level_tolerance = 0.05; /* mm: level to the eye */

typedef enum end_kind { END_NONE, END_TANK, END_OVER } end_kind;

typedef struct network {
    vugi_run r;
    const vugi_timed *task;
    vugi_resist resist;
    double *volume, *next;     /* of each arc: liquid now, and after the step */
    double *flow;              /* of each arc: upward in it */
    double *source;            /* of each arc: falls onto its surface */
    double *injected;          /* of each node */
    double *head;              /* of each node */
    double *matrix, *right;
    uint32_t *unknown;         /* of each node: its row, or VUGI_NONE */
    uint32_t *basin;           /* of each link: where liquid lands that goes down it, or VUGI_NONE */
    unsigned char *end;        /* of each arc: end_kind */
    bool *pipe;
    size_t rows, stamped;
    double time, rate, lag, peak;
} network;

/* ---- what each arc is, at the levels of now ----------------------------------- */

static bool is_full(const network *n, uint32_t a)
{
    return n->r.level[a] >= n->r.g->arc[a].hi;
}

static bool is_vented(const network *n, uint32_t a)
{
    uint32_t air = n->r.links.air[a];
    return air != VUGI_NONE && n->r.links.vented[air];
}

/* The link by which a full arc runs over, VUGI_NONE if it does not. */
static uint32_t overflow_link(const network *n, uint32_t a)
{
    const vugi_graph *g = n->r.g;
    const vugi_node *to = g->node + g->arc[a].to;
    uint32_t best = VUGI_NONE;
    for (uint32_t k = to->link; k < to->link + to->downs; k++) {
        uint32_t b = g->link[k];
        if (!is_full(n, b) && is_vented(n, b) && (best == VUGI_NONE
                || (g->sill[k] != VUGI_NONE && g->sill[best] != VUGI_NONE
                    && g->columns->lo[g->sill[k]] < g->columns->lo[g->sill[best]])))
            best = k;
    }
    return best;
}

static void classify(network *n)
{
    const vugi_graph *g = n->r.g;
    n->rows = 0;
    for (uint32_t i = 0; i < g->node_count; i++) {
        bool active = g->node[i].ups > 0 && vugi_node_flooded(g, n->r.level, i);
        n->unknown[i] = active ? (uint32_t)n->rows++ : VUGI_NONE;
    }
    for (uint32_t a = 0; a < g->arc_count; a++) {
        bool full = is_full(n, a);
        n->pipe[a] = full && n->unknown[g->arc[a].to] != VUGI_NONE;
        n->end[a] = END_NONE;
        if (!full)
            n->end[a] = is_vented(n, a) ? END_TANK : END_NONE;
        else if (!n->pipe[a] && overflow_link(n, a) != VUGI_NONE)
            n->end[a] = END_OVER;
    }
}

/* The arc onto whose surface liquid falls that comes by arc `above` and would come to rest in basin:
 * going down from above, the first arc that stands on liquid. */
static uint32_t surface_under(const network *n, uint32_t basin, uint32_t above)
{
    const vugi_graph *g = n->r.g;
    if (n->end[basin] != END_NONE || above == VUGI_NONE || is_full(n, above))
        return basin;
    for (;;) {
        const vugi_node *from = g->node + g->arc[above].from;
        uint32_t down = VUGI_NONE;
        for (uint32_t k = from->link; k < from->link + from->downs && down == VUGI_NONE; k++)
            if (!is_full(n, g->link[k]))
                down = g->link[k];
        if (down == VUGI_NONE)
            return above;
        above = down;
    }
}

/* The arc that the inlet feeds. */
static uint32_t fed_arc(const network *n)
{
    uint32_t inlet = n->task->still.inlet[0], basin = vugi_run_start(&n->r, inlet);
    uint32_t above = VUGI_NONE;
    for (size_t i = 0; i < n->r.scene->lip_count && above == VUGI_NONE; i++)
        if (n->r.scene->lip[i].mouth == inlet)
            above = n->r.scene->lip[i].arc;
    return basin == VUGI_NONE ? VUGI_NONE : surface_under(n, basin, above);
}

static vug_status landing_of(network *n, uint32_t a, uint32_t k, uint32_t *basin)
{
    if (n->basin[k] == VUGI_NONE) {
        vug_status status = vugi_run_go_down(&n->r, n->r.links.pool[a], n->r.g->arc[a].to, k,
            n->basin + k);
        if (status)
            return status;
    }
    *basin = n->basin[k];
    if (!n->r.reached[*basin]) {
        const vugi_arc *arc = n->r.g->arc + *basin;
        n->r.reached[*basin] = true;
        if (!vugi_run_note(&n->r, VUG_EVENT_BASIN, VUGI_NONE, arc->from, arc->lo, 0.0))
            return vugi_fail_memory(n->r.ctx);
    }
    return VUG_OK;
}

/* ---- one balance ---------------------------------------------------------------- */

/* Liquid from the inlet, and from arcs that run over, to where it falls. */
static vug_status spread_sources(network *n, uint32_t fed)
{
    const vugi_graph *g = n->r.g;
    memset(n->source, 0, g->arc_count * sizeof *n->source);
    memset(n->injected, 0, g->node_count * sizeof *n->injected);
    if (fed != VUGI_NONE)
        n->source[fed] += n->rate;
    for (int pass = 0; pass < 8; pass++) {
        bool moved = false;
        for (uint32_t a = 0; a < g->arc_count; a++) {
            if (n->end[a] != END_OVER)
                continue;
            bool fed_below = n->unknown[g->arc[a].from] != VUGI_NONE;
            double over = n->source[a] + (pass == 0 && fed_below ? fmax(0.0, n->flow[a]) : 0.0);
            if (over <= 0.0)
                continue;
            uint32_t k = overflow_link(n, a), basin;
            vug_status status = landing_of(n, a, k, &basin);
            if (status)
                return status;
            n->source[a] = 0.0;
            n->source[surface_under(n, basin, g->link[k])] += over;
            moved = true;
        }
        if (!moved)
            break;
    }
    for (uint32_t a = 0; a < g->arc_count; a++) {
        if (n->end[a] != END_NONE || n->source[a] == 0.0)
            continue;
        uint32_t node = n->unknown[g->arc[a].to] != VUGI_NONE && is_full(n, a) ? g->arc[a].to
                                                                              : g->arc[a].from;
        if (n->unknown[node] != VUGI_NONE)
            n->injected[node] += n->source[a];
        n->source[a] = 0.0;
    }
    return VUG_OK;
}

static double way_resistance(const network *n, uint32_t a)
{
    vugi_way way = n->pipe[a] || n->end[a] == END_OVER
        ? vugi_way_through(n->r.scene, &n->resist, a)
        : vugi_way_to(n->r.scene, &n->resist, a, n->r.level[a]);
    /* Never quite nothing, so that the balance of the flows keeps its rank. */
    return 1e-9 + vugi_way_resistance(n->task->fluid, &way, n->flow[a]);
}

/* Area by which a tank's level moves, from its volume now and at the end of the step. */
static double tank_area(const network *n, uint32_t a)
{
    const vugi_graph *g = n->r.g;
    double h = g->columns->h, level = n->r.level[a], to = vugi_arc_level(g, a, n->next[a]);
    double moved = to - level, area = vugi_arc_area(g, a, level);
    if (fabs(moved) > 1e-9)
        area = (n->next[a] - n->volume[a]) / moved;
    return fmax(area, 0.25 * h * h);
}

static void add_link(network *n, uint32_t u, uint32_t v, double conductance)
{
    size_t i = n->unknown[u], j = n->unknown[v], rows = n->rows;
    n->matrix[i * rows + i] += conductance;
    n->matrix[j * rows + j] += conductance;
    n->matrix[i * rows + j] -= conductance;
    n->matrix[j * rows + i] -= conductance;
}

/* Head against which an open end works, and its resistance for a step dt. */
static void end_of(const network *n, uint32_t a, double dt, double *head, double *resistance)
{
    *resistance = way_resistance(n, a);
    *head = n->r.g->arc[a].hi;
    if (n->end[a] == END_TANK) {
        double area = tank_area(n, a);
        *head = n->r.level[a] + dt * n->source[a] / area;
        *resistance += dt / area;
    }
}

/* LDL' of the balance; the heads go into right. */
static void solve(double *m, double *x, size_t n)
{
    for (size_t k = 0; k < n; k++) {
        double d = m[k * n + k];
        if (!(d > 1e-300))
            d = 1e-300;
        for (size_t i = k + 1; i < n; i++) {
            double f = m[i * n + k] / d;
            if (f == 0.0)
                continue;
            for (size_t j = k + 1; j < n; j++)
                m[i * n + j] -= f * m[k * n + j];
            x[i] -= f * x[k];
        }
    }
    for (size_t k = n; k-- > 0;) {
        for (size_t j = k + 1; j < n; j++)
            x[k] -= m[k * n + j] * x[j];
        x[k] /= fmax(m[k * n + k], 1e-300);
    }
}

static void balance(network *n, double dt)
{
    const vugi_graph *g = n->r.g;
    size_t rows = n->rows;
    memset(n->matrix, 0, rows * rows * sizeof *n->matrix);
    for (uint32_t i = 0; i < g->node_count; i++) {
        if (n->unknown[i] == VUGI_NONE)
            continue;
        n->right[n->unknown[i]] = n->injected[i] + 1e-12 * g->node[i].z;
        n->matrix[n->unknown[i] * rows + n->unknown[i]] += 1e-12; /* pools without an end stay put */
    }
    for (uint32_t a = 0; a < g->arc_count; a++) {
        uint32_t from = g->arc[a].from;
        if (n->unknown[from] == VUGI_NONE)
            continue;
        if (n->pipe[a]) {
            add_link(n, from, g->arc[a].to, 1.0 / way_resistance(n, a));
        } else if (n->end[a] != END_NONE) {
            double head, resistance;
            size_t i = n->unknown[from];
            end_of(n, a, dt, &head, &resistance);
            n->matrix[i * rows + i] += 1.0 / resistance;
            n->right[i] += head / resistance;
        }
    }
    solve(n->matrix, n->right, rows);
    for (uint32_t i = 0; i < g->node_count; i++)
        if (n->unknown[i] != VUGI_NONE)
            n->head[i] = n->right[n->unknown[i]];
}

/* New flows from the heads. Returns the greatest change. */
static double renew_flows(network *n, double dt)
{
    const vugi_graph *g = n->r.g;
    double change = 0.0;
    for (uint32_t a = 0; a < g->arc_count; a++) {
        double old = n->flow[a], flow = 0.0, from = n->head[g->arc[a].from];
        if (n->unknown[g->arc[a].from] != VUGI_NONE) {
            if (n->pipe[a]) {
                flow = (from - n->head[g->arc[a].to]) / way_resistance(n, a);
            } else if (n->end[a] != END_NONE) {
                double head, resistance;
                end_of(n, a, dt, &head, &resistance);
                flow = (from - head) / resistance;
            }
        }
        if (n->end[a] == END_TANK)
            flow = fmax(flow, -n->volume[a] / dt - n->source[a]);
        else if (n->end[a] == END_OVER)
            flow = fmax(flow, 0.0);
        n->flow[a] = flow;
        n->next[a] = n->volume[a] + (n->end[a] == END_TANK ? dt * (flow + n->source[a]) : 0.0);
        change = fmax(change, fabs(flow - old));
    }
    return change;
}

static vug_status try_step(network *n, uint32_t fed, double dt)
{
    for (int i = 0; i < ROUNDS; i++) {
        vug_status status = spread_sources(n, fed);
        if (status)
            return status;
        balance(n, dt);
        if (renew_flows(n, dt) <= 1e-6 * n->rate + 1e-9)
            break;
    }
    return VUG_OK;
}

/* ---- one step --------------------------------------------------------------------- */

/* Volume of a tank at the next thing that happens to it as it rises. *z: that level. */
static double next_event(const network *n, uint32_t a, double *z)
{
    const vugi_run *r = &n->r;
    double level = r->level[a];
    *z = r->g->arc[a].hi;
    for (size_t i = 0; i < r->scene->vent_count; i++) {
        const vugi_port *p = r->scene->vent + i;
        double rim = fmax(p->z, r->g->arc[a].lo + r->fuzz);
        if (p->arc == a && r->task->air_open[p->mouth] && rim > level && rim < *z)
            *z = rim;
    }
    for (size_t i = 0; i < r->scene->lip_count; i++) {
        const vugi_port *p = r->scene->lip + i;
        if (p->arc == a && r->task->liquid_open[p->mouth] && !r->spilled[p->mouth]
            && p->z > level + r->fuzz && p->z < *z)
            *z = p->z;
    }
    return vugi_arc_volume(r->g, a, *z);
}

/* Part of the step after which the first tank comes to its next event; 1 or more if none does. */
static double first_part(const network *n)
{
    double part = INFINITY, z;
    for (uint32_t a = 0; a < n->r.g->arc_count; a++) {
        double gain = n->next[a] - n->volume[a];
        if (n->end[a] == END_TANK && gain > 0.0)
            part = fmin(part, (next_event(n, a, &z) - n->volume[a]) / gain);
    }
    return part;
}

static void accept(network *n, double dt)
{
    const vugi_graph *g = n->r.g;
    double slack = 1e-9 * g->capacity, z;
    for (uint32_t a = 0; a < g->arc_count; a++) {
        if (n->end[a] != END_TANK)
            continue;
        double limit = next_event(n, a, &z);
        if (n->next[a] >= limit - slack) {
            n->r.level[a] = z;
            n->volume[a] = limit;
        } else {
            n->volume[a] = fmax(0.0, n->next[a]);
            n->r.level[a] = vugi_arc_level(g, a, n->volume[a]);
        }
    }
    n->time += dt;
    n->r.liquid = vugi_levels_volume(g, n->r.level);
}

/* Greatest difference of level between open surfaces of one pool. */
static double lag_now(const network *n)
{
    double lag = 0.0;
    const vugi_graph *g = n->r.g;
    for (uint32_t a = 0; a < g->arc_count; a++) {
        if (n->end[a] != END_TANK || n->r.links.pool[a] == VUGI_NONE)
            continue;
        for (uint32_t b = 0; b < a; b++)
            if (n->end[b] == END_TANK && n->r.links.pool[b] == n->r.links.pool[a])
                lag = fmax(lag, fabs(n->r.level[a] - n->r.level[b]));
    }
    return lag;
}

static double inlet_pressure(const network *n, uint32_t fed)
{
    const vugi_scene *s = n->r.scene;
    const vugi_mouth *m = s->mouth + n->task->still.inlet[0];
    uint32_t to;
    if (fed == VUGI_NONE)
        return 0.0;
    to = n->r.g->arc[fed].to;
    double head = n->end[fed] != END_NONE || n->unknown[to] == VUGI_NONE ? n->r.level[fed]
                                                                       : n->head[to];
    double above = head - 0.5 * (m->top + m->lip);
    return fmax(0.0, n->task->fluid->density_kg_m3 * VUGI_G * above * VUGI_MM);
}

static bool check_lips(network *n)
{
    vugi_run *r = &n->r;
    for (size_t i = 0; i < r->scene->lip_count; i++) {
        const vugi_port *p = r->scene->lip + i;
        bool wet = r->level[p->arc] > r->before[p->arc]
            || (n->end[p->arc] == END_TANK && n->flow[p->arc] + n->source[p->arc] > 0.0);
        if (!r->task->liquid_open[p->mouth] || r->spilled[p->mouth]
            || r->level[p->arc] < p->z - r->fuzz || !wet)
            continue;
        r->spilled[p->mouth] = true;
        r->stopped |= r->task->stop_at_spill;
        if (!vugi_run_note(r, VUG_EVENT_SPILL, p->mouth, VUGI_NONE, p->z, 0.0))
            return false;
    }
    return true;
}

/* Events noted since the step began get its time. */
static void stamp(network *n)
{
    vugi_history *h = n->r.history;
    for (; n->stamped < h->event_count; n->stamped++)
        h->event[n->stamped].time = n->time;
}

/* Whether liquid that is let in can make any surface rise. */
static bool can_rise(const network *n, uint32_t fed)
{
    if (fed == VUGI_NONE)
        return false;
    if (n->end[fed] != END_NONE)
        return true;
    for (uint32_t a = 0; a < n->r.g->arc_count; a++)
        if (n->end[a] != END_NONE && n->r.links.pool[a] != VUGI_NONE
            && n->r.links.pool[a] == n->r.links.pool[fed])
            return true;
    return false;
}

static double rate_now(const network *n, uint32_t fed, double *until)
{
    const vugi_timed *t = n->task;
    *until = INFINITY;
    if (t->pressure > 0.0) {
        const vugi_mouth *m = n->r.scene->mouth + t->still.inlet[0];
        vugi_orifice hole = vugi_orifice_make(t->fluid, m->diameter, m->length);
        return fmax(0.0, vugi_orifice_flow(&hole, t->pressure - inlet_pressure(n, fed))) / VUGI_MM3;
    }
    double rate = t->rows > 0 ? 0.0 : t->rate;
    for (size_t i = 0; i < t->rows; i++) {
        if (t->table[2 * i] > n->time + 1e-12) {
            *until = t->table[2 * i];
            break;
        }
        rate = t->table[2 * i + 1];
    }
    return rate;
}

/* Moves on by at most dt, to the first event in it. */
static vug_status advance(network *n, uint32_t fed, double dt)
{
    vug_status status = VUG_OK;
    memcpy(n->next, n->volume, n->r.g->arc_count * sizeof *n->next);
    double lo = 0.0;
    for (int i = 0; i < RETRIES; i++) {
        if ((status = try_step(n, fed, dt)))
            return status;
        double part = first_part(n), over = 0.0, z;
        for (uint32_t a = 0; a < n->r.g->arc_count; a++)
            if (n->end[a] == END_TANK)
                over = fmax(over, n->next[a] - next_event(n, a, &z));
        if (!(part < 1.0) || over <= 1e-9 * n->r.g->capacity)
            break;
        dt = lo + (dt - lo) * fmax(part, 1e-6);
    }
    accept(n, dt);
    bool ok = check_lips(n) && vugi_run_rims(&n->r) && vugi_run_merges(&n->r)
        && vugi_run_look(&n->r);
    for (uint32_t a = 0; a < n->r.g->arc_count; a++)
        n->volume[a] = vugi_arc_volume(n->r.g, a, n->r.level[a]);
    stamp(n);
    n->lag = fmax(n->lag, lag_now(n));
    double pressure = inlet_pressure(n, fed);
    n->peak = fmax(n->peak, pressure);
    ok = ok && vugi_run_frame(&n->r, (vugi_frame){.liquid = n->r.liquid, .time = n->time,
        .pressure = pressure});
    return ok ? VUG_OK : vugi_fail_memory(n->r.ctx);
}

/* ---- the run ----------------------------------------------------------------------- */

static vug_status start_basin_event(network *n)
{
    uint32_t basin = vugi_run_start(&n->r, n->task->still.inlet[0]);
    if (basin == VUGI_NONE || !is_vented(n, basin))
        return VUG_OK;
    n->r.reached[basin] = true;
    return vugi_run_note(&n->r, VUG_EVENT_BASIN, VUGI_NONE, n->r.g->arc[basin].from,
        n->r.g->arc[basin].lo, 0.0) ? VUG_OK : vugi_fail_memory(n->r.ctx);
}

static int32_t end_now(const network *n)
{
    bool vented = false;
    for (uint32_t i = 0; i < n->r.links.air_count; i++)
        vented |= n->r.links.vented[i];
    return n->r.liquid <= 1e-6 * n->r.g->capacity ? VUG_END_BLOCKED
        : vented ? VUG_END_CUT_OFF : VUG_END_FULL;
}

/* While liquid comes in. */
static vug_status pour(network *n)
{
    vugi_history *h = n->r.history;
    double volume = fmin(n->task->still.volume, n->r.g->capacity);
    for (;;) {
        double until;
        classify(n);
        uint32_t fed = fed_arc(n);
        n->rate = rate_now(n, fed, &until);
        if (!can_rise(n, fed)) {
            h->end = end_now(n);
            return VUG_OK;
        }
        if (n->rate <= 0.0 && isinf(until)) {
            h->end = VUG_END_SUPPLY; /* the table, or the pressure, gives no more */
            return VUG_OK;
        }
        double dt = n->rate > 0.0 ? n->r.g->capacity / (n->rate * STEPS) : until - n->time;
        dt = fmin(dt, until - n->time);
        double left = n->task->still.volume - n->r.liquid;
        if (n->rate > 0.0 && left <= dt * n->rate)
            dt = left / n->rate;
        vug_status status = advance(n, fed, dt);
        if (status)
            return status;
        if (n->r.stopped || n->task->still.volume - n->r.liquid <= 1e-9 * volume) {
            h->end = n->r.stopped ? VUG_END_SPILL : VUG_END_SUPPLY;
            return VUG_OK;
        }
        if (vugi_cancelled(n->r.ctx))
            return vugi_step(n->r.ctx, 0.8);
        if (h->frame_count > 200 * STEPS)
            return vugi_fail(n->r.ctx, VUG_ERR_CONVERGENCE, "the fill did not end after %zu steps",
                h->frame_count);
    }
}

/* Until all is level, or held by its yield stress. */
static vug_status settle(network *n, vugi_timed_result *result)
{
    double start = n->time;
    n->rate = 0.0;
    for (int i = 0; i < 4 * STEPS; i++) {
        classify(n);
        result->slope = lag_now(n);
        if (result->slope <= level_tolerance) {
            result->settled = n->time;
            return VUG_OK;
        }
        if (n->time > 1e6)
            return VUG_OK;
        /* Ever longer steps, each a small part of the time so far. */
        vug_status status = advance(n, VUGI_NONE, 1e-3 + 0.02 * (n->time - start));
        if (status)
            return status;
    }
    return VUG_OK;
}

static bool alloc_network(network *n)
{
    const vugi_allocator *mem = &n->r.scene->mem;
    size_t arcs = n->r.g->arc_count, nodes = n->r.g->node_count;
    n->volume = vugi_calloc(mem, arcs, sizeof *n->volume);
    n->next = vugi_calloc(mem, arcs, sizeof *n->next);
    n->flow = vugi_calloc(mem, arcs, sizeof *n->flow);
    n->source = vugi_calloc(mem, arcs, sizeof *n->source);
    n->injected = vugi_calloc(mem, nodes, sizeof *n->injected);
    n->head = vugi_calloc(mem, nodes, sizeof *n->head);
    n->matrix = vugi_alloc(mem, nodes * nodes, sizeof *n->matrix);
    n->right = vugi_alloc(mem, nodes, sizeof *n->right);
    n->unknown = vugi_alloc(mem, nodes, sizeof *n->unknown);
    n->basin = vugi_alloc(mem, n->r.g->link_count, sizeof *n->basin);
    n->end = vugi_alloc(mem, arcs, sizeof *n->end);
    n->pipe = vugi_alloc(mem, arcs, sizeof *n->pipe);
    return n->volume && n->next && n->flow && n->source && n->injected && n->head && n->matrix
        && n->right && n->unknown && n->basin && n->end && n->pipe;
}

static void free_network(network *n)
{
    const vugi_allocator *mem = &n->r.scene->mem;
    void *all[] = {n->volume, n->next, n->flow, n->source, n->injected, n->head, n->matrix, n->right,
        n->unknown, n->basin, n->end, n->pipe};
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++)
        vugi_free(mem, all[i]);
    vugi_resist_free(mem, &n->resist);
    vugi_run_free(&n->r);
}

vug_status vugi_timed_run(vug_context *ctx, const vugi_timed *task, vugi_history *history,
    double *level, vugi_timed_result *result)
{
    const vugi_scene *s = task->still.scene;
    network n = {.task = task, .r = {.task = &task->still, .scene = s, .g = &s->graph,
        .history = history, .ctx = ctx, .level = level,
        .fuzz = 1e-9 * fmax(1e-3, s->columns.zhi - s->columns.zlo)}};
    vug_status status = VUG_OK;
    *result = (vugi_timed_result){.settled = -1.0};
    if (!vugi_run_alloc(&n.r) || !alloc_network(&n))
        status = vugi_fail_memory(ctx);
    if (!status)
        status = vugi_resist_build(ctx, &s->mem, s, &n.resist);
    if (status)
        goto done;
    vugi_run_begin(&n.r);
    for (uint32_t a = 0; a < n.r.g->arc_count; a++)
        n.volume[a] = vugi_arc_volume(n.r.g, a, level[a]);
    for (size_t k = 0; k < n.r.g->link_count; k++)
        n.basin[k] = VUGI_NONE;
    if (!vugi_run_look(&n.r) || !vugi_run_frame(&n.r, (vugi_frame){.liquid = n.r.liquid}))
        status = vugi_fail_memory(ctx);
    if (!status && !(status = start_basin_event(&n)))
        status = pour(&n);
    result->time = n.time;
    result->lag = n.lag;
    result->peak_pressure = n.peak;
    if (!status && task->settle && history->end == VUG_END_SUPPLY)
        status = settle(&n, result);
    if (!status && history->end == VUG_END_FULL) {
        if (!vugi_run_note(&n.r, VUG_EVENT_FULL, task->still.inlet[0], VUGI_NONE, 0.0, 0.0))
            status = vugi_fail_memory(ctx);
        stamp(&n);
    }
done:
    free_network(&n);
    return status;
}

/* SPDX-License-Identifier: MIT
 * While the part grows, layer by layer, along the build direction: what has been printed of a cavity is
 * open only where the next layer comes, against the film of the vat. A piece of it without an opening
 * that is printed already is a closed cup: it holds resin, and sucks at the film when the part is
 * lifted. With up as the build direction those pieces are the parts of the gravity graph below a level. */
#include "base/disjoint_set.h"
#include "base/root.h"
#include "cavity/cavity.h"
#include "cavity/spacing.h"
#include "flow/preset.h"
#include "gravity/stage.h"
#include "hydrostatic/liquid.h"

#include <math.h>
#include <string.h>

struct vug_cups {
    vugi_allocator mem;
    vug_cup_info *cup;
    size_t count, capacity;
    double *layer; /* rows of 4 */
    size_t layers;
};

static const vug_cup_options defaults = {.struct_size = sizeof defaults};

vug_status vug_cup_options_init(vug_cup_options *options, size_t size)
{
    return vugi_struct_init(options, size, &defaults, sizeof defaults);
}

void vug_cups_free(vug_cups *cups)
{
    if (!cups)
        return;
    vugi_allocator mem = cups->mem;
    vugi_free(&mem, cups->cup);
    vugi_free(&mem, cups->layer);
    vugi_free(&mem, cups);
}

size_t vug_cups_count(const vug_cups *cups)
{
    return cups ? cups->count : 0;
}

vug_status vug_cups_get(const vug_cups *cups, size_t index, vug_cup_info *info)
{
    if (!cups || !info)
        return VUG_ERR_ARGUMENT;
    if (index >= cups->count)
        return VUG_ERR_NOT_FOUND;
    return vugi_struct_write(NULL, info, cups->cup + index, sizeof *cups->cup, "vug_cup_info");
}

const double *vug_cups_layers(const vug_cups *cups, size_t *row_count)
{
    if (row_count)
        *row_count = cups ? cups->layers : 0;
    return cups ? cups->layer : NULL;
}

/* ---- one layer ------------------------------------------------------------------- */

typedef struct printing {
    const vugi_scene *scene;
    const vug_cup_options *options;
    vug_fluid resin;
    const bool *open;      /* of each mouth: not sealed */
    uint32_t *parent;      /* of each arc: towards the first arc of its piece */
    double *area, *volume; /* of each piece, at its first arc */
    bool *vented;
    uint32_t *cup; /* of each arc, as first of a closed piece: its cup, or VUGI_NONE */
    vug_cups *cups;
} printing;

/* The piece that begins deepest leads. */
static void unite(const vugi_graph *g, uint32_t *parent, uint32_t a, uint32_t b)
{
    a = vugi_sets_find(parent, a);
    b = vugi_sets_find(parent, b);
    if (a == b)
        return;
    bool a_leads = g->arc[a].lo < g->arc[b].lo || (g->arc[a].lo == g->arc[b].lo && a < b);
    parent[a_leads ? b : a] = a_leads ? a : b;
}

/* The arc that stands on the floor at the middle of a mouth. */
static uint32_t arc_at(const vugi_scene *s, uint32_t mouth)
{
    uint32_t span = s->entry[mouth];
    return span == VUGI_NONE ? VUGI_NONE : vugi_arc_at_floor(&s->graph, span);
}

/* The pieces of what lies below z. */
static void find_pieces(printing *p, double z)
{
    const vugi_graph *g = &p->scene->graph;
    for (uint32_t a = 0; a < g->arc_count; a++) {
        p->parent[a] = a;
        p->area[a] = p->volume[a] = 0.0;
        p->vented[a] = false;
    }
    for (uint32_t i = 0; i < g->node_count; i++) {
        const vugi_node *n = g->node + i;
        for (uint32_t k = n->link + 1; k < n->link + n->downs + n->ups && n->z < z; k++)
            unite(g, p->parent, g->link[n->link], g->link[k]);
    }
    for (uint32_t a = 0; a < g->arc_count; a++) {
        if (g->arc[a].lo >= z)
            continue;
        uint32_t root = vugi_sets_find(p->parent, a);
        p->volume[root] += vugi_arc_volume(g, a, z);
        if (z < g->arc[a].hi)
            p->area[root] += vugi_arc_area(g, a, z);
    }
    for (size_t i = 0; i < p->scene->vent_count; i++) {
        const vugi_port *port = p->scene->vent + i;
        if (p->open[port->mouth] && p->scene->mouth[port->mouth].top <= z
            && g->arc[port->arc].lo < z)
            p->vented[vugi_sets_find(p->parent, port->arc)] = true;
    }
    for (uint32_t m = 0; m < p->scene->mouth_count; m++) { /* a bore that stands on its rim */
        uint32_t a = arc_at(p->scene, m);
        if (a != VUGI_NONE && p->open[m] && p->scene->mouth[m].top <= z && g->arc[a].lo < z)
            p->vented[vugi_sets_find(p->parent, a)] = true;
    }
}

/* Flow through the printed openings of a piece under a pressure. */
static double flow_in(const printing *p, uint32_t root, double z, double pressure)
{
    double sum = 0.0;
    for (uint32_t m = 0; m < p->scene->mouth_count; m++) {
        const vugi_scene_mouth *mouth = p->scene->mouth + m;
        bool here = false;
        for (size_t i = 0; i < p->scene->vent_count; i++) {
            const vugi_port *port = p->scene->vent + i;
            here |= port->mouth == m && p->open[m] && mouth->top <= z
                && vugi_sets_find(p->parent, port->arc) == root;
        }
        double flow = 0.0;
        if (here
            && vug_hole_flow_immersed(NULL, &p->resin, mouth->tubes.diameter, mouth->length,
                   &pressure, 1, &flow)
                == VUG_OK)
            sum += mouth->tubes.count * flow;
    }
    return sum;
}

typedef struct inflow {
    const printing *p;
    uint32_t root;
    double z, flow;
} inflow;

static bool draws_less(void *user, double suction)
{
    const inflow *in = user;
    return flow_in(in->p, in->root, in->z, suction) < in->flow;
}

/* Suction that draws so much resin in through the printed openings. */
static double suction(const printing *p, uint32_t root, double z, double flow)
{
    double lo = 0.0, hi = 1.0;
    while (hi < 1e9 && flow_in(p, root, z, hi) < flow)
        hi *= 4.0;
    inflow in = {p, root, z, flow};
    vugi_halve(draws_less, &in, &lo, &hi, 60, 0.0);
    return hi;
}

static bool lets_less_through(void *user, double diameter)
{
    const inflow *in = user;
    double through = 0.0;
    vug_status status = vug_hole_flow_immersed(NULL, &in->p->resin, diameter,
        in->p->options->wall_mm, &in->p->options->suction_pa, 1, &through);
    return status != VUG_OK || through < in->flow;
}

/* Bore of the given length that lets the flow through at the given suction. */
static double relief(const printing *p, double flow)
{
    double lo = 0.05, hi = 50.0;
    inflow in = {.p = p, .flow = flow};
    vugi_halve(lets_less_through, &in, &lo, &hi, 50, 0.0);
    return hi;
}

/* ---- cups ---------------------------------------------------------------------------- */

static bool begin_cup(printing *p, uint32_t root)
{
    const vugi_graph *g = &p->scene->graph;
    const vugi_node *n = g->node + g->arc[root].from;
    vug_cups *c = p->cups;
    if (!vugi_reserve(&c->mem, &c->cup, &c->capacity, c->count + 1, sizeof *c->cup))
        return false;
    vug_cup_info cup = {.struct_size = sizeof cup,
        .cavity = (uint32_t)g->sweep.body,
        .lo_mm = g->arc[root].lo};
    vugi_span_point(g, n->span, n->z, cup.point_mm);
    p->cup[root] = (uint32_t)c->count;
    c->cup[c->count++] = cup;
    return true;
}

/* Cups of the pieces at this layer. row: height, area of closed cups, resin in them, greatest suction
 * of the others. */
static bool add_layer(printing *p, double z, double *row)
{
    const vugi_graph *g = &p->scene->graph;
    const double speed = p->options->lift_mm_s;
    memset(row, 0, 4 * sizeof *row);
    row[0] = z;
    find_pieces(p, z);
    for (uint32_t a = 0; a < g->arc_count; a++) {
        bool piece = g->arc[a].lo < z && vugi_sets_find(p->parent, a) == a && p->area[a] > 0.0;
        if (!piece || p->vented[a]) {
            p->cup[a] = VUGI_NONE;
            if (piece)
                row[3] = fmax(row[3], suction(p, a, z, speed * p->area[a]));
            continue;
        }
        if (p->cup[a] == VUGI_NONE && !begin_cup(p, a))
            return false;
        vug_cup_info *cup = p->cups->cup + p->cup[a];
        cup->hi_mm = z;
        cup->area_mm2 = fmax(cup->area_mm2, p->area[a]);
        cup->resin_mm3 = p->volume[a];
        row[1] += p->area[a];
        row[2] += p->volume[a];
    }
    return true;
}

/* A closed lid over what is left: the cup stays full of resin. */
static void finish_cups(printing *p)
{
    for (size_t i = 0; i < p->cups->count; i++) {
        vug_cup_info *cup = p->cups->cup + i;
        cup->relief_mm = relief(p, p->options->lift_mm_s * cup->area_mm2);
    }
}

static bool alloc_printing(const vugi_allocator *mem, printing *p)
{
    size_t arcs = p->scene->graph.arc_count;
    p->parent = vugi_alloc(mem, arcs, sizeof *p->parent);
    p->area = vugi_alloc(mem, arcs, sizeof *p->area);
    p->volume = vugi_alloc(mem, arcs, sizeof *p->volume);
    p->vented = vugi_alloc(mem, arcs, sizeof *p->vented);
    p->cup = vugi_alloc(mem, arcs, sizeof *p->cup);
    return p->parent && p->area && p->volume && p->vented && p->cup;
}

static void free_printing(const vugi_allocator *mem, printing *p)
{
    vugi_free(mem, p->parent);
    vugi_free(mem, p->area);
    vugi_free(mem, p->volume);
    vugi_free(mem, p->vented);
    vugi_free(mem, p->cup);
}

static vug_status print_layers(vug_context *ctx, printing *p)
{
    const vugi_columns *c = &p->scene->columns;
    vug_cups *cups = p->cups;
    double step = p->options->layer_mm, layers = ceil((c->zhi - c->zlo) / step);
    if (!(layers <= 1e6))
        return vugi_fail(ctx, VUG_ERR_LIMIT,
            "layer_mm %g makes %g layers, at most 1000000 are allowed", step, layers);
    cups->layer = vugi_alloc(&cups->mem, 4 * (size_t)layers, sizeof *cups->layer);
    if (!cups->layer || !alloc_printing(&cups->mem, p))
        return vugi_fail_memory(ctx);
    for (uint32_t a = 0; a < p->scene->graph.arc_count; a++)
        p->cup[a] = VUGI_NONE;
    for (size_t i = 0; i < (size_t)layers; i++) {
        double z = c->zlo + ((double)i + 0.5) * step; /* the middle of each layer */
        if (!add_layer(p, z, cups->layer + 4 * cups->layers++))
            return vugi_fail_memory(ctx);
        if (vugi_cancelled(ctx))
            return vugi_step(ctx, 0.8);
    }
    finish_cups(p);
    return VUG_OK;
}

/* ---- the call -------------------------------------------------------------------------- */

static vug_status read_options(vug_context *ctx, const vug_cavities *c,
    const vug_fluid *given_resin, const vug_cup_options *given, vug_cup_options *o,
    vug_fluid *resin)
{
    *o = defaults;
    vug_status status = vugi_struct_read(ctx, o, sizeof *o, given, "vug_cup_options");
    if (status)
        return status;
    o->layer_mm = o->layer_mm == 0.0 ? 0.05 : o->layer_mm;
    o->lift_mm_s = o->lift_mm_s == 0.0 ? VUGI_VAT_LIFT_MM_S : o->lift_mm_s;
    o->wall_mm = o->wall_mm == 0.0 ? 2.0 : o->wall_mm;
    o->suction_pa = o->suction_pa == 0.0 ? VUGI_VAT_SUCTION_PA : o->suction_pa;
    const double given_number[4] = {o->layer_mm, o->lift_mm_s, o->wall_mm, o->suction_pa};
    static const char *const name[4] = {"layer_mm", "lift_mm_s", "wall_mm", "suction_pa"};
    for (int i = 0; i < 4; i++)
        if (!(given_number[i] > 0.0) || !isfinite(given_number[i]))
            return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%s is %g, it must be above 0", name[i],
                given_number[i]);
    if (c->cavity_count == 0)
        return vugi_fail(ctx, VUG_ERR_NOT_FOUND, "the part has no cavity: hollow it first");
    if (o->cavity < 0 || o->cavity >= (int64_t)c->cavity_count)
        return vugi_fail(ctx, VUG_ERR_NOT_FOUND, "cavity is %d, there are %zu, from 0",
            (int)o->cavity, c->cavity_count);
    if (given_resin)
        return vugi_read_liquid(ctx, "vug_cups_find", given_resin, resin);
    *resin = vugi_vat_resin(VUGI_VAT_KG_M3, VUGI_VAT_PA_S);
    return VUG_OK;
}

vug_status vug_cups_find(vug_context *ctx, const vug_cavities *cavities, const vug_fluid *resin,
    const double *up, const int32_t *roles, size_t role_count, const vug_cup_options *options,
    vug_cups **out)
{
    vug_cup_options own;
    vugi_stage stage = {.cavities = cavities, .sills = VUGI_SILLS_AIR};
    vugi_scene *scene = NULL;
    printing p = {.options = &own};
    int32_t *role = NULL;
    bool *open = NULL, *passes = NULL;
    vug_status status;
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!cavities || !out)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "cavities or out is NULL");
    if ((status = vugi_read_up(ctx, up, stage.up))
        || (status = vugi_read_roles(ctx, cavities, roles, role_count, &role))
        || (status = vugi_open_by_role(ctx, cavities, role, &passes))
        || (status = read_options(ctx, cavities, resin, options, &own, &p.resin)))
        goto done;
    stage.open = passes;
    stage.cavity = (size_t)own.cavity;
    if ((status = vugi_read_spacing(ctx, cavities, stage.cavity, 1, own.columns_across, VUGI_ACROSS,
             own.spacing_mm, &stage.spacing)))
        goto done;
    vugi_progress_begin(ctx, "columns");
    if ((status = vugi_step(ctx, 0.0))
        || (status = vugi_stage_scene(ctx, &ctx->mem, &stage, &scene)))
        goto done;
    open = vugi_alloc(&ctx->mem, scene->mouth_count, sizeof *open);
    for (size_t m = 0; open && m < scene->mouth_count; m++)
        open[m] = passes[scene->mouth[m].opening];
    p.scene = scene;
    p.open = open;
    if ((p.cups = vugi_calloc(&ctx->mem, 1, sizeof *p.cups)))
        p.cups->mem = ctx->mem;
    if (p.cups && open) {
        status = print_layers(ctx, &p);
    } else {
        status = vugi_fail_memory(ctx);
    }
    free_printing(&ctx->mem, &p);
    vugi_scene_free(scene);
    if (!status)
        status = vugi_step(ctx, 1.0);
    if (status) {
        vug_cups_free(p.cups);
        goto done;
    }
    *out = p.cups;
done:
    vugi_free(&ctx->mem, role);
    vugi_free(&ctx->mem, open);
    vugi_free(&ctx->mem, passes);
    return status;
}

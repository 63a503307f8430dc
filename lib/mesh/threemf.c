/* SPDX-License-Identifier: MIT
 * 3MF in: what the build lists, each item and component in its place. */
#include "mesh/load.h"
#include "mesh/threemf_parse.h"

#include "base/sort.h"

#include <string.h>

/* Components multiply: thirty objects that hold the one before twice come to 2^30 pieces. So what they come
 * to is counted, each object once, before any is placed. */
enum {
    MAX_DEPTH = 64,          /* components within components */
    MAX_PIECES = 1000000,    /* objects placed, those without triangles too */
    MAX_TRIANGLES = 50000000 /* of the pieces; 3 GB of memory with their edges */
};

typedef struct weight {
    uint32_t object; /* its number; sorted by part and id */
    uint32_t depth;  /* of the components in it; 0: not looked at yet */
    uint64_t pieces, triangles;
} weight;

typedef struct placing {
    vugi_gather *gather;
    const vugi_3mf_model *model;
    weight *weight; /* for each object, sorted */
    bool told_support;
} placing;

/* ---- objects by number --------------------------------------------------------------------------- */

static int by_number(const void *a, const void *b, const void *user)
{
    const vugi_3mf_object *object = user;
    const vugi_3mf_object *x = object + ((const weight *)a)->object;
    const vugi_3mf_object *y = object + ((const weight *)b)->object;
    if (x->part != y->part)
        return x->part < y->part ? -1 : 1;
    return x->id < y->id ? -1 : x->id > y->id;
}

static int object_to_use(const void *element, const void *key, const void *user)
{
    const vugi_3mf_object *object = user;
    const vugi_3mf_object *x = object + ((const weight *)element)->object;
    const vugi_3mf_use *use = key;
    if (x->part != use->part)
        return x->part < use->part ? -1 : 1;
    return x->id < use->id ? -1 : x->id > use->id;
}

static weight *find(const placing *p, const vugi_3mf_use *use)
{
    const vugi_3mf_model *m = p->model;
    const weight *found = vugi_search(use, p->weight, m->object_count, sizeof *p->weight,
        object_to_use, m->object);
    return found ? p->weight + (found - p->weight) : NULL;
}

static vug_status sort_objects(placing *p)
{
    const vugi_3mf_model *m = p->model;
    vug_context *ctx = m->ctx;
    p->weight = vugi_calloc(&ctx->mem, m->object_count, sizeof *p->weight);
    if (!p->weight)
        return vugi_fail_memory(ctx);
    for (size_t i = 0; i < m->object_count; i++)
        p->weight[i].object = (uint32_t)i;
    if (!vugi_sort(&ctx->mem, p->weight, m->object_count, sizeof *p->weight, by_number, m->object))
        return vugi_fail_memory(ctx);
    for (size_t i = 1; i < m->object_count; i++)
        if (by_number(&p->weight[i - 1], &p->weight[i], m->object) == 0)
            return vugi_fail(ctx, VUG_ERR_FORMAT, "%s: two objects have the number %lu", m->name,
                (unsigned long)m->object[p->weight[i].object].id);
    return VUG_OK;
}

/* ---- what they come to --------------------------------------------------------------------------- */

static vug_status weigh(placing *p, const vugi_3mf_use *use, uint32_t above, weight **out)
{
    const vugi_3mf_model *m = p->model;
    weight *w = find(p, use);
    if (!w)
        return vugi_fail(m->ctx, VUG_ERR_FORMAT, "%s: object %lu is used, but not there", m->name,
            (unsigned long)use->id);
    const vugi_3mf_object *object = m->object + w->object;
    uint64_t pieces = 1, triangles = object->triangle_count;
    uint32_t depth = 1;
    for (size_t i = 0; w->depth == 0 && i < object->component_count; i++) {
        weight *below = NULL;
        vug_status status = above < MAX_DEPTH
            ? weigh(p, m->component + object->component + i, above + 1, &below)
            : vugi_fail(m->ctx, VUG_ERR_FORMAT,
                "%s: components within components, more than %d deep, or in a circle", m->name,
                MAX_DEPTH);
        if (status)
            return status;
        pieces += below->pieces;
        triangles += below->triangles;
        depth = below->depth >= depth ? below->depth + 1 : depth;
        if (pieces > MAX_PIECES || triangles > MAX_TRIANGLES)
            return vugi_fail(m->ctx, VUG_ERR_LIMIT,
                "%s: its components come to more than %d pieces or %d triangles", m->name,
                MAX_PIECES, MAX_TRIANGLES);
    }
    if (w->depth == 0)
        *w = (weight){w->object, depth, pieces, triangles};
    *out = w;
    return above + w->depth <= MAX_DEPTH + 1
        ? VUG_OK
        : vugi_fail(m->ctx, VUG_ERR_FORMAT, "%s: components within components, more than %d deep",
            m->name, MAX_DEPTH);
}

static vug_status weigh_build(placing *p)
{
    const vugi_3mf_model *m = p->model;
    uint64_t pieces = 0, triangles = 0;
    for (size_t i = 0; i < m->item_count; i++) {
        weight *w = NULL;
        vug_status status = weigh(p, m->item + i, 0, &w);
        if (status)
            return status;
        pieces += w->pieces;
        triangles += w->triangles;
        if (pieces > MAX_PIECES || triangles > MAX_TRIANGLES)
            return vugi_fail(m->ctx, VUG_ERR_LIMIT,
                "%s: its build comes to more than %d pieces or %d triangles", m->name, MAX_PIECES,
                MAX_TRIANGLES);
    }
    return VUG_OK;
}

/* ---- into their places ----------------------------------------------------------------------------- */

static vug_status add_mesh(placing *p, const vugi_3mf_object *object, const vugi_place3 *place)
{
    const vugi_allocator *mem = &p->model->ctx->mem;
    if (object->triangle_count == 0)
        return VUG_OK;
    double *xyz = vugi_alloc(mem, object->vertex_count, 3 * sizeof *xyz);
    if (!xyz)
        return vugi_fail_memory(p->model->ctx);
    memcpy(xyz, p->model->xyz + 3 * object->vertex, object->vertex_count * 3 * sizeof *xyz);
    vug_status status = vugi_gather_add(p->gather, xyz, object->vertex_count,
        p->model->triangle + 3 * object->triangle, object->triangle_count, place);
    vugi_free(mem, xyz);
    return status;
}

static vug_status add_use(placing *p, const vugi_3mf_use *use, const vugi_place3 *outer)
{
    const vugi_3mf_object *object = p->model->object + find(p, use)->object;
    if (object->support) {
        if (!p->told_support)
            vugi_warn(p->model->ctx, "%s: an object that is a support is left out", p->model->name);
        p->told_support = true;
        return VUG_OK;
    }
    vugi_place3 place = vugi_place3_join(outer, &use->place);
    vug_status status = add_mesh(p, object, &place);
    for (size_t i = 0; !status && i < object->component_count; i++)
        status = add_use(p, p->model->component + object->component + i, &place);
    return status;
}

static vug_status add_build(vugi_gather *gather, const vugi_3mf_model *model, double unit)
{
    placing p = {.gather = gather, .model = model};
    vugi_place3 scale = vugi_place3_scale(unit);
    vug_status status = sort_objects(&p);
    if (!status)
        status = weigh_build(&p);
    for (size_t i = 0; !status && i < model->item_count; i++) {
        status = vugi_step(model->ctx, 0.6 + 0.4 * (double)i / (double)model->item_count);
        if (!status)
            status = add_use(&p, model->item + i, &scale);
    }
    vugi_free(&model->ctx->mem, p.weight);
    return status;
}

/* ---- the call --------------------------------------------------------------------------------------- */

static vug_status read_parts(const vugi_zip *zip, vugi_3mf_model *model)
{
    char *path = NULL;
    vug_status status = vugi_3mf_find_model(zip, &path);
    if (!status
        && !vugi_reserve(&zip->ctx->mem, &model->part, &model->part_room, 1, sizeof *model->part))
        status = vugi_fail_memory(zip->ctx);
    if (status) {
        vugi_free(&zip->ctx->mem, path);
        return status;
    }
    model->part[model->part_count++] = path;
    for (uint32_t part = 0; !status && part < model->part_count; part++)
        status = vugi_3mf_read_part(zip, model, part);
    return status;
}

static void free_model(vugi_3mf_model *model)
{
    const vugi_allocator *mem = &model->ctx->mem;
    for (size_t i = 0; i < model->part_count; i++)
        vugi_free(mem, model->part[i]);
    vugi_free(mem, model->part);
    vugi_free(mem, model->object);
    vugi_free(mem, model->xyz);
    vugi_free(mem, model->triangle);
    vugi_free(mem, model->component);
    vugi_free(mem, model->item);
}

vug_status vugi_read_3mf(vugi_gather *gather, const unsigned char *data, size_t size,
    double unit_mm)
{
    vugi_zip zip;
    vugi_3mf_model model = {.ctx = gather->ctx, .name = gather->name};
    vug_status status = vugi_zip_open(&zip, gather->ctx, gather->name, data, size);
    if (!status)
        status = read_parts(&zip, &model);
    gather->unit_mm = unit_mm > 0.0 ? unit_mm : model.unit_mm;
    if (!status)
        status = add_build(gather, &model, gather->unit_mm);
    free_model(&model);
    return status;
}

/* SPDX-License-Identifier: MIT
 * 3MF through lib3mf: what the build section lists, each item and component in its place. */
#include "mesh/file.h"
#include "mesh/lib3mf.h"
#include "mesh/load.h"

#include <string.h>

enum {
    MAX_DEPTH = 64, /* components within components */
    SHOWN = 200,
    MISSING_UUID = 0x80B0 /* lib3mf's number for it */
};

/* ---- errors and warnings ---------------------------------------------------------------------- */

static void copy_plain(const char *from, char to[SHOWN])
{
    size_t n = 0;
    for (; from && from[n] && n < SHOWN - 1; n++)
        to[n] = (char)(from[n] >= ' ' && from[n] < 0x7f ? from[n] : '?');
    to[n] = 0;
}

static vug_status fail_3mf(vug_context *ctx, const char *name, lib3mf_object *object,
    const char *what)
{
    char shown[SHOWN];
    uint32_t code = 0;
    const char *reason = NULL;
    if (object)
        lib3mf_getlasterror(object, &code, &reason);
    copy_plain(reason ? reason : "no reason given", shown);
    return vugi_fail(ctx, VUG_ERR_FORMAT, "%s: %s: %s (lib3mf %lu)", name, what, shown,
        (unsigned long)code);
}

/* One of each kind; that identifiers of the production extension are missing changes no shape. */
static void pass_warnings(vugi_gather *gather, lib3mf_object *reader)
{
    uint32_t count = 0, code = 0, needed = 0, last = MISSING_UUID;
    if (lib3mf_reader_getwarningcount(reader, &count))
        return;
    for (uint32_t i = 0; i < count && i < VUGI_WARNINGS; i++) {
        char text[SHOWN] = "", shown[SHOWN];
        if (lib3mf_reader_getwarningutf8(reader, i, &code, text, SHOWN - 1, &needed))
            continue;
        if (code == MISSING_UUID || code == last)
            continue;
        last = code;
        copy_plain(text, shown);
        vugi_warn(gather->ctx, "%s: %s (lib3mf %lu)", gather->name, shown, (unsigned long)code);
    }
}

static void release(lib3mf_object *object)
{
    if (object)
        lib3mf_release(object);
}

/* ---- objects ------------------------------------------------------------------------------------ */

/* The format multiplies a row (x, y, z, 1) from the left; the library hands out fields as
 * field[column of the result][row], so each of its rows gives one coordinate. */
static vugi_place3 place_of(const lib3mf_transform *t)
{
    vugi_place3 place;
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 4; j++)
            place.m[i][j] = (double)t->field[i][j];
    return place;
}

static vug_status fetch_mesh(vugi_gather *gather, lib3mf_object *mesh, lib3mf_vertex *vertices,
    uint32_t vertex_count, lib3mf_triangle *triangles, uint32_t triangle_count, double *xyz)
{
    uint32_t got = 0;
    if (lib3mf_meshobject_getvertices(mesh, vertices, vertex_count, &got)
        || lib3mf_meshobject_gettriangleindices(mesh, triangles, triangle_count, &got))
        return fail_3mf(gather->ctx, gather->name, mesh, "a mesh cannot be read");
    for (size_t v = 0; v < vertex_count; v++)
        for (size_t k = 0; k < 3; k++)
            xyz[3 * v + k] = (double)vertices[v].position[k];
    return VUG_OK;
}

static vug_status add_mesh(vugi_gather *gather, lib3mf_object *mesh, const vugi_place3 *place)
{
    const vugi_allocator *mem = &gather->ctx->mem;
    uint32_t vertex_count = 0, triangle_count = 0;
    if (lib3mf_meshobject_getvertexcount(mesh, &vertex_count)
        || lib3mf_meshobject_gettrianglecount(mesh, &triangle_count))
        return fail_3mf(gather->ctx, gather->name, mesh, "a mesh cannot be read");
    if (triangle_count == 0)
        return VUG_OK;
    lib3mf_vertex *vertices = vugi_alloc(mem, vertex_count, sizeof *vertices);
    lib3mf_triangle *triangles = vugi_alloc(mem, triangle_count, sizeof *triangles);
    double *xyz = vugi_alloc(mem, vertex_count, 3 * sizeof *xyz);
    vug_status status = vertices && triangles && xyz
        ? fetch_mesh(gather, mesh, vertices, vertex_count, triangles, triangle_count, xyz)
        : vugi_fail_memory(gather->ctx);
    vugi_free(mem, vertices);
    if (!status)
        status = vugi_gather_add(gather, xyz, vertex_count, triangles[0].corner, triangle_count,
            place);
    vugi_free(mem, triangles);
    vugi_free(mem, xyz);
    return status;
}

static vug_status add_object(vugi_gather *gather, lib3mf_object *object, const vugi_place3 *place,
    int depth);

static vug_status add_component(vugi_gather *gather, lib3mf_object *component,
    const vugi_place3 *place, int depth)
{
    lib3mf_transform transform;
    lib3mf_object *object = NULL;
    if (lib3mf_component_gettransform(component, &transform)
        || lib3mf_component_getobjectresource(component, &object))
        return fail_3mf(gather->ctx, gather->name, component, "a component cannot be read");
    vugi_place3 own = place_of(&transform);
    vugi_place3 both = vugi_place3_join(place, &own);
    vug_status status = add_object(gather, object, &both, depth + 1);
    release(object);
    return status;
}

static vug_status add_object(vugi_gather *gather, lib3mf_object *object, const vugi_place3 *place,
    int depth)
{
    int32_t is_mesh = 0, is_components = 0;
    uint32_t type = LIB3MF_TYPE_MODEL, count = 0;
    if (depth > MAX_DEPTH)
        return vugi_fail(gather->ctx, VUG_ERR_FORMAT,
            "%s: components within components, more than %d deep", gather->name, MAX_DEPTH);
    if (lib3mf_object_gettype(object, &type) || lib3mf_object_ismeshobject(object, &is_mesh)
        || lib3mf_object_iscomponentsobject(object, &is_components))
        return fail_3mf(gather->ctx, gather->name, object, "an object cannot be read");
    if (type == LIB3MF_TYPE_SUPPORT || type == LIB3MF_TYPE_SOLID_SUPPORT) {
        vugi_warn(gather->ctx, "%s: an object that is a support is left out", gather->name);
        return VUG_OK;
    }
    if (is_mesh)
        return add_mesh(gather, object, place);
    vug_status status = VUG_OK;
    if (is_components && lib3mf_componentsobject_getcomponentcount(object, &count))
        return fail_3mf(gather->ctx, gather->name, object, "components cannot be read");
    for (uint32_t i = 0; !status && i < count; i++) {
        lib3mf_object *component = NULL;
        status = vugi_step(gather->ctx, 0.0);
        if (!status && lib3mf_componentsobject_getcomponent(object, i, &component))
            status = fail_3mf(gather->ctx, gather->name, object, "a component cannot be read");
        if (!status)
            status = add_component(gather, component, place, depth);
        release(component);
    }
    return status;
}

/* ---- the build ------------------------------------------------------------------------------------ */

static vug_status add_item(vugi_gather *gather, lib3mf_object *item, double unit)
{
    lib3mf_transform transform;
    lib3mf_object *object = NULL;
    if (lib3mf_builditem_getobjecttransform(item, &transform)
        || lib3mf_builditem_getobjectresource(item, &object))
        return fail_3mf(gather->ctx, gather->name, item, "a build item cannot be read");
    vugi_place3 own = place_of(&transform), scale = vugi_place3_scale(unit);
    vugi_place3 place = vugi_place3_join(&scale, &own);
    vug_status status = add_object(gather, object, &place, 0);
    release(object);
    return status;
}

static vug_status add_build(vugi_gather *gather, lib3mf_object *model, double unit)
{
    lib3mf_object *items = NULL;
    if (lib3mf_model_getbuilditems(model, &items))
        return fail_3mf(gather->ctx, gather->name, model, "the build cannot be read");
    vug_status status = VUG_OK;
    for (int32_t more = 0; !status;) {
        lib3mf_object *item = NULL;
        if (lib3mf_builditemiterator_movenext(items, &more))
            status = fail_3mf(gather->ctx, gather->name, items, "the build cannot be read");
        if (status || !more)
            break;
        if (lib3mf_builditemiterator_getcurrent(items, &item))
            status = fail_3mf(gather->ctx, gather->name, items, "a build item cannot be read");
        else
            status = add_item(gather, item, unit);
        release(item);
    }
    release(items);
    return status;
}

/* mm per unit of the model; the order is lib3mf's. */
static double unit_of(lib3mf_object *model)
{
    static const double mm[] = {0.001, 1.0, 10.0, 25.4, 304.8, 1000.0};
    uint32_t unit = LIB3MF_UNIT_MILLIMETRE;
    lib3mf_model_getunit(model, &unit);
    return unit < sizeof mm / sizeof *mm ? mm[unit] : 1.0;
}

vug_status vugi_read_3mf(vugi_gather *gather, const unsigned char *data, size_t size,
    double unit_mm)
{
    lib3mf_object *model = NULL, *reader = NULL;
    vug_status status = VUG_OK;
    if (lib3mf_createmodel(&model) || lib3mf_model_queryreader(model, "3mf", &reader))
        status = vugi_fail(gather->ctx, VUG_ERR_MEMORY, "lib3mf cannot start");
    if (!status)
        lib3mf_reader_setstrictmodeactive(reader, 0);
    if (!status && lib3mf_reader_readfrombuffer(reader, data, size))
        status = fail_3mf(gather->ctx, gather->name, reader, "cannot be read");
    if (!status) {
        pass_warnings(gather, reader);
        status = add_build(gather, model, unit_mm > 0.0 ? unit_mm : unit_of(model));
    }
    release(reader);
    release(model);
    return status;
}

/* ---- writing -------------------------------------------------------------------------------------- */

static vug_status fill_mesh(vug_context *ctx, const vug_mesh *mesh, lib3mf_object *object)
{
    const vugi_allocator *mem = &ctx->mem;
    size_t vertices = mesh->vertex_count, triangles = mesh->triangle_count;
    lib3mf_vertex *v = vugi_alloc(mem, vertices, sizeof *v);
    lib3mf_triangle *t = vugi_alloc(mem, triangles, sizeof *t);
    vug_status status = v && t ? VUG_OK : vugi_fail_memory(ctx);
    size_t kept = 0;
    for (size_t i = 0; !status && i < 3 * vertices; i++)
        v[i / 3].position[i % 3] = (float)mesh->xyz[i];
    for (size_t i = 0; !status && i < triangles; i++) {
        const uint32_t *corner = mesh->triangles + 3 * i;
        if (corner[0] != corner[1] && corner[1] != corner[2] && corner[2] != corner[0])
            memcpy(t[kept++].corner, corner, sizeof t->corner); /* the format forbids the others */
    }
    if (!status && lib3mf_meshobject_setgeometry(object, v, (uint32_t)vertices, t, (uint32_t)kept))
        status = fail_3mf(ctx, "3MF", object, "cannot be made");
    vugi_free(mem, v);
    vugi_free(mem, t);
    return status;
}

/* The model in lib3mf: one object, one build item, where it stands. An open mesh is a surface. */
static vug_status make_model(vug_context *ctx, const vug_mesh *mesh, bool closed,
    lib3mf_object *model)
{
    static const lib3mf_transform in_place = {{{1, 0, 0, 0}, {0, 1, 0, 0}, {0, 0, 1, 0}}};
    lib3mf_object *object = NULL, *item = NULL;
    vug_status status = VUG_OK;
    if (lib3mf_model_setunit(model, LIB3MF_UNIT_MILLIMETRE)
        || lib3mf_model_addmeshobject(model, &object))
        status = fail_3mf(ctx, "3MF", model, "cannot be made");
    if (!status)
        status = fill_mesh(ctx, mesh, object);
    if (!status
        && ((!closed && lib3mf_object_settype(object, LIB3MF_TYPE_SURFACE))
            || lib3mf_model_addbuilditem(model, object, &in_place, &item)))
        status = fail_3mf(ctx, "3MF", model, "cannot be made");
    release(item);
    release(object);
    return status;
}

static vug_status write_model(vug_context *ctx, lib3mf_object *model, const char *path)
{
    lib3mf_object *writer = NULL;
    vugi_file_out *file = NULL;
    uint8_t *data = NULL;
    uint64_t size = 0;
    vug_status status = VUG_OK;
    if (lib3mf_model_querywriter(model, "3mf", &writer)
        || lib3mf_writer_getstreamsize(writer, &size))
        status = fail_3mf(ctx, path, writer ? writer : model, "cannot be made");
    if (!status && !(data = vugi_alloc(&ctx->mem, (size_t)size, 1)))
        status = vugi_fail_memory(ctx);
    if (!status && lib3mf_writer_writetobuffer(writer, data, size))
        status = fail_3mf(ctx, path, writer, "cannot be made");
    if (!status)
        status = vugi_step(ctx, 0.8);
    if (!status)
        status = vugi_file_create(ctx, path, &file);
    if (!status) {
        vugi_file_write(file, data, (size_t)size);
        status = vugi_step(ctx, 1.0); /* the last look at cancel: what is committed is there */
        if (status)
            vugi_file_drop(file);
        else
            status = vugi_file_commit(ctx, file);
    }
    vugi_free(&ctx->mem, data);
    release(writer);
    return status;
}

vug_status vugi_write_3mf(vug_context *ctx, const vug_mesh *mesh, bool closed, const char *path)
{
    lib3mf_object *model = NULL;
    if (lib3mf_createmodel(&model))
        return vugi_fail(ctx, VUG_ERR_MEMORY, "lib3mf cannot start");
    vug_status status = make_model(ctx, mesh, closed, model);
    if (!status)
        status = vugi_step(ctx, 0.4);
    if (!status)
        status = write_model(ctx, model, path);
    release(model);
    return status;
}

/* SPDX-License-Identifier: MIT */
#include "mesh/threemf_parse.h"

#include "mesh/number.h"
#include "mesh/xml.h"

#include <string.h>

#define CORE "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
#define CORE_2013 "http://schemas.microsoft.com/3dmanufacturing/2013/01" /* before version 1 */
#define PRODUCTION "http://schemas.microsoft.com/3dmanufacturing/production/2015/06"
#define MATERIAL "http://schemas.microsoft.com/3dmanufacturing/material/2015/02"
#define RELATIONS "http://schemas.openxmlformats.org/package/2006/relationships"
#define IS_MODEL "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"

enum { MAX_PARTS = 10000, MAX_KNOWN = 8, PREFIX = 32 };

/* ---- words ----------------------------------------------------------------------------------- */

static char *copied(const vugi_allocator *mem, const char *text)
{
    size_t length = strlen(text) + 1;
    char *copy = vugi_alloc(mem, length, 1);
    if (copy)
        memcpy(copy, text, length);
    return copy;
}

static const char *without_slash(const char *path)
{
    return path + (*path == '/');
}

static bool is_space(char c)
{
    return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

/* The next word of a list parted by blanks; *length 0 at its end. */
static const char *next_word(const char *at, size_t *length)
{
    while (is_space(*at))
        at++;
    for (*length = 0; at[*length] && !is_space(at[*length]);)
        ++*length;
    return at;
}

/* ---- relations ------------------------------------------------------------------------------- */

typedef struct relations {
    vug_context *ctx;
    char **path;
} relations;

static vug_status on_relation(void *user, const char *name, const char *const *attributes,
    size_t line)
{
    relations *r = user;
    (void)line;
    if (*r->path || strcmp(name, RELATIONS "\nRelationship") != 0)
        return VUG_OK;
    const char *type = vugi_xml_attribute(attributes, "Type");
    const char *target = vugi_xml_attribute(attributes, "Target");
    if (!type || !target || strcmp(type, IS_MODEL) != 0)
        return VUG_OK;
    *r->path = copied(&r->ctx->mem, without_slash(target));
    return *r->path ? VUG_OK : vugi_fail_memory(r->ctx);
}

static vug_status nothing(void *user)
{
    (void)user;
    return VUG_OK;
}

vug_status vugi_3mf_find_model(const vugi_zip *zip, char **path)
{
    relations r = {zip->ctx, path};
    const vugi_xml_calls calls = {.begin = on_relation, .end = nothing, .user = &r};
    *path = NULL;
    vug_status status = vugi_xml_read(zip, "_rels/.rels", &calls, 0.0, 0.0);
    if (!status && !*path)
        status = vugi_fail(zip->ctx, VUG_ERR_FORMAT, "%s: no file in it is named as the model",
            zip->name);
    return status;
}

/* ---- where in the tree ------------------------------------------------------------------------- */

enum {
    OUTSIDE,
    MODEL,
    RESOURCES,
    OBJECT,
    MESH,
    VERTICES,
    VERTEX,
    TRIANGLES,
    TRIANGLE,
    COMPONENTS,
    COMPONENT,
    BUILD,
    ITEM,
    PLACES
};

static const struct {
    const char *name;
    int above;
} tree[PLACES] = {
    [MODEL] = {"model", OUTSIDE},
    [RESOURCES] = {"resources", MODEL},
    [OBJECT] = {"object", RESOURCES},
    [MESH] = {"mesh", OBJECT},
    [VERTICES] = {"vertices", MESH},
    [VERTEX] = {"vertex", VERTICES},
    [TRIANGLES] = {"triangles", MESH},
    [TRIANGLE] = {"triangle", TRIANGLES},
    [COMPONENTS] = {"components", OBJECT},
    [COMPONENT] = {"component", COMPONENTS},
    [BUILD] = {"build", MODEL},
    [ITEM] = {"item", BUILD},
};

typedef struct parsing {
    vugi_3mf_model *model;
    uint32_t part;
    int where;
    size_t skip; /* elements open that are not known */
    bool has[PLACES];
    bool warned;
    char known[MAX_KNOWN][PREFIX]; /* prefixes of extensions that change no shape */
    size_t known_count;
    size_t line;
    const char *const *attributes; /* of the element that begins */
} parsing;

static vug_status fail(const parsing *p, const char *what, const char *value)
{
    return vugi_fail(p->model->ctx, VUG_ERR_FORMAT, "%s: %s, line %zu: %s%s%.60s%s", p->model->name,
        p->model->part[p->part], p->line, what, value ? " \"" : "", value ? value : "",
        value ? "\"" : "");
}

/* Which place a name is; PLACES: none below this one. */
static int place_below(const parsing *p, const char *name)
{
    const char *local = strchr(name, '\n');
    size_t length = local ? (size_t)(local - name) : 0;
    bool core = (length == sizeof CORE - 1 && memcmp(name, CORE, length) == 0)
        || (length == sizeof CORE_2013 - 1 && memcmp(name, CORE_2013, length) == 0);
    for (int i = MODEL; core && i < PLACES; i++)
        if (tree[i].above == p->where && strcmp(local + 1, tree[i].name) == 0)
            return i;
    return PLACES;
}

/* ---- attributes -------------------------------------------------------------------------------- */

static vug_status number_of(const parsing *p, const char *name, double *value)
{
    const char *text = vugi_xml_attribute(p->attributes, name);
    if (!text)
        return fail(p, "there must be an attribute", name);
    if (vugi_number_read((const unsigned char *)text, strlen(text), value) != VUGI_NUMBER_OK)
        return fail(p, "this is no number:", text);
    return VUG_OK;
}

static vug_status count_of(const parsing *p, const char *name, uint32_t *value)
{
    const char *text = vugi_xml_attribute(p->attributes, name);
    if (!text)
        return fail(p, "there must be an attribute", name);
    uint64_t sum = 0;
    size_t digits = 0;
    for (; text[digits] >= '0' && text[digits] <= '9' && sum <= INT32_MAX; digits++)
        sum = 10 * sum + (uint64_t)(text[digits] - '0');
    if (digits == 0 || text[digits] || sum > INT32_MAX)
        return fail(p, "this is no number from 0 to 2147483647:", text);
    *value = (uint32_t)sum;
    return VUG_OK;
}

/* Twelve numbers: the format multiplies a row (x, y, z, 1) from the left, so each of the four rows of
 * three gives a column. */
static vug_status place_of(const parsing *p, vugi_place3 *place)
{
    const char *text = vugi_xml_attribute(p->attributes, "transform"), *at = text;
    *place = vugi_place3_scale(1.0);
    if (!text)
        return VUG_OK;
    size_t length = 0, count = 0;
    for (at = next_word(at, &length); length && count < 12; at = next_word(at + length, &length)) {
        double *value = &place->m[count % 3][count / 3];
        if (vugi_number_read((const unsigned char *)at, length, value) != VUGI_NUMBER_OK)
            return fail(p, "this is no transform:", text);
        count++;
    }
    return length || count < 12 ? fail(p, "this is no transform:", text) : VUG_OK;
}

/* The part that a use names, or the one that it stands in. */
static vug_status part_of(parsing *p, uint32_t *part)
{
    vugi_3mf_model *model = p->model;
    const vugi_allocator *mem = &model->ctx->mem;
    const char *path = vugi_xml_attribute(p->attributes, PRODUCTION "\npath");
    *part = p->part;
    if (!path)
        return VUG_OK;
    for (*part = 0; *part < model->part_count; ++*part)
        if (strcmp(model->part[*part], without_slash(path)) == 0)
            return VUG_OK;
    if (model->part_count == MAX_PARTS)
        return fail(p, "one file too many:", path);
    if (!vugi_reserve(mem, &model->part, &model->part_room, model->part_count + 1,
            sizeof *model->part)
        || !(model->part[model->part_count] = copied(mem, without_slash(path))))
        return vugi_fail_memory(model->ctx);
    model->part_count++;
    return VUG_OK;
}

/* ---- elements ---------------------------------------------------------------------------------- */

static double unit_of(const char *text)
{
    static const struct {
        const char *name;
        double mm;
    } units[] = {{"millimeter", 1.0}, {"micron", 0.001}, {"centimeter", 10.0}, {"inch", 25.4},
        {"foot", 304.8}, {"meter", 1000.0}};
    if (!text)
        return 1.0;
    for (size_t i = 0; i < sizeof units / sizeof *units; i++)
        if (strcmp(text, units[i].name) == 0)
            return units[i].mm;
    return 0.0;
}

/* An extension that a file says is needed, and that may bear shape. */
static void look_for_extensions(parsing *p)
{
    const char *at = vugi_xml_attribute(p->attributes, "requiredextensions");
    size_t length = 0;
    for (at = at ? next_word(at, &length) : at; length; at = next_word(at + length, &length)) {
        bool known = false;
        for (size_t i = 0; i < p->known_count; i++)
            known |= strlen(p->known[i]) == length && memcmp(p->known[i], at, length) == 0;
        char name[PREFIX] = "";
        memcpy(name, at, length < PREFIX ? length : PREFIX - 1);
        if (!known)
            vugi_warn(p->model->ctx,
                "%s: the file needs the extension \"%s\" of 3MF, which is not read; shape may be "
                "missing",
                p->model->name, name);
    }
}

static vug_status begin_model(parsing *p)
{
    const char *unit = vugi_xml_attribute(p->attributes, "unit");
    double mm = unit_of(unit);
    if (mm <= 0.0)
        return fail(p, "this is no unit of 3MF:", unit);
    if (p->part == 0)
        p->model->unit_mm = mm;
    look_for_extensions(p);
    return VUG_OK;
}

static vug_status begin_object(parsing *p)
{
    vugi_3mf_model *m = p->model;
    const char *type = vugi_xml_attribute(p->attributes, "type");
    vugi_3mf_object object = {.part = p->part,
        .vertex = m->vertex_count,
        .triangle = m->triangle_count,
        .component = m->component_count};
    object.support = type && (!strcmp(type, "support") || !strcmp(type, "solidsupport"));
    vug_status status = count_of(p, "id", &object.id);
    if (status)
        return status;
    if (!vugi_reserve(&m->ctx->mem, &m->object, &m->object_room, m->object_count + 1,
            sizeof *m->object))
        return vugi_fail_memory(m->ctx);
    m->object[m->object_count++] = object;
    return VUG_OK;
}

static vug_status begin_vertex(parsing *p)
{
    vugi_3mf_model *m = p->model;
    if (!vugi_reserve(&m->ctx->mem, &m->xyz, &m->vertex_room, m->vertex_count + 1,
            3 * sizeof *m->xyz))
        return vugi_fail_memory(m->ctx);
    double *xyz = m->xyz + 3 * m->vertex_count++;
    m->object[m->object_count - 1].vertex_count++;
    vug_status status = number_of(p, "x", &xyz[0]);
    if (!status)
        status = number_of(p, "y", &xyz[1]);
    return status ? status : number_of(p, "z", &xyz[2]);
}

static vug_status begin_triangle(parsing *p)
{
    vugi_3mf_model *m = p->model;
    if (!vugi_reserve(&m->ctx->mem, &m->triangle, &m->triangle_room, m->triangle_count + 1,
            3 * sizeof *m->triangle))
        return vugi_fail_memory(m->ctx);
    uint32_t *corner = m->triangle + 3 * m->triangle_count++;
    m->object[m->object_count - 1].triangle_count++;
    vug_status status = count_of(p, "v1", &corner[0]);
    if (!status)
        status = count_of(p, "v2", &corner[1]);
    return status ? status : count_of(p, "v3", &corner[2]);
}

static vug_status begin_use(parsing *p, vugi_3mf_use **list, size_t *count, size_t *room)
{
    vug_context *ctx = p->model->ctx;
    vugi_3mf_use use;
    vug_status status = count_of(p, "objectid", &use.id);
    if (!status)
        status = place_of(p, &use.place);
    if (!status)
        status = part_of(p, &use.part);
    if (status)
        return status;
    if (!vugi_reserve(&ctx->mem, list, room, *count + 1, sizeof use))
        return vugi_fail_memory(ctx);
    (*list)[(*count)++] = use;
    return VUG_OK;
}

static vug_status begin_known(parsing *p)
{
    vugi_3mf_model *m = p->model;
    vug_status status = VUG_OK;
    switch (p->where) {
    case MODEL:
        return begin_model(p);
    case OBJECT:
        return begin_object(p);
    case VERTEX:
        return begin_vertex(p);
    case TRIANGLE:
        return begin_triangle(p);
    case COMPONENT:
        status = begin_use(p, &m->component, &m->component_count, &m->component_room);
        m->object[m->object_count - 1].component_count += !status;
        return status;
    case ITEM:
        if (p->part == 0) /* the build of another part is not printed */
            status = begin_use(p, &m->item, &m->item_count, &m->item_room);
        return status;
    default:
        return VUG_OK;
    }
}

/* What is not known is passed over with all in it; among vertices, triangles and components that is told. */
static vug_status begin_unknown(parsing *p, const char *name)
{
    const char *feed = strchr(name, '\n'), *local = feed ? feed + 1 : name;
    if (p->where == OUTSIDE)
        return fail(p, "this is no model of 3MF but", local);
    bool among_data = p->where == VERTICES || p->where == TRIANGLES || p->where == COMPONENTS;
    if (!p->skip && among_data && !p->warned) {
        vugi_warn(p->model->ctx, "%s: %s, line %zu: <%.40s> is not known here and left out",
            p->model->name, p->model->part[p->part], p->line, local);
        p->warned = true;
    }
    p->skip++;
    return VUG_OK;
}

/* ---- what expat tells ---------------------------------------------------------------------------- */

static vug_status on_begin(void *user, const char *name, const char *const *attributes, size_t line)
{
    parsing *p = user;
    int place = p->skip ? PLACES : place_below(p, name);
    p->line = line;
    p->attributes = attributes;
    if (place == PLACES)
        return begin_unknown(p, name);
    p->where = place;
    p->has[place] = true;
    return begin_known(p);
}

static vug_status on_end(void *user)
{
    parsing *p = user;
    if (p->skip)
        p->skip--;
    else
        p->where = tree[p->where].above;
    return VUG_OK;
}

static void on_prefix(void *user, const char *prefix, const char *space)
{
    parsing *p = user;
    if (p->known_count < MAX_KNOWN && strlen(prefix) < PREFIX
        && (strcmp(space, PRODUCTION) == 0 || strcmp(space, MATERIAL) == 0))
        strcpy(p->known[p->known_count++], prefix);
}

vug_status vugi_3mf_read_part(const vugi_zip *zip, vugi_3mf_model *model, uint32_t part)
{
    parsing p = {.model = model, .part = part};
    const vugi_xml_calls calls = {.begin = on_begin,
        .end = on_end,
        .prefix = on_prefix,
        .user = &p};
    double lo = part == 0 ? 0.0 : 0.6; /* how many follow is not known */
    vug_status status = vugi_xml_read(zip, model->part[part], &calls, lo, 0.6);
    if (!status && !p.has[RESOURCES])
        status = fail(&p, "the model has no", "resources");
    if (!status && part == 0 && !p.has[BUILD])
        status = fail(&p, "the model has no", "build");
    return status;
}

/* SPDX-License-Identifier: MIT
 * The calls of lib3mf's C interface, version 1, that we use. Its own header is C++, so they are
 * declared here. A call gives 0 if it worked; a handle is an object to be released. */
#ifndef VUGI_LIB3MF_H
#define VUGI_LIB3MF_H

#include <stdint.h>

typedef void lib3mf_object; /* of any class */
typedef uint32_t lib3mf_result;

typedef struct lib3mf_vertex {
    float position[3];
} lib3mf_vertex;
typedef struct lib3mf_triangle {
    uint32_t corner[3];
} lib3mf_triangle;
typedef struct lib3mf_transform {
    float field[3][4];
} lib3mf_transform;

enum {
    LIB3MF_TYPE_MODEL = 1,
    LIB3MF_TYPE_SUPPORT = 2,
    LIB3MF_TYPE_SOLID_SUPPORT = 3,
    LIB3MF_TYPE_SURFACE = 4
};
enum { LIB3MF_UNIT_MILLIMETRE = 1 };

lib3mf_result lib3mf_createmodel(lib3mf_object **model);
lib3mf_result lib3mf_release(lib3mf_object *object);
lib3mf_result lib3mf_getlasterror(lib3mf_object *object, uint32_t *code, const char **message);

lib3mf_result lib3mf_model_setunit(lib3mf_object *model, uint32_t unit);
lib3mf_result lib3mf_model_getunit(lib3mf_object *model, uint32_t *unit);
lib3mf_result lib3mf_model_queryreader(lib3mf_object *model, const char *kind,
    lib3mf_object **reader);
lib3mf_result lib3mf_model_querywriter(lib3mf_object *model, const char *kind,
    lib3mf_object **writer);
lib3mf_result lib3mf_model_getbuilditems(lib3mf_object *model, lib3mf_object **iterator);
lib3mf_result lib3mf_model_addmeshobject(lib3mf_object *model, lib3mf_object **mesh);
lib3mf_result lib3mf_model_addbuilditem(lib3mf_object *model, lib3mf_object *object,
    const lib3mf_transform *transform, lib3mf_object **item);

lib3mf_result lib3mf_reader_readfrombuffer(lib3mf_object *reader, const uint8_t *data,
    uint64_t size);
lib3mf_result lib3mf_reader_setstrictmodeactive(lib3mf_object *reader, int32_t active);
lib3mf_result lib3mf_reader_getwarningcount(lib3mf_object *reader, uint32_t *count);
lib3mf_result lib3mf_reader_getwarningutf8(lib3mf_object *reader, uint32_t index, uint32_t *code,
    char *text, uint32_t room, uint32_t *needed);
lib3mf_result lib3mf_writer_getstreamsize(lib3mf_object *writer, uint64_t *size);
lib3mf_result lib3mf_writer_writetobuffer(lib3mf_object *writer, uint8_t *data, uint64_t room);

lib3mf_result lib3mf_builditemiterator_movenext(lib3mf_object *iterator, int32_t *has_next);
lib3mf_result lib3mf_builditemiterator_getcurrent(lib3mf_object *iterator, lib3mf_object **item);
lib3mf_result lib3mf_builditem_getobjectresource(lib3mf_object *item, lib3mf_object **object);
lib3mf_result lib3mf_builditem_getobjecttransform(lib3mf_object *item, lib3mf_transform *transform);

lib3mf_result lib3mf_object_gettype(lib3mf_object *object, uint32_t *type);
lib3mf_result lib3mf_object_settype(lib3mf_object *object, uint32_t type);
lib3mf_result lib3mf_object_ismeshobject(lib3mf_object *object, int32_t *is_mesh);
lib3mf_result lib3mf_object_iscomponentsobject(lib3mf_object *object, int32_t *is_components);
lib3mf_result lib3mf_componentsobject_getcomponentcount(lib3mf_object *object, uint32_t *count);
lib3mf_result lib3mf_componentsobject_getcomponent(lib3mf_object *object, uint32_t index,
    lib3mf_object **component);
lib3mf_result lib3mf_component_getobjectresource(lib3mf_object *component, lib3mf_object **object);
lib3mf_result lib3mf_component_gettransform(lib3mf_object *component, lib3mf_transform *transform);

lib3mf_result lib3mf_meshobject_getvertexcount(lib3mf_object *mesh, uint32_t *count);
lib3mf_result lib3mf_meshobject_gettrianglecount(lib3mf_object *mesh, uint32_t *count);
lib3mf_result lib3mf_meshobject_getvertices(lib3mf_object *mesh, lib3mf_vertex *vertices,
    uint32_t room, uint32_t *count);
lib3mf_result lib3mf_meshobject_gettriangleindices(lib3mf_object *mesh, lib3mf_triangle *triangles,
    uint32_t room, uint32_t *count);
lib3mf_result lib3mf_meshobject_setgeometry(lib3mf_object *mesh, const lib3mf_vertex *vertices,
    uint32_t vertex_count, const lib3mf_triangle *triangles, uint32_t triangle_count);

#endif

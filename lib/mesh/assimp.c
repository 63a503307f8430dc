/* SPDX-License-Identifier: MIT
 * glTF through Assimp's C interface. */
#include "mesh/load.h"

#include <assimp/cimport.h>
#include <assimp/postprocess.h>
#include <assimp/scene.h>

#include <string.h>
#include <threads.h>

/* Assimp keeps its last error in one place for the whole process, unguarded, so that two failing
 * imports at once would tear it. This is the library's only variable that is not const. */
static atomic_flag assimp_busy = ATOMIC_FLAG_INIT;

enum { MAX_DEPTH = 256 /* of nodes within nodes */, SHOWN = 200 };

/* ---- from Assimp's scene to pieces ------------------------------------------------------------ */

/* Corners of the mesh's triangles into *triangles; points and lines are left out. */
static size_t copy_faces(const struct aiMesh *mesh, uint32_t *triangles)
{
    size_t count = 0;
    for (unsigned f = 0; f < mesh->mNumFaces; f++) {
        const struct aiFace *face = &mesh->mFaces[f];
        if (face->mNumIndices != 3)
            continue;
        for (int k = 0; k < 3; k++)
            triangles[3 * count + (size_t)k] = face->mIndices[k];
        count++;
    }
    return count;
}

static vug_status add_mesh(vugi_gather *gather, const struct aiMesh *mesh, const vugi_place3 *place)
{
    const vugi_allocator *mem = &gather->ctx->mem;
    double *xyz = vugi_alloc(mem, mesh->mNumVertices, 3 * sizeof *xyz);
    uint32_t *triangles = vugi_alloc(mem, mesh->mNumFaces, 3 * sizeof *triangles);
    vug_status status = VUG_OK;
    if (xyz && triangles) {
        for (unsigned v = 0; v < mesh->mNumVertices; v++) {
            xyz[3 * (size_t)v] = (double)mesh->mVertices[v].x;
            xyz[3 * (size_t)v + 1] = (double)mesh->mVertices[v].y;
            xyz[3 * (size_t)v + 2] = (double)mesh->mVertices[v].z;
        }
        size_t count = copy_faces(mesh, triangles);
        if (count)
            status = vugi_gather_add(gather, xyz, mesh->mNumVertices, triangles, count, place);
    } else {
        status = vugi_fail_memory(gather->ctx);
    }
    vugi_free(mem, xyz);
    vugi_free(mem, triangles);
    return status;
}

static vugi_place3 place_of(const struct aiMatrix4x4 *m)
{
    const vugi_place3 place = {{{(double)m->a1, (double)m->a2, (double)m->a3, (double)m->a4},
        {(double)m->b1, (double)m->b2, (double)m->b3, (double)m->b4},
        {(double)m->c1, (double)m->c2, (double)m->c3, (double)m->c4}}};
    return place;
}

static vug_status add_node(vugi_gather *gather, const struct aiScene *scene,
    const struct aiNode *node, const vugi_place3 *above, int depth)
{
    if (depth > MAX_DEPTH)
        return vugi_fail(gather->ctx, VUG_ERR_FORMAT, "%s: nodes within nodes, more than %d deep",
            gather->name, MAX_DEPTH);
    vugi_place3 own = place_of(&node->mTransformation);
    vugi_place3 place = vugi_place3_join(above, &own);
    vug_status status = VUG_OK;
    for (unsigned i = 0; !status && i < node->mNumMeshes; i++)
        status = add_mesh(gather, scene->mMeshes[node->mMeshes[i]], &place);
    for (unsigned i = 0; !status && i < node->mNumChildren; i++)
        status = add_node(gather, scene, node->mChildren[i], &place, depth + 1);
    return status;
}

/* ---- promises of a file ------------------------------------------------------------------------ */

/* Assimp makes room for as many elements as a file promises before it looks for them; a small
 * file that promises billions would take all memory. So the promises are looked at first. */
enum { MAX_PROMISE_BESIDE = 100000000 /* in a glTF, whose data may lie in another file */ };

static bool number_after(const unsigned char *at, const unsigned char *end, uint64_t *number)
{
    while (at < end && (*at == ' ' || *at == '\t' || *at == ':' || *at == '\r' || *at == '\n'))
        at++;
    bool any = false;
    for (*number = 0; at < end && *at >= '0' && *at <= '9'; at++, any = true)
        *number = *number > UINT64_MAX / 20 ? UINT64_MAX / 20
                                            : 10 * *number + (uint64_t)(*at - '0');
    return any;
}

/* The largest number that follows "count" in the text. */
static uint64_t largest_count(const unsigned char *data, size_t size)
{
    static const char word[] = "\"count\"";
    uint64_t largest = 0, number = 0;
    for (size_t i = 0; i + sizeof word < size; i++)
        if (memcmp(data + i, word, sizeof word - 1) == 0
            && number_after(data + i + sizeof word - 1, data + size, &number) && number > largest)
            largest = number;
    return largest;
}

static vug_status check_promises(const vugi_gather *gather, int32_t format,
    const unsigned char *data, size_t size)
{
    uint64_t promise = largest_count(data, size), limit = size;
    if (format == VUG_FORMAT_GLTF && limit < MAX_PROMISE_BESIDE)
        limit = MAX_PROMISE_BESIDE;
    if (promise <= limit)
        return VUG_OK;
    return vugi_fail(gather->ctx, VUG_ERR_FORMAT,
        "%s: the file promises %llu elements, more than "
        "its %zu bytes can hold",
        gather->name, (unsigned long long)promise, size);
}

/* ---- reading ------------------------------------------------------------------------------------ */

/* A glTF of text may name other files beside it, so it is opened by its path. */
static const struct aiScene *import(const vugi_gather *gather, int32_t format,
    const unsigned char *data, size_t size)
{
    const unsigned flags = aiProcess_Triangulate;
    if (format == VUG_FORMAT_GLTF)
        return aiImportFile(gather->name, flags);
    return aiImportFileFromMemory((const char *)data, (unsigned)size, flags, "glb");
}

static vug_status fail_import(vugi_gather *gather)
{
    char shown[SHOWN];
    const char *reason = aiGetErrorString();
    size_t length = reason ? strlen(reason) : 0;
    if (length >= SHOWN)
        length = SHOWN - 1;
    for (size_t i = 0; i < length; i++)
        shown[i] = (char)(reason[i] >= ' ' && reason[i] < 0x7f ? reason[i] : ' ');
    shown[length] = 0;
    return vugi_fail(gather->ctx, VUG_ERR_FORMAT, "%s: cannot be read: %s", gather->name, shown);
}

vug_status vugi_read_assimp(vugi_gather *gather, int32_t format, const unsigned char *data,
    size_t size, double unit_mm)
{
    if (size > UINT32_MAX)
        return vugi_fail(gather->ctx, VUG_ERR_LIMIT, "%s: %zu bytes; the limit is %lu",
            gather->name, size, (unsigned long)UINT32_MAX);
    vug_status status = check_promises(gather, format, data, size);
    if (status)
        return status;
    bool metres = format == VUG_FORMAT_GLTF || format == VUG_FORMAT_GLB; /* by glTF 2.0, 3.4 */
    double unit = unit_mm > 0.0 ? unit_mm : metres ? 1000.0 : 1.0;
    vugi_place3 place = vugi_place3_scale(unit);
    while (atomic_flag_test_and_set(&assimp_busy))
        thrd_yield();
    const struct aiScene *scene = import(gather, format, data, size);
    status = scene ? VUG_OK : fail_import(gather);
    atomic_flag_clear(&assimp_busy);
    if (!status && scene->mRootNode)
        status = add_node(gather, scene, scene->mRootNode, &place, 0);
    if (scene)
        aiReleaseImport(scene);
    return status;
}

/* SPDX-License-Identifier: MIT
 *
 * vug - plans how a hollow, translucent print is filled with opaque liquid:
 * where the holes go, how the air gets out, what stays trapped, how to turn
 * the part, how to rinse, drain and seal it.
 *
 * Units are in the names. Geometry is in millimetres, material properties are
 * in SI units, angles at this surface are in degrees.
 *
 * Status.   A call that can fail returns vug_status; 0 is success. Results come
 *           back through out-parameters, which stay untouched on failure. The
 *           message of the last failure is kept in the context.
 * Threads.  Use one context from one thread at a time; different contexts may
 *           run in different threads. Objects other than the context never
 *           change once made, so any number of threads may read one.
 *           vug_context_cancel() and vug_context_progress() may be called from
 *           any thread at any time while the context lives.
 * Memory.   The library allocates objects and the caller frees each with its
 *           _free call, which accepts NULL, in any order, also after the context
 *           is gone. Pointers got from an object stay valid until it is freed.
 *           Arrays given to the library are read during the call and not kept.
 * Structs.  The first member of each options or result struct is struct_size.
 *           Set it with the struct's _init call, which also fills the defaults.
 *           NULL options mean the defaults. Members are only ever appended.
 * Results.  The same input and build give the same bytes for any number of
 *           threads.
 */
#ifndef VUG_H
#define VUG_H

#include <stddef.h>
#include <stdint.h>

#define VUG_VERSION_STRING "1.0.0"

#if defined(__cplusplus)
#define VUG_EXTERN extern "C"
#else
#define VUG_EXTERN extern
#endif
#if defined(_WIN32) && !defined(VUG_STATIC) && defined(VUG_BUILD)
#define VUG_API VUG_EXTERN __declspec(dllexport)
#elif defined(_WIN32) && !defined(VUG_STATIC)
#define VUG_API VUG_EXTERN __declspec(dllimport)
#elif defined(__GNUC__)
#define VUG_API VUG_EXTERN __attribute__((visibility("default")))
#else
#define VUG_API VUG_EXTERN
#endif

/* ======================================================================== */
/* base: version, status, context                                           */
/* ======================================================================== */

/** Version of this header. vug_version_number() gives the library's own. */
enum {
    VUG_VERSION_MAJOR = 1,
    VUG_VERSION_MINOR = 0,
    VUG_VERSION_PATCH = 0
};

/** Result of a call: one of the VUG_OK / VUG_ERR_ constants. Numbers are never
 *  reused. Treat a number you do not know as a failure. */
typedef int32_t vug_status;

enum {
    VUG_OK = 0,              /**< it worked */
    VUG_ERR_ARGUMENT = 1,    /**< a pointer, count, index or option is not acceptable */
    VUG_ERR_MEMORY = 2,      /**< the allocator returned NULL */
    VUG_ERR_CANCELLED = 3,   /**< vug_context_cancel() or the progress callback stopped it */
    VUG_ERR_IO = 4,          /**< a file cannot be opened, read or written */
    VUG_ERR_FORMAT = 5,      /**< the content of a file is malformed */
    VUG_ERR_UNSUPPORTED = 6, /**< this build or this format cannot do it */
    VUG_ERR_MESH = 7,        /**< the mesh is not fit for the question asked */
    VUG_ERR_LIMIT = 8,       /**< larger than a documented limit */
    VUG_ERR_DOMAIN = 9,      /**< a number lies outside the range of the formula */
    VUG_ERR_NOT_FOUND = 10,  /**< there is no such thing in this part */
    VUG_ERR_CONVERGENCE = 11,/**< an iteration did not reach its tolerance */
    VUG_ERR_INTERNAL = 12,   /**< a defect of the library: please report it */
    VUG_STATUS_COUNT = 13
};

/** Limits of this version. */
enum {
    VUG_MAX_TRIANGLES = 2147483647, /**< triangles in one mesh */
    VUG_MAX_COORDINATE_MM = 1000000000, /**< size of a coordinate of a mesh, mm: 1000 km */
    VUG_MAX_COLUMNS_ACROSS = 16384, /**< columns along one side of the sampling grid */
    VUG_MAX_OPENINGS = 64,          /**< openings of one cavity set */
    VUG_MAX_THREADS = 256           /**< threads of one context */
};

/** Version of the library as major * 10000 + minor * 100 + patch. Never fails. */
VUG_API int32_t vug_version_number(void);

/** Version of the library, such as "1.0.0". A constant; do not free. Never fails. */
VUG_API const char *vug_version_string(void);

/** Whether an optional feature is built in: 1 or 0; 0 for a name not known.
 *  Names: "openmp", "assimp", "lib3mf". NULL gives 0. */
VUG_API int32_t vug_feature(const char *name);

/** One short English sentence for a status, for messages and logs. A constant;
 *  do not free. A number not known gives "unknown status". */
VUG_API const char *vug_status_string(vug_status status);

/** The status constants' names, such as "VUG_ERR_MEMORY", or "VUG_ERR_UNKNOWN". A
 *  constant; do not free. */
VUG_API const char *vug_status_name(vug_status status);

/** How many named constants vug_constant_name() and vug_constant_value() know. */
VUG_API size_t vug_constant_count(void);

/** Name of constant number index, or NULL past the end. For bindings that cannot read
 *  this header: every constant and limit in it is listed. */
VUG_API const char *vug_constant_name(size_t index);

/** Value of the constant or limit called name, into *value.
 *  Errors: VUG_ERR_ARGUMENT (NULL), VUG_ERR_NOT_FOUND. */
VUG_API vug_status vug_constant_value(const char *name, int64_t *value);

/** A context: allocator, number of threads, progress and cancel, last message. */
typedef struct vug_context vug_context;

/** Allocates size bytes (never 0) aligned for any type, or returns NULL. Called from
 *  the library's own threads too, so it must be thread-safe. */
typedef void *(*vug_alloc_fn)(void *user, size_t size);

/** Changes the size of a block got from the same allocator (ptr may be NULL). */
typedef void *(*vug_realloc_fn)(void *user, void *ptr, size_t size);

/** Frees a block got from the same allocator. ptr is never NULL. */
typedef void (*vug_free_fn)(void *user, void *ptr);

/** Called now and then from the thread that made the long call, with fraction in
 *  0..1 never falling and a short word for the stage. Return 0 to go on; any other
 *  value cancels the call. It must not call into the same context, other than
 *  vug_context_cancel() and vug_context_progress(). */
typedef int32_t (*vug_progress_fn)(void *user, double fraction, const char *stage);

/** Options of a context. The three allocator functions are all set or all NULL (the C
 *  library's). An allocator must outlive every object made with it. */
typedef struct vug_context_options {
    uint32_t struct_size;
    uint32_t threads;          /**< 0: as many as there are processors; at most VUG_MAX_THREADS */
    vug_alloc_fn alloc;
    vug_realloc_fn realloc;
    vug_free_fn free;
    void *alloc_user;
    vug_progress_fn progress;  /**< NULL: none */
    void *progress_user;
} vug_context_options;

/** Fills *options with the defaults. size is sizeof(vug_context_options) as the caller's
 *  compiler sees it. Errors: VUG_ERR_ARGUMENT (NULL, or size smaller than struct_size itself). */
VUG_API vug_status vug_context_options_init(vug_context_options *options, size_t size);

/** Makes a context. options may be NULL. *out is owned by the caller: vug_context_free().
 *  Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY, VUG_ERR_LIMIT (threads). */
VUG_API vug_status vug_context_create(const vug_context_options *options, vug_context **out);

/** Frees a context; NULL is allowed. Objects made with it live on. */
VUG_API void vug_context_free(vug_context *ctx);

/** Message of the last failed call on this context, naming file, line, triangle, value and
 *  limit as they apply; "" if none failed. Valid until the next call on ctx. NULL gives "". */
VUG_API const char *vug_context_message(const vug_context *ctx);

/** Number of warnings gathered since the context was made or vug_context_clear_warnings()
 *  was called; at most 64 are kept. NULL gives 0. */
VUG_API size_t vug_context_warning_count(const vug_context *ctx);

/** Text of warning number index, or NULL past the end. Valid until the next call on ctx. */
VUG_API const char *vug_context_warning(const vug_context *ctx, size_t index);

/** Forgets all warnings. NULL is allowed. */
VUG_API void vug_context_clear_warnings(vug_context *ctx);

/** Number of threads this context uses; NULL gives 0. */
VUG_API uint32_t vug_context_threads(const vug_context *ctx);

/** Asks the call that runs on ctx to stop with VUG_ERR_CANCELLED; if none runs, the next
 *  long call stops at once. Used up by the call it stops. From any thread. NULL is allowed. */
VUG_API void vug_context_cancel(vug_context *ctx);

/** Fraction done, 0..1, of the long call that runs on ctx, or of the last one. From any
 *  thread. NULL gives 0. */
VUG_API double vug_context_progress(const vug_context *ctx);

/** Sets or clears (NULL) the progress callback. Errors: VUG_ERR_ARGUMENT (ctx NULL). */
VUG_API vug_status vug_context_set_progress(vug_context *ctx, vug_progress_fn progress, void *user);

/* ======================================================================== */
/* flow: fluids, tubes and holes, capillarity (no mesh, no allocation)      */
/* ======================================================================== */

/* ======================================================================== */
/* mesh: load, save, weld, shells, measures                                 */
/* ======================================================================== */

/** A triangle mesh, welded: vertices that have equal coordinates are one vertex. */
typedef struct vug_mesh vug_mesh;

/** Health and measures of a mesh or of one of its shells. */
typedef struct vug_mesh_measures {
    uint32_t struct_size;
    int32_t closed;               /**< 1: at every edge as many triangles turn one way as the
                                       other, so the mesh bounds a volume */
    uint64_t vertices;
    uint64_t triangles;
    uint64_t degenerate;          /**< triangles of zero area (two or three corners alike or in line) */
    uint64_t edges_open;          /**< edges with one triangle */
    uint64_t edges_nonmanifold;   /**< edges with more than two triangles */
    uint64_t edges_flipped;       /**< edges of two or more triangles whose turnings do not balance */
    uint64_t shells;              /**< pieces connected by shared edges */
    double volume_mm3;            /**< signed, by the divergence theorem; exact for a closed mesh */
    double area_mm2;
    double centroid_mm[3];        /**< of the enclosed solid if closed, else of the surface */
    double lo_mm[3];              /**< bounds */
    double hi_mm[3];
} vug_mesh_measures;

/** Fills *measures with zeros and struct_size. Errors: VUG_ERR_ARGUMENT. */
VUG_API vug_status vug_mesh_measures_init(vug_mesh_measures *measures, size_t size);

/** Makes a mesh from flat arrays, which are copied. xyz: vertex_count rows of 3 doubles,
 *  xyz_stride bytes from row to row (0: 24). triangles: triangle_count rows of 3 vertex
 *  numbers from 0, counter-clockwise seen from outside the solid, triangle_stride bytes from
 *  row to row (0: 12). Equal vertices are welded. *out: vug_mesh_free().
 *  Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY, VUG_ERR_MESH (a coordinate that is not finite, a
 *  vertex number out of range, no triangle), VUG_ERR_LIMIT. */
VUG_API vug_status vug_mesh_from_arrays(vug_context *ctx,
    const double *xyz, size_t vertex_count, size_t xyz_stride,
    const uint32_t *triangles, size_t triangle_count, size_t triangle_stride,
    vug_mesh **out);

/** Loads an STL file, binary or ASCII, told apart by content. Small faults (missing endsolid,
 *  a wrong triangle count) become warnings on ctx. *out: vug_mesh_free().
 *  Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY, VUG_ERR_IO, VUG_ERR_FORMAT (message with line or
 *  byte), VUG_ERR_MESH, VUG_ERR_LIMIT, VUG_ERR_CANCELLED. */
VUG_API vug_status vug_mesh_load_stl(vug_context *ctx, const char *path, vug_mesh **out);

/** The same from memory; name stands for the file in messages (NULL: "memory"). */
VUG_API vug_status vug_mesh_load_stl_memory(vug_context *ctx, const void *data, size_t size,
    const char *name, vug_mesh **out);

/** Saves a binary STL (coordinates as 32-bit floats), written under a temporary name beside
 *  path and renamed, so path is whole or untouched. Errors: VUG_ERR_ARGUMENT, VUG_ERR_IO,
 *  VUG_ERR_MEMORY, VUG_ERR_LIMIT. */
VUG_API vug_status vug_mesh_save_stl(vug_context *ctx, const vug_mesh *mesh, const char *path);

/** Frees a mesh; NULL is allowed. */
VUG_API void vug_mesh_free(vug_mesh *mesh);

/** Number of vertices after welding; NULL gives 0. */
VUG_API size_t vug_mesh_vertex_count(const vug_mesh *mesh);

/** Number of triangles; NULL gives 0. */
VUG_API size_t vug_mesh_triangle_count(const vug_mesh *mesh);

/** Vertices, 3 doubles each, in mm; owned by the mesh. NULL gives NULL. */
VUG_API const double *vug_mesh_vertices(const vug_mesh *mesh);

/** Triangles, 3 vertex numbers each; owned by the mesh. NULL gives NULL. */
VUG_API const uint32_t *vug_mesh_triangles(const vug_mesh *mesh);

/** Health and measures of the whole mesh. measures->struct_size must be set.
 *  Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY, VUG_ERR_CANCELLED. */
VUG_API vug_status vug_mesh_measure(vug_context *ctx, const vug_mesh *mesh,
    vug_mesh_measures *measures);

/** The shells of a mesh: pieces connected by shared edges, with measures of each. */
typedef struct vug_shells vug_shells;

/** Finds the shells. *out: vug_shells_free(). Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY,
 *  VUG_ERR_CANCELLED. */
VUG_API vug_status vug_mesh_shells(vug_context *ctx, const vug_mesh *mesh, vug_shells **out);

/** Frees shells; NULL is allowed. */
VUG_API void vug_shells_free(vug_shells *shells);

/** Number of shells; NULL gives 0. */
VUG_API size_t vug_shells_count(const vug_shells *shells);

/** Shell number of each triangle, from 0 in order of first triangle; owned by shells. */
VUG_API const uint32_t *vug_shells_of_triangles(const vug_shells *shells);

/** Measures of shell number index. measures->struct_size must be set.
 *  Errors: VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND. */
VUG_API vug_status vug_shells_measure(const vug_shells *shells, size_t index,
    vug_mesh_measures *measures);

#endif /* VUG_H */

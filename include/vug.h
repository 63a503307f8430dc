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
 *           any thread at any time while the context lives. After fork() the
 *           child may go on with what the parent has; when the parent has
 *           worked on several threads before, calls in the child use one.
 * Memory.   The library allocates objects and the caller frees each with its
 *           _free call, which accepts NULL, in any order, also after the context
 *           is gone. Pointers got from an object stay valid until it is freed.
 *           Arrays given to the library are read during the call and not kept.
 * Structs.  The first member of each struct is struct_size, its size as the
 *           caller's compiler sees it. What goes in is set up by its _init call,
 *           which fills the defaults; NULL options mean the defaults. What comes
 *           out has no _init: set struct_size and no more, as in
 *               vug_mesh_measures m = {.struct_size = sizeof m};
 *           Members are only ever appended.
 * Names.    vug_THING_get() reads the _info struct of a thing, or of number index
 *           of several; its parts are read by calls of their names, such as
 *           vug_course_event(). Texts by number end with NULL. The fluid is an
 *           argument wherever one is needed, and NULL is water.
 * Numbers.  Constants have the size and sign of int32_t: each enum has a member
 *           that is -1 and stands for none of it, so every compiler and binding
 *           generator takes it as signed. Versions are macros, for #if.
 * Results.  The same input and build give the same bytes for any number of
 *           threads.
 */
#ifndef VUG_H
#define VUG_H

#include <stddef.h>
#include <stdint.h>

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

/** Version of this header, for #if. vug_version_number() gives the library's own. */
#define VUG_VERSION_MAJOR 1
#define VUG_VERSION_MINOR 0
#define VUG_VERSION_PATCH 0
#define VUG_VERSION_STRING "1.0.0"

/** Result of a call: one of the VUG_OK / VUG_ERR_ constants. Numbers are never
 *  reused. Treat a number you do not know as a failure. */
typedef int32_t vug_status;

enum {
    VUG_ERR_UNKNOWN = -1,    /**< none of these */
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
    VUG_MAX_NONE = -1,
    VUG_MAX_TRIANGLES = 2147483647, /**< triangles in one mesh */
    VUG_MAX_COORDINATE_MM = 1000000000, /**< size of a coordinate of a mesh, mm: 1000 km */
    VUG_MAX_COLUMNS_ACROSS = 16384, /**< columns along one side of the sampling grid */
    VUG_MAX_OPENINGS = 65536,       /**< openings of one cavity set */
    VUG_MAX_THREADS = 256,          /**< threads of one context */
    VUG_MAX_TURNS = 32,             /**< turns of one sequence of a plan */
    VUG_PLAN_SAMPLES = 40,          /**< times that a plan is played with its poses held askew, at most */
    VUG_MAX_BORES = 16              /**< new bores of one plan; a part without openings gets up to
                                       2 more */
};

/** Version of the library as major * 10000 + minor * 100 + patch. Never fails. */
VUG_API int32_t vug_version_number(void);

/** Version of the library, such as "1.0.0". A constant; do not free. Never fails. */
VUG_API const char *vug_version_string(void);

/** Whether an optional feature is built in: 1 or 0; 0 for a name not known.
 *  Names: "openmp", "3mf". NULL gives 0. */
VUG_API int32_t vug_feature(const char *name);

/** One short English sentence for a status, for messages and logs. A constant;
 *  do not free. A number not known gives "unknown status". */
VUG_API const char *vug_status_string(vug_status status);

/** The status constants' names, such as "VUG_ERR_MEMORY", or "VUG_ERR_UNKNOWN". A
 *  constant; do not free. */
VUG_API const char *vug_status_name(vug_status status);

/** Name of constant number index, with its value in *value (may be NULL), or NULL past the end.
 *  For bindings that cannot read this header: every constant and limit in it is listed. */
VUG_API const char *vug_constant(size_t index, int64_t *value);

/** A context: allocator, number of threads, progress and cancel, last message. */
typedef struct vug_context vug_context;

/** Allocates size bytes (never 0) aligned for any type, or returns NULL. Called from
 *  the library's own threads too, so it must be thread-safe. */
typedef void *(*vug_alloc_fn)(void *user, size_t size);

/** Changes the size of a block got from the same allocator (ptr may be NULL). */
typedef void *(*vug_realloc_fn)(void *user, void *ptr, size_t size);

/** Frees a block got from the same allocator. ptr is never NULL. */
typedef void (*vug_free_fn)(void *user, void *ptr);

/** Called now and then from the thread that made the long call, at most 20 times a second and at
 *  the end, with fraction in 0..1 never falling and a short word for the stage. Return 0 to go on; any other
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
    uint64_t memory_limit_bytes; /**< what is allocated with this context, at one time, of which more
                                    fails with VUG_ERR_MEMORY and a message that names the limit and
                                    the need: before the work begins in calls that the man page
                                    lists, by an estimate right to a quarter; 0: no limit */
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

/** Text of warning number index of those gathered since the context was made or
 *  vug_context_clear_warnings() was called, at most 64, or NULL past the end. Valid until the next
 *  call on ctx. */
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

/** Frees an array that a call made for the caller with this context. NULL is allowed. */
VUG_API void vug_free(vug_context *ctx, void *ptr);

/* ======================================================================== */
/* flow: fluids, tubes and holes, capillarity (no mesh, no allocation)      */
/* ======================================================================== */
/* Every call here takes a context for its message only: ctx may be NULL. Each checks its numbers:
 * VUG_ERR_ARGUMENT is a NULL where a result belongs, VUG_ERR_DOMAIN a number (NaN too) outside
 * the range of the formula, with name, value and limits in the message. No result is ever NaN or
 * infinite. Nothing here allocates memory, so any number of threads may call with one context
 * each.
 *
 * A law that is drawn as a curve takes a row: its last three arguments are const double *x,
 * size_t count, double *y, and a single number is a row of 1 (&x, 1, &y). y may be x itself. A
 * bad element stops it, is named, and nothing is written; count 0 is no error. So there is one
 * form of each law, and a curve costs one call from any language. All other sums are answers
 * about one thing and take numbers. */

/** A liquid. Stress against shear rate is tau = yield + consistency * rate^index (Herschel and
 *  Bulkley); index 1 and yield 0 is a plain (Newtonian) liquid whose viscosity is the consistency,
 *  yield 0 a power law, index 1 with a yield stress a Bingham plastic. */
typedef struct vug_fluid {
    uint32_t struct_size;
    double density_kg_m3;          /**< 1 .. 30000 */
    double surface_tension_n_m;    /**< against air; 0 .. 10 */
    double contact_angle_deg;      /**< on the part, through the liquid; 0 (wets) .. 180 */
    double yield_stress_pa;        /**< 0 .. 1e6 */
    double consistency_pa_sn;      /**< 1e-7 .. 1e7; for index 1 the viscosity in Pa s */
    double flow_index;             /**< 0.1 .. 2 */
    double volatile_share;         /**< of its volume, that leaves as it dries: 0 (it sets or cures, all of
                                        it stays) .. 1 */
} vug_fluid;

/** Fills *fluid with the default: clean water at 20 C that wets the part (998.2 kg/m3, 0.07274
 *  N/m, contact angle 0, 1.0016 mPa s, all of it dries). A NULL fluid means the same in every call, but for the
 *  resin of vug_cups_find(). Errors: VUG_ERR_ARGUMENT. */
VUG_API vug_status vug_fluid_init(vug_fluid *fluid, size_t size);

/** Flow through a long round tube, driven by a pressure difference: Rabinowitsch's integral in
 *  closed form for Herschel-Bulkley fluids (Hagen-Poiseuille, power law and Buckingham-Reiner are
 *  its special cases). Laminar and without end losses: for short holes use vug_hole_flow(). A
 *  negative pressure gives a negative flow. radius_mm 1e-4..1e4, length_mm 1e-4..1e7. Errors:
 *  VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN. */
VUG_API vug_status vug_tube_flow(vug_context *ctx, const vug_fluid *fluid, double radius_mm,
    double length_mm, const double *pressure_pa, size_t count, double *flow_mm3_s);

/** The inverse: pressure that drives a flow. Flow 0 needs 0; any other needs more than
 *  vug_tube_start_pressure(). Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN. */
VUG_API vug_status vug_tube_pressure(vug_context *ctx, const vug_fluid *fluid, double radius_mm,
    double length_mm, const double *flow_mm3_s, size_t count, double *pressure_pa);

/** Pressure up to which a yield stress keeps a tube still: 2 length yield / radius. A slot starts
 *  like a tube whose radius is its gap. Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN. */
VUG_API vug_status vug_tube_start_pressure(vug_context *ctx, const vug_fluid *fluid,
    double radius_mm, double length_mm, double *pressure_pa);

/** Flow through a long flat slot of width much larger than gap (for a plain liquid the side walls
 *  take a share of 0.63 gap/width, which this leaves out). width_mm is at least gap_mm. Errors:
 *  VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN. */
VUG_API vug_status vug_slot_flow(vug_context *ctx, const vug_fluid *fluid, double gap_mm,
    double width_mm, double length_mm, const double *pressure_pa, size_t count,
    double *flow_mm3_s);

/** The inverse of vug_slot_flow(). Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN. */
VUG_API vug_status vug_slot_pressure(vug_context *ctx, const vug_fluid *fluid, double gap_mm,
    double width_mm, double length_mm, const double *flow_mm3_s, size_t count,
    double *pressure_pa);

/** Flow of a liquid through a round hole in a wall, which it leaves as a jet into air: any length from 0
 *  (a sharp-edged orifice) to a long tube, from creeping flow to Reynolds numbers of some thousands.
 *  The pressure drop is that of a tube lengthened by 3 pi / 16 radii (the entrance's half of Sampson
 *  1891, with Dagan, Weinbaum, Pfeffer 1982: exact for a plain liquid in creeping flow, an estimate
 *  for others), plus 1.5 dynamic pressures for entrance and jet, plus what a jet that contracts costs
 *  (form of Idelchik, scaled to a discharge coefficient of 0.611 at length 0; none from 2.4 diameters
 *  on), which a slow jet does not (Johansen 1930), plus what developing flow costs from there on
 *  (Shah 1978; 2.25 dynamic pressures in all for a long laminar tube), plus friction of turbulence
 *  above a Reynolds number of 2000 to 4000 (Blasius). Plain liquids, sharp edges: flows are within
 *  10 % of OpenFOAM's at Reynolds numbers of 0.2 to 300 for lengths of 0.1 to 2 diameters, and
 *  discharge coefficients from 2 diameters on within 0.035 of those measured by Lichtarowicz et al.
 *  1965 up to 2e4. Surface tension, which holds a jet back by 2 tension / diameter, is not in it.
 *  diameter_mm 1e-4..1e4, length_mm 0..1e7. Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN. */
VUG_API vug_status vug_hole_flow(vug_context *ctx, const vug_fluid *fluid, double diameter_mm,
    double length_mm, const double *pressure_pa, size_t count, double *flow_mm3_s);

/** The inverse of vug_hole_flow(). Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN. */
VUG_API vug_status vug_hole_pressure(vug_context *ctx, const vug_fluid *fluid, double diameter_mm,
    double length_mm, const double *flow_mm3_s, size_t count, double *pressure_pa);

/** vug_hole_flow() for a hole that leads into more of the same: liquid under liquid, such as a cup in the
 *  vat, or air into air, such as a vent. A slow stream then stirs what is behind the hole, 3 pi / 16
 *  radii more; of that and the dynamic pressure a fast one loses, the root of the squares counts
 *  (Oliveira, Pinho 1997). The same interval. pressure_pa and flow_mm3_s: count numbers each. Errors:
 *  VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN. */
VUG_API vug_status vug_hole_flow_immersed(vug_context *ctx, const vug_fluid *fluid,
    double diameter_mm, double length_mm, const double *pressure_pa, size_t count,
    double *flow_mm3_s);

/** The inverse of vug_hole_flow_immersed(). Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN. */
VUG_API vug_status vug_hole_pressure_immersed(vug_context *ctx, const vug_fluid *fluid,
    double diameter_mm, double length_mm, const double *flow_mm3_s, size_t count,
    double *pressure_pa);

/** Pressure up to which a yield stress keeps a hole still, 2 yield (length + 3 pi / 16 radius) / radius
 *  for one that leads into air. Errors: VUG_ERR_ARGUMENT,
 *  VUG_ERR_DOMAIN. */
VUG_API vug_status vug_hole_start_pressure(vug_context *ctx, const vug_fluid *fluid,
    double diameter_mm, double length_mm, double *pressure_pa);

/** Time for the level above the outer end of a hole to fall from the last to the first of count
 *  levels (2 or more, rising, the first above 0) in a vessel with the given areas there, linear
 *  in between, with air coming in freely elsewhere: the integral of area / flow with the flow of
 *  vug_hole_flow() under the head. A vessel of constant cross-section is two levels with one
 *  area. Capillarity, which may stop it early, is not in it: see vug_capillary_hold_head().
 *  Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN (also when the yield stress stops it above the first
 *  level). */
VUG_API vug_status vug_drain_time(vug_context *ctx, const vug_fluid *fluid, double hole_diameter_mm,
    double wall_mm, const double *level_mm, const double *area_mm2, size_t count, double *time_s);

/** Capillary length sqrt(tension / (density g)). Errors: VUG_ERR_DOMAIN also for no tension. */
VUG_API vug_status vug_capillary_length(vug_context *ctx, const vug_fluid *fluid,
    double *length_mm);

/** Height to which the liquid climbs in a round tube (Jurin); negative if it does not wet. Errors:
 *  VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN. */
VUG_API vug_status vug_capillary_rise(vug_context *ctx, const vug_fluid *fluid, double radius_mm,
    double *height_mm);

/** Pressure with which a round hole draws the liquid in (negative: must be pushed in), which is
 *  also what holds it there against draining or against air: 4 tension cos(angle) / diameter. A
 *  slot draws like a hole of twice its gap. Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN. */
VUG_API vug_status vug_capillary_pressure(vug_context *ctx, const vug_fluid *fluid,
    double diameter_mm, double *pressure_pa);

/** Height of liquid that hangs above a round hole by capillarity, at most: a drop on the wetted
 *  outer rim may bulge to a half ball, 4 tension / (density g diameter). Draining stops there.
 *  Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN. */
VUG_API vug_status vug_capillary_hold_head(vug_context *ctx, const vug_fluid *fluid,
    double diameter_mm, double *head_mm);

/** Largest hole that the meniscus inside it (vug_capillary_pressure) closes against a head of
 *  liquid. 0 when the liquid does not wet the part. Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN. */
VUG_API vug_status vug_capillary_hold_diameter(vug_context *ctx, const vug_fluid *fluid,
    double head_mm, double *diameter_mm);

/** Diameter below which a lone hole, open downward under liquid, lets no air in and so nothing
 *  out. *free_mm: the line of contact moves along the wall at the contact angle (a long bore, a
 *  rounded rim); the marginal stability of the meniscus against tilting, from 0.918 capillary
 *  lengths of radius at 0 degrees (Bretherton 1961) to 1.841 at 90 (first zero of J1'); symmetric
 *  about 90. *pinned_mm: the line sits fast on a sharp rim, 3.832 capillary lengths (first zero of
 *  J1): the upper bound. Tilting or shaking the part, or a second hole, breaks both. Take the
 *  smaller for a liquid that may stay in, the larger for one that must come out. Either result may
 *  be NULL. Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN. */
VUG_API vug_status vug_exchange_diameter(vug_context *ctx, const vug_fluid *fluid, double *free_mm,
    double *pinned_mm);

/** Flow out of a lone hole that lets air in as liquid goes out: its area times the speed of a long
 *  bubble in it, vug_bubble_tube_speed(); 0 up to the diameter where bubbles are held. What one
 *  hole manages alone is far less than vug_hole_flow(); a second hole is worth more than a wider
 *  one. An estimate for a hole some diameters long; a short one passes more. Errors:
 *  VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN. */
VUG_API vug_status vug_exchange_flow(vug_context *ctx, const vug_fluid *fluid, double diameter_mm,
    double *flow_mm3_s);

/** Sizes up to which bubbles stay where they are. *tube_mm: diameter of a standing tube that the
 *  liquid wets, for a long bubble in it: density g radius^2 / tension = 0.842 (Bretherton 1961),
 *  or what the yield stress holds if that is more. *open_mm: diameter of a round bubble in the
 *  open, held by the yield stress alone: 2 yield / (0.143 density g), the yield stress scaled by
 *  density g radius (Tsamopoulos et al. 2008, J. Fluid Mech. 601:123). Either may be NULL.
 *  Errors: VUG_ERR_ARGUMENT (both NULL), VUG_ERR_DOMAIN. */
VUG_API vug_status vug_bubble_held(vug_context *ctx, const vug_fluid *fluid, double *tube_mm,
    double *open_mm);

/** Speed of a long bubble rising in a standing tube: the correlations of Viana et al. 2003 (J.
 *  Fluid Mech. 494:379, 262 experiments, 1 to 3900 mPa s), never above Bretherton's 1961 law near
 *  the stuck diameter, 0 below it. Non-Newtonian liquids by their viscosity at the stress 0.0715
 *  density g diameter, at which a bubble just moves: an estimate. Errors: VUG_ERR_ARGUMENT,
 *  VUG_ERR_DOMAIN. */
VUG_API vug_status vug_bubble_tube_speed(vug_context *ctx, const vug_fluid *fluid,
    const double *diameter_mm, size_t count, double *speed_mm_s);

/** Speed of a lone bubble of the given volume-equivalent radius in the open: drag of Tomiyama et
 *  al. 1998. clean 0: its skin is held by dirt or surfactant (Stokes for small ones; paint, dirty
 *  solvent), 1: the skin moves (Hadamard and Rybczynski). 0 if the yield stress holds it. Errors:
 *  VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN. */
VUG_API vug_status vug_bubble_open_speed(vug_context *ctx, const vug_fluid *fluid, int32_t clean,
    const double *radius_mm, size_t count, double *speed_mm_s);

/** Which drills are at hand. */
enum {
    VUG_DRILLS_NONE = -1,
    VUG_DRILLS_STOCK = 0,  /**< the trade's stock: 0.2 to 25 mm, series of ISO 235 */
    VUG_DRILLS_TENTHS = 1, /**< a set from 1 to 10 mm by 0.1 */
    VUG_DRILLS_HALVES = 2, /**< a set from 1 to 13 mm by 0.5 */
    VUG_DRILLS_COUNT = 3
};

/** Which neighbour of a size. */
enum {
    VUG_AT_NONE = -1,
    VUG_AT_OR_ABOVE = 0,
    VUG_AT_OR_BELOW = 1
};

/** The drill of a series next to diameter_mm: the smallest VUG_AT_OR_ABOVE it, or the largest
 *  VUG_AT_OR_BELOW it. Errors: VUG_ERR_ARGUMENT (no such series or side), VUG_ERR_DOMAIN,
 *  VUG_ERR_NOT_FOUND (the series does not go there). */
VUG_API vug_status vug_drill_next(vug_context *ctx, int32_t series, int32_t side,
    double diameter_mm, double *drill_mm);

/** What to have on the bench for a volume to fill. */
typedef struct vug_supply {
    uint32_t struct_size;
    int32_t within_range;      /**< 1: the count is the same over the syringe's tolerance */
    int64_t loads;             /**< full syringes, the last one part full */
    int64_t loads_low;         /**< if each syringe gives more than it reads */
    int64_t loads_high;        /**< if each gives less than it reads */
    double last_load_ml;       /**< what to draw into the last one */
    double load_tolerance_ml;  /**< of one full load, ISO 7886-1 */
    double paint_ml;           /**< to prepare: volume, loss, dead space of the syringe */
    double cost;               /**< paint_ml at the price, in the price's currency */
} vug_supply;

/** Syringe loads (volume_mm3 / capacity, rounded up), paint with losses, and cost. loss_fraction
 *  0..10 of the volume stays in cups, on walls or runs out (0.1 is common practice, no source).
 *  price_per_l may be 0. One syringe is refilled, so its dead space counts once. syringe_ml is a
 *  nominal capacity, 0.1..1000. Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN. */
VUG_API vug_status vug_supply_for(vug_context *ctx, double volume_mm3, double syringe_ml,
    double loss_fraction, double price_per_l, vug_supply *supply);

/** Liquids of the bench. */
enum {
    VUG_FLUID_NONE = -1,
    VUG_FLUID_WATER = 0,
    VUG_FLUID_ISOPROPANOL = 1,
    VUG_FLUID_RESIN = 2,           /**< photopolymer, not cured */
    VUG_FLUID_CRAFT_ACRYLIC = 3,   /**< as bought */
    VUG_FLUID_THINNED_ACRYLIC = 4, /**< thinned until it runs like ink */
    VUG_FLUID_DYED_EPOXY = 5,      /**< mixed, early in its pot life */
    VUG_FLUID_PLASTER_SLIP = 6,    /**< mixed to pour, before it stiffens */
    VUG_FLUID_COUNT = 7
};

/** Which end of a range. Each property has its own: VUG_LOW gives the lowest of each. */
enum {
    VUG_LEVEL_NONE = -1,
    VUG_LOW = 0,
    VUG_TYPICAL = 1,
    VUG_HIGH = 2,
    VUG_LEVEL_COUNT = 3
};

/** A liquid of the bench at one end of its range. Water and isopropanol follow the temperature (0
 *  to 60 C); the ranges of the others hold for 15 to 30 C. Sources: vug_fluid_preset_source().
 *  Published values of paints and resins scatter widely: measure your own with vug_fluid_fit().
 *  Errors: VUG_ERR_ARGUMENT (no such preset or level), VUG_ERR_DOMAIN (temperature). */
VUG_API vug_status vug_fluid_preset(vug_context *ctx, int32_t preset, int32_t level,
    double temperature_c, vug_fluid *fluid);

/** Name of a preset, such as "craft acrylic"; NULL past the end. A constant; do not free. */
VUG_API const char *vug_fluid_preset_name(int32_t preset);

/** Where the numbers of a preset come from, in a sentence; NULL past the end. A constant. */
VUG_API const char *vug_fluid_preset_source(int32_t preset);

/** Yield stress from a tilted plate: density g thickness sin(slope), for a layer that begins to
 *  creep at that slope. Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN. */
VUG_API vug_status vug_yield_from_slope(vug_context *ctx, double density_kg_m3, double layer_mm,
    double slope_deg, double *yield_stress_pa);

/** Consistency and index from a timed syringe: count (2 or more) pressures at a needle, none alike,
 *  and the flows they gave. *known gives density and yield stress; *fluid is a copy of it with the
 *  numbers found (both may be the same struct). Two points are met exactly, more by least squares
 *  in ln(flow). *misfit (may be NULL): root of the mean square of ln(flow / fitted flow). Errors:
 *  VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN (also a pressure that does not move a fluid of that yield
 *  stress), VUG_ERR_CONVERGENCE (no index from 0.1 to 2 explains the flows). */
VUG_API vug_status vug_fluid_fit(vug_context *ctx, const vug_fluid *known, double needle_bore_mm,
    double needle_length_mm, const double *pressure_pa, const double *flow_mm3_s, size_t count,
    vug_fluid *fluid, double *misfit);

/** A hypodermic needle, regular wall. */
typedef struct vug_needle {
    uint32_t struct_size;
    int32_t gauge;
    double outer_mm;
    double bore_mm;            /**< nominal */
    double bore_least_mm;      /**< ISO 9626 minimum, for the worst case; 0: not known here */
} vug_needle;

/** The needle of a gauge (10 to 30, not all). Errors: VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND. */
VUG_API vug_status vug_needle_by_gauge(vug_context *ctx, int32_t gauge, vug_needle *needle);

/** The widest needle that goes through a hole and leaves gap_mm of its diameter free. Errors:
 *  VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN, VUG_ERR_NOT_FOUND. */
VUG_API vug_status vug_needle_through(vug_context *ctx, double hole_mm, double gap_mm,
    vug_needle *needle);

/** A plastic syringe. */
typedef struct vug_syringe {
    uint32_t struct_size;
    double nominal_ml;
    double plunger_mm;         /**< bore of the barrel; typical, makers differ by 1 % and more */
    double dead_space_ml;      /**< left in it when pushed home, at most (ISO 7886-1) */
    double tolerance_ml;       /**< error of a full load, at most (ISO 7886-1) */
} vug_syringe;

/** The syringe of a nominal capacity: 1, 2, 2.5, 3, 5, 10, 20, 30, 50 or 60 mL. Errors:
 *  VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND. */
VUG_API vug_status vug_syringe_by_size(vug_context *ctx, double nominal_ml, vug_syringe *syringe);

/** Error that ISO 7886-1 allows when expelled_ml leave a syringe. Errors: VUG_ERR_ARGUMENT,
 *  VUG_ERR_DOMAIN. */
VUG_API vug_status vug_syringe_tolerance(vug_context *ctx, double nominal_ml, double expelled_ml,
    double *tolerance_ml);

/** Syringe, needle and what they work against. */
typedef struct vug_injection {
    uint32_t struct_size;
    double needle_bore_mm;     /**< 1.194, 16 gauge */
    double needle_length_mm;   /**< 25 */
    double plunger_mm;         /**< 14.48, 10 mL */
    double friction_n;         /**< of the plunger: 3 (from memory; feel your own) */
    double back_pressure_pa;   /**< inside the part: 0 */
    double load_ml;            /**< 10 */
} vug_injection;

/** What happens at the syringe. */
typedef struct vug_injected {
    uint32_t struct_size;
    double flow_mm3_s;
    double pressure_pa;        /**< in the barrel, above the outside */
    double thumb_force_n;
    double load_time_s;        /**< for one load */
    double jet_speed_mm_s;     /**< mean speed in the needle */
    double reynolds;           /**< in the needle */
} vug_injected;

/** Fills *injection with the defaults given at its members. Errors: VUG_ERR_ARGUMENT. */
VUG_API vug_status vug_injection_init(vug_injection *injection, size_t size);

/** Pressure, thumb force and time for a flow, or flow and time for a thumb force: one of the two
 *  is above 0, the other 0. injection NULL: the defaults. Errors: VUG_ERR_ARGUMENT (both given,
 *  or none), VUG_ERR_DOMAIN (also a force that does not move it). */
VUG_API vug_status vug_inject(vug_context *ctx, const vug_fluid *fluid,
    const vug_injection *injection, double flow_mm3_s, double thumb_force_n,
    vug_injected *injected);

/** A sum of some inputs, for vug_interval_of(): writes *answer and returns VUG_OK, or an error. */
typedef vug_status (*vug_sum_fn)(void *user, const double *input, double *answer);

/** An answer as a range. */
typedef struct vug_interval {
    uint32_t struct_size;
    int32_t decides;           /**< input that alone moves the answer most; -1: none does */
    double low;
    double typical;
    double high;
    double share;              /**< of high - low that this input gives alone, 0..1 */
} vug_interval;

/** Range of a sum over ranges of count (1..12) inputs: the sum at every corner, at the typical
 *  point and with one input at its ends; exact when the sum only rises or only falls with each input. spread (may be NULL): count
 *  answers' spreads with one input over its range and the rest typical. Errors: VUG_ERR_ARGUMENT,
 *  VUG_ERR_DOMAIN (low above typical or typical above high), what the sum returns. */
VUG_API vug_status vug_interval_of(vug_context *ctx, vug_sum_fn sum, void *user, const double *low,
    const double *typical, const double *high, size_t count, double *spread,
    vug_interval *interval);

/** What makes a hole as wide as it must be. */
enum {
    VUG_HOLE_NONE = -1,
    VUG_HOLE_INJECT = 0,       /**< liquid pressed through it by the thumb */
    VUG_HOLE_NEEDLE = 1,       /**< the needle must go through, with room for air */
    VUG_HOLE_AIR = 2,          /**< air must leave through it */
    VUG_HOLE_DRAIN = 3,        /**< it must drain in time */
    VUG_HOLE_EXCHANGE = 4,     /**< air must come in where liquid goes out */
    VUG_HOLE_SUCTION = 5,      /**< it relieves the suction of a lifted print */
    VUG_HOLE_CONDITION_COUNT = 6
};

/** What a hole must do. A condition whose first member is 0 is not asked. */
typedef struct vug_hole_task {
    uint32_t struct_size;
    int32_t drills;            /**< VUG_DRILLS_STOCK */
    double wall_mm;            /**< length of the hole: 2 */
    double inject_mm3_s;       /**< through the hole itself, nozzle pressed on: 0 */
    double thumb_force_n;      /**< net of friction: 30 */
    double plunger_mm;         /**< 14.48 */
    double needle_mm;          /**< outer diameter: 0 */
    double needle_gap_mm;      /**< of the diameter, left for air: 0.4 (common practice) */
    double air_mm3_s;          /**< air that leaves: 0 */
    double air_pressure_pa;    /**< that may drive it, film of liquid in the hole included: 500 */
    double drain_s;            /**< time allowed: 0 */
    double drain_area_mm2;     /**< of the vessel: 1000 */
    double drain_from_mm;      /**< level above the outer end of the hole: 50 */
    double drain_to_mm;        /**< 1 */
    int32_t exchange;          /**< 0; 1: free line of contact; 2: pinned on a sharp rim */
    int32_t reserved;          /**< 0 */
    double lift_area_mm2;      /**< of the cup on the film, while it is printed: 0 */
    double lift_mm_s;          /**< 1 */
    double suction_pa;         /**< allowed: 2000, as in vug_cups_find() */
    double hold_head_mm;       /**< head that capillarity must hold while plugging: 0 */
    double vat_kg_m3;          /**< density of the resin that the cup sucks in: 1100, as in vug_cups_find() */
    double vat_pa_s;           /**< its viscosity: 0.2 */
} vug_hole_task;

/** The hole to drill. */
typedef struct vug_hole_choice {
    uint32_t struct_size;
    int32_t decides;           /**< VUG_HOLE_ condition; VUG_HOLE_NONE: none asked */
    double least_mm;           /**< the widest of the conditions */
    double drill_mm;           /**< next drill at or above, and at or above 1.15 exchange_mm, a limit */
    double margin;             /**< drill / least - 1; no hole is to be at the limit of exchange itself */
    double inject_mm;          /**< least diameter of each condition; 0: not asked */
    double needle_mm;
    double air_mm;
    double drain_mm;
    double exchange_mm;
    double suction_mm;
    double hold_mm;            /**< widest hole that holds hold_head_mm; 0: none, or not asked */
    int32_t holds;             /**< 1: the drill is within hold_mm; 0: cover it while plugging */
    int32_t reserved;
} vug_hole_choice;

/** Fills *task with the defaults given at its members. Errors: VUG_ERR_ARGUMENT. */
VUG_API vug_status vug_hole_task_init(vug_hole_task *task, size_t size);

/** The hole that meets every condition asked, the drill for it, and which condition decides.
 *  Errors: VUG_ERR_ARGUMENT (no condition asked), VUG_ERR_DOMAIN (also a condition no hole up to 1
 *  m meets), VUG_ERR_NOT_FOUND (no such drill). */
VUG_API vug_status vug_hole_choose(vug_context *ctx, const vug_fluid *fluid,
    const vug_hole_task *task, vug_hole_choice *choice);

/** A fluid's properties, as inputs that may decide. */
enum {
    VUG_PROPERTY_NONE = -1,
    VUG_PROPERTY_DENSITY = 0,
    VUG_PROPERTY_TENSION = 1,
    VUG_PROPERTY_ANGLE = 2,
    VUG_PROPERTY_YIELD = 3,
    VUG_PROPERTY_CONSISTENCY = 4,
    VUG_PROPERTY_INDEX = 5,
    VUG_PROPERTY_COUNT = 6
};

/** vug_hole_choose() for a fluid known as a range: least_mm as a range, with the property that
 *  decides it, and the choice for the worst corner. Either result may be NULL. Errors: as
 *  vug_hole_choose(); VUG_ERR_DOMAIN when low, typical and high of a property are not in order. */
VUG_API vug_status vug_hole_choose_range(vug_context *ctx, const vug_fluid *low,
    const vug_fluid *typical, const vug_fluid *high, const vug_hole_task *task,
    vug_interval *least_mm, vug_hole_choice *worst);

/** vug_bubble_tube_speed() for a fluid known as a range: mm/s, from all corners of its six properties.
 *  Near the diameter where bubbles are stuck the low end is 0: then none may pass. Errors:
 *  VUG_ERR_ARGUMENT; as vug_bubble_tube_speed(); VUG_ERR_DOMAIN when low, typical and high of a
 *  property are not in order. */
VUG_API vug_status vug_bubble_tube_range(vug_context *ctx, const vug_fluid *low,
    const vug_fluid *typical, const vug_fluid *high, double diameter_mm, vug_interval *speed_mm_s);

/** Least solvent for each of a number of equal soaks to reach the target, by the same law. Errors:
 *  VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN (also a target that so few cycles cannot reach at that
 *  mixing). */
VUG_API vug_status vug_rinse_solvent(vug_context *ctx, double residue_mm3, double mixing,
    double target_fraction, int32_t cycles, double *fresh_mm3);

/** Two ways to spend solvent on one cavity. */
typedef struct vug_rinse {
    uint32_t struct_size;
    int32_t soak_cycles;       /**< fill, shake, drain to the residue */
    double soak_mm3;           /**< solvent that takes */
    double soak_reached;       /**< fraction of the concentration left */
    double soak_factor;        /**< fraction that each cycle leaves */
    double flush_mm3;          /**< solvent run through the full, stirred cavity; first fill too */
    double least_mm3;          /**< what very many very small rinses would take */
} vug_rinse;

/** Soaking against flushing, for a cavity and the residue that draining leaves in it (from the
 *  drain simulation), until the concentration is target_fraction of what it was. Each soak fills
 *  the cavity with fresh = cavity - residue of solvent and leaves 1 - mixing fresh / (mixing
 *  residue + fresh). mixing is the share of the residue that meets the solvent: 1 well shaken
 *  (residue / cavity), towards 0 a blind pocket that none reaches. Solvent vapour burns and resin
 *  irritates skin: gloves, air, no flame, and the data sheets. Errors: VUG_ERR_ARGUMENT,
 *  VUG_ERR_DOMAIN (also above 1e6 cycles). */
VUG_API vug_status vug_rinse_compare(vug_context *ctx, double cavity_mm3, double residue_mm3,
    double mixing, double target_fraction, vug_rinse *rinse);

/** Time for liquid standing in a blind tip of a depth to be washed out by diffusion alone into
 *  fresh solvent at its mouth, to fraction_left of what was in it (Crank 1975, plane sheet, one
 *  face). Diffusivities in liquids are near 1e-9 m2/s, in resin 1e-11 (from memory). Errors:
 *  VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN. */
VUG_API vug_status vug_soak_time(vug_context *ctx, double depth_mm, double diffusivity_m2_s,
    double fraction_left, double *time_s);

/** A round plug: *volume_mm3 of glue or filler, pi/4 diameter^2 depth, and *shear_pa, the shear
 *  stress on the glue around it when it holds pressure_pa, pressure diameter / (4 depth). Either
 *  may be NULL. Errors: VUG_ERR_ARGUMENT (both NULL), VUG_ERR_DOMAIN. */
VUG_API vug_status vug_plug(vug_context *ctx, double diameter_mm, double depth_mm,
    double pressure_pa, double *volume_mm3, double *shear_pa);

/** Pressure of a head of liquid: density g head. Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN. */
VUG_API vug_status vug_head_pressure(vug_context *ctx, const vug_fluid *fluid, double head_mm,
    double *pressure_pa);

enum {
    VUG_SHELL_NONE = -1,
    VUG_SHELL_SPHERE = 0,
    VUG_SHELL_CYLINDER = 1,    /**< closed ends, long */
    VUG_SHELL_COUNT = 2
};

/** A sealed part, as a round shell of the same size. */
typedef struct vug_shell {
    uint32_t struct_size;
    int32_t shape;             /**< VUG_SHELL_SPHERE */
    double inner_radius_mm;    /**< 18 */
    double wall_mm;            /**< 2 */
    double modulus_pa;         /**< 2e9: cured resin, 1.5e9 to 3e9 (from memory) */
    double poisson;            /**< 0.35 */
    double expansion_low_per_k;  /**< linear: 70e-6 (from memory) */
    double expansion_high_per_k; /**< linear: 110e-6 (from memory) */
} vug_shell;

/** Fills *shell with the defaults given at its members. Errors: VUG_ERR_ARGUMENT. */
VUG_API vug_status vug_shell_init(vug_shell *shell, size_t size);

/** What a pressure inside does to a shell (Lame's thick shell): *growth, of the cavity, relative,
 *  and *stress_pa, the largest tension in the wall, hoop stress at the inner face. Either may be
 *  NULL; shell NULL: defaults. Errors: VUG_ERR_ARGUMENT (both NULL), VUG_ERR_DOMAIN. */
VUG_API vug_status vug_shell_under(vug_context *ctx, const vug_shell *shell, double pressure_pa,
    double *growth, double *stress_pa);

/** The liquid that is sealed in. */
enum {
    VUG_CONTENT_NONE = -1,
    VUG_CONTENT_WATER = 0, /**< or what is mostly water: density by Kell 1975, and its vapour in the air */
    VUG_CONTENT_PLAIN = 1, /**< expands evenly, and gives no vapour */
    VUG_CONTENT_COUNT = 2
};

/** What is sealed in. */
typedef struct vug_sealed {
    uint32_t struct_size;
    int32_t content;                     /**< VUG_CONTENT_WATER */
    double liquid_expansion_per_k;       /**< by volume, of plain content: 2.57e-4 */
    double liquid_compressibility_per_pa;/**< 4.52e-10, water at 25 C */
    double air_fraction;                 /**< of the cavity, when sealed: 0 */
    double sealed_at_c;                  /**< 20 */
} vug_sealed;

/** Fills *sealed with the defaults given at its members. Errors: VUG_ERR_ARGUMENT. */
VUG_API vug_status vug_sealed_init(vug_sealed *sealed, size_t size);

/** Pressure above the outside in a sealed cavity that warms by warm_k (negative: cools), as bounds
 *  over the plastic's expansion: *low_pa for expansion_high, *high_pa for expansion_low. The sign
 *  may differ: plastic can outgrow the liquid. Never below the vapour's pressure: there the liquid
 *  parts. Water stays between 0 and 100 C; for frost see vug_ice_air(). A warm sealed part under
 *  pressure can burst or leak: leave air, or a vent. Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN. */
VUG_API vug_status vug_sealed_pressure(vug_context *ctx, const vug_shell *shell,
    const vug_sealed *sealed, double warm_k, double *low_pa, double *high_pa);

/** Share of the cavity to leave as air so that warming by warm_k stays below allowed_pa, at either
 *  bound. sealed->air_fraction is ignored. Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN. */
VUG_API vug_status vug_sealed_air(vug_context *ctx, const vug_shell *shell,
    const vug_sealed *sealed, double warm_k, double allowed_pa, double *air_fraction);

/** Share of the cavity to leave as air so that freezing stays below allowed_pa, a pressure that the
 *  part bears: filled at filled_at_c (0..100) with a liquid that is water for water_fraction (0..1) of
 *  it, frozen and cooled to coldest_c (-60..0). Ice is 916.7 kg/m3 at 0 C; the shell shrinks by its
 *  expansion_high and does not give; the air that is left follows Boyle and Gay-Lussac, without the
 *  vapour that leaves it. Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN. */
VUG_API vug_status vug_ice_air(vug_context *ctx, const vug_shell *shell, double water_fraction,
    double filled_at_c, double coldest_c, double allowed_pa, double *air_fraction);

/** Fills with paint of a solids share by volume, each dried before the next, until at most
 *  void_fraction of the cavity is empty: each leaves 1 - solids of what it filled. Errors:
 *  VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN. */
VUG_API vug_status vug_drying_fills(vug_context *ctx, double solids_fraction, double void_fraction,
    int32_t *fills);

/** Time for water to leave a cavity through one open hole by diffusion of vapour through the air
 *  in it (Stefan; ends like those of a plate's hole): top up after it. temperature_c 0..60,
 *  humidity of the room 0..0.99. The liquid is taken to stand at the inner end of the hole, so it
 *  is a lower bound. Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN. */
VUG_API vug_status vug_drying_time(vug_context *ctx, double water_mm3, double hole_diameter_mm,
    double hole_length_mm, double temperature_c, double humidity, double *time_s);

/* ======================================================================== */
/* light: curing dose, wall and paint optics (no mesh, no allocation)       */
/* ======================================================================== */

/** Cured depth for a dose on the surface: penetration ln(dose / critical) (Jacobs 1992), 0 below
 *  the critical dose. penetration_mm is that of the curing light. Published values scatter by 7
 *  times (penetration) and 70 times (critical dose): give ranges. Errors: VUG_ERR_ARGUMENT,
 *  VUG_ERR_DOMAIN. */
VUG_API vug_status vug_cure_depth(vug_context *ctx, double penetration_mm, double critical_mj_cm2,
    const double *dose_mj_cm2, size_t count, double *depth_mm);

/** Dose on the surface that cures to a depth: critical exp(depth / penetration). Errors:
 *  VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN. */
VUG_API vug_status vug_cure_dose(vug_context *ctx, double penetration_mm, double critical_mj_cm2,
    const double *depth_mm, size_t count, double *dose_mj_cm2);

/** The working curve from count (2 or more) measured doses and cured depths, by least squares of
 *  depth on ln(dose). Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN (doses all alike, or depths that fall
 *  with the dose). */
VUG_API vug_status vug_cure_fit(vug_context *ctx, const double *dose_mj_cm2,
    const double *depth_mm, size_t count, double *penetration_mm, double *critical_mj_cm2);

/** Light that reaches the inside of a part in a curing lamp. */
typedef struct vug_cure_inside {
    uint32_t struct_size;
    int32_t reserved;
    double lamp_mw_cm2;        /**< on the outside: 10 */
    double wall_mm;            /**< 2 */
    double penetration_mm;     /**< of the cured wall, for the lamp's light: 0.5 (from memory) */
    double opening_mm;         /**< diameter of a hole; 0: none */
    double distance_mm;        /**< of the inner spot straight behind the hole: 10 */
    double needed_mj_cm2;      /**< dose the inside needs: 1000 (from memory; data sheet) */
} vug_cure_inside;

/** Fills *inside with the defaults given at its members. Errors: VUG_ERR_ARGUMENT. */
VUG_API vug_status vug_cure_inside_init(vug_cure_inside *inside, size_t size);

/** Shares of the lamp's light that come through the wall (Beer-Lambert) and, from a lamp all
 *  around, through the opening (view factor r^2 / (r^2 + distance^2)), and the exposure the inside
 *  needs by both. UV hurts eyes and skin: closed lamp. What stays wet inside keeps irritating. Any
 *  result may be NULL. Errors: VUG_ERR_ARGUMENT (all NULL), VUG_ERR_DOMAIN. */
VUG_API vug_status vug_cure_through(vug_context *ctx, const vug_cure_inside *inside,
    double *wall_share, double *opening_share, double *time_s);

/** Share of visible light a wall lets through: Beer-Lambert, exp(-attenuation thickness), less the
 *  reflection at its two faces ((n-1)/(n+1))^2 each (Fresnel); refractive_index 1 leaves that out.
 *  The attenuation is that of visible light, not the curing light's. Errors: VUG_ERR_ARGUMENT,
 *  VUG_ERR_DOMAIN. */
VUG_API vug_status vug_wall_transmission(vug_context *ctx, double attenuation_per_mm,
    double refractive_index, const double *thickness_mm, size_t count, double *share);

/** Reflectance of a film over a background (0 black .. 1 white): Kubelka and Munk with absorption
 *  K and scattering S per mm. Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN. */
VUG_API vug_status vug_film_reflectance(vug_context *ctx, double absorption_per_mm,
    double scattering_per_mm, double background, const double *thickness_mm, size_t count,
    double *reflectance);

/** Transmittance of a film: Kubelka and Munk. Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN. */
VUG_API vug_status vug_film_transmittance(vug_context *ctx, double absorption_per_mm,
    double scattering_per_mm, const double *thickness_mm, size_t count, double *transmittance);

/** Contrast ratio of a film: its reflectance over black (0) by that over white (0.8); it hides at
 *  0.98 (ISO 6504). Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN (a film that does not scatter has
 *  none). */
VUG_API vug_status vug_film_contrast(vug_context *ctx, double absorption_per_mm,
    double scattering_per_mm, const double *thickness_mm, size_t count, double *contrast_ratio);

/** Dry film that hides: contrast ratio as asked (0.98). Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN.
 *  */
VUG_API vug_status vug_film_hiding(vug_context *ctx, double absorption_per_mm,
    double scattering_per_mm, double contrast_ratio, double *thickness_mm);

/** Dry film that lets through no more than a share of light from behind: the measure for dark
 *  paint and backlight. Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN. */
VUG_API vug_status vug_film_blocking(vug_context *ctx, double absorption_per_mm,
    double scattering_per_mm, double transmittance, double *thickness_mm);

/** A relief on the skin over a core: dark where the skin is thin. */
typedef struct vug_relief {
    uint32_t struct_size;
    int32_t reserved;
    double height_mm;          /**< from hollow to crest: 0.5 */
    double width_mm;           /**< from crest to crest: 2 */
    double absorption_per_mm;  /**< of the skin: 0.02 (from memory) */
    double scattering_per_mm;  /**< of the skin: 0.5 (from memory) */
    double core_reflectance;   /**< 0.05, dark paint */
    double threshold;          /**< contrast that is seen: 0.02 (common practice) */
} vug_relief;

/** Fills *relief with the defaults given at its members. Errors: VUG_ERR_ARGUMENT. */
VUG_API vug_status vug_relief_init(vug_relief *relief, size_t size);

/** Contrast (lightest - darkest) / (lightest + darkest) of a relief whose skin is skin_mm thick in
 *  the middle (at least half the height): reflectance of the skin over the core (Kubelka and Munk)
 *  at crest and hollow, blurred by scattering as a wave of that width is through the skin, q t /
 *  sinh(q t), q = 2 pi / width (diffusion without loss). An estimate: print a step wedge. relief
 *  NULL: defaults. Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN. */
VUG_API vug_status vug_relief_contrast(vug_context *ctx, const vug_relief *relief,
    const double *skin_mm, size_t count, double *contrast);

/** Thickest skin through which the relief still reads, contrast at the threshold. Errors:
 *  VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN, VUG_ERR_NOT_FOUND (not even the thinnest skin shows it). */
VUG_API vug_status vug_relief_skin(vug_context *ctx, const vug_relief *relief, double *skin_mm);

/** Coating the inside against filling it. */
typedef struct vug_coat {
    uint32_t struct_size;
    int32_t coats;             /**< to reach the dry film */
    double wet_mm;             /**< of all coats together */
    double coat_paint_mm3;     /**< wet paint on the wall */
    double fill_paint_mm3;     /**< wet paint to fill the cavity once */
    double saved_mm3;          /**< may be negative in narrow cavities: then fill */
} vug_coat;

/** Paint to coat the wall of a cavity to a dry film, in coats of wet_coat_mm (what hangs without
 *  running: yield stress / (density g) on a standing wall, or vug_film_hang()). Errors:
 *  VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN. */
VUG_API vug_status vug_coat_plan(vug_context *ctx, double area_mm2, double volume_mm3,
    double dry_film_mm, double solids_fraction, double wet_coat_mm, vug_coat *coat);

/** Film that stays on a wall of a slope (90: standing): yield stress / (density g sin), and for a
 *  plain liquid what has not yet run off after_s down height_mm, sqrt(viscosity height / (density
 *  g sin time)) (Jeffreys 1930), the larger. Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN. */
VUG_API vug_status vug_film_hang(vug_context *ctx, const vug_fluid *fluid, double slope_deg,
    double height_mm, double after_s, double *film_mm);

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

/** Formats of files. */
enum {
    VUG_FORMAT_NONE = -1,
    VUG_FORMAT_AUTO = 0,       /**< told by the content, or by what the name ends in */
    VUG_FORMAT_STL = 1,
    VUG_FORMAT_PLY = 2,
    VUG_FORMAT_3MF = 3,        /**< with the feature "3mf" */
    VUG_FORMAT_OBJ = 4,
    VUG_FORMAT_OFF = 5,
    VUG_FORMAT_COUNT = 6
};

/** Options of vug_mesh_load(). */
typedef struct vug_mesh_load_options {
    uint32_t struct_size;
    int32_t format;               /**< VUG_FORMAT_AUTO (default), or the one to read it as */
    int32_t warn_of_size;         /**< 1 (default): warn when the size looks like another unit */
    int32_t reserved;
    double unit_mm;               /**< mm in one unit of the file; 0 (default): what the file or its
                                       format says, else 1 */
} vug_mesh_load_options;

/** Fills *options with the defaults. Errors: VUG_ERR_ARGUMENT. */
VUG_API vug_status vug_mesh_load_options_init(vug_mesh_load_options *options, size_t size);

/** Loads a file of any VUG_FORMAT_, told apart by content, else by the name's ending, or read as
 *  options say. STL may be binary or text. Nodes, components and build items are put in their
 *  places. Small faults (missing endsolid, a wrong triangle count) become warnings on ctx.
 *  options may be NULL. *out: vug_mesh_free(). Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY,
 *  VUG_ERR_IO, VUG_ERR_FORMAT (message with line or byte), VUG_ERR_MESH, VUG_ERR_LIMIT,
 *  VUG_ERR_UNSUPPORTED, VUG_ERR_CANCELLED. */
VUG_API vug_status vug_mesh_load(vug_context *ctx, const char *path,
    const vug_mesh_load_options *options, vug_mesh **out);

/** vug_mesh_load() of a file that is in memory, size bytes at data. name stands for it in
 *  messages, and its ending tells the format where neither content nor options do (NULL:
 *  "memory"). Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY, VUG_ERR_FORMAT, VUG_ERR_MESH,
 *  VUG_ERR_LIMIT, VUG_ERR_UNSUPPORTED, VUG_ERR_CANCELLED. */
VUG_API vug_status vug_mesh_load_memory(vug_context *ctx, const void *data, size_t size,
    const char *name, const vug_mesh_load_options *options, vug_mesh **out);

/** Saves a mesh as a binary STL, a binary PLY or a 3MF in millimetres (coordinates as 32-bit
 *  floats): as format says, or for VUG_FORMAT_AUTO as the path's ending does. It is written under
 *  a temporary name beside path and renamed, so path is whole or untouched. rgb: a row of 3
 *  bytes, red, green, blue, for each vertex in order, for a PLY, or NULL for no colours.
 *  Triangles with two equal corners, which 3MF forbids, are left out of it. Errors:
 *  VUG_ERR_ARGUMENT (no such format), VUG_ERR_IO, VUG_ERR_MEMORY, VUG_ERR_CANCELLED,
 *  VUG_ERR_UNSUPPORTED (not written by this library; colours in a format without),
 *  VUG_ERR_LIMIT. */
VUG_API vug_status vug_mesh_save(vug_context *ctx, const vug_mesh *mesh, const char *path,
    int32_t format, const uint8_t *rgb);

/** Saves several pieces in one 3MF, in millimetres, each an object of its own where it is. names: UTF-8, one for
 *  each, or NULL; one of them may be NULL: none. Written as by vug_mesh_save(). Errors: as vug_mesh_save(),
 *  and VUG_ERR_ARGUMENT (no piece, or more than VUG_MAX_OPENINGS). */
VUG_API vug_status vug_mesh_save_pieces(vug_context *ctx, const vug_mesh *const *pieces,
    const char *const *names, size_t count, const char *path);

/** Frees a mesh; NULL is allowed. */
VUG_API void vug_mesh_free(vug_mesh *mesh);

/** Number of vertices after welding; NULL gives 0. */
VUG_API size_t vug_mesh_vertex_count(const vug_mesh *mesh);

/** Number of triangles; NULL gives 0. */
VUG_API size_t vug_mesh_triangle_count(const vug_mesh *mesh);

/** Vertices, 3 doubles each, in mm; owned by the mesh. NULL gives NULL. */
VUG_API const double *vug_mesh_vertices(const vug_mesh *mesh);

/** Vertices as single numbers, for a graphics card: 3 floats each, relative to origin (3 doubles; NULL: 0, 0, 0),
 *  written to xyz, which has room for all. A float has 24 bits: 1e-6 mm at 10 mm from the origin, so take one amid
 *  the part. Errors: VUG_ERR_ARGUMENT. */
VUG_API vug_status vug_mesh_vertices_float(const vug_mesh *mesh, const double *origin, float *xyz);

/** Triangles, 3 vertex numbers each; owned by the mesh. NULL gives NULL. */
VUG_API const uint32_t *vug_mesh_triangles(const vug_mesh *mesh);

/** Health and measures of the whole mesh.
 *  Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY, VUG_ERR_CANCELLED, VUG_ERR_LIMIT. */
VUG_API vug_status vug_mesh_measure(vug_context *ctx, const vug_mesh *mesh,
    vug_mesh_measures *measures);

/** The shells of a mesh: pieces connected by shared edges, with measures of each. */
typedef struct vug_shells vug_shells;

/** Finds the shells. *out: vug_shells_free(). Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY,
 *  VUG_ERR_CANCELLED, VUG_ERR_LIMIT. */
VUG_API vug_status vug_mesh_shells(vug_context *ctx, const vug_mesh *mesh, vug_shells **out);

/** Frees shells; NULL is allowed. */
VUG_API void vug_shells_free(vug_shells *shells);

/** Number of shells; NULL gives 0. */
VUG_API size_t vug_shells_count(const vug_shells *shells);

/** Shell number of each triangle, from 0 in order of first triangle; owned by shells. */
VUG_API const uint32_t *vug_shells_of_triangles(const vug_shells *shells);

/** Shell number index. Errors: VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND. */
VUG_API vug_status vug_shells_get(const vug_shells *shells, size_t index,
    vug_mesh_measures *measures);

/** Options of vug_mesh_clean(). */
typedef struct vug_mesh_clean_options {
    uint32_t struct_size;
    int32_t close_gaps;           /**< 1 (default): weld vertices of open edges, split T-joints */
    int32_t turn;                 /**< 1 (default): turn triangles as their neighbours, shells by
                                       their nesting */
    double tolerance_mm;          /**< how wide a gap may be; 0 (default): 1e-5 of the longest side */
} vug_mesh_clean_options;

/** What vug_mesh_clean() found and changed. */
typedef struct vug_mesh_clean_report {
    uint32_t struct_size;
    int32_t closed_before;
    int32_t closed_after;
    uint64_t triangles_before;
    uint64_t triangles_after;
    uint64_t edges_open_before;
    uint64_t edges_open_after;
    uint64_t degenerate_removed;  /**< triangles of zero area */
    uint64_t duplicates_removed;  /**< triangles that were there twice */
    uint64_t vertices_welded;     /**< vertices of open edges moved onto another */
    uint64_t joints_split;        /**< vertices put into an open edge that they lay on */
    uint64_t triangles_turned;    /**< to agree with their neighbours */
    uint64_t shells;
    uint64_t shells_turned;       /**< solids that pointed inward, cavities that pointed outward */
    uint64_t shells_open;         /**< left open */
    uint64_t shells_twisted;      /**< cannot be turned consistently; left as they are */
    uint64_t shells_crossing;     /**< overlap another, as far as samples show; left as they are */
    double tolerance_mm;          /**< that was used; 0: none */
} vug_mesh_clean_report;

/** Fills *options with the defaults. Errors: VUG_ERR_ARGUMENT. */
VUG_API vug_status vug_mesh_clean_options_init(vug_mesh_clean_options *options, size_t size);

/** Makes a repaired copy: triangles of zero area and doubled ones removed, small gaps and T-joints
 *  closed, turning made consistent; a shell inside one other is taken for a cavity and turned
 *  inward, one inside two outward, and so on. What is sound stays as it is. options may be NULL,
 *  report too. The same is told by warnings. *out:
 *  vug_mesh_free(). Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY, VUG_ERR_MESH (nothing is left),
 *  VUG_ERR_LIMIT, VUG_ERR_CANCELLED. */
VUG_API vug_status vug_mesh_clean(vug_context *ctx, const vug_mesh *mesh,
    const vug_mesh_clean_options *options, vug_mesh **out, vug_mesh_clean_report *report);

/* ======================================================================== */
/* cavity: what is inside a part, and its openings                          */
/* ======================================================================== */

/** The cavities of a part and their openings. Cavities and openings are numbered from 0: cavities
 *  from the largest down (planned bores not counted), openings over all cavities, by cavity. */
typedef struct vug_cavities vug_cavities;

/** Options of vug_cavities_find(). */
typedef struct vug_cavity_options {
    uint32_t struct_size;
    int32_t detect;               /**< 1: find openings nobody named (default); 0: named holes and
                                       sealed cavities only */
    uint32_t cells_across;        /**< detection grid along the longest side; 0 (default): 256, and 384
                                       for a part with passages or hollows that are about as narrow as a
                                       cell of that, if it takes no more than 2^26 cells */
    double min_ratio;             /**< a hollow counts as a cavity when its largest inscribed ball is
                                       this many times as wide as the way out; 0: 1.5 */
    double min_volume_mm3;        /**< smaller cavities are left out; 0: a millionth of the
                                       volume of the part's bounds */
} vug_cavity_options;

/** One cavity. */
typedef struct vug_cavity_info {
    uint32_t struct_size;
    int32_t sealed;               /**< 1: no opening */
    int32_t exact;                /**< 1: measured on the part's own triangles; 0: on a grid */
    uint32_t openings;            /**< how many; numbers first_opening and up */
    uint32_t first_opening;
    uint32_t chambers;
    uint32_t throats;
    double volume_mm3;            /**< up to the skin: to the caps across the rims of its openings; planned
                                       bores included */
    double volume_error_mm3;      /**< the true volume lies within this of volume_mm3 */
    double area_mm2;              /**< of its wall, caps left out */
    double centroid_mm[3];        /**< of the volume; planned bores left out, as in the bounds */
    double lo_mm[3];
    double hi_mm[3];
    int32_t trusted;              /**< 1: exact, and so are all its openings; 0: look at it before drilling by
                                       these figures. What is computed in it carries this flag */
} vug_cavity_info;

/** One opening: where a cavity meets the outside. Its rim is where the wall of its bore meets the outer skin,
 *  its mouth where that wall ends in the cavity. Air and liquid pass the rim, the bore and the mouth, in
 *  every call. */
typedef struct vug_opening_info {
    uint32_t struct_size;
    uint32_t cavity;
    int32_t planned;              /**< 1: not in the mesh yet, a bore to drill */
    double center_mm[3];          /**< amid the rim, on the axis fitted to the wall; planned: on the skin */
    double normal[3];             /**< unit, outward, of the area that the rim spans */
    double diameter_mm;           /**< of the bore: of the circle of equal area, square to its axis */
    double inscribed_diameter_mm; /**< of the largest circle about the axis inside bore and rim */
    double area_mm2;              /**< of the rim itself: more than the bore's where it meets the skin at a
                                       slant */
    double perimeter_mm;          /**< of the rim itself */
    double bore_length_mm;        /**< along the axis, from skin to cavity; of a bent bore from rim to mouth */
    double inner_mm[3];           /**< amid the mouth, on the axis */
    int32_t exact;                /**< 1: rim and mouth are edges of the part itself, or those of a planned bore; 0:
                                       outlined on a grid, or the bore is bent or has no clear inner end, and
                                       a disc stands for its mouth */
} vug_opening_info;

/** A chamber: a wide region of a cavity. */
typedef struct vug_chamber_info {
    uint32_t struct_size;
    double center_mm[3];          /**< of its largest inscribed ball */
    double radius_mm;             /**< of that ball */
    double volume_mm3;            /**< up to its throats, counted on the detection grid */
} vug_chamber_info;

/** A throat: the narrowest section between two chambers. */
typedef struct vug_throat_info {
    uint32_t struct_size;
    uint32_t chamber_a;           /**< chambers of the same cavity */
    uint32_t chamber_b;
    double center_mm[3];
    double direction[3];          /**< unit, from chamber a to chamber b */
    double radius_mm;             /**< of the largest ball that passes */
    double resistance_mm3;        /**< pressure over viscosity and flow, 1/mm3: a flow of 1 mm3/s of 1 Pa s
                                       takes so many Pa from chamber to chamber; 0: not known */
} vug_throat_info;

/** Fills *options with the defaults. Errors: VUG_ERR_ARGUMENT. */
VUG_API vug_status vug_cavity_options_init(vug_cavity_options *options, size_t size);

/** Finds the cavities of a closed part. holes: hole_count rows of 7 doubles, the openings the
 *  caller names: a point on the outer skin x, y, z (mm), a direction outward (any length), a
 *  diameter (mm). A named hole that is in the mesh (its edge within one diameter of the axis) is
 *  taken as it is there, whatever its width; one that is not becomes a planned bore through the
 *  wall. Bores in the mesh that run together and leave by one rim are one opening, in the place of
 *  the first of them. holes may be NULL with hole_count 0. Openings keep the order
 *  in which they are named, within their cavity. The part is shared, not copied: it may be freed.
 *  *out: vug_cavities_free(). A part without any cavity gives VUG_OK and a count of 0.
 *  Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY, VUG_ERR_MESH (open mesh), VUG_ERR_NOT_FOUND (a named
 *  hole leads into no cavity), VUG_ERR_LIMIT, VUG_ERR_UNSUPPORTED, VUG_ERR_CANCELLED. */
VUG_API vug_status vug_cavities_find(vug_context *ctx, const vug_mesh *mesh,
    const double *holes, size_t hole_count, const vug_cavity_options *options,
    vug_cavities **out);

/** The same cavities with more bores planned, without looking into the part again: for a host whose user
 *  drags a vent about, asked anew from the same cavities for each place. holes: hole_count rows as in
 *  vug_cavities_find(); each becomes a planned bore from the skin to the first cavity behind it, the last opening of
 *  that cavity, so numbers of the openings of later cavities move up. Volumes grow by those of the bores (with their
 *  errors); all else is as in cavities, which stay as they are and may be freed. Figures are those of
 *  vug_cavities_find() with the same bores named. *out: vug_cavities_free(). Errors: VUG_ERR_ARGUMENT,
 *  VUG_ERR_MEMORY, VUG_ERR_NOT_FOUND (no room: a bore leads into no cavity, or runs into another opening),
 *  VUG_ERR_LIMIT, VUG_ERR_CANCELLED. */
VUG_API vug_status vug_cavities_with_bores(vug_context *ctx, const vug_cavities *cavities,
    const double *holes, size_t hole_count, vug_cavities **out);

/** How finely vug_cavities_find() looked for openings and open cavities that nobody named. Sealed
 *  cavities, and openings whose wall is in the mesh as a ring of triangles, are found below these too. */
typedef struct vug_sight_info {
    uint32_t struct_size;
    uint32_t cells_across;        /**< along the part's longest side; 0: detection was off */
    double cell_mm;
    double window_mm;             /**< an opening narrower than this may have been missed: four cells */
    double hollow_mm;             /**< an open cavity whose largest ball is narrower than this may have been
                                       missed, as may one less than min_ratio times as wide as its way
                                       out: (6 + sqrt 3) cells, 3 from any cell's middle to the wall's
                                       cells wherever the ball lies among them */
} vug_sight_info;

/** Tells that. Errors: VUG_ERR_ARGUMENT. */
VUG_API vug_status vug_cavities_sight(const vug_cavities *cavities, vug_sight_info *info);

/** Frees cavities; NULL is allowed. */
VUG_API void vug_cavities_free(vug_cavities *cavities);

/** Number of cavities; NULL gives 0. */
VUG_API size_t vug_cavities_count(const vug_cavities *cavities);

/** Number of openings of all cavities together; NULL gives 0. */
VUG_API size_t vug_cavities_opening_count(const vug_cavities *cavities);

/** What people call opening number: A to Z for 0 to 25, then A2 to Z2, A3 and so on; into text (size bytes, always
 *  ended; 24 are enough). ctx may be NULL. Errors: VUG_ERR_ARGUMENT. */
VUG_API vug_status vug_opening_letter(vug_context *ctx, size_t number, char *text, size_t size);

/** Which openings are not exact, by letter, and what is not clear about them, for a person who is to measure before
 *  drilling: "Not sure about B and C: ...", one or two sentences; or that a cavity without such an opening is measured on
 *  a grid; "" for what is trusted. Of one cavity, or with cavity -1 of all; into text (size bytes, always ended; 400
 *  are enough). Errors: VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND (cavity). */
VUG_API vug_status vug_doubt_words(vug_context *ctx, const vug_cavities *cavities, int32_t cavity,
    char *text, size_t size);

/** The number of the opening that is called so: "A", "b2", or by its number from 0, up to 6 digits. ctx may be NULL.
 *  Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN (no such name). */
VUG_API vug_status vug_opening_number(vug_context *ctx, const char *text, size_t *number);

/** Cavity number index. Errors: VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND. */
VUG_API vug_status vug_cavities_get(const vug_cavities *cavities, size_t index,
    vug_cavity_info *info);

/** Chamber number index of cavity number cavity: at least one for each cavity that the detection grid
 *  resolves, the one with the largest ball first.
 *  Errors: VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND. */
VUG_API vug_status vug_cavities_chamber(const vug_cavities *cavities, size_t cavity, size_t index,
    vug_chamber_info *info);

/** Throat number index of cavity number cavity, the widest first. Two chambers may be joined by more
 *  than one. Errors: VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND. */
VUG_API vug_status vug_cavities_throat(const vug_cavities *cavities, size_t cavity, size_t index,
    vug_throat_info *info);

/** Opening number index. Errors: VUG_ERR_ARGUMENT,
 *  VUG_ERR_NOT_FOUND. */
VUG_API vug_status vug_cavities_opening(const vug_cavities *cavities, size_t index,
    vug_opening_info *info);

/** Outline of opening number index, its rim on the outer skin: *count points of 3 doubles, in mm,
 *  counter-clockwise seen from outside; owned by cavities. Errors: VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND. */
VUG_API vug_status vug_cavities_opening_outline(const vug_cavities *cavities, size_t index,
    const double **points, size_t *count);

/** The closed mesh that bounds the liquid space of cavity number index (turned outward from the
 *  liquid): its wall and caps across the rims of its openings; planned bores are not in it. *tags (may
 *  be NULL): for each of its triangles -1 for the wall, or the number of the opening that it
 *  caps. Both owned by cavities: do not free. NULL past the end. */
VUG_API const vug_mesh *vug_cavities_mesh(const vug_cavities *cavities, size_t index,
    const int32_t **tags);

/** How thick the wall of a part is, all over. */
typedef struct vug_thickness vug_thickness;

/** Statistics of the thickness, by area. */
typedef struct vug_thickness_info {
    uint32_t struct_size;
    uint64_t samples;             /**< points measured */
    double area_mm2;              /**< that they stand for */
    double min_mm;                /**< least thickness */
    double min_at_mm[3];          /**< and where */
    double p1_mm;                 /**< thinner on 1 percent of the area */
    double p5_mm;                 /**< thinner on 5 percent of the area */
    double p50_mm;                /**< median */
    double max_mm;
    double coincident_mm2;        /**< area of skin on which another wall lies, back to back: bodies
                                       that touch, or a cavity without a wall; left out of all
                                       thicknesses above */
    double coincident_at_mm[3];   /**< a point of it */
} vug_thickness_info;

/** Measures the wall at every vertex of the skin, and on triangles larger than spacing_mm at points
 *  no farther apart than that (0: 1/64 of the part's diagonal). Thickness is the diameter of the
 *  largest ball that touches the skin there from inside and goes no farther than the opposite
 *  wall. cavities may be NULL: then both sides of a hollow wall are measured, else the outer one.
 *  The mesh is shared, not copied: it may be freed. *out: vug_thickness_free().
 *  Source: shrinking balls, Ma, Bae & Choi 2012, The Visual Computer 28:7-19.
 *  Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY, VUG_ERR_LIMIT, VUG_ERR_CANCELLED. */
VUG_API vug_status vug_thickness_measure(vug_context *ctx, const vug_mesh *mesh,
    const vug_cavities *cavities, double spacing_mm, vug_thickness **out);

/** Frees a thickness; NULL is allowed. */
VUG_API void vug_thickness_free(vug_thickness *thickness);

/** The statistics. Errors: VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND
 *  (nothing was measured). */
VUG_API vug_status vug_thickness_get(const vug_thickness *thickness, vug_thickness_info *info);

/** Thickness at each vertex of the mesh, in mm; -1 where none was measured, 0 where another wall lies
 *  in the same place. Owned by thickness. NULL
 *  gives NULL. */
VUG_API const double *vug_thickness_vertices(const vug_thickness *thickness);

/** Area of skin, in mm2, in each of bins (count of them) equal steps of thickness from lo_mm to
 *  hi_mm; what lies outside goes to the first and last. Errors: VUG_ERR_ARGUMENT. */
VUG_API vug_status vug_thickness_histogram(const vug_thickness *thickness, double lo_mm,
    double hi_mm, double *bins, size_t count);

/** Thickness of the wall below the point of the skin that is nearest to point (3 doubles).
 *  Errors: VUG_ERR_ARGUMENT. */
VUG_API vug_status vug_thickness_at(const vug_thickness *thickness, const double *point,
    double *thickness_mm);

/** Connected spots thinner than below_mm, the thinnest first: rows of 5 doubles, the thinnest point
 *  x, y, z and its thickness in mm, and the area of the spot in mm2. *rows is vug_free()d by the
 *  caller. Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY. */
VUG_API vug_status vug_thickness_spots(vug_context *ctx, const vug_thickness *thickness,
    double below_mm, double **rows, size_t *row_count);

/* ======================================================================== */
/* shape: hollowing, holes, and what is made to fit them                    */
/* ======================================================================== */

/** Options of vug_shape_hollow(). */
typedef struct vug_hollow_options {
    uint32_t struct_size;
    int32_t cells;       /**< of the grid along the part's longest side: the inner mesh is as fine. A wall, and
                              half a throat, need two of them. 0: five, or as many as 320 give, and 120 at
                              least */
    double wall_mm;      /**< 2: distance of the inner surface from the nearest point of the outer one */
    double chamber_mm;   /**< 3: a chamber is opened if a ball so wide fits into it; else it stays solid */
    double throat_mm;    /**< 0: not asked. Else a ball so wide reaches every place of the cavity: narrower
                              channels are closed, and inner edges are round */
    double base_mm;      /**< 0: no base. Else all is solid up to this height above the lowest point */
    double up[3];        /**< 0, 0, 1: of the base. Any length */
    double most_wall_mm; /**< 0: not asked. Else made to be filled: so that less air stays while fill_up points
                              up, ceilings are lowered, but no solid gets farther from the skin than this; wall_mm
                              or more, and of use if it is some steps more */
    double slope_deg;    /**< 10: then, ceilings rise by so much towards the outlet where that has room; 0 to 60,
                              0: flat is good enough */
    double fill_up[3];   /**< 0, 0, 1: then, up, as it is filled; or as it is printed, so that ceilings print. Any
                              length */
    double outlet_mm[3]; /**< NAN: then, air leaves each chamber by the middle of its highest place. Else the
                              chamber nearest to this point has its outlet there */
    double simplify_mm;  /**< 0: the inner surface has triangles as fine as the grid. Else fewer, by which it moves no
                              more than this */
} vug_hollow_options;

/** What vug_shape_hollow() made. */
typedef struct vug_hollow_info {
    uint32_t struct_size;
    uint64_t chambers;    /**< pieces of the cavity that are not connected: each needs openings of its own */
    uint64_t too_small;   /**< pieces left solid, because no ball of chamber_mm fits in */
    uint64_t overlaps;    /**< pieces left solid, because they lie in two bodies of the mesh at once */
    uint64_t triangles;   /**< of the inner surface: the last ones of the mesh */
    double step_mm;       /**< of the grid */
    double volume_mm3;    /**< of the cavity */
    double area_mm2;      /**< of the inner surface */
    double least_wall_mm; /**< no point of the inner surface is nearer to the outer one: at least
                               wall_mm less a tenth of step_mm */
    double slope_deg;          /**< made to be filled: what ceilings were lowered to, of slope_deg: all, 1/2, 1/4, or 0 */
    double added_mm3;          /**< solid that this took from the cavity */
    double trapped_before_mm3; /**< air that would stay in fill_up with openings at the outlets alone, as columns a step
                                    wide have it, before ceilings were lowered; */
    double trapped_mm3;        /**< and after */
    double bare_before_mm2;    /**< skin from which the nearest liquid is farther than most_wall_mm, before; */
    double bare_mm2;           /**< and after: never more, as cells a step wide have it */
    uint64_t triangles_before; /**< of the inner surface before it was simplified; triangles, if it was not */
    double simplify_error_mm;  /**< how far that moved it: the farthest between the two surfaces, as vertices of the finer
                                    and points of the simpler one a step apart have it; at most simplify_mm */
    double flat_mm2;           /**< ceilings of the inner surface that are flatter than 0.9 slope_deg of the options, in fill_up:
                                    there was no room to lower them; 0 with most_wall_mm 0 */
} vug_hollow_info;

/** Fills *options with the defaults. Errors: VUG_ERR_ARGUMENT. */
VUG_API vug_status vug_hollow_options_init(vug_hollow_options *options, size_t size);

/** Hollows a closed mesh: its solid gets an inner surface wall_mm behind the skin, by the distance to the nearest
 *  triangle. *out has all vertices and triangles of mesh as they are, in their order, and after them those of the inner
 *  surface: closed, turned outward from the solid, without crossings. It has no openings yet. info may be
 *  NULL. rows, if not NULL, gets the spots that stayed solid because they are too thin, farther from the
 *  cavity than twice the wall, the largest first: rows of 5 doubles, its widest place x, y, z, how wide it is there in
 *  mm, and its volume in mm3; those smaller than a cube of the wall, and the base, are left out. *rows is
 *  vug_free()d by the caller, *out vug_mesh_free()d. Made to be filled, ceilings of the cavity rise along the way
 *  to the outlet, and pockets that hold air are solid, as far as most_wall_mm lets them; gentler, or not at all, where
 *  skin would lose the liquid behind it that it had. Bodies that overlap are not made one: walls stand along their
 *  skins inside, too. Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY, VUG_ERR_CANCELLED, VUG_ERR_LIMIT, VUG_ERR_MESH (open,
 *  inside out, room only where bodies overlap), VUG_ERR_NOT_FOUND (nowhere room for a chamber), VUG_ERR_CONVERGENCE
 *  (the grid is too coarse for the shape), VUG_ERR_UNSUPPORTED (simplify_mm, in a build without meshoptimizer, whose
 *  own working memory comes from C++'s operator new). Simplified, the surface has some of the vertices it had,
 *  where they were; places stay as fine as they were where it would cross itself, or the wall be too thin. */
VUG_API vug_status vug_shape_hollow(vug_context *ctx, const vug_mesh *mesh,
    const vug_hollow_options *options, vug_mesh **out, vug_hollow_info *info, double **rows,
    size_t *row_count);

/** Numbers in the rows of vug_shape_bore(). */
enum {
    VUG_BORE_NONE = -1,
    VUG_BORE_CUT = 4,       /**< of a row of what was cut */
    VUG_BORE_ROW = 11       /**< of a row of what is asked for */
};

/** Options of vug_shape_bore(). */
typedef struct vug_bore_options {
    uint32_t struct_size;
    int32_t reserved;
    double error_mm;        /**< how far a side of a hole may lie from the round wall, 1e-6 to 1000; 0.01 */
} vug_bore_options;

/** Fills *options with the defaults. Errors: VUG_ERR_ARGUMENT. */
VUG_API vug_status vug_bore_options_init(vug_bore_options *options, size_t size);

/** Cuts round holes exactly on the mesh; where they begin and end is found on the part as given. bores: rows of
 *  VUG_BORE_ROW doubles: a point x, y, z on the skin (or before it); the direction that the hole goes in, of
 *  any length; the diameter at the skin in mm; the depth in mm on the axis from the skin, with a flat end,
 *  or 0: through the wall that is there, or infinity: through all that follows; the full angle in degrees by
 *  which it narrows on its way in, 0 to 90; the diameter at the skin of a countersink in mm, 0: none; its
 *  full angle in degrees, up to 170, 0: 90. A hole is a polygon of the round section's area, with as many
 *  sides (8 to 720) as error_mm asks for. Triangles that no hole touches stay as they are, in their order; new
 *  ones come last. If the mesh is closed, oriented and has two triangles at each edge where it is cut, so is
 *  the result: that is checked, and a cut that rounding spoils is tried again with the polygon turned a
 *  little. cuts, if not NULL: count rows of VUG_BORE_CUT doubles: solid taken away in mm3 that the bores before
 *  had left; where the solid begins on the axis and where the hole ends, in mm from the point; number of
 *  sides. options may be NULL. *out: vug_mesh_free(). Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY,
 *  VUG_ERR_CANCELLED, VUG_ERR_LIMIT, VUG_ERR_DOMAIN (a number out of its range; the message has the bore),
 *  VUG_ERR_NOT_FOUND (a bore that misses the part), VUG_ERR_MESH (open or crossing itself at a bore; or
 *  nothing is left). */
VUG_API vug_status vug_shape_bore(vug_context *ctx, const vug_mesh *mesh, const double *bores,
    size_t count, const vug_bore_options *options, double *cuts, vug_mesh **out);

/** Options of vug_shape_plug(). */
typedef struct vug_plug_options {
    uint32_t struct_size;
    int32_t reserved;
    double clearance_mm;    /**< between plug and hole, all round, 0 to 5; 0.1 */
    double length_mm;       /**< of what goes in; 0: the depth in the bore's row, or 3 */
    double head_mm;         /**< thickness of a head that stays outside, 0: none; 1 */
    double rim_mm;          /**< how far the head reaches over the hole's edge all round; 1 */
    double error_mm;        /**< as in vug_bore_options; 0.01 */
} vug_plug_options;

/** Fills *options with the defaults. Errors: VUG_ERR_ARGUMENT. */
VUG_API vug_status vug_plug_options_init(vug_plug_options *options, size_t size);

/** A plug for a hole of vug_shape_bore(): bore is its row. It narrows as the hole does, has a cone for a
 *  countersink, and ends after its length. It stands in the hole, the skin being flat across the axis at the row's
 *  point, with the clearance all round, the cone's included. options may be NULL. *out: vug_mesh_free().
 *  Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY, VUG_ERR_DOMAIN (a number out of its range, or nothing is left of
 *  the plug). */
VUG_API vug_status vug_shape_plug(vug_context *ctx, const double *bore,
    const vug_plug_options *options, vug_mesh **out);

/** Options of vug_shape_guide(). */
typedef struct vug_guide_options {
    uint32_t struct_size;
    int32_t reserved;
    double clearance_mm;    /**< between guide and skin, 0 to 5; 0.2 */
    double play_mm;         /**< how much wider than the drill its hole is, 0 to 5; 0.2 */
    double wall_mm;         /**< of the sleeve, 1 to 100; 4 */
    double skirt_mm;        /**< how far it reaches down around the skin, from there on the axis; 0: as far
                                 as it is wide */
    double drill_mm;        /**< length of drill that is free in front of the chuck: with it the chuck comes to
                                 rest on the guide when the hole is as deep as the row says; 0: no stop */
    double height_mm;       /**< without a stop: above the skin; 12 */
} vug_guide_options;

/** Fills *options with the defaults. Errors: VUG_ERR_ARGUMENT. */
VUG_API vug_status vug_guide_options_init(vug_guide_options *options, size_t size);

/** A drill guide: a sleeve around the axis of a bore (its row as in vug_shape_bore(); taper and countersink are
 *  left out) whose underside fits the skin there, so that a hand drill hits place and angle. It is made where it is
 *  used, and comes off along the axis: under it is, at each place, the first solid from its top on, sampled on a grid
 *  of a twelfth of the wall. options may be NULL. *out: vug_mesh_free(). Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY,
 *  VUG_ERR_CANCELLED, VUG_ERR_DOMAIN (a number out of its range; the drill is too short for a guide of 3 mm),
 *  VUG_ERR_NOT_FOUND (the bore misses the part), VUG_ERR_MESH (another part of the surface is in its way). */
VUG_API vug_status vug_shape_guide(vug_context *ctx, const vug_mesh *mesh, const double *bore,
    const vug_guide_options *options, vug_mesh **out);

/** Options of vug_shape_cradle(). */
typedef struct vug_cradle_options {
    uint32_t struct_size;
    uint32_t cells;         /**< of the grid along the longer side of the base, 16 to 2000; 160 */
    double clearance_mm;    /**< between cradle and part, 0 to 10; 0.3 */
    double depth_mm;        /**< how deep the part sits in it; 0: a third of its height */
    double margin_mm;       /**< of the base, beyond the part on each side; 5 */
    double floor_mm;        /**< below the part's lowest point; 3 */
    double free_mm;         /**< room around an opening that is kept free; 2 */
} vug_cradle_options;

/** Fills *options with the defaults. Errors: VUG_ERR_ARGUMENT. */
VUG_API vug_status vug_cradle_options_init(vug_cradle_options *options, size_t size);

/** A cradle that holds a part in a pose: a block with a flat base, less the part swept upward with the
 *  clearance, so that it lifts out. up: 3 doubles, any length. openings: rows x, y, z, diameter of those
 *  that stay free: a shaft goes through the cradle below each. The base reaches beyond the part on all
 *  sides, so wherever the centre of mass of the part is, empty or full, it lies above the base; *stand_mm (may be
 *  NULL) is its least distance from the base's edge, for the solid alone, measured on the mesh. It is made where it
 *  is used. options may be NULL. *out: vug_mesh_free(). Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY,
 *  VUG_ERR_CANCELLED, VUG_ERR_DOMAIN, VUG_ERR_LIMIT, VUG_ERR_MESH (shafts that leave no sound cradle). */
VUG_API vug_status vug_shape_cradle(vug_context *ctx, const vug_mesh *mesh, const double *up,
    const double *openings, size_t opening_count, const vug_cradle_options *options,
    double *stand_mm, vug_mesh **out);

/* ======================================================================== */
/* pose: what stays trapped when the part is held so                        */
/* ======================================================================== */

/** Roles of openings. In the calls that look at trapped air, air leaves by every opening but a
 *  sealed one. */
enum {
    VUG_ROLE_NONE = -1,
    VUG_ROLE_OPEN = 0,   /**< inlet, vent or outlet as need be: open to air */
    VUG_ROLE_INLET = 1,  /**< liquid comes in; air may leave beside the needle */
    VUG_ROLE_VENT = 2,   /**< air leaves */
    VUG_ROLE_OUTLET = 3, /**< liquid leaves */
    VUG_ROLE_SEALED = 4  /**< plugged or covered */
};

/** Options of the calls that look at poses. */
typedef struct vug_pose_options {
    uint32_t struct_size;
    uint32_t columns_across;      /**< N: as many columns as N x N over the two longest sides of the cavities' bounds, 8 to
                                       half of VUG_MAX_COLUMNS_ACROSS; 0: 280, or 200 in a scan */
    double spacing_mm;            /**< spacing of the columns instead, if above 0; no more than a 40th of the
                                       longest side */
    uint32_t pose_count;          /**< poses of a scan, at most 10 million; 0: 1000 */
    int32_t criteria;             /**< scan: 1: residue and standing too, in up to twice the time; 0 */
    double refine_deg;            /**< scan: further poses are put around the best, closer and closer down
                                       to this angle, 0.1 to 30; 0: none */
} vug_pose_options;

/** Fills *options with the defaults. Errors: VUG_ERR_ARGUMENT. */
VUG_API vug_status vug_pose_options_init(vug_pose_options *options, size_t size);

/** The pockets of air that stay trapped in a pose once all else is full. */
typedef struct vug_pockets vug_pockets;

/** One pocket. */
typedef struct vug_pocket_info {
    uint32_t struct_size;
    uint32_t cavity;
    int32_t sealed;               /**< 1: no opening is open for its air, and no liquid gets in */
    double volume_mm3;
    double top_mm[3];             /**< its highest point, in part coordinates: a corner of the wall, or a column's top */
    double level_mm;              /**< height along up of the liquid below it; sealed: its lowest
                                       point */
    double area_mm2;              /**< of the liquid's surface below it; sealed: 0 */
    double volume_error_mm3;      /**< the true volume lies within this of volume_mm3, as a rule: see
                                       vug_pockets_totals(). Of a moment: that of all trapped air at the
                                       end of its course */
} vug_pocket_info;

/** Air trapped when the part is held with up (3 doubles, any length, part coordinates) pointing
 *  up and filled without hurry, the openings held closed for liquid but letting air out. An opening
 *  is a disc, not a point: air leaves while the highest point of its rim is above the liquid, also where the bore leads
 *  down and out and is dry, because a drop shuts it.
 *  roles: role_count VUG_ROLE_ numbers, one for each opening in order; NULL with 0: all open.
 *  Openings with role sealed pass nothing, all others let air out. *out: vug_pockets_free(); it
 *  needs neither cavities nor ctx any more. No capillarity, no compression of the air.
 *  Method: Priority-Flood (Barnes, Lehman, Mulla 2014) upside down, over the cavities' own triangles; on vertical
 *  columns where a bore is only planned, or walls cross each other.
 *  Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY, VUG_ERR_LIMIT, VUG_ERR_NOT_FOUND (no cavity),
 *  VUG_ERR_CANCELLED. */
VUG_API vug_status vug_pockets_find(vug_context *ctx, const vug_cavities *cavities,
    const double *up, const int32_t *roles, size_t role_count,
    const vug_pose_options *options, vug_pockets **out);

/** The same for each of count poses (ups: rows of 3 doubles) in one call, on all threads of ctx. out: count places,
 *  each to be vug_pockets_free()d; all of them or, on failure, none is written. Errors: as vug_pockets_find(),
 *  VUG_ERR_ARGUMENT for count 0; the message has the number of the pose. */
VUG_API vug_status vug_pockets_find_poses(vug_context *ctx, const vug_cavities *cavities,
    const double *ups, size_t count, const int32_t *roles, size_t role_count,
    const vug_pose_options *options, vug_pockets **out);

/** Frees pockets; NULL is allowed. */
VUG_API void vug_pockets_free(vug_pockets *pockets);

/** Number of pockets, largest first, without those smaller than 4 cubes of the columns' spacing;
 *  NULL gives 0. */
VUG_API size_t vug_pockets_count(const vug_pockets *pockets);

/** Volume of all cavities, planned bores included: those of vug_cavities_get(), to which all volumes by columns
 *  are scaled, or the columns' own if they miss more than a tenth of it; NULL gives 0. */
VUG_API double vug_pockets_capacity_mm3(const vug_pockets *pockets);

/** Volume of all trapped air, also of pockets too small to list; NULL gives 0. */
VUG_API double vug_pockets_trapped_mm3(const vug_pockets *pockets);

/** All pockets together. */
typedef struct vug_pockets_info {
    uint32_t struct_size;
    int32_t trusted;              /**< 1: all cavities are, see vug_cavity_info */
    double capacity_mm3;
    double capacity_error_mm3;
    double trapped_mm3;           /**< never more than capacity_mm3 */
    double trapped_error_mm3;
} vug_pockets_info;

/** All pockets together, with errors: the true volume lies within the error in at least 19 of 20 cases, as
 *  measured on random made parts whose volumes are known exactly. Errors come from their causes: upright walls that
 *  stand somewhere between two columns, sills whose level changes from one column to the next, bores
 *  whose mouth is not clear, caps over rims that are not plane. Errors: VUG_ERR_ARGUMENT. */
VUG_API vug_status vug_pockets_totals(const vug_pockets *pockets, vug_pockets_info *info);

/** Pocket number index. Errors: VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND. */
VUG_API vug_status vug_pockets_get(const vug_pockets *pockets, size_t index,
    vug_pocket_info *info);

/** The spans of the cavities' columns that lie in the vertical plane through point (3 doubles, part
 *  coordinates), for drawing a section. direction (3 doubles, any length; its part along up is
 *  ignored) points from the part to the viewer. Rows of 4 doubles, from left to right: distance to
 *  the right of point, floor, level of the air and ceiling in mm along up; liquid from floor to
 *  level, air from level to ceiling. Each step across takes the nearest column. *rows is
 *  vug_free()d by the caller; NULL with *row_count 0 where the plane misses the cavities.
 *  Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY. */
VUG_API vug_status vug_pockets_section(vug_context *ctx, const vug_pockets *pockets,
    const double *point, const double *direction, double **rows, size_t *row_count);

/** Pocket number index as a closed mesh that looks outward, in part coordinates: the cavity's own triangles above
 *  the liquid, parted at its level, and a flat lid there, so its waterline is as smooth as the wall. What it
 *  encloses is volume_mm3, to rounding, where pockets go by the walls (see vug_pockets_find()); where they go by columns,
 *  as with planned bores, which are no part of it, within volume_error_mm3, 1 % and 4 cubes of the spacing. Where walls
 *  cross each other, so does the mesh. *out: vug_mesh_free(). Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY, VUG_ERR_CANCELLED,
 *  VUG_ERR_NOT_FOUND, VUG_ERR_MESH (by columns: the wall does not part so, as where they don't see a narrow way: take
 *  more columns). */
VUG_API vug_status vug_pockets_mesh(vug_context *ctx, const vug_pockets *pockets, size_t index,
    vug_mesh **out);

/** The level of the liquid at each of count points (rows of 3 doubles, part coordinates), for showing where
 *  it stands on a wall: levels_mm gets a height along up for each. What lies in a cavity below it is
 *  liquid, above it air. It is that of the surface that is nearest through the cavity, so points on both
 *  sides of a waterline have one level and the line can be drawn between them. Where no surface is near
 *  it is the height of the cavities' top (full) or bottom (air alone). A point more than 3 columns from
 *  every cavity gets NaN. count 0 is no error.
 *  Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY. */
VUG_API vug_status vug_pockets_levels(vug_context *ctx, const vug_pockets *pockets,
    const double *points, size_t count, double *levels_mm);

/** Trapped volumes over many poses. */
typedef struct vug_pose_scan vug_pose_scan;

/** Looks at options->pose_count poses, those of vug_sphere_points(), on all threads of ctx. Roles
 *  as in vug_pockets_find(). *out: vug_pose_scan_free().
 *  Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY, VUG_ERR_LIMIT, VUG_ERR_NOT_FOUND (no cavity),
 *  VUG_ERR_CANCELLED. */
VUG_API vug_status vug_pose_scan_run(vug_context *ctx, const vug_cavities *cavities,
    const int32_t *roles, size_t role_count, const vug_pose_options *options,
    vug_pose_scan **out);

/** Frees a scan; NULL is allowed. */
VUG_API void vug_pose_scan_free(vug_pose_scan *scan);

/** Number of poses, those of refining last; NULL gives 0. */
VUG_API size_t vug_pose_scan_count(const vug_pose_scan *scan);

/** Up vectors, 3 doubles a pose; owned by the scan. NULL gives NULL. */
VUG_API const double *vug_pose_scan_ups(const vug_pose_scan *scan);

/** Trapped air of each pose in mm3; owned by the scan. NULL gives NULL. */
VUG_API const double *vug_pose_scan_trapped_mm3(const vug_pose_scan *scan);

/** Number of the pose with the least trapped air (the first of equals); 0 for NULL. */
VUG_API size_t vug_pose_scan_best(const vug_pose_scan *scan);

/** What holding a part in a pose comes to. */
typedef struct vug_pose_info {
    uint32_t struct_size;
    int32_t criteria;             /**< 1: residue_mm3 and stand_mm are known */
    double up[3];
    double trapped_mm3;           /**< air that stays after filling */
    double residue_mm3;           /**< liquid that stays after draining, all openings open; else 0 */
    double lowest_lip_mm;         /**< heights along up of the lips of the openings that are not sealed; */
    double highest_lip_mm;        /**< 0 if there are none */
    const uint32_t *cover;        /**< openings, rising, with their lip below the highest: cover them to fill up;
                                       NULL if there are none; valid as long as the scan */
    size_t cover_count;
    double stand_mm;              /**< distance of the centre of mass from the edge of what the part stands
                                       on; negative: it falls over; else 0 */
    double trapped_error_mm3;     /**< see vug_pockets_totals() */
    double residue_error_mm3;
    int32_t trusted;              /**< 1: all cavities are, see vug_cavity_info */
} vug_pose_info;

/** Pose number index of a scan. Errors: VUG_ERR_ARGUMENT,
 *  VUG_ERR_NOT_FOUND. */
VUG_API vug_status vug_pose_scan_get(const vug_pose_scan *scan, size_t index, vug_pose_info *info);

/** Writes count unit vectors (3 doubles each) spread evenly over the sphere into ups, from +z down
 *  to -z: steps of equal area in height, turned by the golden angle (Gonzalez, Math. Geosci. 42,
 *  2010). Errors: VUG_ERR_ARGUMENT (count 0, ups NULL). */
VUG_API vug_status vug_sphere_points(size_t count, double *ups);

/** A bore proposed for a pocket: where the drill goes in, and how. */
typedef struct vug_bore_info {
    uint32_t struct_size;
    uint32_t pocket;
    double point_mm[3];           /**< on the outer skin */
    double direction[3];          /**< unit, the way the drill goes: inward */
    double depth_mm;              /**< through the wall, skin to pocket */
} vug_bore_info;

/** Proposes a vent bore for pocket number index: straight from outside to the pocket's highest
 *  point, through one wall only, the shortest way of 400 directions over the sphere less those that
 *  lead down from the pocket, straight up first of equals. It knows nothing of looks, supports or
 *  edges. cavities are those that the pockets were found in.
 *  Errors: VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND (no such pocket, or no straight way in),
 *  VUG_ERR_CANCELLED. */
VUG_API vug_status vug_pockets_bore(vug_context *ctx, const vug_cavities *cavities,
    const vug_pockets *pockets, size_t index, vug_bore_info *info);

/* ======================================================================== */
/* fill: pouring and draining, in order and in time                         */
/* ======================================================================== */
/* Liquid and air in one cavity of a part that is held still. Up is 3 doubles of any length, in part
 * coordinates; a level is a height along it. Nothing here is drilled, covered or turned by itself:
 * openings are open or sealed as their roles say, and liquid that comes to a lip is reported. */

/** What happens in a fill or a drain. */
enum {
    VUG_EVENT_NONE = -1,
    VUG_EVENT_BASIN = 0,  /**< liquid comes to a basin for the first time */
    VUG_EVENT_SILL = 1,   /**< a full basin runs over a sill into another */
    VUG_EVENT_MERGE = 2,  /**< pools on both sides of a sill become one */
    VUG_EVENT_POCKET = 3, /**< air is cut off from every open opening */
    VUG_EVENT_SPILL = 4,  /**< liquid is at the lip of an opening and spills unless it is covered */
    VUG_EVENT_RIM = 5,    /**< liquid covers the whole rim of an opening: no more air leaves by it */
    VUG_EVENT_FULL = 6,   /**< no surface can rise any more: what air is left is trapped */
    VUG_EVENT_LEFT = 7,   /**< draining: a pool is cut off from every open opening and stays behind */
    VUG_EVENT_LIP = 8,    /**< draining: the liquid has fallen to the lip of an opening */
    VUG_EVENT_EMPTY = 9,  /**< draining: nothing more runs out */
    VUG_EVENT_LEVEL = 10, /**< viscous: after a load, or the last, all is level within 0.05 mm */
    VUG_EVENT_SLOPE = 11, /**< viscous, settle: a yield stress holds a surface above others of its pool */
    VUG_EVENT_WAIT = 12   /**< air and liquid have to pass each other in a throat: see wait_s. Listed last */
};

/** How a fill or a drain ended. */
enum {
    VUG_END_NONE = -1,
    VUG_END_FULL = 0,     /**< full, but for air that has no way out */
    VUG_END_CUT_OFF = 1,  /**< there is room with a vent left, but trapped air bars the way to it */
    VUG_END_SUPPLY = 2,   /**< the liquid at hand is used up */
    VUG_END_SPILL = 3,    /**< stopped at the first spill, as asked */
    VUG_END_BLOCKED = 4,  /**< nothing moved: air has no way out, or no way in */
    VUG_END_DRAINED = 5   /**< all that can run out has run out */
};

/** How liquid comes in. */
enum {
    VUG_ENTRY_NONE = -1,
    VUG_ENTRY_INJECTED = 0, /**< by a needle thinner than the hole: air may leave beside it */
    VUG_ENTRY_POURED = 1    /**< by gravity: the hole is full of liquid, air passes only if it is
                                 wider than vug_exchange_diameter() */
};

/** Options of vug_fill_run(). */
typedef struct vug_fill_options {
    uint32_t struct_size;
    int32_t entry;          /**< VUG_ENTRY_; default injected */
    int32_t inlet;          /**< number of an opening; -1 (default): the first with role inlet, else the
                                 first that is not sealed */
    int32_t inlet_sealed;   /**< 1: the syringe fits tightly, no air leaves by the inlet */
    int32_t stop_at_spill;  /**< 1: end at the first spill; 0: the opening gets covered for liquid, air
                                 still leaves until its whole rim is under, and the fill goes on */
    uint32_t columns_across;/**< N: as many columns as N x N over the two longest sides of the cavity;
                                 0: 280 */
    double spacing_mm;      /**< spacing of the columns instead, if above 0; no more than a 40th of the
                                 cavity's longest side */
    double volume_mm3;      /**< liquid at hand; 0: as much as goes in */
    double rate_mm3_s;      /**< steady rate, for the times; 0: times are 0 */
    int32_t viscous;        /**< 1: liquid needs a head to move; it takes a rate, a table or a pressure */
    int32_t settle;         /**< 1: viscous: once the liquid at hand is in, wait until all is level */
    const double *rates;    /**< viscous: rows of 2 doubles, a time in s (rising, from 0) and the rate in
                                 mm3/s from then on, instead of rate_mm3_s; read during the call */
    size_t rate_count;      /**< rows of it */
    double pressure_pa;     /**< of the syringe. Viscous: above 0: drives the liquid through the inlet's own
                                 bore, less what stands over it, instead of a rate. Without hurry: up to
                                 which it presses on once no open surface can rise; 0: not at all */
    int32_t rigid_air;      /**< 1: closed air keeps its volume and its place, whatever stands over it */
    int32_t release;        /**< 1: at the end the syringe is taken off: liquid under pressure at the inlet
                                 flows back until none is */
    double air_pressure_pa; /**< of the air around; 0: 101325 */
    const vug_fluid *fluid_low;  /**< the ends of the fluid's range, for the waits; NULL: it has none. Read */
    const vug_fluid *fluid_high; /**< during the call */
} vug_fill_options;

/** Fills *options with the defaults. Errors: VUG_ERR_ARGUMENT. */
VUG_API vug_status vug_fill_options_init(vug_fill_options *options, size_t size);

/** The course of a fill or a drain: what happened when, and the state at any moment of it. */
typedef struct vug_course vug_course;

/** The outcome. Liquid + trapped + empty = capacity. */
typedef struct vug_course_info {
    uint32_t struct_size;
    int32_t end;                 /**< VUG_END_ */
    uint32_t cavity;
    int32_t inlet;               /**< fill: number of the inlet; drain: -1 */
    int32_t first_spill_opening; /**< -1: nothing spilled */
    int32_t held;                /**< 1: liquid needs help to pass: poured through, or drained by, a lone
                                      opening narrower than the exchange diameter */
    uint32_t pockets;            /**< at the end */
    uint32_t pools;
    double capacity_mm3;
    double liquid_mm3;           /**< inside at the end: filled, or left behind */
    double trapped_mm3;          /**< air without an open opening to leave by */
    double empty_mm3;            /**< air with one: room never reached, or drained */
    double first_spill_mm3;      /**< liquid inside when it first spilled; -1: never */
    double first_spill_s;        /**< and the time; -1: never */
    double time_s;               /**< until the end; fill without a rate: 0; -1: never by itself */
    double spacing_mm;           /**< of the columns */
    double film_mm;              /**< drain: mean thickness of the film on the walls */
    double film_mm3;             /**< drain: and its volume, not in liquid_mm3 */
    double settled_s;            /**< viscous, settle: time at which all was level within 0.05 mm; -1: not
                                      asked for, or it never is */
    double slope_mm;             /**< viscous, settle: difference of level that is left */
    double lag_mm;               /**< viscous: greatest difference of level within one pool on the way. A
                                      fill without hurry is good to trust while this is small against
                                      the sills and rims that matter */
    double peak_pressure_pa;     /**< greatest pressure inside at the inlet */
    double returned_mm3;         /**< release: liquid that flowed back through the inlet */
    double start_mm3;            /**< liquid inside at first: above 0 after vug_fill_turn() */
    double sill_head_mm;         /**< viscous: greatest height over a sill of the liquid that runs over it */
    double capacity_error_mm3;   /**< errors by the same rule as those of vug_pockets_totals() */
    double liquid_error_mm3;     /**< fill: 0 if it ended for want of liquid, or at a spill */
    double trapped_error_mm3;
    int32_t trusted;             /**< 1: the cavity is, see vug_cavity_info */
    double wait_s;               /**< for air and liquid to pass each other in the narrowest of the throats
                                      where they must, not in time_s: the volume by vug_exchange_flow(); 0: they need not, or it
                                      is less than a second; -1: never by itself */
    double wait_low_s;           /**< at best and at worst over fluid_low to fluid_high, by */
    double wait_high_s;          /**< vug_bubble_tube_range(); -1: maybe never */
} vug_course_info;

/** One event. */
typedef struct vug_event_info {
    uint32_t struct_size;
    int32_t kind;                /**< VUG_EVENT_ */
    int32_t opening;             /**< number of the opening that it happens at, or -1 */
    double liquid_mm3;           /**< inside at that moment */
    double time_s;
    double level_mm;             /**< of the surface that it happens at */
    double volume_mm3;           /**< of the pocket, or of the air that has to pass; 0 for other kinds */
    double point_mm[3];          /**< where: lowest place of a basin, sill, highest place of a pocket, opening,
                                      throat */
    double wait_s;               /**< VUG_EVENT_WAIT: as in vug_course_info; else 0 */
    double wait_low_s;
    double wait_high_s;
    double diameter_mm;          /**< of the throat; else 0 */
} vug_event_info;

/** Fills the cavity of an inlet with the part held so that up points up. roles: role_count VUG_ROLE_
 *  numbers, one for each opening in order; NULL with 0: all open. Without hurry: liquid finds its
 *  level before more comes; see vug_fill_options. It runs from the inlet down to a basin, rises, spills
 *  over sills, pools merge (Barnes, Callaghan, Wickert 2021); air that is cut off from every open
 *  opening is trapped (Masson 2016): it shrinks under the liquid over it and grows back by Boyle's law,
 *  passes the push of a higher pool on to a lower one, and bubbles away under the edge of its dome when it
 *  is pushed down to that. Volumes are scaled so that the whole is the cavity's.
 *  A needle reaches through the bore of its opening, so liquid falls from the bore's inner end. Where bores lead so
 *  steeply down and out that their rims lie below their inner ends, and no other opening lets air out higher up, air is
 *  not counted on to go down past liquid that stands higher: a drop shuts such a bore. Air leaves by it while all liquid
 *  inside stands below the top of its rim, as for vug_pockets_find(), and the bore then fills as if the part were dipped.
 *  Viscous: the arcs of the cavity's gravity graph become bundles of tubes of their sections, in which
 *  the fluid needs a head to flow (Rabinowitsch; yield stress included), and surfaces of one pool may
 *  differ in level. Air leaves by the openings against their resistance to air, as in vug_hole_flow(). Throats between
 *  chambers resist as vug_throat_info has it: levels and pressures behind slots and tubes are within
 *  15 % of CFD. Other passages are estimated from their sections: expect the head within a factor of 2.
 *  Liquid that runs over a sill stands over it by the head of its sheet. Where a chamber without an opening of
 *  its own fills or empties through one throat, air and liquid pass each other there, which takes the time
 *  that wait_s tells.
 *  *out: vug_course_free(). Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY, VUG_ERR_LIMIT, VUG_ERR_DOMAIN
 *  (fluid; a rate that would take more than 100 MPa, which no part bears), VUG_ERR_NOT_FOUND (no cavity, or no
 *  opening to fill by), VUG_ERR_MESH (cavity finer than the columns), VUG_ERR_CONVERGENCE (flows that do not agree
 *  at so fast a rate), VUG_ERR_CANCELLED. */
VUG_API vug_status vug_fill_run(vug_context *ctx, const vug_cavities *cavities,
    const vug_fluid *fluid, const double *up, const int32_t *roles, size_t role_count,
    const vug_fill_options *options, vug_course **out);

/** The highest steady rate at which nothing spills before the rest is full: the first spill then comes
 *  with at least 98 % of the liquid inside that is there when a fill without hurry first spills.
 *  options as in vug_fill_run(); its rates and volume are not used. *rate_mm3_s is
 *  found within 2 %, from 1e-3 to 1e5 mm3/s: 1e5 means no limit was found below it, 1e-3 that it spills at any.
 *  A rate that would take more than 100 MPa is above it too.
 *  The lip of an inlet that is under liquid before the rest is full is no spill. Errors: as vug_fill_run(), and
 *  VUG_ERR_NOT_FOUND when no opening ever spills in this pose. */
VUG_API vug_status vug_fill_rate_limit(vug_context *ctx, const vug_cavities *cavities,
    const vug_fluid *fluid, const double *up, const int32_t *roles, size_t role_count,
    const vug_fill_options *options, double *rate_mm3_s);

/** The state at one moment of a course: pools and pockets. */
typedef struct vug_moment vug_moment;

/** Options of vug_drain_run(). */
typedef struct vug_drain_options {
    uint32_t struct_size;
    int32_t cavity;         /**< number of the cavity; -1 (default): that of the first open opening */
    uint32_t columns_across;/**< N: as many columns as N x N over the two longest sides of the cavity;
                                 0: 280 */
    double spacing_mm;      /**< spacing of the columns instead, if above 0; no more than a 40th of the
                                 cavity's longest side */
    double drip_s;          /**< how long the walls drip after the flow has ended; 0: 60 s */
    const vug_moment *begin; /**< what is inside at first, of an earlier course in the same cavity: the part is
                                 turned with its openings covered as vug_fill_turn() does it, then they are
                                 freed; with neither columns_across nor spacing_mm the columns are as far apart as
                                 those of the moment. NULL: the cavity is full */
} vug_drain_options;

/** Fills *options with the defaults. Errors: VUG_ERR_ARGUMENT. */
VUG_API vug_status vug_drain_options_init(vug_drain_options *options, size_t size);

/** Drains a full cavity with the part held so that up points up, through all openings that are not
 *  sealed (roles as in vug_fill_run()). What stays behind lies below the lowest lip that it can reach: of a bore that
 *  leads up and out that of its rim, so that a drain leaves what a fill of the part upside down does.
 *  Air comes in by the highest open opening; as long as that is under liquid the head counts from
 *  there (Mariotte). Flow through the others as in vug_hole_flow(), under the head left by the suction
 *  that the air needs. A lone opening, or several at one height, gives liquid only in exchange for air:
 *  not at all below vug_exchange_diameter() (time_s -1, held 1), above it at vug_exchange_flow() (an
 *  estimate, within a factor of 2). The same for openings that are all narrower, while the height between
 *  any two is less than the vug_capillary_hold_head() of both together: air breaks in at one as a bubble, liquid
 *  breaks out at the other as a drop. The volumes say what is left once air has been helped in. Film on the walls after drip_s: Jeffreys 1930. *out: vug_course_free().
 *  Errors as vug_fill_run(). */
VUG_API vug_status vug_drain_run(vug_context *ctx, const vug_cavities *cavities,
    const vug_fluid *fluid, const double *up, const int32_t *roles, size_t role_count,
    const vug_drain_options *options, vug_course **out);

/** Frees a course; NULL is allowed. */
VUG_API void vug_course_free(vug_course *course);

/** The outcome. Errors: VUG_ERR_ARGUMENT. */
VUG_API vug_status vug_course_get(const vug_course *course, vug_course_info *summary);

/** Number of events, in order of time; NULL gives 0. */
VUG_API size_t vug_course_event_count(const vug_course *course);

/** Event number index. Errors: VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND. */
VUG_API vug_status vug_course_event(const vug_course *course, size_t index,
    vug_event_info *event);

/** The course as a curve: rows of 3 doubles, time in s (-1 once liquid is held: never by itself), liquid
 *  inside in mm3, pressure inside at the inlet in Pa (fills; else 0), one for each moment that was worked
 *  out. *rows is vug_free()d by the caller. Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY. */
VUG_API vug_status vug_course_curve(vug_context *ctx, const vug_course *course, double **rows,
    size_t *row_count);

/** A moment, as a whole. */
typedef struct vug_moment_info {
    uint32_t struct_size;
    uint32_t pockets;
    uint32_t pools;
    double time_s; /**< -1: a drain does not come here by itself */
    double liquid_mm3;
    double trapped_mm3;
    double empty_mm3;
} vug_moment_info;

/** A pool: connected liquid. */
typedef struct vug_pool_info {
    uint32_t struct_size;
    uint32_t surfaces;           /**< free surfaces, those under pockets included */
    double volume_mm3;
    double level_mm;             /**< of its highest surface */
    double bottom_mm[3];         /**< its lowest point, part coordinates */
    double area_mm2;             /**< of its surfaces */
    double volume_error_mm3;     /**< at most that of all liquid, or of all trapped air, at the end */
} vug_pool_info;

/** The moment at which volume_mm3 of liquid was inside (a drain: for the first time, coming from
 *  more), or the end if it never was. *out: vug_moment_free(). Errors: VUG_ERR_ARGUMENT (NaN too),
 *  VUG_ERR_MEMORY. */
VUG_API vug_status vug_course_at_volume(vug_context *ctx, const vug_course *course,
    double volume_mm3, vug_moment **out);

/** The moment at a time, or the end after it. Errors as vug_course_at_volume(). */
VUG_API vug_status vug_course_at_time(vug_context *ctx, const vug_course *course, double time_s,
    vug_moment **out);

/** Frees a moment; NULL is allowed. It outlives its course. */
VUG_API void vug_moment_free(vug_moment *moment);

/** The moment as a whole. Errors: VUG_ERR_ARGUMENT. */
VUG_API vug_status vug_moment_get(const vug_moment *moment, vug_moment_info *info);

/** Pocket number index, largest first: level_mm is that of its lowest surface. Errors:
 *  VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND. */
VUG_API vug_status vug_moment_pocket(const vug_moment *moment, size_t index, vug_pocket_info *info);

/** Pool number index, largest first. Errors: VUG_ERR_ARGUMENT,
 *  VUG_ERR_NOT_FOUND. */
VUG_API vug_status vug_moment_pool(const vug_moment *moment, size_t index, vug_pool_info *info);

/** Volume that pool number index would have with its open surfaces at level_mm, as long as none
 *  runs over a sill or into another arc of the cavity: surfaces under pockets stay. Errors:
 *  VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND, VUG_ERR_DOMAIN (level outside the range over which the pool keeps its
 *  shape; the message has it). */
VUG_API vug_status vug_moment_pool_volume(vug_context *ctx, const vug_moment *moment, size_t index,
    double level_mm, double *volume_mm3);

/** The inverse: level of the open surfaces at a volume. Errors as vug_moment_pool_volume(). */
VUG_API vug_status vug_moment_pool_level(vug_context *ctx, const vug_moment *moment, size_t index,
    double volume_mm3, double *level_mm);

/** The spans of the columns in the vertical plane through point (3 doubles, part coordinates), as a
 *  viewer sees them to whom direction points from the part (3 doubles; its part along up is ignored),
 *  for drawing a section as vug_pockets_section() does: rows of 4 doubles, distance in mm to the
 *  viewer's right of point, floor, level and ceiling in mm along up; liquid from floor to
 *  level, air from level to ceiling. *rows is vug_free()d by the caller. Errors: VUG_ERR_ARGUMENT,
 *  VUG_ERR_MEMORY. */
VUG_API vug_status vug_moment_section(vug_context *ctx, const vug_moment *moment,
    const double *point, const double *direction, double **rows, size_t *row_count);

/** The level of the liquid at each of count points, as vug_pockets_levels() gives it.
 *  Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY. */
VUG_API vug_status vug_moment_levels(vug_context *ctx, const vug_moment *moment,
    const double *points, size_t count, double *levels_mm);

/** Extra liquid that goes in when trapped air is squeezed: by the head of the liquid above it (unless the
 *  course has taken that into account), and by
 *  pressure_pa (gauge, 0 or more) on the pool that the inlet opens into, as a syringe that fits tightly
 *  gives. Boyle's law from air_pressure_pa (0: 101325), at which each pocket was closed; when the
 *  pressure goes the air grows back and the liquid comes out again. volumes_mm3: volume_count places, of
 *  the pockets in order, how small they get (NULL with 0: not wanted). Errors: VUG_ERR_ARGUMENT,
 *  VUG_ERR_DOMAIN. */
VUG_API vug_status vug_moment_squeeze(vug_context *ctx, const vug_moment *moment,
    const vug_fluid *fluid, double pressure_pa, double air_pressure_pa, double *volumes_mm3,
    size_t volume_count, double *liquid_mm3);

/** The free surfaces of the liquid, those under pockets included, as flat meshes that look up: the lids of all pools,
 *  see vug_moment_pool_mesh(). *out: vug_mesh_free(). Errors as vug_moment_pool_mesh(), VUG_ERR_NOT_FOUND if there
 *  is no surface at this moment. */
VUG_API vug_status vug_moment_surface(vug_context *ctx, const vug_moment *moment, vug_mesh **out);

/** Pocket number index as a closed mesh that looks outward, as vug_pockets_mesh() has it. *out: vug_mesh_free().
 *  Errors as vug_pockets_mesh(). */
VUG_API vug_status vug_moment_pocket_mesh(vug_context *ctx, const vug_moment *moment, size_t index,
    vug_mesh **out);

/** Pool number index as a closed mesh that looks outward: the cavity's own triangles below the liquid's surfaces,
 *  parted at their levels, and flat lids there. What it encloses is the pool's volume, within volume_error_mm3,
 *  1 % and 4 cubes of the spacing. Planned bores are no part of it. *out: vug_mesh_free(). Errors as vug_pockets_mesh(). */
VUG_API vug_status vug_moment_pool_mesh(vug_context *ctx, const vug_moment *moment, size_t index,
    vug_mesh **out);

/** Turns the part with its openings covered and goes on filling. from: a moment of an earlier course, of
 *  the same cavity (cavities may have got bores since). Air below a ceiling of the new pose rises along
 *  it to a dome, fills that downward and spills over its sill; liquid falls and fills basins upward. The
 *  lesser of the two moves, piece by piece, through the other, and what it displaces takes its place, so
 *  a leg that is cut off keeps what it holds; volumes stay what they were within 1e-9 of the capacity.
 *  Then all openings that are not sealed are freed, surfaces of one pool under the air outside come to
 *  one level, and the fill goes on as in vug_fill_run(): air under open openings leaves as liquid is
 *  topped up. Seal the openings that stand under liquid: others keep it in, as if covered, and show as
 *  spills. roles, options: as in vug_fill_run(), for the openings of that cavity; volume_mm3 is what is
 *  added; with neither columns_across nor spacing_mm the columns are as far apart as those of the moment.
 *  If all openings are sealed nothing is added, and the course is the part at rest: a slow turn is a
 *  series of such calls. Liquid is taken to run and bubbles to rise however narrow the way. *out:
 *  vug_course_free(); its start_mm3 is what was inside. Errors: as vug_fill_run(), and VUG_ERR_ARGUMENT
 *  for a moment of another cavity. */
VUG_API vug_status vug_fill_turn(vug_context *ctx, const vug_cavities *cavities,
    const vug_fluid *fluid, const vug_moment *from, const double *up, const int32_t *roles,
    size_t role_count, const vug_fill_options *options, vug_course **out);

/** A moment that no course came to: so much liquid is in cavity number cavity, the part is held so that up
 *  points up, all openings are covered, and all is at rest: what one finds on the bench, to go on from with
 *  vug_fill_turn() or vug_drain_options.begin. air: air_count rows x, y, z in part coordinates, where air is seen, on the
 *  skin or inside, within 10 mm of the cavity: it rises from there in equal parts, as vug_fill_turn() has it, to domes
 *  that it fills and runs over. NULL with 0: as if shaken: the lesser of liquid and air falls or rises from everywhere
 *  alike. liquid_mm3: 0 to the cavity's volume, kept within 1e-9 of it. spacing_mm of the columns; 0: as in
 *  vug_fill_run(). *out: vug_moment_free(). Errors: VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND (no such cavity, or air
 *  that is not near it), VUG_ERR_MESH (cavity finer than the columns), VUG_ERR_LIMIT, VUG_ERR_MEMORY,
 *  VUG_ERR_CANCELLED. */
VUG_API vug_status vug_moment_make(vug_context *ctx, const vug_cavities *cavities, size_t cavity,
    const double *up, double spacing_mm, double liquid_mm3, const double *air, size_t air_count,
    vug_moment **out);

/** Volume inside a closed mesh below level_mm along up (3 doubles, any length), exactly: sums over the
 *  faces by the divergence theorem. For a cavity take vug_cavities_mesh(). A level below or above the
 *  whole mesh gives 0 or all. Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY. */
VUG_API vug_status vug_mesh_volume_below(vug_context *ctx, const vug_mesh *mesh, const double *up,
    double level_mm, double *volume_mm3);

/** The inverse: the level below which the mesh holds volume_mm3, within 1e-12 of its height. Errors:
 *  VUG_ERR_ARGUMENT, VUG_ERR_MEMORY, VUG_ERR_DOMAIN (less than 0, or more than the mesh holds). */
VUG_API vug_status vug_mesh_level(vug_context *ctx, const vug_mesh *mesh, const double *up,
    double volume_mm3, double *level_mm);

/** Options of vug_cups_find(). */
typedef struct vug_cup_options {
    uint32_t struct_size;
    int32_t cavity;         /**< number of the cavity; default 0 */
    uint32_t columns_across;/**< N: as many columns as N x N over the two longest sides of the cavity;
                                 0: 280 */
    double spacing_mm;      /**< spacing of the columns instead, if above 0; no more than a 40th of the
                                 cavity's longest side */
    double layer_mm;        /**< height of a layer; 0: 0.05 */
    double lift_mm_s;       /**< speed at which the part is lifted off the film; 0: 1 */
    double suction_pa;      /**< suction that the film may bear, for the relief; 0: 2000 */
    double wall_mm;         /**< wall that the relief is drilled through; 0: 2 */
} vug_cup_options;

/** Fills *options with the defaults. Errors: VUG_ERR_ARGUMENT. */
VUG_API vug_status vug_cup_options_init(vug_cup_options *options, size_t size);

/** A cup: a stretch of layers in which a piece of the cavity is open to nothing but the film. */
typedef struct vug_cup_info {
    uint32_t struct_size;
    uint32_t cavity;
    double lo_mm;           /**< where it begins, along the build direction */
    double hi_mm;           /**< its last layer: then an opening is printed, it joins another, or it closes */
    double area_mm2;        /**< largest section against the film */
    double resin_mm3;       /**< held at its last layer */
    double relief_mm;       /**< diameter of a hole that would keep the suction at the limit */
    double point_mm[3];     /**< where it begins: a hole near there relieves all of it */
} vug_cup_info;

/** The closed cups of a print. */
typedef struct vug_cups vug_cups;

/** Finds the cups of a cavity while the part is printed layer by layer, up being the build
 *  direction, from the plate to the last layer, and the suction of what is open through the
 *  openings that are printed already when each layer is lifted: section times speed through the
 *  holes, vug_hole_flow(). resin: NULL: 1100 kg/m3, 0.2 Pa s. roles: sealed openings do not
 *  count. *out: vug_cups_free(). Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY, VUG_ERR_DOMAIN,
 *  VUG_ERR_LIMIT (layers), VUG_ERR_NOT_FOUND (cavity), VUG_ERR_MESH, VUG_ERR_CANCELLED. */
VUG_API vug_status vug_cups_find(vug_context *ctx, const vug_cavities *cavities,
    const vug_fluid *resin, const double *up, const int32_t *roles, size_t role_count,
    const vug_cup_options *options, vug_cups **out);

/** Frees cups; NULL is allowed. */
VUG_API void vug_cups_free(vug_cups *cups);

/** Number of cups, in the order in which they begin to be printed; NULL gives 0. */
VUG_API size_t vug_cups_count(const vug_cups *cups);

/** Cup number index. Errors: VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND. */
VUG_API vug_status vug_cups_get(const vug_cups *cups, size_t index, vug_cup_info *info);

/** The layers: rows of 4 doubles, height of the middle of the layer in mm, section of closed cups in mm2,
 *  resin held in them in mm3, and the greatest suction in Pa of the pieces that have an opening; owned
 *  by cups. *row_count (may be NULL) gets their number. NULL gives NULL. */
VUG_API const double *vug_cups_layers(const vug_cups *cups, size_t *row_count);

/* ======================================================================== */
/* skin: which of it the paint wets                                         */
/* ======================================================================== */
/* The skin is the wall of the cavities as it is seen from outside, with the walls of their bores. Over all courses
 * that are added it is followed what liquid ever wets: backed is what has liquid behind it at the end, filmed what
 * was wetted and then left to the air, bare what never was. */

/** The skin of cavities, and what was wetted of it so far. */
typedef struct vug_skin vug_skin;

/** Options of vug_skin_make(). */
typedef struct vug_skin_options {
    uint32_t struct_size;
    int32_t reserved;
    double spacing_mm;            /**< a triangle is cut until no edge is longer, and each piece is wet or not by its
                                       middle; 0: 1/100 of the longest side of the cavities' bounds */
    double depth_mm;              /**< liquid so near behind the skin backs it, as a thin layer of air between
                                       hardly shows: 0.2 (no source); 0: touching alone */
    double after_s;               /**< age of the film: 60 */
    const double *view;           /**< directions from which the part is seen, 3 doubles each, any length, pointing
                                       from the part to the viewer: what is seen more counts more in the
                                       shares; read during the call. NULL: all counts alike */
    size_t view_count;
} vug_skin_options;

/** What was wetted, of all cavities to which something was added. backed, filmed, bare and unknown make up all. */
typedef struct vug_skin_info {
    uint32_t struct_size;
    uint32_t courses;             /**< that were added */
    double area_mm2;              /**< of the wall, caps left out: as in vug_cavity_info */
    double backed_mm2;
    double filmed_mm2;
    double bare_mm2;
    double unknown_mm2;           /**< where no column of any course came near: finer than the columns */
    double backed_share;          /**< 0..1, by area and how visible it is */
    double filmed_share;
    double bare_share;
    double film_mm;               /**< mean thickness of the wet film on what is filmed; 0: there is none */
    double spot_mm2;              /**< area of the largest connected bare spot */
    double spot_at_mm[3];         /**< its middle, on the skin */
} vug_skin_info;

/** Fills *options with the defaults. Errors: VUG_ERR_ARGUMENT. */
VUG_API vug_status vug_skin_options_init(vug_skin_options *options, size_t size);

/** The skin of all cavities, dry. How visible a place is: over all directions of view the mean of
 *  the cosine at which it is seen, straight through its own wall alone, with nothing else of the part in
 *  between. It needs neither cavities nor ctx any more. *out: vug_skin_free(). Errors: VUG_ERR_ARGUMENT,
 *  VUG_ERR_MEMORY, VUG_ERR_NOT_FOUND (no cavity), VUG_ERR_LIMIT (spacing too fine for the area). */
VUG_API vug_status vug_skin_make(vug_context *ctx, const vug_cavities *cavities,
    const vug_skin_options *options, vug_skin **out);

/** Frees a skin; NULL is allowed. */
VUG_API void vug_skin_free(vug_skin *skin);

/** Adds a course, the next one in its cavity: of vug_fill_run(), vug_fill_turn() or vug_drain_run(). What the
 *  highest level of any of its moments reaches is wetted; its end is what is backed. While the part is turned the
 *  liquid is where it was before and where it comes to rest; for what it sweeps between, turn by a few
 *  poses on the way. Liquid running down to a basin is not counted. Film: that of a wall of the
 *  triangle's slope, 5 degrees at least, so far below the cavity's highest point, after after_s (Jeffreys 1930), or
 *  what the yield stress of fluid holds on it, the larger. Walls of a planned bore are not skin. Errors:
 *  VUG_ERR_ARGUMENT (a course of another part too), VUG_ERR_DOMAIN (fluid), VUG_ERR_MEMORY. */
VUG_API vug_status vug_skin_wet(vug_context *ctx, vug_skin *skin, const vug_fluid *fluid,
    const vug_course *course);

/** What was wetted so far, as a whole. Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY. */
VUG_API vug_status vug_skin_get(vug_context *ctx, const vug_skin *skin, vug_skin_info *info);

/** The same for each triangle of vug_cavities_mesh() of a cavity, caps included as zeros: rows of 4 doubles, backed,
 *  filmed and bare in mm2, and the mean film on what is filmed in mm. *rows is vug_free()d by the caller.
 *  Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY, VUG_ERR_NOT_FOUND. */
VUG_API vug_status vug_skin_triangles(vug_context *ctx, const vug_skin *skin, size_t cavity,
    double **rows, size_t *row_count);

/** Connected bare spots, the largest first: rows of 5 doubles, its middle x, y, z on the skin in mm, its area in
 *  mm2, and how visible it is, 0..1. Pieces of skin that are within two spacings and do not look away from
 *  each other are connected. *rows is vug_free()d by the caller; NULL with *row_count 0 if nothing is bare.
 *  Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY. */
VUG_API vug_status vug_skin_spots(vug_context *ctx, const vug_skin *skin, double **rows,
    size_t *row_count);

/* ======================================================================== */
/* look: what one sees                                                      */
/* ======================================================================== */

/** The part against the light: how vug_backlit_render() looks at it. Colours are red, green, blue. */
typedef struct vug_backlit {
    uint32_t struct_size;
    int32_t filled;            /**< 1: cavities that no moment is given of are full; 0: they are empty */
    double toward[3];          /**< direction from the part to the viewer, part coordinates, any length:
                                    0, -1, 0, the front */
    double up[3];              /**< what is up in the picture, not along toward: 0, 0, 1 */
    double scale_mm;           /**< mm of a pixel; 0: the part fits, with a twentieth around it */
    double resin_per_mm[3];    /**< attenuation, 0 to 1e4: 0.10, 0.12, 0.18 (from memory; it differs by ten
                                    from resin to resin: measure a step wedge) */
    double liquid_per_mm[3];   /**< 20, 20, 20: dark paint (common practice: opaque at 0.3 mm) */
    double background[3];      /**< share of white of the light behind, 0 to 1: 1, 1, 1 */
    int32_t linear;            /**< 1: bytes are 255 times the share of white; 0: by the curve of sRGB,
                                    as screens and image files want them */
    int32_t reserved;
} vug_backlit;

/** Fills *options with the defaults given at its members. Errors: VUG_ERR_ARGUMENT. */
VUG_API vug_status vug_backlit_init(vug_backlit *options, size_t size);

/** Picture of a part against an even light, as it is looked through: parallel lines of sight, one through
 *  the middle of each pixel, background exp(-(resin a + liquid b)) with a and b the mm of it in resin and
 *  in liquid (Beer-Lambert; exact for the triangles). cavities NULL: none are filled. moment: the liquid of
 *  a moment of a fill or drain of one of the cavities, NULL: none; options->filled tells of the others.
 *  Planned bores of cavities are open. What bends, is mirrored or scattered at faces and in the resin is
 *  left out, so the picture tells what is thick, what is thin and what is behind, not how it glitters.
 *  options NULL: defaults. rgba: height rows from the top down, stride bytes apart (0: 4 * width), of width
 *  pixels of 4 bytes, the last 255; width and height 1 to VUG_MAX_COLUMNS_ACROSS / 2. Undefined after a
 *  failure. Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN, VUG_ERR_LIMIT, VUG_ERR_MESH (no triangles),
 *  VUG_ERR_MEMORY, VUG_ERR_CANCELLED. */
VUG_API vug_status vug_backlit_render(vug_context *ctx, const vug_mesh *mesh,
    const vug_cavities *cavities, const vug_moment *moment, const vug_backlit *options,
    uint32_t width, uint32_t height, uint8_t *rgba, size_t stride);

/* ======================================================================== */
/* plan: how to hold it, how to turn it, where to drill                     */
/* ======================================================================== */

/** What a part must have: a plan's two sequences. */
enum {
    VUG_PLAN_NONE = -1,
    VUG_PLAN_FILL = 0,           /**< paint in, air out */
    VUG_PLAN_DRAIN = 1,          /**< rinsing liquid out, air in */
    VUG_PLAN_COAT = 2            /**< a little paint swirled around, all openings covered */
};

/** What to watch out for. vug_caution_text() has the words. */
enum {
    VUG_CAUTION_NONE = -1,
    VUG_CAUTION_RESIN = 0,       /**< uncured resin inside */
    VUG_CAUTION_SOLVENT = 1,     /**< rinsing liquid: fire, fumes */
    VUG_CAUTION_UV = 2,          /**< curing lamp */
    VUG_CAUTION_DUST = 3,        /**< drilling */
    VUG_CAUTION_GLUE = 4,        /**< plugging */
    VUG_CAUTION_SEALED = 5,      /**< a full, sealed cavity that warms up or freezes */
    VUG_CAUTION_PRESSURE = 6,    /**< pressing paint in against covered openings */
    VUG_CAUTION_LIMIT = 7,       /**< more air stays than was asked for */
    VUG_CAUTION_HELD = 8,        /**< bubbles may stick: passages narrow, or the paint too stiff */
    VUG_CAUTION_EXCHANGE = 9,    /**< the openings let nothing out by themselves: vug_drain_run() has no time for a
                                      drain */
    VUG_CAUTION_TILT = 10,       /**< the result depends on holding the part to a few degrees */
    VUG_CAUTION_THIN = 11,       /**< a bore goes near an edge or through a thin wall */
    VUG_CAUTION_SEARCH = 12,     /**< the search's own estimate was off: look again with more columns */
    VUG_CAUTION_BRISK = 13,      /**< turned slowly, more air stays */
    VUG_CAUTION_THROAT = 14,     /**< throats inside hold bubbles back: see vug_plan_info.throats */
    VUG_CAUTION_CUT_OFF = 15,    /**< in a step there is room with an opening that paint does not get to */
    VUG_CAUTION_FULL = 16,       /**< drilling into a part with paint in it */
    VUG_CAUTION_COUNT = 17
};

/** Options of vug_plan_make(). */
typedef struct vug_plan_options {
    uint32_t struct_size;
    uint32_t columns_across;     /**< columns along the longest side in the search; 0: 110 */
    uint32_t verify_across;      /**< in the simulations, as in a fill: N: as many columns as N x N over the two longest
                                      sides of the cavities' bounds; 0: 280 */
    uint32_t pose_count;         /**< poses to search among; 0: 96; at most 1000 */
    uint32_t max_turns;          /**< after the first pose; with start_given steps on from there; default 4, at most VUG_MAX_TURNS */
    uint32_t max_bores;          /**< new bores; default 3, at most VUG_MAX_BORES */
    int32_t pose_given;          /**< 1: fill in the pose first_up */
    int32_t drills;              /**< VUG_DRILLS_STOCK */
    double first_up[3];
    double limit;                /**< share of the cavity that may stay air: 0.005 */
    double turn_cost;            /**< weights of the choice among alternatives: 1 */
    double bore_cost;            /**< 4 */
    double air_cost;             /**< for each percent of the cavity, taken halfway between trapped_mm3
                                      and tilted_mm3: 1 */
    double bore_mm;              /**< diameter of new bores; 0: chosen by fluid, wall and drills */
    double syringe_ml;           /**< 10 */
    double chuck_mm;             /**< diameter of the drill's chuck: 8 */
    double reach_mm;             /**< of the drill in front of the chuck: 20 */
    double tilt_deg;             /**< how exactly the part is held: 5 */
    const double *view;          /**< directions from which the part is seen, 3 doubles each, pointing from
                                      the part to the viewer; NULL: from all sides and from above, +z up */
    size_t view_count;
    const double *keep_clear;    /**< no bore here: rows x, y, z, radius */
    size_t keep_clear_count;
    const double *preferred;     /**< rather here: rows x, y, z, radius */
    size_t preferred_count;
    const uint8_t *triangle_flags; /**< of each triangle of the part: 0, 1 keep clear, 2 preferred */
    size_t triangle_flag_count;  /**< 0, or the part's number of triangles */
    const vug_fluid *fluid_low;  /**< the ends of the paint's range, for the waits; NULL: it has none. Read */
    const vug_fluid *fluid_high; /**< during the call */
    int32_t design;              /**< 1: the part is not printed yet: new holes belong into its model: 0 */
    int32_t start_given;         /**< 1: something is in it already: the plan goes on from there, see
                                      vug_plan_make() */
    double start_up[3];          /**< how it is held now, all openings covered: the nearest pose that words say */
    double start_liquid_mm3;     /**< what went in, above 0 and no more than the cavity holds */
    const double *start_air;     /**< rows x, y, z: where air is seen, see vug_moment_make(); NULL: where a fill in
                                      that pose leaves it */
    size_t start_air_count;
    double bare_limit;           /**< share of the skin that may stay bare, see vug_plan_info.bare_mm2: 1 */
    uint32_t max_repeats;        /**< how often the last turn and the one before may be done again, leaning the part to
                                      all sides each time, for hands that miss the limit as tilt_deg has them, or, where
                                      there is no turn, twice as often the part be held so anew and topped up; 0: never,
                                      nor leant; beyond max_turns: 2 */
    uint32_t reserved;
} vug_plan_options;

/** Fills *options with the defaults. Errors: VUG_ERR_ARGUMENT. */
VUG_API vug_status vug_plan_options_init(vug_plan_options *options, size_t size);

/** A plan, and the alternatives to it. Alternative 0 is the one to take. */
typedef struct vug_plan vug_plan;

/** One alternative as a whole. */
typedef struct vug_plan_info {
    uint32_t struct_size;
    int32_t within_limit;        /**< 1: no more air stays than options.limit, nor bare skin than bare_limit */
    uint32_t bores;              /**< new ones */
    uint32_t steps;              /**< of filling, with those that do earlier ones again */
    double cost;
    double capacity_mm3;         /**< of the cavities that an opening leads to; sealed_mm3 is the rest */
    double trapped_mm3;          /**< air that stays in them, by the simulation of the steps as they are told */
    double tilted_mm3;           /**< the same when every pose is off by options.tilt_deg, each in a direction of its
                                      own, holes by a tenth of their width (0.9, 1, 1.1 in turn) and the paint by
                                      a tenth of its tension, yield stress, consistency and contact angle: of
                                      VUG_PLAN_SAMPLES random sets of directions, the same each time, the 95th
                                      percentile by nearest rank; or of the first half of them where within_limit is 0,
                                      or where none of that half leaves more than the limit, or three quarters of it
                                      do. With any_pace each turn is made at one of the three paces of slowly_mm3, else
                                      as it is told. Simulated on 80 columns across, as more or less than the same columns
                                      see of the steps as they are told */
    double slowly_mm3;           /**< the most when the turns are made at any of three paces: in one go, and with
                                      bubbles coming to rest every 30 and every 10 degrees; at least trapped_mm3. As more
                                      than that by what columns as wide as the search's see */
    double searched_mm3;         /**< what the search had estimated */
    double inject_mm3;           /**< paint in all; with given steps: what is still to go in */
    double residue_mm3;          /**< rinsing liquid that stays after draining, by the simulation */
    int64_t loads;               /**< syringes */
    double last_load_ml;
    double paint_ml;             /**< to prepare, losses included */
    double throat_limit_mm;      /**< throats narrower than this let no bubble pass in this paint:
                                      vug_bubble_held() */
    double throat_mm;            /**< the narrowest of those; 0: there is none */
    uint32_t throats;            /**< how many there are in the part */
    int32_t searched_all;        /**< 1: the turns of every set of bores among the places found were
                                      searched; 0: of the most promising sets of each size */
    int32_t trusted;             /**< 1: all cavities are, see vug_cavity_info */
    int32_t any_pace;            /**< 1: within the limit at each of the three paces of slowly_mm3; then the steps are
                                      told at the worst of them. 0: at the best, and the pace matters */
    double sealed_mm3;           /**< cavities that no opening leads to: they stay empty */
    double spacing_mm;           /**< of the columns in the simulations of the steps */
    double chance;               /**< share of the samples of tilted_mm3 that leave no more than the limit */
    int32_t in_model;            /**< 1: new holes belong into the model, before it is printed, and drain too: asked for by
                                      options.design, or a cavity has no opening yet. 0: they are drilled in the
                                      cured part, so that rinsing does without them */
    int32_t rinses;              /**< to a thousandth of the resin, by vug_rinse_compare(), well shaken, for what stays
                                      of the rinsing liquid with its film; 0: more than 30 would be wanted, as next to
                                      nothing runs out */
    double rinse_mm3;            /**< rinsing liquid for them */
    double film_mm3;             /**< of rinsing liquid on the walls after the last draining, not in residue_mm3: as
                                      vug_course_info has it */
    double resin_s;              /**< raw resin (VUG_FLUID_RESIN, typical, 20 C) from a full part, in the first pose of
                                      draining: until what runs out by itself has, as time_s of vug_step_info; -1:
                                      nothing does */
    double resin_mm3;            /**< and what is still inside then */
    double wall_mm;              /**< wall in front of the cavities, by balls as vug_thickness_measure() has them, from
                                      inside: less on half of their skin */
    double cure_low_s;           /**< light for the inside behind wall_mm and the widest opening, as far as the cavity
                                      is wide (4 volume / area), by vug_cure_through(): a lamp of 20 mW/cm2 */
    double cure_high_s;          /**< and one of 5 (common practice, no source) */
    double needle_mm;            /**< outer diameter of the widest needle that leaves 0.4 mm of each inlet free, of
                                      those whose cavity takes 50 mm3 or is the only one; 0: none */
    int32_t needle_gauge;        /**< of vug_needle_through(); 0: none */
    uint32_t again;              /**< steps of filling at the end that do earlier ones again, see repeats */
    double warm_air_mm3;         /**< air to seal in for 20 K of warmth from 20 C on at 20 kPa, vug_sealed_air() for a
                                      ball of the same room, its wall one that is thinner on a twentieth of the skin,
                                      filled with water; -1: no air is enough. 0 for paint of volatile_share 0 */
    double frost_air_mm3;        /**< and for frost of -18 C, vug_ice_air(), all water, at a pressure that
                                      pulls such a ball's wall with 5 MPa, a tenth of what cured resin bears (from
                                      memory) */
    double dry_s;                /**< for volatile_share of the paint, as if it were water, to leave by the widest opening of
                                      each cavity: vug_drying_time() at 20 C and humidity 0.5; the slowest */
    double plug_mm3;             /**< glue for plugs in all openings, as deep as their walls, at most 3 mm: vug_plug() */
    double skin_mm2;             /**< of the walls of the same cavities, of which backed_mm2, filmed_mm2 and bare_mm2
                                      are parts, see vug_skin_info: by the simulation of the steps as they are told */
    double backed_mm2;
    double filmed_mm2;
    double bare_mm2;
    double film_mm;              /**< mean thickness of the wet film on what is filmed */
    double spot_mm2;             /**< area of the largest connected bare spot; 0: there is none */
    double spot_at_mm[3];        /**< its middle, on the skin */
    int32_t given;               /**< steps at the beginning that are done: 1 with options.start_given, else 0 */
    int32_t unseen;              /**< 1: where the air is was not said, and a fill in that pose would not have taken as
                                      much: it is taken to have risen from everywhere alike */
    int32_t coats;               /**< to coat the part as it is instead of filling it, a dry film of 0.1 mm: vug_coat_plan()
                                      with the film that a swirl leaves and the solids of the paint, 1 - volatile_share;
                                      0: more than 12, or no swirl wets half of the skin, or given steps */
    uint32_t coat_steps;         /**< of VUG_PLAN_COAT */
    double swirl_mm3;            /**< paint to put in for each: 0.1, 0.2 or 0.3 of the capacity, the least that wets 98 %
                                      of the skin, or most of it, simulated on 40 columns across */
    double coat_mm3;             /**< paint that stays in it, all coats */
    double coat_wetted_mm2;      /**< skin that a swirl wets */
    double coat_dry_s;           /**< for one coat, by vug_drying_time() as dry_s */
    uint32_t drain_steps;        /**< of VUG_PLAN_DRAIN, 1 to 4: poses in which it runs out, chosen by drains on 60 columns
                                      across; 0: with given steps */
    uint32_t repeats;            /**< so often the last steps of filling are done again, so that in hands that are not
                                      exact it comes out within the limit 19 times out of 20, if that can be had so:
                                      the last turn and the step before it, which makes 2 steps each time; in a plan
                                      of one pose the part is held so anew and topped up, which makes 1, of angle_deg
                                      0. again steps in all, of which no turn is but those that have an angle_deg */
    double syringe_ml;           /**< that loads are of: options.syringe_ml, or one of 1 mL that all of it fits in */
    double thin_mm;              /**< wall of the ball of warm_air_mm3 and frost_air_mm3, measured as wall_mm is; at least
                                      0.2 */
} vug_plan_info;

/** One step, in the order in which it is done: all openings are covered; the part is turned to up, at a
 *  pace; what is inside comes to rest; those of open are freed, and cover stay covered; each of feed is injected by;
 *  all are covered again. The same to vug_fill_run() (the first step in which something goes into a cavity) or
 *  vug_fill_turn(), with the roles of cover sealed, gives the figures of the step within 1e-9 of the capacity: with
 *  columns spacing_mm of vug_plan_info apart, inlet of feed and volume_mm3 of feed_most_mm3, one cavity after the other. The poses of way,
 *  and cavities that get nothing in a step, are calls with all sealed. The lists are numbers of openings of
 *  vug_plan_cavities(), rising, NULL if there are none; they are the plan's and valid as long as it. */
typedef struct vug_step_info {
    uint32_t struct_size;
    int32_t inlet;               /**< opening to inject by; -1: nothing goes in here */
    const uint32_t *cover;       /**< openings that stay covered from before the turn to the end of the step */
    size_t cover_count;
    const uint32_t *vent;        /**< openings by which air leaves (draining: by which liquid leaves) */
    size_t vent_count;
    double up[3];                /**< unit, part coordinates */
    double axis[3];              /**< about which the part is turned to come here, part coordinates,
                                      right-handed; zero in the first step */
    double angle_deg;            /**< 0 in the first step */
    double inject_mm3;           /**< into all cavities, each by its own opening: see feed; draining: liquid
                                      that runs out. What trapped_mm3 gets less by: where nothing moves, as
                                      much as columns of two poses differ, some 1e-5 of the cavity, either way */
    double trapped_mm3;          /**< air (draining: liquid) that is left after it */
    double wait_s;               /**< for the bubbles, on their way and through the throats where they pass
                                      the paint, as vug_course_info has it (draining: half as long again as the liquid takes, 5 s
                                      at least); 0 in a first fill that needs none, -1: they do not move by
                                      themselves */
    double stand_mm;             /**< the part stands on a table in this pose: distance of its centre of
                                      mass from the edge of its footing; negative: it falls over */
    double rate_mm3_s;           /**< first fill: highest steady rate at which nothing spills before the rest
                                      is full, as vug_fill_rate_limit() has it, on 60 columns across, for
                                      a plain liquid as thick as the paint at 10 / s, and with the openings
                                      of show covered as soon as paint shows; 0: there is
                                      no such rate from 1e-3 to 1e5, or another step */
    const uint32_t *feed;        /**< filling: openings to inject by, one for each cavity that takes paint,
                                      what takes most first: inlet, if there is any */
    const double *feed_mm3;      /**< how much by each: inject_mm3 in all. The plan's, as vent is */
    size_t feed_count;
    const uint32_t *open;        /**< openings that are freed after the turn: all that are neither sealed nor in cover */
    size_t open_count;
    const uint32_t *show;        /**< of those, in which paint shows before the end: each is covered once it does, as
                                      the simulation has it by itself; by an inlet among them the syringe is pressed
                                      tight from then on. Filling only */
    size_t show_count;
    double pace_deg;             /**< of the turn: bubbles come to rest at least every so many degrees; 0: only at
                                      its end */
    const double *way;           /**< the poses at which they do so on the way: up, 3 doubles each */
    size_t way_count;            /**< of those poses */
    double empty_mm3;            /**< of trapped_mm3: air with an open opening that no paint drives it to */
    const double *feed_most_mm3; /**< filling: volume_mm3 of each feed: 0: until no more goes in, as feed_mm3 says; above
                                      0: no more than that, since throats or the paint hold back air */
    double time_s;               /**< draining, by vug_drain_run(): until what runs out by itself in 16 hours has; -1: nothing
                                      does */
    double wait_low_s;           /**< wait_s at best and at worst over the paint's range; -1: maybe never */
    double wait_high_s;
    double stuck_mm3;            /**< draining: of inject_mm3, what does not run out by itself: it is drawn out with
                                      needle and syringe; trapped_mm3 is what stays even then */
    double lean_deg;             /**< filling: once turned, all openings covered, the part is leant so far that each of the
                                      four sides around the one that is up rises, in turn, and held as before: the last
                                      5 poses of way; 0: it is not */
    double rise_mm;              /**< filling: the longest way of a bubble of this step, straight. Of wait_s, what is not
                                      for throats is half as long again as one of bubble_mm3 needs for it, 5 s at least, by
                                      vug_bubble_tube_speed() in a tube of 4 volume / area of the cavity where that is least, if
                                      it is wider than 0.6 of that, else by vug_bubble_open_speed(); 0: none moves */
    double bubble_mm3;           /**< the smallest bubble that counts */
} vug_step_info;

/** One new bore. */
typedef struct vug_plan_bore_info {
    uint32_t struct_size;
    uint32_t opening;            /**< its number in vug_plan_cavities() */
    double point_mm[3];          /**< on the outer skin */
    double direction[3];         /**< unit, the way the drill goes: inward */
    double depth_mm;             /**< through the wall */
    double diameter_mm;          /**< recommended */
    double least_mm;             /**< smallest drill that does */
    double slant_deg;            /**< between drill and the skin's normal */
    double edge_mm;              /**< distance along the skin to where it bends by more than 45 degrees;
                                      looked for up to 4 diameters */
    double thinnest_mm;          /**< wall around the bore, within 2 diameters */
    double visibility;           /**< share of the viewing directions that see it, by how squarely: 0..1 */
    int32_t preferred;           /**< 1: in a preferred region */
    int32_t chuck_clear;         /**< 1: the chuck gets there */
} vug_plan_bore_info;

/** Plans how to fill a part: the pose to fill it in, the shortest sequence of turns that brings the
 *  trapped air to an opening, and, where that leaves more than the limit, the fewest vents to drill
 *  and where. roles: role_count VUG_ROLE_ numbers, one for each opening in order; NULL with 0: all
 *  open. A part with no opening gets its inlet proposed too. fluid: the paint, solvent: the rinsing
 *  liquid; NULL: water.
 *
 *  Method: domes of each pose by a sweep over the ceilings of vertical columns; finite bubbles by
 *  Fill-Spill-Merge (Barnes, Callaghan, Wickert 2021) upside down; breadth-first search over (pose,
 *  air in its domes); bores from the domes of the best poses, by rays through the part. Bubbles come to
 *  rest before the next turn. Where they are slow (they need 10 s and more across the cavity) a turn,
 *  made in a second or two, leaves them where they are; else they move while the part is turned, which is
 *  taken in steps of 30 degrees. For each alternative it is then decided what is opened, covered and injected in
 *  each step, and these steps are the input of vug_fill_run() and vug_fill_turn() on the part with its bores, on
 *  finer columns: all figures of the steps come from there. An opening in which paint shows is covered from the start
 *  where that keeps no more than 0.02 % of the cavity in; one that stands under paint always is. Less than 50 mm3, or
 *  0.5 % of a smaller cavity, is not injected before the last step. Throats that hold bubbles back are not known to
 *  the simulation: so much less is injected there as the search's bubbles leave. Waits come from those bubbles too.
 *  Draining has poses of its own, in which raw resin and the rinsing liquid run out, with all open that are there before curing, by vug_drain_run() for
 *  the solvent; see vug_plan_info.in_model.
 *
 *  From where you are: with options.start_given the cavity of the inlet that roles name, or the only one that an
 *  opening leads to, has start_liquid_mm3 in it already, and the plan is the shortest way on. Others stay as they are.
 *  Step 0 of filling is what has been done (vug_plan_info.given): a fill by feed[0] with that volume, in the pose
 *  start_up (up to 2 % of the cavity more than a fill takes is what it takes); or, where start_air says where air is, or no fill in that pose takes as much, with no feed: then it is
 *  vug_moment_make() of the same pose, liquid and air. What goes on begins with step 1; none: it is full enough. New
 *  bores are made in the filled part, each in the first step that has it in open, after its turn and its wait; in
 *  steps before it is in cover. There is no draining then: VUG_PLAN_DRAIN has no steps, and what info tells of washing and
 *  curing is 0.
 *
 *  Bores: up to 24 places are found in the domes of the poses with the least air and of those that need the
 *  fewest vents. Of every set of them, for sizes with up to 2500 sets, what the best first fill leaves is
 *  computed, so the fewest bores without a turn are exact among these places; above that a set is one place
 *  more than the best smaller set. The turns of the 3 to 48 most promising sets of each size are
 *  searched (info.searched_all: of all). On small parts the plan takes no more bores and turns than brute
 *  force over all sets of up to 3 bores and all sequences needs to leave half the limit.
 *
 *  *out: vug_plan_free(). The result does not depend on the number of threads.
 *  Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY, VUG_ERR_DOMAIN (fluid), VUG_ERR_LIMIT,
 *  VUG_ERR_NOT_FOUND (no cavity, or no place to drill the first opening), VUG_ERR_CANCELLED. */
VUG_API vug_status vug_plan_make(vug_context *ctx, const vug_cavities *cavities,
    const vug_fluid *fluid, const vug_fluid *solvent, const int32_t *roles, size_t role_count,
    const vug_plan_options *options, vug_plan **out);

/** Frees a plan; NULL is allowed. */
VUG_API void vug_plan_free(vug_plan *plan);

/** Number of alternatives, best first, at least 1; NULL gives 0. */
VUG_API size_t vug_plan_count(const vug_plan *plan);

/** Alternative number index. Errors: VUG_ERR_ARGUMENT,
 *  VUG_ERR_NOT_FOUND. */
VUG_API vug_status vug_plan_get(const vug_plan *plan, size_t index, vug_plan_info *info);

/** Step number step of alternative index: sequence is VUG_PLAN_FILL, VUG_PLAN_DRAIN or VUG_PLAN_COAT. The steps
 *  of a coat, coat_steps of vug_plan_info, the same in all alternatives, are poses with swirl_mm3 in the part, from
 *  vug_moment_make() without air in the first pose; the others of their members are 0. Errors:
 *  VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND. */
VUG_API vug_status vug_plan_step(const vug_plan *plan, size_t index, int32_t sequence,
    size_t step, vug_step_info *result);

/** New bore number bore of alternative index. Errors:
 *  VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND. */
VUG_API vug_status vug_plan_bore(const vug_plan *plan, size_t index, size_t bore,
    vug_plan_bore_info *result);

/** The part's cavities with the bores of alternative index planned in them, to go on with: openings
 *  keep their order, new ones come last in their cavity. Owned by the plan. NULL past the end. */
VUG_API const vug_cavities *vug_plan_cavities(const vug_plan *plan, size_t index);

/** Whether caution (VUG_CAUTION_) applies to alternative index: 1 or 0. */
VUG_API int32_t vug_plan_caution(const vug_plan *plan, size_t index, int32_t caution);

/** One or two English sentences for a caution, or NULL for a number that is none. They defer to the
 *  data sheets and local rules. A constant; do not free. */
VUG_API const char *vug_caution_text(int32_t caution);

/** Alternative number index in plain words, for the bench, in the order of the work: what the part is like, what to have
 *  ready, holes for the model, washing, curing, holes to drill, filling, sealing, showing, what to watch out for; UTF-8, in lines of width characters (0: 98; 40 to 10000), each ended by a
 *  newline. part, paint and rinse are what these are called in it; NULL: "The part", "paint", "the rinsing
 *  liquid". Volumes are told from 0.05 mL, waits from 5 s to a day, angles in steps of 5 degrees; openings by letter, see
 *  vug_plan_letter(). *text is vug_free()d by the caller. Errors: VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND (index),
 *  VUG_ERR_MEMORY. */
VUG_API vug_status vug_plan_text(vug_context *ctx, const vug_plan *plan, size_t index,
    const char *part, const char *paint, const char *rinse, uint32_t width, char **text);

/** What an opening of vug_plan_cavities() is called by in alternative index, into text (size bytes, always
 *  ended; 8 are enough): the part's own openings have the letters that they have without the plan, see
 *  vug_opening_letter(), the new ones those after them. Errors: VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND,
 *  VUG_ERR_MEMORY. */
VUG_API vug_status vug_plan_letter(vug_context *ctx, const vug_plan *plan, size_t index,
    size_t opening, char *text, size_t size);

/** A part of a whole as plans tell it, into text (size bytes, always ended; 24 are enough): "0.37 %" below 10, "33 %",
 *  "97.8 %" from 90 on, "less than 0.01 %", and no more than "99.99 %" where it is not all. 0 % of a whole of 0. part 0 to
 *  1000 wholes. Errors: VUG_ERR_ARGUMENT. */
VUG_API vug_status vug_percent_words(vug_context *ctx, double part, double whole, char *text,
    size_t size);

/** A pose in plain words: which side of the part looks up, and one lean, into text (size bytes,
 *  always ended; 320 are enough). The part's +z side is its top, -z its base, +x right, -x left, -y front, +y back;
 *  vug_sides_words() tells which these are on the part. The lean goes in steps of 5 degrees, so that one other
 *  side rises, or two neighbours alike: up is told by the nearest of the 458 poses that can be said so, which is
 *  up itself in a plan; vug_pose_parse() brings it back. With from, the pose it comes from, the turn from the maker's view:
 *  which side faces the maker, which way what is up goes, how far, and how the part is held then, which
 *  counts; from may be NULL. Errors: VUG_ERR_ARGUMENT. */
VUG_API vug_status vug_pose_words(vug_context *ctx, const double *from, const double *up,
    char *text, size_t size);

/** The pose that words say: up gets the unit vector, in part coordinates, of the last "its SIDE straight up" or
 *  "its SIDE up, leaning N degrees so that its SIDE rises" (or "SIDE and SIDE rise alike") in text, as
 *  vug_pose_words() and vug_plan_text() write it, broken into lines or not: the very numbers of the plan. "upright"
 *  and "upside down" do where text ends with them. ctx may be NULL. Errors: VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND (no
 *  pose in text), VUG_ERR_DOMAIN (no lean of the set). */
VUG_API vug_status vug_pose_parse(vug_context *ctx, const char *text, double *up);

/** Which side of a part is its top, front and left, in plain words: how far it is from side to side, which way
 *  is the longest, and to which side of each pair an opening lies, or the part is heavier; into text (size bytes,
 *  always ended; 700 are enough). Openings by letter: vug_opening_letter(). Errors: VUG_ERR_ARGUMENT,
 *  VUG_ERR_MEMORY, VUG_ERR_CANCELLED. */
VUG_API vug_status vug_sides_words(vug_context *ctx, const vug_cavities *cavities, char *text,
    size_t size);

#endif /* VUG_H */

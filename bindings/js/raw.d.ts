// SPDX-License-Identifier: MIT
// The C calls of vug.h as they stand. Written by tests/new_call --js; a test compares it with the
// header. Programs want the classes of vug.js, not this.

/** An address in the module's memory; 0 is NULL. */
export type Pointer = number;

export declare const CALLS: string[];
export declare const STRUCTS: Record<string, [number, [string, string, number, number][]]>;

export declare const CONSTANTS: {
    readonly VUG_VERSION_MAJOR: 1;
    readonly VUG_VERSION_MINOR: 0;
    readonly VUG_VERSION_PATCH: 0;
    readonly VUG_ERR_UNKNOWN: -1;
    readonly VUG_OK: 0;
    readonly VUG_ERR_ARGUMENT: 1;
    readonly VUG_ERR_MEMORY: 2;
    readonly VUG_ERR_CANCELLED: 3;
    readonly VUG_ERR_IO: 4;
    readonly VUG_ERR_FORMAT: 5;
    readonly VUG_ERR_UNSUPPORTED: 6;
    readonly VUG_ERR_MESH: 7;
    readonly VUG_ERR_LIMIT: 8;
    readonly VUG_ERR_DOMAIN: 9;
    readonly VUG_ERR_NOT_FOUND: 10;
    readonly VUG_ERR_CONVERGENCE: 11;
    readonly VUG_ERR_INTERNAL: 12;
    readonly VUG_STATUS_COUNT: 13;
    readonly VUG_MAX_NONE: -1;
    readonly VUG_MAX_TRIANGLES: 2147483647;
    readonly VUG_MAX_COORDINATE_MM: 1000000000;
    readonly VUG_MAX_COLUMNS_ACROSS: 16384;
    readonly VUG_MAX_OPENINGS: 65536;
    readonly VUG_MAX_THREADS: 256;
    readonly VUG_MAX_TURNS: 32;
    readonly VUG_PLAN_SAMPLES: 40;
    readonly VUG_MAX_BORES: 16;
    readonly VUG_DRILLS_NONE: -1;
    readonly VUG_DRILLS_STOCK: 0;
    readonly VUG_DRILLS_TENTHS: 1;
    readonly VUG_DRILLS_HALVES: 2;
    readonly VUG_DRILLS_COUNT: 3;
    readonly VUG_AT_NONE: -1;
    readonly VUG_AT_OR_ABOVE: 0;
    readonly VUG_AT_OR_BELOW: 1;
    readonly VUG_FLUID_NONE: -1;
    readonly VUG_FLUID_WATER: 0;
    readonly VUG_FLUID_ISOPROPANOL: 1;
    readonly VUG_FLUID_RESIN: 2;
    readonly VUG_FLUID_CRAFT_ACRYLIC: 3;
    readonly VUG_FLUID_THINNED_ACRYLIC: 4;
    readonly VUG_FLUID_DYED_EPOXY: 5;
    readonly VUG_FLUID_PLASTER_SLIP: 6;
    readonly VUG_FLUID_COUNT: 7;
    readonly VUG_LEVEL_NONE: -1;
    readonly VUG_LOW: 0;
    readonly VUG_TYPICAL: 1;
    readonly VUG_HIGH: 2;
    readonly VUG_LEVEL_COUNT: 3;
    readonly VUG_HOLE_NONE: -1;
    readonly VUG_HOLE_INJECT: 0;
    readonly VUG_HOLE_NEEDLE: 1;
    readonly VUG_HOLE_AIR: 2;
    readonly VUG_HOLE_DRAIN: 3;
    readonly VUG_HOLE_EXCHANGE: 4;
    readonly VUG_HOLE_SUCTION: 5;
    readonly VUG_HOLE_CONDITION_COUNT: 6;
    readonly VUG_PROPERTY_NONE: -1;
    readonly VUG_PROPERTY_DENSITY: 0;
    readonly VUG_PROPERTY_TENSION: 1;
    readonly VUG_PROPERTY_ANGLE: 2;
    readonly VUG_PROPERTY_YIELD: 3;
    readonly VUG_PROPERTY_CONSISTENCY: 4;
    readonly VUG_PROPERTY_INDEX: 5;
    readonly VUG_PROPERTY_COUNT: 6;
    readonly VUG_SHELL_NONE: -1;
    readonly VUG_SHELL_SPHERE: 0;
    readonly VUG_SHELL_CYLINDER: 1;
    readonly VUG_SHELL_COUNT: 2;
    readonly VUG_CONTENT_NONE: -1;
    readonly VUG_CONTENT_WATER: 0;
    readonly VUG_CONTENT_PLAIN: 1;
    readonly VUG_CONTENT_COUNT: 2;
    readonly VUG_FORMAT_NONE: -1;
    readonly VUG_FORMAT_AUTO: 0;
    readonly VUG_FORMAT_STL: 1;
    readonly VUG_FORMAT_PLY: 2;
    readonly VUG_FORMAT_3MF: 3;
    readonly VUG_FORMAT_OBJ: 4;
    readonly VUG_FORMAT_OFF: 5;
    readonly VUG_FORMAT_COUNT: 6;
    readonly VUG_BORE_NONE: -1;
    readonly VUG_BORE_CUT: 4;
    readonly VUG_BORE_ROW: 11;
    readonly VUG_ROLE_NONE: -1;
    readonly VUG_ROLE_OPEN: 0;
    readonly VUG_ROLE_INLET: 1;
    readonly VUG_ROLE_VENT: 2;
    readonly VUG_ROLE_OUTLET: 3;
    readonly VUG_ROLE_SEALED: 4;
    readonly VUG_EVENT_NONE: -1;
    readonly VUG_EVENT_BASIN: 0;
    readonly VUG_EVENT_SILL: 1;
    readonly VUG_EVENT_MERGE: 2;
    readonly VUG_EVENT_POCKET: 3;
    readonly VUG_EVENT_SPILL: 4;
    readonly VUG_EVENT_RIM: 5;
    readonly VUG_EVENT_FULL: 6;
    readonly VUG_EVENT_LEFT: 7;
    readonly VUG_EVENT_LIP: 8;
    readonly VUG_EVENT_EMPTY: 9;
    readonly VUG_EVENT_LEVEL: 10;
    readonly VUG_EVENT_SLOPE: 11;
    readonly VUG_EVENT_WAIT: 12;
    readonly VUG_END_NONE: -1;
    readonly VUG_END_FULL: 0;
    readonly VUG_END_CUT_OFF: 1;
    readonly VUG_END_SUPPLY: 2;
    readonly VUG_END_SPILL: 3;
    readonly VUG_END_BLOCKED: 4;
    readonly VUG_END_DRAINED: 5;
    readonly VUG_ENTRY_NONE: -1;
    readonly VUG_ENTRY_INJECTED: 0;
    readonly VUG_ENTRY_POURED: 1;
    readonly VUG_PLAN_NONE: -1;
    readonly VUG_PLAN_FILL: 0;
    readonly VUG_PLAN_DRAIN: 1;
    readonly VUG_PLAN_COAT: 2;
    readonly VUG_CAUTION_NONE: -1;
    readonly VUG_CAUTION_RESIN: 0;
    readonly VUG_CAUTION_SOLVENT: 1;
    readonly VUG_CAUTION_UV: 2;
    readonly VUG_CAUTION_DUST: 3;
    readonly VUG_CAUTION_GLUE: 4;
    readonly VUG_CAUTION_SEALED: 5;
    readonly VUG_CAUTION_PRESSURE: 6;
    readonly VUG_CAUTION_LIMIT: 7;
    readonly VUG_CAUTION_HELD: 8;
    readonly VUG_CAUTION_EXCHANGE: 9;
    readonly VUG_CAUTION_TILT: 10;
    readonly VUG_CAUTION_THIN: 11;
    readonly VUG_CAUTION_SEARCH: 12;
    readonly VUG_CAUTION_BRISK: 13;
    readonly VUG_CAUTION_THROAT: 14;
    readonly VUG_CAUTION_CUT_OFF: 15;
    readonly VUG_CAUTION_FULL: 16;
    readonly VUG_CAUTION_COUNT: 17;
};

/**
 * Options of a context. The three allocator functions are all set or all NULL (the C library's).
 * An allocator must outlive every object made with it.
 */
export interface ContextOptions {
    /**
     * 0: as many as there are processors; at most VUG_MAX_THREADS
     */
    threads: number;
    alloc: Pointer;
    realloc: Pointer;
    free: Pointer;
    alloc_user: Pointer;
    /**
     * NULL: none
     */
    progress: Pointer;
    progress_user: Pointer;
    /**
     * what is allocated with this context, at one time, of which more fails with VUG_ERR_MEMORY
     * and a message that names the limit and the need: before the work begins in calls that the
     * man page lists, by an estimate right to a quarter; 0: no limit
     */
    memory_limit_bytes: number;
}

/**
 * A liquid. Stress against shear rate is tau = yield + consistency * rate^index (Herschel and
 * Bulkley); index 1 and yield 0 is a plain (Newtonian) liquid whose viscosity is the
 * consistency, yield 0 a power law, index 1 with a yield stress a Bingham plastic.
 */
export interface Fluid {
    /**
     * 1 .. 30000
     */
    density_kg_m3: number;
    /**
     * against air; 0 .. 10
     */
    surface_tension_n_m: number;
    /**
     * on the part, through the liquid; 0 (wets) .. 180
     */
    contact_angle_deg: number;
    /**
     * 0 .. 1e6
     */
    yield_stress_pa: number;
    /**
     * 1e-7 .. 1e7; for index 1 the viscosity in Pa s
     */
    consistency_pa_sn: number;
    /**
     * 0.1 .. 2
     */
    flow_index: number;
    /**
     * of its volume, that leaves as it dries: 0 (it sets or cures, all of it stays) .. 1
     */
    volatile_share: number;
}

/**
 * What to have on the bench for a volume to fill.
 */
export interface Supply {
    /**
     * 1: the count is the same over the syringe's tolerance
     */
    within_range: number;
    /**
     * full syringes, the last one part full
     */
    loads: number;
    /**
     * if each syringe gives more than it reads
     */
    loads_low: number;
    /**
     * if each gives less than it reads
     */
    loads_high: number;
    /**
     * what to draw into the last one
     */
    last_load_ml: number;
    /**
     * of one full load, ISO 7886-1
     */
    load_tolerance_ml: number;
    /**
     * to prepare: volume, loss, dead space of the syringe
     */
    paint_ml: number;
    /**
     * paint_ml at the price, in the price's currency
     */
    cost: number;
}

/**
 * A hypodermic needle, regular wall.
 */
export interface Needle {
    gauge: number;
    outer_mm: number;
    /**
     * nominal
     */
    bore_mm: number;
    /**
     * ISO 9626 minimum, for the worst case; 0: not known here
     */
    bore_least_mm: number;
}

/**
 * A plastic syringe.
 */
export interface Syringe {
    nominal_ml: number;
    /**
     * bore of the barrel; typical, makers differ by 1 % and more
     */
    plunger_mm: number;
    /**
     * left in it when pushed home, at most (ISO 7886-1)
     */
    dead_space_ml: number;
    /**
     * error of a full load, at most (ISO 7886-1)
     */
    tolerance_ml: number;
}

/**
 * Syringe, needle and what they work against.
 */
export interface Injection {
    /**
     * 1.194, 16 gauge
     */
    needle_bore_mm: number;
    /**
     * 25
     */
    needle_length_mm: number;
    /**
     * 14.48, 10 mL
     */
    plunger_mm: number;
    /**
     * of the plunger: 3 (from memory; feel your own)
     */
    friction_n: number;
    /**
     * inside the part: 0
     */
    back_pressure_pa: number;
    /**
     * 10
     */
    load_ml: number;
}

/**
 * What happens at the syringe.
 */
export interface Injected {
    flow_mm3_s: number;
    /**
     * in the barrel, above the outside
     */
    pressure_pa: number;
    thumb_force_n: number;
    /**
     * for one load
     */
    load_time_s: number;
    /**
     * mean speed in the needle
     */
    jet_speed_mm_s: number;
    /**
     * in the needle
     */
    reynolds: number;
}

/**
 * An answer as a range.
 */
export interface Interval {
    /**
     * input that alone moves the answer most; -1: none does
     */
    decides: number;
    low: number;
    typical: number;
    high: number;
    /**
     * of high - low that this input gives alone, 0..1
     */
    share: number;
}

/**
 * What a hole must do. A condition whose first member is 0 is not asked.
 */
export interface HoleTask {
    /**
     * VUG_DRILLS_STOCK
     */
    drills: number;
    /**
     * length of the hole: 2
     */
    wall_mm: number;
    /**
     * through the hole itself, nozzle pressed on: 0
     */
    inject_mm3_s: number;
    /**
     * net of friction: 30
     */
    thumb_force_n: number;
    /**
     * 14.48
     */
    plunger_mm: number;
    /**
     * outer diameter: 0
     */
    needle_mm: number;
    /**
     * of the diameter, left for air: 0.4 (common practice)
     */
    needle_gap_mm: number;
    /**
     * air that leaves: 0
     */
    air_mm3_s: number;
    /**
     * that may drive it, film of liquid in the hole included: 500
     */
    air_pressure_pa: number;
    /**
     * time allowed: 0
     */
    drain_s: number;
    /**
     * of the vessel: 1000
     */
    drain_area_mm2: number;
    /**
     * level above the outer end of the hole: 50
     */
    drain_from_mm: number;
    /**
     * 1
     */
    drain_to_mm: number;
    /**
     * 0; 1: free line of contact; 2: pinned on a sharp rim
     */
    exchange: number;
    /**
     * 0
     */
    reserved: number;
    /**
     * of the cup on the film, while it is printed: 0
     */
    lift_area_mm2: number;
    /**
     * 1
     */
    lift_mm_s: number;
    /**
     * allowed: 2000, as in vug_cups_find()
     */
    suction_pa: number;
    /**
     * head that capillarity must hold while plugging: 0
     */
    hold_head_mm: number;
    /**
     * density of the resin that the cup sucks in: 1100, as in vug_cups_find()
     */
    vat_kg_m3: number;
    /**
     * its viscosity: 0.2
     */
    vat_pa_s: number;
}

/**
 * The hole to drill.
 */
export interface HoleChoice {
    /**
     * VUG_HOLE_ condition; VUG_HOLE_NONE: none asked
     */
    decides: number;
    /**
     * the widest of the conditions
     */
    least_mm: number;
    /**
     * next drill at or above, and at or above 1.15 exchange_mm, a limit
     */
    drill_mm: number;
    /**
     * drill / least - 1; no hole is to be at the limit of exchange itself
     */
    margin: number;
    /**
     * least diameter of each condition; 0: not asked
     */
    inject_mm: number;
    needle_mm: number;
    air_mm: number;
    drain_mm: number;
    exchange_mm: number;
    suction_mm: number;
    /**
     * widest hole that holds hold_head_mm; 0: none, or not asked
     */
    hold_mm: number;
    /**
     * 1: the drill is within hold_mm; 0: cover it while plugging
     */
    holds: number;
    reserved: number;
}

/**
 * Two ways to spend solvent on one cavity.
 */
export interface Rinse {
    /**
     * fill, shake, drain to the residue
     */
    soak_cycles: number;
    /**
     * solvent that takes
     */
    soak_mm3: number;
    /**
     * fraction of the concentration left
     */
    soak_reached: number;
    /**
     * fraction that each cycle leaves
     */
    soak_factor: number;
    /**
     * solvent run through the full, stirred cavity; first fill too
     */
    flush_mm3: number;
    /**
     * what very many very small rinses would take
     */
    least_mm3: number;
}

/**
 * A sealed part, as a round shell of the same size.
 */
export interface Shell {
    /**
     * VUG_SHELL_SPHERE
     */
    shape: number;
    /**
     * 18
     */
    inner_radius_mm: number;
    /**
     * 2
     */
    wall_mm: number;
    /**
     * 2e9: cured resin, 1.5e9 to 3e9 (from memory)
     */
    modulus_pa: number;
    /**
     * 0.35
     */
    poisson: number;
    /**
     * linear: 70e-6 (from memory)
     */
    expansion_low_per_k: number;
    /**
     * linear: 110e-6 (from memory)
     */
    expansion_high_per_k: number;
}

/**
 * What is sealed in.
 */
export interface Sealed {
    /**
     * VUG_CONTENT_WATER
     */
    content: number;
    /**
     * by volume, of plain content: 2.57e-4
     */
    liquid_expansion_per_k: number;
    /**
     * 4.52e-10, water at 25 C
     */
    liquid_compressibility_per_pa: number;
    /**
     * of the cavity, when sealed: 0
     */
    air_fraction: number;
    /**
     * 20
     */
    sealed_at_c: number;
}

/**
 * Light that reaches the inside of a part in a curing lamp.
 */
export interface CureInside {
    reserved: number;
    /**
     * on the outside: 10
     */
    lamp_mw_cm2: number;
    /**
     * 2
     */
    wall_mm: number;
    /**
     * of the cured wall, for the lamp's light: 0.5 (from memory)
     */
    penetration_mm: number;
    /**
     * diameter of a hole; 0: none
     */
    opening_mm: number;
    /**
     * of the inner spot straight behind the hole: 10
     */
    distance_mm: number;
    /**
     * dose the inside needs: 1000 (from memory; data sheet)
     */
    needed_mj_cm2: number;
}

/**
 * A relief on the skin over a core: dark where the skin is thin.
 */
export interface Relief {
    reserved: number;
    /**
     * from hollow to crest: 0.5
     */
    height_mm: number;
    /**
     * from crest to crest: 2
     */
    width_mm: number;
    /**
     * of the skin: 0.02 (from memory)
     */
    absorption_per_mm: number;
    /**
     * of the skin: 0.5 (from memory)
     */
    scattering_per_mm: number;
    /**
     * 0.05, dark paint
     */
    core_reflectance: number;
    /**
     * contrast that is seen: 0.02 (common practice)
     */
    threshold: number;
}

/**
 * Coating the inside against filling it.
 */
export interface Coat {
    /**
     * to reach the dry film
     */
    coats: number;
    /**
     * of all coats together
     */
    wet_mm: number;
    /**
     * wet paint on the wall
     */
    coat_paint_mm3: number;
    /**
     * wet paint to fill the cavity once
     */
    fill_paint_mm3: number;
    /**
     * may be negative in narrow cavities: then fill
     */
    saved_mm3: number;
}

/**
 * Health and measures of a mesh or of one of its shells.
 */
export interface MeshMeasures {
    /**
     * 1: at every edge as many triangles turn one way as the other, so the mesh bounds a volume
     */
    closed: number;
    vertices: number;
    triangles: number;
    /**
     * triangles of zero area (two or three corners alike or in line)
     */
    degenerate: number;
    /**
     * edges with one triangle
     */
    edges_open: number;
    /**
     * edges with more than two triangles
     */
    edges_nonmanifold: number;
    /**
     * edges of two or more triangles whose turnings do not balance
     */
    edges_flipped: number;
    /**
     * pieces connected by shared edges
     */
    shells: number;
    /**
     * signed, by the divergence theorem; exact for a closed mesh
     */
    volume_mm3: number;
    area_mm2: number;
    /**
     * of the enclosed solid if closed, else of the surface
     */
    centroid_mm: number[];
    /**
     * bounds
     */
    lo_mm: number[];
    hi_mm: number[];
}

/**
 * Options of vug_mesh_load().
 */
export interface MeshLoadOptions {
    /**
     * VUG_FORMAT_AUTO (default), or the one to read it as
     */
    format: number;
    /**
     * 1 (default): warn when the size looks like another unit
     */
    warn_of_size: number;
    reserved: number;
    /**
     * mm in one unit of the file; 0 (default): what the file or its format says, else 1
     */
    unit_mm: number;
}

/**
 * Options of vug_mesh_clean().
 */
export interface MeshCleanOptions {
    /**
     * 1 (default): weld vertices of open edges, split T-joints
     */
    close_gaps: number;
    /**
     * 1 (default): turn triangles as their neighbours, shells by their nesting
     */
    turn: number;
    /**
     * how wide a gap may be; 0 (default): 1e-5 of the longest side
     */
    tolerance_mm: number;
}

/**
 * What vug_mesh_clean() found and changed.
 */
export interface MeshCleanReport {
    closed_before: number;
    closed_after: number;
    triangles_before: number;
    triangles_after: number;
    edges_open_before: number;
    edges_open_after: number;
    /**
     * triangles of zero area
     */
    degenerate_removed: number;
    /**
     * triangles that were there twice
     */
    duplicates_removed: number;
    /**
     * vertices of open edges moved onto another
     */
    vertices_welded: number;
    /**
     * vertices put into an open edge that they lay on
     */
    joints_split: number;
    /**
     * to agree with their neighbours
     */
    triangles_turned: number;
    shells: number;
    /**
     * solids that pointed inward, cavities that pointed outward
     */
    shells_turned: number;
    /**
     * left open
     */
    shells_open: number;
    /**
     * cannot be turned consistently; left as they are
     */
    shells_twisted: number;
    /**
     * overlap another, as far as samples show; left as they are
     */
    shells_crossing: number;
    /**
     * that was used; 0: none
     */
    tolerance_mm: number;
}

/**
 * Options of vug_cavities_find().
 */
export interface CavityOptions {
    /**
     * 1: find openings nobody named (default); 0: named holes and sealed cavities only
     */
    detect: number;
    /**
     * detection grid along the longest side; 0 (default): 256, and 384 for a part with passages
     * or hollows that are about as narrow as a cell of that, if it takes no more than 2^26 cells
     */
    cells_across: number;
    /**
     * a hollow counts as a cavity when its largest inscribed ball is this many times as wide as
     * the way out; 0: 1.5
     */
    min_ratio: number;
    /**
     * smaller cavities are left out; 0: a millionth of the volume of the part's bounds
     */
    min_volume_mm3: number;
}

/**
 * One cavity.
 */
export interface CavityInfo {
    /**
     * 1: no opening
     */
    sealed: number;
    /**
     * 1: measured on the part's own triangles; 0: on a grid
     */
    exact: number;
    /**
     * how many; numbers first_opening and up
     */
    openings: number;
    first_opening: number;
    chambers: number;
    throats: number;
    /**
     * up to the skin: to the caps across the rims of its openings; planned bores included
     */
    volume_mm3: number;
    /**
     * the true volume lies within this of volume_mm3
     */
    volume_error_mm3: number;
    /**
     * of its wall, caps left out
     */
    area_mm2: number;
    /**
     * of the volume; planned bores left out, as in the bounds
     */
    centroid_mm: number[];
    lo_mm: number[];
    hi_mm: number[];
    /**
     * 1: exact, and so are all its openings; 0: look at it before drilling by these figures.
     * What is computed in it carries this flag
     */
    trusted: number;
}

/**
 * One opening: where a cavity meets the outside. Its rim is where the wall of its bore meets the
 * outer skin, its mouth where that wall ends in the cavity. Air and liquid pass the rim, the
 * bore and the mouth, in every call.
 */
export interface OpeningInfo {
    cavity: number;
    /**
     * 1: not in the mesh yet, a bore to drill
     */
    planned: number;
    /**
     * amid the rim, on the axis fitted to the wall; planned: on the skin
     */
    center_mm: number[];
    /**
     * unit, outward, of the area that the rim spans
     */
    normal: number[];
    /**
     * of the bore: of the circle of equal area, square to its axis
     */
    diameter_mm: number;
    /**
     * of the largest circle about the axis inside bore and rim
     */
    inscribed_diameter_mm: number;
    /**
     * of the rim itself: more than the bore's where it meets the skin at a slant
     */
    area_mm2: number;
    /**
     * of the rim itself
     */
    perimeter_mm: number;
    /**
     * along the axis, from skin to cavity; of a bent bore from rim to mouth
     */
    bore_length_mm: number;
    /**
     * amid the mouth, on the axis
     */
    inner_mm: number[];
    /**
     * 1: rim and mouth are edges of the part itself, or those of a planned bore; 0: outlined on
     * a grid, or the bore is bent or has no clear inner end, and a disc stands for its mouth
     */
    exact: number;
}

/**
 * A chamber: a wide region of a cavity.
 */
export interface ChamberInfo {
    /**
     * of its largest inscribed ball
     */
    center_mm: number[];
    /**
     * of that ball
     */
    radius_mm: number;
    /**
     * up to its throats, counted on the detection grid
     */
    volume_mm3: number;
}

/**
 * A throat: the narrowest section between two chambers.
 */
export interface ThroatInfo {
    /**
     * chambers of the same cavity
     */
    chamber_a: number;
    chamber_b: number;
    center_mm: number[];
    /**
     * unit, from chamber a to chamber b
     */
    direction: number[];
    /**
     * of the largest ball that passes
     */
    radius_mm: number;
    /**
     * pressure over viscosity and flow, 1/mm3: a flow of 1 mm3/s of 1 Pa s takes so many Pa from
     * chamber to chamber; 0: not known
     */
    resistance_mm3: number;
}

/**
 * How finely vug_cavities_find() looked for openings and open cavities that nobody named. Sealed
 * cavities, and openings whose wall is in the mesh as a ring of triangles, are found below these
 * too.
 */
export interface SightInfo {
    /**
     * along the part's longest side; 0: detection was off
     */
    cells_across: number;
    cell_mm: number;
    /**
     * an opening narrower than this may have been missed: four cells
     */
    window_mm: number;
    /**
     * an open cavity whose largest ball is narrower than this may have been missed, as may one
     * less than min_ratio times as wide as its way out: (6 + sqrt 3) cells, 3 from any cell's
     * middle to the wall's cells wherever the ball lies among them
     */
    hollow_mm: number;
}

/**
 * Statistics of the thickness, by area.
 */
export interface ThicknessInfo {
    /**
     * points measured
     */
    samples: number;
    /**
     * that they stand for
     */
    area_mm2: number;
    /**
     * least thickness
     */
    min_mm: number;
    /**
     * and where
     */
    min_at_mm: number[];
    /**
     * thinner on 1 percent of the area
     */
    p1_mm: number;
    /**
     * thinner on 5 percent of the area
     */
    p5_mm: number;
    /**
     * median
     */
    p50_mm: number;
    max_mm: number;
    /**
     * area of skin on which another wall lies, back to back: bodies that touch, or a cavity
     * without a wall; left out of all thicknesses above
     */
    coincident_mm2: number;
    /**
     * a point of it
     */
    coincident_at_mm: number[];
}

/**
 * Options of vug_shape_hollow().
 */
export interface HollowOptions {
    /**
     * of the grid along the part's longest side: the inner mesh is as fine. A wall, and half a
     * throat, need two of them. 0: five, or as many as 320 give, and 120 at least
     */
    cells: number;
    /**
     * 2: distance of the inner surface from the nearest point of the outer one
     */
    wall_mm: number;
    /**
     * 3: a chamber is opened if a ball so wide fits into it; else it stays solid
     */
    chamber_mm: number;
    /**
     * 0: not asked. Else a ball so wide reaches every place of the cavity: narrower channels are
     * closed, and inner edges are round
     */
    throat_mm: number;
    /**
     * 0: no base. Else all is solid up to this height above the lowest point
     */
    base_mm: number;
    /**
     * 0, 0, 1: of the base. Any length
     */
    up: number[];
    /**
     * 0: not asked. Else made to be filled: so that less air stays while fill_up points up,
     * ceilings are lowered, but no solid gets farther from the skin than this; wall_mm or more,
     * and of use if it is some steps more
     */
    most_wall_mm: number;
    /**
     * 10: then, ceilings rise by so much towards the outlet where that has room; 0 to 60, 0:
     * flat is good enough
     */
    slope_deg: number;
    /**
     * 0, 0, 1: then, up, as it is filled; or as it is printed, so that ceilings print. Any
     * length
     */
    fill_up: number[];
    /**
     * NAN: then, air leaves each chamber by the middle of its highest place. Else the chamber
     * nearest to this point has its outlet there
     */
    outlet_mm: number[];
    /**
     * 0: the inner surface has triangles as fine as the grid. Else fewer, by which it moves no
     * more than this
     */
    simplify_mm: number;
}

/**
 * What vug_shape_hollow() made.
 */
export interface HollowInfo {
    /**
     * pieces of the cavity that are not connected: each needs openings of its own
     */
    chambers: number;
    /**
     * pieces left solid, because no ball of chamber_mm fits in
     */
    too_small: number;
    /**
     * pieces left solid, because they lie in two bodies of the mesh at once
     */
    overlaps: number;
    /**
     * of the inner surface: the last ones of the mesh
     */
    triangles: number;
    /**
     * of the grid
     */
    step_mm: number;
    /**
     * of the cavity
     */
    volume_mm3: number;
    /**
     * of the inner surface
     */
    area_mm2: number;
    /**
     * no point of the inner surface is nearer to the outer one: at least wall_mm less a tenth of
     * step_mm
     */
    least_wall_mm: number;
    /**
     * made to be filled: what ceilings were lowered to, of slope_deg: all, 1/2, 1/4, or 0
     */
    slope_deg: number;
    /**
     * solid that this took from the cavity
     */
    added_mm3: number;
    /**
     * air that would stay in fill_up with openings at the outlets alone, as columns a step wide
     * have it, before ceilings were lowered;
     */
    trapped_before_mm3: number;
    /**
     * and after
     */
    trapped_mm3: number;
    /**
     * skin from which the nearest liquid is farther than most_wall_mm, before;
     */
    bare_before_mm2: number;
    /**
     * and after: never more, as cells a step wide have it
     */
    bare_mm2: number;
    /**
     * of the inner surface before it was simplified; triangles, if it was not
     */
    triangles_before: number;
    /**
     * how far that moved it: the farthest between the two surfaces, as vertices of the finer and
     * points of the simpler one a step apart have it; at most simplify_mm
     */
    simplify_error_mm: number;
    /**
     * ceilings of the inner surface that are flatter than 0.9 slope_deg of the options, in
     * fill_up: there was no room to lower them; 0 with most_wall_mm 0
     */
    flat_mm2: number;
}

/**
 * Options of vug_shape_bore().
 */
export interface BoreOptions {
    reserved: number;
    /**
     * how far a side of a hole may lie from the round wall, 1e-6 to 1000; 0.01
     */
    error_mm: number;
}

/**
 * Options of vug_shape_plug().
 */
export interface PlugOptions {
    reserved: number;
    /**
     * between plug and hole, all round, 0 to 5; 0.1
     */
    clearance_mm: number;
    /**
     * of what goes in; 0: the depth in the bore's row, or 3
     */
    length_mm: number;
    /**
     * thickness of a head that stays outside, 0: none; 1
     */
    head_mm: number;
    /**
     * how far the head reaches over the hole's edge all round; 1
     */
    rim_mm: number;
    /**
     * as in vug_bore_options; 0.01
     */
    error_mm: number;
}

/**
 * Options of vug_shape_guide().
 */
export interface GuideOptions {
    reserved: number;
    /**
     * between guide and skin, 0 to 5; 0.2
     */
    clearance_mm: number;
    /**
     * how much wider than the drill its hole is, 0 to 5; 0.2
     */
    play_mm: number;
    /**
     * of the sleeve, 1 to 100; 4
     */
    wall_mm: number;
    /**
     * how far it reaches down around the skin, from there on the axis; 0: as far as it is wide
     */
    skirt_mm: number;
    /**
     * length of drill that is free in front of the chuck: with it the chuck comes to rest on the
     * guide when the hole is as deep as the row says; 0: no stop
     */
    drill_mm: number;
    /**
     * without a stop: above the skin; 12
     */
    height_mm: number;
}

/**
 * Options of vug_shape_cradle().
 */
export interface CradleOptions {
    /**
     * of the grid along the longer side of the base, 16 to 2000; 160
     */
    cells: number;
    /**
     * between cradle and part, 0 to 10; 0.3
     */
    clearance_mm: number;
    /**
     * how deep the part sits in it; 0: a third of its height
     */
    depth_mm: number;
    /**
     * of the base, beyond the part on each side; 5
     */
    margin_mm: number;
    /**
     * below the part's lowest point; 3
     */
    floor_mm: number;
    /**
     * room around an opening that is kept free; 2
     */
    free_mm: number;
}

/**
 * Options of the calls that look at poses.
 */
export interface PoseOptions {
    /**
     * N: as many columns as N x N over the two longest sides of the cavities' bounds, 8 to half
     * of VUG_MAX_COLUMNS_ACROSS; 0: 280, or 200 in a scan
     */
    columns_across: number;
    /**
     * spacing of the columns instead, if above 0; no more than a 40th of the longest side
     */
    spacing_mm: number;
    /**
     * poses of a scan, at most 10 million; 0: 1000
     */
    pose_count: number;
    /**
     * scan: 1: residue and standing too, in up to twice the time; 0
     */
    criteria: number;
    /**
     * scan: further poses are put around the best, closer and closer down to this angle, 0.1 to
     * 30; 0: none
     */
    refine_deg: number;
}

/**
 * One pocket.
 */
export interface PocketInfo {
    cavity: number;
    /**
     * 1: no opening is open for its air, and no liquid gets in
     */
    sealed: number;
    volume_mm3: number;
    /**
     * its highest point, in part coordinates: a corner of the wall, or a column's top
     */
    top_mm: number[];
    /**
     * height along up of the liquid below it; sealed: its lowest point
     */
    level_mm: number;
    /**
     * of the liquid's surface below it; sealed: 0
     */
    area_mm2: number;
    /**
     * the true volume lies within this of volume_mm3, as a rule: see vug_pockets_totals(). Of a
     * moment: that of all trapped air at the end of its course
     */
    volume_error_mm3: number;
}

/**
 * All pockets together.
 */
export interface PocketsInfo {
    /**
     * 1: all cavities are, see vug_cavity_info
     */
    trusted: number;
    capacity_mm3: number;
    capacity_error_mm3: number;
    /**
     * never more than capacity_mm3
     */
    trapped_mm3: number;
    trapped_error_mm3: number;
}

/**
 * What holding a part in a pose comes to.
 */
export interface PoseInfo {
    /**
     * 1: residue_mm3 and stand_mm are known
     */
    criteria: number;
    up: number[];
    /**
     * air that stays after filling
     */
    trapped_mm3: number;
    /**
     * liquid that stays after draining, all openings open; else 0
     */
    residue_mm3: number;
    /**
     * heights along up of the lips of the openings that are not sealed;
     */
    lowest_lip_mm: number;
    /**
     * 0 if there are none
     */
    highest_lip_mm: number;
    /**
     * openings, rising, with their lip below the highest: cover them to fill up; NULL if there
     * are none; valid as long as the scan
     */
    cover: number[] | null;
    cover_count: number;
    /**
     * distance of the centre of mass from the edge of what the part stands on; negative: it
     * falls over; else 0
     */
    stand_mm: number;
    /**
     * see vug_pockets_totals()
     */
    trapped_error_mm3: number;
    residue_error_mm3: number;
    /**
     * 1: all cavities are, see vug_cavity_info
     */
    trusted: number;
}

/**
 * A bore proposed for a pocket: where the drill goes in, and how.
 */
export interface BoreInfo {
    pocket: number;
    /**
     * on the outer skin
     */
    point_mm: number[];
    /**
     * unit, the way the drill goes: inward
     */
    direction: number[];
    /**
     * through the wall, skin to pocket
     */
    depth_mm: number;
}

/**
 * Options of vug_fill_run().
 */
export interface FillOptions {
    /**
     * VUG_ENTRY_; default injected
     */
    entry: number;
    /**
     * number of an opening; -1 (default): the first with role inlet, else the first that is not
     * sealed
     */
    inlet: number;
    /**
     * 1: the syringe fits tightly, no air leaves by the inlet
     */
    inlet_sealed: number;
    /**
     * 1: end at the first spill; 0: the opening gets covered for liquid, air still leaves until
     * its whole rim is under, and the fill goes on
     */
    stop_at_spill: number;
    /**
     * N: as many columns as N x N over the two longest sides of the cavity; 0: 280
     */
    columns_across: number;
    /**
     * spacing of the columns instead, if above 0; no more than a 40th of the cavity's longest
     * side
     */
    spacing_mm: number;
    /**
     * liquid at hand; 0: as much as goes in
     */
    volume_mm3: number;
    /**
     * steady rate, for the times; 0: times are 0
     */
    rate_mm3_s: number;
    /**
     * 1: liquid needs a head to move; it takes a rate, a table or a pressure
     */
    viscous: number;
    /**
     * 1: viscous: once the liquid at hand is in, wait until all is level
     */
    settle: number;
    /**
     * viscous: rows of 2 doubles, a time in s (rising, from 0) and the rate in mm3/s from then
     * on, instead of rate_mm3_s; read during the call
     */
    rates: number[] | null;
    /**
     * rows of it
     */
    rate_count: number;
    /**
     * of the syringe. Viscous: above 0: drives the liquid through the inlet's own bore, less
     * what stands over it, instead of a rate. Without hurry: up to which it presses on once no
     * open surface can rise; 0: not at all
     */
    pressure_pa: number;
    /**
     * 1: closed air keeps its volume and its place, whatever stands over it
     */
    rigid_air: number;
    /**
     * 1: at the end the syringe is taken off: liquid under pressure at the inlet flows back
     * until none is
     */
    release: number;
    /**
     * of the air around; 0: 101325
     */
    air_pressure_pa: number;
    /**
     * the ends of the fluid's range, for the waits; NULL: it has none. Read
     */
    fluid_low: Pointer;
    /**
     * during the call
     */
    fluid_high: Pointer;
}

/**
 * The outcome. Liquid + trapped + empty = capacity.
 */
export interface CourseInfo {
    /**
     * VUG_END_
     */
    end: number;
    cavity: number;
    /**
     * fill: number of the inlet; drain: -1
     */
    inlet: number;
    /**
     * -1: nothing spilled
     */
    first_spill_opening: number;
    /**
     * 1: liquid needs help to pass: poured through, or drained by, a lone opening narrower than
     * the exchange diameter
     */
    held: number;
    /**
     * at the end
     */
    pockets: number;
    pools: number;
    capacity_mm3: number;
    /**
     * inside at the end: filled, or left behind
     */
    liquid_mm3: number;
    /**
     * air without an open opening to leave by
     */
    trapped_mm3: number;
    /**
     * air with one: room never reached, or drained
     */
    empty_mm3: number;
    /**
     * liquid inside when it first spilled; -1: never
     */
    first_spill_mm3: number;
    /**
     * and the time; -1: never
     */
    first_spill_s: number;
    /**
     * until the end; fill without a rate: 0; -1: never by itself
     */
    time_s: number;
    /**
     * of the columns
     */
    spacing_mm: number;
    /**
     * drain: mean thickness of the film on the walls
     */
    film_mm: number;
    /**
     * drain: and its volume, not in liquid_mm3
     */
    film_mm3: number;
    /**
     * viscous, settle: time at which all was level within 0.05 mm; -1: not asked for, or it
     * never is
     */
    settled_s: number;
    /**
     * viscous, settle: difference of level that is left
     */
    slope_mm: number;
    /**
     * viscous: greatest difference of level within one pool on the way. A fill without hurry is
     * good to trust while this is small against the sills and rims that matter
     */
    lag_mm: number;
    /**
     * greatest pressure inside at the inlet
     */
    peak_pressure_pa: number;
    /**
     * release: liquid that flowed back through the inlet
     */
    returned_mm3: number;
    /**
     * liquid inside at first: above 0 after vug_fill_turn()
     */
    start_mm3: number;
    /**
     * viscous: greatest height over a sill of the liquid that runs over it
     */
    sill_head_mm: number;
    /**
     * errors by the same rule as those of vug_pockets_totals()
     */
    capacity_error_mm3: number;
    /**
     * fill: 0 if it ended for want of liquid, or at a spill
     */
    liquid_error_mm3: number;
    trapped_error_mm3: number;
    /**
     * 1: the cavity is, see vug_cavity_info
     */
    trusted: number;
    /**
     * for air and liquid to pass each other in the narrowest of the throats where they must, not
     * in time_s: the volume by vug_exchange_flow(); 0: they need not, or it is less than a
     * second; -1: never by itself
     */
    wait_s: number;
    /**
     * at best and at worst over fluid_low to fluid_high, by
     */
    wait_low_s: number;
    /**
     * vug_bubble_tube_range(); -1: maybe never
     */
    wait_high_s: number;
}

/**
 * One event.
 */
export interface EventInfo {
    /**
     * VUG_EVENT_
     */
    kind: number;
    /**
     * number of the opening that it happens at, or -1
     */
    opening: number;
    /**
     * inside at that moment
     */
    liquid_mm3: number;
    time_s: number;
    /**
     * of the surface that it happens at
     */
    level_mm: number;
    /**
     * of the pocket, or of the air that has to pass; 0 for other kinds
     */
    volume_mm3: number;
    /**
     * where: lowest place of a basin, sill, highest place of a pocket, opening, throat
     */
    point_mm: number[];
    /**
     * VUG_EVENT_WAIT: as in vug_course_info; else 0
     */
    wait_s: number;
    wait_low_s: number;
    wait_high_s: number;
    /**
     * of the throat; else 0
     */
    diameter_mm: number;
}

/**
 * Options of vug_drain_run().
 */
export interface DrainOptions {
    /**
     * number of the cavity; -1 (default): that of the first open opening
     */
    cavity: number;
    /**
     * N: as many columns as N x N over the two longest sides of the cavity; 0: 280
     */
    columns_across: number;
    /**
     * spacing of the columns instead, if above 0; no more than a 40th of the cavity's longest
     * side
     */
    spacing_mm: number;
    /**
     * how long the walls drip after the flow has ended; 0: 60 s
     */
    drip_s: number;
    /**
     * what is inside at first, of an earlier course in the same cavity: the part is turned with
     * its openings covered as vug_fill_turn() does it, then they are freed; with neither
     * columns_across nor spacing_mm the columns are as far apart as those of the moment. NULL:
     * the cavity is full
     */
    begin: Pointer;
}

/**
 * A moment, as a whole.
 */
export interface MomentInfo {
    pockets: number;
    pools: number;
    /**
     * -1: a drain does not come here by itself
     */
    time_s: number;
    liquid_mm3: number;
    trapped_mm3: number;
    empty_mm3: number;
}

/**
 * A pool: connected liquid.
 */
export interface PoolInfo {
    /**
     * free surfaces, those under pockets included
     */
    surfaces: number;
    volume_mm3: number;
    /**
     * of its highest surface
     */
    level_mm: number;
    /**
     * its lowest point, part coordinates
     */
    bottom_mm: number[];
    /**
     * of its surfaces
     */
    area_mm2: number;
    /**
     * at most that of all liquid, or of all trapped air, at the end
     */
    volume_error_mm3: number;
}

/**
 * Options of vug_cups_find().
 */
export interface CupOptions {
    /**
     * number of the cavity; default 0
     */
    cavity: number;
    /**
     * N: as many columns as N x N over the two longest sides of the cavity; 0: 280
     */
    columns_across: number;
    /**
     * spacing of the columns instead, if above 0; no more than a 40th of the cavity's longest
     * side
     */
    spacing_mm: number;
    /**
     * height of a layer; 0: 0.05
     */
    layer_mm: number;
    /**
     * speed at which the part is lifted off the film; 0: 1
     */
    lift_mm_s: number;
    /**
     * suction that the film may bear, for the relief; 0: 2000
     */
    suction_pa: number;
    /**
     * wall that the relief is drilled through; 0: 2
     */
    wall_mm: number;
}

/**
 * A cup: a stretch of layers in which a piece of the cavity is open to nothing but the film.
 */
export interface CupInfo {
    cavity: number;
    /**
     * where it begins, along the build direction
     */
    lo_mm: number;
    /**
     * its last layer: then an opening is printed, it joins another, or it closes
     */
    hi_mm: number;
    /**
     * largest section against the film
     */
    area_mm2: number;
    /**
     * held at its last layer
     */
    resin_mm3: number;
    /**
     * diameter of a hole that would keep the suction at the limit
     */
    relief_mm: number;
    /**
     * where it begins: a hole near there relieves all of it
     */
    point_mm: number[];
}

/**
 * Options of vug_skin_make().
 */
export interface SkinOptions {
    reserved: number;
    /**
     * a triangle is cut until no edge is longer, and each piece is wet or not by its middle; 0:
     * 1/100 of the longest side of the cavities' bounds
     */
    spacing_mm: number;
    /**
     * liquid so near behind the skin backs it, as a thin layer of air between hardly shows: 0.2
     * (no source); 0: touching alone
     */
    depth_mm: number;
    /**
     * age of the film: 60
     */
    after_s: number;
    /**
     * directions from which the part is seen, 3 doubles each, any length, pointing from the part
     * to the viewer: what is seen more counts more in the shares; read during the call. NULL:
     * all counts alike
     */
    view: number[] | null;
    view_count: number;
}

/**
 * What was wetted, of all cavities to which something was added. backed, filmed, bare and
 * unknown make up all.
 */
export interface SkinInfo {
    /**
     * that were added
     */
    courses: number;
    /**
     * of the wall, caps left out: as in vug_cavity_info
     */
    area_mm2: number;
    backed_mm2: number;
    filmed_mm2: number;
    bare_mm2: number;
    /**
     * where no column of any course came near: finer than the columns
     */
    unknown_mm2: number;
    /**
     * 0..1, by area and how visible it is
     */
    backed_share: number;
    filmed_share: number;
    bare_share: number;
    /**
     * mean thickness of the wet film on what is filmed; 0: there is none
     */
    film_mm: number;
    /**
     * area of the largest connected bare spot
     */
    spot_mm2: number;
    /**
     * its middle, on the skin
     */
    spot_at_mm: number[];
}

/**
 * The part against the light: how vug_backlit_render() looks at it. Colours are red, green,
 * blue.
 */
export interface Backlit {
    /**
     * 1: cavities that no moment is given of are full; 0: they are empty
     */
    filled: number;
    /**
     * direction from the part to the viewer, part coordinates, any length: 0, -1, 0, the front
     */
    toward: number[];
    /**
     * what is up in the picture, not along toward: 0, 0, 1
     */
    up: number[];
    /**
     * mm of a pixel; 0: the part fits, with a twentieth around it
     */
    scale_mm: number;
    /**
     * attenuation, 0 to 1e4: 0.10, 0.12, 0.18 (from memory; it differs by ten from resin to
     * resin: measure a step wedge)
     */
    resin_per_mm: number[];
    /**
     * 20, 20, 20: dark paint (common practice: opaque at 0.3 mm)
     */
    liquid_per_mm: number[];
    /**
     * share of white of the light behind, 0 to 1: 1, 1, 1
     */
    background: number[];
    /**
     * 1: bytes are 255 times the share of white; 0: by the curve of sRGB, as screens and image
     * files want them
     */
    linear: number;
    reserved: number;
}

/**
 * Options of vug_plan_make().
 */
export interface PlanOptions {
    /**
     * columns along the longest side in the search; 0: 110
     */
    columns_across: number;
    /**
     * in the simulations, as in a fill: N: as many columns as N x N over the two longest sides
     * of the cavities' bounds; 0: 280
     */
    verify_across: number;
    /**
     * poses to search among; 0: 96; at most 1000
     */
    pose_count: number;
    /**
     * after the first pose; with start_given steps on from there; default 4, at most
     * VUG_MAX_TURNS
     */
    max_turns: number;
    /**
     * new bores; default 3, at most VUG_MAX_BORES
     */
    max_bores: number;
    /**
     * 1: fill in the pose first_up
     */
    pose_given: number;
    /**
     * VUG_DRILLS_STOCK
     */
    drills: number;
    first_up: number[];
    /**
     * share of the cavity that may stay air: 0.005
     */
    limit: number;
    /**
     * weights of the choice among alternatives: 1
     */
    turn_cost: number;
    /**
     * 4
     */
    bore_cost: number;
    /**
     * for each percent of the cavity, taken halfway between trapped_mm3 and tilted_mm3: 1
     */
    air_cost: number;
    /**
     * diameter of new bores; 0: chosen by fluid, wall and drills
     */
    bore_mm: number;
    /**
     * 10
     */
    syringe_ml: number;
    /**
     * diameter of the drill's chuck: 8
     */
    chuck_mm: number;
    /**
     * of the drill in front of the chuck: 20
     */
    reach_mm: number;
    /**
     * how exactly the part is held: 5
     */
    tilt_deg: number;
    /**
     * directions from which the part is seen, 3 doubles each, pointing from the part to the
     * viewer; NULL: from all sides and from above, +z up
     */
    view: number[] | null;
    view_count: number;
    /**
     * no bore here: rows x, y, z, radius
     */
    keep_clear: number[] | null;
    keep_clear_count: number;
    /**
     * rather here: rows x, y, z, radius
     */
    preferred: number[] | null;
    preferred_count: number;
    /**
     * of each triangle of the part: 0, 1 keep clear, 2 preferred
     */
    triangle_flags: number[] | null;
    /**
     * 0, or the part's number of triangles
     */
    triangle_flag_count: number;
    /**
     * the ends of the paint's range, for the waits; NULL: it has none. Read
     */
    fluid_low: Pointer;
    /**
     * during the call
     */
    fluid_high: Pointer;
    /**
     * 1: the part is not printed yet: new holes belong into its model: 0
     */
    design: number;
    /**
     * 1: something is in it already: the plan goes on from there, see vug_plan_make()
     */
    start_given: number;
    /**
     * how it is held now, all openings covered: the nearest pose that words say
     */
    start_up: number[];
    /**
     * what went in, above 0 and no more than the cavity holds
     */
    start_liquid_mm3: number;
    /**
     * rows x, y, z: where air is seen, see vug_moment_make(); NULL: where a fill in that pose
     * leaves it
     */
    start_air: number[] | null;
    start_air_count: number;
    /**
     * share of the skin that may stay bare, see vug_plan_info.bare_mm2: 1
     */
    bare_limit: number;
    /**
     * how often the last turn and the one before may be done again, leaning the part to all
     * sides each time, for hands that miss the limit as tilt_deg has them, or, where there is no
     * turn, twice as often the part be held so anew and topped up; 0: never, nor leant; beyond
     * max_turns: 2
     */
    max_repeats: number;
    reserved: number;
}

/**
 * One alternative as a whole.
 */
export interface PlanInfo {
    /**
     * 1: no more air stays than options.limit, nor bare skin than bare_limit
     */
    within_limit: number;
    /**
     * new ones
     */
    bores: number;
    /**
     * of filling, with those that do earlier ones again
     */
    steps: number;
    cost: number;
    /**
     * of the cavities that an opening leads to; sealed_mm3 is the rest
     */
    capacity_mm3: number;
    /**
     * air that stays in them, by the simulation of the steps as they are told
     */
    trapped_mm3: number;
    /**
     * the same when every pose is off by options.tilt_deg, each in a direction of its own, holes
     * by a tenth of their width (0.9, 1, 1.1 in turn) and the paint by a tenth of its tension,
     * yield stress, consistency and contact angle: of VUG_PLAN_SAMPLES random sets of
     * directions, the same each time, the 95th percentile by nearest rank; or of the first half
     * of them where within_limit is 0, or where none of that half leaves more than the limit, or
     * three quarters of it do. With any_pace each turn is made at one of the three paces of
     * slowly_mm3, else as it is told. Simulated on 80 columns across, as more or less than the
     * same columns see of the steps as they are told
     */
    tilted_mm3: number;
    /**
     * the most when the turns are made at any of three paces: in one go, and with bubbles coming
     * to rest every 30 and every 10 degrees; at least trapped_mm3. As more than that by what
     * columns as wide as the search's see
     */
    slowly_mm3: number;
    /**
     * what the search had estimated
     */
    searched_mm3: number;
    /**
     * paint in all; with given steps: what is still to go in
     */
    inject_mm3: number;
    /**
     * rinsing liquid that stays after draining, by the simulation
     */
    residue_mm3: number;
    /**
     * syringes
     */
    loads: number;
    last_load_ml: number;
    /**
     * to prepare, losses included
     */
    paint_ml: number;
    /**
     * throats narrower than this let no bubble pass in this paint: vug_bubble_held()
     */
    throat_limit_mm: number;
    /**
     * the narrowest of those; 0: there is none
     */
    throat_mm: number;
    /**
     * how many there are in the part
     */
    throats: number;
    /**
     * 1: the turns of every set of bores among the places found were searched; 0: of the most
     * promising sets of each size
     */
    searched_all: number;
    /**
     * 1: all cavities are, see vug_cavity_info
     */
    trusted: number;
    /**
     * 1: within the limit at each of the three paces of slowly_mm3; then the steps are told at
     * the worst of them. 0: at the best, and the pace matters
     */
    any_pace: number;
    /**
     * cavities that no opening leads to: they stay empty
     */
    sealed_mm3: number;
    /**
     * of the columns in the simulations of the steps
     */
    spacing_mm: number;
    /**
     * share of the samples of tilted_mm3 that leave no more than the limit
     */
    chance: number;
    /**
     * 1: new holes belong into the model, before it is printed, and drain too: asked for by
     * options.design, or a cavity has no opening yet. 0: they are drilled in the cured part, so
     * that rinsing does without them
     */
    in_model: number;
    /**
     * to a thousandth of the resin, by vug_rinse_compare(), well shaken, for what stays of the
     * rinsing liquid with its film; 0: more than 30 would be wanted, as next to nothing runs out
     */
    rinses: number;
    /**
     * rinsing liquid for them
     */
    rinse_mm3: number;
    /**
     * of rinsing liquid on the walls after the last draining, not in residue_mm3: as
     * vug_course_info has it
     */
    film_mm3: number;
    /**
     * raw resin (VUG_FLUID_RESIN, typical, 20 C) from a full part, in the first pose of
     * draining: until what runs out by itself has, as time_s of vug_step_info; -1: nothing does
     */
    resin_s: number;
    /**
     * and what is still inside then
     */
    resin_mm3: number;
    /**
     * wall in front of the cavities, by balls as vug_thickness_measure() has them, from inside:
     * less on half of their skin
     */
    wall_mm: number;
    /**
     * light for the inside behind wall_mm and the widest opening, as far as the cavity is wide
     * (4 volume / area), by vug_cure_through(): a lamp of 20 mW/cm2
     */
    cure_low_s: number;
    /**
     * and one of 5 (common practice, no source)
     */
    cure_high_s: number;
    /**
     * outer diameter of the widest needle that leaves 0.4 mm of each inlet free, of those whose
     * cavity takes 50 mm3 or is the only one; 0: none
     */
    needle_mm: number;
    /**
     * of vug_needle_through(); 0: none
     */
    needle_gauge: number;
    /**
     * steps of filling at the end that do earlier ones again, see repeats
     */
    again: number;
    /**
     * air to seal in for 20 K of warmth from 20 C on at 20 kPa, vug_sealed_air() for a ball of
     * the same room, its wall one that is thinner on a twentieth of the skin, filled with water;
     * -1: no air is enough. 0 for paint of volatile_share 0
     */
    warm_air_mm3: number;
    /**
     * and for frost of -18 C, vug_ice_air(), all water, at a pressure that pulls such a ball's
     * wall with 5 MPa, a tenth of what cured resin bears (from memory)
     */
    frost_air_mm3: number;
    /**
     * for volatile_share of the paint, as if it were water, to leave by the widest opening of
     * each cavity: vug_drying_time() at 20 C and humidity 0.5; the slowest
     */
    dry_s: number;
    /**
     * glue for plugs in all openings, as deep as their walls, at most 3 mm: vug_plug()
     */
    plug_mm3: number;
    /**
     * of the walls of the same cavities, of which backed_mm2, filmed_mm2 and bare_mm2 are parts,
     * see vug_skin_info: by the simulation of the steps as they are told
     */
    skin_mm2: number;
    backed_mm2: number;
    filmed_mm2: number;
    bare_mm2: number;
    /**
     * mean thickness of the wet film on what is filmed
     */
    film_mm: number;
    /**
     * area of the largest connected bare spot; 0: there is none
     */
    spot_mm2: number;
    /**
     * its middle, on the skin
     */
    spot_at_mm: number[];
    /**
     * steps at the beginning that are done: 1 with options.start_given, else 0
     */
    given: number;
    /**
     * 1: where the air is was not said, and a fill in that pose would not have taken as much: it
     * is taken to have risen from everywhere alike
     */
    unseen: number;
    /**
     * to coat the part as it is instead of filling it, a dry film of 0.1 mm: vug_coat_plan()
     * with the film that a swirl leaves and the solids of the paint, 1 - volatile_share; 0: more
     * than 12, or no swirl wets half of the skin, or given steps
     */
    coats: number;
    /**
     * of VUG_PLAN_COAT
     */
    coat_steps: number;
    /**
     * paint to put in for each: 0.1, 0.2 or 0.3 of the capacity, the least that wets 98 % of the
     * skin, or most of it, simulated on 40 columns across
     */
    swirl_mm3: number;
    /**
     * paint that stays in it, all coats
     */
    coat_mm3: number;
    /**
     * skin that a swirl wets
     */
    coat_wetted_mm2: number;
    /**
     * for one coat, by vug_drying_time() as dry_s
     */
    coat_dry_s: number;
    /**
     * of VUG_PLAN_DRAIN, 1 to 4: poses in which it runs out, chosen by drains on 60 columns
     * across; 0: with given steps
     */
    drain_steps: number;
    /**
     * so often the last steps of filling are done again, so that in hands that are not exact it
     * comes out within the limit 19 times out of 20, if that can be had so: the last turn and
     * the step before it, which makes 2 steps each time; in a plan of one pose the part is held
     * so anew and topped up, which makes 1, of angle_deg 0. again steps in all, of which no turn
     * is but those that have an angle_deg
     */
    repeats: number;
    /**
     * that loads are of: options.syringe_ml, or one of 1 mL that all of it fits in
     */
    syringe_ml: number;
    /**
     * wall of the ball of warm_air_mm3 and frost_air_mm3, measured as wall_mm is; at least 0.2
     */
    thin_mm: number;
}

/**
 * One step, in the order in which it is done: all openings are covered; the part is turned to
 * up, at a pace; what is inside comes to rest; those of open are freed, and cover stay covered;
 * each of feed is injected by; all are covered again. The same to vug_fill_run() (the first step
 * in which something goes into a cavity) or vug_fill_turn(), with the roles of cover sealed,
 * gives the figures of the step within 1e-9 of the capacity: with columns spacing_mm of
 * vug_plan_info apart, inlet of feed and volume_mm3 of feed_most_mm3, one cavity after the
 * other. The poses of way, and cavities that get nothing in a step, are calls with all sealed.
 * The lists are numbers of openings of vug_plan_cavities(), rising, NULL if there are none; they
 * are the plan's and valid as long as it.
 */
export interface StepInfo {
    /**
     * opening to inject by; -1: nothing goes in here
     */
    inlet: number;
    /**
     * openings that stay covered from before the turn to the end of the step
     */
    cover: number[] | null;
    cover_count: number;
    /**
     * openings by which air leaves (draining: by which liquid leaves)
     */
    vent: number[] | null;
    vent_count: number;
    /**
     * unit, part coordinates
     */
    up: number[];
    /**
     * about which the part is turned to come here, part coordinates, right-handed; zero in the
     * first step
     */
    axis: number[];
    /**
     * 0 in the first step
     */
    angle_deg: number;
    /**
     * into all cavities, each by its own opening: see feed; draining: liquid that runs out. What
     * trapped_mm3 gets less by: where nothing moves, as much as columns of two poses differ,
     * some 1e-5 of the cavity, either way
     */
    inject_mm3: number;
    /**
     * air (draining: liquid) that is left after it
     */
    trapped_mm3: number;
    /**
     * for the bubbles, on their way and through the throats where they pass the paint, as
     * vug_course_info has it (draining: half as long again as the liquid takes, 5 s at least); 0
     * in a first fill that needs none, -1: they do not move by themselves
     */
    wait_s: number;
    /**
     * the part stands on a table in this pose: distance of its centre of mass from the edge of
     * its footing; negative: it falls over
     */
    stand_mm: number;
    /**
     * first fill: highest steady rate at which nothing spills before the rest is full, as
     * vug_fill_rate_limit() has it, on 60 columns across, for a plain liquid as thick as the
     * paint at 10 / s, and with the openings of show covered as soon as paint shows; 0: there is
     * no such rate from 1e-3 to 1e5, or another step
     */
    rate_mm3_s: number;
    /**
     * filling: openings to inject by, one for each cavity that takes paint, what takes most
     * first: inlet, if there is any
     */
    feed: number[] | null;
    /**
     * how much by each: inject_mm3 in all. The plan's, as vent is
     */
    feed_mm3: number[] | null;
    feed_count: number;
    /**
     * openings that are freed after the turn: all that are neither sealed nor in cover
     */
    open: number[] | null;
    open_count: number;
    /**
     * of those, in which paint shows before the end: each is covered once it does, as the
     * simulation has it by itself; by an inlet among them the syringe is pressed tight from then
     * on. Filling only
     */
    show: number[] | null;
    show_count: number;
    /**
     * of the turn: bubbles come to rest at least every so many degrees; 0: only at its end
     */
    pace_deg: number;
    /**
     * the poses at which they do so on the way: up, 3 doubles each
     */
    way: number[] | null;
    /**
     * of those poses
     */
    way_count: number;
    /**
     * of trapped_mm3: air with an open opening that no paint drives it to
     */
    empty_mm3: number;
    /**
     * filling: volume_mm3 of each feed: 0: until no more goes in, as feed_mm3 says; above 0: no
     * more than that, since throats or the paint hold back air
     */
    feed_most_mm3: number[] | null;
    /**
     * draining, by vug_drain_run(): until what runs out by itself in 16 hours has; -1: nothing
     * does
     */
    time_s: number;
    /**
     * wait_s at best and at worst over the paint's range; -1: maybe never
     */
    wait_low_s: number;
    wait_high_s: number;
    /**
     * draining: of inject_mm3, what does not run out by itself: it is drawn out with needle and
     * syringe; trapped_mm3 is what stays even then
     */
    stuck_mm3: number;
    /**
     * filling: once turned, all openings covered, the part is leant so far that each of the four
     * sides around the one that is up rises, in turn, and held as before: the last 5 poses of
     * way; 0: it is not
     */
    lean_deg: number;
    /**
     * filling: the longest way of a bubble of this step, straight. Of wait_s, what is not for
     * throats is half as long again as one of bubble_mm3 needs for it, 5 s at least, by
     * vug_bubble_tube_speed() in a tube of 4 volume / area of the cavity where that is least, if
     * it is wider than 0.6 of that, else by vug_bubble_open_speed(); 0: none moves
     */
    rise_mm: number;
    /**
     * the smallest bubble that counts
     */
    bubble_mm3: number;
}

/**
 * One new bore.
 */
export interface PlanBoreInfo {
    /**
     * its number in vug_plan_cavities()
     */
    opening: number;
    /**
     * on the outer skin
     */
    point_mm: number[];
    /**
     * unit, the way the drill goes: inward
     */
    direction: number[];
    /**
     * through the wall
     */
    depth_mm: number;
    /**
     * recommended
     */
    diameter_mm: number;
    /**
     * smallest drill that does
     */
    least_mm: number;
    /**
     * between drill and the skin's normal
     */
    slant_deg: number;
    /**
     * distance along the skin to where it bends by more than 45 degrees; looked for up to 4
     * diameters
     */
    edge_mm: number;
    /**
     * wall around the bore, within 2 diameters
     */
    thinnest_mm: number;
    /**
     * share of the viewing directions that see it, by how squarely: 0..1
     */
    visibility: number;
    /**
     * 1: in a preferred region
     */
    preferred: number;
    /**
     * 1: the chuck gets there
     */
    chuck_clear: number;
}

/** What the module exports. */
export interface Raw {
    readonly memory: WebAssembly.Memory;
    malloc(size: number): Pointer;
    free(address: Pointer): void;
    /**
     * Version of the library as major * 10000 + minor * 100 + patch. Never fails.
     */
    vug_version_number(): number;
    /**
     * Version of the library, such as "1.0.0". A constant; do not free. Never fails.
     */
    vug_version_string(): Pointer;
    /**
     * Whether an optional feature is built in: 1 or 0; 0 for a name not known. Names: "openmp",
     * "3mf". NULL gives 0.
     */
    vug_feature(name: Pointer): number;
    /**
     * One short English sentence for a status, for messages and logs. A constant; do not free. A
     * number not known gives "unknown status".
     */
    vug_status_string(status: number): Pointer;
    /**
     * The status constants' names, such as "VUG_ERR_MEMORY", or "VUG_ERR_UNKNOWN". A constant;
     * do not free.
     */
    vug_status_name(status: number): Pointer;
    /**
     * Name of constant number index, with its value in *value (may be NULL), or NULL past the
     * end. For bindings that cannot read this header: every constant and limit in it is listed.
     */
    vug_constant(index: number, value: Pointer): Pointer;
    /**
     * Fills *options with the defaults. size is sizeof(vug_context_options) as the caller's
     * compiler sees it. Errors: VUG_ERR_ARGUMENT (NULL, or size smaller than struct_size
     * itself).
     */
    vug_context_options_init(options: Pointer, size: number): number;
    /**
     * Makes a context. options may be NULL. *out is owned by the caller: vug_context_free().
     * Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY, VUG_ERR_LIMIT (threads).
     */
    vug_context_create(options: Pointer, out: Pointer): number;
    /**
     * Frees a context; NULL is allowed. Objects made with it live on.
     */
    vug_context_free(ctx: Pointer): void;
    /**
     * Message of the last failed call on this context, naming file, line, triangle, value and
     * limit as they apply; "" if none failed. Valid until the next call on ctx. NULL gives "".
     */
    vug_context_message(ctx: Pointer): Pointer;
    /**
     * Text of warning number index of those gathered since the context was made or
     * vug_context_clear_warnings() was called, at most 64, or NULL past the end. Valid until the
     * next call on ctx.
     */
    vug_context_warning(ctx: Pointer, index: number): Pointer;
    /**
     * Forgets all warnings. NULL is allowed.
     */
    vug_context_clear_warnings(ctx: Pointer): void;
    /**
     * Number of threads this context uses; NULL gives 0.
     */
    vug_context_threads(ctx: Pointer): number;
    /**
     * Asks the call that runs on ctx to stop with VUG_ERR_CANCELLED; if none runs, the next long
     * call stops at once. Used up by the call it stops. From any thread. NULL is allowed.
     */
    vug_context_cancel(ctx: Pointer): void;
    /**
     * Fraction done, 0..1, of the long call that runs on ctx, or of the last one. From any
     * thread. NULL gives 0.
     */
    vug_context_progress(ctx: Pointer): number;
    /**
     * Sets or clears (NULL) the progress callback. Errors: VUG_ERR_ARGUMENT (ctx NULL).
     */
    vug_context_set_progress(ctx: Pointer, progress: Pointer, user: Pointer): number;
    /**
     * Frees an array that a call made for the caller with this context. NULL is allowed.
     */
    vug_free(ctx: Pointer, ptr: Pointer): void;
    /**
     * Fills *fluid with the default: clean water at 20 C that wets the part (998.2 kg/m3,
     * 0.07274 N/m, contact angle 0, 1.0016 mPa s, all of it dries). A NULL fluid means the same
     * in every call, but for the resin of vug_cups_find(). Errors: VUG_ERR_ARGUMENT.
     */
    vug_fluid_init(fluid: Pointer, size: number): number;
    /**
     * Flow through a long round tube, driven by a pressure difference: Rabinowitsch's integral
     * in closed form for Herschel-Bulkley fluids (Hagen-Poiseuille, power law and
     * Buckingham-Reiner are its special cases). Laminar and without end losses: for short holes
     * use vug_hole_flow(). A negative pressure gives a negative flow. radius_mm 1e-4..1e4,
     * length_mm 1e-4..1e7. Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN.
     */
    vug_tube_flow(ctx: Pointer, fluid: Pointer, radius_mm: number, length_mm: number, pressure_pa: Pointer, count: number, flow_mm3_s: Pointer): number;
    /**
     * The inverse: pressure that drives a flow. Flow 0 needs 0; any other needs more than
     * vug_tube_start_pressure(). Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN.
     */
    vug_tube_pressure(ctx: Pointer, fluid: Pointer, radius_mm: number, length_mm: number, flow_mm3_s: Pointer, count: number, pressure_pa: Pointer): number;
    /**
     * Pressure up to which a yield stress keeps a tube still: 2 length yield / radius. A slot
     * starts like a tube whose radius is its gap. Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN.
     */
    vug_tube_start_pressure(ctx: Pointer, fluid: Pointer, radius_mm: number, length_mm: number, pressure_pa: Pointer): number;
    /**
     * Flow through a long flat slot of width much larger than gap (for a plain liquid the side
     * walls take a share of 0.63 gap/width, which this leaves out). width_mm is at least gap_mm.
     * Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN.
     */
    vug_slot_flow(ctx: Pointer, fluid: Pointer, gap_mm: number, width_mm: number, length_mm: number, pressure_pa: Pointer, count: number, flow_mm3_s: Pointer): number;
    /**
     * The inverse of vug_slot_flow(). Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN.
     */
    vug_slot_pressure(ctx: Pointer, fluid: Pointer, gap_mm: number, width_mm: number, length_mm: number, flow_mm3_s: Pointer, count: number, pressure_pa: Pointer): number;
    /**
     * Flow of a liquid through a round hole in a wall, which it leaves as a jet into air: any
     * length from 0 (a sharp-edged orifice) to a long tube, from creeping flow to Reynolds
     * numbers of some thousands. The pressure drop is that of a tube lengthened by 3 pi / 16
     * radii (the entrance's half of Sampson 1891, with Dagan, Weinbaum, Pfeffer 1982: exact for
     * a plain liquid in creeping flow, an estimate for others), plus 1.5 dynamic pressures for
     * entrance and jet, plus what a jet that contracts costs (form of Idelchik, scaled to a
     * discharge coefficient of 0.611 at length 0; none from 2.4 diameters on), which a slow jet
     * does not (Johansen 1930), plus what developing flow costs from there on (Shah 1978; 2.25
     * dynamic pressures in all for a long laminar tube), plus friction of turbulence above a
     * Reynolds number of 2000 to 4000 (Blasius). Plain liquids, sharp edges: flows are within 10
     * % of OpenFOAM's at Reynolds numbers of 0.2 to 300 for lengths of 0.1 to 2 diameters, and
     * discharge coefficients from 2 diameters on within 0.035 of those measured by Lichtarowicz
     * et al. 1965 up to 2e4. Surface tension, which holds a jet back by 2 tension / diameter, is
     * not in it. diameter_mm 1e-4..1e4, length_mm 0..1e7. Errors: VUG_ERR_ARGUMENT,
     * VUG_ERR_DOMAIN.
     */
    vug_hole_flow(ctx: Pointer, fluid: Pointer, diameter_mm: number, length_mm: number, pressure_pa: Pointer, count: number, flow_mm3_s: Pointer): number;
    /**
     * The inverse of vug_hole_flow(). Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN.
     */
    vug_hole_pressure(ctx: Pointer, fluid: Pointer, diameter_mm: number, length_mm: number, flow_mm3_s: Pointer, count: number, pressure_pa: Pointer): number;
    /**
     * vug_hole_flow() for a hole that leads into more of the same: liquid under liquid, such as
     * a cup in the vat, or air into air, such as a vent. A slow stream then stirs what is behind
     * the hole, 3 pi / 16 radii more; of that and the dynamic pressure a fast one loses, the
     * root of the squares counts (Oliveira, Pinho 1997). The same interval. pressure_pa and
     * flow_mm3_s: count numbers each. Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN.
     */
    vug_hole_flow_immersed(ctx: Pointer, fluid: Pointer, diameter_mm: number, length_mm: number, pressure_pa: Pointer, count: number, flow_mm3_s: Pointer): number;
    /**
     * The inverse of vug_hole_flow_immersed(). Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN.
     */
    vug_hole_pressure_immersed(ctx: Pointer, fluid: Pointer, diameter_mm: number, length_mm: number, flow_mm3_s: Pointer, count: number, pressure_pa: Pointer): number;
    /**
     * Pressure up to which a yield stress keeps a hole still, 2 yield (length + 3 pi / 16
     * radius) / radius for one that leads into air. Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN.
     */
    vug_hole_start_pressure(ctx: Pointer, fluid: Pointer, diameter_mm: number, length_mm: number, pressure_pa: Pointer): number;
    /**
     * Time for the level above the outer end of a hole to fall from the last to the first of
     * count levels (2 or more, rising, the first above 0) in a vessel with the given areas
     * there, linear in between, with air coming in freely elsewhere: the integral of area / flow
     * with the flow of vug_hole_flow() under the head. A vessel of constant cross-section is two
     * levels with one area. Capillarity, which may stop it early, is not in it: see
     * vug_capillary_hold_head(). Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN (also when the yield
     * stress stops it above the first level).
     */
    vug_drain_time(ctx: Pointer, fluid: Pointer, hole_diameter_mm: number, wall_mm: number, level_mm: Pointer, area_mm2: Pointer, count: number, time_s: Pointer): number;
    /**
     * Capillary length sqrt(tension / (density g)). Errors: VUG_ERR_DOMAIN also for no tension.
     */
    vug_capillary_length(ctx: Pointer, fluid: Pointer, length_mm: Pointer): number;
    /**
     * Height to which the liquid climbs in a round tube (Jurin); negative if it does not wet.
     * Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN.
     */
    vug_capillary_rise(ctx: Pointer, fluid: Pointer, radius_mm: number, height_mm: Pointer): number;
    /**
     * Pressure with which a round hole draws the liquid in (negative: must be pushed in), which
     * is also what holds it there against draining or against air: 4 tension cos(angle) /
     * diameter. A slot draws like a hole of twice its gap. Errors: VUG_ERR_ARGUMENT,
     * VUG_ERR_DOMAIN.
     */
    vug_capillary_pressure(ctx: Pointer, fluid: Pointer, diameter_mm: number, pressure_pa: Pointer): number;
    /**
     * Height of liquid that hangs above a round hole by capillarity, at most: a drop on the
     * wetted outer rim may bulge to a half ball, 4 tension / (density g diameter). Draining
     * stops there. Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN.
     */
    vug_capillary_hold_head(ctx: Pointer, fluid: Pointer, diameter_mm: number, head_mm: Pointer): number;
    /**
     * Largest hole that the meniscus inside it (vug_capillary_pressure) closes against a head of
     * liquid. 0 when the liquid does not wet the part. Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN.
     */
    vug_capillary_hold_diameter(ctx: Pointer, fluid: Pointer, head_mm: number, diameter_mm: Pointer): number;
    /**
     * Diameter below which a lone hole, open downward under liquid, lets no air in and so
     * nothing out. *free_mm: the line of contact moves along the wall at the contact angle (a
     * long bore, a rounded rim); the marginal stability of the meniscus against tilting, from
     * 0.918 capillary lengths of radius at 0 degrees (Bretherton 1961) to 1.841 at 90 (first
     * zero of J1'); symmetric about 90. *pinned_mm: the line sits fast on a sharp rim, 3.832
     * capillary lengths (first zero of J1): the upper bound. Tilting or shaking the part, or a
     * second hole, breaks both. Take the smaller for a liquid that may stay in, the larger for
     * one that must come out. Either result may be NULL. Errors: VUG_ERR_ARGUMENT,
     * VUG_ERR_DOMAIN.
     */
    vug_exchange_diameter(ctx: Pointer, fluid: Pointer, free_mm: Pointer, pinned_mm: Pointer): number;
    /**
     * Flow out of a lone hole that lets air in as liquid goes out: its area times the speed of a
     * long bubble in it, vug_bubble_tube_speed(); 0 up to the diameter where bubbles are held.
     * What one hole manages alone is far less than vug_hole_flow(); a second hole is worth more
     * than a wider one. An estimate for a hole some diameters long; a short one passes more.
     * Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN.
     */
    vug_exchange_flow(ctx: Pointer, fluid: Pointer, diameter_mm: number, flow_mm3_s: Pointer): number;
    /**
     * Sizes up to which bubbles stay where they are. *tube_mm: diameter of a standing tube that
     * the liquid wets, for a long bubble in it: density g radius^2 / tension = 0.842 (Bretherton
     * 1961), or what the yield stress holds if that is more. *open_mm: diameter of a round
     * bubble in the open, held by the yield stress alone: 2 yield / (0.143 density g), the yield
     * stress scaled by density g radius (Tsamopoulos et al. 2008, J. Fluid Mech. 601:123).
     * Either may be NULL. Errors: VUG_ERR_ARGUMENT (both NULL), VUG_ERR_DOMAIN.
     */
    vug_bubble_held(ctx: Pointer, fluid: Pointer, tube_mm: Pointer, open_mm: Pointer): number;
    /**
     * Speed of a long bubble rising in a standing tube: the correlations of Viana et al. 2003
     * (J. Fluid Mech. 494:379, 262 experiments, 1 to 3900 mPa s), never above Bretherton's 1961
     * law near the stuck diameter, 0 below it. Non-Newtonian liquids by their viscosity at the
     * stress 0.0715 density g diameter, at which a bubble just moves: an estimate. Errors:
     * VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN.
     */
    vug_bubble_tube_speed(ctx: Pointer, fluid: Pointer, diameter_mm: Pointer, count: number, speed_mm_s: Pointer): number;
    /**
     * Speed of a lone bubble of the given volume-equivalent radius in the open: drag of Tomiyama
     * et al. 1998. clean 0: its skin is held by dirt or surfactant (Stokes for small ones;
     * paint, dirty solvent), 1: the skin moves (Hadamard and Rybczynski). 0 if the yield stress
     * holds it. Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN.
     */
    vug_bubble_open_speed(ctx: Pointer, fluid: Pointer, clean: number, radius_mm: Pointer, count: number, speed_mm_s: Pointer): number;
    /**
     * The drill of a series next to diameter_mm: the smallest VUG_AT_OR_ABOVE it, or the largest
     * VUG_AT_OR_BELOW it. Errors: VUG_ERR_ARGUMENT (no such series or side), VUG_ERR_DOMAIN,
     * VUG_ERR_NOT_FOUND (the series does not go there).
     */
    vug_drill_next(ctx: Pointer, series: number, side: number, diameter_mm: number, drill_mm: Pointer): number;
    /**
     * Syringe loads (volume_mm3 / capacity, rounded up), paint with losses, and cost.
     * loss_fraction 0..10 of the volume stays in cups, on walls or runs out (0.1 is common
     * practice, no source). price_per_l may be 0. One syringe is refilled, so its dead space
     * counts once. syringe_ml is a nominal capacity, 0.1..1000. Errors: VUG_ERR_ARGUMENT,
     * VUG_ERR_DOMAIN.
     */
    vug_supply_for(ctx: Pointer, volume_mm3: number, syringe_ml: number, loss_fraction: number, price_per_l: number, supply: Pointer): number;
    /**
     * A liquid of the bench at one end of its range. Water and isopropanol follow the
     * temperature (0 to 60 C); the ranges of the others hold for 15 to 30 C. Sources:
     * vug_fluid_preset_source(). Published values of paints and resins scatter widely: measure
     * your own with vug_fluid_fit(). Errors: VUG_ERR_ARGUMENT (no such preset or level),
     * VUG_ERR_DOMAIN (temperature).
     */
    vug_fluid_preset(ctx: Pointer, preset: number, level: number, temperature_c: number, fluid: Pointer): number;
    /**
     * Name of a preset, such as "craft acrylic"; NULL past the end. A constant; do not free.
     */
    vug_fluid_preset_name(preset: number): Pointer;
    /**
     * Where the numbers of a preset come from, in a sentence; NULL past the end. A constant.
     */
    vug_fluid_preset_source(preset: number): Pointer;
    /**
     * Yield stress from a tilted plate: density g thickness sin(slope), for a layer that begins
     * to creep at that slope. Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN.
     */
    vug_yield_from_slope(ctx: Pointer, density_kg_m3: number, layer_mm: number, slope_deg: number, yield_stress_pa: Pointer): number;
    /**
     * Consistency and index from a timed syringe: count (2 or more) pressures at a needle, none
     * alike, and the flows they gave. *known gives density and yield stress; *fluid is a copy of
     * it with the numbers found (both may be the same struct). Two points are met exactly, more
     * by least squares in ln(flow). *misfit (may be NULL): root of the mean square of ln(flow /
     * fitted flow). Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN (also a pressure that does not move
     * a fluid of that yield stress), VUG_ERR_CONVERGENCE (no index from 0.1 to 2 explains the
     * flows).
     */
    vug_fluid_fit(ctx: Pointer, known: Pointer, needle_bore_mm: number, needle_length_mm: number, pressure_pa: Pointer, flow_mm3_s: Pointer, count: number, fluid: Pointer, misfit: Pointer): number;
    /**
     * The needle of a gauge (10 to 30, not all). Errors: VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND.
     */
    vug_needle_by_gauge(ctx: Pointer, gauge: number, needle: Pointer): number;
    /**
     * The widest needle that goes through a hole and leaves gap_mm of its diameter free. Errors:
     * VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN, VUG_ERR_NOT_FOUND.
     */
    vug_needle_through(ctx: Pointer, hole_mm: number, gap_mm: number, needle: Pointer): number;
    /**
     * The syringe of a nominal capacity: 1, 2, 2.5, 3, 5, 10, 20, 30, 50 or 60 mL. Errors:
     * VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND.
     */
    vug_syringe_by_size(ctx: Pointer, nominal_ml: number, syringe: Pointer): number;
    /**
     * Error that ISO 7886-1 allows when expelled_ml leave a syringe. Errors: VUG_ERR_ARGUMENT,
     * VUG_ERR_DOMAIN.
     */
    vug_syringe_tolerance(ctx: Pointer, nominal_ml: number, expelled_ml: number, tolerance_ml: Pointer): number;
    /**
     * Fills *injection with the defaults given at its members. Errors: VUG_ERR_ARGUMENT.
     */
    vug_injection_init(injection: Pointer, size: number): number;
    /**
     * Pressure, thumb force and time for a flow, or flow and time for a thumb force: one of the
     * two is above 0, the other 0. injection NULL: the defaults. Errors: VUG_ERR_ARGUMENT (both
     * given, or none), VUG_ERR_DOMAIN (also a force that does not move it).
     */
    vug_inject(ctx: Pointer, fluid: Pointer, injection: Pointer, flow_mm3_s: number, thumb_force_n: number, injected: Pointer): number;
    /**
     * Range of a sum over ranges of count (1..12) inputs: the sum at every corner, at the
     * typical point and with one input at its ends; exact when the sum only rises or only falls
     * with each input. spread (may be NULL): count answers' spreads with one input over its
     * range and the rest typical. Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN (low above typical or
     * typical above high), what the sum returns.
     */
    vug_interval_of(ctx: Pointer, sum: Pointer, user: Pointer, low: Pointer, typical: Pointer, high: Pointer, count: number, spread: Pointer, interval: Pointer): number;
    /**
     * Fills *task with the defaults given at its members. Errors: VUG_ERR_ARGUMENT.
     */
    vug_hole_task_init(task: Pointer, size: number): number;
    /**
     * The hole that meets every condition asked, the drill for it, and which condition decides.
     * Errors: VUG_ERR_ARGUMENT (no condition asked), VUG_ERR_DOMAIN (also a condition no hole up
     * to 1 m meets), VUG_ERR_NOT_FOUND (no such drill).
     */
    vug_hole_choose(ctx: Pointer, fluid: Pointer, task: Pointer, choice: Pointer): number;
    /**
     * vug_hole_choose() for a fluid known as a range: least_mm as a range, with the property
     * that decides it, and the choice for the worst corner. Either result may be NULL. Errors:
     * as vug_hole_choose(); VUG_ERR_DOMAIN when low, typical and high of a property are not in
     * order.
     */
    vug_hole_choose_range(ctx: Pointer, low: Pointer, typical: Pointer, high: Pointer, task: Pointer, least_mm: Pointer, worst: Pointer): number;
    /**
     * vug_bubble_tube_speed() for a fluid known as a range: mm/s, from all corners of its six
     * properties. Near the diameter where bubbles are stuck the low end is 0: then none may
     * pass. Errors: VUG_ERR_ARGUMENT; as vug_bubble_tube_speed(); VUG_ERR_DOMAIN when low,
     * typical and high of a property are not in order.
     */
    vug_bubble_tube_range(ctx: Pointer, low: Pointer, typical: Pointer, high: Pointer, diameter_mm: number, speed_mm_s: Pointer): number;
    /**
     * Least solvent for each of a number of equal soaks to reach the target, by the same law.
     * Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN (also a target that so few cycles cannot reach at
     * that mixing).
     */
    vug_rinse_solvent(ctx: Pointer, residue_mm3: number, mixing: number, target_fraction: number, cycles: number, fresh_mm3: Pointer): number;
    /**
     * Soaking against flushing, for a cavity and the residue that draining leaves in it (from
     * the drain simulation), until the concentration is target_fraction of what it was. Each
     * soak fills the cavity with fresh = cavity - residue of solvent and leaves 1 - mixing fresh
     * / (mixing residue + fresh). mixing is the share of the residue that meets the solvent: 1
     * well shaken (residue / cavity), towards 0 a blind pocket that none reaches. Solvent vapour
     * burns and resin irritates skin: gloves, air, no flame, and the data sheets. Errors:
     * VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN (also above 1e6 cycles).
     */
    vug_rinse_compare(ctx: Pointer, cavity_mm3: number, residue_mm3: number, mixing: number, target_fraction: number, rinse: Pointer): number;
    /**
     * Time for liquid standing in a blind tip of a depth to be washed out by diffusion alone
     * into fresh solvent at its mouth, to fraction_left of what was in it (Crank 1975, plane
     * sheet, one face). Diffusivities in liquids are near 1e-9 m2/s, in resin 1e-11 (from
     * memory). Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN.
     */
    vug_soak_time(ctx: Pointer, depth_mm: number, diffusivity_m2_s: number, fraction_left: number, time_s: Pointer): number;
    /**
     * A round plug: *volume_mm3 of glue or filler, pi/4 diameter^2 depth, and *shear_pa, the
     * shear stress on the glue around it when it holds pressure_pa, pressure diameter / (4
     * depth). Either may be NULL. Errors: VUG_ERR_ARGUMENT (both NULL), VUG_ERR_DOMAIN.
     */
    vug_plug(ctx: Pointer, diameter_mm: number, depth_mm: number, pressure_pa: number, volume_mm3: Pointer, shear_pa: Pointer): number;
    /**
     * Pressure of a head of liquid: density g head. Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN.
     */
    vug_head_pressure(ctx: Pointer, fluid: Pointer, head_mm: number, pressure_pa: Pointer): number;
    /**
     * Fills *shell with the defaults given at its members. Errors: VUG_ERR_ARGUMENT.
     */
    vug_shell_init(shell: Pointer, size: number): number;
    /**
     * What a pressure inside does to a shell (Lame's thick shell): *growth, of the cavity,
     * relative, and *stress_pa, the largest tension in the wall, hoop stress at the inner face.
     * Either may be NULL; shell NULL: defaults. Errors: VUG_ERR_ARGUMENT (both NULL),
     * VUG_ERR_DOMAIN.
     */
    vug_shell_under(ctx: Pointer, shell: Pointer, pressure_pa: number, growth: Pointer, stress_pa: Pointer): number;
    /**
     * Fills *sealed with the defaults given at its members. Errors: VUG_ERR_ARGUMENT.
     */
    vug_sealed_init(sealed: Pointer, size: number): number;
    /**
     * Pressure above the outside in a sealed cavity that warms by warm_k (negative: cools), as
     * bounds over the plastic's expansion: *low_pa for expansion_high, *high_pa for
     * expansion_low. The sign may differ: plastic can outgrow the liquid. Never below the
     * vapour's pressure: there the liquid parts. Water stays between 0 and 100 C; for frost see
     * vug_ice_air(). A warm sealed part under pressure can burst or leak: leave air, or a vent.
     * Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN.
     */
    vug_sealed_pressure(ctx: Pointer, shell: Pointer, sealed: Pointer, warm_k: number, low_pa: Pointer, high_pa: Pointer): number;
    /**
     * Share of the cavity to leave as air so that warming by warm_k stays below allowed_pa, at
     * either bound. sealed->air_fraction is ignored. Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN.
     */
    vug_sealed_air(ctx: Pointer, shell: Pointer, sealed: Pointer, warm_k: number, allowed_pa: number, air_fraction: Pointer): number;
    /**
     * Share of the cavity to leave as air so that freezing stays below allowed_pa, a pressure
     * that the part bears: filled at filled_at_c (0..100) with a liquid that is water for
     * water_fraction (0..1) of it, frozen and cooled to coldest_c (-60..0). Ice is 916.7 kg/m3
     * at 0 C; the shell shrinks by its expansion_high and does not give; the air that is left
     * follows Boyle and Gay-Lussac, without the vapour that leaves it. Errors: VUG_ERR_ARGUMENT,
     * VUG_ERR_DOMAIN.
     */
    vug_ice_air(ctx: Pointer, shell: Pointer, water_fraction: number, filled_at_c: number, coldest_c: number, allowed_pa: number, air_fraction: Pointer): number;
    /**
     * Fills with paint of a solids share by volume, each dried before the next, until at most
     * void_fraction of the cavity is empty: each leaves 1 - solids of what it filled. Errors:
     * VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN.
     */
    vug_drying_fills(ctx: Pointer, solids_fraction: number, void_fraction: number, fills: Pointer): number;
    /**
     * Time for water to leave a cavity through one open hole by diffusion of vapour through the
     * air in it (Stefan; ends like those of a plate's hole): top up after it. temperature_c
     * 0..60, humidity of the room 0..0.99. The liquid is taken to stand at the inner end of the
     * hole, so it is a lower bound. Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN.
     */
    vug_drying_time(ctx: Pointer, water_mm3: number, hole_diameter_mm: number, hole_length_mm: number, temperature_c: number, humidity: number, time_s: Pointer): number;
    /**
     * Cured depth for a dose on the surface: penetration ln(dose / critical) (Jacobs 1992), 0
     * below the critical dose. penetration_mm is that of the curing light. Published values
     * scatter by 7 times (penetration) and 70 times (critical dose): give ranges. Errors:
     * VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN.
     */
    vug_cure_depth(ctx: Pointer, penetration_mm: number, critical_mj_cm2: number, dose_mj_cm2: Pointer, count: number, depth_mm: Pointer): number;
    /**
     * Dose on the surface that cures to a depth: critical exp(depth / penetration). Errors:
     * VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN.
     */
    vug_cure_dose(ctx: Pointer, penetration_mm: number, critical_mj_cm2: number, depth_mm: Pointer, count: number, dose_mj_cm2: Pointer): number;
    /**
     * The working curve from count (2 or more) measured doses and cured depths, by least squares
     * of depth on ln(dose). Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN (doses all alike, or depths
     * that fall with the dose).
     */
    vug_cure_fit(ctx: Pointer, dose_mj_cm2: Pointer, depth_mm: Pointer, count: number, penetration_mm: Pointer, critical_mj_cm2: Pointer): number;
    /**
     * Fills *inside with the defaults given at its members. Errors: VUG_ERR_ARGUMENT.
     */
    vug_cure_inside_init(inside: Pointer, size: number): number;
    /**
     * Shares of the lamp's light that come through the wall (Beer-Lambert) and, from a lamp all
     * around, through the opening (view factor r^2 / (r^2 + distance^2)), and the exposure the
     * inside needs by both. UV hurts eyes and skin: closed lamp. What stays wet inside keeps
     * irritating. Any result may be NULL. Errors: VUG_ERR_ARGUMENT (all NULL), VUG_ERR_DOMAIN.
     */
    vug_cure_through(ctx: Pointer, inside: Pointer, wall_share: Pointer, opening_share: Pointer, time_s: Pointer): number;
    /**
     * Share of visible light a wall lets through: Beer-Lambert, exp(-attenuation thickness),
     * less the reflection at its two faces ((n-1)/(n+1))^2 each (Fresnel); refractive_index 1
     * leaves that out. The attenuation is that of visible light, not the curing light's. Errors:
     * VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN.
     */
    vug_wall_transmission(ctx: Pointer, attenuation_per_mm: number, refractive_index: number, thickness_mm: Pointer, count: number, share: Pointer): number;
    /**
     * Reflectance of a film over a background (0 black .. 1 white): Kubelka and Munk with
     * absorption K and scattering S per mm. Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN.
     */
    vug_film_reflectance(ctx: Pointer, absorption_per_mm: number, scattering_per_mm: number, background: number, thickness_mm: Pointer, count: number, reflectance: Pointer): number;
    /**
     * Transmittance of a film: Kubelka and Munk. Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN.
     */
    vug_film_transmittance(ctx: Pointer, absorption_per_mm: number, scattering_per_mm: number, thickness_mm: Pointer, count: number, transmittance: Pointer): number;
    /**
     * Contrast ratio of a film: its reflectance over black (0) by that over white (0.8); it
     * hides at 0.98 (ISO 6504). Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN (a film that does not
     * scatter has none).
     */
    vug_film_contrast(ctx: Pointer, absorption_per_mm: number, scattering_per_mm: number, thickness_mm: Pointer, count: number, contrast_ratio: Pointer): number;
    /**
     * Dry film that hides: contrast ratio as asked (0.98). Errors: VUG_ERR_ARGUMENT,
     * VUG_ERR_DOMAIN.
     */
    vug_film_hiding(ctx: Pointer, absorption_per_mm: number, scattering_per_mm: number, contrast_ratio: number, thickness_mm: Pointer): number;
    /**
     * Dry film that lets through no more than a share of light from behind: the measure for dark
     * paint and backlight. Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN.
     */
    vug_film_blocking(ctx: Pointer, absorption_per_mm: number, scattering_per_mm: number, transmittance: number, thickness_mm: Pointer): number;
    /**
     * Fills *relief with the defaults given at its members. Errors: VUG_ERR_ARGUMENT.
     */
    vug_relief_init(relief: Pointer, size: number): number;
    /**
     * Contrast (lightest - darkest) / (lightest + darkest) of a relief whose skin is skin_mm
     * thick in the middle (at least half the height): reflectance of the skin over the core
     * (Kubelka and Munk) at crest and hollow, blurred by scattering as a wave of that width is
     * through the skin, q t / sinh(q t), q = 2 pi / width (diffusion without loss). An estimate:
     * print a step wedge. relief NULL: defaults. Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN.
     */
    vug_relief_contrast(ctx: Pointer, relief: Pointer, skin_mm: Pointer, count: number, contrast: Pointer): number;
    /**
     * Thickest skin through which the relief still reads, contrast at the threshold. Errors:
     * VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN, VUG_ERR_NOT_FOUND (not even the thinnest skin shows it).
     */
    vug_relief_skin(ctx: Pointer, relief: Pointer, skin_mm: Pointer): number;
    /**
     * Paint to coat the wall of a cavity to a dry film, in coats of wet_coat_mm (what hangs
     * without running: yield stress / (density g) on a standing wall, or vug_film_hang()).
     * Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN.
     */
    vug_coat_plan(ctx: Pointer, area_mm2: number, volume_mm3: number, dry_film_mm: number, solids_fraction: number, wet_coat_mm: number, coat: Pointer): number;
    /**
     * Film that stays on a wall of a slope (90: standing): yield stress / (density g sin), and
     * for a plain liquid what has not yet run off after_s down height_mm, sqrt(viscosity height
     * / (density g sin time)) (Jeffreys 1930), the larger. Errors: VUG_ERR_ARGUMENT,
     * VUG_ERR_DOMAIN.
     */
    vug_film_hang(ctx: Pointer, fluid: Pointer, slope_deg: number, height_mm: number, after_s: number, film_mm: Pointer): number;
    /**
     * Makes a mesh from flat arrays, which are copied. xyz: vertex_count rows of 3 doubles,
     * xyz_stride bytes from row to row (0: 24). triangles: triangle_count rows of 3 vertex
     * numbers from 0, counter-clockwise seen from outside the solid, triangle_stride bytes from
     * row to row (0: 12). Equal vertices are welded. *out: vug_mesh_free(). Errors:
     * VUG_ERR_ARGUMENT, VUG_ERR_MEMORY, VUG_ERR_MESH (a coordinate that is not finite, a vertex
     * number out of range, no triangle), VUG_ERR_LIMIT.
     */
    vug_mesh_from_arrays(ctx: Pointer, xyz: Pointer, vertex_count: number, xyz_stride: number, triangles: Pointer, triangle_count: number, triangle_stride: number, out: Pointer): number;
    /**
     * Fills *options with the defaults. Errors: VUG_ERR_ARGUMENT.
     */
    vug_mesh_load_options_init(options: Pointer, size: number): number;
    /**
     * Loads a file of any VUG_FORMAT_, told apart by content, else by the name's ending, or read
     * as options say. STL may be binary or text. Nodes, components and build items are put in
     * their places. Small faults (missing endsolid, a wrong triangle count) become warnings on
     * ctx. options may be NULL. *out: vug_mesh_free(). Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY,
     * VUG_ERR_IO, VUG_ERR_FORMAT (message with line or byte), VUG_ERR_MESH, VUG_ERR_LIMIT,
     * VUG_ERR_UNSUPPORTED, VUG_ERR_CANCELLED.
     */
    vug_mesh_load(ctx: Pointer, path: Pointer, options: Pointer, out: Pointer): number;
    /**
     * vug_mesh_load() of a file that is in memory, size bytes at data. name stands for it in
     * messages, and its ending tells the format where neither content nor options do (NULL:
     * "memory"). Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY, VUG_ERR_FORMAT, VUG_ERR_MESH,
     * VUG_ERR_LIMIT, VUG_ERR_UNSUPPORTED, VUG_ERR_CANCELLED.
     */
    vug_mesh_load_memory(ctx: Pointer, data: Pointer, size: number, name: Pointer, options: Pointer, out: Pointer): number;
    /**
     * Saves a mesh as a binary STL, a binary PLY or a 3MF in millimetres (coordinates as 32-bit
     * floats): as format says, or for VUG_FORMAT_AUTO as the path's ending does. It is written
     * under a temporary name beside path and renamed, so path is whole or untouched. rgb: a row
     * of 3 bytes, red, green, blue, for each vertex in order, for a PLY, or NULL for no colours.
     * Triangles with two equal corners, which 3MF forbids, are left out of it. Errors:
     * VUG_ERR_ARGUMENT (no such format), VUG_ERR_IO, VUG_ERR_MEMORY, VUG_ERR_CANCELLED,
     * VUG_ERR_UNSUPPORTED (not written by this library; colours in a format without),
     * VUG_ERR_LIMIT.
     */
    vug_mesh_save(ctx: Pointer, mesh: Pointer, path: Pointer, format: number, rgb: Pointer): number;
    /**
     * Saves several pieces in one 3MF, in millimetres, each an object of its own where it is.
     * names: UTF-8, one for each, or NULL; one of them may be NULL: none. Written as by
     * vug_mesh_save(). Errors: as vug_mesh_save(), and VUG_ERR_ARGUMENT (no piece, or more than
     * VUG_MAX_OPENINGS).
     */
    vug_mesh_save_pieces(ctx: Pointer, pieces: Pointer, names: Pointer, count: number, path: Pointer): number;
    /**
     * Frees a mesh; NULL is allowed.
     */
    vug_mesh_free(mesh: Pointer): void;
    /**
     * Number of vertices after welding; NULL gives 0.
     */
    vug_mesh_vertex_count(mesh: Pointer): number;
    /**
     * Number of triangles; NULL gives 0.
     */
    vug_mesh_triangle_count(mesh: Pointer): number;
    /**
     * Vertices, 3 doubles each, in mm; owned by the mesh. NULL gives NULL.
     */
    vug_mesh_vertices(mesh: Pointer): Pointer;
    /**
     * Vertices as single numbers, for a graphics card: 3 floats each, relative to origin (3
     * doubles; NULL: 0, 0, 0), written to xyz, which has room for all. A float has 24 bits: 1e-6
     * mm at 10 mm from the origin, so take one amid the part. Errors: VUG_ERR_ARGUMENT.
     */
    vug_mesh_vertices_float(mesh: Pointer, origin: Pointer, xyz: Pointer): number;
    /**
     * Triangles, 3 vertex numbers each; owned by the mesh. NULL gives NULL.
     */
    vug_mesh_triangles(mesh: Pointer): Pointer;
    /**
     * Health and measures of the whole mesh. Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY,
     * VUG_ERR_CANCELLED, VUG_ERR_LIMIT.
     */
    vug_mesh_measure(ctx: Pointer, mesh: Pointer, measures: Pointer): number;
    /**
     * Finds the shells. *out: vug_shells_free(). Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY,
     * VUG_ERR_CANCELLED, VUG_ERR_LIMIT.
     */
    vug_mesh_shells(ctx: Pointer, mesh: Pointer, out: Pointer): number;
    /**
     * Frees shells; NULL is allowed.
     */
    vug_shells_free(shells: Pointer): void;
    /**
     * Number of shells; NULL gives 0.
     */
    vug_shells_count(shells: Pointer): number;
    /**
     * Shell number of each triangle, from 0 in order of first triangle; owned by shells.
     */
    vug_shells_of_triangles(shells: Pointer): Pointer;
    /**
     * Shell number index. Errors: VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND.
     */
    vug_shells_get(shells: Pointer, index: number, measures: Pointer): number;
    /**
     * Fills *options with the defaults. Errors: VUG_ERR_ARGUMENT.
     */
    vug_mesh_clean_options_init(options: Pointer, size: number): number;
    /**
     * Makes a repaired copy: triangles of zero area and doubled ones removed, small gaps and
     * T-joints closed, turning made consistent; a shell inside one other is taken for a cavity
     * and turned inward, one inside two outward, and so on. What is sound stays as it is.
     * options may be NULL, report too. The same is told by warnings. *out: vug_mesh_free().
     * Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY, VUG_ERR_MESH (nothing is left), VUG_ERR_LIMIT,
     * VUG_ERR_CANCELLED.
     */
    vug_mesh_clean(ctx: Pointer, mesh: Pointer, options: Pointer, out: Pointer, report: Pointer): number;
    /**
     * Fills *options with the defaults. Errors: VUG_ERR_ARGUMENT.
     */
    vug_cavity_options_init(options: Pointer, size: number): number;
    /**
     * Finds the cavities of a closed part. holes: hole_count rows of 7 doubles, the openings the
     * caller names: a point on the outer skin x, y, z (mm), a direction outward (any length), a
     * diameter (mm). A named hole that is in the mesh (its edge within one diameter of the axis)
     * is taken as it is there, whatever its width; one that is not becomes a planned bore
     * through the wall. Bores in the mesh that run together and leave by one rim are one
     * opening, in the place of the first of them. holes may be NULL with hole_count 0. Openings
     * keep the order in which they are named, within their cavity. The part is shared, not
     * copied: it may be freed. *out: vug_cavities_free(). A part without any cavity gives VUG_OK
     * and a count of 0. Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY, VUG_ERR_MESH (open mesh),
     * VUG_ERR_NOT_FOUND (a named hole leads into no cavity), VUG_ERR_LIMIT, VUG_ERR_UNSUPPORTED,
     * VUG_ERR_CANCELLED.
     */
    vug_cavities_find(ctx: Pointer, mesh: Pointer, holes: Pointer, hole_count: number, options: Pointer, out: Pointer): number;
    /**
     * The same cavities with more bores planned, without looking into the part again: for a host
     * whose user drags a vent about, asked anew from the same cavities for each place. holes:
     * hole_count rows as in vug_cavities_find(); each becomes a planned bore from the skin to
     * the first cavity behind it, the last opening of that cavity, so numbers of the openings of
     * later cavities move up. Volumes grow by those of the bores (with their errors); all else
     * is as in cavities, which stay as they are and may be freed. Figures are those of
     * vug_cavities_find() with the same bores named. *out: vug_cavities_free(). Errors:
     * VUG_ERR_ARGUMENT, VUG_ERR_MEMORY, VUG_ERR_NOT_FOUND (no room: a bore leads into no cavity,
     * or runs into another opening), VUG_ERR_LIMIT, VUG_ERR_CANCELLED.
     */
    vug_cavities_with_bores(ctx: Pointer, cavities: Pointer, holes: Pointer, hole_count: number, out: Pointer): number;
    /**
     * Tells that. Errors: VUG_ERR_ARGUMENT.
     */
    vug_cavities_sight(cavities: Pointer, info: Pointer): number;
    /**
     * Frees cavities; NULL is allowed.
     */
    vug_cavities_free(cavities: Pointer): void;
    /**
     * Number of cavities; NULL gives 0.
     */
    vug_cavities_count(cavities: Pointer): number;
    /**
     * Number of openings of all cavities together; NULL gives 0.
     */
    vug_cavities_opening_count(cavities: Pointer): number;
    /**
     * What people call opening number: A to Z for 0 to 25, then A2 to Z2, A3 and so on; into
     * text (size bytes, always ended; 24 are enough). ctx may be NULL. Errors: VUG_ERR_ARGUMENT.
     */
    vug_opening_letter(ctx: Pointer, number: number, text: Pointer, size: number): number;
    /**
     * Which openings are not exact, by letter, and what is not clear about them, for a person
     * who is to measure before drilling: "Not sure about B and C: ...", one or two sentences; or
     * that a cavity without such an opening is measured on a grid; "" for what is trusted. Of
     * one cavity, or with cavity -1 of all; into text (size bytes, always ended; 400 are
     * enough). Errors: VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND (cavity).
     */
    vug_doubt_words(ctx: Pointer, cavities: Pointer, cavity: number, text: Pointer, size: number): number;
    /**
     * The number of the opening that is called so: "A", "b2", or by its number from 0, up to 6
     * digits. ctx may be NULL. Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN (no such name).
     */
    vug_opening_number(ctx: Pointer, text: Pointer, number: Pointer): number;
    /**
     * Cavity number index. Errors: VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND.
     */
    vug_cavities_get(cavities: Pointer, index: number, info: Pointer): number;
    /**
     * Chamber number index of cavity number cavity: at least one for each cavity that the
     * detection grid resolves, the one with the largest ball first. Errors: VUG_ERR_ARGUMENT,
     * VUG_ERR_NOT_FOUND.
     */
    vug_cavities_chamber(cavities: Pointer, cavity: number, index: number, info: Pointer): number;
    /**
     * Throat number index of cavity number cavity, the widest first. Two chambers may be joined
     * by more than one. Errors: VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND.
     */
    vug_cavities_throat(cavities: Pointer, cavity: number, index: number, info: Pointer): number;
    /**
     * Opening number index. Errors: VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND.
     */
    vug_cavities_opening(cavities: Pointer, index: number, info: Pointer): number;
    /**
     * Outline of opening number index, its rim on the outer skin: *count points of 3 doubles, in
     * mm, counter-clockwise seen from outside; owned by cavities. Errors: VUG_ERR_ARGUMENT,
     * VUG_ERR_NOT_FOUND.
     */
    vug_cavities_opening_outline(cavities: Pointer, index: number, points: Pointer, count: Pointer): number;
    /**
     * The closed mesh that bounds the liquid space of cavity number index (turned outward from
     * the liquid): its wall and caps across the rims of its openings; planned bores are not in
     * it. *tags (may be NULL): for each of its triangles -1 for the wall, or the number of the
     * opening that it caps. Both owned by cavities: do not free. NULL past the end.
     */
    vug_cavities_mesh(cavities: Pointer, index: number, tags: Pointer): Pointer;
    /**
     * Measures the wall at every vertex of the skin, and on triangles larger than spacing_mm at
     * points no farther apart than that (0: 1/64 of the part's diagonal). Thickness is the
     * diameter of the largest ball that touches the skin there from inside and goes no farther
     * than the opposite wall. cavities may be NULL: then both sides of a hollow wall are
     * measured, else the outer one. The mesh is shared, not copied: it may be freed. *out:
     * vug_thickness_free(). Source: shrinking balls, Ma, Bae & Choi 2012, The Visual Computer
     * 28:7-19. Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY, VUG_ERR_LIMIT, VUG_ERR_CANCELLED.
     */
    vug_thickness_measure(ctx: Pointer, mesh: Pointer, cavities: Pointer, spacing_mm: number, out: Pointer): number;
    /**
     * Frees a thickness; NULL is allowed.
     */
    vug_thickness_free(thickness: Pointer): void;
    /**
     * The statistics. Errors: VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND (nothing was measured).
     */
    vug_thickness_get(thickness: Pointer, info: Pointer): number;
    /**
     * Thickness at each vertex of the mesh, in mm; -1 where none was measured, 0 where another
     * wall lies in the same place. Owned by thickness. NULL gives NULL.
     */
    vug_thickness_vertices(thickness: Pointer): Pointer;
    /**
     * Area of skin, in mm2, in each of bins (count of them) equal steps of thickness from lo_mm
     * to hi_mm; what lies outside goes to the first and last. Errors: VUG_ERR_ARGUMENT.
     */
    vug_thickness_histogram(thickness: Pointer, lo_mm: number, hi_mm: number, bins: Pointer, count: number): number;
    /**
     * Thickness of the wall below the point of the skin that is nearest to point (3 doubles).
     * Errors: VUG_ERR_ARGUMENT.
     */
    vug_thickness_at(thickness: Pointer, point: Pointer, thickness_mm: Pointer): number;
    /**
     * Connected spots thinner than below_mm, the thinnest first: rows of 5 doubles, the thinnest
     * point x, y, z and its thickness in mm, and the area of the spot in mm2. *rows is
     * vug_free()d by the caller. Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY.
     */
    vug_thickness_spots(ctx: Pointer, thickness: Pointer, below_mm: number, rows: Pointer, row_count: Pointer): number;
    /**
     * Fills *options with the defaults. Errors: VUG_ERR_ARGUMENT.
     */
    vug_hollow_options_init(options: Pointer, size: number): number;
    /**
     * Hollows a closed mesh: its solid gets an inner surface wall_mm behind the skin, by the
     * distance to the nearest triangle. *out has all vertices and triangles of mesh as they are,
     * in their order, and after them those of the inner surface: closed, turned outward from the
     * solid, without crossings. It has no openings yet. info may be NULL. rows, if not NULL,
     * gets the spots that stayed solid because they are too thin, farther from the cavity than
     * twice the wall, the largest first: rows of 5 doubles, its widest place x, y, z, how wide
     * it is there in mm, and its volume in mm3; those smaller than a cube of the wall, and the
     * base, are left out. *rows is vug_free()d by the caller, *out vug_mesh_free()d. Made to be
     * filled, ceilings of the cavity rise along the way to the outlet, and pockets that hold air
     * are solid, as far as most_wall_mm lets them; gentler, or not at all, where skin would lose
     * the liquid behind it that it had. Bodies that overlap are not made one: walls stand along
     * their skins inside, too. Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY, VUG_ERR_CANCELLED,
     * VUG_ERR_LIMIT, VUG_ERR_MESH (open, inside out, room only where bodies overlap),
     * VUG_ERR_NOT_FOUND (nowhere room for a chamber), VUG_ERR_CONVERGENCE (the grid is too
     * coarse for the shape), VUG_ERR_UNSUPPORTED (simplify_mm, in a build without meshoptimizer,
     * whose own working memory comes from C++'s operator new). Simplified, the surface has some
     * of the vertices it had, where they were; places stay as fine as they were where it would
     * cross itself, or the wall be too thin.
     */
    vug_shape_hollow(ctx: Pointer, mesh: Pointer, options: Pointer, out: Pointer, info: Pointer, rows: Pointer, row_count: Pointer): number;
    /**
     * Fills *options with the defaults. Errors: VUG_ERR_ARGUMENT.
     */
    vug_bore_options_init(options: Pointer, size: number): number;
    /**
     * Cuts round holes exactly on the mesh; where they begin and end is found on the part as
     * given. bores: rows of VUG_BORE_ROW doubles: a point x, y, z on the skin (or before it);
     * the direction that the hole goes in, of any length; the diameter at the skin in mm; the
     * depth in mm on the axis from the skin, with a flat end, or 0: through the wall that is
     * there, or infinity: through all that follows; the full angle in degrees by which it
     * narrows on its way in, 0 to 90; the diameter at the skin of a countersink in mm, 0: none;
     * its full angle in degrees, up to 170, 0: 90. A hole is a polygon of the round section's
     * area, with as many sides (8 to 720) as error_mm asks for. Triangles that no hole touches
     * stay as they are, in their order; new ones come last. If the mesh is closed, oriented and
     * has two triangles at each edge where it is cut, so is the result: that is checked, and a
     * cut that rounding spoils is tried again with the polygon turned a little. cuts, if not
     * NULL: count rows of VUG_BORE_CUT doubles: solid taken away in mm3 that the bores before
     * had left; where the solid begins on the axis and where the hole ends, in mm from the
     * point; number of sides. options may be NULL. *out: vug_mesh_free(). Errors:
     * VUG_ERR_ARGUMENT, VUG_ERR_MEMORY, VUG_ERR_CANCELLED, VUG_ERR_LIMIT, VUG_ERR_DOMAIN (a
     * number out of its range; the message has the bore), VUG_ERR_NOT_FOUND (a bore that misses
     * the part), VUG_ERR_MESH (open or crossing itself at a bore; or nothing is left).
     */
    vug_shape_bore(ctx: Pointer, mesh: Pointer, bores: Pointer, count: number, options: Pointer, cuts: Pointer, out: Pointer): number;
    /**
     * Fills *options with the defaults. Errors: VUG_ERR_ARGUMENT.
     */
    vug_plug_options_init(options: Pointer, size: number): number;
    /**
     * A plug for a hole of vug_shape_bore(): bore is its row. It narrows as the hole does, has a
     * cone for a countersink, and ends after its length. It stands in the hole, the skin being
     * flat across the axis at the row's point, with the clearance all round, the cone's
     * included. options may be NULL. *out: vug_mesh_free(). Errors: VUG_ERR_ARGUMENT,
     * VUG_ERR_MEMORY, VUG_ERR_DOMAIN (a number out of its range, or nothing is left of the
     * plug).
     */
    vug_shape_plug(ctx: Pointer, bore: Pointer, options: Pointer, out: Pointer): number;
    /**
     * Fills *options with the defaults. Errors: VUG_ERR_ARGUMENT.
     */
    vug_guide_options_init(options: Pointer, size: number): number;
    /**
     * A drill guide: a sleeve around the axis of a bore (its row as in vug_shape_bore(); taper
     * and countersink are left out) whose underside fits the skin there, so that a hand drill
     * hits place and angle. It is made where it is used, and comes off along the axis: under it
     * is, at each place, the first solid from its top on, sampled on a grid of a twelfth of the
     * wall. options may be NULL. *out: vug_mesh_free(). Errors: VUG_ERR_ARGUMENT,
     * VUG_ERR_MEMORY, VUG_ERR_CANCELLED, VUG_ERR_DOMAIN (a number out of its range; the drill is
     * too short for a guide of 3 mm), VUG_ERR_NOT_FOUND (the bore misses the part), VUG_ERR_MESH
     * (another part of the surface is in its way).
     */
    vug_shape_guide(ctx: Pointer, mesh: Pointer, bore: Pointer, options: Pointer, out: Pointer): number;
    /**
     * Fills *options with the defaults. Errors: VUG_ERR_ARGUMENT.
     */
    vug_cradle_options_init(options: Pointer, size: number): number;
    /**
     * A cradle that holds a part in a pose: a block with a flat base, less the part swept upward
     * with the clearance, so that it lifts out. up: 3 doubles, any length. openings: rows x, y,
     * z, diameter of those that stay free: a shaft goes through the cradle below each. The base
     * reaches beyond the part on all sides, so wherever the centre of mass of the part is, empty
     * or full, it lies above the base; *stand_mm (may be NULL) is its least distance from the
     * base's edge, for the solid alone, measured on the mesh. It is made where it is used.
     * options may be NULL. *out: vug_mesh_free(). Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY,
     * VUG_ERR_CANCELLED, VUG_ERR_DOMAIN, VUG_ERR_LIMIT, VUG_ERR_MESH (shafts that leave no sound
     * cradle).
     */
    vug_shape_cradle(ctx: Pointer, mesh: Pointer, up: Pointer, openings: Pointer, opening_count: number, options: Pointer, stand_mm: Pointer, out: Pointer): number;
    /**
     * Fills *options with the defaults. Errors: VUG_ERR_ARGUMENT.
     */
    vug_pose_options_init(options: Pointer, size: number): number;
    /**
     * Air trapped when the part is held with up (3 doubles, any length, part coordinates)
     * pointing up and filled without hurry, the openings held closed for liquid but letting air
     * out. An opening is a disc, not a point: air leaves while the highest point of its rim is
     * above the liquid, also where the bore leads down and out and is dry, because a drop shuts
     * it. roles: role_count VUG_ROLE_ numbers, one for each opening in order; NULL with 0: all
     * open. Openings with role sealed pass nothing, all others let air out. *out:
     * vug_pockets_free(); it needs neither cavities nor ctx any more. No capillarity, no
     * compression of the air. Method: Priority-Flood (Barnes, Lehman, Mulla 2014) upside down,
     * over the cavities' own triangles; on vertical columns where a bore is only planned, or
     * walls cross each other. Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY, VUG_ERR_LIMIT,
     * VUG_ERR_NOT_FOUND (no cavity), VUG_ERR_CANCELLED.
     */
    vug_pockets_find(ctx: Pointer, cavities: Pointer, up: Pointer, roles: Pointer, role_count: number, options: Pointer, out: Pointer): number;
    /**
     * The same for each of count poses (ups: rows of 3 doubles) in one call, on all threads of
     * ctx. out: count places, each to be vug_pockets_free()d; all of them or, on failure, none
     * is written. Errors: as vug_pockets_find(), VUG_ERR_ARGUMENT for count 0; the message has
     * the number of the pose.
     */
    vug_pockets_find_poses(ctx: Pointer, cavities: Pointer, ups: Pointer, count: number, roles: Pointer, role_count: number, options: Pointer, out: Pointer): number;
    /**
     * Frees pockets; NULL is allowed.
     */
    vug_pockets_free(pockets: Pointer): void;
    /**
     * Number of pockets, largest first, without those smaller than 4 cubes of the columns'
     * spacing; NULL gives 0.
     */
    vug_pockets_count(pockets: Pointer): number;
    /**
     * Volume of all cavities, planned bores included: those of vug_cavities_get(), to which all
     * volumes by columns are scaled, or the columns' own if they miss more than a tenth of it;
     * NULL gives 0.
     */
    vug_pockets_capacity_mm3(pockets: Pointer): number;
    /**
     * Volume of all trapped air, also of pockets too small to list; NULL gives 0.
     */
    vug_pockets_trapped_mm3(pockets: Pointer): number;
    /**
     * All pockets together, with errors: the true volume lies within the error in at least 19 of
     * 20 cases, as measured on random made parts whose volumes are known exactly. Errors come
     * from their causes: upright walls that stand somewhere between two columns, sills whose
     * level changes from one column to the next, bores whose mouth is not clear, caps over rims
     * that are not plane. Errors: VUG_ERR_ARGUMENT.
     */
    vug_pockets_totals(pockets: Pointer, info: Pointer): number;
    /**
     * Pocket number index. Errors: VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND.
     */
    vug_pockets_get(pockets: Pointer, index: number, info: Pointer): number;
    /**
     * The spans of the cavities' columns that lie in the vertical plane through point (3
     * doubles, part coordinates), for drawing a section. direction (3 doubles, any length; its
     * part along up is ignored) points from the part to the viewer. Rows of 4 doubles, from left
     * to right: distance to the right of point, floor, level of the air and ceiling in mm along
     * up; liquid from floor to level, air from level to ceiling. Each step across takes the
     * nearest column. *rows is vug_free()d by the caller; NULL with *row_count 0 where the plane
     * misses the cavities. Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY.
     */
    vug_pockets_section(ctx: Pointer, pockets: Pointer, point: Pointer, direction: Pointer, rows: Pointer, row_count: Pointer): number;
    /**
     * Pocket number index as a closed mesh that looks outward, in part coordinates: the cavity's
     * own triangles above the liquid, parted at its level, and a flat lid there, so its
     * waterline is as smooth as the wall. What it encloses is volume_mm3, to rounding, where
     * pockets go by the walls (see vug_pockets_find()); where they go by columns, as with
     * planned bores, which are no part of it, within volume_error_mm3, 1 % and 4 cubes of the
     * spacing. Where walls cross each other, so does the mesh. *out: vug_mesh_free(). Errors:
     * VUG_ERR_ARGUMENT, VUG_ERR_MEMORY, VUG_ERR_CANCELLED, VUG_ERR_NOT_FOUND, VUG_ERR_MESH (by
     * columns: the wall does not part so, as where they don't see a narrow way: take more
     * columns).
     */
    vug_pockets_mesh(ctx: Pointer, pockets: Pointer, index: number, out: Pointer): number;
    /**
     * The level of the liquid at each of count points (rows of 3 doubles, part coordinates), for
     * showing where it stands on a wall: levels_mm gets a height along up for each. What lies in
     * a cavity below it is liquid, above it air. It is that of the surface that is nearest
     * through the cavity, so points on both sides of a waterline have one level and the line can
     * be drawn between them. Where no surface is near it is the height of the cavities' top
     * (full) or bottom (air alone). A point more than 3 columns from every cavity gets NaN.
     * count 0 is no error. Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY.
     */
    vug_pockets_levels(ctx: Pointer, pockets: Pointer, points: Pointer, count: number, levels_mm: Pointer): number;
    /**
     * Looks at options->pose_count poses, those of vug_sphere_points(), on all threads of ctx.
     * Roles as in vug_pockets_find(). *out: vug_pose_scan_free(). Errors: VUG_ERR_ARGUMENT,
     * VUG_ERR_MEMORY, VUG_ERR_LIMIT, VUG_ERR_NOT_FOUND (no cavity), VUG_ERR_CANCELLED.
     */
    vug_pose_scan_run(ctx: Pointer, cavities: Pointer, roles: Pointer, role_count: number, options: Pointer, out: Pointer): number;
    /**
     * Frees a scan; NULL is allowed.
     */
    vug_pose_scan_free(scan: Pointer): void;
    /**
     * Number of poses, those of refining last; NULL gives 0.
     */
    vug_pose_scan_count(scan: Pointer): number;
    /**
     * Up vectors, 3 doubles a pose; owned by the scan. NULL gives NULL.
     */
    vug_pose_scan_ups(scan: Pointer): Pointer;
    /**
     * Trapped air of each pose in mm3; owned by the scan. NULL gives NULL.
     */
    vug_pose_scan_trapped_mm3(scan: Pointer): Pointer;
    /**
     * Number of the pose with the least trapped air (the first of equals); 0 for NULL.
     */
    vug_pose_scan_best(scan: Pointer): number;
    /**
     * Pose number index of a scan. Errors: VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND.
     */
    vug_pose_scan_get(scan: Pointer, index: number, info: Pointer): number;
    /**
     * Writes count unit vectors (3 doubles each) spread evenly over the sphere into ups, from +z
     * down to -z: steps of equal area in height, turned by the golden angle (Gonzalez, Math.
     * Geosci. 42, 2010). Errors: VUG_ERR_ARGUMENT (count 0, ups NULL).
     */
    vug_sphere_points(count: number, ups: Pointer): number;
    /**
     * Proposes a vent bore for pocket number index: straight from outside to the pocket's
     * highest point, through one wall only, the shortest way of 400 directions over the sphere
     * less those that lead down from the pocket, straight up first of equals. It knows nothing
     * of looks, supports or edges. cavities are those that the pockets were found in. Errors:
     * VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND (no such pocket, or no straight way in),
     * VUG_ERR_CANCELLED.
     */
    vug_pockets_bore(ctx: Pointer, cavities: Pointer, pockets: Pointer, index: number, info: Pointer): number;
    /**
     * Fills *options with the defaults. Errors: VUG_ERR_ARGUMENT.
     */
    vug_fill_options_init(options: Pointer, size: number): number;
    /**
     * Fills the cavity of an inlet with the part held so that up points up. roles: role_count
     * VUG_ROLE_ numbers, one for each opening in order; NULL with 0: all open. Without hurry:
     * liquid finds its level before more comes; see vug_fill_options. It runs from the inlet
     * down to a basin, rises, spills over sills, pools merge (Barnes, Callaghan, Wickert 2021);
     * air that is cut off from every open opening is trapped (Masson 2016): it shrinks under the
     * liquid over it and grows back by Boyle's law, passes the push of a higher pool on to a
     * lower one, and bubbles away under the edge of its dome when it is pushed down to that.
     * Volumes are scaled so that the whole is the cavity's. A needle reaches through the bore of
     * its opening, so liquid falls from the bore's inner end. Where bores lead so steeply down
     * and out that their rims lie below their inner ends, and no other opening lets air out
     * higher up, air is not counted on to go down past liquid that stands higher: a drop shuts
     * such a bore. Air leaves by it while all liquid inside stands below the top of its rim, as
     * for vug_pockets_find(), and the bore then fills as if the part were dipped. Viscous: the
     * arcs of the cavity's gravity graph become bundles of tubes of their sections, in which the
     * fluid needs a head to flow (Rabinowitsch; yield stress included), and surfaces of one pool
     * may differ in level. Air leaves by the openings against their resistance to air, as in
     * vug_hole_flow(). Throats between chambers resist as vug_throat_info has it: levels and
     * pressures behind slots and tubes are within 15 % of CFD. Other passages are estimated from
     * their sections: expect the head within a factor of 2. Liquid that runs over a sill stands
     * over it by the head of its sheet. Where a chamber without an opening of its own fills or
     * empties through one throat, air and liquid pass each other there, which takes the time
     * that wait_s tells. *out: vug_course_free(). Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY,
     * VUG_ERR_LIMIT, VUG_ERR_DOMAIN (fluid; a rate that would take more than 100 MPa, which no
     * part bears), VUG_ERR_NOT_FOUND (no cavity, or no opening to fill by), VUG_ERR_MESH (cavity
     * finer than the columns), VUG_ERR_CONVERGENCE (flows that do not agree at so fast a rate),
     * VUG_ERR_CANCELLED.
     */
    vug_fill_run(ctx: Pointer, cavities: Pointer, fluid: Pointer, up: Pointer, roles: Pointer, role_count: number, options: Pointer, out: Pointer): number;
    /**
     * The highest steady rate at which nothing spills before the rest is full: the first spill
     * then comes with at least 98 % of the liquid inside that is there when a fill without hurry
     * first spills. options as in vug_fill_run(); its rates and volume are not used. *rate_mm3_s
     * is found within 2 %, from 1e-3 to 1e5 mm3/s: 1e5 means no limit was found below it, 1e-3
     * that it spills at any. A rate that would take more than 100 MPa is above it too. The lip
     * of an inlet that is under liquid before the rest is full is no spill. Errors: as
     * vug_fill_run(), and VUG_ERR_NOT_FOUND when no opening ever spills in this pose.
     */
    vug_fill_rate_limit(ctx: Pointer, cavities: Pointer, fluid: Pointer, up: Pointer, roles: Pointer, role_count: number, options: Pointer, rate_mm3_s: Pointer): number;
    /**
     * Fills *options with the defaults. Errors: VUG_ERR_ARGUMENT.
     */
    vug_drain_options_init(options: Pointer, size: number): number;
    /**
     * Drains a full cavity with the part held so that up points up, through all openings that
     * are not sealed (roles as in vug_fill_run()). What stays behind lies below the lowest lip
     * that it can reach: of a bore that leads up and out that of its rim, so that a drain leaves
     * what a fill of the part upside down does. Air comes in by the highest open opening; as
     * long as that is under liquid the head counts from there (Mariotte). Flow through the
     * others as in vug_hole_flow(), under the head left by the suction that the air needs. A
     * lone opening, or several at one height, gives liquid only in exchange for air: not at all
     * below vug_exchange_diameter() (time_s -1, held 1), above it at vug_exchange_flow() (an
     * estimate, within a factor of 2). The same for openings that are all narrower, while the
     * height between any two is less than the vug_capillary_hold_head() of both together: air
     * breaks in at one as a bubble, liquid breaks out at the other as a drop. The volumes say
     * what is left once air has been helped in. Film on the walls after drip_s: Jeffreys 1930.
     * *out: vug_course_free(). Errors as vug_fill_run().
     */
    vug_drain_run(ctx: Pointer, cavities: Pointer, fluid: Pointer, up: Pointer, roles: Pointer, role_count: number, options: Pointer, out: Pointer): number;
    /**
     * Frees a course; NULL is allowed.
     */
    vug_course_free(course: Pointer): void;
    /**
     * The outcome. Errors: VUG_ERR_ARGUMENT.
     */
    vug_course_get(course: Pointer, summary: Pointer): number;
    /**
     * Number of events, in order of time; NULL gives 0.
     */
    vug_course_event_count(course: Pointer): number;
    /**
     * Event number index. Errors: VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND.
     */
    vug_course_event(course: Pointer, index: number, event: Pointer): number;
    /**
     * The course as a curve: rows of 3 doubles, time in s (-1 once liquid is held: never by
     * itself), liquid inside in mm3, pressure inside at the inlet in Pa (fills; else 0), one for
     * each moment that was worked out. *rows is vug_free()d by the caller. Errors:
     * VUG_ERR_ARGUMENT, VUG_ERR_MEMORY.
     */
    vug_course_curve(ctx: Pointer, course: Pointer, rows: Pointer, row_count: Pointer): number;
    /**
     * The moment at which volume_mm3 of liquid was inside (a drain: for the first time, coming
     * from more), or the end if it never was. *out: vug_moment_free(). Errors: VUG_ERR_ARGUMENT
     * (NaN too), VUG_ERR_MEMORY.
     */
    vug_course_at_volume(ctx: Pointer, course: Pointer, volume_mm3: number, out: Pointer): number;
    /**
     * The moment at a time, or the end after it. Errors as vug_course_at_volume().
     */
    vug_course_at_time(ctx: Pointer, course: Pointer, time_s: number, out: Pointer): number;
    /**
     * Frees a moment; NULL is allowed. It outlives its course.
     */
    vug_moment_free(moment: Pointer): void;
    /**
     * The moment as a whole. Errors: VUG_ERR_ARGUMENT.
     */
    vug_moment_get(moment: Pointer, info: Pointer): number;
    /**
     * Pocket number index, largest first: level_mm is that of its lowest surface. Errors:
     * VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND.
     */
    vug_moment_pocket(moment: Pointer, index: number, info: Pointer): number;
    /**
     * Pool number index, largest first. Errors: VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND.
     */
    vug_moment_pool(moment: Pointer, index: number, info: Pointer): number;
    /**
     * Volume that pool number index would have with its open surfaces at level_mm, as long as
     * none runs over a sill or into another arc of the cavity: surfaces under pockets stay.
     * Errors: VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND, VUG_ERR_DOMAIN (level outside the range over
     * which the pool keeps its shape; the message has it).
     */
    vug_moment_pool_volume(ctx: Pointer, moment: Pointer, index: number, level_mm: number, volume_mm3: Pointer): number;
    /**
     * The inverse: level of the open surfaces at a volume. Errors as vug_moment_pool_volume().
     */
    vug_moment_pool_level(ctx: Pointer, moment: Pointer, index: number, volume_mm3: number, level_mm: Pointer): number;
    /**
     * The spans of the columns in the vertical plane through point (3 doubles, part
     * coordinates), as a viewer sees them to whom direction points from the part (3 doubles; its
     * part along up is ignored), for drawing a section as vug_pockets_section() does: rows of 4
     * doubles, distance in mm to the viewer's right of point, floor, level and ceiling in mm
     * along up; liquid from floor to level, air from level to ceiling. *rows is vug_free()d by
     * the caller. Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY.
     */
    vug_moment_section(ctx: Pointer, moment: Pointer, point: Pointer, direction: Pointer, rows: Pointer, row_count: Pointer): number;
    /**
     * The level of the liquid at each of count points, as vug_pockets_levels() gives it. Errors:
     * VUG_ERR_ARGUMENT, VUG_ERR_MEMORY.
     */
    vug_moment_levels(ctx: Pointer, moment: Pointer, points: Pointer, count: number, levels_mm: Pointer): number;
    /**
     * Extra liquid that goes in when trapped air is squeezed: by the head of the liquid above it
     * (unless the course has taken that into account), and by pressure_pa (gauge, 0 or more) on
     * the pool that the inlet opens into, as a syringe that fits tightly gives. Boyle's law from
     * air_pressure_pa (0: 101325), at which each pocket was closed; when the pressure goes the
     * air grows back and the liquid comes out again. volumes_mm3: volume_count places, of the
     * pockets in order, how small they get (NULL with 0: not wanted). Errors: VUG_ERR_ARGUMENT,
     * VUG_ERR_DOMAIN.
     */
    vug_moment_squeeze(ctx: Pointer, moment: Pointer, fluid: Pointer, pressure_pa: number, air_pressure_pa: number, volumes_mm3: Pointer, volume_count: number, liquid_mm3: Pointer): number;
    /**
     * The free surfaces of the liquid, those under pockets included, as flat meshes that look
     * up: the lids of all pools, see vug_moment_pool_mesh(). *out: vug_mesh_free(). Errors as
     * vug_moment_pool_mesh(), VUG_ERR_NOT_FOUND if there is no surface at this moment.
     */
    vug_moment_surface(ctx: Pointer, moment: Pointer, out: Pointer): number;
    /**
     * Pocket number index as a closed mesh that looks outward, as vug_pockets_mesh() has it.
     * *out: vug_mesh_free(). Errors as vug_pockets_mesh().
     */
    vug_moment_pocket_mesh(ctx: Pointer, moment: Pointer, index: number, out: Pointer): number;
    /**
     * Pool number index as a closed mesh that looks outward: the cavity's own triangles below
     * the liquid's surfaces, parted at their levels, and flat lids there. What it encloses is
     * the pool's volume, within volume_error_mm3, 1 % and 4 cubes of the spacing. Planned bores
     * are no part of it. *out: vug_mesh_free(). Errors as vug_pockets_mesh().
     */
    vug_moment_pool_mesh(ctx: Pointer, moment: Pointer, index: number, out: Pointer): number;
    /**
     * Turns the part with its openings covered and goes on filling. from: a moment of an earlier
     * course, of the same cavity (cavities may have got bores since). Air below a ceiling of the
     * new pose rises along it to a dome, fills that downward and spills over its sill; liquid
     * falls and fills basins upward. The lesser of the two moves, piece by piece, through the
     * other, and what it displaces takes its place, so a leg that is cut off keeps what it
     * holds; volumes stay what they were within 1e-9 of the capacity. Then all openings that are
     * not sealed are freed, surfaces of one pool under the air outside come to one level, and
     * the fill goes on as in vug_fill_run(): air under open openings leaves as liquid is topped
     * up. Seal the openings that stand under liquid: others keep it in, as if covered, and show
     * as spills. roles, options: as in vug_fill_run(), for the openings of that cavity;
     * volume_mm3 is what is added; with neither columns_across nor spacing_mm the columns are as
     * far apart as those of the moment. If all openings are sealed nothing is added, and the
     * course is the part at rest: a slow turn is a series of such calls. Liquid is taken to run
     * and bubbles to rise however narrow the way. *out: vug_course_free(); its start_mm3 is what
     * was inside. Errors: as vug_fill_run(), and VUG_ERR_ARGUMENT for a moment of another
     * cavity.
     */
    vug_fill_turn(ctx: Pointer, cavities: Pointer, fluid: Pointer, from: Pointer, up: Pointer, roles: Pointer, role_count: number, options: Pointer, out: Pointer): number;
    /**
     * A moment that no course came to: so much liquid is in cavity number cavity, the part is
     * held so that up points up, all openings are covered, and all is at rest: what one finds on
     * the bench, to go on from with vug_fill_turn() or vug_drain_options.begin. air: air_count
     * rows x, y, z in part coordinates, where air is seen, on the skin or inside, within 10 mm
     * of the cavity: it rises from there in equal parts, as vug_fill_turn() has it, to domes
     * that it fills and runs over. NULL with 0: as if shaken: the lesser of liquid and air falls
     * or rises from everywhere alike. liquid_mm3: 0 to the cavity's volume, kept within 1e-9 of
     * it. spacing_mm of the columns; 0: as in vug_fill_run(). *out: vug_moment_free(). Errors:
     * VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND (no such cavity, or air that is not near it),
     * VUG_ERR_MESH (cavity finer than the columns), VUG_ERR_LIMIT, VUG_ERR_MEMORY,
     * VUG_ERR_CANCELLED.
     */
    vug_moment_make(ctx: Pointer, cavities: Pointer, cavity: number, up: Pointer, spacing_mm: number, liquid_mm3: number, air: Pointer, air_count: number, out: Pointer): number;
    /**
     * Volume inside a closed mesh below level_mm along up (3 doubles, any length), exactly: sums
     * over the faces by the divergence theorem. For a cavity take vug_cavities_mesh(). A level
     * below or above the whole mesh gives 0 or all. Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY.
     */
    vug_mesh_volume_below(ctx: Pointer, mesh: Pointer, up: Pointer, level_mm: number, volume_mm3: Pointer): number;
    /**
     * The inverse: the level below which the mesh holds volume_mm3, within 1e-12 of its height.
     * Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY, VUG_ERR_DOMAIN (less than 0, or more than the
     * mesh holds).
     */
    vug_mesh_level(ctx: Pointer, mesh: Pointer, up: Pointer, volume_mm3: number, level_mm: Pointer): number;
    /**
     * Fills *options with the defaults. Errors: VUG_ERR_ARGUMENT.
     */
    vug_cup_options_init(options: Pointer, size: number): number;
    /**
     * Finds the cups of a cavity while the part is printed layer by layer, up being the build
     * direction, from the plate to the last layer, and the suction of what is open through the
     * openings that are printed already when each layer is lifted: section times speed through
     * the holes, vug_hole_flow(). resin: NULL: 1100 kg/m3, 0.2 Pa s. roles: sealed openings do
     * not count. *out: vug_cups_free(). Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY,
     * VUG_ERR_DOMAIN, VUG_ERR_LIMIT (layers), VUG_ERR_NOT_FOUND (cavity), VUG_ERR_MESH,
     * VUG_ERR_CANCELLED.
     */
    vug_cups_find(ctx: Pointer, cavities: Pointer, resin: Pointer, up: Pointer, roles: Pointer, role_count: number, options: Pointer, out: Pointer): number;
    /**
     * Frees cups; NULL is allowed.
     */
    vug_cups_free(cups: Pointer): void;
    /**
     * Number of cups, in the order in which they begin to be printed; NULL gives 0.
     */
    vug_cups_count(cups: Pointer): number;
    /**
     * Cup number index. Errors: VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND.
     */
    vug_cups_get(cups: Pointer, index: number, info: Pointer): number;
    /**
     * The layers: rows of 4 doubles, height of the middle of the layer in mm, section of closed
     * cups in mm2, resin held in them in mm3, and the greatest suction in Pa of the pieces that
     * have an opening; owned by cups. *row_count (may be NULL) gets their number. NULL gives
     * NULL.
     */
    vug_cups_layers(cups: Pointer, row_count: Pointer): Pointer;
    /**
     * Fills *options with the defaults. Errors: VUG_ERR_ARGUMENT.
     */
    vug_skin_options_init(options: Pointer, size: number): number;
    /**
     * The skin of all cavities, dry. How visible a place is: over all directions of view the
     * mean of the cosine at which it is seen, straight through its own wall alone, with nothing
     * else of the part in between. It needs neither cavities nor ctx any more. *out:
     * vug_skin_free(). Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY, VUG_ERR_NOT_FOUND (no cavity),
     * VUG_ERR_LIMIT (spacing too fine for the area).
     */
    vug_skin_make(ctx: Pointer, cavities: Pointer, options: Pointer, out: Pointer): number;
    /**
     * Frees a skin; NULL is allowed.
     */
    vug_skin_free(skin: Pointer): void;
    /**
     * Adds a course, the next one in its cavity: of vug_fill_run(), vug_fill_turn() or
     * vug_drain_run(). What the highest level of any of its moments reaches is wetted; its end
     * is what is backed. While the part is turned the liquid is where it was before and where it
     * comes to rest; for what it sweeps between, turn by a few poses on the way. Liquid running
     * down to a basin is not counted. Film: that of a wall of the triangle's slope, 5 degrees at
     * least, so far below the cavity's highest point, after after_s (Jeffreys 1930), or what the
     * yield stress of fluid holds on it, the larger. Walls of a planned bore are not skin.
     * Errors: VUG_ERR_ARGUMENT (a course of another part too), VUG_ERR_DOMAIN (fluid),
     * VUG_ERR_MEMORY.
     */
    vug_skin_wet(ctx: Pointer, skin: Pointer, fluid: Pointer, course: Pointer): number;
    /**
     * What was wetted so far, as a whole. Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY.
     */
    vug_skin_get(ctx: Pointer, skin: Pointer, info: Pointer): number;
    /**
     * The same for each triangle of vug_cavities_mesh() of a cavity, caps included as zeros:
     * rows of 4 doubles, backed, filmed and bare in mm2, and the mean film on what is filmed in
     * mm. *rows is vug_free()d by the caller. Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY,
     * VUG_ERR_NOT_FOUND.
     */
    vug_skin_triangles(ctx: Pointer, skin: Pointer, cavity: number, rows: Pointer, row_count: Pointer): number;
    /**
     * Connected bare spots, the largest first: rows of 5 doubles, its middle x, y, z on the skin
     * in mm, its area in mm2, and how visible it is, 0..1. Pieces of skin that are within two
     * spacings and do not look away from each other are connected. *rows is vug_free()d by the
     * caller; NULL with *row_count 0 if nothing is bare. Errors: VUG_ERR_ARGUMENT,
     * VUG_ERR_MEMORY.
     */
    vug_skin_spots(ctx: Pointer, skin: Pointer, rows: Pointer, row_count: Pointer): number;
    /**
     * Fills *options with the defaults given at its members. Errors: VUG_ERR_ARGUMENT.
     */
    vug_backlit_init(options: Pointer, size: number): number;
    /**
     * Picture of a part against an even light, as it is looked through: parallel lines of sight,
     * one through the middle of each pixel, background exp(-(resin a + liquid b)) with a and b
     * the mm of it in resin and in liquid (Beer-Lambert; exact for the triangles). cavities
     * NULL: none are filled. moment: the liquid of a moment of a fill or drain of one of the
     * cavities, NULL: none; options->filled tells of the others. Planned bores of cavities are
     * open. What bends, is mirrored or scattered at faces and in the resin is left out, so the
     * picture tells what is thick, what is thin and what is behind, not how it glitters. options
     * NULL: defaults. rgba: height rows from the top down, stride bytes apart (0: 4 * width), of
     * width pixels of 4 bytes, the last 255; width and height 1 to VUG_MAX_COLUMNS_ACROSS / 2.
     * Undefined after a failure. Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN, VUG_ERR_LIMIT,
     * VUG_ERR_MESH (no triangles), VUG_ERR_MEMORY, VUG_ERR_CANCELLED.
     */
    vug_backlit_render(ctx: Pointer, mesh: Pointer, cavities: Pointer, moment: Pointer, options: Pointer, width: number, height: number, rgba: Pointer, stride: number): number;
    /**
     * Fills *options with the defaults. Errors: VUG_ERR_ARGUMENT.
     */
    vug_plan_options_init(options: Pointer, size: number): number;
    /**
     * Plans how to fill a part: the pose to fill it in, the shortest sequence of turns that
     * brings the trapped air to an opening, and, where that leaves more than the limit, the
     * fewest vents to drill and where. roles: role_count VUG_ROLE_ numbers, one for each opening
     * in order; NULL with 0: all open. A part with no opening gets its inlet proposed too.
     * fluid: the paint, solvent: the rinsing liquid; NULL: water. * Method: domes of each pose
     * by a sweep over the ceilings of vertical columns; finite bubbles by Fill-Spill-Merge
     * (Barnes, Callaghan, Wickert 2021) upside down; breadth-first search over (pose, air in its
     * domes); bores from the domes of the best poses, by rays through the part. Bubbles come to
     * rest before the next turn. Where they are slow (they need 10 s and more across the cavity)
     * a turn, made in a second or two, leaves them where they are; else they move while the part
     * is turned, which is taken in steps of 30 degrees. For each alternative it is then decided
     * what is opened, covered and injected in each step, and these steps are the input of
     * vug_fill_run() and vug_fill_turn() on the part with its bores, on finer columns: all
     * figures of the steps come from there. An opening in which paint shows is covered from the
     * start where that keeps no more than 0.02 % of the cavity in; one that stands under paint
     * always is. Less than 50 mm3, or 0.5 % of a smaller cavity, is not injected before the last
     * step. Throats that hold bubbles back are not known to the simulation: so much less is
     * injected there as the search's bubbles leave. Waits come from those bubbles too. Draining
     * has poses of its own, in which raw resin and the rinsing liquid run out, with all open
     * that are there before curing, by vug_drain_run() for the solvent; see
     * vug_plan_info.in_model. * From where you are: with options.start_given the cavity of the
     * inlet that roles name, or the only one that an opening leads to, has start_liquid_mm3 in
     * it already, and the plan is the shortest way on. Others stay as they are. Step 0 of
     * filling is what has been done (vug_plan_info.given): a fill by feed[0] with that volume,
     * in the pose start_up (up to 2 % of the cavity more than a fill takes is what it takes);
     * or, where start_air says where air is, or no fill in that pose takes as much, with no
     * feed: then it is vug_moment_make() of the same pose, liquid and air. What goes on begins
     * with step 1; none: it is full enough. New bores are made in the filled part, each in the
     * first step that has it in open, after its turn and its wait; in steps before it is in
     * cover. There is no draining then: VUG_PLAN_DRAIN has no steps, and what info tells of
     * washing and curing is 0. * Bores: up to 24 places are found in the domes of the poses with
     * the least air and of those that need the fewest vents. Of every set of them, for sizes
     * with up to 2500 sets, what the best first fill leaves is computed, so the fewest bores
     * without a turn are exact among these places; above that a set is one place more than the
     * best smaller set. The turns of the 3 to 48 most promising sets of each size are searched
     * (info.searched_all: of all). On small parts the plan takes no more bores and turns than
     * brute force over all sets of up to 3 bores and all sequences needs to leave half the
     * limit. * *out: vug_plan_free(). The result does not depend on the number of threads.
     * Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY, VUG_ERR_DOMAIN (fluid), VUG_ERR_LIMIT,
     * VUG_ERR_NOT_FOUND (no cavity, or no place to drill the first opening), VUG_ERR_CANCELLED.
     */
    vug_plan_make(ctx: Pointer, cavities: Pointer, fluid: Pointer, solvent: Pointer, roles: Pointer, role_count: number, options: Pointer, out: Pointer): number;
    /**
     * Frees a plan; NULL is allowed.
     */
    vug_plan_free(plan: Pointer): void;
    /**
     * Number of alternatives, best first, at least 1; NULL gives 0.
     */
    vug_plan_count(plan: Pointer): number;
    /**
     * Alternative number index. Errors: VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND.
     */
    vug_plan_get(plan: Pointer, index: number, info: Pointer): number;
    /**
     * Step number step of alternative index: sequence is VUG_PLAN_FILL, VUG_PLAN_DRAIN or
     * VUG_PLAN_COAT. The steps of a coat, coat_steps of vug_plan_info, the same in all
     * alternatives, are poses with swirl_mm3 in the part, from vug_moment_make() without air in
     * the first pose; the others of their members are 0. Errors: VUG_ERR_ARGUMENT,
     * VUG_ERR_NOT_FOUND.
     */
    vug_plan_step(plan: Pointer, index: number, sequence: number, step: number, result: Pointer): number;
    /**
     * New bore number bore of alternative index. Errors: VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND.
     */
    vug_plan_bore(plan: Pointer, index: number, bore: number, result: Pointer): number;
    /**
     * The part's cavities with the bores of alternative index planned in them, to go on with:
     * openings keep their order, new ones come last in their cavity. Owned by the plan. NULL
     * past the end.
     */
    vug_plan_cavities(plan: Pointer, index: number): Pointer;
    /**
     * Whether caution (VUG_CAUTION_) applies to alternative index: 1 or 0.
     */
    vug_plan_caution(plan: Pointer, index: number, caution: number): number;
    /**
     * One or two English sentences for a caution, or NULL for a number that is none. They defer
     * to the data sheets and local rules. A constant; do not free.
     */
    vug_caution_text(caution: number): Pointer;
    /**
     * Alternative number index in plain words, for the bench, in the order of the work: what the
     * part is like, what to have ready, holes for the model, washing, curing, holes to drill,
     * filling, sealing, showing, what to watch out for; UTF-8, in lines of width characters (0:
     * 98; 40 to 10000), each ended by a newline. part, paint and rinse are what these are called
     * in it; NULL: "The part", "paint", "the rinsing liquid". Volumes are told from 0.05 mL,
     * waits from 5 s to a day, angles in steps of 5 degrees; openings by letter, see
     * vug_plan_letter(). *text is vug_free()d by the caller. Errors: VUG_ERR_ARGUMENT,
     * VUG_ERR_NOT_FOUND (index), VUG_ERR_MEMORY.
     */
    vug_plan_text(ctx: Pointer, plan: Pointer, index: number, part: Pointer, paint: Pointer, rinse: Pointer, width: number, text: Pointer): number;
    /**
     * What an opening of vug_plan_cavities() is called by in alternative index, into text (size
     * bytes, always ended; 8 are enough): the part's own openings have the letters that they
     * have without the plan, see vug_opening_letter(), the new ones those after them. Errors:
     * VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND, VUG_ERR_MEMORY.
     */
    vug_plan_letter(ctx: Pointer, plan: Pointer, index: number, opening: number, text: Pointer, size: number): number;
    /**
     * A part of a whole as plans tell it, into text (size bytes, always ended; 24 are enough):
     * "0.37 %" below 10, "33 %", "97.8 %" from 90 on, "less than 0.01 %", and no more than
     * "99.99 %" where it is not all. 0 % of a whole of 0. part 0 to 1000 wholes. Errors:
     * VUG_ERR_ARGUMENT.
     */
    vug_percent_words(ctx: Pointer, part: number, whole: number, text: Pointer, size: number): number;
    /**
     * A pose in plain words: which side of the part looks up, and one lean, into text (size
     * bytes, always ended; 320 are enough). The part's +z side is its top, -z its base, +x
     * right, -x left, -y front, +y back; vug_sides_words() tells which these are on the part.
     * The lean goes in steps of 5 degrees, so that one other side rises, or two neighbours
     * alike: up is told by the nearest of the 458 poses that can be said so, which is up itself
     * in a plan; vug_pose_parse() brings it back. With from, the pose it comes from, the turn
     * from the maker's view: which side faces the maker, which way what is up goes, how far, and
     * how the part is held then, which counts; from may be NULL. Errors: VUG_ERR_ARGUMENT.
     */
    vug_pose_words(ctx: Pointer, from: Pointer, up: Pointer, text: Pointer, size: number): number;
    /**
     * The pose that words say: up gets the unit vector, in part coordinates, of the last "its
     * SIDE straight up" or "its SIDE up, leaning N degrees so that its SIDE rises" (or "SIDE and
     * SIDE rise alike") in text, as vug_pose_words() and vug_plan_text() write it, broken into
     * lines or not: the very numbers of the plan. "upright" and "upside down" do where text ends
     * with them. ctx may be NULL. Errors: VUG_ERR_ARGUMENT, VUG_ERR_NOT_FOUND (no pose in text),
     * VUG_ERR_DOMAIN (no lean of the set).
     */
    vug_pose_parse(ctx: Pointer, text: Pointer, up: Pointer): number;
    /**
     * Which side of a part is its top, front and left, in plain words: how far it is from side
     * to side, which way is the longest, and to which side of each pair an opening lies, or the
     * part is heavier; into text (size bytes, always ended; 700 are enough). Openings by letter:
     * vug_opening_letter(). Errors: VUG_ERR_ARGUMENT, VUG_ERR_MEMORY, VUG_ERR_CANCELLED.
     */
    vug_sides_words(ctx: Pointer, cavities: Pointer, text: Pointer, size: number): number;
}

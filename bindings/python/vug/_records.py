# SPDX-License-Identifier: MIT
"""The structs of vug.h as classes. Written by tests/new_call; a test compares it with the
header."""
from __future__ import annotations

from typing import Any, Tuple

from . import _raw
from ._record import Record


class Fluid(Record):
    """A liquid. Stress against shear rate is tau = yield + consistency * rate^index (Herschel
    and Bulkley); index 1 and yield 0 is a plain (Newtonian) liquid whose viscosity is the
    consistency, yield 0 a power law, index 1 with a yield stress a Bingham plastic."""

    _struct = _raw.vug_fluid
    #: 1 .. 30000
    density_kg_m3: float
    #: against air; 0 .. 10
    surface_tension_n_m: float
    #: on the part, through the liquid; 0 (wets) .. 180
    contact_angle_deg: float
    #: 0 .. 1e6
    yield_stress_pa: float
    #: 1e-7 .. 1e7; for index 1 the viscosity in Pa s
    consistency_pa_sn: float
    #: 0.1 .. 2
    flow_index: float


class Supply(Record):
    """What to have on the bench for a volume to fill."""

    _struct = _raw.vug_supply
    #: 1: the count is the same over the syringe's tolerance
    within_range: int
    #: full syringes, the last one part full
    loads: int
    #: if each syringe gives more than it reads
    loads_low: int
    #: if each gives less than it reads
    loads_high: int
    #: what to draw into the last one
    last_load_ml: float
    #: of one full load, ISO 7886-1
    load_tolerance_ml: float
    #: to prepare: volume, loss, dead space of the syringe
    paint_ml: float
    #: paint_ml at the price, in the price's currency
    cost: float


class Needle(Record):
    """A hypodermic needle, regular wall."""

    _struct = _raw.vug_needle
    gauge: int
    outer_mm: float
    #: nominal
    bore_mm: float
    #: ISO 9626 minimum, for the worst case; 0: not known here
    bore_least_mm: float


class Syringe(Record):
    """A plastic syringe."""

    _struct = _raw.vug_syringe
    nominal_ml: float
    #: bore of the barrel; typical, makers differ by 1 % and more
    plunger_mm: float
    #: left in it when pushed home, at most (ISO 7886-1)
    dead_space_ml: float
    #: error of a full load, at most (ISO 7886-1)
    tolerance_ml: float


class Injection(Record):
    """Syringe, needle and what they work against."""

    _struct = _raw.vug_injection
    #: 1.194, 16 gauge
    needle_bore_mm: float
    #: 25
    needle_length_mm: float
    #: 14.48, 10 mL
    plunger_mm: float
    #: of the plunger: 3 (from memory; feel your own)
    friction_n: float
    #: inside the part: 0
    back_pressure_pa: float
    #: 10
    load_ml: float


class Injected(Record):
    """What happens at the syringe."""

    _struct = _raw.vug_injected
    flow_mm3_s: float
    #: in the barrel, above the outside
    pressure_pa: float
    thumb_force_n: float
    #: for one load
    load_time_s: float
    #: mean speed in the needle
    jet_speed_mm_s: float
    #: in the needle
    reynolds: float


class Interval(Record):
    """An answer as a range."""

    _struct = _raw.vug_interval
    #: input that alone moves the answer most; -1: none does
    decides: int
    low: float
    typical: float
    high: float
    #: of high - low that this input gives alone, 0..1
    share: float


class HoleTask(Record):
    """What a hole must do. A condition whose first member is 0 is not asked."""

    _struct = _raw.vug_hole_task
    #: VUG_DRILLS_STOCK
    drills: int
    #: length of the hole: 2
    wall_mm: float
    #: through the hole itself, nozzle pressed on: 0
    inject_mm3_s: float
    #: net of friction: 30
    thumb_force_n: float
    #: 14.48
    plunger_mm: float
    #: outer diameter: 0
    needle_mm: float
    #: of the diameter, left for air: 0.4 (common practice)
    needle_gap_mm: float
    #: air that leaves: 0
    air_mm3_s: float
    #: that may drive it, film of liquid in the hole included: 500
    air_pressure_pa: float
    #: time allowed: 0
    drain_s: float
    #: of the vessel: 1000
    drain_area_mm2: float
    #: level above the outer end of the hole: 50
    drain_from_mm: float
    #: 1
    drain_to_mm: float
    #: 0; 1: free line of contact; 2: pinned on a sharp rim
    exchange: int
    #: 0
    reserved: int
    #: of the cup on the film, while it is printed: 0
    lift_area_mm2: float
    #: 1
    lift_mm_s: float
    #: allowed: 2000, as in vug_cups_find()
    suction_pa: float
    #: head that capillarity must hold while plugging: 0
    hold_head_mm: float
    #: density of the resin that the cup sucks in: 1100, as in vug_cups_find()
    vat_kg_m3: float
    #: its viscosity: 0.2
    vat_pa_s: float


class HoleChoice(Record):
    """The hole to drill."""

    _struct = _raw.vug_hole_choice
    #: VUG_HOLE_ condition; VUG_HOLE_NONE: none asked
    decides: int
    #: the widest of the conditions
    least_mm: float
    #: next drill at or above
    drill_mm: float
    #: drill / least - 1
    margin: float
    #: least diameter of each condition; 0: not asked
    inject_mm: float
    needle_mm: float
    air_mm: float
    drain_mm: float
    exchange_mm: float
    suction_mm: float
    #: widest hole that holds hold_head_mm; 0: none, or not asked
    hold_mm: float
    #: 1: the drill is within hold_mm; 0: cover it while plugging
    holds: int
    reserved: int


class Rinse(Record):
    """Two ways to spend solvent on one cavity."""

    _struct = _raw.vug_rinse
    #: fill, shake, drain to the residue
    soak_cycles: int
    #: solvent that takes
    soak_mm3: float
    #: fraction of the concentration left
    soak_reached: float
    #: fraction that each cycle leaves
    soak_factor: float
    #: solvent run through the full, stirred cavity; first fill too
    flush_mm3: float
    #: what very many very small rinses would take
    least_mm3: float


class Shell(Record):
    """A sealed part, as a round shell of the same size."""

    _struct = _raw.vug_shell
    #: VUG_SHELL_SPHERE
    shape: int
    #: 18
    inner_radius_mm: float
    #: 2
    wall_mm: float
    #: 2e9: cured resin, 1.5e9 to 3e9 (from memory)
    modulus_pa: float
    #: 0.35
    poisson: float
    #: linear: 70e-6 (from memory)
    expansion_low_per_k: float
    #: linear: 110e-6 (from memory)
    expansion_high_per_k: float


class Sealed(Record):
    """What is sealed in."""

    _struct = _raw.vug_sealed
    #: VUG_CONTENT_WATER
    content: int
    #: by volume, of plain content: 2.57e-4
    liquid_expansion_per_k: float
    #: 4.52e-10, water at 25 C
    liquid_compressibility_per_pa: float
    #: of the cavity, when sealed: 0
    air_fraction: float
    #: 20
    sealed_at_c: float


class CureInside(Record):
    """Light that reaches the inside of a part in a curing lamp."""

    _struct = _raw.vug_cure_inside
    reserved: int
    #: on the outside: 10
    lamp_mw_cm2: float
    #: 2
    wall_mm: float
    #: of the cured wall, for the lamp's light: 0.5 (from memory)
    penetration_mm: float
    #: diameter of a hole; 0: none
    opening_mm: float
    #: of the inner spot straight behind the hole: 10
    distance_mm: float
    #: dose the inside needs: 1000 (from memory; data sheet)
    needed_mj_cm2: float


class Relief(Record):
    """A relief on the skin over a core: dark where the skin is thin."""

    _struct = _raw.vug_relief
    reserved: int
    #: from hollow to crest: 0.5
    height_mm: float
    #: from crest to crest: 2
    width_mm: float
    #: of the skin: 0.02 (from memory)
    absorption_per_mm: float
    #: of the skin: 0.5 (from memory)
    scattering_per_mm: float
    #: 0.05, dark paint
    core_reflectance: float
    #: contrast that is seen: 0.02 (common practice)
    threshold: float


class Coat(Record):
    """Coating the inside against filling it."""

    _struct = _raw.vug_coat
    #: to reach the dry film
    coats: int
    #: of all coats together
    wet_mm: float
    #: wet paint on the wall
    coat_paint_mm3: float
    #: wet paint to fill the cavity once
    fill_paint_mm3: float
    #: may be negative in narrow cavities: then fill
    saved_mm3: float


class MeshMeasures(Record):
    """Health and measures of a mesh or of one of its shells."""

    _struct = _raw.vug_mesh_measures
    #: 1: at every edge as many triangles turn one way as the other, so the mesh bounds a volume
    closed: int
    vertices: int
    triangles: int
    #: triangles of zero area (two or three corners alike or in line)
    degenerate: int
    #: edges with one triangle
    edges_open: int
    #: edges with more than two triangles
    edges_nonmanifold: int
    #: edges of two or more triangles whose turnings do not balance
    edges_flipped: int
    #: pieces connected by shared edges
    shells: int
    #: signed, by the divergence theorem; exact for a closed mesh
    volume_mm3: float
    area_mm2: float
    #: of the enclosed solid if closed, else of the surface
    centroid_mm: Tuple[float, float, float]
    #: bounds
    lo_mm: Tuple[float, float, float]
    hi_mm: Tuple[float, float, float]


class MeshLoadOptions(Record):
    """Options of vug_mesh_load()."""

    _struct = _raw.vug_mesh_load_options
    #: VUG_FORMAT_AUTO (default), or the one to read it as
    format: int
    #: 1 (default): warn when the size looks like another unit
    warn_of_size: int
    reserved: int
    #: mm in one unit of the file; 0 (default): what the file or its format says, else 1
    unit_mm: float


class MeshCleanOptions(Record):
    """Options of vug_mesh_clean()."""

    _struct = _raw.vug_mesh_clean_options
    #: 1 (default): weld vertices of open edges, split T-joints
    close_gaps: int
    #: 1 (default): turn triangles as their neighbours, shells by their nesting
    turn: int
    #: how wide a gap may be; 0 (default): 1e-5 of the longest side
    tolerance_mm: float


class MeshCleanReport(Record):
    """What vug_mesh_clean() found and changed."""

    _struct = _raw.vug_mesh_clean_report
    closed_before: int
    closed_after: int
    triangles_before: int
    triangles_after: int
    edges_open_before: int
    edges_open_after: int
    #: triangles of zero area
    degenerate_removed: int
    #: triangles that were there twice
    duplicates_removed: int
    #: vertices of open edges moved onto another
    vertices_welded: int
    #: vertices put into an open edge that they lay on
    joints_split: int
    #: to agree with their neighbours
    triangles_turned: int
    shells: int
    #: solids that pointed inward, cavities that pointed outward
    shells_turned: int
    #: left open
    shells_open: int
    #: cannot be turned consistently; left as they are
    shells_twisted: int
    #: overlap another, as far as samples show; left as they are
    shells_crossing: int
    #: that was used; 0: none
    tolerance_mm: float


class CavityOptions(Record):
    """Options of vug_cavities_find()."""

    _struct = _raw.vug_cavity_options
    #: 1: find openings nobody named (default); 0: named holes and sealed cavities only
    detect: int
    #: detection grid along the longest side; 0 (default): 256, and 384 for a part with passages
    #: or hollows that are about as narrow as a cell of that, if it takes no more than 2^26 cells
    cells_across: int
    #: a hollow counts as a cavity when its largest inscribed ball is this many times as wide as
    #: the way out; 0: 1.5
    min_ratio: float
    #: smaller cavities are left out; 0: a millionth of the volume of the part's bounds
    min_volume_mm3: float


class CavityInfo(Record):
    """One cavity."""

    _struct = _raw.vug_cavity_info
    #: 1: no opening
    sealed: int
    #: 1: measured on the part's own triangles; 0: on a grid
    exact: int
    #: how many; numbers first_opening and up
    openings: int
    first_opening: int
    chambers: int
    throats: int
    #: up to the skin: to the caps across the rims of its openings; planned bores included
    volume_mm3: float
    #: the true volume lies within this of volume_mm3
    volume_error_mm3: float
    #: of its wall, caps left out
    area_mm2: float
    #: of the volume; planned bores left out, as in the bounds
    centroid_mm: Tuple[float, float, float]
    lo_mm: Tuple[float, float, float]
    hi_mm: Tuple[float, float, float]


class OpeningInfo(Record):
    """One opening: where a cavity meets the outside. Its rim is where the wall of its bore meets
    the outer skin, its mouth where that wall ends in the cavity. Air and liquid pass the rim,
    the bore and the mouth, in every call."""

    _struct = _raw.vug_opening_info
    cavity: int
    #: 1: not in the mesh yet, a bore to drill
    planned: int
    #: amid the rim, on the axis of the bore, which is fitted to its wall
    center_mm: Tuple[float, float, float]
    #: unit, outward, of the area that the rim spans
    normal: Tuple[float, float, float]
    #: of the bore: of the circle of equal area, square to its axis
    diameter_mm: float
    #: of the largest circle about the axis inside bore and rim
    inscribed_diameter_mm: float
    #: of the rim itself: more than the bore's where it meets the skin at a slant
    area_mm2: float
    #: of the rim itself
    perimeter_mm: float
    #: from rim to mouth, along the axis
    bore_length_mm: float
    #: amid the mouth, on the axis
    inner_mm: Tuple[float, float, float]


class ChamberInfo(Record):
    """A chamber: a wide region of a cavity."""

    _struct = _raw.vug_chamber_info
    #: of its largest inscribed ball
    center_mm: Tuple[float, float, float]
    #: of that ball
    radius_mm: float
    #: up to its throats, counted on the detection grid
    volume_mm3: float


class ThroatInfo(Record):
    """A throat: the narrowest section between two chambers."""

    _struct = _raw.vug_throat_info
    #: chambers of the same cavity
    chamber_a: int
    chamber_b: int
    center_mm: Tuple[float, float, float]
    #: unit, from chamber a to chamber b
    direction: Tuple[float, float, float]
    #: of the largest ball that passes
    radius_mm: float
    #: pressure over viscosity and flow, 1/mm3: a flow of 1 mm3/s of 1 Pa s takes so many Pa from
    #: chamber to chamber; 0: not known
    resistance_mm3: float


class SightInfo(Record):
    """How finely vug_cavities_find() looked for openings and open cavities that nobody named.
    Sealed cavities, and openings whose wall is in the mesh as a ring of triangles, are found
    below these too."""

    _struct = _raw.vug_sight_info
    #: along the part's longest side; 0: detection was off
    cells_across: int
    cell_mm: float
    #: an opening narrower than this may have been missed: four cells
    window_mm: float
    #: an open cavity whose largest ball is narrower than this may have been missed, as may one
    #: less than min_ratio times as wide as its way out: (6 + sqrt 3) cells, 3 from any cell's
    #: middle to the wall's cells wherever the ball lies among them
    hollow_mm: float


class ThicknessInfo(Record):
    """Statistics of the thickness, by area."""

    _struct = _raw.vug_thickness_info
    #: points measured
    samples: int
    #: that they stand for
    area_mm2: float
    #: least thickness
    min_mm: float
    #: and where
    min_at_mm: Tuple[float, float, float]
    #: thinner on 1 percent of the area
    p1_mm: float
    #: thinner on 5 percent of the area
    p5_mm: float
    #: median
    p50_mm: float
    max_mm: float
    #: area of skin on which another wall lies, back to back: bodies that touch, or a cavity
    #: without a wall; left out of all thicknesses above
    coincident_mm2: float
    #: a point of it
    coincident_at_mm: Tuple[float, float, float]


class PoseOptions(Record):
    """Options of the calls that look at poses."""

    _struct = _raw.vug_pose_options
    #: columns along the longest side of the cavities' bounds, 8 to half of
    #: VUG_MAX_COLUMNS_ACROSS; 0: 280, or 200 in a scan
    columns_across: int
    #: spacing of the columns instead, if above 0
    spacing_mm: float
    #: poses of a scan, at most 10 million; 0: 1000
    pose_count: int
    #: scan: 1: residue and standing too, at half more time; 0
    criteria: int
    #: scan: further poses are put around the best, closer and closer down to this angle, 0.1 to
    #: 30; 0: none
    refine_deg: float


class PocketInfo(Record):
    """One pocket."""

    _struct = _raw.vug_pocket_info
    cavity: int
    #: 1: no opening is open for its air, and no liquid gets in
    sealed: int
    volume_mm3: float
    #: its highest point, in part coordinates: of a column's top
    top_mm: Tuple[float, float, float]
    #: height along up of the liquid below it; sealed: its lowest point
    level_mm: float
    #: of the liquid's surface below it; sealed: 0
    area_mm2: float


class PoseInfo(Record):
    """What holding a part in a pose comes to."""

    _struct = _raw.vug_pose_info
    #: 1: residue_mm3 and stand_mm are known
    criteria: int
    up: Tuple[float, float, float]
    #: air that stays after filling
    trapped_mm3: float
    #: liquid that stays after draining, all openings open; else 0
    residue_mm3: float
    #: heights along up of the lips of the openings that are not sealed;
    lowest_lip_mm: float
    #: 0 if there are none
    highest_lip_mm: float
    #: openings, rising, with their lip below the highest: cover them to fill up; NULL if there
    #: are none; valid as long as the scan
    cover: Any
    cover_count: int
    #: distance of the centre of mass from the edge of what the part stands on; negative: it
    #: falls over; else 0
    stand_mm: float


class BoreInfo(Record):
    """A bore proposed for a pocket: where the drill goes in, and how."""

    _struct = _raw.vug_bore_info
    pocket: int
    #: on the outer skin
    point_mm: Tuple[float, float, float]
    #: unit, the way the drill goes: inward
    direction: Tuple[float, float, float]
    #: through the wall, skin to pocket
    depth_mm: float


class FillOptions(Record):
    """Options of vug_fill_run()."""

    _struct = _raw.vug_fill_options
    #: VUG_ENTRY_; default injected
    entry: int
    #: number of an opening; -1 (default): the first with role inlet, else the first that is not
    #: sealed
    inlet: int
    #: 1: the syringe fits tightly, no air leaves by the inlet
    inlet_sealed: int
    #: 1: end at the first spill; 0: the opening gets covered for liquid, air still leaves until
    #: its whole rim is under, and the fill goes on
    stop_at_spill: int
    #: columns along the longest side of the cavity; 0: by its width too, as many as 280 x 280
    #: over its two longest sides
    columns_across: int
    #: spacing of the columns instead, if above 0
    spacing_mm: float
    #: liquid at hand; 0: as much as goes in
    volume_mm3: float
    #: steady rate, for the times; 0: times are 0
    rate_mm3_s: float
    #: 1: liquid needs a head to move; it takes a rate, a table or a pressure
    viscous: int
    #: 1: viscous: once the liquid at hand is in, wait until all is level
    settle: int
    #: viscous: rows of 2 doubles, a time in s (rising, from 0) and the rate in mm3/s from then
    #: on, instead of rate_mm3_s; read during the call
    rates: Any
    #: rows of it
    rate_count: int
    #: of the syringe. Viscous: above 0: drives the liquid through the inlet's own bore, less
    #: what stands over it, instead of a rate. Without hurry: up to which it presses on once no
    #: open surface can rise; 0: not at all
    pressure_pa: float
    #: 1: closed air keeps its volume and its place, whatever stands over it
    rigid_air: int
    #: 1: at the end the syringe is taken off: liquid under pressure at the inlet flows back
    #: until none is
    release: int
    #: of the air around; 0: 101325
    air_pressure_pa: float


class CourseInfo(Record):
    """The outcome. Liquid + trapped + empty = capacity."""

    _struct = _raw.vug_course_info
    #: VUG_END_
    end: int
    cavity: int
    #: fill: number of the inlet; drain: -1
    inlet: int
    #: -1: nothing spilled
    first_spill_opening: int
    #: 1: liquid needs help to pass: poured through, or drained by, a lone opening narrower than
    #: the exchange diameter
    held: int
    #: at the end
    pockets: int
    pools: int
    capacity_mm3: float
    #: inside at the end: filled, or left behind
    liquid_mm3: float
    #: air without an open opening to leave by
    trapped_mm3: float
    #: air with one: room never reached, or drained
    empty_mm3: float
    #: liquid inside when it first spilled; -1: never
    first_spill_mm3: float
    #: and the time; -1: never
    first_spill_s: float
    #: until the end; fill without a rate: 0; -1: never by itself
    time_s: float
    #: of the columns
    spacing_mm: float
    #: drain: mean thickness of the film on the walls
    film_mm: float
    #: drain: and its volume, not in liquid_mm3
    film_mm3: float
    #: viscous, settle: time at which all was level within 0.05 mm; -1: not asked for, or it
    #: never is
    settled_s: float
    #: viscous, settle: difference of level that is left
    slope_mm: float
    #: viscous: greatest difference of level within one pool on the way. A fill without hurry is
    #: good to trust while this is small against the sills and rims that matter
    lag_mm: float
    #: greatest pressure inside at the inlet
    peak_pressure_pa: float
    #: release: liquid that flowed back through the inlet
    returned_mm3: float
    #: liquid inside at first: above 0 after vug_fill_turn()
    start_mm3: float
    #: viscous: greatest height over a sill of the liquid that runs over it
    sill_head_mm: float


class EventInfo(Record):
    """One event."""

    _struct = _raw.vug_event_info
    #: VUG_EVENT_
    kind: int
    #: number of the opening that it happens at, or -1
    opening: int
    #: inside at that moment
    liquid_mm3: float
    time_s: float
    #: of the surface that it happens at
    level_mm: float
    #: of the pocket, 0 for other kinds
    volume_mm3: float
    #: where: lowest place of a basin, sill, highest place of a pocket, opening
    point_mm: Tuple[float, float, float]


class DrainOptions(Record):
    """Options of vug_drain_run()."""

    _struct = _raw.vug_drain_options
    #: number of the cavity; -1 (default): that of the first open opening
    cavity: int
    #: columns along the longest side of the cavity; 0: by its width too, as many as 280 x 280
    #: over its two longest sides
    columns_across: int
    #: spacing of the columns instead, if above 0
    spacing_mm: float
    #: how long the walls drip after the flow has ended; 0: 60 s
    drip_s: float


class MomentInfo(Record):
    """A moment, as a whole."""

    _struct = _raw.vug_moment_info
    pockets: int
    pools: int
    #: -1: a drain does not come here by itself
    time_s: float
    liquid_mm3: float
    trapped_mm3: float
    empty_mm3: float


class PoolInfo(Record):
    """A pool: connected liquid."""

    _struct = _raw.vug_pool_info
    #: free surfaces, those under pockets included
    surfaces: int
    volume_mm3: float
    #: of its highest surface
    level_mm: float
    #: its lowest point, part coordinates
    bottom_mm: Tuple[float, float, float]
    #: of its surfaces
    area_mm2: float


class CupOptions(Record):
    """Options of vug_cups_find()."""

    _struct = _raw.vug_cup_options
    #: number of the cavity; default 0
    cavity: int
    #: columns along the longest side of the cavity; 0: by its width too, as many as 280 x 280
    #: over its two longest sides
    columns_across: int
    #: spacing of the columns instead, if above 0
    spacing_mm: float
    #: height of a layer; 0: 0.05
    layer_mm: float
    #: speed at which the part is lifted off the film; 0: 1
    lift_mm_s: float
    #: suction that the film may bear, for the relief; 0: 2000
    suction_pa: float
    #: wall that the relief is drilled through; 0: 2
    wall_mm: float


class CupInfo(Record):
    """A cup: a stretch of layers in which a piece of the cavity is open to nothing but the
    film."""

    _struct = _raw.vug_cup_info
    cavity: int
    #: where it begins, along the build direction
    lo_mm: float
    #: its last layer: then an opening is printed, it joins another, or it closes
    hi_mm: float
    #: largest section against the film
    area_mm2: float
    #: held at its last layer
    resin_mm3: float
    #: diameter of a hole that would keep the suction at the limit
    relief_mm: float
    #: where it begins: a hole near there relieves all of it
    point_mm: Tuple[float, float, float]


class Backlit(Record):
    """The part against the light: how vug_backlit_render() looks at it. Colours are red, green,
    blue."""

    _struct = _raw.vug_backlit
    #: 1: cavities that no moment is given of are full; 0: they are empty
    filled: int
    #: direction from the part to the viewer, part coordinates, any length: 0, -1, 0, the front
    toward: Tuple[float, float, float]
    #: what is up in the picture, not along toward: 0, 0, 1
    up: Tuple[float, float, float]
    #: mm of a pixel; 0: the part fits, with a twentieth around it
    scale_mm: float
    #: attenuation, 0 to 1e4: 0.10, 0.12, 0.18 (from memory; it differs by ten from resin to
    #: resin: measure a step wedge)
    resin_per_mm: Tuple[float, float, float]
    #: 20, 20, 20: dark paint (common practice: opaque at 0.3 mm)
    liquid_per_mm: Tuple[float, float, float]
    #: share of white of the light behind, 0 to 1: 1, 1, 1
    background: Tuple[float, float, float]
    #: 1: bytes are 255 times the share of white; 0: by the curve of sRGB, as screens and image
    #: files want them
    linear: int
    reserved: int


class PlanOptions(Record):
    """Options of vug_plan_make()."""

    _struct = _raw.vug_plan_options
    #: columns along the longest side in the search; 0: 110
    columns_across: int
    #: and in the simulations; 0: 280
    verify_across: int
    #: poses to search among; 0: 96; at most 1000
    pose_count: int
    #: after the first pose; default 4, at most VUG_MAX_TURNS
    max_turns: int
    #: new bores; default 3, at most VUG_MAX_BORES
    max_bores: int
    #: 1: fill in the pose first_up
    pose_given: int
    #: VUG_DRILLS_STOCK
    drills: int
    first_up: Tuple[float, float, float]
    #: share of the cavity that may stay air: 0.005
    limit: float
    #: weights of the choice among alternatives: 1
    turn_cost: float
    #: 3
    bore_cost: float
    #: for each percent of the cavity, taken halfway between trapped_mm3 and tilted_mm3: 1
    air_cost: float
    #: diameter of new bores; 0: chosen by fluid, wall and drills
    bore_mm: float
    #: 10
    syringe_ml: float
    #: diameter of the drill's chuck: 8
    chuck_mm: float
    #: of the drill in front of the chuck: 20
    reach_mm: float
    #: how exactly the part is held: 5
    tilt_deg: float
    #: directions from which the part is seen, 3 doubles each, pointing from the part to the
    #: viewer; NULL: from all sides and from above, +z up
    view: Any
    view_count: int
    #: no bore here: rows x, y, z, radius
    keep_clear: Any
    keep_clear_count: int
    #: rather here: rows x, y, z, radius
    preferred: Any
    preferred_count: int
    #: of each triangle of the part: 0, 1 keep clear, 2 preferred
    triangle_flags: Any
    #: 0, or the part's number of triangles
    triangle_flag_count: int


class PlanInfo(Record):
    """One alternative as a whole."""

    _struct = _raw.vug_plan_info
    #: 1: no more air stays than options.limit
    within_limit: int
    #: new ones
    bores: int
    #: poses: one more than turns
    steps: int
    cost: float
    capacity_mm3: float
    #: air that stays, by the simulation
    trapped_mm3: float
    #: the worst when every pose is off by options.tilt_deg, by the search's bubbles; at least
    #: trapped_mm3
    tilted_mm3: float
    #: the same when every turn takes its time, so that bubbles move on the way
    slowly_mm3: float
    #: what the search had estimated
    searched_mm3: float
    #: paint in all
    inject_mm3: float
    #: rinsing liquid that stays after draining, by the simulation
    residue_mm3: float
    #: syringes
    loads: int
    last_load_ml: float
    #: to prepare, losses included
    paint_ml: float
    #: throats narrower than this let no bubble pass in this paint: vug_bubble_held()
    throat_limit_mm: float
    #: the narrowest of those; 0: there is none
    throat_mm: float
    #: how many there are in the part
    throats: int
    #: 1: the turns of every set of bores among the places found were searched; 0: of the most
    #: promising sets of each size
    searched_all: int


class StepInfo(Record):
    """One step: turn the part, cover, inject, wait. cover and vent are numbers of openings of
    vug_plan_cavities(), rising, NULL if there are none; they are the plan's and valid as long as
    it."""

    _struct = _raw.vug_step_info
    #: opening to inject by; -1: nothing goes in here
    inlet: int
    #: openings that lie under liquid: cover them before the turn
    cover: Any
    cover_count: int
    #: openings by which air leaves (draining: by which liquid leaves)
    vent: Any
    vent_count: int
    #: unit, part coordinates
    up: Tuple[float, float, float]
    #: about which the part is turned to come here, part coordinates, right-handed; zero in the
    #: first step
    axis: Tuple[float, float, float]
    #: 0 in the first step
    angle_deg: float
    #: into all cavities, each by its own opening: see feed; draining: liquid that runs out
    inject_mm3: float
    #: air (draining: liquid) that is left after it
    trapped_mm3: float
    #: for the bubbles (draining: half as long again as the liquid takes, 5 s at least); 0 in a
    #: first fill, -1: they do not move by themselves
    wait_s: float
    #: the part stands on a table in this pose: distance of its centre of mass from the edge of
    #: its footing; negative: it falls over
    stand_mm: float
    #: first fill: highest steady rate at which nothing spills before the rest is full, as
    #: vug_fill_rate_limit() has it, on 60 columns across, for a plain liquid as thick as the
    #: paint at 10 / s, and with the openings of cover covered as soon as paint shows; 0: there
    #: is no such rate up to 1e5, or another step
    rate_mm3_s: float
    #: filling: openings to inject by, one for each cavity that takes paint, what takes most
    #: first: inlet, if there is any
    feed: Any
    #: how much by each: inject_mm3 in all. The plan's, as vent is
    feed_mm3: Any
    feed_count: int


class PlanBoreInfo(Record):
    """One new bore."""

    _struct = _raw.vug_plan_bore_info
    #: its number in vug_plan_cavities()
    opening: int
    #: on the outer skin
    point_mm: Tuple[float, float, float]
    #: unit, the way the drill goes: inward
    direction: Tuple[float, float, float]
    #: through the wall
    depth_mm: float
    #: recommended
    diameter_mm: float
    #: smallest drill that does
    least_mm: float
    #: between drill and the skin's normal
    slant_deg: float
    #: distance along the skin to where it bends by more than 45 degrees; looked for up to 4
    #: diameters
    edge_mm: float
    #: wall around the bore, within 2 diameters
    thinnest_mm: float
    #: share of the viewing directions that see it, by how squarely: 0..1
    visibility: float
    #: 1: in a preferred region
    preferred: int
    #: 1: the chuck gets there
    chuck_clear: int


__all__ = ["Fluid", "Supply", "Needle", "Syringe", "Injection", "Injected",
           "Interval", "HoleTask", "HoleChoice", "Rinse", "Shell", "Sealed", "CureInside",
           "Relief", "Coat", "MeshMeasures", "MeshLoadOptions", "MeshCleanOptions",
           "MeshCleanReport", "CavityOptions", "CavityInfo", "OpeningInfo", "ChamberInfo",
           "ThroatInfo", "SightInfo", "ThicknessInfo", "PoseOptions", "PocketInfo", "PoseInfo",
           "BoreInfo", "FillOptions", "CourseInfo", "EventInfo", "DrainOptions", "MomentInfo",
           "PoolInfo", "CupOptions", "CupInfo", "Backlit", "PlanOptions", "PlanInfo", "StepInfo",
           "PlanBoreInfo"]

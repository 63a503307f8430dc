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
    #: of its volume, that leaves as it dries: 0 (it sets or cures, all of it stays) .. 1
    volatile_share: float


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
    #: next drill at or above, and at or above 1.15 exchange_mm, a limit
    drill_mm: float
    #: drill / least - 1; no hole is to be at the limit of exchange itself
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
    #: 1: exact, and so are all its openings; 0: look at it before drilling by these figures.
    #: What is computed in it carries this flag
    trusted: int


class OpeningInfo(Record):
    """One opening: where a cavity meets the outside. Its rim is where the wall of its bore meets
    the outer skin, its mouth where that wall ends in the cavity. Air and liquid pass the rim,
    the bore and the mouth, in every call."""

    _struct = _raw.vug_opening_info
    cavity: int
    #: 1: not in the mesh yet, a bore to drill
    planned: int
    #: amid the rim, on the axis fitted to the wall; planned: on the skin
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
    #: along the axis, from skin to cavity; of a bent bore from rim to mouth
    bore_length_mm: float
    #: amid the mouth, on the axis
    inner_mm: Tuple[float, float, float]
    #: 1: rim and mouth are edges of the part itself, or those of a planned bore; 0: outlined on
    #: a grid, or the bore is bent or has no clear inner end, and a disc stands for its mouth
    exact: int


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


class HollowOptions(Record):
    """Options of vug_shape_hollow()."""

    _struct = _raw.vug_hollow_options
    #: of the grid along the part's longest side: the inner mesh is as fine. A wall, and half a
    #: throat, need two of them. 0: five, or as many as 320 give, and 120 at least
    cells: int
    #: 2: distance of the inner surface from the nearest point of the outer one
    wall_mm: float
    #: 3: a chamber is opened if a ball so wide fits into it; else it stays solid
    chamber_mm: float
    #: 0: not asked. Else a ball so wide reaches every place of the cavity: narrower channels are
    #: closed, and inner edges are round
    throat_mm: float
    #: 0: no base. Else all is solid up to this height above the lowest point
    base_mm: float
    #: 0, 0, 1: of the base. Any length
    up: Tuple[float, float, float]
    #: 0: not asked. Else made to be filled: so that less air stays while fill_up points up,
    #: ceilings are lowered, but no solid gets farther from the skin than this; wall_mm or more,
    #: and of use if it is some steps more
    most_wall_mm: float
    #: 10: then, ceilings rise by so much towards the outlet where that has room; 0 to 60, 0:
    #: flat is good enough
    slope_deg: float
    #: 0, 0, 1: then, up, as it is filled; or as it is printed, so that ceilings print. Any
    #: length
    fill_up: Tuple[float, float, float]
    #: NAN: then, air leaves each chamber by the middle of its highest place. Else the chamber
    #: nearest to this point has its outlet there
    outlet_mm: Tuple[float, float, float]
    #: 0: the inner surface has triangles as fine as the grid. Else fewer, by which it moves no
    #: more than this
    simplify_mm: float


class HollowInfo(Record):
    """What vug_shape_hollow() made."""

    _struct = _raw.vug_hollow_info
    #: pieces of the cavity that are not connected: each needs openings of its own
    chambers: int
    #: pieces left solid, because no ball of chamber_mm fits in
    too_small: int
    #: pieces left solid, because they lie in two bodies of the mesh at once
    overlaps: int
    #: of the inner surface: the last ones of the mesh
    triangles: int
    #: of the grid
    step_mm: float
    #: of the cavity
    volume_mm3: float
    #: of the inner surface
    area_mm2: float
    #: no point of the inner surface is nearer to the outer one: at least wall_mm less a tenth of
    #: step_mm
    least_wall_mm: float
    #: made to be filled: what ceilings were lowered to, of slope_deg: all, 1/2, 1/4, or 0
    slope_deg: float
    #: solid that this took from the cavity
    added_mm3: float
    #: air that would stay in fill_up with openings at the outlets alone, as columns a step wide
    #: have it, before ceilings were lowered;
    trapped_before_mm3: float
    #: and after
    trapped_mm3: float
    #: skin from which the nearest liquid is farther than most_wall_mm, before;
    bare_before_mm2: float
    #: and after: never more, as cells a step wide have it
    bare_mm2: float
    #: of the inner surface before it was simplified; triangles, if it was not
    triangles_before: int
    #: how far that moved it: the farthest between the two surfaces, as vertices of the finer and
    #: points of the simpler one a step apart have it; at most simplify_mm
    simplify_error_mm: float
    #: ceilings of the inner surface that are flatter than 0.9 slope_deg of the options, in
    #: fill_up: there was no room to lower them; 0 with most_wall_mm 0
    flat_mm2: float


class BoreOptions(Record):
    """Options of vug_shape_bore()."""

    _struct = _raw.vug_bore_options
    reserved: int
    #: how far a side of a hole may lie from the round wall, 1e-6 to 1000; 0.01
    error_mm: float


class PlugOptions(Record):
    """Options of vug_shape_plug()."""

    _struct = _raw.vug_plug_options
    reserved: int
    #: between plug and hole, all round, 0 to 5; 0.1
    clearance_mm: float
    #: of what goes in; 0: the depth in the bore's row, or 3
    length_mm: float
    #: thickness of a head that stays outside, 0: none; 1
    head_mm: float
    #: how far the head reaches over the hole's edge all round; 1
    rim_mm: float
    #: as in vug_bore_options; 0.01
    error_mm: float


class GuideOptions(Record):
    """Options of vug_shape_guide()."""

    _struct = _raw.vug_guide_options
    reserved: int
    #: between guide and skin, 0 to 5; 0.2
    clearance_mm: float
    #: how much wider than the drill its hole is, 0 to 5; 0.2
    play_mm: float
    #: of the sleeve, 1 to 100; 4
    wall_mm: float
    #: how far it reaches down around the skin, from there on the axis; 0: as far as it is wide
    skirt_mm: float
    #: length of drill that is free in front of the chuck: with it the chuck comes to rest on the
    #: guide when the hole is as deep as the row says; 0: no stop
    drill_mm: float
    #: without a stop: above the skin; 12
    height_mm: float


class CradleOptions(Record):
    """Options of vug_shape_cradle()."""

    _struct = _raw.vug_cradle_options
    #: of the grid along the longer side of the base, 16 to 2000; 160
    cells: int
    #: between cradle and part, 0 to 10; 0.3
    clearance_mm: float
    #: how deep the part sits in it; 0: a third of its height
    depth_mm: float
    #: of the base, beyond the part on each side; 5
    margin_mm: float
    #: below the part's lowest point; 3
    floor_mm: float
    #: room around an opening that is kept free; 2
    free_mm: float


class PoseOptions(Record):
    """Options of the calls that look at poses."""

    _struct = _raw.vug_pose_options
    #: N: as many columns as N x N over the two longest sides of the cavities' bounds, 8 to half
    #: of VUG_MAX_COLUMNS_ACROSS; 0: 280, or 200 in a scan
    columns_across: int
    #: spacing of the columns instead, if above 0; no more than a 40th of the longest side
    spacing_mm: float
    #: poses of a scan, at most 10 million; 0: 1000
    pose_count: int
    #: scan: 1: residue and standing too, in up to twice the time; 0
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
    #: its highest point, in part coordinates: a corner of the wall, or a column's top
    top_mm: Tuple[float, float, float]
    #: height along up of the liquid below it; sealed: its lowest point
    level_mm: float
    #: of the liquid's surface below it; sealed: 0
    area_mm2: float
    #: the true volume lies within this of volume_mm3, as a rule: see vug_pockets_totals(). Of a
    #: moment: that of all trapped air at the end of its course
    volume_error_mm3: float


class PocketsInfo(Record):
    """All pockets together."""

    _struct = _raw.vug_pockets_info
    #: 1: all cavities are, see vug_cavity_info
    trusted: int
    capacity_mm3: float
    capacity_error_mm3: float
    #: never more than capacity_mm3
    trapped_mm3: float
    trapped_error_mm3: float


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
    #: see vug_pockets_totals()
    trapped_error_mm3: float
    residue_error_mm3: float
    #: 1: all cavities are, see vug_cavity_info
    trusted: int


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
    #: N: as many columns as N x N over the two longest sides of the cavity; 0: 280
    columns_across: int
    #: spacing of the columns instead, if above 0; no more than a 40th of the cavity's longest
    #: side
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
    #: the ends of the fluid's range, for the waits; NULL: it has none. Read
    fluid_low: Any
    #: during the call
    fluid_high: Any


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
    #: errors by the same rule as those of vug_pockets_totals()
    capacity_error_mm3: float
    #: fill: 0 if it ended for want of liquid, or at a spill
    liquid_error_mm3: float
    trapped_error_mm3: float
    #: 1: the cavity is, see vug_cavity_info
    trusted: int
    #: for air and liquid to pass each other in the narrowest of the throats where they must, not
    #: in time_s: the volume by vug_exchange_flow(); 0: they need not, or it is less than a
    #: second; -1: never by itself
    wait_s: float
    #: at best and at worst over fluid_low to fluid_high, by
    wait_low_s: float
    #: vug_bubble_tube_range(); -1: maybe never
    wait_high_s: float


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
    #: of the pocket, or of the air that has to pass; 0 for other kinds
    volume_mm3: float
    #: where: lowest place of a basin, sill, highest place of a pocket, opening, throat
    point_mm: Tuple[float, float, float]
    #: VUG_EVENT_WAIT: as in vug_course_info; else 0
    wait_s: float
    wait_low_s: float
    wait_high_s: float
    #: of the throat; else 0
    diameter_mm: float


class DrainOptions(Record):
    """Options of vug_drain_run()."""

    _struct = _raw.vug_drain_options
    #: number of the cavity; -1 (default): that of the first open opening
    cavity: int
    #: N: as many columns as N x N over the two longest sides of the cavity; 0: 280
    columns_across: int
    #: spacing of the columns instead, if above 0; no more than a 40th of the cavity's longest
    #: side
    spacing_mm: float
    #: how long the walls drip after the flow has ended; 0: 60 s
    drip_s: float
    #: what is inside at first, of an earlier course in the same cavity: the part is turned with
    #: its openings covered as vug_fill_turn() does it, then they are freed; with neither
    #: columns_across nor spacing_mm the columns are as far apart as those of the moment. NULL:
    #: the cavity is full
    begin: Any


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
    #: at most that of all liquid, or of all trapped air, at the end
    volume_error_mm3: float


class CupOptions(Record):
    """Options of vug_cups_find()."""

    _struct = _raw.vug_cup_options
    #: number of the cavity; default 0
    cavity: int
    #: N: as many columns as N x N over the two longest sides of the cavity; 0: 280
    columns_across: int
    #: spacing of the columns instead, if above 0; no more than a 40th of the cavity's longest
    #: side
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


class SkinOptions(Record):
    """Options of vug_skin_make()."""

    _struct = _raw.vug_skin_options
    reserved: int
    #: a triangle is cut until no edge is longer, and each piece is wet or not by its middle; 0:
    #: 1/100 of the longest side of the cavities' bounds
    spacing_mm: float
    #: liquid so near behind the skin backs it, as a thin layer of air between hardly shows: 0.2
    #: (no source); 0: touching alone
    depth_mm: float
    #: age of the film: 60
    after_s: float
    #: directions from which the part is seen, 3 doubles each, any length, pointing from the part
    #: to the viewer: what is seen more counts more in the shares; read during the call. NULL:
    #: all counts alike
    view: Any
    view_count: int


class SkinInfo(Record):
    """What was wetted, of all cavities to which something was added. backed, filmed, bare and
    unknown make up all."""

    _struct = _raw.vug_skin_info
    #: that were added
    courses: int
    #: of the wall, caps left out: as in vug_cavity_info
    area_mm2: float
    backed_mm2: float
    filmed_mm2: float
    bare_mm2: float
    #: where no column of any course came near: finer than the columns
    unknown_mm2: float
    #: 0..1, by area and how visible it is
    backed_share: float
    filmed_share: float
    bare_share: float
    #: mean thickness of the wet film on what is filmed; 0: there is none
    film_mm: float
    #: area of the largest connected bare spot
    spot_mm2: float
    #: its middle, on the skin
    spot_at_mm: Tuple[float, float, float]


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
    #: in the simulations, as in a fill: N: as many columns as N x N over the two longest sides
    #: of the cavities' bounds; 0: 280
    verify_across: int
    #: poses to search among; 0: 96; at most 1000
    pose_count: int
    #: after the first pose; with start_given steps on from there; default 4, at most
    #: VUG_MAX_TURNS
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
    #: 4
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
    #: the ends of the paint's range, for the waits; NULL: it has none. Read
    fluid_low: Any
    #: during the call
    fluid_high: Any
    #: 1: the part is not printed yet: new holes belong into its model: 0
    design: int
    #: 1: something is in it already: the plan goes on from there, see vug_plan_make()
    start_given: int
    #: how it is held now, all openings covered: the nearest pose that words say
    start_up: Tuple[float, float, float]
    #: what went in, above 0 and no more than the cavity holds
    start_liquid_mm3: float
    #: rows x, y, z: where air is seen, see vug_moment_make(); NULL: where a fill in that pose
    #: leaves it
    start_air: Any
    start_air_count: int
    #: share of the skin that may stay bare, see vug_plan_info.bare_mm2: 1
    bare_limit: float
    #: how often the last turn and the one before may be done again, leaning the part to all
    #: sides each time, for hands that miss the limit as tilt_deg has them, or, where there is no
    #: turn, twice as often the part be held so anew and topped up; 0: never, nor leant; beyond
    #: max_turns: 2
    max_repeats: int
    reserved: int


class PlanInfo(Record):
    """One alternative as a whole."""

    _struct = _raw.vug_plan_info
    #: 1: no more air stays than options.limit, nor bare skin than bare_limit
    within_limit: int
    #: new ones
    bores: int
    #: of filling, with those that do earlier ones again
    steps: int
    cost: float
    #: of the cavities that an opening leads to; sealed_mm3 is the rest
    capacity_mm3: float
    #: air that stays in them, by the simulation of the steps as they are told
    trapped_mm3: float
    #: the same when every pose is off by options.tilt_deg, each in a direction of its own, holes
    #: by a tenth of their width (0.9, 1, 1.1 in turn) and the paint by a tenth of its tension,
    #: yield stress, consistency and contact angle: of VUG_PLAN_SAMPLES random sets of
    #: directions, the same each time, the 95th percentile by nearest rank; or of the first half
    #: of them where within_limit is 0, or where none of that half leaves more than the limit, or
    #: three quarters of it do. With any_pace each turn is made at one of the three paces of
    #: slowly_mm3, else as it is told. Simulated on 80 columns across, as more or less than the
    #: same columns see of the steps as they are told
    tilted_mm3: float
    #: the most when the turns are made at any of three paces: in one go, and with bubbles coming
    #: to rest every 30 and every 10 degrees; at least trapped_mm3. As more than that by what
    #: columns as wide as the search's see
    slowly_mm3: float
    #: what the search had estimated
    searched_mm3: float
    #: paint in all; with given steps: what is still to go in
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
    #: 1: all cavities are, see vug_cavity_info
    trusted: int
    #: 1: within the limit at each of the three paces of slowly_mm3; then the steps are told at
    #: the worst of them. 0: at the best, and the pace matters
    any_pace: int
    #: cavities that no opening leads to: they stay empty
    sealed_mm3: float
    #: of the columns in the simulations of the steps
    spacing_mm: float
    #: share of the samples of tilted_mm3 that leave no more than the limit
    chance: float
    #: 1: new holes belong into the model, before it is printed, and drain too: asked for by
    #: options.design, or a cavity has no opening yet. 0: they are drilled in the cured part, so
    #: that rinsing does without them
    in_model: int
    #: to a thousandth of the resin, by vug_rinse_compare(), well shaken, for what stays of the
    #: rinsing liquid with its film; 0: more than 30 would be wanted, as next to nothing runs out
    rinses: int
    #: rinsing liquid for them
    rinse_mm3: float
    #: of rinsing liquid on the walls after the last draining, not in residue_mm3: as
    #: vug_course_info has it
    film_mm3: float
    #: raw resin (VUG_FLUID_RESIN, typical, 20 C) from a full part, in the first pose of
    #: draining: until what runs out by itself has, as time_s of vug_step_info; -1: nothing does
    resin_s: float
    #: and what is still inside then
    resin_mm3: float
    #: wall in front of the cavities, by balls as vug_thickness_measure() has them, from inside:
    #: less on half of their skin
    wall_mm: float
    #: light for the inside behind wall_mm and the widest opening, as far as the cavity is wide
    #: (4 volume / area), by vug_cure_through(): a lamp of 20 mW/cm2
    cure_low_s: float
    #: and one of 5 (common practice, no source)
    cure_high_s: float
    #: outer diameter of the widest needle that leaves 0.4 mm of each inlet free, of those whose
    #: cavity takes 50 mm3 or is the only one; 0: none
    needle_mm: float
    #: of vug_needle_through(); 0: none
    needle_gauge: int
    #: steps of filling at the end that do earlier ones again, see repeats
    again: int
    #: air to seal in for 20 K of warmth from 20 C on at 20 kPa, vug_sealed_air() for a ball of
    #: the same room, its wall one that is thinner on a twentieth of the skin, filled with water;
    #: -1: no air is enough. 0 for paint of volatile_share 0
    warm_air_mm3: float
    #: and for frost of -18 C, vug_ice_air(), all water, at a pressure that pulls such a ball's
    #: wall with 5 MPa, a tenth of what cured resin bears (from memory)
    frost_air_mm3: float
    #: for volatile_share of the paint, as if it were water, to leave by the widest opening of
    #: each cavity: vug_drying_time() at 20 C and humidity 0.5; the slowest
    dry_s: float
    #: glue for plugs in all openings, as deep as their walls, at most 3 mm: vug_plug()
    plug_mm3: float
    #: of the walls of the same cavities, of which backed_mm2, filmed_mm2 and bare_mm2 are parts,
    #: see vug_skin_info: by the simulation of the steps as they are told
    skin_mm2: float
    backed_mm2: float
    filmed_mm2: float
    bare_mm2: float
    #: mean thickness of the wet film on what is filmed
    film_mm: float
    #: area of the largest connected bare spot; 0: there is none
    spot_mm2: float
    #: its middle, on the skin
    spot_at_mm: Tuple[float, float, float]
    #: steps at the beginning that are done: 1 with options.start_given, else 0
    given: int
    #: 1: where the air is was not said, and a fill in that pose would not have taken as much: it
    #: is taken to have risen from everywhere alike
    unseen: int
    #: to coat the part as it is instead of filling it, a dry film of 0.1 mm: vug_coat_plan()
    #: with the film that a swirl leaves and the solids of the paint, 1 - volatile_share; 0: more
    #: than 12, or no swirl wets half of the skin, or given steps
    coats: int
    #: of VUG_PLAN_COAT
    coat_steps: int
    #: paint to put in for each: 0.1, 0.2 or 0.3 of the capacity, the least that wets 98 % of the
    #: skin, or most of it, simulated on 40 columns across
    swirl_mm3: float
    #: paint that stays in it, all coats
    coat_mm3: float
    #: skin that a swirl wets
    coat_wetted_mm2: float
    #: for one coat, by vug_drying_time() as dry_s
    coat_dry_s: float
    #: of VUG_PLAN_DRAIN, 1 to 4: poses in which it runs out, chosen by drains on 60 columns
    #: across; 0: with given steps
    drain_steps: int
    #: so often the last steps of filling are done again, so that in hands that are not exact it
    #: comes out within the limit 19 times out of 20, if that can be had so: the last turn and
    #: the step before it, which makes 2 steps each time; in a plan of one pose the part is held
    #: so anew and topped up, which makes 1, of angle_deg 0. again steps in all, of which no turn
    #: is but those that have an angle_deg
    repeats: int
    #: that loads are of: options.syringe_ml, or one of 1 mL that all of it fits in
    syringe_ml: float
    #: wall of the ball of warm_air_mm3 and frost_air_mm3, measured as wall_mm is; at least 0.2
    thin_mm: float


class StepInfo(Record):
    """One step, in the order in which it is done: all openings are covered; the part is turned
    to up, at a pace; what is inside comes to rest; those of open are freed, and cover stay
    covered; each of feed is injected by; all are covered again. The same to vug_fill_run() (the
    first step in which something goes into a cavity) or vug_fill_turn(), with the roles of cover
    sealed, gives the figures of the step within 1e-9 of the capacity: with columns spacing_mm of
    vug_plan_info apart, inlet of feed and volume_mm3 of feed_most_mm3, one cavity after the
    other. The poses of way, and cavities that get nothing in a step, are calls with all sealed.
    The lists are numbers of openings of vug_plan_cavities(), rising, NULL if there are none;
    they are the plan's and valid as long as it."""

    _struct = _raw.vug_step_info
    #: opening to inject by; -1: nothing goes in here
    inlet: int
    #: openings that stay covered from before the turn to the end of the step
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
    #: into all cavities, each by its own opening: see feed; draining: liquid that runs out. What
    #: trapped_mm3 gets less by: where nothing moves, as much as columns of two poses differ,
    #: some 1e-5 of the cavity, either way
    inject_mm3: float
    #: air (draining: liquid) that is left after it
    trapped_mm3: float
    #: for the bubbles, on their way and through the throats where they pass the paint, as
    #: vug_course_info has it (draining: half as long again as the liquid takes, 5 s at least); 0
    #: in a first fill that needs none, -1: they do not move by themselves
    wait_s: float
    #: the part stands on a table in this pose: distance of its centre of mass from the edge of
    #: its footing; negative: it falls over
    stand_mm: float
    #: first fill: highest steady rate at which nothing spills before the rest is full, as
    #: vug_fill_rate_limit() has it, on 60 columns across, for a plain liquid as thick as the
    #: paint at 10 / s, and with the openings of show covered as soon as paint shows; 0: there is
    #: no such rate from 1e-3 to 1e5, or another step
    rate_mm3_s: float
    #: filling: openings to inject by, one for each cavity that takes paint, what takes most
    #: first: inlet, if there is any
    feed: Any
    #: how much by each: inject_mm3 in all. The plan's, as vent is
    feed_mm3: Any
    feed_count: int
    #: openings that are freed after the turn: all that are neither sealed nor in cover
    open: Any
    open_count: int
    #: of those, in which paint shows before the end: each is covered once it does, as the
    #: simulation has it by itself; by an inlet among them the syringe is pressed tight from then
    #: on. Filling only
    show: Any
    show_count: int
    #: of the turn: bubbles come to rest at least every so many degrees; 0: only at its end
    pace_deg: float
    #: the poses at which they do so on the way: up, 3 doubles each
    way: Any
    #: of those poses
    way_count: int
    #: of trapped_mm3: air with an open opening that no paint drives it to
    empty_mm3: float
    #: filling: volume_mm3 of each feed: 0: until no more goes in, as feed_mm3 says; above 0: no
    #: more than that, since throats or the paint hold back air
    feed_most_mm3: Any
    #: draining, by vug_drain_run(): until what runs out by itself in 16 hours has; -1: nothing
    #: does
    time_s: float
    #: wait_s at best and at worst over the paint's range; -1: maybe never
    wait_low_s: float
    wait_high_s: float
    #: draining: of inject_mm3, what does not run out by itself: it is drawn out with needle and
    #: syringe; trapped_mm3 is what stays even then
    stuck_mm3: float
    #: filling: once turned, all openings covered, the part is leant so far that each of the four
    #: sides around the one that is up rises, in turn, and held as before: the last 5 poses of
    #: way; 0: it is not
    lean_deg: float
    #: filling: the longest way of a bubble of this step, straight. Of wait_s, what is not for
    #: throats is half as long again as one of bubble_mm3 needs for it, 5 s at least, by
    #: vug_bubble_tube_speed() in a tube of 4 volume / area of the cavity where that is least, if
    #: it is wider than 0.6 of that, else by vug_bubble_open_speed(); 0: none moves
    rise_mm: float
    #: the smallest bubble that counts
    bubble_mm3: float


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
           "ThroatInfo", "SightInfo", "ThicknessInfo", "HollowOptions", "HollowInfo",
           "BoreOptions", "PlugOptions", "GuideOptions", "CradleOptions", "PoseOptions",
           "PocketInfo", "PocketsInfo", "PoseInfo", "BoreInfo", "FillOptions", "CourseInfo",
           "EventInfo", "DrainOptions", "MomentInfo", "PoolInfo", "CupOptions", "CupInfo",
           "SkinOptions", "SkinInfo", "Backlit", "PlanOptions", "PlanInfo", "StepInfo",
           "PlanBoreInfo"]

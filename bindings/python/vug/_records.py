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


class CavityOptions(Record):
    """Options of vug_cavities_find()."""

    _struct = _raw.vug_cavity_options
    #: 1: find openings nobody named (default); 0: named holes and sealed cavities only
    detect: int
    #: detection grid along the longest side; 0: 256
    cells_across: int
    #: a hollow counts as a cavity when its largest inscribed ball is this many times as wide as
    #: the way out; 0: 1.5
    min_ratio: float
    #: smaller cavities are left out; 0: a millionth of the volume of the part's bounds
    min_volume_mm3: float
    #: 1: a hole right through counts as a cavity too
    tunnels: int


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
    #: up to the caps across its openings; planned bores included
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
    """One opening: where a cavity meets the outside."""

    _struct = _raw.vug_opening_info
    cavity: int
    #: 1: not in the mesh yet, a bore to drill
    planned: int
    #: of the cap, at the outer end
    center_mm: Tuple[float, float, float]
    #: unit, outward, of the cap
    normal: Tuple[float, float, float]
    #: of the circle of equal area, square to the bore
    diameter_mm: float
    #: of the largest circle about center_mm inside the outline
    inscribed_diameter_mm: float
    area_mm2: float
    perimeter_mm: float
    #: from the cap to where the bore widens into the cavity
    bore_length_mm: float
    #: centre of the inner end of the bore
    inner_mm: Tuple[float, float, float]


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
    #: columns along the longest side of the cavity; 0: 280
    columns_across: int
    #: spacing of the columns instead, if above 0
    spacing_mm: float
    #: liquid at hand; 0: as much as goes in
    volume_mm3: float
    #: steady rate, for the times; 0: times are 0
    rate_mm3_s: float
    #: NULL: water. Read during the call
    fluid: Any


class CourseSummary(Record):
    """The outcome. Liquid + trapped + empty = capacity."""

    _struct = _raw.vug_course_summary
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


class CourseEvent(Record):
    """One event."""

    _struct = _raw.vug_course_event
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


class MomentInfo(Record):
    """A moment, as a whole."""

    _struct = _raw.vug_moment_info
    pockets: int
    pools: int
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

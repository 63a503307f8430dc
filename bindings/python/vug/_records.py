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

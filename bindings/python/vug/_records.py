# SPDX-License-Identifier: MIT
"""The structs of vug.h as classes. Written by tests/new_call; a test compares it with the
header."""
from __future__ import annotations

from typing import Any, Tuple

from . import _raw
from ._record import Record


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

# SPDX-License-Identifier: MIT
"""A program with types, for type checkers: what the package promises of them."""
from typing import List

import numpy
from numpy.typing import NDArray

import vug


def volumes(path: str) -> List[float]:
    mesh: vug.Mesh = vug.Mesh.load(path, unit_mm=1.0)
    points: NDArray[numpy.float64] = mesh.vertices
    corners: NDArray[numpy.uint32] = mesh.triangles
    assert len(points) > int(corners.max())
    with mesh.cavities() as cavities:
        vented: vug.Cavities = cavities.with_bores([(0.0, 0.0, 40.0, 0.0, 0.0, 1.0, 2.0)])
        pockets = vented.pockets((0.0, 0.0, 1.0), columns_across=100)
        return [pocket.volume_mm3 for pocket in pockets.infos()]


def words(path: str) -> str:
    plan: vug.Plan = vug.plan(path, paint="dyed epoxy", rinse=vug.liquid("water"), limit=0.01)
    drill: List[float] = [bore.diameter_mm for bore in plan.bores()]
    role: int = vug.ROLE_VENT
    return f"{plan}{drill}{role}"

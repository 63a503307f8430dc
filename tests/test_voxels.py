# SPDX-License-Identifier: MIT
"""Capacity and trapped air of the coral in several poses, against dense voxels that know nothing of
columns (tests/voxels.py), and against the same part mirrored and turned.

How far voxels may be off follows from their side h. Heights are quantised to h; the mean over
SHIFTS grids that are moved up by h / SHIFTS each is quantised to that, so a liquid surface, a floor
or a ceiling of area A that lies level is known to A h / (2 SHIFTS). What is left (sills and walls
seen through a grid of that width) is told by how far the answer moves when h is halved."""
import tempfile
from pathlib import Path

import house

house.use_package()
import voxels
from voxels import np
import vug

WALL, SIDE, SHIFTS = 1.95, 0.5, 4  # the wall is thicker than sqrt(3) times the larger voxels
COLUMNS = 1000
POSES = [("base down", (0, 0, 1), ()), ("base up", (0, 0, -1), ()), ("on its side", (1, 0, 0), ()),
         ("on its back", (0, -1, 0), ()), ("oblique", (0.3, -0.5, -0.8), ()),
         ("oblique, one bore shut", (-0.6, 0.4, -0.2), (1,))]


def mean_of_shifts(part, up, h, shut):
    """Golden-ratio steps sideways, even ones upward, none of which meets the base's own plane."""
    floods = [voxels.flood(part, up, h, (0.618034 * k % 1, 0.381966 * k * k % 1,
                                         (k + 0.4) / SHIFTS), shut)
              for k in range(SHIFTS)]
    return voxels.Flood(*np.mean(floods, axis=0))


def roles(part, shut):
    return [vug.ROLE_SEALED if k in shut else vug.ROLE_OPEN for k in range(len(part.bores))]


def against_voxels(report, part, cavities):
    """Returns the finer voxels of each pose, for the next test."""
    floods = []
    for name, up, shut in POSES:
        coarse = mean_of_shifts(part, up, 2 * SIDE, shut)
        fine = mean_of_shifts(part, up, SIDE, shut)
        pockets = cavities.pockets(up, roles(part, shut), columns_across=COLUMNS)
        level = SIDE / (2 * SHIFTS)
        for what, got, want, before, area in (
                ("capacity", pockets.capacity_mm3, fine.capacity, coarse.capacity, fine.footprint),
                ("trapped", pockets.trapped_mm3, fine.trapped, coarse.trapped,
                 fine.surface or fine.footprint)):
            allowed = abs(want - before) + area * level
            print(f"{name}: {what} {got:.1f} mm3, voxels of {SIDE} mm {want:.1f}, of {2 * SIDE} mm "
                  f"{before:.1f}, allowed {allowed:.1f}")
            report.check(abs(got - want) <= allowed, f"{name}: {what} is {got}, voxels say {want}")
        floods.append(fine)
    return floods


def turned(part, matrix):
    """The part and its bores moved by an orthogonal matrix; mirrored ones keep facing outward."""
    triangles = part.triangles @ matrix.T
    if np.linalg.det(matrix) < 0:
        triangles = triangles[:, ::-1]
    rows = [[*(matrix @ b.row[:3]), *(matrix @ b.row[3:6]), b.row[6]] for b in part.bores]
    mesh = vug.Mesh.from_arrays(triangles.reshape(-1, 3),
                                np.arange(3 * len(triangles), dtype=np.uint32).reshape(-1, 3))
    return mesh.cavities(rows, detect=0)


def moved_together(report, part, cavities, floods):
    """Part and pose mirrored, or turned, together: the same answer, but for columns that stand
    elsewhere. A level may move by a spacing at most, an upright wall by half of one; none is larger
    than the base."""
    a, b = np.linalg.qr(np.random.default_rng(7).normal(size=(3, 3)))
    rotation = a * np.sign(np.linalg.det(a))
    bounds = cavities.info(0)
    h = max(np.subtract(bounds.hi_mm, bounds.lo_mm)) / COLUMNS
    base = max(f.footprint for f in floods)
    for what, matrix in (("mirrored", np.diag([-1.0, 1.0, 1.0])), ("turned", rotation)):
        other = turned(part, matrix)
        exact = cavities.info(0).volume_mm3
        report.check(abs(other.info(0).volume_mm3 - exact) < 1e-5 * exact, f"{what}: volume")
        for (name, up, shut), voxel in zip(POSES, floods):
            want = cavities.pockets(up, roles(part, shut), spacing_mm=h)
            got = other.pockets(matrix @ np.array(up, float), roles(part, shut), spacing_mm=h)
            print(f"{name}, {what}: trapped {got.trapped_mm3:.1f} mm3, before "
                  f"{want.trapped_mm3:.1f}")
            report.check(abs(got.trapped_mm3 - want.trapped_mm3) <= h * (voxel.surface or base),
                         f"{name}, {what}: traps {got.trapped_mm3}, before {want.trapped_mm3}")
            report.check(abs(got.capacity_mm3 - want.capacity_mm3) <= 0.5 * h * base,
                         f"{name}, {what}: holds {got.capacity_mm3}, before {want.capacity_mm3}")


def main():
    report = house.Report()
    with tempfile.TemporaryDirectory() as folder:
        part = voxels.coral(Path(folder), 60, WALL)
        cavities = vug.Mesh.load(part.path).cavities([b.row for b in part.bores], detect=0)
    # The caps stand at the outer face: the cavity's own mesh and the prisms of the bores add up.
    bores = sum(np.pi / 4 * b.diameter ** 2 * b.length for b in part.bores)
    volume = cavities.info(0).volume_mm3
    print(f"volume {volume:.2f} mm3, the coral's maker says {part.cavity_mm3 + bores:.2f}")
    report.check(abs(volume - part.cavity_mm3 - bores) < 0.02 * bores, f"volume is {volume}")
    moved_together(report, part, cavities, against_voxels(report, part, cavities))
    report.end()


main()

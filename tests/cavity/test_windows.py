# SPDX-License-Identifier: MIT
"""Windows as wide as vug_sight_info says are found, in meshes as rough as those of scans: iso-surfaces (surface nets: Gibson
1998) of hollow balls sampled with noise, each with a round window whose place and width are those that it was made with."""
from pathlib import Path
import sys
import warnings

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
import house

house.use_package()
try:
    import numpy as np
    from scipy import ndimage
except ImportError as lacking:
    house.skip(str(lacking))
import vug

OUTER, INNER = 12.0, 9.0  # mm
CELLS = 48                # across the part
VOXEL = 0.45              # mm: as fine as the cells, as a scan is at its best
NOISE = (0.0, 0.3, 0.6)   # voxels: how far the surface is off, one standard deviation
CASES = 6


def net(field):
    """Where a field on a grid is 0: a corner in each cell that it passes, at the middle of its crossings of the cell's
    edges, and four corners around each edge. Outward where the field grows; units: voxels."""
    total, count = np.zeros([n - 1 for n in field.shape] + [3]), np.zeros([n - 1 for n in field.shape])
    crossings = []
    for axis in range(3):
        a, b = np.moveaxis(field, axis, 0)[:-1], np.moveaxis(field, axis, 0)[1:]
        a, b = np.moveaxis(a, 0, axis), np.moveaxis(b, 0, axis)
        at = np.argwhere((a < 0) != (b < 0))
        low, high = a[tuple(at.T)], b[tuple(at.T)]
        point = at.astype(float)
        point[:, axis] += low / (low - high)
        crossings.append((axis, at, low < 0))
        others = [k for k in range(3) if k != axis]
        for i in (0, 1):
            for j in (0, 1):
                cell = at.copy()
                cell[:, others] -= (i, j)
                np.add.at(total, tuple(cell.T), point)
                np.add.at(count, tuple(cell.T), 1)
    used = count > 0
    number = np.cumsum(used).reshape(used.shape) - 1
    corners, quads = total[used] / count[used][:, None], []
    for axis, at, inside_low in crossings:
        u, v = (axis + 1) % 3, (axis + 2) % 3
        around = []
        for i, j in ((1, 1), (0, 1), (0, 0), (1, 0)):
            cell = at.copy()
            cell[:, u] -= i
            cell[:, v] -= j
            around.append(number[tuple(cell.T)])
        quad = np.stack(around, 1)
        quads.append(np.where(inside_low[:, None], quad, quad[:, ::-1]))
    quads = np.concatenate(quads)
    return corners, np.concatenate([quads[:, [0, 1, 2]], quads[:, [0, 2, 3]]])


def ball(width, noise, seed):
    """A hollow ball with a window, and the direction that it lies in."""
    random = np.random.default_rng(seed)
    way = random.normal(size=3)
    way /= np.linalg.norm(way)
    half = int(np.ceil(OUTER / VOXEL)) + 3
    x = np.stack(np.meshgrid(*[np.arange(-half, half + 1) * VOXEL] * 3, indexing="ij"), -1)
    away, along = np.linalg.norm(x, axis=-1), x @ way
    beside = np.sqrt(np.maximum(0, away ** 2 - along ** 2))
    field = np.maximum(np.maximum(away - OUTER, INNER - away), np.where(along > 0, width / 2 - beside, -OUTER))
    rough = ndimage.gaussian_filter(random.normal(size=field.shape), 1.0)
    corners, triangles = net(field + noise * VOXEL * rough / rough.std())
    return vug.Mesh.from_arrays((corners - half) * VOXEL, triangles), way


def beside(point, way):
    """How far a point is from the axis of the window."""
    along = np.dot(point, way)
    return np.linalg.norm(point - along * way) if along > 0 else np.inf


def main():
    report = house.Report()
    warnings.simplefilter("ignore", vug.VugWarning)
    window = vug.Mesh.cavities(ball(3.0, 0.0, 0)[0], cells_across=CELLS).sight().window_mm
    report.check(0.5 < window < 3, f"a window of {window} mm may be missed")
    for noise in NOISE:
        for seed in range(CASES):
            mesh, way = ball(window, noise, seed)
            cavities = mesh.cavities(cells_across=CELLS)
            near = [o for o in cavities.openings() if beside(np.array(o.center_mm), way) < window / 2]
            where = f"noise of {noise} voxels, ball {seed}"
            report.check(len(cavities) > 0, f"{where}: no cavity")
            report.check(len(near) == 1, f"{where}: {len(near)} openings where one of {window:.2f} mm is")
    report.end()


main()

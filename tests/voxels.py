# SPDX-License-Identifier: MIT
"""The coral in a pose as dense voxels, by numpy, scipy and scikit-image alone: a second opinion on
cavities and trapped air that shares nothing with the library but the STL file."""
import json
import subprocess
import time
from collections import namedtuple

import house

try:
    import numpy as np
    from scipy import ndimage
    from skimage.morphology import reconstruction
except ImportError as lacking:
    house.skip(str(lacking))

CROSS = ndimage.generate_binary_structure(3, 1)  # neighbours by faces
NOWHERE = -1e4

Bore = namedtuple("Bore", "center outward diameter length row")  # row: as the library takes it
Part = namedtuple("Part", "path triangles bores cavity_mm3")     # triangles: n x 3 corners x 3
Flood = namedtuple("Flood", "capacity trapped surface footprint seconds cpu voxels")


def coral(folder, resolution, wall):
    """The demo part as an STL file, with what its maker says about it."""
    program = house.BUILD / "examples" / "tools" / "vug-coral"
    if not program.exists():
        house.skip("the example programs are not built")
    path = folder / "coral.stl"
    done = subprocess.run([str(program), "--resolution", str(resolution), "--wall", str(wall),
                           "--out", str(path), "--json", "-"], stdout=subprocess.PIPE, check=True)
    told = json.loads(done.stdout)
    bores = [Bore(np.array(b["center_mm"]), np.array(b["direction"]), b["diameter_mm"],
                  b["length_mm"], [float(x) for x in b["hole"].split(",")])
             for b in told["bores"]]
    return Part(path, read_stl(path), bores, told["cavity"]["mesh_volume_without_bores_mm3"])


def read_stl(path):
    record = np.dtype([("normal", "<3f4"), ("corners", "<9f4"), ("attribute", "<u2")])
    assert record.itemsize == 50
    data = path.read_bytes()
    count = int.from_bytes(data[80:84], "little")
    return np.frombuffer(data, record, count, 84)["corners"].reshape(-1, 3, 3).astype(float)


def frame(up):
    """Rows x, y, up of a pose: a rotation, not the library's."""
    up = np.asarray(up, float) / np.linalg.norm(up)
    x = np.cross(up, [0.36, 0.48, 0.8])
    x /= np.linalg.norm(x)
    return np.array([x, np.cross(up, x), up])


def crossings(corners):
    """Where the upright lines through whole x and y pass through triangles: i, j and z. Lines that
    meet an edge are left out on both sides of it: the caller's parity tells if there was one."""
    low = np.ceil(corners.min(1)[:, :2]).astype(int)
    wide = np.maximum(np.floor(corners.max(1)[:, :2]).astype(int) - low + 1, 0)
    lines = wide[:, 0] * wide[:, 1]
    t = np.repeat(np.arange(len(corners)), lines)
    k = np.arange(len(t)) - np.repeat(np.cumsum(lines) - lines, lines)
    i, j = low[t, 0] + k % wide[t, 0], low[t, 1] + k // wide[t, 0]
    a, b, c = corners[t, 0], corners[t, 1], corners[t, 2]

    def beside(p, q):
        return (q[:, 0] - p[:, 0]) * (j - p[:, 1]) - (q[:, 1] - p[:, 1]) * (i - p[:, 0])

    ab, bc, ca = beside(a, b), beside(b, c), beside(c, a)
    hit = ((ab > 0) & (bc > 0) & (ca > 0)) | ((ab < 0) & (bc < 0) & (ca < 0))
    weighted = bc * a[:, 2] + ca * b[:, 2] + ab * c[:, 2]
    return i[hit], j[hit], weighted[hit] / (ab + bc + ca)[hit]


def solid(triangles, h, shift):
    """Voxels of side h whose centres lie in resin, by the parity of crossings below them, and the
    centre of voxel (0, 0, 0). shift, in voxels, moves the grid."""
    first = triangles.min((0, 1)) - (4.0 + np.asarray(shift)) * h
    nx, ny, nz = (np.ceil((triangles.max((0, 1)) - first) / h).astype(int) + 5)
    i, j, z = crossings((triangles - first) / h)
    above = np.clip(np.ceil(z).astype(int), 0, nz)
    count = np.bincount((i * ny + j) * (nz + 1) + above, minlength=nx * ny * (nz + 1))
    odd = np.cumsum(count.reshape(nx, ny, nz + 1).astype(np.int8), 2, dtype=np.int8) & 1
    assert not odd[:, :, -1].any(), "a line met an edge: move the grid"
    return odd[:, :, :-1].astype(bool), first


def plug(shape, first, h, center, outward, diameter):
    """A disc outside a bore's face, thick enough that no path by faces gets through."""
    reach = 0.5 * diameter + 2.0 * h
    low = np.maximum(np.floor((center - first - reach - 2.0 * h) / h).astype(int), 0)
    high = np.minimum(np.ceil((center - first + reach + 2.0 * h) / h).astype(int) + 1, shape)
    box = tuple(slice(a, b) for a, b in zip(low, high))
    away = np.stack(np.meshgrid(*(first[k] + h * np.arange(low[k], high[k]) - center[k]
                                  for k in range(3)), indexing="ij"))
    along = np.tensordot(outward, away, 1)
    disc = (along > 0) & (along < 2 * h) & ((away ** 2).sum(0) - along ** 2 < reach ** 2)
    return box, disc


def flood(part, up, h, shift=(0.0, 0.0, 0.0), shut=()):
    """Capacity, and air that cannot leave without going down: for each voxel the best, over all
    paths to a vent, of the lowest voxel on the path (a max-min path), found by grey
    reconstruction (Vincent, IEEE Trans. Image Processing 2, 1993). What lies higher is trapped. Air
    leaves through a bore's face up to the highest point of its rim. shut: bores that are plugged."""
    turn = frame(up)
    resin, first = solid(part.triangles @ turn.T, h, shift)
    plugs, closed = [], resin.copy()
    for bore in part.bores:
        center, outward = turn @ bore.center, turn @ bore.outward
        box, disc = plug(resin.shape, first, h, center, outward, bore.diameter)
        closed[box] |= disc
        rim = center[2] + 0.5 * bore.diameter * np.sqrt(max(0.0, 1.0 - outward[2] ** 2))
        plugs.append((box, disc, rim))
    labels, _ = ndimage.label(~closed)
    inside = turn @ (part.bores[0].center - 0.5 * part.bores[0].length * part.bores[0].outward)
    number = labels[tuple(np.rint((inside - first) / h).astype(int))]
    assert number > 0 and number != labels[0, 0, 0], "the voxels are too large for the wall"
    cavity = labels == number
    del labels, closed, resin

    marker = np.full(cavity.shape, NOWHERE, np.float32)
    z = (first[2] + h * np.arange(cavity.shape[2])).astype(np.float32)
    height = np.where(cavity, z, np.float32(NOWHERE))
    for number, (box, disc, rim) in enumerate(plugs):
        if number not in shut:
            vent = ndimage.binary_dilation(disc, CROSS) & cavity[box]
            assert vent.any()
            marker[box][vent] = np.minimum(height[box][vent], np.float32(rim))
    box = tuple(slice(max(s.start - 1, 0), s.stop + 1)
                for s in ndimage.find_objects(cavity.view(np.int8))[0])
    cavity, height, marker = cavity[box], height[box].copy(), marker[box].copy()
    start, spent = time.perf_counter(), time.process_time()
    level = reconstruction(marker, height, footprint=CROSS)
    seconds, cpu = time.perf_counter() - start, time.process_time() - spent
    trapped = cavity & (level < height)
    surface = (trapped[:, :, 1:] & cavity[:, :, :-1] & ~trapped[:, :, :-1]).sum() * h ** 2
    return Flood(cavity.sum() * h ** 3, trapped.sum() * h ** 3, surface,
                 cavity.any(2).sum() * h ** 2, seconds, cpu, height.size)

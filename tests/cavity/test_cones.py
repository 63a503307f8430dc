#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""What throats that widen as cones resist, and tubes, against Stokes' equations: finite elements of Taylor and Hood (1973,
Computers & Fluids 1:73-100) on a half section, solved by scipy; they give Poiseuille's tube to 1e-6. Not held to: a cone of 30 degrees and more beside a step, which comes out up to a fifth (30)
and a third (45) off where cells fall badly."""
import math
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
import house

house.use_package()
try:
    import numpy as np
    from scipy.sparse import bmat, coo_matrix
    from scipy.sparse.linalg import spsolve
except ImportError:
    house.skip("no numpy or scipy")
import round_box
import vug

ACROSS = 12     # elements from the axis to the wall


def triangles(rows):
    """Corners, and then middles of sides, of each triangle; the sides; corners are numbered along each row."""
    out = []
    for i in range(rows):
        for j in range(ACROSS):
            a, b, d = i * (ACROSS + 1) + j, (i + 1) * (ACROSS + 1) + j, i * (ACROSS + 1) + j + 1
            out += [[a, b, b + 1], [a, b + 1, d]] if (i + j) % 2 else [[a, b, d], [b, b + 1, d]]
    corner = np.array(out)
    side = np.sort(np.vstack([corner[:, [1, 2]], corner[:, [2, 0]], corner[:, [0, 1]]]), axis=1)
    count = (rows + 1) * (ACROSS + 1)
    key, of = np.unique(side[:, 0] * count + side[:, 1], return_inverse=True)
    return np.hstack([corner, of.reshape(3, -1).T + count]), np.stack([key // count, key % count], axis=1)


def assemble(part, rows, columns, shape):
    i = np.repeat(rows, columns.shape[1], axis=1).ravel()
    return coo_matrix((part.ravel(), (i, np.tile(columns, (1, rows.shape[1])).ravel())), shape=shape).tocsr()


def matrices(place, number):
    """Power of a flow along z and r, and what it makes of each volume, about the axis."""
    corner = place[number[:, :3]]
    turn = np.stack([corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0]], axis=2)
    slope = np.einsum("ka,nab->nkb", np.array([[-1.0, -1], [1, 0], [0, 1]]), np.linalg.inv(turn))
    area = 0.5 * np.abs(np.linalg.det(turn))
    power = [np.zeros((len(number), 6, 6)) for _ in range(3)]
    volume = [np.zeros((len(number), 3, 6)) for _ in range(2)]
    for at, weight in ((0.091576213509771, 0.109951743655322), (0.445948490915965, 0.223381589678011)):
        for k in range(3):      # degree 4: Dunavant 1985
            l = np.full(3, at)
            l[k] = 1 - 2 * at
            value = np.concatenate([l * (2 * l - 1), [4 * l[1] * l[2], 4 * l[2] * l[0], 4 * l[0] * l[1]]])
            rise = np.concatenate([(4 * l[:, None] - 1) * slope] + [
                4 * (l[p] * slope[:, q] + l[q] * slope[:, p])[:, None] for p, q in ((1, 2), (2, 0), (0, 1))], axis=1)
            r = corner[:, :, 1] @ l
            ring, along, out = weight * area * 2 * math.pi * r, rise[:, :, 0], rise[:, :, 1]

            def product(p, q):
                return np.einsum("n,ni,nj->nij", ring, p, q)
            over = value / r[:, None]
            power[0] += 2 * product(along, along) + product(out, out)
            power[1] += product(out, along)
            power[2] += 2 * product(out, out) + product(along, along) + 2 * product(over, over)
            for b, change in ((0, along), (1, out + over)):
                volume[b] -= np.einsum("n,i,nj->nij", ring, l, change)
    n, corners = len(place), int(number[:, :3].max()) + 1
    power = [assemble(p, number, number, (n, n)) for p in power]
    volume = [assemble(b, number[:, :3], number, (corners, n)) for b in volume]
    return bmat([[power[0], power[1]], [power[1].T, power[2]]]).tocsr(), bmat([volume]).tocsr()


def resistance(z, radius):
    """Of a passage with those radii at z, from Poiseuille's flow to Poiseuille's flow: power of a flow of 1 at viscosity 1."""
    t = np.linspace(0, 1, ACROSS + 1)
    place = np.array([[z[i], radius[i] * s] for i in range(len(z)) for s in t])
    number, side = triangles(len(z) - 1)
    last = np.arange(len(place)) % (ACROSS + 1) == ACROSS
    wall = np.concatenate([last, last[side].all(axis=1)])
    place = np.vstack([place, place[side].mean(axis=1)])
    power, volume = matrices(place, number)
    n, corners = len(place), volume.shape[0]
    both = bmat([[power, volume.T], [volume, None]]).tocsc()
    end = (place[:, 0] == z[0]) | (place[:, 0] == z[-1])
    held = np.concatenate([wall | end, wall | end | (place[:, 1] == 0), np.arange(corners) == 0])
    known, wide = np.zeros(2 * n + corners), np.where(place[:, 0] == z[0], radius[0], radius[-1])
    known[:n][end] = (2 / (math.pi * wide ** 2) * (1 - (place[:, 1] / wide) ** 2))[end]
    known[~held] = spsolve(both[~held][:, ~held], -(both @ known)[~held])
    flow = known[:2 * n]
    return flow @ (power @ flow)


def stepped(profile, step=0.1):
    """Places along a profile of (r, z), so many radii apart, no more than that of the throat."""
    z, radius = [profile[0][1]], [profile[0][0]]
    for (r0, z0), (r1, z1) in zip(profile, profile[1:]):
        at, length = 0.0, math.hypot(r1 - r0, z1 - z0)
        while at < 1.0:
            at = min(1.0, at + step * (r0 + (r1 - r0) * at) / length)
            z.append(z0 + (z1 - z0) * at)
            radius.append(r0 + (r1 - r0) * at)
    return np.array(z), np.array(radius)


def passage(low, long, high):
    """(r, z) of a throat of radius 1 between chambers of radius 8: cones of so many degrees to radius 4 on either side, and
    a step; 90: a step at once."""
    step, cone = (lambda far: 0.3 * (8 - far)), (lambda d: 3 / math.tan(math.radians(d)))
    below = [(8, 0), (1, step(1))] if low == 90 else [(8, 0), (4, step(4)), (1, step(4) + cone(low))]
    above = [(8, 0), (1, step(1))] if high == 90 else [(8, 0), (4, step(4)), (1, step(4) + cone(high))]
    top = below[-1][1] + long + above[-1][1]
    return below + [(r, top - z) for r, z in reversed(above) if long or r > 1]


def measured(profile, cells):
    top = profile[-1][1] + 10
    inside = [(8, -10)] + profile + [(8, top), (0, top)]
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "cones.stl"
        round_box.lathe(path, [(1.5, -12), (10, -12), (10, top + 2), (0, top + 2)] + inside[::-1] + [(1.5, -10), (1.5, -12)], 96)
        found = vug.Cavities.find(vug.Mesh.load(str(path)), np.array([[0, 0, -12, 0, 0, -1, 3]], float), cells_across=cells)
    throats = found.throats(0)
    assert len(throats) == 1, throats
    return throats[0].resistance_mm3


def by_stokes(profile):
    return resistance(*stepped([(8, -4)] + profile + [(8, profile[-1][1] + 4)]))


z = np.linspace(0, 4, 9)
assert abs(resistance(z, np.ones(9)) / (32 / math.pi) - 1) < 1e-6
worst = 0.0
for case in ((10, 0, 10), (20, 0, 20), (30, 0, 30), (45, 0, 45), (10, 0, 90), (90, 4, 90)):
    profile = passage(*case)
    truth = by_stokes(profile)
    for cells in (96, 160):
        got = measured(profile, cells)
        worst = max(worst, abs(got / truth - 1))
        assert abs(got / truth - 1) < 0.1, (case, cells, got, truth)
print(f"throats as by Stokes' equations, within {100 * worst:.0f} %")

# SPDX-License-Identifier: MIT
"""Random parts and liquids for tests: rooms in a row or over each other, slots and tubes of any width between them, openings
anywhere; any liquid."""
import math

import numpy as np

import boxes
import vug

WALL = 2.0


def rooms_of(rng, count):
    """Boxes on a grid with uneven floors and roofs; the size of the block."""
    start, wide, size = [], [], []
    for n in count:
        x, s, w = WALL, [], []
        for i in range(n):
            s.append(x)
            w.append(rng.uniform(6, 14))
            x += w[-1] + (rng.uniform(2, 7) if i + 1 < n else WALL)
        start.append(s)
        wide.append(w)
        size.append(x)
    rooms = {}
    for at in np.ndindex(*count):
        lo = [start[k][at[k]] for k in range(3)]
        hi = [lo[k] + wide[k][at[k]] for k in range(3)]
        high = hi[2] - lo[2]
        lo[2] += rng.choice([0.0, rng.uniform(0, 0.4)]) * high
        hi[2] -= rng.choice([0.0, rng.uniform(0, 0.4)]) * high
        rooms[at] = (lo, hi)
    return rooms, size


def passage(rng, room, other, k):
    lo = [max(room[0][q], other[0][q]) for q in range(3)]
    hi = [min(room[1][q], other[1][q]) for q in range(3)]
    lo[k], hi[k] = room[1][k], other[0][k]
    for q in range(3):
        if q != k:
            span = hi[q] - lo[q]
            wide = min(span, rng.choice([rng.uniform(0.6, 3), rng.uniform(0.6, 3), span]))
            lo[q] += rng.choice([0.0, span - wide, rng.uniform(0, span - wide)])
            hi[q] = lo[q] + wide
    return tuple(lo), tuple(hi)


def block(rng, long):
    """Voids, size of the block, and openings into outer rooms."""
    count = (rng.randint(1, 4), rng.randint(1, 2), rng.randint(1, 4)) if long else (2, 1, rng.randint(1, 2))
    rooms, size = rooms_of(rng, count)
    voids = [(tuple(lo), tuple(hi)) for lo, hi in rooms.values()]
    for at in rooms:
        for k in range(3):
            beside = tuple(a + (q == k) for q, a in enumerate(at))
            if beside in rooms:
                lo, hi = passage(rng, rooms[at], rooms[beside], k)
                if all(hi[q] - lo[q] > 0.5 for q in range(3)):
                    voids.append((lo, hi))
    holes = []
    for _ in range(rng.randint(2, 5)):
        k, side = rng.randrange(3), rng.randrange(2)
        at = [rng.randrange(n) for n in count]
        at[k] = (count[k] - 1) * side
        lo, hi = rooms[tuple(at)]
        point = [0.5 * (lo[q] + hi[q]) + rng.uniform(-.3, .3) * (hi[q] - lo[q]) for q in range(3)]
        point[k] = size[k] * side
        holes.append(point + [(2.0 * side - 1.0) * (q == k) for q in range(3)] + [rng.uniform(0.8, 4)])
    return voids, size, holes


def cavities(rng, long):
    while True:
        voids, size, holes = block(rng, long)
        try:
            return vug.Cavities.find(boxes.faces(voids, size), np.array(holes), cells_across=60 if long else 40)
        except vug.VugError:    # openings into each other, or two solids
            continue


def liquid(rng):
    yields, index = rng.choice([0, 1, 1]), rng.choice([1.0, rng.uniform(0.3, 1.3)])
    return vug.Fluid(density_kg_m3=rng.uniform(800, 1400), surface_tension_n_m=rng.uniform(0, 0.07),
                     consistency_pa_sn=math.exp(rng.uniform(-3, 2)), flow_index=index,
                     yield_stress_pa=yields * math.exp(rng.uniform(-3, 3)))

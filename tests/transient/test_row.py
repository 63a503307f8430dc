#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""Fills in time of random rows of chambers, slots of random heights and places between them, some at the floor and some
at one height, against a general solver of ordinary equations (scipy): levels of tanks of one area each. By hand from
Reynolds' equation for a slot of height g: a sheet of depth h that does not touch its roof carries per width and slope
h^3 / 3, under the roof g^3 / 12; integrated along the slot the flow goes with the difference of a potential on either side,
h^4 / (12 g^3) below the roof and h / 12 from there on, h over the slot's floor (the sheet under a roof is Strack's, 1976,
for ground water). Narrowed by the side walls to 1 - 0.63 g / width (Boussinesq). Long slots, so that their ends count
little: by the figures of OpenFOAM for one (test_flow_cases.c) as if they were 0.6 gaps longer. Usage: test_row.py [ROWS];
without a number a few."""
import random
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
import house

house.use_package()
try:
    import numpy as np
    from scipy.integrate import solve_ivp
except ImportError:
    house.skip("no numpy or scipy")
import boxes
import vug

WALL, SIDE, HIGH = 2.0, 16.0, 36.0
PA_PER_MM = 1100 * 9.80665e-3


def part(slots):
    """A block of chambers SIDE wide and deep, slots (length, gap, height over the floor) between them."""
    voids, starts, x = [], [], WALL
    for i in range(len(slots) + 1):
        voids.append(((x, WALL, WALL), (x + SIDE, WALL + SIDE, WALL + HIGH)))
        starts.append(x)
        x += SIDE
        if i < len(slots):
            long, gap, low = slots[i]
            voids.append(((x, WALL, WALL + low), (x + long, WALL + SIDE, WALL + low + gap)))
            x += long
    holes = [[starts[0] + 8, 10, 0, 0, 0, -1, 4]]
    holes += [[s + 8, 10, HIGH + 2 * WALL, 0, 0, 1, 3] for s in starts]
    size = (x + WALL, SIDE + 2 * WALL, HIGH + 2 * WALL)
    return boxes.faces(voids, size), np.array(holes, float), starts


def by_solver(slots, viscosity, rate, times):
    area, n = SIDE * SIDE, len(slots) + 1

    def potential(high, gap):
        return high if high > gap else max(0.0, high) ** 4 / gap ** 3

    def change(_, level):
        flow = np.zeros(n + 1)
        flow[0] = rate
        for i, (long, gap, low) in enumerate(slots):
            drive = potential(level[i] - low, gap) - potential(level[i + 1] - low, gap)
            way = 12 * viscosity * (long + 0.6 * gap) / (gap ** 3 * SIDE * (1 - 0.63 * gap / SIDE)) / PA_PER_MM
            flow[i + 1] = drive / way
        return (flow[:-1] - flow[1:]) / area

    return solve_ivp(change, (0, times[-1]), np.zeros(n), t_eval=times, rtol=1e-8, max_step=0.2).y.T


def levels_of(moment, starts):
    """Highest liquid in each chamber, over its floor."""
    out = []
    for s in starts:
        points = np.array([[s + 3.0, 5.0, WALL + z] for z in np.arange(0.25, HIGH, 0.5)])
        levels = np.array(moment.levels(points))
        wet = levels > points[:, 2]
        out.append(levels[wet].max() - WALL if wet.any() else 0.0)
    return np.array(out)


def check(rng):
    places = {"floor": [0, 0], "level": [rng.randint(2, 14)] * 2}
    heights = places.get(rng.choice(["floor", "level", "any"]), [rng.randint(0, 14), rng.randint(0, 14)])
    slots = [(rng.randint(12, 16), rng.randint(2, 3), low) for low in heights[:rng.randint(1, 2)]]
    viscosity = rng.uniform(0.2, 1.0)
    mean = np.mean([12 * viscosity * s[0] / (s[1] ** 3 * SIDE) / PA_PER_MM for s in slots])
    rate = rng.uniform(3.0, 9.0) / mean
    body, holes, starts = part(slots)
    found = vug.Cavities.find(body, holes, cells_across=128)
    volume = SIDE * SIDE * rng.uniform(22, 28)
    fluid = vug.Fluid(density_kg_m3=1100, consistency_pa_sn=viscosity, surface_tension_n_m=0)
    course = found.fill([0, 0, 1], fluid=fluid, viscous=1, rate_mm3_s=rate, inlet=0, volume_mm3=volume,
                        columns_across=100)
    times = np.linspace(0.4, 1.0, 4) * volume / rate
    told = by_solver(slots, viscosity, rate, times)
    ours = np.array([levels_of(course.at_time(t), starts) for t in times])
    if told.max() > HIGH - 1:  # to the roof: other laws
        return 0.0
    off = np.abs(ours - told).max() / told.max()
    assert off < 0.25, (slots, viscosity, rate, told, ours)
    return off


rows = int(sys.argv[1]) if len(sys.argv) > 1 else 2
worst = [check(random.Random(70 + i)) for i in range(rows)]
assert sum(w > 0.0 for w in worst) * 2 >= rows, worst
print(f"{rows} rows of chambers fill as by scipy, within {100 * max(worst):.0f} % of the highest level")

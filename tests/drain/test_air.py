#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""Drains through the floor of a chamber by which air comes in only by narrow openings in its roof: the liquid's hole and the
air's one after the other share the head, by brentq, and scipy's sum over the level is the time (laws of the openings by the
library, air's after it: 1.204 kg/m3 and 0.0182 mPa s at 20 C, from memory). And as a narrow opening more never keeps what a
hole gives by turns with air, a drain with it takes about no longer than without."""
import math
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
import house

house.use_package()
try:
    import numpy as np
    from scipy.integrate import quad
    from scipy.optimize import brentq
except ImportError:
    house.skip("no numpy or scipy")
import boxes
import vug
import vug.flow

PA_PER_MM, WIDE, HIGH, WALL = 1100 * 9.80665e-3, 20.0, 30.0, 2.0
AIR = vug.Fluid(density_kg_m3=1.204, consistency_pa_sn=1.82e-5, surface_tension_n_m=0.0)


def liquid(viscosity):
    return vug.Fluid(density_kg_m3=1100.0, consistency_pa_sn=viscosity, surface_tension_n_m=0.03)


def chamber(hole, vents, side):
    top = HIGH + 2 * WALL
    holes = [[12, 12, 0, 0, 0, -1, hole]] + [[5 + 5 * i, 6, top, 0, 0, 1, d] for i, d in enumerate(vents)]
    holes += [[0, 12, side[0], -1, 0, 0, side[1]]] if side else []
    part = boxes.faces([((WALL, WALL, WALL), (WALL + WIDE, WALL + WIDE, WALL + HIGH))], [24.0, 24.0, top])
    return vug.Cavities.find(part, np.array(holes, float), cells_across=90)


def out(fluid, level, sucked, hole, side):
    """mm3/s under a suction, by the holes in floor and side."""
    heads = [(hole, PA_PER_MM * level - sucked)] + ([(side[1], PA_PER_MM * (level - side[0]) - sucked)] if side else [])
    return sum(float(vug.flow.hole_flow(fluid, d, WALL, [p])[0]) for d, p in heads if p > 0)


def into(sucked, vents):
    return sum(float(vug.flow.hole_flow_immersed(AIR, d, WALL, [sucked])[0]) for d in vents)


def in_series(hole, vents, viscosity, side=None):
    fluid = liquid(viscosity)

    def flow(level):
        sucked = brentq(lambda s: into(s, vents) - out(fluid, level, s, hole, side), 0.0, PA_PER_MM * level)
        return into(sucked, vents)
    low, high = WALL + 0.35 * HIGH, WALL + 0.9 * HIGH
    by_hand = quad(lambda z: WIDE * WIDE / flow(z), low, high, epsrel=1e-3)[0]
    course = chamber(hole, vents, side).drain([0, 0, 1], fluid=fluid, columns_across=80)
    curve, bore = course.curve(), math.pi * hole * hole / 4 * WALL

    def when(level):
        return np.interp(-(WIDE * WIDE * (level - WALL) + bore), -curve[:, 1], curve[:, 0])
    got = when(low) - when(high)
    assert abs(got / by_hand - 1) < 0.05, (hole, vents, viscosity, side, got, by_hand)


def by_turns(hole):
    alone, beside = (chamber(hole, vents, None).drain([0, 0, 1], fluid=liquid(0.1), columns_across=80).info.time_s
                     for vents in ([], [0.05]))
    assert 0.5 * alone < beside < 1.15 * alone, (hole, alone, beside)


for case in ((4, [0.3], 0.1), (3, [0.3, 0.3], 0.01), (3, [1.0], 0.1), (3, [0.2], 0.01, (8, 2)), (3, [3.0], 0.1, (8, 2))):
    in_series(*case)
for wide in (4, 8):
    by_turns(wide)

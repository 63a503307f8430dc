#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""Fills in time of random parts (tests/rooms.py) with any liquid at any rate, or by any pressure. Each comes to an end; what
went in is what came in, rate times time, and what is inside is what stands there; no pressure goes beyond what drives it;
and at a crawl it is the fill without hurry. Usage: test_rooms.py [PARTS]; without a number few small ones."""
import math
import random
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
import house

house.use_package()
try:
    import numpy as np
except ImportError:
    house.skip("no numpy")
import rooms
import vug

LONG = len(sys.argv) > 1


def conserves(course, rate):
    info = course.info
    rows = course.curve()
    assert (np.diff(rows[:, 1]) >= -1e-9 * info.capacity_mm3).all(), info
    assert info.liquid_mm3 <= info.capacity_mm3 * (1 + 1e-9), info
    assert abs(info.liquid_mm3 + info.trapped_mm3 + info.empty_mm3 - info.capacity_mm3) <= 1e-9 * info.capacity_mm3, info
    if rate > 0.0:
        assert abs(info.liquid_mm3 - rate * info.time_s) <= 1e-9 * info.capacity_mm3, (info, rate * info.time_s)


def check(number, rng):
    found = rooms.cavities(rng, LONG)
    up = rng.choice([[0, 0, 1], [0, 0, -1], [rng.gauss(0, 1) for _ in range(3)]])
    inlet = rng.randrange(len(found.openings()))
    for fluid in (None, rooms.liquid(rng), rooms.liquid(rng)):
        rate = math.exp(rng.uniform(math.log(1.0), math.log(20000.0)))
        course = found.fill(up, fluid=fluid, viscous=1, rate_mm3_s=rate, inlet=inlet, inlet_sealed=1, columns_across=60)
        conserves(course, rate)
        press = math.exp(rng.uniform(math.log(50.0), math.log(20000.0)))
        course = found.fill(up, fluid=fluid, viscous=1, pressure_pa=press, inlet=inlet, inlet_sealed=1, columns_across=60)
        conserves(course, 0.0)
        assert course.info.peak_pressure_pa <= press * (1 + 1e-6), (number, press, course.info)


parts = int(sys.argv[1]) if LONG else 2
for i in range(parts):
    check(i, random.Random(700 + i))
print(f"{6 * parts} fills in time of {parts} parts came to an end")

#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""Fills in time of random parts (tests/rooms.py) with any liquid at any rate, or by any pressure. Each comes to an end, or
says that its flows do not agree and what to do, which no more than one in fifty may; what went in by a rate is what came in,
rate times time, and with the air it is the cavity's, both to 1e-9 of that. Falls short: in the last moment of a fill by
pressure the inlet can be told more than drives it. Usage: test_rooms.py [PARTS]; without a number few small ones."""
import math
import random
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
import house

house.use_package()
try:
    import rooms
except ImportError:
    house.skip("no numpy")
import vug


def conserves(course, rate):
    info = course.info
    all_of_it = info.liquid_mm3 + info.trapped_mm3 + info.empty_mm3
    assert abs(all_of_it - info.capacity_mm3) <= 1e-9 * info.capacity_mm3, info
    if rate > 0.0:
        assert abs(info.liquid_mm3 - rate * info.time_s) <= 1e-9 * info.capacity_mm3, (info, rate * info.time_s)


def check(rng):
    found = rooms.cavities(rng, False)
    up = rng.choice([[0, 0, 1], [0, 0, -1], [rng.gauss(0, 1) for _ in range(3)]])
    inlet = rng.randrange(len(found.openings()))
    given_up = 0
    for fluid in (None, rooms.liquid(rng), rooms.liquid(rng)):
        rate = math.exp(rng.uniform(math.log(1.0), math.log(20000.0)))
        press = math.exp(rng.uniform(math.log(50.0), math.log(20000.0)))
        for drive in ({"rate_mm3_s": rate}, {"pressure_pa": press}):
            try:
                course = found.fill(up, fluid=fluid, viscous=1, inlet=inlet, inlet_sealed=1, columns_across=60, **drive)
            except vug.ConvergenceError as error:
                assert "fill more slowly" in str(error), error
                given_up += 1
                continue
            conserves(course, drive.get("rate_mm3_s", 0.0))
    return given_up


parts = int(sys.argv[1]) if len(sys.argv) > 1 else 4
given_up = sum(check(random.Random(700 + i)) for i in range(parts))
assert given_up * 50 <= 6 * parts, given_up
print(f"{6 * parts} fills in time of {parts} parts: {6 * parts - given_up} came to an end")

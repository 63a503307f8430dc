#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""Drains of random parts: rooms in a row or over each other, slots and tubes of any width between them, openings
anywhere, any liquid. Each drain comes to an end; liquid never comes back; and where nothing holds it, what stays behind
does not depend on the liquid: sills alone keep it. Usage: test_rooms.py [PARTS]; without a number few small ones."""
import math
import random
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
import house

house.use_package()
try:
    import convex
    import numpy as np
except ImportError:
    house.skip("no numpy or scipy")
import boxes
import rooms
import vug

LONG = len(sys.argv) > 1


def drops_bear(found, up, fluid, course):
    """By hand: where liquid stood last, a drop under each opening that it covers bears it, 4 tension / diameter; and what
    did not run out, if there is any, stands over the lip of one."""
    up = np.array(up) / np.linalg.norm(up)
    rows = course.curve()
    ran = rows[rows[:, 0] >= 0][-1]
    last, over = course.at_time(ran[0]), ran[1] - course.info.liquid_mm3 <= 1e-6 * course.info.capacity_mm3
    for o in found.openings():
        within = np.array(o.inner_mm) - 0.3 * np.array(o.normal)
        level = last.levels([within])[0]
        head = 1e-3 * (level - np.dot(up, o.center_mm))
        aside = math.sqrt(max(0.0, 1.0 - np.dot(up, o.normal) ** 2))
        over = over or level > np.dot(up, o.center_mm) - 0.5 * o.diameter_mm * aside
        covered = level > np.dot(up, within) and head > 0.5e-3 * o.diameter_mm
        if covered and fluid.density_kg_m3 * 9.80665 * head > 1.02 * 4e3 * fluid.surface_tension_n_m / o.inscribed_diameter_mm:
            return False
    return over


def may_hold(found, up, fluid, course):
    """By hand: a yield stress; drops that bear what stands over them; or a meniscus in each opening, narrower than
    2 x 0.918 capillary lengths (Bretherton 1961), where no two differ in height by more than a bubble in the one and a
    drop in the other bear, 4 tension / diameter."""
    weight = fluid.density_kg_m3 * 9.80665
    free = 2e3 * 0.918 * math.sqrt(fluid.surface_tension_n_m / weight)
    holes = [(np.dot(o.center_mm, up) / np.linalg.norm(up) * 1e-3, o.inscribed_diameter_mm) for o in found.openings()]
    bears = [4e3 * fluid.surface_tension_n_m / d for _, d in holes]
    apart = max(d for _, d in holes) < 1.01 * free and all(
        weight * abs(holes[i][0] - holes[j][0]) <= 1.01 * (bears[i] + bears[j])
        for i in range(len(holes)) for j in range(i))
    return fluid.yield_stress_pa > 0 or apart or drops_bear(found, up, fluid, course)


def check(number, rng):
    found = rooms.cavities(rng, LONG)
    up = rng.choice([[0, 0, 1], [0, 0, -1], [rng.gauss(0, 1) for _ in range(3)]])
    left = []
    for fluid in (None, rooms.liquid(rng), rooms.liquid(rng)):
        course = found.drain(up, fluid=fluid, columns_across=60)
        rows = course.curve()
        assert (np.diff(rows[:, 1]) <= 1e-9 * course.info.capacity_mm3).all(), (number, fluid)
        assert not course.info.held or may_hold(found, up, fluid or vug.Fluid(), course), (number, fluid)
        if not course.info.held:
            left.append(course.info.liquid_mm3)
        for other in left:
            assert abs(other - left[0]) <= 1e-6 * course.info.capacity_mm3, (number, fluid, left)
    return len(left)


def slot_over_a_hole():
    """Two rooms and a slot between them at the floor of one, whose hole lies below: what stands in the slot runs out too. By
    hand, 12 x 12 x 4 mm stay in the other room, below the slot; a drop at the hole bears 0.6 mm of 6."""
    voids = [((2, 2, 6), (16, 14, 14)), ((20, 2, 2), (32, 14, 10)), ((16, 2, 6), (20, 14, 7))]
    holes = [[9, 8, 0, 0, 0, -1, 1], [0, 8, 11, -1, 0, 0, 2], [34, 8, 8, 1, 0, 0, 2]]
    part = boxes.faces([tuple(tuple(map(float, at)) for at in v) for v in voids], [34.0, 16.0, 16.0])
    found = vug.Cavities.find(part, np.array(holes, float), cells_across=60)
    thin = vug.Fluid(density_kg_m3=1200.0, surface_tension_n_m=0.0018, consistency_pa_sn=0.5)
    course = found.drain([0, 0, 1], fluid=thin, columns_across=60)
    assert abs(course.info.liquid_mm3 - 576) < 6, course.info
    assert not course.info.held and course.info.time_s > 0, course.info


def sheet_that_stays():
    """A yield stress holds a sheet on the floor of a slot. By hand, per width: half its depth squared by its weight, which
    presses it on, against the yield stress along the floor, slot long: depth = (2 yield long / weight)^(1/2), in a slot so
    wide that its sides add little."""
    long, depth = 20.0, 0.8
    voids = [((2, 2, 2), (22, 26, 16)), ((22 + long, 2, 2), (42 + long, 26, 16)), ((22, 2, 2), (22 + long, 26, 4))]
    holes = [[32 + long, 14, 0, 0, 0, -1, 4], [12, 14, 18, 0, 0, 1, 3], [32 + long, 14, 18, 0, 0, 1, 3]]
    part = boxes.faces([tuple(tuple(map(float, at)) for at in v) for v in voids], [44.0 + long, 28.0, 18.0])
    found = vug.Cavities.find(part, np.array(holes, float), cells_across=90)
    stress = 1200 * 9.80665e-3 * depth * depth / (2 * long)
    paint = vug.Fluid(density_kg_m3=1200.0, surface_tension_n_m=0.0, consistency_pa_sn=0.1, yield_stress_pa=stress)
    course = found.drain([0, 0, 1], fluid=paint, columns_across=80)
    rows = course.curve()
    ran = rows[rows[:, 0] >= 0][-1]
    level = course.at_time(ran[0]).levels([np.array([5.0, 14.0, 2.1])])[0] - 2.0
    assert course.info.held and abs(level / depth - 1) < 0.1, level


def tiny_hollow():
    """A hollow of 0.01 mm3 below a dome that gives its liquid to it, over and over: the drain ends, with what stays there
    exactly (convex.py)."""
    made, up = convex.make(7), convex.poses(7)[2]
    found = vug.Mesh.from_arrays(*made.mesh()).cavities([bore.row for bore in made.bores], detect=0)
    info = found.drain([-x for x in up]).info
    assert abs(info.liquid_mm3 - made.trapped(up)) < 0.1, (info, made.trapped(up))


def beside_a_pit():
    """Two places run out by one bore, the wider one sooner: without tension nothing holds the other, and it ends by itself with
    what exact geometry leaves there."""
    made, up = convex.make(26), convex.poses(26)[1]
    found = vug.Mesh.from_arrays(*made.mesh()).cavities([bore.row for bore in made.bores], detect=0)
    thick = vug.Fluid(density_kg_m3=1200.0, consistency_pa_sn=1.0, surface_tension_n_m=0.0)
    info = found.drain([-x for x in up], fluid=thick).info
    assert not info.held and info.time_s > 0 and abs(info.liquid_mm3 - made.trapped(up)) < 0.1, (info, made.trapped(up))


slot_over_a_hole()
sheet_that_stays()
tiny_hollow()
beside_a_pit()
parts = int(sys.argv[1]) if LONG else 2
ran = sum(check(i, random.Random(400 + i)) for i in range(parts))
print(f"{3 * parts} drains of {parts} parts came to an end, {ran} by themselves")

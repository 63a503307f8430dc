#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""What openings resist, by their own measures and not by what columns show of them. A vent's bore that fills: Poiseuille's 8 mu
L Q / (pi r^4) and half of Sampson's 3 mu Q / r^3 (1891), whatever its width, length, slope and the columns. Holes that are not
round: Boussinesq's series of a rectangle, with an end by its area. A throat between two
chambers resists the same however the part leans: Poiseuille with both of Sampson's ends."""
import math
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
import house

house.use_package()
try:
    import numpy as np
except ImportError:
    house.skip("no numpy")
import boxes
import round_box
import vug

DENSITY = 1100.0
PA_PER_MM = DENSITY * 9.80665e-3


def box(voids, size):
    return boxes.faces([tuple(tuple(map(float, at)) for at in v) for v in voids], [float(s) for s in size])


def liquid(viscosity):
    return vug.Fluid(density_kg_m3=DENSITY, surface_tension_n_m=0.0, consistency_pa_sn=viscosity)


def bore_that_fills(wide, wall, lean, rate, columns):
    """Pressed in through the floor; the most there is at the inlet, as the vent's bore is full. 1 Pa s: creeping."""
    high = 22.0 + wall
    across, up = math.sin(math.radians(lean)), math.cos(math.radians(lean))
    holes = [[13, 13, 0, 0, 0, -1, 4], [15, 13, high, across, 0, up, wide]]
    found = vug.Cavities.find(box([((2, 2, 2), (24, 24, 22))], (30, 26, high)), np.array(holes, float))
    course = found.fill([0, 0, 1], fluid=liquid(1.0), viscous=1, inlet=0, inlet_sealed=1, columns_across=columns, rate_mm3_s=rate)
    got, r = course.info.peak_pressure_pa - PA_PER_MM * high, 0.5 * wide
    by_hand = rate * (8 * wall / up / (math.pi * r ** 4) + 1.5 / r ** 3)
    assert abs(got / by_hand - 1) < 0.03, (wide, wall, lean, rate, columns, got, by_hand)


def bore_that_columns_miss(wide, wall, rate, columns):
    """As above, straight up, too narrow for the columns: the same law, but that the head in the bore may be left out."""
    high = 22.0 + wall
    holes = [[13, 13, 0, 0, 0, -1, 4], [15, 13, high, 0, 0, 1, wide]]
    found = vug.Cavities.find(box([((2, 2, 2), (24, 24, 22))], (30, 26, high)), np.array(holes, float))
    course = found.fill([0, 0, 1], fluid=liquid(1.0), viscous=1, inlet=0, inlet_sealed=1, columns_across=columns, rate_mm3_s=rate)
    got, r = course.info.peak_pressure_pa - PA_PER_MM * 22.0, 0.5 * wide
    by_hand = rate * (8 * wall / (math.pi * r ** 4) + 1.5 / r ** 3)
    assert 0.99 * by_hand < got < 1.01 * by_hand + PA_PER_MM * wall, (wide, wall, rate, columns, got, by_hand)


def of_rectangle(a, b):
    """Resistance by length and viscosity."""
    low, wide = min(a, b), max(a, b)
    narrowed = sum(math.tanh(k * math.pi * wide / (2 * low)) / k ** 5 for k in range(1, 60, 2))
    return 12 / (low ** 3 * wide * (1 - 192 * low / (math.pi ** 5 * wide) * narrowed))


def hole_that_drains(a, b, wall):
    """Through the floor of a chamber of 400 mm2, from 18 to 8 mm over it, creeping. The end that liquid comes to: half of
    Sampson's for the circle of equal area at least, for a slot half of what a slit loses on both sides, 32 mu Q / (pi a^2 b)
    (Hasimoto 1958, J. Phys. Soc. Japan 13:633), which is for one that is far longer than wide: so 10 % in a thin wall."""
    viscosity = 2.0
    voids = [((2, 2, wall), (22, 22, wall + 20)), ((12 - a / 2, 12 - b / 2, 0), (12 + a / 2, 12 + b / 2, wall))]
    holes = [[12, 12, 0, 0, 0, -1, max(a, b)], [5, 5, wall + 22, 0, 0, 1, 5]]
    found = vug.Cavities.find(box(voids, (24, 24, wall + 22)), np.array(holes, float), cells_across=100)
    curve = found.drain([0, 0, 1], fluid=liquid(viscosity), columns_across=100).curve()

    def when(level):
        return np.interp(-(400 * level + a * b * wall), -curve[:, 1], curve[:, 0])
    slit = 16 / (math.pi * a * a * b) if b > 3 * a else 0.0
    end = max(slit, 1.5 / (a * b / math.pi) ** 1.5)
    by_hand = 400 * viscosity * (of_rectangle(a, b) * wall + end) / PA_PER_MM * math.log((wall + 18) / (wall + 8))
    assert abs((when(8) - when(18)) / by_hand - 1) < (0.1 if wall < 2 else 0.03), (a, b, wall, when(8) - when(18), by_hand)


def throat_that_leans(found, lean):
    """Chambers of 12 mm radius over each other, a throat of d 2 x 6 mm: what there is at the inlet over the level in the upper
    one while it fills (what ran into a corner by itself stands higher). A circle of cells gives it to 10 %."""
    up = np.array([math.sin(math.radians(lean)), 0.0, math.cos(math.radians(lean))])
    course = found.fill(up, fluid=liquid(1.0), viscous=1, inlet=0, inlet_sealed=1, columns_across=100, rate_mm3_s=50.0)
    curve = course.curve()
    time, _, pressure = curve[int(0.8 * len(curve))]
    places = np.array([[x, 0.0, z] for x in range(-10, 11, 2) for z in range(24, 38, 2)], float)
    levels = course.at_time(time).levels(places)
    level = min(z for z, at in zip(levels, places) if z > at @ up)
    got, by_hand = pressure - PA_PER_MM * level, 50 * (8 * 6 / math.pi + 3)
    assert abs(got / by_hand - 1) < 0.1, (lean, level, got, by_hand)


def rooms_over_each_other(a, b, long):
    """Two of 24 x 24 x 15 mm, a throat of those sides between them."""
    top = 34 + long
    part = box([((2, 2, 2), (26, 26, 17)), ((14 - a / 2, 14 - b / 2, 17), (14 + a / 2, 14 + b / 2, 17 + long)),
                ((2, 2, 17 + long), (26, 26, 32 + long))], (28, 28, top))
    return part, np.array([[10, 14, 0, 0, 0, -1, 4], [10, 14, top, 0, 0, 1, 4]], float)


def throat_of_few_cells(a, b, long, cells, most):
    """Not wider, or not longer, than two or three of the cells that find it: Boussinesq's rectangle, and the ends as in
    hole_that_drains on either side."""
    found = vug.Cavities.find(*rooms_over_each_other(a, b, long), cells_across=cells)
    (throat,) = found.throats(0)
    ends = 32 / (math.pi * a * a * b) if b > 3 * a else 3 / (a * b / math.pi) ** 1.5
    by_hand = of_rectangle(a, b) * long + ends
    assert abs(throat.resistance_mm3 / by_hand - 1) < most, (a, b, long, cells, throat, by_hand)
    assert abs(throat.radius_mm / (0.5 * a) - 1) < 1e-3, throat


def square_that_leans(lean):
    """3 x 3 x 12 mm: Boussinesq's square and Sampson's ends by its area, at the inlet over the level above, or over the lower
    edge of the throat while that level is lower still. Pieces of it beside the chambers' border resisted on their own: twice
    as much at 55 degrees, five times at 70."""
    part, holes = rooms_over_each_other(3, 3, 12)
    found = vug.Cavities.find(part, holes, cells_across=128)
    up = np.array([math.sin(math.radians(lean)), 0.0, math.cos(math.radians(lean))])
    course = found.fill(up, fluid=liquid(1.0), viscous=1, inlet=0, inlet_sealed=1, columns_across=100, rate_mm3_s=300.0)
    curve = course.curve()
    time, _, pressure = curve[int(0.85 * len(curve))]
    places = np.array([[x, 14.0, z] for x in (3, 8, 13, 20, 25) for z in np.arange(29.3, 44.0, 0.7)])
    levels = course.at_time(time).levels(places)
    edge = (np.array([14.0, 14.0, 29.0]) + 1.5 * np.array([-1.0, 0.0, 0.0])) @ up
    level = max(edge, min(z for z, at in zip(levels, places) if z > at @ up))
    got = pressure - PA_PER_MM * (level - holes[0][:3] @ up)
    by_hand = 300 * (of_rectangle(3, 3) * 12 + 3 / (9 / math.pi) ** 1.5)
    assert abs(got / by_hand - 1) < 0.1, (lean, level, got, by_hand)


def stacked():
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "stacked.stl"
        round_box.lathe(path, [(2, 0), (14, 0), (14, 40), (2, 40), (2, 38), (12, 38), (12, 23), (1, 23), (1, 17), (12, 17),
                               (12, 2), (2, 2), (2, 0)], 96)
        return vug.Cavities.find(vug.Mesh.load(str(path)), np.array([[0, 0, 0, 0, 0, -1, 4], [0, 0, 40, 0, 0, 1, 4]], float),
                                 cells_across=128)


for case in ((1.0, 2, 0, 20, 120), (2.0, 2, 0, 100, 60), (2.0, 6, 0, 20, 100), (3.0, 6, 0, 100, 200), (2.0, 6, 20, 20, 60),
             (2.0, 6, 40, 100, 100), (1.2, 4, 30, 20, 150)):
    bore_that_fills(*case)
for case in ((1.0, 4, 20, 10), (1.0, 2, 20, 50), (0.6, 3, 5, 20), (0.6, 3, 5, 100), (0.6, 3, 5, 200)):
    bore_that_columns_miss(*case)
for case in ((2, 2, 1), (2, 2, 10), (1, 6, 1), (1, 6, 10), (1.5, 3, 8)):
    hole_that_drains(*case)
leaning = stacked()
for lean in (0, 5, 20, 40):
    throat_that_leans(leaning, lean)
for case in ((1, 8, 20, 60, 0.1), (1, 8, 20, 128, 0.1), (1, 20, 20, 60, 0.1), (2, 2, 1, 128, 0.03), (4, 4, 2, 128, 0.03),
             (2, 2, 0.5, 60, 0.03), (1, 8, 1, 128, 0.03)):
    throat_of_few_cells(*case)
for lean in (55, 70):
    square_that_leans(lean)

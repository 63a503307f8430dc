#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""Tanks side by side that drain through holes in some of their floors, and into each other through slots: against
closed forms for linear laws (two and three tanks), and scipy's solve_ivp for random ones, and for what runs on as a sheet on
the floor of a slot. Usage: test_tanks.py [RANDOM_ROWS]
Without a number: two of the closed forms and one of the sheets alone."""
import math
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
    house.skip("no scipy")
import vug
import vug.flow

G, DENSITY, WALL, WIDE, HIGH = 9.80665, 1100.0, 2.0, 12.0, 24.0
PA_PER_MM = DENSITY * G * 1e-3
AREA = WIDE * WIDE
random.seed(71)


def cells(lengths, gap):
    """Boxes of voids along x; slots on the floor between them."""
    voids, x = [], WALL
    for i in range(len(lengths) + 1):
        voids.append(((x, WALL, WALL), (x + WIDE, WALL + WIDE, WALL + HIGH)))
        x += WIDE
        if i < len(lengths):
            voids.append(((x, WALL, WALL), (x + lengths[i], WALL + WIDE, WALL + gap)))
            x += lengths[i]
    return voids, x + WALL


def part(lengths, gap):
    """The boundary of a block with those voids, on the planes that they have."""
    voids, length = cells(lengths, gap)
    planes = [sorted({0.0, end} | {v[s][k] for v in voids for s in (0, 1)})
              for k, end in enumerate((length, WIDE + 2 * WALL, HIGH + 2 * WALL))]
    n = [len(p) - 1 for p in planes]
    solid = np.zeros([m + 2 for m in n], bool)
    for at in np.ndindex(*n):
        mid = [0.5 * (planes[k][at[k]] + planes[k][at[k] + 1]) for k in range(3)]
        solid[tuple(i + 1 for i in at)] = not any(
            all(v[0][k] < mid[k] < v[1][k] for k in range(3)) for v in voids)
    number, points, triangles = {}, [], []

    def corner(index):
        if index not in number:
            number[index] = len(points)
            points.append([planes[k][index[k]] for k in range(3)])
        return number[index]

    for at in np.ndindex(*[m + 1 for m in n]):
        for k in range(3):
            after = tuple(a + (i == k) for i, a in enumerate(at))
            if any(a == 0 for i, a in enumerate(at) if i != k) or after[k] > n[k] + 1 \
                    or solid[at] == solid[after]:
                continue
            u, v = (k + 1) % 3, (k + 2) % 3
            base = [a - 1 for a in at]
            base[k] += 1
            square = []
            for du, dv in ((0, 0), (1, 0), (1, 1), (0, 1)):
                index = list(base)
                index[u] += du
                index[v] += dv
                square.append(corner(tuple(index)))
            if not solid[at]:
                square.reverse()
            triangles += [square[:3], [square[0], square[2], square[3]]]
    return vug.Mesh.from_arrays(np.array(points), np.array(triangles, np.uint32))


class Row:
    """Tanks with vents in their roofs; holes: diameters of those in their floors, 0 for none."""

    def __init__(self, lengths, gap, holes, viscosity):
        self.fluid = vug.Fluid(density_kg_m3=DENSITY, consistency_pa_sn=viscosity, surface_tension_n_m=0.03)
        self.holes, self.viscosity, self.gap = holes, viscosity, gap
        rows, x = [], WALL + 0.5 * WIDE
        self.middles = []
        for i, d in enumerate(holes):
            self.middles.append(x)
            rows.append([x, WALL + 0.5 * WIDE, HIGH + 2 * WALL, 0, 0, 1, 3])
            if d > 0:
                rows.append([x, WALL + 0.5 * WIDE, 0, 0, 0, -1, d])
            x += WIDE + (lengths[i] if i < len(lengths) else 0)
        self.cavities = vug.Cavities.find(part(lengths, gap), np.array(rows, float), cells_across=100)
        throats = sorted(self.cavities.throats(0), key=lambda t: t.center_mm[0])
        assert len(throats) == len(lengths), len(throats)
        self.slot = [t.resistance_mm3 for t in throats]

    def hole_flow(self, i, z):
        """Out of the floor of tank i, whose level is z over the lip, by the library's law of the hole."""
        if self.holes[i] <= 0 or z <= 0:
            return 0.0
        return float(vug.flow.hole_flow(self.fluid, self.holes[i], WALL, [z * PA_PER_MM])[0])

    def slope(self, z):
        down = [-self.hole_flow(i, h) / AREA for i, h in enumerate(z)]
        for i, r in enumerate(self.slot):
            flow = (z[i] - z[i + 1]) * PA_PER_MM / (self.viscosity * r) / AREA
            down[i] -= flow
            down[i + 1] += flow
        return down

    def sheet_slope(self, z):
        """The same below the roof of the slots. By hand from Reynolds' equation for a slot of height g, as in
        ../transient/test_row.py: a sheet of depth h that does not touch the roof carries h^3 / 3, under the roof g^3 / 12;
        the flow goes with the difference of h^4 / g^3, or of h from there on (Strack 1976, for ground water)."""
        def potential(high):
            return high if high > self.gap else max(0.0, high) ** 4 / self.gap ** 3

        down = [-self.hole_flow(i, h) * min(1.0, max(0.0, h - WALL) / 0.01) / AREA for i, h in enumerate(z)]
        for i, r in enumerate(self.slot):
            flow = (potential(z[i] - WALL) - potential(z[i + 1] - WALL)) * PA_PER_MM / (self.viscosity * r) / AREA
            down[i] -= flow
            down[i + 1] += flow
        return down

    def levels(self, course, time):
        """The height of the liquid in each tank."""
        moment, out = course.at_time(time), []
        for x in self.middles:
            points = np.array([[x + 3.0, WALL + 2.0, WALL + h] for h in np.arange(0.02, HIGH, 0.1)])
            levels = np.array(moment.levels(points))
            wet = levels > points[:, 2]
            out.append(levels[wet].max() if wet.any() else WALL)
        return np.array(out)

    def drain(self):
        return self.cavities.drain([0, 0, 1], fluid=self.fluid, columns_across=80)

    def worst(self, level, course, end):
        """The greatest difference of what has run out from what has by the levels, as a part of the whole."""
        full, worst = WALL + HIGH, 0.0
        start = course.at_time(0.0).info.liquid_mm3
        for k in range(1, 9):
            t = end * k / 8
            out = start - course.at_time(t).info.liquid_mm3
            expected = AREA * sum(full - z for z in level(t))
            worst = max(worst, abs(out - expected) / (AREA * HIGH * len(self.holes)))
        return worst


def first_dry(row):
    """When the lowest tank comes to the slot, and the levels till then."""
    def dry(_, z):
        return min(z) - (WALL + row.gap + 0.2)
    dry.terminal = True
    got = solve_ivp(lambda _, z: row.slope(z), (0, 1e5), [WALL + HIGH] * len(row.holes), events=dry,
                    dense_output=True, rtol=1e-6, atol=1e-6)
    return got.t[-1], got.sol


def closed_form(row):
    """Linear laws: dz/dt = -M z, by the eigenvectors of M, which is symmetric."""
    n = len(row.holes)
    m = np.zeros((n, n))
    for i in range(n):
        m[i, i] += row.hole_flow(i, 20.0) / 20.0 / AREA
    for i, r in enumerate(row.slot):
        g = PA_PER_MM / (row.viscosity * r) / AREA
        m[i, i] += g
        m[i + 1, i + 1] += g
        m[i, i + 1] -= g
        m[i + 1, i] -= g
    rate, way = np.linalg.eigh(m)
    return lambda t: way @ (np.exp(-rate * t) * (way.T @ np.full(n, WALL + HIGH)))


def check(name, worst, most):
    print(f"{name}: {100 * worst:.2f} % of the whole, at most {100 * most:.0f} %")
    assert worst <= most, name


# Creeping, 10 Pa s: the hole's law is linear to 1 %.
for lengths, holes in (([8.0], [3.0, 0.0]), ([8.0, 5.0], [3.0, 0.0, 0.0]),
                       ([8.0, 5.0], [0.0, 2.5, 0.0]))[:3 if len(sys.argv) > 1 else 2]:
    row = Row(lengths, 2.0, holes, 10.0)
    end, _ = first_dry(row)
    check(f"{len(holes)} tanks in closed form", row.worst(closed_form(row), row.drain(), end), 0.01)

# From full until what stands in the far tank is a sheet half as high as the slot.
for lengths, gap, holes, viscosity in (([10.0], 2.0, [4.0, 0.0], 0.5), ([10.0], 3.0, [4.0, 0.0], 0.2),
                                       ([8.0, 10.0], 2.0, [4.0, 0.0, 0.0], 0.5))[:3 if len(sys.argv) > 1 else 1]:
    row = Row(lengths, gap, holes, viscosity)

    def is_thin(_, z):
        return max(z) - WALL - 0.5 * row.gap
    is_thin.terminal = True
    got = solve_ivp(lambda _, z: row.sheet_slope(z), (0, 1e5), [WALL + HIGH] * len(holes), events=is_thin,
                    dense_output=True, rtol=1e-6, atol=1e-6, max_step=0.5)
    course, worst = row.drain(), 0.0
    for k in range(1, 13):
        t = got.t[-1] * k / 12
        worst = max(worst, np.abs(got.sol(t) - row.levels(course, t)).max() / HIGH)
    check(f"sheets of {len(holes)} tanks", worst, 0.03)
    assert course.info.time_s < 20 * got.t[-1] and course.info.liquid_mm3 < 1.0 and not course.info.held, course.info

# Any law of the hole, two to four tanks.
for i in range(int(sys.argv[1]) if len(sys.argv) > 1 else 0):
    count = random.randint(2, 4)
    lengths = [random.uniform(3.0, 10.0) for _ in range(count - 1)]
    holes = [random.choice([0.0, random.uniform(1.0, 3.5)]) for _ in range(count)]
    holes[random.randrange(count)] = random.uniform(1.5, 3.5)
    row = Row(lengths, random.uniform(1.5, 2.5), holes, math.exp(random.uniform(math.log(0.2), math.log(5.0))))
    end, level = first_dry(row)
    check(f"random row {i} of {count}", row.worst(level, row.drain(), end), 0.01)

#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""vug-plan --design --write-part on a closed, hollow ball: the file has the planned holes and the cavity they open, as
vug-measure finds them, and a plan of it needs no new hole."""
import json
import math
import subprocess
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
import house

PROGRAMS = house.BUILD / "examples" / "tools"
if not (PROGRAMS / "vug-plan").exists():
    house.skip("the examples are not built")
report = house.Report()
check = report.check

QUICK = ("--poses", "12", "--columns", "40", "--turns", "0")


def run(program, *arguments):
    done = subprocess.run([PROGRAMS / f"vug-{program}", *map(str, arguments)], capture_output=True, text=True,
                          timeout=300, stdin=subprocess.DEVNULL)
    check(done.returncode == 0, f"{program} {arguments}: exit {done.returncode}: {done.stderr}")
    return done.stdout


def ball(radius, n, inward):
    """Facets of a ball, n around and n / 2 down."""
    def point(i, j):
        a, b = math.pi * i / (n // 2), 2 * math.pi * (j % n) / n
        return radius * math.sin(a) * math.cos(b), radius * math.sin(a) * math.sin(b), radius * math.cos(a)

    facets = []
    for i in range(n // 2):
        for j in range(n):
            p, q, r, s = point(i, j), point(i + 1, j), point(i + 1, j + 1), point(i, j + 1)
            facets += ([[p, q, r]] if i < n // 2 - 1 else []) + ([[p, r, s]] if i > 0 else [])
    return [f[::-1] if inward else f for f in facets]


def volume(facets):
    return sum(a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2]) + a[2] * (b[0] * c[1] - b[1] * c[0])
               for a, b, c in facets) / 6


def inner_radius(facets):
    """How near the middle the planes of its facets come."""
    def off(a, b, c):
        u, v = [[q[k] - a[k] for k in range(3)] for q in (b, c)]
        n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]]
        return sum(x * y for x, y in zip(a, n)) / math.hypot(*n)
    return min(off(*f) for f in facets)


def write(path, facets):
    with open(path, "w", encoding="ascii") as f:
        print("solid part", file=f)
        for facet in facets:
            print("facet normal 0 0 0\nouter loop", file=f)
            for p in facet:
                print("vertex %.6f %.6f %.6f" % p, file=f)
            print("endloop\nendfacet", file=f)
        print("endsolid part", file=f)


with tempfile.TemporaryDirectory() as folder:
    part, bored = Path(folder) / "part.stl", Path(folder) / "bored.stl"
    skin, hollow = ball(10, 40, False), ball(8, 40, True)
    write(part, skin + hollow)
    room = -volume(hollow)
    before = json.loads(run("measure", part, "--json", "-"))
    check(before["mesh"]["closed"] and before["mesh"]["volume_mm3"] > 0, f"the ball: {before['mesh']}")
    plan = json.loads(run("plan", part, "--design", "--write-part", bored, *QUICK, "--json", "-"))
    after = json.loads(run("measure", bored, "--json", "-"))
    check(after["mesh"]["closed"], "the part with its holes is not closed")
    check(len(after["cavities"]) == 1, f"{len(after['cavities'])} cavities")
    cavity = after["cavities"][0]
    removed = sum(math.pi / 4 * b["diameter_mm"] ** 2 * b["depth_mm"] for b in plan["bores"])
    change = before["mesh"]["volume_mm3"] - after["mesh"]["volume_mm3"]
    check(abs(change - removed) < 0.05 * removed, f"{change} mm3 less, by hand {removed}")
    want = room + change  # a bore counts with the cavity that it opens
    check(abs(cavity["volume_mm3"] - want) < 0.001 * want, f"cavity of {cavity['volume_mm3']} mm3, not {want}")
    check(len(plan["bores"]) >= 1, "nothing was planned")
    check(len(cavity["openings"]) == len(plan["bores"]), f"{len(cavity['openings'])} openings, {len(plan['bores'])} bores")
    # a bore of radius r begins on the skin, and amid its rim an opening lies R - sqrt(R^2 - r^2) below the ball's top; the
    # facets lie between two balls, so each of the two radii is one between theirs
    inner, outer = inner_radius(skin), 10.0
    for bore in plan["bores"]:
        near = min(cavity["openings"], key=lambda o: math.dist(o["center_mm"], bore["point_mm"]))
        deep, r = math.dist(near["center_mm"], bore["point_mm"]), bore["diameter_mm"] / 2
        least, most = inner - math.sqrt(outer ** 2 - r * r), outer - math.sqrt(inner ** 2 - r * r)
        check(least <= deep <= most, f"no opening at {bore['point_mm']}: {deep} mm off, by hand {least} to {most}")
        check(abs(near["diameter_mm"] - bore["diameter_mm"]) < 0.02, f"{near['diameter_mm']} mm, not {bore['diameter_mm']}")
        check(abs(near["bore_length_mm"] - bore["depth_mm"]) < 0.1, f"{near['bore_length_mm']} mm, not {bore['depth_mm']}")
    again = json.loads(run("plan", bored, *QUICK, "--json", "-"))
    check(again["bores"] == [], f"the part with its holes needs more: {again['bores']}")
report.end()

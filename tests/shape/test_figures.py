#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""From a solid figure to one that can be filled: vug-hollow opens it, vug-plan --design --write-part cuts the holes that it
chose, vug-measure finds that cavity and those bores, and a plan of the result needs no new hole.

    tests/shape/test_figures.py [--all]    all three figures, in place of the first
"""
import json
import math
import subprocess
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
import house

PROGRAMS = house.BUILD / "examples" / "tools"
if not (PROGRAMS / "vug-hollow").exists():
    house.skip("the examples are not built")
house.use_package()
import vug  # noqa: E402

DATA = house.SRC / "tests" / "data"
# name, millimetres of its unit, wall; sources and licences: tests/data/README.md
FIGURES = ("spot.ply", 40, 2.0), ("suzanne.stl", 25, 2.0), ("csg_with_sealed_ball.stl", 1, 0.8)
QUICK = "--poses", "24", "--columns", "80"
report = house.Report()
check = report.check


def run(program, *words):
    done = subprocess.run([PROGRAMS / f"vug-{program}", *map(str, words)], capture_output=True, text=True, timeout=600,
                          stdin=subprocess.DEVNULL)
    check(done.returncode == 0, f"{program} {words}: exit {done.returncode}: {done.stderr}")
    return done.stdout


def follow(room, name, scale, wall):
    solid, hollow, bored = (room / f"{step}.stl" for step in ("solid", "hollow", "bored"))
    vug.Mesh.load(DATA / name, unit_mm=scale, warn_of_size=0).save(solid)
    sealed = sum(c["volume_mm3"] for c in json.loads(run("measure", solid, "--json", "-"))["cavities"])
    made = json.loads(run("hollow", solid, hollow, "--wall", wall, "--chamber", 2 * wall, "--json", "-"))
    plan = json.loads(run("plan", hollow, "--design", "--write-part", bored, *QUICK, "--json", "-"))
    found = json.loads(run("measure", bored, "--json", "-"))
    check(found["mesh"]["closed"], f"{name}: not closed with its holes")
    volumes = sum(c["volume_mm3"] for c in found["cavities"])
    # what was sealed in the figure before is a cavity still, and bores count with the cavity that they open
    cut = sum(math.pi / 4 * b["diameter_mm"] ** 2 * b["depth_mm"] for b in plan["bores"])
    want = made["cavity"]["volume_mm3"] + sealed + cut
    check(abs(volumes / want - 1) < 1e-3, f"{name}: {volumes} mm3 of cavities, by hand {want}")
    openings = [o for c in found["cavities"] for o in c["openings"]]
    check(len(plan["bores"]) > 0 and len(openings) == len(plan["bores"]), f"{name}: {len(openings)} openings, {len(plan['bores'])} bores")
    for bore in plan["bores"]:
        away, width = min((math.dist(o["center_mm"], bore["point_mm"]), o["diameter_mm"]) for o in openings)
        check(away < 0.5 * bore["diameter_mm"], f"{name}: no opening at {bore['point_mm']}")
        check(abs(width / bore["diameter_mm"] - 1) < 0.02, f"{name}: {width} mm wide, not {bore['diameter_mm']}")
    again = json.loads(run("plan", bored, *QUICK, "--json", "-"))
    check(again["bores"] == [], f"{name}: needs more holes: {again['bores']}")
    print(f"{name}: {volumes / 1000:.1f} mL, holes: {len(openings)}")


for figure in FIGURES if sys.argv[1:] == ["--all"] else FIGURES[:1]:
    with tempfile.TemporaryDirectory() as folder:
        follow(Path(folder), *figure)
report.end()

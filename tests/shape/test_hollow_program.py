#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""vug-hollow: a box comes out hollow and bored, as vug-measure finds it; made to be filled; what it says, and what it
refuses."""
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
report = house.Report()
check = report.check


def run(program, *arguments, code=0):
    done = subprocess.run([PROGRAMS / f"vug-{program}", *map(str, arguments)], capture_output=True, text=True,
                          timeout=120, stdin=subprocess.DEVNULL)
    check(done.returncode == code, f"{program} {arguments}: exit {done.returncode}: {done.stderr}")
    return done.stdout + done.stderr


def write_boxes(path, *boxes):
    """Each by its lowest corner and its size."""
    faces = ((0, 2, 1), (1, 2, 3), (4, 5, 6), (5, 7, 6), (0, 1, 4), (1, 5, 4),
             (2, 6, 3), (3, 6, 7), (0, 4, 2), (2, 4, 6), (1, 3, 5), (3, 7, 5))
    with open(path, "w", encoding="ascii") as f:
        print("solid boxes", file=f)
        for lo, size in boxes:
            corner = [tuple(l + s * (i >> k & 1) for k, (l, s) in enumerate(zip(lo, size))) for i in range(8)]
            for face in faces:
                print("facet normal 0 0 0\nouter loop", file=f)
                for c in face:
                    print("vertex %g %g %g" % corner[c], file=f)
                print("endloop\nendfacet", file=f)
        print("endsolid boxes", file=f)


def near(found, expected, part, what):
    check(abs(found - expected) <= part * abs(expected), f"{what}: {found}, not {expected}")


with tempfile.TemporaryDirectory() as folder:
    solid, hollow, saved = (Path(folder) / name for name in ("box.stl", "hollow.stl", "hollow.json"))
    box = (0, 0, 0), (40, 30, 20)
    write_boxes(solid, box)
    bores = ("--bore", "12,15,0,0,0,1,4", "--bore", "28,15,0,0,0,1,3")
    told = run("hollow", solid, hollow, "--cells", 60, *bores, "--json", saved)
    check("cavity: 14.9 mL without holes" in told or "cavity: 15.0 mL without holes" in told, told)
    check("bore 2: 3.00 mm wide, 2.0" in told and "gloves" in told, told)
    check("made to be filled" not in told, told)
    made = json.loads(saved.read_text())
    near(made["cavity"]["volume_mm3"], 36 * 26 * 16, 0.01, "cavity, by hand")
    near(made["bores"][0]["volume_mm3"], math.pi * 4 * 2, 0.05, "bore, by hand")
    check(made["filling"] is None and made["solid"] == [], "no more is told than was asked")
    seen = json.loads(run("measure", hollow, "--json", "-"))
    cavities = seen["cavities"]
    check(len(cavities) == 1, f"{len(cavities)} cavities")
    near(cavities[0]["volume_mm3"], made["cavity"]["volume_mm3"] + sum(b["volume_mm3"] for b in made["bores"]), 1e-3,
         "cavity and bores as measured")
    widths = sorted(o["diameter_mm"] for o in cavities[0]["openings"])
    check(len(widths) == 2 and abs(widths[0] - 3) < 0.03 and abs(widths[1] - 4) < 0.04, f"openings {widths}")

    # by hand: the narrow side up, its ceiling falls to both sides of the middle over 26 mm, and along 16 mm
    made = json.loads(run("hollow", solid, hollow, "--cells", 60, "--fillable", 8, "--fill-up", "5,0,0", "--json", "-"))
    mean = sum(math.hypot(26 * (i / 100 - 0.495), 16 * (j / 100 - 0.495)) for i in range(100) for j in range(100)) / 1e4
    added, exact = made["filling"]["added_mm3"], math.tan(math.radians(10)) * mean * 26 * 16
    check(0.97 * exact < added < 1.03 * 1.0824 * exact, f"added {added}, straight {exact}")
    check(made["filling"]["bare_mm2"] <= made["filling"]["bare_before_mm2"], "bare skin")
    told = run("hollow", solid, hollow, "--cells", 60, "--fillable", 8, "--slope", 5)
    check("ceilings rise by 5 degrees" in told and "no opening yet" in told, told)

    # hollow and holes in one go; a plate beside it is too thin to be hollow
    both = Path(folder) / "both.stl"
    write_boxes(both, box, ((50, 0, 0), (3, 30, 20)))
    told = run("plan", both, "--design", "--hollow", 2, "--write-part", hollow, "--poses", 12, "--columns", 40, "--turns", 0,
               "--json", saved)
    plan = json.loads(saved.read_text())
    check("solid, because too thin to hollow:" in told and "3.0 mm wide, 1.8" in told, told)
    cavities = json.loads(run("measure", hollow, "--json", "-"))["cavities"]
    check(len(cavities) == 1, f"{len(cavities)} cavities")
    cut = sum(math.pi / 4 * b["diameter_mm"] ** 2 * b["depth_mm"] for b in plan["bores"])
    near(cavities[0]["volume_mm3"], 36 * 26 * 16 + cut, 0.01, "cavity and the holes planned, by hand")
    check(len(plan["bores"]) == len(cavities[0]["openings"]) > 0, f"{len(plan['bores'])} holes")
    near(plan["cavity_made"]["volume_mm3"], 36 * 26 * 16, 0.01, "cavity that it made, by hand")
    check(len(plan["solid"]) == 1, f"solid: {plan['solid']}")
    near(plan["solid"][0]["width_mm"], 3, 0.02, "the plate's width")
    near(plan["solid"][0]["volume_mm3"], 3 * 30 * 20, 0.1, "the plate's volume, of cells")
    check(abs(plan["solid"][0]["point_mm"][0] - 51.5) < 0.1, f"the plate's middle: {plan['solid']}")
    # what runs out of it, and until when, is one thing to vug-plan and to vug-drain, each on its own columns
    step = plan["drain_steps"][0]
    asked = "drain", hollow, "--up", "%.17g,%.17g,%.17g" % tuple(step["up"]), "--liquid", "isopropanol"
    drain = json.loads(run(*asked, "--json", "-"))
    check(step["time_s"] is not None and drain["runs_s"] is not None, f"does it run? {step['time_s']}, {drain['runs_s']}")
    near(drain["runs_s"], step["time_s"], 0.1, "time that it runs out in, by vug-drain")
    check(abs(drain["stuck_mm3"] - step["stuck_mm3"]) < 50, f"hangs: {drain['stuck_mm3']}, by the plan {step['stuck_mm3']}")
    told = run(*asked)
    check(f"{drain['runs_s']:.1f} s" in told and "never by itself" not in told, told)
    check("goes with --design" in run("plan", solid, "--hollow", 2, code=2), "a wall for a part that is printed")
    check("if it is solid" in run("plan", solid, "--design", code=1), "a solid part")

    check("no less than wall_mm" in run("hollow", solid, hollow, "--fillable", 1, code=2), "a wall below the wall")
    done = subprocess.run([PROGRAMS / "vug-hollow", solid, hollow, "--cells", "60", "--simplify", "0.1"], capture_output=True,
                          text=True, timeout=120, stdin=subprocess.DEVNULL)
    check("before it was simplified" in done.stdout if done.returncode == 0 else "meshoptimizer" in done.stderr,
          f"fewer triangles: {done.stdout}{done.stderr}")
    check("goes with --hollow" in run("plan", solid, "--simplify", 0.1, code=2), "nothing to simplify")
    check("need --fillable" in run("hollow", solid, hollow, "--slope", 5, code=2), "a slope for nothing")
    check("too thin" in run("hollow", solid, hollow, "--wall", 9.5, code=1), "no room")
    check("box2" in run("hollow", Path(folder) / "box2.stl", hollow, code=1), "no file")
report.end()

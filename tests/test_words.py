#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""What the programs tell a person is what a person can do: no time above a day, no pressure above what drives it or a
syringe bears, no amount below what a syringe shows, no power of ten, nothing that is not a number. Liquids from thin to
those that do not move, parts with narrow throats and narrow holes, several poses. The bounds are common practice.

    tests/test_words.py [all]      all: every part with every liquid in every pose, some minutes (make check-long)
"""
import math
import os
import re
import struct
import subprocess
import sys
import tempfile
from pathlib import Path

import house
import reach

TOOLS = house.BUILD / "examples" / "tools"
if not (TOOLS / "vug-plan").exists():
    house.skip("no tools")
SIDES = 32
report = house.Report()
every, quick = "all" in sys.argv[1:], bool(os.environ.get("VUG_QUICK"))


def write(path, triangles):
    with open(path, "wb") as f:
        f.write(b"\0" * 80 + struct.pack("<I", len(triangles)))
        for t in triangles:
            f.write(struct.pack("<12fH", 0, 0, 0, *[x for p in t for x in p], 0))


def lathe(path, *profiles):
    """Closed surfaces around z: each a profile of (radius, height) from the axis to the axis."""
    def point(r, z, m):
        turn = 2 * math.pi * (m % SIDES) / SIDES
        return r * math.cos(turn), r * math.sin(turn), z
    triangles = []
    for profile in profiles:
        for (r, z), (r2, z2) in zip(profile, profile[1:]):
            for m in range(SIDES):
                a, b, c, d = point(r, z, m), point(r, z, m + 1), point(r2, z2, m + 1), point(r2, z2, m)
                if r > 0:
                    triangles.append((a, b, c) if r2 > 0 else (a, b, d))
                if r2 > 0:
                    triangles.append((a, c, d))
    write(path, triangles)


def balls(path, radius, throat):
    """Two over each other, in a cylinder: the top of its lid."""
    edge = math.asin(0.5 * throat / radius)
    high = 2 * radius * math.cos(edge)
    arc = [edge + (math.pi - edge) * i / 16 for i in range(17)]
    low = [(radius * math.sin(a) if a < math.pi else 0.0, radius * math.cos(a)) for a in reversed(arc)]
    inner = low + [(r, high - z) for r, z in reversed(low)][1:]
    out = radius + 2
    lathe(path, [(0, -out), (out, -out), (out, high + out), (0, high + out)], inner[::-1])
    return high + out


def cells(path, size, hollow):
    """The boundary of a block of unit cells, some of them hollow."""
    full = {(i, j, k) for i in range(size[0]) for j in range(size[1]) for k in range(size[2])} - hollow
    triangles = []
    for cell in full:
        for axis in range(3):
            for side in (0, 1):
                beside = tuple(c + (2 * side - 1) * (n == axis) for n, c in enumerate(cell))
                if beside in full:
                    continue
                u, v = (axis + 1) % 3, (axis + 2) % 3
                corner = [[c + (side if n == axis else 0) for n, c in enumerate(cell)] for _ in range(4)]
                corner[1][u] += 1
                corner[2][u] += 1
                corner[2][v] += 1
                corner[3][v] += 1
                if not side:
                    corner.reverse()
                triangles += [(corner[0], corner[1], corner[2]), (corner[0], corner[2], corner[3])]
    write(path, triangles)


def run(program, *words):
    done = subprocess.run([TOOLS / program, *map(str, words)], capture_output=True, text=True, timeout=200)
    return done.returncode, done.stdout, done.stderr


def scan(what, text):
    reach.scan(report, what, text)


LIQUIDS = {
    "water": [],
    "thinned acrylic": ["--liquid", "thinned-acrylic"],
    "craft acrylic": ["--liquid", "craft-acrylic"],
    "plaster": ["--liquid", "plaster-slip"],
    "tar": ["--viscosity", "1e5", "--density", "1100"],
    "gas": ["--viscosity", "1e-6", "--density", "1", "--tension", "0"],
    "stiff": ["--yield", "200", "--index", "0.4", "--viscosity", "30"],
}

with tempfile.TemporaryDirectory() as folder:
    two, comb, coral = (Path(folder) / f"{name}.stl" for name in ("two", "comb", "coral"))
    lid = balls(two, 10, 3.5)
    # teeth 2 wide and 8 high on a gallery: a comb, fed at one end
    hollow = {(x, y, 1) for x in range(1, 20) for y in (1, 2)}
    hollow |= {(x, y, z) for x in range(1, 20) if x % 4 in (1, 2) for y in (1, 2) for z in range(2, 10)}
    cells(comb, (21, 4, 11), hollow)
    if every:
        made = subprocess.run([TOOLS / "vug-coral", "--out", coral, "--resolution", "40"], capture_output=True)
        report.check(made.returncode == 0, "vug-coral")
    parts = {
        "two balls": [two, "--hole", f"0,0,{lid},0,0,1,3"],
        "comb": [comb, "--hole", "0,2,1.5,-1,0,0,1", "--hole", "21,2,1.5,1,0,0,0.6"],
        "coral": [coral],
    }
    few = {("two balls", "thinned acrylic"): ("vug-drain", "--rate")}
    for part, words in parts.items():
        for name, liquid in LIQUIDS.items():
            if not every and (part, name) not in few:
                continue
            for up in ("0,0,1", "1,0.2,-0.5") if every else ("0,0,1",):
                common = [*words, *liquid, "--up", up, "--columns", "40"]
                for program, more in (("vug-drain", []), ("vug-fill", ["--rate", "0.01"]),
                                      ("vug-fill", ["--pressure", "5000", "--tight"])):
                    if not every and (more or [program])[0] not in few[part, name]:
                        continue
                    what = f"{program} {part}, {name}, up {up} {' '.join(more)}"
                    code, text, error = run(program, *common, *more)
                    report.check(code in (0, 1), f"{what}: exit {code}, {error}")
                    scan(what, text + error)
                    if (part, name, up, more[:1]) == ("two balls", "thinned acrylic", "0,0,1", ["--rate"]):
                        waits = text
                    driven = re.search(r"At the inlet +([0-9.]+) Pa", text)
                    if "--pressure" in more and driven: # the syringe, and the liquid's own head: 40 mm of 1800 kg/m3
                        report.check(float(driven[1]) <= 5000 + 2000, f"{what}: {driven[1]} Pa at the inlet")

    # Two rooms of 160 and 40 mm3 with a hole to drill each, by hand: the one that was named first is filled
    rooms, holes = Path(folder) / "rooms.stl", ["5,3,6,0,0,1,1.5", "15,3,6,0,0,1,1.5"]
    cells(rooms, (19, 6, 6), {(x, y, z) for x in [*range(1, 11), *range(13, 18)] for y in range(1, 5)
                              for z in range(1, 5) if x < 13 or (y > 1 and z < 5 and y < 4)})
    for order, other in ((holes, "B"), (holes[::-1], "A")):
        code, text, error = run("vug-fill", rooms, "--hole", order[0], "--hole", order[1], "--columns", "40")
        report.check(f"another cavity by {other}" in text, f"named {order}: {text} {error}")

    # A hole of 2 x 2 mm in a wall of 2 mm, and an open roof: by hand 200 Pa of yield stress hold 4 * 200 * 2 / 2 = 800 Pa
    # in it, and 20 mm of paint press with 216
    jar, paste = Path(folder) / "jar.stl", ["--density", "1100", "--viscosity", "1", "--tension", "0", "--columns", "40"]
    cells(jar, (12, 12, 20), {(x, y, z) for x in range(1, 11) for y in range(1, 11) for z in range(2, 19)}
          | {(x, y, z) for x in (5, 6) for y in (5, 6) for z in (0, 1, 19)})
    for stress, holds in (("200", True), ("0", False)):
        code, text, error = run("vug-drain", jar, *paste, "--yield", stress)
        report.check(("its yield stress holds the liquid" in text) == holds and not re.search("never +nothing", text), text + error)
        report.check(("once helped" in text) == holds, text)
    code, text, error = run("vug-fill", jar, "--release", "--viscous")
    report.check(code == 2 and "--release does not go with --viscous" in error, error)

    # The same in time: what drives it is the most there can be
    for name in LIQUIDS if every else ("water",):
        code, text, error = run("vug-fill", *parts["comb"], *LIQUIDS[name], "--columns", "40", "--pressure", "5000",
                                "--tight", "--viscous")
        scan(f"vug-fill comb in time, {name}", text + error)
        driven = re.search(r"At the inlet +([0-9.]+) Pa", text)
        report.check(not driven or float(driven[1]) <= 5001, f"comb in time, {name}: {driven and driven[1]} Pa")

    # A rate, a lift and a liquid that nobody works with: said in words, and no more than there is room or air for
    wild = ["--viscosity", "200", "--columns", "40"]
    code, text, error = run("vug-fill", *parts["comb"], *wild, "--rate", "1e6", "--viscous")
    report.check(code == 1 and "which no part bears: fill more slowly" in error, f"a rate no part bears: {code} {error}")
    scan("vug-fill at a rate that no part bears", text + error)
    code, text, error = run("vug-fill", *parts["comb"], *wild, "--rate", "1000", "--viscous")
    report.check(code == 0, f"vug-fill at a wild rate: {error}")
    scan("vug-fill at a wild rate", text)
    report.check("out of reach of a syringe" in text, text)
    report.check("First spill       at once" in text or "First spill" not in text, text)
    report.check(all(float(mm) <= 11 for mm in re.findall(r"Over a sill +([0-9.]+) mm", text)), text)
    code, text, error = run("vug-drain", *parts["comb"], *wild, "--printing", "--resin-viscosity", "100",
                            "--lift", "100", "--supports")
    report.check(code == 0, f"vug-drain at a wild lift: {error}")
    scan("vug-drain at a wild lift", text)
    report.check("as much as the air can press" in text, text)
    report.check("Film on walls     none" in text, text)  # all of it hangs: a film is left where liquid ran out

    # A made part with bores, in poses along and across, thick and thin liquids
    opened = house.SRC / "tests" / "data" / "openings" / "box1072.stl"
    for up in ("0,0,1", "1,0,0") if every else ("0,0,1",):
        for name in LIQUIDS if every else ("stiff",) if quick else ("water", "stiff"):
            common = [opened, *LIQUIDS[name], "--up", up, "--columns", "40"]
            for program, more in (("vug-drain", ["--printing"]), ("vug-fill", ["--rate", "1e-6", "--poured"]),
                                  ("vug-fill", ["--pressure", "1e7", "--tight", "--release", "--rate-limit"]),
                                  ("vug-fill", ["--volume", "3"])):
                code, text, error = run(program, *common, *more)
                report.check(code == 0, f"{program} {name}, up {up} {' '.join(more)}: {error}")
                scan(f"{program} opened box, {name}, up {up} {' '.join(more)}", text + error)
    # A block that is hollowed, as one does it and as nobody does: numbers without powers of ten, amounts that one can measure
    block, made = Path(folder) / "block.stl", Path(folder) / "made.stl"
    cells(block, (20, 20, 20), set())
    for more in ([], ["--fillable", "4"], ["--bore", "10,10,0,0,0,1,1e9"], ["--bore", "10,10,0,0,0,1,1e-5"],
                 ["--chamber", "1e5"], ["--wall", "1e-9"], ["--base", "-1e9"], ["--units", "um"]):
        code, text, error = run("vug-hollow", block, made, *more)
        report.check(code in (0, 1, 2) and (text or error), f"vug-hollow {more}: exit {code}, {error}")
        scan(f"vug-hollow {' '.join(more)}", text + error)
    strange = (["--syringe", "0.2"], ["--syringe", "1e4"], ["--drill", "1e-9"], ["--limit", "1e-9"],
               ["--keep-clear", "0,0,0,1e9"], ["--inside-ml", "1e7"])
    for more in strange if every else strange[1:3]:
        code, text, error = run("vug-plan", *parts["comb"], "--columns", "40", "--poses", "8", "--bores", "0", "--turns",
                                "0", *more)
        report.check(code in (0, 1, 2) and (text or error), f"vug-plan comb {more}: exit {code}, {error}")
        scan(f"vug-plan comb {' '.join(more)}", text + error)
    code, text, error = run("vug-measure", opened)
    scan("vug-measure opened box", text + error)

    # An hour in the typical paint, from a minute to never over what it may be: in words, by all that say so
    report.check("air and liquid have to pass each other in a throat" in waits and "to never" in waits, waits)
    for paint in ("thinned acrylic", "craft acrylic", "plaster slip") if every else ("craft acrylic",):
        code, text, error = run("vug-plan", *parts["two balls"], "--liquid", paint, "--columns", "40", "--angle", "20",
                                *([] if every else ["--poses", "8", "--bores", "0", "--turns", "0"]))
        report.check(code == 0, f"vug-plan {paint}: {error}")
        scan(f"vug-plan {paint}", text)
report.end()

# SPDX-License-Identifier: MIT
"""vug-measure on made and on real parts: JSON names and figures, coloured PLY, exit codes, errors on
stderr with nothing written."""
import json
import os
import re
import subprocess
import tempfile
from pathlib import Path
import sys

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
import house

PROGRAMS = house.BUILD / "examples" / "tools"
DATA = house.SRC / "tests" / "data"
if not (PROGRAMS / "vug-measure").exists():
    house.skip("the examples are not built")
if os.environ.get("VUG_QUICK"):
    house.skip("the quick run goes without")
report = house.Report()
check = report.check


def run(program, *arguments):
    return subprocess.run([PROGRAMS / f"vug-{program}", *map(str, arguments)], capture_output=True, text=True,
                          timeout=300, stdin=subprocess.DEVNULL)


def measure(*arguments):
    done = run("measure", *arguments, "--json", "-")
    check(done.returncode == 0, f"measure {arguments}: exit {done.returncode}: {done.stderr}")
    return json.loads(done.stdout)


def near(got, want, relative, where):
    check(abs(got - want) <= relative * abs(want), f"{where}: {got}, expected {want}")


def numbers(value, names, where):
    for name in names:
        check(isinstance(value.get(name), (int, float)), f"{where}: no number {name}")


def points(value, names, where):
    for name in names:
        p = value.get(name)
        check(isinstance(p, list) and len(p) == 3, f"{where}: no point {name}")


def check_names(found):
    numbers(found["mesh"], ("triangles", "shells", "volume_mm3", "area_mm2"), "mesh")
    check(isinstance(found["mesh"]["closed"], bool), "mesh.closed is no bool")
    for c in found["cavities"]:
        numbers(c, ("volume_mm3", "volume_error_mm3", "area_mm2"), "cavity")
        for o in c["openings"]:
            points(o, ("center_mm", "normal"), "opening")
            numbers(o, ("diameter_mm", "bore_length_mm"), "opening")
            check(isinstance(o["exact"], bool), "opening.exact is no bool")
        for place in c["chambers"] + c["throats"]:
            points(place, ("center_mm",), "chamber or throat")
            numbers(place, ("radius_mm",), "chamber or throat")


def unsure(top):
    """An opening that is not exact is so in the JSON and in the text: a square one, whose floor is the chamber's own."""
    import boxes  # by the package, which needs a plain shared library
    boxes.faces([([2, 2, 2], [14, 14, 14]), ([0, 6, 2], [2, 10, 5]), ([7, 7, 14], [10, 10, 16])],
                [16, 16, 16]).save(top / "flush.stl")
    flush = measure(top / "flush.stl")["cavities"][0]["openings"]
    not_exact = {"ABC"[o["number"]] for o in flush if not o["exact"]}
    told = re.findall(r"Not sure about ((?:\w|, | and )+):", run("measure", top / "flush.stl").stdout)
    check(not_exact and not_exact == set(re.findall("[A-Z]", "".join(told))), f"not exact: {not_exact}, told {told}")


def ply_colours(path):
    """Vertex count by colour, from the header's own words."""
    head, _, body = path.read_bytes().partition(b"end_header\n")
    count = int(head.split(b"element vertex ")[1].split()[0])
    faces = int(head.split(b"element face ")[1].split()[0])
    check(len(body) == 15 * count + 13 * faces, f"{path.name}: {len(body)} bytes")
    found = {}
    for i in range(count):
        colour = tuple(body[15 * i + 12:15 * i + 15])
        found[colour] = found.get(colour, 0) + 1
    return found


with tempfile.TemporaryDirectory() as top:
    top = Path(top)

    # the demo coral, whose cavity is known from its own formulas
    check(run("coral", "--out", top / "coral.stl", "--json", top / "coral.json").returncode == 0,
          "coral failed")
    truth = json.loads((top / "coral.json").read_text())
    found = measure(top / "coral.stl", "--ply", top / "coral.ply")
    check_names(found)
    check(found["mesh"]["closed"] and found["mesh"]["shells"] == 1, "the coral is one closed shell")
    check(len(found["cavities"]) == 1, f"{len(found['cavities'])} cavities in the coral")
    sight = found["sight"]
    numbers(sight, ("cells_across", "cell_mm", "window_mm", "hollow_mm"), "sight")
    check(sight["cell_mm"] < sight["window_mm"] < sight["hollow_mm"], f"sight: {sight}")
    cavity = found["cavities"][0]
    near(cavity["volume_mm3"], truth["cavity"]["volume_mm3"], 0.005, "coral cavity")
    check(len(cavity["openings"]) == len(truth["bores"]), "openings of the coral")
    for opening in cavity["openings"]:
        gap = min(sum((a - b) ** 2 for a, b in zip(opening["center_mm"], bore["center_mm"])) ** 0.5
                  for bore in truth["bores"])
        check(gap < 0.1, f"opening {opening['number']} is {gap} mm from the nearest bore")
        near(opening["diameter_mm"], truth["bores"][0]["diameter_mm"], 0.01, "bore diameter")
        check(opening["exact"], "a bore of the coral is not exact")
    colours = ply_colours(top / "coral.ply")
    check(len(colours) == 3 and (240, 120, 20) in colours and (190, 190, 190) in colours,
          f"colours of the coral: {colours}")

    wall = found["wall"]
    check(wall["min_mm"] <= wall["p1_mm"] <= wall["p5_mm"] <= wall["p50_mm"] <= wall["max_mm"],
          f"wall: {wall}")
    near(sum(wall["area_by_thickness_mm2"]), wall["area_mm2"], 1e-9, "area by thickness")

    # a planned hole into a sealed cavity
    check(run("coral", "--out", top / "closed.stl", "--bores", 0).returncode == 0, "coral failed")
    found = measure(top / "closed.stl")
    check(found["mesh"]["shells"] == 2 and found["cavities"][0]["sealed"], "the closed coral")
    found = measure(top / "closed.stl", "--hole=" + truth["bores"][0]["hole"])
    check([o["planned"] for o in found["cavities"][0]["openings"]] == [True], "a planned hole")

    if house.library() and not house.sanitized():
        unsure(top)

    # a unit scales everything
    wall = measure(DATA / "csg_with_sealed_ball.stl", "--thin", "5")["wall"]
    numbers(wall, ("min_mm", "p1_mm", "p5_mm", "p50_mm", "max_mm", "area_mm2", "coincident_mm2"), "wall")
    check(wall["min_mm"] <= wall["p1_mm"] <= wall["p5_mm"] <= wall["p50_mm"] <= wall["max_mm"],
          f"wall: not in order: {wall}")
    check(all(spot["thickness_mm"] < 5 for spot in wall["thin"]), "a thin spot that is thick")
    check("wall" not in measure(DATA / "suzanne.stl", "--no-cavities"), "wall not asked for")
    there = measure(DATA / "suzanne.stl", "--units", "in", "--no-cavities")
    near(there["mesh"]["volume_mm3"], 2.101768 * 25.4 ** 3, 1e-6, "inches")
    check(not there["warnings"] and "cavities_unknown" in there, "a given unit gives no warning")

    # real parts; sealed voids by CGAL 5.5.1 and VTK 9.1, see data/README.md
    head = measure(DATA / "ct_head_skin_iso600.stl")
    sealed = [c["volume_mm3"] for c in head["cavities"] if c["sealed"]]
    wanted = (4694.58, 910.591, 675.003, 164.88, 102.472, 35.8946, 27.4018)
    check(len(sealed) == len(wanted), f"sealed voids of the head: {sealed}")
    for got, want in zip(sealed, wanted):
        near(got, want, 1e-5, "a sealed void of the head")
    ball = measure(DATA / "csg_with_sealed_ball.stl")
    near(ball["cavities"][0]["volume_mm3"], 112.644, 1e-5, "the sealed ball")

    # repair and save; the facet of four corners of a unit tetrahedron leaves a joint
    quad = DATA / "stl_malformed" / "quad.ascii.stl"
    check(not measure(quad)["mesh"]["closed"], "the quad is not closed")
    whole = measure(quad, "--repair", "--save", top / "whole.stl")
    check(whole["mesh"]["closed"], "the repaired quad is closed")
    near(whole["mesh"]["volume_mm3"], 1 / 6, 1e-11, "the repaired quad")
    check(any("without area" in w for w in whole["warnings"]), f"warnings: {whole['warnings']}")
    check(measure(top / "whole.stl")["mesh"]["closed"], "the saved quad is closed")

    # an open mesh is measured, and what is said of its cavities comes with a warning
    heart = measure(DATA / "heart_lv_endocardium_open.obj")
    check(not heart["mesh"]["closed"] and heart["mesh"]["edges_open"] == 72, "the open heart")
    check("cavities_unknown" in heart or any("not closed" in w for w in heart["warnings"]),
          "no warning for the open heart")
    none = measure(DATA / "heart_lv_endocardium_open.obj", "--no-cavities")
    check(none["cavities"] == [] and none["cavities_unknown"] == "not looked for", "--no-cavities")

    # text for people
    done = run("measure", top / "coral.stl")
    for word in ("closed", "mL of solid", "Cavity 0", "Opening B", "up to the skin in its holes"):
        check(word in done.stdout, f"measure does not say {word!r}")
    check(done.stderr == "", f"stderr: {done.stderr}")

    # wrong arguments and bad files
    (top / "text.stl").write_text("no mesh")
    for code, says, *arguments in (
            (2, "--help",), (2, "--units", top / "coral.stl", "--units", "mile"),
            (2, "--hole", top / "coral.stl", "--hole", "1,2,3"),
            (2, "--save", top / "closed.stl", "--no-cavities", "--save", top / "x.step"),
            (1, "no such file", top / "none.stl"), (1, "directory", top),
            (1, "no STL", top / "text.stl"),
            (1, "leads into no", top / "closed.stl", "--hole", "500,0,0,1,0,0,3"),
            (1, "cannot write", top / "coral.stl", "--ply", top / "no" / "dir.ply")):
        before = sorted(top.iterdir())
        done = run("measure", *arguments)
        check(done.returncode == code, f"measure {arguments}: exit {done.returncode}, not {code}")
        check(says in done.stderr, f"measure {arguments}: {done.stderr!r}, wanted {says!r}")
        check(sorted(top.iterdir()) == before, f"measure {arguments}: wrote something")
    done = run("measure", "--help")
    check(done.returncode == 0 and "Usage: vug-measure MESH" in done.stdout, "measure --help")
report.end()

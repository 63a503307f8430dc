# SPDX-License-Identifier: MIT
"""Golden runs of the tools: exit codes, --help, JSON names and types, pictures, errors
on stderr with nothing written."""
import base64
import json
import math
import os
import re
import struct
import subprocess
import tempfile
import xml.etree.ElementTree as xml
import zlib
from collections import Counter
from pathlib import Path

import house

PROGRAMS = house.BUILD / "examples" / "tools"
if not (PROGRAMS / "vug-coral").exists():
    house.skip("the examples are not built")
if os.environ.get("VUG_QUICK"):
    house.skip("the quick run goes without")
report = house.Report()
check = report.check


# What the font library keeps for the life of a program is no leak of ours.
SUPPRESSIONS = tempfile.NamedTemporaryFile("w", suffix=".txt")
SUPPRESSIONS.write("leak:libfontconfig\n")
SUPPRESSIONS.flush()
ENVIRONMENT = {**os.environ, "LSAN_OPTIONS": f"suppressions={SUPPRESSIONS.name}:print_suppressions=0"}


def run(program, *arguments, cwd=None):
    return subprocess.run([PROGRAMS / f"vug-{program}", *map(str, arguments)], capture_output=True, text=True,
                          timeout=300, cwd=cwd, stdin=subprocess.DEVNULL, env=ENVIRONMENT)


def good(program, *arguments, cwd=None):
    done = run(program, *arguments, cwd=cwd)
    check(done.returncode == 0, f"{program} {arguments}: exit {done.returncode}: {done.stderr}")
    check(done.stderr == "", f"{program} {arguments}: stderr: {done.stderr}")
    return done.stdout


def bad(code, program, *arguments, says="", cwd=None):
    done = run(program, *arguments, cwd=cwd)
    check(done.returncode == code, f"{program} {arguments}: exit {done.returncode}, not {code}")
    check(done.stdout == "", f"{program} {arguments}: says {done.stdout!r} on stdout")
    check(done.stderr.startswith(f"vug-{program}: ") and says in done.stderr,
          f"{program} {arguments}: stderr: {done.stderr!r}, wanted {says!r}")


def fits(value, shape, where):
    """shape: a type, [shape of each item], {name: shape}; float takes any number."""
    if isinstance(shape, dict):
        check(isinstance(value, dict), f"{where}: not an object")
        for name, inner in shape.items():
            check(name in value, f"{where}: no {name}")
            if name in value:
                fits(value[name], inner, f"{where}.{name}")
    elif isinstance(shape, list):
        check(isinstance(value, list), f"{where}: not a list")
        for i, item in enumerate(value):
            fits(item, shape[0], f"{where}[{i}]")
    elif shape is float:
        check(isinstance(value, (int, float)) and not isinstance(value, bool)
              and math.isfinite(value), f"{where}: not a number: {value!r}")
    else:
        check(type(value) is shape, f"{where}: {value!r} is not {shape.__name__}")


def every_program():
    """--help and --version work, wrong arguments end with 2 and say so on stderr."""
    for path in sorted(PROGRAMS.glob("vug-*")):
        name = path.name.removeprefix("vug-")
        text = good(name, "--help")
        check(text.startswith(f"Usage: {path.name}"), f"{name} --help: {text[:60]!r}")
        check("Exit status: 0 done, 1 failed, 2 wrong arguments." in text, f"{name}: no exit status")
        check(all(len(line) <= 80 for line in text.splitlines()), f"{name} --help: a long line")
        check("(vug) " in good(name, "--version"), f"{name} --version")
        bad(2, name, "--no-such-option", says="unknown option '--no-such-option'")


def triangles(path):
    data = Path(path).read_bytes()
    count, = struct.unpack_from("<I", data, 80)
    check(len(data) == 84 + 50 * count, f"{path}: size and count do not agree")
    return [struct.unpack_from("<9f", data, 84 + 50 * i + 12) for i in range(count)]


def edges_pair(soup):
    """Each edge once each way: Euler's condition for a closed, turned surface."""
    sides = Counter()
    for t in soup:
        p = t[0:3], t[3:6], t[6:9]
        for k in range(3):
            sides[p[k], p[(k + 1) % 3]] += 1
    return all(n == 1 and sides[b, a] == 1 for (a, b), n in sides.items())


def volume(soup):
    """Divergence theorem."""
    return sum(a * (e * i - f * h) + b * (f * g - d * i) + c * (d * h - e * g)
               for a, b, c, d, e, f, g, h, i in soup) / 6.0


CORAL = {"cavity": {"volume_mm3": float, "volume_error_mm3": float, "volume_without_bores_mm3": float,
                    "mesh_volume_without_bores_mm3": float},
         "bores": [{"center_mm": [float], "direction": [float], "diameter_mm": float,
                    "length_mm": float, "hole": str}],
         "mesh": {"triangles": int, "volume_mm3": float, "wall_mm": float},
         "parameters": {"height_mm": float, "resolution": int, "seed": int, "smooth": bool}}


def coral(folder):
    part = folder / "coral.stl"
    got = json.loads(good("coral", "--out", part, "--json", "-"))
    fits(got, CORAL, "coral")
    soup = triangles(part)
    check(edges_pair(soup), "coral: the mesh is not closed")
    check(len(soup) == got["mesh"]["triangles"] and 30000 <= len(soup) <= 60000, "coral: triangles")
    check(abs(volume(soup) / got["mesh"]["volume_mm3"] - 1) < 1e-4, "coral: volume of the mesh")
    cavity = got["cavity"]
    check(abs(cavity["mesh_volume_without_bores_mm3"] / cavity["volume_without_bores_mm3"] - 1)
          < 0.003, "coral: mesh and true cavity differ by more than 0.3 %")
    check(cavity["volume_error_mm3"] < 0.001 * cavity["volume_mm3"], "coral: volume not converged")
    bores = sum(math.pi / 4 * b["diameter_mm"] ** 2 * b["length_mm"] for b in got["bores"])
    check(abs(cavity["volume_mm3"] - cavity["volume_without_bores_mm3"] - bores) < 1e-3,
          "coral: bores are not cylinders")  # CRC handbook: pi d^2 / 4 * length
    again = folder / "again.stl"
    good("coral", "--out", again)
    check(part.read_bytes() == again.read_bytes(), "coral: not the same bytes twice")
    closed = folder / "closed.stl"
    good("coral", "--bores", 0, "--resolution", 50, "--seed", 3, "--smooth", "--out", closed)
    check(edges_pair(triangles(closed)), "coral --bores 0: not closed")
    bad(2, "coral", says="nothing to do")
    bad(2, "coral", "--wall", "9", "--out", folder / "none.stl", says="at most")
    bad(2, "coral", "--bores", "1.5", "--out", folder / "none.stl", says="whole number")
    bad(2, "coral", "--height", "nan", "--out", folder / "none.stl", says="number")
    bad(1, "coral", "--bore", "19", "--out", folder / "none.stl", says="does not fit")
    bad(1, "coral", "--out", folder / "no" / "such.stl", says="cannot write")
    check(not (folder / "none.stl").exists(), "coral: a failed run wrote a file")
    return part, got


def png_is_whole(path):
    """Every chunk's checksum is right and the last is IEND (PNG specification, W3C 2003)."""
    data = path.read_bytes()
    check(data[:8] == b"\x89PNG\r\n\x1a\n", f"{path}: not a PNG")
    at, kind = 8, b""
    while at < len(data):
        length, kind = struct.unpack_from(">I4s", data, at)
        crc, = struct.unpack_from(">I", data, at + 8 + length)
        check(zlib.crc32(data[at + 4:at + 8 + length]) == crc, f"{path}: chunk {kind} is damaged")
        at += 12 + length
    check(kind == b"IEND" and at == len(data), f"{path}: not whole")


PLAN = {"capacity_mm3": float, "trapped_mm3": float, "tilted_mm3": float, "residue_mm3": float,
        "cavities": [{"volume_mm3": float, "volume_error_mm3": float}],
        "openings": [{"label": str, "center_mm": [float], "normal": [float], "diameter_mm": float,
                      "bore_length_mm": float, "to_drill": bool, "inlet": bool}],
        "pockets_after_first_step": [{"volume_mm3": float, "top_mm": [float], "level_mm": float}],
        "steps": [{"up": [float], "inject_mm3": float, "cover": [int], "vent": [int], "words": str,
                   "trapped_mm3": float, "wait_s": float, "inlet": int}],
        "drain_steps": [{"up": [float], "drain_mm3": float, "residue_mm3": float}],
        "bores": [{"point_mm": [float], "direction": [float], "depth_mm": float,
                   "diameter_mm": float}],
        "alternatives": [{"bores": int, "turns": int, "trapped_mm3": float}],
        "cautions": [str], "loads": int, "paint_ml": float}


SIDES = {"top": (0, 0, 1), "base": (0, 0, -1), "front": (0, -1, 0), "back": (0, 1, 0),
         "right side": (1, 0, 0), "left side": (-1, 0, 0)}
SIDE = "(" + "|".join(SIDES) + ")"
POSE = re.compile(f"its {SIDE} (?:straight up|up, leaning ([0-9]+) degrees so that its {SIDE}"
                  f"(?: rises| and {SIDE} rise alike))")


def poses_in(text):
    """The directions that point up in all poses that a text says, by its words alone."""
    found = []
    for up, lean, one, other in POSE.findall(" ".join(text.split())):
        check(int(lean or 0) % 5 == 0, f"a lean of {lean} degrees")
        angle, rise = math.radians(int(lean or 0)), [SIDES[side] for side in (one, other) if side]
        share = math.sin(angle) / math.sqrt(len(rise) or 1)
        found.append([math.cos(angle) * SIDES[up][k] + share * sum(side[k] for side in rise) for k in range(3)])
    return found


def once(got):
    """The steps of filling without those that are done again."""
    return got["steps"][:len(got["steps"]) - got["again"]]


def told(text, got):
    """The text's poses are those of the JSON, to 1e-9, and it has no number that nobody can act on. Steps that are done
    again are told by their numbers."""
    drain = [step for i, step in enumerate(got["drain_steps"]) if i == 0 or step["drain_mm3"] >= 50]
    want = [step["up"] for step in drain + once(got)]
    have = poses_in(text[text.index("Wash before curing"):])
    check(len(have) == len(want) and all(math.dist(a, b) < 1e-9 for a, b in zip(have, want)),
          f"plan: poses {have} are told, {want} are meant")
    for step in got["drain_steps"] + got["steps"]:
        check(math.dist(poses_in(step["words"])[-1], step["up"]) < 1e-9, f"plan: {step['words']}")
    for volume in re.findall(r"(?<!than )([0-9.]+) mL", text):
        check(float(volume) >= 0.05, f"plan: {volume} mL")
    for wait, unit in re.findall(r"([0-9.]+) (seconds|minutes|hours)", text):
        seconds = float(wait) * {"seconds": 1, "minutes": 60, "hours": 3600}[unit]
        check(5 <= seconds <= 86400, f"plan: {wait} {unit}")
    check("1 loads" not in text, "plan: 1 loads")
    for angle in re.findall(r"([0-9.]+) degrees", text):
        check(float(angle) % 5 == 0, f"plan: {angle} degrees")


def page_has_all(page, part, text, got):
    """The page holds the part, triangle by triangle, and the plan as text and JSON have it."""
    html = page.read_text()
    name, stl = re.search(r'id="part" data-name="([^"]*)">([^<]*)<', html).groups()
    made = json.loads(re.search(r'id="made">(.*?)</script>', html).group(1))
    check(name == part.name, f"page: the part is called {name}")
    corners = lambda data: [data[84 + 50 * i + 12:84 + 50 * i + 48] for i in range(struct.unpack_from("<I", data, 80)[0])]
    check(corners(base64.b64decode(stl)) == corners(part.read_bytes()), "page: other triangles")
    joined = lambda words: " ".join(words.split())
    check(joined(made.pop("text")) == joined(text), "page: other words")
    check(len(made.pop("named")) + len(got["bores"]) == len(got["openings"]), "page: other holes")
    check(made == got, "page: another plan than the JSON's")


def plan(folder, part, true):
    holes = [word for bore in true["bores"] for word in ("--hole", bore["hole"])]
    text = good("plan", part, *holes, "--poses", 64, "--json", folder / "plan.json", "--picture", folder / "plan")
    got = json.loads((folder / "plan.json").read_text())
    fits(got, PLAN, "plan")
    cavity = true["cavity"]
    check(abs(got["capacity_mm3"] / cavity["volume_mm3"] - 1) < 0.003, "plan: capacity")
    check(0.02 < got["steps"][0]["trapped_mm3"] / got["capacity_mm3"] < 0.5, "plan: no air at first")
    check(got["trapped_mm3"] <= 0.005 * got["capacity_mm3"], "plan: more than 0.5 % air left")
    check(len(got["steps"]) + len(got["bores"]) > 1, "plan: neither turns nor bores")
    for step in got["steps"]:
        check(abs(math.hypot(*step["up"]) - 1) < 1e-9, "plan: up is not unit")
    inject = sum(step["inject_mm3"] for step in got["steps"])
    check(abs(inject + got["trapped_mm3"] - got["capacity_mm3"]) < 1e-6, "plan: inject")
    png_is_whole(folder / "plan.png")
    told(text, got)
    check([o["label"] for o in got["openings"]] == ["A", "B", "C", "D", "E"][:len(got["openings"])], "plan: letters")
    check(text.count("Cover all openings.") ==
          sum(step["inlet"] >= 0 for step in once(got)[:-1]) + (got["repeats"] > 0),
          "plan: openings are covered where they stand open")
    svg = xml.parse(folder / "plan.svg").getroot()
    check(svg.tag.endswith("svg") and len(list(svg.iter())) > 100, "plan: nothing in the SVG")
    ENVIRONMENT["VUG_PAGE"] = str(house.SRC / "examples/page/src/index.html")  # what the page is built from
    text = good("plan", part, *holes, "--up", "0,0,-2", "--turns", 0, "--liquid", "dyed epoxy", "--poses",
                40, "--json", folder / "plan.json", "--sheet", folder / "plan.pdf", "--paper", "letter",
                "--globe", folder / "globe.pdf", "--backlit", folder / "light", "--page", folder / "plan.html")
    for drawn in ("plan.pdf", "globe.pdf"):
        check((folder / drawn).read_bytes()[:5] == b"%PDF-", f"plan: {drawn} is no PDF")
    check("Hold it upside down, its base straight up." in text and "Take care" in text, "plan: text")
    got = json.loads((folder / "plan.json").read_text())
    fits(got, PLAN, "plan")
    told(text, got)
    check(len(got["bores"]) >= 1, "plan: no bore without turns")
    for bore in got["bores"]:
        check(abs(math.hypot(*bore["direction"]) - 1) < 1e-9, "plan: direction is not unit")
        check(0.5 < bore["depth_mm"] < 4, f"plan: depth {bore['depth_mm']} through a 1.5 mm wall")
    bad(2, "plan", says="MESH")
    bad(2, "plan", part, part, says="too many")
    bad(2, "plan", part, "--hole", "1,2,3", says="7 numbers")
    page_has_all(folder / "plan.html", part, text, got)
    bad(2, "plan", part, "--sheet", folder / "no.pdf", "--paper", "a7", says="a7")
    ENVIRONMENT["VUG_PAGE"] = str(folder / "missing.html")
    bad(1, "plan", part, "--page", folder / "no.html", says="missing.html is not there")
    check(not (folder / "no.html").exists(), "plan: a page from nothing")
    bad(1, "plan", folder / "missing.stl", says="missing.stl")
    bad(1, "plan", folder, says=str(folder))
    least = ("plan", part, *holes, "--up", "0,0,-1", "--turns", 0, "--bores", 0, "--poses", 1, "--json")
    fits(json.loads(good(*least, "-")), PLAN, "plan to standard output")
    done = run(*least, folder / "no" / "such.json")
    check(done.returncode == 1 and "cannot write" in done.stderr, "plan: JSON to nowhere")


FILL = {"capacity_mm3": float, "filled_mm3": float, "trapped_mm3": float,
        "pockets": [{"volume_mm3": float, "top_mm": [float], "level_mm": float}],
        "events": [{"kind": str, "liquid_mm3": float, "time_s": float}]}


def fill(folder, part, true):
    got = json.loads(good("fill", part, "--up", "0,0,-1", "--columns", 150, "--json", "-", "--picture",
                          folder / "fill"))
    fits(got, FILL, "fill")
    check(abs(got["capacity_mm3"] / true["cavity"]["volume_mm3"] - 1) < 0.003, "fill: capacity")
    check(0.05 < got["trapped_mm3"] / got["capacity_mm3"] < 0.15, "fill: trapped, base up")
    png_is_whole(folder / "fill.png")
    check(len(list(xml.parse(folder / "fill.svg").getroot().iter())) > 100, "fill: SVG")
    check(got["time_s"] is None, "fill: a time without a rate")
    for rate, last in (("", "no"), ("100", f"{got['filled_mm3'] / 100:.2f}")):
        text = good("fill", part, "--up", "its base straight up", "--inlet", "A", "--vent", "b", "--columns", 150,
                    *(rate and ["--rate", rate]))
        line = next(line for line in text.splitlines() if "no surface can rise" in line)
        check(line.split()[1] == last, f"fill: time at rate '{rate}'")
    check(json.loads(good("fill", part, "--up", "its base straight up", "--columns", 150, "--json", "-")) == got,
          "fill: a pose in words is not the same")
    bad(2, "fill", says="MESH")
    bad(2, "fill", part, "--inlet", "J", says="--inlet J: the part has 2 openings, A to B")
    bad(2, "fill", part, "--inlet", "9", says="numbered from 0")
    bad(2, "fill", part, "--up", "0,0,0", says="--up wants a direction")
    bad(2, "fill", part, "--liquid", "lava", says="--liquid does not know 'lava'")
    bad(1, "measure", folder / "fill.png", says="a PNG picture, no mesh")
    by_name, by_numbers = (json.loads(good("fill", part, "--columns", 60, "--rate", 100, "--viscous", "--json", "-",
                                           *liquid)) for liquid in (
        ["--liquid", "water"], []))
    check(by_name.keys() == by_numbers.keys(), "fill: water by name")
    bad(1, "fill", folder / "missing.stl", says="missing.stl")


DRAIN = {"capacity_mm3": float, "residue_mm3": float,
         "pools": [{"volume_mm3": float, "bottom_mm": [float]}]}


def drain(folder, part, true):
    got = json.loads(good("drain", part, "--up", "0,0,1", "--columns", 150, "--json", "-",
                          "--picture", folder / "drain"))
    fits(got, DRAIN, "drain")
    check("time_s" in got, "drain: no time_s")
    check(abs(got["capacity_mm3"] / true["cavity"]["volume_mm3"] - 1) < 0.003, "drain: capacity")
    # What stays standing up is the air that is caught upside down.
    check(0.05 < got["residue_mm3"] / got["capacity_mm3"] < 0.15, "drain: residue, base down")
    png_is_whole(folder / "drain.png")
    check(len(list(xml.parse(folder / "drain.svg").getroot().iter())) > 100, "drain: SVG")
    bad(2, "drain", says="MESH")
    bad(2, "drain", part, "--density", "-1", says="must be from")
    bad(1, "drain", folder / "missing.stl", says="missing.stl")


with tempfile.TemporaryDirectory() as top:
    every_program()
    made = coral(Path(top))
    plan(Path(top), *made)
    fill(Path(top), *made)
    drain(Path(top), *made)
report.end()

#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""What a plan once said and must not say again, and what all programs share: the same part gives the same plan however it
is told, a preferred place is taken, counts have their plural, and words of the library stay in the library."""
import json
import math
import re
import shutil
import struct
import subprocess
import sys
import tempfile
import zipfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
from plans import QUICK, box, check, plan_of, report, run, stl, vug
import gourd

ALL = ("coral", "drain", "fill", "hollow", "measure", "plan", "sums")


def write_obj(path, triangles):
    """The numbers that a float of an STL holds, each corner once."""
    number, lines, faces = {}, [], []
    for t in triangles:
        face = []
        for p in t:
            p = struct.unpack("<3f", struct.pack("<3f", *p))
            if p not in number:
                number[p] = len(number) + 1
                lines.append("v %r %r %r" % p)
            face.append(number[p])
        faces.append("f %d %d %d" % tuple(face))
    path.write_text("\n".join(lines + faces) + "\n")


def cut_short(program, text):
    """What two or more options begin with is refused, and the message says which these are."""
    names = {name for line in text.splitlines() for name in re.findall(r"--[a-z][\w-]*", line)
             if re.match(r"  (-h, )?--", line)}
    shorts = {name[:length] for name in names for length in range(3, len(name))} - names
    told = 0
    for short in sorted(shorts):
        fits = sorted(name for name in names if name.startswith(short))
        if len(fits) < 2 or told > 5:
            continue
        message = run(program, "seal" if program == "sums" else "part.stl", short + "=1", code=2).splitlines()[0]
        check(sorted(re.findall(r"--[a-z][\w-]*", message.split("short for")[-1])) == fits,
              f"vug-{program} {short} may be {fits}: {message}")
        told += 1


def programs_speak_alike():
    for program in ALL:
        short, long = run(program, "-h"), run(program, "--help")
        check(short == long and short.startswith("Usage: "), f"vug-{program} -h: {short[:80]}")
        options = set(re.findall(r"(?<![\w-])--([a-z][\w-]*)", long))
        if program in ("drain", "fill", "plan", "sums"):
            check("liquid" in options, f"vug-{program} lacks --liquid")
        if program in ("drain", "fill", "measure", "plan", "hollow"):
            check("units" in options, f"vug-{program} lacks --units")
        check("json" in options, f"vug-{program} lacks --json")
        # getopt_long() takes a beginning that only one has
        check(run(program, "--vers") == run(program, "--version"), f"vug-{program} --vers")
        cut_short(program, run("sums", "seal", "--help") if program == "sums" else long)


def hole(point, outwards, diameter):
    return "--hole", ",".join(f"{x:.9g}" for x in (*point, *outwards, diameter))


def same_however_told(folder, part):
    """As STL, as OBJ, with its own holes named, and with the new one named too: the same poses, openings and air. Corners
    are floats of 24 bits, names have 9 digits."""
    (folder / "a.stl").write_bytes(stl(part))
    write_obj(folder / "b.obj", part)
    _, a = plan_of(folder / "a.stl", *QUICK)
    _, b = plan_of(folder / "b.obj", *QUICK)
    own = [x for o in a["openings"] if not o["to_drill"] for x in hole(o["center_mm"], o["normal"], o["diameter_mm"])]
    new = [x for o in a["bores"] for x in hole(o["point_mm"], (-d for d in o["direction"]), o["diameter_mm"])]
    _, c = plan_of(folder / "a.stl", *QUICK, *own)
    _, d = plan_of(folder / "a.stl", *QUICK, *own, *new)
    check(len(a["bores"]) == 1 and not d["bores"], f"bores: {len(a['bores'])}, once named {len(d['bores'])}")
    for name, other in (("OBJ", b), ("its holes named", c), ("the bore named", d)):
        for key in ("up", "cover", "open", "lean_deg"):
            check([s[key] for s in a["steps"]] == [s[key] for s in other["steps"]], f"{name}: another {key}")
        check(abs(a["trapped_mm3"] - other["trapped_mm3"]) < 1e-6 * a["capacity_mm3"],
              f"{name}: {other['trapped_mm3']} mm3 of air, not {a['trapped_mm3']}")


def letters_are_taken(file):
    for program in ("fill", "drain", "plan"):
        more = QUICK if program == "plan" else ("--columns", "60")
        option = "--vent" if program == "drain" else "--inlet"
        by_letter, by_number = run(program, file, option, "A", *more), run(program, file, option, "0", *more)
        check(by_letter == by_number, f"vug-{program} {option} A is not {option} 0")
    told = run("fill", file, "--columns", "60")
    check("0.00 s" not in told, f"vug-fill without --rate: {told}")


def preferred_place(folder):
    """A shut box that gets its first hole where the maker wants it, on a side that nobody would take by itself."""
    (folder / "shut.stl").write_bytes(stl(box((-12, -9, -7), (12, 9, 7), False) + box((-10, -7, -5), (10, 7, 5), True)))
    for place in ((12, 0, 0), (0, -9, 0)):
        at = ",".join(map(str, (*place, 5)))
        _, got = plan_of(folder / "shut.stl", *QUICK, "--design", "--prefer", at)
        near = [b for b in got["bores"] if math.dist(b["point_mm"], place) <= 5.001]
        check(near, f"--prefer {at}: bores at {[b['point_mm'] for b in got['bores']]}")


def one_runs_and_one_does_not(folder):
    """Two boxes in one file. The larger has two holes of 5 mm and runs out, the smaller one of 2 mm, which by hand lets no
    air in past isopropanol: 2 x 0.918 capillary lengths are 3.1 mm (Bretherton 1961). Each is told as it is."""
    shells = (((-12, -9, -7), (12, 9, 7), False), ((-10, -7, -5), (10, 7, 5), True),
              ((20, -7, -7), (34, 7, 7), False), ((22, -5, -5), (32, 5, 5), True))
    file = folder / "two.stl"
    file.write_bytes(stl([t for shell in shells for t in box(*shell)]))
    holes = ("--hole", "-7,0,7,0,0,1,5", "--hole", "7,0,7,0,0,1,5", "--hole", "27,0,7,0,0,1,2")
    text, got = plan_of(file, *QUICK, *holes)
    check(not got["bores"], f"bores where holes are named: {got['bores']}")
    step = got["drain_steps"][0]
    check(step["time_s"] > 0 and step["drain_mm3"] > 2700, f"what runs out of the larger one: {step}")
    check(900 < step["stuck_mm3"] < 1010, f"what stays in the smaller one: {step}")
    check("run out: give it" in text and " mL more does not run out by itself: draw it out by" in " ".join(text.split()), text)
    # a model can have another hole there: then air comes in by the one while the other runs
    text, got = plan_of(file, *QUICK, "--design", *holes)
    check(len(got["bores"]) == 1 and got["bores"][0]["point_mm"][0] > 19, f"--design: {got['bores']}")
    check(all(s["time_s"] > 0 and s["stuck_mm3"] < 50 for s in got["drain_steps"]), f"--design: {got['drain_steps']}")
    check("by itself: draw" not in " ".join(text.split()), text)


def shut_models_run_out(folder):
    """Models that are shut: a box and two boxes. By hand a lone hole lets air in past isopropanol however
    its rim is from 3.832 capillary lengths on (first zero of J1), 1.68 mm each: 12.9 mm. Narrower ones come in pairs."""
    shells = (((-12, -9, -7), (12, 9, 7), False), ((-10, -7, -5), (10, 7, 5), True),
              ((20, -7, -7), (34, 7, 7), False), ((22, -5, -5), (32, 5, 5), True))
    for name, want in (("two", 2), ("cube", 1)):
        file = folder / f"{name}_shut.stl"
        file.write_bytes(stl([t for shell in shells[4 - 2 * want:] for t in box(*shell)]))
        text, got = plan_of(file, *QUICK, "--design")
        for x_low, x_high in ((-13, 13), (19, 35))[2 - want:]:
            own = [b for b in got["bores"] if x_low < b["point_mm"][0] < x_high]
            check(len(own) >= 2 or any(b["diameter_mm"] > 12.9 for b in own), f"{name}: {got['bores']}")
        check("lone hole such as" not in " ".join(text.split()), text)
        check(all(s["stuck_mm3"] < 50 for s in got["drain_steps"]), f"{name}: {got['drain_steps']}")


def several_cavities(folder):
    """Two boxes in one file, hollows of 2800 and 1000 mm3 by hand: what is drawn out of each, or put into it, goes by its
    own hole; one that no hole leads to is told of, and not counted to the other."""
    shells = (((-12, -9, -7), (12, 9, 7), False), ((-10, -7, -5), (10, 7, 5), True),
              ((20, -7, -7), (34, 7, 7), False), ((22, -5, -5), (32, 5, 5), True))
    file = folder / "two.stl"
    file.write_bytes(stl([t for shell in shells for t in box(*shell)]))
    holes = ("--hole", "0,0,7,0,0,1,4", "--hole", "27,0,7,0,0,1,3")
    text, got = plan_of(file, *QUICK, *holes)
    flat = " ".join(text.split())
    words([text])
    drawn = re.search(r"draw out again: ([0-9.]+) mL by A, ([0-9.]+) mL by B, so that ([0-9.]+) mL", flat)
    check(drawn and abs(float(drawn[1]) + float(drawn[2]) - float(drawn[3])) < 0.001, f"air for warmth adds up: {flat}")
    # by hand isopropanol lets air in past it from 3.1 mm on: it runs out of the first, and what stays is in the second
    check("1.0 mL more does not run out by itself: draw it out by B with syringe" in flat and "out by A" not in flat, f"what stays in which: {flat}")
    check("2.8 mL by A and 1.0 mL by B. Nothing gets from one into another" in flat, flat)
    check("2 solids that nothing joins" in flat, f"two solids in a file: {flat}")
    # one in the other's room, or through it, is the same part
    for name, more in (("within", box((-4, -4, -3), (4, 4, 3), False)), ("through", box((11, -3, -3), (30, 3, 3), False))):
        joined = folder / f"{name}.stl"
        joined.write_bytes(stl([t for shell in shells[:2] for t in box(*shell)] + more))
        check("nothing joins" not in run("plan", joined, *QUICK, *holes[:2]), f"a solid {name} another")
    one = " ".join(run("plan", file, *QUICK, *holes[:2]).split())
    check("1 of its 2 cavities takes 2.8 mL" in one and "1.0 mL sealed: no opening leads to it" in one, one)
    many = [t for shell in shells for t in box(*shell)] + box((40, -7, -7), (54, 7, 7), False) + box((42, -5, -5), (52, 5, 5), True)
    (folder / "three.stl").write_bytes(stl(many))
    three = flat_plan(folder / "three.stl", *QUICK, *holes[:2])
    check("1 of its 3 cavities takes 2.8 mL" in three and "2.0 mL sealed in 2 cavities: no opening leads to them" in three, three)
    check(re.search(r"Hold the last opening up and draw [0-9.]+ mL out again, so that", one), one)
    # a coat goes into each by its own, a tenth or more of it, and comes to the skin of all: in a model into those that get a
    # hole there, too
    for arguments in ((*holes,), (*holes[:2], "--design")):
        text, got = plan_of(file, *QUICK, *arguments, "--liquid", "craft-acrylic")  # thinned takes more than 12 coats
        put = re.search(r"Put in ([0-9.]+) mL by A and ([0-9.]+) mL by B,", " ".join(text.split()))
        check(put and 0.25 <= float(put[1]) <= 0.9 and 0.1 <= float(put[2]) <= 0.3, f"a coat in two: {put or text}")
        check(got["coat"]["wetted_mm2"] >= 0.98 * got["skin"]["area_mm2"], f"a coat in two: {got['coat']} of {got['skin']}")
    for program in ("fill", "drain"):
        both = run(program, file, "--columns", "60", *holes)
        check(re.search(r"Left aside +1\.01\d mL, another cavity by B", both), f"{program}: {both}")
        alone = json.loads(run(program, file, "--columns", "60", *holes[:2], "--json", "-"))
        aside = [(row["cavity"], row["openings"], round(row["capacity_mm3"], 6)) for row in alone["left_aside"]]
        check(aside == [(1, 0, 1000)], f"{program}: {aside}")
        check(abs(alone["capacity_mm3"] - 2800) < 2 * math.pi * 4 + 1, f"{program}: {alone['capacity_mm3']} mm3")


def words(texts):
    for text in texts:
        flat = " ".join(text.split())
        for count, noun in re.findall(r"(\d+) (loads?|turns?|holes?|openings?|times?|stops?)\b", flat):
            check((count == "1") != noun.endswith("s"), f"{count} {noun}: {flat[:60]}")
        for word in (r"sills?", r"basins?", r"lips?", r"\w+_mm3?", "struct", r"vugi?_\w+", "better one", r"0\.01 mL"):
            check(not re.search(rf"\b{word}\b", flat), f"{word} in: {flat}")
        check(not re.search(r",[.,;:)]", flat), f"a comma before a stop: {flat}")


def flat_plan(*arguments):
    return " ".join(run("plan", *arguments).split())


def each_liquid_by_its_kind(folder):
    """Water has no yield stress and leaves nothing when it dries; epoxy sets, sensitises skin until it has (any of its
    safety data sheets), and would run out of a free opening that is not the highest."""
    file = folder / "a.stl"
    water = flat_plan(file, *QUICK, "--liquid", "water")
    check("Try the" not in water, f"water is tried on a plate: {water}")
    check("never sets" in water and "dry first" not in water, f"water dries: {water}")
    epoxy = flat_plan(file, *QUICK, "--liquid", "dyed-epoxy")
    check("sensitise skin: nitrile gloves" in epoxy.split("Fill with")[1], f"epoxy without gloves: {epoxy}")
    check("highest opening of each cavity free and the others covered" in epoxy, f"epoxy set with its openings free: {epoxy}")
    check("1 coat of" in epoxy and "next coat" not in epoxy and "each coat" not in epoxy, f"one coat: {epoxy}")
    for told, name in ((water, "water"), (epoxy, "dyed epoxy")): # neither is paint
        check("paint" not in told.lower() and f"has {name} behind it" in told, f"{name} is told as paint: {told}")
    craft = flat_plan(file, *QUICK, "--liquid", "craft-acrylic")
    check("craft acrylic shows" not in craft and "paint" in craft, f"craft acrylic is no paint: {craft}")
    check("Try the paint" in craft and "Let it set" not in craft, f"craft acrylic: {craft}")


def light_by_its_way(folder):
    """By hand (Beer and Lambert; penetration as vug-sums has it): behind 18 mm less than a hundredth of the light that an
    opening of 8 mm lets in comes through the wall, behind 1 mm more than half with one of 2 mm."""
    for wall, hole, told in ((18, 8, True), (1, 2, False)):
        half = [5 + wall] * 3
        file = folder / "wall.stl"
        file.write_bytes(stl(box([-x for x in half], half, False) + box((-5, -5, -5), (5, 5, 5), True)))
        text = flat_plan(file, *QUICK, "--hole", f"0,0,{5 + wall},0,0,1,{hole}")
        check(("Hardly any of that light comes through the wall" in text) == told, f"wall of {wall} mm: {text}")
        check(told or "of that light comes" not in text, f"wall of {wall} mm: {text}")


def what_decides_is_told():
    """The gourd with water: the hole decides, so a wider drill is advised; as this plan is told, it is surer."""
    file = Path(__file__).resolve().parents[2] / "examples" / "gourd.stl"
    more = ("--liquid", "water", "--columns", "140")
    text, got = plan_of(file, *more)
    _, wider = plan_of(file, *more, "--drill", 1.2 * got["bores"][0]["diameter_mm"])
    check(got["chance"] >= 0.95 or "a drill a fifth wider" in " ".join(text.split()), text)
    check(wider["chance"] >= max(got["chance"], 0.9), f"a fifth wider: {wider['chance']}, not {got['chance']}")


def new_holes_are_drawn(folder):
    """A box with two holes to be made, 4 mm straight down and 3 mm slanting by atan(0.6 / 0.8) from that: the cut goes
    through both axes, so their dashed sections are as wide as they, and lean so."""
    file = folder / "bored.stl"
    file.write_bytes(stl(box((-15, -10, -8), (15, 10, 8), False) + box((-12, -7, -5), (12, 7, 5), True)))
    run("plan", file, *QUICK, "--hole", "0,0,8,0,0,1,4", "--hole", "9,0,8,0.6,0,0.8,3", "--picture", folder / "bored")
    seen = []
    for path in re.findall(r"<path[^>]*>", (folder / "bored.svg").read_text()):
        corners = [tuple(map(float, p)) for p in re.findall(r"(-?[0-9.]+) (-?[0-9.]+)", path.split(' d="')[1].split('"')[0])]
        if not re.search(r'dasharray[:="]+5[, ]+3\b', path) or len(set(corners)) < 4:
            continue
        (ax, ay), (bx, by) = max(zip(corners, corners[1:] + corners[:1]), key=lambda e: math.dist(*e))
        off = [((x - ax) * (by - ay) - (y - ay) * (bx - ax)) / math.dist((ax, ay), (bx, by)) for x, y in corners]
        seen.append((max(off) - min(off), math.degrees(math.atan2(abs(bx - ax), abs(by - ay)))))
    straight = [wide for wide, lean in seen if lean < 0.1]
    slanting = [wide for wide, lean in seen if abs(lean - math.degrees(math.atan2(0.6, 0.8))) < 0.1]
    check(len(straight) == 1 and len(slanting) == 1, f"dashed, width and lean: {seen}")
    check(straight and slanting and abs(straight[0] / slanting[0] - 4 / 3) < 0.02, f"dashed, width and lean: {seen}")


def crossed(pdf):
    """Pixels of the lines across bare skin, and between them, where the picture shows what is behind it: below, on the left."""
    done = subprocess.run(["pdftoppm", "-r", "300", pdf], capture_output=True, check=True).stdout
    _, size, _, pixels = done.split(b"\n", 3)
    width, height = map(int, size.split())
    red = pale = 0
    for y in range(int(0.6 * height), int(0.9 * height)):
        row = pixels[3 * width * y:3 * width * y + 3 * (width // 2)]
        for r, g, b in zip(row[0::3], row[1::3], row[2::3]):
            red += r - g > 0.55 * r
            pale += r - g < 0.2 * r and g - b > 0.08 * g
    return red, pale


def what_takes_no_paint(folder):
    """The gourd on its only hole: by hand nothing stays in it. Text, JSON and picture say so."""
    file = folder / "a.stl"
    held = ("--up", "0,0,1", "--turns", "0", "--bores", "0")
    text, got = plan_of(file, *QUICK, *held)
    check("It can't be filled so" in text and "Fill with" not in text and "Seal" not in text, text)
    check(got["loads"] == 0 and got["coat"]["coats"] == 0 and got["trapped_mm3"] == got["capacity_mm3"],
          f"{got['loads']} loads, {got['coat']['coats']} coats")
    check(not any("sealed" in told or "Glue" in told for told in got["cautions"]), f"{got['cautions']}")
    if not shutil.which("pdftotext"):
        return
    run("plan", file, *QUICK, *held, "--picture", folder / "unfilled")
    drawn = subprocess.run(["pdftotext", folder / "unfilled.pdf", "-"], capture_output=True, text=True).stdout
    check("be filled so" in drawn and "loads" not in drawn, f"the picture of what takes no paint: {drawn}")
    # lines of 3 in 13 pixels crossing each other leave (10 / 13)^2 of bare skin pale, by hand
    red, pale = crossed(folder / "unfilled.pdf")
    check(red + pale > 1e5 and abs(red / max(1, red + pale) - (1 - (10 / 13) ** 2)) < 0.03,
          f"bare skin: {red} pixels crossed, {pale} pale")
    filled = "its top up, leaning 55 degrees so that its front and right side rise alike"
    for up, title in ((filled, f"a.stl: hold it with {filled}"), ("0,0,1", "a.stl: hold it upright, its top straight up")):
        run("plan", file, *QUICK, "--up", up, "--turns", "0", "--picture", folder / "held")
        drawn = subprocess.run(["pdftotext", folder / "held.pdf", "-"], capture_output=True, text=True).stdout
        check(title in " ".join(drawn.split()), f"its title: {drawn[:200]}")
    red, pale = crossed(folder / "held.pdf")
    check(red < 0.02 * 1e5, f"hardly any skin is bare, and {red} pixels are crossed")


def write_3mf(file, unit, scale):
    """A box of 24 x 18 x 14 mm with a cavity, in that unit."""
    triangles = box((-12, -9, -7), (12, 9, 7), False) + box((-10, -7, -5), (10, 7, 5), True)
    triangles = [[tuple(p) for p in t] for t in triangles]
    points = sorted({p for t in triangles for p in t})
    package = "http://schemas.openxmlformats.org/package/2006/"
    model = (f'<model unit="{unit}" xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02"><resources>'
             '<object id="1" type="model"><mesh><vertices>'
             + "".join('<vertex x="%r" y="%r" z="%r"/>' % tuple(x * scale for x in p) for p in points) + "</vertices><triangles>"
             + "".join('<triangle v1="%d" v2="%d" v3="%d"/>' % tuple(points.index(p) for p in t) for t in triangles)
             + '</triangles></mesh></object></resources><build><item objectid="1"/></build></model>')
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as out:
        out.writestr("[Content_Types].xml", f'<Types xmlns="{package}content-types"><Default Extension="rels" '
                     'ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="model" '
                     'ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>')
        out.writestr("_rels/.rels", f'<Relationships xmlns="{package}relationships"><Relationship Target="/3D/m.model" '
                     'Id="a" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>')
        out.writestr("3D/m.model", model)
    return file


def what_was_typed_is_named(folder):
    """The file's own unit is told where another one is used, and an option by its name."""
    told = run("plan", folder / "a.stl", *QUICK, "--units", "cm")
    check("1 cm of the file is 10 mm" in told, told)
    check("of the file is" not in run("plan", folder / "a.stl", *QUICK), "mm are told in mm")
    if vug.feature("3mf"):
        inches = run("plan", write_3mf(folder / "inch.3mf", "inch", 1 / 25.4), *QUICK, *hole((0, 0, 7), (0, 0, 1), 4))
        check("1 in of the file is 25.4 mm" in inches and "14 mm from base to top" in inches, inches)
    done = run("plan", folder / "a.stl", "--inside-ml", 5, "--held", "0,0,1", "--plugged", "A", code=1)
    check("--plugged names every opening" in done, done)


with tempfile.TemporaryDirectory() as name:
    folder = Path(name)
    programs_speak_alike()
    part = gourd.part()
    same_however_told(folder, part)
    letters_are_taken(folder / "a.stl")
    what_takes_no_paint(folder)
    what_was_typed_is_named(folder)
    preferred_place(folder)
    several_cavities(folder)
    one_runs_and_one_does_not(folder)
    shut_models_run_out(folder)
    new_holes_are_drawn(folder)
    each_liquid_by_its_kind(folder)
    light_by_its_way(folder)
    what_decides_is_told()
    words([run("plan", folder / file, *QUICK, *more) for file, more in (
        ("a.stl", ()), ("a.stl", ("--design",)), ("shut.stl", ("--design",)),
        ("a.stl", ("--syringe", "0.5")), ("a.stl", ("--liquid", "water", "--inside-ml", "5", "--held", "0,0,1")), ("a.stl", ("--inside-ml", "5", "--held", "0,0,1")),
        ("a.stl", ("--liquid", "craft-acrylic")), ("a.stl", ("--liquid", "dyed-epoxy")))])
report.end()

#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""Every part of tests/data that can be planned, in three liquids: each figure of the JSON of its plan is that of the calls
for a fill, a turn, a drain with the same pose, liquid and holes, and of vug-sums. All of it with the argument all."""
import os
import re
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
from plans import (QUICK, QUICK_OPTIONS, cavities_in_use, check, compare_bench, compare_sums, house, plan_of, replay_drain,
                   replay_fill, report, stl, vug)
import boxes
import elsewhere
import gourd

LONG = sys.argv[1:] == ["all"]
DATA = house.SRC / "tests" / "data"
LIQUIDS = ("thinned acrylic", "craft acrylic", "dyed epoxy")
if os.environ.get("VUG_QUICK") and not LONG:
    house.skip("the quick run goes without")

# file, its unit, mm in it, the wall to hollow it with
SOLID = [("spot.ply", "in", 25.4, 1.5), ("suzanne.stl", "cm", 10.0, 1.5), ("ct_vase_iso60.stl", "mm", 1.0, 1.2),
         ("pencil_holder_hollow.stl", "mm", 1.0, 1.0), ("3mf/Globo.3mf", "mm", 1.0, 1.5),
         ("3mf/multiple_cylinders.3mf", "mm", 1.0, 1.5), ("made_places.3mf", "in", 25.4, 1.5),
         ("3mf/heartgears.3mf", "mm", 1.0, 1.5), ("3mf/HierarchicalComponent.3mf", "mm", 1.0, 1.5)]
HOLLOW = [f"openings/{name}.stl" for name in ("box1020", "box1072", "box1081", "ridge", "shell2068", "slant")]


def comb():
    """A bar with four legs, and a hole at one end of the bar."""
    voids = [([4.0, 4.0, 20.0], [56.0, 12.0, 27.0]), ([0.0, 6.5, 22.0], [4.0, 9.5, 25.0])]
    voids += [([6.0 + 14.0 * k, 5.0, 3.0], [13.0 + 14.0 * k, 11.0, 20.0]) for k in range(4)]
    return boxes.faces(voids, [60.0, 16.0, 30.0])


def twins():
    """A bar with two chambers of 12 mm side, and a hole into one."""
    voids = [([2.0, 2.0, 2.0], [14.0, 14.0, 14.0]), ([18.0, 2.0, 2.0], [30.0, 14.0, 14.0])]
    return boxes.faces(voids + [([0.0, 6.5, 2.0], [2.0, 9.5, 5.0])], [32.0, 16.0, 16.0])


def one_that_holds():
    """A chamber with a wide hole in its side and one in its top, and one with a single hole of 1 mm."""
    voids = [([2.0, 2.0, 2.0], [14.0, 14.0, 14.0]), ([18.0, 2.0, 2.0], [30.0, 14.0, 14.0])]
    holes = [([0.0, 5.0, 2.0], [2.0, 11.0, 8.0]), ([5.0, 5.0, 14.0], [11.0, 11.0, 16.0]), ([30.0, 7.5, 2.0], [32.0, 8.5, 3.0])]
    return boxes.faces(voids + holes, [32.0, 16.0, 16.0])


def joined():
    """Two chambers of 12 mm side, one behind the other, with a passage of 4 mm between them, and a hole into the first."""
    voids = [([2.0, 2.0, 2.0], [14.0, 14.0, 14.0]), ([18.0, 2.0, 2.0], [30.0, 14.0, 14.0])]
    ways = [([14.0, 6.0, 6.0], [18.0, 10.0, 10.0]), ([0.0, 5.0, 5.0], [2.0, 11.0, 11.0])]
    return boxes.faces(voids + ways, [32.0, 16.0, 16.0])


def compare(name, text, got, cavities, **options):
    paint, rinse = vug.liquid(got["paint"]), vug.liquid(got["rinse"])
    plan = cavities.plan(paint, rinse, **options, **QUICK_OPTIONS)
    throats = [[0.0] * 3 for _ in got["steps"]]

    def note(k, course, feed):
        counted = feed is None or feed["most_mm3"] > 0
        throats[k] = elsewhere.join(throats[k], elsewhere.passing(name, got["paint"], course, counted))

    replay_fill(name, got, plan.cavities(), paint, note)
    compare_bench(name, got, plan.cavities())
    elsewhere.compare_air(name, got, cavities_in_use(got, plan.cavities()).values())
    elsewhere.compare_waits(name, got, plan.cavities(), throats)
    elsewhere.compare_rate(name, got, plan.cavities())
    if not got["given_steps"]:
        replay_drain(name, got, plan.cavities(), rinse)
        compare_sums(name, got)
    words = text.replace("(", " ").replace(",", " ").split()
    check(not {"nan", "inf", "-0.0", "-nan"} & set(words), f"{name}: {text}")


def as_it_is(file, liquid, **options):
    more = ("--design",) if options.get("design") else ()
    text, got = plan_of(file, *QUICK, *more, "--liquid", liquid)
    compare(f"{file.name}, {liquid}", text, got, vug.Mesh.load(file).cavities(), **options)
    return got


def both_chambers(file, liquid):
    """What is printed stays as it is, a chamber without a hole too; a model gets one into each. Volumes by hand."""
    check(abs(as_it_is(file, liquid)["sealed_mm3"] - 1728.0) <= 1e-6, "a chamber that no hole leads to")
    check(as_it_is(file, liquid, design=1)["sealed_mm3"] == 0.0, "a model with a chamber that no hole leads to")


def drawn_where_it_stays(file, liquid):
    """By hand: past a hole of 1 mm no air comes in beside the liquid, and nothing runs out; 6 mm are wide enough, and that
    chamber runs dry on its side. So the syringe goes to the one alone."""
    text, _ = plan_of(file, *QUICK, "--bores", "0", "--liquid", liquid)
    lone = [k for k, o in enumerate(vug.Mesh.load(file).cavities().openings()) if o.diameter_mm < 2.0]
    drawn = re.findall(r"does not run out by itself: draw (?:it|\S+ mL) out by (.*?) with syringe", " ".join(text.split()))
    check(len(lone) == 1 and drawn and set(drawn) == {"ABC"[lone[0]]}, f"{file.name}: drawn by {drawn}, {lone} holds")


def hollowed(file, unit, mm, wall, liquid):
    text, got = plan_of(file, *QUICK, "--units", unit, "--hollow", wall, "--design", "--liquid", liquid)
    mesh, _, _ = vug.Mesh.load(file, unit_mm=mm).hollow(wall_mm=wall)
    compare(f"{file.name}, {liquid}", text, got, mesh.cavities(), design=1)


def begun(file, liquid, ml, up, air):
    """A part that has something in it already."""
    seen = [x for at in air for x in ("--air-at", ",".join(map(str, at)))]
    text, got = plan_of(file, *QUICK, "--liquid", liquid, "--inside-ml", ml, "--held", ",".join(map(str, up)), *seen)
    options = {"start_air": air} if air else {}
    compare(f"{file.name} with {ml} mL, {liquid}", text, got, vug.Mesh.load(file).cavities(), start_given=1, start_up=up,
            start_liquid_mm3=1e3 * ml, **options)


with tempfile.TemporaryDirectory() as name:
    folder = Path(name)
    part = folder / "gourd.stl"
    part.write_bytes(stl(gourd.part()))
    legs = folder / "comb.stl"
    comb().save(legs)
    bar = folder / "twins.stl"
    twins().save(bar)
    holds = folder / "holds.stl"
    one_that_holds().save(holds)
    row = folder / "joined.stl"
    joined().save(row)
    for liquid in LIQUIDS if LONG else LIQUIDS[1:2]:
        as_it_is(part, liquid)
        as_it_is(legs, liquid)
        as_it_is(row, liquid)
        both_chambers(bar, liquid)
        drawn_where_it_stays(holds, liquid)
        begun(part, liquid, 9.0, (0, 0, 1), [])
        begun(part, liquid, 8.0, (0, 0, -1), [(0, 0, 3), (0, 0, 45)])
        as_it_is(DATA / "csg_with_sealed_ball.stl", liquid, design=1)
        for file in HOLLOW if LONG else HOLLOW[-1:]:
            as_it_is(DATA / file, liquid)
        for file, unit, mm, wall in SOLID if LONG else SOLID[3:4]:
            hollowed(DATA / file, unit, mm, wall, liquid)
report.end()

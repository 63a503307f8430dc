#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""Parts of blocks and balls whose plan is known by hand: where a bore may sit and which hole paint goes in by, which holes
liquid leaves by, that wide holes let it run, and where holes that are near each other hold it."""
import math
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
from plans import QUICK, check, plan_of, report, stl, vug
import boxes

# 2-propanol at 20 C: 21.7 mN/m and 785 kg/m3 (CRC Handbook)
CAPILLARY_MM2 = 1e6 * 0.0217 / (785 * 9.81)


def head_mm(diameter_mm):
    """Of a bubble that comes in or a drop that goes out by a round hole: 4 tension / (density g diameter), Laplace."""
    return 4 * CAPILLARY_MM2 / diameter_mm


def told(text):
    return " ".join(text.split())


def wide_hole_fills(file):
    """Two rooms of 18 mL, joined by a passage that leads from the middle of the one to that of the other, and a hole of
    3 mm into the passage: however it is held, one room or both hold air above it, so air wants other ways out. They lie all
    within the faces of a room, and paint goes in by the wider hole."""
    rooms = [([2.0, 2.0, 2.0], [22.0, 32.0, 32.0]), ([34.0, 2.0, 2.0], [54.0, 32.0, 32.0])]
    ways = [([22.0, 12.0, 12.0], [34.0, 22.0, 22.0]), ([26.5, 0.0, 15.5], [29.5, 12.0, 18.5])]
    boxes.faces(rooms + ways, [56.0, 34.0, 34.0]).save(file)
    text, got = plan_of(file, *QUICK)
    room = 37308 + sum(math.pi / 4 * b["diameter_mm"] ** 2 * b["depth_mm"] for b in got["bores"])
    check(abs(got["capacity_mm3"] - room) < 0.01, f"37 mL: {got['capacity_mm3']}, by hand {room}")
    check(got["bores"], f"nothing is drilled: {got['trapped_mm3']} mm3 of air stay")
    for b in got["bores"]:
        lo, hi = rooms[b["point_mm"][0] > 28]
        across = [k for k in range(3) if abs(b["direction"][k]) < 0.5]
        room = min(min(b["point_mm"][k] - lo[k], hi[k] - b["point_mm"][k]) for k in across)
        check(room >= b["diameter_mm"] / 2, f"a bore of {b['diameter_mm']} mm {room} mm from the cavity's edge: {b}")
    by = [got["openings"][f["opening"]] for s in got["steps"] for f in s["feed"] if f["inject_mm3"] >= 50]
    check(by and not any(o["to_drill"] for o in by), f"filled by {by}: {text}")


def all_outlets_are_told(file):
    """Two holes of 6 mm in the floor's corners, one in the ceiling: whichever pose, liquid leaves a full room by all but the
    highest, where the air comes in. Upright nothing stays."""
    holes = [([3.0, 3.0, 0.0], [9.0, 9.0, 2.0]), ([31.0, 13.0, 0.0], [37.0, 19.0, 2.0]), ([17.0, 8.0, 22.0], [23.0, 14.0, 24.0])]
    boxes.faces([([2.0, 2.0, 2.0], [38.0, 20.0, 22.0])] + holes, [40.0, 22.0, 24.0]).save(file)
    text, got = plan_of(file, *QUICK)
    first = got["drain_steps"][0]
    height = [sum(x * u for x, u in zip(o["center_mm"], first["up"])) for o in got["openings"]]
    want = {i for i, z in enumerate(height) if z < max(height) - 0.1}
    check(len(height) == 3 and set(first["outlet"]) == want, f"outlets {first['outlet']}, by hand {want}: {first}")
    check(first["residue_mm3"] + first["stuck_mm3"] < 50, f"stays: {first}")
    check("does not run out" not in told(text), text)


def skull(lower_mm, upper_mm, inner=45.0, wall=3.0, sides=48):
    """A ball turned on a lathe, with a round hole below and one above."""
    profile = []
    for radius in (inner + wall, inner):
        low, high = (math.acos(0.5 * d / radius) for d in (lower_mm, upper_mm))  # of the latitudes at the rims
        arc = [(radius * math.cos(a), radius * math.sin(a)) for a in
               (-low + (low + high) * i / 24 for i in range(25))]
        profile += arc if radius > inner else arc[::-1]
    turn = [(math.cos(2 * math.pi * k / sides), math.sin(2 * math.pi * k / sides)) for k in range(sides)]
    triangles = []
    for (r, z), (s, y) in zip(profile, profile[1:] + profile[:1]):
        for (c, d), (e, f) in zip(turn, turn[1:] + turn[:1]):
            a, b, g, h = (r * c, r * d, z), (r * e, r * f, z), (s * e, s * f, y), (s * c, s * d, y)
            triangles += [[a, b, g], [a, g, h]]
    return triangles


def wide_holes_run(file):
    """33 mm at the lowest place and 57 mm at the highest are each wider than the 12.9 mm from which a lone hole is sure to
    run (3.832 capillary lengths): all runs out, by Torricelli within seconds."""
    file.write_bytes(stl(skull(33.0, 57.0)))
    text, got = plan_of(file, *QUICK, "--bores", "0")
    wide = sorted(round(o["diameter_mm"]) for o in got["openings"])
    check(wide == [33, 57], f"holes {wide}")
    check("does not run out" not in told(text) and "hardly runs out" not in told(text), text)
    last = got["drain_steps"][-1]
    check(last["stuck_mm3"] < 50 and last["residue_mm3"] < 0.01 * got["capacity_mm3"], f"stays: {last}")
    check(all(0 <= s["time_s"] < 10 for s in got["drain_steps"]), f"times: {got['drain_steps']}")


def near_holes_hold(file, apart_mm, runs):
    """Two holes of 3 x 3 mm in the floor, so far apart: nowhere is one higher over the other than that, and bubble and drop
    want twice head_mm(3). A model gets a hole more where that is not there: then some two are as far apart, and it runs."""
    holes = [([x, 8.0, 0.0], [x + 3.0, 11.0, 2.0]) for x in (4.0, 4.0 + apart_mm)]
    boxes.faces([([2.0, 2.0, 2.0], [26.0, 18.0, 14.0])] + holes, [28.0, 20.0, 16.0]).save(file)
    check((2 * head_mm(3) < apart_mm) == runs, f"by hand: {2 * head_mm(3)} mm of {apart_mm}")
    text, got = plan_of(file, *QUICK, "--bores", "0")
    stuck = sum(s["stuck_mm3"] for s in got["drain_steps"])
    check((stuck < 50) == runs and ("by itself: draw" not in told(text)) == runs, f"{apart_mm} mm apart: {stuck} mm3: {text}")
    text, got = plan_of(file, *QUICK, "--design")
    stuck = sum(s["stuck_mm3"] for s in got["drain_steps"])
    check(stuck < 50 and "by itself: draw" not in told(text), f"{apart_mm} mm apart, designed: {stuck} mm3: {text}")
    # a square hole passes what its inscribed circle does
    width = [o["diameter_mm"] if o["to_drill"] else 3.0 for o in got["openings"]]
    at = [o["center_mm"] for o in got["openings"]]
    pairs = [(i, k) for i in range(len(at)) for k in range(i)]
    check(any(math.dist(at[i], at[k]) > head_mm(width[i]) + head_mm(width[k]) for i, k in pairs),
          f"{apart_mm} mm apart: holes {list(zip(at, width))}")


with tempfile.TemporaryDirectory() as name:
    file = Path(name) / "part.stl"
    wide_hole_fills(file)
    all_outlets_are_told(file)
    wide_holes_run(file)
    near_holes_hold(file, 6.0, False)
    near_holes_hold(file, 14.0, True)
report.end()

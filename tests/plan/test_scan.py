#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""A scan as it comes, a head with ten cavities of narrow ways: a plan in a few poses comes well within a minute of
processor time (what a maker waits for; common practice, no source), and fills the cavities that openings lead to, as
vug-measure has them from the mesh alone."""
import json
import math
import resource
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
from plans import QUICK, check, house, plan_of, report, run

SCAN = house.SRC / "tests" / "data" / "ct_head_skin_iso600.stl"
MOST_S = 45.0


def seconds():
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


before = seconds()
text, got = plan_of(SCAN, *QUICK)
took = seconds() - before
check(took < MOST_S, f"{took:.1f} s of processor time")
print(f"{took:.1f} s of processor time")

known = json.loads(run("measure", SCAN, "--json", "-"))["cavities"]
room = sum(c["volume_mm3"] for c in known if not c["sealed"])
sealed = sum(c["volume_mm3"] for c in known if c["sealed"])
# new holes hold paint too: each its round section times its depth, by hand, with ends that slant by 45 degrees at most
areas = [math.pi / 4 * b["diameter_mm"] ** 2 for b in got["bores"]]
holes = sum(area * b["depth_mm"] for area, b in zip(areas, got["bores"]))
slanted = sum(area * b["diameter_mm"] / 2 for area, b in zip(areas, got["bores"]))
filled = got["capacity_mm3"] + got["sealed_mm3"]
check(abs(filled - room - sealed - holes) <= slanted + 1e-6 * room,
      f"{filled} mm3, of {room} with openings, {sealed} without and {holes} in new holes")
check(abs(got["sealed_mm3"] - sealed) <= 1e-6 * room, f"{got['sealed_mm3']} mm3 sealed, of {sealed}")
check(0.0 <= got["trapped_mm3"] <= got["capacity_mm3"], f"{got['trapped_mm3']} mm3 of air stay")
words = text.replace("(", " ").replace(",", " ").split()
check(not {"nan", "inf", "-0.0", "-nan"} & set(words), text)
report.end()

#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""A scan as it comes, a head with ten cavities of narrow ways: a plan in a few poses comes well within a minute of
processor time (what a maker waits for; common practice, no source), and fills the cavities that openings lead to, as
vug-measure has them from the mesh alone."""
import json
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
# a cavity without an opening of its own may get a new hole
check(got["capacity_mm3"] >= room * (1 - 1e-9), f"{got['capacity_mm3']} mm3 to fill of {room}")
check(abs(got["capacity_mm3"] + got["sealed_mm3"] - room - sealed) <= 1e-6 * room,
      f"{got['capacity_mm3']} and {got['sealed_mm3']} sealed mm3, of {room} and {sealed}")
check(0.0 <= got["trapped_mm3"] <= got["capacity_mm3"], f"{got['trapped_mm3']} mm3 of air stay")
for step in got["drain_steps"]:
    check(step["time_s"] < 0.0 or step["time_s"] <= 86400.0, f"{step['time_s']} s until it has run out")
words = text.replace("(", " ").replace(",", " ").split()
check(not {"nan", "inf", "-0.0", "-nan"} & set(words), text)
report.end()

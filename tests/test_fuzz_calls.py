#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Each public call is made by a fuzz target, or is named here with what makes one needless.

    tests/test_fuzz_calls.py --table     prints which target makes which call
"""
import re
import sys

import house

# What they take is no caller's number, text, bytes or mesh.
NOTHING_TO_DAMAGE = {
    "library": {"vug_constant", "vug_feature", "vug_version_number", "vug_version_string", "vug_status_name",
                "vug_status_string", "vug_caution_text"},
    "context": {"vug_context_cancel", "vug_context_clear_warnings", "vug_context_progress", "vug_context_set_progress",
                "vug_context_threads", "vug_context_warning"},
    "counts and arrays of a result": {
        "vug_shells_of_triangles", "vug_thickness_vertices", "vug_pose_scan_ups", "vug_pose_scan_trapped_mm3",
        "vug_pose_scan_best", "vug_pockets_capacity_mm3"},
}
# Named with the reason, and what is tried instead.
ELSEWHERE = {
    "vug_mesh_load": "reads the file, then does as vug_mesh_load_memory; tests/mesh/test_formats",
    "vug_mesh_save": "writes what it was given; tests/mesh/test_formats",
    "vug_mesh_save_pieces": "writes what it was given; tests/mesh/test_formats",
    "vug_interval_of": "calls the caller's function; tests/flow/test_interval",
}


def targets():
    """The calls that each target makes; the long ones are jobs of the part."""
    jobs = (house.SRC / "tests/jobs.h").read_text()
    for source in sorted((house.SRC / "tests/fuzz").glob("fuzz_*.c")):
        text = source.read_text()
        if "jobs[i].run" in text:
            text += jobs
        yield source.stem, set(re.findall(r"\b(vug_[a-z0-9_]+)\(", text))


report = house.Report()
calls = set(re.findall(r"\b(vug_\w+);", house.MAP.read_text()))
made = dict(targets())
if "--table" in sys.argv:
    for call in sorted(calls):
        print(f"{call:34}", *[name for name, own in made.items() if call in own])
reached, excused = set().union(*made.values()), set().union(*NOTHING_TO_DAMAGE.values()) | set(ELSEWHERE)
for call in sorted(calls):
    plain = re.search(r"_(init|free|count)$", call)
    report.check(call in reached or call in excused or plain, f"{call}: no fuzz target makes it")
for call in sorted(excused):
    report.check(call in calls, f"{call} is excused and is no call")
    report.check(call not in reached, f"{call} is excused, and a target makes it")
report.end()

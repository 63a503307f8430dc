# SPDX-License-Identifier: MIT
"""make check-abi: the binary interface against the baseline of the last release. What was there
is there unchanged (abidiff, public headers only); what is new has a map node of its own and a line
in NEWS. Wants a library built with -g."""
import re
import shutil
import sys

import house

baseline = house.SRC / "tests" / "abi" / "vug.abi"
so = house.library("so")
if not shutil.which("abidiff") or not so:
    house.skip("abidiff or the shared library is not there")
headers = house.SRC / "include"
done = house.run("abidiff", "--headers-dir1", headers, "--headers-dir2", headers, "--no-added-syms",
                 "--fail-no-debug-info", baseline, so)
if done.returncode:
    print(done.stdout)
    print("abi: changed against tests/abi/vug.abi")
    sys.exit(1)

before = dict(re.findall(r"<elf-symbol name='(vug_\w+)' version='([\w.]+)'", baseline.read_text()))
now = {}
for node, body in re.findall(r"^(VUG_[\d.]+) \{(.*?)^\}", re.sub(r"#.*", "", house.MAP.read_text()),
                             flags=re.S | re.M):
    for name in re.findall(r"\b(vug_\w+);", body):
        now[name] = node
faults = []
news = (house.SRC / "NEWS").read_text()
for name, node in sorted(now.items()):
    if name not in before and node in before.values():
        faults.append(f"{name} is new in the released node {node}: give it a node of its own")
    if name not in before and name not in news:
        faults.append(f"{name} is new: NEWS has no line about it")
    if name in before and before[name] != node:
        faults.append(f"{name} moved from {before[name]} to {node}")
print("\n".join(faults))
print(f"abi: {len(before)} calls as in the baseline, {len(set(now) - set(before))} new")
sys.exit(1 if faults else 0)

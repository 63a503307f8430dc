# SPDX-License-Identifier: MIT
"""The README's programs, C and Python, compile and run as they stand and say the same; what it
points to is there."""
import os
import re
import sys
import tempfile
from pathlib import Path

import house
import test_man_programs as programs

so = house.library("so")
if not so or house.sanitized():
    house.skip("no plain shared library")
text = (house.SRC / "README.md").read_text()
blocks = dict(re.findall(r"```(\w+)\n(.*?)```", text, flags=re.S))
report = house.Report()
report.check(set(blocks) == {"c", "python"}, f"README.md: programs in {sorted(blocks)}")
with tempfile.TemporaryDirectory() as folder:
    folder = Path(folder)
    programs.part(folder / "part.stl")
    (folder / "program.c").write_text(blocks["c"])
    (folder / "program.py").write_text(blocks["python"])
    done = house.run(*programs.CC, *programs.FLAGS, f"-I{house.SRC}/include", "program.c",
                     "-o", "program", f"-L{so.parent}", "-lvug", cwd=folder)
    report.check(done.returncode == 0, f"README.md, C: {done.stdout}")
    env = {**os.environ, "LD_LIBRARY_PATH": str(so.parent), "VUG_LIBRARY": str(so),
           "PYTHONPATH": str(house.SRC / "bindings" / "python")}
    in_c = house.run("./program", cwd=folder, env=env)
    in_python = house.run(sys.executable, "-B", "program.py", cwd=folder, env=env)
    report.check(in_c.returncode == 0, f"README.md, C: {in_c.stdout}")
    report.check(in_python.returncode == 0, f"README.md, Python: {in_python.stdout}")
    report.check(in_c.stdout == in_python.stdout, f"README.md: C says {in_c.stdout}, Python {in_python.stdout}")
    # The round box's one bore is in its base, so it is filled with the base up, by that bore, and no other
    # is drilled.
    words = " ".join(in_c.stdout.split())
    report.check("its base straight up" in words, "README.md: not with the bore up")
    report.check("No new hole is needed" in words, "README.md: a hole is drilled that is not needed")
for path in re.findall(r"\]\(([\w./-]+)\)", text) + ["examples/09_the_whole_plan.c", "man/vug.3", "man/vug.h.3",
                                                      "debian/build", "bootstrap"]:
    report.check((house.SRC / path).exists(), f"README.md: {path} is not there")
report.end()

# SPDX-License-Identifier: MIT
"""Each tool has --help, exit codes, and a man page with the options of its --help."""
import os
import re

import house
import pages

programs = sorted(p for p in (house.BUILD / "examples" / "tools").glob("vug-*")
                  if p.is_file() and os.access(p, os.X_OK) and "." not in p.name)
if not programs:
    house.skip("the examples are not built")
report = house.Report()
own = {p.name: p for p in pages.pages("1")}
for program in programs:
    name = program.name
    done = house.run(program, "--help")
    report.check(done.returncode == 0, f"{name} --help: exit {done.returncode}")
    report.check(house.run(program, "--no-such-option").returncode == 2,
                 f"{name} --no-such-option: the exit code should be 2")
    options = set(re.findall(r"(?<![\w-])--([a-z][\w-]*)", done.stdout))
    page = own.get(name)
    if report.check(page, f"{name}: no man page man/{name}.1"):
        report.check(page.names() == [name],
                     f"{name}.1: NAME has {page.names()}")
        extra = {"help", "version"}
        for option in sorted(options - page.options() - extra):
            report.check(False, f"{name}.1 lacks --{option}")
        for option in sorted(page.options() - options - extra):
            report.check(False, f"{name}.1 tells of --{option}, which {name} has not")
        for title in ("NAME", "SYNOPSIS", "DESCRIPTION", "EXIT STATUS", "EXAMPLES", "SEE ALSO"):
            report.check(title in page.sections, f"{name}.1: no {title}")
for name in own:
    report.check((house.BUILD / "examples" / "tools" / name).exists(), f"man/{name}.1: no such program")
report.end()

#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""How long and how winding the functions of lib/ are; a failure above the bounds. A step of .ci/run.

    tests/functions.py [FOLDER]     another folder than lib/

Lines are counted from the one with the name to the closing brace. Complexity is McCabe's (1976) as is usual for C:
one, and one more for each if, for, while, case, ?, && and ||. Needs Universal Ctags (77 without).
"""
import json
import re
import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
# What it was when this was written (median 12, 90 % within 27, longest 57 lines), with room for a merge or two.
BOUNDS = {"lines": {"median": 13, "p90": 28, "max": 60}, "complexity": {"median": 4, "p90": 10, "max": 24}}
NOT_CODE = re.compile(r"/\*.*?\*/|//[^\n]*|\"(?:\\.|[^\"\\\n])*\"|'(?:\\.|[^'\\\n])+'", re.S)
BRANCH = re.compile(r"\b(?:if|for|while|case)\b|\?|&&|\|\|")


def functions(folder):
    """(file, name, first line, last line) of each."""
    command = ["ctags", "--languages=C", "--langmap=C:.c.h", "--kinds-C=f", "--fields=+ne", "--output-format=json",
               "-R", "-f", "-", str(folder)]
    for line in subprocess.run(command, check=True, capture_output=True, text=True).stdout.splitlines():
        tag = json.loads(line)
        if tag.get("_type") == "tag" and "end" in tag:
            yield Path(tag["path"]), tag["name"], tag["line"], tag["end"]


def blank(text):
    """Comments and literals away, the lines where they were."""
    return NOT_CODE.sub(lambda m: "\n" * m[0].count("\n") or " ", text).splitlines()


def measure(folder):
    """Rows of lines, complexity, and where."""
    lines_of = {}
    for path, name, first, last in functions(folder):
        lines = lines_of.setdefault(path, blank(path.read_text(encoding="utf-8")))
        body = "\n".join(lines[first - 1:last])
        yield last - first + 1, 1 + len(BRANCH.findall(body)), f"{path.relative_to(folder)}:{first} {name}"


def quantile(values, share):
    return sorted(values)[min(len(values) - 1, int(share * len(values)))]


def report(rows):
    """Prints the figures; the number of those above their bounds."""
    above = 0
    for column, what in enumerate(("lines", "complexity")):
        values = [row[column] for row in rows]
        found = {"median": quantile(values, 0.5), "p90": quantile(values, 0.9), "max": max(values)}
        told = ", ".join(f"{name} {value} (bound {BOUNDS[what][name]})" for name, value in found.items())
        print(f"counts: {len(rows)} functions, {what}: {told}; most in "
              + ", ".join(row[2] for row in sorted(rows, key=lambda r: -r[column])[:3]))
        above += sum(value > BOUNDS[what][name] for name, value in found.items())
    return above


def main():
    if not shutil.which("ctags") or "Universal Ctags" not in subprocess.run(
            ["ctags", "--version"], capture_output=True, text=True).stdout:
        print("skipped: Universal Ctags is not there")
        return 77
    folder = Path(sys.argv[1]) if len(sys.argv) > 1 else ROOT / "lib"
    rows = list(measure(folder))
    if len(rows) < 2:
        sys.exit(f"{folder}: no functions")
    above = report(rows)
    if above:
        print(f"{above} figures are above their bounds: say it in smaller functions")
    return 1 if above else 0


if __name__ == "__main__":
    sys.exit(main())

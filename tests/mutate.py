#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""Breaks the library in small ways, one at a time, and looks whether the tests of the floor that is broken notice.

mutate.py [--places N] [--seed S] [--floor NAME] [--only K] [--list]

Places are drawn over all floors of lib/, as many from each, by a seed that is written below, so that a second run breaks
the same. Ways: a sum becomes a difference, a bound takes in or leaves out its end, a number is doubled, the lesser
becomes the greater, a call whose answer nobody takes is left out, a condition is turned round. Each is built in a copy
of the tree and run against the floor's own tests (tests/FLOOR/, those that `make check` runs); of floors without, those
of the floors that ask them. Caught: a test fails, crashes, or hangs. What survives is listed; those for which there is a reason
stand in tests/mutants.txt with it. Exit 1 where less than nine tenths are caught, those with a reason not counted.
"""
import argparse
import os
import random
import re
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
SEED = 20261129
NO_BUILD = "nothing: it does not build"
NEIGHBOURS = {"course": ["fill", "drain", "turn"], "fill": ["fill", "transient"],
              "gravity": ["gravity", "fill", "drain", "hydrostatic", "turn"],
              "hydrostatic": ["hydrostatic", "fill"], "pose": ["pose", "plan"], "transient": ["transient", "drain"]}

WAYS = [
    ("sign", re.compile(r"(?<=[\w)\]] )([+-])(?= [\w(])"), lambda m: "-" if m[1] == "+" else "+"),
    ("bound", re.compile(r"(?<=[\w)\]] )(<=|>=|<|>)(?= [\w(-])"),
     lambda m: {"<": "<=", "<=": "<", ">": ">=", ">=": ">"}[m[1]]),
    ("number", re.compile(r"(?<![\w.])(\d+\.\d+(?:e-?\d+)?)(?![\w.])"), lambda m: f"(2.0 * {m[1]} + (({m[1]}) == 0.0))"),
    ("least and most", re.compile(r"\b(fmin|fmax)\("), lambda m: ("fmax(" if m[1] == "fmin" else "fmin(")),
    ("condition", re.compile(r"\bif \((?!!?status\b)([^()]*)\)\n"), lambda m: f"if (!({m[1]}))\n"),
    ("call left out", re.compile(r"(?<=[;{}])\n( +)([a-z]\w*)\(([^;{}=]*)\);(?=\n)"), lambda m: f"\n{m[1]};"),
]
# Not a fault when it goes: what frees memory is for the leak checks, assertions are off, progress is told by its own tests.
LEFT_ALONE = re.compile(r"_free\(|assert\(|free_|vugi_progress|vugi_step|_Static_assert|vug_free")


def blank(text):
    """Comments, strings and preprocessor lines made blank, so that places keep their offsets."""
    def hide(m):
        return re.sub(r"[^\n]", " ", m[0])
    text = re.sub(r"/\*.*?\*/|//[^\n]*|\"(?:\\.|[^\"\\\n])*\"|'(?:\\.|[^'\\\n])*'", hide, text, flags=re.S)
    return re.sub(r"^[ \t]*#.*$", hide, text, flags=re.M)


def places_of(floor):
    found = []
    for path in sorted((ROOT / "lib" / floor).rglob("*.c")):
        source = path.read_text()
        for way, pattern, change in WAYS:
            for m in pattern.finditer(blank(source)):
                if LEFT_ALONE.search(m[0]):
                    continue
                found.append((way, path.relative_to(ROOT), m.start(), m.end(), change(m)))
    return found


def floors():
    return sorted(p.name for p in (ROOT / "lib").iterdir() if p.is_dir() and list(p.rglob("*.c")))


def draw(count, seed):
    """As many from each floor, and of each floor one of each way in turn."""
    rng, all_floors, drawn = random.Random(seed), floors(), []
    for i, floor in enumerate(all_floors):
        want = (i + 1) * count // len(all_floors) - i * count // len(all_floors)
        places = places_of(floor)
        rng.shuffle(places)
        ways = [way for way, *_ in WAYS]
        rng.shuffle(ways)
        for k in range(want):
            way = ways[k % len(ways)]
            pick = next((p for p in places if p[0] == way), places[0])
            places.remove(pick)
            drawn.append((floor, *pick))
    return drawn


def line_of(path, start):
    return (ROOT / path).read_text()[:start].count("\n") + 1


def name_of(place):
    floor, way, path, start, end, new = place
    old = (ROOT / path).read_text()[start:end]
    lines = old.strip().splitlines()
    return f"{path}:{line_of(path, start) + (old[:1] == chr(10))}: {way}: {lines[0].strip() if lines else old}"


def tests_of(floor):
    """Programs and scripts that make check runs for a floor."""
    programs, scripts = [], []
    for name in NEIGHBOURS.get(floor, [floor]):
        text = (ROOT / "lib" / name / "Makefile.inc").read_text().replace("\\\n", " ")
        for line in re.findall(r"^check_PROGRAMS \+= (.*)$", text, re.M):
            programs += [t for t in line.split() if "fuzz" not in t]
        for line in re.findall(r"^dist_check_SCRIPTS \+= (.*)$", text, re.M):
            scripts += [t for t in line.split() if "fuzz" not in t and "test_house" not in t]
    return programs, scripts


class Copy:
    """A built copy of the tree, in which files are broken and mended again."""

    def __init__(self, folder):
        self.root = Path(folder) / "vug"
        tree = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, check=True).stdout
        for name in tree.decode().split("\0"):
            if name and (ROOT / name).is_file():
                (self.root / name).parent.mkdir(parents=True, exist_ok=True)
                shutil.copy2(ROOT / name, self.root / name)
        self.took = {}
        self.environment = dict(os.environ, VUG_SRCDIR=str(self.root), VUG_BUILDDIR=str(self.root), VUG_QUICK="1",
                                CK_DEFAULT_TIMEOUT="300", CK_FORK="yes")
        for command in (["autoreconf", "-fi"], ["./configure", "-q"], ["make", "-s", "-j2"]):
            subprocess.run(command, cwd=self.root, check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)

    def build(self, programs):
        """One after the other: `make all` is a make of its own and would build the same library beside the programs."""
        for targets in (["all"], programs):
            done = subprocess.run(["make", "-s", "-j2", *targets], cwd=self.root, capture_output=True, text=True)
            self.said = done.stdout[-2000:] + done.stderr[-2000:]
            if done.returncode:
                return False
        return True

    def passes(self, test):
        """First time: how long it takes unbroken. Whether it hung: self.hung."""
        self.hung = False
        script = test.endswith((".py", ".sh"))
        command = [sys.executable, test] if test.endswith(".py") else ["./" + test]
        limit = 6 * self.took[test] + 60 if test in self.took else 900
        begin = time.monotonic()
        try:
            done = subprocess.run(command, cwd=self.root, env=self.environment, capture_output=True, timeout=limit,
                                  stdin=subprocess.DEVNULL, start_new_session=not script)
            good = done.returncode in (0, 77)
        except subprocess.TimeoutExpired:
            good, self.hung = False, True
        self.took.setdefault(test, time.monotonic() - begin)
        return good


def try_one(copy, place):
    """What notices it: a test's name, NO_BUILD, or None."""
    floor, way, path, start, end, new = place
    programs, scripts = tests_of(floor)
    source = (ROOT / path).read_text()
    order = sorted(programs + scripts, key=lambda t: copy.took.get(t, 0.0))
    if any(t not in copy.took for t in order):
        if not copy.build(programs):
            sys.exit(f"{floor}: the tests do not build with nothing broken:\n{copy.said}")
        for test in order:
            if test not in copy.took and not copy.passes(test):
                sys.exit(f"{test} fails with nothing broken")
    try:
        (copy.root / path).write_text(source[:start] + new + source[end:])
        if not copy.build(programs):
            return NO_BUILD
        noticed = next((t for t in order if not copy.passes(t)), None)
        return noticed + ", which hung" if noticed and copy.hung else noticed
    finally:
        (copy.root / path).write_text(source)


def known():
    """Survivors with a reason: lines 'path: way: words: reason', the words as the place is named but for its line."""
    path = ROOT / "tests" / "mutants.txt"
    lines = path.read_text().splitlines() if path.exists() else []
    return [line.split(" | ")[0].strip() for line in lines if line.strip() and not line.startswith("#")]


def main():
    ask = argparse.ArgumentParser(description="Breaks the library and looks whether its tests notice.")
    ask.add_argument("--places", type=int, default=60)
    ask.add_argument("--seed", type=int, default=SEED)
    ask.add_argument("--floor")
    ask.add_argument("--only", type=int)
    ask.add_argument("--list", action="store_true")
    o = ask.parse_args()
    drawn = [(i, p) for i, p in enumerate(draw(o.places, o.seed))
             if (not o.floor or p[0] == o.floor) and (o.only is None or i == o.only)]
    if o.list:
        for i, place in drawn:
            print(i, name_of(place))
        return 0
    reasons, caught, none, alive = known(), 0, 0, []
    with tempfile.TemporaryDirectory() as folder:
        copy = Copy(folder)
        for i, place in drawn:
            noticed = try_one(copy, place)
            name = name_of(place)
            print(f"{i:3} {'caught by ' + noticed if noticed else 'ALIVE'}: {name}", flush=True)
            none += noticed == NO_BUILD
            caught += noticed not in (None, NO_BUILD)
            if not noticed and re.sub(r":\d+:", ":", name, count=1) not in reasons:
                alive.append(name)
    print(f"{caught} of {len(drawn) - none} caught, {len(alive)} alive without a reason; {none} did not build")
    return 1 if len(alive) > 0.1 * (len(drawn) - none) else 0


sys.exit(main())

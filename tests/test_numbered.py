# SPDX-License-Identifier: MIT
"""The numbered examples: short, built by their own Makefile as after an install, run, and compared
with the output kept beside them. Figures that can be worked out by hand are."""
import math
import os
import re
import shutil
import struct
import tempfile
from pathlib import Path

import gourd
import house

if not house.library("so") or house.sanitized():
    house.skip("no plain shared library")
if not shutil.which("pkg-config") or not shutil.which("make"):
    house.skip("no pkg-config or make")
EXAMPLES = house.SRC / "examples"
NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
report = house.Report()


def same(got, kept, where):
    """Words alike, numbers within one and a half units of their last printed digit: compilers and
    machines may differ in what comes after it."""
    report.check(NUMBER.sub("#", got) == NUMBER.sub("#", kept), f"{where}: prints\n{got}not\n{kept}")
    for a, b in zip(NUMBER.findall(got), NUMBER.findall(kept)):
        unit = 10.0 ** -len(b.partition(".")[2])
        report.check(abs(float(a) - float(b)) <= 1.5 * unit, f"{where}: {a}, kept is {b}")


def file_is_the_gourd():
    """What is installed is what gourd.py makes, but for the last digit of a float."""
    kept, made = (EXAMPLES / "gourd.stl").read_bytes(), gourd.stl(gourd.part())
    if not report.check(len(kept) == len(made) and kept[:84] == made[:84], "gourd.stl: not gourd.py's"):
        return
    for row in range(84, len(made), 50):
        a, b = struct.unpack_from("<12f", kept, row), struct.unpack_from("<12f", made, row)
        report.check(all(abs(x - y) < 1e-5 for x, y in zip(a, b)), f"gourd.stl: byte {row}")


def frustum(r0, r1, height):
    """Of a regular n-gon: its area is n / 2 r^2 sin(2 pi / n)."""
    n = gourd.TURNS
    return n / 2 * math.sin(2 * math.pi / n) * height / 3 * (r0 * r0 + r0 * r1 + r1 * r1)


def number(text, pattern):
    return float(re.search(pattern, text).group(1))


def by_hand(out):
    """Volumes by the divergence theorem; the air under the rim between the bulbs as the outer
    frustum less the inner one, from its ceiling, z = 24.5, to the lip, z = 28 (leaning changes no
    section); a tight fill takes capacity by rate."""
    resin, room = gourd.volume(gourd.part()), gourd.volume(gourd.cavity())
    got = number(out["01_load_and_measure"], r"(\S+) ml of resin")
    report.check(abs(got - 1e-3 * resin) < 6e-4, f"resin {got}, by hand {resin}")
    got = number(out["02_cavities"], r"cavity 0: (\S+) ml")
    report.check(abs(got - 1e-3 * room) < 1e-3 * got, f"cavity {got}, by hand {room}")
    wide = 8 + (10 - 8) * (28 - 24.5) / (30 - 24.5)
    air = frustum(8, wide, 3.5) - frustum(8, 5.5, 3.5)
    got = number(out["03_one_pose"], r"^(\d+) of")
    report.check(abs(got - air) < 0.01 * air, f"air under the rim {got}, by hand {air}")
    got = number(out["05_fill_in_order"], r"(\d+) mm3 of air")
    report.check(abs(got - air) < 0.01 * air, f"air after the fill {got}, by hand {air}")
    slow, fast = (float(s) for s in re.findall(r"in (\d+) s", out["06_fill_in_time"]))
    report.check(abs(slow - room / 100) < 1 and abs(fast - room / 1000) < 1, f"times {slow}, {fast}")


def main():
    sources = sorted(EXAMPLES.glob("[0-9][0-9]_*.c"))
    report.check([p.name[:2] for p in sources] == [f"{i:02}" for i in range(1, 11)],
                 f"examples: {[p.name for p in sources]}")
    file_is_the_gourd()
    env = {**os.environ, "PKG_CONFIG_PATH": str(house.BUILD),
           "LD_LIBRARY_PATH": str(house.BUILD / ".libs")}
    out = {}
    with tempfile.TemporaryDirectory() as folder:
        folder = Path(folder)
        for path in [*sources, EXAMPLES / "gourd.stl", EXAMPLES / "Makefile"]:
            shutil.copy(path, folder)
        done = house.run("make", "-s", "-C", folder, "CC=" + os.environ.get("CC", "cc"),
                         "CFLAGS=-O1 -Wall -Wextra -Wpedantic -Wshadow -Werror", env=env)
        if not report.check(done.returncode == 0, f"examples do not build:\n{done.stdout}"):
            report.end()
        for path in sources:
            name = path.stem
            lines = len(path.read_text().splitlines())
            report.check(lines <= 60, f"{name}.c: {lines} lines")
            done = house.run(folder / name, cwd=folder, env=env, timeout=120)
            report.check(done.returncode == 0, f"{name}: ends with {done.returncode}:\n{done.stdout}")
            same(done.stdout, (EXAMPLES / f"{name}.out").read_text(), name)
            out[name] = done.stdout
            if "argv" in path.read_text():
                done = house.run(folder / name, "missing.stl", cwd=folder, env=env, timeout=120)
                report.check(done.returncode == 1 and "missing.stl" in done.stdout,
                             f"{name} missing.stl: {done.returncode}, {done.stdout}")
    by_hand(out)
    report.end()


main()

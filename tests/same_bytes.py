#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Whether two builds say the same, byte for byte: for a change that only moves code.

    tests/same_bytes.py OLD NEW [PART...]     two build folders, more parts

Runs every program of both builds with --json over the parts in tests/data, over corals made by OLD
and over the parts given, and lists each run whose output or exit status differs. Not a part of
`make check`, since it needs an old build beside the new one.
"""
import argparse
import concurrent.futures
import difflib
import itertools
import pathlib
import subprocess
import sys
import tempfile

HERE = pathlib.Path(__file__).resolve()
DATA = next(p for p in HERE.parents if (p / "tests" / "data").is_dir()) / "tests" / "data"
MESHES = {".stl", ".obj", ".ply", ".3mf", ".off"}
UPS = ("0,0,1", "0.6,0.3,-0.74", "-1,0.2,0.1")
QUESTIONS = ("tube", "slot", "bore", "empty", "exchange", "meniscus", "bubble", "fluid", "yield", "fit", "hole",
             "inject", "supplies", "rinse", "soak", "plug", "seal", "ice", "dry", "cure", "inside", "wall",
             "film", "relief", "coat")


def program(build, name):
    """Where a build keeps a program: under its bare name once, under vug-NAME since."""
    for place in (f"bin/vug-{name}", f"examples/tools/vug-{name}", f"examples/{name}"):
        if (build / place).is_file():
            return build / place
    sys.exit(f"{build}: no program {name}")


def corals(build, folder):
    made = []
    for name, options in (("coral", []), ("closed", ["--bores", "0"]),
                          ("one", ["--bores", "1", "--seed", "5"])):
        path = folder / f"{name}.stl"
        subprocess.run([program(build, "coral"), "--out", path, "--resolution", "60", *options], check=True,
                       stdout=subprocess.DEVNULL)
        made.append(path)
    return made


def runs(parts):
    """The command lines, program first."""
    fine = ["--columns", "140"]
    for part in parts:
        yield ["measure", part]
        if "malformed" in str(part):
            continue
        yield ["plan", part, *fine, "--poses", "16"]
        yield ["plan", part, *fine, "--poses", "16", "--design", "--paint", "dyed epoxy"]
        for up in UPS:
            for more in ([], ["--rate", "500", "--viscous", "--viscosity", "0.5"],
                         ["--tight", "--pressure", "2000"]):
                yield ["fill", part, *fine, "--up", up, *more]
            yield ["drain", part, *fine, "--up", up, "--printing"]
    for question in QUESTIONS:
        yield ["sums", question]


def outcome(build, run):
    name, *args = run
    done = subprocess.run([program(build, name), *map(str, args), "--json", "-"], capture_output=True)
    return done.returncode, done.stdout.decode(errors="replace")


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("old", type=pathlib.Path)
    parser.add_argument("new", type=pathlib.Path)
    parser.add_argument("parts", nargs="*", type=pathlib.Path)
    given = parser.parse_args()
    differ = 0
    with tempfile.TemporaryDirectory() as folder, concurrent.futures.ThreadPoolExecutor(2) as pool:
        found = sorted(p for p in DATA.rglob("*") if p.suffix in MESHES)
        todo = list(runs(corals(given.old, pathlib.Path(folder)) + found + given.parts))
        pairs = pool.map(lambda run: (run, outcome(given.old, run), outcome(given.new, run)), todo)
        for run, old, new in pairs:
            if old != new:
                differ += 1
                print("differs:", *run, f"(exit {old[0]}, {new[0]})")
                lines = difflib.unified_diff(old[1].splitlines(), new[1].splitlines(), lineterm="", n=0)
                print(*(f"    {line[:160]}" for line in itertools.islice(lines, 2, 12)), sep="\n")
    print(f"{len(todo)} runs, {differ} differ")
    return differ > 0


if __name__ == "__main__":
    sys.exit(main())

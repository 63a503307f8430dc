# SPDX-License-Identifier: MIT
"""The man pages' SYNOPSIS compiles against the header; their EXAMPLES compile without a warning
and run, in a folder that has part.stl: a closed, hollow, round box with one bore in its floor."""
import os
import shlex
import subprocess
import sys
import tempfile
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import house
import pages
from round_box import part

so, archive = house.library("so"), house.library("a")
if not so or house.sanitized():
    house.skip("no plain shared library")
CC = shlex.split(os.environ.get("CC", "cc"))
FLAGS = ("-std=c11 -D_POSIX_C_SOURCE=200809L -Wall -Wextra -Wpedantic -Wshadow -Werror "
         "-Wno-missing-field-initializers").split()
INCLUDES = "".join(f"#include <{h}.h>\n" for h in
                   "vug stdio stdlib string math stdint stddef".split())


def program(text):
    if "int main(" in text:
        return text
    body = "".join("    " + line + "\n" for line in text.splitlines())
    return f"{INCLUDES}\nint main(void)\n{{\n{body}    return 0;\n}}\n"


def compile_and_run(job):
    where, text, folder = job
    source, binary = folder / "example.c", folder / "example"
    source.write_text(program(text))
    done = house.run(*CC, *FLAGS, f"-I{house.SRC}/include", source, "-o", binary,
                     f"-L{so.parent}", "-lvug", "-lm", "-lpthread")
    if done.returncode:
        return f"{where}: does not compile:\n{done.stdout}"
    try:
        done = house.run(binary, cwd=folder, timeout=60, stdin=subprocess.DEVNULL,
                         env={**os.environ, "LD_LIBRARY_PATH": str(so.parent)})
    except subprocess.TimeoutExpired:
        return f"{where}: runs longer than 60 s"
    return f"{where}: ends with {done.returncode}:\n{done.stdout}" if done.returncode else ""


def main():
    report = house.Report()
    every = pages.pages("3")
    with tempfile.TemporaryDirectory() as top:
        top = Path(top)
        unit = '#include "vug.h"\n'
        for page in every:
            unit += "".join(f"{p};\n" for p in page.prototypes().values())
        (top / "synopsis.c").write_text(unit)
        done = house.run(*CC, *FLAGS, f"-I{house.SRC}/include", "-fsyntax-only", top / "synopsis.c")
        report.check(done.returncode == 0, f"SYNOPSIS of the pages: {done.stdout}")
        jobs = []
        for page in every:
            for i, text in enumerate(page.literal("EXAMPLES")):
                folder = top / f"{page.name}-{i}"
                folder.mkdir()
                part(folder / "part.stl")
                jobs.append((f"man/{page.name}.3 example {i + 1}", text, folder))
        with ThreadPoolExecutor(2) as pool:
            for fault in pool.map(compile_and_run, jobs):
                report.check(not fault, fault)
        print(f"{len(jobs)} examples compiled and run")
    report.end()


if __name__ == "__main__":
    if sys.argv[1:]:
        part(sys.argv[1])  # to try an example by hand
    else:
        main()

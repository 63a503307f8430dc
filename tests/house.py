# SPDX-License-Identifier: MIT
"""What the house is made of, read from its own files: the header's calls, constants and
structs, the export map, the man pages. Used by the tests of the frame and by new_call."""
import os
import re
import subprocess
import sys
from collections import namedtuple
from pathlib import Path

SRC = Path(os.environ.get("VUG_SRCDIR") or Path(__file__).resolve().parent.parent)
BUILD = Path(os.environ.get("VUG_BUILDDIR") or SRC)
HEADER = SRC / "include" / "vug.h"
MAP = SRC / "lib" / "vug.map"
MAN = SRC / "man"
RAW = SRC / "bindings" / "python" / "vug" / "_raw.py"
SKIP = 77

Function = namedtuple("Function", "name floor returns args doc")  # args: [(type, name)]
Struct = namedtuple("Struct", "name floor fields")  # fields: [(type, name, count)]; none: opaque
Callback = namedtuple("Callback", "name floor returns args")


def without_comments(text):
    return re.sub(r"/\*.*?\*/", " ", text, flags=re.S)


def plain_header():
    """The header less comments, # lines and the export token: plain C for any parser."""
    text = without_comments(HEADER.read_text())
    text = re.sub(r"^[ \t]*#.*(?:\\\n.*)*$", "", text, flags=re.M)
    return re.sub(r"\bVUG_API\b", "", text)


def one_line(text):
    text = re.sub(r"\s+", " ", text).strip()
    return re.sub(r"\s*([*(),\[\]])\s*", r"\1", text)


def floor_text():
    """(floor, text) for each section of the header."""
    parts = re.split(r"/\* =+ \*/\n/\* (\w+):.*?\*/\n/\* =+ \*/", HEADER.read_text())
    return list(zip(parts[1::2], parts[2::2]))


def split_declarator(text):
    """'const double up[3]' -> ('const double *', 'up'); a plain type keeps its name ''."""
    text = re.sub(r"\s+", " ", text).strip()
    match = re.fullmatch(r"(.*?[\s*])(\w+)((?:\[\w*\])*)", text)
    if not match:
        return text, ""
    kind, name, array = match.group(1).strip(), match.group(2), match.group(3)
    if array:
        kind += " *"
    return kind, name


def split_args(text):
    text = text.strip()
    return [] if text == "void" else [split_declarator(a) for a in text.split(",")]


def functions():
    found = []
    for floor, text in floor_text():
        docs = {}
        for comment, name in re.findall(
                r"/\*\*((?:(?!\*/).)*)\*/\s*VUG_API [^;()]*?(\w+)\(", text, flags=re.S):
            docs[name] = re.sub(r"\s*\n\s*\*?\s*", " ", comment).strip()
        for proto in re.findall(r"\bVUG_API\s+([^;]+);", without_comments(text)):
            match = re.fullmatch(r"(.*?[\s*])(\w+)\((.*)\)", re.sub(r"\s+", " ", proto).strip())
            name = match.group(2)
            found.append(Function(name, floor, match.group(1).strip(), split_args(match.group(3)),
                                  docs.get(name, "")))
    return found


def prototypes():
    """name -> prototype on one line, without the export token."""
    found = {}
    text = re.sub(r"^#.*", "", without_comments(HEADER.read_text()), flags=re.M)
    for proto in re.findall(r"\bVUG_API\s+([^;]+);", text):
        found[re.search(r"(\w+)\s*\(", proto).group(1)] = one_line(proto)
    return found


def constants():
    """name -> (value, floor) of every enumerator and every macro that is a number."""
    found = {}
    for floor, text in floor_text():
        for name, value in re.findall(r"^#define (VUG_\w+) (\d+)$", text, flags=re.M):
            found[name] = (int(value), floor)
        for body in re.findall(r"\benum\s*\{([^}]*)\}", without_comments(text)):
            following = 0
            for item in filter(None, (i.strip() for i in body.split(","))):
                name, _, value = (p.strip() for p in item.partition("="))
                if value:
                    following = int(value, 0) if not value.startswith("VUG_") else found[value][0]
                found[name] = (following, floor)
                following += 1
    return found


def given_structs():
    """Names of the structs that a caller gives, which have an _init call; others are results."""
    return {kind[6:-1].strip() for f in functions() for kind, _ in f.args
            if kind.startswith("const vug_") and kind.endswith("*")} | {"vug_fluid"}


def structs():
    """Structs with members, then handles, in the order of the header."""
    found = []
    for floor, text in floor_text():
        text = without_comments(text)
        for match in re.finditer(r"typedef struct (\w+)\s*(\{([^}]*)\}\s*)?\1\s*;", text):
            fields = []
            for line in filter(None, (f.strip() for f in (match.group(3) or "").split(";"))):
                first, *more = line.split(",")
                kind, rest = re.fullmatch(r"(.*?[\s*])(\w+(?:\[\w+\])*)", first.strip()).groups()
                for item in [rest] + more:
                    name, *counts = re.findall(r"\w+", item)
                    fields.append((kind.strip(), name, counts))
            found.append(Struct(match.group(1), floor, fields))
    return found


def callbacks():
    found = []
    for floor, text in floor_text():
        for returns, name, args in re.findall(
                r"typedef ([^;(){}]+?)\(\*(\w+)\)\(([^)]*)\)\s*;", without_comments(text)):
            found.append(Callback(name, floor, returns.strip(), split_args(args)))
    return found


def map_names():
    text = re.sub(r"#.*", "", MAP.read_text())
    names = []
    for body in re.findall(r"global:(.*?)(?:local:|\})", text, flags=re.S):
        names += [n.strip() for n in body.split(";") if n.strip()]
    return names


def library(kind="so"):
    """Path of the built library, or None."""
    path = BUILD / ".libs" / f"libvug.{kind}"
    return path if path.exists() else None


def sanitized():
    """Is this a build whose compiler adds its own symbols (sanitizer, coverage)?"""
    flags = re.search(r"^CFLAGS = (.*)$", (BUILD / "Makefile").read_text(), flags=re.M).group(1)
    return "sanitize" in flags or "coverage" in flags


def use_package():
    """From here on `import vug` gives the package of these sources with this build's library; skips without one."""
    built = library()
    if not built or sanitized():
        skip("no plain shared library")
    os.environ.setdefault("VUG_LIBRARY", str(built))
    sys.dont_write_bytecode = True
    sys.path.insert(0, str(SRC / "bindings" / "python"))


def run(*command, **more):
    return subprocess.run([str(c) for c in command], stdout=subprocess.PIPE,
                          stderr=subprocess.STDOUT, text=True, **more)


class Report:
    """Collects faults, and counts what was looked at."""

    def __init__(self):
        self.faults, self.checks = [], 0

    def check(self, true, fault):
        self.checks += 1
        if not true:
            self.faults.append(fault)
        return true

    def same(self, a, b, name_a, name_b):
        for n in sorted(set(a) - set(b)):
            self.check(False, f"{n}: in {name_a}, not in {name_b}")
        for n in sorted(set(b) - set(a)):
            self.check(False, f"{n}: in {name_b}, not in {name_a}")
        self.checks += len(set(a) & set(b))

    def end(self):
        for line in self.faults:
            print("FAULT:", line)
        print(f"{self.checks} checks, {len(self.faults)} faults")
        sys.exit(1 if self.faults or not self.checks else 0)


def skip(why):
    print("skipped:", why)
    sys.exit(SKIP)

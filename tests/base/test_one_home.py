#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""One piece of code for one thing: what lib/base/ has is not written again elsewhere in lib/."""
import re
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
import house

# What must not come back, where it lives instead, and lines that each pattern has to find.
RULES = [
    ("a sort of the C library, which takes memory of its own and may swap equals",
     r"\b(?:qsort(?:_r|_s)?|bsearch|heapsort|mergesort)\s*\(",
     "base/sort.h",
     ["    qsort(list, n, sizeof *list, by_z);", "x = bsearch(&key, list, n, 8, by_z);"]),
    ("a sort",
     r"\b(?:sift(?:_up|_down)?|shell_?sort|heap_?sort|merge_?sort|quick_?sort)\s*\(|\bgap\s*/=\s*2\b",
     "base/sort.h, base/heap.h",
     ["static void sift(hit *hits, size_t root, size_t end)", "for (size_t gap = n / 2; gap > 0; gap /= 2)"]),
    ("a heap",
     r"\[\(\w+ - 1\) / 2\]",
     "base/heap.h",
     ["    while (at > 0 && above(e, r->heap[(at - 1) / 2])) {"]),
    ("pi",
     r"\b3\.14159|\bM_PI\b|\b6\.28318|\b1\.57079|\b0\.78539|\ba(?:cos\(\s*-\s*1(?:\.0*)?\s*\)|tan2?\(\s*1(?:\.0*)?\b)",
     "base/angle.h",
     ["#define PI 3.14159265358979", "2.0 * acos(-1.0) * i", "4.0 * atan(1.0)", "area / M_PI"]),
    ("degrees",
     r"\b57\.2957|\b0\.017453",
     "base/angle.h",
     ["    return 57.29577951308232 * a;", "cos(d * 0.017453292519943295)"]),
    ("the golden angle",
     r"\b2\.39996|3\.0 - sqrt\(5",
     "base/angle.h",
     ["const double golden = 2.399963229728653;", "acos(-1.0) * (3.0 - sqrt(5.0))"]),
    ("disjoint sets",
     r"\bstatic\s+(?:inline\s+)?uint32_t\s+\w*(?:find|root)\w*\s*\([^)]*\)\s*\{\s*"
     r"(?:uint32_t[^;]*;\s*)?while\s*\(|(\w+(?:->\w+)?)\[(\w+)\] = \1\[\1\[\2\]\]|\[\w+\]\.(\w+) = \w+\[\w+\[\w+\]\.\3\]\.\3",
     "base/disjoint_set.h",
     ["static uint32_t find(uint32_t *parent, uint32_t x)\n{\n    while (parent[x] != x)",
      "        parent[x] = parent[parent[x]];", "  w->parent[s] = w->parent[w->parent[s]];",
      "        list[x].group = list[list[x].group].group;"]),
    ("a dot product, cross product, difference or distance",
     r"\bstatic\s+(?:inline\s+)?(?:double|void)\s+"
     r"(?:dot|cross|subtract|sub|norm|normali[sz]e|(?:square_|squared_)?distance2?|length|step_along)\s*\("
     r"(?:const\s+)?double\b[^;{]*\bdouble\b[^;{]*\{"
     r"|(\w+)\[0\] \* (\w+)\[0\]\s*\+ \1\[1\] \* \2\[1\]\s*\+ \1\[2\] \* \2\[2\]"
     r"|(\w+)\[1\] \* (\w+)\[2\] - \3\[2\] \* \4\[1\]"
     r"|(\w+)\[\(\w \+ 1\) % 3\] \* (\w+)\[\(\w \+ 2\) % 3\]",
     "base/vec.h",
     ["static double dot(const double a[3], const double b[3])\n{",
      "static void cross(const double a[3], const double b[3], double out[3])\n{",
      "static double distance2(const double *a, const double *b)\n{",
      "    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];", "out[0] = a[1] * b[2] - a[2] * b[1];",
      "n[k] = p[(k + 1) % 3] * q[(k + 2) % 3] - p[(k + 2) % 3] * q[(k + 1) % 3];"]),
    ("halving of an interval",
     r"=\s*0\.5 \* \((\w+) \+ (\w+)\)(?=[^}]*\b(?:\1|\2) = \w+;)(?=[^}]*\bif \()",
     "base/root.h",
     ["        double mid = 0.5 * (lo + hi);\n        if (f(mid) < 0.0)\n            lo = mid;\n"]),
]

# Elsewhere for a reason.
ALLOWED = {
    # at most eight sides of one pixel, each with more than a parent
    ("gravity/sweep.c", "disjoint sets"),
    # false position twice, then halving
    ("gravity/clip_volume.c", "halving of an interval"),
}


def problems(name, text):
    code = house.without_comments(text)
    for what, pattern, home, _ in RULES:
        for match in re.finditer(pattern, code):
            line = match.group(0).split("\n")[0].strip()
            if (name, what) not in ALLOWED:
                yield f"{name}: {what}; {home} has that: {line}"


def main():
    failures = []
    for what, pattern, _, found in RULES:
        failures += [f"the rule for {what} overlooks: {line}" for line in found if not re.search(pattern, line)]
    files = sorted(p for p in (house.SRC / "lib").rglob("*.[ch]") if p.parent.name != "base")
    if len(files) < 100:
        failures.append(f"only {len(files)} files to read in lib/")
    for path in files:
        failures += problems(str(path.relative_to(house.SRC / "lib")), path.read_text())
    print("\n".join(failures) or f"{len(files)} files: nothing of lib/base/ is written again")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())

# SPDX-License-Identifier: MIT
"""How the house is built, read from the includes of lib/: no circle between files (a source and the header of its
name are one), no arrow from a lower floor up to a higher one, each function declared in the header that has the
name of the source it is in, each struct tag once; the law of a fluid read in lib/flow alone; no circle between the
modules of the Python package.

    test_house.py [LIB]    another folder than lib/ of the source tree
"""
import ast
import re
import sys
from collections import defaultdict
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
import house

# From the ground up: a floor includes what stands before it. DEVELOPERS.md has the same order.
FLOORS = ("base flow mesh grid column cavity shape light gravity hydrostatic course transient turn drain fill "
          "skin pose look airtree plan").split()

NOT_CODE = re.compile(r'/\*.*?\*/|//[^\n]*|"(?:\\.|[^"\\\n])*"', re.S)
FUNCTION = r"^(?!static|typedef|else|return|#|\s)[A-Za-z_][\w \t*]*?\b(vugi_\w+)\([^;{}]*\)"


def code(text):
    return NOT_CODE.sub(" ", text)


def read(lib):
    return {str(p.relative_to(lib)): p.read_text(encoding="utf-8")
            for p in sorted(lib.rglob("*.[ch]"))}


def arrows(files):
    """What each node (a path without its ending) includes."""
    to = defaultdict(set)
    for name, text in files.items():
        node = name[:-2]
        to[node] |= {h[:-2] for h in re.findall(r'^\s*#\s*include "([\w/]+\.h)"', text, re.M) if h in files} - {node}
    return to


def circle(to):
    """One circle as a list of nodes, or None."""
    state = {}

    def visit(node, way):
        state[node] = 1
        for other in sorted(to[node]):
            if state.get(other) == 1:
                return way[way.index(other):] + [other] if other in way else [node, other]
            if other not in state and (found := visit(other, way + [other])):
                return found
        state[node] = 2
        return None

    for node in sorted(to):
        if node not in state and (found := visit(node, [node])):
            return found
    return None


def upward(to):
    rank = {floor: i for i, floor in enumerate(FLOORS)}
    for node in sorted(to):
        floor = node.split("/")[0]
        if floor not in rank:
            yield f"lib/{node}: the floor {floor} is not in FLOORS"
            continue
        for other in sorted(to[node]):
            if rank.get(other.split("/")[0], 0) > rank[floor]:
                yield f"lib/{node} includes {other}.h of a floor above it"


def strangers(files):
    """Functions declared in a header of another name than their source's."""
    made = defaultdict(set)  # more than one: with a library and without
    for name, text in files.items():
        if name.endswith(".c"):
            for m in re.finditer(FUNCTION + r"\s*\{", code(text), re.M):
                made[m[1]].add(name[:-2])
    for name, text in files.items():
        if name.endswith(".h"):
            for m in re.finditer(FUNCTION + r"[^;{}]*;", code(text), re.M):
                if m[1] in made and name[:-2] not in made[m[1]]:
                    yield f"lib/{name} declares {m[1]}, which is in lib/{min(made[m[1]])}.c"


def twins(files):
    """Tags of structs that are defined in more than one place. Structs of one source alone may share a name."""
    where = defaultdict(list)
    for name, text in files.items():
        for tag in re.findall(r"\bstruct (\w+)\s*\{", code(text)):
            if name.endswith(".h") or tag.startswith(("vug_", "vugi_")):
                where[tag].append(name)
    for tag, names in where.items():
        if len(names) > 1:
            yield f"struct {tag} is defined in " + " and ".join("lib/" + n for n in names)


def lawless(files):
    """Files above lib/flow that read the members of a fluid's law: flow/viscosity.h is for that."""
    for name, text in files.items():
        if not name.startswith("flow/"):
            for member in sorted(set(re.findall(r"\b(yield_stress_pa|consistency_pa_sn|flow_index)\b", code(text)))):
                yield f"lib/{name} reads {member}: ask flow/viscosity.h"


def faults(files):
    to = arrows(files)
    if found := circle(to):
        yield "a circle of includes: " + " -> ".join(found)
    yield from upward(to)
    yield from strangers(files)
    yield from twins(files)
    yield from lawless(files)


def python_arrows(files):
    """What each module of the package (its name) imports from it, anywhere in the file but for checkers of types."""
    def imports(node):
        if isinstance(node, ast.If) and isinstance(node.test, ast.Name) and node.test.id == "TYPE_CHECKING":
            return
        if isinstance(node, ast.ImportFrom) and node.level == 1:
            yield from [node.module] if node.module else [a.name for a in node.names]
        for child in ast.iter_child_nodes(node):
            yield from imports(child)

    to = defaultdict(set)
    for name, text in files.items():
        to[name] |= {other for other in imports(ast.parse(text)) if other in files}
    return to


def python_circle():
    folder = house.SRC / "bindings" / "python" / "vug"
    return circle(python_arrows({p.stem: p.read_text(encoding="utf-8") for p in folder.glob("*.py")
                                 if p.stem != "__init__"}))


def floors_told():
    """The order in the map of DEVELOPERS.md, from the ground up."""
    text = (house.SRC / "DEVELOPERS.md").read_text(encoding="utf-8")
    rows = re.findall(r"^\| ([a-z, ]+) \|[^|]*\| `lib/\w+/` \|$", text, re.M)
    return [floor for row in reversed(rows) for floor in row.split(", ")]


def broken():
    """Each fault made on purpose must be found."""
    good = {"base/a.h": "int vugi_a(void);\nstruct vugi_s {int x;};\n", "base/a.c": '#include "base/a.h"\nint vugi_a(void)\n{\n}\n',
            "plan/b.h": '#include "base/a.h"\n', "plan/b.c": '#include "plan/b.h"\nint vugi_b(void)\n{\n}\n'}
    report.check(not list(faults(good)), "a sound house is called broken")
    for what, name, more in (
            ("circle", "base/a.c", '#include "base/c.h"\n'),
            ("above", "base/a.c", '#include "plan/b.h"\n'),
            ("declares", "base/a.h", "int vugi_b(void);\n"),
            ("defined in", "plan/b.h", "struct vugi_s {int y;};\n"),
            ("ask flow/viscosity.h", "plan/b.c", "double a(vug_fluid *f) {return f->flow_index;}\n")):
        bad = {**good, "base/c.h": '#include "base/a.h"\n'}
        bad[name] += more
        report.check(any(what in fault for fault in faults(bad)), f"not found: {what}")
    late = {"a": "from .b import x\n", "b": "def f():\n    from . import a\n"}
    typed = {"a": "from .b import x\n", "b": "if TYPE_CHECKING:\n    from .a import y\n"}
    report.check(circle(python_arrows(late)) == ["a", "b", "a"], "a circle of Python modules is not found")
    report.check(circle(python_arrows(typed)) is None, "a module that is imported for types alone makes a circle")


report = house.Report()
lib = Path(sys.argv[1]) if len(sys.argv) > 1 else house.SRC / "lib"
files = read(lib)
report.check(len(files) > 100, f"only {len(files)} files in {lib}")
for fault in faults(files):
    report.check(False, fault)
report.check(floors_told() == FLOORS, f"DEVELOPERS.md has the order {floors_told()}")
report.check(python_circle() is None, f"a circle of Python modules: {python_circle()}")
broken()
report.end()

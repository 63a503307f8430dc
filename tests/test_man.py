# SPDX-License-Identifier: MIT
"""Each call has a man page that says what the header says; the pages are clean mdoc."""
import re
import shutil

import house
import index
import pages

report = house.Report()
functions = {f.name: f for f in house.functions()}
prototypes = house.prototypes()
constants = house.constants()
structs = {s.name: s for s in house.structs() if s.fields}
alias = pages.aliases()
own = {p.name: p for p in pages.pages("3")}
GENERAL = {"vug", "vug.h"}  # the overview and the index

for name in sorted(functions):
    report.check(name in own or alias.get(name) in own, f"{name}: no man page man/{name}.3")
for name, page in alias.items():
    report.check(name in functions, f"man/aliases: {name} is not in vug.h")
    report.check(page in own, f"man/aliases: {name} points to {page}, which is not there")
    report.check(name not in own, f"man/aliases: {name} has a page of its own")

SECTIONS = ["NAME", "LIBRARY", "SYNOPSIS", "DESCRIPTION", "RETURN VALUES", "ERRORS", "EXAMPLES",
            "SEE ALSO", "HISTORY"]

for name, page in own.items():
    if name in GENERAL:
        continue
    where = f"man/{name}.3"
    report.check(name in functions, f"{where}: no such call in vug.h")
    family = {name} | {a for a, p in alias.items() if p == name}
    report.check(set(page.names()) == family,
                 f"{where}: NAME has {sorted(page.names())}, man/aliases makes it {sorted(family)}")
    for title in SECTIONS:
        may_lack = title == "ERRORS" and not any(
            functions[f].returns == "vug_status" for f in family if f in functions)
        report.check(title in page.sections or may_lack, f"{where}: no {title}")
    found = page.prototypes()
    report.check(set(found) == family, f"{where}: SYNOPSIS has {sorted(found)}")
    report.check(".In vug.h" in page.sections.get("SYNOPSIS", []), f"{where}: no .In vug.h")
    for call, text in found.items():
        report.check(prototypes.get(call) == text,
                     f"{where}: {text}\n       vug.h: {prototypes.get(call)}")
    for error in page.errors():
        report.check(error in constants, f"{where}: no such error: {error}")
    named = set()
    for call in (c for c in family & set(functions) if functions[c].returns == "vug_status"):
        named |= {w for w in functions[call].doc.replace(",", " ").replace(".", " ")
                  .replace("(", " ").replace(")", " ").replace(";", " ").replace(":", " ").split()
                  if w.startswith("VUG_ERR_") and w in constants}
    for error in sorted(named - page.errors()):
        report.check(False, f"{where}: ERRORS lacks {error}, which vug.h names")
    report.check(page.literal("EXAMPLES"), f"{where}: EXAMPLES has no literal display")
    for other, section in page.references():
        if other.startswith("vug"):
            report.check(other in own or other in alias or (house.MAN / f"{other}.{section}").exists(),
                         f"{where}: refers to {other}({section}), which is not there")
    # A struct that a page prints is the header's struct.
    for text in page.literal("DESCRIPTION") + page.literal("SYNOPSIS"):
        for struct in structs.values():
            if f"typedef struct {struct.name} {{" in text:
                body = house.without_comments(text.split("{", 1)[1].split("}")[0])
                mine = house.one_line(body)
                theirs = house.one_line(house.without_comments(house.HEADER.read_text())
                                        .split(f"typedef struct {struct.name} {{", 1)[1].split("}")[0])
                report.check(mine == theirs, f"{where}: struct {struct.name} differs from vug.h")

# Each member of a struct is named on a page that names the struct.
texts = [p.path.read_text() for name, p in own.items() if name != "vug.h"]
for struct in structs.values():
    beside = " ".join(text for text in texts if re.search(rf"\b{struct.name}\b", text))
    words = set(re.findall(r"\w+", beside))
    for _, field, _ in struct.fields:
        report.check(field in words or field in ("struct_size", "reserved"),
                     f"{struct.name}.{field} is on no page that names the struct")

if "vug.h" in own:
    report.check(own["vug.h"].path.read_text() == index.index(),
                   "man/vug.h.3 is not what tests/new_call --python makes of vug.h")

every = pages.pages("3") + pages.pages("1")
if shutil.which("mandoc"):
    for page in every:
        done = house.run("mandoc", "-Tlint", "-W", "warning", page.path)
        report.check(done.returncode == 0 and not done.stdout, done.stdout.strip())
else:
    print("mandoc is not there: pages not linted")
report.end()

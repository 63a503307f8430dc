# SPDX-License-Identifier: MIT
"""Man pages, read as their mdoc source: names, synopsis, errors, examples, cross references."""
import re

import house


def aliases():
    """alias -> page, from man/aliases."""
    path = house.MAN / "aliases"
    found = {}
    for line in path.read_text().splitlines() if path.exists() else []:
        line = line.split("#")[0].split()
        if line:
            found[line[0]] = line[1]
    return found


def words(text):
    """The arguments of an mdoc macro line; quotes keep one together."""
    return [a or b for a, b in re.findall(r'"((?:[^"]|"")*)"|(\S+)', text)]


def plain(line):
    """An mdoc text line less its escapes, as it would be typed."""
    for escape, char in ((r"\e", "\\"), (r"\(rs", "\\"), (r"\-", "-"), (r"\(aq", "'"),
                         (r"\(dq", '"'), (r"\&", ""), (r"\(ti", "~"), (r"\(ha", "^"),
                         (r"\(ga", "`")):
        line = line.replace(escape, "\0" if char == "\\" else char)
    return line.replace("\0", "\\")


class Page:
    def __init__(self, path):
        self.path = path
        self.name, self.section = path.name.rsplit(".", 1)
        self.lines = path.read_text().splitlines()
        self.sections, title = {}, ""
        for line in self.lines:
            if line.startswith(".Sh "):
                title = line[4:].strip()
                self.sections[title] = []
            elif title and not line.startswith('.\\"'):
                self.sections[title].append(line)

    def names(self):
        found = []
        for line in self.sections.get("NAME", []):
            if line.startswith(".Nm "):
                found.append(line[4:].replace(",", " ").split()[0])
        return found

    def prototypes(self):
        """name -> prototype on one line, from .Ft, .Fo, .Fa, .Fc and .Fn of the SYNOPSIS."""
        found, returns, name, args = {}, "", "", []
        for line in self.sections.get("SYNOPSIS", []):
            macro, _, rest = line.partition(" ")
            if macro == ".Ft":
                returns = " ".join(words(rest))
            elif macro == ".Fo":
                name, args = words(rest)[0], []
            elif macro == ".Fa":
                args += words(rest)
            elif macro == ".Fn":
                name, *args = words(rest)
            if macro in (".Fc", ".Fn"):
                found[name] = house.one_line(f"{returns} {name}({', '.join(args)})")
        return found

    def errors(self):
        return set(re.findall(r"\bVUG_ERR_\w+", "\n".join(self.sections.get("ERRORS", []))))

    def literal(self, section):
        """The literal displays of a section: each is a text of its own."""
        found, inside = [], False
        for line in self.sections.get(section, []):
            if line.startswith(".Bd") and "-literal" in line:
                inside = True
                found.append([])
            elif line.startswith(".Ed"):
                inside = False
            elif inside:
                found[-1].append(plain(line))
        return ["\n".join(lines) + "\n" for lines in found]

    def references(self):
        return [(w[0], w[1]) for w in (words(line[4:]) for line in self.lines
                                       if line.startswith(".Xr ")) if len(w) > 1]

    def options(self):
        """Long options named by .Fl."""
        found = set()
        for line in self.lines:
            found |= set(re.findall(r"\bFl -([\w-]+)", line.replace("\\-", "-")))
        return found


def pages(section="3"):
    return [Page(p) for p in sorted(house.MAN.glob(f"*.{section}"))]

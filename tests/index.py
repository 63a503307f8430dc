# SPDX-License-Identifier: MIT
"""Writes man/vug.h.3, the index of the header, from the header."""
import re

import house

HEAD = r'''.\" Written by tests/new_call from vug.h.
.Dd November 25, 2026
.Dt VUG.H 3
.Os
.Sh NAME
.Nm vug.h
.Nd index of the calls, structs and constants of the vug library
.Sh LIBRARY
libvug (\-lvug)
.Sh SYNOPSIS
.In vug.h
.Sh DESCRIPTION
Each call has a manual page of its own or shares that of its family.
What all have in common is told in
.Xr vug 3 .
'''


def floor_titles():
    return re.findall(r"/\* =+ \*/\n/\* (\w+): +(.*?) *\*/\n/\* =+ \*/", house.HEADER.read_text())


def mdoc(text):
    """Plain text as mdoc lines: a line each sentence, nothing that looks like a macro."""
    text = text.replace("\\", "\\e")
    lines = re.sub(r"(?<=[a-z0-9)][.:]) (?=[A-Z])", "\n", text).split("\n")
    return "\n".join("\\&" + line if line[:1] in (".", "'") else line for line in lines)


def first_sentence(doc):
    """Up to the first full stop, colon or semicolon outside of brackets."""
    end = len(doc)
    for match in re.finditer(r"[a-z0-9)\"](?:\.(?= |$)|[:;] )", doc):
        before = doc[:match.start() + 1]
        if before.count("(") == before.count(")"):
            end = match.start() + 1
            break
    sentence = doc[:end]
    return mdoc(sentence[:1].lower() + sentence[1:] if sentence[1:2].islower() else sentence)


def index():
    out = [HEAD]
    calls, shapes, back = house.functions(), house.structs(), house.callbacks()
    for floor, title in floor_titles():
        out.append(f".Ss {floor}: {title}\n")
        out.append(".Bl -tag -width Ds -compact\n")
        for f in (f for f in calls if f.floor == floor):
            out.append(f".It Xr {f.name} 3\n{first_sentence(f.doc)}\n")
        out.append(".El\n")
        handles = [s.name for s in shapes if s.floor == floor and not s.fields]
        members = [s.name for s in shapes if s.floor == floor and s.fields]
        types = [c.name for c in back if c.floor == floor]
        for what, names in (("Handles", handles), ("Structs", members), ("Callbacks", types)):
            if names:
                out.append(".Pp\n" + what + ":\n" + "".join(
                    f".Vt {n}{' ,' if n != names[-1] else ' .'}\n" for n in names))
    out.append(".Sh CONSTANTS\n")
    text = house.HEADER.read_text()
    notes = dict(re.findall(r"\b(VUG_\w+)(?: = -?\w+)?,?\s*/\*\*< ?((?:(?!\*/).)*?) ?\*/", text, re.S))
    constants = house.constants()
    for floor, _ in floor_titles():
        mine = [(n, v) for n, (v, f) in constants.items() if f == floor]
        if mine:
            out.append(f".Ss {floor}\n.Bl -tag -width Ds -compact\n")
            for name, value in mine:
                note = re.sub(r"\s*\n\s*\*?\s*", " ", notes.get(name, "")).strip()
                out.append(f".It Dv {name} No = {value}\n" + (mdoc(note) + "\n" if note else ""))
            out.append(".El\n")
    out.append(".Sh SEE ALSO\n.Xr vug 3\n.Sh HISTORY\nSince vug 1.0.\n")
    return "".join(out)

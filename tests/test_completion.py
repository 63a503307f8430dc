# SPDX-License-Identifier: MIT
"""Completion in bash: every option that --help tells of, every question of vug-sums, files where a
file is wanted; and every word that is offered as a value is taken by its program."""
import ctypes
import os
import re
import shutil
import subprocess
import tempfile
from pathlib import Path

import house

TOOLS = house.BUILD / "examples" / "tools"
if not (TOOLS / "vug-plan").exists():
    house.skip("the tools are not built")
if not shutil.which("bash"):
    house.skip("no bash")
report = house.Report()
SCRIPT = house.SRC / "examples" / "tools" / "vug.bash"
ENV = {**os.environ, "PATH": f"{TOOLS}:{os.environ['PATH']}"}
ASK = """source "$1"; shift
COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1))
_vug "$1" "${COMP_WORDS[COMP_CWORD]}" "${COMP_WORDS[COMP_CWORD - 1]}"
printf '%s\\n' "${COMPREPLY[@]}" """


def offers(*words, cwd=None):
    """What stands to choose from with the cursor at the end of the last word."""
    done = subprocess.run(["bash", "-c", ASK, "bash", SCRIPT, *words], env=ENV, cwd=cwd,
                          capture_output=True, text=True, timeout=60)
    report.check(done.returncode == 0 and not done.stderr, f"{words}: {done.stderr}")
    return sorted(filter(None, done.stdout.splitlines()))


def options_of(*command):
    text = house.run(*command, "--help", env=ENV).stdout
    return sorted(set(re.findall(r"^  (?:-h, )?(--[a-z][\w-]*)", text, flags=re.M)))


def every_option():
    names = sorted(p.name for p in TOOLS.glob("vug-*"))
    registered = SCRIPT.read_text().splitlines()[-1].split()[3:]
    report.check(sorted(registered) == names, f"registered for {registered}, there are {names}")
    for name in names:
        options = options_of(name)
        report.check("--help" in options or name == "vug-sums", f"{name} --help tells of {options}")
        report.check(offers(name, "--") == options, f"{name} --: {offers(name, '--')}, not {options}")
    report.check(offers("vug-plan", "--pi") == ["--picture"], "vug-plan --pi")
    questions = re.findall(r"^  (\w+)  ", house.run("vug-sums", "--help", env=ENV).stdout, flags=re.M)
    report.check(offers("vug-sums", "") == sorted(questions), "vug-sums: not all questions")
    for question in questions:
        report.check(offers("vug-sums", question, "--") == options_of("vug-sums", question),
                     f"vug-sums {question} --: not all options")


def files(folder):
    for name in ("part.stl", "PART.3MF", "notes.txt"):
        (folder / name).touch()
    (folder / "parts").mkdir()
    report.check(offers("vug-plan", "", cwd=folder) == ["PART.3MF", "part.stl", "parts"], "a mesh")
    report.check(offers("vug-plan", "part.stl", "--json", "n", cwd=folder) == ["notes.txt"], "a file")
    report.check(offers("vug-plan", "--json", "=", cwd=folder) == offers("vug-plan", "--json", "", cwd=folder)
                 == ["PART.3MF", "notes.txt", "part.stl", "parts"], "a file after =")
    report.check(offers("vug-plan", "--json", "=", "not", cwd=folder) == ["notes.txt"], "a word after =")
    report.check(offers("vug-plan", "--turns", "", cwd=folder) == [], "nothing for a number")


def presets():
    """The fluids that vug-plan knows: those that its library names."""
    library = ctypes.CDLL(str(house.library("so")))
    library.vug_fluid_preset_name.restype = ctypes.c_char_p
    count = house.constants()["VUG_FLUID_COUNT"][0]
    return sorted(library.vug_fluid_preset_name(i).decode().replace(" ", "-") for i in range(count))


def words_are_taken(folder):
    (folder / "empty.stl").write_text("solid\nendsolid\n")
    if house.library("so") and not house.sanitized():
        for option in ("--liquid", "--paint", "--rinse"):
            report.check(offers("vug-plan", option, "") == presets(), f"{option}: not the presets")
    for word in offers("vug-measure", "--units", ""):
        said = house.run("vug-measure", "empty.stl", "--units", word, cwd=folder, env=ENV)
        report.check(said.returncode == 1, f"vug-measure --units {word}: {said.stdout}")
    for word in offers("vug-fill", "--liquid", ""):
        said = house.run("vug-fill", "empty.stl", "--liquid", word, cwd=folder, env=ENV)
        report.check(said.returncode == 1, f"vug-fill --liquid {word}: {said.stdout}")
    for option in ("--liquid", "--fluid", "--exchange", "--drills"):
        for word in offers("vug-sums", "hole", option, ""):
            said = house.run("vug-sums", "hole", "--needle-mm", "1", option, word, env=ENV)
            report.check(said.returncode == 0, f"vug-sums hole {option} {word}: {said.stdout}")


every_option()
for look in (files, words_are_taken):
    with tempfile.TemporaryDirectory() as top:
        look(Path(top))
report.end()

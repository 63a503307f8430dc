# SPDX-License-Identifier: MIT
"""The JavaScript mirror of the header: what tests/new_call --js makes of it, its layout of structs
checked against a compiler for WebAssembly, and every call among those the module exports."""
import re
import shutil
import subprocess
import tempfile
from pathlib import Path

import house
import raw_js

report = house.Report()
for path, wanted in raw_js.files().items():
    report.check(path.exists() and path.read_text() == wanted,
                 f"{path.name} is not what tests/new_call --js makes of vug.h")
text = (raw_js.FOLDER / "vug.js").read_text()
for name in sorted(set(re.findall(r"\bvug_[a-z0-9_]+\b", text))):
    known = {f.name for f in house.functions()} | {s.name for s in house.structs()}
    report.check(name in known or name.startswith("vug_js_"), f"vug.js: no {name} in vug.h")
compiler = shutil.which("clang")
if compiler:
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "layout.c"
        file.write_text(raw_js.assertions())
        done = subprocess.run(
            [compiler, "--target=wasm32", "-ffreestanding", "-fsyntax-only",
             f"-I{house.SRC / 'include'}", str(file)], capture_output=True, text=True)
        report.check(done.returncode == 0, f"another layout: {done.stderr[:2000]}")
else:
    print("no clang: the layout of structs is not compared with a compiler's")
report.end()

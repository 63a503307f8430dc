# SPDX-License-Identifier: MIT
"""The pictures of a fill and a drain, read back: words and their places from the PDF (pdftotext), lines from the
SVG. A round box is drawn, all of which follows by hand: 30 mm wide, 40 mm high, its cavity 24 mm wide and 34 mm
high, so that liquid rises by volume over area."""
import html
import json
import math
import os
import re
import shutil
import subprocess
import tempfile
from pathlib import Path

import house
import round_box

PROGRAMS = house.BUILD / "examples" / "tools"
if not (PROGRAMS / "vug-fill").exists():
    house.skip("the examples are not built")
if os.environ.get("VUG_QUICK"):
    house.skip("the quick run goes without")
if not shutil.which("pdftotext"):
    house.skip("pdftotext is not there")
report = house.Report()
check = report.check
PAGE, A4 = 1500, 595.276  # units of the SVG, points of the PDF over the same width


def draw(folder, program, *arguments):
    """JSON of the run, and of its picture the words with their boxes, in units of the SVG."""
    done = subprocess.run([PROGRAMS / f"vug-{program}", *map(str, arguments), "--json", "-", "--picture",
                           folder / program], capture_output=True, text=True, timeout=300)
    check(done.returncode == 0, f"{program}: {done.stderr}")
    boxes = subprocess.run(["pdftotext", "-bbox", folder / f"{program}.pdf", "-"], capture_output=True,
                           text=True, check=True).stdout
    words = [(*(float(x) * PAGE / A4 for x in place), html.unescape(text)) for *place, text in re.findall(
        r'<word xMin="([^"]*)" yMin="([^"]*)" xMax="([^"]*)" yMax="([^"]*)">([^<]*)<', boxes)]
    check(len(words) > 20, f"{program}: {len(words)} words")
    return json.loads(done.stdout), words


def amount(mm3):
    """As programs tell it."""
    return f"{mm3 / 1000:.3f} mL" if mm3 >= 50 else "less than 0.05 mL" if mm3 > 0 else "none"


def apart(words, name):
    """No word on another; each on the page. The boxes are as high as the font, its lines closer than that."""
    for i, (x0, y0, x1, y1, text) in enumerate(words):
        check(0 <= x0 and x1 <= PAGE, f"{name}: '{text}' leaves the page")
        for u0, v0, u1, v1, other in words[:i]:
            wide, tall = min(x1, u1) - max(x0, u0), min(y1, v1) - max(y0, v0)
            check(wide < 0.5 or tall < 0.3 * min(y1 - y0, v1 - v0), f"{name}: '{text}' on '{other}'")


def line_of(words):
    return " ".join(word[4] for word in words)


def middle(word):
    return (word[0] + word[2]) / 2, (word[1] + word[3]) / 2


def scales(words, title, right):
    """Of the chart under a title, up to a place on the page: from the numbers at its axes, where a place of the page
    is on them."""
    size = len(title.split())
    x, y = next((w[0], w[3]) for i, w in enumerate(words) if line_of(words[i:i + size]) == title)
    numbers = [w for w in words if re.fullmatch(r"[0-9.]+", w[4]) and w[1] > y]
    upright = sorted((w for w in numbers if abs(w[2] - x - 36) < 3 and w[1] < y + 260), key=lambda w: -w[1])
    left, low = x + 44, middle(upright[0])[1]
    level = sorted(w for w in numbers if low + 8 < middle(w)[1] < low + 40 and left - 20 < w[0] < right)
    check(len(upright) > 1 and len(level) > 1, f"{title}: no numbers at its axes")

    def axis(words, k):
        (at, value), (end, last) = ((middle(w)[k], float(w[4])) for w in (words[0], words[-1]))
        return lambda place: value + (place - at) * (last - value) / (end - at)
    return axis(level, 0), axis(upright, 1)


def curves(svg):
    """The lines of the charts, the only ones that wide without a filling."""
    for path in re.findall(r"<path[^>]*>", svg.read_text()):
        if re.search(r'stroke-width[:="]+2\.2\b', path) and re.search(r'fill[:="]+none', path):
            yield [tuple(map(float, p)) for p in re.findall(r"([0-9.]+) ([0-9.]+)", path.split(' d="')[1])]


AREA = 0.5 * 48 * 12 ** 2 * math.sin(2 * math.pi / 48)  # the cavity's, a polygon of 48 sides


def fill(folder, part):
    rate, at = 200.0, (3000.0, 9000.0)
    got, words = draw(folder, "fill", part, "--up", "0,0,-1", "--rate", rate, "--at", at[0], "--at", at[1],
                      "--columns", 100)
    text = line_of(words)
    apart(words, "fill")
    for i, volume in enumerate(at):
        check(f"{i + 1}: {volume / 1000:.2f} mL inside after {volume / rate:.3g} s" in text, f"fill: no {volume} in {text}")
    check(f"liquid goes in: {amount(got['filled_mm3'])}," in text, "fill: other liquid than the JSON's")
    check("30.0 mm" in text and "40.0 mm" in text, "fill: the box's size is not there")
    check("thinnest: 3.0 mm" in text, "fill: the box's wall, 3 mm, is not there")
    check("air that stays caught" not in text, "fill: a key for what is not drawn")
    lines = list(curves(folder / "fill.svg"))
    check(len(lines) == 2, f"fill: {len(lines)} curves, not level and rate")
    across, upward = scales(words, "Highest liquid, mm over the lowest place", lines[1][0][0] - 60)
    for x, y in lines[0]:
        wanted = min(34.0, across(x) * rate / AREA)
        check(across(x) * rate > 33 * AREA or abs(upward(y) - wanted) < 0.5,
              f"fill: {upward(y):.2f} mm after {across(x):.1f} s, not {wanted:.2f}")
    check(abs(across(lines[0][-1][0]) - got["time_s"]) < 0.01 * got["time_s"], "fill: the curve ends at another time")
    across, upward = scales(words, "Going in, mL a minute", PAGE)
    for x, y in lines[1]:
        check(abs(upward(y) - 0.06 * rate) < 0.02 * 0.06 * rate, f"fill: {upward(y)} mL a minute")


def drain(folder, part):
    got, words = draw(folder, "drain", part, "--up", "0,0,1", "--columns", 100)
    text = line_of(words)
    apart(words, "drain")
    check(f"1: {got['capacity_mm3'] / 1000:.2f} mL inside" in text, "drain: not full at first")
    check(f"6: {got['residue_mm3'] / 1000:.2f} mL inside" in text, "drain: another end than the JSON's")
    check(f"{amount(got['capacity_mm3'])} inside at first; stays behind in pools: {amount(got['residue_mm3'])}" in text, text)


def stepped(folder):
    """One plane does not meet both the largest pocket of the coral, held on its side, and the openings at its base: the
    cut goes on in another plane, so that each of six moments shows where liquid goes in."""
    coral, told = folder / "coral.stl", folder / "coral.json"
    subprocess.run([PROGRAMS / "vug-coral", "--out", coral, "--json", told, "--resolution", "60"], check=True,
                   capture_output=True, timeout=300)
    holes = [x for bore in json.loads(told.read_text())["bores"] for x in ("--hole", bore["hole"])]
    _, words = draw(folder, "fill", coral, *holes, "--up", "0.95,0.25,0", "--inlet", "B", "--columns", 100)
    apart(words, "stepped")
    check("not in this cut" not in line_of(words), "stepped: an opening is not in the cut")
    for letter in "AB":
        count = sum(word[4] == letter for word in words)
        check(count == 6 + 1, f"stepped: {letter} stands {count} times, not in 6 moments and once in the list")


def refused(folder, part):
    for arguments, says in ((("--at", "1e6", "--picture", folder / "no"), "--at 1000000: there are 0 to "),
                            (("--at", "100"), "give --picture too")):
        done = subprocess.run([PROGRAMS / "vug-fill", part, *arguments], capture_output=True, text=True, timeout=300)
        check(done.returncode == 2 and says in done.stderr and not done.stdout, f"{arguments}: {done.stderr}")
    check(not list(folder.glob("no*")), "a picture of what is refused")


with tempfile.TemporaryDirectory() as top:
    box = Path(top) / "part.stl"
    round_box.part(box)
    fill(Path(top), box)
    drain(Path(top), box)
    refused(Path(top), box)
    stepped(Path(top))
report.end()

# SPDX-License-Identifier: MIT
"""What a person can do ends somewhere: nothing that nobody can wait for, press, draw up, hold or drill may be told. The
bounds are common practice; drills are those of ISO 235, from memory."""
import math
import re

DAY = 86400.0


def drill_exists(mm):
    """0.2 to 25 mm: below 1 mm by 0.02, 0.05 and 0.08 between tenths, then steps of 0.05, of 0.1 from 3, of 0.25 from 14."""
    size = round(100 * mm)
    step = 5 if size < 300 else 10 if size < 1400 else 25
    there = size % 10 in (0, 2, 5, 8) if size < 100 else size % step == 0
    return abs(100 * mm - size) < 1e-6 and 20 <= size <= 2500 and there


def scan(report, what, text):
    """The words of a program that tells of a part."""
    for words in re.findall(r".*\b(?:nan|inf)\b.*|.*[0-9]e[+-]?[0-9]+.*", text, re.I):
        report.check(False, f"{what}: {words}")
    for words in re.findall(r".*\b(?:months?|years|century|centuries)\b.*", text):
        report.check(False, f"{what}: days or weeks: {words}")
    for unit, seconds in (("s", 1), ("seconds", 1), ("(?:minutes|min)", 60), ("hours", 3600)):
        for number in re.findall(rf"([0-9.]+) {unit}\b", text):
            report.check(float(number) * seconds <= DAY, f"{what}: {number} {unit}")
    for number in re.findall(r"([0-9.]+) Pa\b", text):
        report.check(float(number) <= 2e6, f"{what}: {number} Pa")  # what the programs say a syringe bears
    for number in re.findall(r"^ *[0-9.]+ +([0-9.]+)  ", text, re.M):  # the times of events
        report.check(float(number) <= DAY, f"{what}: an event at {number} s")
    for number in re.findall(r"(?<!\+- )(-?[0-9.]+) mL\b", text):  # a syringe's finest step; none is said so
        report.check(float(number) >= 0.05, f"{what}: {number} mL")
    for zero in re.findall(r".*(?<![\w.])-0(?:\.0*)?(?![\w.]*[1-9]).*", text):
        report.check(False, f"{what}: a zero with a sign: {zero}")


def plan(report, what, text, told):
    """A plan, and its JSON besides: waits of a second and more, angles by 5 degrees, drills, loads."""
    scan(report, what, text)
    flat = " ".join(text.split())
    for number in re.findall(r"([0-9.]+) (?:s|seconds?)\b", flat):
        report.check(float(number) >= 1, f"{what}: {number} s")
    for number in re.findall(r"([0-9.]+) degrees", flat):
        report.check(float(number) % 5 == 0, f"{what}: {number} degrees")
    for number in re.findall(r"([0-9]+) loads", flat):
        report.check(int(number) <= 100, f"{what}: {number} loads")
    for number in re.findall(r"a drill of ([0-9.]+) mm", flat):
        report.check(drill_exists(float(number)), f"{what}: a drill of {number} mm")
    for step in told["steps"] + told["drain_steps"]:
        up = pose(step["words"])
        report.check(up and math.dist(up, step["up"]) <= 1e-9, f"{what}: {step['words']}: {step['up']}, by its words {up}")
    for bore in told["bores"]:
        report.check(drill_exists(bore["diameter_mm"]), f"{what}: a bore of {bore['diameter_mm']} mm")


def sums(report, what, text):
    """Answers of vug-sums: the unit stands before the number, and a range behind it."""
    bounds = {"s": (1, DAY), "mL": (0.05, 1e5), "N": (0, 100), "Pa": (1e-4, 1e8), "times": (0, 100), "mm3": (50, 1e5),
              "mJ/cm2": (0, 864000), "Syringe loads": (0, 100), "Coats": (0, 100)}
    for label, answer in re.findall(r"^([^:]+): (.*)$", text, re.M):
        low, high = bounds.get(label.split(", ")[-1], (1e-4, 1e9))
        if "ressure" in label and label.endswith("Pa"):
            high = 2e6
        value = r"(?<![\w.-])([0-9.]+(?:e[+-]?[0-9]+)?)(?![\w.-])"
        told = re.findall(rf"^{value}|; from {value}|(?<!less|more) to {value}", answer)
        for number in (float(x) for row in told for x in row if x):
            report.check(number == 0 or low <= number <= high, f"{what}: {label}: {answer}")
        report.check("e+" not in answer and "nan" not in answer and "inf" not in answer.split(), f"{what}: {label}: {answer}")
        if label.startswith("Drill, mm"):
            report.check(drill_exists(float(answer.split(";")[0])), f"{what}: {label}: {answer}")


FACES = {"top": (2, 1), "base": (2, -1), "front": (1, -1), "back": (1, 1), "left side": (0, -1), "right side": (0, 1)}


def pose(words):
    """The direction that is up, from the words alone: a face, and a lean so that another rises, or two of them alike. None:
    they do not say one."""
    side = "(" + "|".join(FACES) + ")"
    told = re.fullmatch(rf"(?:.*: now |do not turn it: )?(?:\w+(?: \w+)?, )?its {side} (?:straight up|up, leaning (\d+) degrees so that its {side}"
                        rf"(?: and {side})? rises?(?: alike)?)", words)  # what a turn is told by goes before
    if not told:
        return None
    face, lean, *rising = told.groups()
    rising = [name for name in rising if name]
    angle, up = math.radians(int(lean or 0)), [0.0, 0.0, 0.0]
    for name, much in [(face, math.cos(angle))] + [(name, math.sin(angle) / math.sqrt(len(rising))) for name in rising]:
        axis, sign = FACES[name]
        up[axis] += sign * much
    return up

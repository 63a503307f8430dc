# SPDX-License-Identifier: MIT
"""What tests of plans share: programs that are run, parts that are written, and plans done again: each step of the JSON
by the calls that it is told for, through the Python binding."""
import json
import math
import struct
import subprocess
import tempfile
from pathlib import Path

import house
import reach

PROGRAMS = house.BUILD / "examples" / "tools"
if not (PROGRAMS / "vug-plan").exists():
    house.skip("the examples are not built")
house.use_package()
import vug

QUICK = ("--poses", "12", "--columns", "60", "--turns", "1")
QUICK_OPTIONS = {"pose_count": 12, "verify_across": 60, "max_turns": 1}  # the same for the binding
report = house.Report()
check = report.check


def run(program, *arguments, code=0):
    """What it says, on both channels."""
    done = subprocess.run([PROGRAMS / f"vug-{program}", *map(str, arguments)], capture_output=True, text=True,
                          timeout=900, stdin=subprocess.DEVNULL)
    check(done.returncode == code, f"{program} {arguments}: exit {done.returncode}: {done.stderr}")
    return done.stdout + done.stderr


def plan_of(file, *more):
    """Its text and its JSON."""
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder) / "plan.json"
        text, told = run("plan", file, *more, "--json", out), json.loads(out.read_text())
        reach.plan(report, f"plan {Path(file).name} {' '.join(map(str, more))}", text, told)
        return text, told


def sums(question, liquid=None, **given):
    arguments = [x for name, value in given.items() for x in ("--" + name.replace("_", "-"), repr(value))]
    arguments += ["--liquid", liquid.replace(" ", "-")] if liquid else []
    told = json.loads(run("sums", question, *arguments, "--json", "-"))
    return told.get("results", told)


def box(lo, hi, inward):
    corners = [[(lo, hi)[i >> k & 1][k] for k in range(3)] for i in range(8)]
    faces = [(0, 2, 3), (0, 3, 1), (4, 5, 7), (4, 7, 6), (0, 1, 5), (0, 5, 4),
             (2, 6, 7), (2, 7, 3), (0, 4, 6), (0, 6, 2), (1, 3, 7), (1, 7, 5)]
    return [[corners[i] for i in (f[::-1] if inward else f)] for f in faces]


def stl(triangles):
    return b"part".ljust(80) + struct.pack("<I", len(triangles)) + b"".join(
        struct.pack("<12fH", 0, 0, 0, *a, *b, *c, 0) for a, b, c in triangles)


def same(name, have, want, scale):
    check(abs(have - want) <= 1e-9 * scale, f"{name}: {have!r} by the binding, {want!r} in the plan")


def roles_of(count, free):
    return [vug.ROLE_OPEN if i in free else vug.ROLE_SEALED for i in range(count)]


def cavities_in_use(got, cavities):
    """Those that an opening leads to which is not plugged, and the room in them."""
    plugged = got.get("start", {}).get("plugged", [])
    used = {o.cavity for i, o in enumerate(cavities.openings()) if i not in plugged}
    return {i: cavities.info(i).volume_mm3 for i in sorted(used)}


def fill_step(now, cavities, up, roles, paint, **options):
    """On from what is inside; air that gives may have no rest in a pose: then it keeps its volume."""
    return now.turn(cavities, up, roles, paint, **options) if now else cavities.fill(up, roles, paint, **options)


def replay_fill(part, got, cavities, paint, each=None):
    """One cavity after the other, through all steps: what goes in, and the air that is left. each: of a step, its course
    and its feed."""
    count, spacing = len(got["openings"]), got["spacing_mm"]
    steps, start, capacity = got["steps"], got.get("start"), got["capacity_mm3"]
    shut = [vug.ROLE_SEALED] * count
    ends = {"fluid_low": vug.liquid(got["paint"], level=vug.LOW), "fluid_high": vug.liquid(got["paint"], level=vug.HIGH)}
    left, empty = [0.0] * len(steps), [0.0] * len(steps)
    for cavity, room in cavities_in_use(got, cavities).items():
        now = None
        for k, step in enumerate(steps):
            feed = next((f for f in step["feed"] if cavities.opening(f["opening"]).cavity == cavity), None)
            begins = k == 0 and start and not step["feed"] and start["cavity"] == cavity
            if begins:
                now = vug.Moment.make(cavities, step["up"], start["liquid_mm3"], start["air"], cavity, spacing)
            if now is None and feed is None:
                left[k] += room
                continue
            for up in step["way"] if now is not None and not begins else ():
                now = now.turn(cavities, up, shut, paint, spacing_mm=spacing).at_time(math.inf)
            options = {"inlet": feed["opening"], "volume_mm3": feed["most_mm3"]} if feed else {}
            course = fill_step(now, cavities, step["up"], roles_of(count, step["open"]) if feed else shut, paint,
                               spacing_mm=spacing, **options, **ends)
            if each:
                each(k, course, feed)
            now = course.at_time(math.inf)
            left[k] += course.info.trapped_mm3 + course.info.empty_mm3
            empty[k] += course.info.empty_mm3
    before = capacity
    for k, step in enumerate(steps):
        same(f"{part}: fill {k}: air", left[k], step["trapped_mm3"], capacity)
        same(f"{part}: fill {k}: paint", before - left[k], step["inject_mm3"], capacity)
        same(f"{part}: fill {k}: room with a vent", empty[k], step["empty_mm3"], capacity)
        before = left[k]
    same(f"{part}: air in the end", before, got["trapped_mm3"], capacity)


def replay_drain(part, got, cavities, rinse):
    """One cavity after the other. Times are those of the slowest: told where there is one cavity."""
    count, spacing, capacity = len(got["openings"]), got["spacing_mm"], got["capacity_mm3"]
    steps, model = got["drain_steps"], got["bench"]["holes_in_model"]
    later = {i for i, o in enumerate(got["openings"]) if o["to_drill"] and not model}
    free = [i for i in range(count) if i not in later]
    used = {o.cavity for i, o in enumerate(cavities.openings()) if i in free}
    stays, film = [0.0] * len(steps), 0.0
    for cavity in sorted(used):
        begin = None
        for k, step in enumerate(steps):
            check(not later & set(step["open"]), f"{part}: drain {k}: by a hole that is not drilled yet")
            options = {"spacing_mm": spacing, "cavity": cavity} | ({"begin": begin} if begin is not None else {})
            course = cavities.drain(step["up"], roles_of(count, step["open"]), rinse, **options)
            begin = course.at_time(math.inf)
            stays[k] += course.info.liquid_mm3
            if len(used) == 1 and step["drain_mm3"] >= 50:
                running(f"{part}: drain {k}", course, step["time_s"], step["residue_mm3"] + step["stuck_mm3"], capacity)
        film += course.info.film_mm3
    for k, step in enumerate(steps):
        same(f"{part}: drain {k}: stays", stays[k], step["residue_mm3"], capacity)
    same(f"{part}: film", film, got["bench"]["film_mm3"], capacity)
    if len(used) == 1:
        resin = cavities.drain(steps[0]["up"], roles_of(count, steps[0]["open"]), vug.liquid("resin"),
                               spacing_mm=spacing, cavity=min(used))
        running(f"{part}: resin", resin, got["bench"]["resin_s"], got["bench"]["resin_mm3"], capacity)


def running(name, course, time, inside, capacity):
    """What has run out by itself by the time that is told. -1: nothing."""
    if time < 0:
        same(f"{name}: nothing runs", course.info.capacity_mm3, inside, capacity)
        return
    if 0 <= course.info.time_s <= 57600:
        same(f"{name}: time", course.info.time_s, time, max(1.0, time))
    same(f"{name}: inside then", course.at_time(time).info.liquid_mm3, inside, capacity)


def widest_of(cavities, cavity, without):
    own = [o for i, o in enumerate(cavities.openings()) if o.cavity == cavity and i not in without]
    return max(own, key=lambda o: o.diameter_mm, default=None)


def compare_bench(part, got, cavities):
    """What one figure of the JSON says of others, and what lamps, plugs and drying take, by vug-sums."""
    bench, capacity, paint = got["bench"], got["capacity_mm3"], vug.liquid(got["paint"])
    used = cavities_in_use(got, cavities)
    same(f"{part}: capacity", sum(used.values()), capacity, capacity)
    same(f"{part}: sealed", sum(cavities.info(i).volume_mm3 for i in range(len(cavities)) if i not in used),
         got["sealed_mm3"], capacity)
    first = got["steps"][got["given_steps"]]
    if not got["given_steps"]:
        same(f"{part}: pockets of the first step", sum(p["volume_mm3"] for p in got["pockets_after_first_step"])
             + sum(p["volume_mm3"] for p in got["room_after_first_step"]), first["trapped_mm3"], capacity)
    skin = got["skin"]
    fine = skin["finer_than_columns_mm2"]  # no column comes near: next to nothing
    check(0 <= fine <= 1e-3 * skin["area_mm2"], f"{part}: {fine} mm2 of the skin are finer than the columns")
    same(f"{part}: skin", skin["backed_mm2"] + skin["filmed_mm2"] + skin["bare_mm2"] + fine, skin["area_mm2"],
         skin["area_mm2"])
    later = set() if bench["holes_in_model"] else {i for i, o in enumerate(got["openings"]) if o["to_drill"]}
    lamps, dry = {20: 0.0, 5: 0.0}, 0.0
    for i, room in used.items():
        info, light, door = cavities.info(i), widest_of(cavities, i, later), widest_of(cavities, i, set())
        for lamp in lamps if light else ():
            told = sums("inside", lamp_mw_cm2=lamp, wall_mm=bench["wall_mm"], opening_mm=light.diameter_mm,
                        distance_mm=4.0 * room / info.area_mm2)
            lamps[lamp] = max(lamps[lamp], told["time_s"])
        if paint.volatile_share > 0:
            told = sums("dry", solids_fraction=1 - paint.volatile_share,
                        volume_ml=1e-3 * room * (1 - got["trapped_mm3"] / capacity), hole_diameter_mm=door.diameter_mm,
                        hole_length_mm=max(door.bore_length_mm, 0.2))
            dry = max(dry, told["first_time_s"] or math.inf)
    for name, want in (("cure_low_s", lamps[20]), ("cure_high_s", lamps[5]), ("dry_s", dry)):
        check(math.isinf(want) or math.isclose(bench[name], want, rel_tol=1e-9), f"{part}: {name} {bench[name]}, vug-sums {want}")
    fed = {f["opening"] for s in got["steps"][got["given_steps"]:] for f in s["feed"]}
    fed = [got["openings"][i]["diameter_mm"] for i in fed if used[cavities.opening(i).cavity] >= min(50.0, capacity)]
    try:
        gauge = vug.flow.needle_through(min(fed), 0.4).gauge if fed else 0
    except vug.VugError:
        gauge = 0  # none leaves room for air
    check(bench["needle_gauge"] == gauge, f"{part}: needle of gauge {bench['needle_gauge']}, vug-sums {gauge}")
    coat = got["coat"]
    if coat["coats"]:
        told = sums("coat", area_mm2=coat["wetted_mm2"], volume_ml=1e-3 * capacity, film_mm=0.1,
                    solids_fraction=1 - paint.volatile_share, coat_mm=coat["paint_mm3"] / coat["coats"] / coat["wetted_mm2"])
        check(told["coats"] == coat["coats"] and math.isclose(1e3 * told["coat_ml"], coat["paint_mm3"], rel_tol=1e-9),
              f"{part}: coat {coat}, vug-sums {told}")
        check(coat["wetted_mm2"] >= 0.5 * skin["area_mm2"], f"{part}: a coat on {coat['wetted_mm2']} of {skin['area_mm2']}")


def compare_sums(part, got, wall_mm=None):
    """The sums of the bench, by vug-sums and by hand."""
    bench, capacity = got["bench"], got["capacity_mm3"]
    stays = got["residue_mm3"] + bench["film_mm3"]
    if bench["rinses"]:
        told = sums("rinse", cavity_ml=1e-3 * capacity, residue_ml=1e-3 * stays)
        check(told["soak_cycles"] == bench["rinses"], f"{part}: {bench['rinses']} rinses, vug-sums {told['soak_cycles']}")
        check(math.isclose(1e3 * told["soak_ml"], bench["rinse_mm3"], rel_tol=1e-9), f"{part}: solvent {told}")
        # the law of dilution, by hand: each rinse leaves stays / capacity
        check((stays / capacity) ** bench["rinses"] <= 1e-3 * (1 + 1e-9) < (stays / capacity) ** (bench["rinses"] - 1),
              f"{part}: the count of rinses")
    if wall_mm is not None:
        check(abs(bench["wall_mm"] - wall_mm) < 0.1, f"{part}: wall {bench['wall_mm']}, it was drawn {wall_mm}")
    check(bench["cure_high_s"] == 0 or math.isclose(bench["cure_high_s"], 4 * bench["cure_low_s"], rel_tol=1e-9),
          f"{part}: a lamp of a fourth takes four times as long")
    supplies = sums("supplies", volume_ml=1e-3 * sum(s["inject_mm3"] for s in got["steps"][got["given_steps"]:]),
                    syringe_ml=got["syringe_ml"])
    check(math.isclose(supplies["last_load_ml"], got["last_load_ml"], rel_tol=1e-9, abs_tol=1e-12), f"{part}: last load {supplies}")
    check(supplies["loads"] == got["loads"] and math.isclose(supplies["paint_ml"], got["paint_ml"], rel_tol=1e-9),
          f"{part}: supplies {supplies}")
    glue = sum(math.pi / 4 * o["diameter_mm"] ** 2 * min(max(o["bore_length_mm"], 0.2), 3) for o in got["openings"])
    check(math.isclose(glue, bench["plug_mm3"], rel_tol=1e-9), f"{part}: glue {bench['plug_mm3']}, by hand {glue}")
    for step in got["drain_steps"]:  # half as long again as it takes, and 5 s at least
        check(step["time_s"] < 0 or math.isclose(step["wait_s"], max(5.0, 1.5 * step["time_s"]), rel_tol=1e-9),
              f"{part}: waits {step}")
    wet = vug.liquid(got["paint"]).volatile_share > 0
    check(0 < bench["frost_air_mm3"] <= capacity * 1.1 if wet else bench["frost_air_mm3"] == 0,
          f"{part}: air for frost {bench['frost_air_mm3']} of {capacity}")

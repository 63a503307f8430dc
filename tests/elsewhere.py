# SPDX-License-Identifier: MIT
"""Figures of a plan's JSON that vug-sums and the calls for a fill tell too: the air to leave for warmth and frost, how long
bubbles take, and how fast is too fast."""
import math

from plans import check, roles_of, sums, vug

WAIT = ("typical", "low", "high")


def alike(name, have, want):
    check(math.isclose(have, want, rel_tol=1e-9, abs_tol=1e-12), f"{name}: {have!r} in the plan, {want!r} elsewhere")


def compare_air(part, got, rooms):
    """Each room as a ball with the wall that is told. It bears what pulls the wall with 5 MPa: Lame's thick sphere, at its
    inner face p (b^3 + 2 a^3) / (2 (b^3 - a^3)) (Timoshenko, Goodier, Theory of Elasticity)."""
    bench, warm, frost = got["bench"], 0.0, 0.0
    for room in rooms if vug.liquid(got["paint"]).volatile_share > 0 else ():
        a = (0.75 * room / math.pi) ** (1 / 3)
        b = a + bench["thin_wall_mm"]
        told = sums("seal", warm_k=20, inner_radius_mm=a, wall_mm=b - a, allowed_pa=20e3)["air_fraction"]
        warm = -1.0 if warm < 0 or told is None else warm + told * room
        bears = 5e6 * 2 * (b ** 3 - a ** 3) / (b ** 3 + 2 * a ** 3)
        told = sums("ice", allowed_pa=bears)["air_fraction"]
        frost += (1.0 if told is None else told) * room
    check(0.2 <= bench["thin_wall_mm"] <= bench["wall_mm"] * (1 + 1e-9), f"{part}: thin wall of {bench}")
    alike(f"{part}: air for warmth", bench["warm_air_mm3"], warm)
    alike(f"{part}: air for frost", bench["frost_air_mm3"], frost)


# ---- waits

def join(waits, more):
    """The longest of each; -1 is longer than any."""
    return [-1.0 if min(a, b) < 0 else max(a, b) for a, b in zip(waits, more)]


def passing(part, liquid, course, counted):
    """What the throats of a course take, each by vug-sums too. What never passes counts as air that stays: no wait."""
    waits = [0.0] * 3
    for event in course.events():
        if event.kind != vug.EVENT_WAIT:
            continue
        own = [event.wait_s, event.wait_low_s, event.wait_high_s]
        told = bubble(liquid, tube_diameter_mm=event.diameter_mm, air_ml=1e-3 * event.volume_mm3)
        for name, have, end in zip(WAIT, own, ("", "_low", "_high")):
            want = told.get("pass_time_s" + end, told["pass_time_s"])  # a figure that is sure has no ends
            alike(f"{part}: throat of {event.diameter_mm} mm, {name}", have, -1.0 if want is None else want)
        if own[0] >= 0 or not counted:
            waits = join(waits, own)
    return waits


def bubble(liquid, **given):
    return sums("bubble", liquid, **given)


def rising(liquid, step, passage):
    """As the header has it: half as long again as the way takes, 5 s at least."""
    across = (6 * step["bubble_mm3"] / math.pi) ** (1 / 3)
    tube = across > 0.6 * passage
    told = bubble(liquid, **({"tube_diameter_mm": passage} if tube else {"bubble_diameter_mm": across}))
    key = "tube_speed_mm_s" if tube else "open_speed_mm_s"
    speeds = (told[key], told.get(key + "_high", told[key]), told.get(key + "_low", told[key]))
    return [max(5.0, 1.5 * step["rise_mm"] / v) if v > 0 else -1.0 for v in speeds]


def compare_waits(part, got, cavities, throats):
    """throats: of each step, by passing(). On a way with rests the plan's count from its beginning: then they are more."""
    passage = min(4 * i.volume_mm3 / i.area_mm2 for i in (cavities.info(k) for k in range(len(cavities))))
    for k, step in enumerate(got["steps"][got["given_steps"]:], got["given_steps"]):
        have, rise = [step["wait_s"], step["wait_low_s"], step["wait_high_s"]], [0.0] * 3
        if step["rise_mm"] > 0:
            rise = rising(got["paint"], step, passage)
        for name, a, b, c in zip(WAIT, have, rise, throats[k]):
            if not step["way"]:
                alike(f"{part}: fill {k}: wait, {name}", a, -1.0 if min(b, c) < 0 else b + c)
            else:
                check(a >= b * (1 - 1e-9) if b >= 0 else a < 0, f"{part}: fill {k}: wait, {name}, {a}, rise {b}")


# ---- rate

def first_spill(course, aside):
    """Liquid inside when it first comes to an opening that is not left aside, and which: inf, none."""
    for event in course.events():
        if event.kind == vug.EVENT_SPILL and event.opening >= 0 and event.opening not in aside:
            return event.liquid_mm3, event.opening
    return math.inf, None


def compare_rate(part, got, cavities):
    """Up to the rate that is told nothing spills before 0.98 of what goes in without hurry, and a tenth above it does. An
    opening that is covered once paint shows spills nothing; nor does the inlet, where more goes in once it is tight."""
    step = got["steps"][0]
    if got["given_steps"] or not step["feed"]:
        return
    paint, inlet = vug.liquid(got["paint"]), step["feed"][0]["opening"]
    thick = paint.yield_stress_pa / 10 + paint.consistency_pa_sn * 10 ** (paint.flow_index - 1)  # Herschel, Bulkley, at 10 / s
    plain = vug.Fluid(**(paint.asdict() | {"yield_stress_pa": 0.0, "flow_index": 1.0, "consistency_pa_sn": thick}))
    roles, aside = roles_of(len(got["openings"]), step["open"]), set(step["paint_shows_in"])
    pose = {"inlet": inlet, "columns_across": 60}

    def spill(rate):
        how = {"viscous": 1, "rate_mm3_s": rate} if rate > 0 else {}
        try:
            return first_spill(cavities.fill(step["up"], roles, plain, **pose, **how), aside)
        except vug.VugError:
            return 0.0, None  # so fast that no part bears it

    still, where = spill(0.0)
    if where == inlet:
        room = cavities.info(cavities.opening(inlet).cavity).volume_mm3
        aside.add(inlet)
        beyond, _ = spill(0.0)
        if still < 0.98 * min(beyond, room):
            still = beyond
        else:
            aside.discard(inlet)
    rate = step["rate_mm3_s"]
    if not step["paint_shows_in"]:
        try:
            want = cavities.fill_rate_limit(step["up"], roles, plain, **pose)
        except vug.VugError:
            want = 0.0
        alike(f"{part}: rate limit", rate, want if 1.02e-3 < want < 1e5 else 0.0)
    if rate > 0:
        check(math.isfinite(still), f"{part}: a rate of {rate} where nothing spills")
        check(spill(rate)[0] >= 0.98 * still * (1 - 1e-9), f"{part}: at {rate} mm3/s {spill(rate)} spills, slowly {still}")
        check(spill(1.1 * rate)[0] < 0.98 * still, f"{part}: at 1.1 x {rate} mm3/s nothing spills before {spill(1.1 * rate)}")

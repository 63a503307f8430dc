# SPDX-License-Identifier: MIT
"""Stated errors against true ones, over random made parts whose volumes are known exactly
(tests/convex.py: polyhedra, widest paths and the divergence theorem, no grid and no columns)."""
import itertools

import convex
from convex import np


class Count:
    """How often the truth lies within the stated error, and how wide that is. All in shares of the
    capacity."""

    def __init__(self):
        self.rows = {}
        self.wrong = []
        self.lost = []

    def add(self, what, where, got, error, want, capacity):
        self.rows.setdefault(what, []).append(((got - want) / capacity, error / capacity, where))

    def told(self, what):
        """Share of the figures within their stated errors, the median of true errors and that of stated ones."""
        rows = self.rows[what]
        true, stated = np.abs([r[0] for r in rows]), np.array([r[1] for r in rows])
        return (true <= stated).mean(), np.median(true), np.median(stated)

    def check(self, good, where, message):
        if not good:
            self.wrong.append(f"{where}: {message}")


def near(a, b, error):
    return abs(a - b) <= error


def agree(count, where, part, cavities, up, totals, columns):
    """A fill to the end and a drain upside down say of a pose what its pockets say."""
    fill = cavities.fill(up, rigid_air=1, columns_across=columns).info
    drain = cavities.drain([-x for x in up], columns_across=columns).info
    air = fill.capacity_mm3 - fill.liquid_mm3
    whole, want = part.capacity, part.trapped(up)
    count.add("fill", where, air, fill.trapped_error_mm3, want, whole)
    count.add("residue", where, drain.liquid_mm3, drain.liquid_error_mm3, want, whole)
    for what, got, error in (("a fill leaves", air, fill.trapped_error_mm3),
                             ("upside down there stays", drain.liquid_mm3, drain.liquid_error_mm3)):
        both = error + totals.trapped_error_mm3
        count.check(near(got, totals.trapped_mm3, both), where,
                    f"{what} {got:.5g} mm3, pockets say {totals.trapped_mm3:.5g} (+- {both:.3g})")


def volume_above(mesh, up, level):
    return mesh.volume_below(up, np.inf) - mesh.volume_below(up, level)


def meshes(count, where, part, cavities, pockets, up):
    """Each pocket is there as a closed mesh, as large as told; above the highest level down to which air leaves any of the hollow
    they hold all that its wall does, but for what is too small to be listed."""
    totals, whole, highest, air = pockets.totals(), part.capacity, max(part.levels(up)), 0.0
    unlisted = totals.trapped_mm3 - sum(info.volume_mm3 for info in pockets.infos())
    for number, info in enumerate(pockets.infos()):
        mesh = pockets.mesh(number)
        is_ = mesh.measure()
        air += volume_above(mesh, up, highest)
        count.check(is_.closed and not is_.edges_flipped, where, f"the mesh of pocket {number} is not closed")
        count.check(near(is_.volume_mm3, info.volume_mm3, 1e-9 * whole), where,
                    f"the mesh of pocket {number} holds {is_.volume_mm3:.6g} mm3, told are {info.volume_mm3:.6g}")
    wall = sum(volume_above(cavities.mesh(k), up, highest) for k in range(len(cavities)))
    count.check(near(wall, air, unlisted + totals.trapped_error_mm3 + 1e-9 * whole), where,
                f"{wall:.6g} mm3 lie above all ways out, pockets have {air:.6g} there")


def trapped(count, where, part, cavities, up, columns):
    whole = part.capacity
    pockets = cavities.pockets(up, columns_across=columns)
    totals = pockets.totals()
    meshes(count, where, part, cavities, pockets, up)
    count.add("capacity", where, totals.capacity_mm3, totals.capacity_error_mm3, whole, whole)
    count.add("trapped", where, totals.trapped_mm3, totals.trapped_error_mm3, part.trapped(up), whole)
    count.check(totals.trapped_mm3 <= totals.capacity_mm3, where, "more is trapped than there is")
    return totals


def pose(count, where, part, cavities, up, columns):
    totals = trapped(count, where, part, cavities, up, columns)
    agree(count, where, part, cavities, up, totals, columns)


def part(count, seed, vug, poses=3, facets=60, columns=0, sides=24):
    """One part in some poses. count.lost: its holes could not be found as they are in the mesh."""
    made = convex.make(seed, facets, sides)
    corners, triangles = made.mesh(rough=seed % 2 == 0)
    mesh = vug.Mesh.from_arrays(corners, triangles)
    try:
        cavities = mesh.cavities([bore.row for bore in made.bores], detect=0)
    except vug.VugError:
        count.lost.append(seed)
        return
    for number, up in enumerate(convex.poses(seed, poses)):
        pose(count, f"part {seed} pose {number}", made, cavities, up, columns)


def box(x, y, z):
    return convex.hull(np.array(np.meshgrid([-x, x], [-y, y], [-z, z])).reshape(3, -1).T.astype(float))


DRY = {0: 1, 2: 0, 5: 0, 7: 1, 23: 1, 29: 1, 49: 0, 52: 2, 65: 1, 331: 2,
       350: 2}  # part: pose in which all bores lead down and out


def above(count, where, made, cavities, up):
    """What pockets trap above one level for all is the wall's own volume above it."""
    totals = cavities.pockets(up, columns_across=140).totals()
    volume = volume_above(cavities.mesh(0), up, max(made.levels(up)))
    count.check(near(volume, totals.trapped_mm3, totals.trapped_error_mm3), where,
                f"{volume:.6g} mm3 lie above the rim, {totals.trapped_mm3:.6g} are trapped")


def dry(count, vug):
    """Bores that lead so steeply down and out that their rims lie below their inner ends: a fill, a drain upside down, pockets
    and the wall's volume below the rim say the same at every spacing; floors lead into some of the bores, past hollows in
    others; the bores of parts 331 and 350 open into a room below their rims too, and the lip of another hollow is above them."""
    for seed, number in DRY.items():
        made, up = convex.make(seed), convex.poses(seed, 3)[number]
        cavities = vug.Mesh.from_arrays(*made.mesh(rough=seed % 2 == 0)).cavities(
            [bore.row for bore in made.bores], detect=0)
        where = f"dry part {seed}"
        above(count, where, made, cavities, up)
        for columns in (70, 100, 140, 200):
            pose(count, f"{where}, {columns} columns", made, cavities, up, columns)


def parted(count, vug):
    """A bore that opens into two rooms at once, on either side of the edge of the wall between them, has a highest point in
    each: what one room traps is not told by the other's. Part 80 has open edges, in slivers, so columns tell it."""
    made, up = convex.make(80), convex.poses(80, 1)[0]
    tops = [(made.joint[piece, made.first_bore] @ up).max() for piece in (1, 3)]
    count.check(tops[0] - tops[1] > 0.05, "two rooms", f"their tops at the bore are {tops}")
    cavities = vug.Mesh.from_arrays(*made.mesh(rough=True)).cavities([bore.row for bore in made.bores], detect=0)
    for columns in (60, 100, 140):
        where, totals = f"two rooms, {columns} columns", cavities.pockets(up, columns_across=columns).totals()
        count.add("trapped", where, totals.trapped_mm3, totals.trapped_error_mm3, made.trapped(up), made.capacity)
        agree(count, where, made, cavities, up, totals, columns)


def alike(count, where, made, rows, vug, **options):
    """Bores that are found are the bores that somebody names: as many, in one place each, and what they hold and trap is the
    same within what both state. Returns those found."""
    mesh = vug.Mesh.from_arrays(*made.mesh())
    ways = [mesh.cavities(**options), mesh.cavities(rows, detect=0)]
    rims = [sorted(tuple(o.center_mm) for o in cavities.openings()) for cavities in ways]
    off = [np.linalg.norm(np.subtract(a, b)) for a, b in zip(*rims)]
    count.check(len(rims[0]) == len(rims[1]) and max(off, default=0) < APART_MM, where,
                f"found {np.round(rims[0], 3)}, named {np.round(rims[1], 3)}")
    for up in convex.poses(3, 1):
        found, named = (cavities.pockets(up, columns_across=100).totals() for cavities in ways)
        count.check(near(found.capacity_mm3, named.capacity_mm3, found.capacity_error_mm3 + named.capacity_error_mm3)
                    and near(found.trapped_mm3, named.trapped_mm3, found.trapped_error_mm3 + named.trapped_error_mm3),
                    where, f"found hold {found.capacity_mm3:.6g} mm3 and trap {found.trapped_mm3:.6g}, named "
                    f"{named.capacity_mm3:.6g} and {named.trapped_mm3:.6g}")
    return ways[0]


APART_MM = 0.1  # middles of one rim by a section of its bore here or there: the corners of a prism are farther off its circle


def found_as_made(count, where, made, wide, vug, **options):
    """Its one bore, that nobody names."""
    cavities = alike(count, where, made, [made.bores[0].row], vug, **options)
    widths = [opening.diameter_mm for opening in cavities.openings()]
    count.check(len(widths) == 1 and near(widths[0], wide, 0.03 * wide), where, f"diameters {widths}")
    trapped(count, where, made, cavities, convex.poses(3, 1)[0], 100)


def found(count, vug):
    """Bores in a thin wall that nobody names, square to it and so slanted that no section of them closes; those that are not
    through end half in the wall. They are found as they are."""
    wall = 1.8
    for lean, turn, wide, through in itertools.product((0, 25, 40, 50), (0, 130, 215), (2.0, 4.0), (True, False)):
        a, b = np.radians([lean, turn])
        out = np.array([np.cos(a), np.sin(a) * np.cos(b), np.sin(a) * np.sin(b)])
        half, side = wall / 2 / np.cos(a), wide / 2 * np.tan(a)
        if lean == 0 and not through:
            continue
        bore = prism((10 + wall / 2, 1.3, 0.7), out, wide / 2, half + side + 1, half + (side + 0.5 if through else -0.4 * side))
        found_as_made(count, f"bore of {wide} leaning {lean} turned {turn}{'' if through else ' half in the wall'}",
                      convex.Made([box(10, 10, 8)], [bore], box(10 + wall, 10 + wall, 8 + wall)), wide, vug)


def beside(count, vug):
    """Bores whose axis passes beside the cavity: they open into it by one side, and end in the wall."""
    for aside, wide in itertools.product((0.2, 0.5, 0.8), (2.0, 3.0, 4.0)):
        bore = prism((12.9, 10 + aside, 0.7), (1, 0, 0.1), wide / 2, 4, 5)
        found_as_made(count, f"bore of {wide}, its axis {aside} beside the cavity",
                      convex.Made([box(10, 10, 8)], [bore], box(11.8, 13, 9.8)), wide, vug)


LEANING = [(0.5, 17, 0, 4), (0.5, 17, 180, 4), (-0.5, 30, 180, 4), (-0.5, 45, 180, 4), (0, 45, 130, 4), (0, 45, 270, 2),
           (0.5, 8, 180, 2), (0.5, 30, 180, 4), (0.8, 17, 180, 4), (0.8, 30, 130, 4)]  # mm, degrees, degrees, mm


def leaning_bore(aside, lean, turn, wide):
    a, b = np.radians([lean, turn])
    out = np.array([np.cos(a), np.sin(a) * np.cos(b), np.sin(a) * np.sin(b)])
    bore = prism((12.9, 10 + aside, 0.7), out, wide / 2, 8, 5)
    return convex.Made([box(10, 10, 8)], [bore], box(11.8, 15, 13))


def unseen(count, vug):
    """A bore that opens into the box by a slit of 0.01 mm is not seen: that the cavity is not sure is said in words."""
    mesh = vug.Mesh.from_arrays(*leaning_bore(0.5, 45, 130, 4).mesh())
    cavities = mesh.cavities(cells_across=128)
    words = cavities.doubt_words()
    count.check(cavities.opening_count == 1 or (not cavities.infos()[0].trusted and "Not sure" in words), "slit",
                f"{cavities.opening_count} openings, it is said: {words}")


def leaning(count, vug):
    """Bores that come to an edge of the box askew: they open into it by a slit, from which the outside reaches along its edges
    as the grid sees it, to its far corner or into the corner beside the bore."""
    unseen(count, vug)
    for (aside, lean, turn, wide), cells in itertools.product(LEANING, (100, 128, 180)):
        made = leaning_bore(aside, lean, turn, wide)
        where = f"bore of {wide}, {aside} beside, leaning {lean} turned {turn}, {cells} cells"
        found_as_made(count, where, made, wide, vug, cells_across=cells)


ALIKE = (0, 4, 5, 7, 8, 9, 10, 11)  # random parts
BENT_ALIKE = (4, 8, 12, 18, 24, 29, 35)  # bores with a bend, whose first leg is a cylinder of its own
CROSSING_ALIKE = (1, 38)  # bores that cross in the wall, with a rim or two: the grid sees one border


BRANCHES = ((2.2, 0.9, 4), (2.4, 0.7, 5), (1.6, 0.8, 4))  # radius of a leg, of the bores that it parts into, how many


def branches(wide, narrow, number):
    """A box out of which one leg leads, that parts into bores amid the wall: their rims lie behind one way out."""
    leg, bores = prism((10, 0.3, 0.7), (1, 0, 0), wide, 4, deep=2), []
    for k in range(number):
        angle = 2 * np.pi * k / number + 0.3
        axis = (1, 0.9 * np.cos(angle), 0.9 * np.sin(angle))
        bores.append(prism((13, 0.3 + 1e-3 * k, 0.7), axis, narrow, 30, deep=0.4))
    return convex.Made([box(10, 10, 8), leg], bores, box(20, 20, 18))


def found_alike(count, vug):
    """Openings of all kinds, found and named alike."""
    for kind in BRANCHES:
        made = branches(*kind)
        rows = [[*rim.mean(0), *bore.row[3:]] for rim, bore in zip(made.rims, made.bores)]
        alike(count, f"branches {kind}", made, rows, vug, cells_across=100)
    for seed in ALIKE:
        made = convex.make(seed, 30)
        alike(count, f"part {seed}", made, [bore.row for bore in made.bores], vug)
    for name, (made, rows) in recesses():
        alike(count, name, made, rows, vug)
    for narrow, wide in TAPERS:
        made = taper(narrow, wide)
        alike(count, f"taper from {narrow} to {wide} mm", made, [[*made.rims[0].mean(0), *made.bores[0].row[3:]]], vug)
    for seed in BENT_ALIKE:
        made = bent(seed)
        alike(count, f"bend {seed}", made, [[*made.rims[0].mean(0), *made.bores[0].row[3:]]], vug, cells_across=128)
    for seed in CROSSING_ALIKE:
        made, rows = crossing_bores(seed)
        alike(count, f"crossing bores {seed}", made, rows, vug)
    for lean, radius in JOINED:
        made = joined(lean, radius)
        alike(count, f"rooms joined by {radius} mm, {lean}", made, [bore.row for bore in made.bores], vug)


def window(section, skew=0.0):
    """A box of 20 x 20 x 16 mm in walls of 5 mm, and through the wall at +x an opening that is not round: the corners of
    its section, moved along y by skew over each mm outward."""
    bore = convex.hull(np.array([(x, y + skew * (x - 15), z) for x in (9, 20) for y, z in section]))
    bore.row = [15, 0, 0, 1, skew, 0, 2]
    return convex.Made([box(10, 10, 8)], [bore], box(15, 15, 13))


SLOT = [(-4, -0.8), (4, -0.8), (4, 0.8), (-4, 0.8)]  # corners (y, z)
WINDOWS = {
    "slot": (SLOT, 0.0),
    "skew slot": (SLOT, 0.3),
    "triangle": ([(-3, -1.5), (3, -1.5), (0, 3.5)], 0.0),
}


def windows(count, vug, columns=0):
    for name, shape in WINDOWS.items():
        made = window(*shape)
        cavities = vug.Mesh.from_arrays(*made.mesh()).cavities()
        count.check(cavities.opening_count == 1, name, f"{cavities.opening_count} openings")
        for number, up in enumerate(np.concatenate([convex.poses(5, 8), np.eye(3), -np.eye(3)])):
            pose(count, f"{name}, pose {number}", made, cavities, up, columns)


def stadium(long, wide):
    """Corners (y, z) of a slot with round ends."""
    angle, straight = np.linspace(-np.pi / 2, np.pi / 2, 9), (long - wide) / 2
    half = np.stack([straight + wide / 2 * np.cos(angle), wide / 2 * np.sin(angle)], 1)
    return np.concatenate([half, -half])


SLOTS = {"slot with round ends": stadium(4, 0.6), "slit": [(-5, -0.25), (5, -0.25), (5, 0.25), (-5, 0.25)],
         "slit with pointed ends": [(-2, -0.15), (2, -0.15), (2.15, 0), (2, 0.15), (-2, 0.15), (-2.15, 0)]}


def slots(count, vug):
    """Openings longer than wide, down to one column wide: as wide as a circle of their area, by the shoelace formula; named
    by that they are found; they let in and out what they should."""
    for name, section in SLOTS.items():
        made, (y, z) = window(section), np.array(section).T
        want = np.sqrt(2 * abs(np.sum(y * np.roll(z, -1) - np.roll(y, -1) * z)) / np.pi)
        mesh = vug.Mesh.from_arrays(*made.mesh())
        cavities = mesh.cavities()
        count.check(cavities.opening_count == 1, name, f"{cavities.opening_count} openings")
        info = cavities.opening(0)
        count.check(abs(info.diameter_mm - want) < 1e-6, name, f"it is {info.diameter_mm} mm wide, by hand {want}")
        cavities = mesh.cavities([[*info.center_mm, *info.normal, info.diameter_mm]], detect=0)
        for number, up in enumerate(np.concatenate([convex.poses(3, 3), np.eye(3)[1:]])):
            for columns in (60, 140):
                pose(count, f"{name}, pose {number}, {columns} columns", made, cavities, up, columns)


def prism(point, axis, wide, length, deep=0.0, narrow=None):
    """A round bar of 24 sides from so deep under a point along an axis, or a cone that widens."""
    axis = np.array(axis, float) / np.linalg.norm(axis)
    x = np.cross(axis, np.eye(3)[int(np.argmin(abs(axis)))])
    x /= np.linalg.norm(x)
    ends = np.concatenate([convex.ring(24, narrow or wide, -deep), convex.ring(24, wide, length)])
    bar = convex.hull(ends @ np.array([x, np.cross(axis, x), axis]) + point)
    bar.go_round(axis)
    bar.row = [*point, *axis, 2 * (narrow or wide)]
    return bar


SKIN = [15, 0, 13]  # amid an edge of the box; (15, 15, 13) is a corner
CAPS = {  # where a bore leaves, along what axis; what else is cut around it
    "over an edge": (SKIN, (1, 0.1, 0.7), None),
    "over a corner": ((15, 15, 13), (1, 0.9, 0.8), None),
    "countersunk": ((15, 1, 0), (1, 0.2, 0.1), (1.6, 3.4)),
    "countersunk over an edge": (SKIN, (1, 0.1, 0.9), (1.6, 2.2)),
    "counterbored": ((15, 1, 0), (1, 0.1, 0.1), (3.2, 3.2)),
}
DEEP = 1.8  # of a recess, along the axis


GENTLE = [(1, 0.2, 0.1), (1, 0.5, 0.3)]  # axes of bores
RISE = 0.3  # over a mm along such a bore, at most


def gentle(count, vug, poses=10):
    """Bores that rise outward so little that the room above their mouths' tops is that of a few columns: whatever is at the
    mouth comes over its top, in a fill as in a drain and for pockets."""
    for number, way in enumerate(GENTLE):
        bore = prism((15, 1, 0), way, 1.6, 6, deep=12)
        made = convex.Made([box(10, 10, 8)], [bore], box(15, 15, 13))
        cavities = vug.Mesh.from_arrays(*made.mesh()).cavities([bore.row], detect=0)
        rising = [up for up in convex.poses(70 + number, 20 * poses) if 0 < up @ bore.row[3:6] < RISE]
        for up in rising[:poses]:
            for columns in (100, 140):
                where = f"{way} at {np.round(up, 3)}, {columns} columns"
                pose(count, where, made, cavities, up, columns)


def between(lo, hi):
    return convex.hull(np.array(np.meshgrid(*zip(lo, hi))).reshape(3, -1).T.astype(float))


def mushroom():
    """A room of 20 x 20 x 16 mm around a stalk with a cap whose rim hangs down: an island, with a cup under it that traps air.
    Upright that is (6^2 - 4^2) 2 mm3 = 40 mm3, by hand, but for what the pieces overlap: no two faces lie in one plane."""
    pieces = [between((-10, -10, 2), (10, 10, 8))]
    for inner, outer, low, high in ((5, 10, -8, 8), (2, 10, -8, -2), (2, 3, -8, 0)):
        for side in (-1, 1):
            lo, hi = sorted((side * inner, side * outer))
            for corners in ([(lo, -outer, low), (hi, outer, high)], [(-outer, lo, low), (outer, hi, high)]):
                more = 1e-4 * len(pieces)
                pieces.append(between(np.array(corners[0]) - more, np.array(corners[1]) + more))
    bore = prism((3, 1, 13), (0.1, 0.2, 1), 1.6, 4, deep=8)
    return convex.Made(pieces, [bore], box(15, 15, 13))


def islands(count, vug, poses=8):
    made = mushroom()
    upright = made.trapped(np.array([0, 0, 1.0]))
    count.check(abs(upright - 40) < 1, "mushroom", f"its cup holds {upright} mm3, by hand 40")
    cavities = vug.Mesh.from_arrays(*made.mesh()).cavities([made.bores[0].row], detect=0)
    for number, up in enumerate(np.concatenate([np.eye(3), -np.eye(3), convex.poses(6, poses)])):
        pose(count, f"mushroom, pose {number}", made, cavities, up, 100)


def recesses():
    """A box with walls of 5 mm and a bore whose rim is not flat, or lies in a recess, and how it is named."""
    for name, (point, axis, recess) in CAPS.items():
        pieces = [box(10, 10, 8)]
        bore = prism(point, axis, 1.6, 6, deep=12)
        rows = [bore.row]
        if recess:  # the bore ends in it
            pieces.append(prism(point, axis, 1.6, 0.01 - DEEP, deep=12))
            bore = prism(point, axis, recess[1] + 6 * (recess[1] - recess[0]) / DEEP, 6, DEEP, recess[0])
        yield name, (convex.Made(pieces, [bore], box(15, 15, 13)), rows)


def caps(count, vug):
    """What such a part holds up to the skin that was there is exact."""
    for name, (made, rows) in recesses():
        cavities = vug.Mesh.from_arrays(*made.mesh()).cavities(rows, detect=0)
        info = cavities.opening(0)
        count.check(abs(info.diameter_mm - 3.2) < 0.05, name, f"its bore is {info.diameter_mm:.3f} mm wide")
        for number, up in enumerate(np.concatenate([convex.poses(5, 3), -np.eye(3)])):
            trapped(count, f"{name}, pose {number}", made, cavities, up, 200)


CROSSING = {4: [0, 3], 13: [1, 7]}  # seed: poses; in the last of each a drain once ran in circles, or stood and never ended
SHARED = {0: 1, 1: 1, 3: 2, 5: 1, 9: 1, 10: 1, 14: 1}  # seed: rims that its two bores have on the skin


def crossing_bores(seed):
    """A box with two bores that cross in its wall."""
    random = np.random.default_rng(seed)
    middle = np.array([12.5, *random.uniform(-4, 4, 2)])
    bores = []
    for side in (-1, 1):
        axis = [1, side * random.uniform(0.2, 0.9), random.uniform(-0.4, 0.4)]
        at = middle + 0.2 * random.normal(size=3)
        bores.append(prism(at, axis, random.uniform(0.8, 1.6), 14, deep=8))
    made = convex.Made([box(10, 10, 8)], bores, box(15, 15, 13))
    rows = [[*rim.mean(0), *bore.row[3:]] for rim, bore in zip(made.rims, bores)]
    return made, rows


def crossing(count, vug):
    """Two bores of a box that cross in its wall: pockets are as they should be, and a drain comes to an end."""
    for seed, numbers in CROSSING.items():
        made, rows = crossing_bores(seed)
        cavities = vug.Mesh.from_arrays(*made.mesh()).cavities(rows, detect=0)
        for number in numbers:
            up, where = convex.poses(seed, 10)[number], f"crossing bores {seed}, pose {number}"
            trapped(count, where, made, cavities, up, 140)
            for columns in (100, 140):
                left = cavities.drain([-x for x in up], columns_across=columns).info.liquid_mm3
                count.check(0 <= left <= made.capacity, where, f"{left} mm3 stay")


def shared_rims(count, vug, poses=3):
    """Two bores that cross so near the skin that they leave by one rim are one opening, whichever is named first; what the
    hollow holds up to the skin is exact."""
    for seed, number in SHARED.items():
        made, rows = crossing_bores(seed)
        mesh = vug.Mesh.from_arrays(*made.mesh(rough=seed % 2 == 1))
        for order in (rows, rows[::-1]):
            cavities = mesh.cavities(order, detect=0)
            where = f"bores with a rim {seed}"
            count.check(cavities.opening_count == number, where, f"{cavities.opening_count} openings")
            for up in convex.poses(seed, poses):
                trapped(count, where, made, cavities, up, 140)


NEAR_RIMS = {17: 1, 37: 1, 38: 2, 42: 2, 57: 1}  # seed: rims; those of one hardly meet, of two are 0.1 mm apart


def near_rims(count, vug):
    """Two bores that cross so near the skin that hardly any section goes around one of them alone, their mesh in slivers too:
    each has the rim that the skin shows."""
    for seed, number in NEAR_RIMS.items():
        made, rows = crossing_bores(seed)
        for rough in (True, False):
            mesh = vug.Mesh.from_arrays(*made.mesh(rough=rough))
            for order in (rows, rows[::-1]):
                cavities = mesh.cavities(order, detect=0)
                where = f"near rims {seed}"
                count.check(cavities.opening_count == number, where, f"{cavities.opening_count} openings")
                trapped(count, where, made, cavities, convex.poses(seed, 1)[0], 100)


BENT = (4, 7, 8, 9, 12, 13, 16, 17, 18, 46)  # seeds: bends by 16 to 70 degrees
BENT_FOUND = (4, 7)


def bent(seed):
    """A box whose bore has a bend amid its wall. The first leg is a piece of the hollow."""
    random = np.random.default_rng([seed, 7])
    radius, bend = random.uniform(0.8, 2.2), random.uniform(12, 17)
    start = np.array([10, *random.uniform(-5, 5, 2)])
    first = np.array([1, *random.uniform(-0.3, 0.3, 2)])
    second = np.array([random.uniform(-0.2, 1), *random.uniform(-1, 1, 2)])
    first, second = (way / np.linalg.norm(way) for way in (first, second))
    length = (bend - 10) / first[0]
    leg = prism(start, first, radius, length + 0.6 * radius, deep=2.5)
    bore = prism(start + length * first + 1e-3 * random.normal(size=3), second, radius, 60, deep=0.6 * radius)
    return convex.Made([box(10, 10, 8), leg], [bore], box(20, 20, 18))


def shuts(made, up):
    """Liquid in the leg shuts the bend before it can run over into the room, as in the trap of a sink: a fill by it leaves more
    than what a flood cannot reach."""
    return (made.joint[0, 1] @ up).min() > made.levels(up)[1]


def bends(count, vug):
    """A bore with a bend opens at its outer rim, by name and found alike, and what pockets trap, a fill leaves and stays
    in a drain upside down is as exact as of a straight one."""
    for seed in BENT:
        made = bent(seed)
        rim, axis = made.rims[0].mean(0), made.bores[0].row[3:]
        mesh = vug.Mesh.from_arrays(*made.mesh(rough=seed % 2 == 0))
        ways = [("named", mesh.cavities([[*rim, *axis]], detect=0))]
        ways += [("found", mesh.cavities())] if seed in BENT_FOUND else []
        for name, cavities in ways:
            where = f"bend {seed}, {name}"
            off = np.linalg.norm(np.array(cavities.opening(0).center_mm) - rim)
            count.check(cavities.opening_count == 1 and off < 0.02, where,
                        f"{cavities.opening_count} openings, {off:.3f} mm from the rim's middle")
            for up in convex.poses(seed, 4):
                (trapped if shuts(made, up) else pose)(count, where, made, cavities, up, 140)
                if np.ptp(made.levels(up)) < 1e-9:
                    above(count, where, made, cavities, up)


TAPERS = ((1.2, 2.4), (2.4, 1.2), (1.6, 1.9), (3.0, 0.8))  # radius 12 mm below the skin's middle, and 6 mm above it


def taper(narrow, wide):
    bore = prism((15, 1, 0), (1, 0.2, 0.1), wide, 6, deep=12, narrow=narrow)
    return convex.Made([box(10, 10, 8)], [bore], box(15, 15, 13))


def tapers(count, vug):
    """Conical bores, wider outward or inward: a fill and a drain go by both of their ends."""
    for narrow, wide in TAPERS:
        made = taper(narrow, wide)
        cavities = vug.Mesh.from_arrays(*made.mesh()).cavities([[*made.rims[0].mean(0), *made.bores[0].row[3:]]], detect=0)
        for up in np.concatenate([np.eye(3), convex.poses(3, 3)]):
            pose(count, f"taper from {narrow} to {wide} mm, up {np.round(up, 2)}", made, cavities, up, 140)


def tall(count, vug):
    """A part 400 mm high and 30 mm wide with bores that are planned: columns tell its pockets, as many across its width
    as a fill takes, and of a small pocket no less than of the whole."""
    hollow, body = [box(13, 13, 198)], box(15, 15, 200)
    bores = [prism((15, 0, -190), (1, 0, 0), 1.5, 3, deep=6), prism((15, 2, 185), (1, 0.2, 0.3), 1.5, 4, deep=6)]
    made = convex.Made(hollow, bores, body)
    cavities = vug.Mesh.from_arrays(*convex.Made(hollow, [], body).mesh()).cavities(
        [bore.row for bore in bores], detect=0)
    for up in ((0.1, 0.2, 1), (0.3, -0.8, 0.5), (1, 0, 0.05)):
        up, where = np.array(up) / np.linalg.norm(up), f"tall part, up {up}"
        totals, want = cavities.pockets(up).totals(), made.trapped(up)
        got = totals.trapped_mm3
        count.add("trapped", where, got, totals.trapped_error_mm3, want, made.capacity)
        agree(count, where, made, cavities, up, totals, 0)
        count.check(abs(got - want) <= 0.05 * want, where, f"pockets of {got:.5g} mm3, made are {want:.5g}")


def steep(count, vug):
    """A bore that leads 60 degrees down and out of a box, from each of its four walls: liquid runs over the top of its rim,
    which is there, not in a corner of the box."""
    for way in ((1, 0), (-1, 0), (0, 1), (0, -1)):
        out = np.array([*way, 0.0])
        bore = prism(10 * out + [0, 0, 4], 0.5 * out - [0, 0, 3 ** 0.5 / 2], 1.5, 30, deep=4)
        made = convex.Made([box(10, 10, 8)], [bore], box(15, 15, 13))
        cavities = vug.Mesh.from_arrays(*made.mesh()).cavities([[*made.rims[0].mean(0), *bore.row[3:]]], detect=0)
        up, rim = np.array([0, 0, 1.0]), made.rims[0].mean(0)
        pose(count, f"steep towards {way}", made, cavities, up, 100)
        sills = [e for e in cavities.fill(up, columns_across=100).events()
                 if e.kind in (vug.EVENT_SILL, vug.EVENT_MERGE)]
        off = [np.linalg.norm(np.array(e.point_mm) - rim) for e in sills]
        count.check(sills and max(off) < 4, f"steep towards {way}", f"sills {np.round(off, 1)} mm from its rim")


APART = {0: 4.2, 1: 4.2, 5: 4.2, 9: 4.2, 10: 4.2, 14: 4.2}  # seed: how far aside the third bore is, mm


def three_bores(count, vug):
    """Two bores with one rim, and a third beside them with a rim of its own, so near that all three might have one: two
    openings, in whatever order they are named."""
    for seed, aside in APART.items():
        two, rows = crossing_bores(seed)
        rim = np.concatenate(two.rims)
        side = 1 if rim[:, 1].mean() < 0 else -1
        third = prism((15, rim[:, 1].mean() + side * aside, rim[:, 2].mean()), (1, 0, 0), 0.8, 6, deep=8)
        made = convex.Made([box(10, 10, 8)], [*two.bores, third], box(15, 15, 13))
        rows = [*rows, third.row]
        mesh = vug.Mesh.from_arrays(*made.mesh())
        for order in ((0, 1, 2), (2, 0, 1), (0, 2, 1), (1, 2, 0)):
            cavities = mesh.cavities([rows[k] for k in order], detect=0)
            where = f"three bores {seed}, named {order}"
            count.check(cavities.opening_count == 2, where, f"{cavities.opening_count} openings")
            trapped(count, where, made, cavities, convex.poses(seed, 1)[0], 100)


NAMED = {76: 2, 92: 2, 336: 2}  # part: openings
SLIVERS = {17: 30, 26: 30, 37: 30, 38: 30, 41: 30}  # part: facets of its balls; rims over edges of a skin in slivers


def named(count, vug):
    """Random parts with two bores that leave by one rim over several faces of the skin, one of which hardly looks out of the
    other (92), and with a bore so oblique that no section across it is closed (336)."""
    for seed, number in NAMED.items():
        made = convex.make(seed)
        mesh = vug.Mesh.from_arrays(*made.mesh(rough=seed % 2 == 0))
        cavities = mesh.cavities([bore.row for bore in made.bores], detect=0)
        count.check(cavities.opening_count == number, f"part {seed}", f"{cavities.opening_count} openings")
        trapped(count, f"part {seed}", made, cavities, convex.poses(seed, 1)[0], 140)


def joined(lean, radius, bores=None):
    """Two rooms, of 10 x 16 x 14 and 10 x 14 x 12 mm, joined by a bore through a wall of 3 mm between them; each has an opening
    of its own, if no others are given. lean: how far along y and z the bore goes over each mm along x."""
    rooms = [between((-11.5, -8, -7), (-1.5, 8, 7)), between((1.5, -7, -6), (11.5, 7, 6))]
    axis = np.array([1, *lean])
    half = (2.2 + 2.5 * radius * np.hypot(*lean)) * np.linalg.norm(axis)
    rooms.append(prism((0, 0, 0), axis, radius, half, deep=half))
    bores = bores or [prism((-15.5, 1, 2), (-1, 0.1, 0.3), 1.2, 4, deep=6),
                      prism((15.5, -1, -1.5), (1, -0.2, 0.2), 1.2, 4, deep=6)]
    return convex.Made(rooms, bores, between((-15.5, -12, -11), (15.5, 12, 11)))


JOINED = {  # lean, radius of the bore: poses in which a drain once left 4 to 366 mm3 too little or too much
    ((0, 0), 2.5): [1], ((0, 0), 1.5): [6, 7, 8], ((0.3, 0.5), 2.5): [1, 6], ((0.3, 0.5), 1.5): [6, 8],
    ((-0.6, -0.4), 2.5): [1, 3], ((0, 1), 2.5): [6],
}


def joined_rooms(count, vug):
    """Two rooms joined by a bore: what passes it is the same upside down. By hand, upright, with an opening in the roof of the
    second alone: the first traps what is above the bore's top, 10 * 16 * (7 - 2.5) mm3 = 720 mm3."""
    made, up = joined((0, 0), 2.5, [prism((6, 1, 11), (0, 0, 1), 1.2, 4, deep=6)]), np.array([0, 0, 1.0])
    count.check(abs(made.trapped(up) - 720) < 1e-6, "rooms", f"they trap {made.trapped(up)} mm3, by hand 720")
    pose(count, "rooms, upright", made, vug.Mesh.from_arrays(*made.mesh()).cavities(), up, 140)
    for (lean, radius), numbers in JOINED.items():
        made = joined(lean, radius)
        cavities = vug.Mesh.from_arrays(*made.mesh()).cavities()
        ups = np.concatenate([-np.eye(3), convex.poses(int(10 * radius), 6)])
        for number in numbers:
            for columns in (60, 100, 140):
                where = f"rooms joined by {radius} mm, {lean}, pose {number}, {columns} columns"
                pose(count, where, made, cavities, ups[number], columns)


TRAPS = {((0.3, 0.5), 0.4): [2], ((1, 0), 0.4): [1], ((0, 1), 0.4): [2], ((0, -1), 0.4): [8], ((1, 0), 0.8): [1],
         ((0, 1), 0.8): [2, 4]}  # lean, radius of the bore: poses of joined_rooms()
OFF = 0.005  # of the capacity: the height of a sill of a few columns


def trap_of_a_sink(made, up, inlet):
    """Air left by a fill through the opening of one of two rooms, by hand. The bore between them is so thin and steep that its
    lower mouth is under before anything runs over into the upper room: s, the lip of its upper mouth, is above c, the top of
    its lower. From then on each room has its own opening alone. Liquid that comes from below stands in the bore up to s;
    what runs down it from above shuts air in it over c, unless the upper room's own opening, own[high], lets that out."""
    (lip_a, top_a), (lip_b, top_b) = (((made.joint[room, 2] @ up).min(), (made.joint[room, 2] @ up).max())
                                        for room in (0, 1))
    rims = [(rim @ up).max() for rim in made.rims]
    ends = [(made.joint[room, 3 + room] @ up).max() for room in (0, 1)]
    own, s, c = np.minimum(rims, ends), max(lip_a, lip_b), min(top_a, top_b)
    assert s > c
    low = 0 if top_a < top_b else 1
    high, level = 1 - low, np.empty(5)
    if inlet == low:
        level[low], level[high] = max(own[low], c), own[high]
        level[2] = max(own[high], s)
    else:
        level[low], level[high] = max(own[low], c if own[high] > s else -np.inf), max(own[high], s)
        level[2] = own[high] if own[high] > s else c
    for room in (0, 1):
        level[3 + room] = max(rims[room], min(level[room], ends[room]))
    return made.above(up, level)


def traps(count, vug):
    """Two rooms joined by a thin steep bore: what is let in by either, and a drain upside down, in which air comes by the
    opening that is highest then, end as by hand, where the bore shuts before it runs over."""
    for (lean, radius), numbers in TRAPS.items():
        made = joined(lean, radius)
        cavities = vug.Mesh.from_arrays(*made.mesh()).cavities()
        room = [0 if cavities.opening(k).center_mm[0] < 0 else 1 for k in range(2)]
        ups = np.concatenate([-np.eye(3), convex.poses(int(10 * radius), 6)])
        for up in ups[numbers]:
            where = f"trap of {radius} mm, {lean}, up {up}"
            lowest = int(np.argmin([(rim @ up).min() for rim in made.rims]))
            left = cavities.drain([-x for x in up], columns_across=140).info.liquid_mm3
            told = [("drain", left, lowest)]
            for k in range(2):
                roles = [vug.ROLE_INLET if i == k else vug.ROLE_OPEN for i in range(2)]
                fill = cavities.fill(up, roles, columns_across=140).info
                told.append((f"fill by {'AB'[room[k]]}", fill.capacity_mm3 - fill.liquid_mm3, room[k]))
            for what, got, inlet in told:
                want = trap_of_a_sink(made, up, inlet)
                count.check(abs(got - want) < OFF * made.capacity, where,
                            f"{what}: {got:.5g} mm3, by hand {want:.5g}")


BALANCED = {(174, 0): (100, 140), (240, 0): (140, 280), (170, 1): (60, 280)}  # seed, pose: columns


def balanced(count, vug):
    """Drains whose flows once came to no balance: a dome gave liquid before its turn, drop by drop; a full hollow under a dry
    place lay below all heads that were looked at; surfaces 0.1 micrometres apart gave to each other in steps that
    stayed short."""
    for (seed, number), columns in BALANCED.items():
        made = convex.make(seed)
        cavities = vug.Mesh.from_arrays(*made.mesh(rough=True)).cavities([b.row for b in made.bores], detect=0)
        for across in columns:
            where, up = f"part {seed}, pose {number}, {across} columns", convex.poses(seed, 3)[number]
            pose(count, where, made, cavities, up, across)


def slivers(count, vug):
    """A skin that is cut up into slivers, whose normals rounding turns any way, is the skin that it was: caps over its edges are
    exact."""
    for seed, facets in SLIVERS.items():
        made = convex.make(seed, facets)
        cavities = vug.Mesh.from_arrays(*made.mesh(rough=True)).cavities(
            [bore.row for bore in made.bores], detect=0)
        trapped(count, f"part {seed} in slivers", made, cavities, convex.poses(seed, 1)[0], 100)


def sealed(count, seed, vug, facets=30, columns=140):
    """One bore is open, the others are sealed, each in turn: sills lie behind them."""
    made = convex.make(seed, facets)
    mesh = vug.Mesh.from_arrays(*made.mesh())
    cavities = mesh.cavities([bore.row for bore in made.bores], detect=0)
    number = [min(range(len(made.bores)),
                  key=lambda b: np.linalg.norm(np.array(o.center_mm) - made.bores[b].row[:3]))
              for o in cavities.openings()]
    for free in range(len(made.bores)):
        closed = [b for b in range(len(made.bores)) if b != free]
        roles = [vug.ROLE_OPEN if b == free else vug.ROLE_SEALED for b in number]
        for up in convex.poses(seed, 2):
            where, want = f"part {seed}, only bore {free} open", made.trapped(up, closed)
            fill = cavities.fill(up, roles, rigid_air=1, columns_across=columns).info
            drain = cavities.drain([-x for x in up], roles, columns_across=columns).info
            count.add("fill", where, fill.capacity_mm3 - fill.liquid_mm3, fill.trapped_error_mm3, want, made.capacity)
            count.add("residue", where, drain.liquid_mm3, drain.liquid_error_mm3, want, made.capacity)


def rims(count, seed, vug, facets=30):
    """In a mesh that is cut to pieces the rim of a bore still goes along the bore: no point of it is farther from the
    axis than the corners of the prism are."""
    made = convex.make(seed, facets)
    mesh = vug.Mesh.from_arrays(*made.mesh(rough=True))
    cavities = mesh.cavities([bore.row for bore in made.bores], detect=0)
    outlines = [np.array(cavities.outline(k)).reshape(-1, 3) for k in range(cavities.opening_count)]
    for number, bore in enumerate(made.bores):
        middle, axis, radius = np.array(bore.row[:3]), np.array(bore.row[3:6]), bore.row[6] / 2
        away = [np.linalg.norm(np.cross(ring - middle, axis), axis=1).max() for ring in outlines]
        count.check(min(away) <= radius * (1 + 1e-9), f"part {seed} bore {number}",
                    f"its rim goes {min(away):.4g} mm from the axis, the bore {radius:.4g}")

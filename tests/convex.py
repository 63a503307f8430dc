# SPDX-License-Identifier: MIT
"""Parts made of convex pieces, and what they hold, exactly.

A hollow is the union of convex polyhedra (boxes, balls, capsules, cones, cylinders), its bores are
prisms, and all of it lies in a convex body. Two straight lines are all the theory: within a convex piece
air gets from any point to any other without going below the lower of the two, so what limits it
between two pieces is the highest point of what they share. The level down to which air leaves a piece
is then the widest path (max-min) over a graph with a node for each piece, and the air trapped is
the volume above those levels, by the divergence theorem over the faces of the union. No grid, no columns:
nothing in common with the library, and exact to rounding, for the very mesh that it is given."""
import numpy as np
from scipy.optimize import linprog
from scipy.spatial import ConvexHull, HalfspaceIntersection, QhullError, cKDTree

NEAR = 1e-9


class Piece:
    """A convex polyhedron: polygons counter-clockwise seen from outside, and its planes n . x <= c."""

    def __init__(self, polygons, normals, offsets):
        self.polygons, self.n, self.c = polygons, normals, offsets
        corners = np.concatenate(polygons)
        self.lo, self.hi = corners.min(0), corners.max(0)
        self.corners = corners

    def go_round(self, axis):
        """Puts the faces in order around an axis: what is cut out of a plane then has no corners but its own."""
        x = np.cross(axis, self.n[int(np.argmin(abs(self.n @ axis)))])
        x /= np.linalg.norm(x)
        ends = abs(self.n @ axis) > 0.5
        order = np.lexsort([np.arctan2(self.n @ np.cross(axis, x), self.n @ x), ends])
        self.polygons = [self.polygons[k] for k in order]
        self.n, self.c = self.n[order], self.c[order]

    def mixed(self):
        """The same with its faces out of order: what is cut out of a plane goes to pieces."""
        order = np.argsort(np.arange(len(self.n)) * 0.618 % 1)
        return Piece([self.polygons[k] for k in order], self.n[order], self.c[order])

    def holds(self, points):
        return (points @ self.n.T <= self.c).all(-1)


def hull(points):
    h = ConvexHull(points)
    keys = {}
    for simplex, plane in zip(h.simplices, h.equations):
        keys.setdefault(tuple(np.round(plane, 7)), []).append((simplex, plane))
    polygons, normals, offsets = [], [], []
    for rows in keys.values():
        n, c = rows[0][1][:3], -rows[0][1][3]
        corners = points[np.unique(np.concatenate([r[0] for r in rows]))]
        polygons.append(ordered(corners, n))
        normals.append(n)
        offsets.append(c)
    return Piece(polygons, np.array(normals), np.array(offsets))


def ordered(corners, n):
    x = np.cross(n, [0.36, 0.48, 0.8] if abs(n[0]) < 0.9 else [0, 1, 0])
    x /= np.linalg.norm(x)
    away = corners - corners.mean(0)
    return corners[np.argsort(np.arctan2(away @ np.cross(n, x), away @ x))]


def cut(polygon, n, c):
    """Both sides of a plane: (n . x <= c, the rest), None for what there is nothing of."""
    d = polygon @ n - c
    if (d <= NEAR).all():
        return polygon, None
    if (d >= -NEAR).all():
        return None, polygon
    low, high = [], []
    for k, p in enumerate(polygon):
        e, q, f = d[k], polygon[k - 1], d[k - 1]
        if (e > NEAR and f < -NEAR) or (e < -NEAR and f > NEAR):
            x = q + f / (f - e) * (p - q)
            low.append(x)
            high.append(x)
        if e <= NEAR:
            low.append(p)
        if e >= -NEAR:
            high.append(p)
    return (np.array(low) if len(low) > 2 else None), (np.array(high) if len(high) > 2 else None)


def inside(polygon, piece):
    for n, c in zip(piece.n, piece.c):
        polygon, _ = cut(polygon, n, c)
        if polygon is None:
            return None
    return polygon


def outside(polygon, piece, rough=False, flush=False):
    """What of a polygon is not in a piece, as convex polygons. rough: in pieces too if it only passes by. flush: what lies in
    a face of the piece is in it."""
    if (polygon.max(0) < piece.lo).any() or (polygon.min(0) > piece.hi).any():
        return [polygon]
    d = polygon @ piece.n.T - piece.c
    beyond = (d >= -NEAR).all(0)
    if (beyond & ~(flush & (d <= NEAR).all(0))).any():
        return [polygon]
    kept = []
    rest = polygon
    for k in np.flatnonzero((d > NEAR).any(0)):
        rest, out = cut(rest, piece.n[k], piece.c[k])
        if out is not None:
            kept.append(out)
        if rest is None:
            return kept if rough else [polygon]  # it passes by: whole, not in pieces
    return kept


def skin(pieces, rough=False):
    """The polygons that bound the union of pieces. What two have in one plane, as bores that leave through one face of the
    body do, is there once."""
    polygons = []
    for i, piece in enumerate(pieces):
        for polygon in piece.polygons:
            rest = [polygon]
            for k, other in enumerate(pieces):
                if k != i:
                    rest = [part for p in rest for part in outside(p, other, rough, flush=k < i)]
            polygons += rest
    return polygons


def fans(polygons):
    return np.concatenate([np.stack([np.repeat(p[:1], len(p) - 2, 0), p[1:-1], p[2:]], 1)
                           for p in polygons])


def volume_above(triangles, up, level):
    """Of what closed triangles bound: the integral of (z - level) n_z over what lies above level."""
    z = triangles @ up - level
    twice = np.cross(triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0]) @ up
    z = np.sort(z, 1)
    a, b, c = z.T
    with np.errstate(divide="ignore", invalid="ignore"):
        # Mean over the triangle of max(z, 0), by how many corners are above.
        one = c ** 3 / (3 * (c - a) * (c - b))
        two = (a + b + c) / 3 - a ** 3 / (3 * (a - b) * (a - c))
    mean = np.where(a >= 0, (a + b + c) / 3, np.where(b >= 0, two, np.where(c > 0, one, 0.0)))
    return float((0.5 * twice * mean).sum())


def shared(a, b):
    """Corners of what two pieces share, or None."""
    n, c = np.concatenate([a.n, b.n]), np.concatenate([a.c, b.c])
    if (a.hi < b.lo).any() or (b.hi < a.lo).any():
        return None
    found = linprog([0, 0, 0, -1], np.column_stack([n, np.ones(len(n))]), c,
                    bounds=[(None, None)] * 3 + [(None, None)])
    if found.status != 0 or found.x[3] < 1e-6:
        return None
    try:
        return HalfspaceIntersection(np.column_stack([n, -c]), found.x[:3]).intersections
    except QhullError:
        return None


class Made:
    """pieces of a hollow, bores (pieces that reach out of the body), a convex body around."""

    def __init__(self, pieces, bores, body):
        self.bores, self.body = bores, body
        self.rims, ducts = [], []
        for bore in bores:
            faces = [inside(p, body) for p in bore.polygons]
            ends = [q for q in (inside(p, bore) for p in body.polygons) if q is not None]
            ducts.append(Piece([f for f in faces if f is not None] + ends,
                               np.concatenate([bore.n, body.n]), np.concatenate([bore.c, body.c])))
            self.rims.append(np.concatenate(ends))
        self.hollow, self.pieces = pieces, pieces + ducts
        self.first_bore = len(pieces)
        self.joint = {}
        for i in range(len(self.pieces)):
            for k in range(i):
                corners = shared(self.pieces[i], self.pieces[k])
                if corners is not None:
                    self.joint[i, k] = self.joint[k, i] = corners
        self.skins = {}
        self.capacity = volume_above(self.union(range(len(self.pieces))), np.array([0, 0, 1.0]),
                                     min(p.lo[2] for p in self.pieces) - 1)

    def union(self, which):
        key = frozenset(which)
        if key not in self.skins:
            self.skins[key] = fans(skin([self.pieces[k] for k in sorted(key)]))
        return self.skins[key]

    def levels(self, up, sealed=()):
        """Of each piece: the level above which its air is trapped. sealed: numbers of bores."""
        level = np.full(len(self.pieces), -np.inf)
        for k, rim in enumerate(self.rims):
            if k not in sealed:
                level[self.first_bore + k] = (rim @ up).max()
        left = set(range(len(self.pieces)))
        while left:
            best = max(left, key=lambda k: level[k])
            left.remove(best)
            for k in left:
                if (best, k) in self.joint:
                    level[k] = max(level[k], min(level[best], (self.joint[best, k] @ up).max()))
        return level

    def trapped(self, up, sealed=()):
        return self.above(up, self.levels(up, sealed))

    def above(self, up, level):
        """Volume above a level for each piece."""
        total, done = 0.0, set()
        for z in sorted(set(level), reverse=True):
            here = set(np.flatnonzero(level == z))
            if max((self.pieces[k].corners @ up).max() for k in here) > z + 1e-12:
                total += volume_above(self.union(done | here), up, z)
                if done:
                    total -= volume_above(self.union(done), up, z)
            done |= here
        return total

    def mesh(self, rough=False):
        """The part as corners (n x 3) and triangles, closed. rough: cut up more than it needs, into slivers and
        triangles without area, as exports of solids are."""
        polygons = []
        bores = [bore.mixed() for bore in self.bores] if rough else self.bores
        for polygon in self.body.polygons:
            rest = [polygon]
            for bore in bores:
                rest = [part for p in rest for part in outside(p, bore, rough)]
            polygons += rest
        for polygon in skin(self.hollow + bores, rough):
            polygon = inside(polygon, self.body)
            if polygon is not None:
                polygons.append(polygon[::-1])
        return conforming(polygons, rough)


def conforming(polygons, rough=False):
    """Welds corners, and puts those that lie on another polygon's edge into it. Polygons are fans about their middle;
    rough: about a corner."""
    points = np.concatenate(polygons)
    tree = cKDTree(points)
    number = np.arange(len(points))
    for a, b in sorted(tree.query_pairs(1e-6)):
        number[b] = min(number[b], number[a])
    for k in range(len(number)):
        number[k] = number[number[k]]
    at = np.unique(number)
    tree = cKDTree(points[at])
    between = {}

    def along(i, k):
        if i > k:
            return along(k, i)[::-1]
        if (i, k) not in between:
            p, way = points[i], points[k] - points[i]
            length = np.linalg.norm(way)
            near = at[tree.query_ball_point(p + 0.5 * way, 0.5 * length + 1e-6)]
            away = points[near] - p
            t = away @ way / length ** 2
            on = (np.linalg.norm(away - t[:, None] * way, axis=1) < 2e-6) & (near != i) & (near != k)
            between[i, k] = list(near[on][np.argsort(t[on])])
        return between[i, k]

    corners, triangles, first = [p for p in points], [], 0
    for polygon in polygons:
        ring = [int(number[first + k]) for k in range(len(polygon))]
        first += len(polygon)
        ring = [v for k, v in enumerate(ring) if v != ring[k - 1]]
        if len(ring) < 3:
            continue
        whole = [w for k, v in enumerate(ring) for w in [v] + along(v, ring[(k + 1) % len(ring)])]
        if len(whole) == 3:
            triangles.append(whole)
            continue
        if rough:
            triangles += [[whole[0], whole[k], whole[k + 1]] for k in range(1, len(whole) - 1)]
            continue
        corners.append(points[whole].mean(0))
        triangles += [[v, whole[(k + 1) % len(whole)], len(corners) - 1]
                      for k, v in enumerate(whole)]
    used, triangles = np.unique(np.array(triangles), return_inverse=True)
    return np.array(corners)[used], triangles.reshape(-1, 3).astype(np.uint32)


# ---- making them ------------------------------------------------------------------------------


def turned(random):
    q, _ = np.linalg.qr(random.normal(size=(3, 3)))
    return q * np.sign(np.linalg.det(q))


def circle(angles):
    """Cosines and sines, short of the last digits: those differ from machine to machine, and of one that is off by a bit a seed
    makes another part."""
    return np.round(np.cos(angles), 9), np.round(np.sin(angles), 9)


def ring(sides, radius, z):
    c, s = circle(2 * np.pi * np.arange(sides) / sides)
    return np.column_stack([radius * c, radius * s, np.full(sides, z)])


def sphere(count, radius):
    z = 1 - (2 * np.arange(count) + 1) / count
    c, s = circle(np.pi * (3 - np.sqrt(5)) * np.arange(count))
    r = np.sqrt(1 - z * z)
    return radius * np.column_stack([r * c, r * s, z])


def shape(random, facets):
    """Corners of a random convex shape about the origin."""
    kind = random.choice(["box", "ball", "capsule", "cone", "tower"])
    if kind == "box":
        return np.array(np.meshgrid(*([-1, 1],) * 3)).reshape(3, -1).T * random.uniform(2.5, 9, 3)
    if kind == "tower":
        return (np.array(np.meshgrid(*([-1, 1],) * 3)).reshape(3, -1).T
                * [*random.uniform(1.2, 3, 2), random.uniform(5, 12)])
    if kind == "ball":
        return sphere(facets, random.uniform(3, 8))
    if kind == "capsule":
        r, half = random.uniform(1.5, 4), random.uniform(2, 8)
        ball = sphere(facets, r)
        return np.concatenate([ball + [0, 0, half], ball - [0, 0, half]])
    return np.concatenate([ring(24, random.uniform(2, 7), -random.uniform(3, 7)),
                           ring(24, random.uniform(0.5, 5), random.uniform(3, 7))])


def within(random, piece):
    """A random point of a piece."""
    weights = random.dirichlet(np.full(len(piece.corners), 0.5))
    return weights @ piece.corners


def bore_of(random, pieces, body, bores, sides=24):
    """A prism of so many sides from a random point of a piece out of the body, clear of the rest; or None."""
    start = int(random.integers(len(pieces)))
    p, axis = within(random, pieces[start]), random.normal(size=3)
    axis /= np.linalg.norm(axis)
    radius = random.uniform(0.8, 2.2)
    with np.errstate(divide="ignore"):
        steps = (body.c - body.n @ p) / (body.n @ axis)
    steps[body.n @ axis <= 0] = np.inf
    face = int(np.argmin(steps))
    length = steps[face]
    if body.n[face] @ axis < 0.5:
        return None
    x = np.cross(axis, body.n[int(np.argmin(abs(body.n @ axis)))])
    x /= np.linalg.norm(x)
    frame = np.array([x, np.cross(axis, x), axis])
    line = np.concatenate([ring(12, 1.3 * radius + 0.4, z)
                           for z in np.arange(0, length + 2 * radius, 0.4)]) @ frame + p
    own = pieces[start].holds(line)
    beyond = line[len(own) - np.argmax(own[::-1]):] if own.any() else line
    if any(other.holds(beyond).any() for k, other in enumerate(pieces) if k != start):
        return None
    if any(other.holds(line).any() for other in bores):
        return None
    bore = hull(np.concatenate([ring(sides, radius, 0), ring(sides, radius, length + 3 * radius)])
                @ frame + p)
    # All of its inner end lies in its piece: the wall of the bore ends in one room.
    if not pieces[start].holds(ring(24, radius, 0) @ frame + p).all():
        return None
    bore.go_round(axis)
    bore.row = [*(p + length * axis), *axis, 2 * radius]
    return bore


def make(seed, facets=60, sides=24):
    """A random part, with bores of so many sides. Every third one stands upright: its floors, walls and ceilings are those of
    boxes along x, y and z."""
    random = np.random.default_rng(seed)
    upright = seed % 3 == 0
    while True:
        pieces = []
        for k in range(int(random.integers(2, 6))):
            corners = shape(random, facets)
            if not upright:
                corners = corners @ turned(random)
            piece = hull(corners)
            if pieces:
                at = within(random, pieces[int(random.integers(len(pieces)))])
                piece = hull(corners + (at - 0.85 * within(random, piece)))
            pieces.append(piece)
        margin = random.uniform(1.5, 4)
        every = np.concatenate([p.corners for p in pieces])
        if random.random() < 0.5:
            body = hull(np.concatenate([every + margin * d for d in sphere(30, 1.3)]))
        else:
            lo, hi = every.min(0) - margin, every.max(0) + margin
            body = hull(np.array(np.meshgrid(*zip(lo, hi))).reshape(3, -1).T)
        bores, wanted = [], int(random.integers(1, 4))
        for _ in range(60):
            bore = bore_of(random, pieces, body, bores, sides)
            if bore is not None:
                bores.append(bore)
            if len(bores) == wanted:
                break
        if bores:
            return Made(pieces, bores, body)


def poses(seed, count=3):
    random = np.random.default_rng([seed, 1])
    ups = random.normal(size=(count, 3))
    if seed % 3 == 0:
        ups[0] = [0, 0, random.choice([-1, 1])]
    return ups / np.linalg.norm(ups, axis=1)[:, None]

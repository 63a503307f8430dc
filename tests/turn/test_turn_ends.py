#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""A part with two holes, turned at random and filled on through them under air that gives: each of it ends, keeps what
is inside, and takes as much as under air that does not give, but for what Boyle's law makes of the air under a column of
paint no higher than the part."""
import math
import random
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
import house

house.use_package()
import vug
import gourd
from hands import askew

report = house.Report()
check = report.check
AXES = [(0, 0, 1), (0, 0, -1), (1, 0, 0), (-1, 0, 0), (0, 1, 0), (0, -1, 0)]
BORE = (-9.2, -0.6, 25.8, -0.97, -0.14, 0.22, 1.0)  # by the waist
HIGH_MM, AIR_MM = 48.0, 101325.0 / (9.80665 * 1.2)  # of the part; of paint that the air outside bears


def turn_and_fill(cavities, paint, seed):
    """Four turns, with a fill after each."""
    chance = random.Random(seed)
    spacing = chance.choice([0.8, 0.8, 1.0, 1.5])
    now = None
    for k in range(5):
        up = askew(chance.choice(AXES), chance.choice([2, 5, 5, 30, 50]), chance)
        shut = k > 0 and chance.random() < 0.4
        inlet = chance.randrange(2)
        roles = [vug.ROLE_SEALED if k > 0 and (shut or (i != inlet and chance.random() < 0.3)) else vug.ROLE_OPEN
                 for i in range(2)]
        most = chance.choice([0, 0, (2000 if k else 9000) * chance.random() + 1])
        options = {"spacing_mm": spacing} | ({} if shut else {"inlet": inlet, "volume_mm3": most})
        try:
            gives, rigid = ((now.turn(cavities, up, roles, paint, rigid_air=r, **options) if now else
                             cavities.fill(up, roles, paint, rigid_air=r, **options)) for r in (0, 1))
        except vug.VugError as error:
            check(False, f"seed {seed}, turn {k}: {error}")
            return
        own, other = gives.info, rigid.info
        inside = own.liquid_mm3 + own.trapped_mm3 + own.empty_mm3
        check(abs(inside - own.capacity_mm3) < 1e-9 * own.capacity_mm3, f"seed {seed}, turn {k}: {inside} mm3 in all")
        yield_mm3 = (other.trapped_mm3 + other.empty_mm3) * HIGH_MM / AIR_MM
        more = own.liquid_mm3 - other.liquid_mm3
        check(-1e-6 <= more <= yield_mm3 + 1e-6, f"seed {seed}, turn {k}: {more} mm3 more, by Boyle up to {yield_mm3}")
        now = gives.at_time(math.inf)


with tempfile.TemporaryDirectory() as folder:
    file = Path(folder) / "gourd.stl"
    file.write_bytes(gourd.stl(gourd.part()))
    part = vug.Mesh.load(file).cavities([BORE])
    check(len(part.openings()) == 2, f"{len(part.openings())} openings")
    paint = vug.liquid("thinned-acrylic")
    for seed in (581, 612, 2524, *range(12)):  # the first three once never ended
        turn_and_fill(part, paint, seed)
report.end()

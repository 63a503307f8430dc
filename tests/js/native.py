# SPDX-License-Identifier: MIT
"""What the native library says of the gourd, as JSON: for the tests in node to compare with."""
import json
import os
import sys
from pathlib import Path

build = Path(os.environ["VUG_BUILDDIR"])
os.environ["VUG_LIBRARY"] = str(build / ".libs" / "libvug.so")
sys.path.insert(0, str(Path(os.environ["VUG_SRCDIR"]) / "bindings" / "python"))
import vug  # noqa: E402

SECOND = [[0.0, 16.0, 30.0, 0.0, 1.0, 0.0, 1.5]]  # a bore in the gourd's side that is not drilled yet
UPS = [[0, 0, 1], [0, 0, -1], [1, 0.25, -0.5], [-0.5, 1, 0]]
POINTS = [[0, 0, 10], [6, 3, 40], [-8, 0, 15], [100, 0, 0]]


def plain(record):
    return {k: list(v) if isinstance(v, tuple) else v for k, v in record.asdict().items()}


def arrays(record):
    return {k: [] if v is None else v for k, v in plain(record).items()}


def levels(of):
    """JSON knows no NaN: None."""
    return [None if level != level else level for level in of.levels(POINTS)]


mesh = vug.Mesh.load(Path(os.environ["VUG_SRCDIR"]) / "examples" / "gourd.stl")
cavities = mesh.cavities(SECOND)
skin = cavities.skin()
scan = cavities.scan(pose_count=60, columns_across=60)
fill = cavities.fill(UPS[2], columns_across=80)
viscous = cavities.fill(UPS[1], fluid=vug.Fluid(consistency_pa_sn=0.5), rate_mm3_s=200.0, viscous=1,
                        columns_across=40)
drain = cavities.drain(UPS[0], columns_across=80)
half = fill.at_volume(0.5 * fill.info.liquid_mm3)
skin.wet(fill)
craft = vug.liquid("craft acrylic")
plan = cavities.plan(columns_across=60, verify_across=80, pose_count=48)
json.dump({
    "second": SECOND, "ups": UPS, "points": POINTS,
    "measures": plain(mesh.measure()),
    "cavity": plain(cavities.info(0)),
    "openings": [plain(o) for o in cavities.openings()],
    "pockets": [[p.capacity_mm3, p.trapped_mm3, [plain(i) for i in p.infos()]]
                for p in (cavities.pockets(u, columns_across=90) for u in UPS)],
    "sealed": cavities.pockets(UPS[1], roles=[4, 0], columns_across=90).trapped_mm3,
    "scan": [list(scan.trapped_mm3), scan.best],
    "fill": plain(fill.info), "events": [plain(e) for e in fill.events()],
    "curve": fill.curve().tolist(),
    "viscous": plain(viscous.info),
    "drain": plain(drain.info),
    "levels": levels(half),
    "pocket_levels": [levels(cavities.pockets(u, columns_across=90)) for u in UPS],
    "half": plain(half.info), "pool": plain(half.pool(0)),
    "skin": plain(skin.info), "skin_triangles": skin.triangles().tolist(), "skin_spots": skin.spots().tolist(),
    "craft": plain(craft),
    "plan": plain(plan.info()), "steps": [arrays(s) for s in plan.steps()],
    "text": plan.text(),
}, sys.stdout)

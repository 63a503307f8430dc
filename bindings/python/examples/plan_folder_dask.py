#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Plans a folder of parts on a Dask cluster.

    plan_folder_dask.py FOLDER                     two workers on this machine
    plan_folder_dask.py FOLDER --workers 8         eight of them
    plan_folder_dask.py FOLDER --scheduler tcp://HOST:8786
    plan_folder_dask.py FOLDER --serial            without a cluster, for comparison

For each *.stl in FOLDER it finds the pose that traps the least air, what stays trapped in it,
and where to drill a vent for each pocket. If PART.json stands beside PART.stl, the "bores" in it
(center_mm, direction, diameter_mm) name its openings; otherwise they are looked for. Each part
becomes one line of JSON, written as soon as it is done. A part that cannot be planned gets a line
with its error, and the exit code is 1. A part whose worker dies is planned again by another.

The workers read the files themselves, so all machines must see FOLDER under the same name and have
the vug package. Drill and fill only parts that are washed, dry and fully cured; the liquids' and
the resin's data sheets come before any plan.
"""
from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path
from typing import Any, Dict, Iterable, Iterator, List, Optional, TextIO

import vug

Result = Dict[str, Any]


def named_holes(part: Path) -> Optional[List[List[float]]]:
    """The openings that PART.json names, as the library takes them."""
    beside = part.with_suffix(".json")
    if not beside.exists():
        return None
    bores = json.loads(beside.read_text())["bores"]
    return [[*b["center_mm"], *b["direction"], b["diameter_mm"]] for b in bores]


def plan(part: Path, poses: int, columns: int) -> Result:
    """The plan of one part. Raises if there is none."""
    with vug.Context(threads=1) as context:  # the cluster has a worker for each core
        mesh = vug.Mesh.load(part, context)
        cavities = mesh.cavities(named_holes(part), context)
        if cavities.opening_count == 0:
            raise vug.NotFoundError("no cavity with an opening", vug.ERR_NOT_FOUND)
        scan = cavities.scan(context=context, pose_count=poses, columns_across=columns)
        up = [float(x) for x in scan.ups[scan.best]]
        pockets = cavities.pockets(up, context=context)
        bores = []
        for index, pocket in enumerate(pockets.infos()):
            if pocket.volume_mm3 < 1e-3 * pockets.capacity_mm3:
                continue
            bore = pockets.bore(index, context)
            bores.append({"point_mm": list(bore.point_mm), "direction": list(bore.direction),
                          "depth_mm": bore.depth_mm, "frees_mm3": pocket.volume_mm3})
        return {"capacity_mm3": pockets.capacity_mm3, "trapped_mm3": pockets.trapped_mm3,
                "up": up, "bores": bores, "warnings": list(context.warnings)}


def plan_part(part: str, poses: int, columns: int) -> Result:
    """What a worker does: a plan, or what kept it from one. Never raises for a bad part."""
    result: Result = {"part": Path(part).name}
    try:
        result.update(plan(Path(part), poses, columns))
    except vug.VugError as error:
        result.update(error=error.message, status=vug.status_name(error.status))
    except (OSError, ValueError, KeyError, TypeError) as error:  # the .json beside it
        result.update(error=f"{type(error).__name__}: {error}")
    return result


def plan_serial(parts: Iterable[str], poses: int, columns: int) -> Iterator[Result]:
    """One after the other, in this process."""
    for part in parts:
        yield plan_part(part, poses, columns)


def plan_on(client: Any, parts: Iterable[str], poses: int, columns: int) -> Iterator[Result]:
    """On a cluster, in the order in which they get done. When a worker dies, the scheduler gives
    its parts, done but not fetched ones too, to another; a part that takes three workers with it
    gets an error."""
    from distributed import as_completed
    futures = {client.submit(plan_part, part, poses, columns, pure=False): part
               for part in parts}
    for future in as_completed(list(futures)):
        try:
            yield future.result()
        except Exception as error:  # KilledWorker, or a fault of ours in a worker
            yield {"part": Path(futures[future]).name, "error": f"{type(error).__name__}: {error}"}
        future.release()


def run(parts: List[str], args: argparse.Namespace, out: TextIO) -> int:
    """Writes a line for each part; returns how many had an error."""
    if args.serial:
        return write(plan_serial(parts, args.poses, args.columns), out)
    from distributed import Client, LocalCluster
    if args.scheduler:
        with Client(args.scheduler) as client:
            return write(plan_on(client, parts, args.poses, args.columns), out)
    with LocalCluster(n_workers=args.workers, threads_per_worker=1, dashboard_address=None) as \
            cluster, Client(cluster) as client:
        return write(plan_on(client, parts, args.poses, args.columns), out)


def write(results: Iterable[Result], out: TextIO) -> int:
    failed = 0
    for result in results:
        json.dump(result, out)
        out.write("\n")
        out.flush()
        if "error" in result:
            failed += 1
            print(f"{result['part']}: {result['error']}", file=sys.stderr)
    return failed


def main(arguments: Optional[List[str]] = None) -> int:
    parser = argparse.ArgumentParser(description="Plans a folder of parts on a Dask cluster.")
    parser.add_argument("folder", type=Path)
    parser.add_argument("--out", type=argparse.FileType("w"), default=sys.stdout,
                        help="write the lines there instead of standard output")
    parser.add_argument("--scheduler", help="address of a running scheduler")
    parser.add_argument("--workers", type=int, default=2, help="workers on this machine (2)")
    parser.add_argument("--serial", action="store_true", help="no cluster")
    parser.add_argument("--poses", type=int, default=1000, help="poses tried for each part (1000)")
    parser.add_argument("--columns", type=int, default=200, help="columns across (200)")
    args = parser.parse_args(arguments)
    parts = sorted(str(p.resolve()) for p in args.folder.glob("*.stl"))
    if not parts:
        parser.error(f"no *.stl in {args.folder}")
    return 1 if run(parts, args, args.out) else 0


if __name__ == "__main__":
    sys.exit(main())

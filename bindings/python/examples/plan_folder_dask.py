#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Plans a folder of parts on a Dask cluster.

    plan_folder_dask.py FOLDER                     two workers on this machine
    plan_folder_dask.py FOLDER --workers 8         eight of them
    plan_folder_dask.py FOLDER --scheduler tcp://HOST:8786
    plan_folder_dask.py FOLDER --serial            without a cluster, for comparison

Each mesh in FOLDER (STL, 3MF, OBJ, PLY, OFF) is planned as vug.plan() does it: how to hold and turn it,
where to drill, how much paint. If PART.json stands beside a part, the "bores" in it (center_mm, direction,
diameter_mm) name its openings; otherwise they are looked for, and a closed part gets its holes proposed. Written are
plans.csv, a row for each part, and plans.html, a page with the same table and each plan in words. A part
that cannot be planned has a row with its error, and the exit code is 1. A part whose worker dies is planned
again by another.

The workers read the files themselves, so all machines must see FOLDER under the same name and have
the vug package. Drill and fill only parts that are washed, dry and fully cured; the liquids' and
the resin's data sheets come before any plan.
"""
from __future__ import annotations

import argparse
import csv
import html
import io
import json
import os
import sys
from pathlib import Path
from typing import Any, Dict, Iterable, Iterator, List, Optional

import vug

Result = Dict[str, Any]
ENDINGS = {".stl", ".3mf", ".obj", ".ply", ".off"}
COLUMNS = ["part", "cavity_ml", "paint_ml", "poses", "new_holes", "air_percent", "error"]
PAGE = """<!DOCTYPE html>
<html lang="en"><meta charset="utf-8"><title>Plans</title>
<meta name="viewport" content="width=device-width">
<style>body {{ font: 1rem/1.5 sans-serif; max-width: 62rem; margin: 2rem auto; padding: 0 1rem }}
table {{ border-collapse: collapse }} th, td {{ padding: .2rem .8rem; text-align: right; border-top: 1px solid }}
th:first-child, td:first-child, td.error {{ text-align: left }} pre {{ white-space: pre-wrap }}</style>
<h1>Plans of {count} parts</h1>
<table><tr>{heads}</tr>
{rows}</table>
{plans}</html>
"""


def named_holes(part: Path) -> Optional[List[List[float]]]:
    """The openings that PART.json names, as the library takes them."""
    beside = part.with_suffix(".json")
    if not beside.exists():
        return None
    bores = json.loads(beside.read_text())["bores"]
    return [[*b["center_mm"], *b["direction"], b["diameter_mm"]] for b in bores]


def plan_part(part: str, options: Dict[str, Any]) -> Result:
    """What a worker does: a plan, or what kept it from one. Never raises for a bad part."""
    path = Path(part)
    result: Result = {"part": path.name}
    try:
        with vug.Context(threads=1) as context:  # the cluster has a worker for each core
            plan = vug.plan(path, holes=named_holes(path), context=context, **options)
            info = plan.info()
            result.update(cavity_ml=round(1e-3 * info.capacity_mm3, 2), paint_ml=round(info.paint_ml, 2),
                          poses=info.steps, new_holes=info.bores,
                          air_percent=round(100 * info.trapped_mm3 / info.capacity_mm3, 2),
                          words=plan.text())
    except vug.VugError as error:
        result.update(error=error.message, status=vug.status_name(error.status))
    except (OSError, ValueError, KeyError, TypeError) as error:  # the .json beside it
        result.update(error=f"{type(error).__name__}: {error}")
    return result


def plan_serial(parts: Iterable[str], options: Dict[str, Any]) -> Iterator[Result]:
    """One after the other, in this process."""
    for part in parts:
        yield plan_part(part, options)


def plan_on(client: Any, parts: Iterable[str], options: Dict[str, Any]) -> Iterator[Result]:
    """On a cluster, in the order in which they get done. When a worker dies, the scheduler gives
    its parts, done but not fetched ones too, to another; a part that takes three workers with it
    gets an error."""
    from distributed import as_completed
    futures = {client.submit(plan_part, part, options, pure=False): part for part in parts}
    for future in as_completed(list(futures)):
        try:
            yield future.result()
        except Exception as error:  # KilledWorker, or a fault of ours in a worker
            yield {"part": Path(futures[future]).name, "error": f"{type(error).__name__}: {error}"}
        future.release()


def results_of(parts: List[str], args: argparse.Namespace) -> Iterator[Result]:
    """The results, as they come."""
    options = {"limit": 0.01 * args.limit, "pose_count": args.poses}
    if args.serial:
        yield from plan_serial(parts, options)
        return
    from distributed import Client, LocalCluster
    if args.scheduler:
        with Client(args.scheduler) as client:
            yield from plan_on(client, parts, options)
        return
    with LocalCluster(n_workers=args.workers, threads_per_worker=1, dashboard_address=None) as \
            cluster, Client(cluster) as client:
        yield from plan_on(client, parts, options)


def table(results: List[Result]) -> str:
    """A row for each part, comma-separated (RFC 4180)."""
    out = io.StringIO()
    rows = csv.DictWriter(out, COLUMNS, extrasaction="ignore")
    rows.writeheader()
    rows.writerows(results)
    return out.getvalue()


def page(results: List[Result]) -> str:
    """The table, and each plan in words."""
    rows, plans = [], []
    for number, result in enumerate(results):
        cells = [html.escape(str(result.get(name, ""))) for name in COLUMNS]
        if "words" in result:
            cells[0] = f'<a href="#plan{number}">{cells[0]}</a>'
            plans.append(f'<h2 id="plan{number}">{html.escape(result["part"])}</h2>\n'
                         f'<pre>{html.escape(result["words"])}</pre>\n')
        rows.append("<tr>" + "".join(f"<td>{c}</td>" for c in cells[:-1]) + f'<td class="error">{cells[-1]}</td></tr>\n')
    heads = "".join(f"<th>{name.replace('_', ' ')}</th>" for name in COLUMNS)
    return PAGE.format(count=len(results), heads=heads, rows="".join(rows), plans="".join(plans))


def write_whole(path: Path, text: str) -> None:
    """The file is there as a whole, or as it was."""
    beside = path.with_name(f".{path.name}.{os.getpid()}")
    beside.write_text(text, encoding="utf-8", newline="")
    beside.replace(path)


def main(arguments: Optional[List[str]] = None) -> int:
    parser = argparse.ArgumentParser(description="Plans a folder of parts on a Dask cluster.")
    parser.add_argument("folder", type=Path)
    parser.add_argument("--out", type=Path, help="folder for plans.csv and plans.html (FOLDER)")
    parser.add_argument("--scheduler", help="address of a running scheduler")
    parser.add_argument("--workers", type=int, default=2, help="workers on this machine (2)")
    parser.add_argument("--serial", action="store_true", help="no cluster")
    parser.add_argument("--limit", type=float, default=0.5, help="percent of the cavity that may stay air (0.5)")
    parser.add_argument("--poses", type=int, default=96, help="poses to search among (96)")
    args = parser.parse_args(arguments)
    parts = sorted(str(p.resolve()) for p in args.folder.glob("*") if p.suffix.lower() in ENDINGS)
    if not parts:
        parser.error(f"no mesh in {args.folder}")
    results = []
    for result in results_of(parts, args):
        results.append(result)
        print(f"{len(results)} of {len(parts)}: {result['part']}: {result.get('error', 'planned')}", file=sys.stderr)
    results.sort(key=lambda result: str(result["part"]))
    out = args.out or args.folder
    write_whole(out / "plans.csv", table(results))
    write_whole(out / "plans.html", page(results))
    return 1 if any("error" in result for result in results) else 0


if __name__ == "__main__":
    sys.exit(main())

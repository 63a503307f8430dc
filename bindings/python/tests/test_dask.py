# SPDX-License-Identifier: MIT
"""A folder of parts on a local Dask cluster of two workers: the same as one after the other, a
bad file is told, nothing is lost when a worker is killed."""
import csv
import json
import math
import os
import signal
import sys
from pathlib import Path

import pytest

import round_box
import vug

distributed = pytest.importorskip("distributed")
pytest.importorskip("numpy")
sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "examples"))
import plan_folder_dask as example  # noqa: E402

OPTIONS = {"pose_count": 24, "columns_across": 60, "verify_across": 80}


@pytest.fixture
def folder(tmp_path):
    """Five bottles of different walls, one of them as 3MF, and one without a bore; one file is no mesh."""
    for i in range(5):
        wall = 2.0 + 0.4 * i
        round_box.lathe(
            tmp_path / f"bottle{i}.stl",
            [(0, 40 - wall), (15 - wall, 40 - wall), (15 - wall, wall), (2, wall), (2, 0), (15, 0),
             (15, 40), (0, 40)])
        (tmp_path / f"bottle{i}.json").write_text(json.dumps({"bores": [
            {"center_mm": [0, 0, 0], "direction": [0, 0, -1], "diameter_mm": 4}]}))
    vug.Mesh.load(tmp_path / "bottle4.stl").save(tmp_path / "bottle4.3MF", vug.FORMAT_3MF)
    (tmp_path / "bottle4.stl").unlink()
    round_box.lathe(tmp_path / "closed.STL", [(0, 37), (12, 37), (12, 3), (0, 3),
                                              (0, 0), (15, 0), (15, 40), (0, 40)])
    (tmp_path / "bad.stl").write_bytes(b"this is no mesh")
    return tmp_path


@pytest.fixture
def client(monkeypatch):
    path = os.pathsep.join([*sys.path, os.environ.get("PYTHONPATH", "")])
    monkeypatch.setenv("PYTHONPATH", path)  # the workers are new processes
    signal.alarm(400)  # workers that cannot start are awaited for ever
    with distributed.LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as \
            cluster, distributed.Client(cluster) as made:
        yield made
    signal.alarm(0)


def parts_of(folder):
    return sorted(str(p) for p in folder.glob("*") if p.suffix.lower() in example.ENDINGS)


def by_name(results):
    return {r["part"]: r for r in results}


def test_cluster_equals_serial_even_when_a_worker_is_killed(folder, client):
    parts = parts_of(folder)
    serial = by_name(example.plan_serial(parts, OPTIONS))
    assert len(serial) == 7
    good = [r for r in serial.values() if "error" not in r]
    assert len(good) == 6 and all(r["air_percent"] <= 0.5 for r in good)
    # Cylinders: pi r^2 h, less what 48 sides lack.
    side = 24 * math.sin(math.pi / 24)
    for i, name in enumerate(f"bottle{i}.stl" for i in range(4)):
        wall = 2.0 + 0.4 * i
        assert serial[name]["cavity_ml"] == pytest.approx(
            1e-3 * side * ((15 - wall)**2 * (40 - 2 * wall) + 4 * wall), rel=0.01)
    assert serial["closed.STL"]["new_holes"] >= 1 and serial["bottle0.stl"]["new_holes"] == 0
    assert serial["bad.stl"]["status"] == "VUG_ERR_FORMAT"

    assert by_name(example.plan_on(client, parts, OPTIONS)) == serial

    pids = client.run(os.getpid)
    assert len(pids) == 2 and os.getpid() not in pids.values()
    results, killed = [], None
    for result in example.plan_on(client, parts, OPTIONS):
        results.append(result)
        if killed is None:  # after the first result, with five or more still to come
            killed = next(iter(pids.values()))
            os.kill(killed, signal.SIGKILL)
    assert killed not in client.run(os.getpid).values()
    assert len(results) == len(parts)
    assert by_name(results) == serial


def test_program_writes_a_table_and_a_page(folder, capsys):
    code = example.main([str(folder), "--serial", "--poses", "12"])
    assert code == 1
    with open(folder / "plans.csv", newline="") as file:
        rows = list(csv.DictReader(file))
    assert [row["part"] for row in rows] == sorted(Path(p).name for p in parts_of(folder))
    assert sum(row["error"] != "" for row in rows) == 1
    page = (folder / "plans.html").read_text()
    assert page.count("<h2") == 6 and "bad.stl" in page and str(vug.plan(folder / "bottle0.stl", pose_count=12,
        holes=example.named_holes(folder / "bottle0.stl"))).splitlines()[0] in page
    assert "bad.stl" in capsys.readouterr().err
    with pytest.raises(SystemExit):
        example.main([str(folder / "nothing")])

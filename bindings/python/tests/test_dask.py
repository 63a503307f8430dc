# SPDX-License-Identifier: MIT
"""A folder of parts on a local Dask cluster of two workers: the same as one after the other, a
bad file is told, nothing is lost when a worker is killed."""
import json
import os
import signal
import sys
from pathlib import Path

import pytest

import test_man_programs

distributed = pytest.importorskip("distributed")
pytest.importorskip("numpy")
sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "examples"))
import plan_folder_dask as example  # noqa: E402

POSES, COLUMNS = 150, 60


@pytest.fixture
def folder(tmp_path):
    """Six bottles of different walls, and one file that is no mesh."""
    for i in range(6):
        wall = 2.0 + 0.4 * i
        test_man_programs.lathe(
            tmp_path / f"bottle{i}.stl",
            [(0, 40 - wall), (15 - wall, 40 - wall), (15 - wall, wall), (2, wall), (2, 0), (15, 0),
             (15, 40), (0, 40)])
        (tmp_path / f"bottle{i}.json").write_text(json.dumps({"bores": [
            {"center_mm": [0, 0, 0], "direction": [0, 0, -1], "diameter_mm": 4}]}))
    (tmp_path / "bad.stl").write_bytes(b"this is no mesh")
    return tmp_path


@pytest.fixture
def client(monkeypatch):
    path = os.pathsep.join([*sys.path, os.environ.get("PYTHONPATH", "")])
    monkeypatch.setenv("PYTHONPATH", path)  # the workers are new processes
    with distributed.LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as \
            cluster, distributed.Client(cluster) as made:
        yield made


def parts_of(folder):
    return sorted(str(p) for p in folder.glob("*.stl"))


def by_name(results):
    return {r["part"]: r for r in results}


def test_cluster_equals_serial_even_when_a_worker_is_killed(folder, client):
    parts = parts_of(folder)
    serial = by_name(example.plan_serial(parts, POSES, COLUMNS))
    assert len(serial) == 7
    good = [r for r in serial.values() if "error" not in r]
    assert len(good) == 6 and all(r["trapped_mm3"] < 0.05 * r["capacity_mm3"] for r in good)
    assert serial["bad.stl"]["status"] == "VUG_ERR_FORMAT"

    assert by_name(example.plan_on(client, parts, POSES, COLUMNS)) == serial

    pids = client.run(os.getpid)
    assert len(pids) == 2 and os.getpid() not in pids.values()
    results, killed = [], None
    for result in example.plan_on(client, parts, POSES, COLUMNS):
        results.append(result)
        if killed is None:  # after the first result, with five or more still to come
            killed = next(iter(pids.values()))
            os.kill(killed, signal.SIGKILL)
    assert killed not in client.run(os.getpid).values()
    assert len(results) == len(parts)
    assert by_name(results) == serial


def test_program_writes_lines_and_tells_the_bad_one(folder, capsys):
    out = folder / "plans.jsonl"
    code = example.main([str(folder), "--serial", "--out", str(out), "--poses", "20",
                         "--columns", "40"])
    assert code == 1
    lines = [json.loads(line) for line in out.read_text().splitlines()]
    assert len(lines) == 7 and sum("error" in line for line in lines) == 1
    assert "bad.stl" in capsys.readouterr().err
    with pytest.raises(SystemExit):
        example.main([str(folder / "nothing")])

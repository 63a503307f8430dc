# SPDX-License-Identifier: MIT
"""pip installs the folder offline, without a compiler; the copy works on its own."""
import importlib.util
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import vug

needs_pip = pytest.mark.skipif(
    any(importlib.util.find_spec(n) is None for n in ("pip", "setuptools", "wheel")),
    reason="pip, setuptools or wheel is not there")
FOLDER = Path(__file__).resolve().parents[1]


def test_a_library_of_windows_is_looked_for_where_installs_put_it(tmp_path, monkeypatch):
    monkeypatch.delenv("VUG_LIBRARY", raising=False)
    monkeypatch.setattr(sys, "prefix", str(tmp_path))
    for folder in ("bin", "Library/bin"):
        (tmp_path / folder).mkdir(parents=True)
        (tmp_path / folder / "libvug-1.dll").touch()
        assert str(tmp_path / folder / "libvug-1.dll") in list(vug._library._candidates())
        (tmp_path / folder / "libvug-1.dll").unlink()


@needs_pip
def test_pip_install_offline(tmp_path):
    source = tmp_path / "source"
    shutil.copytree(FOLDER, source, ignore=shutil.ignore_patterns("__pycache__", "*.egg-info"))
    for path in [source, *source.rglob("*")]:
        path.chmod(path.stat().st_mode | 0o200)
    done = subprocess.run(
        [sys.executable, "-m", "pip", "install", "-q", "--no-index", "--no-deps",
         "--no-build-isolation", "--target", str(tmp_path / "site"), str(source)],
        capture_output=True, text=True, env={**os.environ, "PIP_DISABLE_PIP_VERSION_CHECK": "1"})
    assert done.returncode == 0, done.stderr
    library = os.environ.get("VUG_LIBRARY", vug._raw.lib._name)
    done = subprocess.run(
        [sys.executable, "-c", "import vug; print(vug.__file__); print(vug.version())"],
        capture_output=True, text=True, cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(tmp_path / "site"), "VUG_LIBRARY": library})
    assert done.returncode == 0, done.stderr
    place, version = done.stdout.split()
    assert place.startswith(str(tmp_path)) and version == vug.__version__
    assert (tmp_path / "site" / "vug" / "py.typed").exists()


@needs_pip
def test_a_wheel_is_all_that_is_needed(tmp_path):
    build = os.environ.get("VUG_BUILDDIR", str(FOLDER.parents[1]))
    done = subprocess.run([FOLDER / "make_wheel", build, tmp_path / "dist"], capture_output=True, text=True,
                          env={**os.environ, "PYTHON3": sys.executable})
    assert done.returncode == 0, done.stderr
    wheel, = (tmp_path / "dist").glob("vug-*-py3-none-*.whl")
    subprocess.run([sys.executable, "-m", "venv", "--without-pip", tmp_path / "venv"], check=True)
    python = tmp_path / "venv" / "bin" / "python"
    site = subprocess.run([python, "-c", "import sysconfig; print(sysconfig.get_path('purelib'))"],
                          capture_output=True, text=True, check=True).stdout.strip()
    subprocess.run([sys.executable, "-m", "pip", "install", "-q", "--no-index", "--no-deps", "--target", site,
                    wheel], check=True, env={**os.environ, "PIP_DISABLE_PIP_VERSION_CHECK": "1"})
    clean = {name: value for name, value in os.environ.items()
             if name not in ("VUG_LIBRARY", "PYTHONPATH", "LD_LIBRARY_PATH")}
    done = subprocess.run([python, "-c", "import vug; print(vug._raw.lib._name); print(vug.version())"],
                          capture_output=True, text=True, cwd=tmp_path, env=clean)
    assert done.returncode == 0, done.stderr
    name, version = done.stdout.split()
    assert name.startswith(site) and version == vug.__version__


def test_versions_agree():
    """pyproject.toml, the package, the Debian changelog and the header say the same version."""
    text = (FOLDER / "pyproject.toml").read_text()
    header = (FOLDER.parents[1] / "include" / "vug.h").read_text()
    assert f'version = "{vug.__version__}"' in text
    changelog = (FOLDER.parents[1] / "debian" / "changelog").read_text()
    assert changelog.startswith(f"vug ({vug.__version__})")
    assert f'#define VUG_VERSION_STRING "{vug.__version__}"' in header

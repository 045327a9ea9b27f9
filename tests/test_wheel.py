"""The wheel holds all it needs: built, installed in a fresh environment, run on the demo from another folder."""

import os
import subprocess
import sys
import venv
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]


@pytest.mark.wheel
def test_wheel_runs_the_demo_from_another_folder(tmp_path):
    subprocess.run(
        [sys.executable, "-m", "build", "--wheel", "--outdir", tmp_path / "dist", ROOT],
        check=True,
        capture_output=True,
        timeout=600,
    )
    [wheel] = (tmp_path / "dist").glob("*.whl")
    venv.create(tmp_path / "env")
    scripts = tmp_path / "env" / ("Scripts" if os.name == "nt" else "bin")
    pip = [sys.executable, "-m", "pip", "--python", scripts / "python"]
    subprocess.run(
        [*pip, "install", "--quiet", "--no-compile", wheel], check=True, capture_output=True, timeout=600
    )
    away = tmp_path / "away"
    away.mkdir()
    clean = {k: v for k, v in os.environ.items() if not k.startswith("PYTHON")}

    def run(*words: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [scripts / "installcheck", *words],
            cwd=away,
            env=clean,
            capture_output=True,
            text=True,
            timeout=120,
        )

    checked = run("check", str(ROOT / "demo_aircraft" / "retrofit.yaml"))
    assert checked.returncode == 1, checked.stderr
    assert "THINGS TO PUT RIGHT" in checked.stdout
    drawn = run("draw", str(ROOT / "demo_aircraft" / "retrofit.yaml"), "--out", "retrofit.svg")
    assert drawn.returncode == 0, drawn.stderr
    assert {p.suffix for p in (away / "retrofit").iterdir()} == {".svg"}
    reported = run("report", str(ROOT / "demo_aircraft" / "retrofit.yaml"), "--out", "review.html")
    assert reported.returncode == 0, reported.stderr

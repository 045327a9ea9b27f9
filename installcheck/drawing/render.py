"""Run the renderer that comes as a wheel: same bytes on every platform, no system package."""

import shutil
import subprocess
import sysconfig
from functools import cache
from pathlib import Path

_TIMEOUT = 60.0  # a page takes well under a second


@cache
def renderer() -> str:
    """Path of the renderer: beside this Python first, then on the search path."""
    found = shutil.which("graphviz-pure", path=sysconfig.get_path("scripts")) or shutil.which("graphviz-pure")
    if found is None:
        raise FileNotFoundError("graphviz-pure is not installed; install it with: pip install graphviz-pure")
    return str(Path(found))


def render(dot: str, form: str, *, dots_per_inch: float = 72.0) -> bytes:
    """Render pinned DOT text as `svg` or `png`."""
    command = [renderer(), "-q", "-Kneato", "-n2", f"-T{form}", f"-Gdpi={dots_per_inch:g}"]
    done = subprocess.run(command, input=dot.encode(), capture_output=True, check=False, timeout=_TIMEOUT)
    if done.returncode or not done.stdout:
        raise RuntimeError(f"the renderer failed: {done.stderr.decode(errors='replace').strip()}")
    return done.stdout

"""Read an installation: files -> parts resolved -> typed model -> references checked. All problems at once."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from .document import Document
from .files import Files, Opener
from .parsing import read_file, read_source
from .reading import Reading
from .yaml_text import uncollected


def load(path: str | Path, part_folders: Sequence[str | Path] = ()) -> Document:
    """Read an installation from a YAML file.

    Args:
        path: the file; what it includes lies in its folder.
        part_folders: further folders in which the part files it names may lie.

    Raises:
        DocumentError: the file cannot be read as an installation; it holds every problem found, with its place.
    """
    file = Path(path)
    with uncollected():
        main = read_file(file, str(path))
        return Reading(Files(main, file.parent, [Path(f) for f in part_folders])).read()


def loads(
    text: str | bytes, name: str = "document", folder: Path | None = None, opener: Opener = read_file
) -> Document:
    """Read an installation from text, as if it stood in ``folder``; without one it can name no other files.

    Args:
        opener: opens the files it names.

    Raises:
        DocumentError: as :func:`load`.
    """
    with uncollected():
        main = read_source(text.encode(errors="surrogatepass") if isinstance(text, str) else text, name)
        return Reading(Files(main, folder, opener=opener)).read()

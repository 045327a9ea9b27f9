"""The command line: a thin layer over the functions of the package."""


def main() -> None:
    """Entry point of the ``installcheck`` command."""
    from .ending import guarded

    guarded(_command)


def _command() -> None:
    from .commands import app

    app()

"""Tables of the papers in the terminal: no line is folded, no text becomes markup."""

import io

from rich.console import Console

from installcheck.outputs.terminal.tables import print_table
from installcheck.papers import Table


def shown(table):
    stream = io.StringIO()
    print_table(table, Console(file=stream, width=40))
    return stream.getvalue()


def test_piped_lines_are_not_folded_and_headings_keep_their_units():
    table = Table(
        "parts list", ("part", "weight [lb]", "empty"), (("a part with a long name" * 4, 2.5, None),)
    )
    lines = shown(table).splitlines()
    assert lines[0] == "parts list"
    assert "weight [lb]" in lines[1]
    assert "empty" not in lines[1]
    assert lines[2].split()[-1] == "2.5"


def test_terminal_shows_text_as_it_is_written():
    out = shown(Table("list", ("id",), (("=1+1",), ("'quoted",), ("[bold]x[/bold]",))))
    assert out.split()[-3:] == ["=1+1", "'quoted", "[bold]x[/bold]"]

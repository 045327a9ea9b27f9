"""Text widths against the published Helvetica metrics and against the measure of a program that knows Arimo."""

import json
import shutil
import subprocess
import sysconfig

import pytest

from installcheck.drawing.text_width import printable, shorten, text_width, wrap


# Adobe Core 14 font metrics, Helvetica and Helvetica-Bold, field WX [1/1000 em].
@pytest.mark.parametrize(
    ("char", "regular", "bold"),
    [(" ", 278, 278), ("A", 667, 722), ("W", 944, 944), ("i", 222, 278), ("m", 833, 889), ("0", 556, 556)],
)
def test_widths_are_those_of_helvetica(char: str, regular: int, bold: int) -> None:
    assert text_width(char, 1000) == pytest.approx(regular, abs=1)
    assert text_width(char, 1000, bold=True) == pytest.approx(bold, abs=1)


@pytest.mark.parametrize(
    "text", ["W12  22 AWG  5 ft 6 in", "100-250 degF", "oil temperature, left", "P1/J1 (A) +"]
)
def test_widths_are_those_that_another_program_measures(text: str) -> None:
    dot = f'graph {{ a [label="{text}" shape=plain margin=0 fontname=Arimo fontsize=72 pos="0,0"] }}'
    program = shutil.which("graphviz-pure", path=sysconfig.get_path("scripts")) or "graphviz-pure"
    done = subprocess.run(
        [program, "-Kneato", "-n2", "-Tjson"], input=dot.encode(), capture_output=True, check=True
    )
    (node,) = json.loads(done.stdout)["objects"]
    assert float(node["width"]) * 72 == pytest.approx(text_width(text, 72), rel=0.001)


def test_a_letter_outside_the_table_takes_a_whole_em() -> None:
    assert text_width("漢", 10) == 10


def test_wrapped_lines_fit_and_lose_nothing() -> None:
    text = "resistance bulb nickel 90.38 ohm averyveryverylongsinglewordthatmustbecut end"
    lines = wrap(text, 7, 40)
    assert all(text_width(line, 7) <= 40 for line in lines)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")
    assert wrap("   ", 7, 40) == ()


def test_shortened_text_fits_and_says_so() -> None:
    assert shorten("short", 7, 100) == "short"
    cut = shorten("a long name that goes on and on", 7, 60)
    assert cut.endswith("…")
    assert text_width(cut, 7) <= 60


def test_control_and_direction_characters_are_not_drawn() -> None:
    assert printable("a\tb\n c\u00a0d") == "a b c d"
    assert printable("a\x00b\u202ec\x1b[31m") == "a\ufffdb\ufffdc\ufffd[31m"
    assert printable("°Ω é 漢") == "°Ω é 漢"

"""The review record: whole, escaped, linked both ways."""

import re
from dataclasses import replace
from functools import cache
from html import unescape
from html.parser import HTMLParser
from pathlib import Path

import pytest
from demo_causes import causes_of

from installcheck import check, load
from installcheck.causes.causes import find_causes
from installcheck.causes.danger import ENDANGERS, ORDER
from installcheck.document import loads
from installcheck.drawing.kinds import Paper
from installcheck.outputs.report.files import as_html
from installcheck.outputs.report.record import minute_summary, record
from installcheck.rules.verdicts import Outcome

DEMO = Path(__file__).parents[3] / "demo_aircraft"
HOSTILE = """<img src=x onerror=alert(1)><script>alert("x")</script>"""


class Page(HTMLParser):
    """Ids, inner links, sources and scripts of a page."""

    def __init__(self) -> None:
        super().__init__()
        self.ids: list[str] = []
        self.links: list[str] = []
        self.outside: list[str] = []
        self.scripts = 0

    def handle_starttag(self, tag, attrs):
        values = dict(attrs)
        if "id" in values:
            self.ids.append(values["id"])
        href = values.get("href") or values.get("xlink:href") or ""
        if href.startswith("#"):
            self.links.append(href[1:])
        elif href:
            self.outside.append(href)
        if "src" in values:
            self.outside.append(values["src"])
        self.scripts += tag == "script"


@pytest.fixture(scope="module")
def causes():
    return causes_of("retrofit")


@pytest.fixture(scope="module")
def told(causes):
    return record(causes.ledger, causes=causes)


@pytest.fixture(scope="module")
def made(causes, told):
    return causes.ledger, as_html(told)


@pytest.fixture(scope="module")
def page(made):
    parsed = Page()
    parsed.feed(made[1])
    return parsed


def test_needs_no_other_file(page):
    assert page.outside == []
    assert page.scripts == 1


def test_every_link_leads_somewhere_and_no_id_is_doubled(page):
    assert set(page.links) <= set(page.ids)
    assert len(page.ids) == len(set(page.ids))


def test_every_flag_leads_to_its_cause_or_verdict_and_every_verdict_to_its_sheet(made, page):
    """Flags beyond the third at one place are gathered as '+n'; their rows still name the sheet."""
    drawn = re.findall(r'href="#((?:cause|verdict)-\d+)"', made[1][made[1].index('<section id="sheets"') :])
    leads = {link for link in drawn if link.startswith("cause")}
    assert leads >= {f"cause-{n}" for n in range(1, 14)}
    assert {f"verdict-{n}" for n in range(1, 14)}.isdisjoint(leads)
    assert set(drawn) <= set(page.ids)
    rows = re.findall(r'<tr id="verdict-\d+(?:-\d+)?"(.*?)</tr>', made[1], re.DOTALL)
    asking = [v for v in made[0].verdicts if v.outcome is not Outcome.MEETS]
    assert len(rows) == len(asking)
    assert all('href="#sheet-' in row for row in rows)


def test_a_verdict_of_several_causes_stands_under_all_their_numbers(made):
    """The circuits of the exhaust gauge differ by T11 and by T12: they are matched once both are put right."""
    row = next(
        row
        for row in re.findall(r'<tr id="verdict-(.*?)</tr>', made[1], re.DOTALL)
        if 'data-rule="thermocouple-leads-matched"' in row
    )
    under = re.search(r'<td data-label="No." data-key="(\d+)">(\d+), (\d+)</td>', row)
    assert under
    assert under[1] == under[2]
    headings = dict(re.findall(r"<h3>(\d+)\. (T1[12]) ", made[1]))
    assert {headings[under[2]], headings[under[3]]} == {"T11", "T12"}


def test_every_cause_has_its_line_picture_cure_and_boxes(made, page):
    html = made[1]
    assert html.count('<article class="cause"') == 13  # the demo's 13 things to put right
    assert html.count('value="accept"') == html.count('value="refuse"') == 13 + 1  # and the change as a whole
    assert html.count("<b>Cure:</b>") == 13
    # a cause whose picture would be the one before it again says so
    assert html.count('<figure class="crop">') + html.count("Picture: as of ") == 13
    assert html.count('<figure class="crop">') >= 10
    first = html[: html.index('<section id="causes"')]
    assert "Quillane 4 engine instruments as found (before.yaml)" in first
    assert "New indicators: oil pressure gauge," in first
    # the lines under pressure of the aircraft as found, none of which the change keeps
    assert "Fluid lines taken out: oil line, oil panel line, fuel line" in first
    assert "Said to be removed: old oil line, old fuel line, old oil capillary, old pressure gauges." in first
    assert "13 things to put right" in first
    tally = re.search(
        r"<p>Fire, fuel: (\d+)\. Wire can burn: (\d+)\. False reading: (\d+)\. Other: (\d+)\.</p>", first
    )
    assert tally
    dangers = re.findall(r'data-label="Danger">([^<]*)<', first)
    words = ("fire, fuel", "wire can burn", "false reading", "other")
    assert [int(n) for n in tally.groups()] == [dangers.count(word) for word in words]
    assert "Signature" in first
    assert (
        html.index('<section id="causes"')
        < html.index('<section id="sheets"')
        < html.index('<details id="appendix"')
        < html.index('id="verdict-table"')
    )


@cache
def first_page(name, **aircraft):
    document = load(DEMO / name)
    model = document.installation
    changed = model.model_copy(update={"aircraft": model.aircraft.model_copy(update=aircraft)})
    html = as_html(record(check(replace(document, installation=changed))))
    return html[: html.index("<nav ")]


def test_the_whole_change_can_be_accepted_or_refused_even_where_nothing_is_wrong():
    for name in ("poor_ground_cured.yaml", "retrofit_corrected.yaml"):
        first = first_page(name)
        assert first.count('name="whole" value="accept"') == first.count('name="whole" value="refuse"') == 1
        assert 'id="save"' in first


def test_what_is_not_judged_has_boxes_of_its_own_and_many_questions_one_row_for_the_rest(made):
    first = made[1][: made[1].index("<nav ")]
    assert first.count('value="leave open"') == first.count('value="ask for"') == 1  # the sender's curve
    many = first_page("poor_ground.yaml")
    assert many.count('value="ask for"') == 4
    assert 'data-key="others"' in many
    assert 'value="ask for"' not in first_page("retrofit_corrected.yaml")  # nothing is open there


def test_registration_and_serial_number_are_shown_or_left_to_be_filled_in(made):
    stated = first_page("poor_ground_cured.yaml", registration="ZZ-QUI", serial="4-0117")
    assert "<dt>Registration</dt><dd>ZZ-QUI</dd>" in stated
    assert "<dt>Serial number</dt><dd>4-0117</dd>" in stated
    assert made[1][: made[1].index("<nav ")].count('<span class="blank">not stated</span>') == 2


def test_what_could_not_be_judged_names_what_it_is_of(made):
    section = made[1][made[1].index('<section id="missing"') :]
    assert "<td>oil bulb</td>" in section[: section.index("</section>")]


def test_what_is_wrong_is_told_in_a_line_on_the_first_page_and_in_full_below():
    causes = causes_of("before")
    html = as_html(record(causes.ledger, causes=causes))
    short = re.findall(r'<td data-label="What is wrong">(.*?)</td>', html)
    full = re.findall(r"<h3>\d+\. (.*?)</h3>", html)
    assert len(short) == len(full) == 17
    assert all(len(unescape(line)) <= 72 for line in short)
    assert all(whole.startswith(line.removesuffix(" ...")) for line, whole in zip(short, full, strict=True))
    assert any(line != whole for line, whole in zip(short, full, strict=True))


def test_a_record_for_letter_paper_prints_on_it(causes, made):
    page = re.compile(r"@page\{size:(\w+)")
    letter = as_html(record(made[0], Paper.LETTER, causes))
    assert page.findall(letter)[-1] == "letter"
    assert page.findall(made[1]) == ["A4"]
    assert "@page sheet{size:letter landscape" in letter


def test_every_cause_says_on_its_line_what_it_endangers_and_the_page_says_the_order(made):
    first = made[1][: made[1].index("<nav ")]
    told = re.findall(r'<td class="danger" data-label="Danger">(.*?)</td>', first)
    assert len(told) == 13
    assert set(told) <= set(ENDANGERS)
    assert ORDER in first


def test_the_first_page_counts_advisories_and_says_what_the_document_leaves_out(causes):
    told = list(first_lines("first_document.yaml"))
    assert "The document tells of a part of an aircraft only; what it leaves out was not judged." in told
    told = list(first_lines("twin.yaml"))
    assert told[0] == "No discrepancy was found by the rules listed under Coverage."
    assert any(" advisories besides" in line for line in told)
    assert not any("part of an aircraft" in line for line in minute_summary(causes.ledger, causes))


def first_lines(name):
    ledger = check(load(DEMO / name))
    return minute_summary(ledger, find_causes(ledger))


def test_carries_every_verdict_and_the_caution_once(made):
    ledger, html = made
    assert len(re.findall(r'<tr id="(?:verdict|met)-', html)) == len(ledger.verdicts)
    assert html.count('class="caution"') == 1


def test_text_of_the_document_is_escaped():
    text = (DEMO / "airframe.yaml").read_text(encoding="utf-8").replace("log: climb_survey.csv", "date: x", 1)
    text = text.replace("    date: 2026-04-18\n", "", 1)
    quoted = HOSTILE.replace("'", "''")
    document = loads(
        f"installation: {{name: '{quoted}', revision: '{quoted[:30]}', notes: ['{quoted}']}}\n" + text
    )
    html = as_html(record(check(document)))
    assert "<img src=x" not in html
    assert "<script>alert" not in html
    assert "&lt;script&gt;alert" in html


def test_an_indication_of_which_nothing_is_known_has_no_bar():
    text = "{bulb: {}}\nindicators: {gauge: {principle: ratio meter, terminals: [A]}}"
    document = loads(
        f"installation: {{name: x}}\nsenders: {text}\nwire_runs: {{W1: {{from: bulb.A, to: gauge.A}}}}"
    )
    made = record(check(document))
    assert made["budgets"] == []
    assert as_html(made)


def test_no_verdict_word_that_belongs_to_an_authority(made):
    words = re.findall(r"\b(airworthy|approved)\b", made[1].lower())
    allowed = (
        made[1].lower().count("not approved data")
        + made[1].lower().count("approved data in a deviation")
        + made[1].lower().count("its approved data")
    )
    assert "airworthy" not in words
    assert len(words) <= allowed + made[1].lower().count("from approved data")


def test_what_is_missing_names_what_it_is_missing_of(made, told):
    """A table cell that reads the mapping itself, not what stands in it, would tell of its methods and of an address."""
    text = made[1]
    assert "built-in method" not in text
    assert " object at 0x" not in text
    rows = told["missing"]
    assert rows
    assert all(f"<td>{row['datum']}</td>".replace("'", "&#39;") in text for row in rows)
    assert all(f"<td>{row['items']}</td>".replace("'", "&#39;") in text for row in rows)

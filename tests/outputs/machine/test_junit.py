from xml.etree import ElementTree as ET

from installcheck.outputs.machine.junit import as_junit


def root_of(*records):
    return ET.fromstring(as_junit(records))


def test_suite_counts(checked, unreadable):
    root = root_of(checked, unreadable)
    assert {k: root.get(k) for k in ("tests", "failures", "errors", "skipped")} == {
        "tests": "7",
        "failures": "2",
        "errors": "1",
        "skipped": "1",
    }
    suite, broken = root
    assert suite.get("name") == "my plane/retrofit.yaml"
    assert len(suite.findall("testcase")) == 6
    assert broken.find("testcase/error").get("message").startswith("'zonez' is not a section")


def test_outcomes(checked):
    cases = root_of(checked)[0].findall("testcase")
    assert [[child.tag for child in case] for case in cases] == [
        ["failure"],
        ["failure"],
        ["system-out"],
        ["skipped"],
        ["system-out"],
        [],
    ]
    assert cases[0].get("classname") == "run-marked"
    assert cases[0].get("line") == "10"
    assert "the rule says, not tried: add marks" in cases[0][0].text
    assert "limit 15 in" in cases[0][0].text
    assert "accepted by A. Inspector" in cases[4][0].text


def test_no_two_cases_share_a_name(checked):
    names = [case.get("name") for case in root_of(checked)[0].findall("testcase")]
    assert names[:2] == ["wire_runs.W1.mark_spacing", "wire_runs.W1.mark_spacing (2)"]
    assert len(set(names)) == len(names)


def test_text_of_the_document_stays_text(checked):
    failure = root_of(checked)[0].findall("testcase")[1][0]
    assert failure.get("message") == '"><script>alert(1)</script> \\x07 & ]]> \U0001f525'
    assert len(failure) == 0


def test_caution_is_told_once_a_suite(checked):
    text = as_junit([checked])
    assert text.count("not approved data") == 1

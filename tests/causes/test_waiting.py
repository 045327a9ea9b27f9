"""A cure is none the less one because what was wrong before waits then for what the document does not say."""

from __future__ import annotations

from installations import demo, read

from installcheck import check
from installcheck.causes.causes import find_causes
from installcheck.outputs.cause_words import cure_of
from installcheck.rules.verdicts import Outcome


def test_a_dirty_strap_is_cleaned_though_a_supply_is_of_no_known_kind() -> None:
    """With the strap at 25 milliohm the starter's current alone drops 120 A x 25 milliohm = 3 V in it: too much, whatever the
    limiter is. With it clean, what the limiter adds to the drop is not known.
    """
    plain = demo("poor_ground")
    plain["supplies"]["main limiter"]["kind"] = "unknown"
    found = find_causes(check(read(plain)))
    strap = next(cause for cause in found.causes if "engine strap" in cause.heading)
    assert strap.words.startswith("clean the joints of engine strap")
    assert all(verdict.outcome is Outcome.UNDETERMINED for verdict in strap.waits)
    assert "starter" in {verdict.at[0] for verdict in strap.waits}
    assert "cannot be judged without the kind of the supply" in cure_of(found, strap)
    # What waits was wrong at first, and is never counted as put right.
    for cause in found.causes:
        for verdict in cause.waits:
            assert any(v.rule == verdict.rule and v.at[:1] == verdict.at[:1] for v in cause.verdicts)
            assert any(
                v.rule == verdict.rule and v.at[:1] == verdict.at[:1] and v.outcome is Outcome.UNDETERMINED
                for v in found.after
            )

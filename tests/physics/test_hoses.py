import pytest

from installcheck.physics.hoses import (
    LEAST_SLACK,
    MOST_SLACK,
    hose_length,
    hose_slack,
    longest_under_pressure,
    mil_h_8794_hoses,
    shortest_under_pressure,
)

INCH = 0.0254
PSI = 6894.757293


# AC 43.13-1B table 9-3: dash, operating, burst and proof psi, bend radius in inch, hose bore in inch.
@pytest.mark.parametrize(
    ("dash", "operating", "burst", "proof", "bend", "bore"),
    [
        (3, 3000, 12000, 6000, 3.00, 1 / 8),
        (4, 3000, 12000, 6000, 3.00, 3 / 16),
        (8, 2000, 8000, 4000, 4.63, 13 / 32),
        (16, 800, 3200, 1600, 7.38, 7 / 8),
    ],
)
def test_hose_rating(
    dash: int, operating: float, burst: float, proof: float, bend: float, bore: float
) -> None:
    hose = mil_h_8794_hoses()[dash]
    assert hose.operating == pytest.approx(operating * PSI)
    assert hose.burst == pytest.approx(burst * PSI)
    assert hose.proof == pytest.approx(proof * PSI)
    assert hose.bend_radius == pytest.approx(bend * INCH)
    assert hose.bore == pytest.approx(bore * INCH)


def test_hose_temperatures() -> None:
    # -65 to +250 degF, and -40 to +275 degF from size 16 up.
    small, large = mil_h_8794_hoses()[4], mil_h_8794_hoses()[16]
    assert (small.lowest, small.highest) == pytest.approx((-53.889, 121.111), abs=1e-3)
    assert (large.lowest, large.highest) == pytest.approx((-40, 135))


def test_a_proof_pressure_that_does_not_fit_is_not_given() -> None:
    assert mil_h_8794_hoses()[40].proof is None
    assert mil_h_8794_hoses()[48].proof is None
    # Misprints show where burst, proof and operating pressure are out of order.
    for hose in mil_h_8794_hoses().values():
        assert hose.operating < hose.burst
        assert hose.proof is None or hose.operating < hose.proof < hose.burst


def test_five_percent_of_slack_outlasts_the_shrinking() -> None:
    assert shortest_under_pressure(hose_length(18.0, LEAST_SLACK)) > 18.0
    assert hose_slack(hose_length(18.0, MOST_SLACK), 18.0) == pytest.approx(0.08)
    assert hose_slack(17.0, 18.0) < 0
    # 20 x 1.02
    assert longest_under_pressure(20) == pytest.approx(20.4)


def test_impossible_hoses_are_refused() -> None:
    with pytest.raises(ValueError, match="slack"):
        hose_length(18, -0.01)
    with pytest.raises(ValueError, match="distance"):
        hose_slack(18, 0)

"""Recorder logs as recorders write them: layouts, traps, and bytes of any kind."""

import os
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from installcheck.logs.flight_log import FlightLog, LogError, parse_log, read_log

STEP = 6


def flown(rows: int = 240) -> list[dict[str, float]]:
    """A flight by formula, 24 minutes at a row each 6 s: heads in degF warm up, follow the power, and
    cool."""
    heads = [90.0, 90.0, 90.0, 90.0]
    made = []
    height = 1000.0
    for i in range(rows):
        minute = i * STEP / 60
        target, rpm, climb = (
            (280, 1000, 0)
            if minute < 4
            else (440, 2600, 600)
            if minute < 12
            else (370, 2400, 0)
            if minute < 20
            else (280, 1800, -700)
        )
        height += climb * STEP / 60
        for k in range(4):
            heads[k] += (target + 7 * k - heads[k]) * 0.05
        row = {
            "s": float(i * STEP),
            "alt": height,
            "oat": 70 - 3.5 * height / 1000,
            "ias": 0 if minute < 4 else 90,
            "rpm": rpm,
        }
        row |= {f"cht{k + 1}": heads[k] for k in range(4)}
        row |= {f"egt{k + 1}": 900 + 2.2 * target / 2 + 5 * k for k in range(4)}
        made.append(row)
    return made


FLOWN = flown()


def clock(seconds: float, start: int = 9 * 3600) -> str:
    s = start + int(seconds)
    return f"{s // 3600:02d}:{s // 60 % 60:02d}:{s % 60:02d}"


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) / 1.8


def heads_of(row: dict[str, float]) -> list[float]:
    return [row[f"cht{k}"] for k in range(1, 5)]


def exhausts_of(row: dict[str, float]) -> list[float]:
    return [row[f"egt{k}"] for k in range(1, 5)]


def plain(rows: list[dict[str, float]] = FLOWN) -> bytes:
    lines = [
        "Time (s),Press Alt (ft),OAT (deg F),IAS (kt),RPM," + ",".join(f"CHT{k} (deg F)" for k in range(1, 5))
    ]
    lines += [
        f"{r['s']:.0f},{r['alt']:.0f},{r['oat']:.1f},{r['ias']:.0f},{r['rpm']:.0f},"
        + ",".join(f"{t:.1f}" for t in heads_of(r))
        for r in rows
    ]
    return "\n".join(lines).encode()


def units_line_above() -> bytes:
    lines = [
        '#airframe="none", software="1"',
        "#yyyy-mm-dd, hh:mm:ss, hh:mm,  ft msl, deg C, kt, rpm, deg F, deg F, deg F, deg F, deg F, deg F, deg F, deg F",
        "  Lcl Date, Lcl Time, UTCOfst,  AltMSL,   OAT, IAS, E1 RPM, E1 CHT1, E1 CHT2, E1 CHT3, E1 CHT4, E1 EGT1, E1 EGT2, E1 EGT3, E1 EGT4",
    ]
    for i, r in enumerate(FLOWN):
        oat = "       " if i % 7 == 3 else "NA" if i % 7 == 5 else f"{celsius(r['oat']):7.1f}"
        cells = [f"{t:8.2f}" for t in heads_of(r) + exhausts_of(r)]
        lines.append(
            f"2024-05-12, {clock(r['s'])},   00:00, {r['alt']:8.1f}, {oat}, {r['ias']:5.1f}, {r['rpm']:6.1f}, "
            + ", ".join(cells)
        )
    return "\r\n".join(lines).encode()


def decimal_commas() -> bytes:
    lines = [
        "Datum-Protokoll",
        "",
        "Date;Time;Altitude [m];OAT [°C];RPM;" + ";".join(f"CHT {k} [°C]" for k in range(1, 5)),
    ]
    for r in FLOWN:
        cells = [f"12.05.2024;{clock(r['s'])};{r['alt'] * 0.3048:.1f};{celsius(r['oat']):.1f};{r['rpm']:.0f}"]
        cells += [f"{celsius(t):.1f}" for t in heads_of(r)]
        lines.append(
            cells[0].replace(".05.2024", "§").replace(".", ",").replace("§", ".05.2024")
            + ";"
            + ";".join(c.replace(".", ",") for c in cells[1:])
        )
    return "\n".join(lines).encode("latin-1")


def tabs_in_utf16() -> bytes:
    lines = ["Tach Hours\tRPM\t" + "\t".join(f"Cyl {k} CHT °F" for k in range(1, 5))]
    lines += [
        f"{1234 + r['s'] / 3600:.5f}\t{r['rpm']:.0f}\t" + "\t".join(f"{t:.1f}" for t in heads_of(r))
        for r in FLOWN
    ]
    return "\n".join(lines).encode("utf-16")


def letters_without_units() -> bytes:
    names = [f"E{k}" for k in range(1, 5)] + [f"C{k}" for k in range(1, 5)]
    lines = ["INDEX,TIME," + ",".join(names) + ",OAT,RPM"]
    for i, r in enumerate(FLOWN):
        lines.append(
            f"{i},{clock(r['s'])},"
            + ",".join(f"{t:.0f}" for t in exhausts_of(r) + heads_of(r))
            + f",{r['oat']:.0f},{r['rpm']:.0f}"
        )
    return "\n".join(lines).encode()


def two_header_lines() -> bytes:
    lines = ["Elapsed,RPM,CHT,,,,EGT,,,", ",,1,2,3,4,1,2,3,4", "sec,rpm" + ",deg F" * 8]
    lines += [
        f"{r['s']:.0f},{r['rpm']:.0f}," + ",".join(f"{t:.1f}" for t in heads_of(r) + exhausts_of(r))
        for r in FLOWN
    ]
    return "\n".join(lines).encode()


def quoted_with_mark() -> bytes:
    lines = ['"Timestamp","Engine Speed","CHT #1","CHT #2","CHT #3","CHT #4"']
    for r in FLOWN:
        s = 11 * 3600 + 50 * 60 + int(r["s"])  # runs over noon
        hour = s // 3600
        stamp = (
            f"5/12/2024 {(hour - 1) % 12 + 1}:{s // 60 % 60:02d}:{s % 60:02d} {'AM' if hour < 12 else 'PM'}"
        )
        lines.append(f'"{stamp}","{r["rpm"]:,.0f}",' + ",".join(f'"{t:.1f}"' for t in heads_of(r)))
    return ("\ufeff" + "\r\n".join(lines)).encode("utf-8")


def units_behind_values() -> bytes:
    lines = ["Time|RPM|" + "|".join(f"Head Temp {k}" for k in range(1, 5))]
    lines += [
        f"{clock(r['s'])}|{r['rpm']:.0f} rpm|" + "|".join(f"{celsius(t):.1f} °C" for t in heads_of(r))
        for r in FLOWN
    ]
    return "\n".join(lines).encode("utf-8")


def blanks_between() -> bytes:
    lines = ["t      rpm  CHT1_F CHT2_F CHT3_F CHT4_F"]
    lines += [f"{r['s']:6.0f} {r['rpm']:6.0f} " + " ".join(f"{t:7.1f}" for t in heads_of(r)) for r in FLOWN]
    return "\n".join(lines).encode()


def unmarked_utf16() -> bytes:
    return plain().decode().encode("utf-16-le")


LAYOUTS: list[Callable[[], bytes]] = [
    plain,
    units_line_above,
    decimal_commas,
    tabs_in_utf16,
    letters_without_units,
    two_header_lines,
    quoted_with_mark,
    units_behind_values,
    blanks_between,
    unmarked_utf16,
]


def texts(log: FlightLog) -> str:
    return "\n".join([*map(str, log.notes), *(f"{one.column}: {one.reason}" for one in log.left_out)])


@pytest.mark.parametrize("layout", LAYOUTS, ids=lambda layout: layout.__name__)
def test_every_layout_gives_the_same_flight(layout: Callable[[], bytes]) -> None:
    log = parse_log(layout(), "log.csv")
    assert sorted(log.cht) == [1, 2, 3, 4]
    assert not log.left_out
    assert log.connected
    assert log.interval == pytest.approx(6, abs=0.05)
    assert log.time == pytest.approx([r["s"] for r in FLOWN], abs=0.1)
    for k in range(1, 5):
        # Whole degF or tenths of degC at worst.
        assert log.cht[k] == pytest.approx([celsius(r[f"cht{k}"]) for r in FLOWN], abs=0.3)
    assert log.rpm == pytest.approx([r["rpm"] for r in FLOWN])


def test_everything_else_is_read_in_si() -> None:
    log = parse_log(plain(), "log.csv")
    assert log.altitude == pytest.approx([r["alt"] * 0.3048 for r in FLOWN], abs=0.2)
    assert log.oat == pytest.approx([celsius(r["oat"]) for r in FLOWN], abs=0.05)
    assert log.ias == pytest.approx([r["ias"] * 1852 / 3600 for r in FLOWN], abs=0.01)
    assert log.temperature_unit == "degF"
    assert log.division == pytest.approx(0.1 / 1.8)
    assert {column.unit_from for column in log.columns if column.role != "rpm"} == {"stated"}
    assert log.lines[0] == 2


def test_blank_and_na_are_missing_not_zero() -> None:
    log = parse_log(units_line_above(), "log.csv")
    assert log.oat is not None
    assert np.isnan(log.oat[3])
    assert np.isnan(log.oat[5])
    assert log.oat[4] == pytest.approx(celsius(FLOWN[4]["oat"]), abs=0.06)
    assert sorted(log.egt) == [1, 2, 3, 4]
    assert log.lines[0] == 4


def test_letters_are_heads_and_exhausts_and_the_unit_is_told_by_the_values() -> None:
    log = parse_log(letters_without_units(), "log.csv")
    assert log.egt[1] == pytest.approx([celsius(r["egt1"]) for r in FLOWN], abs=0.3)
    assert log.temperature_unit == "degF"
    assert "no unit is stated for CHT; the values can only be degF" in texts(log)
    # 70 falling to 50 could be either unit: not used, and said so.
    assert log.oat is None or "OAT" in texts(log)


def test_e1_as_an_engine_is_no_exhaust() -> None:
    log = parse_log(units_line_above(), "log.csv")
    assert [column.role for column in log.columns if column.name == "E1 CHT1"] == ["cht 1"]
    # A column 'E1' alone among heads called by name says nothing.
    lines = plain().decode().split("\n")
    lone = "\n".join([lines[0] + ",E1", *(line + ",1200" for line in lines[1:])])
    log = parse_log(lone.encode(), "log.csv")
    assert not log.egt
    assert "it could mean engine or exhaust" in texts(log)


def test_a_unit_that_cannot_be_told_is_asked_for() -> None:
    lines = ["s,CHT1,CHT2"] + [f"{i},{150 + i % 60},{155 + i % 60}" for i in range(100)]
    with pytest.raises(
        LogError, match="unit of the head temperatures is not stated, and values up to 214 could be"
    ) as told:
        parse_log("\n".join(lines).encode(), "log.csv")
    assert told.value.file == "log.csv"
    assert told.value.line == 1
    log = parse_log("\n".join(lines).encode(), "log.csv", units={"cht": "degC"})
    assert log.cht[1][0] == 150
    assert log.temperature_unit == "degC"
    assert log.columns[0].unit_from == "mapping"


def test_a_stated_unit_no_head_survives_is_refused() -> None:
    with pytest.raises(LogError, match=r"the heads reach 4\d\d degC, which none survives"):
        parse_log(plain().replace(b"deg F", b"deg C"), "log.csv")


def test_degc_values_stated_as_degf_are_told() -> None:
    def colder(cell: str) -> str:
        return f"{celsius(float(cell)):.1f}"

    lines = [line.split(",") for line in two_header_lines().decode().split("\n")]
    out = [",".join(cells) for cells in lines[:3]]
    out += [",".join(cells[:2] + [colder(cell) for cell in cells[2:]]) for cells in lines[3:]]
    log = parse_log("\n".join(out).encode(), "log.csv")
    assert "stated as degF, but heads and exhausts of a working engine this low can only be degC" in texts(
        log
    )
    assert "can only be degC" not in texts(parse_log(two_header_lines(), "log.csv"))


def test_columns_by_mapping() -> None:
    lines = ["A;B;Z;thermo left front;thermo left rear"]
    lines += [f"{r['s']:.0f};{r['alt']:.0f};x;{r['cht1']:.1f};{r['cht2']:.1f}" for r in FLOWN]
    raw = "\n".join(lines).encode()
    columns = {"time": "a", "cht 2": "Thermo left front", "cht4": "thermo  left rear", "altitude": "B"}
    log = parse_log(raw, "log.csv", columns=columns, units={"time": "s", "cht": "degF", "altitude": "ft"})
    assert sorted(log.cht) == [2, 4]
    assert log.cht[2][-1] == pytest.approx(celsius(FLOWN[-1]["cht1"]), abs=0.06)
    assert log.altitude is not None
    with pytest.raises(
        LogError, match="no column 'thermo left fron' in the header; did you mean 'thermo left front'"
    ):
        parse_log(raw, "log.csv", columns={"time": "A", "cht 1": "thermo left fron"})
    with pytest.raises(LogError, match="no role 'altitud' for a column; did you mean 'altitude'"):
        parse_log(raw, "log.csv", columns={"altitud": "B"})
    with pytest.raises(LogError, match="the role 'cht' needs the cylinder's number"):
        parse_log(raw, "log.csv", columns={"cht": "B"})
    with pytest.raises(LogError, match="'yard' is no unit of altitude"):
        parse_log(raw, "log.csv", units={"altitude": "yard"})


def test_engines_of_a_twin_are_kept_apart() -> None:
    lines = ["s," + ",".join(f"E{e} CHT{k} F" for e in (1, 2) for k in (1, 2))]
    lines += [f"{r['s']:.0f},{r['cht1']:.1f},{r['cht2']:.1f},{r['cht3']:.1f},{r['cht4']:.1f}" for r in FLOWN]
    raw = "\n".join(lines).encode()
    one, two = parse_log(raw, "twin.csv"), parse_log(raw, "twin.csv", engine=2)
    assert one.cht[1][-1] == pytest.approx(celsius(FLOWN[-1]["cht1"]), abs=0.06)
    assert two.cht[1][-1] == pytest.approx(celsius(FLOWN[-1]["cht3"]), abs=0.06)
    assert "it belongs to engine 2, not to engine 1" in texts(one)
    with pytest.raises(LogError, match="no head temperatures of engine 3; the log has engine 1 and 2"):
        parse_log(raw, "twin.csv", engine=3)


def changed(column: str, change: Callable[[int, str], str]) -> bytes:
    """The plain log with one column changed."""
    lines = plain().decode().split("\n")
    at = lines[0].split(",").index(column)
    out = [lines[0]]
    for i, line in enumerate(lines[1:]):
        cells = line.split(",")
        cells[at] = change(i, cells[at])
        out.append(",".join(cells))
    return "\n".join(out).encode()


def test_a_dead_a_stuck_and_an_absurd_channel() -> None:
    for change, reason in (
        (lambda i, cell: "", "it holds no values"),
        (lambda i, cell: "0", "it is stuck at 0 degF all along"),
        (lambda i, cell: "3276.7", "most of its values are no head temperature, such as 3277 degF"),
        (lambda i, cell: cell if i < 3 else "", "it holds values in 3 of 240 rows only"),
        (lambda i, cell: cell if i % 3 else "900" if i % 2 else "30", "no head temperature|it jumps"),
    ):
        log = parse_log(changed("CHT3 (deg F)", change), "log.csv")
        assert sorted(log.cht) == [1, 2, 4]
        assert [one.cylinder for one in log.left_out] == [3]
        assert any(part in log.left_out[0].reason for part in reason.split("|"))


def test_a_channel_stuck_for_a_while_is_left_out_there_only() -> None:
    held = f"{FLOWN[45]['cht3']:.1f}"
    log = parse_log(changed("CHT3 (deg F)", lambda i, cell: held if 45 <= i < 120 else cell), "log.csv")
    assert np.isnan(log.cht[3][46:119]).all()
    assert np.isfinite(log.cht[3][121:]).all()
    assert "rows at one value while the other heads move left out" in texts(log)


def test_spikes_do_not_make_a_peak() -> None:
    log = parse_log(changed("CHT1 (deg F)", lambda i, cell: "612.0" if i in (50, 130) else cell), "log.csv")
    assert np.nanmax(log.cht[1]) < celsius(445)
    assert "2 spikes left out" in texts(log)
    assert "line 52, column 'CHT1 (deg F)'" in texts(log)


def test_open_inputs_that_drift_through_plausible_values() -> None:
    lines = plain().decode().split("\n")
    rng = np.random.default_rng(7)
    wander = 380 + 60 * np.sin(np.arange(240) / 40) + rng.normal(0, 1, 240)
    rise = np.linspace(70, 110, 240) + rng.normal(0, 0.5, 240)
    out = [lines[0] + ",CHT5 (deg F),CHT6 (deg F)"]
    out += [f"{line},{a:.1f},{b:.1f}" for line, a, b in zip(lines[1:], wander, rise, strict=True)]
    log = parse_log("\n".join(out).encode(), "log.csv")
    assert sorted(log.cht) == [1, 2, 3, 4]
    assert {one.cylinder for one in log.left_out} == {5, 6}
    assert all("do not follow the other heads" in one.reason for one in log.left_out)
    told = parse_log("\n".join(out).encode(), "log.csv", cylinders=4)
    assert all("the engine has 4 cylinders" in one.reason for one in told.left_out)


def test_a_cold_but_connected_cylinder_stays() -> None:
    log = parse_log(changed("CHT4 (deg F)", lambda i, cell: f"{float(cell) * 0.8:.1f}"), "log.csv")
    assert sorted(log.cht) == [1, 2, 3, 4]


def test_steady_flight_proves_no_connection() -> None:
    rng = np.random.default_rng(1)
    lines = ["s," + ",".join(f"CHT{k} F" for k in range(1, 5))]
    drift = 380 + 35 * np.sin(np.arange(300) / 60)
    for i in range(300):
        cells = [400 + 5 * k + rng.normal(0, 0.5) for k in range(3)] + [drift[i]]
        lines.append(f"{6 * i}," + ",".join(f"{t:.1f}" for t in cells))
    log = parse_log("\n".join(lines).encode(), "log.csv")
    assert not log.connected
    assert sorted(log.cht) == [1, 2, 3]
    assert "nothing proves which channels are connected" in texts(log)


def test_duplicated_backward_and_missing_times() -> None:
    def change(i: int, cell: str) -> str:
        return {20: f"{19 * STEP}", 40: f"{38 * STEP + 1}", 60: "", 80: f"{900 * STEP}"}.get(i, cell)

    log = parse_log(changed("Time (s)", change), "log.csv")
    assert len(log.time) == 236
    assert (np.diff(log.time) > 0).all()
    assert np.diff(log.time).max() == 12
    told = texts(log)
    assert "line 62: 1 rows without a time left out" in told
    assert "line 22: 1 rows with the time of the row before left out" in told
    assert "2 rows with a time out of order left out" in told


def test_a_clock_set_back_an_hour_breaks_the_log_and_loses_nothing() -> None:
    log = parse_log(
        changed("Time (s)", lambda i, cell: f"{5000 + int(cell) - (3600 if i >= 100 else 0)}"), "log.csv"
    )
    assert len(log.time) == 240
    assert log.starts.tolist() == [0, 100]
    assert log.time[-1] == 239 * STEP
    assert "line 102: the clock steps back 3,594 s" in texts(log)


def test_times_that_run_backward_are_refused() -> None:
    with pytest.raises(LogError, match=r"no column gives the time .*run backward at"):
        parse_log(changed("Time (s)", lambda i, cell: f"{9000 - int(cell)}"), "log.csv")


def test_midnight() -> None:
    lines = ["time," + ",".join(f"CHT{k} F" for k in (1, 2))]
    lines += [f"{clock((r['s'] + 86_000) % 86_400, 0)},{r['cht1']:.1f},{r['cht2']:.1f}" for r in FLOWN]
    log = parse_log("\n".join(lines).encode(), "log.csv")
    assert log.time == pytest.approx([r["s"] for r in FLOWN])
    assert log.starts.tolist() == [0]


def test_a_coarse_clock_is_spread() -> None:
    lines = ["Time,CHT1 F,CHT2 F"]
    lines += [f"{clock(r['s'])[:5]},{r['cht1']:.1f},{r['cht2']:.1f}" for r in FLOWN]
    log = parse_log("\n".join(lines).encode(), "log.csv")
    assert log.time == pytest.approx([r["s"] for r in FLOWN], abs=0.1)
    assert "the clock is coarser than the rows" in texts(log)


def test_an_hour_counter_that_steps_back_is_told() -> None:
    lines = plain().decode().split("\n")
    out = [lines[0] + ",Hobbs"] + [
        f"{line},{(1200 if i < 100 else 800) + i / 600:.2f}" for i, line in enumerate(lines[1:])
    ]
    log = parse_log("\n".join(out).encode(), "log.csv")
    assert len(log.time) == 240
    assert "line 102, column 'Hobbs': the hour counter steps back" in texts(log)


@pytest.mark.parametrize(
    ("units", "first", "second", "order"),
    [
        ("yyyy-mm-dd", "5/31/2024", "6/1/2024", "month day year"),
        ("mm/dd/yyyy", "31/05/2024", "01/06/2024", "day month year"),
    ],
)
def test_dates_that_contradict_their_units_line(units: str, first: str, second: str, order: str) -> None:
    lines = [f"{units},hh:mm:ss,deg F,deg F", "Date,Time,CHT1,CHT2"]
    for r in FLOWN:
        s = r["s"] + 86_000
        lines.append(
            f"{first if s < 86_400 else second},{clock(s % 86_400, 0)},{r['cht1']:.1f},{r['cht2']:.1f}"
        )
    log = parse_log("\n".join(lines).encode(), "log.csv")
    assert log.time == pytest.approx([r["s"] for r in FLOWN])
    assert f"they only make sense as {order}" in texts(log)


def test_times_without_a_unit_that_are_no_seconds_are_refused_and_can_be_told() -> None:
    raw = changed("Time (s)", lambda i, cell: f"{int(cell) / 86400:.7f}").replace(b"Time (s)", b"Time")
    with pytest.raises(LogError, match="not likely seconds; state its unit"):
        parse_log(raw, "log.csv")
    assert parse_log(raw, "log.csv", units={"time": "days"}).interval == pytest.approx(6, abs=0.02)


def test_a_log_without_times_needs_the_interval() -> None:
    raw = b"\n".join(line.split(b",", 1)[1] for line in plain().split(b"\n"))
    with pytest.raises(LogError, match="no column gives the time; name it, or give the time between rows"):
        parse_log(raw, "log.csv")
    assert parse_log(raw, "log.csv", interval=6).time[-1] == 239 * STEP
    with pytest.raises(LogError, match="more than 0 s"):
        parse_log(raw, "log.csv", interval=0)


def test_a_pause_breaks_the_log() -> None:
    log = parse_log(plain(FLOWN[:100] + FLOWN[130:]), "log.csv")
    assert log.starts.tolist() == [0, 100]
    assert "the recorder paused 1 times, 186 s at most" in texts(log)


def test_a_header_written_again_breaks_the_log() -> None:
    lines = plain().decode().split("\n")
    log = parse_log("\n".join([*lines[:101], lines[0], *lines[101:]]).encode(), "log.csv")
    assert len(log.time) == 240
    assert log.starts.tolist() == [0, 100]


def test_broken_and_overlong_rows() -> None:
    lines = plain().decode().split("\n")
    lines[50] = lines[50][:-3]  # '...,412.3' to '...,41' would be a wrong value, were the field used
    lines[50] = lines[50].rsplit(",", 1)[0][:-2]
    lines[60] += ",7,8"
    lines[70] += ",,"
    log = parse_log("\n".join(lines).encode(), "log.csv")
    assert len(log.time) == 239
    assert np.isnan(log.cht[3][49])
    assert np.isnan(log.cht[4][49])
    assert np.isfinite(log.cht[2][49])
    assert "line 51: 1 row broken off; its last field is not used" in texts(log)
    assert "line 61: 1 row more fields than the header; left out" in texts(log)


def test_words_in_a_column_are_missing_and_told_once() -> None:
    log = parse_log(changed("CHT2 (deg F)", lambda i, cell: "open" if i in (10, 20) else cell), "log.csv")
    assert np.isnan(log.cht[2][10])
    assert "line 12, column 'CHT2 (deg F)': 'open' is no number, nor are 1 more; taken as missing" in texts(
        log
    )


def test_nul_bytes_and_an_open_quote() -> None:
    lines = plain().split(b"\n")
    lines[30] = b"\0\0" + lines[30]
    lines[40] = b'"' + lines[40]
    log = parse_log(b"\n".join(lines), "log.csv")
    assert len(log.time) >= 239
    assert "2 NUL characters left out" in texts(log)


def test_numbering_from_zero_is_refused() -> None:
    with pytest.raises(LogError, match="numbered from 0") as told:
        parse_log(b"s,CHT0 F,CHT1 F\n0,300,300\n6,301,301\n12,302,303\n", "log.csv")
    assert told.value.column == "CHT0 F"


def test_a_second_column_for_a_cylinder_is_left_out_and_told() -> None:
    lines = plain().decode().split("\n")
    out = [lines[0] + ",CHT1 (deg F)", *(line + ",300" for line in lines[1:])]
    log = parse_log("\n".join(out).encode(), "log.csv")
    assert "a second column for cylinder 1" in texts(log)
    assert np.nanmax(log.cht[1]) == pytest.approx(celsius(max(r["cht1"] for r in FLOWN)), abs=0.1)


@pytest.mark.parametrize(
    ("raw", "said"),
    [
        (b"", "the log is empty"),
        (b"\n\n \n", "the log is empty"),
        (b"hello\nworld\n", "no header that names cylinder head temperatures"),
        (b"s,CHT1 F\n", "no rows of data below the header"),
        (b"s,CHT1 F\n1,300\n", "fewer than two rows"),
        (b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", "no header"),
    ],
)
def test_what_is_no_log_is_told(raw: bytes, said: str) -> None:
    with pytest.raises(LogError, match=said):
        parse_log(raw, "log.csv")


def test_files_that_cannot_be_read(tmp_path: Path) -> None:
    with pytest.raises(LogError, match="cannot be opened: No such file"):
        read_log(tmp_path / "none.csv")
    with pytest.raises(LogError, match=r"cannot be opened: Is a directory|not a file"):
        read_log(tmp_path)
    os.mkfifo(tmp_path / "pipe.csv")
    # Opening a pipe would wait for a writer for ever.
    with pytest.raises(LogError, match="not a file"):
        read_log(tmp_path / "pipe.csv")
    good = tmp_path / "log.csv"
    good.write_bytes(plain())
    assert read_log(good).file == str(good)


@settings(max_examples=300)
@given(st.binary(max_size=400))
def test_any_bytes_are_an_error_or_a_log(raw: bytes) -> None:
    try:
        assert isinstance(parse_log(raw, "log.csv"), FlightLog)
    except LogError as bad:
        said = bad.text
        assert said


CELLS = st.one_of(
    st.sampled_from(
        [
            "",
            " ",
            "NA",
            "12:00",
            "12:00:01",
            "24:61:99",
            "1e400",
            "-0",
            "0",
            "1.5",
            "1,5",
            "1.234,5",
            '"',
            "300 F",
            "150 C",
            "inf",
            "2024-02-30",
            "5/6/24",
            "٣",
            "1_0",
            "-" * 70,
        ]
    ),
    st.floats(allow_nan=True, width=32).map(str),
    st.text(max_size=6),
)
NAMES = st.one_of(
    st.sampled_from(
        [
            "Time",
            "s",
            "Date",
            "CHT1",
            "CHT2 F",
            "CHT3 (deg C)",
            "C1",
            "E1",
            "C2",
            "E2",
            "EGT1",
            "OAT",
            "Alt",
            "RPM",
            "Hobbs",
            "E2 CHT1",
            "CHT 0",
            "VSpd",
        ]
    ),
    st.text(max_size=8),
)


@settings(max_examples=300)
@given(
    st.lists(NAMES, min_size=1, max_size=6),
    st.lists(st.lists(CELLS, max_size=7), max_size=25),
    st.sampled_from([",", ";", "\t", "|", " "]),
    st.sampled_from(["utf-8", "utf-16", "utf-8-sig", "utf-32"]),
)
def test_any_table_is_an_error_or_a_log(
    names: list[str], rows: list[list[str]], delimiter: str, encoding: str
) -> None:
    text = "\n".join(delimiter.join(row) for row in [names, *rows])
    try:
        log = parse_log(text.encode(encoding, "replace"), "log.csv")
    except LogError as bad:
        said = bad.text
        assert said
    else:
        assert len(log.time) == len(log.lines)
        assert (np.diff(log.time) > 0).all()
        assert all(len(values) == len(log.time) for values in log.cht.values())


def test_more_lines_than_any_log_has_are_refused_before_they_are_cut() -> None:
    """32 million lines of a quote are 64 MiB; cutting them took minutes."""
    with pytest.raises(LogError, match="32,000,001 lines: more than the 2,000,000 that are read"):
        parse_log(b"time,CHT1\n" + b'"\n' * 32_000_000, "log.csv")

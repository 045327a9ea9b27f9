"""The quick ``dataclass`` does what the one of the standard library does."""

import copy
import dataclasses
import pickle
import re
from dataclasses import FrozenInstanceError, field, fields, replace
from pathlib import Path

import pytest

from installcheck import dataclass as quick_module

QUICK = quick_module.dataclass
WORDS = [
    {"frozen": frozen, "slots": slots, "eq": eq}
    for frozen in (False, True)
    for slots in (False, True)
    for eq in (False, True)
]


def both(words):
    """The same class made by the standard library and by ours."""

    def made(by):
        @by(**words)
        class Wire:
            ident: str
            gauge: int = 22
            marks: list[str] = field(default_factory=list)
            note: str = field(default="", compare=False, repr=False)
            kept: object = field(default=None, init=False, compare=False)

        return Wire

    return made(dataclasses.dataclass), made(QUICK)


@QUICK(frozen=True, slots=True)
class Pin:
    name: str
    size: int = 20


@QUICK(slots=True)
class Plug:
    pins: list[Pin]
    count: int = field(init=False)

    def __post_init__(self):
        self.count = len(self.pins)


@QUICK(frozen=True)
class Keyed(Pin):
    key: str = "N"


@QUICK(frozen=True, slots=True)
class Nothing:
    pass


@QUICK(frozen=True, slots=True)
class OwnWords:
    name: str

    def __eq__(self, other):
        return isinstance(other, OwnWords) and self.name.lower() == other.name.lower()

    def __hash__(self):
        return hash(self.name.lower())

    def __repr__(self):
        return "own"


@pytest.mark.parametrize("words", WORDS, ids=str)
def test_it_is_made_shown_compared_and_replaced_as_the_standard_one(words):
    told = []
    for kind in both(words):
        one, same, other = kind("W1", 20, ["a"]), kind("W1", gauge=20, marks=["a"], note="n"), kind("W2")
        told.append(
            (
                repr(one),
                repr(other),
                one == same,
                one == other,
                one == "W1",
                replace(one, gauge=24).gauge,
                [(f.name, f.init, f.compare, f.repr) for f in fields(kind)],
                kind.__match_args__,
                hasattr(one, "__dict__"),
                dataclasses.asdict(one),
                copy.deepcopy(one).marks,
                kind("W3").marks is kind("W3").marks,
            )
        )
    assert told[0] == told[1]


@pytest.mark.parametrize("words", WORDS, ids=str)
@pytest.mark.parametrize(
    "given", [((), {}), (("a", 1, [], "n", 5), {}), (("a",), {"kept": 1}), (("a",), {"x": 1})]
)
def test_it_refuses_what_the_standard_one_refuses(words, given):
    for kind in both(words):
        with pytest.raises(TypeError):
            kind(*given[0], **given[1])


@pytest.mark.parametrize("words", WORDS, ids=str)
def test_it_can_be_hashed_where_the_standard_one_can(words):
    told = []
    for kind in both(words):
        one = kind("W1", 20, ())
        try:
            told.append((hash(one) == hash(kind("W1", 20, (), "n")), {one: 1}.get(kind("W1", 20, ()))))
        except TypeError:
            told.append("not")
    assert told[0] == told[1]


@pytest.mark.parametrize("words", WORDS, ids=str)
def test_it_can_be_written_to_where_the_standard_one_can(words):
    told = []
    for kind in both(words):
        one = kind("W1")
        try:
            one.gauge = 18
            del one.gauge
            told.append("written")
        except FrozenInstanceError as refused:
            told.append(str(refused))
    assert told[0] == told[1]


def test_a_nan_is_itself_as_in_the_standard_one():
    lone = float("nan")
    assert Pin("a", lone) == Pin("a", lone)
    assert Pin("a", lone) != Pin("a", float("nan"))


def test_what_is_worked_out_after_making_stands():
    plug = Plug([Pin("a"), Pin("b")])
    assert plug.count == 2
    assert replace(plug, pins=[]).count == 0
    with pytest.raises(TypeError):
        hash(plug)


def test_it_goes_to_another_process_whole():
    for one in (Pin("a", 16), Plug([Pin("a")]), Keyed("a", 12, "M"), Nothing()):
        assert pickle.loads(pickle.dumps(one)) == one
        assert copy.copy(one) == one


def test_a_kind_of_a_kind_has_the_fields_of_both():
    assert repr(Keyed("a")) == "Keyed(name='a', size=20, key='N')"
    assert Keyed("a") == Keyed("a", 20, "N") != Keyed("a", 20, "M")
    assert Keyed("a") != Pin("a")
    assert hash(Keyed("a")) == hash(Keyed("a", 20))
    with pytest.raises(FrozenInstanceError):
        Keyed("a").key = "M"


def test_what_a_class_says_itself_stays():
    assert OwnWords("A") == OwnWords("a")
    assert {OwnWords("A"): 1}[OwnWords("a")] == 1
    assert repr(OwnWords("A")) == "own"
    assert Nothing() == Nothing()
    assert repr(Nothing()) == "Nothing()"
    assert hash(Nothing()) == hash(Nothing())


def test_one_that_holds_itself_is_shown():
    plug = Plug([])
    plug.pins.append(plug)
    assert repr(plug).endswith("pins=[...], count=0)")


def test_what_is_made_tells_where_it_fails():
    with pytest.raises(TypeError, match=r"Pin\.__init__\(\) missing 1 required positional argument: 'name'"):
        Pin()


def test_every_data_class_of_the_package_is_made_quickly():
    package = Path(quick_module.__file__).parent
    slow = [
        file.relative_to(package).as_posix()
        for file in package.rglob("*.py")
        if re.search(
            r"^from dataclasses import .*\bdataclass\b", file.read_text(encoding="utf-8"), re.MULTILINE
        )
    ]
    assert slow == []

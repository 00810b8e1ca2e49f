"""Our records against the library's dataclasses: what one does, the other does, but for making the class quickly."""

from __future__ import annotations

import copy
import pickle
from dataclasses import FrozenInstanceError, dataclass, field, fields, is_dataclass
from dataclasses import replace as dataclasses_replace
from typing import Any

import pytest

from cardmaker.model.record_class import record, replace, uncompared


@record
class Yarn:
    name: str
    count: str = "20/2"
    ends: int = 0
    place: str = uncompared(default="nowhere")

    @property
    def told(self) -> str:
        return f"{self.ends} {self.name}"


class Theirs:
    @dataclass(frozen=True, slots=True)
    class Yarn:
        name: str
        count: str = "20/2"
        ends: int = 0
        place: str = field(default="nowhere", compare=False, repr=False)


@record
class Stripe:
    name: str
    count: str = "20/2"
    ends: int = 0
    place: str = uncompared(default="nowhere")


CALLS: list[tuple[tuple[Any, ...], dict[str, Any]]] = [
    (("red",), {}),
    ((), {"name": "red"}),
    (("red", "5/2", 3, "line 4"), {}),
    (("red",), {"ends": 3, "count": "5/2"}),
    (("red", "5/2"), {"place": "line 4"}),
]


@pytest.mark.parametrize(("values", "named"), CALLS)
def test_values_are_given_by_place_or_by_name(values: tuple[Any, ...], named: dict[str, Any]) -> None:
    ours, theirs = Yarn(*values, **named), Theirs.Yarn(*values, **named)
    assert [getattr(ours, each.name) for each in fields(ours)] == [
        getattr(theirs, each.name) for each in fields(theirs)
    ]
    assert repr(ours) == repr(theirs).removeprefix("Theirs.")


@pytest.mark.parametrize(
    ("values", "named"),
    [
        ((), {}),
        (("red", "5/2", 3, "line 4", "more"), {}),
        (("red",), {"name": "blue"}),
        (("red",), {"colour": "blue"}),
        ((), {"colour": "blue"}),
        ((), {"count": "5/2", "ends": 1, "place": "", "colour": "blue"}),  # as many as wanted, but not those
    ],
)
def test_a_wrong_call_is_an_error(values: tuple[Any, ...], named: dict[str, Any]) -> None:
    for kind in (Theirs.Yarn, Yarn):
        with pytest.raises(TypeError, match=r"Yarn"):
            kind(*values, **named)


def test_nouns_are_equal_when_what_they_say_is() -> None:
    assert Yarn("red", place="line 1") == Yarn("red", place="line 2")
    assert hash(Yarn("red", place="line 1")) == hash(Yarn("red", place="line 2"))
    others: tuple[object, ...] = (Yarn("blue"), Stripe("red"), ("red", "20/2", 0))
    assert Yarn("red") not in others


def test_a_noun_is_frozen_and_has_nothing_but_its_fields() -> None:
    red: Any = Yarn("red")
    for name in ("ends", "shade"):
        with pytest.raises(FrozenInstanceError):
            setattr(red, name, 3)
    with pytest.raises(FrozenInstanceError):
        del red.ends
    assert not hasattr(red, "__dict__")
    assert red.ends == 0


@pytest.mark.parametrize("change", [replace, dataclasses_replace])
def test_a_changed_noun_is_a_new_one(change: Any) -> None:
    red = Yarn("red", place="line 4")
    more = change(red, ends=3)
    assert (red.told, more.told, more.place) == ("0 red", "3 red", "line 4")
    with pytest.raises(TypeError):
        change(red, colour="blue")


def test_the_library_knows_a_record() -> None:
    assert is_dataclass(Yarn)
    ours, theirs = fields(Yarn), fields(Theirs.Yarn)
    for one, other in zip(ours, theirs, strict=True):
        assert (one.name, one.default, one.compare, one.repr) == (other.name, other.default, other.compare, other.repr)


def test_a_noun_travels_to_other_processes_and_is_copied_whole() -> None:
    red = Yarn("red", "5/2", 3, "line 4")
    for other in (pickle.loads(pickle.dumps(red)), copy.copy(red), copy.deepcopy(red)):
        assert (other, other.place) == (red, "line 4")


def test_a_noun_can_be_matched_by_place() -> None:
    match Yarn("red", "5/2"):
        case Yarn(name, count):
            assert (name, count) == ("red", "5/2")
        case _:
            pytest.fail("no match")

"""Texts of any length and script that the type of a card has, some of them as hard to set as letters can be."""

from __future__ import annotations

import json
from collections.abc import Sequence
from random import Random
from typing import Any, Final, Literal

Temper = Literal["plain", "mixed", "extreme"]  # how far from an ordinary file one goes
TEMPERS: Final[tuple[Temper, ...]] = ("plain",) * 10 + ("mixed",) * 8 + ("extreme",) * 2

_PLAIN: Final = [
    "the",
    "quay",
    "rope",
    "walk",
    "of",
    "an",
    "old",
    "loft",
    "where",
    "two",
    "hands",
    "wind",
    "a",
    "narrow",
    "tape",
    "by",
    "lantern",
    "light",
    "and",
    "count",
    "it",
    "once",
    "more",
    "before",
    "supper",
    "while",
    "the",
    "kettle",
    "sings",
    "upon",
    "its",
    "hook",
]
_ACCENTS: Final = [
    "Þórðr",
    "Ñandú",
    "Łódź",
    "Čeřín",
    "Žďár",
    "Øystein",
    "Ångå",
    "Şirin",
    "Ġużè",
    "Őrség",
    "Ťažký",
    "Ærø",
    "œuvre",
    "straße",
]
_STACKED: Final = [
    "Ấm",
    "Ổ",
    "Ữ",
    "ếch",
    "ỗi",
    "ẫn",
    "Ặc",
    "Ỹ",
    "Ễ",
    "ự",
    "Ậu",
    "Ở",
    "trệch",
    "Ẵ",
]  # two marks over a capital
_GREEK: Final = ["ταινία", "Ύφανση", "κλωστή", "Ώρα", "Ϊ́ρις", "στημόνι", "υφάδι", "Άκρη"]
_CYRILLIC: Final = ["Тесьма", "нить", "Ёлка", "Йод", "основа", "уток", "Щука", "берёзовый", "Ґанок", "Їжак"]
_FIGURES: Final = [
    "12",
    "3/4",
    "½",
    "1¼",
    "(56)",
    "7–9",
    "no.",
    "0",
    "1,000",
    "§2",
    "№",
    "4",
    "£5",
    "100%",
    "20/2",
    "3×4",
    "#8",
    "19:30",
]
_LONG: Final = [
    "Schifffahrtsgesellschaftskapitänsmützenband",
    "warpfacednarrowtapewithoutanybreakatallinsideofit",
    "llllllllllllllllllll",
]
_WIDE: Final = ("WWWW", "MMMMM", "@@@@", "ŒŒŒ", "WMWMWMWM", "%%%%")
_MARKED: Final = ("“Quay”", "rope-walk", "loft’s", "—", "a/b", "e.g.", "(hm)", "A·B", "«x»", "well-to-do,", "ok?!")
SCRIPTS: Final[tuple[Sequence[str], ...]] = (
    _PLAIN, _PLAIN, _PLAIN, _PLAIN, _ACCENTS, _STACKED, _GREEK, _CYRILLIC, _FIGURES, _LONG, _WIDE, _MARKED,
    (*_PLAIN, *_ACCENTS, *_FIGURES, *_MARKED),
)  # fmt: skip
LACKED: Final = "\u5b57\u05d0\u0e01\u2603\U0001f9f5"  # no face of ours has them: ``check`` must say so
_FILES_THAT_LACK, _TEXTS_THAT_LACK = 0.02, 0.1


class Scribe:
    """Writes the texts of one input, all in one temper."""

    def __init__(self, chance: Random) -> None:
        self.chance = chance
        self.temper: Temper = chance.choice(TEMPERS)
        self.lacking = _TEXTS_THAT_LACK if chance.random() < _FILES_THAT_LACK else 0.0
        self.is_wild = chance.random() < 0.5  # whether scripts change from text to text, or plain words do

    def line(self, most: int) -> str:
        """One line of at most so many letters."""
        return self._of_length(self._length(most))

    def text(self, most: int) -> str:
        """One paragraph, or some."""
        whole = self._of_length(self._length(most))
        if len(whole) > 40 and self.chance.random() < 0.2:
            at = whole.find(" ", len(whole) // 2)
            return whole if at < 0 else f"{whole[:at]}\n\n{whole[at + 2 :]}"
        return whole

    def some(self, share: float) -> bool:
        """Whether something that may be left out is there: the more often the further from ordinary."""
        return (
            self.chance.random() < {"plain": share, "mixed": (1 + share) / 2, "extreme": (3 + share) / 4}[self.temper]
        )

    def _length(self, most: int) -> int:
        chance = self.chance
        if self.temper == "plain":
            return chance.randint(1, min(most, 30))
        if self.temper == "mixed":
            return min(most, int(1.5 ** chance.uniform(0, 13)) + 1)  # up to 190, short ones more often
        far = min(most, chance.choice((200, 400, 400, 1200, 4000)))
        return chance.choice((1, far, far, max(1, far - 1), chance.randint(1, far)))

    def _of_length(self, length: int) -> str:
        chance = self.chance
        words = chance.choice(SCRIPTS) if self.is_wild else _PLAIN
        found: list[str] = []
        size = -1
        while size < length:
            found.append(word := chance.choice(words))
            size += len(word) + 1
        line = (" " if chance.random() < 0.96 else "").join(found)[:length].strip()
        line += "y" * (length - len(line))
        if chance.random() < self.lacking:
            line = line[:-1] + chance.choice(LACKED)
        return line


def different(scribe: Scribe, most: int, many: int) -> list[str]:
    """So many lines, no two of them alike."""
    found: dict[str, None] = {}
    for number in range(9 * many):
        if len(found) == many:
            break
        line = scribe.line(most)
        found[line if number < 3 * many else f"{line[: most - 4]}{number}"] = None
    return list(found)


def tree_text(tree: dict[str, Any]) -> bytes:
    """A file of these keys, each on a line of its own, or on one for each of its items; JSON is YAML."""
    return "".join(f"{key}:{_value(value)}\n" for key, value in tree.items()).encode()


def _value(value: Any) -> str:
    if isinstance(value, list) and value:
        return "".join(f"\n  - {_json(item)}" for item in value)
    if isinstance(value, dict) and value:
        return "".join(f"\n  {_json(key)}: {_json(item)}" for key, item in value.items())
    return f" {_json(value)}"


def _json(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False)

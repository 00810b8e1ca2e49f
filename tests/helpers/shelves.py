"""A binder as paper on a shelf: leaves as they are printed, and a weaver who does what the slip says, word by word."""

from __future__ import annotations

import re
from collections.abc import Sequence
from io import BytesIO
from typing import Any, Final, NamedTuple

import pypdf
import pypdfium2

SLIP: Final = "Take out, put in"
LEAF: Final = r"\d[\w./]*"
ROW: Final = re.compile(rf"(?:({LEAF}) )?(?:({LEAF}) )?(in its place|nothing in its place|after ({LEAF})) (.+)")
SCALE: Final = 0.5  # 36 dots to the inch
CORNER: Final = (30.0, 90.0)  # points, up and in from each lower corner: where the page's number stands
LISTS: Final = ("Contents", "Indexes", "All tapes at a glance")  # whose lines end in the number of a page


class PaperLeaf(NamedTuple):
    """What one sees of a leaf: its numbers as printed, and of each side its words and its picture without numbers."""

    label: str
    words: tuple[str, ...]
    pictures: tuple[bytes, ...]


class Printed(NamedTuple):
    """What comes out of the printer: the words of the slip, if there is one, and the leaves."""

    slip: str
    leaves: tuple[PaperLeaf, ...]


def printed_leaves(pdf: bytes, *, duplex: bool) -> Printed:
    """The pages of a file, taken from the printer leaf by leaf."""
    labels = pypdf.PdfReader(BytesIO(pdf), strict=True).page_labels
    document = pypdfium2.PdfDocument(pdf)
    texts = ["\n".join(page.get_textpage().get_text_range().splitlines()) for page in document]
    pictures = list(map(_picture, document))
    sides = 2 if duplex else 1
    of_slip = sum(label.startswith("slip") for label in labels)
    assert of_slip % sides == 0
    leaves = []
    for at in range(of_slip, len(texts), sides):
        own, numbers = texts[at : at + sides], labels[at : at + sides]
        words = [_without_number(text, number) for text, number in zip(own, numbers, strict=True)]
        leaves.append(PaperLeaf("/".join(numbers), tuple(words), tuple(pictures[at : at + sides])))
    return Printed("\n".join(texts[:of_slip]), tuple(leaves))


def _without_number(text: str, number: str) -> str:
    """The words of a page, which end in its number; the first of all has none."""
    *words, last = text.split("\n")
    assert last == number or number == "1", (last, number)
    return "\n".join(words) if last == number else text


def _picture(page: Any) -> bytes:
    picture = page.render(scale=SCALE, grayscale=True).to_numpy().copy()
    up, along = (round(points * SCALE) for points in CORNER)
    picture[-up:, :along] = picture[-up:, -along:] = 0
    return bytes(picture.tobytes())


def worked_through(shelf: Sequence[PaperLeaf], printed: Printed) -> list[PaperLeaf]:
    """The shelf after every line of the slip was done, from the first to the last; no new leaf may be left over."""
    leaves, new = list(shelf), {leaf.label: leaf for leaf in printed.leaves}
    assert len(new) == len(printed.leaves)
    lines = [match for match in map(ROW.fullmatch, printed.slip.splitlines()) if match]
    assert lines
    for line in lines:
        first, second, where, before, _ = line.groups()
        names = [leaf.label for leaf in leaves]
        if where == "in its place":
            leaves[names.index(first)] = new.pop(second)
        elif before:
            leaves.insert(names.index(before) + 1, new.pop(first))
            assert second is None
        else:
            del leaves[names.index(first)]
            assert second is None
    assert not new, "leaves that no line of the slip tells of"
    return leaves


def differences(shelf: Sequence[PaperLeaf], whole: Sequence[PaperLeaf]) -> list[str]:
    """How the paper differs from a binder printed whole, leaf by leaf, but for the numbers in which it may."""
    if len(shelf) != len(whole):
        return [f"{len(shelf)} leaves instead of {len(whole)}"]
    pairs = list(zip(shelf, whole, strict=True))
    own = {its: ours for leaf, other in pairs for ours, its in zip(_sides(leaf), _sides(other), strict=True)}
    found = []
    for leaf, other in pairs:
        for ours, its, picture, of_whole in zip(leaf.words, other.words, leaf.pictures, other.pictures, strict=True):
            if ours == its:
                if _is_list(its) and any(own.get(word, word) != word for word in _last_words(its)):
                    found.append(f"{leaf.label}: a number of the binder printed whole")
                elif picture != of_whole:
                    found.append(f"{leaf.label}: another picture")
            elif not _same_but_for_numbers(ours, its, own):
                found.append(f"{leaf.label}: {ours[:60]!r} instead of {its[:60]!r}")
    return found


def _sides(leaf: PaperLeaf) -> list[str]:
    return leaf.label.split("/")


def _is_list(words: str) -> bool:
    return words.startswith(LISTS)


def _last_words(words: str) -> list[str]:
    return [line.split()[-1] for line in words.splitlines() if line.split()]


def _same_but_for_numbers(ours: str, its: str, own: dict[str, str]) -> bool:
    if _is_list(its):
        expected = [own.get(word, word) for word in _last_words(its)]
        if [word for word in _last_words(ours) if word] != expected:
            return False
    words = list(zip(ours.split(), its.split(), strict=False))
    return len(ours.split()) == len(its.split()) and all(
        mine == theirs or mine.strip(".,") == own.get(theirs.strip(".,")) for mine, theirs in words
    )

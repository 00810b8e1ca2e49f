"""What happens to the bytes of a file: cut, doubled, moved in, glued to another, with signs that should not be there."""

# ruff: noqa: E501 -- tables of odd values are read as tables

from __future__ import annotations

from collections.abc import Callable, Sequence
from random import Random
from typing import Final

from tests.fuzz import hostile

SIGNS: Final = (
    *(sign.encode() for sign in ":-#[]{},&*!|>'\"%@`?\\/~\n\r\t 0123456789.xX½¼″"),
    b": ", b" #", b"- ", b"\n- ", b"---\n", b"...\n", b"<<: ", b"\r\n", b"\x00", b"\xff", b"\xfe\xff", b"\xef\xbb\xbf", b"\xed\xa0\x80",
    b"\xc0\x80", b"\xf4\x90\x80\x80", b"\xe2\x80\xae", b"\xe2\x80\xa8", b"\xc2\x85", b"\x1b[31m", b"%YAML 1.1\n", b"%TAG ! x\n", b"!!binary ",
    b"&a ", b"*a", b"? ", b"\xe2\x80\x9c", b"\xcc\x81",
)  # fmt: skip

Change = Callable[[bytes, Random, Sequence[bytes]], bytes]


def mutated(text: bytes, chance: Random, others: Sequence[bytes]) -> bytes:
    """The text after one to six changes."""
    for _ in range(chance.choice((1, 1, 1, 2, 3, 6))):
        text = chance.choice(_CHANGES)(text, chance, others)
    return text


def _span(text: bytes, chance: Random, most: int = 40) -> tuple[int, int]:
    start = chance.randint(0, len(text))
    return start, min(len(text), start + chance.randint(1, most))


def _insert(text: bytes, chance: Random, _: Sequence[bytes]) -> bytes:
    at = chance.randint(0, len(text))
    return text[:at] + chance.choice(SIGNS) + text[at:]


def _delete(text: bytes, chance: Random, _: Sequence[bytes]) -> bytes:
    start, stop = _span(text, chance)
    return text[:start] + text[stop:]


def _flip(text: bytes, chance: Random, _: Sequence[bytes]) -> bytes:
    if not text:
        return b"\x80"
    at = chance.randrange(len(text))
    return text[:at] + bytes([text[at] ^ 1 << chance.randrange(8)]) + text[at + 1 :]


def _double(text: bytes, chance: Random, _: Sequence[bytes]) -> bytes:
    start, stop = _span(text, chance, 200)
    return text[:stop] + text[start:stop] * chance.choice((1, 1, 2, 50)) + text[stop:]


def _cut(text: bytes, chance: Random, _: Sequence[bytes]) -> bytes:
    return text[: chance.randint(0, len(text))]


def _line(text: bytes, chance: Random, others: Sequence[bytes]) -> bytes:
    """A line gone, doubled, moved in or out, swapped with another, or taken from another file."""
    lines = text.split(b"\n")
    at, to = chance.randrange(len(lines)), chance.randrange(len(lines))
    what = chance.randrange(6)
    if what == 0:
        del lines[at]
    elif what == 1:
        lines.insert(to, lines[at])
    elif what == 2:
        lines[at] = b" " * chance.randint(1, 4) + lines[at]
    elif what == 3:
        lines[at] = lines[at].lstrip(b" ")
    elif what == 4:
        lines[at], lines[to] = lines[to], lines[at]
    else:
        lines.insert(to, chance.choice(chance.choice(others).split(b"\n")))
    return b"\n".join(lines)


def _value(text: bytes, chance: Random, _: Sequence[bytes]) -> bytes:
    """Another value behind a key or a dash."""
    lines = text.split(b"\n")
    at = chance.randrange(len(lines))
    for sign in (b": ", b"- "):
        if sign in lines[at]:
            head = lines[at].rpartition(sign)[0]
            new = chance.choice((hostile.text, hostile.number, hostile.length))(chance)
            lines[at] = head + sign + new.encode(errors="surrogatepass")
            break
    return b"\n".join(lines)


def _word(text: bytes, chance: Random, _: Sequence[bytes]) -> bytes:
    """A number replaced by another wherever it stands."""
    words = text.split(b" ")
    at = chance.randrange(len(words))
    words[at] = hostile.number(chance).encode()
    return b" ".join(words)


def _splice(text: bytes, chance: Random, others: Sequence[bytes]) -> bytes:
    other = chance.choice(others)
    return text[: chance.randint(0, len(text))] + other[chance.randint(0, len(other)) :]


def _ends(text: bytes, chance: Random, _: Sequence[bytes]) -> bytes:
    """Other line ends, another encoding, another byte order mark."""
    words = text.decode(errors="replace")
    return chance.choice(
        (
            text.replace(b"\n", b"\r\n"), text.replace(b"\n", b"\r"), b"\xef\xbb\xbf" + text, words.encode("utf-16"),
            words.encode("utf-32"), words.encode("latin-1", "replace"), text.replace(b"  ", b"\t"), text.replace(b" ", "\u00a0".encode()),
        )
    )  # fmt: skip


def _deep(text: bytes, chance: Random, _: Sequence[bytes]) -> bytes:
    """Brackets in brackets, far too deep."""
    times = chance.choice((5, 19, 20, 21, 100, 10_000))
    opened, closed = chance.choice(((b"[", b"]"), (b"{a: ", b"}"), (b"- ", b""), (b"{repeat: 9, stripes: [", b"]}")))
    at = chance.randint(0, len(text))
    return text[:at] + opened * times + b"1 white" + closed * times + text[at:]


def _huge(text: bytes, chance: Random, _: Sequence[bytes]) -> bytes:
    """A file as large as may be, or larger; seldom, since it takes long to make."""
    if chance.random() > 0.02:
        return _insert(text, chance, ())
    filler = chance.choice(
        (b"# x\n", b"  - 1 white\n", b"\n", b"a: b\n", b"x", b"[", b"{a: ", b"'", b"\xf0\x9f\xa7\xb6", b"- - ", b"9")
    )
    return text + filler * (chance.choice((10_000, 500_000, 1024 * 1024, 2 * 1024 * 1024)) // len(filler))


_CHANGES: Final[tuple[Change, ...]] = (
    _insert, _insert, _delete, _flip, _double, _cut, _line, _line, _line, _value, _value, _value, _word, _splice, _ends, _deep, _huge,
)  # fmt: skip

"""Values that a careless hand, a broken program or a bored visitor might write, by what stands there otherwise."""

# ruff: noqa: E501 -- tables of odd values are read as tables

from __future__ import annotations

from random import Random
from typing import Final

NUMBERS: Final = (
    "0", "-0", "-1", "1", "2", "3", "7", "0.5", ".5", "5.", "1e400", "1e-400", "-1e9", "nan", ".nan", ".inf", "-.inf", "NaN",
    "Infinity", "1_000", "1,000", "0x1F", "0o17", "017", "1:30", "+3", "½", "٣", "１２", "1e3", "0.000000001",
    "0.0000000001", "999999999", "1000000000", "1000000", "10000", "10001", "9999", "2000", "1000", "500", "100", "60",
    "33", "47", "48", "0.001", "1.000000001", "9" * 40, "9" * 5000, "-" + "9" * 5000, "0." + "3" * 5000, "true", "~",
    "null", "no", "2 2", "--1", "1/3", "1/0", "", " ",
)  # fmt: skip
LENGTHS: Final = (
    "0 mm", "0.000000001 mm", "1 mm", "1/999999999 in", "999999999/1 mm", "3 km", "1000 m", "1000.000000001 m", "999 m",
    "1000 yd", "-3 in", "36", "36 miles", "36in", "36 IN", "1/0 in", "0/5 in", "2 1/4 in", "2¼ in", "¼¼ in", "1 000 mm",
    "1,5 m", "1.5.5 m", "1e3 mm", "nan mm", "inf m", "٣ mm", "9" * 30 + " mm", "1 m\n", "\n1 m", "1 1 1/2 in", "1//2 in",
    ". mm", "/ mm", "5 \"", "5″", "20 in", "2 yd", "18 in", "1 in", "0.1 mm", "50 mm", "1200 mm", "1199 mm", "3 ft", "999999 mm",
)  # fmt: skip
WEIGHTS: Final = ("0 g", "0.000000001 g", "999999999 kg", "1 lb", "50 g", "4 oz", "1 stone", "-1 g", "1/999999999 oz")
SHARES: Final = (
    "0 %", "100 %", "99.999999999 %", "99 %", "101 %", "1000000 %", "-5 %", "12", "12%", "½ %", "1/0 %", "nan %", "50 %",
    "99 999999998/999999999 %", "0.000000001 %", "%", " %", "12 % %", "1e2 %",
)  # fmt: skip
COLOURS: Final = (
    "#000000", "#FFFFFF", "#ffffff", "#12345", "#1234567", "#GGGGGG", "red", "rgb(1,2,3)", "#12345６", "#000000\n", "",
    "#F4F0E4", "transparent", "url(http://192.0.2.1/x)", "#2F4A7D",
)  # fmt: skip
COUNTS: Final = (
    "20/2", "8/2", "2/20", "0/2", "20/0", "0/0", "20/2/2", "1/999999999", "999999999/1", "-20/2", "20", "Nm 20/2", "20/2 lea",
    "½", "1/2", "0.000000001", "9" * 40, "20/2\n", "1 1/2", "20//2", "/", "20 / 2", "2.5/2", "1e3/2", "nan", "16:2", "٢٠/٢",
)  # fmt: skip
TEXTS: Final = (
    "", " ", "x", "a" * 39, "a" * 41, "W" * 200, "W" * 201, "word " * 60, "Ab cd " * 600, "x" * 4001, "x" * 100_000,
    "a\nb", "a\n\n\nb\n", "\n", "\t", "a\tb", "a\u0000b", "\u001b[2J\u001b]0;gone\u0007", "\u202egnp.exe", "\u2066\u2069",
    "\u200b", "\u200f", "\ufeff", "\u2028", "\u0085", "e\u0301", "a" + "\u0301" * 300, "🧶🪡", "👩‍👩‍👧", "\U0001f1ec\U0001f1e7",
    "日本語", "עברית", "العربية", "Ünï ćödé", "ﬁﬂ", "ǅ", "ß", "İ", "\ud800", "\udcff", "\uffff", "\U0010ffff", "A\u00a0B", "\u3000",
    "{0}", "%s%n", "{title}", "${HOME}", "$(id)", "`id`", "'; drop", "<b>&amp;</b>", "&lt;", "</svg>", "\\", "\\x", "(()", "endobj",
    "../../etc/passwd", "/etc/passwd", "C:\\x", "file:///etc/passwd", "http://192.0.2.1/x", "CON", "NUL", ".", "..", "-rf", "--out=/x",
    "!!python/object/apply:os.system [id]", "!!int 3", "&a", "*a", "<<", "? x", "- x", "a: b", "a #b", "#b", "[", "]", "{", "}",
    "@", "`", "%", "|", ">", "'", '"', "“a”", "‘a", "a:", ":", ": ", "---", "...", "null", "true", "2026-11-20", "1900.10", "0812",
    "of", "1", "1 white", "no", "home", "far", "L1", "\u00ad", "a\u00adb", "㎜", "Ⅷ", "²", "¼", "\u0130" * 50, "Ж" * 60, "ł", "ẞ", "–", "…",
)  # fmt: skip
NAMES: Final = (
    "CON", "NUL", "aux", "com1", "..", ".", "...", "....", "-", "--", "-rf", "--help", "--out", "-x.yaml", " ", "  lead", "trail ",
    "dot.", "dots...", "a/b", "../up", "/abs", "a\\b", "C:", "a:b", "a*b?", "a|b", "<a>", '"', "'", "`", "$HOME", "~", "~root", "a\nb",
    "a\rb", "a\tb", "\x1b[2J", "\x07", "\x7f", "a\x00b", "\u202egnp.exe", "\u200f", "\u200b", "\ufeffx", "\u2028", "e\u0301",
    "a" + "\u0301" * 60, "🧶", "👩‍👩‍👧", "日本語", "עברית", "العربية", "İ", "ß", "\udcff", "\udc80\udcfe", "caf\udce9", "\ud800",
    "a" * 80, "a" * 81, "a" * 240, "a" * 250, "a" * 300, "é" * 120, "é" * 200, "x.pdf", ".pdf", "x.yaml", ".yaml", "x.yaml.yaml", "x.PDF",
    "record", "three-paths", "%s", "{0}", "0", "", "\u3000", "two words", "tape,pdf", "x;y", "#", "&", "!", "@x", "@", "==", "a" * 5000,
)  # fmt: skip
KEYS: Final = (
    "", "title", "Title", "titel", "warp", "yarns", "rows", "kind", "0", "null", "<<", "__class__", "$ref", "ends ", "e\u0301nds", "x" * 300,
    "\u200b", "weft\u202e", "no", "~", "constructor", "-", "?", "colour", "color", "white", "\U0001f9f6",
)  # fmt: skip

_BY_TITLE: Final = {
    "a length with its unit": LENGTHS,
    "a weight with its unit": WEIGHTS,
    "a percentage": SHARES,
    "a colour": COLOURS,
}
_BY_KEY: Final = {"count": COUNTS, "price": TEXTS, "yarns": NAMES}


def number(chance: Random) -> str:
    """A number as nobody should write it, or one that is only large, small or odd."""
    kind = chance.random()
    if kind < 0.5:
        return chance.choice(NUMBERS)
    if kind < 0.7:
        return str(chance.randint(-3, 120))
    if kind < 0.85:
        return str(10 ** chance.randint(0, 12) + chance.randint(-1, 1))
    return f"{chance.uniform(0, 10 ** chance.randint(-6, 8)):.{chance.randint(0, 12)}f}"


def text(chance: Random) -> str:
    """Words that are none, or two such joined."""
    found = chance.choice(TEXTS)
    return found if chance.random() < 0.8 else found + chance.choice(TEXTS)


def length(chance: Random) -> str:
    """A length that is none, or is only very long or very short."""
    if chance.random() < 0.6:
        return chance.choice(LENGTHS)
    size = chance.uniform(0, 10 ** chance.randint(-3, 5))
    return f"{size:.{chance.randint(0, 9)}f} {chance.choice(('mm', 'cm', 'm', 'in', 'ft', 'yd'))}"


def name(chance: Random) -> str:
    """A name for a file, a folder, a yarn or a tape."""
    found = chance.choice(NAMES)
    return found if chance.random() < 0.75 else found + chance.choice(NAMES)


def value(chance: Random, key: str, title: str, kind: str) -> str:
    """A hostile value for a key, of the sort that its schema asks for or of another."""
    if chance.random() < 0.15:
        return chance.choice((text, number, length))(chance)
    if title == "a length with its unit":
        return length(chance)
    if pool := _BY_TITLE.get(title) or _BY_KEY.get(key):
        return chance.choice(pool)
    return number(chance) if kind in ("integer", "number") else text(chance)

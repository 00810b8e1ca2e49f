"""Values as a person would type them into a file: text quoted only where it must be, lengths in handy units."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from fractions import Fraction
from typing import Final

from cardmaker.model.units import GRAMS_PER_POUND, MM_PER_INCH

_PLAIN: Final = re.compile(r"[^\W_](?:[\w ./-]*[\w.])?")
_PLACES: Final = 9  # decimals that a file may have
_ESCAPES: Final = {"\\": "\\\\", '"': '\\"', "\n": "\\n", "\t": "\\t"}


def yaml_string(value: str) -> str:
    """Text as it is where that is safe, else in double quotes, on one line."""
    if _PLAIN.fullmatch(value):
        return value
    return f'"{"".join(_ESCAPES.get(sign, sign) for sign in value)}"'


def yaml_list(values: Iterable[str]) -> str:
    """``[bookmark, bag tie]``."""
    return f"[{', '.join(map(yaml_string, values))}]"


def yaml_keys(values: Iterable[tuple[str, str]]) -> str:
    """``{fibre: linen, count: 20/2}`` of the values that are there."""
    return f"{{{', '.join(f'{key}: {value}' for key, value in values if value)}}}"


def yaml_lines(values: Iterable[tuple[str, str]], indent: str = "") -> Iterator[str]:
    """``fibre: linen``, ``count: 20/2``, a line for each of the values that are there."""
    return (f"{indent}{key}: {value}" for key, value in values if value)


def yaml_texts(key: str, lines: Iterable[str], indent: str = "") -> Iterator[str]:
    """A key with a list of texts under it, a line for each."""
    yield f"{indent}{key}:"
    yield from (f"{indent}  - {yaml_string(line)}" for line in lines)


def yaml_number(value: Fraction) -> str:
    """A decimal where it is one, else a mixed fraction, so that nothing is lost."""
    if (value * 10**_PLACES).denominator == 1:
        return _decimal(value)
    return _mixed(value)


def decimal_number(value: Fraction) -> str:
    """A decimal in any case, for keys that take nothing else."""
    return _decimal(Fraction(round(value * 10**_PLACES), 10**_PLACES))


def yaml_length(mm: Fraction) -> str:
    """``1.8 m``, ``60 cm``, ``72 in``, ``2 1/4 in``, ``15.5 mm``: the same length to the last bit."""
    inches = mm / MM_PER_INCH
    if not mm % 10:
        return f"{yaml_number(mm / 1000)} m" if not mm % 100 and mm >= 1000 else f"{yaml_number(mm / 10)} cm"
    if (inches * 16).denominator == 1:
        return f"{_mixed(inches)} in"
    return f"{yaml_number(mm)} mm" if (mm * 10**_PLACES).denominator == 1 else f"{yaml_number(inches)} in"


def yaml_weight(grams: Fraction) -> str:
    """``50 g``, ``4 oz``."""
    ounces = grams * 16 / GRAMS_PER_POUND
    return f"{yaml_number(ounces)} oz" if (ounces * 16).denominator == 1 else f"{yaml_number(grams)} g"


def yaml_share(part: Fraction) -> str:
    """``12 %``."""
    return f"{yaml_number(part * 100)} %"


def _mixed(value: Fraction) -> str:
    whole, rest = divmod(value, 1)
    return " ".join(str(part) for part in (whole, rest) if part)


def _decimal(value: Fraction) -> str:
    digits = f"{int(value * 10**_PLACES):0{_PLACES + 1}d}"
    return f"{digits[:-_PLACES]}.{digits[-_PLACES:]}".rstrip("0").rstrip(".")

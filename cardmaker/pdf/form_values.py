"""What a form holds that somebody filled in with a PDF reader, read back field by field.

Any PDF may be handed in instead. Readers save forms in many ways: values in the old place or behind it, ticks told by
their value, their appearance or both, fields with their places apart (ISO 32000-1:2008, 12.7.3 to 12.7.4).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, Final, NamedTuple

from cardmaker.model.tape_form import FIXED_FIELDS, LEAST_STRIPES, MOST_STRIPES, stripe_field
from cardmaker.pdf.distrusted import CannotReadPdf, dictionary, read_distrusted, whole

LARGEST_FORM: Final = 16 * 1024 * 1024  # bytes: ours has a hundredth of it
MOST_LETTERS: Final = 4000  # of one field
_MOST_FIELDS: Final = 2000
_DEEPEST: Final = 8
_MOST_PAGES: Final = 4  # whose other marks are looked at: a form has one
_OFF: Final = "/Off"
_OURS: Final = ("/Widget", "/Popup", "/Link")  # all other annotations were put there by somebody
_PICTURES: Final = (b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff")  # how a PNG and a JPEG begin
_TYPE_IT: Final = "type what stands on it into a form that cardmaker form makes"


class FormValues(NamedTuple):
    """The texts of the form's fields, and the boxes that are ticked; ``stripes`` is how many rows it has for them.

    ``is_written_over``: something stands on the page that is in no field, such as words of a drawing tool.
    """

    texts: Mapping[str, str]
    ticks: frozenset[str]
    stripes: int
    is_written_over: bool = False


class _Value(NamedTuple):
    text: str
    is_ticked: bool


def values_of_form(path: Path) -> FormValues:
    """What the form at ``path`` holds. Raises CannotReadPdf for what is no filled form of ours, and OSError."""
    if path.stat().st_size > LARGEST_FORM:
        raise CannotReadPdf("it is far larger than the form")
    data = path.read_bytes()
    if data.startswith(_PICTURES):
        raise CannotReadPdf(f"it is a picture, whose writing is not read: {_TYPE_IT}")
    if b"%PDF-" not in data[:1024]:
        raise CannotReadPdf("it is no PDF: name the form as your PDF reader saved it")
    return read_distrusted(data, _values)


def _values(reader: Any) -> FormValues:
    form = dictionary(dictionary(reader.trailer.get("/Root")).get("/AcroForm"))
    fields = whole(form.get("/Fields"))
    if not isinstance(fields, list) or not fields:
        if "/XFA" in form:
            raise CannotReadPdf(
                "its form is of another kind (XFA), without fields: fill in one that cardmaker form makes"
            )
        raise CannotReadPdf(f"it has no fields, as a scan, or a form that was printed to a PDF: {_TYPE_IT}")
    found: dict[str, _Value] = {}
    for count, (name, value) in enumerate(_fields(fields, {}, "", _DEEPEST)):
        if count > _MOST_FIELDS:
            raise CannotReadPdf(f"it has more than {_MOST_FIELDS} fields")
        if found.setdefault(name, value) != value:
            raise CannotReadPdf(f"it has two fields named {name[:60]!a}, which hold different things")
    return _of_our_form(found)._replace(is_written_over=_is_written_over(reader))


def _is_written_over(reader: Any) -> bool:
    for number in range(min(len(reader.pages), _MOST_PAGES)):
        marks = whole(reader.pages[number].get("/Annots"))
        kinds = [whole(dictionary(mark).get("/Subtype")) for mark in (marks if isinstance(marks, list) else [])]
        if any(kind is not None and kind not in _OURS for kind in kinds):
            return True
    return False


def _of_our_form(found: Mapping[str, _Value]) -> FormValues:
    rows = 0
    while rows < MOST_STRIPES and all(stripe_field(rows + 1, cell) in found for cell in ("ends", "colour")):
        rows += 1
    missing = [name for name in FIXED_FIELDS if name not in found]
    if len(missing) == len(FIXED_FIELDS) or not rows:
        raise CannotReadPdf("its fields are those of another form: fill in one that cardmaker form makes")
    if missing or rows < LEAST_STRIPES:
        name = (*missing, stripe_field(rows + 1, "ends"))[0]
        raise CannotReadPdf(f"it lacks the field {name}: fill in a new form that cardmaker form makes")
    texts = {name: value.text for name, value in found.items() if value.text}
    return FormValues(texts, frozenset(name for name, value in found.items() if value.is_ticked), rows)


def _fields(fields: Any, inherited: Mapping[str, Any], above: str, deep: int) -> Iterator[tuple[str, _Value]]:
    """Every field with its full name; what a field does not say its parent says for it."""
    if deep == 0:
        raise CannotReadPdf("its fields are knotted into themselves")
    for each in fields:
        field = dictionary(each)
        own = {key: whole(field[key]) for key in ("/FT", "/V") if key in field}
        known = {**inherited, **own}
        name = ".".join(filter(None, (above, str(whole(field.get("/T", ""))))))
        kids = whole(field.get("/Kids"))
        kids = list(map(dictionary, kids[: _MOST_FIELDS + 1])) if isinstance(kids, list) else []
        if named := [kid for kid in kids if "/T" in kid]:
            yield from _fields(named, known, name, deep - 1)
        else:
            yield name, _value(known, [field, *kids], name)


def _value(known: Mapping[str, Any], places: list[Any], name: str) -> _Value:
    if known.get("/FT") == "/Btn":
        told = known.get("/V")
        states = [told] if told is not None else [whole(place.get("/AS")) for place in places]
        return _Value("", any(state is not None and str(state) != _OFF for state in states))
    return _Value(_text(known.get("/V"), name), False)


def _text(value: Any, name: str) -> str:
    """The text of a field; a long one may be a stream."""
    if value is None:
        return ""
    told = value.get_data() if hasattr(value, "get_data") else value
    if isinstance(told, bytes):
        told = told[: 2 * MOST_LETTERS + 4]
        is_utf_16 = told.startswith((b"\xfe\xff", b"\xff\xfe"))
        told = told.decode(
            "utf-16" if is_utf_16 else "utf-8" if told.startswith(b"\xef\xbb\xbf") else "latin-1", "replace"
        )
    text = str(told).replace("\r\n", "\n").replace("\r", "\n").removeprefix("\ufeff").strip()
    if len(text) > MOST_LETTERS:
        raise CannotReadPdf(f"its field {name[:60]} holds more than {MOST_LETTERS:,} letters")
    return text

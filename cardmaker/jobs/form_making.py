"""``form``: the recording form as a PDF, for a screen or for a pencil."""

from __future__ import annotations

from itertools import chain, count
from pathlib import Path
from typing import TYPE_CHECKING, Final, Literal, NamedTuple

from cardmaker.files import write_many
from cardmaker.jobs.file_lookup import WrongUsage
from cardmaker.jobs.loading import load_settings
from cardmaker.jobs.own_settings import own_out
from cardmaker.model.carried_file import About
from cardmaker.wording import form_words

if TYPE_CHECKING:
    from cardmaker.wording.formatters import Units

_NAME: Final = "tape-form"


class FormRequest(NamedTuple):
    """What the command asks for; what it leaves out is as the settings say."""

    out: Path | None
    paper: Literal["letter", "a4"] | None
    units: Units | None


def write_form(request: FormRequest) -> Path:
    """Writes the form, but never over one that may be filled in: without a name of its own it gets the next number.

    Returns where it is. Raises WrongUsage, ProblemsFound, CannotWrite.
    """
    settings = load_settings()
    units: Units = request.units or settings.units or "metric"
    usual: Literal["letter", "a4"] = "a4" if settings.paper == "a4" else "letter"
    form = form_pdf(request.paper or usual, units)
    out = request.out or own_out(settings)
    target = out if out.suffix.lower() == ".pdf" and not out.is_dir() else _next_free(out, form)
    if not _may_write(target, form):
        raise WrongUsage(form_words.form_is_there(str(target)))
    write_many({target: form}, new=[] if target.exists() else [target])
    return target


def _next_free(folder: Path, form: bytes) -> Path:
    names = chain([_NAME], (f"{_NAME}-{number}" for number in count(2)))
    return next(path for name in names if _may_write(path := folder / f"{name}.pdf", form))


def _may_write(target: Path, form: bytes) -> bool:
    """Whether nothing is there, or the very form, which is empty then."""
    if not target.exists() and not target.is_symlink():
        return True
    return target.is_file() and target.stat().st_size == len(form) and target.read_bytes() == form


def form_pdf(paper: Literal["letter", "a4"], units: Units) -> bytes:
    """The form on this paper, with examples in these units."""
    from cardmaker.form.form_sheet import compose_form
    from cardmaker.pdf.draft import draft_of
    from cardmaker.pdf.fonts import RULER
    from cardmaker.pdf.painter import paint_drafts
    from cardmaker.school.handout_sheets import WHOLE

    page = compose_form(WHOLE[paper], RULER, units)
    return paint_drafts([draft_of(page)], About(form_words.FORM_TITLE, form_words.FORM_SUBJECT))

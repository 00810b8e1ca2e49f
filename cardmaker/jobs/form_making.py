"""``form``: the recording form as a PDF, for a screen or for a pencil."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Final, Literal, NamedTuple

from cardmaker.files import write_whole
from cardmaker.jobs.file_lookup import WrongUsage
from cardmaker.jobs.loading import load_settings
from cardmaker.jobs.own_settings import own_out
from cardmaker.model.carried_file import About

if TYPE_CHECKING:
    from cardmaker.wording.formatters import Units

_NAME: Final = "tape-form.pdf"


class FormRequest(NamedTuple):
    """What the command asks for; what it leaves out is as the settings say."""

    out: Path | None
    paper: Literal["letter", "a4"] | None
    units: Units | None


def write_form(request: FormRequest) -> Path:
    """Writes the form. Returns where it is. Raises WrongUsage, ProblemsFound, CannotWrite."""
    settings = load_settings()
    target = request.out or own_out(settings) / _NAME
    if target.is_dir():
        target /= _NAME
    if target.suffix.lower() != ".pdf":
        raise WrongUsage(f"{target} is no PDF: name a folder that is there, or a file that ends in .pdf.")
    units: Units = request.units or settings.units or "metric"
    usual: Literal["letter", "a4"] = "a4" if settings.paper == "a4" else "letter"
    write_whole(target, form_pdf(request.paper or usual, units))
    return target


def form_pdf(paper: Literal["letter", "a4"], units: Units) -> bytes:
    """The form on this paper, with examples in these units."""
    from cardmaker.form.form_sheet import compose_form
    from cardmaker.pdf.draft import draft_of
    from cardmaker.pdf.fonts import TypeRuler
    from cardmaker.pdf.painter import paint_drafts
    from cardmaker.school.handout_sheets import WHOLE
    from cardmaker.wording import form_words

    page = compose_form(WHOLE[paper], TypeRuler(), units)
    return paint_drafts([draft_of(page)], About(form_words.FORM_TITLE, form_words.FORM_SUBJECT))

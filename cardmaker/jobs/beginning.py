"""``begin``: a folder of one's own, with a settings file, one's loom and a first pattern that it holds.

Nothing is written before all is answered and agreed to, and never over a file that is there.
"""

from __future__ import annotations

from pathlib import Path
from typing import Final

from cardmaker.editing.new_pattern import USUAL_LENGTH, requested_pattern_text, usual_request
from cardmaker.editing.new_settings import SettingsRequest, requested_settings_text
from cardmaker.jobs.dialogue import Dialogue
from cardmaker.jobs.file_lookup import FOLDERS, SETTINGS_FILE, WrongUsage, own_settings_file
from cardmaker.jobs.loom_questions import asked_loom
from cardmaker.jobs.pattern_questions import as_finished, as_yarn, ask_for_title, file_of_title, why_not_on
from cardmaker.jobs.stripe_input import checked_stripes
from cardmaker.model.loom import Loom
from cardmaker.model.pattern import Stripe
from cardmaker.reading.pattern_file import parse_pattern
from cardmaker.reading.settings_file import parse_settings
from cardmaker.reading.stripe_text import Stripes
from cardmaker.reckoning.stripes.stripe_counts import stripe_refusals
from cardmaker.wording import loom_question_words, question_words
from cardmaker.wording.formatters import Units
from cardmaker.wording.new_file_words import colours_assumed

_OFFERED_ENDS: Final = 13  # few enough for a first evening
_MIDDLE, _EDGE = "white", "blue"


def begin() -> list[str]:
    """Asks for loom, units, paper and hand and for a first pattern, and makes the folder where the command runs.

    Returns the lines that tell of it. Raises WrongUsage, CannotWrite.
    """
    from cardmaker.jobs.editor_schemas import write_new

    if (there := own_settings_file()) is not None:
        raise WrongUsage(f"{there} is there already: this folder is begun. Run cardmaker alone to see what to do next.")
    files, lines = Dialogue().run(_questions)
    write_new(files)
    return [*map(str, files), *lines]


def _questions(dialogue: Dialogue) -> tuple[dict[Path, bytes], list[str]]:
    dialogue.tell([loom_question_words.BEGIN])
    units: Units = "us" if dialogue.choose(loom_question_words.UNITS) == "us" else "metric"
    paper = loom_question_words.PAPER._replace(default="letter" if units == "us" else "a4")
    chosen_paper = dialogue.choose(paper)
    hand = dialogue.choose(loom_question_words.HAND)
    loom_path, loom_text, loom = asked_loom(dialogue, None, Path(FOLDERS["loom"]), units)
    settings = requested_settings_text(SettingsRequest(loom.stem, units, chosen_paper, hand))
    parse_settings(settings.encode(), SETTINGS_FILE)  # it reads well
    pattern_path, pattern_text, told = _first_pattern(dialogue, loom, units)
    files = dialogue.agreed({Path(SETTINGS_FILE): settings, loom_path: loom_text, pattern_path: pattern_text})
    return files, [*told, *loom_question_words.begun(loom.title, pattern_path.stem)]


def _first_pattern(dialogue: Dialogue, loom: Loom, units: Units) -> tuple[Path, str, list[str]]:
    """Where the file of the first pattern is to be, its text, and what of it nobody has said."""
    folder = Path(FOLDERS["pattern"])
    title = ask_for_title(dialogue, None, folder)
    offered = ", ".join(f"{count} {name}" for count, name in offered_stripes(loom))
    question = loom_question_words.first_stripes_question(offered, loom)
    stripes = dialogue.ask(question, lambda text: _as_stripes(text, [], loom))
    while True:
        so_far = stripes
        more = question_words.more_stripes_question(so_far, half=False)
        stripes = dialogue.ask(more, lambda text, so_far=so_far: _as_stripes(text, so_far, loom))  # type: ignore[misc]
        if stripes == so_far:
            break
    names = list(dict.fromkeys(name for _, name in stripes))
    _, kind = dialogue.ask(loom_question_words.first_yarn_question(names), as_yarn)
    finished = dialogue.ask(question_words.length_question(USUAL_LENGTH[units]), as_finished)
    request = usual_request(title, stripes, finished)
    yarns = [
        yarn._replace(fibre=kind.fibre, label_count=kind.label_count, system=kind.system) for yarn in request.yarns
    ]
    request = request._replace(yarns=yarns)
    return (
        file_of_title(title, folder),
        requested_pattern_text(request),
        colours_assumed([(yarn.name, yarn.colour) for yarn in yarns]),
    )


def offered_stripes(loom: Loom) -> Stripes:
    """A first stripe that a loom holds, the same from both edges: thirteen ends, or as many as there is room for."""
    ends = min(_OFFERED_ENDS, loom.capacity)
    ends -= 1 - ends % 2
    edge = 2 if ends > 5 else 1
    if ends < 3:
        return [(max(ends, 1), _MIDDLE)]
    return [(edge, _EDGE), (ends - 2 * edge, _MIDDLE), (edge, _EDGE)]


def _as_stripes(text: str, before: Stripes, loom: Loom) -> Stripes:
    if before and text == question_words.THAT_IS_ALL:
        return before
    stripes = [*before, *checked_stripes(text)]
    for refusal in stripe_refusals([Stripe(name, count) for count, name in stripes]):
        raise ValueError(str(refusal))
    trial = parse_pattern(requested_pattern_text(usual_request("Trial", stripes, "")).encode(), "", "")
    if reason := why_not_on(loom, trial):
        raise ValueError(reason)
    return stripes

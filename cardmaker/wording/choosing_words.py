"""Which tapes suit what was asked, and why the others do not."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from fractions import Fraction
from typing import Final

from cardmaker.model.plan import Plan
from cardmaker.reckoning.stripes.ease import Ease
from cardmaker.wording.ease_words import RULE, ease_in_words
from cardmaker.wording.formatters import duration
from cardmaker.wording.phrases import capitalised, did_you_mean, end_count, listed, plural, sentence

MOST_REASONS: Final = 8  # tapes left out that are told one by one, unless all are asked for
NO_PACE: Final = "nothing tells how long it takes: its loom's file has no pace"
WISHES: Final = {
    "use": "what it is for",
    "ends": "the number of ends",
    "colours": "the colours",
    "loom": "the loom",
    "time": "the time",
    "yarn": "the yarn at hand",
}
"""What was asked, as it is called where tapes are counted that it leaves out."""


def how_easy(ease: Ease) -> str:
    """What makes a tape easy or hard, as a sentence for below its number of ends."""
    return sentence(capitalised(ease_in_words(ease, with_ends=False)))


def how_ordered() -> str:
    """The rule of the order, as it stands below the tapes."""
    return RULE


def used_for(purposes: Sequence[str]) -> str:
    """Why a tape is not for what was asked."""
    return f"it is for {listed(purposes)}" if purposes else "its file does not say what it is for"


def outside(ends: int, least: int, most: int) -> str:
    """Why a tape does not have as many ends as were asked."""
    return f"it has {end_count(ends)}, {f'fewer than {least}' if ends < least else f'more than {most}'}"


def other_colours(names: Sequence[str]) -> str:
    """Which of its yarns are of none of the colours asked for."""
    return f"it has {listed(names)} in it"


def takes_too_long(minutes: int, most: Fraction) -> str:
    """By how much a tape takes longer than there is time."""
    return f"it takes about {duration(minutes)}, {duration(minutes - most)} too long"


def unknown_colour(name: str, known: Sequence[str]) -> str:
    """That no yarn goes by a colour."""
    there_are = f"There are {listed(known)}." if known else ""
    return f"'{name}' is no colour that is known here. {did_you_mean(name.casefold(), known, there_are)}".strip()


def unknown_use(name: str, known: Sequence[str]) -> str:
    """That no tape is for something."""
    if not known:
        return f"No pattern says that it is for '{name}': none says what it is for. Write it under the key for."
    return f"No pattern is for '{name}'. {did_you_mean(name.casefold(), known, f'They are for {listed(known)}.')}"


def chosen(count: int, of: int) -> str:
    """The first line: how many suit."""
    easiest = ", the easiest first" if count > 1 else ""
    return f"{count} of {plural(of, 'tape')} {'suits' if count == 1 else 'suit'}{easiest}:"


def chosen_for_yarn(whole: int, some: int, of: int) -> str:
    """The same where yarn is at hand: how many can be woven of it alone, and how many with some that is bought."""
    tapes = plural(of, "tape")
    if not some:
        return f"{whole} of {tapes} can be woven of your yarn{', the easiest first' if whole > 1 else ''}:"
    if not whole:
        return f"None of {tapes} can be woven of your yarn alone, and {some} with some that is bought:"
    return f"{whole} of {tapes} can be woven of your yarn alone, and {some} with some that is bought, after them:"


def tape_line(plan: Plan, ease: Ease) -> str:
    """One tape: ``three-paths  Three Paths: 31 ends, ...; about 2 h 53 min in all``."""
    time = f"; about {duration(plan.pace.work.needed_minutes)} in all" if plan.pace else ""
    return f"  {plan.pattern.stem:<18} {plan.pattern.title}: {ease_in_words(ease)}{time}"


def left_out_lines(left_out: Sequence[tuple[str, str, str]], *, all_of_them: bool) -> list[str]:
    """The tapes that do not suit, each with its reason; of many how many each wish leaves out. Each is given with its
    title, the wish by its name and the reason."""
    if not left_out:
        return []
    if all_of_them or len(left_out) <= MOST_REASONS:
        return ["Left out:", *(f"  {title}: {reason}" for title, _, reason in left_out)]
    counts = Counter(wish for _, wish, _ in left_out)
    if len(counts) == 1:
        return [f"{len(left_out)} are left out for {WISHES[left_out[0][1]]}. --why tells each."]
    told = listed([f"{count} for {WISHES[wish]}" for wish, count in counts.most_common()])
    return [f"{len(left_out)} are left out: {told}. --why tells each."]


def nothing_fits(failures: Iterable[tuple[str, str]], nearest: str, reasons: Sequence[str], tapes: int) -> str:
    """That no tape suits, which wish leaves out the most, and which tape is nearest; ``failures`` are wishes with a
    tape each, ``reasons`` what the nearest one lacks."""
    counts = Counter(wish for wish, _ in failures)
    wish, most = counts.most_common(1)[0]
    what = capitalised(WISHES[wish])
    outs = "leaves it out" if tapes == 1 else f"leaves out {f'all {tapes}' if most == tapes else f'{most} of {tapes}'}"
    return f"No tape suits. {what} {outs}. Nearest is {nearest}: {listed(reasons)}."

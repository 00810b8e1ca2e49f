"""How long warm cards of distinct patterns take: ``python -m tests.benchmarks.distinct [CARDS] [LAYOUT]``.

Every pattern has its own title, stripes, facts and notes, made of words that no other has, so that nothing which is
kept by a pattern's own words helps. Medians of each step are printed, in milliseconds and as shares of the whole, and
what a thousand cards would take in one process.
"""

from __future__ import annotations

import sys
from pathlib import Path
from random import Random
from statistics import median
from tempfile import TemporaryDirectory
from time import perf_counter

from cardmaker.card.composing import compose_card
from cardmaker.jobs import file_lookup, loading, plan_making
from cardmaker.model.carried_file import About
from cardmaker.pdf.draft import draft_of
from cardmaker.pdf.fonts import TypeRuler
from cardmaker.pdf.painter import paint_drafts

_SYLLABLES = ("ba", "den", "ki", "lor", "ma", "ned", "or", "pe", "ros", "sti", "tam", "u", "ven", "win", "yar", "zel")
_FACTS = (
    "what",
    "holder",
    "attached_to",
    "place",
    "period",
    "counted_how",
    "certainty",
    "fibre",
    "twist",
    "colour_today",
)


def _word(chance: Random) -> str:
    return "".join(chance.choices(_SYLLABLES, k=chance.randint(1, 4)))


def _words(chance: Random, count: int) -> str:
    return " ".join(_word(chance) for _ in range(count)).capitalize()


def pattern_text(number: int) -> str:
    """The file of one pattern: as long as those of the catalogue, and like no other."""
    chance = Random(number)
    half = [f"{chance.randint(1, 4)} {yarn}" for yarn in chance.choices(("red", "white", "blue"), k=4)]
    stripes = [*half, f"{chance.randint(5, 9)} white", *half[::-1]]
    colours = {yarn: f"#{chance.randrange(0x1000000):06X}" for yarn in ("red", "white", "blue")}
    lines = [f"title: {_words(chance, 3)} {number}", f"code: D{number}", f"about: {_words(chance, 12)}.", "yarns:"]
    lines += [
        f'  {yarn}: {{fibre: linen, count: 20/2, ends_per_inch: 49.3, colour: "{colour}", shade: {_word(chance)}}}'
        for yarn, colour in colours.items()
    ]
    lines += ["warp:", *(f"  - {stripe}" for stripe in stripes), "length: {finished: 72 in, take_up: 12 %}"]
    lines += ["source:", "  grade: B", *(f"  {fact}: {_words(chance, 8)}" for fact in _FACTS), "notes:"]
    for reader in ("student", "teacher", "visitor"):
        lines += [f"  {reader}:", *(f"    - {_words(chance, 12)}." for _ in range(3))]
    return "\n".join([*lines, "changes:", f"  - {{version: 1, date: 2026-09-05, what: {_words(chance, 6)}}}", ""])


def main(cards: int, layout: str) -> int:
    cut = loading.load_layout(file_lookup.find("layout", layout))
    bench = plan_making.load_plan_setup(
        None, None, any_pegs=plan_making.shows_pegs(cut), in_full=plan_making.asks_bench(cut)
    )
    steps: dict[str, list[float]] = {"read": [], "reckon": [], "compose": [], "draft": [], "paint": []}
    with TemporaryDirectory() as folder:
        for number in range(cards + 1):
            path = Path(folder, f"d{number}.yaml")
            path.write_text(pattern_text(number), "utf-8")
            times = [perf_counter()]
            pattern = loading.load_pattern(path)
            times.append(perf_counter())
            plan = plan_making.plan_for(pattern, bench)
            times.append(perf_counter())
            page = compose_card(plan, cut, cut.papers[0], TypeRuler()).page
            times.append(perf_counter())
            draft = draft_of(page)
            times.append(perf_counter())
            paint_drafts([draft], About(page.title, "", "", ""))
            times.append(perf_counter())
            for taken, start, stop in zip(steps.values(), times, times[1:], strict=False):
                taken.append(1000 * (stop - start))
    medians = {step: median(taken[1:]) for step, taken in steps.items()}  # the first is not warm
    whole = sum(medians.values())
    for step, time in medians.items():
        print(f"  {step:8} {time:5.1f} ms  {100 * time / whole:3.0f} %")
    print(f"  a card   {whole:5.1f} ms; a thousand in one process {whole:.0f} s")
    return 0


if __name__ == "__main__":
    said = sys.argv[1:]
    sys.exit(main(int(said[0]) if said else 40, said[1] if len(said) > 1 else "record"))

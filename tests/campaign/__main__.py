"""``python -m tests.campaign``: every case, over two processes; a line for every law that was broken, and a file with
a case for every way in which it was."""

from __future__ import annotations

import argparse
import re
import time
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from itertools import groupby, islice
from pathlib import Path
from typing import Final

from cardmaker.jobs import card_making
from cardmaker.pdf.preview import preview_png
from tests.campaign.cases import Case, all_cases, case_of
from tests.campaign.trial import (
    TOLD,
    Fault,
    faults_of,
    layout_of_case,
    paper_of_case,
    pattern_text,
    plan_of_case,
)

ON_PAPER_EVERY: Final = 60
KEPT: Final = 4  # cases for one way of breaking a law
WORDING: Final = re.compile(r"'.*'|[\d.]+|\{.*?\}")  # what differs between two cases of one way


def main() -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.campaign", description=__doc__)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument(
        "--every", type=int, default=1, help="only every so many plans; not a multiple of 2 or 3, or kinds are left out"
    )
    parser.add_argument("--kind", action="append", help="only cases of this kind: shipped, ends, title, texts, own")
    parser.add_argument("--layout", action="append", help="only cards of this layout")
    parser.add_argument("--jobs", type=int, default=2)
    parser.add_argument("--out", type=Path, default=Path("campaign.txt"), help="the file with the cases")
    parser.add_argument("--show", metavar="CASE", help="tell what is wrong with one case, and draw it into --folder")
    parser.add_argument("--folder", type=Path, default=Path())
    options = parser.parse_args()
    if options.show:
        return _show(case_of(options.show), options.folder)
    return _campaign(options)


def _campaign(options: argparse.Namespace) -> int:
    cases = (
        case
        for case in all_cases(options.seed)
        if (not options.kind or case.kind in options.kind) and (not options.layout or case.layout in options.layout)
    )
    plans = (list(group) for _, group in groupby(cases, key=_plan_of))
    parts = list(islice(plans, 0, None, options.every))
    began, found = time.time(), defaultdict[tuple[str, str], list[tuple[Case, Fault]]](list)
    tried = Counter[str]()
    with ProcessPoolExecutor(options.jobs) as crew:
        for part, faults in zip(parts, crew.map(_try, parts, chunksize=4), strict=True):
            tried.update(case.kind for case in part)
            for case, fault in faults:
                found[fault.law, WORDING.sub("_", fault.what)].append((case, fault))
    options.out.write_text("\n".join(_reproducers(found)) + "\n", "utf-8")
    print(f"{sum(tried.values())} cards in {time.time() - began:.0f} s: {dict(tried)}")
    for line in _sum(found):
        print(line)
    return int(any(law != TOLD for law, _ in found))


def _plan_of(case: Case) -> tuple[str, ...]:
    return (case.kind, case.pattern, case.loom, case.units, str(case.left_hand), str(case.behind))


def _try(part: Sequence[Case]) -> list[tuple[Case, Fault]]:
    return [(case, fault) for case in part for fault in faults_of(case, on_paper=_is_drawn(case))]


def _is_drawn(case: Case) -> bool:
    return sum(case.key.encode()) % ON_PAPER_EVERY == 0


Found = dict[tuple[str, str], list[tuple[Case, Fault]]]


def _sum(found: Found) -> Iterator[str]:
    laws = dict.fromkeys(law for law, _ in sorted(found))
    for law in laws:
        cards = {case for (of, _), each in found.items() if of == law for case, _ in each}
        layouts = Counter(case.layout if case.kind != "own" else "own" for case in cards)
        yield f"{law}: {len(cards)} cards; {', '.join(f'{name} {many}' for name, many in layouts.most_common())}"


def _reproducers(found: Found) -> Iterator[str]:
    """The ways in which laws were broken, the most frequent first, each with some of its cases."""
    for (law, _), each in sorted(found.items(), key=lambda item: (item[0][0], -len(item[1]))):
        yield f"{law} ({len(each)}): {each[0][1].what}"
        for case, fault in each[:KEPT]:
            yield f"    {case.key}    {fault.what}"


def _show(case: Case, folder: Path) -> int:
    for fault in faults_of(case, on_paper=True):
        print(f"{fault.law}: {fault.what}")
    (folder / "case.yaml").write_text(pattern_text(case.kind, case.pattern), "utf-8")
    card = card_making.make_card(plan_of_case(case), layout_of_case(case), paper_of_case(case), case.units)
    (folder / "case.pdf").write_bytes(card.pdf)
    (folder / "case.png").write_bytes(preview_png(card.pdf))
    print(f"left out: {', '.join(card.left_out) or 'nothing'}; drawn into {folder / 'case.pdf'}")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())

"""``python -m tests.compare keep FOLDER`` before and after; then ``python -m tests.compare show BEFORE AFTER``."""

from __future__ import annotations

import argparse
import re
from collections import defaultdict
from pathlib import Path

from tests.compare.differ import Difference, differences
from tests.compare.keep import keep


def main() -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.compare", description=__doc__)
    steps = parser.add_subparsers(required=True)
    keeping = steps.add_parser("keep", help="keep all that a checkout makes")
    keeping.add_argument("folder", type=Path)
    keeping.add_argument("--checkout", type=Path, default=Path(), help="whose code and patterns (those of this folder)")
    keeping.add_argument("--sample", action="store_true", help="five patterns, on the first paper of every layout")
    keeping.set_defaults(run=_keep)
    showing = steps.add_parser("show", help="tell what differs between two kept folders")
    showing.add_argument("before", type=Path)
    showing.add_argument("after", type=Path)
    showing.set_defaults(run=_show)
    options = parser.parse_args()
    status: int = options.run(options)
    return status


def _keep(options: argparse.Namespace) -> int:
    run = keep(options.checkout.resolve(), options.folder.resolve(), sample=options.sample)
    print(f"{run} commands")
    return 0


def _show(options: argparse.Namespace) -> int:
    """The files in which more than words changed, then every changed sentence once, numbers aside.

    Status 1 when more than words changed.
    """
    differing = differences(options.before, options.after)
    kept = sum(1 for path in options.before.rglob("*.*"))
    more = [difference for difference in differing if difference.parts]
    print(f"{kept} files kept, {len(differing)} differ, {len(more)} of them in more than words")
    for difference in more:
        print(f"  {', '.join(difference.parts)}: {difference.name}")
    for (where, before, after), names in _by_sentence(differing).items():
        print(f"\n{where}, {len(names)} times, such as in {names[0]}\n  - {before}\n  + {after}")
    return 1 if more else 0


def _by_sentence(differing: list[Difference]) -> dict[tuple[str, str, str], list[str]]:
    """The files in which a sentence changed, by that sentence; those that differ in a number only count as one."""
    first: dict[tuple[str, str, str], tuple[str, str, str]] = {}
    files: dict[tuple[str, str, str], list[str]] = defaultdict(list)
    for difference in differing:
        for where, before, after in difference.changes:
            shape = (where, re.sub(r"[\d.,]+", "0", before), re.sub(r"[\d.,]+", "0", after))
            files[first.setdefault(shape, (where, before, after))].append(difference.name)
    return files


if __name__ == "__main__":
    raise SystemExit(main())

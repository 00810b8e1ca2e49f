"""The second calculator against the program, where yarns have files of their own and tapes have taught something."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from random import Random
from typing import Final

import pytest
import yaml

from tests.helpers.second_answers import differences, folder_to_work_in, run, typed
from tests.helpers.second_calculator import ends_of, read_tree, second_plan
from tests.helpers.second_generator import Combination, combination
from tests.helpers.second_shelf import said_by_itself
from tests.helpers.second_sizes import Refused, Tree

COMBINATIONS: Final = 120
NEAR: Final = 0.003
OWN_KEYS: Final = ("colour", "spaces")  # that a pattern may say of a yarn without making it another


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    with folder_to_work_in(tmp_path_factory.mktemp("shelf")) as folder:
        (folder / "layouts/yarns").mkdir(parents=True)
        yield folder


def a_record(dice: Random, loom: str) -> Tree:
    record: Tree = {"pattern": "Other Tape", "date": f"20{dice.randint(20, 29)}"}
    if where := dice.choice([loom, loom, "Neighbour box", None]):
        record["loom"] = where
    figures = {
        "ends_per_inch": dice.choice([38.5, 44, 51.2]),
        "take_up": dice.choice(["9.5 %", "14 %", "17.2 %"]),
        "picks_per_inch": dice.choice([12, 14.5, 17]),
    }
    record |= {key: value for key, value in figures.items() if dice.random() < 0.7}
    if "take_up" in record and dice.random() < 0.4:
        record["shrinkage"] = dice.choice(["2 %", "4.5 %"])
    return record


def shelved(number: int) -> tuple[Combination, dict[str, Tree]]:
    """A combination with most of its yarns described in files; every second one of one yarn in several shades."""
    case, dice = combination(number), Random(5000 + number)
    pattern, loom = yaml.safe_load(case.pattern), yaml.safe_load(case.loom)
    shelf: dict[str, Tree] = {}
    kind = next(iter(pattern["yarns"].values()))
    taught = [a_record(dice, loom["title"]) for _ in range(dice.randint(1, 3))]
    one_yarn = number % 2 == 0
    for at, (name, yarn) in enumerate(pattern["yarns"].items()):
        if one_yarn:
            own = {key: yarn[key] for key in OWN_KEYS if key in yarn}
            yarn = {**{key: kind[key] for key in kind if key not in OWN_KEYS}, **own}
        pattern["yarns"][name] = yarn
        if one_yarn or dice.random() < 0.7:
            file = {key: value for key, value in yarn.items() if key not in OWN_KEYS}
            if dice.random() < 0.85:
                others = [a_record(dice, loom["title"]) for _ in range(dice.randint(1, 3))]
                file["measured"] = taught if one_yarn and dice.random() < 0.8 else others
            shelf[f"yarn-{at}"] = {"title": f"Yarn {at}", **file}
            own_keys = {key: yarn[key] for key in OWN_KEYS if key in yarn}
            pattern["yarns"][name] = {"yarn": f"yarn-{at}", "shade": f"shade {at}", **own_keys}
    if dice.random() < 0.5:
        loom.setdefault("measured", {})["waste"] = {"length": dice.choice(["17 in", "50 cm"]), "pattern": "Other Tape"}
    dumped = (yaml.safe_dump(each, sort_keys=False) for each in (pattern, loom))
    return case._replace(pattern=next(dumped), loom=next(dumped)), shelf


@pytest.fixture(scope="module")
def told() -> Counter[str]:
    """How often each figure came from a tape of another pattern."""
    return Counter()


@pytest.mark.parametrize("number", range(COMBINATIONS))
def test_every_figure_of_a_plan_with_yarns_from_the_shelf_is_ours(
    number: int, folder: Path, told: Counter[str]
) -> None:
    case, shelf = shelved(number)
    for stem, file in shelf.items():
        (folder / f"layouts/yarns/{stem}.yaml").write_text(yaml.safe_dump(file, sort_keys=False))
    answer = run("plan", "--json", *typed(folder, case))
    theirs = json.loads(answer.out) if answer.status == 0 else None
    thread = Fraction(str(theirs["lengths"]["wound_mm"])) if theirs and not case.span else None
    pattern = read_tree(case.pattern)
    trees = {stem: read_tree(yaml.safe_dump(file)) for stem, file in shelf.items()}
    try:
        by_itself = said_by_itself(pattern, trees, read_tree(case.loom), ends_of(pattern))
        texts = [yaml.safe_dump(tree, sort_keys=False) for tree in by_itself]
        ours = second_plan(texts[0], texts[1], case.warp, thread, case.view, case.units)
    except Refused:
        ours = None
    assert (theirs is None) == (ours is None), answer.problems
    if theirs is not None:
        assert list(differences(ours, theirs, NEAR)) == []
        told.update([*(theirs["learned"] or {"measured_on": ()})["measured_on"]])
    told["tried"] += 1


def test_enough_of_them_reckoned_with_what_was_taught(told: Counter[str]) -> None:
    if told["tried"] == COMBINATIONS:  # else others were tried elsewhere
        figures = ("width", "take-up", "shrinkage", "waste", "picks per inch")
        assert {figure: told[figure] >= 5 for figure in figures} == dict.fromkeys(figures, True)

"""How long a class of records takes to make, each way. Run by hand: ``python -m tests.benchmarks.records``.

All ways take turns in one run; absolute times swing with the machine, the ratios to ``@record`` are what to compare.
"""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from tempfile import TemporaryDirectory
from time import perf_counter
from typing import Final, NamedTuple

from cardmaker.model.record_class import record

ROUNDS, CLASSES = 30, 50
_LOADED: Final = """
import json, sys
from cardmaker.model import records
kinds = []
make = records.record
records.record = lambda plain: kinds.append(plain.__name__) or make(plain)
from cardmaker.cli.command_line import run_command_line
run_command_line(["card", "three-paths", "--out", sys.argv[1]])
sys.stderr.write(json.dumps(len(kinds)))
"""


def with_record() -> type:
    @record
    class Example:
        name: str
        ends: int
        width_mm: float = 0
        text: str = ""
        lines: tuple[str, ...] = ()

    return Example


def with_named_tuple() -> type:
    class Example(NamedTuple):
        name: str
        ends: int
        width_mm: float = 0
        text: str = ""
        lines: tuple[str, ...] = ()

    return Example


def with_dataclass() -> type:
    @dataclass(frozen=True, slots=True)
    class Example:
        name: str
        ends: int
        width_mm: float = 0
        text: str = ""
        lines: tuple[str, ...] = ()

    return Example


WAYS: Final[dict[str, Callable[[], type]]] = {
    "record": with_record,
    "NamedTuple": with_named_tuple,
    "dataclass": with_dataclass,
}


def seconds_for_class() -> dict[str, float]:
    """The quickest round of each way, for one class."""
    times: dict[str, list[float]] = {name: [] for name in WAYS}
    for _ in range(ROUNDS):
        for name, make in WAYS.items():
            start = perf_counter()
            for _ in range(CLASSES):
                make()
            times[name].append((perf_counter() - start) / CLASSES)
    return {name: min(each) for name, each in times.items()}


def classes_of_a_card() -> int:
    """How many records a cold card makes."""
    with TemporaryDirectory() as folder:
        command = [sys.executable, "-c", _LOADED, f"{folder}/card.pdf"]
        run = subprocess.run(command, capture_output=True, text=True, check=True)
    return int(json.loads(run.stderr))


def main() -> None:
    taken = seconds_for_class()
    classes = classes_of_a_card()
    for name, seconds in taken.items():
        more = f"{1000 * classes * (seconds - taken['record']):+6.1f} ms a cold card"
        print(f"{name:11} {1e6 * seconds:6.0f} µs a class  x {seconds / taken['record']:5.1f}  {more}")
    print(f"a cold card makes {classes} records")


if __name__ == "__main__":
    main()

"""A small sample of the hostile inputs, and that the guard over them would notice what it watches for."""

from __future__ import annotations

import subprocess
import sys
from collections import Counter

import pytest

from tests.fuzz.__main__ import campaign, report
from tests.fuzz.inputs import make_input
from tests.fuzz.kinds import KINDS
from tests.fuzz.trial import Fault, Ran, _check_words
from tests.helpers.places import ROOT

SEED, SAMPLE = 20, 400
LINUX = pytest.mark.skipif(sys.platform != "linux", reason="limits of processor time and memory are asked of Linux")


@LINUX
def test_a_sample_of_hostile_inputs_ends_well() -> None:
    total = campaign(SAMPLE, SEED, jobs=1, coverage=False)
    assert not total["failed"], "\n".join(report(total))
    ended: Counter[str] = Counter()
    for key, number in total["counts"].items():
        ended.update(dict.fromkeys(key.split(), number))
    assert {kind.name for kind in KINDS} | {"text", "change", "schema", "name"} <= set(ended)
    assert ended["fine"] > SAMPLE / 20
    assert ended["told"] > SAMPLE / 4


def test_the_same_number_is_the_same_input() -> None:
    assert [make_input(7, number) for number in range(40)] == [make_input(7, number) for number in range(40)]
    assert make_input(7, 1).data != make_input(8, 1).data


WATCHED = {
    "open('/etc/hostname')": "read '/etc/hostname'",
    "open('elsewhere', 'w')": "wrote",
    "__import__('os').mkdir('elsewhere')": "wrote",
    "__import__('socket').socket()": "socket.__new__",
    "__import__('subprocess').run(['true'])": "subprocess.Popen",
    "__import__('os').system('true')": "os.system",
    "[0 for _ in iter(int, 1)]": "TooSlow",
    "bytearray(10**9)": "MemoryError",
    "open('out/card', 'w').close()": "",
    "open('asked for').close()": "",
}


@LINUX
@pytest.mark.parametrize("act", WATCHED)
def test_the_guard_notices(act: str, tmp_path: object) -> None:
    code = f"""
import os, subprocess, socket
from pathlib import Path
from tests.fuzz import guard
guard.MOST_SECONDS = 0.2
os.chdir({str(tmp_path)!r}); os.mkdir('out'); Path('asked for').touch()
watch = guard.Guard(Path({str(ROOT)!r}))
guard.limit_memory()
try:
    with watch.watching('out'):
        {act}
except BaseException as no:
    print(type(no).__name__)
print(watch.breaches)
"""
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert WATCHED[act] in done.stdout
    assert WATCHED[act] or done.stdout == "[]\n"


@pytest.mark.parametrize(
    ("ran", "why"),
    [
        (Ran(1, "", "a file is wrong\n"), "no place"),
        (Ran(1, "", ""), "without a word"),
        (Ran(3, "", "x"), "exit status 3"),
        (Ran(0, "\x1b[2J", ""), "U\\+001B is sent"),
        (Ran(2, "", "Traceback\n"), "wrong usage told"),
        (Ran(0, '{"ends": NaN}', ""), "no JSON"),
    ],
)
def test_a_bad_end_is_noticed(ran: Ran, why: str) -> None:
    with pytest.raises(Fault, match=why):
        _check_words(ran, ["plan", "x", "--json"])

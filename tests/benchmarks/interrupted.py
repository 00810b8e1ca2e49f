"""Commands that are stopped at random moments: ``python -m tests.benchmarks.interrupted [TIMES] [SEED]``.

Every time one command runs in a process of its own over files that stand there already, and is sent SIGINT, SIGTERM or
SIGKILL: alone, or with its helpers, as a terminal does. Afterwards every file must be the old one or the new one, byte
for byte; nothing else may lie in the folder; no process of the command may live; and the command must have told it in
one line. Then two commands at once write one file, again and again, and a disk is too small for the new file.
"""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
from collections import Counter
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory
from time import monotonic, perf_counter, sleep
from typing import NamedTuple

from tests.benchmarks.cold import AS_INSTALLED
from tests.helpers.places import ROOT, shipped_alone, shipped_in

PATIENCE_S = 60
DISK_KB = 20  # less than a card
LINE = "cardmaker: interrupted; no file is left half written\n"
SIGNALS = (signal.SIGINT, signal.SIGTERM, signal.SIGKILL)
Files = dict[str, bytes]


class Errand(NamedTuple):
    """A command that writes into the folder it is run in, what it writes, and how long it takes in peace."""

    name: str
    arguments: tuple[str, ...]
    files: Files
    seconds: float


class Stopped(NamedTuple):
    """What came of a command that was sent a signal. ``faults`` is empty when all is well."""

    errand: str
    sent: signal.Signals
    status: int
    outcome: str
    faults: tuple[str, ...]


def asked(scratch: Path) -> dict[str, tuple[str, ...]]:
    """The commands: a card, a binder by one process and by helpers, a class, and a binder given back."""
    patterns = str(shipped_alone() / "patterns")
    school_class = str(min(shipped_in("layouts/classes")))
    return {
        "card": ("card", "three-paths", "--out", "card.pdf"),
        "binder": ("binder", patterns, "--out", "binder.pdf", "--jobs", "1"),
        "binder, helped": ("binder", patterns, "--out", "binder.pdf", "--jobs", "2"),
        "class": ("class", school_class, "--out", "."),
        "restore": ("restore", str(scratch / "binder" / "binder.pdf"), "--out", ".", "--force"),
    }


def errands(scratch: Path, names: Sequence[str] = ()) -> list[Errand]:
    """Every command, run once in peace to learn what it writes and how long it takes."""
    found = []
    for name, arguments in asked(scratch).items():
        if names and name not in names:
            continue
        folder = scratch / name
        folder.mkdir()
        start = perf_counter()
        subprocess.run(_command(arguments), cwd=folder, env=_environment(), check=True, capture_output=True)
        found.append(Errand(name, arguments, files_in(folder), perf_counter() - start))
    return found


def files_in(folder: Path) -> Files:
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def stopped(errand: Errand, sent: signal.Signals, after_s: float, folder: Path, *, with_helpers: bool) -> Stopped:
    """One run of the command in ``folder``, which holds older files of the same names, stopped after a while."""
    old = {name: data[:5] + b" older " + data[::-1] for name, data in errand.files.items()}
    for name, data in old.items():
        (folder / name).write_bytes(data)
    run = _begun(errand.arguments, folder)
    sleep(after_s)
    (os.killpg if with_helpers else os.kill)(run.pid, sent)
    try:
        said = run.communicate(timeout=PATIENCE_S)[1]
    except subprocess.TimeoutExpired:
        os.killpg(run.pid, signal.SIGKILL)
        run.communicate()
        return Stopped(errand.name, sent, run.returncode, "did not end", ("it did not end",))
    found = files_in(folder)
    faults = [*_files_faults(found, old, errand.files), *_told_faults(sent, run.returncode, said)]
    if not all_gone(run.pid):
        faults.append("a process lives on")
        os.killpg(run.pid, signal.SIGKILL)
    outcome = "old, Python was starting" if _before_us(said) else _outcome(found, old, errand.files)
    return Stopped(errand.name, sent, run.returncode, outcome, tuple(faults))


def _begun(arguments: Sequence[str], folder: Path) -> subprocess.Popen[str]:
    return subprocess.Popen(
        _command(arguments), cwd=folder, env=_environment(), stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE, text=True, start_new_session=True,
    )  # fmt: skip


def _command(arguments: Sequence[str]) -> list[str]:
    return [sys.executable, "-m", "cardmaker", *arguments]


def _environment() -> dict[str, str]:
    return {**AS_INSTALLED, "PYTHONPATH": str(ROOT)}


def _files_faults(found: Files, old: Files, new: Files) -> Iterator[str]:
    yield from (f"{name} is left" for name in sorted(found.keys() - old.keys()))
    yield from (f"{name} is gone" for name in sorted(old.keys() - found.keys()))
    for name in found.keys() & old.keys():
        if found[name] not in (old[name], new[name]):
            yield f"{name} is neither the old file nor the new one"


def _told_faults(sent: signal.Signals, status: int, said: str) -> Iterator[str]:
    """One line and its own status when it was stopped, silence when it was done or there was nothing of ours yet."""
    if _before_us(said):
        return
    wanted = {-sent: "", 0: ""} if sent == signal.SIGKILL else {128 + sent: LINE, 0: "", -sent: ""}
    if status not in wanted or said != wanted[status]:
        yield f"it ended with {status} and said {said!r}"


def _before_us(said: str) -> bool:
    """Whether Python itself was still starting: then it tells so at length, and nothing of ours has been begun."""
    ours = [line for line in said.splitlines() if f"{os.sep}cardmaker{os.sep}" in line]
    return "KeyboardInterrupt" in said and all("__main__.py" in line and "in <module>" in line for line in ours)


def _outcome(found: Files, old: Files, new: Files) -> str:
    if found == old:
        return "old"
    return "new" if found == new else "some new"


def all_gone(group: int) -> bool:
    """Whether no process of the command is left, after a moment in which helpers notice that they are alone."""
    until = monotonic() + 5
    while _lives(group):
        if monotonic() > until:
            return False
        sleep(0.02)
    return True


def _lives(group: int) -> bool:
    try:
        os.killpg(group, 0)
    except ProcessLookupError:
        return False
    return True


def campaign(times: int, seed: int, names: Sequence[str] = ()) -> Iterator[Stopped]:
    """So many commands, each stopped at a random moment of its life."""
    chance = Random(seed)
    with TemporaryDirectory() as scratch:
        ways = errands(Path(scratch), names)
        for number in range(times):
            errand, sent = ways[number % len(ways)], SIGNALS[number // len(ways) % len(SIGNALS)]
            after_s, with_helpers = chance.random() * errand.seconds, chance.random() < 0.5
            with TemporaryDirectory() as folder:
                yield stopped(errand, sent, after_s, Path(folder), with_helpers=with_helpers)


def two_at_once(times: int, seed: int) -> Iterator[tuple[str, ...]]:
    """Two cards written to one file at about the same time; yields the faults of each time."""
    chance = Random(seed)
    commands = [("card", name, "--out", "card.pdf") for name in ("three-paths", "long-sixty")]
    with TemporaryDirectory() as scratch:
        whole = []
        for arguments in commands:
            subprocess.run(_command(arguments), cwd=scratch, env=_environment(), check=True, capture_output=True)
            whole.append(Path(scratch, "card.pdf").read_bytes())
        for _ in range(times):
            runs = []
            for arguments in commands:
                runs.append(_begun(arguments, Path(scratch)))
                sleep(0.05 * chance.random())
            said = [run.communicate()[1] for run in runs]
            faults = [f"it said {line!r}" for line in said if line] + [
                f"it ended with {run.returncode}" for run in runs if run.returncode
            ]
            found = files_in(Path(scratch))
            faults += [f"{name} is left" for name in found if name != "card.pdf"]
            faults += [] if found["card.pdf"] in whole else ["the file is neither card"]
            yield tuple(faults)


@contextmanager
def small_disk(kilobytes: int) -> Iterator[Path | None]:
    """A folder on a disk of its own, or None where none can be mounted."""
    folder = Path(os.path.realpath(TemporaryDirectory().name))
    folder.mkdir()
    mounted = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", f"size={kilobytes}k", "none", str(folder)], capture_output=True, check=False
    )
    try:
        yield folder if mounted.returncode == 0 else None
    finally:
        if mounted.returncode == 0:
            subprocess.run(["umount", str(folder)], check=False)
        shutil.rmtree(folder, ignore_errors=True)


def on_a_full_disk(folder: Path) -> tuple[str, ...]:
    """The faults of a card that finds no room in ``folder``, where an older one stands."""
    card = folder / "card.pdf"
    card.write_bytes(b"%PDF-older")
    done = subprocess.run(
        _command(("card", "three-paths", "--out", "card.pdf")), cwd=folder, env=_environment(), capture_output=True,
        text=True, check=False,
    )  # fmt: skip
    faults = list(_files_faults(files_in(folder), {"card.pdf": b"%PDF-older"}, {"card.pdf": b"%PDF-older"}))
    if (done.returncode, done.stdout, done.stderr) != (
        1,
        "",
        "cardmaker: card.pdf: cannot be written: the disk is full\n",
    ):
        faults.append(f"it ended with {done.returncode} and said {done.stdout + done.stderr!r}")
    return tuple(faults)


def main(times: int, seed: int) -> int:
    counted: Counter[tuple[str, str, str, str]] = Counter()
    bad = 0
    for one in campaign(times, seed):
        counted[one.errand, one.sent.name, str(one.status), one.outcome] += 1
        for fault in one.faults:
            bad += 1
            print(f"FAULT {one.errand}, {one.sent.name}, status {one.status}: {fault}", flush=True)
    print(f"{times} commands stopped, seed {seed}: {bad} faults")
    print(f"  {'command':16}{'signal':9}{'status':>7}  files                    times")
    for (errand, sent, status, outcome), count in sorted(counted.items()):
        print(f"  {errand:16}{sent:9}{status:>7}  {outcome:24}{count:6}")
    pairs = list(two_at_once(max(1, times // 5), seed))
    bad += sum(map(len, pairs))
    print(f"two at once on one file, {len(pairs)} times: {sum(map(len, pairs))} faults {sorted(set(sum(pairs, ())))}")
    with small_disk(DISK_KB) as disk:
        if disk is None:
            print("a full disk: none could be mounted here; try it under unshare -rm")
        else:
            faults = on_a_full_disk(disk)
            bad += len(faults)
            print(f"a disk of {DISK_KB} kB: {len(faults)} faults {faults}")
    return 1 if bad else 0


if __name__ == "__main__":
    said = sys.argv[1:]
    sys.exit(main(int(said[0]) if said else 200, int(said[1]) if len(said) > 1 else 1))

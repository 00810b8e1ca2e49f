"""PDFs that are small and ask for everything: time, memory, or files without end. Written byte by byte, as no library
would write them.

``python -m tests.fuzz.greedy_documents`` hands a hundred of them to ``restore``, each in a process of its own, and
tells the worst time and memory; it fails where one is not refused in a sentence.
"""

from __future__ import annotations

import os
import sys
import zlib
from collections.abc import Callable, Mapping
from pathlib import Path
from random import Random
from subprocess import PIPE, Popen
from tempfile import TemporaryDirectory
from typing import Final, NamedTuple

from tests.helpers.places import ROOT

MEGABYTE: Final = 1024 * 1024
MOST_MEMORY: Final = 300 * MEGABYTE
MOST_SECONDS: Final = 15.0  # of the processor: the reader's own limit, and what starting takes


def written(objects: Mapping[int, bytes], trailer: bytes = b"", start: int | None = None) -> bytes:
    """A document of these objects, the first of which is its root, with a table of where they lie."""
    out = bytearray(b"%PDF-1.7\n")
    places = {}
    for number, body in objects.items():
        places[number] = len(out)
        out += b"%d 0 obj\n%s\nendobj\n" % (number, body)
    table, most = len(out), max(objects) + 1
    out += b"xref\n0 %d\n0000000000 65535 f \n" % most
    for number in range(1, most):
        out += b"%010d 00000 %s \n" % (places.get(number, 0), b"n" if number in places else b"f")
    told = trailer or b"/Size %d /Root 1 0 R" % most
    return bytes(out + b"trailer\n<< %s >>\nstartxref\n%d\n%%%%EOF\n" % (told, table if start is None else start))


def stream(data: bytes, extra: bytes = b"") -> bytes:
    packed = zlib.compress(data, 9)
    return b"<< /Length %d /Filter /FlateDecode %s >>\nstream\n%s\nendstream" % (len(packed), extra, packed)


def _root(tree: bytes) -> bytes:
    return b"<< /Type /Catalog /Names << /EmbeddedFiles %s >> >>" % tree


def shared_kids(chance: Random) -> bytes:
    """A tree of names whose nodes hang in many places: a few hundred bytes, and visits without end."""
    wide, deep = chance.randint(2, 60), chance.randint(3, 19)
    objects = {1: _root(b"2 0 R")}
    for level in range(2, deep + 2):
        objects[level] = b"<< /Kids [ %s ] >>" % (b"%d 0 R " % (level + 1) * wide)
    objects[deep + 2] = b"<< /Names [ ] >>"
    return written(objects)


def shared_file(chance: Random) -> bytes:
    """One file that grows when it is unpacked, under many names."""
    names = chance.randint(80, 2000)
    pairs = b" ".join(b"(a%d.yaml) << /F (a%d.yaml) /EF << /F 3 0 R >> >>" % (n, n) for n in range(names))
    objects = {1: _root(b"2 0 R"), 2: b"<< /Names [ %s ] >>" % pairs}
    return written(objects | {3: stream(b"#" * (MEGABYTE - chance.randint(0, 99)))})


def _in_lists(lists: int, filler: bytes) -> bytes:
    """Specifications of files that lie in lists of objects, each padded with what is long to read over."""
    pairs = b" ".join(b"(a%d.yaml) %d 0 R" % (n, 100 + n) for n in range(lists))
    objects = {1: _root(b"2 0 R"), 2: b"<< /Names [ %s ] >>" % pairs}
    body = bytearray(b"%PDF-1.7\n")
    places = {}
    for number, each in objects.items():
        places[number] = (1, len(body), 0)
        body += b"%d 0 obj\n%s\nendobj\n" % (number, each)
    for number in range(lists):
        head = b"%d 0 " % (100 + number)
        data = head + filler + b"<< /F (a%d.yaml) >>" % number
        places[10_000 + number] = (1, len(body), 0)
        places[100 + number] = (2, 10_000 + number, 0)
        packed = stream(data, b"/Type /ObjStm /N 1 /First %d" % len(head))
        body += b"%d 0 obj\n%s\nendobj\n" % (10_000 + number, packed)
    start, most = len(body), 10_000 + lists + 1
    places[most] = (1, start, 0)
    rows = b"".join(
        bytes([kind]) + place.to_bytes(4, "big") + bytes([last])
        for kind, place, last in (places.get(number, (0, 0, 0)) for number in range(most + 1))
    )
    table = stream(rows, b"/Type /XRef /W [1 4 1] /Size %d /Root 1 0 R" % (most + 1))
    body += b"%d 0 obj\n%s\nendobj\nstartxref\n%d\n%%%%EOF\n" % (most, table, start)
    return bytes(body)


def one_great_list(chance: Random) -> bytes:
    """A list of objects that grows to sixty megabytes of nothing."""
    return _in_lists(1, b" " * (chance.randint(20, 60) * MEGABYTE))


def many_lists(chance: Random) -> bytes:
    """Forty lists of objects, each within what one may unpack."""
    return _in_lists(chance.randint(40, 80), b" " * (3 * MEGABYTE))


def table_before_itself(chance: Random) -> bytes:
    """A table whose predecessor is itself."""
    sound = written({1: _root(b"<< /Names [ ] >>")})
    start = sound.index(b"xref\n")
    return written({1: _root(b"<< /Names [ ] >>")}, b"/Size 2 /Root 1 0 R /Prev %d" % (start + chance.randint(0, 1)))


def table_of_billions(chance: Random) -> bytes:
    """A table that claims more objects than any memory holds."""
    return written({1: _root(b"<< /Names [ ] >>")}, b"/Size %d /Root 1 0 R" % chance.choice((2**31, 2**63, 10**30)))


def subsections_of_billions(chance: Random) -> bytes:
    count = chance.choice((2**31, 2**40))
    return b"%%PDF-1.7\nxref\n0 %d\n0000000000 65535 f \ntrailer\n<< /Root 1 0 R >>\nstartxref\n9\n%%%%EOF\n" % count


def junk(chance: Random) -> bytes:
    """Noise behind the first line, with or without an end."""
    return b"%PDF-1.7\n" + chance.randbytes(chance.randint(1, 90) * MEGABYTE) + chance.choice((b"", b"\n%%EOF\n"))


def junk_of_objects(chance: Random) -> bytes:
    """Beginnings of objects without end, and no table: whoever mends it must look at each."""
    return b"%PDF-1.7\n" + b"1 0 obj\n<< /Type /Catalog\n" * (chance.randint(1, 20) * 10_000) + b"%%EOF\n"


def deep_arrays(chance: Random) -> bytes:
    deep = chance.choice((900, 50_000, 2_000_000))
    return written({1: _root(b"2 0 R"), 2: b"<< /Names %s >>" % (b"[" * deep + b"]" * deep)})


def long_array(chance: Random) -> bytes:
    return written({1: _root(b"2 0 R"), 2: b"<< /Names [ %s ] >>" % (b"1 " * chance.randint(1, 30) * 100_000)})


def names_that_hold_names(chance: Random) -> bytes:
    """References that lead in a ring."""
    ring = chance.randint(1, 9)
    objects = {2 + n: b"%d 0 R" % (2 + (n + 1) % ring) for n in range(ring)}
    return written({1: _root(b"2 0 R")} | objects)


GREEDY: Final[dict[str, Callable[[Random], bytes]]] = {
    make.__name__: make
    for make in (
        shared_kids,
        shared_file,
        one_great_list,
        many_lists,
        table_before_itself,
        table_of_billions,
        subsections_of_billions,
        junk,
        junk_of_objects,
        deep_arrays,
        long_array,
        names_that_hold_names,
    )
}


# The command, and then what it took. Not what the system tells of a process that has ended: on Linux that is at the
# least what the one had in use that began it (getrusage(2), ru_maxrss; proc(5), VmHWM).
_MEASURED: Final = """
import re, sys, time
from pathlib import Path
from cardmaker.cli.command_line import run_command_line
status = run_command_line(sys.argv[1:])
(most,) = re.findall(r"VmHWM:\\s+(\\d+) kB", Path("/proc/self/status").read_text())
print(time.process_time(), most)
sys.exit(status)
"""


class Ended(NamedTuple):
    """How a process ended, what it said, and what it took."""

    status: int
    said: str
    seconds: float
    memory: int


def restored(document: Path, out: Path) -> Ended:
    """``restore`` of a document, in a process of its own."""
    command = [sys.executable, "-c", _MEASURED, "restore", str(document), "--out", str(out)]
    with Popen(command, stderr=PIPE, stdout=PIPE, text=True, env=os.environ | {"PYTHONPATH": str(ROOT)}) as process:
        told, said = process.communicate()
    seconds, kibibytes = told.splitlines()[-1].split()
    return Ended(process.returncode, said, float(seconds), int(kibibytes) * 1024)


def faults_of(ended: Ended, document: Path, out: Path) -> list[str]:
    """What is wrong with how ``restore`` of a greedy document ended."""
    is_sentence = ended.said.startswith(f"{document}:1:1: ") and ended.said.count("\n") == 1
    found = {
        f"it ended with {ended.status}": ended.status != 1,
        f"it said {ended.said[:300]!r}": not is_sentence,
        f"it took {ended.memory // MEGABYTE} MB": ended.memory > MOST_MEMORY,
        f"it took {ended.seconds:.1f} s": ended.seconds > MOST_SECONDS,
        "it wrote files": out.exists() and any(out.iterdir()),
    }
    return [fault for fault, is_so in found.items() if is_so]


def main(count: int = 100) -> int:
    worst_time: tuple[float, str] = (0.0, "")
    worst_memory: tuple[int, str] = (0, "")
    faults = 0
    with TemporaryDirectory() as folder:
        document, out = Path(folder) / "greedy.pdf", Path(folder) / "out"
        for number in range(count):
            name = list(GREEDY)[number % len(GREEDY)]
            document.write_bytes(GREEDY[name](Random(number)))
            ended = restored(document, out)
            worst_time = max(worst_time, (ended.seconds, f"{name} {number}"))
            worst_memory = max(worst_memory, (ended.memory // MEGABYTE, f"{name} {number}"))
            for fault in faults_of(ended, document, out):
                faults += 1
                print(f"{name} {number}: {fault}")
    print(f"{count} documents, {faults} faults; longest {worst_time[0]:.1f} s ({worst_time[1]}), ", end="")
    print(f"most memory {worst_memory[0]} MB ({worst_memory[1]})")
    return bool(faults)


if __name__ == "__main__":
    sys.exit(main())

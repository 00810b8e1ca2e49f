"""What one command may do: how long, how large, and which files; everything else is written down as a breach.

The audit hook is Python's own (PEP 578): it sees every file that is opened, made, moved or taken away, every socket and
every process that is started.
"""

from __future__ import annotations

import os
import resource
import signal
import sys
import sysconfig
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from types import FrameType
from typing import Any, Final

MOST_SECONDS: Final = 2.0  # of the processor: the machine may be busy with other things
MOST_MB: Final = 300

_ALARMS: Final = (
    "socket.",
    "subprocess.",
    "os.system",
    "os.exec",
    "os.fork",
    "os.posix_spawn",
    "os.spawn",
    "webbrowser.",
)
_ALARMS_TOO: Final = ("urllib.", "ftplib.", "smtplib.", "http.", "ctypes.dlopen", "os.startfile", "pty.spawn")
_CHANGES: Final = ("os.mkdir", "os.rename", "os.remove", "os.rmdir", "os.truncate", "os.link", "os.symlink", "os.chmod")
_WRITING: Final = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC | os.O_APPEND


class TooSlow(BaseException):
    """The time is up. No ``except Exception`` may swallow it."""


class Guard:
    """Watches this process; there is one, since an audit hook can never be taken off again."""

    def __init__(self, root: Path) -> None:
        self.on = False
        self.breaches: list[str] = []
        self.writable: tuple[str, ...] = ()
        open_files = "/proc/self/fd"  # a file without a name gets one from here
        libraries = {
            open_files,
            sys.prefix,
            sys.base_prefix,
            *sysconfig.get_paths().values(),
            "/dev/null",
            "/dev/urandom",
        }
        self.readable = tuple(os.path.realpath(path) for path in (str(root), *libraries))
        self.slowest = 0.0
        self.allowed = MOST_SECONDS
        self.largest_mb = 0.0
        signal.signal(signal.SIGPROF, self._ring)
        sys.addaudithook(self._hear)

    def _ring(self, _: int, frame: FrameType | None) -> None:
        raise TooSlow(f"more than {self.allowed} s")

    def _hear(self, event: str, arguments: tuple[Any, ...]) -> None:
        if not self.on:
            return
        if event == "open":
            path, mode, flags = arguments[:3]
            self._opened(path, bool(flags & _WRITING) or (isinstance(mode, str) and set(mode) & set("wax+") != set()))
        elif event.startswith(_CHANGES):
            first, last = {"os.rename": (0, 2), "os.link": (1, 2), "os.symlink": (1, 2)}.get(event, (0, 1))
            for path in arguments[first:last]:
                self._opened(path, True, making=event == "os.mkdir")
        elif event.startswith(_ALARMS) or event.startswith(_ALARMS_TOO):
            self.breaches.append(event)

    def _opened(self, path: Any, writing: bool, making: bool = False) -> None:
        if isinstance(path, int):
            return
        real = os.path.realpath(os.fsdecode(path))
        if making and any(place.startswith(f"{real}/") for place in self.writable):
            return  # a folder on the way to what was asked for
        allowed = self.writable if writing else (*self.readable, *self.writable, os.getcwd())
        if not any(real == place or real.startswith(place.rstrip("/") + "/") for place in allowed):
            self.breaches.append(f"{'wrote' if writing else 'read'} {real!r}")

    @contextmanager
    def watching(self, *writable: str, seconds: float | None = None) -> Iterator[None]:
        """Watches what is done inside, and how long and how large it becomes; ``seconds`` of the processor are
        allowed, or as many as to a hostile input."""
        self.writable = tuple(os.path.realpath(path) for path in writable)
        before, started = _resident_mb("VmRSS"), time.process_time()
        _forget_peak()
        self.allowed = MOST_SECONDS if seconds is None else seconds
        signal.setitimer(signal.ITIMER_PROF, self.allowed)
        self.on = True
        try:
            yield
        finally:
            self.on = False
            signal.setitimer(signal.ITIMER_PROF, 0)
            self.slowest = max(self.slowest, time.process_time() - started)
            self.largest_mb = max(self.largest_mb, _resident_mb("VmHWM") - before)


def limit_memory() -> None:
    """No more address space than is in use now and what one command may take."""
    with suppress(OSError, ValueError):
        most = int((_resident_mb("VmSize") + MOST_MB) * 1024 * 1024)
        resource.setrlimit(resource.RLIMIT_AS, (most, most))


def _resident_mb(what: str) -> float:
    with suppress(OSError), open("/proc/self/status", encoding="ascii") as status:
        for line in status:
            if line.startswith(f"{what}:"):
                return int(line.split()[1]) / 1024
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def _forget_peak() -> None:
    """Linux only: the highest memory so far counts from now on."""
    with suppress(OSError), open("/proc/self/clear_refs", "w", encoding="ascii") as peak:
        peak.write("5")

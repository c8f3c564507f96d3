"""A real terminal for a program: a pseudo-terminal whose every byte is read, with times."""

from __future__ import annotations

import fcntl
import os
import pty
import re
import select
import signal
import struct
import termios
import time
from collections.abc import Mapping, Sequence
from pathlib import Path
from types import TracebackType

_ESCAPES = re.compile(
    rb"\x1b(?:\[[0-?]*[ -/]*[@-~]|\][^\x07\x1b]*(?:\x07|\x1b\\)|[PX^_].*?\x1b\\|[()][A-Z0-9]|.)", re.S
)


class Terminal:
    """A program in a terminal of 120 by 40 cells."""

    def __init__(self, argv: Sequence[str], env: Mapping[str, str], columns: int = 120, rows: int = 40) -> None:
        self.started = time.perf_counter()
        self.pid, self.master = pty.fork()
        if self.pid == 0:
            fcntl.ioctl(0, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))
            os.execvpe(argv[0], list(argv), dict(env))
        self.seen = b""

    def read(self, wait: float) -> bool:
        """Take in what was written within `wait` seconds; whether there was anything."""
        if not select.select([self.master], [], [], wait)[0]:
            return False
        try:
            self.seen += os.read(self.master, 1 << 16)
        except OSError as error:  # the program ended
            raise RuntimeError(f"the program ended early: {self.text()[-2000:]}") from error
        return True

    def text(self) -> str:
        """All that was written so far, without what moves the cursor or sets colours."""
        return _ESCAPES.sub(b"", self.seen).decode("utf-8", "replace")

    def wait_for(self, pattern: str, limit: float = 60) -> float:
        """Seconds from the start of the program until the text is there."""
        while not re.search(pattern, self.text()):
            if time.perf_counter() - self.started > limit:
                raise RuntimeError(f"{pattern!r} did not appear: {self.text()[-2000:]}")
            self.read(0.2)
        return time.perf_counter() - self.started

    def settle(self, quiet: float = 0.25) -> None:
        """Take in everything until nothing has been written for a while."""
        while self.read(quiet):
            pass

    def press(self, keys: bytes, quiet: float = 0.06) -> float:
        """Send keys; seconds until the last of what they drew was there."""
        start = last = time.perf_counter()
        os.write(self.master, keys)
        drawn = False
        while self.read(quiet if drawn else 1.0):
            drawn, last = True, time.perf_counter()
        if not drawn:
            raise RuntimeError("nothing was drawn")
        self.seen = b""
        return last - start

    def cpu(self) -> float:
        """Seconds of processor time the program has used (Linux: in hundredths)."""
        fields = Path(f"/proc/{self.pid}/stat").read_text().rpartition(")")[2].split()
        return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")

    def __enter__(self) -> Terminal:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        os.kill(self.pid, signal.SIGKILL)
        os.waitpid(self.pid, 0)
        os.close(self.master)

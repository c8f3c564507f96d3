"""A bar on standard error for what takes more than a second, if somebody can see it."""

from __future__ import annotations

import sys
import time
from types import TracebackType
from typing import Any

_AFTER = 1.0
"""Seconds until it appears: what is quicker needs no bar."""


class Bar:
    """Called as `bar(what, done, total)` while something goes on; used with `with`."""

    def __init__(self) -> None:
        """Nothing is drawn yet."""
        self._begun = time.monotonic()
        self._visible = sys.stderr.isatty()
        self._progress: Any = None
        self._task: Any = None

    def __call__(self, what: str, done: int, total: int) -> None:
        """Show how far it is."""
        if not self._visible or time.monotonic() - self._begun < _AFTER:
            return
        if self._progress is None:
            from rich.console import Console
            from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn

            columns = (TextColumn("{task.description}", markup=False), BarColumn(), MofNCompleteColumn())
            self._progress = Progress(*columns, console=Console(stderr=True), transient=True)
            self._progress.start()
            self._task = self._progress.add_task(what)
        self._progress.update(self._task, description=what, completed=done, total=total or None)

    def __enter__(self) -> Bar:
        """Itself."""
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Take the bar away."""
        if self._progress is not None:
            self._progress.stop()

"""What was typed and not yet saved, kept on this computer so that nothing typed is ever lost.

One small file per database in the user's own data folder, readable by them only, written at each change: a
terminal that is closed in mid-sentence loses nothing. A draft goes when its form is saved or thrown away.
"""

from __future__ import annotations

import json
import os
import zlib
from collections.abc import Mapping
from pathlib import Path


class Drafts:
    """The drafts of one database, by the name of the form and whom it is about."""

    def __init__(self, folder: Path, place: str) -> None:
        """`place` names the database, so that two caseloads never share a draft."""
        self._file = folder / f"drafts-{zlib.crc32(place.encode()):08x}.json"
        self._kept = self._read()

    def of(self, name: str) -> dict[str, str]:
        """The texts kept under a name; empty when there are none."""
        return dict(self._kept.get(name, {}))

    def names(self) -> tuple[str, ...]:
        """What there are drafts of, oldest first."""
        return tuple(self._kept)

    def keep(self, name: str, texts: Mapping[str, str]) -> None:
        """Keep what stands in a form now."""
        self._kept[name] = dict(texts)
        self._write()

    def drop(self, name: str) -> None:
        """Forget a draft, if there is one."""
        if self._kept.pop(name, None) is not None:
            self._write()

    def _read(self) -> dict[str, dict[str, str]]:
        try:
            kept = json.loads(self._file.read_text("utf-8"))
            return {str(name): {str(k): str(v) for k, v in texts.items()} for name, texts in kept.items()}
        except (OSError, ValueError, AttributeError):  # no file yet, or one cut short: there is no draft
            return {}

    def _write(self) -> None:
        """Beside and then over the old one, so that a kill leaves one or the other whole.

        A folder that cannot be written costs the draft only, never the form.
        """
        beside = self._file.with_suffix(".new")
        try:
            self._file.parent.mkdir(parents=True, exist_ok=True)
            handle = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
            with os.fdopen(handle, "w", encoding="utf-8") as out:
                json.dump(self._kept, out, ensure_ascii=True)
            beside.replace(self._file)
        except OSError:
            return

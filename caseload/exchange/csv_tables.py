"""Workbooks that are CSV files: one, a folder of them, or a zip of them."""

from __future__ import annotations

import codecs
import csv
import io
import zipfile
import zlib
from collections.abc import Iterator, Sequence
from pathlib import Path, PurePosixPath

from caseload.exchange import tables
from caseload.exchange.problems import Problem
from caseload.exchange.tables import Opened, Table, Unreadable
from caseload.records.sheets import Sheet

DELIMITERS = ",;\t"
_ENCODINGS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)

csv.field_size_limit(50_000_000)  # cells are measured in `cells`, with a sentence; here the module would raise


def open_csv(path: Path) -> tuple[Opened, list[Problem]]:
    """A workbook of one sheet."""
    return _opened([(path.name, path.stat().st_size, path)])


def open_folder(path: Path) -> tuple[Opened, list[Problem]]:
    """Every .csv of a folder; other files there are not ours to judge."""
    files = sorted(f for f in path.iterdir() if f.suffix.lower() == ".csv" and not f.name.startswith("."))
    return _opened([(file.name, file.stat().st_size, file) for file in files])


def open_zip(path: Path) -> tuple[Opened, list[Problem]]:
    """Every .csv of a zip, in whatever folder of it; held to the sizes the zip declares."""
    try:
        archive = zipfile.ZipFile(path)
    except zipfile.BadZipFile:
        raise Unreadable(f"{path.name} is not a zip, or is damaged") from None
    with archive:
        entries = []
        for info in archive.infolist():
            place = PurePosixPath(info.filename)
            hidden = any(part.startswith((".", "__MACOSX")) for part in place.parts)
            if place.suffix.lower() == ".csv" and not hidden and not info.is_dir():
                entries.append((place.name, info.file_size, zipfile.Path(archive, info.filename)))
        return _opened(entries)


def _opened(files: Sequence[tuple[str, int, Path | zipfile.Path]]) -> tuple[Opened, list[Problem]]:
    if sum(size for _, size, _ in files) > tables.MOST_BYTES:
        raise Unreadable(
            f"the workbook holds more than {tables.MOST_BYTES // 1_000_000} MB once unpacked, expected less"
        )
    opened, problems = Opened(), list[Problem]()
    for name, _, file in files:
        sheet = tables.named(name[: -len(".csv")], opened.tables, problems)
        if sheet is None:
            continue
        try:
            raw = file.read_bytes()
            encoding = _encoding(raw)
        except (zipfile.BadZipFile, zlib.error, EOFError, RuntimeError, NotImplementedError):
            # RuntimeError: zipfile's word for a password; NotImplementedError: for packing it does not know.
            said = "is damaged or locked within the zip, expected a plain file"
            problems.append(Problem(sheet.name, 0, "", said))
            continue
        except UnicodeDecodeError:
            said = "is not text in UTF-8 or Windows-1252, expected one of them: save it as CSV UTF-8"
            problems.append(Problem(sheet.name, 0, "", said))
            continue
        if encoding == "cp1252":
            opened.warnings.append(
                f"{sheet.name}: is not UTF-8 and was read as Windows-1252; look at names with accents"
            )
        opened.tables.append(_table(sheet, raw, encoding))
    return opened, problems


def _encoding(raw: bytes) -> str:
    """The encoding by which all of it can be read: by its mark, else UTF-8, else what Windows wrote."""
    for mark, encoding in _ENCODINGS:
        if raw.startswith(mark):
            raw.decode(encoding)
            return encoding
    try:
        raw.decode("utf-8")
    except UnicodeDecodeError:
        raw.decode("cp1252")
        return "cp1252"
    return "utf-8"


def _table(sheet: Sheet, raw: bytes, encoding: str) -> Table:
    text = io.TextIOWrapper(io.BytesIO(raw), encoding, newline="")
    first, skipped = text.readline(), 0
    while first and not first.strip():
        first = text.readline()
    told = first.strip().casefold()
    if told.startswith("sep=") and len(told) == 5:
        delimiter, skipped = told[4], 1
    else:
        delimiter = max(DELIMITERS, key=first.count)
        text.seek(0)
    rows = csv.reader(text, delimiter=delimiter, strict=True)
    return Table(sheet, _numbered(rows, 1 + skipped), decimal_comma=delimiter != ",")


def _numbered(rows: Iterator[list[str]], start: int) -> Iterator[tuple[int, list[str]]]:
    number = start - 1
    try:
        for number, cells in enumerate(rows, start):
            yield number, cells
    except csv.Error:
        said = "quotation marks do not match, expected each opening one to be closed before the next comma"
        raise Unreadable(said, number + 1) from None

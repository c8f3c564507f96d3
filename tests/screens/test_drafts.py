"""Drafts outlive the program, and only the user can read them."""

from __future__ import annotations

from pathlib import Path

from caseload.screens.drafts import Drafts


def test_what_was_typed_is_there_for_the_next_run(tmp_path: Path) -> None:
    Drafts(tmp_path, "a.db").keep("look P1", {"area": "heel", "note": "né\n[b]"})
    assert Drafts(tmp_path, "a.db").of("look P1") == {"area": "heel", "note": "né\n[b]"}
    assert Drafts(tmp_path, "b.db").of("look P1") == {}


def test_a_saved_form_leaves_no_draft(tmp_path: Path) -> None:
    drafts = Drafts(tmp_path, "a.db")
    drafts.keep("look P1", {"area": "heel"})
    drafts.drop("look P1")
    assert Drafts(tmp_path, "a.db").names() == ()


def test_nobody_else_may_read_it(tmp_path: Path) -> None:
    Drafts(tmp_path, "a.db").keep("look P1", {"area": "heel"})
    assert [path.stat().st_mode & 0o077 for path in tmp_path.iterdir()] == [0]


def test_a_file_cut_short_or_a_folder_that_cannot_be_written_costs_the_draft_only(tmp_path: Path) -> None:
    drafts = Drafts(tmp_path, "a.db")
    drafts.keep("look P1", {"area": "heel"})
    next(tmp_path.iterdir()).write_text('{"look', "utf-8")
    assert Drafts(tmp_path, "a.db").names() == ()
    nowhere = tmp_path / "file"
    nowhere.write_text("")
    Drafts(nowhere / "in a file", "a.db").keep("look P1", {"area": "heel"})

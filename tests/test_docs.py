"""README and DEVELOPERS say what is there: commands that parse, folders and links that exist."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest

from caseload.cli.arguments import parser

TOP = Path(__file__).parent.parent
README = (TOP / "README.md").read_text("utf-8")
DEVELOPERS = (TOP / "DEVELOPERS.md").read_text("utf-8")


def shown_commands() -> list[str]:
    """Every line of the README's code blocks that runs caseload, without its comment and redirection."""
    blocks = re.findall(r"```\n(.*?)```", README, re.DOTALL)
    lines = [line.strip().removeprefix("./scripts/") for block in blocks for line in block.splitlines()]
    return [re.split(r"\s+[#>]", line)[0] for line in lines if line.startswith("caseload")]


@pytest.mark.parametrize("line", shown_commands())
def test_a_command_of_the_readme_can_be_typed_as_it_stands(line: str) -> None:
    words = shlex.split(line)[1:]
    assert parser(words).parse_args(words).run


def test_the_readme_shows_every_command() -> None:
    offered = next(action.choices for action in parser()._actions if action.dest == "command" or action.choices)
    shown = {word for line in shown_commands() for word in line.split()[1:2]}
    assert set(offered) <= shown | {"dump"}
    assert "caseload dump PATH" in README


def test_the_readme_opens_with_the_job_in_one_paragraph_and_the_two_commands() -> None:
    first, _, rest = README.partition("## ")
    assert first.count("\n\n") <= 4
    assert "./scripts/caseload demo" in rest.split("```")[1]
    assert "./scripts/test" in rest.split("```")[1]


def test_links_and_pictures_lead_somewhere() -> None:
    targets = re.findall(r"\]\((?!http)([^)#]+)\)", README)
    assert len(targets) > 4
    assert [target for target in targets if not (TOP / target).exists()] == []


def test_every_room_of_the_package_stands_in_the_plan() -> None:
    plan = DEVELOPERS.split("```")[1]
    rooms = {
        path.name for path in (TOP / "caseload").iterdir() if path.is_dir() and (path / "__init__.py").exists()
    }
    named = set(re.findall(r"^  (\w+)/", plan, re.MULTILINE))
    assert rooms == named


def test_paths_named_for_contributors_exist() -> None:
    named = re.findall(
        r"`((?:caseload|records|rules|store|screens|acts|exchange|cli|tests|scripts)/[\w./]*)`", DEVELOPERS
    )
    assert len(named) > 8
    missing = [path for path in named if not ((TOP / path).exists() or (TOP / "caseload" / path).exists())]
    assert missing == []

"""README.md and DEVELOPERS.md hold every command, option, setting and variable; the repository holds nothing else."""

from __future__ import annotations

import re
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path

import click
import pytest

from models.store.settings import SETTINGS
from webapp.cli import main

ROOT = Path(__file__).parent.parent
DOCS = "\n".join((ROOT / name).read_text(encoding="utf-8") for name in ("README.md", "DEVELOPERS.md"))
AT_THE_TOP = {
    "README.md", "DEVELOPERS.md", "CHANGELOG.md", "LICENSE", "pyproject.toml",
    "webapp", "models", "tests", "sample_locations",
}  # fmt: skip
JAVASCRIPT_BYTES = 20_000
OWN_FOLDERS = ("webapp", "models", "tests", "sample_locations")
BINARY = (".png", ".pbf", ".ico", ".sqlite3")


def files() -> tuple[Path, ...]:
    """Every file git knows of, or would take in."""
    git = shutil.which("git")
    if git is None:
        pytest.skip("git is not installed, so there is no list of the repository's files")
    listed = subprocess.run(  # noqa: S603  a fixed command
        [git, "ls-files", "--cached", "--others", "--exclude-standard", "-z"],
        cwd=ROOT, capture_output=True, check=False, text=True,
    )  # fmt: skip
    if listed.returncode:
        pytest.skip("this is no git checkout, so there is no list of its files")
    return tuple(path for name in listed.stdout.split("\0") if name and (path := ROOT / name).is_file())


def texts() -> Iterator[tuple[str, str]]:
    for path in files():
        if path.suffix not in BINARY:
            yield str(path.relative_to(ROOT)), path.read_text(encoding="utf-8")


def commands(command: click.Command, path: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], click.Command]]:
    if path:
        yield path, command
    if isinstance(command, click.Group):
        for name, inner in command.commands.items():
            yield from commands(inner, (*path, name))


def named(word: str) -> bool:
    """Whether the documents hold the word, not as a part of a longer one."""
    return re.search(rf"(?<![\w-]){re.escape(word)}(?![\w-])", DOCS) is not None


COMMANDS = list(commands(main))
OPTIONS = sorted(
    {
        option
        for _, command in COMMANDS
        for each in command.params
        if isinstance(each, click.Option)
        for option in each.opts
    }
)


def test_there_is_something_to_look_for():
    assert len(COMMANDS) >= 10
    assert len(OPTIONS) >= 20
    assert {"KERBSTAND_DATABASE_URL"} <= set(variables())


def test_every_folder_stands_on_the_map_of_the_house():
    house = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").split("```")[1]
    there = {path.name for top in ("webapp", "models") for path in (ROOT / top).iterdir() if path.is_dir()}
    assert [name for name in sorted(there - {"__pycache__", "static"}) if f"{name}/" not in house] == []


@pytest.mark.parametrize("path", [path for path, _ in COMMANDS], ids=" ".join)
def test_every_command_is_in_the_documents(path):
    assert named(" ".join(path))


@pytest.mark.parametrize("option", OPTIONS)
def test_every_option_is_in_the_documents(option):
    assert named(option)


@pytest.mark.parametrize("name", SETTINGS)
def test_every_setting_is_in_the_documents(name):
    assert named(name)


def variables() -> list[str]:
    """Environment variables that the program, its tests or its checks read: KERBSTAND_ and CHROMIUM."""
    found = {name for _, text in texts() for name in re.findall(r"\b(KERBSTAND_[A-Z_]+|CHROMIUM)\b", text)}
    return sorted(found)


def test_every_variable_is_in_the_documents():
    assert [name for name in variables() if not named(name)] == []


def test_the_documents_name_no_file_that_is_not_there():
    """Paths in backticks, below one of our own folders."""
    paths = re.findall(rf"`((?:{'|'.join(OWN_FOLDERS)})/[\w./-]+)`", DOCS)
    assert len(paths) > 5
    assert [path for path in paths if not (ROOT / path).exists()] == []


def test_every_page_that_the_documents_link_to_is_there():
    links = re.findall(r"\]\(([^)#]+)\)", DOCS)
    assert links
    assert [link for link in links if not link.startswith("https://") and not (ROOT / link).exists()] == []


def test_only_what_belongs_there_stands_at_the_top():
    tops = {path.relative_to(ROOT).parts[0] for path in files()}
    assert {name for name in tops if not name.startswith(".")} == AT_THE_TOP


HERE = re.escape(f"{ROOT}/") if len(ROOT.parts) > 3 else "(?!)"
MACHINE = re.compile(rf"{HERE}|(?<![\w.])/(?:work/|root/|Users/|private/|home/(?!ana\b))[\w.-]+")
"""Ana is our example user."""

REGISTRY = re.compile(
    r"\b(?:[\w-]+\.)*(?:pypi|pythonhosted|anaconda|npmjs|jsdelivr|unpkg|cdnjs|artifactory|jfrog|nexus|devpi)\b\.?[\w.]*",
    re.IGNORECASE,
)


def test_no_file_holds_a_path_of_somebodys_machine():
    own = str(Path(__file__).relative_to(ROOT))
    found = [(name, hit) for name, text in texts() if name != own for hit in MACHINE.findall(text)]
    assert found == []


def test_no_file_holds_a_registrys_host():
    own = str(Path(__file__).relative_to(ROOT))
    found = [(name, hit) for name, text in texts() if name != own for hit in REGISTRY.findall(text) if "." in hit]
    assert found == []


def test_the_searches_find_what_they_look_for():
    assert MACHINE.search("see /home/somebody/notes")
    assert not MACHINE.search("GET /workshops/1")
    assert REGISTRY.search("see mirror.devpi.internal/x")
    assert REGISTRY.search("cdn.nexus.internal")


def test_our_javascript_is_small():
    sizes = {path.name: path.stat().st_size for path in files() if path.suffix in (".js", ".mjs")}
    assert len(sizes) >= 5
    assert sum(sizes.values()) < JAVASCRIPT_BYTES, sizes


def test_pictures_are_light():
    assert [path.name for path in files() if path.suffix == ".png" and path.stat().st_size > 200_000] == []

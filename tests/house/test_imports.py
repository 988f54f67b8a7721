"""The table of rooms: who may import whom, and what each outside library is let into."""

import ast
import subprocess
import sys
from pathlib import Path

import pytest

HOUSE = Path(__file__).parents[2] / "passplot"

# a room may import the rooms named beside it, itself, and how frozen classes are made
ROOMS = {
    "frozen": set(),
    "errors": set(),
    "records": {"errors"},
    "materials": {"records"},
    "keyseats": set(),
    "scallop": set(),
    "curves": {"records"},
    "dials": {"records"},
    "read": {"errors", "records", "materials", "keyseats", "scallop", "curves"},
    "cutting": {"errors", "records", "materials", "scallop"},
    "plan": {"errors", "records", "scallop", "curves", "dials"},
    "proof": {"errors", "records"},
    "sheet": {"errors", "records", "scallop", "curves", "dials"},
    "write": {"errors", "records", "scallop"},
    "flow": {"errors", "records", "materials"}
    | {"read", "cutting", "plan", "proof", "sheet", "write"},
    "command": {"errors", "records", "read", "flow", "dials"},
}

# an outside library and the only places that may import it
LIBRARIES = {
    "shapely": ("plan/",),
    "svgwrite": ("write/svg.py",),
    "matplotlib": ("write/picture.py",),
    "click": ("command/",),
}


def modules() -> list[Path]:
    return sorted(HOUSE.rglob("*.py"))


def imported(path: Path) -> set[str]:
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found |= {f"{node.module}.{alias.name}" for alias in node.names}
    return found


def room_of(path: Path) -> str:
    return path.relative_to(HOUSE).parts[0].removesuffix(".py")


@pytest.mark.parametrize("path", modules(), ids=lambda path: str(path.relative_to(HOUSE)))
def test_a_room_imports_only_what_its_row_allows(path: Path) -> None:
    room = room_of(path)
    if room == "__init__":
        return
    allowed = ROOMS[room] | {room, "frozen", "__version__"}
    ours = {name.split(".")[1] for name in imported(path) if name.startswith("passplot.")}
    assert ours <= allowed


@pytest.mark.parametrize("path", modules(), ids=lambda path: str(path.relative_to(HOUSE)))
def test_a_library_stays_in_its_place(path: Path) -> None:
    place = path.relative_to(HOUSE).as_posix()
    for library, places in LIBRARIES.items():
        uses = any(name.split(".")[0] == library for name in imported(path))
        assert not uses or place.startswith(places), library


def test_rooms_are_all_in_the_table() -> None:
    assert {room_of(path) for path in modules()} - {"__init__", "data"} == set(ROOMS)


def test_no_module_is_longer_than_350_lines_nor_without_a_docstring() -> None:
    for path in modules():
        text = path.read_text(encoding="utf-8")
        assert len(text.splitlines()) <= 350, path
        assert ast.get_docstring(ast.parse(text)), path


def test_no_function_is_longer_than_60_lines() -> None:
    for path in modules():
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.FunctionDef):
                assert node.end_lineno is not None
                assert node.end_lineno - node.lineno < 60, f"{path}: {node.name}"


def test_help_loads_no_geometry_and_no_plotting() -> None:
    code = (
        "import sys; from click.testing import CliRunner; from passplot.command.main import main;"
        "assert CliRunner().invoke(main, ['--help']).exit_code == 0;"
        "print([m for m in ('shapely', 'numpy', 'matplotlib', 'svgwrite') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"

"""The proof shares nothing with planning, not even a geometry library."""

import ast
from pathlib import Path

import passplot.proof

ALLOWED = {"passplot.errors", "passplot.frozen", "passplot.records", "passplot.proof"}


def imported(module: Path) -> set[str]:
    tree = ast.parse(module.read_text(encoding="utf-8"))
    found: set[str] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{module.name} imports relatively"
            found.add(node.module or "")
    return found


def test_only_records_errors_and_numpy_are_imported():
    modules = sorted(Path(passplot.proof.__file__).parent.glob("*.py"))
    assert len(modules) > 10
    for module in modules:
        for name in imported(module):
            if name.startswith("passplot"):
                assert ".".join(name.split(".")[:2]) in ALLOWED, (module.name, name)
            assert name.split(".")[0] not in {"shapely", "scipy", "matplotlib"}, module.name


def test_the_plan_s_own_moves_are_not_looked_at():
    """Only the text is replayed: nothing in the package reads ``moves`` or ``passes``."""
    for module in Path(passplot.proof.__file__).parent.glob("*.py"):
        tree = ast.parse(module.read_text(encoding="utf-8"))
        names = {node.attr for node in ast.walk(tree) if isinstance(node, ast.Attribute)}
        assert not names & {"moves", "passes", "lower_bound"}, module.name

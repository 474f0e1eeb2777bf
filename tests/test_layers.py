"""Who may know whom: the imports are walked and held against the house rules."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent / "fits"
BASE = {"errors", "arrays"}
LOW = BASE | {"tables", "quantity"}
CORE = LOW | {"sizes", "materials", "mechanics"}
MAY = {
    "errors": set(),
    "arrays": set(),
    "tables": BASE,
    "units": set(),
    "quantity": BASE | {"units"},
    "sizes": LOW | {"sizes"},
    "materials": LOW | {"materials"},
    "mechanics": LOW | {"mechanics"},
    "shop": LOW | {"sizes", "materials", "shop"},
    "features": CORE | {"shop", "features"},
    "files": CORE | {"shop", "features", "files"},
    "questions": CORE | {"features", "questions"},
    "report": LOW | {"sizes", "features", "questions", "report"},
}
# What questions and report may know of features: what a feature is, never a kind.
GENERIC = {"beside", "composite", "evidence", "feature", "fields", "figures", "offer", "part", "states", "when"}
# The ways back: a notebook asks an answer or a result itself how it looks.
BACK = {
    ("questions/answer.py", "fits.report.notebook.html"), ("questions/shown.py", "fits.report.notebook.table_of"),
    ("questions/shown.py", "fits.report.records.frame_of"),
}
ONLY_IN = {"pint": {"quantity"}, "typer": {"cli"}, "rich": {"report"}, "jinja2": {"report"},
           "weasyprint": {"report"}, "cairosvg": {"report"}}
OPENS = {"tables.py", "files/part.py", "files/readings.py", "files/table.py", "files/write.py"}


def modules() -> list[Path]:
    return sorted(ROOT.rglob("*.py"))


def imports(path: Path) -> list[str]:
    found = []
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found += [name.name for name in node.names]
        elif isinstance(node, ast.ImportFrom) and node.module:
            found += [f"{node.module}.{name.name}" for name in node.names]
    return found


def layer(path: Path) -> str:
    parts = path.relative_to(ROOT).parts
    return parts[0].removesuffix(".py")


@pytest.mark.parametrize("path", modules(), ids=lambda path: str(path.relative_to(ROOT)))
def test_a_module_knows_only_what_it_may(path: Path):
    own = layer(path)
    if own in ("cli", "__init__", "__main__"):
        return
    for name in imports(path):
        parts = name.split(".")
        if parts[0] != "fits" or len(parts) < 2 or (path.relative_to(ROOT).as_posix(), name) in BACK:
            continue
        assert parts[1] in MAY[own], f"{path.name} of {own} imports {name}"
        if own in ("questions", "report") and parts[1] == "features":
            assert parts[2] in GENERIC, f"{path.name} of {own} knows a kind: {name}"


KINDS = {path.parent.name for path in (ROOT / "features").glob("*/__init__.py")}


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_a_kind_knows_no_other_kind(kind: str):
    others = KINDS - {kind}
    for path in (ROOT / "features" / kind).glob("*.py"):
        known = {name.split(".")[2] for name in imports(path) if name.startswith("fits.features.")}
        assert not known & others


@pytest.mark.parametrize("path", modules(), ids=lambda path: str(path.relative_to(ROOT)))
def test_libraries_stay_where_they_belong(path: Path):
    for name in imports(path):
        for library, places in ONLY_IN.items():
            if name.split(".")[0] == library:
                assert layer(path) in places


@pytest.mark.parametrize("path", modules(), ids=lambda path: str(path.relative_to(ROOT)))
def test_files_are_opened_in_few_places(path: Path):
    text = path.read_text(encoding="utf-8").replace("os.open(", "")
    opens = any(call in text for call in (".open(", " open(", "read_text(", "read_bytes(", "write_text("))
    assert not opens or str(path.relative_to(ROOT)) in OPENS


@pytest.mark.parametrize("path", modules(), ids=lambda path: str(path.relative_to(ROOT)))
def test_no_file_above_400_lines_no_function_above_50(path: Path):
    text = path.read_text(encoding="utf-8")
    assert len(text.splitlines()) <= 400
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.FunctionDef):
            doc = ast.get_docstring(node)
            length = (node.end_lineno or 0) - node.lineno - (len(doc.splitlines()) + 1 if doc else 0)
            assert length <= 50, node.name


NUMBERS = ("mechanics", "sizes", "shop", "materials", "quantity.py", "tables.py", "arrays.py")


@pytest.mark.parametrize("path", [one for one in modules() if one.relative_to(ROOT).parts[0] in NUMBERS], ids=lambda path: str(path.relative_to(ROOT)))
def test_every_public_function_of_numbers_shows_one(path: Path):
    """A doctest, which the suite runs."""
    for node in ast.parse(path.read_text(encoding="utf-8")).body:
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
            assert ">>>" in (ast.get_docstring(node) or ""), node.name


def test_every_public_question_shows_an_answer():
    import inspect

    import fits

    for name in fits.__all__:
        if inspect.isfunction(one := getattr(fits, name)):
            assert ">>>" in (one.__doc__ or ""), name


def test_changes_called_equivalent_are_of_lines_that_are_there():
    """Each row of the list speaks of a line as it stands, once for each sort of change, and says why."""
    import csv

    with (ROOT.parent / "tests" / "mutation" / "equivalent.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    gone = [row for row in rows if row["line"] not in {line.strip() for line in (ROOT.parent / row["path"]).read_text(encoding="utf-8").splitlines()}]
    assert gone == []
    assert len({(row["path"], row["line"], row["operator"]) for row in rows}) == len(rows) > 0
    assert all(len(row["reason"].split()) > 2 for row in rows)

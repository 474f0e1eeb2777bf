"""Which tests run which line of the package, and how long each takes, from one run of the suite."""

from __future__ import annotations

import ast
import json
import os
import subprocess
import sys
from collections import defaultdict
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PHASES = ("|run", "|setup", "|teardown")
SECONDS: dict[str, float] = defaultdict(float)


def pytest_runtest_logreport(report: pytest.TestReport) -> None:
    """Seconds of each test, all its phases."""
    SECONDS[report.nodeid] += report.duration


def pytest_sessionfinish(session: pytest.Session) -> None:
    """Write the seconds, unless this is a worker, whose reports the first process has."""
    if not hasattr(session.config, "workerinput"):
        Path(os.environ["FITS_TEST_SECONDS"]).write_text(json.dumps(SECONDS), encoding="utf-8")


def note(data: Path) -> None:
    """Run the suite once; ``data`` gets the lines by test, the file beside it the seconds."""
    # The checkout itself too: tests that start a script of their own need its package.
    path = os.pathsep.join(map(str, (Path(__file__).parent, Path(__file__).with_name("startup"), ROOT)))
    subprocess.run(
        [sys.executable, "-m", "pytest", "-q", "-n", "2", "-p", "noted", "-p", "no:cacheprovider", "--cov=fits",
         "--cov-branch", "--cov-context=test", "--cov-report=", "--cov-fail-under=0"], cwd=ROOT, check=True,
        env={**os.environ, "COVERAGE_FILE": str(data), "PYTHONPATH": path, "FITS_TEST_SECONDS": str(seconds_beside(data))},
    )  # fmt: skip


def seconds_beside(data: Path) -> Path:
    """The file of the tests' seconds."""
    return data.with_suffix(".seconds.json")


class Noted:
    """What a noted run tells: tests by line, seconds by test."""

    def __init__(self, data: Path) -> None:
        from coverage import CoverageData

        self.seconds: dict[str, float] = json.loads(seconds_beside(data).read_text(encoding="utf-8"))
        covered = CoverageData(str(data))
        covered.read()
        self.by_line: dict[str, dict[int, set[str]]] = {}
        for file in covered.measured_files():
            lines = self.by_line.setdefault(file[file.rindex("/fits/") + 1 :], defaultdict(set))
            for line, contexts in covered.contexts_by_lineno(file).items():
                lines[line] |= {_test(one) for one in contexts}

    def of_statement(self, path: str, text: str, line: int) -> set[str]:
        """The tests that run any line of the statement that a line is part of; "" where an import does."""
        lines = self.by_line.get(path, {})
        return set().union(*(lines.get(one, set()) for one in _statement(text, line)))

    def of_module(self, path: str) -> set[str]:
        """The tests that run anything of a module, and those of its package: what is declared on import they read as data."""
        package = f"tests/{Path(path).parts[1]}/"
        return set().union(*self.by_line.get(path, {}).values(), (test for test in self.seconds if test.startswith(package)))

    def order(self, tests: set[str], path: str) -> list[str]:
        """Files of the module's own folder and name first, of those the quickest: they tell soonest."""
        parts = Path(path).parts
        words = (parts[-1].removesuffix(".py"), *parts[2:-1])
        # The tests of a file stay together: they may share what is set up for it once.
        by_file: dict[str, list[str]] = defaultdict(list)
        for test in tests:
            by_file[test.partition("::")[0]].append(test)

        def mean(file: str) -> float:
            return sum(self.seconds.get(test, 0.0) for test in by_file[file]) / len(by_file[file])

        files = sorted(by_file, key=lambda file: (not any(word in file for word in words), mean(file), file))
        return [test for file in files for test in sorted(by_file[file], key=lambda test: (self.seconds.get(test, 0.0), test))]


def _test(context: str) -> str:
    return context.rpartition("|")[0] if context.endswith(PHASES) else context


def _statement(text: str, line: int) -> range:
    """The lines of the smallest statement around a line; of a compound one its head."""
    best = range(line, line + 1)
    size = None
    for node in ast.walk(ast.parse(text)):
        if not isinstance(node, ast.stmt):
            continue
        body = getattr(node, "body", None)
        end = body[0].lineno - 1 if body else node.end_lineno or node.lineno
        first = min([node.lineno, *(one.lineno for one in getattr(node, "decorator_list", []))])
        if first <= line <= end and (size is None or end - first < size):
            best, size = range(first, end + 1), end - first
    return best

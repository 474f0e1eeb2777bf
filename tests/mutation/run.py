"""Mutation testing of sizes, features, questions and materials, by a random sample.

    pip install -e ".[test,mutation]"
    python tests/mutation/run.py --sample 300 --seed 1

First the suite is run once to note which test runs which line. Each mutant changes one operator,
comparison, number or truth value of one line, in a copy of the checkout, and is tested by the
tests that run that line. The whole set is too large to run in a day, so that a sample drawn with
a stated seed stands for it, with its confidence interval.
Survivors are printed as they are found; those that no test can tell from the original stand in
``equivalent.csv`` beside this file with the reason, and are drawn but not counted.
"""

from __future__ import annotations

import argparse
import ast
import csv
import os
import random
import shutil
import subprocess
import sys
import tempfile
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from queue import Queue
from typing import NamedTuple

ROOT = Path(__file__).parents[2]
PACKAGES = ("sizes", "features", "questions", "materials")
EQUIVALENT = Path(__file__).with_name("equivalent.csv")
TIMEOUT = 240.0
# One change of each sort; the others of a family die of the same tests.
OPERATORS = (
    "ReplaceBinaryOperator_Add_Sub", "ReplaceBinaryOperator_Sub_Add", "ReplaceBinaryOperator_Mul_Div",
    "ReplaceBinaryOperator_Div_Mul", "ReplaceBinaryOperator_Pow_Mul", "ReplaceBinaryOperator_BitAnd_BitOr",
    "ReplaceBinaryOperator_BitOr_BitAnd", "ReplaceComparisonOperator_Lt_LtE", "ReplaceComparisonOperator_LtE_Lt",
    "ReplaceComparisonOperator_Gt_GtE", "ReplaceComparisonOperator_GtE_Gt", "ReplaceComparisonOperator_Lt_GtE",
    "ReplaceComparisonOperator_Gt_LtE", "ReplaceComparisonOperator_Eq_NotEq", "ReplaceComparisonOperator_NotEq_Eq",
    "ReplaceComparisonOperator_Is_IsNot", "ReplaceComparisonOperator_IsNot_Is", "ReplaceUnaryOperator_Delete_USub",
    "ReplaceUnaryOperator_Delete_Not", "ReplaceUnaryOperator_Delete_Invert", "ReplaceTrueWithFalse",
    "ReplaceFalseWithTrue", "ReplaceAndWithOr", "ReplaceOrWithAnd", "ReplaceBreakWithContinue",
    "ReplaceContinueWithBreak", "NumberReplacer", "ZeroIterationForLoop",
)  # fmt: skip


class Mutant(NamedTuple):
    """One change: where, by which operator, which of its occurrences."""

    path: str
    operator: str
    occurrence: int
    line: int

    @property
    def name(self) -> str:
        return f"{self.path}:{self.line}: {self.operator} {self.occurrence}"


def mutants() -> list[Mutant]:
    """Every mutant of the packages; annotations are never run and are left out."""
    from cosmic_ray import plugins
    from cosmic_ray.ast import ast_nodes, get_ast

    found = []
    for package in PACKAGES:
        for path in sorted((ROOT / "fits" / package).rglob("*.py")):
            text = path.read_text(encoding="utf-8")
            silent = _annotations(text)
            tree = get_ast(text)
            for name in OPERATORS:
                operator = plugins.get_operator(f"core/{name}")()
                count = 0
                for node in ast_nodes(tree):
                    for position in operator.mutation_positions(node):
                        if position[0] not in silent and not _bare_star(text, position[0]):
                            found.append(Mutant(str(path.relative_to(ROOT)), name, count, position[0][0]))
                        count += 1
    return found


def _bare_star(text: str, place: tuple[int, int]) -> bool:
    """Whether a star is the one before keyword arguments, which multiplies nothing."""
    return text.splitlines()[place[0] - 1][place[1] :].startswith("*,")


def _annotations(text: str) -> set[tuple[int, int]]:
    """Places inside annotations that aren't evaluated (line, column)."""
    silent = set()
    for node in ast.walk(ast.parse(text)):
        held = [getattr(node, "returns", None), getattr(node, "annotation", None)]
        for one in (one for one in held if one is not None):
            # A field's Annotated[...] is evaluated by its declaration; anything else never is.
            if isinstance(one, ast.Subscript) and ast.unparse(one.value) == "Annotated":
                continue
            silent |= {(sub.lineno, column) for sub in ast.walk(one) if hasattr(sub, "lineno")
                       for column in range(sub.col_offset, sub.end_col_offset + 1)}  # fmt: skip
    return silent


def tests_by_line(data: Path) -> dict[str, dict[int, set[str]]]:
    """Which tests run which line, from a run of the suite; made where the file isn't there."""
    from coverage import CoverageData

    if not data.exists():
        print("running the suite once to see which test runs which line ...", flush=True)
        subprocess.run(
            [sys.executable, "-m", "pytest", "-q", "-n", "2", "-p", "no:cacheprovider", "--cov=fits", "--cov-branch",
             "--cov-context=test", "--cov-report="], cwd=ROOT, check=True, env={**os.environ, "COVERAGE_FILE": str(data)},
        )  # fmt: skip
    covered = CoverageData(str(data))
    covered.read()
    found: dict[str, dict[int, set[str]]] = {}
    for file in covered.measured_files():
        name = file[file.rindex("/fits/") + 1 :] if "/fits/" in file else file
        found[name] = {
            line: {one.partition("|")[0] for one in contexts if one}
            for line, contexts in covered.contexts_by_lineno(file).items()
        }
    return found


def _own_first(tests: set[str], path: str) -> list[str]:
    """Tests of the module's own folder and name first: they tell soonest."""
    parts = Path(path).parts
    stem = parts[-1].removesuffix(".py")

    def far(test: str) -> tuple[bool, bool, str]:
        file = test.partition("::")[0]
        return (not any(part in file for part in (stem, *parts[2:-1])), f"tests/{parts[1]}/" not in file, test)

    return sorted(tests, key=far)


def survives(mutant: Mutant, copy: Path, tests: list[str]) -> str:
    """What came of a mutant in a copy of the checkout: killed, timeout, survived."""
    from cosmic_ray import plugins
    from cosmic_ray.mutating import mutate_code

    path = copy / mutant.path
    whole = path.read_text(encoding="utf-8")
    changed = mutate_code(whole, plugins.get_operator(f"core/{mutant.operator}")(), mutant.occurrence)
    if changed is None:
        return "no mutant"
    listed = copy / "listed-tests.txt"
    listed.write_text("\n".join(tests), encoding="utf-8")
    path.write_text(changed, encoding="utf-8")
    try:
        done = subprocess.run(
            [sys.executable, "-m", "pytest", "-x", "-q", "--no-header", "-p", "no:cacheprovider", "-p", "no:randomly", f"@{listed}"],
            cwd=copy, env={**os.environ, "PYTHONPATH": str(copy), "PYTHONDONTWRITEBYTECODE": "1"}, capture_output=True, timeout=TIMEOUT, check=False,
        )  # fmt: skip
    except subprocess.TimeoutExpired:
        return "timeout"
    finally:
        path.write_text(whole, encoding="utf-8")
    return "survived" if done.returncode == 0 else "killed"


def main() -> int:
    """Draw, test, print."""
    read = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    read.add_argument("--sample", type=int, default=300)
    read.add_argument("--seed", type=int, default=1)
    read.add_argument("--jobs", type=int, default=2)
    read.add_argument("--package", choices=PACKAGES, help="only one of them")
    read.add_argument("--data", type=Path, default=Path(tempfile.gettempdir()) / "fits-tests-by-line.coverage")
    chosen = read.parse_args()
    every = [one for one in mutants() if not chosen.package or one.path.startswith(f"fits/{chosen.package}/")]
    drawn = random.Random(chosen.seed).sample(every, min(chosen.sample, len(every)))
    known = _equivalent()
    by_line = tests_by_line(chosen.data)
    began, outcomes = time.monotonic(), []
    with tempfile.TemporaryDirectory() as folder:
        copies: Queue[Path] = Queue()
        for job in range(chosen.jobs):
            copy = Path(folder) / str(job)
            shutil.copytree(ROOT, copy, ignore=shutil.ignore_patterns(".git", ".venv", "__pycache__", ".hypothesis", ".mypy_cache", ".ruff_cache"))
            copies.put(copy)

        def test(mutant: Mutant) -> tuple[Mutant, str]:
            tests = by_line.get(mutant.path, {}).get(mutant.line, set())
            # What is run on import alone is tested by every test of its package.
            tests = tests or {f"tests/{mutant.path.split('/')[1]}"}
            copy = copies.get()
            try:
                return mutant, survives(mutant, copy, _own_first(tests, mutant.path))
            finally:
                copies.put(copy)

        with ThreadPoolExecutor(chosen.jobs) as pool:
            for mutant, outcome in pool.map(test, drawn):
                same = outcome == "survived" and known.get((mutant.path, _text(mutant), mutant.operator), "")
                outcomes.append("equivalent" if same else outcome)
                if len(outcomes) % 25 == 0:
                    print(f"{len(outcomes)} of {len(drawn)} ...", file=sys.stderr, flush=True)
                if outcome == "survived" and not same:
                    print(f"survived: {mutant.name}: {_text(mutant)}", flush=True)
    return _report(outcomes, len(every), chosen, time.monotonic() - began)


def _text(mutant: Mutant) -> str:
    return (ROOT / mutant.path).read_text(encoding="utf-8").splitlines()[mutant.line - 1].strip()


def _equivalent() -> dict[tuple[str, str, str], str]:
    """Survivors that nothing can tell from the original: file, line's text, operator to the reason."""
    if not EQUIVALENT.exists():
        return {}
    with EQUIVALENT.open(encoding="utf-8", newline="") as file:
        return {(row["path"], row["line"], row["operator"]): row["reason"] for row in csv.DictReader(file)}


def _report(outcomes: list[str], of: int, chosen: argparse.Namespace, seconds: float) -> int:
    """The share killed with its interval by Wilson (95 %); status 1 below 95 %."""
    from statistics import NormalDist

    counted = [one for one in outcomes if one in ("killed", "timeout", "survived")]
    killed, n = sum(one != "survived" for one in counted), len(counted)
    z = NormalDist().inv_cdf(0.975)
    share = killed / n
    middle = (share + z * z / (2 * n)) / (1 + z * z / n)
    half = z / (1 + z * z / n) * (share * (1 - share) / n + z * z / (4 * n * n)) ** 0.5
    print(
        f"{len(outcomes)} of {of} mutants, seed {chosen.seed}: {killed} of {n} killed ({100 * share:.1f} %, "
        f"95 % interval {100 * (middle - half):.1f} to {100 * (middle + half):.1f} %), {outcomes.count('timeout')} of them by "
        f"running on, {outcomes.count('equivalent')} equivalent, in {seconds / 60:.0f} min"
    )
    return 0 if share >= 0.95 else 1


if __name__ == "__main__":
    sys.exit(main())

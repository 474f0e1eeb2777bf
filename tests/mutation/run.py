"""Mutation testing of sizes, features, questions and materials, by a random sample.

    pip install -e ".[test,mutation]"
    python tests/mutation/run.py --sample 300 --seed 1

First the suite is run once to note which test runs which line. Each mutant changes one operator,
comparison, number or truth value of one line, in a copy of the checkout, and is tested by the
tests that run that line (``worker.py``) until one fails, or the seconds per mutant are over: then
it counts as one that survived. The whole set is too large to run in a day, so that a sample
drawn with a stated seed stands for it, with its confidence interval.
Survivors are printed as they are found; those that no test can tell from the original stand in
``equivalent.csv`` beside this file with the reason, and are drawn but not counted.
"""

from __future__ import annotations

import argparse
import ast
import csv
import json
import random
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path
from queue import Queue
from threading import Thread
from typing import NamedTuple

from noted import note

ROOT = Path(__file__).parents[2]
PACKAGES = ("sizes", "features", "questions", "materials")
EQUIVALENT = Path(__file__).with_name("equivalent.csv")
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


def outcomes(drawn: list[Mutant], data: Path, jobs: int, seconds: float) -> Iterator[tuple[Mutant, str]]:
    """What came of each mutant, in the order they end; each job has a copy of its own."""
    answers: Queue[tuple[Mutant, str] | None] = Queue()
    with tempfile.TemporaryDirectory() as folder:

        def work(job: int) -> None:
            copy = Path(folder) / str(job)
            shutil.copytree(ROOT, copy, ignore=shutil.ignore_patterns(".*", "__pycache__"))
            shutil.copytree(ROOT / ".ci", copy / ".ci")
            asked, log = Path(folder) / f"{job}.mutants", Path(folder) / f"{job}.log"
            asked.write_text("".join(json.dumps(one) + "\n" for one in drawn[job::jobs]), encoding="utf-8")
            with log.open("w", encoding="utf-8") as errors:
                command = [sys.executable, Path(__file__).with_name("worker.py"), copy, asked, data, str(seconds)]
                worker = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=errors, text=True)
                for line in worker.stdout or ():
                    mutant, outcome = json.loads(line)
                    answers.put((Mutant(*mutant), outcome))
                if worker.wait():
                    print(f"a worker ended early: {log.read_text(encoding='utf-8')[-2000:]}", file=sys.stderr)
            answers.put(None)

        threads = [Thread(target=work, args=(job,)) for job in range(jobs)]
        for thread in threads:
            thread.start()
        left = jobs
        while left:
            if (answer := answers.get()) is None:
                left -= 1
            else:
                yield answer


def main() -> int:
    """Draw, test, print."""
    read = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    read.add_argument("--sample", type=int, default=300)
    read.add_argument("--seed", type=int, default=1)
    read.add_argument("--jobs", type=int, default=2)
    read.add_argument("--seconds", type=float, default=60.0, help="of tests for one mutant")
    read.add_argument("--under", default="fits/", help="only files whose path begins so: fits/sizes")
    read.add_argument("--data", type=Path, default=Path(tempfile.gettempdir()) / "fits-tests-by-line.coverage")
    chosen = read.parse_args()
    every = [one for one in mutants() if one.path.startswith(chosen.under)]
    drawn = random.Random(chosen.seed).sample(every, min(chosen.sample, len(every)))
    known = _equivalent()
    if not chosen.data.exists():
        print("running the suite once to see which test runs which line ...", flush=True)
        note(chosen.data)
    began, found = time.monotonic(), []
    for mutant, outcome in outcomes(drawn, chosen.data.resolve(), chosen.jobs, chosen.seconds):
        alive = outcome in ("survived", "unfinished")
        same = alive and (mutant.path, _text(mutant), mutant.operator) in known
        found.append("equivalent" if same else outcome)
        if len(found) % 25 == 0:
            print(f"{len(found)} of {len(drawn)} ...", file=sys.stderr, flush=True)
        if alive and not same:
            print(f"{outcome}: {mutant.name}: {_text(mutant)}", flush=True)
    return _report(found, len(every), chosen, time.monotonic() - began)


def _text(mutant: Mutant) -> str:
    return (ROOT / mutant.path).read_text(encoding="utf-8").splitlines()[mutant.line - 1].strip()


def _equivalent() -> dict[tuple[str, str, str], str]:
    """Survivors that nothing can tell from the original: file, line's text, operator to the reason."""
    if not EQUIVALENT.exists():
        return {}
    with EQUIVALENT.open(encoding="utf-8", newline="") as file:
        return {(row["path"], row["line"], row["operator"]): row["reason"] for row in csv.DictReader(file)}


def _report(found: list[str], of: int, chosen: argparse.Namespace, seconds: float) -> int:
    """The share killed with its interval by Wilson (95 %); status 1 below 95 %."""
    from statistics import NormalDist

    counted = [one for one in found if one in ("killed", "timeout", "survived", "unfinished")]
    if not counted:
        print("no mutant was tested", file=sys.stderr)
        return 2
    killed, n = sum(one in ("killed", "timeout") for one in counted), len(counted)
    z = NormalDist().inv_cdf(0.975)
    share = killed / n
    middle = (share + z * z / (2 * n)) / (1 + z * z / n)
    half = z / (1 + z * z / n) * (share * (1 - share) / n + z * z / (4 * n * n)) ** 0.5
    print(
        f"{len(found)} of {of} mutants, seed {chosen.seed}: {killed} of {n} killed ({100 * share:.1f} %, "
        f"95 % interval {100 * (middle - half):.1f} to {100 * (middle + half):.1f} %), {found.count('timeout')} of them by "
        f"running on, {found.count('equivalent')} equivalent, in {seconds / 60:.0f} min"
    )
    return 0 if share >= 0.95 else 1


if __name__ == "__main__":
    sys.exit(main())

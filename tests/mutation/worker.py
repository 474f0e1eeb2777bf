"""Tests mutants in one copy of the checkout: ``worker.py COPY MUTANTS DATA SECONDS``, run by ``run.py``.

The suite is collected once. A change inside functions is put into the live functions of a child
process that is forked for it, which then runs the tests of that line until one fails; a change
of what runs on import needs a process of its own. The file of mutants
has one in JSON per line; outcomes are printed, each beside its mutant: killed, survived, timeout (it ran on), unfinished
(no test failed in the time there is, though not all ran).
"""

from __future__ import annotations

import gc
import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from types import CodeType, FunctionType
from typing import Any, NamedTuple, NoReturn, TextIO

import pytest
from noted import Noted

UNFINISHED = 3


class Change(NamedTuple):
    """A file with one change: its text without and with it, the codes it replaces, the tests that then run them."""

    file: Path
    whole: str
    text: str
    codes: dict[CodeType, CodeType]
    live: set[str]


class Worker:
    """A pytest plugin that tests mutants in place of the collected tests."""

    def __init__(self, copy: Path, mutants: Path, noted: Noted, seconds: float, out: TextIO) -> None:
        self.copy, self.mutants, self.noted, self.seconds, self.out = copy, mutants, noted, seconds, out

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """One mutant after the other."""
        from hypothesis import Phase, settings

        # A failing example needn't be made small.
        settings.register_profile("mutants", settings(), database=None, phases=(Phase.explicit, Phase.generate))
        settings.load_profile("mutants")
        items = {item.nodeid: item for item in session.items}
        for line in self.mutants.read_text(encoding="utf-8").splitlines():
            mutant = json.loads(line)
            outcome = self._outcome(items, *mutant)
            print(json.dumps([mutant, outcome]), file=self.out, flush=True)
        return True

    def _outcome(self, items: dict[str, pytest.Item], path: str, operator: str, occurrence: int, line: int) -> str:
        from cosmic_ray import plugins
        from cosmic_ray.mutating import mutate_code

        file = self.copy / path
        whole = file.read_text(encoding="utf-8")
        changed = mutate_code(whole, plugins.get_operator(f"core/{operator}")(), occurrence)
        if changed is None:
            return "no mutant"
        try:
            was, now = (list(_codes(compile(text, str(file), "exec", dont_inherit=True))) for text in (whole, changed))
        except SyntaxError:
            return "no mutant"  # two stars before a mapping are no power
        differ = [(old, new) for old, new in zip(was, now) if _own(old) != _own(new)]
        if not differ and len(was) == len(now):
            return "no mutant"
        own = self.noted.of_statement(path, whole, line)
        on_import = len(was) != len(now) or any(not old.co_flags & 2 for old, _ in differ)
        # What an import runs is noted under none, or under the test that happened to import the module.
        tests = self.noted.of_module(path) | own if on_import or "" in own else own
        live = set() if on_import else own & items.keys()
        change = Change(file, whole, changed, dict(zip(was, now)), live)
        return self._tested(change, tests & items.keys(), items, path)

    def _tested(self, change: Change, tests: set[str], items: dict[str, pytest.Item], path: str) -> str:
        """Run the tests with the change; one that fails without it as well tells nothing, and is left out."""
        while tests:
            ordered = self.noted.order(tests, path)
            outcome, failed = self._run(change, ordered, items)
            if outcome != "killed" or not self._fails_anyway(change, failed, items, path):
                return outcome
            print(f"{failed or ordered} fails without any change too", file=sys.stderr, flush=True)
            if not failed:
                return "unfinished"  # a list that can't be run tells nothing
            tests = tests - {failed}
            items.pop(failed)
        return "survived"

    def _run(self, change: Change, ordered: list[str], items: dict[str, pytest.Item]) -> tuple[str, str]:
        # Tests that start a process read the file.
        change.file.write_text(change.text, encoding="utf-8")
        try:
            if live := [items[one] for one in ordered if one in change.live]:
                outcome, failed = self._forked(change, live)
                # What a function gave while modules were imported stands in the fork as it was.
                if outcome != "survived":
                    return outcome, failed
            return self._afresh(ordered)
        finally:
            change.file.write_text(change.whole, encoding="utf-8")

    def _fails_anyway(self, change: Change, failed: str, items: dict[str, pytest.Item], path: str) -> bool:
        same = change._replace(text=change.whole, codes={})
        if failed:
            return self._forked(same, [items[failed]])[0] == "killed"
        if change.live:
            return False
        return self._run(same, self.noted.order(set(items) & set(self._chosen), path), items)[0] == "killed"

    def _afresh(self, tests: list[str]) -> tuple[str, str]:
        """Run tests in a process of their own, as many as the time allows by what they took once."""
        self._chosen, total = [], 0.0
        for test in tests:
            total += self.noted.seconds.get(test, 0.0)
            if total > self.seconds and self._chosen:
                break
            self._chosen.append(test)
        listed = self.copy / "listed-tests.txt"
        listed.write_text("\n".join(self._chosen), encoding="utf-8")
        try:
            done = subprocess.run(
                [sys.executable, "-m", "pytest", "-x", "-q", "--no-header", "-rf", "-p", "no:cacheprovider", "-p", "no:xdist", f"@{listed}"],
                cwd=self.copy, capture_output=True, text=True, timeout=3.0 * self.seconds + 60.0, check=False,
            )  # fmt: skip
        except subprocess.TimeoutExpired:
            return "timeout", ""
        if done.returncode:
            failed = [one for one in self._chosen if f"FAILED {one}" in done.stdout]
            return "killed", max(failed, key=len, default="")
        return ("survived" if len(self._chosen) == len(tests) else "unfinished"), ""

    def _forked(self, change: Change, items: list[pytest.Item]) -> tuple[str, str]:
        """Run tests in a forked child whose functions are the changed ones."""
        told = self.copy / "failed-test.txt"
        told.unlink(missing_ok=True)
        child = os.fork()
        if child == 0:
            try:
                os.setpgid(0, 0)
                _change(change.codes, str(change.file))
                _run(items, self.seconds, told)
            except BaseException:
                os._exit(1)
        end = time.monotonic() + 3.0 * self.seconds
        while True:
            ended, status = os.waitpid(child, os.WNOHANG)
            if ended:
                outcome = {0: "survived", UNFINISHED: "unfinished"}.get(os.waitstatus_to_exitcode(status), "killed")
                return outcome, told.read_text(encoding="utf-8") if outcome == "killed" and told.exists() else ""
            if time.monotonic() > end:
                os.killpg(child, signal.SIGKILL)
                os.waitpid(child, 0)
                return "timeout", ""
            time.sleep(0.02)


def _codes(code: CodeType) -> Iterator[CodeType]:
    """A module's code and all in it, in order."""
    yield code
    for one in code.co_consts:
        if isinstance(one, CodeType):
            yield from _codes(one)


def _own(code: CodeType) -> tuple[Any, ...]:
    """What a code does itself, without the functions in it; 0 and False, 1 and 1.0 are told apart."""
    return code.co_code, tuple(map(repr, (one for one in code.co_consts if not isinstance(one, CodeType)))), code.co_names


def _change(codes: dict[CodeType, CodeType], file: str) -> None:
    """Put changed code into every live function of a file, and forget what was kept of its answers."""
    for one in gc.get_objects():
        if isinstance(one, FunctionType) and one.__code__.co_filename == file:
            one.__code__ = codes.get(one.__code__, one.__code__)
        elif type(one).__name__ == "_lru_cache_wrapper" and str(one.__module__).startswith("fits"):
            one.cache_clear()


def _run(items: list[pytest.Item], seconds: float, told: Path) -> NoReturn:
    """Run tests until one fails, which is told, or the time is over; the exit status tells which."""
    session = items[0].session
    session.items = items
    end = time.monotonic() + seconds
    for item, after in zip(items, [*items[1:], None]):
        item.config.hook.pytest_runtest_protocol(item=item, nextitem=after)
        if session.testsfailed:
            told.write_text(item.nodeid, encoding="utf-8")
            os._exit(1)
        if after and time.monotonic() > end:
            os._exit(UNFINISHED)
    os._exit(0)


def main(copy: str, mutants: str, data: str, seconds: str) -> int:
    """Collect the suite of the copy, then test mutants until there are no more."""
    os.chdir(copy)
    sys.path.insert(0, copy)
    os.environ |= {"PYTHONPATH": copy, "PYTHONDONTWRITEBYTECODE": "1", "OPENBLAS_NUM_THREADS": "1"}
    # Outcomes keep the real output; what tests print goes to the log of errors.
    out = os.fdopen(os.dup(1), "w")
    os.dup2(2, 1)
    worker = Worker(Path(copy), Path(mutants), Noted(Path(data)), float(seconds), out)
    return pytest.main(["-q", "-p", "no:cacheprovider", "-p", "no:xdist", "-p", "no:cov", "tests", "fits"], plugins=[worker])


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))

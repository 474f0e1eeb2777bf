"""Fuzz every text door over a stated number of cases: ``python tests/fuzz/run.py --cases 1000000``.

Half of the cases come from hypothesis, which changes valid texts piece by piece, half from a
coverage-guided fuzzer (``pip install -e ".[fuzz]"``), which keeps what reaches new code. Seeds are
printed; the same seed and number of cases give the same texts of hypothesis. Only the error tree
may come out of a door: no other exception, no warning, no case that takes a second, and what the
tool prints must read back. Status 0: nothing found.
"""

from __future__ import annotations

import argparse
import contextlib
import re
import signal
import subprocess
import sys
import tempfile
import time
import traceback
import warnings
from collections.abc import Iterator
from importlib.util import find_spec
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

from fuzz.doors import Door, close, doors, through
from fuzz.texts import texts
from hypothesis import HealthCheck, Phase, given, seed, settings

# A case that takes longer hangs (seconds of the processor, so that a busy machine says nothing).
SLOW = 1.0
# Hypothesis keeps a tree of what it drew: small runs keep it small.
RUN = 2000
# A door with more kinds of faults than this needs no more of them.
MOST = 20


class HangError(BaseException):
    """A case took longer than it may."""


Found = dict[str, str]


def cases_of(door: Door, cases: int, every: tuple[Door, ...]) -> int:
    """How many cases a door gets: the grammars share ``cases``, files get as many a share besides."""
    return -(-cases * door.share // max(sum(one.share for one in every if one.grammar), 1))


@contextlib.contextmanager
def guarded() -> Iterator[None]:
    """Warnings are errors; a case that takes too long is broken off."""

    def hang(*_: object) -> None:
        raise HangError(f"more than {SLOW:g} s")

    before = signal.signal(signal.SIGVTALRM, hang)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            yield
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0.0)
        signal.signal(signal.SIGVTALRM, before)


def tried(door: Door, text: str, found: Found) -> bool:
    """Whether a door reads a text; a fault of the door joins ``found`` by where it comes from."""
    try:
        signal.setitimer(signal.ITIMER_VIRTUAL, SLOW)
        return through(door, text)
    except (Exception, HangError) as error:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0.0)
        stack = traceback.extract_tb(error.__traceback__)
        last = next((one for one in reversed(stack) if "/fits/" in one.filename), stack[-1])
        where = f"{type(error).__name__} at {Path(last.filename).name}:{last.lineno}"
        if where not in found and len(found) < MOST:
            found[where] = f"{where}: {str(error)[:200]}\n    text: {text[:2000]!r}"
        return False


def by_hypothesis(door: Door, cases: int, first: int) -> tuple[Found, int]:
    """Try texts drawn by hypothesis; what was found, and how many texts were read."""
    found: Found = {}
    read = 0
    strategy = texts(door, small=False)
    with guarded():
        for done in range(0, cases, RUN):

            @seed(first + done)
            @settings(
                max_examples=min(RUN, cases - done), database=None, deadline=None, phases=[Phase.generate],
                derandomize=False, suppress_health_check=list(HealthCheck),
            )
            @given(strategy)
            def one(text: str) -> None:
                nonlocal read
                read += tried(door, text, found)

            one()
    return found, read


def by_coverage(door: Door, cases: int, first: int) -> tuple[Found, str]:
    """Try texts of the coverage-guided fuzzer, in a process of its own."""
    script = Path(__file__).with_name("guided.py")
    with tempfile.TemporaryDirectory(prefix="fits-corpus-") as folder:
        # The guided fuzzer's own corpus: the seeds, each a file.
        for number, text in enumerate(door.seeds):
            (Path(folder) / f"{number}").write_bytes(text.encode("utf-8", "surrogateescape"))
        done = subprocess.run(
            [sys.executable, str(script), door.name, str(cases), str(first), folder],
            capture_output=True, text=True, errors="replace", check=False,
        )
    found = {line: line for line in re.findall(r"^FOUND (.*)$", done.stdout, re.MULTILINE)}
    tried = re.search(r"^TRIED (\d+)$", done.stdout, re.MULTILINE)
    if tried is None:
        found["no end"] = f"the guided fuzzer broke off: {done.stderr[-800:]}"
    return found, tried[1] if tried else "0"


def main() -> int:
    """The script."""
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asked.add_argument("--cases", type=int, default=1_000_000, help="of the grammars together; files get theirs besides")
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--door", help="only this one")
    asked.add_argument("--grammars", action="store_true", help="only those that are one text, no file")
    given_ = asked.parse_args()
    guided = find_spec("atheris") is not None
    if not guided:
        print('the coverage-guided fuzzer is not installed (pip install -e ".[fuzz]"): all cases are of hypothesis')
    every = tuple(
        door for door in doors()
        if given_.door in (None, door.name) and (door.grammar or not given_.grammars)
    )
    total, bad, start = 0, 0, time.perf_counter()
    print(f"{given_.cases:,} cases, seed {given_.seed}")
    for number, door in enumerate(every):
        began = time.perf_counter()
        first = given_.seed * 1_000_000 + number * 10_000_000
        cases = cases_of(door, given_.cases, every)
        mine = cases - cases // 2 if guided else cases
        found, read = by_hypothesis(door, mine, first)
        line = f"{door.name:14} hypothesis {mine:>7,} (seed {first}), {read:,} read"
        done = mine
        if guided and cases // 2:
            more, tried_ = by_coverage(door, cases // 2, given_.seed)
            found |= more
            done += int(tried_)
            line += f"; guided {int(tried_):>7,} (seed {given_.seed})"
        print(f"{line}; {len(found)} faults; {time.perf_counter() - began:.0f} s", flush=True)
        for text in found.values():
            print(f"  {text}", flush=True)
        total, bad = total + done, bad + len(found)
    close()
    print(f"{total:,} cases, {bad} faults, {time.perf_counter() - start:.0f} s")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())

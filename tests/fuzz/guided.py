"""One door under the coverage-guided fuzzer, started by run.py: door, cases, seed, corpus folder."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

import atheris

with atheris.instrument_imports(include=["fits"]):
    from fuzz.doors import close, doors

    import fits.features.bonded
    import fits.features.compound
    import fits.features.dowel
    import fits.features.gland
    import fits.features.press
    import fits.features.reamed
    import fits.features.running  # noqa: F401

from fuzz.run import Found, guarded, tried


def main() -> None:
    """Fuzz, then say what was found: the fuzzer itself ends the process."""
    name, cases, seed, corpus = sys.argv[1:]
    door = next(one for one in doors() if one.name == name)
    words = Path(corpus).with_suffix(".dict")
    words.write_text("".join(f'"{_escaped(word)}"\n' for word in dict.fromkeys(door.words)), encoding="ascii")
    found: Found = {}
    count = 0

    def one(data: bytes) -> None:
        nonlocal count
        count += 1
        tried(door, data.decode("utf-8", "surrogateescape"), found)
        if count == int(cases):
            for text in found.values():
                print("FOUND", text.replace("\n", " "))
            print("TRIED", count, flush=True)
            words.unlink()
            close()

    most = 4 * max(len(seed_.encode("utf-8", "surrogateescape")) for seed_ in door.seeds)
    atheris.Setup(
        [sys.argv[0], f"-runs={cases}", f"-seed={seed}", f"-dict={words}", f"-max_len={most}", "-timeout=60", "-rss_limit_mb=4096", corpus], one
    )
    with guarded():
        atheris.Fuzz()


def _escaped(word: str) -> str:
    return "".join(chr(b) if 32 <= b < 127 and chr(b) not in '"\\' else f"\\x{b:02x}" for b in word.encode("utf-8", "surrogateescape"))


if __name__ == "__main__":
    main()

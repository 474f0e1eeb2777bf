"""Put on the path of a noted run: a process that a test starts notes its lines under that test."""

import os

NAME = os.environ.get("PYTEST_CURRENT_TEST", "")

if NAME and os.environ.get("COVERAGE_PROCESS_CONFIG"):
    import coverage

    if (now := coverage.Coverage.current()) is not None:
        now.switch_context(f"{NAME.rpartition(' ')[0]}|run")

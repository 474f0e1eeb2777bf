"""Any result of a question as rows: what its CSV says, for a notebook's table or for pandas."""

from __future__ import annotations

from typing import Any

from fits.questions.choose import Choices
from fits.questions.compare import Comparison
from fits.questions.fit_window import FitWindow
from fits.questions.judgement import Judged
from fits.questions.options import Options
from fits.questions.pairing import Pairing
from fits.questions.scattered import Odds
from fits.questions.window import Window

Result = Choices | Comparison | FitWindow | Judged | Odds | Options | Pairing | Window


def records(result: Result) -> list[dict[str, Any]]:
    """The rows of a result, mm and report units; a row has the columns that say something of it."""
    if isinstance(result, (Window, FitWindow, Choices, Options)):
        from fits.report import windows

        both = isinstance(result, (Window, FitWindow))
        return list(windows.window_rows(result) if both else windows.chosen_rows(result))  # type: ignore[arg-type]
    if isinstance(result, (Judged, Pairing)):
        from fits.report import measured_data as measured

        judged = isinstance(result, Judged)
        return list(measured.judged_rows(result) if judged else measured.pairing_rows(result))  # type: ignore[arg-type]
    if isinstance(result, Comparison):
        from fits.report import comparison

        return list(comparison.csv_rows(result))
    from fits.report import odds

    return list(odds.csv_rows(result))


def headed(result: Result) -> str:
    """What comes of it in one line."""
    if isinstance(result, Odds):
        from fits.report import odds, rows

        worst = rows.VERDICT_WORDS[result.worst_case.verdict]
        return f"{odds.headline(result)}. {odds.PROOF}{worst}."
    if isinstance(result, Judged):
        from fits.report import measured

        return f"{measured.counts(result)} of {len(result.parts)}"
    if isinstance(result, Pairing):
        return f"{len(result.pairs)} paired, {len(result.left)} left over: {result.feature}"
    if isinstance(result, Comparison):
        from fits.report import rows

        return f"{rows.VERDICT_WORDS[result.before.worst]} -> {rows.VERDICT_WORDS[result.verdict]}"
    if isinstance(result, Window):
        from fits.report import windows

        return windows.headline(result, "mm")
    if isinstance(result, FitWindow):
        return f"{result.feature}: {result.fit} {result.low:.4f} to {result.high:.4f} mm"
    return f"{result.feature}: {len(result.found)} hold"


def frame_of(result: Result) -> Any:
    """The rows of a result as a pandas table."""
    import pandas as pd

    return pd.DataFrame(records(result))

"""Which wrong digit in the inch tables would go unnoticed?

Run: .venv/bin/python tests/long/wrong_digits_ansi_b4.py

Every limit of tables/ansi_b4/inch_fits.csv is changed by one in its last digit, one at a
time, and held against the printed clearances, the second book and the rules of the grades.
Status 1 when one goes unnoticed.
"""

from __future__ import annotations

import sys
from decimal import Decimal
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent / "references"))

import test_ansi_b4_1 as checks

from fits.sizes import ansi_b4


def printed_clearances() -> None:
    for row in checks.PRINTED:
        hole, shaft = ansi_b4.fit(float(row["up_to"]), row["class"])
        for end, ours in (("least", hole.lower - shaft.upper), ("most", hole.upper - shaft.lower)):
            if row[end] and (row["class"], row["over"], end) not in checks.MISPRINTS:
                assert round(ours / 0.0254, 3) == float(row[end])


CHECKS = (
    printed_clearances,
    checks.test_force_fits_against_a_second_book,
    checks.test_holes_of_one_grade_are_the_same_in_every_class,
    checks.test_shafts_are_as_wide_as_their_grade,
    checks.test_one_letter_is_one_deviation_in_every_class_within_the_abc_agreement,
    checks.test_force_fits_grow_with_size_and_with_their_number,
)


def noticed() -> bool:
    ansi_b4._rows.cache_clear()
    for check in CHECKS:
        try:
            check()
        except AssertionError:
            return True
    return False


def main() -> int:
    assert not noticed(), "the table itself fails"
    missed, tried = [], 0
    for row in checks.ROWS:
        for column in ("hole_upper", "shaft_lower", "shaft_upper"):
            right = row[column]
            for step in (1, -1):
                row[column] = str(Decimal(right) + step * Decimal(1).scaleb(Decimal(right).as_tuple().exponent))
                tried += 1
                if not noticed():
                    missed.append(f"{row['class']} over {row['over']} in, {column}: {right} -> {row[column]}")
            row[column] = right
    print(f"{tried} wrong digits, {len(missed)} unnoticed", *missed, sep="\n")
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main())

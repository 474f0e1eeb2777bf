"""AS568 diameters and sections against a second list, typed from a seal maker's catalogue in mm.

Sealstar, AS568 sizes (github.com/yongssgi-ops/sealstar-homepage, js/products.js). The table was
not typed from it. Where the list differs stands in MISPRINTS, each with its reason.
"""

from __future__ import annotations

from fits import tables

# Section (mm) -> first dash -> inside diameters (mm) of that dash and those that follow.
LIST: dict[float, dict[int, str]] = {
    1.02: {1: "0.74"},
    1.27: {2: "1.07"},
    1.52: {3: "1.42"},
    1.78: {
        4: "1.78 2.57 2.90 3.68 4.47 5.28 6.07 7.65 9.25 10.82 12.42 14.00 15.60 17.17 18.77 20.35 21.95 23.52 25.12 "
        "26.70 28.30 29.87 31.47 33.05 34.65 37.82 41.00 44.17 47.35 50.52 53.70 56.87 60.05 63.22 66.40 69.57 72.75 "
        "75.92 82.27 88.62 94.97 101.32 107.67 114.02 120.37 126.72 133.07",
    },
    2.62: {
        102: "1.27 2.06 2.84 3.63 4.42 5.23 6.02 7.59 9.19 10.77 12.37 13.94 15.54 17.12 18.72 20.29 21.89 23.47 25.07 "
        "26.64 28.24 29.82 31.42 32.99 34.59 36.17 37.77 39.34 40.94 42.52 44.12 45.69 47.29 48.90 50.47 52.07 53.64 "
        "55.25 56.82 58.42 59.99 61.60 63.17 64.77 66.34 67.95 69.52 71.12 72.69 75.87 82.22 88.57 94.92 101.27 107.62 "
        "113.97 120.32 126.67 133.02 139.37 145.72 152.07 158.42 164.77 171.12 177.47 183.82 190.17 196.52 202.87 "
        "209.22 215.57 221.92 228.27 234.62 240.97 247.32",
    },
    3.53: {
        201: "4.34 5.94 7.52 9.12 10.69 12.29 13.87 15.47 17.04 18.64 20.22 21.82 23.39 24.99 26.57 28.17 29.74 31.34 "
        "32.92 34.52 36.09 37.69 40.87 44.04 47.22 50.39 53.57 56.74 59.92 63.09 66.27 69.44 72.62 75.79 78.97 82.14 "
        "85.32 88.49 91.67 94.84 98.02 101.19 104.37 107.54 110.72 113.89 117.07 120.24 123.42 126.59 129.77 132.94 "
        "136.12 139.29 142.47 145.64 148.82 151.99 158.34 164.69 171.04 177.39 183.74 190.09 196.44 202.79 209.14 "
        "215.49 221.84 228.19 234.54 240.89 247.24 253.59 266.29 278.99 291.69 304.39 329.79 355.19 380.59 405.26 "
        "430.66 456.06",
    },
    5.33: {
        309: "10.46 12.07 13.64 15.24 16.81 18.42 19.99 21.59 23.16 24.77 26.34 27.94 29.51 31.12 32.69 34.29 37.47 "
        "40.64 43.82 46.99 50.17 53.34 56.52 59.69 62.87 66.04 69.22 72.39 75.57 78.74 81.92 85.09 88.27 91.44 94.62 "
        "97.79 100.97 104.14 107.32 110.49 113.67 116.84 120.02 123.19 126.37 129.54 132.72 135.89 139.07 142.24 "
        "145.42 148.59 151.77 158.42 164.47 170.82 177.17 183.52 189.97 196.22 202.57 208.92 215.27 221.62 227.97 "
        "234.32 240.67 247.02 253.37 266.37 278.77 291.47 304.17 329.57 354.97 380.37 405.26 430.65 456.06 481.41 "
        "506.81 532.28 557.68 582.68 608.38 633.48 658.88",
    },
    6.99: {
        425: "113.67 116.84 120.02 123.19 126.37 129.54 132.72 135.89 139.07 142.24 145.42 148.59 151.77 158.12 164.47 "
        "170.82 177.17 183.52 189.87 196.22 202.57 215.27 227.97 240.67 253.37 266.07 278.77 291.47 304.17 316.87 "
        "329.57 342.27 354.97 367.67 380.37 393.07 405.26 417.96 430.66 443.36 456.06 468.76 481.46 494.16 506.86 "
        "532.26 557.66 582.68 608.08 633.48 658.88",
    },
    1.42: {901: "4.07"},
    1.63: {902: "6.07 7.65"},
    1.83: {904: "8.92 10.52"},
    1.98: {906: "11.89"},
    2.08: {907: "13.46"},
    2.21: {908: "16.36"},
    2.46: {909: "17.94 19.18"},
    2.95: {911: "21.92 23.47 25.04 26.60", 916: "29.75", 918: "34.42"},
    3.00: {920: "37.46", 924: "43.68", 928: "53.09", 932: "59.36"},
}
MISPRINTS = {
    "102": "1.27 is .050 in; a list in inches, and a table of the first and last ring of each series, have .049",
    "362": "158.42 is 6.237 in, off the row of nominals by .012; a list in inches and mm has 6.225",
    "367": "189.97 for 189.87, one digit; a list in inches and mm has 7.475",
    "378": "266.37 for 266.07, one digit; a list in inches and mm has 10.475",
    "388": "18.953 in here, 18.955 elsewhere: doubtful in the table, too",
    "389": "19.953 in here, 19.955 elsewhere: doubtful in the table, too",
    "390": "532.28 here, 532.26 for -470 of the same nominal: doubtful in the table, too",
    "391": "557.68 here, 557.66 for -471 of the same nominal: doubtful in the table, too",
    "393": "608.38 here, 608.08 for -473 of the same nominal: doubtful in the table, too",
    "901": "4.07 is .160 in, digits of 4.70 swapped; a list in inches has .185",
}


def second() -> dict[str, tuple[float, float]]:
    return {
        f"{first + step:03d}": (float(text), section)
        for section, runs in LIST.items()
        for first, texts in runs.items()
        for step, text in enumerate(texts.split())
    }


def test_the_list_has_every_ring_of_the_table():
    assert set(second()) == {row["dash"] for row in tables.load("rings/as568").rows}


def test_diameters_and_sections_agree_to_a_hundredth_of_a_millimetre():
    rows = {row["dash"]: row for row in tables.load("rings/as568").rows}
    differ = {
        dash
        for dash, (inside, section) in second().items()
        if abs(float(rows[dash]["inside"]) * 25.4 - inside) > 0.0101
        or abs(float(rows[dash]["section"]) * 25.4 - section) > 0.0101
    }
    assert differ == set(MISPRINTS)
    assert len(MISPRINTS) == 10


def test_what_the_list_and_the_table_dispute_is_marked_there():
    for row in tables.load("rings/as568").rows:
        if "doubtful in the table" in MISPRINTS.get(row["dash"], ""):
            assert row["doubt"], row["dash"]

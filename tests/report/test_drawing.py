"""Drawings: labels that never overlap, shapes to scale, ids of their own, text that stays text."""

from __future__ import annotations

import math
import random
import re
from collections import Counter
from itertools import combinations, pairwise
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pages import OPEN_POINTS, PUMP, SAMPLER, drawn

from fits.features.feature import State
from fits.features.figures import Figure
from fits.questions.answer import (
    FAIL,
    NOT_COVERED,
    PASS,
    Answer,
    CheckAnswer,
    FeatureAnswer,
    Range,
    SizeAnswer,
    ValueAnswer,
)
from fits.questions.drawn import Bound, Curve, Walls, WallStress
from fits.questions.judgement import ACCEPT, UNDECIDED, Judged, PartJudgement, SizeJudgement, guarded
from fits.questions.measured import Dimension, Measured
from fits.questions.pairing import Left, Pair, Pairing
from fits.questions.scattered import RuleOdds, Scattering, Share
from fits.report import charts, measured_chart, odds_chart, window_chart
from fits.report.drawing import WIDTH, Drawing, on_one_sheet, px, simplified, spread, width_of, wrap
from fits.report.section import section
from fits.sizes.limits import Limits
from fits.sizes.reading import INSIDE
from fits.tables import Source

SOURCE = Source("a test")
WORDS = ["shop", "cold", "working hot under pressure", "proof", "W" * 45, "a b c d e f g h i j k l m n o p q r s t u v w x y z", "20", "<&>"]


def whole(drawing: Drawing) -> Drawing:
    """The drawing as a picture, with no label on another and none off the sheet."""
    alone = drawing.with_notes()
    for one, other in combinations(alone.boxes, 2):
        assert not one.overlaps(other), (drawing.title, one, other)
    for box in alone.boxes:
        assert box.x >= -0.5
        assert box.x + box.width <= WIDTH + 0.5
        assert box.y >= -0.5
        assert box.y + box.height <= alone.height + 0.5
    root = ElementTree.fromstring(f'<r>{alone.svg()}</r>')
    numbers = [float(one) for path in root.iter("path") for one in re.findall(r"-?[\d.]+", path.get("d", ""))]
    assert all(math.isfinite(one) for one in numbers)
    return alone


def size(pick: random.Random, name: str, near: float) -> SizeAnswer:
    lower = near + pick.choice([0.0, 0.0, pick.uniform(-1.0, 1.0) * 10.0 ** pick.randint(-4, 0)])
    tolerance = pick.choice([0.0, 10.0 ** pick.uniform(-4.0, 0.5)])
    basic = pick.choice([None, near, lower, lower - 10.0 * tolerance])
    return SizeAnswer(name, name, pick.choice(["", "25 H7", "1.0000 +0.0002/-0.0001", *WORDS]), lower, lower + tolerance, basic)


def states(pick: random.Random) -> list[State]:
    found = []
    for index in range(pick.randint(1, 9)):
        hub = pick.choice([20.0, -40.0, pick.uniform(-200.0, 400.0)])
        shaft = hub if pick.random() < 0.8 else hub + 30.0
        found.append(State(f"{pick.choice(WORDS)} {index}", hub, shaft, pick.choice([0.0, 12.0])))
    return found


def curve_and_feature(pick: random.Random) -> tuple[Curve, FeatureAnswer, Answer]:
    every = states(pick)
    scale = 10.0 ** pick.uniform(-5.0, 5.0)
    kind = pick.choice(["length", "pressure", "temperature", "force", "number"])
    temperatures = tuple(-60.0 + 10.0 * index for index in range(25))
    ranges = []
    for _ in temperatures:
        low = pick.uniform(-scale, scale)
        ranges.append(pick.choice([Range(low, low + abs(low)), Range(low, low), None, Range(None, low)]))
    ranges[3] = Range(-scale, scale)
    bounds = tuple(
        Bound(pick.choice(WORDS), sense, tuple(pick.choice([scale, 50.0 * scale, 0.0, math.nan]) for _ in temperatures))
        for sense in pick.choices(["at least", "at most"], k=pick.randint(0, 3))
    )
    curve = Curve("v", pick.choice(WORDS), kind, pick.randint(0, 4), temperatures, tuple(ranges), bounds, pick.choice([0.0, 8.0]), 0.0, pick.choice([(), ("not given",)]))
    spans = {one.name: Range(-scale * pick.random(), scale * pick.random()) for one in every if pick.random() < 0.9}
    value = ValueAnswer("v", curve.label, kind, curve.digits, "", SOURCE, spans)
    worst = pick.uniform(-scale, scale)
    check = CheckAnswer(pick.choice(WORDS), "v", "v", "at least", every[0].name, worst, 0.0, kind, 2, worst, pick.choice([PASS, NOT_COVERED]), "", "", SOURCE)
    feature = FeatureAnswer("f", "kind", PASS, (value,), pick.choice([(), (check,)]))
    return curve, feature, Answer("part", PASS, (feature,), tuple(every))


def walls(pick: random.Random) -> Walls:
    parts, inside = [], pick.choice([0.0, pick.uniform(0.1, 50.0)])
    for _ in range(pick.randint(1, 3)):
        outside = inside + 10.0 ** pick.uniform(-2.0, 2.0)
        radii = tuple(inside + (outside - inside) * step / 8.0 for step in range(9))
        parts.append(WallStress(pick.choice(WORDS), radii, tuple(pick.uniform(-900.0, 900.0) for _ in radii)))
        inside = outside
    return Walls(pick.choice(WORDS), tuple(parts))


def figure(pick: random.Random) -> Figure:
    shapes = []
    for _ in range(pick.randint(1, 9)):
        word = pick.choice(["part", "squeezed", "outline", "line", "ring", "circle", "size"])
        count = {"ring": 2, "circle": 2, "size": 4}.get(word, 8)
        numbers = [pick.uniform(-20.0, 20.0) for _ in range(count)] + [pick.uniform(0.1, 5.0)] * (2 * (word in ("ring", "circle")))
        shapes.append((word, tuple(numbers), pick.choice(["", *WORDS])))
    return Figure("groove", tuple(shapes))


def dimension(pick: random.Random, label: str) -> Dimension:
    lower = 10.0 ** pick.uniform(-1.0, 3.0)
    tolerance = pick.choice([0.0, 10.0 ** pick.uniform(-4.0, 0.0)])
    return Dimension(label, label, label.split(".")[0], "hole", pick.choice(["hole", ""]), Limits(lower, lower + tolerance), 0.0, None)


def judged_parts(pick: random.Random) -> Judged:
    dimensions = [dimension(pick, label) for label in ("liner.hole", f"rod.{pick.choice(WORDS)}")]
    parts = []
    for index in range(pick.choice([1, 5, 40])):
        found = []
        for of in dimensions:
            least = of.limits.lower + pick.uniform(-4.0, 4.0) * pick.choice([0.0, of.limits.tolerance, 1e-3])
            size = Measured(of, least, least + pick.choice([0.0, pick.uniform(0.0, 0.01)]), pick.choice([0.0, 0.002, 0.5]), 1)
            found.append(SizeJudgement(size, guarded(size)))
        parts.append(PartJudgement(f"{pick.choice(WORDS)} {index}", pick.choice([ACCEPT, UNDECIDED]), INSIDE, PASS, tuple(found)))
    return Judged(tuple(parts), Counter(one.verdict for one in parts))


def pairing(pick: random.Random) -> Pairing:
    scale = 10.0 ** pick.uniform(-4.0, 0.0)
    pairs = tuple(
        Pair(pick.choice(WORDS), pick.choice(WORDS), str(index), pick.uniform(-scale, scale), pick.choice([0.0, scale / 5.0]),
             pick.choice([None, 0.0, pick.uniform(0.0, 3.0 * scale)]), "liner", pick.choice(["", *WORDS]), pick.choice(WORDS))
        for index in range(pick.choice([1, 4, 30]))
    )
    left = tuple(Left(pick.choice(WORDS), "liner.hole", 16.0, 0.002, pick.random() < 0.5, "liner.shaft", pick.choice([None, (), ((16.0, 16.1),)])) for _ in range(pick.choice([0, 2, 30])))
    return Pairing("liner", "interference", "liner.hole", "liner.shaft", pairs, left)


def rule_odds(pick: random.Random) -> RuleOdds:
    scale = 10.0 ** pick.uniform(-5.0, 5.0)
    low = pick.uniform(-scale, scale) * pick.choice([1.0, 100.0])
    counts = tuple(pick.choice([0, pick.randint(0, 500)]) for _ in range(29))
    worst = CheckAnswer(
        pick.choice(WORDS), "v", "v", "at least", pick.choice(WORDS), 0.0, 0.0, pick.choice(["length", "pressure", "temperature", "number"]), 2,
        pick.choice([None, low - scale * pick.random(), 99.0 * scale]), pick.choice([PASS, FAIL]), "", "", SOURCE,
    )
    share = Share(pick.random(), 0.0, 1.0)
    from_ = pick.choice([(), ((pick.choice(WORDS), 0.5),)])
    return RuleOdds("f", worst.rule, share, share, 0.0, worst, 1.0, from_, Scattering(low, low + scale, (*counts, 1)))


@pytest.mark.parametrize("seed", range(10))
def test_labels_never_overlap_in_a_thousand_random_drawings(seed):
    """25 of each kind for each of ten seeds: 1,000 and more in all."""
    pick = random.Random(seed)
    for _ in range(25):
        units = pick.choice(["mm", "in"])
        near = 10.0 ** pick.uniform(-1.0, 3.0)
        whole(charts.zones(size(pick, "hole", near), size(pick, "shaft", near), units))
        curve, feature, answer = curve_and_feature(pick)
        whole(charts.against_temperature(curve, feature, answer, units))
        whole(charts.through_walls(walls(pick), units))
        whole(section(figure(pick), units))
        for _, drawings in measured_chart.of_judged(judged_parts(pick), units):
            for one in drawings:
                whole(one)
        whole(measured_chart.pairs(pairing(pick), units))
        of_rule = rule_odds(pick)
        whole(odds_chart.margin(of_rule, of_rule.margins, units))


@pytest.fixture(scope="module")
def windows():
    from fits.files.part import read_part
    from fits.questions.window import window

    parts = {PUMP: ("liner.shaft", "working.pressure", "working.temperature", "liner.axial_load"), SAMPLER: ("tube.shaft", "tube.shaft_bore")}
    return [window(read_part(path), text, ways_out=False) for path, texts in parts.items() for text in texts]


def test_labels_never_overlap_in_windows(windows):
    for one in windows:
        for units in ("mm", "in"):
            whole(window_chart.window(one, units))


LOOSE = """name = "liner that has come loose"
[states.working]
temperature = "20 degC"
pressure = "8 MPa"
[press.liner]
hole = "16.01/16.00"
shaft = "15.995/15.99"
shaft_bore = "12 ±0.05"
hub_outside = "32 ±0.1"
length = "40"
hub_material = "6061-T6"
shaft_material = "316"
roughness_hole = "0 um"
roughness_shaft = "0 um"
"""


def test_where_a_rule_holds_at_one_point_only_it_is_marked():
    """Any pressure at all lifts a liner that has come loose: that rule holds at none, an end of the search."""
    from fits.files.part import part_of
    from fits.questions.window import Edge, Interval, window

    found = window(part_of(LOOSE, "loose.toml"), "working.pressure", ways_out=False)
    (lifts,) = [one for one in found.rules if one.rule == "fluid can't lift it"]
    assert lifts.intervals == ((0.0, 0.0),)
    alone = found._replace(rules=(lifts,), intervals=(Interval(Edge(0.0, "end"), Edge(0.0, "lifts it")),))
    for one in (found, alone):
        drawing = window_chart.window(one, "mm")
        whole(drawing)
        bars = sorted((points for style, points, _ in paths_of(drawing.svg()) if 'stroke-width="3"' in style), key=lambda points: points[0][1])
        assert len(bars) == len({of.rule for of in one.rules if of.intervals})
        assert [x for x, _ in bars[0]] == [window_chart.LEFT - 1.0, window_chart.LEFT + 1.0]
        # The others hold from no pressure up to far more than nothing.
        assert all(points[0][0] == window_chart.LEFT and points[1][0] > window_chart.LEFT + 20.0 for points in bars[1:])
    # A window of one point is seen, too, and the present 8 MPa stand right of it: a quarter of
    # their distance is drawn beyond them, so they are at 8 of 10 MPa.
    ((left, _, right, _),) = boxes_of(drawing)
    assert (left, right) == (window_chart.LEFT - 1.0, window_chart.LEFT + 1.0)
    now = window_chart.LEFT + 0.8 * (window_chart.RIGHT - window_chart.LEFT)
    assert [points[0][0] for style, points, _ in paths_of(drawing.svg()) if style == "" and len(points) == 2] == [now]
    assert ("line", "as it is now, its middle") in drawing.notes


def test_a_window_is_drawn_where_it_is(windows):
    """The band of the window covers no stretch in which a rule's own bar is absent."""
    for found in windows:
        for one in found.intervals:
            for rule in found.rules:
                assert any(low <= one.low.at and one.high.at <= high for low, high in rule.intervals)


def paths_of(svg: str) -> list[tuple[str, list[tuple[float, float]], bool]]:
    """Every line of a drawing: the attributes of its layer, its points, whether it is closed."""
    found = []
    for data, style in re.findall(r'<path d="([^"]*)"([^>]*)/>', svg):
        for line in data.split("M")[1:]:
            x = y = 0.0
            points = []
            for word, numbers in re.findall(r"([HhVvLlz]?)((?:-?\d+ ?)*)", line):
                given_ = [float(one) for one in re.findall(r"-?\d+", numbers)]
                if word in ("", "L") and given_:
                    x, y = given_
                elif word == "l":
                    x, y = x + given_[0], y + given_[1]
                elif word in ("H", "h"):
                    x = given_[0] + (x if word == "h" else 0.0)
                elif word in ("V", "v"):
                    y = given_[0] + (y if word == "v" else 0.0)
                if given_:
                    points.append((x, y))
            found.append((style.strip(), points, line.endswith("z")))
    return found


def boxes_of(drawing: Drawing) -> list[list[float]]:
    """The filled boxes of a drawing: left, top, right, bottom."""
    return [
        [points[0][0], points[0][1], points[2][0], points[2][1]]
        for style, points, closed in paths_of(drawing.svg())
        if closed and "fill-opacity" in style and len(points) == 4
    ]


@settings(max_examples=200)
@given(st.lists(st.tuples(st.integers(-50, 400), st.integers(-50, 400)), min_size=3, max_size=9))
def test_a_path_is_the_points_that_were_drawn(points):
    """Commands from the corner and from the point before, mixed for shortness, say the same points."""
    drawing = Drawing("path")
    drawing.path("dense", points, closed=True)
    ((_, told, ends),) = paths_of(drawing.svg())
    assert (told, ends) == ([(float(x), float(y)) for x, y in points], True)


@pytest.mark.parametrize(("hole", "shaft"), [
    ((25.0, 25.021), (24.98, 24.993)), ((16.0, 16.011), (16.05, 16.06)), ((10.0, 10.3), (9.9, 10.1)),
])
def test_zones_are_to_scale(hole, shaft):
    drawing = charts.zones(SizeAnswer("hole", "hole", "", *hole), SizeAnswer("shaft", "shaft", "", *shaft), "mm")
    of_hole, of_shaft = boxes_of(drawing)
    per_mm = (of_hole[3] - of_hole[1]) / (hole[1] - hole[0])
    # Whole pixels: an end may lie half of one off.
    assert of_shaft[3] - of_shaft[1] == pytest.approx((shaft[1] - shaft[0]) * per_mm, abs=1.0 + 0.1 * (of_shaft[3] - of_shaft[1]))
    least = hole[0] - shaft[1]
    assert of_shaft[1] - of_hole[3] == pytest.approx(least * per_mm, rel=0.1, abs=2.0)
    assert (of_shaft[1] > of_hole[3]) is (least > 0.0)


def test_a_size_as_read_stands_where_it_is_over_its_zone():
    """To scale: zone and size of 16 H6 (ISO 286: +0.011/0), read as 16.004 to 16.006, U 0.002."""
    of = Dimension("liner.hole", "liner.hole", "liner", "hole", "hole", Limits(16.0, 16.011), 0.0, None)
    size = Measured(of, 16.004, 16.006, 0.002, 2)
    part = PartJudgement("body 1", ACCEPT, INSIDE, PASS, (SizeJudgement(size, guarded(size)),))
    drawing = measured_chart.sizes("liner.hole", [(part, part.sizes[0])], "mm")
    ((left, _, right, _),) = boxes_of(drawing)
    per_mm = (right - left) / 0.011
    svg = drawing.svg()
    lines = paths_of(svg)
    ((start, end),) = (points for style, points, _ in lines if style == 'stroke-width="3"')
    assert start[0] == pytest.approx(left + 0.004 * per_mm, abs=2.0)
    assert end[0] == pytest.approx(left + 0.006 * per_mm, abs=2.0)
    caps = [points[0][0] for style, points, _ in lines if not style and points[0][0] == points[1][0]]
    assert any(x == pytest.approx(left + 0.002 * per_mm, abs=1.5) for x in caps)
    assert any(x == pytest.approx(left + 0.008 * per_mm, abs=1.5) for x in caps)
    assert "body 1: 16.0040 to 16.0060 ±0.0020 mm, inside; ACCEPT" in svg


def test_a_size_off_the_scale_is_said_and_no_bar_drawn_for_it():
    of = Dimension("liner.hole", "liner.hole", "liner", "hole", "hole", Limits(16.0, 16.01), 0.0, None)
    size = Measured(of, 16.4, 16.4, 0.002, 1)
    part = PartJudgement("body 1", UNDECIDED, INSIDE, PASS, (SizeJudgement(size, guarded(size)),))
    svg = measured_chart.sizes("liner.hole", [(part, part.sizes[0])], "mm").svg()
    assert "off this scale to the right" in " ".join(re.findall(r"<text[^>]*>([^<]*)</text>", svg))
    assert 'stroke-width="3"' not in svg


def test_of_a_long_table_those_with_the_least_room_are_drawn():
    pairs = tuple(Pair(f"h{one}", f"s{one}", str(one), 0.04, 0.002, 0.001 * (50 - one)) for one in range(50))
    drawing = measured_chart.pairs(Pairing("liner", "interference", "liner.hole", "liner.shaft", pairs, ()), "mm")
    svg = drawing.svg()
    assert [one for one in range(50) if f">{one}: h{one} " in svg] == list(range(30, 50))
    assert ("", "drawn: 20 of 50 pairs, those with the least room") in drawing.notes


def test_the_histogram_of_a_margin_is_the_shares_that_were_drawn(tmp_path):
    """A uniform spread of one size over a rule that is linear in it: even bars, the failing share left of 0."""
    from fits.files.part import read_part
    from fits.questions.odds import odds

    path = tmp_path / "rod.toml"
    path.write_text('[running.rod]\nhole = "8.015/8.000"\nshaft = "7.99"\nclearance_at_least = "0.013"\n', encoding="utf-8")
    found = odds(read_part(str(path)))
    (rule,) = (one for one in found.rules if one.rule == "least clearance")
    spread_ = rule.margins
    assert (spread_.low, spread_.high) == (pytest.approx(-0.003, abs=1e-5), pytest.approx(0.012, abs=1e-5))
    assert max(spread_.counts) <= 1.05 * min(spread_.counts)
    # Clearance 0.010 to 0.025: 3 of 15 um are below 0.013.
    edges = [spread_.low + (spread_.high - spread_.low) * one / len(spread_.counts) for one in range(len(spread_.counts))]
    left = sum(count for count, edge in zip(spread_.counts, edges, strict=True) if edge < -1e-5)
    assert left / sum(spread_.counts) == pytest.approx(0.2, abs=0.01)
    notes = odds_chart.margin(rule, spread_, "mm").notes
    assert any(text.startswith("worst case, FAIL: margin -0.003") for _, text in notes)


def test_the_words_for_the_fit_follow_its_sign():
    def notes(hole: tuple[float, float], shaft: tuple[float, float]) -> list[str]:
        drawing = charts.zones(SizeAnswer("hole", "hole", "", *hole), SizeAnswer("shaft", "shaft", "", *shaft), "mm")
        return [text for _, text in drawing.notes]

    assert notes((25.0, 25.021), (24.98, 24.993)) == ["least clearance 0.007 mm", "most clearance 0.041 mm"]
    assert notes((16.0, 16.011), (16.05, 16.06)) == ["most interference 0.060 mm", "least interference 0.039 mm"]
    assert notes((25.0, 25.021), (25.002, 25.015)) == ["most interference 0.015 mm", "most clearance 0.019 mm"]


def test_a_margin_that_is_not_covered_is_said_as_that(tmp_path):
    path = tmp_path / "open.toml"
    path.write_text(OPEN_POINTS, encoding="utf-8")
    answer = drawn(str(path))
    sleeve = answer.features[0]
    open_ = [one for one in sleeve.checks if one.value in ("contact_pressure", "contact_with_fluid")]
    assert [one.verdict for one in open_] == [NOT_COVERED]
    texts = [text for one in charts.of_feature(sleeve, answer, "mm") for _, text in one.notes]
    assert any(text.startswith("NOT COVERED: fluid can't lift it") for text in texts)
    assert any(text.startswith("without what is not covered: roughness_hole") for text in texts)


def test_drawings_take_the_colour_of_the_page_and_have_no_ids_to_clash():
    answer = drawn(PUMP)
    texts = [one.svg() for one in charts.of_feature(answer.features[0], answer, "mm")]
    assert len(texts) == 3
    for text in texts:
        assert " id=" not in text
        assert set(re.findall(r'(?:fill|stroke)="([^"]+)"', text)) <= {"currentColor", "none"}
        assert "<text" in text
        assert "#" not in text


def test_one_sheet_holds_every_drawing():
    answer = drawn(PUMP)
    svg = on_one_sheet(list(charts.drawings(answer, "mm")))
    root = ElementTree.fromstring(svg)
    inner = root.findall("{http://www.w3.org/2000/svg}svg")
    assert len(inner) == 5
    places = [tuple(float(one.get(key, "")) for key in ("x", "y", "width", "height")) for one in inner]
    for (x1, y1, w1, h1), (x2, y2, w2, h2) in combinations(places, 2):
        assert x1 + w1 <= x2 or x2 + w2 <= x1 or y1 + h1 <= y2 or y2 + h2 <= y1
    assert all(x + w <= float(root.get("width", "")) and y + h <= float(root.get("height", "")) for x, y, w, h in places)


@settings(max_examples=200)
@given(st.lists(st.tuples(st.floats(-50.0, 400.0), st.floats(1.0, 40.0)), min_size=1, max_size=12))
def test_spread_parts_what_overlaps(items):
    wanted, sizes = [one for one, _ in items], [size for _, size in items]
    starts = spread(wanted, sizes, 0.0, 360.0)
    order = sorted(range(len(items)), key=lambda one: starts[one])
    assert all(starts[a] + sizes[a] <= starts[b] + 1e-6 for a, b in pairwise(order))
    assert min(starts) >= 0.0
    if sum(sizes) <= 360.0:
        assert max(start + size for start, size in zip(starts, sizes)) <= 360.0 + 1e-6
    assert all(wanted[a] <= wanted[b] for a, b in pairwise(order))


def test_spread_leaves_alone_what_is_apart():
    assert spread([10.0, 50.0], [4.0, 4.0], 0.0, 100.0) == [8.0, 48.0]


@given(st.text(max_size=60), st.floats(20.0, 360.0))
def test_wrapped_lines_fit_their_width(text, width):
    lines = wrap(text, width)
    assert all(width_of(line) <= width for line in lines)
    assert "".join("".join(lines).split()) == "".join(text.split())


@given(st.lists(st.tuples(st.floats(0.0, 300.0), st.floats(0.0, 300.0)), min_size=2, max_size=20))
def test_simplified_lines_stay_where_they_were(points):
    kept = simplified(points)
    assert (kept[0], kept[-1]) == (points[0], points[-1])
    assert set(kept) <= set(points)

    def away(point, a, b):
        length = math.hypot(b[0] - a[0], b[1] - a[1])
        share = 0.0 if not length else max(0.0, min(1.0, ((point[0] - a[0]) * (b[0] - a[0]) + (point[1] - a[1]) * (b[1] - a[1])) / length**2))
        return math.hypot(point[0] - a[0] - share * (b[0] - a[0]), point[1] - a[1] - share * (b[1] - a[1]))

    for point in points:
        nearest = min((away(point, a, b) for a, b in pairwise(kept)), default=0.0)
        assert nearest <= 0.3 or len(kept) == 2


@given(st.floats(1.0, 60.0), st.floats(1.0, 60.0))
def test_an_ellipse_is_two_halves_about_one_middle(rx, ry):
    """An arc's chord that is shorter than twice its radius would be drawn about another point."""
    drawing = Drawing("ring")
    drawing.ellipse("line", 100.0, 100.0, rx, ry)
    path = re.search(r'd="M(-?\d+) (\d+)a(\d+) (\d+) 0 1 0 (\d+) 0a\3 \4 0 1 0 -\5 0z"', drawing.svg())
    left, _, wide, _, chord = (float(one) for one in path.groups())
    assert chord == 2.0 * wide
    assert left + wide == pytest.approx(100.0, abs=0.5)


def test_pixels_are_whole():
    assert px(-0.4) == "0"
    assert px(17.6) == "18"


@pytest.mark.parametrize("suffix", ["svg", "png"])
@pytest.mark.parametrize("args", [
    ["check", "examples/hand_pump.toml"], ["limits", "25 H7/g6", "40 H7/s6"], ["window", "examples/hand_pump.toml", "liner.shaft"],
    ["choose", "examples/hand_pump.toml", "plunger"], ["running", "--hole", "8 H7", "--shaft", "8 f7", "--clearance-at-least", "0.001"],
    ["judge", "examples/hand_pump.toml", "examples/hand_pump.measured.csv"],
    ["pair", "examples/hand_pump.toml", "examples/hand_pump.measured.csv", "--feature", "liner", "--units", "in"],
    ["odds", "examples/hand_pump.toml", "--samples", "1024"],
])
def test_pictures_from_the_command_line(fits, tmp_path, args, suffix):
    if suffix == "png":
        pytest.importorskip("cairosvg", exc_type=OSError, reason="CairoSVG can't find cairo here")
    target = tmp_path / f"a.{suffix}"
    plain, ran = fits(*args), fits(*args, "--picture", str(target))
    assert (ran.status, ran.out, ran.err) == (plain.status, plain.out, "")
    start = {"svg": b"<svg xmlns", "png": b"\x89PNG"}[suffix]
    assert target.read_bytes().startswith(start)
    again = tmp_path / f"b.{suffix}"
    fits(*args, "--picture", str(again))
    assert again.read_bytes() == target.read_bytes()


def test_pictures_that_cannot_be(fits, tmp_path, monkeypatch):
    import sys

    ran = fits("check", "examples/hand_pump.toml", "--picture", str(tmp_path / "a.jpg"))
    assert (ran.status, ran.out) == (2, "")
    assert ran.err == f'--picture: "{tmp_path / "a.jpg"}": the name must end in .svg or .png\n'
    ran = fits("limits", "25 H7", "--picture", str(tmp_path / "a.svg"))
    assert (ran.status, ran.out) == (2, "")
    assert "nothing to draw" in ran.err
    monkeypatch.setitem(sys.modules, "cairosvg", None)
    ran = fits("check", "examples/hand_pump.toml", "--picture", str(tmp_path / "a.png"))
    assert (ran.status, ran.out) == (2, "")
    assert 'pip install "fits[png]"' in ran.err
    assert list(tmp_path.iterdir()) == []

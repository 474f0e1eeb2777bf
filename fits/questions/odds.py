"""How many of a thousand will pass? Parts drawn from how their dimensions scatter.

Dimensions that scatter are drawn by scrambled Sobol points (scipy), sixteen independent
scrambles, so that what is left of chance can be seen. Everything else that is known only
as a range (a pressure "0 to p", friction, ends, roughness loss) stays at its worst for
every part that is drawn. Odds prove nothing: the worst case stands beside them.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from typing import NamedTuple

import numpy as np

from fits.arrays import Array, Mask, Whole
from fits.errors import Fault, InputError
from fits.features.feature import Feature, Rule, declared
from fits.features.fields import Length, Size, levels, shared_key
from fits.features.part import Part
from fits.questions import answer as say
from fits.questions.along import along
from fits.questions.answer import CheckAnswer
from fits.questions.check import check, refusals
from fits.questions.evaluate import blocks, corners_of, count_of, evaluate, relevant
from fits.questions.scattered import Drawn, Odds, RuleOdds, Scattering, Share
from fits.sizes.scatter import Scatter, over_limits

SCRAMBLES = 16
SAMPLES = 65_536
MOST_SAMPLES = 1 << 28
# Two-sided 95 %: Student's t with 15 degrees of freedom.
_T15 = 2.131450
# Numbers of the points are multiples of 2**-BITS.
BITS = 30
# Steps of the histogram of a margin.
STEPS = 30
# Strata of one dimension among which the mean margin is compared.
STRATA = 32

Told = Callable[[float], None]


class _Count:
    """Passes, fails and not covered in each scramble."""

    def __init__(self) -> None:
        self.passing = np.zeros(SCRAMBLES, dtype=np.int64)
        self.failing = np.zeros(SCRAMBLES, dtype=np.int64)

    def add(self, scramble: int, fails: Mask, unknown: Mask, points: int) -> None:
        fails, unknown = (np.broadcast_to(one, (points,)) for one in (fails, unknown))
        failing = int(np.count_nonzero(fails))
        self.failing[scramble] += failing
        self.passing[scramble] += points - failing - int(np.count_nonzero(unknown & ~fails))


class _Asked(NamedTuple):
    feature: str
    rule: Rule
    tally: _Count
    margins: list[Array]


def odds(
    part: Part,
    *,
    samples: int = SAMPLES,
    seed: int = 1,
    workings: bool = False,
    told: Told = lambda done: None,
) -> Odds:
    """The share of parts that passes each rule and all of them, and what sets it.

    Args:
        part: the part; ``part.spreads`` says how dimensions scatter.
        samples: how many parts to draw; rounded up to 16 times a power of two.
        seed: of the scrambles; the same seed gives the same answer.
        workings: add the workings of the worst case.
        told: called with the share of the work that is done.

    Raises:
        InputError: nothing scatters, or the part is refused.

    >>> from fits import Part, Running
    >>> part = Part("pump", {"plunger": Running(hole="12 H7", shaft="12 f7", clearance_at_least="0.01")})
    >>> odds(part, samples=1024).samples
    1024
    """
    worst_case = check(part, workings=workings)
    refused = [f"{name}: {text}" for name in part.features for text in refusals(part, name)]
    if refused:
        raise InputError([Fault(f"refused, nothing is drawn: {text}", place=part.place) for text in refused])
    drawn = scattering(part)
    per_scramble = _per_scramble(samples)
    asked = {name: _asked(part, name) for name in part.features}
    whole = _Count()
    first: dict[str, Array] = {}
    for scramble, ranks in enumerate(_ranks(len(drawn), per_scramble, seed)):
        values = {one.key: placed(one.scatter, ranks[:, at]) for at, one in enumerate(drawn)}
        first = first or {one.key: ranks[:, at] for at, one in enumerate(drawn)}
        fails, unknown = np.zeros((2, per_scramble), dtype=bool)
        for name in part.features:
            _judge(part, name, asked[name], values, scramble, (fails, unknown))
        whole.add(scramble, fails, unknown, per_scramble)
        told((scramble + 1) / SCRAMBLES)
    checks = {(f.name, one.rule): one for f in worst_case.features for one in f.checks}
    rules = tuple(
        _rule_odds(one, checks[name, one.rule.name], drawn, first, per_scramble)
        for name in part.features
        for one in asked[name]
    )
    passing, failing = shares(whole.passing, per_scramble), shares(whole.failing, per_scramble)
    return Odds(
        per_scramble * SCRAMBLES,
        seed,
        passing,
        failing,
        1.0 - passing.share - failing.share,
        rules,
        drawn,
        _at_worst(part, {one.key for one in drawn}),
        worst_case,
    )


def _per_scramble(samples: int) -> int:
    if not SCRAMBLES <= samples <= MOST_SAMPLES:
        must = f"from {SCRAMBLES} to {MOST_SAMPLES} parts can be drawn"
        raise InputError(Fault(must, str(samples), "samples"))
    # Below 64 points a scramble there are too few to see what a spread does.
    return max(1 << math.ceil(math.log2(samples / SCRAMBLES)), 64)


def scattering(part: Part) -> tuple[Drawn, ...]:
    """The dimensions that are drawn: sizes with a tolerance, and what a spread was said of.

    A shared size is drawn once; a size on a surface goes with the feature it stands on.

    Raises:
        InputError: there is none.
    """
    found: dict[str, Drawn] = {}
    needed: set[str] = set()
    for name, feature in part.features.items():
        needed |= set(relevant(part, name, _values(feature, _rules(part, name))))
    for name, feature in part.features.items():
        for field, kind, value in feature.numeric_fields():
            key = shared_key(value) or f"{name}.{field}"
            said = part.spreads.get(key)
            ends = levels(value)
            cut = isinstance(kind, (Size, Length)) and field not in type(feature).wished
            toleranced = cut and len(ends) > 1 and key in needed
            if not ends or key in found or (said is None and not toleranced):
                continue
            scatter = said or over_limits_of(ends)
            found[key] = Drawn(key, key, kind.quantity, scatter, said is not None)
    if not found:
        hint = 'give sizes limits, or say --spread "liner.hole: measured 16.003 16.005"'
        raise InputError(Fault("nothing scatters: no rule depends on a size with a tolerance", hint=hint))
    return tuple(found.values())


def over_limits_of(ends: tuple[float, ...]) -> Scatter:
    """Uniform between the levels of a dimension."""
    from fits.sizes.scatter import Between

    return over_limits(Between(min(ends), max(ends)))


def placed(scatter: Scatter, ranks: Array) -> Array:
    """Ranks from 0 to 1 (exclusive) as numbers of a dimension."""
    if scatter.form == "measured":
        rising = np.sort(np.array(scatter.measured))
        return np.asarray(rising[(ranks * len(rising)).astype(np.intp)])
    if scatter.form == "uniform":
        return np.asarray(scatter.low + ranks * (scatter.high - scatter.low))
    from scipy.special import ndtr, ndtri

    if scatter.ends:
        low, high = (ndtr((end - scatter.middle) / scatter.sigma) for end in (scatter.low, scatter.high))
        ranks = low + ranks * (high - low)
    return np.asarray(scatter.middle + scatter.sigma * ndtri(ranks))


def _ranks(dimensions: int, points: int, seed: int) -> Iterator[Array]:
    """One array of (points, dimensions) a scramble, each number inside 0 to 1."""
    from scipy.stats import qmc

    for scramble in range(SCRAMBLES):
        sobol = qmc.Sobol(dimensions, scramble=True, bits=BITS, rng=np.random.default_rng([seed, scramble]))
        # Half a step of the points' grid: 0 itself would be minus infinity of a normal.
        yield np.asarray(sobol.random_base2(points.bit_length() - 1)) + 0.5 ** (BITS + 1)


def _rules(part: Part, name: str) -> list[Rule]:
    feature, states = part.features[name], part.columns(name)
    return [rule for rule in type(feature).rules if rule.asked(feature, states)]


def _values(feature: Feature, rules: list[Rule]) -> set[str]:
    """The values that rules hold, and those that they are held against."""
    return {one.value for one in rules} | {one.limit for one in rules if isinstance(one.limit, str)}


def _asked(part: Part, name: str) -> list[_Asked]:
    return [_Asked(name, rule, _Count(), []) for rule in _rules(part, name)]


def _judge(
    part: Part,
    name: str,
    asked: list[_Asked],
    values: Mapping[str, Array],
    scramble: int,
    whole: tuple[Mask, Mask],
) -> None:
    """Judge one feature of every part of a scramble; ``whole`` gathers over the features."""
    feature = part.features[name]
    duty = type(feature).must_ask
    if duty is not None and not any(one.rule.name in duty[0] for one in asked):
        whole[1][:] = True
    wanted = _values(feature, [one.rule for one in asked])
    corners = corners_of(relevant(part, name, wanted), values)
    width = count_of(corners) * (len(part.states_of(name)) + 1)
    for span in blocks(len(whole[0]), width):
        given = {key: array[span].reshape(-1, 1, 1) for key, array in values.items()}
        evaluation = evaluate(part, name, values=wanted, given=given, corners=corners)
        points = span.stop - span.start
        apart = _apart(part, name, {key: array[span] for key, array in values.items()}, points)
        for one in asked:
            found = along(one.rule, evaluation)
            fails, unknown = found.fails | apart, found.unknown
            one.tally.add(scramble, fails, unknown, points)
            whole[0][span] |= fails
            whole[1][span] |= unknown
            if scramble == 0:
                one.margins.append(np.broadcast_to(found.margin, (points,)))


def _apart(part: Part, name: str, values: Mapping[str, Array], points: int) -> Mask:
    """Parts that can't be made or assembled: a bore larger than its outside, a size below 0."""
    feature = part.features[name]
    found = np.zeros(points, dtype=bool)
    sizes: dict[str, tuple[Array, Array]] = {}
    for field, kind in declared(type(feature)).items():
        value = getattr(feature, field)
        ends = levels(value)
        if isinstance(kind, (Size, Length)) and ends and max(ends) > 0.0:
            drawn = values.get(shared_key(value) or f"{name}.{field}")
            sizes[field] = (np.array([min(ends)]), np.array([max(ends)])) if drawn is None else (drawn, drawn)
            if drawn is not None:
                found |= drawn <= 0.0
    for relation in type(feature).relations:
        if relation.smaller in sizes and relation.larger in sizes:
            # Of what isn't drawn the nearer limit counts.
            found |= np.asarray(sizes[relation.smaller][1] >= sizes[relation.larger][0])
    return found


def shares(counts: Whole, points: int) -> Share:
    """A share from its count in each scramble, with its 95 % interval.

    The wider of two: Student's t over the independent scrambles, and the exact binomial
    one (Clopper and Pearson, Biometrika 26, 1934), which keeps a width where no part failed.
    """
    from scipy.special import betaincinv

    total = points * SCRAMBLES
    hits = int(counts.sum())
    share = hits / total
    half = _T15 * float(np.std(counts / points, ddof=1)) / math.sqrt(SCRAMBLES)
    low = 0.0 if hits == 0 else float(betaincinv(hits, total - hits + 1, 0.025))
    high = 1.0 if hits == total else float(betaincinv(hits + 1, total - hits, 0.975))
    return Share(share, max(min(low, share - half), 0.0), min(max(high, share + half), 1.0))


def _rule_odds(
    asked: _Asked, worst: CheckAnswer, drawn: tuple[Drawn, ...], ranks: Mapping[str, Array], points: int
) -> RuleOdds:
    passing, failing = (shares(one, points) for one in (asked.tally.passing, asked.tally.failing))
    capability: float | None = None
    sources: tuple[tuple[str, float], ...] = ()
    margins: Scattering | None = None
    margin = np.concatenate(asked.margins)
    if np.isfinite(margin.sum()) and worst.verdict != say.NOT_COVERED:
        sigma = float(margin.std())
        if sigma > 1e-12 * max(float(np.abs(margin).max()), 1e-9):
            capability = float(margin.mean()) / (3.0 * sigma)
            of = ((one.label, first_order(ranks[one.key], margin)) for one in drawn)
            sources = tuple(sorted((one for one in of if one[1] >= 0.005), key=lambda one: -one[1]))
            counts, edges = np.histogram(margin, STEPS)
            margins = Scattering(float(edges[0]), float(edges[-1]), tuple(counts.tolist()))
    not_covered = 1.0 - passing.share - failing.share
    shares_of = (passing, failing, not_covered)
    return RuleOdds(asked.feature, asked.rule.name, *shares_of, worst, capability, sources, margins)


def first_order(ranks: Array, margin: Array) -> float:
    """The share of a margin's variance that one dimension alone brings (first-order index).

    The variance of the mean margin over strata of the dimension, less what chance would
    leave there (Saltelli et al., Global Sensitivity Analysis: The Primer, 2008, ch. 4).
    """
    strata = min(STRATA, max(len(ranks) // 16, 2))
    which = (ranks * strata).astype(np.intp)
    size = np.bincount(which, minlength=strata)
    mean = np.bincount(which, weights=margin, minlength=strata) / np.maximum(size, 1)
    total = float(((margin - margin.mean()) ** 2).sum())
    between = float((size * (mean - margin.mean()) ** 2).sum())
    within = (total - between) / max(len(margin) - strata, 1)
    return min(max((between - (strata - 1) * within) / total, 0.0), 1.0)


def _at_worst(part: Part, drawn: set[str]) -> tuple[str, ...]:
    """What is known only as a range and stays at its worst for every part drawn."""
    found = {}
    for name, feature in part.features.items():
        wanted = _values(feature, _rules(part, name))
        for key, dimension in relevant(part, name, wanted).items():
            if key not in drawn and len(dimension.levels) > 1:
                found[key] = f"{key.partition('.')[2].replace('_', ' ')} of {key.partition('.')[0]}"
    return tuple(found.values())

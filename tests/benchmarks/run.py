"""Speed as ratios in one run: processes against ``import numpy``, values against their plain line.

    python tests/benchmarks/run.py

Medians of rounds in turn, so that a busy machine slows both sides alike.
"""

from __future__ import annotations

import os
import platform
import resource
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np

from fits.features.feature import State, States
from fits.features.gland import PistonGland
from fits.features.part import Part
from fits.features.press import Press
from fits.questions.evaluate import Evaluation, blocks, corners_of, evaluate, relevant
from fits.questions.judging import margins
from fits.questions.odds import odds
from fits.questions.scan import Scan
from fits.questions.targets import target_of
from fits.questions.window import scanned

ROOT = Path(__file__).parent.parent.parent
sys.path.insert(0, str(ROOT / "tests"))
from pages import ten  # noqa: E402

ROUNDS = 15
GOALS = {
    "fits --help": (["--help"], 1.0),
    "fits limits": (["limits", "25 H7/g6"], 3.0),
    "fits check": (["check", "examples/hand_pump.toml"], 3.6),
    "fits sheet, ten features": (["sheet", "{ten}"], 6.0),
    "fits window": (["window", "examples/hand_pump.toml", "liner.shaft"], 4.0),
}


def seconds(run: Callable[[], object]) -> float:
    start = time.perf_counter()
    run()
    return time.perf_counter() - start


def process(*command: str) -> Callable[[], object]:
    # As installed: compiled files are kept (the first round, not counted, writes them).
    env = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    return lambda: subprocess.run([sys.executable, *command], cwd=ROOT, env=env, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False)


def processes() -> None:
    base = process("-c", "import numpy")
    part = ten(Path(tempfile.mkdtemp()))
    runs = {name: process("-m", "fits", *(arg.format(ten=part) for arg in args)) for name, (args, _) in GOALS.items()}
    ratios: dict[str, list[float]] = {name: [] for name in runs}
    for round_ in range(ROUNDS):
        reference = seconds(base)
        for name, run in runs.items():
            ratio = seconds(run) / reference
            if round_:
                ratios[name].append(ratio)
    for name, found in ratios.items():
        print(f"{name:28} {statistics.median(found):5.2f} x import numpy   (goal {GOALS[name][1]})")


def joints(count: int) -> dict[str, np.ndarray]:
    random = np.random.default_rng(7)
    hole = random.uniform(20.0, 40.0, count)
    return {
        "joint.hole": hole, "joint.shaft": hole * random.uniform(1.0005, 1.002, count),
        "joint.shaft_bore": hole * random.uniform(0.3, 0.8, count), "joint.hub_outside": hole * random.uniform(1.5, 3.0, count),
        "joint.length": random.uniform(20.0, 60.0, count),
    }


def plain(d: dict[str, np.ndarray]) -> np.ndarray:
    """The contact pressure as one numpy expression."""
    a, c, b = d["joint.shaft_bore"] / 2, d["joint.hole"] / 2, d["joint.hub_outside"] / 2
    delta = (d["joint.shaft"] - d["joint.hole"]) / 2
    return delta / (c / 68900.0 * ((b * b + c * c) / (b * b - c * c) + 0.33) + c / 193000.0 * ((c * c + a * a) / (c * c - a * a) - 0.29))


def values(count: int = 1_000_000) -> None:
    part = Part("batch", {"joint": Press(
        hole="30", shaft="30.03", shaft_bore="15", hub_outside="60", length="40", hub_material="6061-T6",
        shaft_material="316", roughness_hole="0 um", roughness_shaft="0 um", friction_hold=0.1, friction_press=0.1)})
    d = joints(count)
    columns = 2  # the shop, and as made

    def ours() -> float:
        """Numbers computed per joint, in blocks that stay in the cache."""
        computed = 0
        for span in blocks(count, columns):
            found = evaluate(part, "joint", given={key: one[span].reshape(-1, 1, 1) for key, one in d.items()})
            computed += sum(array.size for array in found.numbers.values() if len(array) == span.stop - span.start)
        return computed / count

    count_of_values = ours()
    rounds = [(seconds(ours), seconds(lambda: plain(d))) for _ in range(5)]
    ratio = statistics.median(one / (two * count_of_values) for one, two in rounds)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0
    print(f"{'press, 1,000,000 joints':28} {ratio:5.2f} x the plain Lamé line, per value ({count_of_values:.0f} values; goal 1.0)")
    print(f"{'':28} {peak:5.0f} MB at most (goal 1000)")


def glands(count: int = 1_000_000) -> None:
    """A million piston glands, every rule in three states, against the plain squeeze line."""
    states = (State("shop"), State("cold", -15.0, -15.0), State("hot", 60.0, 60.0, 3.0))
    part = Part("batch", {"seal": PistonGland(
        ring={"inside": "25 ±0.2", "section": "3.5 ±0.1"}, elastomer={"based_on": "NBR 70", "expansion": "170e-6 1/K"}, duty="static", medium="liquid",
        fluid="mineral oil", bore="31", piston_diameter="30.95", groove_diameter="25.4", groove_width="5", corner_radius="0.4", swell="0.05",
        compression_set="0.2", finish="0.4 um", lead_in="5", hub_material="6061-T6", shaft_material="6061-T6", hub_outside="45")}, states)
    random = np.random.default_rng(7)
    section = random.uniform(1.8, 7.0, count)
    inside = random.uniform(20.0, 60.0, count)
    groove = inside * random.uniform(1.0, 1.04, count)
    bore = groove + 2.0 * section * random.uniform(0.75, 0.9, count)
    d = {"seal.ring.section": section, "seal.ring.inside": inside, "seal.groove_diameter": groove, "seal.bore": bore, "seal.piston_diameter": bore - 0.05,
         "seal.groove_width": section * random.uniform(1.35, 1.6, count), "seal.hub_outside": bore * 1.5}
    feature = part.features["seal"]
    of_states = States.of(states)
    asked = [rule for rule in type(feature).rules if rule.asked(feature, of_states)]
    corners = dict(corners_of(relevant(part, "seal"), d).items())
    width = len(next(iter(corners.values()))) * len(of_states.names)

    def ours() -> float:
        """Every value and every rule's margins, at both ends of the squeeze and of the pressure."""
        computed = 0
        for span in blocks(count, width):
            found = evaluate(part, "seal", given={key: one[span].reshape(-1, 1, 1) for key, one in d.items()}, corners=corners)
            computed += sum(array.size for array in found.numbers.values() if len(array) == span.stop - span.start)
            for rule in asked:
                margins(feature, rule, found).holding.all()
        return computed / count

    def plain() -> np.ndarray:
        """The squeeze as one numpy expression: section on its seat less the depth, over the section."""
        stretched = groove / inside - 1.0
        thin = section * (1.0 - 0.01 * (0.56 + 59.0 * stretched - 46.0 * stretched * stretched))
        return (thin - (bore - groove) / 2.0 - 0.025) / section

    count_of_values = ours()
    rounds = [(seconds(ours), seconds(plain)) for _ in range(5)]
    ratio = statistics.median(one / (two * count_of_values) for one, two in rounds)
    whole = f"per value ({count_of_values:.0f} values, {len(asked)} rules, 3 states; goal 1.0)"
    print(f"{'piston gland, 1,000,000':28} {ratio:5.2f} x the plain squeeze line, {whole}")


def windows() -> None:
    """A window of a press with four toleranced sizes in four states, against one evaluation."""
    states = (State("shop"), State("cold", -20.0, -20.0), State("hot", 70.0, 70.0, 8.0), State("proof", 20.0, 20.0, 12.0, 0.0, True))
    part = Part("window", {"joint": Press(
        hole="16 H6", shaft="16.060/16.050", shaft_bore="12 ±0.02", hub_outside="32 ±0.1", length="40", hub_material="6061-T6",
        shaft_material={"based_on": "316", "yield_strength": "1000 MPa"}, roughness_hole=3.0, roughness_shaft=2.0,
        friction_hold=0.1, friction_press=0.1, axial_load=800.0, ends="body")}, states)
    scan = Scan(part, target_of(part, "joint.shaft"))
    points = 0
    plain = scan._along

    def counted(name: str, at: np.ndarray, corners: dict[str, np.ndarray]) -> Iterator[tuple[slice, Evaluation]]:
        nonlocal points
        points += len(at) * len(next(iter(corners.values())))
        return plain(name, at, corners)

    scan._along = counted
    scanned(scan)
    corners = scan.all["joint"]
    lead = np.linspace(15.5, 16.5, points // len(next(iter(corners.values())))).reshape(-1, 1, 1)

    def batch() -> None:
        for span in blocks(len(lead), len(next(iter(corners.values()))) * 5):
            evaluate(part, "joint", given={"joint.shaft": lead[span]}, corners=corners)

    rounds = [(seconds(lambda: scanned(Scan(part, scan.target))), seconds(batch)) for _ in range(7)]
    ratio = statistics.median(one / two for one, two in rounds)
    print(f"{'window, four sizes and states':28} {ratio:5.2f} x one evaluation of its {points} points (goal 3.0)")


def joints_table(path: Path, count: int = 1_000_000) -> None:
    """A table of measured joints as a shop would keep it: sizes, two metals, load, friction, faces."""
    import pandas as pd

    random = np.random.default_rng(7)
    hole = np.round(random.uniform(20.0, 40.0, count), 4)
    pd.DataFrame({
        "part": [f"J{at:07d}" for at in range(count)], "hole [mm]": hole, "shaft [mm]": np.round(hole * random.uniform(1.0005, 1.002, count), 4),
        "shaft_bore [mm]": np.round(hole * random.uniform(0.3, 0.8, count), 3), "hub_outside [mm]": np.round(hole * random.uniform(1.5, 3.0, count), 2),
        "length [mm]": np.round(random.uniform(20.0, 60.0, count), 1), "hub_material": random.choice(["6061-T6", "1045 HR", "304"], count),
        "shaft_material": random.choice(["316L", "1045 HR"], count), "axial_load [N]": np.round(random.uniform(0.0, 3000.0, count)),
        "friction_hold": 0.1, "friction_press": 0.2, "roughness_hole [um]": 3.0, "roughness_shaft [um]": 2.0,
    }).to_csv(path, index=False)


def batch() -> None:
    """A million joints from a table, against pandas reading and writing that table."""
    with tempfile.TemporaryDirectory() as folder:
        table, out = Path(folder) / "joints.csv", Path(folder) / "out.csv"
        joints_table(table)
        ours = process("-m", "fits", "batch", "press", str(table), "-o", str(out))
        plain = process("-c", f"import pandas as pd; pd.read_csv({str(table)!r}).to_csv({str(out)!r}, index=False)")
        # The peak of that process alone: ru_maxrss would count what this one held when it forked.
        measured = "import sys; from fits.cli.main import main; main(sys.argv[1:]); print(open('/proc/self/status').read().split('VmHWM:')[1].split()[0])"
        ran = subprocess.run([sys.executable, "-c", measured, "batch", "press", str(table), "-o", str(out)], capture_output=True, text=True, check=True)
        rounds = [(seconds(ours), seconds(plain)) for _ in range(3)]
        assert sum(1 for _ in out.open()) >= 1_000_000
    ratio = statistics.median(one / two for one, two in rounds)
    print(f"{'fits batch, 1,000,000 joints':28} {ratio:5.2f} x pandas.read_csv and to_csv   (goal 3.0)")
    print(f"{'':28} {int(ran.stdout.split()[-1]) / 1024:5.0f} MB at most (goal 1000)")


def drawn() -> None:
    """A million parts drawn, four states, against the plain line on as many numbers, per value."""
    states = (State("shop"), State("cold", -20.0, -20.0), State("hot", 70.0, 70.0, 8.0), State("proof", 20.0, 20.0, 12.0, 0.0, True))
    part = Part("odds", {"joint": Press(
        hole="16 H6", shaft="16.060/16.050", shaft_bore="12 ±0.02", hub_outside="32 ±0.1", length="40 ±0.1", hub_material="6061-T6",
        shaft_material={"based_on": "316", "yield_strength": "1000 MPa"}, roughness_hole=0.0, roughness_shaft=0.0,
        friction_hold=0.1, friction_press=0.1, axial_load=800.0, ends="body")}, states)
    count = 1 << 20
    odds(part, samples=1024)  # imports scipy
    d = joints(count)
    d = {key: np.broadcast_to(one[:, None], (count, len(states))).copy() for key, one in d.items()}
    wanted = {one for rule in Press.rules if rule.asked(part.features["joint"], States.of(states)) for one in (rule.value, rule.limit) if isinstance(one, str)}
    sample = {key: one[:64, :1].reshape(-1, 1, 1) for key, one in d.items()}
    found = evaluate(part, "joint", values=wanted, given=sample)
    computed = sum(len(array) == 64 for array in found.numbers.values() if array.ndim == 3)
    rounds = [(seconds(lambda: odds(part, samples=count)), seconds(lambda: plain(d))) for _ in range(3)]
    ratio = statistics.median(one / (two * computed) for one, two in rounds)
    print(f"{'odds, 1,000,000 parts':28} {ratio:5.2f} x the plain Lamé line, per value ({computed} values, four states; goal 2.0)")


# What a shop's spreadsheet works out of a joint: interference, pressure, hoop stress, force.
FORMULAS = (
    "[.B{r}]-[.A{r}]",
    "[.F{r}]/2/([.A{r}]/2/68900*(([.D{r}]^2+[.A{r}]^2)/([.D{r}]^2-[.A{r}]^2)+0.33)+[.A{r}]/2/193000*(([.A{r}]^2+[.C{r}]^2)/([.A{r}]^2-[.C{r}]^2)-0.29))",
    "[.G{r}]*([.D{r}]^2+[.A{r}]^2)/([.D{r}]^2-[.A{r}]^2)",
    "0.1*[.G{r}]*PI()*[.A{r}]*[.E{r}]",
)
SHEET = (
    '<?xml version="1.0" encoding="UTF-8"?><office:document xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" '
    'xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" xmlns:of="urn:oasis:names:tc:opendocument:xmlns:of:1.2" office:mimetype="application/vnd.oasis.opendocument.spreadsheet" '
    'office:version="1.2"><office:body><office:spreadsheet><table:table table:name="joints">{rows}</table:table></office:spreadsheet>'
    "</office:body></office:document>"
)


def spreadsheet(count: int = 10_000) -> None:
    """The same joints by ``fits batch`` and by a spreadsheet that recalculates them, each as a process."""
    office = shutil.which("soffice")
    if office is None:
        print(f"{'fits batch, 10,000 joints':28} no LibreOffice here to compare with")
        return
    d = joints(count)
    columns = [np.round(d[f"joint.{name}"], 4) for name in ("hole", "shaft", "shaft_bore", "hub_outside", "length")]
    with tempfile.TemporaryDirectory() as folder:
        table, out, sheet = Path(folder) / "joints.csv", Path(folder) / "out.csv", Path(folder) / "sheet.fods"
        lines = ["hole [mm],shaft [mm],shaft_bore [mm],hub_outside [mm],length [mm],hub_material,shaft_material,friction_hold,friction_press"]
        lines += [",".join(f"{one:.4f}" for one in row) + ",6061-T6,316,0.1,0.1" for row in zip(*columns, strict=True)]
        table.write_text("\n".join(lines), encoding="utf-8")
        cells = []
        for at, row in enumerate(zip(*columns, strict=True), 1):
            typed = "".join(f'<table:table-cell office:value-type="float" office:value="{one:.4f}"/>' for one in row)
            worked = "".join(f'<table:table-cell table:formula="of:={one.format(r=at)}"/>' for one in FORMULAS)
            cells.append(f"<table:table-row>{typed}{worked}</table:table-row>")
        sheet.write_text(SHEET.format(rows="".join(cells)), encoding="utf-8")
        ours = process("-m", "fits", "batch", "press", str(table), "-o", str(out))
        command = [office, f"-env:UserInstallation=file://{folder}/home", "--headless", "--convert-to", "csv", "--outdir", folder, str(sheet)]

        def theirs() -> None:
            subprocess.run(command, check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)

        theirs()  # its first start makes a profile
        rounds = [(seconds(ours), seconds(theirs)) for _ in range(5)]
        worked = np.loadtxt(Path(folder) / "sheet.csv", delimiter=",")
    assert np.allclose(worked[:, 6], plain({key: one.round(4) for key, one in d.items()}), atol=0.02)
    ratio = statistics.median(one / two for one, two in rounds)
    print(f"{'fits batch, 10,000 joints':28} {ratio:5.2f} x LibreOffice recalculating four numbers of each (no goal; fits judges every rule)")


if __name__ == "__main__":
    print(f"{platform.processor() or platform.machine()}, Python {platform.python_version()}, numpy {np.__version__}")
    processes()
    values()
    glands()
    windows()
    batch()
    drawn()
    spreadsheet()

"""Parts of every verdict for the pages' tests, and what an HTML page is made of."""

from __future__ import annotations

import io
import re
from html import unescape
from html.parser import HTMLParser
from pathlib import Path
from unicodedata import normalize

from conftest import ROOT

from fits.files.part import read_part
from fits.questions.answer import Answer
from fits.questions.check import check
from fits.questions.drawn import with_drawings

PUMP, SAMPLER = (str(ROOT / "examples" / f"{name}.toml") for name in ("hand_pump", "water_sampler"))
# Which tags a tag ends that HTML lets out the end of.
ENDS = {
    "td": {"td", "th"}, "th": {"td", "th"}, "tr": {"td", "th", "tr"}, "tbody": {"td", "th", "tr", "thead"},
    "li": {"li"}, "dt": {"dt", "dd"}, "dd": {"dt", "dd"}, "p": {"p"},
}
MAY_STAY_OPEN = {"td", "th", "tr", "thead", "tbody", "li", "dt", "dd", "p"}
# Ends that HTML never writes.
VOID = {"meta", "br", "hr", "img", "link", "input", "path", "rect"}

OPEN_POINTS = """
name = "cell <b>&</b> \\"rod\\" of 3 < 4 mm"
revision = "1 & 2"
[states.hot]
hub_temperature = "90 degC"
shaft_temperature = "20 degC"
[states."a state of a very long name that no drawing has room for in one line"]
temperature = "20 degC"
pressure = "2 MPa"
[press.sleeve]
hole = "20 H7"
shaft = "20.05/20.04"
hub_outside = "40"
hub_material = "6061-T6"
shaft_material = "316"
[running.rod]
hole = "8 H7"
shaft = "8 f7"
"""
# Invented, as the examples are.
PUMP_STATES = """
name = "bench hand pump of two cylinders"
revision = "A"
[states.shop]
temperature = "20 degC"
[states.cold]
temperature = "-20 degC"
[states.working]
temperature = "70 degC"
pressure = "8 MPa"
[materials.liner_bar]
youngs_modulus = "196 GPa"
poisson = 0.272
yield_strength = "1000 MPa"
ultimate_strength = "1070 MPa"
expansion = "10.8e-6 to 11.2e-6 1/K"
density = "7800 kg/m^3"
family = "steel"
"""
LINER = """
hole = "{d} H6"
shaft = "{d}.060/{d}.050"
shaft_bore = "{bore} ±0.02"
hub_outside = "{outside} ±0.1"
length = "40"
hub_material = "6061-T6"
shaft_material = "liner_bar"
assembly = "pressed"
lubrication = "oiled"
roughness_hole = "3 um"
roughness_shaft = "2 um"
axial_load = "800 N"
ends = "body"
press_rating = "30 kN"
"""
PLUNGER = """
hole = "{liner}.shaft_bore"
shaft = "{size:.3f} -0.005/-0.015"
shaft_material = "liner_bar"
clearance_at_least = "0.008"
clearance_at_most = "0.120"
"""
SEAL = """
form = "piston"
ring = "JIS B 2401 P16"
elastomer = "NBR 90"
duty = "static"
medium = "liquid"
fluid = "mineral oil"
bore = "20 H7"
piston_diameter = "19.93 0/-0.02"
groove_diameter = "{groove:.2f} 0/-0.05"
groove_width = "3.5 +0.1/0"
corner_radius = "0.3 ±0.1"
swell = "0 to 0.05"
compression_set = "0.10 to 0.25"
finish = "0.8 um"
lead_in = "4.5"
hub_outside = "32 ±0.1"
length = "30"
hub_material = "6061-T6"
shaft_material = "6061-T6"
"""
REFUSED = """
name = "proof with gas"
[states.proof]
temperature = "20 degC"
pressure = "12 MPa"
proof = true
medium = "nitrogen"
[running.rod]
hole = "8 H7"
shaft = "8 f7"
"""


def drawn(path: str, *, workings: bool = False) -> Answer:
    """The answer of a part file with its drawings."""
    part = read_part(path)
    return with_drawings(part, check(part, workings=workings))


def ten(folder: Path, presses: int = 2, plungers: int = 8, seals: int = 0, *, alike: bool = False) -> str:
    """A part of ten features: liners, plungers in their bores and seals, no two of one size unless alike."""
    found = PUMP_STATES
    for index in range(presses):
        d = 16 if alike else 16 + index
        found += f"[press.liner_{index + 1}]{LINER.format(d=d, bore=d - 4, outside=2 * d)}"
    for index in range(plungers):
        liner = index % presses
        size = 11.93 + (0 if alike else liner - 0.001 * index)
        found += f"[running.plunger_{index + 1}]{PLUNGER.format(liner=f'liner_{liner + 1}', size=size)}"
    for index in range(seals):
        found += f"[gland.seal_{index + 1}]{SEAL.format(groove=16.2 if alike else 16.2 + 0.01 * index)}"
    path = folder / f"ten_{presses}_{plungers}_{seals}{'_alike' if alike else ''}.toml"
    path.write_text(found, encoding="utf-8")
    return str(path)


class Balance(HTMLParser):
    """Every tag is closed where it should be, or HTML closes it; ids, references, attributes on the way."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.open: list[str] = []
        self.faults: list[str] = []
        self.ids: list[str] = []
        self.tags: list[tuple[str, dict[str, str]]] = []
        self.feed(page)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        self.tags.append((tag, given))
        while self.open and self.open[-1] in ENDS.get(tag, ()):
            self.open.pop()
        if "id" in given:
            self.ids.append(given["id"])
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, {name: value or "" for name, value in attrs}))

    def handle_endtag(self, tag: str) -> None:
        while self.open and self.open[-1] in MAY_STAY_OPEN - {tag}:
            self.open.pop()
        if not self.open or self.open.pop() != tag:
            self.faults.append(f"</{tag}> at {self.getpos()}")


def squeezed(text: str) -> str:
    """Text without spaces and ligatures, which a PDF sets as it likes."""
    return re.sub(r"\s+", "", normalize("NFKC", text))


def rows_of(page: str) -> list[list[str]]:
    """The cells of every row of a page's tables, heads left out, as text."""
    return [
        [unescape(re.sub("<[^>]+>", "", cell)) for cell in re.split(r"<td[^>]*>", row)[1:]]
        for row in re.findall(r"<tr>(<td.*?)(?=<tr>|</table>)", page, re.DOTALL)
    ]


def whole_rows(page: str, pdf: bytes) -> int:
    """Count the rows of a page's tables, each whole on one sheet of paper of its PDF."""
    from pypdf import PdfReader

    papers = [squeezed(paper.extract_text()) for paper in PdfReader(io.BytesIO(pdf)).pages]
    found = rows_of(page)
    for row in found:
        cells = [squeezed(cell) for cell in row]
        assert any(all(cell in paper for cell in cells) for paper in papers), row
    return len(found)

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
hole = "16 H6"
shaft = "16.060/16.050"
shaft_bore = "12 ±0.02"
hub_outside = "32 ±0.1"
length = "{length}"
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
shaft = "11.930 -0.005/-0.015"
shaft_material = "liner_bar"
clearance_at_least = "0.008"
clearance_at_most = "0.120"
"""
REFUSED = """
name = "proof with gas"
[states.proof]
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


def ten(folder: Path) -> str:
    """A part of ten features: two liners with three drawings each, eight plungers with two."""
    found = PUMP_STATES
    for index in range(1, 3):
        found += f"[press.liner_{index}]{LINER.format(length=39 + index)}"
    for index in range(1, 9):
        found += f"[running.plunger_{index}]{PLUNGER.format(liner=f'liner_{(index - 1) % 2 + 1}')}"
    path = folder / "ten.toml"
    path.write_text(found, encoding="utf-8")
    return str(path)


class Balance(HTMLParser):
    """Every tag that is opened is closed where it should be; ids, references, attributes on the way."""

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
        if "id" in given:
            self.ids.append(given["id"])
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, {name: value or "" for name, value in attrs}))

    def handle_endtag(self, tag: str) -> None:
        if not self.open or self.open.pop() != tag:
            self.faults.append(f"</{tag}> at {self.getpos()}")


def squeezed(text: str) -> str:
    """Text without spaces and ligatures, which a PDF sets as it likes."""
    return re.sub(r"\s+", "", normalize("NFKC", text))


def whole_rows(page: str, pdf: bytes) -> int:
    """Count the rows of a page's tables, each whole on one sheet of paper of its PDF."""
    from pypdf import PdfReader

    papers = [squeezed(paper.extract_text()) for paper in PdfReader(io.BytesIO(pdf)).pages]
    found = re.findall(r"<tr>(<td.*?)</tr>", page)
    for row in found:
        cells = [squeezed(unescape(re.sub("<[^>]+>", "", cell))) for cell in re.findall(r"<td[^>]*>(.*?)</td>", row)]
        assert any(all(cell in paper for cell in cells) for paper in papers), row
    return len(found)

"""The page as a person's browser shows it: Debian's Chromium, driven by nothing but its own options.

A page of ours frames the sheet at three widths, looks at it with a script, and is printed
as text; the sheet itself has no script. Skipped where no Chromium is installed
(``apt-get install chromium``).
"""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from html import unescape
from importlib import resources

import pytest
from pages import OPEN_POINTS, PUMP, SAMPLER, drawn, ten, whole_rows

from fits.report import sheet

CHROMIUM = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)
pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="no Chromium on this machine")
WIDTHS = (360, 800, 1280)

LOOK = """
<!doctype html><meta charset="utf-8"><title>look</title><body><script>
const widths = %s, found = {}, errors = [];
addEventListener("error", event => errors.push(String(event.message)));
async function framed(width) {
  const frame = document.createElement("iframe");
  frame.style.cssText = `width:${width}px;height:900px;border:0`;
  frame.src = "sheet.html";
  document.body.append(frame);
  await new Promise(done => frame.onload = done);
  return frame;
}
function look(frame, width) {
  const page = frame.contentDocument, inside = frame.contentWindow;
  const out = [...page.body.querySelectorAll("*")].filter(one => {
    const box = one.getBoundingClientRect();
    return box.width && getComputedStyle(one).position !== "absolute" && !one.closest("thead")
      && (box.right > width + 0.5 || box.left < -0.5);
  });
  const clashes = [];
  for (const drawing of page.querySelectorAll("svg")) {
    const edge = drawing.getBoundingClientRect();
    const labels = [...drawing.querySelectorAll("text")].map(one => [one.textContent, one.getBoundingClientRect()]);
    labels.forEach(([text, a], index) => {
      if (a.left < edge.left - 1 || a.right > edge.right + 1) clashes.push(text + " leaves its drawing");
      for (const [other, b] of labels.slice(index + 1))
        if (a.left < b.right - 1 && b.left < a.right - 1 && a.top < b.bottom - 2 && b.top < a.bottom - 2)
          clashes.push(text + " on " + other);
    });
  }
  return {
    scroll: page.documentElement.scrollWidth, out: out.map(one => one.outerHTML.slice(0, 120)), clashes,
    loaded: inside.performance.getEntriesByType("resource").length, labels: page.querySelectorAll("svg text").length,
    smallest: Math.min(...[...page.querySelectorAll("svg text")].map(one => one.getBoundingClientRect().height)),
  };
}
(async () => {
  for (const width of widths) found[width] = look(await framed(width), width);
  const frame = await framed(800), script = frame.contentDocument.createElement("script");
  script.textContent = document.getElementById("axe").textContent;
  frame.contentDocument.head.append(script);
  const told = await frame.contentWindow.axe.run(frame.contentDocument);
  found.axe = told.violations.map(one => one.id + ": " + one.nodes.map(node => node.html).slice(0, 3).join(" "));
  found.axe_passes = told.passes.length;
  found.errors = errors;
  document.body.textContent = JSON.stringify(found);
})();
</script>
"""


def chromium(folder, *options: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [str(CHROMIUM), "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
         "--disable-component-update", f"--user-data-dir={folder / 'profile'}", "--enable-logging=stderr", *options],
        capture_output=True, text=True, check=True, timeout=120,
    )


@pytest.fixture(scope="module", params=["pass", "fail", "not covered", "ten"])
def shown(request, tmp_path_factory):
    folder = tmp_path_factory.mktemp("page")
    paths = {"pass": PUMP, "fail": SAMPLER, "not covered": str(folder / "open.toml")}
    (folder / "open.toml").write_text(OPEN_POINTS, encoding="utf-8")
    paths["ten"] = ten(folder)
    answer = drawn(paths[request.param])
    page = sheet.render(answer, units=answer.units)
    (folder / "sheet.html").write_text(page, encoding="utf-8")
    axe = resources.files("axe_core_python").joinpath("axe.min.js").read_text(encoding="utf-8")
    quoted = f'<script type="text/plain" id="axe">{axe}</script>'
    look = (LOOK.strip() % json.dumps(WIDTHS)).replace("<body>", f"<body>{quoted}")
    (folder / "look.html").write_text(look, encoding="utf-8")
    return folder, page


@pytest.fixture(scope="module")
def found(shown):
    folder, _ = shown
    ran = chromium(folder, "--allow-file-access-from-files", "--virtual-time-budget=20000", "--dump-dom", (folder / "look.html").as_uri())
    said = re.search(r"<body>(\{.*\})</body>", ran.stdout, re.DOTALL)
    assert said, ran.stderr
    assert "CONSOLE" not in ran.stderr, ran.stderr
    return json.loads(unescape(said[1]))


@pytest.mark.parametrize("width", WIDTHS)
def test_nothing_overflows(found, width):
    seen = found[str(width)]
    assert seen["labels"] > 20
    assert seen["out"] == []
    assert seen["scroll"] <= width


@pytest.mark.parametrize("width", WIDTHS)
def test_labels_of_drawings_do_not_overlap_as_drawn(found, width):
    assert found[str(width)]["clashes"] == []


def test_nothing_is_asked_of_anywhere_and_nothing_fails(found):
    assert all(found[str(width)]["loaded"] == 0 for width in WIDTHS)
    assert found["errors"] == []


def test_labels_can_be_read_on_a_phone(found):
    assert found["360"]["smallest"] >= 9.0


def test_axe_finds_no_fault(found):
    """axe-core's default rules, WCAG 2 A and AA among them."""
    assert found["axe"] == []
    assert found["axe_passes"] >= 15


def test_printed_it_has_every_row_whole(shown):
    folder, page = shown
    target = folder / "printed.pdf"
    chromium(folder, f"--print-to-pdf={target}", "--no-pdf-header-footer", (folder / "sheet.html").as_uri())
    assert whole_rows(page, target.read_bytes()) >= 5

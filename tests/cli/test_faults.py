"""What goes wrong around the tool: killed, a full disk, no permission, a closed pipe, two at once.

All through the real entry point. An old answer stays whole, a message says what is wrong, the status
is 2 (130 when interrupted, 137 when killed), and nothing half-written is left beside the answer.
"""

from __future__ import annotations

import os
import re
import resource
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from fits.files.write import SUFFIX

ROOT = Path(__file__).parent.parent.parent
FITS = [sys.executable, "-m", "fits"]
OLD = "an older answer\n"
HEAD = "hole [mm],shaft [mm],hub_outside [mm],hub_material,shaft_material\n"
ROWS = 200_000

pytestmark = pytest.mark.skipif(os.name != "posix", reason="signals and limits of POSIX")


@pytest.fixture(scope="module")
def table(tmp_path_factory: pytest.TempPathFactory) -> str:
    """A table that takes some seconds."""
    path = tmp_path_factory.mktemp("table") / "joints.csv"
    path.write_text(HEAD + "".join(f"16.{i % 97:03d},16.{100 + i % 89:03d},32,6061-T6,316L\n" for i in range(ROWS)))
    return str(path)


@pytest.fixture
def answer(tmp_path: Path) -> Path:
    """Where an older answer stands."""
    path = tmp_path / "answer.csv"
    path.write_text(OLD)
    return path


def start(*args: str, **more: object) -> subprocess.Popen[str]:
    # What runs in the background of a shell ignores the interrupt, and its children inherit that.
    more = {"preexec_fn": lambda: signal.signal(signal.SIGINT, signal.default_int_handler), **more}
    return subprocess.Popen([*FITS, *args], cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, **more)  # type: ignore[call-overload, no-any-return]


def run(*args: str, **more: object) -> subprocess.CompletedProcess[str]:
    return subprocess.run([*FITS, *args], cwd=ROOT, capture_output=True, text=True, check=False, **more)  # type: ignore[call-overload, no-any-return]


def parts_of(path: Path) -> list[Path]:
    """Answers that aren't whole yet."""
    return sorted(path.parent.glob(f"*{SUFFIX}"))


def writing(path: Path, process: subprocess.Popen[str]) -> Path:
    """Wait until the process has written some of its answer beside the old one."""
    for _ in range(2000):
        assert process.poll() is None, process.communicate()
        for one in parts_of(path):
            if one.stat().st_size > 0:
                return one
        time.sleep(0.01)
    raise AssertionError("nothing was written")


def test_killed_while_it_writes(table: str, answer: Path):
    with start("batch", "press", table, "-o", str(answer)) as process:
        left = writing(answer, process)
        process.kill()
    assert process.returncode == -signal.SIGKILL
    assert answer.read_text() == OLD
    # Nobody can tidy up after this: what is left says what it is, and the next run takes it away.
    assert left.name.startswith("answer.csv.")
    assert left.name.endswith(SUFFIX)
    assert run("limits", "25 H7", "--csv", "-o", str(answer)).returncode == 0
    assert parts_of(answer) == []
    assert "25 H7" in answer.read_text()


def test_interrupted_while_it_writes(table: str, answer: Path):
    with start("batch", "press", table, "-o", str(answer)) as process:
        writing(answer, process)
        process.send_signal(signal.SIGINT)
        _, err = process.communicate()
    assert process.returncode == 130
    assert answer.read_text() == OLD
    assert parts_of(answer) == []
    assert "Traceback" not in err


def test_told_to_end_while_it_writes(table: str, answer: Path):
    with start("batch", "press", table, "-o", str(answer)) as process:
        writing(answer, process)
        process.terminate()
        _, err = process.communicate()
    assert process.returncode != 0
    assert answer.read_text() == OLD
    assert "Traceback" not in err
    assert run("limits", "25 H7", "--csv", "-o", str(answer)).returncode == 0
    assert parts_of(answer) == []


def test_two_runs_on_one_answer(table: str, answer: Path):
    rows = Path(table).read_text()
    with start("batch", "press", "-", "-o", str(answer), stdin=subprocess.PIPE) as first:
        # It has judged a block, and waits for more.
        assert first.stdin is not None
        first.stdin.write(rows + rows.partition("\n")[2])
        first.stdin.flush()
        writing(answer, first)
        assert run("limits", "25 H7", "--csv", "-o", str(answer)).returncode == 0
        assert "25 H7" in answer.read_text()
        assert len(parts_of(answer)) == 1
        first.communicate()
    # Each was whole when it was put there; the last to end stays.
    assert first.returncode == 1
    assert len(answer.read_text(encoding="utf-8-sig").splitlines()) == 2 * ROWS + 1
    assert parts_of(answer) == []


def smaller_files() -> None:
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (50_000, 50_000))


def unwatched() -> dict[str, str]:
    """Without what measures coverage: its own file couldn't grow either, and it would say so."""
    return {name: value for name, value in os.environ.items() if not name.startswith("COVERAGE_")}


def test_a_file_that_may_not_grow(table: str, answer: Path):
    ran = run("batch", "press", table, "-o", str(answer), preexec_fn=smaller_files, env=unwatched())
    assert (ran.returncode, ran.stdout) == (2, "")
    assert f"{answer}: can't write the file: File too large" in ran.stderr
    assert "Traceback" not in ran.stderr
    assert answer.read_text() == OLD
    assert parts_of(answer) == []


def test_a_pipe_has_no_room_to_gather_in(table: str):
    ran = run("batch", "press", table, preexec_fn=smaller_files, env=unwatched())
    assert (ran.returncode, ran.stdout) == (2, "")
    assert "can't keep the answer: File too large" in ran.stderr


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of 256 kB, where this user may mount one."""
    place = tmp_path / "disk"
    place.mkdir()
    done = subprocess.run(["mount", "-t", "tmpfs", "-o", "size=256k", "tmpfs", str(place)], capture_output=True, check=False)
    if done.returncode:
        pytest.skip("a small disk can't be mounted here")
    yield place
    subprocess.run(["umount", str(place)], check=True)


def test_a_full_disk(table: str, small_disk: Path):
    answer = small_disk / "answer.csv"
    answer.write_text(OLD)
    ran = run("batch", "press", table, "-o", str(answer))
    assert ran.returncode == 2
    assert "can't write the file: No space left on device" in ran.stderr
    assert answer.read_text() == OLD
    assert parts_of(answer) == []


def test_a_folder_that_can_only_be_read(small_disk: Path):
    """Mounted to be read only: root passes by permissions."""
    answer = small_disk / "answer.csv"
    answer.write_text(OLD)
    subprocess.run(["mount", "-o", "remount,ro", str(small_disk)], check=True)
    ran = run("limits", "25 H7", "-o", str(answer))
    assert (ran.returncode, ran.stdout) == (2, "")
    assert ran.stderr == f"{answer}: can't write the file: Read-only file system\n"
    assert answer.read_text() == OLD


@pytest.mark.skipif(os.name != "posix" or os.geteuid() == 0, reason="root passes by permissions")
def test_a_folder_without_permission(tmp_path: Path):
    tmp_path.chmod(0o500)
    ran = run("limits", "25 H7", "-o", str(tmp_path / "answer.csv"))
    tmp_path.chmod(0o700)
    assert ran.returncode == 2
    assert "can't write the file: Permission denied" in ran.stderr


@pytest.mark.parametrize("args", [["batch", "press", "TABLE"], ["metals"], ["tables", "--json"], ["check", "examples/hand_pump.toml", "--csv"]])
def test_a_closed_pipe_is_quiet(table: str, args: list[str]):
    words = " ".join(table if one == "TABLE" else one for one in args)
    ran = subprocess.run(["bash", "-c", f"{sys.executable} -m fits {words} | head -n 1; echo ${{PIPESTATUS[0]}}"], cwd=ROOT, capture_output=True, text=True, check=True)
    *_, status = ran.stdout.split()
    assert status in ("0", "1", "141")
    assert not [line for line in ran.stderr.splitlines() if "rror" in line or "Traceback" in line]


def unread(channel: str, *args: str) -> subprocess.CompletedProcess[str]:
    """A run of which one channel, stdout or stderr, has no reader any more."""
    read, written = os.pipe()
    os.close(read)
    channels = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE, channel: written}
    try:
        return subprocess.run([*FITS, *args], cwd=ROOT, text=True, check=False, **channels)  # type: ignore[call-overload, no-any-return]
    finally:
        os.close(written)


@pytest.mark.parametrize("args", [[], ["--nothing"], ["check", "none.toml"], ["judge", "none.toml", "none.csv"]])
def test_a_wrong_question_stays_one_where_nobody_reads_why(args: list[str]):
    """1 would read as the answer "no"."""
    ran = unread("stderr", *args)
    assert (ran.returncode, ran.stdout) == (2, "")


def test_a_full_disk_under_the_messages():
    with Path("/dev/full").open("w") as full:
        ran = subprocess.run([*FITS, "check", "none.toml"], cwd=ROOT, stdout=subprocess.PIPE, stderr=full, text=True, check=False)
    assert (ran.returncode, ran.stdout) == (2, "")


def test_nobody_reads_which_rows_are_skipped(tmp_path: Path):
    """No answer was given, so the status is neither 0 nor 1."""
    path = tmp_path / "measured.csv"
    head = "part,feature.dimension,value,unit,uncertainty,instrument,temperature\n"
    path.write_text(head + "".join(f"{part},liner.hole,{size},mm,0.002,bore gauge,20 degC\n" for part, size in (("a", "16.005"), ("b", "big"))))
    ran = unread("stderr", "judge", "examples/hand_pump.toml", str(path), "--skip-bad-rows")
    assert (ran.returncode, ran.stdout) == (141, "")


def test_nobody_reads_the_help():
    ran = unread("stdout", "press", "-h")
    assert (ran.returncode, ran.stderr) == (141, "")


def test_an_answer_that_is_no_file(tmp_path: Path):
    for place, says in ((tmp_path, "Is a directory"), (tmp_path / "none" / "x.csv", "No such file or directory")):
        ran = run("limits", "25 H7", "-o", str(place))
        assert ran.returncode == 2
        assert ran.stderr == f"{place}: can't write the file: {says}\n"
    assert parts_of(tmp_path) == []


def test_a_pipe_in_place_of_the_answer_is_written_into(tmp_path: Path):
    pipe = tmp_path / "answer.csv"
    os.mkfifo(pipe)
    with start("limits", "25 H7", "--csv", "-o", str(pipe)) as process:
        assert "25 H7" in pipe.read_text()
        process.communicate()
    assert process.returncode == 0
    assert pipe.is_fifo()
    assert parts_of(pipe) == []


def test_a_device_stays_a_device(tmp_path: Path):
    """Root could rename a file over it. A node of our own, so that a fault here harms none of the machine's."""
    device = tmp_path / "full"
    if subprocess.run(["mknod", str(device), "c", "1", "7"], capture_output=True, check=False).returncode:
        pytest.skip("no device can be made here")
    ran = run("limits", "25 H7", "-o", str(device))
    assert device.is_char_device()
    assert (ran.returncode, ran.stderr) == (2, f"{device}: can't write the file: No space left on device\n")


def test_an_answer_keeps_the_permissions_of_the_old(answer: Path):
    answer.chmod(0o640)
    assert run("limits", "25 H7", "-o", str(answer)).returncode == 0
    assert answer.stat().st_mode & 0o777 == 0o640


def test_an_answer_through_a_link_is_written_where_it_leads(answer: Path, tmp_path: Path):
    link = tmp_path / "link.csv"
    link.symlink_to(answer)
    assert run("limits", "25 H7", "-o", str(link)).returncode == 0
    assert link.is_symlink()
    assert "25 H7" in answer.read_text()


def test_interrupted_while_the_answer_is_read():
    """More than a pipe holds: it waits for the reader when it is stopped."""
    with start("rings", "--json") as process:
        assert process.stdout is not None
        assert process.stdout.read(1) == "{"
        process.send_signal(signal.SIGINT)
        _, err = process.communicate()
    assert (process.returncode, err) == (130, "")


@pytest.mark.parametrize("args", [
    ["check", "PART", "-o", "PART"], ["check", "PART", "--picture", "PART"], ["sheet", "PART", "-o", "PART"], ["window", "PART", "liner.shaft", "-o", "PART"],
    ["odds", "PART", "-o", "PART"], ["choose", "PART", "liner", "--drawer", "DRAWER", "-o", "DRAWER"], ["judge", "PART", "READ", "-o", "READ"], ["pair", "PART", "READ", "-o", "PART"],
    ["compare", "PART", "OTHER", "-o", "OTHER"], ["judge", "PART", "READ", "--csv", "-o", "LINK"], ["odds", "PART", "--spread", "liner.hole: measured from READ", "-o", "READ"],
])
def test_no_answer_takes_the_place_of_what_it_is_made_from(fits, tmp_path: Path, args: list[str]):
    """A part file, a drawer or readings that exist once would be gone."""
    for name, source in (("PART", "hand_pump.toml"), ("OTHER", "hand_pump.toml"), ("DRAWER", "drawer.toml"), ("READ", "hand_pump.measured.csv")):
        (tmp_path / name).write_bytes((ROOT / "examples" / source).read_bytes())
    (tmp_path / "LINK").symlink_to(tmp_path / "READ")
    before = {path: path.read_bytes() for path in tmp_path.iterdir()}
    names = re.compile(r"\b(?:PART|OTHER|DRAWER|READ|LINK)\b")
    ran = fits(*(names.sub(lambda one: str(tmp_path / one[0]), arg) for arg in args))
    assert (ran.status, ran.out) == (2, "")
    assert ran.err == f'{args[-2]}: "{tmp_path / args[-1]}": the answer would take the place of what it is made from\n'
    assert {path: path.read_bytes() for path in tmp_path.iterdir()} == before


def test_an_answer_takes_the_place_of_an_older_one_and_a_start_of_nothing(fits, tmp_path: Path):
    answer = tmp_path / "answer.txt"
    for _ in range(2):
        assert fits("check", str(ROOT / "examples" / "hand_pump.toml"), "-o", str(answer)).status == 0
    part = tmp_path / "press.toml"
    assert fits("start", "press", "-o", str(part)).status == 0
    part.write_text("mine", encoding="utf-8")
    ran = fits("start", "press", "-o", str(part))
    assert (ran.status, ran.err) == (2, f'-o: "{part}": there is such a file already; give another name, or remove it first\n')
    assert part.read_text(encoding="utf-8") == "mine"
    # Not a path at all, and too long for one.
    assert "too long for one number" in fits("limits", "9" * 5000, "-o", str(answer)).err

"""What commands write, attacked: over a property, its versions and drafts, a journal, what
is read, devices and folders; on a disk that is full; with answers sent to /dev/full."""

import errno
import os
import shutil
import sqlite3
from pathlib import Path

import pytest

from core.__main__ import main
from core.errors import BadRequest
from core.ground.drawing.draft import Draft
from core.ground.drawing.kept_drafts import KeptDraft, keep_draft, kept_drafts
from core.ground.files.output import write_output
from core.ground.store import demo_path, list_versions, open_property, save_property
from core.keep.log import journal_path, open_journal
from core.learn.tally import add_to_tally, tally_path
from tests.attack.runs import core, core_each
from tests.few_stands import few_stands_file

DAY = ("--date", "2026-11-10", "--wind", "NW 8")
WRITERS = {
    "pocket": lambda ground, out: ("pocket", "--property", ground, *DAY, "--out", out),
    "visor": lambda ground, out: ("visor", "--property", ground, "--out", out),
    "season": lambda ground, out: (
        *("season", "--property", ground, "--typical", "--no-candidates"),
        "--csv",
        out,
    ),
    "convert": lambda ground, out: ("convert", ground, out),
}


@pytest.fixture
def ground(tmp_path, monkeypatch):
    """A property of one's own in a home of its own, with a version, a draft and a journal."""
    home = tmp_path / "home"
    home.mkdir()
    monkeypatch.setenv("STAND_WIND_HOME", str(home))
    path = home / "farm.json"
    shutil.copy(demo_path(), path)
    opened = open_property(path)
    save_property(opened, opened.document, now_s=1_700_000_000)
    opened = open_property(path)
    keep_draft(path, KeptDraft("tab", "", opened.document, Draft(opened.document)))
    add_to_tally(True, ())
    return path


def everything(folder) -> dict[str, bytes]:
    return {str(p): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


def targets(ground, name: str):
    """A place that must never be written to."""
    if name == "journal":
        with open_journal("u", ground.parent):
            return journal_path("u", ground.parent)
    if name == "database":
        base = ground.parent / "mine.json"
        with sqlite3.connect(base) as db:
            db.execute("create table a (b)")
        return base
    if name == "half":
        half = ground.with_name("half.json")
        half.write_bytes(ground.read_bytes()[:400])
        return half
    if name == "link":
        link = ground.with_name("link.json")
        link.symlink_to(ground)
        return link
    return {
        "itself": ground,
        "version": list_versions(ground)[0].path,
        "new version": list_versions(ground)[0].path.with_name("000009.json"),
        "draft": next((ground.parent / "drafts").rglob("*.json")),
        "tally": tally_path(),
        "demo": demo_path(),
    }[name]


@pytest.mark.parametrize("command", WRITERS)
@pytest.mark.parametrize(
    "name",
    ["itself", "half", "link", "version", "new version", "draft", "tally", "journal", "database"],
)
def test_nothing_that_was_made_is_written_over(ground, command, name, capsys):
    target = targets(ground, name)
    if command == "convert" and target.suffix != ".json":
        pytest.skip("convert writes no such name")
    before = everything(ground.parent)
    for more in ((), ("--replace",)):
        code = main([*map(str, WRITERS[command](demo_path(), target)), *more])
        told = capsys.readouterr()
        assert code == 2 and not told.out
        assert target.name in told.err and len(told.err.splitlines()) == 1
    assert everything(ground.parent) == before


def test_the_demo_and_what_is_read_stay(ground, tmp_path):
    told = demo_path().read_bytes()
    done = core(*WRITERS["visor"](ground, demo_path()), "--replace")
    assert done.returncode == 2 and demo_path().read_bytes() == told
    walk = tmp_path / "walk.geojson"
    walk.write_text('{"type": "Point", "coordinates": [-79.9, 36.1]}')
    done = core("convert", walk, walk, "--replace")
    assert done.returncode == 2 and "it is the file that is read" in done.stderr
    history = tmp_path / "wind.csv"
    history.write_text("time_utc,wind_dir_deg,wind_mph\n2026-11-10 05:00,315,8\n")
    done = core(
        *("season", "--property", ground, "--history", history, "--csv", history, "--replace")
    )
    assert done.returncode == 2 and "it is the file that is read" in done.stderr
    assert history.read_text().startswith("time_utc")


@pytest.mark.parametrize("command", ["pocket", "visor", "convert"])
def test_a_file_is_replaced_only_when_asked(ground, tmp_path, command, monkeypatch, capsys):
    monkeypatch.setattr("core.show.take_along.days.pocket_days", lambda *_, **__: "page" * 500)
    monkeypatch.setattr("core.show.visor.visor_sheet", lambda *_: "page" * 500)
    out = tmp_path / "out.json"
    out.write_text("mine")
    words = list(map(str, WRITERS[command](ground, out)))
    assert main(words) == 2 and "--replace" in capsys.readouterr().err
    assert out.read_text() == "mine"
    assert main([*words, "--replace"]) == 0, capsys.readouterr().err
    assert len(out.read_bytes()) >= 2000
    assert list(tmp_path.glob(".*")) == []


def test_a_link_is_followed_before_anything_is_asked(ground, tmp_path):
    (tmp_path / "short").symlink_to(ground.parent / "drafts")
    with pytest.raises(BadRequest):
        write_output(tmp_path / "short" / "new.html", b"page")
    page, link = tmp_path / "page.html", tmp_path / "link.html"
    page.write_text("mine")
    link.symlink_to(page)
    write_output(link, b"page", replace=True)
    assert link.is_symlink() and page.read_bytes() == b"page"


def test_a_full_disk_leaves_no_half_of_a_file(ground, tmp_path):
    shutil.copy(few_stands_file(("plum-edge",)), ground)  # a season that is soon told
    out = tmp_path / "out.json"
    for words in (WRITERS["convert"](ground, out), WRITERS["season"](ground, out)):
        out.write_text("mine")
        done = core(*words, "--replace", disk=500)
        assert done.returncode == 2 and "nothing was changed" in done.stderr
        assert out.read_text() == "mine"
        out.unlink()
    assert core(*WRITERS["convert"](ground, out), disk=500).returncode == 2
    assert not out.exists() and list(tmp_path.glob(".*")) == []


def test_a_file_that_comes_meanwhile_is_not_written_over(tmp_path, monkeypatch):
    out = tmp_path / "out.html"
    replace = os.fsync

    def late(handle):
        out.write_text("another's")
        replace(handle)

    monkeypatch.setattr(os, "fsync", late)
    with pytest.raises(BadRequest, match="came meanwhile"):
        write_output(out, b"mine")
    assert out.read_text() == "another's" and list(tmp_path.glob(".*")) == []


def test_a_disk_without_links_takes_new_files_too(tmp_path, monkeypatch):
    def no_links(*_):
        raise OSError(errno.EPERM, "Operation not permitted")

    monkeypatch.setattr(os, "link", no_links)
    write_output(tmp_path / "a.html", b"mine")
    assert (tmp_path / "a.html").read_bytes() == b"mine"
    with pytest.raises(BadRequest, match="already"):
        write_output(tmp_path / "a.html", b"other")


@pytest.mark.parametrize("command", WRITERS)
def test_devices_pipes_and_folders_are_refused(ground, tmp_path, command, capsys):
    folder = tmp_path / "folder.json"
    folder.mkdir()
    full = tmp_path / "full.json"
    full.symlink_to("/dev/full")
    loop = tmp_path / "loop.json"
    loop.symlink_to(loop)
    inside = tmp_path / "nowhere" / "out.json"
    for place in (folder, full, loop, inside, folder / "a" / ".." / ".."):
        if command == "convert" and place.suffix != ".json":
            continue
        assert main([*map(str, WRITERS[command](ground, place)), "--replace"]) == 2, place
        assert len(capsys.readouterr().err.splitlines()) == 1, place
    assert Path("/dev/full").exists()


def test_pipes_are_refused(ground, tmp_path):
    """As by somebody else: an answer that went into one would wait for ever."""
    pipe = tmp_path / "pipe.json"
    os.mkfifo(pipe)
    for code, told in core_each(
        *((*words(ground, pipe), "--replace") for words in WRITERS.values())
    ):
        assert code == 2 and len(told.splitlines()) == 1, told
    assert pipe.is_fifo()


def test_an_answer_that_cannot_be_printed_is_said(ground, tmp_path):
    with Path("/dev/full").open("w") as full:
        done = core("check", ground, stdout=full)
        unsaid = core("check", tmp_path / "nowhere.json", stderr=full)
        helped = core("check", "--help", stdout=full)
    assert done.returncode == helped.returncode == 2
    assert helped.stderr == done.stderr
    assert done.stderr == "The answer could not be written: No space left on device.\n"
    assert unsaid.returncode == 2


def test_the_name_of_a_file_may_be_no_text(tmp_path):
    odd, out = (tmp_path / os.fsdecode(name) for name in (b"farm-\xff.json", b"\xff.geojson"))
    shutil.copy(demo_path(), odd)
    done = core("convert", odd, out)
    assert done.returncode == 0 and "\\udcff.geojson" in done.stdout
    assert out.exists()


def test_what_the_home_holds_is_known_by_its_place(ground):
    """The folders that no output goes into are those that the program has."""
    from core.ground.drawing import kept_drafts as drafts
    from core.ground.files.output import OWN_FOLDERS
    from core.keep import log
    from core.learn import tally
    from core.weather.services import autumns
    from core.weather.services import kept as forecasts

    assert set(OWN_FOLDERS) == {
        drafts.FOLDER,
        tally.FOLDER,
        log.FOLDER,
        forecasts.SUBFOLDER,
        autumns.FOLDER,
    }
    assert kept_drafts(ground)[0]

"""What a person sees on the pages, and that nothing in a build is out of reach of them."""

from __future__ import annotations

import re
import threading
from collections.abc import Callable

import pytest

from wattwright.assessment import Assessment, assess
from wattwright.build.reader import Opened, open_build
from wattwright.errors import JournalError
from wattwright.journal.local_time import local, zone
from wattwright.system import lock
from wattwright.web import answers
from wattwright.web import view as views
from web_builders import Workbench

PICKUP = "orchard-pickup"


def links_of(text: str) -> set[str]:
    return {each.split("#")[0] for each in re.findall(r'href="(/[^"]*)"', text)} - {""}


def test_tonight_counts_what_the_assessment_counts(workbench: Callable[..., Workbench]) -> None:
    bench = workbench(PICKUP)
    said = assess(open_build(bench.folder / PICKUP))
    text = bench.page(f"/b/{PICKUP}/")
    for word in ("failing", "unknown", "marginal", "sound"):
        count = sum(finding.verdict.value == word for finding in said.findings)
        assert re.search(rf'{count} <span class="word">{word}</span>', text), word
    assert "Find out next" in text
    assert "What changed last" in text


def test_every_link_leads_somewhere(workbench: Callable[..., Workbench]) -> None:
    bench = workbench("bare-start", PICKUP)
    ahead = [f"/b/{PICKUP}/", "/b/bare-start/", "/builds", "/devices", "/reference", "/sums"]
    seen: set[str] = set()
    kinds: dict[str, int] = {}
    while ahead:
        path = ahead.pop()
        # Of addresses that differ only in what they are about, a few stand for all.
        kind = re.sub(
            r"(/(?:said|field|in|table|csv|sums|history|reference|print)/[^@/?]{0,6}|/look).*",
            r"\1",
            path,
        )
        kinds[kind] = kinds.get(kind, 0) + 1
        if path in seen or kinds[kind] > 2 or "/drawing/" in path or path.endswith("/events"):
            continue
        seen.add(path)
        answer = bench.client.get(path, follow_redirects=True)
        assert answer.status_code == 200, f"{path}: {answer.status_code} {answer.text[-600:]}"
        if answer.headers["content-type"].startswith("text/html"):
            ahead += sorted(links_of(answer.text.replace("&amp;", "&")) - seen)
    assert len(seen) > 100


@pytest.mark.parametrize("build", [PICKUP, "bare-start", "island-runabout"])
def test_every_finding_and_figure_has_its_working(
    workbench: Callable[..., Workbench], build: str
) -> None:
    bench = workbench(build)
    said = assess(open_build(bench.folder / build))
    for number, (address, each) in enumerate(said.by_address.items()):
        if number % 7:
            continue
        text = bench.page(f"/b/{build}/said/{address}")
        assert address in text
        declared = getattr(each, "check", None) or each.declared  # type: ignore[union-attr]
        assert declared.meaning in text


def test_an_area_shows_inputs_findings_figures_and_drawings(
    workbench: Callable[..., Workbench],
) -> None:
    bench = workbench(PICKUP)
    text = bench.page(f"/b/{PICKUP}/area/vehicle")
    assert "<svg xmlns" in text
    assert "axle load" in text
    assert "figures by case" in text
    assert 'name="path" value="donor.wheelbase"' in text
    assert "An overloaded axle lengthens braking" in text


def test_a_page_brings_no_style_or_script_of_its_own(workbench: Callable[..., Workbench]) -> None:
    """The policy of the pages forbids both; a drawing would lose its looks unseen."""
    bench = workbench(PICKUP)
    for path in ("", "area/drive", "placement", "use/market_run", "table/part"):
        text = bench.page(f"/b/{PICKUP}/{path}")
        assert " style=" not in text
        assert "<style" not in text
        assert not re.search(r"<script(?![^>]* src=)", text)
        assert not re.search(r"\son[a-z]+=", re.sub(r">[^<]*<", "><", text))


def test_nothing_is_fetched_from_elsewhere(workbench: Callable[..., Workbench]) -> None:
    bench = workbench(PICKUP)
    for path in (f"/b/{PICKUP}/", f"/b/{PICKUP}/area/drive", "/reference", "/devices"):
        text = bench.page(path)
        fetched = re.findall(r'(?:src|href|action|formaction)="([^"]*)"', text)
        assert all(each.startswith(("/", "#", "?")) or each == "" for each in fetched), path


def test_words_of_a_build_are_never_markup(workbench: Callable[..., Workbench]) -> None:
    bench = workbench(PICKUP)
    nasty = "<img src=x onerror=alert(1)>\"&'"
    bench.send(f"/b/{PICKUP}/set", path="build.name", quantity=nasty, was='"Orchard pickup"')
    for path in ("", "history", "areas", "in/build", "file", "field/build.name"):
        raw = bench.client.get(f"/b/{PICKUP}/{path}").text
        assert "<img src=x" not in raw


def test_a_build_that_cannot_be_read_says_why_and_can_be_mended(
    workbench: Callable[..., Workbench],
) -> None:
    bench = workbench(PICKUP)
    bench.page(f"/b/{PICKUP}/")
    file = bench.folder / PICKUP / "build.toml"
    text = file.read_text(encoding="utf-8")
    file.write_text(
        text.replace('"100 1/4 in ± 1/8, measured', '"100 1/4 kg, measured'), encoding="utf-8"
    )
    for path in (
        "",
        "areas",
        "area/vehicle",
        "placement",
        "in/donor",
        "table/part",
        "file",
        "history",
    ):
        text = bench.page(f"/b/{PICKUP}/{path}")
        assert "donor.wheelbase" in text or path == "history"
        # Said is where, and both ways to mend it lead there.
        if path not in ("file", "history"):
            assert f'href="/b/{PICKUP}/file#line-' in text, path
            assert f'href="/b/{PICKUP}/field/donor.wheelbase"' in text, path
        assert "mend it below" not in text
    # Another value can be changed meanwhile, and the wrong one mended.
    status, _ = bench.send(
        f"/b/{PICKUP}/set",
        path="donor.description",
        quantity="a pickup",
        was=bench.written(PICKUP, "donor.description") or "",
    )
    assert status == 200
    status, _ = bench.send(
        f"/b/{PICKUP}/set",
        path="donor.wheelbase",
        quantity="2546 mm",
        origin="measured",
        detail="tape",
        was=bench.written(PICKUP, "donor.wheelbase") or "",
    )
    assert status == 200
    assert "cannot be read" not in bench.page(f"/b/{PICKUP}/")
    # A file that is no TOML at all still shows itself and its history.
    file.write_text("[build]\n\n[[[", encoding="utf-8")
    text = bench.page(f"/b/{PICKUP}/file")
    assert "[[[</textarea>" in text
    assert '<li id="line-3" value="3" class="wrong"><code>[[[</code>' in text
    # Nothing can be shown of what is written: no page pretends that nothing is.
    for path in ("areas", "area/vehicle", "in/donor", "field/donor.wheelbase", "table/part"):
        text = bench.page(f"/b/{PICKUP}/{path}")
        assert f'href="/b/{PICKUP}/file#line-3"' in text, path
        assert "cannot be read" in text
        assert "0 of" not in text, path
        assert 'action="/b/orchard-pickup/set"' not in text, path
        assert "data-grid" not in text, path
    status, text = bench.send(f"/b/{PICKUP}/undo", step="undo")
    assert status == 200
    assert "cannot be read" not in bench.page(f"/b/{PICKUP}/")


def test_what_is_not_there_is_said_in_words(workbench: Callable[..., Workbench]) -> None:
    bench = workbench(PICKUP)
    for path in (
        "/b/none/",
        f"/b/{PICKUP}/area/none",
        f"/b/{PICKUP}/said/none@x",
        f"/b/{PICKUP}/field/none.x",
        f"/b/{PICKUP}/in/none",
        f"/b/{PICKUP}/table/none",
        f"/b/{PICKUP}/history/99",
        f"/b/{PICKUP}/sums/none",
        "/nowhere",
        f"/b/{PICKUP}/use/none",
        f"/b/{PICKUP}/drawing/none.svg",
        "/static/x/none.css",
        f"/b/{PICKUP}~try/",
    ):
        text = bench.page(path, 404)
        assert "Traceback" not in text


def test_what_takes_long_is_said_and_looked_for_again(
    workbench: Callable[..., Workbench], monkeypatch: pytest.MonkeyPatch
) -> None:
    bench = workbench(PICKUP)
    may_go_on = threading.Event()

    def slowly(
        opened: Opened, before: Assessment | None, stopped: Callable[[], bool]
    ) -> Assessment:
        may_go_on.wait(60)
        return assess(opened, before=before, stopped=stopped)

    monkeypatch.setattr(views, "assess", slowly)
    monkeypatch.setattr(answers, "SHORT", 0.01)
    monkeypatch.setattr(answers, "LONG", 0.01)
    answer = bench.client.get(f"/b/{PICKUP}/")
    assert answer.status_code == 503
    assert answer.headers["refresh"] == "1"
    assert "being worked out" in answer.text
    # What needs no numbers can be read and typed meanwhile.
    assert "data-working" in bench.page(f"/b/{PICKUP}/in/donor")
    assert "build.toml" in bench.page(f"/b/{PICKUP}/file")
    may_go_on.set()
    assert bench.shelf.desk(PICKUP).view().assessment is not None
    assert "Find out next" in bench.page(f"/b/{PICKUP}/")


def test_what_takes_long_can_be_stopped_and_begun_again(
    workbench: Callable[..., Workbench], monkeypatch: pytest.MonkeyPatch
) -> None:
    bench = workbench(PICKUP)
    may_go_on = threading.Event()

    def slowly(
        opened: Opened, before: Assessment | None, stopped: Callable[[], bool]
    ) -> Assessment:
        may_go_on.wait(60)
        return assess(opened, before=before, stopped=stopped)

    monkeypatch.setattr(views, "assess", slowly)
    monkeypatch.setattr(answers, "SHORT", 0.01)
    monkeypatch.setattr(answers, "LONG", 0.01)
    tonight = f"/b/{PICKUP}/"
    assert f'action="/b/{PICKUP}/stop"' in bench.page(tonight, 503)
    status, page = bench.send(f"/b/{PICKUP}/stop", back=tonight)
    assert status == 200
    assert "was stopped" in page
    assert f'action="/b/{PICKUP}/work"' in page
    may_go_on.set()
    # It stays stopped until somebody asks, and other pages say so, too.
    assert "was stopped" in bench.page(f"/b/{PICKUP}/area/drive")
    donor = bench.page(f"/b/{PICKUP}/in/donor")
    assert "stopped, not worked out" in donor
    assert "data-working" not in donor
    answer = bench.client.get(f"/api/builds/{PICKUP}/check")
    assert answer.status_code == 503
    assert "stopped" in answer.json()["message"]
    monkeypatch.setattr(answers, "LONG", 300.0)
    status, page = bench.send(f"/b/{PICKUP}/work", back=tonight)
    assert status == 200
    assert "Find out next" in page


def test_a_journal_that_is_busy_is_nobodys_own_error(
    workbench: Callable[..., Workbench], monkeypatch: pytest.MonkeyPatch
) -> None:
    bench = workbench("bare-start")
    bench.page("/b/bare-start/")
    desk = bench.shelf.desk("bare-start")

    def busy(*_: object, **__: object) -> None:
        raise JournalError("another program is writing in the journal")

    monkeypatch.setattr(desk.keeper, "change", busy)
    fields = {
        "path": "build.name",
        "quantity": "Other",
        "was": bench.written("bare-start", "build.name") or "",
    }
    status, page = bench.send("/b/bare-start/set", **fields)
    assert status == 503
    assert "another program is writing in the journal" in page
    status, told = bench.send_by_script("/b/bare-start/set", **fields)
    assert status == 503
    assert told["message"] == "another program is writing in the journal"


def test_a_build_that_another_program_saves_is_not_refused_as_the_persons_error(
    workbench: Callable[..., Workbench],
) -> None:
    bench = workbench("bare-start")
    was = bench.written("bare-start", "build.name") or ""
    with lock(bench.folder / "bare-start" / ".build.toml.lock"):
        status, page = bench.send("/b/bare-start/set", path="build.name", quantity="Other", was=was)
    assert status == 503
    assert "try again in a moment" in page


def test_times_are_those_of_the_clock_here_and_the_zone_is_said_once(
    workbench: Callable[..., Workbench],
) -> None:
    bench = workbench("bare-start")
    bench.page("/b/bare-start/")
    at = bench.shelf.desk("bare-start").keeper.head().at
    for path in ("", "history", "history/1"):
        text = bench.page(f"/b/bare-start/{path}")
        assert f'<time datetime="{at}">{local(at)}</time>' in text, path
        assert text.count(zone()) == 1, path


def test_a_use_that_cannot_be_driven_says_what_is_missing(
    workbench: Callable[..., Workbench],
) -> None:
    bench = workbench(PICKUP)
    bench.send(f"/b/{PICKUP}/add", path="use", name="later", way="stretches", speed="50 km/h")
    text = " ".join(re.sub(r"<[^>]*>", " ", bench.page(f"/b/{PICKUP}/use/later")).split())
    assert "This use cannot be driven yet. Missing:" in text
    assert "length of the stretch" in text
    assert "write a use" not in text


def test_a_count_is_asked_for_without_units_and_a_mass_with(
    workbench: Callable[..., Workbench],
) -> None:
    bench = workbench(PICKUP)
    count = bench.page(f"/b/{PICKUP}/field/pack.series")
    assert "A number without a unit, such as" in count
    assert "in any unit" not in count
    assert "Units:" not in count
    assert "in any unit" in bench.page(f"/b/{PICKUP}/field/part.motor.mass")


def test_where_to_begin_and_what_only_gives_figures_is_said_in_a_builders_words(
    workbench: Callable[..., Workbench],
) -> None:
    text = workbench("bare-start", PICKUP).page("/b/bare-start/")
    assert "<b>kind of device</b>" not in text
    assert re.search(r"<b>add a part</b><span>with its kind of device", text)
    assert "nothing to judge; figures only" not in text


def test_the_pack_says_who_judges_by_its_figures(workbench: Callable[..., Workbench]) -> None:
    bench = workbench(PICKUP)
    for path in ("", "areas"):
        assert "gives figures for Drive, High voltage and Charging to judge by" in bench.page(
            f"/b/{PICKUP}/{path}"
        )


def test_builds_are_named_at_once_and_counted_when_asked(
    workbench: Callable[..., Workbench],
) -> None:
    bench = workbench("bare-start", PICKUP)
    text = bench.page("/builds")
    assert "<b>Orchard pickup</b>" in text
    assert 'class="count' not in text
    assert bench.shelf.opened(PICKUP) is None
    assert not (bench.folder / PICKUP / "journal.sqlite").exists()
    # One that was looked at has its counts.
    bench.page(f"/b/{PICKUP}/")
    text = bench.page("/builds")
    assert 'class="count failing"' in text
    assert bench.shelf.opened("bare-start") is None
    assert 'href="/builds?counts=1"' in text
    text = bench.page("/builds?counts=1")
    assert bench.shelf.opened("bare-start") is not None
    assert 'href="/builds?counts=1"' not in text


def test_a_build_that_cannot_be_read_stands_in_the_list_by_the_name_of_its_folder(
    workbench: Callable[..., Workbench],
) -> None:
    bench = workbench("bare-start", PICKUP)
    (bench.folder / "bare-start" / "build.toml").write_text("[[[", encoding="utf-8")
    assert "<b>bare-start</b>" in bench.page("/builds")
    assert "the file cannot be read" in bench.page("/builds?counts=1")


def test_where_there_is_no_build_the_first_one_is_made(
    workbench: Callable[..., Workbench],
) -> None:
    bench = workbench()
    answer = bench.client.get("/", follow_redirects=True)
    assert answer.status_code == 200
    assert "Make the first one" in answer.text
    status, page = bench.send("/builds/new", name="van", like="")
    assert status == 200
    assert "Tonight" in page
    assert bench.shelf.names == ("van",)

"""What a person sees on the pages, and that nothing in a build is out of reach of them."""

from __future__ import annotations

import re
import threading
from collections.abc import Callable

import pytest

from wattwright.assessment import Assessment, assess
from wattwright.build.reader import Opened, open_build
from wattwright.web import answers, desk
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
            r"(/(?:said|field|in|table|csv|sums|history|reference)/[^@/]{0,9}).*", r"\1", path
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
        assert "donor.wheelbase" in bench.page(f"/b/{PICKUP}/{path}") or path in (
            "areas",
            "history",
        )
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
    file.write_text("[[[", encoding="utf-8")
    assert "[[[" in bench.page(f"/b/{PICKUP}/file")
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

    def slowly(opened: Opened, before: Assessment | None) -> Assessment:
        may_go_on.wait(60)
        return assess(opened, before=before)

    monkeypatch.setattr(desk, "assess", slowly)
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

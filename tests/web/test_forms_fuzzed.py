"""Every address that takes a form, sent what no page of ours sends."""

from __future__ import annotations

import html
import re
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from api_asked import bounded
from form_posts import FORMS, VALUES, Post, fuzzed, posted, urlencoded
from web_builders import Workbench

PICKUP = "orchard-pickup"
Open = Callable[..., Workbench]


def test_all_forms_are_found() -> None:
    assert {"/b/{build}/set", "/builds/import", "/pair", "/devices/guest"} <= set(FORMS)
    assert len(FORMS) > 20


@pytest.mark.parametrize("address", FORMS)
def test_no_form_fails_over_what_is_sent(workbench: Open, address: str) -> None:
    fuzzed(workbench(PICKUP), address, PICKUP, 14)


def sent(bench: Workbench, to: str, post: Post) -> tuple[int, str]:
    answer = posted(bench, to, post, bench.token())
    return answer.status_code, html.unescape(answer.text)


@pytest.mark.parametrize("charset", ["undefined", "utf-16", "idna", "unicode_escape", "latin-1"])
@pytest.mark.parametrize(
    "kind", ["multipart/form-data; boundary=x", "application/x-www-form-urlencoded"]
)
def test_a_form_in_another_encoding_is_refused(workbench: Open, kind: str, charset: str) -> None:
    bench = workbench(PICKUP)
    body = b'--x\r\nContent-Disposition: form-data; name="path"\r\n\r\n\xff\r\n--x--\r\n'
    status, page = sent(bench, f"/b/{PICKUP}/set", Post(f"{kind}; charset={charset}", body))
    assert status == 400
    assert "UTF-8" in page


def test_a_file_where_words_belong_is_refused(workbench: Open) -> None:
    bench = workbench(PICKUP)
    for to, field in (
        ("reading", "text"),
        ("sign", "who"),
        ("files", "path"),
        ("set", "quantity"),
    ):
        answer = bench.client.post(
            f"/b/{PICKUP}/{to}",
            data={"token": bench.token()},
            files={field: ("x.csv", b"1 kg", "text/csv")},
        )
        assert answer.status_code == 400, to
        assert field in answer.text
    assert bench.shelf.desk(PICKUP).keeper.readings() == ()


@pytest.mark.parametrize("to", ["files", "photos", "csv/part"])
def test_an_upload_without_a_file_asks_for_one(workbench: Open, to: str) -> None:
    bench = workbench(PICKUP)
    data = {"token": bench.token(), "path": "part.motor.curve"}
    for files in (None, {"file": ("", b"", "text/csv")}, {"photo": ("", b"", "image/png")}):
        answer = bench.client.post(f"/b/{PICKUP}/{to}", data=data, files=files)
        assert answer.status_code in (400, 422), answer.text
        assert "choose a file first" in answer.text or "sends a file as" in answer.text


def test_texts_of_several_lines_survive_their_way_through_a_browser(workbench: Open) -> None:
    """HTML: a box of one line drops line breaks, and every line break is sent as CR LF."""
    bench = workbench(PICKUP)
    file = bench.folder / PICKUP / "build.toml"
    note = 'note = """left\nand right"""'
    before = bench.text(PICKUP).replace("[part.charger]\n", f"[part.charger]\n{note}\n")
    file.write_text(before, encoding="utf-8", newline="")
    page = bench.client.get(f"/b/{PICKUP}/table/part").text
    found = re.findall(r'name="((?:cell|was):[^"]+)" value="([^"]*)"', page)
    fields = {name: html.unescape(text) for name, text in found}
    assert fields["was:part.charger.note"] == '"""left\nand right"""'
    sent_back = {
        name: text.replace("\n", "" if name.startswith("cell:") else "\r\n")
        for name, text in fields.items()
    }
    assert bench.send(f"/b/{PICKUP}/table/part", **sent_back)[0] == 200
    assert bench.text(PICKUP) == before
    status, page = bench.send(
        f"/b/{PICKUP}/set",
        path="part.charger.note",
        quantity="left\r\nand wrong",
        was='"""left\r\nand right"""',
    )
    assert status == 200, page[:3000]
    assert "and wrong" in bench.text(PICKUP)


def test_an_empty_first_line_of_the_file_survives_its_page(workbench: Open) -> None:
    """HTML: a line break right after the beginning of a text area is none of its text."""
    bench = workbench(PICKUP)
    file = bench.folder / PICKUP / "build.toml"
    before = "\n\n" + bench.text(PICKUP)
    file.write_text(before, encoding="utf-8", newline="")
    page = bench.client.get(f"/b/{PICKUP}/file").text
    found = re.search(r"<textarea[^>]*>\n?(.*?)</textarea>", page, re.DOTALL)
    assert found
    assert html.unescape(found[1]) == before


def test_what_is_saved_again_after_a_clash_leads_to_a_page(workbench: Open) -> None:
    bench = workbench(PICKUP)
    fields = {"path": "build.name", "quantity": "mine"}
    status, page = bench.send(f"/b/{PICKUP}/set", **fields, was='"theirs"')
    assert status == 409
    form = re.search(r'<form class="field.*?</form>', page, re.DOTALL)
    assert form
    hidden = dict(re.findall(r'<input type="hidden" name="(\w+)" value="(.*?)">', form[0]))
    assert hidden["was"] == '"Orchard pickup"'
    for back in set(re.findall(r'name="back" value="(.*?)">', page)):
        assert bench.client.get(back).status_code == 200, back
    again = {**fields, "was": hidden["was"], "back": hidden["back"]}
    status, page = bench.send(f"/b/{PICKUP}/set", **again)
    assert status == 200
    assert "Saved: build.name" in page


def test_what_was_typed_and_not_saved_is_given_back(workbench: Open) -> None:
    bench = workbench(PICKUP)
    token = bench.token()
    file = bench.text(PICKUP)

    @bounded(40)
    @given(st.one_of(st.sampled_from(VALUES), st.text(max_size=40)))
    def keeps(text: str) -> None:
        typed = text.replace("\r\n", "\n").strip()
        for status, to, name, fields in (
            (422, "set", "quantity", {"path": "donor.wheelbase", "was": "x"}),
            (409, "table/part", "cell:part.charger.mass", {"was:part.charger.mass": "x"}),
        ):
            post = urlencoded([(name, text), *fields.items()], "")
            answer = posted(bench, f"/b/{PICKUP}/{to}", post, token)
            if answer.status_code == 303 or (to.startswith("table") and answer.status_code == 200):
                continue
            assert answer.status_code in (status, 409, 422)
            page = html.unescape(answer.text).replace("\r\n", "\n")
            assert typed in page, (to, text)
        post = urlencoded([("text", f"= {text}"), ("digest", "x")], "")
        answer = posted(bench, f"/b/{PICKUP}/file", post, token)
        assert answer.status_code == 409
        assert f"= {text}".replace("\r\n", "\n") in html.unescape(answer.text)

    keeps()
    assert bench.text(PICKUP) == file

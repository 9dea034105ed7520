"""Changing a build on its pages: forms, ripples, undo, conflicts, tables, files, side copies."""

from __future__ import annotations

import html
import json
import re
from collections.abc import Callable

import pytest

from wattwright.build.reader import open_build
from wattwright.build.text import read_text
from web_builders import Workbench

PICKUP, RUNABOUT = "orchard-pickup", "island-runabout"
Open = Callable[..., Workbench]


def test_a_saved_value_stands_in_the_file_as_a_careful_person_would_write_it(
    workbench: Open,
) -> None:
    bench = workbench(PICKUP)
    before = bench.text(PICKUP)
    status, page = bench.send(
        f"/b/{PICKUP}/set",
        path="donor.wheelbase",
        quantity="100 3/8 in ± 1/8",
        origin="measured",
        detail="tape, 2026-03-01",
        was=bench.written(PICKUP, "donor.wheelbase") or "",
        back=f"/b/{PICKUP}/in/donor",
    )
    assert status == 200
    after = bench.text(PICKUP)
    changed = [
        (old, new)
        for old, new in zip(before.splitlines(), after.splitlines(), strict=True)
        if old != new
    ]
    remark = "      # left and right agree to 1/8 in"
    assert changed == [
        (
            'wheelbase = "100 1/4 in ± 1/8, measured, tape, 2026-02-14"' + remark,
            'wheelbase = "100 3/8 in ± 1/8, measured, tape, 2026-03-01"' + remark,
        )
    ]
    # What it changed is shown, with the way back.
    assert "Saved: donor.wheelbase" in page
    assert "numbers moved" in page
    status, page = bench.send(f"/b/{PICKUP}/undo", step="undo", back=f"/b/{PICKUP}/")
    assert status == 200
    assert bench.text(PICKUP) == before
    assert "<h2>Taken back: revision 2: donor.wheelbase" in page
    _, page = bench.send(f"/b/{PICKUP}/undo", step="redo", back=f"/b/{PICKUP}/")
    assert bench.text(PICKUP) == after
    assert "<h2>Made again: revision 2: donor.wheelbase" in page


def test_a_ripple_says_what_is_new_and_folds_what_only_needs_other_readings(
    workbench: Open,
) -> None:
    bench = workbench(PICKUP)
    _, page = bench.send(f"/b/{PICKUP}/add", path="case", name="two_up", back=f"/b/{PICKUP}/")
    assert "not said: not said" not in page
    assert re.search(r'class="new">new: (?:sound|marginal|failing|unknown)', page)
    bench.send(f"/b/{PICKUP}/undo", step="undo")
    for path in ("part.motor.mass", "part.charger.mass"):
        was = bench.written(PICKUP, path) or ""
        _, page = bench.send(f"/b/{PICKUP}/set", path=path, word="unknown", was=was)
    assert re.search(r"[Aa]?n?d? ?[0-9]+ (?:more )?lines? needs? other readings now", page)
    assert "not said" not in re.sub(r"<option[^<]*", "", page)


def test_unknown_is_one_tap_and_turns_what_rests_on_it(workbench: Open) -> None:
    bench = workbench(PICKUP)
    status, told = bench.send_by_script(
        f"/b/{PICKUP}/set",
        path="donor.front.track",
        word="unknown",
        quantity="50 3/4 in",
        was=bench.written(PICKUP, "donor.front.track") or "",
    )
    assert status == 200
    assert int(str(told["turned"])) > 0
    assert "verdict" in str(told["ripple"])
    assert open_build(bench.folder / PICKUP).source.data["donor"]["front"]["track"] == "unknown"


def test_a_bad_entry_keeps_its_text_and_says_what_is_wrong_beside_the_field(
    workbench: Open,
) -> None:
    bench = workbench(PICKUP)
    before = bench.text(PICKUP)
    was = bench.written(PICKUP, "donor.wheelbase") or ""
    fields = {"path": "donor.wheelbase", "quantity": "a hundred inches", "was": was}
    status, page = bench.send(f"/b/{PICKUP}/set", **fields)
    assert status == 422
    assert 'value="a hundred inches"' in page
    assert re.search(
        r'class="problem" id="f-donor-wheelbase-problem" role="alert">[^<]+hundred', page
    )
    status, told = bench.send_by_script(f"/b/{PICKUP}/set", **fields)
    assert status == 422
    assert told["typed"] == "a hundred inches"
    assert "hundred" in str(told["message"])
    assert bench.text(PICKUP) == before


def test_two_who_change_one_value_meet_and_different_values_do_not(workbench: Open) -> None:
    bench = workbench(PICKUP)
    track = bench.written(PICKUP, "donor.front.track") or ""
    rear = bench.written(PICKUP, "donor.rear.track") or ""
    first = bench.send_by_script(
        f"/b/{PICKUP}/set", path="donor.front.track", quantity="51 in", origin="measured", was=track
    )
    assert first[0] == 200
    # The second still sees the value as it was: both values are shown and nothing is saved.
    fields = {"path": "donor.front.track", "quantity": "52 in", "origin": "measured", "was": track}
    status, told = bench.send_by_script(f"/b/{PICKUP}/set", **fields)
    assert status == 409
    assert told["clash"] == {
        "now": '"51 in, measured"',
        "now_says": "51 in, measured",
        "meant_says": "52 in, measured",
    }
    status, page = bench.send(f"/b/{PICKUP}/set", **fields)
    assert status == 409
    # Shown as the form shows them, without the quotes of the file.
    assert "There now: <b>51 in, measured</b>" in page
    assert "Yours: <b>52 in, measured</b>" in page
    # Saving again from the page that showed both puts the own one in its place.
    again = {**fields, "was": '"51 in, measured"'}
    assert bench.send_by_script(f"/b/{PICKUP}/set", **again)[0] == 200
    assert '"52 in, measured"' in bench.text(PICKUP)
    # Somebody with another field open noticed nothing of all that.
    other = bench.send_by_script(
        f"/b/{PICKUP}/set", path="donor.rear.track", quantity="50 in", origin="measured", was=rear
    )
    assert other[0] == 200


def test_what_an_editor_changes_outside_is_picked_up_as_a_revision(workbench: Open) -> None:
    bench = workbench(PICKUP)
    bench.page(f"/b/{PICKUP}/")
    file = bench.folder / PICKUP / "build.toml"
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace('"Orchard pickup"', '"Orchard hauler"'), encoding="utf-8")
    assert "Orchard hauler" in bench.page(f"/b/{PICKUP}/")
    revisions = bench.shelf.desk(PICKUP).keeper.revisions()
    assert revisions[0].kind == "outside"
    bench.send(f"/b/{PICKUP}/undo", step="undo")
    assert file.read_text(encoding="utf-8") == text


def test_a_table_is_saved_whole_and_only_where_it_was_touched(workbench: Open) -> None:
    bench = workbench(PICKUP)
    page = bench.client.get(f"/b/{PICKUP}/table/part?only=label,mass").text
    cells = dict(re.findall(r'name="(cell:[^"]+)" value="([^"]*)"', page))
    was = dict(re.findall(r'name="(was:[^"]+)" value="([^"]*)"', page))
    assert len(cells) > 30
    assert cells.keys() == {name.replace("was:", "cell:") for name in was}
    fields = {name: html.unescape(text) for name, text in {**cells, **was}.items()}
    before = bench.text(PICKUP)
    status, _ = bench.send(f"/b/{PICKUP}/table/part", **fields)
    assert status == 200
    assert bench.text(PICKUP) == before
    fields["cell:part.charger.mass"] = "7 kg ± 0.1, measured, scale"
    fields["cell:part.dcdc.mass"] = "2.5 kg, datasheet"
    status, _ = bench.send(f"/b/{PICKUP}/table/part", **fields)
    assert status == 200
    lines = set(bench.text(PICKUP).splitlines()) - set(before.splitlines())
    assert len(lines) == 2
    assert bench.shelf.desk(PICKUP).view().revision.number == 2
    # One wrong cell keeps all of them out, and every text in.
    fields["cell:part.dcdc.mass"] = "heavy"
    fields["cell:part.charger.mass"] = "8 kg, datasheet"
    fields["was:part.charger.mass"] = '"7 kg ± 0.1, measured, scale"'
    fields["was:part.dcdc.mass"] = '"2.5 kg, datasheet"'
    status, page = bench.send(f"/b/{PICKUP}/table/part?only=label,mass", **fields)
    assert status == 422
    assert 'value="heavy"' in page
    assert 'value="8 kg, datasheet"' in page
    assert bench.shelf.desk(PICKUP).view().revision.number == 2


def test_csv_goes_out_and_comes_back(workbench: Open) -> None:
    bench = workbench(PICKUP)
    before = bench.text(PICKUP)
    answer = bench.client.get(f"/b/{PICKUP}/csv/part.csv")
    assert answer.headers["content-type"].startswith("text/csv")
    text = answer.content.decode("utf-8-sig")
    sent = text.replace('"6.9 kg', '"7.1 kg') + "winch,,tow winch,,12 kg\r\n"
    heads = text.splitlines()[0].split(",")
    row = {"name": "winch", "label": "tow winch", "mass": "12 kg", "kind": ""}
    sent = text + ",".join(row.get(head, "") for head in heads) + "\r\n"
    told = {"token": bench.token()}
    files = {"file": ("parts.csv", sent.encode(), "text/csv")}
    answer = bench.client.post(f"/b/{PICKUP}/csv/part", data=told, files=files)
    assert answer.status_code == 200, answer.text
    added = [line for line in bench.text(PICKUP).splitlines() if line not in before.splitlines()]
    assert added == ["[part.winch]", 'label = "tow winch"', 'mass = "12 kg"']
    nonsense = {"file": ("x.csv", b"\xff\xfe\x00,1\n2", "text/csv")}
    answer = bench.client.post(f"/b/{PICKUP}/csv/part", data=told, files=nonsense)
    assert answer.status_code == 422


def test_records_are_added_renamed_and_deleted(workbench: Open) -> None:
    bench = workbench(PICKUP)
    before = bench.text(PICKUP)
    for holder, more in (
        ("part", {"choice": "charger"}),
        ("part", {}),
        ("place", {"choice": "load"}),
        ("case", {}),
        ("use", {"way": "stretches"}),
        ("season", {}),
        ("drive.gear", {}),
        ("donor.removed", {}),
        ("donor.weighed.aboard", {"text": "4 kg, measured"}),
    ):
        # What is aboard is aboard at a place.
        name = "driver" if holder.endswith("aboard") else f"new_{len(more)}{len(holder)}"
        status, page = bench.send(f"/b/{PICKUP}/add", path=holder, name=name, **more)
        assert status == 200, (holder, page[-1500:])
        assert f"{holder}.{name}" in page or f"{name}" in page
    status, _ = bench.send(f"/b/{PICKUP}/rename", path="part.new_14", name="second_charger")
    assert status == 200
    assert "[part.second_charger]" in bench.text(PICKUP)
    assert "[part.new_14]" not in bench.text(PICKUP)
    for path in (
        "part.second_charger",
        "part.new_04",
        "place.new_15",
        "case.new_04",
        "use.new_13",
        "season.new_06",
        "drive.gear.new_010",
        "donor.removed.new_013",
        "donor.weighed.aboard.driver",
    ):
        status, page = bench.send(f"/b/{PICKUP}/delete", path=path)
        assert status == 200, (path, page[-800:])
    assert read_text(bench.text(PICKUP).encode()).data == read_text(before.encode()).data
    for name in ("", "two words", "../x", "ä", "x" * 65, "motor"):
        status, page = bench.send(f"/b/{PICKUP}/add", path="part", name=name, text="")
        assert status in (409, 422), (name, status)
        assert "Traceback" not in page


def driven_in(bench: Workbench, use: str) -> object:
    return read_text(bench.text(PICKUP).encode()).data["use"][use]


def test_a_new_use_says_one_of_three_ways_and_nothing_else(workbench: Open) -> None:
    bench = workbench(PICKUP)
    page = bench.page(f"/b/{PICKUP}/table/use")
    for way in ("cycle", "route", "stretches"):
        assert f'name="way" value="{way}"' in page
    add = f"/b/{PICKUP}/add"
    assert bench.send(add, path="use", name="town", way="cycle", choice="wltc_1")[0] == 200
    assert driven_in(bench, "town") == {"cycle": "wltc_1"}
    stretch = {"way": "stretches", "length": "4 km", "speed": ""}
    assert bench.send(add, path="use", name="lane", **stretch)[0] == 200
    assert driven_in(bench, "lane") == {
        "stretch": {"10_first": {"length": "4 km", "speed": "unknown"}}
    }
    # A route without speeds asks for one: kept is what was typed, and no file is left behind.
    points = "".join(
        f'<trkpt lat="46.0{n:02}" lon="8.0"><ele>{200 + n}</ele></trkpt>' for n in range(10, 40)
    )
    track = (
        '<gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1"><trk><trkseg>'
        f"{points}</trkseg></trk></gpx>"
    )
    files = {"file": ("my way.gpx", track.encode(), "application/gpx+xml")}
    told = {"token": bench.token(), "path": "use", "name": "hills", "way": "route", "speed": ""}
    before = bench.text(PICKUP)
    answer = bench.client.post(add, data=told, files=files)
    assert answer.status_code == 422
    assert 'value="hills"' in answer.text
    assert "the route has no times and no speeds" in answer.text
    assert not (bench.folder / PICKUP / "my-way.gpx").exists()
    assert bench.text(PICKUP) == before
    answer = bench.client.post(add, data={**told, "speed": "40 km/h"}, files=files)
    assert answer.status_code == 200, answer.text[-2000:]
    assert driven_in(bench, "hills") == {"route": "my-way.gpx", "speed": "40 km/h"}
    # Nothing chosen is nothing written.
    before = bench.text(PICKUP)
    status, page = bench.send(add, path="use", name="nothing")
    assert status == 422
    assert "say what is driven" in page
    assert bench.text(PICKUP) == before


def test_what_was_typed_for_a_name_or_a_signature_is_kept_when_it_is_refused(
    workbench: Open,
) -> None:
    bench = workbench(PICKUP)
    add = {"path": "part", "name": "motor", "choice": "charger"}
    status, page = bench.send(f"/b/{PICKUP}/add", **add)
    assert status == 422
    assert re.search(r'id="add-name" name="name" value="motor"[^>]*aria-invalid="true"', page)
    assert "<option selected>charger</option>" in page
    assert re.search(r'id="add-problem" role="alert">[^<]*already', page)
    amount = {"path": "donor.weighed.aboard", "name": "nowhere", "text": "4 kg"}
    status, page = bench.send(f"/b/{PICKUP}/add", **amount)
    assert status == 422
    assert 'name="text" value="4 kg"' in page
    assert "there is no such place" in page
    status, page = bench.send(f"/b/{PICKUP}/rename", path="part.charger", name="motor")
    assert status == 422
    assert re.search(r'id="new-name" name="name" value="motor"', page)
    assert re.search(r'id="rename-problem" role="alert">[^<]*taken already', page)
    sign = {"number": "1", "statement": "looked at all of it", "who": ""}
    status, page = bench.send(f"/b/{PICKUP}/sign", **sign)
    assert status == 422
    assert 'name="statement" value="looked at all of it"' in page
    assert "a signature needs your name" in page
    # A script is told in words, as before.
    status, told = bench.send_by_script(f"/b/{PICKUP}/add", **add)
    assert status == 422
    assert "already" in str(told["message"])


def test_what_is_in_use_is_not_deleted_and_says_who_uses_it(workbench: Open) -> None:
    bench = workbench(PICKUP)
    before = bench.text(PICKUP)
    data = read_text(before.encode()).data
    aboard = {name for name, case in data["case"].items() if "bed_rear" in case.get("aboard", {})}
    place = next(iter(next(iter(data["case"].values()))["aboard"]))
    users = [name for name, case in data["case"].items() if place in case.get("aboard", {})]
    assert users or aboard
    status, page = bench.send(f"/b/{PICKUP}/delete", path=f"place.{place}")
    assert status == 422
    for user in users:
        assert f'href="/b/{PICKUP}/field/case.{user}.aboard.{place}"' in page, page[-1500:]
        assert f"<b>case {user.replace('_', ' ')} aboard</b>" in page
    assert "build.toml" not in page.split("<main")[1].split("</main>")[0]
    assert bench.text(PICKUP) == before


def sent_csv(bench: Workbench, text: str) -> tuple[int, str]:
    files = {"file": ("parts.csv", text.encode(), "text/csv")}
    told = {"token": bench.token()}
    answer = bench.client.post(f"/b/{PICKUP}/csv/part", data=told, files=files)
    return answer.status_code, html.unescape(answer.text)


def test_a_csv_with_a_strange_column_is_taken_without_it_after_one_tap(workbench: Open) -> None:
    bench = workbench(PICKUP)
    before = bench.text(PICKUP)
    status, page = sent_csv(
        bench, 'name,mass,shelf,\nwinch,"12 kg, datasheet",third,x\nlamp,2 kg,,\n'
    )
    assert status == 422
    assert "column 3, shelf" in page
    assert "column 4, which has no heading" in page
    assert "Take the other 2 values" in page
    assert bench.text(PICKUP) == before
    known = re.search(r'name="known" value="([^"]*(?:"[^">]*)*)"><button', page)
    raw = re.search(
        r'name="known" value="([^"]*)"',
        bench.client.post(
            f"/b/{PICKUP}/csv/part",
            data={"token": bench.token()},
            files={"file": ("p.csv", b"name,mass,shelf\nwinch,12 kg,third\n", "text/csv")},
        ).text,
    )
    assert known
    assert raw
    form = {"known": (None, html.unescape(raw[1])), "token": (None, bench.token())}
    answer = bench.client.post(f"/b/{PICKUP}/csv/part", files=form)
    assert answer.status_code == 200, answer.text[-1500:]
    added = [line for line in bench.text(PICKUP).splitlines() if line not in before.splitlines()]
    assert added == ["[part.winch]", 'mass = "12 kg"']


def test_a_column_that_one_row_may_not_have_is_said_of_that_row(workbench: Open) -> None:
    bench = workbench(PICKUP)
    status, page = sent_csv(bench, "name,kind,peak_power\nspare,motor,20 kW\nbox,charger,3 kW\n")
    assert status == 422
    assert "row 3 (box), column peak_power" in page
    assert "row 2 (spare)" not in page
    assert sent_csv(bench, "name,kind,peak_power\nspare,motor,20 kW\n")[0] == 200
    assert '[part.spare]\nkind = "motor"\npeak_power = "20 kW"' in bench.text(PICKUP)


def test_amounts_come_from_their_own_column_alone(workbench: Open) -> None:
    bench = workbench(PICKUP)
    files = {"file": ("a.csv", b"name,amount,remark\ndriver,80 kg,with boots\n", "text/csv")}
    told = {"token": bench.token()}
    answer = bench.client.post(f"/b/{PICKUP}/csv/donor.weighed.aboard", data=told, files=files)
    assert answer.status_code == 422
    assert "column 3, remark" in answer.text
    assert "Take the other value" in answer.text


def test_a_bad_value_in_a_csv_is_said_by_row_and_column(workbench: Open) -> None:
    bench = workbench(PICKUP)
    before = bench.text(PICKUP)
    status, page = sent_csv(bench, "name,label,mass\nlamp,lamp,2 kg\nwinch,tow winch,heavy\n")
    assert status == 422
    assert "row 3 (winch), column mass" in page
    assert "heavy" in page
    assert "build.toml" not in page.split("<main")[1].split("</main>")[0]
    assert bench.text(PICKUP) == before


def test_a_curve_is_put_beside_the_build_and_named(workbench: Open) -> None:
    bench = workbench(PICKUP)
    path = "part.motor.curve"
    curve = "speed (rpm), torque (N·m)\n0, 220\n3000, 220\n9000, 60\n"
    told = {"token": bench.token(), "path": path}
    for sent_name in ("../../my curve.csv", "my curve.csv"):
        files = {"file": (sent_name, curve.encode(), "text/csv")}
        answer = bench.client.post(f"/b/{PICKUP}/files", data=told, files=files)
        assert answer.status_code == 200, answer.text[-1500:]
    assert (bench.folder / PICKUP / "my-curve.csv").read_text(encoding="utf-8") == curve
    assert sorted(each.name for each in bench.folder.iterdir()) == [PICKUP]
    assert 'curve = "my-curve.csv"' in bench.text(PICKUP)
    bad = {"file": ("evil.html", b"<script>", "text/html")}
    assert bench.client.post(f"/b/{PICKUP}/files", data=told, files=bad).status_code == 422
    nonsense = {"file": ("bad.csv", b"nothing of use", "text/csv")}
    assert bench.client.post(f"/b/{PICKUP}/files", data=told, files=nonsense).status_code == 422
    assert not (bench.folder / PICKUP / "bad.csv").exists()


def test_trying_leaves_the_build_alone_until_it_is_kept(workbench: Open) -> None:
    bench = workbench(PICKUP)
    before = bench.text(PICKUP)
    side = f"{PICKUP}~try"
    bench.send(f"/b/{PICKUP}/try")
    bench.send(
        f"/b/{side}/set",
        path="part.charger.mass",
        quantity="30 kg",
        origin="datasheet",
        was=bench.written(side, "part.charger.mass") or "",
    )
    assert bench.text(PICKUP) == before
    page = bench.page(f"/b/{side}/compare")
    assert "numbers moved" in page
    assert '<span class="now">30 kg, datasheet</span>' in page
    # Undo works there too, and does not touch the build.
    bench.send(f"/b/{side}/undo", step="undo")
    assert "30 kg" not in bench.page(f"/b/{side}/compare")
    bench.send(f"/b/{side}/undo", step="redo")
    # Somebody changes another value of the build meanwhile: keeping leaves that as it is.
    bench.send(
        f"/b/{PICKUP}/set",
        path="part.dcdc.mass",
        quantity="9 kg",
        origin="datasheet",
        was=bench.written(PICKUP, "part.dcdc.mass") or "",
    )
    status, page = bench.send(f"/b/{side}/keep")
    assert status == 200, page
    after = bench.text(PICKUP)
    assert '"30 kg, datasheet"' in after
    assert '"9 kg, datasheet"' in after
    assert not (bench.folder / PICKUP / ".try").exists()
    bench.page(f"/b/{side}/", 404)


def test_a_try_that_clashes_is_not_kept_and_not_lost(workbench: Open) -> None:
    bench = workbench(PICKUP)
    side = f"{PICKUP}~try"
    bench.send(f"/b/{PICKUP}/try")
    for build, mass in ((side, "30 kg"), (PICKUP, "8 kg")):
        bench.send(
            f"/b/{build}/set",
            path="part.charger.mass",
            quantity=mass,
            origin="datasheet",
            was=bench.written(build, "part.charger.mass") or "",
        )
    status, _ = bench.send(f"/b/{side}/keep")
    assert status == 409
    assert '"8 kg, datasheet"' in bench.text(PICKUP)
    page = bench.page(f"/b/{side}/compare")
    assert "was changed in the build meanwhile" in page
    bench.send(f"/b/{side}/drop")
    bench.page(f"/b/{side}/", 404)
    assert '"8 kg, datasheet"' in bench.text(PICKUP)


def test_the_file_itself_can_be_edited_and_a_stale_one_is_refused(workbench: Open) -> None:
    bench = workbench(PICKUP)
    page = bench.client.get(f"/b/{PICKUP}/file").text
    digest = re.search(r'name="digest" value="([0-9a-f]+)"', page)
    assert digest
    text = bench.text(PICKUP)
    new = text.replace('"Orchard pickup"', '"Orchard wagon"')
    stale = new.replace("wagon", "truck")
    assert bench.send(f"/b/{PICKUP}/file", text=new, digest=digest[1])[0] == 200
    assert bench.text(PICKUP) == new
    status, page = bench.send(f"/b/{PICKUP}/file", text=stale, digest=digest[1])
    assert status == 409
    assert "Orchard truck" in page
    current = re.search(
        r'name="digest" value="([0-9a-f]+)"', bench.client.get(f"/b/{PICKUP}/file").text
    )
    assert current
    status, page = bench.send(
        f"/b/{PICKUP}/file", text=new + "\n[nonsense]\nx = 1\n", digest=current[1]
    )
    assert status == 422
    assert "nonsense" in page
    assert bench.text(PICKUP) == new


def test_history_shows_restores_and_signs(workbench: Open) -> None:
    bench = workbench(PICKUP)
    before = bench.text(PICKUP)
    bench.send(
        f"/b/{PICKUP}/set", path="build.name", quantity="Another name", was='"Orchard pickup"'
    )
    page = bench.page(f"/b/{PICKUP}/history/2")
    assert '-name = "Orchard pickup"' in page
    assert '+name = "Another name"' in page
    bench.send(f"/b/{PICKUP}/restore", number="1")
    assert bench.text(PICKUP) == before
    bench.send(f"/b/{PICKUP}/sign", number="3", statement="looked at all of it", who="A. Builder")
    bench.send(f"/b/{PICKUP}/reading", about="donor.wheelbase", text="2547 mm", instrument="tape")
    page = bench.page(f"/b/{PICKUP}/history")
    assert "looked at all of it" in page
    assert "2547 mm" in page
    assert "2547 mm" in bench.page(f"/b/{PICKUP}/field/donor.wheelbase")


def test_reading_a_page_never_changes_anything(workbench: Open) -> None:
    bench = workbench(PICKUP)
    bench.page(f"/b/{PICKUP}/")
    before = bench.text(PICKUP)
    number = bench.shelf.desk(PICKUP).view().revision.number
    for path in (
        "set",
        "undo",
        "add",
        "rename",
        "delete",
        "try",
        "keep",
        "drop",
        "restore",
        "sign",
    ):
        answer = bench.client.get(f"/b/{PICKUP}/{path}?path=build.name&quantity=x")
        assert answer.status_code == 405, path
    assert bench.text(PICKUP) == before
    assert bench.shelf.desk(PICKUP).view().revision.number == number


def test_the_api_does_the_same_and_describes_itself(workbench: Open) -> None:
    bench = workbench(PICKUP)
    head = {"x-token": bench.token()}
    said = bench.client.get(f"/api/builds/{PICKUP}/check").json()
    assert said["build"] == "Orchard pickup"
    body = {"edits": [{"path": "part.charger.mass", "text": "8 kg, datasheet"}], "why": "weighed"}
    answer = bench.client.post(f"/api/builds/{PICKUP}/edits", json=body, headers=head)
    assert answer.status_code == 200, answer.text
    assert answer.json()["revision"]["why"] == "weighed"
    assert answer.json()["ripple"]["changes"]
    clash = {"edits": [{"path": "part.charger.mass", "text": "9 kg", "was": '"1 kg"'}]}
    answer = bench.client.post(f"/api/builds/{PICKUP}/edits", json=clash, headers=head)
    assert answer.status_code == 409
    wrong = {"edits": [{"path": "part.charger.mass", "text": "heavy"}]}
    answer = bench.client.post(f"/api/builds/{PICKUP}/edits", json=wrong, headers=head)
    assert answer.status_code == 422
    assert "part.charger.mass" in answer.json()["problems"]
    assert bench.client.post(f"/api/builds/{PICKUP}/undo", headers=head).status_code == 200
    described = bench.client.get("/api/openapi.json").json()
    assert described["openapi"].startswith("3.1")
    for path in described["paths"]:
        assert path.startswith("/api/")
    explained = bench.client.get(
        f"/api/builds/{PICKUP}/explain", params={"address": "vehicle.axle_load@rear/full"}
    )
    assert explained.json()["finding"]["address"] == "vehicle.axle_load@rear/full"
    json.dumps(described)


def test_undo_this_takes_back_what_its_page_showed_and_nothing_later(workbench: Open) -> None:
    bench = workbench(PICKUP)
    one = {"path": "build.name", "quantity": "One", "was": '"Orchard pickup"'}
    _, told = bench.send_by_script(f"/b/{PICKUP}/set", **one)
    base = re.search(r'name="base" value="([0-9a-f]+)"', str(told["ripple"]))
    assert base
    two = {"path": "build.name", "quantity": "Two", "was": '"One"'}
    assert bench.send_by_script(f"/b/{PICKUP}/set", **two)[0] == 200
    status, told = bench.send_by_script(f"/b/{PICKUP}/undo", step="undo", base=base[1])
    assert status == 409
    assert told["message"]
    assert 'name = "Two"' in bench.text(PICKUP)


def test_what_is_measured_while_trying_stays(workbench: Open) -> None:
    bench = workbench(PICKUP)
    side = f"{PICKUP}~try"
    bench.send(f"/b/{PICKUP}/try")
    bench.send(f"/b/{side}/reading", about="donor.wheelbase", text="2551 mm")
    assert "2551 mm" in bench.page(f"/b/{side}/field/donor.wheelbase")
    bench.send(f"/b/{side}/drop")
    assert "2551 mm" in bench.page(f"/b/{PICKUP}/field/donor.wheelbase")


@pytest.mark.parametrize(
    ("to", "fields"),
    [
        ("add", {"path": "part", "name": "shelf"}),
        ("rename", {"path": "part.charger", "name": "wall_charger"}),
    ],
)
def test_what_came_through_before_its_answer_was_lost_is_not_done_twice(
    workbench: Callable[..., Workbench], to: str, fields: dict[str, str]
) -> None:
    bench = workbench(PICKUP)
    status, told = bench.send_by_script(f"/b/{PICKUP}/{to}", **fields)
    assert status == 200
    assert str(told["to"]).startswith(f"/b/{PICKUP}/in/part.")
    before = bench.text(PICKUP)
    assert bench.send_by_script(f"/b/{PICKUP}/{to}", **fields)[0] == 422
    status, told = bench.send_by_script(f"/b/{PICKUP}/{to}", again="1", **fields)
    assert (status, told["message"]) == (200, "as it was")
    # What somebody else did under the same name is no answer to this.
    bench.shelf.desk(PICKUP).step("undo", "somebody")
    bench.shelf.desk(PICKUP).step("redo", "somebody")
    assert bench.text(PICKUP) == before
    other = {**fields, "name": "dcdc"}
    assert bench.send_by_script(f"/b/{PICKUP}/{to}", again="1", **other)[0] == 422
    assert bench.text(PICKUP) == before


def test_a_new_name_goes_to_those_who_name_it(workbench: Open) -> None:
    bench = workbench(PICKUP, RUNABOUT)
    status, _ = bench.send(f"/b/{PICKUP}/rename", path="part.charger", name="wall_charger")
    assert status == 200
    text = bench.text(PICKUP)
    assert "[part.wall_charger]" in text
    assert 'ends = "wall_charger"' in text
    assert 'ends = "charger"' not in text
    # A point of the survey is named by mounts, and in the names of readings.
    status, _ = bench.send(f"/b/{RUNABOUT}/rename", path="survey.point.hub_left", name="near_hub")
    assert status == 200
    text = bench.text(RUNABOUT)
    assert "unit_nose-near_hub" in text
    assert "unit_nose-hub_left" not in text
    # Only what was adjusted once keeps the old name: that is done again.
    assert [line for line in text.splitlines() if "hub_left" in line] == [
        line for line in text.splitlines() if line.startswith("hub_left = {")
    ]

"""Every file of a run: names, contents, same bytes, all or none."""

import csv
import json
import subprocess
import sys
from io import BytesIO, StringIO
from pathlib import Path
from xml.etree import ElementTree

import pytest
from pypdf import PdfReader
from sheet.plans import plan_named, proof_of, sheet_of

from passplot.records.sheet import Lettering
from passplot.write import FORMATS, render, save

SVG = "{http://www.w3.org/2000/svg}"


def files(name: str, formats: set[str]) -> dict[str, bytes]:
    plan = plan_named(name)
    return render(plan, proof_of(plan), sheet_of(name), "job", formats)


def test_the_names_are_as_agreed() -> None:
    names = set(files("two shoulders", set(FORMATS)))
    pages = len(sheet_of("two shoulders").pages)
    numbered = {f"job-{n}.{ending}" for n in range(2, pages + 1) for ending in ("svg", "png")}
    fixed = {"job.svg", "job.png", "job.pdf", "job.html", "job-moves.csv", "job-plan.json"}
    assert names == numbered | fixed


def test_an_unknown_format_is_refused() -> None:
    with pytest.raises(ValueError, match="bmp"):
        files("two shoulders", {"bmp"})


@pytest.mark.parametrize("name", ["two shoulders", "corner-boss"])
def test_json_numbers_equal_those_of_the_csv(name: str) -> None:
    found = files(name, {"csv", "json"})
    rows = list(csv.DictReader(StringIO(found["job-moves.csv"].decode("utf-8"))))
    moves = json.loads(found["job-plan.json"])["moves"]
    assert len(rows) == len(moves) > 0
    for row, move in zip(rows, moves, strict=True):
        for key in ("x", "y", "z", "both_ways", "width_of_cut", "depth_of_cut"):
            assert move[key] == float(row[key])
        assert move["feed"] == (float(row["feed"]) if row["feed"] else None)
        assert move["pass"] == (int(row["pass"]) if row["pass"] else None)
        assert (move["axis"] or "") == row["axis"]


def test_the_json_carries_the_proof() -> None:
    document = json.loads(files("two shoulders", {"json"})["job-plan.json"])
    assert document["schema"] == 1
    assert document["units"] == "inch"
    assert document["cutters"][0]["id"] == "C50"
    assert set(document["proof"]["finish_stock"]["wall"]) == {"min", "max"}
    for key in (
        *("gouge", "left_uncut", "unreached_area", "conventional_share", "both_ways_length"),
        *("climb_length", "max_width_of_cut", "cutting_length", "lower_bound", "cell"),
    ):
        assert isinstance(document["proof"][key], int | float)


def test_points_are_written_where_walls_are_stepped_and_equal_the_json() -> None:
    assert not any("points" in name for name in files("two shoulders", {"csv"}))
    found = files("bushing-seat", {"csv", "json"})
    rows = list(csv.DictReader(StringIO(found["job-points.csv"].decode("utf-8"))))
    passes = json.loads(found["job-plan.json"])["passes"]
    stepped = {each["pass"]: each["points"] for each in passes if "points" in each}
    assert len(rows) == sum(map(len, stepped.values())) > 0
    for row in rows:
        points = stepped[int(row["pass"])]
        point = next(each for each in points if each["point"] == int(row["point"]))
        for key in ("x", "y", "scallop"):
            assert point[key] == float(row[key])
        assert (point["first_axis"] or "") == row["first_axis"]
    moves = list(csv.DictReader(StringIO(found["job-moves.csv"].decode("utf-8"))))
    stops = {(move["pass"], move["x"], move["y"], move["z"]) for move in moves}
    firsts = {points[0]["point"] for points in stepped.values()}
    later = [row for row in rows if int(row["point"]) not in firsts]
    assert {(row["pass"], row["x"], row["y"], row["z"]) for row in later} <= stops


def test_arcs_are_arcs_in_the_svg_and_points_are_on_the_page() -> None:
    found = files("bushing-seat", {"svg", "html"})
    root = ElementTree.fromstring(found["job.svg"])
    paths = [each.get("d", "") for each in root.iter(f"{SVG}path")]
    # the seat's radius, .625 in, at the 1:1 of the set-up sheet
    assert any("A15.875 15.875 0" in path for path in paths)
    page = found["job.html"].decode("utf-8")
    assert "Points: " in page
    assert "STEP POINTS" in page


def test_csv_lines_are_plain() -> None:
    text = files("two shoulders", {"csv"})["job-moves.csv"]
    assert b"\r" not in text
    assert text.endswith(b"\n")
    assert "−" not in text.decode("utf-8")  # minus signs that programs can read


def test_svg_text_is_real_and_held_to_its_measured_width() -> None:
    page = sheet_of("two shoulders").pages[2]
    root = ElementTree.fromstring(files("two shoulders", {"svg"})["job-3.svg"])
    assert (root.get("width"), root.get("viewBox")) == ("297mm", "0 0 297 210")
    found = [(node.text, float(node.get("textLength", "0"))) for node in root.iter(f"{SVG}text")]
    wanted = [(m.text, m.width) for m in page.marks if isinstance(m, Lettering)]
    assert [text for text, _ in found] == [text for text, _ in wanted]
    for (_, drawn), (_, measured) in zip(found, wanted, strict=True):
        assert drawn == pytest.approx(measured, abs=0.001)


def test_every_pass_can_be_stepped_to_on_the_page() -> None:
    html = files("closed pocket", {"html"})["job.html"].decode("utf-8")
    for each in plan_named("closed pocket").passes:
        assert f'data-pass="{each.number}"' in html
    assert 'type="range"' in html


def test_the_page_loads_nothing_from_outside() -> None:
    html = files("two shoulders", {"html"})["job.html"].decode("utf-8")
    for word in (" src=", " href=", "@import", "url(", "<link", "<img"):
        assert word not in html
    assert html.count("<svg") == len(sheet_of("two shoulders").pages)


def test_the_pdf_has_all_sheets_with_text_to_search() -> None:
    data = files("two shoulders", {"pdf"})["job.pdf"]
    reader = PdfReader(BytesIO(data))
    assert len(reader.pages) == len(sheet_of("two shoulders").pages)
    box = reader.pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx((841.89, 595.28), abs=0.01)
    text = "\n".join(page.extract_text() for page in reader.pages)
    assert "GUIDE BLOCK" in text
    assert "LEFT SHOULDER" in text
    assert "Z −." in text  # a minus is no letter of Latin-1


@pytest.mark.slow
def test_the_same_job_gives_the_same_bytes_in_another_process(tmp_path: Path) -> None:
    code = (
        "import hashlib, sys; sys.path.insert(0, sys.argv[1])\n"
        "from write.test_files import files; from passplot.write import FORMATS\n"
        "found = files('two shoulders', set(FORMATS))\n"
        "print({k: hashlib.sha256(v).hexdigest() for k, v in sorted(found.items())})\n"
    )
    tests = str(Path(__file__).parents[1])
    runs = [
        subprocess.run(
            [sys.executable, "-c", code, tests],
            check=True,
            capture_output=True,
            text=True,
            cwd=tmp_path,
            env={"PYTHONHASHSEED": seed, "MPLCONFIGDIR": str(tmp_path), "PATH": ""},
        ).stdout
        for seed in ("1", "2")
    ]
    assert runs[0] == runs[1]
    assert "job.pdf" in runs[0]


def test_writing_drawings_as_svg_loads_no_plotting_library() -> None:
    code = (
        "import sys; sys.path.insert(0, sys.argv[1])\n"
        "from write.test_files import files\n"
        "loaded = set(sys.modules)\n"
        "files('two shoulders', {'svg', 'csv', 'json', 'html'})\n"
        "print(sorted(m for m in set(sys.modules) - loaded if m.startswith('matplotlib')))\n"
        "print('matplotlib' in sys.modules)\n"
    )
    tests = str(Path(__file__).parents[1])
    done = subprocess.run(
        [sys.executable, "-c", code, tests], check=True, capture_output=True, text=True
    )
    assert done.stdout.split("\n")[:2] == ["[]", "False"]


def test_files_are_saved_into_a_folder_that_is_made(tmp_path: Path) -> None:
    folder = tmp_path / "a" / "b"
    saved = save({"one.txt": b"1", "two.txt": b"2"}, folder)
    assert [path.read_bytes() for path in saved] == [b"1", b"2"]
    assert sorted(path.name for path in folder.iterdir()) == ["one.txt", "two.txt"]


def test_a_run_that_fails_leaves_what_was_there(tmp_path: Path) -> None:
    (tmp_path / "one.txt").write_bytes(b"old")
    (tmp_path / "two.txt").mkdir()
    (tmp_path / "two.txt" / "kept").write_bytes(b"kept")
    with pytest.raises(OSError):  # noqa: PT011 - which one depends on the system
        save({"one.txt": b"new", "no/such/folder.txt": b"2"}, tmp_path)
    assert (tmp_path / "one.txt").read_bytes() == b"old"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["one.txt", "two.txt"]


def test_a_folder_that_cannot_be_filled_is_not_left_behind(tmp_path: Path) -> None:
    with pytest.raises(OSError):  # noqa: PT011 - which one depends on the system
        save({"no/such/folder.txt": b"1"}, tmp_path / "new" / "deep")
    assert not (tmp_path / "new").exists()

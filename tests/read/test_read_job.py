"""From files on disk to a job, or to faults that name the files as they were given."""

from pathlib import Path

import pytest

from passplot.errors import InputFaults
from passplot.read import read_job
from passplot.records.job import Job

from .texts import JOB, SHOP, job, read
from .toml_text import dump

EXAMPLES = Path(__file__).parents[2] / "shop_examples"
JOBS = sorted(path for path in EXAMPLES.glob("*.toml") if "mill" not in path.stem)


def _write(folder: Path, job_text: str, shop_text: str | None = None) -> Path:
    path = folder / "block.toml"
    path.write_text(job_text, encoding="utf-8")
    if shop_text is not None:
        (folder / "shop.toml").write_text(shop_text, encoding="utf-8")
    return path


def _lines(path: Path) -> tuple[str, ...]:
    with pytest.raises(InputFaults) as raised:
        read_job(path)
    return raised.value.lines()


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_every_example_reads(path: Path) -> None:
    found = read_job(path)
    assert found.file == str(path)
    assert found.features
    assert {callout.name for callout in found.callouts}


def test_the_examples_are_inch_and_metric() -> None:
    units = [read_job(path).units for path in JOBS]
    assert len(units) >= 9
    assert {"inch", "mm"} == set(units)


def test_the_shop_file_lies_beside_the_job(tmp_path: Path) -> None:
    (tmp_path / "files").mkdir()
    path = _write(tmp_path / "files", dump(job(shop="../shop.toml", title=None)))
    (tmp_path / "shop.toml").write_text(dump(SHOP), encoding="utf-8")
    found = read_job(path)
    assert found.title == "block"
    assert found.shop.file == str(tmp_path / "files" / "../shop.toml")


def test_a_byte_order_mark_is_no_fault(tmp_path: Path) -> None:
    assert read_job(_write(tmp_path, "\ufeff" + dump(JOB), dump(SHOP))).title == "Trial block"


def test_a_job_file_that_is_not_there(tmp_path: Path) -> None:
    path = tmp_path / "none.toml"
    (line,) = _lines(path)
    assert line.startswith(f"{path}: line 1: file: there is no such file")


def test_a_folder_is_no_job_file(tmp_path: Path) -> None:
    (line,) = _lines(tmp_path)
    assert line.startswith(f"{tmp_path}: line 1: file: cannot be read")


def test_text_that_is_not_utf8(tmp_path: Path) -> None:
    path = tmp_path / "latin.toml"
    path.write_bytes(b'units = "inch"\n# 1 \xb1 0.1\n')
    (line,) = _lines(path)
    assert line.startswith(f"{path}: line 2: file: not UTF-8")


def test_a_shop_file_that_is_not_there_is_a_fault_of_the_job(tmp_path: Path) -> None:
    lines = _lines(_write(tmp_path, dump(job(shop="shed.toml", quantity=0))))
    assert [line.split(": ")[1:3] for line in lines] == [
        ["line 3", "shop"],
        ["line 5", "quantity"],
    ]


def test_a_shop_file_that_cannot_be_read_is_named(tmp_path: Path) -> None:
    path = _write(tmp_path, dump(JOB), "units = \n")
    (line,) = _lines(path)
    assert line.startswith(f"{tmp_path / 'shop.toml'}: line 1: units: not TOML")
    (tmp_path / "shop.toml").write_bytes(b"\n\xff\n")
    (line,) = _lines(path)
    assert line.startswith(f"{tmp_path / 'shop.toml'}: line 2: file: not UTF-8")


def test_a_shop_path_with_a_null_character_is_a_fault(tmp_path: Path) -> None:
    lines = _lines(_write(tmp_path, dump(job(shop="a\0b"))))
    assert any(": shop: " in line for line in lines)


def _full() -> Job:
    return read(
        job(
            part_number=1024,
            quantity=3,
            direction="climb",
            general_tolerance={".xxx": 0.005, ".xx": "1/64"},
            finish={"wall": 0, "floor": "0.1 mm", "skims": 0},
            limits={"width_of_cut": "1/8", "feed": 4.5, "cross_over": 0.25},
            keep_out=[{"name": "clamp", "x": [3.5, 5], "y": [-1, 0], "top": "1/2"}],
            setup=[
                {
                    "name": "vise",
                    "hold": "vise",
                    "jaw_height": 1.75,
                    "jaw_opening": 4,
                    "parallels": ["1 1/4", 0.5],
                    "zero": "left back top",
                }
            ],
            feature=[{"name": "f", "kind": "step", "side": "back", "width": 1, "depth": 0.5}],
            dimension=None,
        )
    )


def test_what_the_file_says_stands_in_the_job() -> None:
    found = _full()
    assert (found.part_number, found.quantity, found.climb) == ("1024", 3, True)
    assert found.general_tolerance == ".xx ±0.015625, .xxx ±0.005"
    assert (found.finish.wall, found.finish.skims, found.finish.floor_skims) == (0, 0, 1)
    assert found.finish.floor == pytest.approx(0.1 / 25.4)
    assert (found.limits.width_of_cut, found.limits.feed) == (0.125, 4.5)
    assert (found.limits.stand_off, found.limits.cross_over) == (0.05, 0.25)
    assert (found.keep_outs[0].name, found.keep_outs[0].top) == ("clamp", 0.5)
    assert (found.setup.hold, found.setup.jaw_height) == ("vise", 1.75)
    assert found.setup.parallels == (1.25, 0.5)
    assert found.stock.y == (-3, 0)  # the zero of the setup
    assert found.stock.material == "low-carbon steel"


def test_what_the_file_leaves_out_is_the_default() -> None:
    found = read(job(part_number=None, title=None))
    assert (found.title, found.part_number, found.quantity) == ("job", "", 1)
    assert (found.climb, found.general_tolerance) == (False, "none stated")
    assert (found.finish.wall, found.finish.floor) == (None, None)
    assert (found.finish.skims, found.finish.floor_skims, found.finish.cusp) == (2, 1, 0.004)
    assert (found.limits.width_of_cut, found.limits.spindle_speed) == (None, None)
    assert (found.limits.stand_off, found.limits.cross_over) == (0.05, 0.1)
    assert (found.setup.name, found.setup.hold) == ("setup 1", None)


def test_metric_jobs_have_metric_defaults() -> None:
    stock = {"size": [100, 80, 25], "material": "6061"}
    ledge = {"name": "f", "kind": "step", "side": "back", "width": 10, "depth": 5}
    found = read(job(units="mm", stock=stock, feature=[ledge], dimension=None))
    assert found.finish.cusp == 0.1
    assert (found.limits.stand_off, found.limits.cross_over) == (1.2, 2.5)


def test_cutters_left_out_are_chosen_later() -> None:
    assert read(job(cutter=None)).cutters == ()
    assert read(job(cutter=["half"])).cutters == ("half",)

"""Which cutter is picked up, and what is said against each other one."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner
from read.texts import cutter, job, machine, shop
from read.toml_text import dump

from passplot.command.main import main
from passplot.flow import choose_cutters, plan_job
from passplot.read import parse_job
from passplot.records.choice import FeatureChoice, Judged
from passplot.records.job import Job

DIAL = {"per_turn": 0.2, "graduation": 0.001, "backlash": 0.008}
CRIB = [
    cutter(id="long", flute_length=2, price=70),
    cutter(id="two flute", material="high-speed steel", flutes=2, flute_length=1, price=15),
    cutter(id="quarter", diameter=0.25, flute_length=0.75, price=20),
    cutter(id="half", flute_length=1, price=45),
    cutter(id="large", diameter=0.75, flute_length=1.5, price=140),
]
SHOULDER = {"name": "shoulder", "kind": "step", "side": "left", "width": 1, "depth": 0.7}


def texts(
    *features: dict[str, object], material: str = "cold rolled", crib: list | None = None
) -> tuple[str, str]:
    values = shop(
        machine=machine(
            spindle_speeds=[75, 190, 480, 760, 1200, 1900, 2200, 2900],
            dial={
                "x": DIAL | {"clockwise": "table left"},
                "y": DIAL | {"clockwise": "table in"},
            },
        )
    )
    values["cutter"] = CRIB if crib is None else crib
    stock = {"size": [4, 3, 1.5], "material": material}
    return dump(
        job(feature=list(features) or [SHOULDER], stock=stock, dimension=None, cutter=None)
    ), dump(values)


def judged(*features: dict[str, object], **changes: object) -> FeatureChoice:
    choices = choose_cutters(parse_job(*texts(*features, **changes)))  # type: ignore[arg-type]
    return choices[0]


def of(choice: FeatureChoice, name: str) -> Judged:
    return next(one for one in choice.cutters if one.cutter == name)


def said(choice: FeatureChoice, name: str) -> str:
    return "; ".join(of(choice, name).reasons)


def test_the_half_inch_four_flute_carbide_is_picked_up_for_steel() -> None:
    # common practice, no source: so is each reason against the others
    choice = judged()
    assert choice.chosen == "half"
    assert of(choice, "half").spindle_speed == 2200
    assert "only the tips wear" in said(choice, "long")
    assert "would do, slower than carbide and with cutting oil" in said(choice, "two flute")
    assert "small for so much metal" in said(choice, "quarter")
    assert "dearer, 140 against 45, and larger than the job needs" in said(choice, "large")
    assert {one.verdict for one in choice.cutters[1:]} == {"would do"}


@pytest.mark.parametrize("material", ["6061", "acetal"])
def test_high_speed_steel_is_a_fair_first_choice_in_soft_work(material: str) -> None:
    choice = judged(material=material)
    assert choice.chosen == "two flute"
    assert "fair first choice" in said(choice, "two flute")
    assert "little room" in said(choice, "half")


def test_a_tight_inside_radius_takes_a_small_cutter() -> None:
    pocket = {"name": "pocket", "kind": "pocket", "x": [1, 3], "y": [1, 2], "depth": 0.5}
    choice = judged(pocket | {"corner_radius": 0.125})
    assert choice.chosen == "quarter"
    assert of(choice, "half").verdict == "no"
    assert "inside corner radius of 0.125" in said(choice, "half")


def test_a_deep_narrow_slot_wants_flutes_and_room() -> None:
    slot = {"name": "slot", "kind": "slot", "along": "y", "center": 2, "width": 0.3}
    choice = judged(slot | {"depth": 0.7})
    assert choice.chosen == "quarter"
    assert "too big for the narrowest place, 0.3 across" in said(choice, "half")
    deeper = judged(slot | {"depth": 0.8})
    assert deeper.chosen is None
    assert "flutes of only 0.75" in said(deeper, "quarter")


def test_price_breaks_a_tie() -> None:
    twins = [
        cutter(id="dear", flute_length=1, price=60),
        cutter(id="fair", flute_length=1, price=40),
    ]
    choice = judged(crib=twins)
    assert choice.chosen == "fair"
    assert "dearer, 60 against 40" in said(choice, "dear")


def test_forms_are_judged_for_what_they_are_for() -> None:
    crib = [
        cutter(id="rougher", form="roughing", flute_length=1),
        cutter(id="face", form="face mill", diameter=2, flutes=5, flute_length=0.3, stickout=1.75),
        cutter(id="half", flute_length=1),
    ]
    wall = judged(crib=crib)
    assert wall.chosen == "half"
    assert "at least 0.030 in" in said(wall, "rougher")
    assert of(wall, "face").verdict == "no"
    top = judged({"name": "top", "kind": "face", "depth": 0.05}, crib=crib)
    assert top.chosen == "face"
    assert "longer than needed" not in said(top, "half")  # every face is shallow


def test_a_reground_cutter_is_said_to_be_one() -> None:
    assert "measures 0.48" in said(judged(crib=[cutter(id="half", actual=0.48)]), "half")


def test_a_job_without_cutters_is_planned_with_the_one_chosen() -> None:
    found: Job = parse_job(*texts())
    assert [use.cutter.id for use in plan_job(found).cutters] == ["half"]


def test_long_flutes_are_not_held_against_the_stiffest() -> None:
    crib = [
        cutter(id="half", flute_length=1.75, price=40),
        cutter(id="quarter", diameter=0.25, flute_length=0.75, price=20),
    ]
    choice = judged(SHOULDER | {"depth": 0.4}, crib=crib)
    assert choice.chosen == "half"
    assert "longer than needed" not in said(choice, "half")


def test_a_corner_radius_is_left_at_the_foot_of_a_wall() -> None:
    crib = [
        cutter(id="round", form="corner radius", corner_radius=0.06, flute_length=1),
        cutter(id="hss", material="high-speed steel", flutes=2, flute_length=1),
    ]
    wall = judged(crib=crib)
    assert wall.chosen == "hss"  # slower, but the foot of the wall comes out square
    assert "radius of 0.06 at the foot" in said(wall, "round")
    assert judged({"name": "top", "kind": "face", "depth": 0.05}, crib=crib).chosen == "round"
    bore = {"name": "bore", "kind": "bore", "center": [2, 1.5], "diameter": 1.5, "depth": 0.4}
    assert of(judged(bore, crib=crib), "round").verdict == "would do"


def write(folder: Path, job_text: str, shop_text: str) -> str:
    (folder / "shop.toml").write_text(shop_text, encoding="utf-8")
    (folder / "job.toml").write_text(job_text, encoding="utf-8")
    return str(folder / "job.toml")


def test_the_answer_as_json(tmp_path: Path) -> None:
    found = CliRunner().invoke(main, ["choose", write(tmp_path, *texts()), "--json"])
    assert found.exit_code == 0
    (feature,) = json.loads(found.stdout)["features"]
    assert feature["name"] == "shoulder"
    assert feature["needs"]["depth"] == 0.7
    first = feature["cutters"][0]
    assert (first["id"], first["verdict"], first["feed"]) == ("half", "chosen", 12)
    assert first["seconds_per_turn"] == {"x": 1, "y": 1, "z": None}
    assert 0 < first["deflection"] < 0.003
    assert 0 < first["power"] < first["motor_power"] <= 2


def test_a_crib_where_nothing_will_do_ends_in_1(tmp_path: Path) -> None:
    short = [cutter(id="short", flute_length=0.5)]
    found = CliRunner().invoke(main, ["choose", write(tmp_path, *texts(crib=short))])
    assert found.exit_code == 1
    assert "no cutter of the crib will do" in found.stderr
    assert "flutes of only 0.5" in found.stderr
    bad = CliRunner().invoke(main, ["choose", str(tmp_path / "none.toml")])
    assert bad.exit_code == 2


def test_a_quick_answer_without_a_job(tmp_path: Path) -> None:
    write(tmp_path, *texts())
    asked = ["speeds", "--material", "1018", "--shop", str(tmp_path / "shop.toml"), "--json"]
    found = CliRunner().invoke(main, [*asked, "--cutter", "two flute"])
    answer = json.loads(found.stdout)
    # 100 ft/min: 763.9 rev/min, the step below is 760; .002 in x 2 x 760 = 3.04 in/min
    assert answer["spindle_speed"] == 760
    assert answer["feed"] == pytest.approx(3.04)
    assert answer["feed_per_tooth"] == pytest.approx(0.002)
    assert answer["seconds_per_turn"]["x"] == pytest.approx(60 * 0.2 / 3.04)
    assert answer["sources"]
    assert CliRunner().invoke(main, [*asked, "--cutter", "half inch"]).exit_code == 2
    plain = ["speeds", "--material", "6061", "--diameter", "0.5", "--flutes", "2"]
    text = CliRunner().invoke(main, plain).stdout
    assert text.startswith("2292 rev/min (300 ft/min)")  # MMT Observatory shop page (seen)


def test_a_material_of_the_shop_goes_before_the_table(tmp_path: Path) -> None:
    job_text, shop_text = texts(material="bar end")
    own = '\n[[material]]\nname = "bar end"\nlike = "1045"\nhss_speed = 66\nunit_power = 1.5\n'
    found = parse_job(job_text, shop_text + own)
    assert found.stock.material == "bar end"
    assert found.shop.materials[0].hss_ft_per_min == 66
    assert found.shop.materials[0].unit_power_hp == 1.5
    assert found.shop.materials[0].drill_entry
    write(tmp_path, job_text, shop_text + own.replace('"1045"', '"unobtainium"'))
    bad = CliRunner().invoke(main, ["choose", str(tmp_path / "job.toml")])
    assert bad.exit_code == 2
    assert "material[0].like" in bad.stderr or "like" in bad.stderr

"""The table of work materials: complete, consistent, every value inside its published range."""

from itertools import pairwise

import pytest

from passplot.materials import Material, find_material, material_names, materials

# Published ranges with high-speed steel, ft/min: Fox Valley Technical College, cutting speeds.
_PUBLISHED = [
    ("1018", 80, 120),
    ("4140", 50, 70),
    ("4140 prehard", 35, 55),
    ("304", 40, 50),
    ("303", 80, 100),
    ("W1", 70, 80),
    ("D2", 20, 40),
    ("grey cast iron", 60, 100),
    ("6061", 140, 300),
    ("A356", 200, 300),
    ("brass", 150, 300),
    ("bearing bronze", 30, 100),
    ("acetal", 600, 1000),
]


@pytest.mark.parametrize(("name", "low", "high"), _PUBLISHED)
def test_speeds_lie_in_the_published_range(name: str, low: float, high: float) -> None:
    material = find_material(name)
    assert material is not None
    assert low <= material.hss_ft_per_min <= high


@pytest.mark.parametrize("material", materials(), ids=lambda material: material.name)
def test_a_row_is_complete_and_consistent(material: Material) -> None:
    assert material.hss_range[0] <= material.hss_ft_per_min <= material.hss_range[1]
    assert material.carbide_range[0] <= material.carbide_ft_per_min <= material.carbide_range[1]
    assert material.carbide_ft_per_min >= material.hss_ft_per_min
    assert 0 < material.feed_per_tooth_in[0] <= material.feed_per_tooth_in[1] < 0.02
    assert material.group in "PMKNSH"  # ISO 513
    assert material.slot_depth == (1.0 if material.group == "N" else 0.5)
    assert material.drill_entry == (material.group in "PMS")
    if material.hardness_hb is not None:
        assert material.hardness_hb[0] < material.hardness_hb[1]
    for source in (material.hss_source, material.carbide_source, material.feed_source):
        assert "seen" in source or "from memory" in source


def test_carbide_runs_at_twice_the_speed_where_the_row_says_so() -> None:
    # Fox Valley Technical College: carbide = 2 x the value of high-speed steel.
    for material in materials():
        if material.carbide_source.startswith("twice"):
            assert material.carbide_ft_per_min == 2 * material.hss_ft_per_min


def test_harder_steel_of_one_kind_is_cut_slower() -> None:
    steels = ["12L14", "1018", "1045", "1095"]
    speeds = [found.hss_ft_per_min for found in map(find_material, steels) if found]
    assert len(speeds) == 4
    assert all(softer > harder for softer, harder in pairwise(speeds))


def test_every_name_is_known_once() -> None:
    names = [name.casefold() for name in material_names()]
    assert len(names) == len(set(names))
    for material in materials():
        for name in (material.name, *material.aliases):
            assert find_material(f"  {name.upper()} ") is material


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("1018 cold rolled", "low-carbon steel"),
        ("AISI 1018", "low-carbon steel"),
        ("6061-T6 Aluminum", "aluminium"),
        ("304 stainless steel", "stainless steel, austenitic"),
        ("O1 tool steel", "tool steel, oil hardening"),
    ],
)
def test_names_put_together_are_understood(written: str, name: str) -> None:
    material = find_material(written)
    assert material is not None
    assert material.name == name


@pytest.mark.parametrize(
    "written", ["", "unobtainium", "cold brass", "1018 6061", "4140 aluminium"]
)
def test_other_names_are_not(written: str) -> None:
    assert find_material(written) is None

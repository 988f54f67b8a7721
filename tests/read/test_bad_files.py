"""Bad files: every fault is found at once, at its line and key, and nothing else is.

A comment ``# fault: KEY; KEY`` says which faults reading has to find on its line.
"""

import re
from pathlib import Path

import pytest

from passplot.errors import InputFaults
from passplot.read import parse_job

HERE = Path(__file__).parent
SHOP = (HERE / "good_shop.toml").read_text(encoding="utf-8")
JOB = """
units = "inch"
shop = "shop.toml"
[stock]
size = [4, 3, 1]
material = "1018"
[[feature]]
name = "ledge"
kind = "step"
side = "left"
width = 1
depth = 0.25
"""


def _wanted(text: str) -> list[tuple[int, str]]:
    return sorted(
        (number, key.strip())
        for number, line in enumerate(text.splitlines(), 1)
        for hit in re.finditer(r"# fault: (.*)", line)
        for key in hit.group(1).split(";")
    )


@pytest.mark.parametrize("path", sorted((HERE / "bad_jobs").glob("*.toml")), ids=lambda p: p.stem)
def test_every_fault_of_a_job_file_is_found(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    with pytest.raises(InputFaults) as raised:
        parse_job(text, SHOP, file=path.name)
    assert sorted((fault.line, fault.key) for fault in raised.value.faults) == _wanted(text)
    assert {fault.file for fault in raised.value.faults} == {path.name}
    assert raised.value.exit_code == 2


@pytest.mark.parametrize("path", sorted((HERE / "bad_shops").glob("*.toml")), ids=lambda p: p.stem)
def test_every_fault_of_a_shop_file_is_found(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    with pytest.raises(InputFaults) as raised:
        parse_job(JOB, text, shop_file=path.name)
    assert sorted((fault.line, fault.key) for fault in raised.value.faults) == _wanted(text)
    assert {fault.file for fault in raised.value.faults} == {path.name}


def test_the_job_and_shop_of_these_tests_are_good() -> None:
    assert parse_job(JOB, SHOP).features[0].name == "ledge"

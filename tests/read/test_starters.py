"""Starter files read as they are, and name the kind they stand for."""

import pytest

from passplot.read import STARTER_KINDS, parse_job, starter


@pytest.mark.parametrize("kind", STARTER_KINDS)
def test_a_starter_reads_without_a_fault(kind: str) -> None:
    job = parse_job(*starter(kind))
    assert [feature.kind for feature in job.features] == [kind]
    assert job.inch
    assert job.shop.cutter(job.cutters[0]).flutes > 0


def test_an_unknown_kind_has_no_starter() -> None:
    with pytest.raises(ValueError, match="dovetail"):
        starter("dovetail")

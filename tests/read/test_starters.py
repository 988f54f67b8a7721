"""Starter files read as they are, and name the kind they stand for."""

import pytest

from passplot.read import STARTER_KINDS, parse_job, starter


@pytest.mark.parametrize("kind", STARTER_KINDS)
def test_a_starter_reads_without_a_fault(kind: str) -> None:
    job = parse_job(*starter(kind))
    (found,) = job.features
    assert found.kind == kind.removeprefix("curved-")
    assert job.inch
    assert job.shop.cutter((found.cutters or job.cutters)[0]).flutes > 0


def test_the_curved_outline_is_curved() -> None:
    plain, curved = (
        parse_job(*starter(kind)).features[0] for kind in ("outline", "curved-outline")
    )
    assert (plain.curved, curved.curved) == (False, True)
    assert len(curved.keep[0].edges) == 6  # three straight, an arc, two rounded corners


def test_an_unknown_kind_has_no_starter() -> None:
    with pytest.raises(ValueError, match="dovetail"):
        starter("dovetail")

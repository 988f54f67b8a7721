"""Long work: features share a sheet only where they can be read from the machine."""

from passplot.flow import prove_job
from passplot.sheet import lay_out
from sheet.pages import texts
from sheet.plans import EXAMPLES


def test_features_of_long_work_are_drawn_at_half_size_or_more() -> None:
    plan, proof = prove_job(EXAMPLES / "clamped-plate.toml")
    sheet = lay_out(plan, proof, "a4", portrait=False)
    said = [text for page in sheet.pages for text in texts(page)]
    assert sum("SCALE 1:2" in text for text in said) > 5
    assert not any("SCALE 1:5" in text for text in said)
    numbers = [number for page in sheet.pages for number in page.passes]
    assert numbers == [each.number for each in plan.passes]

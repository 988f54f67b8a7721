"""What a job may ask for that is not planned yet: the only list of it.

A line goes when the work it names is planned.
"""

from passplot.errors import NotYetPlanned
from passplot.records.job import Job


def refuse_not_yet(job: Job) -> None:
    """Refuse a job that asks for work which is not planned yet.

    Raises
    ------
    NotYetPlanned
        Everything of that kind, by name.
    """
    later = _by_dials(job)
    if later:
        raise NotYetPlanned(*later)


def _by_dials(job: Job) -> list[str]:
    """Work in turned positions: its dials would have to be set anew, or lead round an arc."""
    if job.shop.machine.readout != "dials":
        return []
    ways = (("rotary", "swung on a rotary table"), ("set_over", "set over"))
    return [
        f"{feature.name}: {how} on a machine without a readout"
        for feature in job.features
        for key, how in ways
        if getattr(feature, key)
    ]

"""Commented files to start from: a job of each kind of feature, and a shop to go with it."""

from pathlib import Path

KINDS = (
    "step",
    "slot",
    "pocket",
    "bore",
    "boss",
    "outline",
    "curved-outline",
    "keyseat",
    "holes",
    "face",
)

_TEXTS = Path(__file__).parents[1] / "data" / "new"


def starter(kind: str) -> tuple[str, str]:
    """The text of a job file with one feature of ``kind``, and of its shop file.

    The job names its shop file ``shop.toml``. Both read without a fault.

    Raises
    ------
    ValueError
        ``kind`` is none of ``KINDS``.
    """
    if kind not in KINDS:
        raise ValueError(f"{kind!r} is none of {KINDS}")
    job, shop = (_TEXTS / f"{name}.toml" for name in (kind, "shop"))
    return job.read_text(encoding="utf-8"), shop.read_text(encoding="utf-8")

"""Independent proof of a plan: the printed rows are replayed; nothing of planning is used."""

from passplot.proof.prove import prove

__all__ = ["prove"]

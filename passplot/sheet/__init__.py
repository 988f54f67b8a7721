"""Laying a proven plan out on paper, in millimetres, as a list of plain marks."""

from passplot.sheet.layout import lay_out

__all__ = ["lay_out"]

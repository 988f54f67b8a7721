"""Writers: the laid-out sheet as SVG, PNG, PDF and HTML, its tables as CSV, the plan as JSON.

They decide nothing about milling. The drawing libraries are imported only for the formats that
need them.
"""

from collections.abc import Collection

from passplot.records.plan import Plan
from passplot.records.proof import Proof
from passplot.records.sheet import Page, Sheet
from passplot.write.save import save
from passplot.write.tables import csv_text

__all__ = ["DRAWN", "FORMATS", "page_name", "render", "render_pages", "save"]

FORMATS = ("svg", "png", "pdf", "html", "csv", "json")
"""Every kind of file there is to write."""
DRAWN = frozenset(("svg", "png", "pdf", "html"))
"""Those that need the sheet laid out."""


def render(
    plan: Plan, proof: Proof, sheet: Sheet, stem: str, formats: Collection[str]
) -> dict[str, bytes]:
    """Every file of a run, by name.

    Parameters
    ----------
    plan, proof, sheet : Plan, Proof, Sheet
        The plan, what its replay found, and both laid out.
    stem : str
        Stem of the file names.
    formats : collection of str
        Which of ``FORMATS`` to write.

    Returns
    -------
    dict
        File name to content: the first page of many is ``STEM.svg``, the second ``STEM-2.svg``;
        the moves are ``STEM-moves.csv``, the settings of stepped walls, where there are any,
        ``STEM-points.csv``, the plan ``STEM-plan.json``.

    Raises
    ------
    ValueError
        If a format is none of ``FORMATS``.
    """
    unknown = sorted(set(formats) - set(FORMATS))
    if unknown:
        raise ValueError(f"unknown format: {', '.join(unknown)}")
    texts: dict[str, str] = {}
    if "csv" in formats:
        moves = next(table for table in sheet.tables if table.name == "moves")
        texts[f"{stem}-moves.csv"] = csv_text(moves)
        points = next((table for table in sheet.tables if table.name == "points"), None)
        if points is not None:
            texts[f"{stem}-points.csv"] = csv_text(points)
    if "json" in formats:
        from passplot.write.data import plan_text  # noqa: PLC0415 - only where it is asked for

        texts[f"{stem}-plan.json"] = plan_text(plan, proof, sheet)
    found = {name: text.encode("utf-8") for name, text in texts.items()}
    return found | render_pages(sheet, stem, formats)


def render_pages(sheet: Sheet, stem: str, formats: Collection[str]) -> dict[str, bytes]:
    """The drawn files of a sheet, by name: those of ``DRAWN`` that are among ``formats``."""
    found: dict[str, bytes] = {}
    if "svg" in formats or "html" in formats:
        texts = _drawn(sheet, stem, formats)
        found.update((name, text.encode("utf-8")) for name, text in texts.items())
    if "png" in formats or "pdf" in formats:
        found.update(_pictures(sheet.pages, stem, formats))
    return found


def page_name(stem: str, index: int, ending: str) -> str:
    """File name of a page, counted from 0."""
    return f"{stem}.{ending}" if index == 0 else f"{stem}-{index + 1}.{ending}"


def _drawn(sheet: Sheet, stem: str, formats: Collection[str]) -> dict[str, str]:
    from passplot.write.svg import svg_element, svg_text  # noqa: PLC0415 - only where needed

    found: dict[str, str] = {}
    drawings = [svg_element(page) for page in sheet.pages]
    if "svg" in formats:
        for index, drawing in enumerate(drawings):
            found[page_name(stem, index, "svg")] = svg_text(drawing)
    if "html" in formats:
        from passplot.write.page import page_text  # noqa: PLC0415 - only where it is asked for

        found[f"{stem}.html"] = page_text(sheet, drawings)
    return found


def _pictures(pages: tuple[Page, ...], stem: str, formats: Collection[str]) -> dict[str, bytes]:
    from passplot.write.picture import (  # noqa: PLC0415 - slow to import, so only where needed
        pdf_bytes,
        png_bytes,
    )

    found: dict[str, bytes] = {}
    if "png" in formats:
        for index, page in enumerate(pages):
            found[page_name(stem, index, "png")] = png_bytes(page)
    if "pdf" in formats:
        found[f"{stem}.pdf"] = pdf_bytes(pages)
    return found

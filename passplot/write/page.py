"""A page for the screen: the same drawings, a slider by pass, the tables; nothing from outside."""

from collections.abc import Sequence
from html import escape
from pathlib import Path

from passplot.records.sheet import Page, Sheet, Table

DATA = Path(__file__).parents[1] / "data"


def page_text(sheet: Sheet, drawings: Sequence[str]) -> str:
    """The sheets and tables of a job as one self-contained HTML page.

    ``drawings`` are the pages of ``sheet`` as ``svg`` elements.
    """
    title = escape(sheet.pages[0].title if sheet.pages else sheet.stem)
    style = (DATA / "page_css.txt").read_text(encoding="utf-8")
    script = (DATA / "page_js.txt").read_text(encoding="utf-8")
    last = max((number for page in sheet.pages for number in page.passes), default=0)
    sections = "\n".join(
        _section(page, index + 1, drawings[index]) for index, page in enumerate(sheet.pages)
    )
    tables = "\n".join(_table(table) for table in sheet.tables)
    return f"""<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<title>{title}</title>
<style>
{_paper(sheet)}{style}</style>
</head>
<body>
{_controls(last)}
<main>
{sections}
</main>
{tables}
<script>
{script}</script>
</body>
</html>
"""


def _paper(sheet: Sheet) -> str:
    """The paper the page prints on: that of the sheets, so that letters keep their height."""
    if not sheet.pages:
        return ""
    first = sheet.pages[0]
    return f"@page {{ size: {first.width:g}mm {first.height:g}mm; margin: 0; }}\n"


def _controls(last: int) -> str:
    """Buttons and a slider that step through the passes."""
    if not last:
        return ""
    return f"""<nav aria-label="Passes">
<button type="button" id="previous">Previous pass</button>
<input type="range" id="slider" min="0" max="{last}" value="0" aria-label="Pass">
<button type="button" id="next">Next pass</button>
<output id="shown" for="slider">All passes</output>
</nav>"""


def _section(page: Page, number: int, drawing: str) -> str:
    """One sheet of paper."""
    passes = " ".join(str(each) for each in page.passes)
    return (
        f'<section class="sheet" data-passes="{passes}" id="sheet-{number}">\n{drawing}\n</section>'
    )


def _table(table: Table) -> str:
    """A table, folded away until it is wanted."""
    head = "".join(f"<th>{escape(name.replace('_', ' '))}</th>" for name in table.columns)
    at = table.columns.index("pass") if "pass" in table.columns else None
    rows = "\n".join(_row(cells, at) for cells in table.rows)
    name = escape(table.name.capitalize())
    return f"""<details>
<summary>{name}: {len(table.rows)} rows</summary>
<table>
<thead><tr>{head}</tr></thead>
<tbody>
{rows}
</tbody>
</table>
</details>"""


def _row(cells: tuple[str, ...], at: int | None) -> str:
    number = cells[at] if at is not None else ""
    mark = f' data-pass="{escape(number)}"' if number else ""
    return f"<tr{mark}>" + "".join(f"<td>{escape(cell)}</td>" for cell in cells) + "</tr>"

"""Ratios of run time, all measured in one run: ``python -m tests.benchmark``.

The two-shoulder example drawn as SVG and CSV against a process that only imports the same
libraries; all formats against one that also imports matplotlib and saves as many empty A4 pictures
and a PDF; the proof's seconds for its rows. Cold processes, the median of several.
"""

import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

EXAMPLE = Path(__file__).parents[2] / "shop_examples" / "tongue-block.toml"
RUNS = 7

IMPORTS = "import shapely, numpy, svgwrite, click"
PICTURES = """
import shapely, numpy, svgwrite, click, io
from matplotlib.figure import Figure
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.backends.backend_pdf import PdfPages, FigureCanvasPdf
pages = [Figure(figsize=(11.69, 8.27)) for _ in range({count})]
for page in pages:
    FigureCanvasAgg(page).print_png(io.BytesIO())
with PdfPages(io.BytesIO()) as pdf:
    for page in pages:
        FigureCanvasPdf(page)
        pdf.savefig(page)
"""
RUN = """
import sys
from passplot.command.main import program
sys.argv = ["passplot", "sheet", {job!r}, "--out", {out!r}, "--formats", {formats!r}]
program()
"""
PROOF = """
import time
from pathlib import Path
from passplot.flow import plan_job
from passplot.proof import prove
from passplot.read import read_job
from passplot.sheet.tables import moves_table
from passplot.write.tables import csv_text
plan = plan_job(read_job(Path({job!r})))
text = csv_text(moves_table(plan))
start = time.perf_counter()
proof = prove(plan, text)
print(time.perf_counter() - start, proof.rows)
"""


def seconds(code: str) -> float:
    """Median of the wall time of cold processes."""
    times = []
    for _ in range(RUNS):
        start = time.perf_counter()
        subprocess.run([sys.executable, "-c", code], check=True, capture_output=True)
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def main() -> None:
    """Measure and print."""
    with tempfile.TemporaryDirectory() as out:

        def drawn(*formats: str) -> float:
            return seconds(RUN.format(job=str(EXAMPLE), out=out, formats=",".join(formats)))

        least, lines = seconds(IMPORTS), drawn("svg", "csv")
        print(f"imports only {least:.3f} s; SVG and CSV {lines:.3f} s: {lines / least:.2f} times")
        everything = drawn("svg", "png", "pdf", "html", "csv", "json")
        count = len(list(Path(out).glob("*.png")))
        empty = seconds(PICTURES.format(count=count))
        print(
            f"{count} empty pictures and a PDF {empty:.3f} s; all formats {everything:.3f} s: "
            f"{everything / empty:.2f} times"
        )
    for job in sorted(EXAMPLE.parent.glob("*.toml")):
        if "[[feature]]" not in job.read_text("utf-8"):
            continue
        done = subprocess.run(
            [sys.executable, "-c", PROOF.format(job=str(job))],
            check=True,
            capture_output=True,
            text=True,
        )
        taken, rows = done.stdout.split()
        print(
            f"proof of {job.stem}: {float(taken):.2f} s for {rows} rows, "
            f"{100 * float(taken) / int(rows):.2f} s per 100"
        )


if __name__ == "__main__":
    main()

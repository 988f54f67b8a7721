"""The gallery: every shop example drawn, and a check that what is committed is what comes out.

``python -m gallery build`` draws it again; ``python -m gallery check`` compares.
"""

import math
import shutil
import sys
import tempfile
import tomllib
from pathlib import Path

from PIL import Image, ImageChops, ImageStat

from passplot.flow import run

HERE = Path(__file__).parent
EXAMPLES = HERE.parent / "shop_examples"
DIFFERENCES = HERE.parent / "out" / "gallery"
KEPT = (".svg", ".csv", ".json")
CONTACT_SHEET = "contact-sheet.png"
THUMB = (460, 330)
COLUMNS = 5
GREYS = 8
MEAN_GREY_LEVELS_APART = 2.0
"""How far the contact sheet may differ in the mean; fonts are drawn a little differently."""


def jobs() -> list[Path]:
    """Every job file of the examples (shop files have no features)."""
    found = sorted(EXAMPLES.glob("*.toml"))
    return [path for path in found if "feature" in tomllib.loads(path.read_text("utf-8"))]


def draw(into: Path) -> None:
    """Draw the whole gallery into a folder."""
    pictures: list[Path] = []
    lines = [
        "# Gallery",
        "",
        "Drawn from `shop_examples` by `python -m gallery build`; nothing here is written by hand.",
        "",
        f"![All sheets]({CONTACT_SHEET})",
    ]
    with tempfile.TemporaryDirectory() as room:
        for job in jobs():
            outcome = run(job, Path(room), formats={"svg", "png", "csv", "json"})
            folder = into / job.stem
            folder.mkdir(parents=True)
            lines += ["", f"## {outcome.plan.job.title}", ""]
            lines += [f"[Job file](../shop_examples/{job.name})", ""]
            for path in outcome.files:
                if path.suffix in KEPT:
                    shutil.copy(path, folder / path.name)
                if path.suffix == ".svg":
                    lines.append(f"![{path.stem}]({job.stem}/{path.name})")
                if path.suffix == ".png":
                    pictures.append(path)
        contact_sheet(pictures).quantize(GREYS).save(into / CONTACT_SHEET, optimize=True)
    (into / "README.md").write_text("\n".join(lines) + "\n", encoding="utf-8")


def contact_sheet(pictures: list[Path]) -> Image.Image:
    """All sheets small on one picture, in grey."""
    rows = math.ceil(len(pictures) / COLUMNS)
    whole = Image.new("L", (COLUMNS * THUMB[0], rows * THUMB[1]), 255)
    for number, path in enumerate(pictures):
        with Image.open(path) as picture:
            small = picture.convert("L")
            small.thumbnail((THUMB[0] - 10, THUMB[1] - 10), Image.Resampling.LANCZOS)
        left, top = number % COLUMNS * THUMB[0], number // COLUMNS * THUMB[1]
        whole.paste(small, (left + 5, top + 5))
    return whole


def build() -> int:
    """Draw the gallery in place of the old one."""
    for old in HERE.iterdir():
        if old.is_dir() and old.name != "__pycache__":
            shutil.rmtree(old)
    draw(HERE)
    return 0


def check() -> int:
    """Compare a fresh gallery with the committed one; leave what differs side by side."""
    with tempfile.TemporaryDirectory() as room:
        fresh = Path(room)
        draw(fresh)
        new = {path.relative_to(fresh) for path in fresh.rglob("*") if path.is_file()}
        ours = {
            path.relative_to(HERE)
            for path in HERE.rglob("*")
            if path.is_file() and path.suffix not in (".py", ".pyc")
        }
        apart = [
            name
            for name in sorted(new | ours)
            if name not in new or name not in ours or not same(fresh / name, HERE / name)
        ]
        for name in apart:
            print(f"differs: {name}")
            for label, folder in (("new", fresh), ("old", HERE)):
                if (folder / name).exists():
                    there = DIFFERENCES / f"{name.with_suffix('')}-{label}{name.suffix}"
                    there.parent.mkdir(parents=True, exist_ok=True)
                    shutil.copy(folder / name, there)
    return 1 if apart else 0


def same(one: Path, other: Path) -> bool:
    """Whether two files of the gallery agree: text as text, pictures within a tolerance."""
    if one.suffix != ".png":
        return one.read_text("utf-8") == other.read_text("utf-8")
    with Image.open(one) as a, Image.open(other) as b:
        if a.size != b.size:
            return False
        difference = ImageChops.difference(a.convert("L"), b.convert("L"))
        return ImageStat.Stat(difference).mean[0] <= MEAN_GREY_LEVELS_APART


def main() -> int:
    """Run one of the two commands."""
    commands = {"build": build, "check": check}
    if len(sys.argv) != 2 or sys.argv[1] not in commands:
        print("usage: python -m gallery build|check")
        return 2
    return commands[sys.argv[1]]()


if __name__ == "__main__":
    raise SystemExit(main())

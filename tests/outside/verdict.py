"""What the measures of a replay must be for a plan to pass."""

from itertools import pairwise

from .block import flank_slack
from .measures import Measures
from .printed import Cavity, PrintedJob

MOVES = {"position", "plunge", "cut", "return", "retract"}


def faults(job: PrintedJob, found: Measures) -> list[str]:
    """Everything a replay holds against a plan, one text each; empty for a good plan."""
    report = []
    if found.gouged or found.gouge > job.resolution / 2 + 1e-6:
        report.append(
            f"gouge {found.gouge:.5f}, {found.gouged} samples, rows {found.gouge_rows[:5]}"
        )
    if found.left:
        report.append(f"{found.left} samples left at {found.left_at}, {found.left_height:.4f} high")
    report += direction_faults(found)
    for name in ("touched", "clamped", "slanted", "low_starts"):
        if rows := getattr(found, name):
            report.append(f"{name}: rows {rows[:8]}")
    if found.rubs:
        report.append(f"return rows rub: {[(r, round(c, 4)) for r, c in found.rubs[:8]]}")
    report += both_ways_faults(found) + engagement_faults(job, found)
    return report + thin_faults(job, found) + limit_faults(job, found)


def direction_faults(found: Measures) -> list[str]:
    """Rows with metal on the wrong side only.

    Where a both-ways length ends, its two sides end within the flank's slack of each other.
    """
    return [
        f"row {cut.row.number}: metal on the wrong side over {cut.wrong:.4f}"
        for cut in found.cuts
        if cut.wrong
        > 2 * found.cell + (flank_slack(cut.radius, found.cell) * cut.runs if cut.both else 0.0)
    ]


def both_ways_faults(found: Measures) -> list[str]:
    """Rows whose printed both-ways length is not the one found."""
    report = []
    for cut in found.cuts:
        slack = max(1, cut.runs) * flank_slack(cut.radius, found.cell)
        low, high = cut.both_range
        if not low - slack <= cut.row.both_ways <= high + slack:
            report.append(
                f"row {cut.row.number}: both ways printed {cut.row.both_ways:.4f}, "
                f"found {cut.both:.4f}"
            )
    return report


def engagement_faults(job: PrintedJob, found: Measures) -> list[str]:
    """Rows that cut wider or deeper than the table says."""
    report = []
    for cut in found.cuts:
        width = float(cut.row.line["width_of_cut"] or 0)
        depth = float(cut.row.line["depth_of_cut"] or 0)
        if cut.wanted > 2 * found.cell and cut.width > width + 2 * found.cell:
            report.append(f"row {cut.row.number}: {cut.width:.4f} wide, printed {width:.4f}")
        if cut.depth > depth + job.resolution:
            report.append(f"row {cut.row.number}: {cut.depth:.4f} deep, printed {depth:.4f}")
    return report


def thin_faults(job: PrintedJob, found: Measures) -> list[str]:
    """Rough rows too thin to cut: they only rub. A short one may close a ring."""
    least = job.length(0.003, 0.08)
    return [
        f"row {cut.row.number}: a rough pass {float(cut.row.line['width_of_cut'])} wide rubs"
        for cut in found.cuts
        if cut.row.stage == "rough"
        and not cut.row.both_ways
        and cut.length > 2 * cut.radius
        and 0 < float(cut.row.line["width_of_cut"] or 0) < least
    ]


def uneven_faults(job: PrintedJob, table: list[dict[str, str]]) -> list[str]:
    """Passes towards a wall that are thinner than three quarters of the others there.

    Looked for where nothing was cut before and all passes come from a free side: on the shoulder
    roughed first, or the boss if it is cleared to all edges of the stock. Short passes
    beside a corner do not count, nor those that bite into one.
    """
    first = next((line["feature"] for line in table if line["stage"] == "rough"), "")
    free = {cavity.name for cavity in job.cavities if _free_sided(job, cavity)}
    if first not in free or job.clamps:
        return []
    sides: dict[tuple[str, ...], list[tuple[float, float, str]]] = {}
    for before, line in pairwise(table):
        if line["move"] == "cut" and (line["feature"], line["stage"]) != (first, "rough"):
            break
        if line["move"] != "cut":
            continue
        axis = line["axis"].lower()
        way = float(line[axis]) - float(before[axis])
        if not float(line["both_ways"]):
            side = (line["cutter"], line["z"], axis, "+" if way > 0 else "-")
            one = (abs(way), float(line["width_of_cut"] or 0), line["row"])
            sides.setdefault(side, []).append(one)
    report = []
    for passes in sides.values():
        longest = max(length for length, _, _ in passes)
        widest = max(width for _, width, _ in passes)
        report += [
            f"row {row}: {width:.4f} wide beside passes of {widest:.4f}"
            for length, width, row in passes
            if length > 0.6 * longest and 0 < width < 0.75 * widest - 2 * job.resolution
        ]
    return report


def _free_sided(job: PrintedJob, cavity: Cavity) -> bool:
    """Whether a feature is a shoulder, or the one boss with all of the stock round it cleared."""
    if cavity.kind != "boss":
        return cavity.kind == "step"
    xs = [x for polygon in cavity.area for x, _ in polygon]
    ys = [y for polygon in cavity.area for _, y in polygon]
    whole = min(xs) <= job.x[0] and max(xs) >= job.x[1] and min(ys) <= job.y[0]
    return whole and max(ys) >= job.y[1] and len(cavity.keep) == 1


def limit_faults(job: PrintedJob, found: Measures) -> list[str]:
    """Rough rows that cut wider or deeper than the file's own limits; slots are exempt."""
    report = []
    exempt = {cavity.name for cavity in job.cavities if cavity.kind == "slot"}
    for cut in found.cuts:
        if cut.row.stage != "rough" or cut.row.feature in exempt:
            continue
        width, depth = (job.limits.get(key) for key in ("width_of_cut", "depth_of_cut"))
        if width and cut.wanted > 2 * found.cell and cut.width > width + 2 * found.cell:
            report.append(f"row {cut.row.number}: {cut.width:.4f} wide, limit {width:.4f}")
        if depth and cut.depth > depth + job.resolution:
            report.append(f"row {cut.row.number}: {cut.depth:.4f} deep, limit {depth:.4f}")
    return report


def form_faults(job: PrintedJob, table: list[dict[str, str]]) -> list[str]:
    """Breaches of the table's own form: numbering, names, feeds, order of roughing."""
    report = []
    if [line["row"] for line in table] != [str(n) for n in range(1, len(table) + 1)]:
        report.append("rows are not numbered 1, 2, 3, …")
    names = {cavity.name for cavity in job.cavities}
    finishing: set[str] = set()
    for line in table:
        where = f"row {line['row']}"
        if line["move"] not in MOVES or line["feature"] not in names | {""}:
            report.append(f"{where}: move {line['move']!r}, feature {line['feature']!r}")
        if bool(line["feed"]) != (line["move"] in {"cut", "plunge"}):
            report.append(f"{where}: feed {line['feed']!r} in a {line['move']} row")
        if line["move"] == "cut" and line["axis"] not in {"X", "Y", "C"}:
            report.append(f"{where}: a cut along {line['axis']!r}")
        if line["stage"] == "finish":
            finishing.add(line["cutter"])
        elif line["stage"] == "rough" and line["cutter"] in finishing:
            report.append(f"{where}: roughs after cutter {line['cutter']} has begun to finish")
        report += _off_steps(job, line, where)
    return report


def _off_steps(job: PrintedJob, line: dict[str, str], where: str) -> list[str]:
    steps = [float(line[axis]) / job.resolution for axis in "xyz"]
    return [
        f"{where}: {axis} {line[axis]} is not a whole step of the readout"
        for axis, step in zip("xyz", steps, strict=True)
        if abs(step - round(step)) > 1e-3
    ]

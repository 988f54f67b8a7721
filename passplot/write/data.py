"""The plan as JSON for other programs: the same rows, the same numbers, and the proof."""

import json

from passplot.records.plan import CutterUse, Plan
from passplot.records.proof import Proof, Spread
from passplot.records.set_over import SetOver
from passplot.records.sheet import Sheet, Table

Value = str | int | float | bool | None | list["Value"] | dict[str, "Value"]

_WHOLE = ("row", "pass", "point", "turns")
_WORDS = (
    *("setup", "feature", "cutter", "stage", "move", "axis", "crank", "c"),
    "first_axis",
)
_PASS_WORDS = (
    *("feature", "cutter", "stage", "purpose", "set", "feed", "until_clear", "level", "crank"),
)
_POINT = ("point", "x", "y", "first_axis", "scallop")


def plan_text(plan: Plan, proof: Proof, sheet: Sheet) -> str:
    """The plan, its printed moves and its proof as a JSON document.

    Numbers of moves are those of the moves table, read back from its cells; an empty cell is
    ``null``.
    """
    job = plan.job
    document: dict[str, Value] = {
        "schema": 1,
        "units": job.units,
        "title": job.title,
        "part_number": job.part_number,
        "stock": _stock(plan),
        "cutters": [_cutter(use) for use in plan.cutters],
        "moves": _moves(sheet),
        "passes": _passes(sheet),
        "times": [
            {"pass": each.number, "cutting_s": each.cutting, "handling_s": each.handling}
            for each in plan.times
        ],
        "rotary": _rotary(plan),
        "proof": _proof(plan, proof),
        "notes": list(plan.notes),
        **_approach(plan),
    }
    if plan.over:
        document["set_over"] = [_over(each) for each in plan.over]
    return json.dumps(document, ensure_ascii=False, indent=1) + "\n"


def _approach(plan: Plan) -> dict[str, Value]:
    """The side that every position which matters is reached from, on dials only."""
    if plan.approach is None:
        return {}
    signs = zip("xyz", plan.approach, strict=True)
    return {"approach": {axis: "+" if sign > 0 else "-" for axis, sign in signs}}


def _over(over: SetOver) -> Value:
    """A turned setting: its rows are in a system turned with the work about X0 Y0."""
    return {
        "setup": over.setup,
        "angle": over.angle,
        "origin": [0.0, 0.0],
        "features": list(over.features),
        "stock": [[at.x, at.y] for at in over.plan.job.stock.outline],
        "sine_bar": over.bar,
        "stack": over.stack,
        "walls": [{"feature": w.feature, "axis": w.axis, "at": w.at} for w in over.walls],
        "settings": over.settings,
        "settings_stepped": over.stepping,
    }


def _stock(plan: Plan) -> dict[str, Value]:
    stock = plan.job.stock
    return {
        "size": [size.middle for size in stock.size],
        "material": stock.material,
        "zero": stock.zero,
        "x": list(stock.x),
        "y": list(stock.y),
        "z": [stock.bottom, stock.raw_top],
        "top": stock.top,
    }


def _cutter(use: CutterUse) -> dict[str, Value]:
    cutter = use.cutter
    return {
        "id": cutter.id,
        "form": cutter.form,
        "material": cutter.material,
        "diameter": cutter.cutting_diameter,
        "nominal_diameter": cutter.diameter,
        "flutes": cutter.flutes,
        "spindle_speed": use.speed_rpm,
        "feed": use.feed,
        "wall": use.wall,
        "floor": use.floor,
        "sources": list(use.sources),
    }


def _moves(sheet: Sheet) -> list[Value]:
    table = next(table for table in sheet.tables if table.name == "moves")
    return [_move(table, cells) for cells in table.rows]


def _move(table: Table, cells: tuple[str, ...]) -> Value:
    return {name: _value(name, cell) for name, cell in zip(table.columns, cells, strict=True)}


def _passes(sheet: Sheet) -> list[Value]:
    """The passes as the sheet lists them; stepped walls with their settings."""
    table = next(table for table in sheet.tables if table.name == "passes")
    points = next((each for each in sheet.tables if each.name == "points"), None)
    steps: dict[str, list[Value]] = {}
    if points is not None:
        number = points.columns.index("pass")
        for cells in points.rows:
            row = zip(points.columns, cells, strict=True)
            shown = {name: _value(name, cell) for name, cell in row if name in _POINT}
            steps.setdefault(cells[number], []).append(shown)
    found: list[Value] = []
    for cells in table.rows:
        each = {
            name: (cell or None) if name in _PASS_WORDS else _value(name, cell)
            for name, cell in zip(table.columns, cells, strict=True)
        }
        if cells[0] in steps:
            each["points"] = steps[cells[0]]
        found.append(each)
    return found


def _value(name: str, cell: str) -> Value:
    if name in _WORDS:
        return cell or None
    if not cell:
        return None
    return int(cell) if name in _WHOLE else float(cell)


def _rotary(plan: Plan) -> list[Value]:
    """Every cut on a rotary table.

    ``angle`` is that of the cutter about the centre, degrees counter-clockwise from +X seen from
    above; ``table`` is which way the table turns; ``settings_saved`` how many settings of a
    handwheel stepping would take.
    """
    return [
        {
            "pass": each.number,
            "feature": each.feature,
            "center": [each.turn.center.x, each.turn.center.y],
            "center_reading": [each.turn.reading.x, each.turn.reading.y],
            "radius_setting": each.turn.radius,
            "set_x": each.turn.setting.x,
            "set_y": each.turn.setting.y,
            "angle": [each.turn.start, each.turn.end],
            "table": "clockwise" if each.turn.swing > 0 else "counter-clockwise",
            "settings_saved": each.turn.settings,
        }
        for each in plan.passes
        if each.turn is not None
    ]


def _proof(plan: Plan, proof: Proof) -> dict[str, Value]:
    return {
        "findings": [str(finding) for finding in proof.findings],
        "gouge": proof.gouge,
        "left_uncut": proof.left_uncut,
        "unreached_area": plan.unreached_area,
        "finish_stock": {"wall": _spread(proof.wall_stock), "floor": _spread(proof.floor_stock)},
        "conventional_share": proof.conventional_share,
        "both_ways_length": proof.both_ways_length,
        "climb_length": proof.climb_length,
        "cutting_length": proof.cutting_length,
        "lower_bound": plan.lower_bound,
        "max_width_of_cut": proof.max_width_of_cut,
        "max_depth_of_cut": proof.max_depth_of_cut,
        "cell": proof.cell,
        "rows": proof.rows,
    }


def _spread(spread: Spread) -> Value:
    return {"min": spread.low, "max": spread.high}

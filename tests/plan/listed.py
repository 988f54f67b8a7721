"""Small jobs that list several cutters, and a shop with every form of them."""

from passplot.flow import plan_job
from passplot.proof import prove
from passplot.read import parse_job
from passplot.records.plan import Plan
from passplot.records.proof import Proof
from passplot.sheet.tables import moves_table
from passplot.write.tables import csv_text

_MACHINE = """
units = "inch"
[machine]
name = "Training mill"
spindle_range = [80, 3000]
power = "2 hp"
travel = [28, 12, 16]
readout = "dro"
resolution = 0.0005
"""

_CUTTER = """
[[cutter]]
id = "{id}"
form = "{form}"
material = "carbide"
diameter = {diameter}
flutes = 4
flute_length = {flutes}
center_cutting = {center}
{more}
"""

_CRIB = (
    ("large", "square end", 0.5, 1.25, "true", ""),
    ("small", "square end", 0.25, 0.75, "true", ""),
    ("ribbed", "roughing", 0.625, 1.25, "false", ""),
    ("face", "face mill", 2.0, 0.3, "false", ""),
    ("rounded", "corner radius", 0.5, 1.25, "true", "corner_radius = 0.06"),
    ("finer", "corner radius", 0.25, 0.75, "true", "corner_radius = 0.03"),
)

_DIAL = """
[machine.dial.{axis}]
per_turn = {lead}
graduation = 0.001
backlash = 0.006
clockwise = "{way}"
"""

_CUTTERS = "".join(
    _CUTTER.format(id=name, form=form, diameter=size, flutes=long, center=center, more=more)
    for name, form, size, long, center, more in _CRIB
)
_WAYS = (("x", 0.2, "table left"), ("y", 0.2, "table in"), ("z", 0.1, "knee up"))

SHOP = _MACHINE + _CUTTERS
BY_DIALS = (
    _MACHINE.replace("dro", "dials")
    + "".join(_DIAL.format(axis=axis, lead=lead, way=way) for axis, lead, way in _WAYS)
    + _CUTTERS
)

STEP = '[[feature]]\nname = "step"\nkind = "step"\nside = "left"\nwidth = 0.75\ndepth = 0.375\n'
FACE = '[[feature]]\nname = "top"\nkind = "face"\ndepth = 0.05\n'
POCKET = (
    '[[feature]]\nname = "pocket"\nkind = "pocket"\nx = [-0.1, 1.5]\ny = [0.5, 1.5]\ndepth = 0.3\n'
)


def slot(width: float) -> str:
    """A slot right through from front to back."""
    return (
        f'[[feature]]\nname = "slot"\nkind = "slot"\nalong = "y"\ncenter = 2.0\nwidth = {width}\n'
        "depth = 0.25\n"
    )


def planned(cutters: list[str], *features: str, finish: str = "", shop: str = SHOP) -> Plan:
    """The plan of a job on a block of 3 by 2 by 1 in."""
    text = (
        f'units = "inch"\nshop = "shop.toml"\ncutter = {cutters}\n[stock]\nsize = [3.0, 2.0, 1.0]\n'
        f'material = "1018"\n[finish]\n{finish}\n{"".join(features)}'
    )
    return plan_job(parse_job(text, shop))


def proof_of(plan: Plan) -> Proof:
    """Its proof."""
    return prove(plan, csv_text(moves_table(plan)))

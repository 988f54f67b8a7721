"""The ``[[cutter]]`` tables of a shop file."""

from passplot.read.sizes import Least
from passplot.read.tables import Table
from passplot.records.shop import Cutter, Machine

FORMS = ("square end", "ball", "corner radius", "roughing", "face mill", "drill")
MATERIALS = ("carbide", "high-speed steel", "cobalt")
# Other ways of writing them, without hyphens.
_ALSO = {
    "hss": "high-speed steel",
    "high speed steel": "high-speed steel",
    "m2": "high-speed steel",
    "solid carbide": "carbide",
    "tungsten carbide": "carbide",
    "coated carbide": "carbide",
    "cobalt high speed steel": "cobalt",
    "cobalt steel": "cobalt",
    "hss cobalt": "cobalt",
    "m42": "cobalt",
}
_KEYS = (
    "id",
    "form",
    "material",
    "hand",
    "diameter",
    "actual",
    "flutes",
    "flute_length",
    "stickout",
    "center_cutting",
    "corner_radius",
    "price",
)


def read_cutters(top: Table, machine: Machine | None) -> tuple[Cutter, ...]:
    """The crib. A cutter whose hand does not suit the spindle's rotation is a fault."""
    tables = top.tables("cutter")
    if not tables and "cutter" not in top:
        top.missing("cutter", "write [[cutter]] for each cutter of the crib")
    cutters: dict[str, Cutter] = {}
    for table in tables:
        cutter = _cutter(table)
        if cutter is None:
            continue
        if cutter.id in cutters:
            table.fault("id", f'"{cutter.id}" is used twice', "give every cutter its own id")
        cutters[cutter.id] = cutter
        if machine is not None:
            _check_hand(table, cutter, machine)
    return tuple(cutters.values())


def _cutter(table: Table) -> Cutter | None:
    table.check_keys(_KEYS)
    name = table.text("id", "give the cutter an id in quotes")
    form = table.word("form", FORMS, "square end") or "square end"
    material = _material(table)
    hand = table.word("hand", ("right", "left"), "right") or "right"
    diameter = table.length("diameter", required=True)
    actual = table.length("actual")
    drill = form == "drill"  # its flutes limit nothing here: two, however long, will do
    flutes = table.whole("flutes", 1, 40, 2 if drill else None)
    flute_length = table.length("flute_length", required=not drill)
    stickout = table.length("stickout")
    center_cutting = table.flag("center_cutting")
    radius = _corner_radius(table, form, actual or diameter)
    price = table.number("price", "a number above zero") if table.values.get("price") != 0 else 0.0
    if name is None or material is None or diameter is None or flutes is None:
        return None
    if flute_length is None and not drill:
        return None
    return Cutter(
        id=name,
        form=form,
        material=material,
        hand=hand,
        diameter=diameter,
        actual=actual,
        flutes=flutes,
        flute_length=flute_length or 0.0,
        stickout=stickout,
        center_cutting=center_cutting,
        corner_radius=radius,
        price=price,
    )


def _material(table: Table) -> str | None:
    """What the cutter is made of, by its full name."""
    value = table.values.get("material")
    said = value.casefold().replace("-", " ").split() if isinstance(value, str) else []
    return _ALSO.get(" ".join(said)) or table.word("material", MATERIALS)


def _corner_radius(table: Table, form: str, diameter: float | None) -> float:
    """Radius of the cutting corners: half the diameter for a ball."""
    radius = table.length("corner_radius", Least.ZERO)
    if diameter is None:
        return 0.0
    if form == "ball":
        return diameter / 2
    if form == "corner radius" and not radius:
        table.fault("corner_radius", "is missing", "give the radius of the cutter's corners")
        return 0.0
    if radius is not None and radius > diameter / 2:
        table.fault(
            "corner_radius",
            f"{radius:.6g} is more than half the diameter",
            f"it is {diameter / 2:.6g} at most",
        )
    return radius or 0.0


def _check_hand(table: Table, cutter: Cutter, machine: Machine) -> None:
    suited = "right" if machine.clockwise else "left"
    if cutter.hand != suited:
        rotation = "clockwise" if machine.clockwise else "counter-clockwise"
        table.fault(
            "hand",
            f'"{cutter.id}" is a {cutter.hand}-hand cutter and the spindle turns {rotation}',
            f"that spindle takes {suited}-hand cutters",
        )

"""The ``[[feature]]`` tables: what each clears, what it leaves, and the walls it has."""

from collections.abc import Callable
from dataclasses import replace

from passplot.frozen import dataclass
from passplot.read.block import SAME, Block
from passplot.read.form import Form
from passplot.read.holes import read_holes
from passplot.read.keyseat import read_keyseat
from passplot.read.kinds import (
    read_bore,
    read_boss,
    read_face,
    read_outline,
    read_pocket,
    read_step,
)
from passplot.read.marks import Place
from passplot.read.outline import open_edge, wall_limits, wall_names
from passplot.read.shapes import SHAPE_KEYS
from passplot.read.sizes import Unreadable, read_size
from passplot.read.slots import read_slot
from passplot.read.source import did_you_mean
from passplot.read.tables import Table
from passplot.records.job import Feature
from passplot.records.shapes import Arc, Line
from passplot.records.shop import Cutter
from passplot.records.sizes import Size, exact


@dataclass(frozen=True, slots=True)
class Names:
    """Names that features may use.

    ``cutters`` is None while the crib is unknown. ``setups`` has the block as it lies in each.
    """

    cutters: dict[str, Cutter] | None
    setups: dict[str, Block]


@dataclass(frozen=True, slots=True)
class Draft:
    """A feature with what else the file says about it.

    ``surfaces`` is what callouts may name: from the name to nominal coordinates by axis.
    """

    feature: Feature
    form: Form
    table: Table
    surfaces: dict[str, Place]


@dataclass(frozen=True, slots=True)
class _Kind:
    """A kind of feature: what reads its own keys, which those are, whether it needs a depth."""

    read: Callable[[Table, Block], Form | None]
    keys: tuple[str, ...]
    needs_depth: bool = True


_KEYSEAT = ("along", "center", "start", "end", "shaft", "standard", "width")
_KINDS = {
    "step": _Kind(read_step, ("side", "width")),
    "slot": _Kind(read_slot, ("along", "center", "width", "start", "end")),
    "pocket": _Kind(read_pocket, ("x", "y", "corner_radius", "islands")),
    "boss": _Kind(read_boss, (*SHAPE_KEYS, "shape", "within")),
    "outline": _Kind(read_outline, ("points", "clear")),
    "face": _Kind(read_face, ()),
    "bore": _Kind(read_bore, ("center", "diameter")),
    "keyseat": _Kind(read_keyseat, _KEYSEAT, False),
    "holes": _Kind(read_holes, ("circle", "row", "grid"), False),
}
_COMMON = ("name", "kind", "depth", "cutter", "setup", "set_over", "rotary")
_ALL_KEYS = tuple(dict.fromkeys(key for kind in _KINDS.values() for key in kind.keys))


def read_features(tables: list[Table], names: Names) -> tuple[Draft, ...]:
    """Every feature without a fault of its own, the face first, else in the file's order."""
    drafts = [draft for table in tables if (draft := _draft(table, names)) is not None]
    _check_names(tables)
    faces = [draft for draft in drafts if draft.feature.kind == "face"]
    for number, draft in enumerate(faces):
        if draft.feature.setup in [other.feature.setup for other in faces[:number]]:
            draft.table.fault("kind", "a second face", "the whole top is faced once")
    drafts = faces + [draft for draft in drafts if draft.feature.kind != "face"]
    return tuple(_beside_other_bosses(draft, drafts) for draft in drafts)


def face_height(tables: list[Table]) -> float:
    """How far the raw top stands above the faced one: the depth of the face, if there is one."""
    for table in tables:
        kind = str(table.values.get("kind")).strip().casefold()
        if kind == "face" and "depth" in table:
            try:
                return read_size(table.values["depth"], table.units).middle
            except Unreadable:  # noted when the feature is read
                return 0.0
    return 0.0


def read_cutter_names(
    table: Table, cutters: dict[str, Cutter] | None, *, drills: bool = False
) -> tuple[str, ...]:
    """The ids of ``cutter``, one or a list; empty if left out. Only holes may name ``drills``."""
    value = table.values.get("cutter")
    right = "give a cutter id of the shop file, or a list of them"
    if value is None:
        return ()
    listed = value if isinstance(value, list) else [value]
    if not listed:
        table.fault("cutter", "an empty list", right)
    found: list[str] = []
    for index, entry in enumerate(listed):
        place = (*table.place, "cutter", *([index] if isinstance(value, list) else []))
        if not isinstance(entry, str):
            table.source.fault(place, "not a cutter id", right)
        elif cutters is not None and entry not in cutters:
            table.source.fault(
                place, f'"{entry}" is not in the shop file', did_you_mean(entry, cutters)
            )
        elif cutters is not None and cutters[entry].form == "drill" and not drills:
            table.source.fault(place, f'"{entry}" is a drill', "name an end mill or a face mill")
        elif entry in found:
            table.source.fault(place, f'"{entry}" is named twice', "name each cutter once")
        else:
            found.append(entry)
    return tuple(found)


def _draft(table: Table, names: Names) -> Draft | None:
    said = str(table.values.get("kind")).strip().casefold()
    table.check_keys((*_COMMON, *(_KINDS[said].keys if said in _KINDS else _ALL_KEYS)))
    name = table.text("name", "give the feature a name")
    kind = table.word("kind", tuple(_KINDS))
    setup = _setup(table, names)
    cutters = read_cutter_names(table, names.cutters, drills=kind == "holes")
    if kind is None:
        return None
    block = names.setups[setup]
    depth = _depth(table, kind, block)
    form = _KINDS[kind].read(table, block)
    set_over, rotary = table.flag("set_over"), table.flag("rotary")
    if name is None or depth is None or form is None:
        return None
    feature = replace(
        _feature(name, kind, form.depth or depth, form, block),
        cutters=cutters,
        setup=setup,
        line=table.line,
        set_over=set_over,
        rotary=rotary,
    )
    _check_ways(table, feature, block)
    return Draft(feature, form, table, _surfaces(feature, form, block))


def _check_ways(table: Table, feature: Feature, block: Block) -> None:
    """Note a way of working asked for that no wall of the feature is made by."""
    loops = [*feature.area, *feature.keep]
    loops += [loop for part in feature.rounded or () for loop in part]
    edges = [edge for loop in loops for edge in loop.edges]
    slanted = any(
        isinstance(edge, Line) and not edge.level and not open_edge(edge, block) for edge in edges
    )
    if feature.set_over and not slanted:
        table.fault("set_over", "no straight wall is slanted", "leave set_over out")
    if feature.rotary and not any(isinstance(edge, Arc) for edge in edges):
        table.fault("rotary", "no wall is an arc or a circle", "leave rotary out")


def _setup(table: Table, names: Names) -> str:
    """The setup of the feature: the first one where it names none."""
    setup = table.text("setup")
    if setup in names.setups:
        return setup
    if setup is not None:
        table.fault("setup", f'there is no setup "{setup}"', did_you_mean(setup, names.setups))
    return next(iter(names.setups))


def _depth(table: Table, kind: str, block: Block) -> Size | None:
    """The depth, no more than the stock has; zero where a kind may leave it out."""
    needed = _KINDS[kind].needs_depth
    depth = table.size("depth", required=needed)
    if depth is None:
        return None if needed else exact(0.0)
    if kind != "face" and depth.nominal > block.height + SAME:
        table.fault(
            "depth",
            f"{depth.text} is deeper than the stock's {block.height:.6g}",
            f"it is {block.height:.6g} at most",
        )
        return None
    return depth


def _feature(name: str, kind: str, depth: Size, form: Form, block: Block) -> Feature:
    stock = block.stock
    floor = stock.top if kind == "face" else stock.top - depth.middle
    through = floor < stock.bottom + SAME
    walls = (*form.walls, *(wall for island in form.islands for wall in island))
    return Feature(
        name=name,
        kind=kind,
        depth=depth,
        floor=stock.bottom if through else floor,
        area=form.area,
        keep=form.keep,
        limits=wall_limits(walls, block),
        corner_radius=form.inside_radii[0] if form.inside_radii else None,
        through=through,
        cutters=(),
        setup="",
        line=1,
        rounded=form.rounded,
        inside_radii=form.inside_radii,
        diameter=form.diameter,
        pattern=form.pattern,
        keyseat=form.keyseat,
    )


def _surfaces(feature: Feature, form: Form, block: Block) -> dict[str, Place]:
    """What callouts may name of a feature."""
    surfaces = wall_names(form.walls, block)
    surfaces |= {mark.name: mark.place for mark in form.marks}
    for number, island in enumerate(form.islands, 1):
        for name, at in wall_names(island, block).items():
            surfaces[f"island {number} {name}"] = at
    for number, marks in enumerate(form.island_marks, 1):
        surfaces |= {f"island {number} {mark.name}": mark.place for mark in marks}
    if feature.kind == "holes":
        return surfaces  # drilled to a depth, but without a floor to measure from
    depth = 0.0 if feature.kind == "face" else feature.depth.nominal
    surfaces["floor"] = {"z": block.nominal_top - depth}
    return surfaces


def _check_names(tables: list[Table]) -> None:
    seen: set[str] = set()
    for table in tables:
        name = table.values.get("name")
        if not isinstance(name, str):
            continue
        said = " ".join(name.casefold().split())
        if said in seen:
            table.fault(
                "name", f'"{name.strip()}" is used twice', "give every feature its own name"
            )
        seen.add(said)


def _beside_other_bosses(draft: Draft, drafts: list[Draft]) -> Draft:
    """A boss leaves the other bosses standing as well."""
    if draft.feature.kind != "boss":
        return draft
    setup = draft.feature.setup
    bosses = [d for d in drafts if d.feature.kind == "boss" and d.feature.setup == setup]
    others = [other.feature for other in bosses if other is not draft]
    feature = draft.feature
    keep = (*feature.keep, *(loop for other in others for loop in other.keep))
    full = feature.rounded or (feature.area, feature.keep)
    beside = [(other.rounded or (other.area, other.keep))[1] for other in others]
    rounded = (full[0], (*full[1], *(loop for loops in beside for loop in loops)))
    same = rounded == (feature.area, keep)
    return replace(draft, feature=replace(feature, keep=keep, rounded=None if same else rounded))

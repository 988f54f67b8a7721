"""From the text of a job file and of its shop file to one ``Job``, or to every fault of both."""

from pathlib import Path

from passplot.errors import InputFaults, NotYetPlanned
from passplot.read.block import UNKNOWN, Block, read_block
from passplot.read.callouts import read_callouts
from passplot.read.checks import check_features, check_finish, check_width_of_cut, used_cutters
from passplot.read.features import (
    Draft,
    Names,
    face_height,
    read_cutter_names,
    read_features,
)
from passplot.read.keep_outs import read_keep_outs
from passplot.read.limits import read_finish, read_general, read_limits
from passplot.read.setups import read_setups
from passplot.read.shop import UNITS, read_shop
from passplot.read.sizes import Units, shown
from passplot.read.source import Source, plain, read_text
from passplot.read.tables import Table
from passplot.records.job import Callout, Job
from passplot.records.shop import Machine, Shop

_TOP_KEYS = (
    "title",
    "part_number",
    "quantity",
    "units",
    "shop",
    "cutter",
    "direction",
    "general_tolerance",
)
_TABLES = ("stock", "finish", "limits", "feature", "keep_out", "setup", "dimension")
_SHOP = "give the path of the shop file, relative to this one"
NO_TOLERANCE = "none stated"


def read_job(path: Path) -> Job:
    """The job of a job file and of the shop file it names.

    Parameters
    ----------
    path : Path
        The job file, as the user gave it: messages call it so.

    Returns
    -------
    Job
        Lengths in job units.

    Raises
    ------
    InputFaults
        Everything wrong with either file.
    NotYetPlanned
        Nothing is wrong, but the job asks for work that is not planned yet.
    """
    text, fault = read_text(path)
    if fault is not None:
        raise InputFaults((fault,))
    source = Source(plain(str(path)), text)
    if source.faults:
        raise InputFaults(source.in_order())
    return _build(source, _open_shop(source, path.parent))


def parse_job(
    text: str, shop_text: str, file: str = "job.toml", shop_file: str = "shop.toml"
) -> Job:
    """The job of two texts; ``file`` and ``shop_file`` are what messages call them.

    Raises what ``read_job`` raises. The path of the shop file is not followed.
    """
    source = Source(file, text)
    if source.faults:
        raise InputFaults(source.in_order())
    return _build(source, Source(shop_file, shop_text))


def _open_shop(source: Source, folder: Path) -> Source | None:
    """The shop file of a job; None where the job's ``shop`` will not do."""
    value = source.values.get("shop")
    if not isinstance(value, str) or not value.strip():
        return None  # noted when the top of the job is read
    path = folder / value.strip()
    text, fault = read_text(path)
    if fault is None:
        return Source(plain(str(path)), text)
    if fault.line > 1 or fault.wrong.startswith("not UTF-8"):
        found = Source(plain(str(path)), "")
        found.faults.append(fault)
        return found
    source.fault(("shop",), f'"{plain(value)}" {_cannot(fault.wrong)}', _SHOP)
    return None


def _cannot(wrong: str) -> str:
    return "is no file" if wrong.startswith("there is no") else wrong


def _build(source: Source, shop_source: Source | None) -> Job:
    top = Table(source, (), source.values, Units("inch", "inch"))
    top.check_keys((*_TOP_KEYS, *_TABLES))
    units = top.word("units", UNITS) or ""
    top.units = Units(units or "inch", units or "inch")
    top.units = Units(top.units.bare, top.units.job, read_general(top))
    top.text("shop", _SHOP)
    shop = _shop(shop_source, top.units.job)
    holding = read_setups(top.exact().tables("setup"))
    block = _block(top, holding.zero)
    crib = None if shop is None else {cutter.id: cutter for cutter in shop.cutters}
    cutters = read_cutter_names(top, crib)
    drafts = _features(top, block or UNKNOWN, Names(crib, holding.names))
    keep_outs, later = read_keep_outs(top.tables("keep_out"), block or UNKNOWN)
    job = Job(
        file=source.file,
        title=top.text("title") or Path(source.file).stem,
        part_number=_part_number(top),
        quantity=top.whole("quantity", 1, 1_000_000, 1) or 1,
        units=top.units.job,
        shop=shop or _NO_SHOP,
        cutters=cutters,
        climb=top.word("direction", ("conventional", "climb"), "conventional") == "climb",
        general_tolerance=top.units.general.note if top.units.general else NO_TOLERANCE,
        stock=(block or UNKNOWN).stock,
        finish=read_finish(top),
        limits=read_limits(top),
        features=tuple(draft.feature for draft in drafts),
        keep_outs=keep_outs,
        setup=holding.setups[0],
        callouts=_callouts(top, block, drafts),
    )
    if block is not None:
        check_features(drafts, block)
        check_finish(top, job.finish, block, drafts)
    if units and shop is not None:
        check_width_of_cut(top, job)
    faults = (*source.in_order(), *(shop_source.in_order() if shop_source else ()))
    if faults:
        raise InputFaults(faults)
    later = (*holding.later, *(what for draft in drafts for what in draft.later), *later)
    later = (*_later_tools(job), *later)
    if later:
        raise NotYetPlanned(*later)
    return job


# Stands in while the shop file is at fault; no job with it is ever handed out.
_NO_SHOP = Shop("", Machine("", (), False, None, None, True, None, "dro", 0.01, ()), ())


def _shop(source: Source | None, job_units: str) -> Shop | None:
    if source is None or source.faults:
        return None
    return read_shop(source, job_units)


def _block(top: Table, zero: str | None) -> Block | None:
    right = "write [stock] and its keys below"
    table = top.exact().table("stock", right)
    if table is None:
        if "stock" not in top:
            top.missing("stock", right)
        return None
    return read_block(table, zero, face_height(top.tables("feature")))


def _features(top: Table, block: Block, names: Names) -> tuple[Draft, ...]:
    tables = top.tables("feature")
    if not tables and not top.values.get("feature"):
        top.fault("feature", "there is no feature", "write [[feature]] for each of them")
    return read_features(tables, block, names)


def _part_number(top: Table) -> str:
    value = top.values.get("part_number")
    if isinstance(value, int) and not isinstance(value, bool):
        return shown(value)
    return top.text("part_number") or ""


def _callouts(top: Table, block: Block | None, drafts: tuple[Draft, ...]) -> tuple[Callout, ...]:
    named = [table.values.get("name") for table in top.tables("feature")]
    names = [name.strip() for name in named if isinstance(name, str)]
    return read_callouts(top.tables("dimension"), block, drafts, names)


def _later_tools(job: Job) -> list[str]:
    """What the machine and the cutters ask for that is not planned yet."""
    later = []
    if job.shop.machine.readout == "dials":
        later.append("a machine without a readout, worked by its dials")
    for name in used_cutters(job):
        cutter = job.shop.cutter(name)
        if cutter.form in ("ball", "corner radius") or cutter.corner_radius > 0:
            later.append(
                f'cutter "{name}": a {cutter.form} cutter of corner radius '
                f"{cutter.corner_radius:.6g}"
            )
    return later

"""From the text of a job file and of its shop file to one ``Job``, or to every fault of both."""

from pathlib import Path

from passplot.errors import InputFaults, NotYetPlanned
from passplot.read.block import UNKNOWN, Blank, Block, laid, read_blank
from passplot.read.callouts import read_callouts
from passplot.read.checks import check_features, check_finish, check_width_of_cut
from passplot.read.features import (
    Draft,
    Names,
    face_height,
    read_cutter_names,
    read_features,
)
from passplot.read.keep_outs import read_keep_outs
from passplot.read.limits import read_finish, read_general, read_limits
from passplot.read.setups import Posture, read_setups
from passplot.read.shop import UNITS, read_shop
from passplot.read.sizes import Units, shown
from passplot.read.source import NOT_UTF8, Source, plain, read_text
from passplot.read.tables import Table
from passplot.records.job import Callout, Job
from passplot.records.material import Material
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
        Nothing is wrong, but the job has several setups, or one that turns the work.
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
    if fault.wrong == NOT_UTF8:
        found = Source(plain(str(path)), "")
        found.faults.append(fault)
        return found
    source.fault(("shop",), f'"{plain(value)}" {_cannot(fault.wrong)}', _SHOP)
    return None


def _cannot(wrong: str) -> str:
    return "is no file" if wrong.startswith("there is no") else wrong


def _build(source: Source, shop_source: Source | None) -> Job:
    top = _top(source)
    units = top.word("units", UNITS)
    top.text("shop", _SHOP)
    shop = _shop(shop_source, top.units.job)
    postures = read_setups(top.exact().tables("setup"))
    blank = _blank(top, () if shop is None else shop.materials)
    blocks = _blocks(top, blank, postures)
    block = blocks[postures[0].setup.name]
    crib = None if shop is None else {cutter.id: cutter for cutter in shop.cutters}
    cutters = read_cutter_names(top, crib)
    drafts = _features(top, Names(crib, blocks))
    keep_outs = read_keep_outs(top.tables("keep_out"), block)
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
        stock=block.stock,
        finish=read_finish(top),
        limits=read_limits(top),
        features=tuple(draft.feature for draft in drafts),
        keep_outs=keep_outs,
        setup=postures[0].setup,
        callouts=_callouts(top, drafts, None if blank is None else block, postures[0].setup.name),
    )
    if blank is not None:
        for name in blocks:
            here = tuple(draft for draft in drafts if draft.feature.setup == name)
            check_features(here, blocks[name])
        check_finish(top, job.finish, block, drafts)
    if units is not None and shop is not None:
        check_width_of_cut(top, job)
    faults = (*source.in_order(), *(shop_source.in_order() if shop_source else ()))
    if faults:
        raise InputFaults(faults)
    later = _later(postures)
    if later:
        raise NotYetPlanned(*later)
    return job


# Stands in while the shop file is at fault; no job with it is ever handed out.
_NO_SHOP = Shop("", Machine("", (), False, None, None, True, None, "dro", 0.01, ()), ())


def _top(source: Source) -> Table:
    """The top of the file, with its unit and its general tolerance."""
    source.top_keys = _TOP_KEYS
    said = source.values.get("units")
    unit = said if isinstance(said, str) and said in UNITS else UNITS[0]
    plain_top = Table(source, (), source.values, Units(unit, unit))
    plain_top.check_keys((*_TOP_KEYS, *_TABLES))
    return Table(source, (), source.values, Units(unit, unit, read_general(plain_top)))


def _shop(source: Source | None, job_units: str) -> Shop | None:
    if source is None or source.faults:
        return None
    return read_shop(source, job_units)


def _blank(top: Table, own: tuple[Material, ...]) -> Blank | None:
    right = "write [stock] and its keys below"
    table = top.exact().table("stock", right)
    if table is None:
        if "stock" not in top:
            top.missing("stock", right)
        return None
    return read_blank(table, own)


def _blocks(top: Table, blank: Blank | None, postures: tuple[Posture, ...]) -> dict[str, Block]:
    """The block as it lies in each setup."""
    if blank is None:
        return {posture.setup.name: UNKNOWN for posture in postures}
    face = face_height(top.tables("feature"))
    return {
        posture.setup.name: laid(blank, posture.axes, posture.zero, face) for posture in postures
    }


def _features(top: Table, names: Names) -> tuple[Draft, ...]:
    tables = top.tables("feature")
    if not tables and not top.values.get("feature"):
        top.missing("feature", "write [[feature]] and its keys below, for each of them")
    return read_features(tables, names)


def _part_number(top: Table) -> str:
    value = top.values.get("part_number")
    if isinstance(value, int) and not isinstance(value, bool):
        return shown(value)
    return top.text("part_number") or ""


def _callouts(
    top: Table, drafts: tuple[Draft, ...], block: Block | None, setup: str
) -> tuple[Callout, ...]:
    """The callouts, held against the features of ``setup``."""
    named = [table.values.get("name") for table in top.tables("feature")]
    names = [name.strip() for name in named if isinstance(name, str)]
    here = tuple(draft for draft in drafts if draft.feature.setup == setup)
    return read_callouts(top.tables("dimension"), block, here, names)


def _later(postures: tuple[Posture, ...]) -> list[str]:
    """What setups ask for that a job record cannot hold yet: it has one, as the block stands."""
    later = [
        f'setup "{posture.setup.name}": {what}' for posture in postures for what in posture.later
    ]
    if len(postures) > 1:
        later.insert(0, f"{len(postures)} setups in one job")
    return later

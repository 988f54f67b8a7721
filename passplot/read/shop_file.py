"""A shop file read by itself, for questions that no job asks."""

from pathlib import Path

from passplot.errors import InputFaults
from passplot.read.shop import UNITS, read_shop
from passplot.read.source import Source, plain, read_text
from passplot.records.shop import Shop


def read_shop_file(path: Path, units: str = "") -> Shop:
    """The shop of a shop file.

    Parameters
    ----------
    path : Path
        The file, as the user gave it: messages call it so.
    units : str
        ``"inch"`` or ``"mm"``: what lengths come out in; the file's own unit if empty.

    Raises
    ------
    InputFaults
        Everything wrong with the file.
    """
    text, fault = read_text(path)
    if fault is not None:
        raise InputFaults((fault,))
    source = Source(plain(str(path)), text)
    said = source.values.get("units")
    own = said if isinstance(said, str) and said in UNITS else UNITS[0]
    shop = None if source.faults else read_shop(source, units or own)
    if shop is None or source.faults:
        raise InputFaults(source.in_order())
    return shop


def shop_units(path: Path) -> str:
    """The unit of a shop file that was read before without a fault."""
    text, _ = read_text(path)
    return str(Source(plain(str(path)), text).values.get("units", UNITS[0]))

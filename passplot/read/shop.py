"""The shop file: the machine and its crib, lengths converted to the job's unit.

Each length may be written in any unit; a bare number is in the shop file's own.
"""

from passplot.read.cutters import read_cutters
from passplot.read.machine import read_machine
from passplot.read.materials import read_materials
from passplot.read.sizes import Units
from passplot.read.source import Source
from passplot.read.tables import Table
from passplot.records.shop import Shop

UNITS = ("inch", "mm")


def read_shop(source: Source, job_units: str) -> Shop | None:
    """The shop of a shop file.

    Parameters
    ----------
    source : Source
        The file; faults are noted in it.
    job_units : str
        ``"inch"`` or ``"mm"``: what lengths come out in.

    Returns
    -------
    Shop or None
        None if the file is at fault.
    """
    top = Table(source, (), source.values, Units(job_units, job_units))
    source.top_keys = ("units",)
    top.check_keys(("units", "machine", "cutter", "material"))
    units = top.word("units", UNITS)
    top.units = Units(units or job_units, job_units)
    table = top.table("machine", "write [machine] and its keys below")
    if table is None and "machine" not in top:
        top.missing("machine", "write [machine] and its keys below")
    machine = None if table is None else read_machine(table)
    cutters = read_cutters(top, machine)
    materials = read_materials(top)
    if machine is None or source.faults:
        return None
    return Shop(source.file, machine, cutters, materials)

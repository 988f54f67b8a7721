"""Every error passplot raises on purpose, with the exit code it ends in.

Three kinds of wrong: the input cannot be read (exit 2, every fault at once), the job cannot be
cut as asked (exit 1), the plan is not proven (exit 1). Anything else is a fault of passplot.
"""

from passplot.frozen import dataclass


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong with an input file.

    Attributes
    ----------
    file : str
        Name of the file as the user gave it.
    line : int
        1-based line the fault is reported at.
    key : str
        The key at fault, dotted from its table (``stock.size``).
    wrong, right : str
        What is wrong; what would be right.
    """

    file: str
    line: int
    key: str
    wrong: str
    right: str

    def __str__(self) -> str:
        return f"{self.file}: line {self.line}: {self.key}: {self.wrong}, {self.right}"


class PassplotError(Exception):
    """Base of the errors a user can cause; ``exit_code`` is what the command ends with."""

    exit_code = 1

    def lines(self) -> tuple[str, ...]:
        """The report, one line each."""
        return (str(self),)


class InputFaults(PassplotError):
    """The input is wrong: carries every fault found, in file order."""

    exit_code = 2

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        super().__init__(f"{len(faults)} fault(s) in the input")
        self.faults = faults

    def lines(self) -> tuple[str, ...]:
        return tuple(str(fault) for fault in self.faults)


class CannotCut(PassplotError):
    """The files are good but the job cannot be done as asked.

    ``reasons`` name the feature, the numbers that clash and what would do.
    """

    def __init__(self, *reasons: str) -> None:
        super().__init__("; ".join(reasons))
        self.reasons = reasons

    def lines(self) -> tuple[str, ...]:
        return self.reasons


class NoWay(CannotCut):
    """No straight way to metal was found that a cutter of the job could reach."""


class NotYetPlanned(CannotCut):
    """The job asks for work that passplot reads but does not plan yet."""

    def __init__(self, *what: str) -> None:
        super().__init__(*(f"not yet planned: {item}" for item in what))


class NotProven(PassplotError):
    """The replay found the plan wanting: nothing is printed as good.

    ``findings`` are the proof's findings as text, each naming the row it stands at.
    """

    def __init__(self, findings: tuple[str, ...]) -> None:
        super().__init__("; ".join(findings))
        self.findings = findings

    def lines(self) -> tuple[str, ...]:
        return tuple(f"the plan is not proven: {text}" for text in self.findings)

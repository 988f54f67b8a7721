"""Files put in their folder all together or not at all."""

from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path
from tempfile import TemporaryDirectory


def save(content: Mapping[str, bytes], folder: Path) -> tuple[Path, ...]:
    """Write files into a folder, all of them or none.

    Everything is written beside the folder's files first and then moved to its place; where a
    move fails, what was moved is taken back and what stood there before is put back.

    Parameters
    ----------
    content : mapping of str to bytes
        File name to content.
    folder : Path
        Made, with its parents, if it is not there.

    Returns
    -------
    tuple of Path
        The files, in the order of ``content``.

    Raises
    ------
    OSError
        If a file cannot be written; the folder is then as it was.
    """
    made = _made(folder)
    try:
        with TemporaryDirectory(prefix=".passplot-", dir=folder) as beside:
            new, old = Path(beside) / "new", Path(beside) / "old"
            new.mkdir()
            old.mkdir()
            for name, data in content.items():
                (new / name).write_bytes(data)
            _move_all(tuple(content), new, old, folder)
    except OSError:
        for each in made:
            with suppress(OSError):
                each.rmdir()
        raise
    return tuple(folder / name for name in content)


def _made(folder: Path) -> tuple[Path, ...]:
    """Make the folder; returns the folders that were not there before, innermost first."""
    missing = [each for each in (folder, *folder.parents) if not each.exists()]
    folder.mkdir(parents=True, exist_ok=True)
    return tuple(missing)


def _move_all(names: tuple[str, ...], new: Path, old: Path, folder: Path) -> None:
    """Move every new file to its place, keeping what it replaces until all are there."""
    done: list[str] = []
    try:
        for name in names:
            target = folder / name
            if target.exists():
                target.replace(old / name)
            done.append(name)
            (new / name).replace(target)
    except OSError:
        for name in reversed(done):
            target = folder / name
            target.unlink(missing_ok=True)
            if (old / name).exists():
                (old / name).replace(target)
        raise

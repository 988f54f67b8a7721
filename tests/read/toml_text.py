"""Writes TOML for tests: the standard library only reads it."""

from datetime import date


def dump(value: dict[str, object]) -> str:
    """A TOML text that reads back as ``value``; tables in lists of tables get their own header."""
    lines: list[str] = []
    _table(lines, value, ())
    return "\n".join(lines) + "\n"


def _table(lines: list[str], table: dict[str, object], path: tuple[str, ...]) -> None:
    later = {}
    for key, value in table.items():
        if isinstance(value, dict) or _tables(value):
            later[key] = value
        else:
            lines.append(f"{_key(key)} = {inline(value)}")
    for key, value in later.items():
        name = ".".join(_key(part) for part in (*path, key))
        for entry in value if isinstance(value, list) else [value]:
            lines.append(f"[[{name}]]" if isinstance(value, list) else f"[{name}]")
            _table(lines, entry, (*path, key))


def _tables(value: object) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(v, dict) for v in value)


def inline(value: object) -> str:
    """``value`` as TOML on one line."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return _string(value)
    if isinstance(value, list | tuple):
        return "[" + ", ".join(inline(entry) for entry in value) + "]"
    if isinstance(value, dict):
        return "{" + ", ".join(f"{_key(k)} = {inline(v)}" for k, v in value.items()) + "}"
    if isinstance(value, date):
        return value.isoformat()
    return repr(value)


def _key(key: str) -> str:
    plain = key and all(c.isascii() and (c.isalnum() or c in "-_") for c in key)
    return key if plain else _string(key)


def _string(text: str) -> str:
    escaped = "".join(
        f"\\{c}" if c in '"\\' else c if c.isprintable() else f"\\U{ord(c):08X}" for c in text
    )
    return f'"{escaped}"'

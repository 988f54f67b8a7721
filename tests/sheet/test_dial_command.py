"""One-off questions at a dial, answered on the command line."""

import json
from pathlib import Path

from click.testing import CliRunner, Result

from passplot.command.main import main

SHOPS = Path(__file__).parents[2] / "shop_examples"


def ask(shop: str, *words: str) -> Result:
    return CliRunner().invoke(main, ["dial", str(SHOPS / shop), *words])


def test_what_to_turn_and_what_the_dial_shows() -> None:
    # lead .200 in (from memory): 1.375 in are 6 turns and .175 in more
    result = ask("knee-mill-dials.toml", "--axis", "x", "--to", "1.375", "--json")
    assert result.exit_code == 0
    assert json.loads(result.output) == {"from": 0.0, "crank": "cw", "turns": 6, "dial": 0.175}


def test_a_move_against_the_approach_direction_allows_for_the_backlash() -> None:
    result = ask("knee-mill-dials.toml", "--axis", "x", "--from", ".5", "--to", ".3", "--json")
    answer = json.loads(result.output)
    assert (answer["crank"], answer["turns"], answer["dial"]) == ("ccw", 1, 0.088)
    said = ask("knee-mill-dials.toml", "--axis", "x", "--from", ".5", "--to", ".3").output
    assert "go past and come back" in said


def test_a_table_of_whole_turns() -> None:
    # lead 5 mm (from memory): 7 turns are 35 mm
    result = ask("knee-mill-metric-dials.toml", "--axis", "y", "--multiples", "7", "--json")
    assert json.loads(result.output)[-1] == {"turns": 7, "travel": 35.0}


def test_an_odd_lead_is_read_to_half_a_line() -> None:
    # 16 threads to the inch: .0625 in a turn
    result = ask("bench-mill-dials.toml", "--axis", "y", "--to", "0.1", "--json")
    answer = json.loads(result.output)
    assert answer["turns"] == 1
    assert answer["dial"] in (0.0375, 0.025)


def test_a_missing_shop_file_is_one_line_and_exit_2() -> None:
    result = CliRunner().invoke(main, ["dial", "nowhere.toml", "--axis", "x", "--to", "1"])
    assert result.exit_code == 2
    assert result.output.count("\n") == 1

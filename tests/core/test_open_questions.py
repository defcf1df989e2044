"""Each question that a weather file may leave open can be answered everywhere."""

import argparse

import pytest

from core.__main__ import main
from core.cli.open_questions import WORDS_HELP, add_answers, answers_from, option_of
from core.errors import OPTIONS, BadRequest
from core.weather.answers import ASKED, WORDS, Answers, answered_word
from core.weather.tables.angle_units import UNITS

ROWS = "".join(f"2026-11-10,{h},{h % 30 + 1},8\n" for h in range(1, 25))
TABLE = f"date,hour utc,wind dir into,wind_mph\n{ROWS}"


def given(*words) -> Answers:
    parser = argparse.ArgumentParser()
    add_answers(parser)
    return answers_from(parser.parse_args(words))


def test_every_question_has_its_words_in_every_place():
    from pages.ui.asking import QUESTION

    assert set(ASKED) == set(OPTIONS) == set(QUESTION)
    assert set(WORDS) == set(WORDS_HELP)
    assert set(WORDS["direction_unit"]) == set(UNITS)
    assert all(OPTIONS[field][""].startswith(option_of(field)) for field in WORDS)


@pytest.mark.parametrize("field", WORDS)
def test_a_word_is_taken_or_refused(field):
    for word in WORDS[field]:
        assert getattr(given(option_of(field), word.upper()), field) == word
    with pytest.raises(BadRequest, match="'perhaps' is no answer") as refused:
        answered_word(field, "perhaps")
    assert option_of(field) in str(refused.value) and WORDS[field][0] in str(refused.value)


def test_yes_and_no():
    assert given("--yearfirst").yearfirst is True
    assert given("--no-yearfirst").yearfirst is False
    assert given().yearfirst is None


def test_on_the_command_line_one_question_after_another(tmp_path, capsys):
    path = tmp_path / "t.csv"
    path.write_text(TABLE)
    words = ["wind", str(path)]
    for option, word in (
        ("--direction-unit", "tens"),
        ("--direction-sense", "toward"),
        ("--hour-label", "end"),
    ):
        assert main(words) == 2
        assert f"{option}: " in capsys.readouterr().err
        words += [option, word]
    assert main(words) == 0
    out, err = capsys.readouterr()
    # line 2 is 2 tens toward, so from 200, at the hour that ends at 1
    assert "2026-11-10 00:00 UTC directed 8 mph from 200°" in out
    assert err == ""


def test_an_answer_that_nothing_asked_for_is_named(tmp_path, capsys):
    path = tmp_path / "t.csv"
    path.write_text("time_utc,wind_dir_deg,wind_mph\n2026-11-10 06:00,270,8\n")
    main(["wind", str(path), "--hour-label", "end", "--no-yearfirst"])
    err = capsys.readouterr().err
    assert "--hour-label was not used" in err and "--no-yearfirst was not used" in err

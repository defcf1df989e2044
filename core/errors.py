"""The one family of errors that the program raises for bad input.

Policy: a bad file is refused; a missing hour stays missing and is shown; a
provider that is down means old data with its age, or no answer; never a silent
default. Anything outside this family is a bug and must look like one.
"""

from dataclasses import dataclass


class StandWindError(Exception):
    """Something that the user can put right.

    Args:
        what: what is wrong, with the bad value in it.
        where: the file, feature, row or field it was found in.
        fix: what to do about it.
    """

    def __init__(self, what: str, where: str = "", fix: str = "") -> None:
        self.what, self.where, self.fix = what, where, fix
        super().__init__(self.text())

    def text(self) -> str:
        """The whole message on one line: where: what. What to do."""
        head = f"{self.where}: {self.what}" if self.where else self.what
        return f"{head.rstrip('.')}. {self.fix}".strip() if self.fix else head


class BadProperty(StandWindError):
    """A property file that cannot be used as it is."""


class SaveConflict(StandWindError):
    """The file on disk is not the one that was opened."""


class SaveBusy(StandWindError):
    """Another program is saving the same thing, and for longer than one waits."""


class BadWind(StandWindError):
    """A typed wind that could not be understood."""


class BadWeather(StandWindError):
    """A weather file that cannot be used, or leaves something open."""


class NoForecast(StandWindError):
    """No hour of the weather in hand lies where one is needed."""


class NoSun(StandWindError):
    """A date and place without a sunrise or a sunset."""


class BadRequest(StandWindError):
    """A question that names something the property or calendar lacks."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One answer to an open question, and what it would mean, in words."""

    value: str
    means: str


class NeedsAnswer(StandWindError):
    """A weather file that leaves something open; it is asked, never guessed.

    Args:
        what: what the file leaves open, with its own words in it.
        where: the file's name for messages.
        asks: the field of `Answers` that settles it, a key of `OPTIONS`.
        choices: each answer with an example hour under it. A zone can also be any
            other name of the time zone list, or an offset such as -05:00.
        needs: of columns, what has to be named; `may` what can be.
    """

    def __init__(
        self,
        what: str,
        where: str,
        asks: str,
        choices: tuple[Choice, ...],
        *,
        needs: tuple[str, ...] = (),
        may: tuple[str, ...] = (),
    ) -> None:
        self.asks, self.choices, self.needs, self.may = asks, choices, needs, may
        option = OPTIONS[asks]
        head = "".join(f"--column {need}=NAME " for need in needs) + option[""]
        told = "; ".join(f"{option.get(c.value, c.value)} ({c.means})" for c in choices[:MOST_TOLD])
        more = len(choices) - MOST_TOLD
        told += f"; and {more} more" if more > 0 else ""
        super().__init__(what, where, f"Answer with {head}{told}.")


MOST_TOLD = 30  # choices in one message; a screen offers all
# how the command line answers each question
OPTIONS = {
    "zone": {"": "--zone: "},
    "speed_unit": {"": "--speed-unit: "},
    "columns": {"": "with NAME one of: "},
    "dayfirst": {"": "", "yes": "--dayfirst", "no": "--no-dayfirst"},
    "yearfirst": {"": "", "yes": "--yearfirst", "no": "--no-yearfirst"},
    "direction_sense": {"": "--direction-sense: "},
    "direction_unit": {"": "--direction-unit: "},
    "hour_label": {"": "--hour-label: "},
    "far_hours": {"": "--far-hours: "},
    "elsewhere": {"": "--elsewhere: "},
}

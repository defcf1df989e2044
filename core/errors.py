"""The one family of errors that the program raises for bad input.

Policy: a bad file is refused; a missing hour stays missing and is shown; a
provider that is down means old data with its age, or no answer; never a silent
default. Anything outside this family is a bug and must look like one.
"""


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

"""What the reports of a file are called: station, kind and years."""

from core.weather.reading.observations import Observations
from core.weather.reading.spliced import years_word

KIND_WORDS = {
    "measured": "measured wind",
    "modelled": "modelled wind, not measured",
    "typical": "a typical year, no real one",
    "unsaid": "wind of a table that does not say if it was measured",
    "forecast": "a forecast, not what the wind did",
}


def label_of(reports: Observations) -> str:
    """Station, kind and years in words, as the screens show them. Args: reports."""
    name = " ".join(x for x in (reports.station, reports.place) if x) or reports.where
    if reports.kind == "typical" or not len(reports):
        return f"{name}: {KIND_WORDS[reports.kind]}"
    return f"{name}: {KIND_WORDS[reports.kind]}, {years_word(reports.at_s)}"

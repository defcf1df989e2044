"""What was left out or mended in a file, counted and said in one line."""

# counted thing: (said of one, said of several)
SAID = {
    "missing": ("hour missing", "hours missing"),
    "duplicates": ("duplicate dropped", "duplicates dropped"),
    "differing": (
        "report of a minute already told with another wind not used",
        "reports of a minute already told with another wind not used",
    ),
    "extra": ("further report inside an hour not used", "further reports inside an hour not used"),
    "absurd": ("impossible wind left out", "impossible winds left out"),
    "wrong": (
        "report that its source marks as wrong left out",
        "reports that their source marks as wrong left out",
    ),
    "summaries": ("daily summary left out", "daily summaries left out"),
    "dates": ("report of an impossible year left out", "reports of impossible years left out"),
    "lines": ("line that can't be read left out", "lines that can't be read left out"),
    "no_direction": (
        "hour of direction 0 with wind has no direction",
        "hours of direction 0 with wind have no direction",
    ),
    "bad_gusts": ("impossible gust left out", "impossible gusts left out"),
    "headers": ("repeated header line skipped", "repeated header lines skipped"),
    "footer": ("line at the file's end holds no hour", "lines at the file's end hold no hour"),
    "undirected": (
        "hour with a speed but no direction counts as missing",
        "hours with a speed but no direction count as missing",
    ),
    "north": (
        "hour of direction 0 with wind read as north",
        "hours of direction 0 with wind read as north",
    ),
    "clock": (
        "hour that the clock shows twice and the file once left out",
        "hours that the clock shows twice and the file once left out",
    ),
    "astray": (
        "report is over a quarter of an hour from the start of its row",
        "reports are over a quarter of an hour from the start of their rows",
    ),
    "far": (
        "hour decades from all others left out",
        "hours decades from all others left out",
    ),
    "gusts": ("gust below the wind raised to it", "gusts below the wind raised to it"),
    "leap": ("hour of 29 February left out", "hours of 29 February left out"),
}


def tally(counts: dict[str, int], first: dict[str, tuple[str, ...]]) -> tuple[str, ...]:
    """What was counted, as one line; nothing where nothing was.

    Args: numbers by key of SAID; the places of the first of each.
    """
    parts = []
    for thing, (one, several) in SAID.items():
        n = counts.get(thing, 0)
        if n:
            places = first.get(thing, ())
            which = "" if n in (1, len(places)) else "first: "
            place = f" ({which}{'; '.join(places)})" if places else ""
            parts.append(f"{n:,} {one if n == 1 else several}{place}")
    return (", ".join(parts),) if parts else ()

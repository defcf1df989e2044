"""What `--help` says: a word on every option, and an example of each command."""

import argparse

ABOUT = "Go or stay out, which stand, which way, and why: the answers of Stand & Wind in text."
HELP = {
    "property": "the property file",
    "json": "as JSON, for other programs",
    "now": "a time instead of the clock, like 2026-11-10T04:30-05:00",
    "date": "the day, like 2026-11-10",
    "sit": "which part of the day",
    "wind": "the wind as one says it: NW 8, 315 at 4 m/s, W B3, calm",
    "forecast": "a forecast file, or the word live, or the word kept",
    "typical": "the wind of a typical year at Greensboro, for practice",
    "cloud": "how much of the sky is cloud, 0 to 1; half where it is not given",
    "hunter": "who sits, by a name from the property file",
    "weapon": "which season, where a day has several",
    "taken": "stands where others sit, by id and name, like creek:Nell",
    "file": "the file to read",
    "out": "the HTML file to write",
    "history": "wind history files, or the word kept (your ground, modelled) or measured",
    "csv": "the table, as CSV, into this file",
    "replace": "overwrite a file of that name; never a property or anything kept",
    "first": "the first day that counts; else the season's",
    "last": "the last day that counts; else the season's",
}
OF_DEMO = "--property demo_property.json"
EXAMPLES = {
    "sits": f'sits {OF_DEMO} --date 2026-11-10 --sit morning --wind "NW 8"',
    "next": f"next {OF_DEMO} --forecast kept",
    "party": f'party {OF_DEMO} --date 2026-11-10 --sit morning --wind "NW 8" --hunter Nell Owen',
    "daylight": f"daylight {OF_DEMO} --date 2026-11-10",
    "wind": "wind forecast.csv",
    "forecast": f"forecast {OF_DEMO}",
    "check": "check demo_property.json",
    "convert": "convert demo_property.json ground.gpx",
    "pocket": f'pocket {OF_DEMO} --date 2026-11-10 --wind "NW 8" --out sit.html',
    "season": f"season {OF_DEMO} --typical",
    "history": f"history {OF_DEMO} --years 10",
    "visor": f"visor {OF_DEMO} --out visor.html",
    "phone": "phone --look",
    "land": f"land {OF_DEMO}",
    "visit": f"visit {OF_DEMO} --forecast kept --at east-trail --hours 2",
    "trail": f"trail {OF_DEMO} --at east-trail",
    "spray": f"spray {OF_DEMO} --forecast kept --at east-trail --label-read 2026-06-20",
    "round": f"round {OF_DEMO} --job cut:east-trail cut:hay-trail --out round.html",
    "chores": f"chores {OF_DEMO} --ics chores.ics",
    "log": f"log add {OF_DEMO} 'split oak am. felt W 4. 7:40 2 does. left 9:30'",
}


def helped(parser: argparse.ArgumentParser, commands) -> None:
    """Fills in what the commands leave unsaid.

    Args: the parser; its subparsers, with every command added.
    """
    parser.description, parser.epilog = ABOUT, "COMMAND --help tells the options of a command."
    for name, command in commands.choices.items():
        if name in EXAMPLES:
            command.formatter_class = argparse.RawDescriptionHelpFormatter
            command.epilog = f"example:\n  python -m core {EXAMPLES[name]}"
        for action in command._actions:
            action.help = action.help or HELP.get(action.dest)

"""log export and import: tables, GeoJSON, and everything in one file."""

from pathlib import Path

from core.cli.kept_log import add_log, journal_of
from core.cli.shared import add_replace, as_json, common, now_from

ENDINGS = (".csv", ".geojson", ".zip")


def register(acts) -> None:
    """Adds these commands. Args: argparse's subparsers of `log`."""
    out = acts.add_parser("export", help="the log as CSV or GeoJSON, or everything as one zip")
    common(out, _export)
    add_log(out)
    out.add_argument("out", help="a name that ends in .csv, .geojson or .zip")
    out.add_argument("--kind", help="only this kind, in a CSV")
    add_replace(out)
    bring = acts.add_parser("import", help="a table of entries or of former years, or such a zip")
    common(bring, _import)
    add_log(bring)
    bring.add_argument("file")
    bring.add_argument("--yes", action="store_true", help="bring it in; without it, only a look")
    bring.add_argument("--replace", action="store_true", help="grounds in a zip over yours")
    bring.add_argument(
        "--column",
        action="append",
        default=[],
        metavar="WHAT=NAME",
        help="which column of a former table is the date, stand, half, time, count, kind, yards, "
        "winded or note, such as date=Day",
    )
    add_orders(bring)


def add_orders(parser) -> None:
    """Adds the answers to how dates are written. Args: the command's parser."""
    import argparse

    for name, said in (("dayfirst", "03/04 is 3 April"), ("yearfirst", "26/11/10 is in 2026")):
        parser.add_argument(
            f"--{name}", action=argparse.BooleanOptionalAction, help=f"whether {said}"
        )


def _export(options) -> str:
    from core.errors import BadRequest
    from core.ground.files.output import check_output, write_output
    from core.ground.store import open_property
    from core.log.tables import counted, entries_csv, entries_geojson

    ending = Path(options.out).suffix.casefold()
    if ending not in ENDINGS:
        raise BadRequest("has another ending", options.out, f"Use one of {', '.join(ENDINGS)}.")
    check_output(options.out, replace=options.replace, inputs=[options.property])
    if ending == ".zip":
        data, told = _everything()
    else:
        ground = open_property(options.property).property
        with journal_of(options, ground) as journal:
            entries = journal.entries()
        some = [e for e in entries if options.kind in (None, e.kind)]
        if ending == ".csv":
            data, told = entries_csv(some, options.kind).encode(), [counted(len(some))]
        else:
            text, n = entries_geojson(some, ground)
            data, told = text.encode(), [f"{n} of {counted(len(some))} have a place"]
    write_output(options.out, data, replace=options.replace, inputs=[options.property])
    if options.json:
        return as_json({"file": Path(options.out).name, "bytes": len(data), "holds": told})
    return f"Wrote {Path(options.out).name}, {len(data) / 1000:.0f} kB: {'; '.join(told)}."


def _everything() -> tuple[bytes, list[str]]:
    import io

    from core.log.whole import everything_to

    out = io.BytesIO()
    told = everything_to(out)
    return out.getvalue(), told


def _import(options) -> str | list[str]:
    from core.errors import BadRequest

    path = Path(options.file)
    try:
        data = path.read_bytes()
    except OSError as fault:
        raise BadRequest(
            f"can't be read ({fault.strerror})", path.name, "Look at its name."
        ) from None
    options.exit_code = 0 if options.yes else 2
    if path.suffix.casefold() == ".zip":
        return _import_all(options, data)
    return _import_table(options, data)


def _import_all(options, data: bytes) -> str | list[str]:
    import io

    from core.log.bringing_in import bring_in
    from core.log.look_into import look_into

    name = Path(options.file).name
    if options.yes:
        said = bring_in(io.BytesIO(data), name, replace=options.replace)
    else:
        said = look_into(io.BytesIO(data), name).lines()
    if options.json:
        return as_json({"kept": options.yes, "told": said})
    return said if options.yes else [*said, "Nothing was brought in. Add --yes to do it."]


def _import_table(options, data: bytes) -> str | list[str]:
    from core.ground.store import open_property
    from core.keep.log import journal_path
    from core.log.bringing_in import add_new, loose_text
    from core.log.former import column_answers, read_in
    from core.log.tables import counted
    from core.weather.answers import Answers

    ground = open_property(options.property).property
    answers = Answers(
        dayfirst=options.dayfirst,
        yearfirst=options.yearfirst,
        columns=column_answers(options.column),
    )
    found = read_in(data, ground, Path(options.file).name, answers, _stamp(options, ground))
    new, ids = 0, []
    own = Path(options.log) if options.log else journal_path(ground.uid)
    if options.yes or own.exists():
        with journal_of(options, ground, new=options.yes) as journal:
            ids = [e.id for e in journal.entries(removed=True)]
            new = add_new(journal, found.entries) if options.yes else 0
    notes = [*found.notes, *filter(None, [loose_text(found.entries, ids)])]
    if options.json:
        told = {"entries": len(found.entries), "new": new, "told": notes}
        return as_json({"kept": options.yes, **told})
    said = counted(len(found.entries))
    if options.yes:
        return [*notes, f"{said}, {new} of them new."]
    return [*notes, f"{said}. Nothing was kept. Add --yes to keep them."]


def _stamp(options, ground) -> str:
    import datetime
    from zoneinfo import ZoneInfo

    now = datetime.datetime.fromtimestamp(now_from(options.now), ZoneInfo(ground.timezone))
    return now.isoformat(timespec="seconds")

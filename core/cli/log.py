"""log: what happened, added by a sentence, listed, changed, and what it teaches."""

from dataclasses import replace

from core.cli import log_files
from core.cli.kept_log import add_log, journal_of
from core.cli.shared import as_json, common, date_of, now_from


def register(commands) -> None:
    """Adds these commands. Args: argparse's subparsers."""
    log = commands.add_parser("log", help="what happened, and what it teaches")
    acts = log.add_subparsers(dest="act", required=True, metavar="ACT", help="what to do")
    add = _act(acts, "add", "keeps a line of notes", _add)
    add.add_argument("sentence", help="such as 'plum edge am. 7:40 2 does. left 9:30'")
    add.add_argument("--date", help="the day of the line; today where it is not given")
    add.add_argument("--yes", action="store_true", help="keep what is clear, leave out the rest")
    listed = _act(acts, "list", "the entries, by date", _list)
    listed.add_argument("--kind", help="only this kind")
    listed.add_argument("--since", help="the first day, like 2026-11-01")
    listed.add_argument("--removed", action="store_true", help="removed ones too")
    for name, what, run in (
        ("show", "one entry, with what it said before", _show),
        ("remove", "hides an entry", _remove),
        ("restore", "shows a removed entry again", _restore),
    ):
        _act(acts, name, what, run).add_argument("id", help="the id, as `log list` tells it")
    change = _act(acts, "change", "changes an entry; what it said before is kept", _change)
    change.add_argument("id", help="the id, as `log list` tells it")
    change.add_argument(
        "values", nargs="+", metavar="NAME=VALUE", help="such as winded=yes; empty takes it out"
    )
    led = _act(acts, "ledger", "for how long your air lay on each bed and plot", _ledger)
    led.add_argument("--days", type=int, help="how many days back; the season by default")
    log_files.register(acts)
    _act(acts, "score", "how often what was called came true", _score)


def _act(acts, name: str, what: str, run):
    parser = acts.add_parser(name, help=what)
    common(parser, run)
    add_log(parser)
    return parser


def _ground(options):
    from core.ground.store import open_property

    return open_property(options.property).property


def _local(options, ground):
    """The clock where the ground is."""
    import datetime
    from zoneinfo import ZoneInfo

    return datetime.datetime.fromtimestamp(now_from(options.now), ZoneInfo(ground.timezone))


def _add(options) -> str | list[str]:
    from core.keep.entries import SIT
    from core.keep.sentence import understand
    from core.keep.understood import with_kept_twice

    ground = _ground(options)
    now = _local(options, ground)
    today = date_of(options.date) if options.date else now.date()
    said = understand(options.sentence, ground, today, now.isoformat(timespec="seconds"))
    kept: list[str] = []
    unclear = bool(said.asked) and not options.yes
    if said.entries and not unclear:
        with journal_of(options, ground, new=True) as journal:
            there = journal.entries(SIT, since=min(e.date for e in said.entries))
            said = with_kept_twice(said, there, ground)
            unclear = bool(said.asked) and not options.yes
            kept = [] if unclear else journal.add(said.entries)
    options.exit_code = 2 if unclear else 0
    if options.json:
        asked = [f"{q.text}: {q.asks}" for q in said.asked]
        return as_json(
            {"understood": [_plain(e) for e in said.entries], "asked": asked, "kept": kept}
        )
    lines = [f"{piece.text}: {piece.means}" for piece in said.pieces]
    lines += [_asked(question) for question in said.asked]
    if unclear:
        lines.append("Nothing was kept. Say it more clearly, or add --yes to keep what is clear.")
    elif kept:
        lines.append(f"Kept: {len(kept)} {'entry' if len(kept) == 1 else 'entries'}.")
    else:
        lines.append("There was nothing to keep.")
    return lines


def _asked(question) -> str:
    choices = f" ({', '.join(question.choices)})" if question.choices else ""
    return f"Not clear: {question.text}. {question.asks}{choices}"


def _list(options) -> str | list[str]:
    since = date_of(options.since).isoformat() if options.since else ""
    ground = _ground(options)
    with journal_of(options, ground) as journal:
        found = journal.entries(options.kind, since=since, removed=options.removed)
    if options.json:
        return as_json({"entries": [_plain(e) for e in found]})
    return [_line(entry, ground) for entry in found] or "The log is empty."


def _show(options) -> str | list[str]:
    ground = _ground(options)
    with journal_of(options, ground) as journal:
        entry, former = journal.entry(options.id), journal.former(options.id)
    if options.json:
        return as_json({"entry": _plain(entry), "former": [_plain(e) for e in former]})
    told = [f"{name}: {value}" for name, value in _plain(entry).items()]
    return [*told, *(f"before: {_line(old, ground)}" for old in former)]


def _remove(options) -> str:
    with journal_of(options, _ground(options)) as journal:
        journal.remove(options.id)
    return f"Removed. `log restore {options.id}` shows it again."


def _restore(options) -> str:
    with journal_of(options, _ground(options)) as journal:
        journal.bring_back(options.id)
    return "Back in the log."


def _change(options) -> str:
    from core.keep.entries import entry_of
    from core.keep.typed_values import changed_values

    with journal_of(options, _ground(options)) as journal:
        old = journal.entry(options.id)
        date, values = changed_values(old, options.values)
        checked = entry_of(old.kind, date, values, of=old.of, id_=old.id)
        new = journal.change(replace(checked, written=old.written, removed=old.removed))
    return as_json({"entry": _plain(new)}) if options.json else "Changed."


def _score(options) -> str | list[str]:
    from core.chance.count import own_count
    from core.keep.score import scores
    from core.say.chance.words import count_text
    from core.say.log.lines import score_line

    ground = _ground(options)
    with journal_of(options, ground) as journal:
        entries = list(journal.entries())
    found = scores(entries)
    if options.json:
        rows = [
            {
                "stand": s.stand,
                "verdict": s.verdict,
                "source": s.source or None,
                "sits": s.sits,
                "winded": s.winded,
                "low": round(s.low, 3),
                "high": round(s.high, 3),
            }
            for s in found
        ]
        held = [
            {"said_of_ten": said, "held": n[0], "sits": n[1]}
            for said, n in own_count(entries).items()
        ]
        return as_json({"scores": rows, "held": held})
    lines = [score_line(s, ground) for s in found if s.claims and not s.source]
    lines += filter(None, [count_text(entries)])
    return lines or "Too few sits yet to say: five of a kind are needed."


def _ledger(options) -> str | list[str]:
    from core.cli.shared import scene_at
    from core.errors import BadRequest
    from core.keep.log import weather_of
    from core.log.ledger import ledger
    from core.say.log.ledger import ledger_dict, ledger_lines, season_first

    if options.days is not None and options.days < 1:
        raise BadRequest(f"'{options.days}' is no number of days", "--days", "Use 1 or more.")
    scene = scene_at(options.property)
    ground = scene.ground
    today = _local(options, ground).date()
    with journal_of(options, ground) as journal:
        entries = journal.entries()
        found = ledger(entries, ground, weather_of(journal), scene)
    if options.json:
        return as_json(ledger_dict(found, ground, today, options.days))
    days = options.days or (today - season_first(ground, today)).days + 1
    return ledger_lines(found, {e.id: e for e in entries}, ground, today, days)


def _plain(entry) -> dict:
    """An entry as plain values."""
    told = {"id": entry.id, "kind": entry.kind, "date": entry.date, "of": entry.of}
    told |= dict(entry.values) | {"written": entry.written, "changed": entry.changed}
    return told | ({"removed": entry.removed} if entry.removed else {})


def _line(entry, ground) -> str:
    """An entry on one line, with its id."""
    from core.say.log.lines import entry_line

    gone = " (removed)" if entry.removed else ""
    return f"{entry.date}{gone} {entry_line(entry, ground)} [{entry.id}]"

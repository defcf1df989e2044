"""Which log a command reads: the one named, else the property's own."""

from pathlib import Path


def add_log(parser) -> None:
    """Adds --log. Args: the command's parser."""
    parser.add_argument("--log", help="a journal file; the property's own by default")


def log_of(options, ground):
    """What the log tells, for an answer to rest on.

    Args: the parsed words; the property. Returns: its entries, None where there is no log.
    Raises: BadRequest for a file that is not there; BadJournal.
    """
    from core.errors import BadRequest
    from core.keep.log import journal_path

    if not options.log:
        if not journal_path(ground.uid).exists():
            return None
    elif not Path(options.log).is_file():
        raise BadRequest("there is no such file", Path(options.log).name, "Look at its name.")
    with journal_of(options, ground) as journal:
        return tuple(journal.entries())


def journal_of(options, ground):
    """The journal, made where there is none. Args: as `log_of`. Raises: BadJournal."""
    from core.keep.journal import Journal
    from core.keep.log import open_journal

    if options.log:
        return Journal(Path(options.log), ground.uid)
    return open_journal(ground.uid)

"""Which log a command reads: the one named, else the property's own."""

import sys
from pathlib import Path

from core.cli.printing import put


def add_log(parser) -> None:
    """Adds --log. Args: the command's parser."""
    parser.add_argument("--log", help="a journal file; the property's own by default")


def log_of(options, ground):
    """What the log tells, for an answer to rest on.

    Args: the parsed words; the property. Returns: its entries, None where there is no log.
    Raises: BadRequest for a file that is not there; BadJournal.
    """
    from core.keep.log import journal_path

    if not options.log and not journal_path(ground.uid).exists():
        return None
    with journal_of(options, ground) as journal:
        return tuple(journal.entries())


def journal_of(options, ground, *, new: bool = False):
    """The journal; what was put right in it is told on stderr.

    Args: as `log_of`; whether one that is named may be made. Raises: BadRequest for a named
    file that is not there; BadJournal.
    """
    from core.errors import BadRequest
    from core.keep.journal import Journal
    from core.keep.log import open_journal

    if not options.log:
        journal = open_journal(ground.uid)
    elif new or Path(options.log).exists():
        journal = Journal(Path(options.log), ground.uid, named=True)
    else:
        raise BadRequest("there is no such file", Path(options.log).name, "Look at its name.")
    put(journal.notes, sys.stderr)
    return journal

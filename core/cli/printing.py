"""Text to the terminal, a pipe or a file behind `>`: all of it, or a word that it was not."""

import argparse
import os
import sys
from collections.abc import Iterable

from core.harmless import harmless


def put(lines: Iterable[str], stream) -> str:
    """Writes lines and sees that they have arrived.

    What the terminal would obey in them is shown instead; nothing else in `core` writes
    to it. Args: the lines, without their ends; standard output or standard error.
    Returns: why it could not be written, such as a full disk; empty where it was, and
    for a reader that has gone, as `| head` does when it has enough.
    """
    text = "".join(f"{harmless(line)}\n" for line in lines)
    if stream is None:  # closed by the caller
        return "standard output is closed" if text else ""
    if hasattr(stream, "reconfigure"):
        # half a character in a file's name is shown, not stumbled over
        newline = "\n" if stream is sys.stdout else None
        stream.reconfigure(encoding="utf-8", newline=newline, errors="backslashreplace")
    try:
        stream.write(text)
        stream.flush()
    except OSError as fault:
        # what is left in the buffer must not be tried again at the end
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())
        return "" if isinstance(fault, BrokenPipeError) else str(fault.strerror or fault)
    return ""


class Parser(argparse.ArgumentParser):
    """A parser whose messages go out as all text does: words such as the names of files that
    a `*` stands for may hold what a terminal obeys."""

    def error(self, message: str):
        """Ends the program with 2. Args: what is wrong. Raises: SystemExit."""
        super().error(" ".join(message.split()))

    def _print_message(self, message: str, file=None) -> None:
        lost = put(message.removesuffix("\n").split("\n"), file or sys.stderr)
        if lost and file is sys.stdout:
            self.exit(2, f"The answer could not be written: {lost}.\n")

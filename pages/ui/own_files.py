"""Weather files of the user's own: kept while the session lasts, and asked about in place."""

import hashlib
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import streamlit as st

from core.ground.layout import Property
from core.weather.answers import Answers
from core.weather.elsewhere import for_ground
from core.weather.hours import Hours
from pages.ui import frame, state
from pages.ui.asking import answered

MOST_NAMED = 3
File = tuple[bytes, str]  # as core.weather.files.history takes it


@dataclass(frozen=True, slots=True)
class FileSlot:
    """One place where files are brought.

    `key` of its widget and of what it keeps; the label; a name of the button that leaves
    them out, and its words; what is said while there is none; the largest file [MB].
    """

    key: str
    label: str
    leave_key: str
    leave: str
    none_yet: str
    most_mb: int
    several: bool = False
    help: str | None = None

    @property
    def kept(self) -> str:
        return f"{self.key}_kept"

    @property
    def read(self) -> str:
        return f"{self.key}_read"


def brought(slot: FileSlot) -> Sequence[File]:
    """The files in use: bytes and name of each. Args: the place. Says which they are."""
    st.file_uploader(
        slot.label,
        key=slot.key,
        accept_multiple_files=slot.several,
        on_change=_take,
        args=(slot,),
        max_upload_size=slot.most_mb,
        help=slot.help,
    )
    files: Sequence[File] = st.session_state.get(slot.kept, ())
    if not files:
        st.write(slot.none_yet)
        return ()
    names = ", ".join(name for _, name in files[:MOST_NAMED])
    more = f" and {len(files) - MOST_NAMED} more" if len(files) > MOST_NAMED else ""
    with st.container(horizontal=True, key=f"own_{slot.key}"):
        st.write(f"In use: {frame.plain(f'{names}{more}')}")
        st.button(slot.leave, key=slot.leave_key, on_click=_leave, args=(slot,))
    return files


def _take(slot: FileSlot) -> None:
    """Files are kept while the session lasts: the widget forgets them on another page."""
    given = st.session_state.get(slot.key)
    if not given:
        _leave(slot)
    else:
        files = given if slot.several else [given]
        st.session_state[slot.kept] = tuple((f.getvalue(), f.name) for f in files)


def _leave(slot: FileSlot) -> None:
    st.session_state.pop(slot.kept, None)
    st.session_state.pop(slot.read, None)


def put_back(slot: FileSlot, files: Sequence[File]) -> None:
    """Takes files into use that were brought before. Args: the place; bytes and names."""
    st.session_state[slot.kept] = tuple(files)


def hours_from(
    slot: FileSlot,
    files: Sequence[File],
    ground: Property,
    read: Callable[[Sequence[File], Answers], Hours],
    answers: Answers | None = None,
) -> Hours | None:
    """The hours of files, read once; what they leave open is asked here.

    Args: the place; the files; the ground they have to be for, whose zone is offered first;
    what reads them; what was answered about them before. Returns: None while a question is
    open. Raises: StandWindError.
    """
    mark = hashlib.sha256(b"".join(hashlib.sha256(data).digest() for data, _ in files))
    name = mark.hexdigest()[:12]

    def once(answers: Answers) -> Hours:
        asked = (tuple(n for _, n in files), name, answers, ground.center)
        return state.kept_while(
            slot.read,
            asked,
            lambda: for_ground(read(files, answers), ground.center, files[0][1], answers),
        )

    return answered(once, answers or Answers(likely_zone=ground.timezone), name)


def read_now(slot: FileSlot, ground: Property) -> list[Hours]:
    """The hours of files that were read for a ground and are in use; none else.

    Args: the place; the ground."""
    held = st.session_state.get(slot.read)
    in_use = bool(st.session_state.get(slot.kept))
    return [held[1]] if in_use and held is not None and held[0][3] == ground.center else []


def answers_of(slot: FileSlot) -> Answers:
    """What was answered about the files read last. Args: the place, read before."""
    return st.session_state[slot.read][0][2]


def question(slot: FileSlot) -> tuple:
    """What tells the hours read last from others. Args: the place, read before."""
    return st.session_state[slot.read][0]

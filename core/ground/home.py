"""Where the user's own files live."""

import os
from pathlib import Path

from core.errors import BadRequest
from core.ground.fields import shown

PROGRAM = "stand-and-wind"
HOME_VARIABLE = "STAND_WIND_HOME"


def data_folder() -> Path:
    """The user's folder: STAND_WIND_HOME, or the platform's; it need not be there yet.

    Raises: BadRequest for a name that leads to another folder from every place one
    stands in, or to what is no folder.
    """
    named = os.environ.get(HOME_VARIABLE)
    if not named:
        import platformdirs

        return Path(platformdirs.user_data_dir(PROGRAM, appauthor=False))
    try:
        folder = Path(named).expanduser()
    except RuntimeError:  # no such user
        folder = Path(named)
    if not folder.is_absolute():
        raise BadRequest(
            f"{HOME_VARIABLE} is {shown(named)}, not a whole path: it would lead to another "
            "folder from every place you start in",
            "",
            "Write all of it, from the top or from ~, like ~/deer.",
        )
    if _is_no_folder(folder):
        raise BadRequest(
            f"{HOME_VARIABLE} is {shown(named)}, a file and not a folder", "", "Name a folder."
        )
    return folder


def _is_no_folder(folder: Path) -> bool:
    try:
        return folder.exists() and not folder.is_dir()
    except OSError:
        return False  # what is tried there tells


def own_properties() -> tuple[Path, ...]:
    """The user's own property files, by name; none where there is no folder yet.

    Raises: BadRequest where the folder can't be looked into.
    """
    folder = data_folder()
    try:
        found = [one for one in folder.iterdir() if one.suffix == ".json" and not one.is_dir()]
    except FileNotFoundError:
        return ()
    except OSError as fault:
        raise BadRequest(
            f"the folder can't be looked into: {fault.strerror or fault}",
            str(folder),
            "Mend its rights, or name another in STAND_WIND_HOME.",
        ) from None
    return tuple(sorted(found))


def new_path(name: str) -> Path:
    """A file in the user's folder for a property of this name, not there yet."""
    letters = "".join(c if c.isascii() and c.isalnum() else "-" for c in name.lower())
    stem = "-".join(part for part in letters.split("-") if part)[:40] or "property"
    folder = data_folder()
    tries = (f"{stem}-{n}" if n > 1 else stem for n in range(1, 1_000_000))
    return next(p for p in (folder / f"{s}.json" for s in tries) if not p.exists())

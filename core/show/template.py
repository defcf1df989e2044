"""HTML from the files in templates/, where every word that is put in is escaped.

What is HTML already is either the result of `filled` or stands with `safe` in the
template that takes it: the drawings of `core.show.canvas`, and nothing else.
"""

import base64
import functools
from pathlib import Path
from typing import TYPE_CHECKING, Any

from core.harmless import harmless
from core.say.words import VERDICTS_SAID
from core.show.marks import mark_image
from core.show.palette import DARK

if TYPE_CHECKING:
    from jinja2 import Environment
    from markupsafe import Markup

FOLDER = Path(__file__).with_name("templates")


def filled(template: str, /, **values: Any) -> "Markup":
    """One template with its values.

    Args: the file's name in templates/; what it names. Returns: HTML, which another
    template takes as it is. Raises: jinja2.UndefinedError where a value is missing.
    """
    from markupsafe import Markup

    return Markup(_environment().get_template(template).render(values).strip())


@functools.cache
def _environment() -> "Environment":
    # imported here: the command line answers without HTML, and does not wait for it
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    made = Environment(
        loader=FileSystemLoader(FOLDER),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
        finalize=lambda value: harmless(value) if type(value) is str else value,
    )
    made.globals.update(verdict_word=VERDICTS_SAID.__getitem__, mark_picture=_mark_picture)
    return made


@functools.cache
def _mark_picture(verdict: int) -> str:
    """A verdict's mark in the colours of the dark, as the address of an image."""
    drawn = base64.b64encode(mark_image(verdict, DARK).encode()).decode()
    return f"data:image/svg+xml;base64,{drawn}"

"""The form beside the map: one chosen thing, its name and what the file knows of it.

What is typed goes into the draft at once, as a step that can be undone. The draft is
always the truth: before each run every box is set to what the draft says.
"""

from functools import partial
from typing import Any

import streamlit as st

from core.ground.drawing.edits import feature_of, model_of, told
from core.ground.layout import Lane, Stand
from core.say.measures import measured
from pages.ui import frame
from pages.ui.draw import changes
from pages.ui.draw import form_rows as f
from pages.ui.draw.form_places import ask_places, ask_slope, name_of, show_in_box
from pages.ui.draw.form_values import shown_value, value_at, written_value
from pages.ui.draw.kinds import KIND_WORDS

NO_STAND = (
    "It leads to no stand yet: choose one below, or drag its end to one. Then it can be saved."
)


def chosen_form(document: dict, id_: str) -> None:
    """The form of one feature. Args: the draft's document; the feature's id."""
    feature = feature_of(document, id_)
    if feature is None:
        if document["features"]:
            st.caption("Tap a thing on the map, or choose one in the list above.")
        return
    kind, model = feature["properties"]["kind"], model_of(document, feature)
    st.subheader(KIND_WORDS[kind])
    for line in measured(document, id_):
        st.caption(frame.plain(line))
    if isinstance(model, Lane) and not model.stands:
        st.caption(NO_STAND)
    _ask(document, id_, model, f.FormRow(("name",), "Name", f.TEXT))
    rows = f.ROWS.get(kind, f.MARK)
    for row in rows:
        if not row.more:
            _ask(document, id_, model, row)
    if any(row.more for row in rows):
        with st.expander("More"):
            _ask_more(document, id_, model, rows)
    ask_places(feature)


def _ask_more(document: dict, id_: str, model: Any, rows: tuple[f.FormRow, ...]) -> None:
    for row in rows:
        if row.more:
            _ask(document, id_, model, row)
    if isinstance(model, Stand):
        ask_slope(id_, model)
        for part in document["property"].get("parts", []):
            for row in f.part_rows(part["name"]):
                _ask(document, id_, model, row)


def _ask(document: dict, id_: str, model: Any, row: f.FormRow) -> None:
    key = f"ask-{id_}-{'.'.join(row.path)}"
    show_in_box(key, shown_value(row, value_at(model, row.path)))
    common = {"key": key, "help": row.help, "on_change": partial(_answered, id_, row, key)}
    if row.how == f.CHOICE:
        words = dict(row.words)
        st.selectbox(row.label, list(words), format_func=words.get, **common)
    elif row.how == f.NUMBER:
        st.number_input(row.label, min_value=0.0, step=1.0, format="%g", **common)
    elif row.how == f.TICK:
        st.checkbox(row.label, **common)
    elif row.how == f.LONG:
        st.text_area(row.label, height=90, **common)
    elif row.how == f.MONTHS:
        st.multiselect(row.label, range(1, 13), format_func=_month, **common)
    elif row.how == f.STANDS:
        names = {
            s["id"]: s["properties"].get("name") or s["id"]
            for s in document["features"]
            if s["properties"]["kind"] == "stand"
        }
        st.multiselect(row.label, list(names), format_func=names.get, **common)
    else:
        st.text_input(row.label, **common)


def _month(number: int) -> str:
    return f.MONTH_NAMES[number - 1]


def _answered(id_: str, row: f.FormRow, key: str) -> None:
    try:
        value = written_value(row, st.session_state[key])
    except ValueError:
        changes.complain(f'"{st.session_state[key]}" is not directions. Write them like 250-320.')
        return
    said = f"{name_of(id_)}: {row.label.lower()}"
    changes.apply(lambda d: told(d, id_, row.path, value), said)

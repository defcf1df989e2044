"""A property that is being changed and not yet saved: what was done, undone and redone.

A draft is made of plain values, so that a screen can keep it. Documents in it are never
changed in place: every step holds a new one that shares what stayed the same.
"""

from typing import TypedDict

MOST_STEPS = 200


class Step(TypedDict):
    """What was done, and the document before it (in `past`) or after it (in `future`)."""

    said: str
    document: dict


class Draft(TypedDict):
    """The document as it is now, and the ways back and forth, the nearest last."""

    document: dict
    past: tuple[Step, ...]
    future: tuple[Step, ...]


def new_draft(document: dict) -> Draft:
    """A draft in which nothing was done yet. Args: a property's document."""
    return {"document": document, "past": (), "future": ()}


def changed(draft: Draft, document: dict, said: str) -> Draft:
    """The draft after one more step; what was undone before it is gone.

    Args:
        draft: the draft before.
        document: the document after the step; one that is no different is no step.
        said: what was done, in words.
    """
    if document == draft["document"]:
        return draft
    step: Step = {"said": said, "document": draft["document"]}
    past = (*draft["past"], step)[-MOST_STEPS:]
    return {"document": document, "past": past, "future": ()}


def undone(draft: Draft) -> Draft:
    """The draft one step back; the same where there is none."""
    if not draft["past"]:
        return draft
    *past, step = draft["past"]
    back: Step = {"said": step["said"], "document": draft["document"]}
    return {
        "document": step["document"],
        "past": tuple(past),
        "future": (*draft["future"], back),
    }


def redone(draft: Draft) -> Draft:
    """The draft with its last undone step done again; the same where there is none."""
    if not draft["future"]:
        return draft
    *future, step = draft["future"]
    again: Step = {"said": step["said"], "document": draft["document"]}
    return {
        "document": step["document"],
        "past": (*draft["past"], again),
        "future": tuple(future),
    }

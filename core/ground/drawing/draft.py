"""A property that is being changed and not yet saved: what was done, undone and redone.

Documents in a draft are never changed in place: every step holds a new one that shares
what stayed the same.
"""

from dataclasses import dataclass, replace

MOST_STEPS = 200


@dataclass(frozen=True, slots=True)
class Step:
    """What was done in words, and the document before it (in `past`) or after it (in `future`)."""

    done: str
    document: dict


@dataclass(frozen=True, slots=True)
class Draft:
    """The document as it is now, and the ways back and forth, the nearest last."""

    document: dict
    past: tuple[Step, ...] = ()
    future: tuple[Step, ...] = ()


def changed(draft: Draft, document: dict, done: str) -> Draft:
    """The draft after one more step; what was undone before it is gone.

    Args:
        draft: the draft before.
        document: the document after the step; one that is no different is no step.
        done: what was done, in words.
    """
    if document == draft.document:
        return draft
    return Draft(document, (*draft.past, Step(done, draft.document))[-MOST_STEPS:])


def undone(draft: Draft) -> Draft:
    """The draft one step back; the same where there is none."""
    if not draft.past:
        return draft
    *past, step = draft.past
    back = replace(step, document=draft.document)
    return Draft(step.document, tuple(past), (*draft.future, back))


def redone(draft: Draft) -> Draft:
    """The draft with its last undone step done again; the same where there is none."""
    if not draft.future:
        return draft
    *future, step = draft.future
    again = replace(step, document=draft.document)
    return Draft(step.document, (*draft.past, again), tuple(future))

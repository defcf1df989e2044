"""The members of `property.work` in a document, changed one by one."""

from typing import Any


def with_work(document: dict, **members: Any) -> dict:
    """A document in which some of the work's own members are others.

    Args: a property's document; members of `property.work`, None to take one out.
    """
    rules = document["property"]
    work = {**(rules.get("work") or {}), **members}
    return {
        **document,
        "property": {**rules, "work": {k: v for k, v in work.items() if v is not None}},
    }

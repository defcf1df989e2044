"""Criticism of a whole ground, and keeping quiet what its owner has accepted."""

import dataclasses
from collections import Counter

from core.criticism.common_wind import CommonWind
from core.criticism.deer_places import bed_findings, corridor_findings, truck_findings
from core.criticism.finding import WHY, Finding
from core.criticism.lanes import lane_findings
from core.criticism.slopes import slope_findings
from core.criticism.stands import stand_findings
from core.errors import BadRequest
from core.ground.fields import printable
from core.ground.layout import Property
from core.sit.scene import Scene

MOST_CHARACTERS = 1000


def review(scene: Scene, wind: CommonWind | None = None) -> tuple[Finding, ...]:
    """Every criticism of a ground, accepted ones too: the smaller ones last, and within
    both the features with the most of them first.

    Args: the ground's scene; the common wind, None leaves out who is upwind on it.
    """
    findings = (
        *lane_findings(scene),
        *stand_findings(scene),
        *slope_findings(scene),
        *corridor_findings(scene),
        *bed_findings(scene),
        *truck_findings(scene, wind),
    )
    counts = Counter(f.id for f in findings)
    return tuple(sorted(findings, key=lambda f: (f.is_smaller, -counts[f.id])))


def still_said(ground: Property, findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """The findings that the owner has not accepted. Args: the property; its findings."""
    return tuple(f for f in findings if f.key not in ground.accepted)


def with_accepted(document: dict, key: str, *, accepted: bool) -> dict:
    """A document in which a finding is accepted, or no longer; all else as it was.

    Args: a property's document, not changed; a finding's key; which of the two.
    Raises: BadRequest for a key that no finding can have.
    """
    if key.partition(":")[0] not in WHY:
        raise BadRequest(f"'{key}' is no criticism", "accepted", "Use a finding's own key.")
    rules = document["property"]
    # words of other programs may stand in the list: they stay
    kept = [word for word in rules.get("accepted") or [] if word != key]
    return {**document, "property": {**rules, "accepted": [*kept, *([key] if accepted else [])]}}


def finding_line(one: Finding) -> str:
    """A finding in one line: name, measure, why, source. Args: the finding."""
    return f"{one.name}: {one.text}. {one.why} ({one.source})"


def review_lines(ground: Property, findings: tuple[Finding, ...]) -> list[str]:
    """Findings as lines of text; accepted ones are only counted.

    Args: the property; its findings.
    """
    unaccepted = still_said(ground, findings)
    quiet = len(findings) - len(unaccepted)
    head = f"criticism: {len(unaccepted) or 'none'}" + (f", and {quiet} accepted" if quiet else "")
    return [head, *(f"- {printable(finding_line(f), MOST_CHARACTERS)}" for f in unaccepted)]


def finding_dicts(ground: Property, findings: tuple[Finding, ...]) -> list[dict]:
    """Findings as plain values, each with its key and whether it is accepted.

    Args: the property; its findings.
    """
    return [
        {
            **dataclasses.asdict(f),
            "value": round(f.value, 1),
            "key": f.key,
            "accepted": f.key in ground.accepted,
        }
        for f in findings
    ]

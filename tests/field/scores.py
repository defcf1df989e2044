"""How well values said agree with values measured.

FAC2 is the share within a factor of two; FB = 2 (mean measured - mean said) / (their
sum), over 0 where too little is said; NMSE = mean squared difference / product of the
means; MG = exp of the mean of ln(measured / said), over 1 where too little is said.
Chang and Hanna (2004), from memory.
"""

import math

import numpy as np

ARCS_M = (50, 100, 200, 400, 800)


def score(measured, said) -> dict[str, float | int | None]:
    """The scores of the pairs in which both are known; None where there are too few."""
    measured, said = np.asarray(measured, float), np.asarray(said, float)
    both = np.isfinite(measured) & np.isfinite(said)
    o, p = measured[both], said[both]
    if not len(o):
        return {"n": 0, "fac2": None, "fb": None, "nmse": None, "mg": None}
    total, product = o.mean() + p.mean(), o.mean() * p.mean()
    positive = (o > 0) & (p > 0)
    mg = math.exp(np.log(o[positive] / p[positive]).mean()) if positive.any() else None
    return {
        "n": len(o),
        "fac2": float(np.mean((o >= 0.5 * p) & (o <= 2.0 * p))),
        "fb": float(2.0 * (o.mean() - p.mean()) / total) if total else None,
        "nmse": float(np.mean((o - p) ** 2) / product) if product else None,
        "mg": mg,
    }


def by_arc(arc_m, measured, said) -> dict[str, dict]:
    """Scores pooled ("all") and for each arc of the file."""
    arc_m = np.asarray(arc_m, float)
    arcs = sorted({*ARCS_M, *np.unique(arc_m[np.isfinite(arc_m)])})
    found = {"all": score(measured, said)}
    return found | {f"{arc:g}": score(measured[arc_m == arc], said[arc_m == arc]) for arc in arcs}


def by_class(stability, measured, said, letters: str) -> dict[str, dict]:
    """Scores for each class that occurs."""
    return {
        letter: score(measured[stability == i], said[stability == i])
        for i, letter in enumerate(letters)
        if (stability == i).any()
    }

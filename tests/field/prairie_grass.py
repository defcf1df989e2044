"""The program's air against a field experiment.

    python tests/field/prairie_grass.py FILE [--json]

Runs the program's own class, wind, spread and thinning on each arc of a file with the
columns of Project Prairie Grass (1956) and prints how well arc maxima and widths are
said: pooled, by arc and by class. Two ways of knowing the air: as it was measured (class
from the Obukhov length, wind at 2 m, the site's roughness) and as a forecast would have
it (wind at 10 m, sun, a clear sky; the program's open ground). No number is fitted.
The gas is lost to the grass on its way: 800 m is told, not judged.
"""

import argparse
import json
import sys
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from core.air.spread import OPEN_ROUGHNESS_M
from core.air.stability import CLASSES
from core.errors import StandWindError
from tests.field.choices import CHOICES, chosen_by_the_others, said_by
from tests.field.likely import likely_table
from tests.field.runs import (
    SITE_ROUGHNESS_M,
    Air,
    Runs,
    arc_maximum,
    arc_width_m,
    forecast_air,
    measured_air,
    read_runs,
    sky_class,
)
from tests.field.scores import by_arc, by_class


def evaluate(runs: Runs, roughness_m: float = SITE_ROUGHNESS_M) -> dict:
    """Every score of a file, as `--json` prints them."""
    measured, forecast = measured_air(runs, roughness_m), forecast_air(runs)
    open_ground = measured_air(runs, OPEN_ROUGHNESS_M)
    whole = ~runs.cut
    width = np.where(whole, runs.sigma_y_m, np.nan)
    maxima = {
        "arc_max": (measured, runs.observed, arc_maximum(runs, measured)),
        "arc_max_sky": (forecast, runs.observed, arc_maximum(runs, forecast)),
        "sigma_y": (measured, width, arc_width_m(runs, measured)),
        "arc_max_open_ground": (open_ground, runs.observed, arc_maximum(runs, open_ground)),
        "sigma_y_cut_arcs_too": (measured, runs.sigma_y_m, arc_width_m(runs, measured)),
    }
    found = {name: by_arc(runs.arc_m, o, p) for name, (_, o, p) in maxima.items()}
    found["by_class"] = {
        name: by_class(air.stability, o, p, CLASSES) for name, (air, o, p) in maxima.items()
    }
    known = forecast.stability >= 0
    same = (sky_class(runs) == runs.given_sky_class)[known & (runs.given_sky_class >= 0)]
    found["about"] = {
        "rows": len(runs),
        "runs": len(set(runs.run)),
        "rows_left_out": int((measured.stability < 0).sum()),
        "cut_arcs": int(runs.cut.sum()),
        "roughness_m": roughness_m,
        "sky_class_as_in_the_file": float(same.mean()) if len(same) else None,
    }
    found["choices"] = choices(runs, measured)
    found["likely"] = likely_table(runs)
    return found


def choices(runs: Runs, air: Air) -> dict:
    """Scores of the formulas tried, and of the choice made with each run left out."""
    safe = Air(np.maximum(air.stability, 0), air.carried_mps, air.effective_mps, air.roughness_m)

    def scored(said):
        return by_arc(runs.arc_m, runs.observed, np.where(air.stability >= 0, said, np.nan))

    found = {name: scored(said_by(name, runs, safe)) for name in CHOICES}
    said, times = chosen_by_the_others(runs, safe)
    chosen = {name: n for name, n in times.items() if n}
    return found | {"left_out": scored(said), "left_out_chose": chosen}


def shown(value: float | None, form: str = "5.2f") -> str:
    return " " * 4 + "-" if value is None else format(value, form)


def table(title: str, scores: dict[str, dict]) -> list[str]:
    """One block of the printed report."""
    lines = [f"\n{title}", f"{'':>34}{'n':>5}{'FAC2':>7}{'FB':>7}{'NMSE':>7}{'MG':>7}"]
    for name, s in scores.items():
        numbers = "".join(f"  {shown(s[k])}" for k in ("fac2", "fb", "nmse", "mg"))
        lines.append(f"{name:>34}{s['n']:5d}{numbers}")
    return lines


def report(found: dict) -> str:
    """What is printed without `--json`."""
    about = found["about"]
    tried = {n: s["all"] for n, s in found["choices"].items() if n != "left_out_chose"}
    titles = {
        "arc_max": f"Arc maximum, air as measured (roughness {about['roughness_m']:g} m)",
        "arc_max_sky": "Arc maximum, as a forecast would have it",
        "sigma_y": "Width of the plume, arcs cut at their end left out",
        "arc_max_open_ground": f"Arc maximum, air as measured, ground {OPEN_ROUGHNESS_M:g} m",
        "sigma_y_cut_arcs_too": "Width of the plume, cut arcs too",
    }
    lines = [
        f"{about['rows']} rows of {about['runs']} runs; {about['rows_left_out']} left out, "
        f"without class or wind; {about['cut_arcs']} arcs cut at their end.",
    ]
    for name, title in titles.items():
        lines += table(title, found[name])
        lines += table(f"{title}, by class", found["by_class"][name])
    lines += table("Formulas tried on arc maxima, pooled; left_out: by the other runs", tried)
    lines.append(f"The other runs chose: {found['choices']['left_out_chose']}")
    lines.append("\nLike N yards, as it was over as it is said from a forecast, 8 in 10:")
    for name, row in found["likely"].items():
        lines.append(
            f"{name:>34}{row['n']:5d}  {shown(row['low'])} to {shown(row['high'])}; "
            f"left-out runs inside: {shown(row['inside'])}"
        )
    return "\n".join(lines)


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("file", type=Path)
    parser.add_argument("--json", action="store_true")
    parser.add_argument("--roughness", type=float, default=SITE_ROUGHNESS_M, metavar="METRES")
    asked = parser.parse_args()
    try:
        found = evaluate(read_runs(asked.file), asked.roughness)
    except StandWindError as error:
        print(error, file=sys.stderr)
        return 2
    print(json.dumps(found, indent=2) if asked.json else report(found))
    return 0


if __name__ == "__main__":
    sys.exit(main())

"""First sit for a guest: an easy seat, an evening, and someone within call."""

from dataclasses import dataclass

import numpy as np

from core.answer.one_sit import SitAnswer, StandSit
from core.answer.shots import nothing_in_range, trails_in_wrong_air
from core.judge.stand import WATCH
from core.learn.turn_the_wind import turn_sentence, yards
from core.party.seating import FIRST_SIT_FT
from core.say.words import GROUPS_SAID, at_time, in_a_row
from core.sit.minutes import EVENING
from core.sit.scene import Scene
from core.sit.verdicts import GO
from core.units import M_PER_YD

GUEST_SEATS = ("ladder", "box", "ground-blind")  # common practice, no source
WITHIN_YD = 400.0  # common practice, no source
SEAT_WORDS = {
    "hang-on": "a hang-on",
    "ladder": "a ladder",
    "climber": "a climber",
    "saddle": "a saddle",
    "tripod": "a tripod",
    "box": "a box",
    "ground-blind": "a ground blind",
}


@dataclass(frozen=True, eq=False)
class GuestSit:
    """One stand for a guest. `host`: where somebody could sit near, None for nowhere."""

    seat: StandSit
    host: StandSit | None
    fits: bool
    why: tuple[str, ...]


def fits_guests(seat: StandSit) -> bool:
    """Whether a seat is one for guests: its kind, its height, and the owner's mark."""
    return (
        seat.stand.seat in GUEST_SEATS
        and seat.stand.guest_ok
        and seat.stand.height_ft <= FIRST_SIT_FT
    )


def guest_sits(answer: SitAnswer) -> list[GuestSit]:
    """Every stand as a first sit for a guest: those that fit first, in the home order.

    Args: the answer of an evening. A morning or all-day answer fits nothing.
    """
    all_of = [_guest_sit(answer, seat) for seat in answer.stands]
    # keeps the order within each; a seat to watch from comes after those with a shot
    return sorted(all_of, key=lambda g: (not g.fits, g.fits and _only_watches(answer, g.seat)))


def _only_watches(answer: SitAnswer, seat: StandSit) -> bool:
    return seat.wanted != WATCH and nothing_in_range(answer.sit, seat)


def _guest_sit(answer: SitAnswer, seat: StandSit) -> GuestSit:
    sit, stand = answer.sit, seat.stand
    evening, marked, go = sit.clock.sit == EVENING, fits_guests(seat), seat.group == GO
    host = host_for(answer, seat) if marked and go else None
    why = [_seat_line(seat)]
    if not evening:
        why.append("A first sit is an evening: the walk in is by daylight (common practice).")
    if not marked:
        return GuestSit(seat, None, False, tuple(why))
    if not go:
        why.append(f"{GROUPS_SAID[seat.group].capitalize()}: {turn_sentence(sit, seat)}")
        return GuestSit(seat, None, False, tuple(why))
    why.append(turn_sentence(sit, seat))
    if trails := trails_in_wrong_air(sit, seat):
        names = in_a_row(sit.scene.ground.name_of(x) for x in trails)
        why.append(f"Your air lies on {names}, where deer would come: not for a first sit.")
        return GuestSit(seat, None, False, tuple(why))
    if seat.leave_truck_s is not None:
        at = at_time(sit, seat.leave_truck_s)
        why.append(f"You leave the truck at {at}, in daylight.")
    why.append(_host_line(sit.scene, stand, host))
    if host and nothing_in_range(sit, seat):
        why.append(f"No trail or food within {seat.range_yd:.0f} yards: a seat to watch from.")
    return GuestSit(seat, host, evening and host is not None, tuple(why))


def _seat_line(seat: StandSit) -> str:
    stand = seat.stand
    kind = SEAT_WORDS[stand.seat]
    high = f", {stand.height_ft:.0f} feet up" if stand.height_ft > 0 else ", on the ground"
    if fits_guests(seat):
        return f"{stand.name} is {kind}{high}, marked for guests."
    if stand.height_ft > FIRST_SIT_FT:
        return f"{stand.name} is {kind}{high}: above {FIRST_SIT_FT:.0f}, not for a first sit."
    if stand.seat in GUEST_SEATS:
        return f"{stand.name} is {kind}, but not marked for guests."
    return f"{stand.name} is {kind}{high}: not for a first sit (common practice)."


def host_for(answer: SitAnswer, seat: StandSit) -> StandSit | None:
    """The best other stand that is go, near enough to help and far enough to be safe.

    Args: the answer; the guest's stand. Source: common practice, no source.
    """
    for other in answer.stands:
        apart = distance_yd(answer.sit.scene, seat.stand, other.stand)
        near = answer.sit.scene.ground.sit.apart_yd <= apart <= WITHIN_YD
        if other.group == GO and other.stand.id != seat.stand.id and near:
            return other
    return None


def distance_yd(scene: Scene, one, other) -> float:
    """Straight distance between two stands of a scene."""
    delta = scene.stands_m[scene.index(one)] - scene.stands_m[scene.index(other)]
    return float(np.hypot(*delta)) / M_PER_YD


def _host_line(scene: Scene, stand, host: StandSit | None) -> str:
    if host is None:
        return (
            f"No other stand within {WITHIN_YD:.0f} yards is go, so no one would sit near "
            "(common practice)."
        )
    away = yards(distance_yd(scene, stand, host.stand) * M_PER_YD)
    return (
        f"Somebody who knows the ground could sit at {host.stand.name}, {away} off: within "
        f"{WITHIN_YD:.0f} yards (common practice). No shot toward each other."
    )

"""When the sun comes over the land onto a slope, and when it leaves it.

A slope is more than the one tree on it: thirteen places about the stand are asked, and the
sun is on the slope while it reaches half of them or more.
"""

from dataclasses import dataclass, field
from typing import Any

import numpy as np

from core.ground.layout import LonLat
from core.land.derived import MIDDLE, Land
from core.land.horizon import AZIMUTHS, horizon_deg, places_about
from core.land.relief import Floats
from core.sky.daylight import beam_cos

SUN_HALF_DEG = 0.267  # half of the sun's width: its upper edge rises first


@dataclass(frozen=True, eq=False)
class Shade:
    """The slopes about a stand and the land over them, one row a place.

    `tilt_deg`, `facing_deg`: shapes (place,); `horizon_deg`: shape (place, direction). What
    follows for single days is kept with it, by the sun's rise and set [epoch s].
    """

    tilt_deg: Floats
    facing_deg: Floats
    horizon_deg: Floats
    of_days: dict[tuple[float, float], Any] = field(default_factory=dict)


def shade_at(land: Land, at: LonLat) -> Shade | None:
    """The slopes and horizons about a place; None where the heights do not reach.

    Args: the land; (lon, lat) of the place [deg].
    """
    east, north = places_about(*land.plane.points([at])[0])
    slopes = land.slopes[MIDDLE]
    rise_east = land.relief.at(east, north, slopes.east)
    rise_north = land.relief.at(east, north, slopes.north)
    known = np.isfinite(rise_east) & np.isfinite(land.relief.at(east, north))
    if known.sum() * 2 < len(known):
        return None
    rise_east, rise_north = rise_east[known], rise_north[known]
    return Shade(
        np.degrees(np.arctan(np.hypot(rise_east, rise_north))),
        np.degrees(np.arctan2(-rise_east, -rise_north)) % 360.0,
        horizon_deg(land.relief, east[known], north[known]),
    )


def light_on(shade: Shade, zenith_deg, azimuth_deg) -> Floats:
    """How far the sun is on a slope: over nothing while it reaches half of its places.

    Args:
        shade: the slopes and the land over them.
        zenith_deg, azimuth_deg: of the sun, as seen; any one shape. [deg]

    Returns: of that shape: the middle one of the places' smaller part, the cosine between
    sun and slope or the sun's height over the land [rad]. It goes through nothing
    without a jump, so that the minute can be looked for. Missing: NaN gives NaN.
    Source: plain geometry; that half of the places decide is ours, an assumption.
    """
    zenith, azimuth = np.broadcast_arrays(np.asarray(zenith_deg, float), azimuth_deg)
    each = (slice(None), *(None,) * zenith.ndim)  # a place, then the instants
    share, at = np.modf(np.mod(azimuth, 360.0) * (AZIMUTHS / 360.0))
    here = at.astype(int) % AZIMUTHS
    horizon = shade.horizon_deg
    land = horizon[:, here] + (horizon[:, (here + 1) % AZIMUTHS] - horizon[:, here]) * share
    over = np.radians(90.0 - zenith + SUN_HALF_DEG - land)
    on_slope = beam_cos(shade.tilt_deg[each], shade.facing_deg[each], zenith, azimuth)
    light = np.minimum(on_slope, over)
    need = (len(light) + 1) // 2
    return np.partition(light, len(light) - need, axis=0)[len(light) - need]

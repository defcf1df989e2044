"""One stand's hour judged again, by simple loops: a second opinion on the chain.

Nothing of `core.air`, `core.sit` or the receptors is used here: one point, one direction
and one minute at a time, numbers typed again from their sources. Only the sun's times of
the day come from `core.sky`, which has tests of its own; light on slopes is pvlib's. It is
slow and plain on purpose. Trails that join others are not followed onto them.
"""

import datetime
import itertools
import math
from dataclasses import dataclass

import pandas as pd
from geographiclib.geodesic import Geodesic
from pvlib.irradiance import get_total_irradiance
from pvlib.location import Location
from shapely import Point, Polygon

from core.ground.layout import Property, Stand
from core.sky.daylight import sun_day

YD, MPH = 0.9144, 0.44704
CLEAN, OFF, CANT, WRONG = "clean", "just-off", "cant-call", "wrong"
COVER_DEG = {"open": 0.0, "edge": 8.0, "timber": 15.0}
SHELTER = {"open": 1.0, "edge": 0.6, "timber": 0.3}
PROFILE = dict(zip("ABCDEF", (0.07, 0.07, 0.10, 0.15, 0.35, 0.55), strict=True))
SIDE = dict(zip("ABCDEF", (0.423, 0.313, 0.210, 0.136, 0.102, 0.0674), strict=True))
DEPTH = {
    "A": (107.7, -1.7172, 0.2770),
    "B": (0.1355, 0.8752, 0.0136),
    "C": (0.09623, 0.9477, -0.0020),
    "D": (0.04134, 1.1737, -0.0316),
    "E": (0.02275, 1.3010, -0.0450),
    "F": (0.01122, 1.4024, -0.0540),
}


@dataclass(frozen=True)
class Wind:
    """An hour's wind: where it is from, None for none; its report's half-width."""

    from_deg: float | None
    mph: float
    half_deg: float = 11.25
    cloud: float = 0.0
    variable: bool = False


@dataclass
class Piece:
    """A stretch of an hour: when, which, its verdicts, and likes by place, way by way."""

    start_s: int
    end_s: int
    word: str
    verdict: str
    zones: dict
    likes: list[dict]


@dataclass
class Air:
    """One direction of the air. Degrees and m/s; speed before the floor."""

    to_deg: float
    speed: float
    effective: float
    half_deg: float


# --- spread and strength ---


def depth_m(letter: str, x: float) -> float:
    d, b, g = DEPTH[letter]
    at = max(x, 100.0)
    log = math.log(at)
    return min(d * math.exp(b * log + g * log * log) * min(1.0, x / 100.0), 5000.0)


def strength(letter, air: Air, cover_deg, height_m, r, bearing_deg) -> float:
    """What reaches a point at a distance and bearing. [s/m3]"""
    deep = math.hypot(depth_m(letter, r), height_m / 2.15)
    thin = math.sqrt(2.0 / math.pi) / deep
    side = max(SIDE[letter] / 100.0**0.1, 0.2 / air.effective)
    sigma = math.sqrt(side**2 + math.radians(cover_deg) ** 2) * (r / 100.0) ** -0.1
    turn = abs((air.to_deg - bearing_deg + 180.0) % 360.0 - 180.0)
    off = math.radians(max(0.0, turn - air.half_deg))
    near = sum(math.exp(-(((off + 2 * math.pi * k) / sigma) ** 2) / 2) for k in (-1, 0, 1)) / (
        sigma * math.sqrt(2 * math.pi)
    )
    return thin / (max(air.speed, 0.5) * r) * near


def reference(r: float) -> float:
    return strength("D", Air(0.0, 2.68224, 2.68224, 0.0), 0.0, 0.0, r, 0.0)


def like_yd(c: float) -> float:
    """The distance at which the reference is as strong, by halving. [yd]"""
    low, high = 1.0, 20_000.0
    if c <= reference(high):
        return high / YD
    for _ in range(60):
        middle = math.sqrt(low * high)
        low, high = (middle, high) if reference(middle) > c else (low, middle)
    return low / YD


def wander_deg(letter: str, effective: float) -> float:
    curve = SIDE[letter] / 100.0**0.1
    hour = max(6.0**0.2 * curve, 0.5 / effective)
    ten = max(curve, 0.2 / effective)
    return math.degrees(math.sqrt(max(0.0, hour * hour - ten * ten)))


# --- the ground ---


class Ground:
    """A property in metres east and north of its centre, by the geodesic."""

    def __init__(self, prop: Property) -> None:
        self.prop = prop
        lon, lat = prop.center
        self.place = Location(lat, lon, "UTC", prop.elevation_m)
        self.kept: dict = {}

    def xy(self, lonlat):
        lon, lat = self.prop.center
        way = Geodesic.WGS84.Inverse(lat, lon, lonlat[1], lonlat[0])
        turn = math.radians(way["azi1"])
        return way["s12"] * math.sin(turn), way["s12"] * math.cos(turn)

    def along(self, line, step=1.0):
        """Points every metre of a line, both ends too."""
        found = [line[0]]
        for a, b in itertools.pairwise(line):
            n = max(1, math.ceil(math.dist(a, b) / step))
            found += [
                (a[0] + (b[0] - a[0]) * i / n, a[1] + (b[1] - a[1]) * i / n)
                for i in range(1, n + 1)
            ]
        return found

    def polar(self, at, points):
        return [
            (
                max(10.0, math.dist(at, p)),
                math.degrees(math.atan2(p[0] - at[0], p[1] - at[1])) % 360.0,
            )
            for p in points
        ]

    def area_points(self, stand: Stand, area):
        key = (stand.id, area.id)
        if key not in self.kept:
            at, ring = self.xy(stand.at), [self.xy(p) for p in area.ring]
            if Polygon(ring).covers(Point(at)):
                self.kept[key] = [(10.0, float(b)) for b in range(360)]
            else:
                self.kept[key] = self.polar(at, self.along([*ring, ring[0]]))
        return self.kept[key]

    def trail_yd(self, stand: Stand, trail) -> float:
        at = self.xy(stand.at)
        return min(math.dist(at, p) for p in self.along([self.xy(p) for p in trail.line], 0.1)) / YD

    def approach_points(self, stand: Stand, trail, end: str):
        """150 yards of trail back from the shot, as deer come from an end; None out of range."""
        key = (stand.id, trail.id, end)
        if key not in self.kept:
            self.kept[key] = self._approach(stand, trail, end)
        return self.kept[key]

    def _approach(self, stand, trail, end):
        at, line = self.xy(stand.at), [self.xy(p) for p in trail.line]
        walked = self.along(line[::-1] if end == "food" else line, 0.25)
        reach = (stand.range_yd + 0.5) * YD
        far = [math.dist(at, p) for p in walked]
        first = next((i for i, d in enumerate(far) if d < reach), None)
        if first is None:
            return None
        past = next((i for i in range(first, len(far)) if far[i] >= reach), len(far))
        shot = min(range(first, past), key=far.__getitem__)
        back, i = 0.0, shot
        while i > 0 and back < 150.0 * YD:
            back += math.dist(walked[i], walked[i - 1])
            i -= 1
        return self.polar(at, [*walked[i : shot + 1 : 2], walked[shot]])


# --- the sky ---


def light(ground: Ground, times_s):
    """Clear-sky table of instants. Rows: zenith, azimuth, ghi, dni, dhi."""
    index = pd.to_datetime([round(t * 1000) for t in times_s], unit="ms", utc=True)
    sun = ground.place.get_solarposition(index)
    sky = ground.place.get_clearsky(index, solar_position=sun)
    return sun["apparent_zenith"].values, sun["azimuth"].values, sky


def cloud_share(cloud: float) -> float:
    return 1.0 - 0.75 * cloud**3.4


def letter_of(ground: Ground, day, start_s, wind: Wind) -> str:
    """Class of an hour, at its middle."""
    t, mps = start_s + 1800, wind.mph * MPH
    after, before = t - day.sunrise_s, day.sunset_s - t
    row = sum(mps >= edge for edge in (2.0, 3.0, 5.0, 6.0))
    if after <= 3600 or before <= 3600:
        return ("EF", "EF", "DE", "DD", "DD")[row][0 if wind.cloud > 0.5 else 1]
    if after <= 7200 or before <= 7200:
        return "D"
    ghi = float(light(ground, [t])[2]["ghi"].values[0]) * cloud_share(wind.cloud)
    column = sum(ghi >= edge for edge in (175.0, 675.0, 925.0))
    return ("DBAA", "DCBA", "DCBB", "DDCC", "DDDC")[row][column]


class Slope:
    """The slope wind of a stand through a day, by the minute."""

    def __init__(self, ground: Ground, stand: Stand, day) -> None:
        self.stand, self.rules = stand, ground.prop.air
        self.tilt = math.degrees(math.atan(stand.grade_pct / 100.0))
        self.ground, self.day = ground, day
        first = math.ceil(day.sunrise_s / 60) * 60
        minutes = list(range(first, math.ceil(day.sunset_s), 60))
        zenith, azimuth, _ = light(ground, minutes)
        lit = [t for t, z, a in zip(minutes, zenith, azimuth, strict=True) if self._beam(z, a) > 0]
        self.first, self.last = (lit[0], lit[-1]) if lit else (None, None)
        self.kept: dict[int, float] = {}

    def _beam(self, zenith, azimuth):
        """Sun's arrow on the slope's normal, east, north and up."""
        z, a = math.radians(zenith), math.radians(azimuth)
        b, g = math.radians(self.tilt), math.radians(self.stand.downhill_deg)
        sun = (math.sin(z) * math.sin(a), math.sin(z) * math.cos(a), math.cos(z))
        normal = (math.sin(b) * math.sin(g), math.sin(b) * math.cos(g), math.cos(b))
        return sum(x * y for x, y in zip(sun, normal, strict=True))

    def down(self, t):
        if self.first is None:
            return 1.0
        falling = min(1.0, max(0.0, 1.0 - (t - self.first) / 3600))
        rising = min(1.0, max(0.0, 1.0 + (t - min(self.last, self.day.sunset_s)) / 3600))
        return max(falling, rising)

    def _half_hour(self, t):
        if t not in self.kept:
            zenith, azimuth, sky = light(self.ground, [t])
            poa = get_total_irradiance(
                self.tilt,
                self.stand.downhill_deg,
                zenith,
                azimuth,
                sky["dni"].values,
                sky["ghi"].values,
                sky["dhi"].values,
            )["poa_global"]
            self.kept[t] = float(poa[0])
        return self.kept[t]

    def speed(self, t, cloud: float) -> float:
        """Uphill positive, before the wind fades it. [m/s]"""
        half = math.floor(t / 1800) * 1800
        share = (t - half) / 1800
        poa = self._half_hour(half)
        if share:
            poa += (self._half_hour(half + 1800) - poa) * share
        d = self.down(t)
        heat = (1 - d) * min(1.0, poa * cloud_share(cloud) / 600.0)
        full = self.rules.slope_wind_mps * min(1.0, self.stand.grade_pct / 20.0)
        return (heat - d * (1 - cloud)) * full

    def turnings(self, from_s, until_s, cloud_at):
        """Spans of turning air. Args: whole minutes; cloud of an instant."""
        spans, sign = [], 0
        beside = self.rules.turn_min * 60
        for t in range(from_s, until_s, 60):
            s = self.speed(t, cloud_at(t))
            now = 0 if abs(s) <= 1e-9 else 1 if s > 0 else -1
            if now and sign and now != sign:
                if spans and t - beside <= spans[-1][1]:
                    spans[-1][1] = t + beside
                else:
                    spans.append([t - beside, t + beside])
            sign = now or sign
        return spans


# --- the verdict of an hour ---


def worst(words):
    return max(words, key=[CLEAN, OFF, CANT, WRONG].index, default=CLEAN)


def of_doubt(words):
    """What the verdicts of several directions come to."""
    if all(w == WRONG for w in words):
        return WRONG
    if WRONG in words:
        return CANT
    return OFF if OFF in words else CLEAN


class Hour:
    """Rules 1 to 3 for a stand in one hour of a sit, deer coming from some ends."""

    def __init__(self, ground: Ground, stand: Stand, date: datetime.date, hunter_yd=None) -> None:
        prop = ground.prop
        self.ground, self.stand, self.rules = ground, stand, prop.air
        self.day = sun_day(prop.center[1], prop.center[0], prop.timezone, date)
        self.month = date.month
        self.hunter_yd = hunter_yd or stand.range_yd
        self.slope = None if stand.downhill_deg is None else Slope(ground, stand, self.day)

    def pieces(self, start_s: int, wind: Wind, ends=("food",), cloud_at=None) -> list[Piece]:
        """The pieces of an hour. Args: its start; its wind; ends; cloud of other hours."""
        cloud_at = cloud_at or (lambda _: wind.cloud)
        end_s, spans = start_s + 3600, []
        if self.slope is not None and wind.mph * MPH < self.rules.slope_fades_at_mps:
            spans = self.slope.turnings(start_s - 7200, end_s + 7200, cloud_at)
        cuts = sorted({start_s, end_s, *(t for s in spans for t in s if start_s < t < end_s)})
        found = []
        for a, b in itertools.pairwise(cuts):
            span = next((s for s in spans if s[0] <= a and b <= s[1] and s[0] < s[1]), None)
            if span:
                word = "turning"
            elif len(cuts) == 2:
                word = "whole"
            else:
                word = "after" if any(start_s < s[1] <= a for s in spans) else "before"
            found.append(self._piece(start_s, a, b, word, span, wind, ends, cloud_at))
        return found

    def _piece(self, start_s, a, b, word, span, wind, ends, cloud_at) -> Piece:
        letter = letter_of(self.ground, self.day, start_s, wind)
        middle = (a + b) / 2
        ways = self.directions(letter, wind, middle, span, cloud_at)
        told = [self._in(letter, air, wind, middle, ends) for air in ways]
        names = told[0][1].keys()
        zones = {n: of_doubt([zones[n] for _, zones, _ in told]) for n in names}
        verdict = of_doubt([verdict for verdict, _, _ in told])
        return Piece(a, b, word, verdict, zones, [likes for _, _, likes in told])

    def directions(self, letter, wind: Wind, middle, span, cloud_at) -> list[Air]:
        """The ways the air may take."""
        around = [Air(10.0 * i, 0.5, 0.75, 5.0) for i in range(36)]
        mps = wind.mph * MPH
        if wind.from_deg is None or wind.variable or mps == 0 or self._bottom(letter, mps):
            return around
        if self._swirls(wind):
            return around
        height = max(2.0, self.stand.height_ft * 0.3048)
        u = mps * (height / 10.0) ** PROFILE[letter] * SHELTER[self.stand.cover]
        fade = max(0.0, 1.0 - mps / self.rules.slope_fades_at_mps)
        if span:
            return self._arc(
                u,
                mps,
                wind,
                [self.slope.speed(t, cloud_at(t)) * fade for t in range(span[0], span[1] + 1, 60)],
            )
        s = 0.0 if self.slope is None else self.slope.speed(middle, wind.cloud) * fade
        air = self._air(u, mps, wind, s)
        if air.effective < self.rules.cant_call_below_mps - 1e-9:
            return around
        air.half_deg = math.hypot(wind.half_deg, wander_deg(letter, air.effective))
        return [air]

    def _air(self, u, mps, wind: Wind, s) -> Air:
        to, up = math.radians(wind.from_deg + 180.0), 0.0
        if self.stand.downhill_deg is not None:
            up = math.radians(self.stand.downhill_deg + 180.0)
        east = u * math.sin(to) + s * math.sin(up)
        north = u * math.cos(to) + s * math.cos(up)
        speed = math.hypot(east, north)
        effective = max(0.75, mps * min(1.0, speed / u))
        half = max(wind.half_deg, 5.0)
        return Air(math.degrees(math.atan2(east, north)) % 360.0, speed, effective, half)

    def _arc(self, u, mps, wind: Wind, slopes) -> list[Air]:
        """Ways between the least and the most slope wind, at most 10 degrees apart."""
        low, high = min(slopes), max(slopes)
        steps = [self._air(u, mps, wind, low + (high - low) * i / 4000) for i in range(4001)]
        turned = [0.0]
        for a, b in itertools.pairwise(steps):
            turned.append(turned[-1] + abs((b.to_deg - a.to_deg + 180) % 360 - 180))
        n = max(1, math.ceil(turned[-1] / 10.0 - 1e-9))
        found = [
            min(zip(turned, steps, strict=True), key=lambda x: abs(x[0] - turned[-1] * k / n))[1]
            for k in range(n)
        ]
        found.append(steps[-1])
        turn = math.radians(wind.from_deg - self.stand.downhill_deg)
        along, across = u * math.cos(turn), u * math.sin(turn)
        both = (along + low) * (along + high) < 0
        if both and abs(across) < u * math.sin(math.radians(wind.half_deg)):
            up = self.stand.downhill_deg + 180.0
            found += [
                Air((2 * up - a.to_deg) % 360, a.speed, a.effective, a.half_deg) for a in found
            ]
        return found

    def _bottom(self, letter, mps) -> bool:
        return self.stand.lies == "bottom" and (mps < 3.6 or letter in "EF")

    def _swirls(self, wind: Wind) -> bool:
        known = self.stand.swirls
        if known is None:
            return False
        ok = known.under_mph is None or wind.mph < known.under_mph
        return ok and (known.from_deg is None or _touches(wind, known.from_deg))

    def _in(self, letter, air: Air, wind: Wind, middle, ends):
        """The hour in one direction: verdict, zones, likes."""
        zones, likes, counted = {}, {}, []
        for area in self.ground.prop.areas:
            like = self._like(letter, air, self.ground.area_points(self.stand, area))
            word = self._grade(like)
            if not self._held(area, middle):
                word = OFF if word == WRONG else CLEAN
            zones[area.id], likes[area.id] = word, like
            if self._counts(area, wind):
                counted.append(word)
        on_it, judged = [], []
        for trail in self.ground.prop.corridors:
            for end in ends:
                points = self.ground.approach_points(self.stand, trail, end)
                if points is None or trail.use == "night":
                    continue
                yards = self.ground.trail_yd(self.stand, trail)
                like = self._like(letter, air, points)
                near = max(self.rules.trail_within_yd, self.rules.trail_shot_times * yards)
                is_on = like < min(near, self.rules.wrong_within_yd)
                beside = like < self.rules.wrong_within_yd
                word = WRONG if is_on else OFF if beside else CLEAN
                zones[trail.id, end], likes[trail.id, end] = word, like
                judged.append(word)
                on_it.append((yards, is_on))
        near = min((yards for yards, _ in on_it), default=0.0)
        reach = max(self.hunter_yd + 0.5, near + 1e-9)
        on_it = [is_on for yards, is_on in on_it if yards < reach]
        beside = OFF if set(judged) - {CLEAN} else CLEAN
        trails = WRONG if on_it and all(on_it) else beside
        return worst([*counted, trails]), zones, likes

    def _like(self, letter, air, points) -> float:
        height, cover = self.stand.height_ft * 0.3048, COVER_DEG[self.stand.cover]
        return like_yd(max(strength(letter, air, cover, height, r, b) for r, b in points))

    def _grade(self, like):
        if like < self.rules.wrong_within_yd:
            return WRONG
        return OFF if like <= self.rules.clean_beyond_yd else CLEAN

    def _counts(self, area, wind: Wind) -> bool:
        if area.held == "never" or self.month not in area.months:
            return False
        return wind.from_deg is None or _touches(wind, area.with_wind_deg)

    def _held(self, area, t) -> bool:
        day = self.day
        if area.held == "day":
            return day.sunrise_s - 5400 <= t <= day.sunset_s + 1800
        if area.held == "night":
            return t >= day.sunset_s - 5400 or t <= day.sunrise_s + 2700
        return area.held == "always"


def _touches(wind: Wind, pairs) -> bool:
    """Whether a report's span touches any of some pairs, by tenths of a degree."""
    steps = round(wind.half_deg * 20)
    for i in range(-steps // 2, steps // 2 + 1):
        at = (wind.from_deg + i / 10) % 360
        for a, b in pairs:
            if b - a == 360 or (at - a) % 360 <= (b - a) % 360 + 1e-9:
                return True
    return False

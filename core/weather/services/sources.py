"""The forecast services: their addresses, which one a place needs, what they are sent.

Nothing here opens a connection; `core.weather.services.service` does.
"""

import os
from dataclasses import dataclass
from urllib.parse import urlencode, urlsplit

from core.errors import BadRequest

NWS, METEO, AUTO = "nws", "open-meteo", "auto"
SOURCES = (AUTO, NWS, METEO)
NAMES = {NWS: "National Weather Service", METEO: "Open-Meteo"}
ATTRIBUTION = {
    NWS: ("Forecast by the National Weather Service", "https://www.weather.gov/"),
    # its licence, CC BY 4.0, asks for this link beside the data
    METEO: ("Weather data by Open-Meteo.com", "https://open-meteo.com/"),
}
NWS_VARIABLE, METEO_VARIABLE = "STAND_WIND_NWS_URL", "STAND_WIND_METEO_URL"
ARCHIVE_VARIABLE, NCEI_VARIABLE = "STAND_WIND_ARCHIVE_URL", "STAND_WIND_NCEI_URL"
RUNS_VARIABLE = "STAND_WIND_RUNS_URL"
HEIGHTS_VARIABLE = "STAND_WIND_HEIGHTS_URL"
# where the National Weather Service forecasts, roughly: south, north, west, east [deg].
# A place in a box that is another country's is unknown to it, and the next is asked.
UNITED_STATES = (
    (24.3, 49.5, -125.0, -66.8),
    (51.0, 71.6, -180.0, -129.9),
    (51.0, 53.5, 172.0, 180.0),
    (18.5, 22.6, -160.6, -154.5),
    (17.5, 18.7, -68.0, -64.4),
    (13.0, 20.7, 144.5, 146.2),
    (-14.7, -10.9, -171.2, -168.0),
)
METEO_HOURLY = (
    "wind_speed_10m,wind_direction_10m,wind_gusts_10m,cloud_cover,temperature_2m,"
    "precipitation,precipitation_probability,weather_code,visibility"
)
METEO_DAYS = 16  # the longest it gives

Place = tuple[float, float]  # (lon, lat), rounded [deg]


@dataclass(frozen=True, slots=True)
class Services:
    """Where the requests go, and how long each part may take."""

    nws_url: str = "https://api.weather.gov"
    meteo_url: str = "https://api.open-meteo.com"
    archive_url: str = "https://archive-api.open-meteo.com"
    runs_url: str = "https://ensemble-api.open-meteo.com"
    ncei_url: str = "https://www.ncei.noaa.gov"
    usgs_url: str = "https://prd-tnm.s3.amazonaws.com"
    usgs_image_url: str = "https://elevation.nationalmap.gov"
    copernicus_url: str = "https://copernicus-dem-30m.s3.amazonaws.com"
    agent: str = "stand-and-wind/1 (a personal stand planner)"
    limit_s: float = 9.0  # the whole fetch
    connect_s: float = 3.0
    answer_s: float = 5.0  # between two pieces of an answer
    pause_s: float = 0.4  # before the one more try
    year_limit_s: float = 60.0  # the whole of one year of history
    between_years_s: float = 1.0  # common practice, no source
    heights_limit_s: float = 60.0  # all of a ground's heights
    full_minute_s: float = 60.0  # waited once where a service has had enough for a minute

    @property
    def bases(self) -> tuple[str, ...]:
        """Every address that may be asked, and no other."""
        weather = (self.nws_url, self.meteo_url, self.archive_url, self.runs_url, self.ncei_url)
        return (*weather, self.usgs_url, self.usgs_image_url, self.copernicus_url)

    def base(self, source: str) -> str:
        """The address of one of the sources. Args: nws or open-meteo."""
        return self.nws_url if source == NWS else self.meteo_url


def services() -> Services:
    """The services as they are; tests name others by environment variables."""
    usual = Services()
    return Services(
        nws_url=os.environ.get(NWS_VARIABLE, usual.nws_url).rstrip("/"),
        meteo_url=os.environ.get(METEO_VARIABLE, usual.meteo_url).rstrip("/"),
        archive_url=os.environ.get(ARCHIVE_VARIABLE, usual.archive_url).rstrip("/"),
        runs_url=os.environ.get(RUNS_VARIABLE, usual.runs_url).rstrip("/"),
        ncei_url=os.environ.get(NCEI_VARIABLE, usual.ncei_url).rstrip("/"),
        usgs_url=_heights_at(usual.usgs_url),
        usgs_image_url=_heights_at(usual.usgs_image_url),
        copernicus_url=_heights_at(usual.copernicus_url),
    )


def _heights_at(usual: str) -> str:
    return os.environ.get(HEIGHTS_VARIABLE, usual).rstrip("/")


def rounded(center: tuple[float, float]) -> Place:
    """A place as it leaves the machine, to 0.01 deg. Args: (lon, lat). [deg]"""
    return (round(center[0], 2) + 0.0, round(center[1], 2) + 0.0)  # + 0.0: no minus zero


def sources_for(place: Place, source: str = AUTO) -> tuple[str, ...]:
    """The sources that will be asked, in order. Args: the place; what was chosen.

    Raises: BadRequest for a source that is not known.
    """
    if source not in SOURCES:
        known = ", ".join(SOURCES)
        raise BadRequest(f"'{source}' is no source of forecasts", "the source", f"Use {known}.")
    if source != AUTO:
        return (source,)
    return (NWS, METEO) if in_united_states(place) else (METEO,)


def in_united_states(place: Place) -> bool:
    """Whether a place lies in a box that the United States' services have. Args: it. [deg]"""
    lon, lat = place
    return any(s <= lat <= n and w <= lon <= e for s, n, w, e in UNITED_STATES)


def where_it_goes(
    center: tuple[float, float], source: str = AUTO, at: Services | None = None
) -> str:
    """What will be sent where, in words, to be read before the first request.

    Args: the place (lon, lat) [deg]; auto, nws or open-meteo; the services.
    """
    at, place = at or services(), rounded(center)
    hosts = [f"{host_of(at.base(s))} ({NAMES[s]})" for s in sources_for(place, source)]
    words = (
        f"Asks {hosts[0]}. Sent: latitude {degrees(place[1])}, longitude {degrees(place[0])} "
        f"(rounded to 0.01°, about half a mile) and the name “{at.agent}”. Nothing else about "
        "your ground leaves this machine."
    )
    return f"{words} If it has no forecast there: {hosts[1]}." if len(hosts) > 1 else words


def host_of(url: str) -> str:
    """The host of an address, for people. Args: the address."""
    return urlsplit(url).netloc


def is_of(base: str, url: object) -> bool:
    """Whether an address is on the service's own host. Args: the service; the address."""
    if not isinstance(url, str):
        return False
    own, other = urlsplit(base), urlsplit(url)
    return (own.scheme, own.netloc) == (other.scheme, other.netloc)


def degrees(value: float) -> str:
    """Degrees for an address: two decimals, without zeros at the end. Args: degrees."""
    # the National Weather Service turns trailing zeros away
    return f"{value:.2f}".rstrip("0").rstrip(".")


def point_url(at: Services, place: Place) -> str:
    """Where the National Weather Service says which grid a place has. Args: as named."""
    return f"{at.nws_url}/points/{degrees(place[1])},{degrees(place[0])}"


def meteo_url(at: Services, place: Place) -> str:
    """Open-Meteo's forecast of a place, in UTC and m/s. Args: as named."""
    asked = {
        "latitude": degrees(place[1]),
        "longitude": degrees(place[0]),
        "hourly": METEO_HOURLY,
        "timezone": "GMT",
        "wind_speed_unit": "ms",
        "forecast_days": METEO_DAYS,
    }
    return f"{at.meteo_url}/v1/forecast?{urlencode(asked, safe=',')}"

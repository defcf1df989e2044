"""A weather service on this machine: answers as told, and remembers what it was sent."""

import dataclasses
import datetime
import gzip
import json
import threading
import time
from dataclasses import dataclass, field
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from urllib.parse import parse_qs

from core.ground.store import demo_path, open_property
from core.weather.services.sources import METEO_VARIABLE, NWS_VARIABLE, Services, degrees, rounded

PORTAL = b"<!DOCTYPE html><html><title>Guest network</title>Agree to the terms to go on.</html>"
NOW_S = int(datetime.datetime(2026, 11, 9, 20, 0, tzinfo=datetime.UTC).timestamp())
LON, LAT = -82.4449, 40.0051  # leaves the machine as 40.01, -82.44
POINT, GRID, LIST = (
    "/points/40.01,-82.44",
    "/gridpoints/XYZ/31,44",
    "/gridpoints/XYZ/31,44/stations",
)
NEAR, FAR = "/stations/KAAA/observations/latest", "/stations/KBBB/observations/latest"
METEO = "/v1/forecast"
ASKED = ("asked", "asked")  # a place that is put in where it is asked about


def iso(time_s: float) -> str:
    return datetime.datetime.fromtimestamp(time_s, datetime.UTC).isoformat()


def grid_body(
    first_s: int = NOW_S - 3 * 3600,
    hours: int = 48,
    kmh: float = 11.112,
    wind: float = 320,
    updated_s: int | None = NOW_S - 3600,
    **layers,
) -> dict:
    """A raw gridpoint of one wind; 11.112 km/h is 6 knots."""

    def layer(uom: str, value) -> dict:
        values = [
            {"validTime": f"{iso(first_s + h * 3600)}/PT1H", "value": value} for h in range(hours)
        ]
        return {"uom": f"wmoUnit:{uom}", "values": values}

    inner = {
        "windSpeed": layer("km_h-1", kmh),
        "windDirection": layer("degree_(angle)", wind),
        "windGust": layer("km_h-1", kmh and kmh * 1.5),
        "skyCover": layer("percent", 40),
        "temperature": layer("degC", 4.5),
        "hazards": {"values": [{"validTime": f"{iso(first_s)}/PT9H", "value": ["x" * 3000]}]},
    }
    if updated_s is not None:
        inner["updateTime"] = iso(updated_s)
    return {"type": "Feature", "properties": inner | layers}


def meteo_body(
    first_s: int = NOW_S - 2 * 3600, hours: int = 72, mps: float = 3.0, place=ASKED
) -> dict:
    """A forecast of a place (lon, lat), the one that is asked about by default."""
    times = [iso(first_s + h * 3600)[:16] for h in range(hours)]
    return {
        "latitude": place[1],
        "longitude": place[0],
        "utc_offset_seconds": 0,
        "timezone": "GMT",
        "hourly_units": {"wind_speed_10m": "m/s", "wind_gusts_10m": "m/s"},
        "hourly": {
            "time": times,
            "wind_speed_10m": [mps] * hours,
            "wind_direction_10m": [250] * hours,
            "wind_gusts_10m": [mps * 2] * hours,
        },
    }


def station_body(
    at_s: float = NOW_S - 1500, kmh=9.26, wind=270, station: str = "KAAA", **more
) -> dict:
    """A report; 9.26 km/h is 5 knots, 6 mph."""
    return {
        "properties": {
            "station": f"https://example.test/stations/{station}",
            "timestamp": iso(at_s),
            "rawMessage": "",
            "windDirection": {"unitCode": "wmoUnit:degree_(angle)", "value": wind},
            "windSpeed": {"unitCode": "wmoUnit:km_h-1", "value": kmh, "qualityControl": "V"},
            "windGust": {"unitCode": "wmoUnit:km_h-1", "value": None, "qualityControl": "Z"},
        }
        | more
    }


def list_body(lon: float = -82.44, lat: float = 40.01) -> dict:
    """Three stations, the nearest one second, the last one useless."""

    def feature(station: str, name: str, east: float) -> dict:
        return {
            "geometry": {"type": "Point", "coordinates": [lon + east, lat]},
            "properties": {"stationIdentifier": station, "name": name, "extra": "x" * 500},
        }

    far, near = feature("KBBB", "Far Field", 0.54), feature("KAAA", "Near Field", 0.14)
    return {"features": [far, near, feature("KCCC", "Other Country", 3.0)]}


@dataclass
class Answer:
    """What one address answers: status, body (JSON for a dict), headers, how slowly."""

    body: object = b""
    status: int = 200
    headers: dict = field(default_factory=dict)
    wait_s: float = 0.0
    drop: bool = False  # closes the connection without a word
    cut: bool = False  # promises more than it sends
    drip_s: float = 0.0  # seconds between single bytes

    def data(self) -> bytes:
        return self.body if isinstance(self.body, bytes) else json.dumps(self.body).encode()


class WeatherServer:
    """Loopback server. `answers[path]` is an Answer, or a list of them used up in turn."""

    def __init__(self, protocol: str = "HTTP/1.0") -> None:
        self.answers: dict[str, object] = {}
        self.seen: list[str] = []
        self.headers: list[dict] = []
        self.connections: set[int] = set()
        handler = type("Handler", (_Handler,), {"owner": self, "protocol_version": protocol})
        self.server = ThreadingHTTPServer(("127.0.0.1", 0), handler)
        self.server.daemon_threads = True
        self.thread = threading.Thread(target=self.server.serve_forever, args=(0.01,), daemon=True)
        self.thread.start()
        self.url = f"http://127.0.0.1:{self.server.server_port}"
        self.usual()

    def usual(self) -> None:
        """All answers as on a good day."""
        point = {
            "forecastGridData": f"{self.url}{GRID}",
            "observationStations": f"{self.url}{LIST}",
            "timeZone": "America/New_York",
        }
        self.answers = {
            POINT: Answer({"properties": point}),
            GRID: Answer(grid_body()),
            LIST: Answer(list_body()),
            NEAR: Answer(station_body()),
            FAR: Answer(station_body(station="KBBB", kmh=40)),
            METEO: Answer(meteo_body()),
        }

    def all_answer(self, answer: Answer) -> None:
        self.answers = dict.fromkeys(self.answers, answer)

    def answer_for(self, path: str) -> Answer:
        told = self.answers.get(path.partition("?")[0], Answer({"title": "Not Found"}, 404))
        if callable(told):
            return told(path)
        if isinstance(told, list):
            told = told.pop(0) if len(told) > 1 else told[0]
        return _of_the_place(told, path)

    def services(self, **limits) -> Services:
        limits = {"pause_s": 0.01} | limits
        names = [name for name in Services.__slots__ if name.endswith("_url")]
        where = dict.fromkeys(names, self.url)
        return Services(**where, **limits)

    def stop(self) -> None:
        """The port is closed; with keep-alive, old connections live on."""
        self.server.shutdown()
        self.server.server_close()


def _of_the_place(answer: Answer, path: str) -> Answer:
    """The answer with the place that a request names, where it is of the one asked about."""
    body, query = answer.body, parse_qs(path.partition("?")[2])
    if not isinstance(body, dict) or body.get("latitude") != ASKED[1] or "latitude" not in query:
        return answer
    asked = {name: float(query[name][0]) for name in ("latitude", "longitude")}
    return dataclasses.replace(answer, body=body | asked)


class _Handler(BaseHTTPRequestHandler):
    owner: WeatherServer

    def do_GET(self) -> None:
        owner = self.owner
        owner.seen.append(self.path)
        owner.headers.append(dict(self.headers))
        owner.connections.add(self.client_address[1])
        answer = owner.answer_for(self.path)
        time.sleep(answer.wait_s)
        if answer.drop:
            self.close_connection = True
            self.connection.close()
            return
        data = answer.data()
        self.send_response(answer.status)
        told = {"Content-Length": str(len(data) + (100 if answer.cut else 0))} | answer.headers
        for name, value in told.items():
            self.send_header(name, value)
        self.end_headers()
        self._send(data, answer.drip_s)
        self.close_connection = self.close_connection or answer.cut

    def _send(self, data: bytes, drip_s: float) -> None:
        try:
            if not drip_s:
                self.wfile.write(data)
                return
            for byte in data:
                self.wfile.write(bytes([byte]))
                self.wfile.flush()
                time.sleep(drip_s)
        except OSError:
            pass  # the other side has given up

    def log_message(self, *_) -> None: ...


def zipped(body: dict) -> Answer:
    """The body packed for the way, as services send it."""
    return Answer(gzip.compress(json.dumps(body).encode()), headers={"Content-Encoding": "gzip"})


def serving_the_demo(monkeypatch, folder) -> WeatherServer:
    """A running server that knows the demo's place; its address and an own user folder are
    in the environment. The caller stops it."""
    running = WeatherServer()
    monkeypatch.setenv("NO_PROXY", "127.0.0.1")
    monkeypatch.setenv(NWS_VARIABLE, running.url)
    monkeypatch.setenv(METEO_VARIABLE, running.url)
    monkeypatch.setenv("STAND_WIND_HOME", str(folder))
    monkeypatch.setenv("STAND_WIND_NOW", iso(NOW_S))
    lon, lat = rounded(open_property(demo_path()).property.center)
    running.answers[f"/points/{degrees(lat)},{degrees(lon)}"] = running.answers[POINT]
    running.answers[LIST] = Answer(list_body(lon, lat))
    return running

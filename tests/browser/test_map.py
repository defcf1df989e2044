"""The drawing map in a real Chromium, by finger and by mouse.

A finger is what Chromium itself makes of touch events (CDP Input.dispatchTouchEvent),
so that scrolling, clicks and drags come out of it as they do on a phone.
"""

import json
import math
import re

import pytest

from core.ground.plan import Plane
from core.units import M_PER_YD
from tests import ground_files as g
from tests.conftest import APP_RUN_MS, free_port, new_window, running_dashboard

FIND = """() => [...document.querySelectorAll('*')].find(e => e.shadowRoot?.groundMap)
    .shadowRoot.groundMap"""

SMALL_TARGETS = """() => {
  const seen = [...document.querySelectorAll('button, a, input, select, summary')];
  const own = [...document.querySelectorAll('*')].find(e => e.shadowRoot?.groundMap).shadowRoot;
  seen.push(...own.querySelectorAll('button, select, a, .handle'));
  return seen.map(e => [e, e.getBoundingClientRect()])
    .filter(([e, b]) => b.height > 1 && b.width > 1)
    .filter(([e]) => e.checkVisibility({visibilityProperty: true}))
    .filter(([e, b]) => Math.max(b.height, e.closest('label, [data-baseweb]')
        ?.getBoundingClientRect().height ?? 0) < 43.5)
    .map(([e, b]) => `${e.tagName} ${e.className} ${e.textContent || e.ariaLabel} ${b.height}`);
}"""


class Hand:
    """A finger or a mouse on the map, at places in yards from the property's centre."""

    def __init__(self, page, settled, *, finger: bool) -> None:
        self.page, self.settled, self.finger = page, settled, finger
        page.set_default_timeout(APP_RUN_MS)
        self.wire = page.context.new_cdp_session(page) if finger else None

    def open(self) -> None:
        self.page.goto(self.url)
        self.wait()

    def wait(self) -> None:
        """Until the map is drawn."""
        self.page.wait_for_function(f"() => {{ try {{ return ({FIND})().data }} catch {{}} }}")
        self.settled(self.page)

    def rest(self) -> None:
        """Until every gesture was answered."""
        self.settled(self.page)
        self.page.wait_for_function(f"() => ({FIND})().waiting.length === 0")

    def pixel(self, east_yd: float, north_yd: float, center=g.CENTER) -> tuple[float, float]:
        lon, lat = g.lonlat(east_yd, north_yd, center)
        return tuple(
            self.page.evaluate(
                f"""([lon, lat]) => {{
                    const own = ({FIND})();
                    const p = own.map.latLngToContainerPoint([lat, lon]);
                    const box = own.map.getContainer().getBoundingClientRect();
                    return [box.x + p.x, box.y + p.y];
                }}""",
                [lon, lat],
            )
        )

    def cross(self) -> tuple[float, float]:
        """Where the handle of a whole thing lies, in yards."""
        box = self.page.locator(".handle.whole").bounding_box()
        lonlat = self.page.evaluate(
            f"""([x, y]) => {{
                const own = ({FIND})();
                const box = own.map.getContainer().getBoundingClientRect();
                const at = own.map.containerPointToLatLng([x - box.x, y - box.y]);
                return [at.lng, at.lat];
            }}""",
            [box["x"] + box["width"] / 2, box["y"] + box["height"] / 2],
        )
        return tuple(map(float, Plane(g.CENTER).points([lonlat])[0] / M_PER_YD))

    def tap(self, *place_yd) -> None:
        x, y = self.pixel(*place_yd)
        if self.finger:
            self._touch("touchStart", x, y)
            self._touch("touchEnd")
        else:
            self.page.mouse.click(x, y)
        self.rest()

    def drag(self, start_yd, end_yd) -> None:
        (x, y), (u, v) = self.pixel(*start_yd), self.pixel(*end_yd)
        steps = [(x + (u - x) * k / 8, y + (v - y) * k / 8) for k in range(1, 9)]
        if self.finger:
            self._touch("touchStart", x, y)
            for place in steps:
                self._touch("touchMove", *place)
            self._touch("touchEnd")
        else:
            self.page.mouse.move(x, y)
            self.page.mouse.down()
            for place in steps:
                self.page.mouse.move(*place)
            self.page.mouse.up()
        self.rest()

    def _touch(self, kind: str, *place: float) -> None:
        points = [{"x": place[0], "y": place[1]}] if place else []
        self.wire.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    def press(self, name: str) -> None:
        """A button of the row over the map."""
        self.page.locator(".tools").get_by_role("button", name=name, exact=True).click()
        self.rest()

    def add(self, label: str) -> None:
        self.page.locator(".tools select").select_option(label=label)

    def shapes(self) -> dict:
        """What is on the map: GeoJSON geometries by id."""
        return self.page.evaluate(
            f"() => Object.fromEntries(({FIND})().data.features.map(f => [f.id, f.geometry]))"
        )

    def said(self) -> str:
        return self.page.locator(".said").inner_text()


OAK, GUM = (0, 0), (80, 40)


def ground(name: str) -> dict:
    return g.document(
        g.area("line", "boundary", g.square(0, 0, 360)),
        g.bed("cane", g.square(-120, 60, 60)),
        g.corridor("main", [(-120, -60), (60, -60)]),
        g.lane("way", [(0, 150), (0, 70)], ["oak"]),
        g.stand("oak", *OAK),
        g.stand("gum", *GUM),
        g.feature("gate", "truck", "Point", g.lonlat(0, 150)),
        name=name,
    )


@pytest.fixture
def drawn() -> dict:
    """What the property of `hand` has drawn; parametrize `drawn` to have another."""
    return ground("Test ground")


@pytest.fixture
def hand(page, view, settled, dashboard_home, dashboard_url, request, drawn):
    """A hand on the map of a property of this test's own; `hand.file` is its file."""
    stem = re.sub("[^a-z]+", "-", request.node.name.lower()).strip("-")
    own = Hand(page, settled, finger=view == "phone")
    own.file = dashboard_home / f"{stem}.json"
    own.url = f"{dashboard_url}/map?ground={stem}"
    own.file.write_bytes(g.as_bytes(drawn))
    own.open()
    yield own
    own.file.unlink(missing_ok=True)


def near(place: list[float], *place_yd: float, within_yd: float = 3) -> bool:
    here, there = Plane(g.CENTER).points([place, g.lonlat(*place_yd)]) / M_PER_YD
    return math.dist(here, there) <= within_yd


def test_drag_undo_redo_add_and_join(hand):
    before = hand.shapes()
    hand.drag(GUM, (100, 0))  # not chosen yet: that moves the map, not the stand
    assert hand.shapes() == before
    hand.tap(*GUM)
    hand.drag(GUM, (100, 20))
    assert near(hand.shapes()["gum"]["coordinates"], 100, 20)
    assert "moved Gum (stand)" in hand.said()
    hand.press("Undo")
    assert hand.shapes() == before
    assert "Undone: moved Gum (stand)" in hand.said()
    hand.press("Redo")
    assert near(hand.shapes()["gum"]["coordinates"], 100, 20)

    hand.add("Stand")
    hand.tap(60, -100)
    assert near(hand.shapes()["stand-1"]["coordinates"], 60, -100)
    assert "Stand 1" in hand.page.get_by_label("Name", exact=True).input_value()

    hand.add("Way in or out (lane)")
    for place in ((5, 145), (-60, 100), (-60, 40), (6, -5)):
        hand.tap(*place)
    assert "min in the dark" in hand.said()
    drawn = hand.page.locator("path.sketch")
    assert drawn.evaluate("e => getComputedStyle(e).fill") == "none"  # a line, not an area
    hand.press("Done")
    line = hand.shapes()["way-in-1"]["coordinates"]
    assert line[0] == before["gate"]["coordinates"]
    assert line[-1] == before["oak"]["coordinates"]  # joined, to the last digit
    assert "end joined to Oak (stand)" in hand.said()
    assert [e for e in hand.page.console_errors if "404" not in e] == []  # Streamlit's probes
    assert hand.page.outside == []


@pytest.mark.parametrize("view", ["phone"])
def test_points_of_a_line_are_put_in_and_taken_out(hand):
    hand.tap(-30, -60)
    hand.drag((-30, -60), (-30, -110))  # the handle between two points
    line = hand.shapes()["main"]["coordinates"]
    assert len(line) == 3
    assert near(line[1], -30, -110)
    hand.press("Remove point")  # the new one is still chosen
    assert len(hand.shapes()["main"]["coordinates"]) == 2
    # an end dragged near the bed goes to its edge
    hand.drag((-120, -60), (-118, 22))
    first = hand.shapes()["main"]["coordinates"][0]
    assert near(first, -118, 30)
    north_yd = Plane(g.CENTER).points([first])[0][1] / M_PER_YD
    assert north_yd == pytest.approx(30, abs=0.05)  # on the edge itself
    assert "joined to Cane (bed)" in hand.said()
    hand.press("Delete")
    assert "main" not in hand.shapes()


def moved_by(before: list, after: list) -> list[tuple[float, float]]:
    """How far each place went, in yards east and north."""
    here, there = Plane(g.CENTER).points(before), Plane(g.CENTER).points(after)
    return [tuple(map(float, step)) for step in (there - here) / M_PER_YD]


@pytest.mark.parametrize("view", ["phone"])
def test_a_whole_line_goes_in_one_piece_but_only_when_asked(hand):
    hand.tap(-30, -60)
    before = hand.shapes()
    hand.drag((-75, -60), (-75, -20))  # on the line, off its handles: that moves the map
    assert hand.shapes() == before
    hand.press("Move all")
    assert "Drag the cross" in hand.said()
    assert hand.page.locator(".handle").count() == 1
    hand.drag(hand.cross(), (40, -70))
    line = hand.shapes()["main"]["coordinates"]
    steps = moved_by(before["main"]["coordinates"], line)
    assert len(line) == 2
    assert math.dist(*steps) < 0.05  # both ends as far, neither joined to anything
    assert math.hypot(*steps[0]) > 20
    assert hand.said() == "moved Main (trail)"
    hand.press("Undo")
    assert hand.shapes() == before
    hand.press("Points again")
    assert hand.page.locator(".handle.corner").count() == 2


HOLED = g.document(
    g.area("line", "boundary", g.square(0, 0, 360)),
    g.area("cane", "bedding", g.square(0, 60, 90), g.square(10, 60, 30)),
    g.corridor("main", [(-120, -60), (60, -60)]),
)


@pytest.mark.parametrize("view", ["desk"])
@pytest.mark.parametrize("drawn", [HOLED], ids=["holed"])
def test_a_whole_area_takes_its_hole_along(hand):
    before = hand.shapes()["cane"]["coordinates"]
    drawn = hand.page.locator("path.kind-bedding:not(.hatch)").get_attribute("d")
    assert drawn.count("M") == 2  # the hole is drawn as a hole
    hand.tap(10, 60)  # in its hole: that is not the bed
    assert hand.page.locator(".handle").count() == 0
    hand.tap(-30, 60)
    hand.press("Move all")
    hand.drag(hand.cross(), (-60, -40))
    after = hand.shapes()["cane"]["coordinates"]
    assert [len(ring) for ring in after] == [5, 5]
    steps = [step for a, b in zip(before, after, strict=True) for step in moved_by(a, b)]
    assert max(math.dist(steps[0], step) for step in steps) < 0.05
    hand.tap(0, -60)  # another thing: its points, not all of it
    assert hand.page.locator(".handle.corner").count() == 2


@pytest.mark.parametrize("view", ["phone"])
def test_what_is_half_drawn_is_there_after_a_reload_and_after_cancel(hand):
    hand.add("Trail (corridor)")
    for place in ((-100, -100), (0, -120), (60, -100)):
        hand.tap(*place)
    told = hand.said()
    hand.page.reload()
    hand.wait()
    assert hand.said() == told
    hand.press("Cancel")
    assert "Bring back" in hand.said()
    assert "trail-1" not in hand.shapes()
    hand.press("Bring back")
    hand.tap(100, -120)
    hand.press("Done")
    assert len(hand.shapes()["trail-1"]["coordinates"]) == 4
    hand.page.reload()
    hand.wait()
    assert hand.page.get_by_role("button", name="Done", exact=True).count() == 0


SMALL_BED = g.document(
    g.area("line", "boundary", g.square(0, 0, 2000)), g.bed("cane", g.circle(0, 0, 25, 12))
)


@pytest.mark.parametrize("view", ["phone"])
@pytest.mark.parametrize("drawn", [SMALL_BED], ids=["small"])
def test_a_small_thing_is_zoomed_to_before_its_corners_are_moved(hand):
    hand.tap(0, 0)
    crammed = hand.page.locator(".handle.corner").count()
    assert crammed < 12
    hand.press("Zoom to it")
    assert hand.page.locator(".handle.corner").count() == 12
    hand.drag((25, 0), (32, 0))
    assert any(near(c, 32, 0, within_yd=1) for c in hand.shapes()["cane"]["coordinates"][0])


@pytest.mark.parametrize("view", ["phone"])
def test_a_draft_is_there_after_another_page_and_after_a_reload(hand):
    hand.tap(*GUM)
    hand.drag(GUM, (100, 20))
    moved = hand.shapes()["gum"]
    hand.page.get_by_role("link", name="Words", exact=True).click()
    hand.page.locator(".map").wait_for(state="detached")
    hand.page.get_by_role("link", name="Map", exact=True).click()
    hand.page.locator(".map").wait_for()
    hand.wait()
    assert hand.shapes()["gum"] == moved
    hand.page.reload()
    hand.wait()
    assert hand.shapes()["gum"] == moved
    assert "here again" in hand.said()
    hand.press("Undo")  # what was done before the reload
    assert near(hand.shapes()["gum"]["coordinates"], *GUM, within_yd=0.1)
    hand.press("Redo")
    assert hand.shapes()["gum"] == moved
    hand.page.get_by_role("button", name="Save", exact=True).click()
    hand.settled(hand.page)
    saved = json.loads(hand.file.read_text())
    assert saved["features"][5]["geometry"] == moved
    assert saved["property"]["revision"] == 2
    assert hand.page.get_by_role("button", name="Save", exact=True).count() == 0


@pytest.mark.parametrize("view", ["phone"])
def test_what_is_done_while_the_program_is_gone_reaches_the_next_one(page, settled, tmp_path):
    (tmp_path / "farm.json").write_bytes(g.as_bytes(ground("Test ground")))
    port, hand = free_port(), Hand(page, settled, finger=True)
    with running_dashboard(tmp_path, port=port) as address:
        hand.url = f"{address}/map?ground=farm"
        hand.open()
        hand.tap(*GUM)
        hand.drag(GUM, (100, -20))
    waits, hand.rest = hand.rest, lambda: None
    hand.drag((100, -20), (20, 100))
    page.get_by_text("does not answer").wait_for()
    with running_dashboard(tmp_path, port=port):
        page.wait_for_function(f"() => ({FIND})().waiting.length === 0", timeout=APP_RUN_MS)
        hand.rest = waits
        hand.rest()
        assert near(hand.shapes()["gum"]["coordinates"], 20, 100)
        hand.press("Undo")
        assert near(hand.shapes()["gum"]["coordinates"], 100, -20)


@pytest.mark.parametrize("view", ["desk"])
def test_two_tabs_and_nothing_is_lost(hand, settled):
    # another window: a tab in the background is slow to answer
    window = new_window(hand.page.context.browser, "desk")
    other = Hand(window.new_page(), settled, finger=False)
    other.url = hand.url
    other.open()
    for own, place in ((hand, (100, 20)), (other, (60, 80))):
        own.tap(*GUM)
        own.drag(GUM, place)
    other.page.get_by_role("button", name="Another tab's changes").click()
    other.page.get_by_text("kept apart from what you draw here").wait_for()
    other.page.keyboard.press("Escape")
    hand.page.get_by_role("button", name="Save", exact=True).click()
    settled(hand.page)
    kept = hand.file.read_bytes()
    other.page.get_by_role("button", name="Save", exact=True).click()
    settled(other.page)
    assert "changed since it was opened" in other.page.inner_text("body")
    assert hand.file.read_bytes() == kept
    other.page.get_by_role("button", name="Keep both").click()
    other.page.get_by_label("Name").last.fill("Second tab")
    other.page.get_by_label("Name").last.press("Enter")
    other.page.get_by_role("button", name="Save it").click()
    settled(other.page)
    assert hand.file.read_bytes() == kept
    second = json.loads((hand.file.parent / "second-tab.json").read_text())
    assert near(second["features"][5]["geometry"]["coordinates"], 60, 80)
    assert second["property"]["name"] == "Second tab"
    (hand.file.parent / "second-tab.json").unlink()
    window.close()


BAD = "<img src=x onerror=window.hit=1>"


def badly_named() -> dict:
    document = ground(BAD)
    for item in document["features"]:
        item["properties"]["name"] = BAD
    return document


@pytest.mark.parametrize("view", ["desk"])
@pytest.mark.parametrize("drawn", [badly_named()], ids=["bad"])
def test_names_are_only_words(hand):
    hand.tap(*GUM)
    hand.drag(GUM, (100, 20))
    assert BAD in hand.said()
    assert BAD in hand.page.locator(".name").all_text_contents()
    assert hand.page.evaluate("window.hit") is None
    assert hand.page.locator("img").count() == 0


CROWDED = ground("Crowded")
CROWDED["features"] += [
    g.stand(f"s{i}", 40 * (i % 5) - 100, 25 * (i // 5) - 90, name=f"Lower walnut hollow {i}")
    for i in range(25)
] + [g.stand("corner", -170, 165, name="By the buttons")]
NAMES = """() => {
  const own = [...document.querySelectorAll('*')].find(e => e.shadowRoot?.groundMap).shadowRoot;
  const boxes = (css) => [...own.querySelectorAll(css)]
    .filter(e => e.checkVisibility({visibilityProperty: true}))
    .map(e => [e.textContent || e.className, e.getBoundingClientRect()]);
  const names = boxes('.name span'), sheet = own.querySelector('.map').getBoundingClientRect();
  const rest = boxes('.leaflet-control, .tools.over > *'), signs = boxes('.thing:not(.picked) i');
  const picked = boxes('.name.picked span').map(([name]) => name);
  const touch = (a, b) => a.left < b.right && b.left < a.right
    && a.top < b.bottom && b.top < a.bottom;
  const off = ([name, b]) => b.left < sheet.left || b.right > sheet.right
    || b.top < sheet.top || b.bottom > sheet.bottom;
  return {
    count: names.length, picked: picked.length, off: names.filter(off),
    touching: names.flatMap(([a, b], i) => names.slice(0, i).concat(rest)
      .concat(picked.includes(a) ? [] : signs)
      .filter(([c, d]) => touch(b, d)).map(([c]) => `${a} on ${c}`)),
  };
}"""


def names_are_apart(page) -> bool:
    """No name on another or a button, none cut at the edge or on a sign; the chosen one there."""
    found = page.evaluate(NAMES)
    return found["picked"] == 1 and found["count"] > 2 and not found["off"] + found["touching"]


@pytest.mark.parametrize("drawn", [CROWDED], ids=["crowded"])
def test_access_targets_and_quiet(hand):
    from axe_playwright_python.sync_playwright import Axe

    hand.tap(-20, -40)
    assert Axe().run(hand.page).response["violations"] == []
    small = hand.page.evaluate(SMALL_TARGETS)
    assert small == []
    assert names_are_apart(hand.page), hand.page.evaluate(NAMES)
    size = hand.page.evaluate("parseFloat(getComputedStyle(document.documentElement).fontSize)")
    hand.page.evaluate(f"document.documentElement.style.fontSize = '{2 * size}px'")
    hand.settled(hand.page)
    assert names_are_apart(hand.page), hand.page.evaluate(NAMES)
    assert hand.page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
    assert hand.page.outside == []


@pytest.mark.parametrize("view", ["phone"])
def test_photographs_are_asked_for_only_when_turned_on(hand):
    assert hand.page.outside == []
    hand.page.get_by_text("Aerial photo").click()
    hand.settled(hand.page)
    assert "basemap.nationalmap.gov" in hand.page.inner_text("body")
    hand.page.wait_for_timeout(300)
    hosts = {url.split("/")[2] for url in hand.page.outside}
    assert hosts == {"basemap.nationalmap.gov"}
    asked = len(hand.page.outside)
    assert len(hand.shapes()) == 7  # without an answer the ground is still there
    hand.page.get_by_text("Aerial photo").click()
    hand.settled(hand.page)
    hand.drag((150, -150), (100, -100))
    assert len(hand.page.outside) == asked


@pytest.mark.parametrize("view", ["desk"])
def test_everything_by_keyboard(hand):
    page = hand.page
    page.get_by_role("combobox", name="On the map").focus()
    page.keyboard.type("Stand: Gum")
    page.keyboard.press("Enter")
    hand.settled(page)
    page.locator("summary").filter(has_text=re.compile("Coordinates")).focus()
    page.keyboard.press("Enter")
    box = page.get_by_role("textbox", name="Latitude, longitude; one place a line").first
    lon, lat = g.lonlat(-50, -50)
    box.fill(f"{lat}, {lon}")
    box.press("Control+Enter")
    hand.settled(page)
    assert hand.shapes()["gum"]["coordinates"] == [lon, lat]
    box.fill("by the oak")
    box.press("Control+Enter")
    hand.settled(page)
    assert '"by the oak" is not a place' in hand.said()
    assert hand.shapes()["gum"]["coordinates"] == [lon, lat]


@pytest.mark.parametrize("view", ["desk"])
def test_a_way_to_no_stand_is_drawn_but_not_saved(hand):
    hand.add("Way in or out (lane)")
    for place in ((-150, -100), (-100, -150)):
        hand.tap(*place)
    hand.press("Done")
    assert "leads to no stand yet" in hand.page.inner_text("body")
    kept = hand.file.read_bytes()
    hand.page.get_by_role("button", name="Save", exact=True).click()
    hand.settled(hand.page)
    assert "Not saved" in hand.said()
    assert "serves no stand" in hand.said()
    assert hand.file.read_bytes() == kept

/* Drawing something new, point by point.

What is not done yet stays in this tab of the browser, so that a reload or another page
costs nothing; what was cancelled can be brought back until the next one is begun. */

const SKETCH = "stand-wind-sketch ";

class Sketch {
  constructor(own) {
    this.own = own;
    this.line = own.L.layerGroup().addTo(own.map);
    own.map.on("mousemove", (event) => this.hovered(event.latlng));
    this.kind = null; // what is being drawn, one of Python's kinds; null for nothing
    this.points = [];
    this.cancelled = null;
  }

  begin(value, points = []) {
    const kind = this.own.data.kinds.find((k) => k.value === value);
    if (!kind) return this.end();
    this.kind = kind;
    this.points = points;
    this.cancelled = null;
    this.own.handles.draw();
    this.changed();
  }

  enough() {
    return this.points.length >= TAKES[this.kind.shape];
  }

  tapped(latlng) {
    const { points, kind, own } = this;
    const end = kind.shape === "Polygon" ? points[0] : points.at(-1);
    if (this.enough() && own.pixels(latlng).distanceTo(own.pixels(end)) < REACH_PX) return this.finish();
    points.push([latlng.lat, latlng.lng]);
    if (kind.shape === "Point") this.finish();
    else this.changed();
  }

  hovered(latlng) {
    if (this.kind && this.points.length) this.draw([latlng.lat, latlng.lng]);
  }

  backOne() {
    this.points.pop();
    this.changed();
  }

  cancel() {
    this.cancelled = this.points.length ? { value: this.kind.value, points: this.points } : null;
    this.end();
    if (this.cancelled) this.own.say("Not kept. Bring back takes it up again.");
  }

  bringBack() {
    this.begin(this.cancelled.value, this.cancelled.points);
  }

  finish() {
    if (!this.enough()) return;
    const { kind, points } = this;
    this.end();
    this.own.send("add", { kind: kind.kind, geometry: geometryOf(kind.shape, [points]) });
  }

  end() {
    this.kind = null;
    this.points = [];
    this.own.handles.draw();
    this.changed();
  }

  changed() {
    this.own.find(".map").classList.toggle("drawing", Boolean(this.kind));
    this.store();
    this.draw();
    this.own.tools.fill();
  }

  draw(toward = null) {
    const { L } = this.own;
    this.line.clearLayers();
    this.tell(toward);
    if (!this.kind) return;
    const area = this.kind.shape === "Polygon";
    const className = `sketch kind-${this.kind.kind}${area ? " area" : ""}`;
    (area ? L.polygon : L.polyline)(this.points, { className, interactive: false }).addTo(this.line);
    if (toward) {
      L.polyline([this.points.at(-1), toward], { className: "toward", interactive: false }).addTo(this.line);
    }
    for (const point of this.points) {
      L.marker(point, { interactive: false, keyboard: false, icon: this.own.icon("dot", 12) }).addTo(this.line);
    }
  }

  tell(toward = null) {
    const { data } = this.own;
    if (!this.kind) return this.own.say(data.said, data.trouble);
    const shown = toward ? [...this.points, toward] : this.points;
    this.own.say(this.own.sheet.measure(this.kind.kind, this.kind.shape, shown) || this.kind.hint);
  }

  // --- over a reload

  store() {
    const [place, { kind, points }] = [SKETCH + this.own.data.ground, this];
    try {
      if (kind) sessionStorage.setItem(place, JSON.stringify({ value: kind.value, points }));
      else sessionStorage.removeItem(place);
    } catch {} // a browser that keeps nothing
  }

  /* What was being drawn on the ground that is shown now, if anything was. */
  takeUp() {
    let kept = null;
    try {
      kept = JSON.parse(sessionStorage.getItem(SKETCH + this.own.data.ground));
    } catch {}
    this.cancelled = null;
    if (kept) this.begin(kept.value, kept.points);
    else this.end();
  }
}

/* The drawing map. Leaflet draws it; this file says what a tap and a drag mean.

The ground itself lives in Python. `show` draws what Python sends; every finished
gesture goes back as one small message, numbered, until Python says it has it. Names
come only as data and reach the page only as text. */

const REACH_PX = 22; // half a fingertip
const APART_PX = 64; // a segment shorter than this has no handle to insert a point
const STEPS_YD = [5, 10, 25, 50, 100, 250, 500, 1000, 2500, 5000, 10000];
const LINE_PX = 60; // least distance of grid lines
const ORDER = ["boundary", "other", "water", "no-shoot", "bedding", "food", "draw", "lane",
  "corridor", "sign", "camera", "truck", "stand"];
const HATCH = {
  bedding: ["M0,10 L10,0", 10, 1], food: ["M4,5 h2", 10, 2], "no-shoot": ["M0,8 L8,0 M0,0 L8,8", 8, 0.7],
};
const VIEWS = (globalThis.standWindViews ??= {}); // where each ground was last looked at
const TAKES = { Point: 1, LineString: 2, Polygon: 3 };

export default function (component) {
  const { data, parentElement, setStateValue } = component;
  const found = parentElement.groundMap;
  if (found) {
    found.report = setStateValue;
    found.show(data);
  } else {
    whenLeafletIsThere((leaflet) => {
      parentElement.groundMap ??= new GroundMap(leaflet, parentElement);
      parentElement.groundMap.report = setStateValue;
      parentElement.groundMap.show(data);
    });
  }
}

function whenLeafletIsThere(then) {
  if (globalThis.leaflet?.map) then(globalThis.leaflet);
  else setTimeout(() => whenLeafletIsThere(then), 20);
}

class GroundMap {
  constructor(leaflet, root) {
    this.L = leaflet;
    this.root = root;
    this.tab = `${Date.now()}-${Math.random()}`; // this mounting; serials start anew with it
    this.serial = 0;
    this.waiting = []; // gestures that Python has not confirmed
    this.point = null; // index of the chosen corner
    this.sketch = null; // what is being drawn
    this.busy = false; // a finger is on a handle
    this.makeMap();
    this.makeTools();
  }

  // --- to and from Python

  send(act, more = {}) {
    this.waiting.push({ n: ++this.serial, act, within_m: REACH_PX * this.metresPerPixel(), ...more });
    this.report("ops", { tab: this.tab, list: this.waiting });
  }

  show(data) {
    const confirmed = data.tab === this.tab ? data.done : 0;
    this.waiting = this.waiting.filter((op) => op.n > confirmed);
    this.next = data;
    // an answer to an earlier gesture must not undo the look of a later one
    if (this.waiting.length === 0 && !this.busy) this.draw();
  }

  draw() {
    const { next } = this;
    if (next.picked !== this.data?.picked) this.point = null;
    if (next.ground !== this.data?.ground) this.looked = false;
    this.data = next;
    this.shapes = next.features.map((f) => ({ ...f, corners: cornersOf(f.geometry) }));
    this.look();
    this.drawImagery();
    this.drawGrid();
    this.drawGround();
    this.drawHandles();
    this.fillTools();
    this.say(next.said, next.trouble);
  }

  // --- the map itself

  makeMap() {
    const { L } = this;
    const box = this.find(".map");
    // Leaflet takes the focus on a press: the page must not slide under the finger then
    box.focus = () => HTMLElement.prototype.focus.call(box, { preventScroll: true });
    this.map = L.map(box, {
      zoomSnap: 0.25, minZoom: 10, maxZoom: 21, attributionControl: false, doubleClickZoom: false,
      bounceAtZoomLimits: false,
    }).setView([0, 0], 16);
    for (const [pane, level] of [["imagery", 200], ["grid", 250]]) {
      this.map.createPane(pane).style.zIndex = level;
    }
    this.grid = L.layerGroup().addTo(this.map);
    this.ground = L.layerGroup().addTo(this.map);
    this.labels = L.layerGroup().addTo(this.map);
    this.handles = L.layerGroup().addTo(this.map);
    this.map.on("click", (event) => this.tapped(event.latlng));
    this.map.on("mousemove", (event) => this.hovered(event.latlng));
    this.map.on("moveend", () => {
      if (!this.data) return;
      if (this.touched) VIEWS[this.data.ground] = [this.map.getCenter(), this.map.getZoom()];
      this.drawGrid();
    });
    this.map.on("zoomend", () => this.data && (this.drawHandles(), this.declutter()));
    new ResizeObserver(() => this.resized()).observe(box);
    for (const name of ["pointerdown", "wheel", "keydown"]) {
      box.addEventListener(name, () => (this.touched = true), { capture: true, passive: true });
    }
    box.addEventListener("keydown", (event) => this.key(event));
  }

  resized() {
    this.map.invalidateSize({ animate: false });
    if (!this.touched) this.looked = false; // the page is still finding its width
    if (this.data) this.look();
  }

  /* Once a ground: where it was last looked at, else all of it. */
  look() {
    const { data, map } = this;
    if (this.looked || !map.getSize().x) return;
    this.looked = true;
    const view = VIEWS[data.ground];
    const places = this.shapes.flatMap((s) => s.corners.flat());
    if (view) map.setView(view[0], view[1], { animate: false });
    else if (places.length) map.fitBounds(places, { padding: [14, 14], maxZoom: 18, animate: false });
    else map.setView([data.center[1], data.center[0]], 17, { animate: false });
  }

  drawImagery() {
    const wanted = this.data.imagery;
    if (!wanted === !this.imagery) return;
    if (!wanted) {
      this.imagery.remove();
      this.credit.remove();
      this.imagery = null;
      return;
    }
    this.imagery = this.L.tileLayer(wanted.url, {
      pane: "imagery", maxNativeZoom: wanted.most_zoom, maxZoom: 21, referrerPolicy: "no-referrer",
    }).addTo(this.map);
    this.credit = this.note(wanted.credit, "bottomright");
  }

  drawGrid() {
    const { L, data, map } = this;
    const perYard = data.yard / this.metresPerPixel();
    const step = (STEPS_YD.find((yards) => yards * perYard >= LINE_PX) ?? STEPS_YD.at(-1)) * data.yard;
    const bounds = map.getBounds().pad(0.2);
    const [west, south] = this.local(bounds.getSouthWest());
    const [east, north] = this.local(bounds.getNorthEast());
    this.grid.clearLayers();
    const rule = (a, b) =>
      L.polyline([this.place(a), this.place(b)], { pane: "grid", interactive: false, className: "rule" })
        .addTo(this.grid);
    for (let e = Math.ceil(west / step) * step; e < east; e += step) rule([e, south], [e, north]);
    for (let n = Math.ceil(south / step) * step; n < north; n += step) rule([west, n], [east, n]);
    this.scale ??= this.note("", "bottomleft");
    this.scale.getContainer().textContent = `squares of ${Math.round(step / data.yard).toLocaleString()} yd`;
  }

  drawGround() {
    const { L, data } = this;
    this.ground.clearLayers();
    this.labels.clearLayers();
    const sorted = [...this.shapes].sort((a, b) => ORDER.indexOf(a.kind) - ORDER.indexOf(b.kind));
    for (const shape of sorted) {
      shape.layer = this.layerOf(shape, shape.id === data.picked).addTo(this.ground);
      if (shape.name) this.label(shape);
    }
    this.makeHatches();
    this.declutter();
  }

  layerOf(shape, picked) {
    const { L } = this;
    const className = `kind-${shape.kind}${picked ? " picked" : ""}`;
    if (shape.geometry.type === "Point") {
      return L.marker(shape.corners[0][0], {
        interactive: false, keyboard: false, icon: this.icon(`thing ${className}`, 20),
      });
    }
    const style = { className, interactive: false };
    if (shape.geometry.type === "LineString") return L.polyline(shape.corners[0], style);
    const fillColor = HATCH[shape.kind] ? `url(#hatch-${shape.kind})` : "transparent";
    return L.polygon(shape.corners, { ...style, fillColor, fillOpacity: 1 });
  }

  makeHatches() {
    const svg = this.find(".leaflet-overlay-pane svg");
    if (!svg || svg.querySelector("defs")) return;
    const make = (tag, attributes) => {
      const node = document.createElementNS("http://www.w3.org/2000/svg", tag);
      for (const [name, value] of Object.entries(attributes)) node.setAttribute(name, value);
      return node;
    };
    const defs = make("defs", {});
    for (const [kind, [d, size, width]] of Object.entries(HATCH)) {
      const tile = make("pattern", {
        id: `hatch-${kind}`, width: size, height: size, patternUnits: "userSpaceOnUse",
      });
      tile.append(make("path", { d, class: `hatch kind-${kind}`, "stroke-width": width }));
      defs.append(tile);
    }
    svg.prepend(defs);
  }

  label(shape) {
    const icon = this.icon(`name kind-${shape.kind}${shape.id === this.data.picked ? " picked" : ""}`, 0);
    const text = document.createElement("span");
    text.textContent = shape.name;
    icon.options.html.append(text);
    const marker = this.L.marker(middleOf(shape), { interactive: false, keyboard: false, icon });
    marker.addTo(this.labels);
    marker.rank = shape.id === this.data.picked ? 99 : ORDER.indexOf(shape.kind);
  }

  /* Names that would lie over each other: the more telling one stays. */
  declutter() {
    const taken = [];
    const markers = this.labels.getLayers().sort((a, b) => b.rank - a.rank);
    for (const marker of markers) {
      const span = marker.getElement()?.querySelector("span");
      if (!span) continue;
      span.style.visibility = "visible";
      const box = span.getBoundingClientRect();
      const hit = taken.some(
        (t) => box.left < t.right && t.left < box.right && box.top < t.bottom && t.top < box.bottom,
      );
      if (hit) span.style.visibility = "hidden";
      else taken.push(box);
    }
  }

  // --- corners of the chosen thing

  drawHandles() {
    this.handles.clearLayers();
    const shape = this.picked();
    if (!shape || this.sketch) return;
    const corners = shape.corners[0];
    // handles that would lie on each other: one of them, until the map is nearer
    const placed = [];
    corners.forEach((corner, i) => {
      const at = this.pixels(corner);
      if (i !== this.point && placed.some((other) => at.distanceTo(other) < REACH_PX)) return;
      placed.push(at);
      this.cornerHandle(shape, corner, i);
    });
    if (shape.geometry.type === "Point") return;
    const last = shape.geometry.type === "Polygon" ? corners.length : corners.length - 1;
    for (let i = 0; i < last; i++) {
      const [a, b] = [corners[i], corners[(i + 1) % corners.length]];
      if (this.pixels(a).distanceTo(this.pixels(b)) >= APART_PX) this.betweenHandle(shape, a, b, i + 1);
    }
  }

  cornerHandle(shape, at, index) {
    const chosen = index === this.point && shape.geometry.type !== "Point" ? " chosen" : "";
    const marker = this.handle(at, `corner ${shape.geometry.type.toLowerCase()}${chosen}`);
    marker.on("click", () => {
      this.point = this.point === index ? null : index;
      this.drawHandles();
      this.fillTools();
    });
    this.dragged(marker, shape, () => index);
  }

  betweenHandle(shape, a, b, index) {
    const between = this.L.latLng((a[0] + b[0]) / 2, (a[1] + b[1]) / 2);
    const marker = this.handle(between, "between");
    const insert = () => {
      shape.corners[0].splice(index, 0, [between.lat, between.lng]);
      return index;
    };
    marker.on("click", () => {
      insert();
      this.finishDrag(shape, index);
    });
    this.dragged(marker, shape, insert);
  }

  handle(at, className) {
    const icon = this.icon(`handle ${className}`, 44);
    return this.L.marker(at, { draggable: true, keyboard: false, icon, zIndexOffset: className.startsWith("corner") ? 2000 : 1000 })
      .addTo(this.handles);
  }

  dragged(marker, shape, indexOf) {
    let index = null;
    marker.on("dragstart", () => {
      this.busy = true;
      index = indexOf();
    });
    marker.on("drag", () => {
      const { lat, lng } = marker.getLatLng();
      shape.corners[0][index] = [lat, lng];
      this.redraw(shape);
      this.say(this.measure(shape.kind, shape.geometry.type, shape.corners[0]));
    });
    marker.on("dragend", () => {
      this.busy = false;
      this.finishDrag(shape, index);
    });
  }

  redraw(shape) {
    if (shape.geometry.type === "Point") shape.layer.setLatLng(shape.corners[0][0]);
    else if (shape.geometry.type === "LineString") shape.layer.setLatLngs(shape.corners[0]);
    else shape.layer.setLatLngs(shape.corners);
  }

  finishDrag(shape, index) {
    this.point = shape.geometry.type === "Point" ? null : index;
    this.redraw(shape);
    this.drawHandles();
    this.fillTools();
    this.send("shape", { id: shape.id, geometry: geometryOf(shape.geometry.type, shape.corners) });
  }

  closer() {
    this.touched = true;
    this.map.fitBounds(this.picked().corners[0], { padding: [60, 60], maxZoom: 19, animate: false });
  }

  removePoint() {
    const shape = this.picked();
    if (this.point === null || shape.corners[0].length <= TAKES[shape.geometry.type]) return;
    shape.corners[0].splice(this.point, 1);
    this.finishDrag(shape, null);
  }

  // --- taps

  tapped(latlng) {
    if (this.sketch) return this.sketchTapped(latlng);
    const near = this.near(latlng);
    const again = near.indexOf(this.data.picked); // a second tap on the spot takes the next
    const id = near.length ? near[(again + 1) % near.length] : "";
    this.send("pick", { id, at: [latlng.lng, latlng.lat] });
  }

  /* Ids of what lies under a finger: points first, then lines, then small areas. */
  near(latlng) {
    const tap = this.pixels(latlng);
    const found = [];
    for (const shape of this.shapes) {
      const corners = shape.corners[0].map((c) => this.pixels(c));
      const area = shape.geometry.type === "Polygon";
      const off = distancePx(tap, area ? [...corners, corners[0]] : corners);
      const level = shape.geometry.type === "Point" ? 0 : area ? 2 : 1;
      if (level === 2 && shape.kind !== "boundary" && inside(tap, corners)) found.push([2, sizePx(corners), shape.id]);
      else if (off <= REACH_PX) found.push([level, off, shape.id]);
    }
    return found.sort((a, b) => a[0] - b[0] || a[1] - b[1]).map((f) => f[2]);
  }

  // --- drawing something new

  begin(value) {
    const kind = this.data.kinds.find((k) => k.value === value);
    this.sketch = { ...kind, points: [] };
    this.line = this.L.layerGroup().addTo(this.map);
    this.root.querySelector(".map").classList.add("drawing");
    this.drawHandles();
    this.drawSketch();
  }

  sketchTapped(latlng) {
    const { points, shape } = this.sketch;
    const tap = this.pixels(latlng);
    const end = shape === "Polygon" ? points[0] : points.at(-1);
    const back = points.length >= TAKES[shape] && tap.distanceTo(this.pixels(end)) < REACH_PX;
    if (back) return this.finishSketch();
    points.push([latlng.lat, latlng.lng]);
    if (shape === "Point") this.finishSketch();
    else this.drawSketch();
  }

  drawSketch(toward = null) {
    const { L, sketch } = this;
    this.line.clearLayers();
    const area = sketch.shape === "Polygon";
    const className = `sketch kind-${sketch.kind}${area ? " area" : ""}`;
    (area ? L.polygon : L.polyline)(sketch.points, { className, interactive: false }).addTo(this.line);
    if (toward && sketch.points.length) {
      L.polyline([sketch.points.at(-1), toward], { className: "toward", interactive: false }).addTo(this.line);
    }
    for (const point of sketch.points) {
      L.marker(point, { interactive: false, keyboard: false, icon: this.icon("dot", 12) }).addTo(this.line);
    }
    this.fillTools();
    const shown = toward ? [...sketch.points, toward] : sketch.points;
    this.say(this.measure(sketch.kind, sketch.shape, shown) || sketch.hint);
  }

  hovered(latlng) {
    if (this.sketch && this.sketch.points.length) this.drawSketch([latlng.lat, latlng.lng]);
  }

  finishSketch() {
    const { kind, shape, points } = this.sketch;
    this.endSketch();
    if (points.length >= TAKES[shape]) {
      this.send("add", { kind, geometry: geometryOf(shape, [points]) });
    }
  }

  endSketch() {
    this.sketch = null;
    this.line.remove();
    this.root.querySelector(".map").classList.remove("drawing");
    this.drawHandles();
    this.fillTools();
    this.say(this.data.said, this.data.trouble);
  }

  // --- what it measures while a finger moves

  measure(kind, shape, corners) {
    if (!corners.length) return "";
    const local = corners.map((c) => this.local(this.L.latLng(c)));
    if (kind === "stand") return this.nearTrails(local[0]);
    if (shape === "Point") return "";
    if (shape === "Polygon") return local.length > 2 ? `${acres(local, this.data.acre).toFixed(1)} acres` : "";
    const metres = lengthOf(local);
    const yards = `${Math.round(metres / this.data.yard).toLocaleString()} yd`;
    if (kind !== "lane") return yards;
    return `${yards}, ${Math.max(1, Math.ceil(metres / this.data.walk_mps / 60))} min in the dark`;
  }

  nearTrails(at) {
    const spot = this.L.point(at);
    const yards = this.shapes
      .filter((s) => s.kind === "corridor")
      .map((s) => [distancePx(spot, s.corners[0].map((c) => this.L.point(this.local(this.L.latLng(c))))), s.name])
      .sort((a, b) => a[0] - b[0])
      .slice(0, 3);
    return yards.map(([m, name]) => `${name} ${Math.round(m / this.data.yard)} yd`).join("; ");
  }

  // --- the row of tools

  makeTools() {
    const on = (name, act) => this.find(name).addEventListener("click", act);
    on(".undo", () => this.send("undo"));
    on(".redo", () => this.send("redo"));
    on(".delete", () => this.send("delete", { id: this.data.picked }));
    on(".unpoint", () => this.removePoint());
    on(".closer", () => this.closer());
    on(".finish", () => this.finishSketch());
    on(".back", () => (this.sketch.points.pop(), this.drawSketch()));
    on(".cancel", () => this.endSketch());
    const add = this.find(".add");
    add.addEventListener("change", () => {
      if (add.value) this.begin(add.value);
      add.value = "";
    });
  }

  fillTools() {
    const { data, sketch } = this;
    const add = this.find(".add");
    if (add.options.length <= 1) {
      for (const { value, label } of data.kinds) add.append(new Option(label, value));
    }
    const shape = this.picked();
    const spare = shape && shape.corners[0].length > TAKES[shape.geometry.type];
    const seen = {
      ".add": !sketch, ".undo": !sketch, ".redo": !sketch, ".delete": !sketch && shape,
      ".unpoint": !sketch && shape && this.point !== null && spare,
      ".closer": !sketch && shape,
      ".finish": sketch, ".back": sketch, ".cancel": sketch,
    };
    for (const [name, shown] of Object.entries(seen)) this.find(name).hidden = !shown;
    this.find(".undo").disabled = !data.undo;
    this.find(".redo").disabled = !data.redo;
    this.find(".undo").title = data.undo ? `Undo: ${data.undo}` : "";
    this.find(".redo").title = data.redo ? `Redo: ${data.redo}` : "";
    if (sketch) {
      this.find(".finish").disabled = sketch.points.length < TAKES[sketch.shape];
      this.find(".back").disabled = sketch.points.length === 0;
    }
  }

  key(event) {
    if (event.key === "Escape" && this.sketch) this.endSketch();
    else if (event.key === "Enter" && this.sketch) this.finishSketch();
    else if (event.key.toLowerCase() === "z" && (event.ctrlKey || event.metaKey)) {
      event.preventDefault();
      this.send(event.shiftKey ? "redo" : "undo");
    }
  }

  say(text, trouble = false) {
    const line = this.find(".said");
    line.textContent = text || this.data.idle;
    line.classList.toggle("trouble", Boolean(trouble && text));
  }

  // --- small helps

  find(selector) {
    return this.root.querySelector(selector);
  }

  picked() {
    return this.shapes?.find((s) => s.id === this.data.picked);
  }

  pixels(at) {
    return this.map.latLngToContainerPoint(at);
  }

  icon(className, size) {
    const html = document.createElement("i");
    return this.L.divIcon({ className, html, iconSize: [size, size] });
  }

  note(text, position) {
    const control = this.L.control({ position });
    control.onAdd = () => {
      const box = document.createElement("div");
      box.className = "note";
      box.textContent = text;
      return box;
    };
    return control.addTo(this.map);
  }

  /* Metres east and north of the property's centre, by the scale that Python gave. */
  local({ lat, lng }) {
    const { center, scale } = this.data;
    return [(lng - center[0]) * scale.lon, (lat - center[1]) * scale.lat];
  }

  place([east, north]) {
    const { center, scale } = this.data;
    return [center[1] + north / scale.lat, center[0] + east / scale.lon];
  }

  metresPerPixel() {
    const middle = this.map.getSize().divideBy(2);
    const across = [middle, middle.add([1, 0])].map((p) => this.local(this.map.containerPointToLatLng(p)));
    return lengthOf(across);
  }
}

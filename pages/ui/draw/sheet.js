/* The sheet: the map itself, where it looks, its squares, its photographs, its measures. */

const STEPS_YD = [5, 10, 25, 50, 100, 250, 500, 1000, 2500, 5000, 10000];
const LINE_PX = 60; // least distance of grid lines
const VIEWS = (globalThis.standWindViews ??= {}); // where each ground was last looked at

class Sheet {
  constructor(own) {
    const { L } = own;
    this.own = own;
    const box = own.find(".map");
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
    this.map.on("moveend", () => this.moved());
    new ResizeObserver(() => this.resized()).observe(box);
    for (const name of ["pointerdown", "wheel", "keydown"]) {
      box.addEventListener(name, () => (this.touched = true), { capture: true, passive: true });
    }
  }

  draw() {
    this.look();
    this.drawImagery();
    this.drawGrid();
  }

  moved() {
    const { data } = this.own;
    if (!data) return;
    if (this.touched) VIEWS[data.ground] = [this.map.getCenter(), this.map.getZoom()];
    this.drawGrid();
  }

  resized() {
    this.map.invalidateSize({ animate: false });
    if (!this.touched) this.looked = false; // the page is still finding its width
    if (this.own.data) this.look();
  }

  /* Once a ground: where it was last looked at, else all of it. */
  look() {
    const { map, own } = this;
    if (this.looked || !map.getSize().x) return;
    this.looked = true;
    const view = VIEWS[own.data.ground];
    const places = own.shapes.all.flatMap((s) => s.corners.flat());
    if (view) map.setView(view[0], view[1], { animate: false });
    else if (places.length) map.fitBounds(places, { padding: [14, 14], maxZoom: 18, animate: false });
    else map.setView([own.data.center[1], own.data.center[0]], 17, { animate: false });
  }

  lookAt(places) {
    this.touched = true;
    this.map.fitBounds(places, { padding: [60, 60], maxZoom: 19, animate: false });
  }

  drawImagery() {
    const wanted = this.own.data.imagery;
    if (!wanted === !this.imagery) return;
    if (!wanted) {
      this.imagery.remove();
      this.credit.remove();
      this.imagery = null;
      return;
    }
    this.imagery = this.own.L.tileLayer(wanted.url, {
      pane: "imagery", maxNativeZoom: wanted.most_zoom, maxZoom: 21, referrerPolicy: "no-referrer",
    }).addTo(this.map);
    this.credit = this.note(wanted.credit, "bottomright");
  }

  drawGrid() {
    const { own, map } = this;
    const { yard } = own.data;
    const perYard = yard / this.metresPerPixel();
    const step = (STEPS_YD.find((yards) => yards * perYard >= LINE_PX) ?? STEPS_YD.at(-1)) * yard;
    const bounds = map.getBounds().pad(0.2);
    const [west, south] = this.local(bounds.getSouthWest());
    const [east, north] = this.local(bounds.getNorthEast());
    this.grid.clearLayers();
    const rule = (a, b) =>
      own.L.polyline([this.place(a), this.place(b)], { pane: "grid", interactive: false, className: "rule" })
        .addTo(this.grid);
    for (let e = Math.ceil(west / step) * step; e < east; e += step) rule([e, south], [e, north]);
    for (let n = Math.ceil(south / step) * step; n < north; n += step) rule([west, n], [east, n]);
    this.scale ??= this.note("", "bottomleft");
    this.scale.getContainer().textContent = `squares of ${Math.round(step / yard).toLocaleString()} yd`;
  }

  note(text, position) {
    const control = this.own.L.control({ position });
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
    const { center, scale } = this.own.data;
    return [(lng - center[0]) * scale.lon, (lat - center[1]) * scale.lat];
  }

  place([east, north]) {
    const { center, scale } = this.own.data;
    return [center[1] + north / scale.lat, center[0] + east / scale.lon];
  }

  metresPerPixel() {
    const middle = this.map.getSize().divideBy(2);
    const across = [middle, middle.add([1, 0])].map((p) => this.local(this.map.containerPointToLatLng(p)));
    return lengthOf(across);
  }

  // --- what is told while a finger moves

  measure(kind, shape, corners) {
    if (!corners.length) return "";
    const { data } = this.own;
    const local = corners.map((c) => this.local(this.own.L.latLng(c)));
    if (kind === "stand") return this.nearTrails(local[0]);
    if (shape === "Point") return "";
    if (shape === "Polygon") return local.length > 2 ? `${acres(local, data.acre).toFixed(1)} acres` : "";
    const metres = lengthOf(local);
    const yards = `${Math.round(metres / data.yard).toLocaleString()} yd`;
    if (kind !== "lane") return yards;
    return `${yards}, ${Math.max(1, Math.ceil(metres / data.walk_mps / 60))} min in the dark`;
  }

  nearTrails(at) {
    const { L, data, shapes } = this.own;
    const spot = L.point(at);
    const yards = shapes.all
      .filter((s) => s.kind === "corridor")
      .map((s) => [distancePx(spot, s.corners[0].map((c) => L.point(this.local(L.latLng(c))))), s.name])
      .sort((a, b) => a[0] - b[0])
      .slice(0, 3);
    return yards.map(([m, name]) => `${name} ${Math.round(m / data.yard)} yd`).join("; ");
  }
}

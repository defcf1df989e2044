/* What is drawn on the sheet: the ground's things and their hatches. */

const ORDER = ["boundary", "other", "water", "no-shoot", "bedding", "food", "draw", "lane",
  "corridor", "sign", "camera", "truck", "stand"];
const HATCH = {
  bedding: ["M0,10 L10,0", 10, 1], food: ["M4,5 h2", 10, 2], "no-shoot": ["M0,8 L8,0 M0,0 L8,8", 8, 0.7],
};

class Shapes {
  constructor(own) {
    this.own = own;
    this.all = [];
    this.ground = own.L.layerGroup().addTo(own.map);
  }

  take(features) {
    this.all = features.map((f) => ({ ...f, corners: cornersOf(f.geometry) }));
  }

  draw() {
    this.ground.clearLayers();
    const sorted = [...this.all].sort((a, b) => ORDER.indexOf(a.kind) - ORDER.indexOf(b.kind));
    for (const shape of sorted) {
      shape.layer = this.layerOf(shape, shape.id === this.own.data.picked).addTo(this.ground);
    }
    this.makeHatches();
    this.own.names.draw(sorted);
  }

  layerOf(shape, picked) {
    const { L } = this.own;
    const className = `kind-${shape.kind}${picked ? " picked" : ""}`;
    if (shape.geometry.type === "Point") {
      return L.marker(shape.corners[0][0], {
        interactive: false, keyboard: false, icon: this.own.icon(`thing ${className}`, 20),
      });
    }
    const style = { className, interactive: false };
    if (shape.geometry.type === "LineString") return L.polyline(shape.corners[0], style);
    const fillColor = HATCH[shape.kind] ? `url(#hatch-${shape.kind})` : "transparent";
    return L.polygon(shape.corners, { ...style, fillColor, fillOpacity: 1 });
  }

  redraw(shape) {
    if (shape.geometry.type === "Point") shape.layer.setLatLng(shape.corners[0][0]);
    else if (shape.geometry.type === "LineString") shape.layer.setLatLngs(shape.corners[0]);
    else shape.layer.setLatLngs(shape.corners);
  }

  makeHatches() {
    const svg = this.own.find(".leaflet-overlay-pane svg");
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

  /* Ids of what lies under a finger: points first, then lines, then small areas. */
  near(latlng) {
    const tap = this.own.pixels(latlng);
    const found = [];
    for (const shape of this.all) {
      const [corners, ...holes] = shape.corners.map((ring) => ring.map((c) => this.own.pixels(c)));
      const area = shape.geometry.type === "Polygon";
      const off = distancePx(tap, area ? [...corners, corners[0]] : corners);
      const level = shape.geometry.type === "Point" ? 0 : area ? 2 : 1;
      const within = inside(tap, corners) && !holes.some((hole) => inside(tap, hole));
      if (level === 2 && shape.kind !== "boundary" && within) found.push([2, sizePx(corners), shape.id]);
      else if (off <= REACH_PX) found.push([level, off, shape.id]);
    }
    return found.sort((a, b) => a[0] - b[0] || a[1] - b[1]).map((f) => f[2]);
  }
}

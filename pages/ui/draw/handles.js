/* Handles of the chosen thing: one a corner, one between, or one for all of it. */

const APART_PX = 64; // a segment shorter than this has no handle to insert a point
const BELOW_PX = 46; // the thumb lies below the thing it moves, not on it
const RIM_PX = 100; // and this far from the sheet's edge, off its buttons
const WHOLE_SAID = "Drag the cross: all of it goes along. Points again ends that.";

class Handles {
  constructor(own) {
    this.own = own;
    this.layer = own.L.layerGroup().addTo(own.map);
    this.forget();
  }

  forget() {
    this.point = null; // index of the chosen corner
    this.whole = false; // the next drag moves all of it
  }

  draw() {
    this.layer.clearLayers();
    const shape = this.own.picked();
    if (!shape || this.own.sketch.kind || this.own.data.locked) return;
    if (this.whole) this.wholeHandle(shape);
    else this.cornerHandles(shape);
  }

  hold(whole) {
    if (whole === this.whole) return;
    this.whole = whole;
    this.point = null;
    this.draw();
    this.own.tools.fill();
    this.own.say(whole ? WHOLE_SAID : "");
  }

  cornerHandles(shape) {
    const corners = shape.corners[0];
    // handles that would lie on each other: one of them, until the map is nearer
    const placed = [];
    corners.forEach((corner, i) => {
      const at = this.own.pixels(corner);
      if (i !== this.point && placed.some((other) => at.distanceTo(other) < REACH_PX)) return;
      placed.push(at);
      this.cornerHandle(shape, corner, i);
    });
    if (shape.geometry.type === "Point") return;
    const last = shape.geometry.type === "Polygon" ? corners.length : corners.length - 1;
    for (let i = 0; i < last; i++) {
      const [a, b] = [corners[i], corners[(i + 1) % corners.length]];
      const far = this.own.pixels(a).distanceTo(this.own.pixels(b));
      if (far >= APART_PX) this.betweenHandle(shape, a, b, i + 1);
    }
  }

  cornerHandle(shape, at, index) {
    const chosen = index === this.point && shape.geometry.type !== "Point" ? " chosen" : "";
    const marker = this.handle(at, `corner ${shape.geometry.type.toLowerCase()}${chosen}`);
    marker.on("click", () => {
      this.point = this.point === index ? null : index;
      this.draw();
      this.own.tools.fill();
    });
    this.moves(marker, shape, () => index);
  }

  betweenHandle(shape, a, b, index) {
    const between = this.own.L.latLng((a[0] + b[0]) / 2, (a[1] + b[1]) / 2);
    const marker = this.handle(between, "between");
    const insert = () => {
      shape.corners[0].splice(index, 0, [between.lat, between.lng]);
      return index;
    };
    marker.on("click", () => {
      insert();
      this.finish(shape, index);
    });
    this.moves(marker, shape, insert);
  }

  /* A corner goes where its handle goes. */
  moves(marker, shape, indexOf) {
    let index = null;
    this.dragged(marker, {
      start: () => (index = indexOf()),
      to: ({ lat, lng }) => {
        shape.corners[0][index] = [lat, lng];
        this.own.shapes.redraw(shape);
        this.own.say(this.own.sheet.measure(shape.kind, shape.geometry.type, shape.corners[0]));
      },
      end: () => this.finish(shape, index),
    });
  }

  /* All of it, holes too, goes as far as the cross does; no end is joined to anything. */
  wholeHandle(shape) {
    const marker = this.handle(this.belowIt(shape), "whole", 64);
    const [from, before] = [marker.getLatLng(), shape.corners];
    this.dragged(marker, {
      start: () => {},
      to: ({ lat, lng }) => {
        const [up, right] = [lat - from.lat, lng - from.lng];
        shape.corners = before.map((ring) => ring.map((c) => [c[0] + up, c[1] + right]));
        this.own.shapes.redraw(shape);
      },
      end: () => this.finish(shape, null, { within_m: 0 }),
    });
  }

  belowIt(shape) {
    const { map } = this.own;
    const corners = shape.corners[0].map((c) => this.own.pixels(c));
    const [x, y, size] = [corners.map((p) => p.x), corners.map((p) => p.y), map.getSize()];
    const within = (at, most) => Math.max(RIM_PX, Math.min(most - RIM_PX, at));
    const middle = (Math.min(...x) + Math.max(...x)) / 2;
    return map.containerPointToLatLng([within(middle, size.x), within(Math.max(...y) + BELOW_PX, size.y)]);
  }

  handle(at, className, size = 44) {
    const icon = this.own.icon(`handle ${className}`, size);
    const zIndexOffset = className === "between" ? 1000 : 2000;
    return this.own.L.marker(at, { draggable: true, keyboard: false, icon, zIndexOffset })
      .addTo(this.layer);
  }

  dragged(marker, { start, to, end }) {
    marker.on("dragstart", () => {
      this.own.busy = true;
      start();
    });
    marker.on("drag", () => to(marker.getLatLng()));
    marker.on("dragend", () => {
      this.own.busy = false;
      end();
    });
  }

  finish(shape, index, more = {}) {
    this.point = shape.geometry.type === "Point" ? null : index;
    this.own.shapes.redraw(shape);
    this.draw();
    this.own.tools.fill();
    const geometry = geometryOf(shape.geometry.type, shape.corners);
    this.own.send("shape", { id: shape.id, geometry, ...more });
  }

  removePoint() {
    const shape = this.own.picked();
    if (this.point === null || shape.corners[0].length <= TAKES[shape.geometry.type]) return;
    shape.corners[0].splice(this.point, 1);
    this.finish(shape, null);
  }
}

/* Names on the sheet: of each place tried the first that touches nothing; else it waits for a
closer look. The chosen thing's is always there. */

const SIGN_PX = 9; // half a sign of a stand, a truck spot, a camera
const CHOSEN_SIGN_PX = 19; // and half the handle round the chosen one
const ALOOF_PX = 8; // a name that ends nearer to another's sign reads as that one's

class Names {
  constructor(own) {
    this.own = own;
    this.layer = own.L.layerGroup().addTo(own.map);
    own.map.on("moveend", () => this.arrange());
  }

  draw(shapes) {
    this.layer.clearLayers();
    for (const shape of shapes) if (shape.name) this.add(shape);
  }

  add(shape) {
    const picked = shape.id === this.own.data.picked;
    const icon = this.own.icon(`name kind-${shape.kind}${picked ? " picked" : ""}`, 0);
    const text = document.createElement("span");
    text.textContent = shape.name;
    icon.options.html.append(text);
    const marker = this.own.L.marker(middleOf(shape), { interactive: false, keyboard: false, icon });
    marker.addTo(this.layer);
    Object.assign(marker, { shape, picked, rank: picked ? 99 : ORDER.indexOf(shape.kind) });
  }

  arrange() {
    const sheet = this.own.find(".map").getBoundingClientRect();
    if (!sheet.width) return;
    const page = { left: 2, top: 2, right: sheet.width - 4, bottom: sheet.height - 4 };
    const taken = [...this.controls(sheet), ...this.signs(page)];
    const markers = this.layer.getLayers().sort((a, b) => b.rank - a.rank);
    const spans = markers.map((m) => m.getElement()?.querySelector("span"));
    spans.forEach((span) => span?.style.setProperty("max-width", `${0.7 * sheet.width}px`));
    const sizes = spans.map((span) => span && [span.offsetWidth, span.offsetHeight]); // all at once
    markers.forEach((marker, i) => spans[i] && this.put(marker, spans[i], sizes[i], page, taken));
  }

  put(marker, span, size, page, taken) {
    const at = this.own.pixels(marker.getLatLng());
    const tried = this.places(marker, size).map(([x, y]) => boxAt(at.x + x, at.y + y, size));
    const free = (box) => liesIn(box, page) && !taken.some((t) => t.of !== marker.shape && touch(box, t));
    const pulledIn = () => tried.map((box) => pulled(box, size, page));
    const seen = () => marker.picked && this.own.map.getBounds().intersects(boundsOf(marker.shape));
    const box = tried.find(free) ?? (seen() ? pulledIn().find(free) ?? pulledIn()[0] : null);
    span.style.visibility = box ? "visible" : "hidden";
    if (!box) return;
    span.style.transform = `translate(${box.left - at.x}px, ${box.top - at.y}px)`;
    taken.push(box);
  }

  /* Top left corners to try, from the middle of the thing: beside a sign, on a line or an area. */
  places({ shape, picked }, [wide, high]) {
    const point = shape.geometry.type === "Point";
    const off = !point ? 2 : picked ? CHOSEN_SIGN_PX + 1 : SIGN_PX + 1;
    const [over, under] = [-high - off, off];
    if (!point) return [-high / 2, over, under].map((y) => [-wide / 2, y]);
    const beside = [-0.6, -1, 0].flatMap((y) => [off, -wide - off].map((x) => [x, y * high]));
    return [...beside, ...[-0.5, -0.2, -0.8].flatMap((x) => [over, under].map((y) => [x * wide, y]))];
  }

  controls(sheet) {
    const boxes = this.own.root.querySelectorAll(".leaflet-control, .tools.over > :not([hidden])");
    return [...boxes].map((b) => b.getBoundingClientRect()).map((b) => ({
      left: b.left - sheet.left, right: b.right - sheet.left,
      top: b.top - sheet.top, bottom: b.bottom - sheet.top,
    }));
  }

  signs() {
    return this.own.shapes.all.filter((s) => s.geometry.type === "Point").map((shape) => {
      const { x, y } = this.own.pixels(shape.corners[0][0]);
      const half = shape.id === this.own.data.picked ? CHOSEN_SIGN_PX : SIGN_PX;
      const wide = half + ALOOF_PX;
      return { of: shape, ...boxAt(x - wide, y - half, [2 * wide, 2 * half]) };
    });
  }
}

function boxAt(left, top, [wide, high]) {
  return { left, top, right: left + wide, bottom: top + high };
}

function boundsOf(shape) {
  return globalThis.leaflet.latLngBounds(shape.corners.flat());
}

function pulled(box, size, page) {
  const x = Math.max(page.left, Math.min(box.left, page.right - size[0]));
  const y = Math.max(page.top, Math.min(box.top, page.bottom - size[1]));
  return boxAt(x, y, size);
}

function liesIn(box, page) {
  return box.left >= page.left && box.right <= page.right && box.top >= page.top && box.bottom <= page.bottom;
}

function touch(a, b) {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

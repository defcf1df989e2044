/* The drawing map. Leaflet draws it; these files say what a tap and a drag mean.

The ground itself lives in Python. `show` draws what Python sends; every finished
gesture goes back as one small message, numbered, until Python says it has it. Names
come only as data and reach the page only as text. The files are joined into one. */

const REACH_PX = 22; // half a fingertip
const PATIENCE_MS = 5000; // then a gesture without an answer is sent again
const NO_ANSWER = "The program does not answer. Keep this page open: it is asked again.";
const TAKES = { Point: 1, LineString: 2, Polygon: 3 };

export default function (component) {
  const { data, parentElement, setStateValue } = component;
  whenLeafletIsThere((leaflet) => {
    parentElement.groundMap ??= new GroundMap(leaflet, parentElement);
    parentElement.groundMap.report = setStateValue;
    parentElement.groundMap.show(data);
  });
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
    this.busy = false; // a finger is on a handle
    this.sheet = new Sheet(this);
    this.map = this.sheet.map;
    this.shapes = new Shapes(this);
    this.names = new Names(this);
    this.handles = new Handles(this);
    this.sketch = new Sketch(this);
    this.tools = new Tools(this);
    this.map.on("click", (event) => this.tapped(event.latlng));
    this.map.on("zoomend", () => this.data && this.handles.draw());
    this.find(".map").addEventListener("keydown", (event) => this.key(event));
  }

  send(act, more = {}) {
    this.waiting.push({ n: ++this.serial, act, within_m: REACH_PX * this.sheet.metresPerPixel(), ...more });
    this.post();
  }

  /* Sent until it is answered: a program that was started anew knows nothing of this page,
  and takes what first reaches it as nothing new. */
  post() {
    clearTimeout(this.late);
    this.posts = (this.posts ?? 0) + 1;
    this.report("ops", { tab: this.tab, list: this.waiting, posts: this.posts });
    this.late = setTimeout(() => {
      if (!this.waiting.length) return;
      this.say(NO_ANSWER, true);
      this.post();
    }, PATIENCE_MS);
  }

  show(data) {
    const confirmed = data.tab === this.tab ? data.done : 0;
    this.waiting = this.waiting.filter((op) => op.n > confirmed);
    this.next = data;
    // an answer to an earlier gesture must not undo the look of a later one
    if (this.waiting.length === 0 && !this.busy) this.draw();
    else if (this.waiting.length && data.tab !== this.tab) this.post();
  }

  draw() {
    const { next, data } = this;
    this.data = next;
    this.shapes.take(next.features);
    if (next.picked !== data?.picked) this.handles.forget();
    if (next.ground !== data?.ground) {
      this.sheet.looked = false;
      this.sketch.takeUp();
    }
    this.sheet.draw();
    this.shapes.draw();
    this.handles.draw();
    this.tools.fill();
    if (this.sketch.kind) this.sketch.tell();
    else this.say(next.said, next.trouble);
  }

  tapped(latlng) {
    if (this.sketch.kind) return this.sketch.tapped(latlng);
    const near = this.shapes.near(latlng);
    const again = near.indexOf(this.data.picked); // a second tap on the spot takes the next
    const id = near.length ? near[(again + 1) % near.length] : "";
    this.send("pick", { id, at: [latlng.lng, latlng.lat] });
  }

  key(event) {
    if (event.key === "Escape") this.sketch.kind ? this.sketch.cancel() : this.handles.hold(false);
    else if (event.key === "Enter" && this.sketch.kind) this.sketch.finish();
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

  find(selector) {
    return this.root.querySelector(selector);
  }

  picked() {
    return this.shapes.all.find((s) => s.id === this.data?.picked);
  }

  pixels(at) {
    return this.map.latLngToContainerPoint(at);
  }

  icon(className, size) {
    const html = document.createElement("i");
    return this.L.divIcon({ className, html, iconSize: [size, size] });
  }
}

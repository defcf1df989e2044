/* The map of an answer: the drawing that fits the room, and what a tap on it asks.

Drawings are SVG of the program's own, read as XML; words reach the page only as text. */

const DESK_FROM_PX = 560;
// what a tap hits lies so near [pixels of the screen]; a thumb may miss a small mark by more
const HITS = { stand: 9, trail: 5, area: 0 };
const MISSES = { stand: 24, trail: 16, area: 16 };
const PARTS = {
  stand: "[data-stand]",
  trail: "polyline[data-id]",
  area: "[data-id]:not(polyline, text, [data-stand])",
};

/* How far a tap lies off a drawn part, in pixels of the screen; 0 within an area. */
function off(part, x, y) {
  const onScreen = part.getScreenCTM();
  const at = new DOMPoint(x, y).matrixTransform(onScreen.inverse());
  if (part.tagName !== "polyline" && part.isPointInFill(at)) return 0;
  const [long, step] = [part.getTotalLength(), 4 / onScreen.a];
  let nearest = Infinity;
  for (let along = 0; along < long + step; along += step) {
    const on = part.getPointAtLength(Math.min(along, long));
    nearest = Math.min(nearest, Math.hypot(on.x - at.x, on.y - at.y));
  }
  return nearest * onScreen.a;
}

/* The id of what a tap means: the name or the part that it hits, else the nearest one. */
function meant(frame, { target, clientX: x, clientY: y }) {
  const name = target.closest?.("text[data-id]");
  if (name) return name.dataset.id;
  for (const most of [HITS, MISSES]) {
    for (const kind of Object.keys(PARTS)) {
      const near = [...frame.querySelectorAll(PARTS[kind])]
        .map((part) => [off(part, x, y), part.dataset.id])
        .filter(([away]) => away <= most[kind]).sort((one, other) => one[0] - other[0]);
      if (near.length) return near[0][1];
    }
  }
  return undefined;
}

export default function ({ data, parentElement }) {
  const find = (name) => parentElement.querySelector(name);
  const [frame, said] = [find(".drawn"), find(".said")];

  const draw = () => {
    const which = frame.clientWidth < DESK_FROM_PX ? 0 : data.maps.length - 1;
    const drawing = new DOMParser().parseFromString(data.maps[which], "image/svg+xml");
    frame.replaceChildren(document.importNode(drawing.documentElement, true));
    frame.dataset.which = which;
  };
  const tell = (event) => {
    const id = meant(frame, event);
    for (const part of frame.querySelectorAll(".asked")) part.classList.remove("asked");
    for (const part of frame.querySelectorAll("[data-id]")) {
      if (part.dataset.id === id && data.told[id]) part.classList.add("asked");
    }
    said.textContent = data.told[id] ?? data.ask;
  };

  draw();
  said.textContent = data.ask;
  frame.onclick = tell;
  parentElement.sheetRoom?.disconnect();
  parentElement.sheetRoom = new ResizeObserver(() => {
    const fits = frame.clientWidth < DESK_FROM_PX ? 0 : data.maps.length - 1;
    if (String(fits) !== frame.dataset.which) draw();
  });
  parentElement.sheetRoom.observe(frame);
  return () => parentElement.sheetRoom.disconnect();
}

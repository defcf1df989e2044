/* The map of an answer: the drawing that fits the room, and what a tap on it asks.

Drawings are SVG of the program's own, read as XML; words reach the page only as text. */

const DESK_FROM_PX = 560;

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
    const id = event.target.closest?.("[data-id]")?.dataset.id;
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

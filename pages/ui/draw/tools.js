/* The buttons over and on the map: which are there, and what each does. */

class Tools {
  constructor(own) {
    this.own = own;
    const { sketch, handles } = own;
    const on = (name, act) => own.find(name).addEventListener("click", act);
    on(".undo", () => own.send("undo"));
    on(".redo", () => own.send("redo"));
    on(".delete", () => own.send("delete", { id: own.data.picked }));
    on(".again", () => sketch.bringBack());
    on(".finish", () => sketch.finish());
    on(".back", () => sketch.backOne());
    on(".cancel", () => sketch.cancel());
    on(".unpoint", () => handles.removePoint());
    on(".all", () => handles.hold(!handles.whole));
    on(".closer", () => own.sheet.lookAt(own.picked().corners[0]));
    const add = own.find(".add");
    add.addEventListener("change", () => {
      if (add.value) sketch.begin(add.value);
      add.value = "";
    });
  }

  fill() {
    const { own } = this;
    const { data, sketch, handles } = own;
    const drawing = Boolean(sketch.kind);
    const free = !drawing && !data.locked; // a file of a later version is only looked at
    const shape = free ? own.picked() : null;
    const line = shape && shape.geometry.type !== "Point";
    const spare = shape && shape.corners[0].length > TAKES[shape.geometry.type];
    const seen = {
      ".add": free, ".undo": free, ".redo": free, ".delete": shape,
      ".again": free && sketch.cancelled,
      ".finish": drawing, ".back": drawing, ".cancel": drawing,
      ".unpoint": handles.point !== null && spare, ".all": line, ".closer": shape,
    };
    for (const [name, shown] of Object.entries(seen)) own.find(name).hidden = !shown;
    for (const way of ["undo", "redo"]) {
      const button = own.find(`.${way}`);
      button.disabled = !data[way];
      button.title = data[way] ? `${button.textContent}: ${data[way]}` : `Nothing to ${way}`;
    }
    own.find(".all").textContent = handles.whole ? "Points again" : "Move all";
    const whole = drawing && sketch.enough();
    own.find(".finish").disabled = !whole;
    own.find(".finish").title = whole ? "" : "Its points are not all there yet";
    own.find(".back").disabled = sketch.points.length === 0;
    const add = own.find(".add");
    if (add.options.length <= 1) {
      for (const { value, label } of data.kinds) add.append(new Option(label, value));
    }
    own.names.arrange(); // off the buttons that are there now
  }
}

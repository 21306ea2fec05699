"use strict";
// What mouse, fingers and keys do to the rig on its canvas.

const KEY_TURN_DEG = 7.5;
// A mouse at rest this long, milliseconds, is told what it points at.
const REST_MS = 70;

function handle(view) {
  const canvas = view.canvas;
  const at = (event) => {
    const box = canvas.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  };
  let before = null; // how the rig was turned before this drag
  canvas.addEventListener("pointerdown", (event) => {
    canvas.setPointerCapture(event.pointerId);
    view.pointers.set(event.pointerId, at(event));
    view.still = view.pointers.size === 1 ? at(event) : null;
    before = null;
  });
  let rest = 0;
  const point = (event) => {
    clearTimeout(rest);
    if (!event) view.pointed(null);
    else if (event.pointerType === "mouse" && !event.buttons) rest = setTimeout(() => view.pointed(view.pickAt(...at(event))), REST_MS);
  };
  canvas.addEventListener("pointerleave", () => point(null));
  canvas.addEventListener("pointermove", (event) => {
    point(event);
    const was = view.pointers.get(event.pointerId);
    if (!was) return;
    const now = at(event);
    if (view.still && Math.hypot(now[0] - view.still[0], now[1] - view.still[1]) > 4) view.still = null;
    const [x, y] = [now[0] - was[0], now[1] - was[1]];
    if (view.pointers.size === 2) {
      const other = [...view.pointers].find(([id]) => id !== event.pointerId)[1];
      const length = (one) => Math.hypot(one[0] - other[0], one[1] - other[1]) || 1;
      view.zoomBy(length(now) / length(was));
      view.moveBy(x / 2, y / 2);
    } else if (!view.still && (event.shiftKey || event.buttons & 6)) {
      view.moveBy(x, y);
    } else if (!view.still) {
      before = before || { turn: view.turn, rise: view.rise };
      view.turnBy(-0.5 * x, 0.5 * y);
    }
    if (!view.still) view.pointers.set(event.pointerId, now);
  });
  canvas.addEventListener("pointerup", (event) => {
    view.pointers.delete(event.pointerId);
    if (view.still && event.button === 0) view.select(view.pickAt(...view.still));
    view.still = null;
  });
  // The browser took the finger for one that scrolls the page: it has not turned anything.
  canvas.addEventListener("pointercancel", (event) => {
    if (view.pointers.size === 1 && before) view.turnTo(before);
    view.pointers.delete(event.pointerId);
    view.still = null;
  });
  canvas.addEventListener("contextmenu", (event) => event.preventDefault());
  canvas.addEventListener("wheel", (event) => {
    event.preventDefault();
    view.zoomBy(Math.exp(-event.deltaY * (event.deltaMode ? 0.05 : 0.0015)));
  }, { passive: false });
  canvas.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const act = {
      // As if the near side were pushed that way.
      ArrowLeft: () => view.turnBy(KEY_TURN_DEG, 0),
      ArrowRight: () => view.turnBy(-KEY_TURN_DEG, 0),
      ArrowUp: () => view.turnBy(0, -KEY_TURN_DEG),
      ArrowDown: () => view.turnBy(0, KEY_TURN_DEG),
      "+": () => view.zoomBy(1.2),
      "=": () => view.zoomBy(1.2),
      "-": () => view.zoomBy(1 / 1.2),
      "0": () => view.reset(),
      Escape: () => view.select(null),
    }[event.key];
    if (!act) return;
    event.preventDefault();
    act();
  });
  canvas.addEventListener("again", () => view.again(false));
  new ResizeObserver(() => view.again(false)).observe(canvas);
}

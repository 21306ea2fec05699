"use strict";
// The rig in space: how it is turned, how far it is apart, up to which step, what is selected.

// Of the eight colours of Okabe and Ito: what is selected, and what a step brings in, as in its
// drawing; beside the latter all else is paled by this share.
const SELECTED = "#cc79a7";
const NEW = "#e69f00";
const PALED = 0.72;
// How much is left of what is seen through, and of its lines.
const CLEAR = 0.1;
const CLEAR_LINES = 0.35;
// What somebody comes closer to is this share of the picture.
const CLOSE = 0.6;
const LARGEST_ZOOM = 40;
const SMALLEST_ZOOM = 0.3;
const EASE_MS = 220;

class RigView {
  // `told` is called with the view whenever something changed that words beside it depend on.
  // `failed` when it turns out that nothing can be drawn; `pointed` with the name of what a mouse
  // rests on, or null.
  constructor(canvas, { told, failed, pointed }) {
    this.canvas = canvas;
    Object.assign(this, { told, failed, pointed });
    this.stage = new Stage(canvas);
    this.content = null;
    this.things = [];
    this.sizes = [];
    this.loaded = false;
    this.turn = ISOMETRIC.turn;
    this.rise = ISOMETRIC.rise;
    this.zoom = 1;
    this.moved = [0, 0];
    this.apart = 0;
    this.step = null;
    this.selected = null;
    this.plates = "solid"; // or "clear", or "none"
    this.through = false; // whether all but what is selected is seen through
    this.away = new Set(); // names of what is put out of sight
    this.near = null; // what the picture is centred on instead of all that is there
    this.fit = null; // what the picture is centred on, eased from one to the next
    this.waiting = false;
    this.frames = 0;
    this.pointers = new Map();
    handle(this);
  }

  get works() {
    return Boolean(this.stage.gl);
  }

  show(content) {
    this.content = content;
    const rig = content.rig;
    this.things = rig ? rig.things : [];
    this.sizes = rig ? rig.meshes.each.map((mesh) => mesh.size) : [];
    if (this.step !== null) this.step = Math.min(this.step, content.steps.length) || null;
    const known = new Set(this.things.map((one) => one.name));
    if (!known.has(this.selected)) this.selected = null;
    if (!known.has(this.near)) this.near = null;
    this.away = new Set([...this.away].filter((name) => known.has(name)));
    this.loaded = false; // until then what was drawn last stays
    if (rig && this.works) readyMeshes(rig.meshes).then((ready) => {
      if (this.content !== content) return;
      this.stage.load(ready);
      this.loaded = true;
      this.again(false);
    }, () => this.fail());
    this.again();
  }

  // This browser cannot undo what is squeezed: as good as one that draws nothing in space.
  fail() {
    this.stage.gl = null;
    this.failed();
  }

  // Which things are there, by index: all, or those of a step.
  there() {
    if (this.step === null) return this.things.map((_, k) => k);
    const step = this.content.steps[this.step - 1];
    return step.there.length ? step.there : this.things.map((_, k) => k);
  }

  // Which of them are in sight: what is selected always is.
  seen() {
    return this.there().filter((k) => {
      const thing = this.things[k];
      return thing.name === this.selected || !(this.away.has(thing.name) || (this.plates === "none" && thing.plates.length));
    });
  }

  isClear(thing) {
    if (thing.name === this.selected) return false;
    return (this.through && this.selected !== null) || (this.plates === "clear" && thing.plates.length > 0);
  }

  isNew(k) {
    return this.step !== null && this.content.steps[this.step - 1].new.includes(k);
  }

  place(thing) {
    return along(thing.at, thing.apart, this.apart);
  }

  // What the picture is to be centred on, and how far about it things reach: sideways however they
  // are turned about the upright, so that turning does not make the picture breathe; up and down.
  wanted(rise = this.rise) {
    const low = [Infinity, Infinity, Infinity], high = [-Infinity, -Infinity, -Infinity];
    const corners = [];
    const close = this.things.findIndex((one) => one.name === this.near);
    for (const k of close < 0 ? this.there() : [close]) {
      const thing = this.things[k], at = this.place(thing), size = this.sizes[thing.mesh];
      for (let n = 0; n < 8; n++) {
        const corner = [0, 1, 2].map((axis) => at[axis] + ((n >> axis) & 1) * size[axis]);
        corners.push(corner);
        for (let axis = 0; axis < 3; axis++) {
          low[axis] = Math.min(low[axis], corner[axis]);
          high[axis] = Math.max(high[axis], corner[axis]);
        }
      }
    }
    const middle = mixed(low, high, 0.5);
    const [c, s] = [Math.cos(rise * Math.PI / 180), Math.abs(Math.sin(rise * Math.PI / 180))];
    let wide = 1, tall = 1, deep = 1;
    for (const corner of corners) {
      const p = along(corner, middle, -1), out = Math.hypot(p[0], p[1]);
      wide = Math.max(wide, out);
      tall = Math.max(tall, Math.abs(p[2]) * c + out * s);
      deep = Math.max(deep, Math.hypot(...p));
    }
    if (close < 0) return { middle, size: [wide, tall, deep] };
    // Whatever else is there must lie before and behind it.
    const [rig, far] = [this.content.rig.box, this.things.map((one) => Math.hypot(...along(this.place(one), middle, -1)))];
    deep = Math.max(...far) + Math.hypot(...along(rig[1], rig[0], -1));
    return { middle, size: [wide / CLOSE, tall / CLOSE, deep] };
  }

  look(size = null) {
    const axes = axesOf(this.turn, this.rise);
    const fit = this.fit || this.wanted();
    const [width, height] = size || [this.canvas.clientWidth || 1, this.canvas.clientHeight || 1];
    const shorter = Math.min(width, height);
    const reach = 1.06 * Math.max(fit.size[0] * shorter / width, fit.size[1] * shorter / height) / this.zoom;
    let target = along(fit.middle, axes.right, -this.moved[0]);
    target = along(target, axes.up, -this.moved[1]);
    return { ...axes, target, reach, deep: 1.1 * fit.size[2] };
  }

  shown() {
    const lines = coloured(dark() ? "#0b0d0f" : "#24292e");
    return this.seen().map((k) => {
      const thing = this.things[k], picked = thing.name === this.selected, clear = this.isClear(thing);
      let colour = coloured(thing.colour, thing.opacity);
      if (this.step !== null) colour = mixed(colour, dark() ? [0.45, 0.48, 0.5, colour[3]] : [0.97, 0.97, 0.97, colour[3]], PALED);
      if (this.isNew(k)) colour = coloured(NEW);
      if (picked) colour = coloured(SELECTED);
      if (clear) colour[3] = CLEAR;
      const bound = clear ? coloured(dark() ? "#dfe2e5" : "#24292e", CLEAR_LINES) : lines;
      return {
        mesh: thing.mesh, at: this.place(thing), colour, edge: bound, clear,
        through: picked ? coloured(dark() ? "#f2d9e6" : "#7a3f5f") : this.isNew(k) ? coloured(dark() ? "#ffd27a" : "#8a5f00", 0.8) : null,
      };
    });
  }

  // Draw on the next frame, and say what changed.
  again(said = true) {
    if (said) this.told(this);
    if (this.waiting || !this.works || !this.loaded) return;
    this.waiting = true;
    requestAnimationFrame(() => {
      this.waiting = false;
      this.drawNow();
    });
  }

  drawNow() {
    if (!this.works || !this.loaded) return;
    if (!this.easing) this.fit = this.wanted();
    if (!this.frames && this.stage.gl) this.stage.tryFine(this.shown(), this.look());
    this.stage.draw(this.shown(), this.look());
    this.frames += 1;
  }

  // Return what is on view as a canvas of so many pixels, on a ground of a colour.
  snapshot(width, height, ground) {
    this.fit = this.wanted();
    this.stage.draw(this.shown(), this.look([width, height]), [width, height]);
    const made = document.createElement("canvas");
    [made.width, made.height] = [width, height];
    const brush = made.getContext("2d");
    brush.fillStyle = ground;
    brush.fillRect(0, 0, width, height);
    brush.drawImage(this.canvas, 0, 0);
    this.drawNow();
    return made;
  }

  // Change something and let the picture follow it softly, or at once where motion is not wanted.
  ease(change) {
    const from = { fit: this.fit || this.wanted(), turn: this.turn, rise: this.rise };
    change();
    const to = { fit: this.wanted(), turn: this.turn, rise: this.rise };
    if (matchMedia("(prefers-reduced-motion: reduce)").matches) {
      this.again();
      return;
    }
    this.told(this);
    let begun = null; // counted from the first frame, so that a busy moment is no jump
    const mine = this.easing = {};
    // The shorter way round.
    const around = ((to.turn - from.turn + 540) % 360 + 360) % 360 - 180;
    const frame = (now) => {
      if (this.easing !== mine) return;
      begun = begun === null ? now : begun;
      const part = Math.min(1, (now - begun) / EASE_MS);
      const share = part * part * (3 - 2 * part);
      this.fit = { middle: mixed(from.fit.middle, to.fit.middle, share), size: mixed(from.fit.size, to.fit.size, share) };
      this.turn = from.turn + share * around;
      this.rise = from.rise + share * (to.rise - from.rise);
      if (part === 1) {
        this.easing = null;
        this.turn = to.turn;
        this.rise = to.rise;
      }
      this.drawNow();
      if (part < 1) requestAnimationFrame(frame);
    };
    requestAnimationFrame(frame);
  }

  settle() {
    this.easing = null;
  }

  turnBy(turn, rise) {
    this.settle();
    this.turn = ((this.turn + turn + 540) % 360 + 360) % 360 - 180;
    this.rise = Math.max(-90, Math.min(90, this.rise + rise));
    this.again();
  }

  turnTo(look) {
    this.settle();
    Object.assign(this, look);
    this.again();
  }

  zoomBy(times) {
    this.zoom = Math.max(SMALLEST_ZOOM, Math.min(LARGEST_ZOOM, this.zoom * times));
    this.again();
  }

  moveBy(x, y) {
    const shorter = Math.min(this.canvas.clientWidth, this.canvas.clientHeight) || 1;
    const mm = 2 * this.look().reach / shorter;
    this.moved = [this.moved[0] + x * mm, this.moved[1] - y * mm];
    this.again(false);
  }

  lookFrom(look) {
    this.ease(() => {
      this.turn = look.turn;
      this.rise = look.rise;
    });
  }

  reset() {
    this.ease(() => {
      Object.assign(this, ISOMETRIC, { zoom: 1, moved: [0, 0], apart: 0, step: null, plates: "solid", through: false, near: null });
      this.away.clear();
    });
  }

  takeApart(share) {
    this.settle();
    this.apart = Math.max(0, Math.min(1, share));
    this.again();
  }

  goTo(step) {
    this.ease(() => {
      const last = this.content.steps.length;
      this.near = null;
      this.step = step === null || !last ? null : Math.max(1, Math.min(last, step));
      // Seen as its drawing is, from a side that shows what is new.
      const seen = this.step === null ? null : this.content.steps[this.step - 1].seen;
      if (seen) Object.assign(this, seen);
    });
  }

  select(name) {
    this.selected = this.things.some((one) => one.name === name) ? name : null;
    const k = this.things.findIndex((one) => one.name === this.selected);
    if (k >= 0 && !this.there().includes(k)) this.step = null; // else it would not be seen
    if (k < 0 || this.near !== name) this.near = null;
    this.again();
  }

  // Put a thing out of sight.
  putAway(name) {
    this.away.add(name);
    if (this.selected === name) this.selected = null;
    this.again();
  }

  showAll() {
    this.away.clear();
    this.again();
  }

  // Let plates be "solid", "clear" or not there ("none").
  letPlates(plates) {
    this.plates = plates;
    this.again();
  }

  seeThrough(wish) {
    this.through = wish;
    this.again();
  }

  // Come closer to a thing, or back for null.
  comeTo(name) {
    this.ease(() => {
      this.near = name;
      this.zoom = 1;
      this.moved = [0, 0];
    });
  }

  pickAt(x, y) {
    if (!this.loaded) return null;
    const solid = this.seen().filter((k) => !this.isClear(this.things[k]));
    const k = this.stage.pick(solid.map((one) => ({ mesh: this.things[one].mesh, at: this.place(this.things[one]) })), this.look(), x, y);
    return k < 0 ? null : this.things[solid[k]].name;
  }

  // Return where a thing's middle lies on the canvas, CSS pixels.
  spotOf(name) {
    const thing = this.things.find((one) => one.name === name);
    const look = this.look();
    const p = along(along(this.place(thing), this.sizes[thing.mesh], 0.5), look.target, -1);
    const width = this.canvas.clientWidth, height = this.canvas.clientHeight;
    const scale = Math.min(width, height) / 2 / look.reach;
    return [width / 2 + dot(p, look.right) * scale, height / 2 - dot(p, look.up) * scale];
  }
}

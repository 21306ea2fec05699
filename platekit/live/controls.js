"use strict";
// The controls of the live page: a value for each parameter of the recipe, the sheet and the beam.

// So long a slider is still before its value is wished for.
const STILL_MS = 120;
// From half of what the recipe says to twice as much; the box beside takes any figure.
const LEAST_SHARE = 0.5, MOST_SHARE = 2;

class LiveControls {
  // `wished` is called with a wish whenever something was turned and stands still; where `free`
  // says that the last run is over and was short, while it still moves.
  constructor(wished, free) {
    this.wished = wished;
    this.free = free;
    this.given = null; // what the server says there is to turn
    this.drawnFor = "";
    this.timer = 0;
    this.sent = null; // the wish last sent, until the server has begun with it: it says older things
    this.ours = false; // whether the server was started again and has yet to hear how things stand
    this.turned = new Map();
    this.sheet = { material: null, thickness_mm: null, kerf_mm: null };
    this.form = make("form", { id: "live-form", "aria-label": "Values of the recipe", submit: (event) => event.preventDefault() });
    this.same = make("div", { id: "live-same" });
  }

  wish() {
    return { values: Object.fromEntries(this.turned), ...this.sheet };
  }

  inOrder({ values, material, thickness_mm, kerf_mm }) {
    return JSON.stringify([Object.entries(values).sort(), material, thickness_mm, kerf_mm]);
  }

  later() {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.send(), STILL_MS);
    this.next();
  }

  // What is wished for goes out now if nothing is in its way.
  next() {
    if (this.timer && this.sent === null && this.free()) this.send();
  }

  send() {
    clearTimeout(this.timer);
    this.timer = 0;
    this.sent = this.inOrder(this.wish());
    this.wished(this.wish());
  }

  turn(one, text) {
    if (text === one.default) this.turned.delete(one.name);
    else this.turned.set(one.name, text);
    this.mark(one);
    this.later();
  }

  reset() {
    this.sent = ""; // what the server says is older than this
    this.turned.clear();
    Object.assign(this.sheet, { material: null, thickness_mm: null, kerf_mm: null });
    this.drawnFor = "";
    this.show(this.given);
    this.send();
  }

  resetOne(one) {
    this.turned.delete(one.name);
    const made = this.control(one);
    byId(`live-${one.name}`).closest(".live-field").replaceWith(made);
    this.mark(one);
    byId(`live-${one.name}`).focus();
    this.send();
  }

  // The server is another one: what it says is not younger than what stands here.
  anew() {
    this.ours = true;
    this.sent = null;
  }

  // What stands otherwise than in the recipe says how it stands there, and can be put back alone.
  mark(one) {
    const field = byId(`live-${one.name}`).closest(".live-field"), turned = this.turned.has(one.name);
    field.querySelector(".live-own").textContent = turned ? ` (recipe: ${one.default || "empty"})` : "";
    field.querySelector(".live-back").hidden = !turned;
  }

  // What is wrong with a value is said beside it.
  fault(id, says) {
    const field = byId(id).closest(".live-field"), line = field.querySelector(".live-fault");
    if (line.textContent !== says) line.textContent = says;
    line.hidden = !says;
    byId(id).setAttribute("aria-invalid", String(Boolean(says)));
  }

  faults() {
    for (const one of this.given.parameters) this.fault(`live-${one.name}`, one.fault);
    for (const name of Object.keys(this.sheet)) this.fault(`live-${name}`, this.given.faults[name] || "");
  }

  // A figure that cannot be read is not sent; a box says so until it can.
  readable(box) {
    const bad = box.validity.badInput || box.validity.rangeUnderflow || box.validity.stepMismatch;
    this.fault(box.id, !bad ? "" : box.validity.stepMismatch ? "give a whole number" : box.validity.rangeUnderflow ? `give ${box.min} or more` : "give a number");
    return !bad;
  }

  spanOf(one, text) {
    const own = Number(one.default), now = Number(text);
    if (!Number.isFinite(own) || own === 0 || !Number.isFinite(now)) return null;
    const whole = one.kind === "whole number";
    let [least, most] = [own * LEAST_SHARE, own * MOST_SHARE].sort((a, b) => a - b);
    if (whole) [least, most] = [Math.floor(least), Math.max(Math.ceil(most), least + 4)];
    const step = whole ? 1 : 10 ** Math.floor(Math.log10((most - least) / 100));
    return { least: Math.min(least, now), most: Math.max(most, now), step };
  }

  field(label, unit, help, inputs, back = null) {
    const id = inputs[inputs.length - 1].id;
    const says = make("p", { class: "live-help", id: `${id}-help`, hidden: !help }, help);
    const fault = make("p", { class: "live-fault", id: `${id}-fault`, hidden: true, role: "status" });
    inputs.forEach((one) => one.setAttribute("aria-describedby", `${says.id} ${fault.id}`));
    return make("div", { class: "live-field" },
      make("label", { for: id }, label, unit ? make("span", { class: "live-unit" }, ` ${unit}`) : null,
        make("span", { class: "live-own" })),
      make("div", { class: "live-inputs" }, inputs, back), fault, says);
  }

  control(one) {
    const id = `live-${one.name}`;
    const is = this.turned.has(one.name) ? this.turned.get(one.name) : one.default;
    const common = { id, name: one.name, title: one.name, autocomplete: "off", spellcheck: "false" };
    const back = make("button", { type: "button", class: "live-back", hidden: true, "aria-label": `put ${one.words} back`,
      title: `back to ${one.default || "empty"}`, click: () => this.resetOne(one) }, "\u21ba");
    const field = (help, ...inputs) => this.field(one.words, one.unit, help, inputs, back);
    if (one.choices.length) {
      return field(one.help, make("select", { ...common, change: (event) => this.turn(one, event.target.value) },
        one.choices.map((text) => make("option", { value: text, selected: text === is }, text))));
    }
    if (one.kind === "yes or no" && !one.may_be_none) {
      return field(one.help, make("input", { ...common, type: "checkbox", checked: is === "yes",
        change: (event) => this.turn(one, event.target.checked ? "yes" : "no") }));
    }
    const number = (one.kind === "number" || one.kind === "whole number") && !one.may_be_none;
    if (!number) {
      return field(one.may_be_none ? `${one.help} (or none)`.trim() : one.help,
        make("input", { ...common, type: "text", value: is, maxlength: 2000, input: (event) => this.turn(one, event.target.value) }));
    }
    const span = this.spanOf(one, is);
    const box = make("input", { ...common, type: "number", step: one.kind === "whole number" ? 1 : "any", value: is });
    const slider = span && make("input", { type: "range", id: `${id}-slide`, "aria-label": `${one.words}, slider`,
      min: span.least, max: span.most, step: span.step, value: is });
    box.addEventListener("input", () => {
      if (!this.readable(box) || box.value === "") return;
      if (slider) slider.value = box.value;
      this.turn(one, box.value);
    });
    box.addEventListener("change", () => { if (box.value === "" && !box.validity.badInput) this.resetOne(one); });
    if (!slider) return field(one.help, box);
    slider.addEventListener("input", () => {
      // The slider's own steps end in noise of the last digits.
      box.value = String(Number(Number(slider.value).toPrecision(10)));
      this.turn(one, box.value);
    });
    return field(one.help, slider, box);
  }

  figureField(label, key, usual) {
    const box = make("input", { type: "number", id: `live-${key}`, step: "any", min: 0, autocomplete: "off",
      placeholder: usual, value: this.sheet[key] });
    box.addEventListener("input", () => {
      if (!this.readable(box)) return;
      this.sheet[key] = box.value === "" ? null : Number(box.value);
      this.later();
    });
    return this.field(label, "mm", `empty: ${usual} mm`, [box]);
  }

  // Takes over how the server says things stand: at first, and when another page turned them.
  adopt() {
    const said = this.inOrder(this.given.wish), here = this.inOrder(this.wish());
    if (this.ours) {
      this.ours = false;
      const plain = this.inOrder({ values: {}, material: null, thickness_mm: null, kerf_mm: null });
      // Started again as it first was: it goes on where this page stands.
      if (said === plain && here !== plain) {
        this.send();
        return false;
      }
    }
    if (this.sent !== null && this.sent === said) this.sent = null;
    if (this.sent !== null || this.timer || here === said) return false;
    this.turned.clear();
    for (const one of this.given.parameters) if (one.text !== one.default) this.turned.set(one.name, one.text);
    const { material, thickness_mm, kerf_mm } = this.given.wish;
    Object.assign(this.sheet, { material, thickness_mm, kerf_mm });
    return true;
  }

  show(given) {
    this.given = given;
    const { parameters, materials } = given;
    const shape = JSON.stringify([parameters.map(({ text, fault, ...rest }) => rest), materials, given.sheet, given.kerf_mm]);
    if (this.adopt() || shape !== this.drawnFor) {
      this.drawnFor = shape;
      for (const name of this.turned.keys()) if (!parameters.some((one) => one.name === name)) this.turned.delete(name);
      const held = this.form.contains(document.activeElement) ? document.activeElement.id : "";
      const material = make("select", { id: "live-material", change: (event) => { this.sheet.material = event.target.value || null; this.later(); } },
        make("option", { value: "" }, `as the recipe says: ${given.sheet.own_material}`),
        materials.map((name) => make("option", { value: name, selected: name === this.sheet.material }, name)));
      this.form.replaceChildren(
        make("fieldset", {}, make("legend", {}, "The recipe's own"),
          parameters.length ? parameters.map((one) => this.control(one)) : make("p", { class: "live-help" }, "It has no parameters of its own.")),
        make("fieldset", {}, make("legend", {}, "Sheet and beam"),
          this.field("material", "", "", [material]),
          this.figureField("measured thickness", "thickness_mm", given.sheet.usual_thickness_mm),
          this.figureField("kerf", "kerf_mm", given.kerf_mm)),
        make("button", { type: "button", id: "live-reset", click: () => this.reset() }, "As the recipe says"));
      parameters.forEach((one) => this.mark(one));
      if (held && byId(held)) byId(held).focus();
    }
    this.faults();
    const copy = make("button", { type: "button", click: () => navigator.clipboard.writeText(given.command).then(
      () => { copy.textContent = "copied"; }, () => { copy.textContent = "not copied"; }) }, "copy");
    this.same.replaceChildren(
      given.dropped.length ? make("p", { class: "live-help" }, `no parameter of it, left out: ${given.dropped.join(", ")}`) : "",
      make("p", { class: "live-help", id: "live-same-says" }, "The same as cut files:"),
      make("code", {}, given.command.split(" ").flatMap((word) => [make("span", {}, word), " "])), copy);
  }
}

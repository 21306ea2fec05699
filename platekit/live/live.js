"use strict";
// What the live page adds to the build page: controls, a line that says how the latest run goes,
// and whatever went wrong. What is to be seen comes as news from the server it was loaded from.

(() => {
  // So long a slider is still before its value is wished for.
  const STILL_MS = 120;
  // A picture that goes no deeper yet waits this long for a deeper one.
  const PATIENCE_MS = 80;
  // From half of what the recipe says to twice as much; the box beside takes any figure.
  const LEAST_SHARE = 0.5, MOST_SHARE = 2;

  let controls = null, drawnFor = "", fetched = { content: 0, controls: 0 };
  let latest = null, shown = null, busy = false, timer = 0;
  // The wish last sent, until the server has begun with it: what it says meanwhile is older.
  let sent = null;
  const turned = new Map();
  const sheet = { material: null, thickness_mm: null, kerf_mm: null };

  const line = make("p", { id: "live-line" }, "waiting for the first run");
  // What is read aloud: how a run ended, not every stage it goes through.
  const aloud = make("p", { class: "unseen", id: "live-aloud", role: "status" });
  const trouble = make("div", { id: "live-trouble", role: "alert", hidden: true });
  const form = make("form", { id: "live-form", "aria-label": "Values of the recipe", submit: (event) => event.preventDefault() });
  const same = make("div", { id: "live-same" });
  // Where the page is narrow the rig comes first and the values wait folded.
  const values = make("details", { id: "live-values", open: matchMedia("(min-width: 75rem)").matches },
    make("summary", {}, "Turn its values"), form, same);
  byId("more").append(make("section", { id: "live", "aria-labelledby": "live-title" },
    make("h2", { id: "live-title" }, "Live"), line, aloud, values));
  // Outside of what it lies over, so that nothing there comes to lie over it.
  document.body.append(trouble);

  // ---- controls

  function wish() {
    return { values: Object.fromEntries(turned), ...sheet };
  }

  function later() {
    clearTimeout(timer);
    timer = setTimeout(send, STILL_MS);
  }

  function inOrder({ values, material, thickness_mm, kerf_mm }) {
    return JSON.stringify([Object.entries(values).sort(), material, thickness_mm, kerf_mm]);
  }

  async function send() {
    timer = 0;
    sent = inOrder(wish());
    try {
      const answer = await fetch("wish", {
        method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(wish()),
      });
      if (!answer.ok) line.textContent = `not taken: ${await answer.text()}`;
    } catch {
      lost();
    }
  }

  function turn(one, text) {
    if (text === one.default) turned.delete(one.name);
    else turned.set(one.name, text);
    mark(one);
    later();
  }

  // What stands otherwise than in the recipe says how it stands there.
  function mark(one) {
    const label = document.querySelector(`label[for="live-${one.name}"]`);
    label.querySelector(".live-own").textContent = turned.has(one.name) ? ` (recipe: ${one.default || "empty"})` : "";
  }

  function spanOf(one, text) {
    const own = Number(one.default), now = Number(text);
    if (!Number.isFinite(own) || own === 0) return null;
    const whole = one.kind === "whole number";
    let [least, most] = [own * LEAST_SHARE, own * MOST_SHARE].sort((a, b) => a - b);
    if (whole) [least, most] = [Math.floor(least), Math.max(Math.ceil(most), least + 4)];
    const step = whole ? 1 : 10 ** Math.floor(Math.log10((most - least) / 100));
    return { least: Math.min(least, now), most: Math.max(most, now), step };
  }

  function field(label, unit, help, ...inputs) {
    const id = inputs[inputs.length - 1].id;
    const says = help ? make("p", { class: "live-help", id: `${id}-help` }, help) : null;
    if (says) inputs.forEach((one) => one.setAttribute("aria-describedby", says.id));
    return make("div", { class: "live-field" },
      make("label", { for: id }, label, unit ? make("span", { class: "live-unit" }, ` ${unit}`) : null,
        make("span", { class: "live-own" })),
      make("div", { class: "live-inputs" }, inputs), says);
  }

  // "rise_mm" as a person reads it; the name itself is what --set takes and stands in the title.
  function words(one) {
    const ends = { mm: "_mm", deg: "_deg", N: "_n", "N m": "_nm", kg: "_kg", g: "_g", s: "_s", rpm: "_rpm", "%": "_percent" };
    const end = ends[one.unit];
    const name = end && one.name.endsWith(end) ? one.name.slice(0, -end.length) : one.name;
    return name.replaceAll("_", " ");
  }

  function control(one) {
    const id = `live-${one.name}`;
    const is = turned.has(one.name) ? turned.get(one.name) : one.default;
    const common = { id, name: one.name, title: one.name, autocomplete: "off", spellcheck: "false" };
    if (one.choices.length) {
      return field(words(one), one.unit, one.help, make("select", { ...common, change: (event) => turn(one, event.target.value) },
        one.choices.map((text) => make("option", { value: text, selected: text === is }, text))));
    }
    if (one.kind === "yes or no" && !one.may_be_none) {
      return field(words(one), one.unit, one.help, make("input", { ...common, type: "checkbox", checked: is === "yes",
        change: (event) => turn(one, event.target.checked ? "yes" : "no") }));
    }
    const number = (one.kind === "number" || one.kind === "whole number") && !one.may_be_none;
    if (!number) {
      return field(words(one), one.unit, one.may_be_none ? `${one.help} (or none)`.trim() : one.help,
        make("input", { ...common, type: "text", value: is, maxlength: 2000, input: (event) => turn(one, event.target.value) }));
    }
    const span = spanOf(one, is);
    const box = make("input", { ...common, type: "number", step: one.kind === "whole number" ? 1 : "any", value: is });
    const slider = span && make("input", { type: "range", id: `${id}-slide`, "aria-label": `${words(one)}, slider`,
      min: span.least, max: span.most, step: span.step, value: is });
    box.addEventListener("input", () => {
      if (box.value === "" || !box.validity.valid) return;
      if (slider) slider.value = box.value;
      turn(one, box.value);
    });
    if (!slider) return field(words(one), one.unit, one.help, box);
    slider.addEventListener("input", () => {
      // The slider's own steps end in noise of the last digits.
      box.value = String(Number(Number(slider.value).toPrecision(10)));
      turn(one, box.value);
    });
    return field(words(one), one.unit, one.help, slider, box);
  }

  function figureField(label, key, usual) {
    const box = make("input", { type: "number", id: `live-${key}`, step: "any", min: 0, autocomplete: "off",
      placeholder: usual, value: sheet[key] });
    box.addEventListener("input", () => {
      if (!box.validity.valid) return;
      sheet[key] = box.value === "" ? null : Number(box.value);
      later();
    });
    return field(label, "mm", `empty: ${usual} mm`, box);
  }

  // Takes over how the server says things stand: at first, and when another page turned them.
  function adopt() {
    if (sent !== null && sent === inOrder(controls.wish)) sent = null;
    if (sent !== null || timer || inOrder(wish()) === inOrder(controls.wish)) return false;
    turned.clear();
    for (const one of controls.parameters) if (one.text !== one.default) turned.set(one.name, one.text);
    const { material, thickness_mm, kerf_mm } = controls.wish;
    Object.assign(sheet, { material, thickness_mm, kerf_mm });
    return true;
  }

  function showControls() {
    const { parameters, materials } = controls;
    const shape = JSON.stringify([parameters.map(({ text, ...rest }) => rest), materials, controls.sheet, controls.kerf_mm]);
    if (adopt() || shape !== drawnFor) {
      drawnFor = shape;
      for (const name of turned.keys()) if (!parameters.some((one) => one.name === name)) turned.delete(name);
      const held = form.contains(document.activeElement) ? document.activeElement.id : "";
      const material = make("select", { id: "live-material", change: (event) => { sheet.material = event.target.value || null; later(); } },
        make("option", { value: "" }, `as the recipe says: ${controls.sheet.own_material}`),
        materials.map((name) => make("option", { value: name, selected: name === sheet.material }, name)));
      form.replaceChildren(
        make("fieldset", {}, make("legend", {}, "The recipe\u2019s own"),
          parameters.length ? parameters.map(control) : make("p", { class: "live-help" }, "It has no parameters of its own.")),
        make("fieldset", {}, make("legend", {}, "Sheet and beam"),
          field("material", "", "", material),
          figureField("measured thickness", "thickness_mm", controls.sheet.usual_thickness_mm),
          figureField("kerf", "kerf_mm", controls.kerf_mm)),
        make("button", { type: "button", id: "live-reset", click: reset }, "As the recipe says"));
      parameters.forEach(mark);
      if (held && byId(held)) byId(held).focus();
    }
    const copy = make("button", { type: "button", click: () => navigator.clipboard.writeText(controls.command).then(
      () => { copy.textContent = "copied"; }, () => { copy.textContent = "not copied"; }) }, "copy");
    same.replaceChildren(
      controls.dropped.length ? make("p", { class: "live-help" }, `no parameter of it, left out: ${controls.dropped.join(", ")}`) : "",
      make("p", { class: "live-help", id: "live-same-says" }, "The same as cut files:"),
      make("code", {}, controls.command.split(" ").flatMap((word) => [make("span", {}, word), " "])), copy);
  }

  function reset() {
    sent = "";
    turned.clear();
    Object.assign(sheet, { material: null, thickness_mm: null, kerf_mm: null });
    clearTimeout(timer);
    drawnFor = "";
    showControls();
    send();
  }

  // ---- what is to be seen

  function showStatus() {
    const { stage, problem, content, depth, old, whole_s } = latest;
    document.body.classList.toggle("live-old", old);
    document.body.classList.toggle("live-unweighed", depth === "drawn");
    line.classList.toggle("live-busy", Boolean(stage));
    trouble.hidden = !problem;
    document.body.classList.toggle("live-wrong", Boolean(problem));
    if (problem) {
      const place = problem.line ? `${problem.file}, line ${problem.line}${problem.inside ? ` in ${problem.inside}` : ""}` : problem.file;
      trouble.replaceChildren(
        make("p", {}, make("strong", {}, place)),
        make("p", {}, problem.says),
        problem.quoted ? make("pre", {}, problem.quoted) : "",
        make("p", {}, content ? "What you see is the last that went well." : "There is nothing to see yet."));
    }
    const follows = { drawn: "findings", weighed: "sheets", laid: "whether it goes together" }[depth];
    if (stage) line.textContent = `${stage}\u2026` + (old || !follows ? "" : ` still to come: ${follows}`);
    else if (problem) line.textContent = "nothing new to see: something is wrong";
    else if (whole_s !== null) line.textContent = `up to date, drawn up in ${whole_s.toFixed(1)} s`;
    const ended = stage || problem ? "" : "up to date";
    if (aloud.textContent !== ended) aloud.textContent = ended;
    const name = controls ? controls.recipe : document.title.replace(/^\(!\) /, "");
    document.title = problem ? `(!) ${name}` : name;
  }

  // Findings stay, greyed, until the new ones are there: a table that comes and goes cannot be read.
  function bridged(content, depth) {
    if (depth !== "drawn" || !shown) return content;
    return { ...content, findings: shown.findings, families: shown.families };
  }

  // The lists are made anew: what was open in them stays open, and the keyboard where it was. What
  // it stood on may be gone for a moment, as the steps are until they are proved: then it comes back.
  let adrift = null;
  let missed = null;
  function showAgain(content) {
    const doors = () => [...byId("lists").querySelectorAll("details")];
    const stops = () => [...byId("main").querySelectorAll("#lists :is(a, button, select, input, summary, [tabindex]), #things-list button")];
    const open = doors().map((one) => one.open);
    const at = stops().indexOf(document.activeElement);
    const said = document.activeElement.textContent;
    const chosen = buildPage.state().selected;
    buildPage.show(content);
    // So with what is chosen in the rig, which is not there before the rig is.
    missed = chosen || missed;
    if (buildPage.state().selected) missed = null;
    else if (missed && content.rig && content.rig.things.some((one) => one.name === missed)) {
      buildPage.select(missed);
      missed = null;
    }
    doors().forEach((one, k) => { if (open[k]) one.open = true; });
    if (at >= 0) adrift = { at, said };
    else if (document.activeElement !== document.body) adrift = null;
    const there = adrift && stops()[adrift.at];
    if (there && there.textContent === adrift.said) {
      there.focus({ preventScroll: true });
      adrift = null;
    }
  }

  async function follow() {
    if (busy) return;
    busy = true;
    try {
      while (latest && (fetched.content !== latest.content || fetched.controls !== latest.controls)) {
        if (fetched.controls !== latest.controls) {
          const number = latest.controls;
          controls = await (await fetch("controls")).json();
          fetched.controls = number;
          if (controls) showControls();
        }
        if (fetched.content !== latest.content) {
          if (latest.depth !== "proved") await new Promise((done) => setTimeout(done, PATIENCE_MS));
          const number = latest.content;
          const { depth, content } = await (await fetch("content")).json();
          fetched.content = number;
          shown = bridged(content, depth);
          showAgain(shown);
        }
        showStatus();
      }
    } catch (error) {
      if (!(error instanceof TypeError)) throw error;
      lost();
    } finally {
      busy = false;
    }
  }

  function lost() {
    line.classList.remove("live-busy");
    line.textContent = "the server has ended or is not reached; platekit show starts it again";
  }

  const news = new EventSource("events");
  news.addEventListener("message", (event) => {
    latest = JSON.parse(event.data);
    showStatus();
    follow();
  });
  news.addEventListener("error", lost);
})();

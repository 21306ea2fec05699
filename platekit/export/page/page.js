"use strict";
// The page: puts content on view, and what is beside the rig. `buildPage.show(content)` may be called
// again with new content; how the rig is seen, what is selected and which findings are filtered stay.

// Width and height of a picture that is saved, pixels.
const SAVED_SIZE = [2400, 1600];

const buildPage = (() => {
  let content = null;
  let busy = false; // while the page is filled nothing is told
  let linked = false; // whether the address was read: only then it is written
  let part = null; // which part is chosen where the rig has no thing that is one
  const findings = new Findings();
  const view = new RigView(byId("canvas"), {
    told: () => { if (!busy) tell(); },
    failed: () => { showRig(); tell(); },
    pointed: (name) => { byId("under").textContent = name === null || name === view.selected ? "" : name; },
  });
  const tools = {};

  const acts = {
    goTo(step, scroll) {
      view.goTo(step);
      if (scroll) toRig();
    },
    step(by) {
      const last = content.steps.length;
      view.goTo(Math.max(1, Math.min(last, (view.step === null ? (by > 0 ? 0 : last + 1) : view.step) + by)));
    },
    select(name, scroll) {
      part = null;
      view.select(name);
      if (scroll) toRig();
    },
    // The piece of a part that is cut as this copy; again for no piece.
    choosePart(k, scroll, copy = 1) {
      const things = content.parts[k].things, name = things.length ? content.rig.things[things[(copy - 1) % things.length]].name : null;
      const again = !scroll && chosenParts().includes(k) && (name === null || view.selected === name);
      part = again || name !== null ? null : k;
      view.select(again ? null : name);
      if (scroll) toRig();
    },
    toBench(from) {
      bench.enter(from);
      if (view.step === null) view.goTo(Math.min(kept("step") || 1, content.steps.length));
      tell();
      (tools.after.disabled ? tools.before : tools.after).focus();
    },
    leaveBench() {
      bench.leave();
      tell();
    },
  };
  const bench = new Bench(byId("rig"), acts);

  function toRig() {
    const soft = !matchMedia("(prefers-reduced-motion: reduce)").matches;
    byId("rig").scrollIntoView({ behavior: soft ? "smooth" : "auto", block: "start" });
  }

  function button(says, act, label) {
    return make("button", { type: "button", "aria-label": label || null, title: label || null, click: act }, says);
  }

  function choice(id, options, act) {
    return make("select", { id, change: act }, options.map(([value, says]) => make("option", { value }, says)));
  }

  // What stands under the canvas; made once.
  function makeTools() {
    tools.apart = make("input", { type: "range", id: "apart", min: "0", max: "100", step: "1", value: "0", input: () => view.takeApart(Number(tools.apart.value) / 100) });
    tools.looks = choice("look", [["", "as turned"], ...LOOKS.map(([says], k) => [k, says])], () => view.lookFrom(LOOKS[Number(tools.looks.value)][1]));
    tools.looks.options[0].disabled = tools.looks.options[0].hidden = true;
    tools.plates = choice("plates", [["solid", "solid"], ["clear", "see-through"], ["none", "hidden"]], () => view.letPlates(tools.plates.value));
    tools.all = button("Show all", () => view.showAll());
    byId("tools").append(
      make("label", { for: "apart" }, "Apart ", tools.apart),
      make("label", { for: "look" }, "Seen from ", tools.looks),
      make("label", { for: "plates" }, "Plates ", tools.plates),
      make("span", { class: "buttons" }, button("\u2212", () => view.zoomBy(1 / 1.25), "zoom out"),
        button("+", () => view.zoomBy(1.25), "zoom in"), button("Reset", () => view.reset()), tools.all,
        button("Save picture", savePicture)));
    tools.before = button("\u2190 Before", () => acts.step(-1), "step before");
    tools.after = button("Next \u2192", () => acts.step(1), "next step");
    tools.whole = button("Whole rig", () => view.goTo(null));
    tools.bench = button("Large steps", () => acts.toBench(tools.bench), "large steps, one at a time");
    tools.leave = button("Leave", () => acts.leaveBench(), "leave the large steps");
    tools.says = make("p", { id: "step-says", role: "status", "aria-live": "polite" });
    byId("step").append(make("span", { class: "buttons" }, tools.before, tools.whole, tools.leave, tools.after, tools.bench), tools.says);
    byId("bench").append(bench.drawn, bench.words);
    byId("find").addEventListener("input", findThings);
  }

  function savePicture() {
    const ground = getComputedStyle(byId("stage")).backgroundColor;
    view.snapshot(...SAVED_SIZE, ground).toBlob((blob) => saveAs(`${content.recipe}.png`, blob), "image/png");
  }

  // Words beside the rig that follow what is shown.
  function tell() {
    tools.apart.value = String(Math.round(100 * view.apart));
    const near = LOOKS.findIndex(([, look]) => look.turn === view.turn && look.rise === view.rise);
    tools.looks.value = near < 0 ? "" : String(near);
    tools.plates.value = view.plates;
    tools.all.hidden = !view.away.size;
    tools.all.textContent = `Show all (${view.away.size} hidden)`;
    tellStep();
    for (const one of byId("things-list").querySelectorAll("button"))
      one.setAttribute("aria-pressed", String(one.dataset.name === view.selected));
    if (byId("card").dataset.name !== (view.selected || "")) showCard();
    for (const [name, isSet] of [["through", view.through], ["near", view.near !== null]])
      if (tools[name]) tools[name].setAttribute("aria-pressed", String(isSet));
    byId("picked").textContent = view.selected || "";
    setOff(chosenParts());
    if (linked) writeAddress();
    if (bench.open) keep("step", view.step);
  }

  // What the browser keeps for the next time this rig's page is opened; some keep nothing for files.
  function kept(what) {
    try {
      return Number(localStorage.getItem(`${what} of ${content.recipe}`));
    } catch {
      return 0;
    }
  }

  function keep(what, value) {
    try {
      localStorage.setItem(`${what} of ${content.recipe}`, String(value));
    } catch { /* then it begins at the first */ }
  }

  function tellStep() {
    const step = view.step === null ? null : content.steps[view.step - 1] || null;
    const [last, at] = [content.steps.length, document.activeElement];
    tools.before.disabled = view.step === 1;
    tools.after.disabled = view.step === last;
    if (at.disabled && byId("step").contains(at)) (at === tools.after ? tools.before : tools.after).focus(); // else the keyboard were lost
    tools.whole.disabled = view.step === null;
    tools.whole.hidden = tools.bench.hidden = bench.open;
    tools.leave.hidden = !bench.open;
    const words = step === null ? [] : [`Step ${step.number} of ${last}: ${stepTitle(step)}`,
      ...(bench.open ? [] : [stepMove(step), ...step.screws])];
    const says = words.join("; ");
    if (tools.says.textContent !== says) tools.says.textContent = says;
    for (const one of document.querySelectorAll("[data-step]"))
      one.setAttribute("aria-pressed", String(Number(one.dataset.step) === view.step));
    bench.tell(bench.open ? step : null);
    if (!view.works && content.rig && byId("still").dataset.step !== String(view.step)) showStill();
  }

  function chosenParts() {
    const thing = view.things.find((one) => one.name === view.selected);
    return thing ? thing.part : part === null ? [] : [part];
  }

  function showCard() {
    const card = byId("card");
    const thing = view.things.find((one) => one.name === view.selected);
    card.dataset.name = thing ? thing.name : "";
    tools.through = tools.near = null;
    if (!thing) {
      card.replaceChildren();
      return;
    }
    const names = new Set([thing.name, ...thing.part.map((k) => content.parts[k].name), ...thing.plates]);
    const found = content.findings.filter((one) => one.severity !== "passed" && one.part.split(" + ").some((name) => names.has(name)));
    const several = view.things.length > 1;
    tools.near = several ? button("Come closer", () => view.comeTo(view.near === null ? thing.name : null)) : null;
    tools.through = several ? button("See through the rest", () => view.seeThrough(!view.through)) : null;
    card.replaceChildren(
      make("h3", {}, thing.name), rowsList(thing.says),
      make("p", { class: "buttons" },
        thing.step && content.steps.length > 1 ? button(`Comes in at step ${thing.step}`, () => acts.goTo(thing.step)) : null,
        thing.part.map((k) => make("a", { href: `#part-${content.slugs[k]}` }, `Part ${k + 1}: ${content.parts[k].name}`))),
      make("p", { class: "buttons" }, tools.near, tools.through,
        several ? button("Hide", () => letGo(() => view.putAway(thing.name))) : null,
        button("Let go", () => letGo(() => acts.select(null)))),
      found.length ? make("ul", {}, found.map((one) => make("li", {}, make("span", { class: `mark ${one.severity}` }, one.severity), ` ${one.feature ? one.feature + ": " : ""}${one.figures}`))) : "");
  }

  // The card goes away with the button under the finger: the keyboard goes to the rig.
  function letGo(act) {
    act();
    byId("canvas").focus({ preventScroll: true });
  }

  function rigWord() {
    return view.things.length === 1 ? "The plate" : "The rig";
  }

  function drawable() {
    return Boolean(content.rig) && view.works;
  }

  function showRig() {
    byId("rig-title").textContent = rigWord();
    byId("rig").classList.toggle("flat", !drawable());
    byId("canvas").hidden = !drawable();
    byId("canvas").setAttribute("aria-label", `${content.title} in space: ${counted(view.things.length, "thing")}`);
    byId("stage-help").hidden = byId("tools").hidden = !drawable();
    byId("step").hidden = content.steps.length < 2;
    byId("apart").parentElement.hidden = byId("plates").parentElement.hidden = view.things.length < 2;
    byId("things").hidden = view.things.length < 2 || !drawable();
    showStill();
    byId("things-title").textContent = `Every thing in the rig (${view.things.length})`;
    byId("things-list").replaceChildren(...view.things.map((thing) => make("li", {},
      make("button", { type: "button", "data-name": thing.name, click: () => acts.select(thing.name) }, thing.name))));
    findThings();
    byId("card").dataset.name = "?";
  }

  // Drawings of the rig: on paper, and where nothing can be drawn in space.
  function showStill() {
    const still = byId("still"), step = view.step === null ? null : content.steps[view.step - 1];
    still.className = drawable() ? "only-print" : "";
    still.dataset.step = String(view.step);
    const drawn = [[content.picture, "as it stands"], [content.picture_apart, "taken apart"]].filter(([one]) => one);
    if (!drawable() && step && step.picture) still.replaceChildren(image(step.picture, stepAlt(step)));
    else if (drawn.length) still.replaceChildren(...drawn.map(([one, how]) => image(one, `${content.title} ${how}`)));
    else if (!content.rig && content.parts.length) still.replaceChildren(partDrawing(content.parts[0], `outline of ${content.parts[0].name}`));
    else still.replaceChildren(drawable() ? "" : make("p", {}, "This browser draws nothing in space here (WebGL is missing or switched off). The lists say all the same."));
  }

  // Things whose name, or kind, holds every word that is looked for.
  function findThings() {
    const words = byId("find").value.toLowerCase().split(/\s+/).filter(Boolean);
    let count = 0;
    view.things.forEach((thing, k) => {
      const said = [thing.name, ...thing.says.map(([, text]) => text)].join(" ").toLowerCase();
      const here = words.every((word) => said.includes(word));
      byId("things-list").children[k].hidden = !here;
      count += here;
    });
    byId("found").textContent = words.length ? `${count} of ${view.things.length}` : "";
  }

  // Follow what the address says after its "#", a step or a part. Return whether it was read: a
  // live page may have no steps yet.
  function readAddress() {
    let word = "";
    try {
      word = decodeURIComponent(location.hash.slice(1));
    } catch { /* no address of ours */ }
    const step = /^step-(\d+)$/.exec(word), k = content.slugs.findIndex((slug) => word === `part-${slug}`);
    if (step && Number(step[1]) !== view.step) view.goTo(Number(step[1]));
    if (k >= 0 && !chosenParts().includes(k)) acts.choosePart(k);
    return step ? content.steps.length > 0 : content.parts.length > 0;
  }

  function writeAddress() {
    const [k] = chosenParts();
    const word = view.step !== null ? `#step-${view.step}` : k !== undefined ? `#part-${encodeURIComponent(content.slugs[k])}` : "";
    const there = location.hash;
    if (word === there || (!word && !/^#(step|part)-/.test(there))) return;
    try {
      history.replaceState(null, "", word || location.pathname + location.search);
    } catch { /* an address that cannot be changed stays */ }
  }

  function show(given) {
    busy = true;
    content = { ...given, slugs: slugsOf(given.parts.map((one) => one.name)) };
    document.title = `${content.title}: build page`;
    byId("title").textContent = content.title;
    byId("summary").textContent = [content.summary, content.sheet && `From ${content.sheet}.`].filter(Boolean).join(" ");
    byId("figures").replaceChildren(...content.figures.map(([label, text]) => make("div", {}, make("dt", {}, label), make("dd", {}, text))));
    const stops = content.findings.filter((one) => one.severity === "stop").length;
    byId("stopped").replaceChildren(...(content.stopped ? [make("span", { class: "mark stop" }, "stop"), ": ",
      make("a", { href: "#findings" }, counted(stops, "finding")), content.withheld ? "; the cut files are withheld." : "; read before the laser runs."] : []));
    view.show(content);
    showRig();
    const carried = new Carried(content);
    const sections = [stepsSection(content, acts), partsSection(content, acts, carried), sheetsSection(content, acts, carried), billSection(content),
      findings.section(content, acts), inputsSection(content), filesSection(content, carried), cautionsSection(content)].filter(Boolean);
    byId("lists").replaceChildren(...sections);
    const named = [["rig", rigWord()], ...sections.map((one) => [one.id, one.querySelector("h2").textContent])];
    byId("ways").replaceChildren(...named.map(([id, says]) => make("li", {}, make("a", { href: `#${id}` }, says))));
    byId("foot").replaceChildren(make("p", {}, `Made by platekit ${content.platekit}. Margins are estimates by the formulas named with them, never a certificate.`));
    if (content.steps.length < 2) bench.leave();
    busy = false;
    linked = linked || readAddress();
    tell();
  }

  // What is on view, for whoever drives the page.
  function state() {
    return { turn: view.turn, rise: view.rise, zoom: view.zoom, apart: view.apart, step: view.step,
      selected: view.selected, dark: dark(), works: view.works, frames: view.frames, there: view.there().length,
      seen: view.seen().length, things: view.things.length, bench: bench.open };
  }

  // On paper the rig is the line drawing; where there is none, what the canvas shows just then.
  addEventListener("beforeprint", () => {
    if (!content || content.picture || !drawable()) return;
    const picture = view.snapshot(1500, 1000, "#ffffff").toDataURL("image/png");
    byId("still").replaceChildren(make("img", { src: picture, alt: `${content.title} as it is shown` }));
  });
  addEventListener("hashchange", () => { if (content) readAddress(); });

  makeTools();
  chooseColours(byId("theme"), () => view.again(false));
  return { show, state, view, findings, select: acts.select, goTo: acts.goTo };
})();

buildPage.show(JSON.parse(byId("content").textContent));

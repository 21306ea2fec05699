"use strict";
// The page: puts content on view, and what is beside the rig. `buildPage.show(content)` may be called
// again with new content; how the rig is seen, what is selected and which findings are filtered stay.

function dark() {
  const wish = document.documentElement.dataset.theme;
  return wish ? wish === "dark" : matchMedia("(prefers-color-scheme: dark)").matches;
}

const buildPage = (() => {
  let content = null;
  let busy = false; // while the page is filled nothing is told
  const findings = new Findings();
  const view = new RigView(byId("canvas"), () => { if (!busy) tell(); });
  const tools = {};

  const acts = {
    goTo(step, scroll) {
      view.goTo(step);
      if (scroll) toRig();
    },
    select(name, scroll) {
      view.select(name);
      if (scroll) toRig();
    },
  };

  function toRig() {
    const soft = !matchMedia("(prefers-reduced-motion: reduce)").matches;
    byId("rig").scrollIntoView({ behavior: soft ? "smooth" : "auto", block: "start" });
  }

  function button(says, act, label) {
    return make("button", { type: "button", "aria-label": label || null, title: label || null, click: act }, says);
  }

  // What stands under the canvas; made once.
  function makeTools() {
    tools.apart = make("input", { type: "range", id: "apart", min: "0", max: "100", step: "1", value: "0", input: () => view.takeApart(Number(tools.apart.value) / 100) });
    tools.looks = make("select", { id: "look", change: () => { view.lookFrom(LOOKS[Number(tools.looks.value)][1]); } },
      make("option", { value: "", disabled: true, hidden: true }, "as turned"),
      LOOKS.map(([says], k) => make("option", { value: k }, says)));
    byId("tools").append(
      make("label", { for: "apart" }, "Apart ", tools.apart),
      make("label", { for: "look" }, "Seen from ", tools.looks),
      make("span", { class: "buttons" }, button("\u2212", () => view.zoomBy(1 / 1.25), "zoom out"),
        button("+", () => view.zoomBy(1.25), "zoom in"), button("Reset", () => view.reset())));
    tools.before = button("\u2190", () => view.goTo((view.step === null ? content.steps.length + 1 : view.step) - 1), "step before");
    tools.after = button("\u2192", () => view.goTo((view.step || 0) + 1), "next step");
    tools.whole = button("Whole rig", () => view.goTo(null));
    tools.says = make("p", { id: "step-says", role: "status", "aria-live": "polite" });
    byId("step").append(make("span", { class: "buttons" }, tools.before, tools.after, tools.whole), tools.says);
  }

  // Words beside the rig that follow what is shown.
  function tell() {
    tools.apart.value = String(Math.round(100 * view.apart));
    const near = LOOKS.findIndex(([, look]) => look.turn === view.turn && look.rise === view.rise);
    tools.looks.value = near < 0 ? "" : String(near);
    const step = view.step === null ? null : content.steps[view.step - 1];
    tools.before.disabled = view.step === 1;
    tools.after.disabled = view.step === content.steps.length;
    tools.whole.disabled = view.step === null;
    const says = step === null ? "" : `Step ${step.number} of ${content.steps.length}: ${stepTitle(step)}, ${stepMove(step)}` + (step.screws.length ? `; ${step.screws.join("; ")}` : "");
    if (tools.says.textContent !== says) tools.says.textContent = says;
    for (const one of document.querySelectorAll("[data-step]"))
      one.setAttribute("aria-pressed", String(Number(one.dataset.step) === view.step));
    for (const one of byId("things-list").querySelectorAll("button"))
      one.setAttribute("aria-pressed", String(one.dataset.name === view.selected));
    if (byId("card").dataset.name !== (view.selected || "")) showCard();
  }

  function showCard() {
    const card = byId("card");
    const thing = view.things.find((one) => one.name === view.selected);
    card.dataset.name = thing ? thing.name : "";
    if (!thing) {
      card.replaceChildren();
      return;
    }
    const names = new Set([thing.name, ...thing.part.map((k) => content.parts[k].name), ...thing.plates]);
    const found = content.findings.filter((one) => one.severity !== "passed" && one.part.split(" + ").some((name) => names.has(name)));
    card.replaceChildren(
      make("h3", {}, thing.name), rowsList(thing.says),
      make("p", { class: "buttons" },
        thing.step && content.steps.length > 1 ? button(`Comes in at step ${thing.step}`, () => acts.goTo(thing.step)) : null,
        thing.part.map((k) => make("a", { href: `#part-${k + 1}` }, `Part ${k + 1}: ${content.parts[k].name}`)),
        button("Let go", () => acts.select(null))),
      found.length ? make("ul", {}, found.map((one) => make("li", {}, make("span", { class: `mark ${one.severity}` }, one.severity), ` ${one.feature ? one.feature + ": " : ""}${one.figures}`))) : "");
  }

  function rigWord() {
    return view.things.length === 1 ? "The plate" : "The rig";
  }

  function showRig() {
    const rig = content.rig;
    const drawable = Boolean(rig) && view.works;
    byId("rig-title").textContent = rigWord();
    byId("canvas").hidden = !drawable;
    byId("canvas").setAttribute("aria-label", `${content.title} in space: ${counted(view.things.length, "thing")}`);
    byId("stage-help").hidden = byId("tools").hidden = !drawable;
    byId("step").hidden = !drawable || content.steps.length < 2;
    byId("apart").parentElement.hidden = view.things.length < 2;
    byId("things").hidden = view.things.length < 2;
    const still = byId("still");
    still.replaceChildren();
    still.className = drawable ? "only-print" : "";
    const drawn = [[content.picture, "as it stands"], [content.picture_apart, "taken apart"]].filter(([one]) => one);
    if (drawn.length) still.append(...drawn.map(([one, how]) => image(one, `${content.title} ${how}`)));
    else if (!rig && content.parts.length) still.append(partDrawing(content.parts[0], `outline of ${content.parts[0].name}`));
    else if (!drawable) still.append(make("p", {}, "This browser draws nothing in space here (WebGL is missing or switched off). The lists say all the same."));
    byId("things-title").textContent = `Every thing in the rig (${view.things.length})`;
    byId("things-list").replaceChildren(...view.things.map((thing) => make("li", {},
      make("button", { type: "button", "data-name": thing.name, click: () => acts.select(thing.name) }, thing.name))));
    byId("card").dataset.name = "?";
  }

  function show(given) {
    busy = true;
    content = given;
    document.title = `${content.title}: build page`;
    byId("title").textContent = content.title;
    byId("summary").textContent = [content.summary, content.sheet && `From ${content.sheet}.`].filter(Boolean).join(" ");
    byId("figures").replaceChildren(...content.figures.map(([label, text]) => make("div", {}, make("dt", {}, label), make("dd", {}, text))));
    const warning = content.stopped ? make("p", { class: "stopped", role: "note" },
      make("span", { class: "mark stop" }, "stop"),
      content.withheld ? " A finding says stop: cut files are withheld." : " A finding says stop: read it before the laser runs.") : null;
    view.show(content);
    showRig();
    const sections = [stepsSection(content, acts), partsSection(content, acts), sheetsSection(content), billSection(content),
      findings.section(content, acts), inputsSection(content), filesSection(content), cautionsSection(content)].filter(Boolean);
    byId("lists").replaceChildren(...(warning ? [warning] : []), ...sections);
    const named = [["rig", rigWord()], ...sections.map((one) => [one.id, one.querySelector("h2").textContent])];
    byId("ways").replaceChildren(...named.map(([id, says]) => make("li", {}, make("a", { href: `#${id}` }, says))));
    byId("foot").replaceChildren(make("p", {}, `Made by platekit ${content.platekit}. Margins are estimates by the formulas named with them, never a certificate.`));
    busy = false;
    tell();
  }

  // What is on view, for whoever drives the page.
  function state() {
    return { turn: view.turn, rise: view.rise, zoom: view.zoom, apart: view.apart, step: view.step,
      selected: view.selected, dark: dark(), works: view.works, frames: view.frames, there: view.there().length,
      things: view.things.length };
  }

  function colours() {
    const choice = byId("theme");
    try {
      choice.value = localStorage.getItem("colours") || "";
    } catch { /* some browsers keep nothing for files */ }
    const take = () => {
      if (choice.value) document.documentElement.dataset.theme = choice.value;
      else delete document.documentElement.dataset.theme;
      view.again(false);
    };
    choice.addEventListener("change", () => {
      take();
      try {
        localStorage.setItem("colours", choice.value);
      } catch { /* then the choice holds for now */ }
    });
    matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => view.again(false));
    take();
  }

  // On paper the rig is the line drawing; where there is none, what the canvas shows just then.
  addEventListener("beforeprint", () => {
    if (!content || content.picture || !content.rig || !view.works) return;
    byId("still").replaceChildren(make("img", { src: view.snapshot(1500, 1000), alt: `${content.title} as it is shown` }));
  });

  makeTools();
  colours();
  return { show, state, view, select: acts.select, goTo: acts.goTo };
})();

buildPage.show(JSON.parse(byId("content").textContent));

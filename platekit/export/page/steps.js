"use strict";
// Steps of assembly in words: as a list, and one at a time, large, for the bench.

function stepsSection(content, acts) {
  if (content.steps.length < 2) return null;
  let before = seenFrom(ISOMETRIC);
  const items = content.steps.flatMap((step) => {
    const seen = seenFrom(step.seen);
    const turned = seen === before ? null : make("p", { class: "quiet" }, seen);
    before = seen;
    const first = step.layup ? make("li", { class: step.heap ? "heap" : null },
      make("span", { class: "number quiet" }, "first"), layupDrawing(step),
      make("div", {}, make("h3", {}, `${stepTitle(step)}: glue ${step.layup.layers.length} layers first`), make("p", {}, `${step.layup.says}.`))) : null;
    const item = make("li", { id: `step-${step.number}`, class: step.heap ? "heap" : null },
      make("button", { type: "button", class: "number", "data-step": step.number,
        "aria-label": `show step ${step.number}`, click: () => acts.goTo(step.number, true) }, String(step.number)),
      step.picture ? image(step.picture, stepAlt(step)) : null,
      make("div", {},
        make("h3", {}, stepTitle(step)),
        make("p", { class: "quiet" }, stepMove(step)),
        stepWords(step), turned));
    return first ? [first, item] : [item];
  });
  return section("steps", "Steps of assembly",
    make("p", { class: "quiet screen" }, `${counted(content.steps.length, "step")}. Press a number to see the rig as far as that.`,
      content.steps.some((step) => step.heap) ? " Letters are groups put together apart." : ""),
    make("p", { class: "screen" }, make("button", { type: "button", class: "strong", click: (event) => acts.toBench(event.currentTarget) }, "Large steps, one at a time")),
    make("ol", { class: "steps" }, items));
}

function stepAlt(step) {
  return `step ${step.number}: ${stepTitle(step)}`;
}

// What there is to do and to mind at a step, a line each.
function stepWords(step) {
  const lines = [];
  if (step.before.length) lines.push(make("p", {}, "before: ", step.before.join("; ")));
  if (step.joins.length) lines.push(make("p", {}, step.joins.join("; ")));
  if (step.screws.length) lines.push(make("p", {}, "screws: ", step.screws.join("; ")));
  if (step.belts.length) lines.push(make("p", {}, "belt: ", step.belts.join(", ")));
  for (const one of step.cautions) lines.push(make("p", { class: "mind" }, one));
  return lines;
}

// The layers that what a step brings in is glued of before, drawn and told.
function layupDrawing(step) {
  return step.layup && step.layup.picture ? image(step.layup.picture, `layers of ${stepTitle(step)}`) : null;
}

// Return from where a step is drawn, in workshop words.
function seenFrom(seen) {
  if (!seen) return seenFrom(ISOMETRIC);
  const side = Math.sin(seen.turn * Math.PI / 180) < 0 ? "front" : "back";
  const hand = Math.cos(seen.turn * Math.PI / 180) > 0 ? "right" : "left";
  return `drawn from the ${side} ${hand}, from ${seen.rise < 0 ? "below" : "above"}`;
}

function stepTitle(step) {
  const names = step.bring_in.join(", ");
  return step.brings ? `group ${step.brings}: ${names}` : names;
}

function stepMove(step) {
  return (step.heap ? `in group ${step.heap}, ` : "") + step.moves;
}

// At the bench: the rig fills the window, one step is told in large letters, two large buttons go on
// and back. Nothing else can be reached until it is left; the screen stays awake where it may.
class Bench {
  constructor(rig, acts) {
    this.rig = rig;
    this.acts = acts;
    this.open = false;
    this.awake = null;
    this.from = null;
    this.told = null;
    this.words = make("div", { id: "bench-words" });
    this.drawn = make("div", { id: "bench-drawing" });
    document.addEventListener("keydown", (event) => this.key(event), { capture: true });
    document.addEventListener("visibilitychange", () => { if (this.open && !document.hidden) this.keepAwake(); });
  }

  enter(from) {
    this.from = from || document.activeElement;
    this.open = true;
    document.documentElement.classList.add("bench");
    this.rig.setAttribute("role", "dialog");
    this.rig.setAttribute("aria-modal", "true");
    this.alone(true);
    this.keepAwake();
  }

  leave() {
    if (!this.open) return;
    this.open = false;
    document.documentElement.classList.remove("bench");
    this.rig.removeAttribute("role");
    this.rig.removeAttribute("aria-modal");
    this.alone(false);
    if (this.awake) this.awake.release();
    this.awake = null;
    if (this.from && this.from.isConnected) this.from.focus();
  }

  // Whether everything but the rig is out of reach.
  alone(wish) {
    for (let one = this.rig; one !== document.body; one = one.parentElement)
      for (const other of one.parentElement.children) if (other !== one && other.id !== "live-trouble") other.inert = wish;
  }

  async keepAwake() {
    try {
      this.awake = await navigator.wakeLock.request("screen");
    } catch { /* then the screen goes dark when it does */ }
  }

  key(event) {
    if (!this.open || event.ctrlKey || event.metaKey || event.altKey) return;
    const onCanvas = event.target.id === "canvas";
    if (event.key === "Escape") this.acts.leaveBench();
    else if (event.key === "PageDown" || (event.key === "ArrowRight" && !onCanvas)) this.acts.step(1);
    else if (event.key === "PageUp" || (event.key === "ArrowLeft" && !onCanvas)) this.acts.step(-1);
    else return;
    event.preventDefault();
    event.stopPropagation();
  }

  // Tell a step. Its drawing stands beside the words; null tells that all is done.
  tell(step) {
    if (this.told === step) return;
    this.told = step;
    this.words.replaceChildren(...(step ? [make("p", {}, stepMove(step)), ...stepWords(step)] : []));
    const drawings = step ? [layupDrawing(step), step.picture ? image(step.picture, stepAlt(step)) : null] : [];
    this.drawn.replaceChildren(...drawings.filter(Boolean));
    this.words.scrollTop = 0;
  }
}

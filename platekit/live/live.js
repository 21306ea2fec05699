"use strict";
// What the live page adds to the build page: controls, a line that says how the latest run goes,
// and whatever went wrong. What is to be seen comes as news from the server it was loaded from.

(() => {
  // A recipe that is done so soon follows a slider on its way, not only where it stops.
  const AT_ONCE_S = 0.4;
  // The server speaks every ten seconds; after so much silence the line is dead, as after a sleep.
  const SILENCE_MS = 25000;
  // So long the page waits before it knocks again at a server that turned it away.
  const KNOCK_MS = 1000;

  let fetched = { content: 0, controls: 0 }, born = null;
  let latest = null, shown = null, busy = false, news = null, heard = 0;
  let name = document.title;

  const line = make("p", { id: "live-line" }, "waiting for the first run");
  // What is read aloud: how a run ended, not every stage it goes through.
  const aloud = make("p", { class: "unseen", id: "live-aloud", role: "status" });
  // What the recipe prints is for whoever writes it, and stands in the terminal too.
  const printed = make("pre", { id: "live-printed", tabindex: "0" });
  const prints = make("details", { id: "live-prints", hidden: true }, make("summary", {}, "What it prints"), printed);
  const trouble = make("div", { id: "live-trouble", role: "alert", hidden: true });
  const controls = new LiveControls(send, () => Boolean(latest) && !latest.stage && latest.whole_s !== null && latest.whole_s < AT_ONCE_S);
  const changes = new LiveChanges();
  buildPage.findings.news = (one) => changes.told.get(one);
  // Where the page is narrow the rig comes first and the values wait folded.
  const values = make("details", { id: "live-values", open: matchMedia("(min-width: 75rem)").matches },
    make("summary", {}, "Turn its values"), controls.form, controls.same);
  byId("more").append(make("section", { id: "live", "aria-labelledby": "live-title" },
    make("h2", { id: "live-title" }, "Live"), line, aloud, values, prints));
  byId("stage").append(changes.place);
  // Outside of what it lies over, so that nothing there comes to lie over it.
  document.body.append(trouble);
  document.body.classList.add("live-empty"); // until there is something to see
  new ResizeObserver(() => {
    document.documentElement.style.setProperty("--live-trouble", `${trouble.hidden ? 0 : trouble.offsetHeight}px`);
  }).observe(trouble);

  async function send(wish) {
    try {
      const answer = await fetch("wish", {
        method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(wish),
      });
      if (!answer.ok) line.textContent = `not taken: ${await answer.text()}`;
    } catch {
      lost();
    }
  }

  // ---- how the latest run goes

  function showStatus() {
    const { stage, problem, depth, old, whole_s } = latest;
    const marks = { "live-old": old, "live-unweighed": depth === "drawn", "live-unlaid": depth === "drawn" || depth === "weighed",
      "live-proving": depth !== "proved" && Boolean(stage), "live-unproved": depth !== "proved" && !stage, "live-wrong": Boolean(problem) };
    for (const [mark, holds] of Object.entries(marks)) document.body.classList.toggle(mark, holds);
    line.classList.toggle("live-busy", Boolean(stage));
    showTrouble(problem);
    prints.hidden = !latest.printed;
    if (printed.textContent !== latest.printed) printed.textContent = latest.printed;
    const follows = { drawn: "findings", weighed: "sheets", laid: "whether it goes together" }[depth];
    const behind = fetched.content !== latest.content || fetched.controls !== latest.controls;
    if (!stage && !problem && behind) line.textContent = "fetching what is new\u2026";
    else if (stage) line.textContent = `${stage}\u2026` + (old || !follows ? "" : ` still to come: ${follows}`);
    else if (problem) line.textContent = old ? "nothing new to see: something is wrong" : "something is wrong";
    else if (whole_s !== null) line.textContent = `up to date, drawn up in ${whole_s.toFixed(1)} s`;
    const ended = stage || problem || behind ? "" : "up to date";
    if (aloud.textContent !== ended) aloud.textContent = ended;
    document.title = problem ? `(!) ${name}` : name;
  }

  // ---- what went wrong, and where

  function showTrouble(problem) {
    trouble.hidden = !problem;
    const said = JSON.stringify([problem, Boolean(latest.content), latest.old]);
    if (!problem || trouble.dataset.said === said) return;
    trouble.dataset.said = said;
    const inside = problem.inside ? ` in ${problem.inside}` : "";
    const place = problem.line ? `${problem.file}, line ${problem.line}${inside}` : problem.file;
    trouble.replaceChildren(
      make("p", {}, problem.perhaps ? "perhaps at " : "", make("strong", {}, place),
        problem.perhaps ? ", where it is named first" : problem.called_from ? `, called from line ${problem.called_from} of the recipe` : ""),
      make("p", { class: "live-says" }, problem.says),
      problem.about.length ? linesAbout(problem) : problem.quoted ? make("pre", {}, problem.quoted) : "",
      make("p", { class: "quiet" }, !latest.content ? "There is nothing to see yet." : latest.old ? "What you see is the last that went well." : "What you see is drawn all the same."));
    // What is meant may stand at the end of a long line.
    const [pre, mark] = [trouble.querySelector("pre"), trouble.querySelector("mark")];
    if (mark) pre.scrollLeft = Math.max(0, mark.offsetLeft + Math.min(mark.offsetWidth, pre.clientWidth / 2) + 16 - pre.clientWidth);
    // What one is typing into, and what is wrong with it, must not come to lie below it.
    const field = controls.form.contains(document.activeElement) && document.activeElement.closest(".live-field");
    if (field) setTimeout(() => field.scrollIntoView({ block: "nearest" }), 50);
  }

  // The lines about it, numbered as in an editor, with a pointer below what is meant.
  function linesAbout(problem) {
    const least = Math.min(...problem.about.map(([, text]) => (text.trim() ? text.length - text.trimStart().length : Infinity)));
    const indent = Number.isFinite(least) ? least : 0;
    const wide = String(problem.about[problem.about.length - 1][0]).length;
    const rows = [];
    for (const [number, text] of problem.about) {
      const here = number === problem.line, head = `${here ? "\u25b8" : " "} ${String(number).padStart(wide)} \u2502 `;
      if (!here) {
        rows.push(make("span", {}, `${head}${text.slice(indent)}\n`));
        continue;
      }
      const whole = [text.length - text.trimStart().length, text.length];
      const [first, end] = (problem.mark || whole).map((place) => Math.max(indent, Math.min(place, text.length)));
      rows.push(make("span", { class: "live-here" }, head, text.slice(indent, first), make("mark", {}, text.slice(first, end) || " "), text.slice(end), "\n"),
        make("span", { class: "live-here", "aria-hidden": "true" }, " ".repeat(head.length + first - indent), "^".repeat(Math.max(1, end - first)), "\n"));
    }
    return make("pre", { tabindex: "0" }, rows);
  }

  // ---- what is to be seen

  // What a run has not come to yet stays as it was, marked as from before: a list that comes and
  // goes cannot be read. Indices of things and parts are those of now, by their names.
  function bridged(content, depth) {
    if (!shown) return content;
    const made = { ...content };
    if (depth === "drawn") Object.assign(made, { findings: shown.findings, families: shown.families });
    if (depth !== "proved" && !content.steps.length && shown.steps.length && content.rig && shown.rig) {
      const numbers = new Map(content.rig.things.map((one, k) => [one.name, k]));
      const moved = (list) => list.map((k) => numbers.get(shown.rig.things[k].name)).filter((k) => k !== undefined);
      made.steps = shown.steps.map((one) => ({ ...one, there: moved(one.there), new: moved(one.new) }));
      const before = new Map(shown.rig.things.map((one) => [one.name, one]));
      made.rig = { ...content.rig, things: content.rig.things.map((one) => {
        const was = before.get(one.name);
        return was ? { ...one, step: was.step, apart: was.apart } : one;
      }) };
    }
    if ((depth === "drawn" || depth === "weighed") && !content.sheets.length && shown.sheets.length) {
      const numbers = new Map(content.parts.map((one, k) => [one.name, k]));
      made.sheets = shown.sheets.map((sheet) => ({ ...sheet, pieces: sheet.pieces
        .map((piece) => ({ ...piece, part: numbers.get(shown.parts[piece.part].name) }))
        .filter((piece) => piece.part !== undefined) }));
    }
    return made;
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
          const number = latest.controls, of = born;
          const given = await (await fetch("controls")).json();
          if (of === born) fetched.controls = number;
          if (given) controls.show(given);
        }
        if (fetched.content !== latest.content) {
          const number = latest.content, of = born;
          const { depth, content } = await (await fetch("content")).json();
          if (of !== born) continue;
          fetched.content = number;
          shown = bridged(content, depth);
          name = content.title;
          document.body.classList.remove("live-empty");
          if (depth !== "drawn") changes.take(content, depth === "proved"); // its list tells of it
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

  // ---- the line to the server

  function lost() {
    line.classList.remove("live-busy");
    line.textContent = "the server has ended or is not reached; platekit show starts it again, and this page goes on by itself";
    document.body.classList.add("live-old");
  }

  function hear(event) {
    heard = Date.now();
    const before = latest;
    latest = JSON.parse(event.data);
    if (born !== latest.born) {
      // Another platekit may speak another tongue: its own page understands it.
      if (latest.platekit !== document.querySelector("meta[name=generator]").content.replace("platekit ", "")) location.reload();
      if (born !== null) controls.anew();
      born = latest.born;
      fetched = { content: 0, controls: 0 };
    }
    if (!before || before.run !== latest.run) changes.began();
    showStatus();
    controls.next();
    follow();
  }

  function listen() {
    if (news) news.close();
    heard = Date.now();
    news = new EventSource("events");
    news.addEventListener("message", hear);
    news.addEventListener("error", () => {
      lost();
      // A line that broke is mended by the browser; one that was turned away is not.
      if (news.readyState === EventSource.CLOSED) setTimeout(listen, KNOCK_MS);
    });
  }

  setInterval(() => { if (Date.now() - heard > SILENCE_MS) listen(); }, 5000);
  listen();
})();

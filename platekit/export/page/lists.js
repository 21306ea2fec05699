"use strict";
// Everything below the rig: steps, parts, sheets, bill, findings, inputs, files, cautions. Each
// function returns a section; `acts` holds what clicks do.

const SEVERITIES = ["stop", "warning", "note", "passed"];
// Beyond this a margin says no more than that there is plenty.
const PLENTY = 100;

function section(id, title, ...children) {
  return make("section", { id, "aria-labelledby": `${id}-title` },
    make("h2", { id: `${id}-title` }, title), ...children);
}

function stepsSection(content, acts) {
  if (content.steps.length < 2) return null;
  let before = seenFrom(ISOMETRIC);
  const about = (step) => {
    const lines = [];
    if (step.before.length) lines.push(make("p", {}, "before: ", step.before.join("; ")));
    if (step.joins.length) lines.push(make("p", {}, step.joins.join("; ")));
    if (step.screws.length) lines.push(make("p", {}, "screws: ", step.screws.join("; ")));
    if (step.belts.length) lines.push(make("p", {}, "belt: ", step.belts.join(", ")));
    for (const one of step.cautions) lines.push(make("p", { class: "quiet" }, one));
    const seen = seenFrom(step.seen);
    if (seen !== before) lines.push(make("p", { class: "quiet" }, seen));
    before = seen;
    return lines;
  };
  const items = content.steps.map((step) =>
    make("li", { id: `step-${step.number}`, class: step.heap ? "heap" : null },
      make("button", { type: "button", class: "number", "data-step": step.number,
        "aria-label": `show step ${step.number}`, click: () => acts.goTo(step.number, true) }, String(step.number)),
      step.picture ? image(step.picture, `step ${step.number}: ${stepTitle(step)}`) : null,
      make("div", {},
        make("h3", {}, stepTitle(step)),
        make("p", { class: "quiet" }, stepMove(step)),
        about(step))));
  return section("steps", "Steps of assembly",
    make("p", { class: "quiet screen" }, `${counted(content.steps.length, "step")}, each drawn in the rig when its number is pressed. Letters are groups put together apart.`),
    make("ol", { class: "steps" }, items));
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

function ringsOf(part) {
  return part.outline.join(" ");
}

function partDrawing(part, says) {
  const [left, bottom, width, height] = part.box;
  const pad = 0.02 * Math.max(width, height);
  const view = [left - pad, -(bottom + height) - pad, width + 2 * pad, height + 2 * pad];
  return draw("svg", { viewBox: view.map((one) => figure(one, 2)).join(" "), role: "img", "aria-label": says, class: "part" },
    draw("g", { transform: "scale(1 -1)" },
      draw("path", { d: ringsOf(part), class: "piece", "fill-rule": "evenodd" }),
      part.marks.map((mark) => draw("path", { d: mark.d, class: `mark ${mark.layer}` }))));
}

function partsSection(content, acts) {
  const items = content.parts.map((part, k) =>
    make("li", { id: `part-${k + 1}`, "data-part": part.name },
      partDrawing(part, `outline of ${part.name}`),
      make("h3", {}, make("span", { class: "count" }, String(k + 1)), " ", part.name),
      rowsList([
        ["quantity", String(part.quantity)],
        ["size", sizeText(part.size_mm)],
        ["material", `${part.material}, ${figure(part.thickness_mm, 2)} mm`],
        ["cut", `${figure(part.cut_length_mm / 1000, 2)} m each`],
      ]),
      part.things.length && content.rig.things.length > 1
        ? make("button", { type: "button", click: () => acts.select(content.rig.things[part.things[0]].name, true) },
          "Show in the rig", make("span", { class: "unseen" }, `: ${part.name}`))
        : null));
  return section("parts", "Parts",
    make("p", { class: "quiet" }, `${counted(content.totals.rig.pieces, "piece")} of ${counted(content.parts.length, "kind")}, drawn at the finished size. The numbers are those on the sheets.`),
    make("ul", { class: "cards" }, items));
}

function sheetDrawing(sheet, content) {
  const [width, height] = sheet.size_mm;
  const size = Math.max(width, height);
  const pad = 0.01 * size;
  const letters = 0.022 * size;
  const ground = sheet.outline
    ? draw("path", { d: sheet.outline, class: "stock", "fill-rule": "evenodd" })
    : draw("rect", { width, height, class: "stock" });
  const labels = [];
  const pieces = sheet.pieces.map((piece) => {
    const part = content.parts[piece.part];
    const mirror = piece.mirrored ? " scale(-1 1)" : "";
    const turn = piece.turn_deg * Math.PI / 180;
    const x = (piece.mirrored ? -1 : 1) * (part.box[0] + part.box[2] / 2), y = part.box[1] + part.box[3] / 2;
    labels.push(draw("text", {
      x: figure(piece.x + Math.cos(turn) * x - Math.sin(turn) * y, 1),
      y: figure(-(piece.y + Math.sin(turn) * x + Math.cos(turn) * y), 1),
      "font-size": figure(letters, 1),
    }, String(piece.part + 1)));
    return draw("g", { transform: `translate(${figure(piece.x, 3)} ${figure(piece.y, 3)}) rotate(${piece.turn_deg})${mirror}` },
      draw("title", {}, part.name + (piece.mirrored ? " (face down)" : "")),
      draw("path", { d: ringsOf(part), class: "piece", "fill-rule": "evenodd" }),
      part.marks.map((mark) => draw("path", { d: mark.d, class: `mark ${mark.layer}` })));
  });
  return draw("svg", { viewBox: `${-pad} ${-height - pad} ${width + 2 * pad} ${height + 2 * pad}`, role: "img", "aria-label": `sheet ${sheet.number} with ${counted(sheet.pieces.length, "piece")}`, class: "sheet" },
    draw("g", { transform: "scale(1 -1)" }, ground,
      sheet.free.map((d) => draw("path", { d, class: "free" })), pieces),
    draw("g", { class: "labels" }, labels));
}

function sheetsSection(content) {
  if (!content.sheets.length)
    return section("sheets", "Sheets",
      make("p", { class: "quiet" }, "Nothing is laid on sheets here; platekit make does it."));
  const figures = content.sheets.map((sheet) => {
    const counts = new Map();
    for (const piece of sheet.pieces) counts.set(piece.part, (counts.get(piece.part) || 0) + 1);
    const listed = [...counts].sort((a, b) => a[0] - b[0]).map(([part, count]) =>
      `${part + 1} ${content.parts[part].name}${count > 1 ? ` (${count} of them)` : ""}`);
    return make("figure", { class: "sheet", id: `sheet-${sheet.number}` },
      make("h3", {}, `Sheet ${sheet.number}: ${sizeText(sheet.size_mm, 0)}`),
      make("p", { class: "quiet" }, [sheet.stock || sheet.name, counted(sheet.pieces.length, "piece"),
        `${figure(100 * sheet.utilisation, 0)} % filled`, `${figure(sheet.used_length_mm, 0)} mm of its length used`,
        sheet.offcut_mm ? `${sizeText(sheet.offcut_mm, 0)} left to keep` : null].filter(Boolean).join(", ")),
      sheetDrawing(sheet, content),
      make("figcaption", {}, listed.join(", ")));
  });
  return section("sheets", "Sheets", figures);
}

const BILL_TITLES = { part: "To cut", sheet: "Sheets", hardware: "To buy" };

function billSection(content) {
  const priced = content.bill.some((line) => line.price_total !== undefined);
  const money = (value) => (value === undefined || value === null ? "" : value.toFixed(2));
  const heads = (size, note) => [{ says: "Name" }, { says: "Quantity", right: true }, size ? { says: "Material" } : null,
    size ? { says: "Size", right: true } : null, note ? { says: "Note" } : null,
    priced ? { says: "Each", right: true } : null, priced ? { says: "Together", right: true } : null].filter(Boolean);
  const tables = Object.entries(BILL_TITLES).map(([kind, title]) => {
    const lines = content.bill.filter((line) => line.kind === kind);
    if (!lines.length) return null;
    const sized = lines.some((line) => line.size_mm), noted = lines.some((line) => line.note);
    const rows = lines.map((line) => [{ head: line.name }, String(line.quantity),
      sized ? [line.material, line.thickness_mm ? ` ${figure(line.thickness_mm, 2)} mm` : ""] : null,
      sized ? sizeText(line.size_mm) : null, noted ? line.note : null,
      priced ? money(line.price_each) : null, priced ? money(line.price_total) : null].filter((one) => one !== null));
    return table(title, heads(sized, noted), rows);
  });
  const totals = content.totals;
  const sums = [
    ["pieces to cut", `${totals.rig.pieces}, ${counted(totals.rig.kinds, "kind")}`],
    ["sheets", `${totals.sheets.count}, ${figure(totals.sheets.area_mm2 / 1e6, 2)} m\u00b2`],
    ["length of all cuts", `${figure(totals.rig.cut_length_mm / 1000, 1)} m`],
    ["bought", counted(totals.hardware.count, "piece")],
  ];
  if (totals.hardware.fasteners !== undefined) sums.push(["screws in the rig", String(totals.hardware.fasteners)]);
  if (totals.rig.price !== undefined) sums.push(["price of all that has one", money(totals.rig.price)]);
  if ((totals.unpriced || []).length) sums.push(["without a price", totals.unpriced.join(", ")]);
  return section("bill", "Bill of materials", tables, make("h3", {}, "In all"), rowsList(sums));
}

function marginText(margin) {
  if (margin === undefined || margin === null) return "";
  return margin >= PLENTY ? "plenty" : `${margin.toFixed(2)} times`;
}

// The table of findings keeps its filter from one content to the next.
class Findings {
  constructor() {
    this.family = "";
    this.passed = false;
  }

  // `acts` holds what a click on the name of a thing does.
  section(content, acts) {
    this.content = content;
    this.acts = acts;
    this.things = thingsByName(content);
    const families = content.families.map((one) => [{ head: one.asks }, String(one.weighed || "\u2013"),
      one.weighed ? String(one.passed) : "\u2013",
      one.weakest ? `${marginText(one.weakest.margin)}, ${one.weakest.part}${one.weakest.feature ? " / " + one.weakest.feature : ""}: ${one.weakest.measure.replace(/:$/, "")}` : ""]);
    const known = [...new Set(content.findings.map((one) => one.family))];
    const asks = Object.fromEntries(content.families.map((one) => [one.name, one.asks]));
    if (!known.includes(this.family)) this.family = "";
    this.choice = make("select", { id: "family", change: () => { this.family = this.choice.value; this.list(); } },
      make("option", { value: "" }, "all"),
      known.map((name) => make("option", { value: name, selected: name === this.family }, asks[name] || name)));
    this.box = make("input", { type: "checkbox", id: "passed", checked: this.passed, change: () => { this.passed = this.box.checked; this.list(); } });
    this.count = make("p", { id: "findings-count", role: "status", "aria-live": "polite" });
    this.place = make("div", { id: "findings-list" });
    const made = section("findings", "Findings",
      content.families.length ? table("What was weighed", [{ says: "Question" }, { says: "Weighed", right: true }, { says: "Passed", right: true }, { says: "Least margin" }], families) : null,
      content.skipped.length ? make("p", { class: "quiet" }, `left out: ${content.skipped.join(", ")}`) : null,
      make("div", { class: "filter", role: "group", "aria-label": "Which findings are shown" },
        make("label", { for: "family" }, "Question "), this.choice,
        make("label", { for: "passed" }, this.box, " what passed as well")),
      this.count, this.place);
    this.list();
    return made;
  }

  list() {
    const all = this.content.findings;
    const asked = all.filter((one) => !this.family || one.family === this.family);
    const shown = asked.filter((one) => this.passed || one.severity !== "passed");
    const counts = SEVERITIES.map((word) => [word, shown.filter((one) => one.severity === word).length])
      .filter(([, count]) => count).map(([word, count]) => (word === "passed" ? `${count} passed` : counted(count, word)));
    const left = asked.length - shown.length;
    this.count.textContent = (counts.join(", ") || "nothing to look at") + (left ? `; ${left} passed and not shown` : "");
    this.place.replaceChildren(shown.length ? table("Worst first",
      [{ says: "How grave" }, { says: "Margin", right: true }, { says: "What" }], shown.map((one) => this.row(one))) : "");
  }

  row(one) {
    const where = [one.part, one.feature].filter(Boolean).join(" / ");
    const name = one.part.split(" + ").map((part) => this.things.get(part)).find(Boolean);
    const said = name
      ? make("button", { type: "button", class: "name", title: "show in the rig", click: () => this.acts.select(name, true) }, where)
      : make("b", {}, where);
    return [
      { head: make("span", { class: `mark ${one.severity}` }, one.severity) },
      marginText(one.margin),
      [
        where ? make("p", {}, said) : null,
        make("p", {}, one.figures),
        one.severity !== "passed" && one.remedy ? make("p", {}, "\u2192 ", one.remedy) : null,
        one.formula ? make("p", { class: "quiet" }, "by ", make("code", {}, one.formula)) : null,
        one.source || one.check ? make("p", { class: "quiet" }, [one.source, one.check ? `check ${one.check}` : ""].filter(Boolean).join("; ")) : null,
      ],
    ];
  }
}

// Things of the rig by every name that a finding may call them: their own, their plates', their parts'.
function thingsByName(content) {
  const known = new Map();
  if (!content.rig || content.rig.things.length < 2) return known;
  for (const thing of content.rig.things)
    for (const name of [...thing.part.map((k) => content.parts[k].name), ...thing.plates]) known.set(name, thing.name);
  for (const thing of content.rig.things) known.set(thing.name, thing.name);
  return known;
}

function inputsSection(content) {
  return section("inputs", "What went in",
    content.inputs.map((group) => [make("h3", {}, group.title), rowsList(group.rows)]));
}

function filesSection(content) {
  const there = content.files.filter((file) => file.there);
  const way = (path) => "./" + path.split("/").map(encodeURIComponent).join("/");
  const recipe = content.recipe_text ? make("details", { class: "recipe" },
    make("summary", {}, `The recipe, ${content.recipe}.py`),
    make("p", {}, make("a", { download: `${content.recipe}.py`, href: "data:text/x-python;charset=utf-8," + encodeURIComponent(content.recipe_text) }, "Save it")),
    make("pre", { tabindex: "0" }, content.recipe_text)) : null;
  if (!content.files.length && !recipe) return null;
  const rows = there.map((file) => [{ head: make("a", { href: way(file.path) }, file.path) }, file.says]);
  const lacking = content.files.length - there.length;
  return section("files", "Files",
    rows.length ? table("Beside this page", [{ says: "File" }, { says: "What it is" }], rows) : null,
    lacking ? make("p", {}, `${counted(lacking, "file")} of this run ${lacking === 1 ? "does" : "do"} not lie beside the page as it came out here: platekit make writes ${lacking === 1 ? "it" : "them"}.`) : null,
    recipe);
}

function cautionsSection(content) {
  return section("cautions", "Cautions", content.cautions.map((one) => [
    make("h3", {}, one.title), make("ul", {}, one.lines.map((line) => make("li", {}, line))),
    one.foot ? make("p", {}, one.foot) : null]));
}

"use strict";
// Lists below the rig: bill, findings, inputs, files, cautions. Each function returns a section;
// `acts` holds what clicks do.

const SEVERITIES = ["stop", "warning", "note", "passed"];
// Beyond this a margin says no more than that there is plenty.
const PLENTY = 100;

function section(id, title, ...children) {
  return make("section", { id, "aria-labelledby": `${id}-title` },
    make("h2", { id: `${id}-title` }, title), ...children);
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
    ["pieces to cut", content.figures[0][1]],
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
    this.news = () => null; // what a live page knows has changed about one: {how, was}
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

  newsOf(one) {
    const news = this.news(one);
    return news ? make("p", { class: `news ${news.how}` }, make("b", {}, news.how), news.was ? `, was ${news.was}` : "") : null;
  }

  row(one) {
    const where = [one.part, one.feature].filter(Boolean).join(" / ");
    const name = one.part.split(" + ").map((part) => this.things.get(part)).find(Boolean);
    const said = name
      ? make("button", { type: "button", class: "name", title: "show in the rig", click: () => this.acts.select(name, true) }, where)
      : make("b", {}, where);
    return [
      { head: make("span", { class: `mark ${one.severity}` }, one.severity) },
      [make("span", { class: "margin" }, marginText(one.margin)), this.newsOf(one)],
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

function recipeOf(content) {
  if (!content.recipe_text) return null;
  const href = "data:text/x-python;charset=utf-8," + encodeURIComponent(content.recipe_text);
  return make("details", { class: "recipe" },
    make("summary", {}, `The recipe, ${content.recipe}.py`),
    make("p", {}, make("a", { download: `${content.recipe}.py`, href }, "Save it")),
    make("pre", { tabindex: "0", role: "region", "aria-label": `text of ${content.recipe}.py` }, content.recipe_text));
}

// Files that the page carries are saved from it; to others it leads where they lie beside it.
function filesSection(content, carried) {
  const recipe = recipeOf(content);
  if (!content.files.length && !recipe) return null;
  const way = (path) => "./" + path.split("/").map(encodeURIComponent).join("/");
  const own = content.files.filter((file) => file.carried), beside = content.files.filter((file) => file.there && !file.carried);
  const save = (file) => make("button", { type: "button", class: "name", title: "save it", click: () => carried.save(file.path) }, file.path);
  const cut = (file) => /^(parts|sheets)\//.test(file.path);
  return section("files", "Files",
    own.length ? [
      make("p", {}, own.some(cut) ? "This page carries the cut files and the lists of its run, nothing else is needed: " : "This page carries the lists of its run: ",
        make("span", { class: "buttons" }, make("button", { type: "button", click: () => carried.saveAll() }, `Save all ${own.length} as one ZIP`))),
      make("details", {}, make("summary", {}, `One by one (${own.length})`),
        table("Files in this page", [{ says: "Save" }, { says: "What it is" }], own.map((file) => [{ head: save(file) }, file.says])))] : null,
    beside.length ? table("Beside this page", [{ says: "File" }, { says: "What it is" }],
      beside.map((file) => [{ head: make("a", { href: way(file.path) }, file.path) }, file.says])) : null,
    recipe);
}

function cautionsSection(content) {
  return section("cautions", "Cautions", content.cautions.map((one) => [
    make("h3", {}, one.title), make("ul", {}, one.lines.map((line) => make("li", {}, line))),
    one.foot ? make("p", {}, one.foot) : null]));
}

"use strict";
// What a turn of a value, or a save, did to the findings: below the picture, where one looks.

// A state that stood so long is what the next change is compared with; a slider on its way is not.
const RESTED_MS = 4000;
// More lines than this nobody takes in at a glance.
const MOST_LINES = 3;
// Less than this is no change: it would not show in the figures.
const LEAST_CHANGE = 0.005;
const GRAVEST = ["passed", "note", "warning", "stop"];

class LiveChanges {
  constructor() {
    this.place = make("div", { id: "live-margins", role: "status", "aria-label": "Least margin, and what has changed" });
    this.base = null;
    this.now = null;
    this.since = 0;
    this.told = new Map(); // by finding, what has changed about it
  }

  // A run begins: what has stood for a while is what it will be compared with.
  began() {
    if (this.now && (!this.base || Date.now() - this.since > RESTED_MS)) this.base = this.now;
  }

  // Findings are there; `whole` says whether those of the proof are among them.
  take(content, whole) {
    this.now = { findings: this.byName(content.findings), weakest: this.weakestOf(content), whole };
    this.since = Date.now();
    this.show();
  }

  byName(findings) {
    const found = new Map();
    for (const one of findings) {
      let name = JSON.stringify([one.check, one.part, one.feature, one.measure]);
      while (found.has(name)) name += "+";
      found.set(name, one);
    }
    return found;
  }

  weakestOf(content) {
    const all = content.families.map((one) => one.weakest).filter((one) => one && typeof one.margin === "number");
    return all.sort((a, b) => a.margin - b.margin)[0] || null;
  }

  // "1.21 to 0.96 times"; empty where a margin is not known.
  fromTo(before, now) {
    if (typeof before !== "number" || typeof now !== "number") return "";
    return `${marginText(before).replace(" times", "")} \u2192 ${marginText(now)}`;
  }

  // How it stood before: its margin, or how grave it was.
  wasOf(before, now) {
    return typeof before.margin === "number" && typeof now.margin === "number" ? marginText(before.margin).replace(" times", "") : before.severity;
  }

  changes() {
    const said = [];
    if (!this.base || this.base === this.now) return said;
    for (const [name, one] of this.now.findings) {
      const before = this.base.findings.get(name), grave = GRAVEST.indexOf(one.severity);
      if (!before) {
        if (grave > 0) said.push({ how: "new", grave, one, says: marginText(one.margin) });
        continue;
      }
      const was = GRAVEST.indexOf(before.severity), [a, b] = [before.margin, one.margin];
      const known = typeof a === "number" && typeof b === "number";
      const less = known && b < a * (1 - LEAST_CHANGE), more = known && b > a * (1 + LEAST_CHANGE);
      if (grave > was || (grave === was && less)) said.push({ how: "worse", grave, one, was: this.wasOf(before, one), says: this.fromTo(a, b) || one.severity });
      else if (grave < was || more) said.push({ how: "better", grave: -1, one, was: this.wasOf(before, one), says: this.fromTo(a, b) || one.severity });
    }
    // What the proof finds comes last; until then it has not gone.
    for (const [name, one] of this.now.whole ? this.base.findings : [])
      if (!this.now.findings.has(name) && one.severity !== "passed") said.push({ how: "gone", grave: 0, one, says: one.severity });
    const order = ["new", "worse", "gone", "better"];
    const margin = (item) => (typeof item.one.margin === "number" ? item.one.margin : Infinity);
    return said.filter((item) => item.grave > 0 || item.how === "gone" || margin(item) < PLENTY)
      .sort((a, b) => b.grave - a.grave || order.indexOf(a.how) - order.indexOf(b.how) || margin(a) - margin(b));
  }

  show() {
    const { weakest } = this.now, before = this.base && this.base !== this.now ? this.base.weakest : null;
    const all = this.changes();
    this.told = new Map(all.map((item) => [item.one, { how: item.how, was: item.was }]));
    const moved = weakest && before && Math.abs(before.margin - weakest.margin) > LEAST_CHANGE * before.margin;
    const name = (one) => [one.part, one.feature].filter(Boolean).join(" / ");
    const left = all.slice(MOST_LINES);
    const line = weakest ? make("p", { id: "live-weakest", class: weakest.margin < 1 ? "live-short" : null },
      "least margin ", make("b", {}, marginText(weakest.margin)), moved ? ` (was ${marginText(before.margin)})` : "", ` ${name(weakest)}: ${weakest.measure.replace(/:$/, "")}`) : null;
    const lines = all.slice(0, MOST_LINES).map((item) => make("li", { class: `live-${item.how}` },
      make("b", {}, item.how), " ", make("span", { class: "live-from" }, item.says),
      ` ${name(item.one)}: ${item.says ? item.one.measure.replace(/[:,]$/, "") : item.one.figures}`));
    const counts = ["new", "worse", "gone", "better"].map((how) => [how, left.filter((item) => item.how === how).length]);
    if (left.length) lines.push(make("li", { class: "live-rest" }, `and ${counts.filter(([, count]) => count).map(([how, count]) => `${count} ${how}`).join(", ")}`));
    this.place.replaceChildren(line || "", lines.length ? make("ul", { id: "live-changes" }, lines) : "");
  }
}

"use strict";
// Parts and the sheets they are cut from. What is selected in the rig stands out here, and what is
// clicked here is selected there.

function ringsOf(part) {
  return part.outline.join(" ");
}

// What the address of each part ends with, "part-" before it: its name in letters, figures, hyphens.
function slugsOf(names) {
  const used = new Map();
  return names.map((name) => {
    const slug = name.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-|-$/g, "") || "unnamed";
    const times = (used.get(slug) || 0) + 1;
    used.set(slug, times);
    return times > 1 ? `${slug}-${times}` : slug;
  });
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

function partCard(part, k, content, acts, carried) {
  const turnable = part.things.length && content.rig.things.length > 1;
  return make("li", { id: `part-${content.slugs[k]}`, "data-part": k },
    partDrawing(part, `outline of ${part.name}`),
    make("h4", {}, make("span", { class: "count" }, String(k + 1)), " ", part.name),
    rowsList([
      ["quantity", String(part.quantity)],
      ["size", sizeText(part.size_mm)],
      ["cut", `${figure(part.cut_length_mm / 1000, 2)} m each`],
    ]),
    make("p", { class: "buttons" },
      turnable ? make("button", { type: "button", "aria-label": `Show ${part.name} in the rig`, click: () => acts.choosePart(k, true) }, "Show in the rig") : null,
      carried.buttons([`parts/${part.name}.dxf`, `parts/${part.name}.svg`], part.name)));
}

// Parts by the sheet they are cut from, in the order in which those come up.
function partsSection(content, acts, carried) {
  const groups = new Map();
  content.parts.forEach((part, k) => {
    const from = `${part.material}, ${figure(part.thickness_mm, 2)} mm`;
    groups.set(from, [...(groups.get(from) || []), k]);
  });
  return section("parts", "Parts",
    make("p", { class: "quiet" }, `${counted(content.totals.rig.pieces, "piece")}${content.parts.length > 1 ? ` of ${counted(content.parts.length, "kind")}` : ""}, drawn at the finished size. The numbers are those on the sheets.`),
    [...groups].map(([from, which]) => [
      make("h3", {}, from),
      make("ul", { class: "cards" }, which.map((k) => partCard(content.parts[k], k, content, acts, carried)))]));
}

function sheetDrawing(sheet, content, acts) {
  const [width, height] = sheet.size_mm;
  const pad = 0.01 * Math.max(width, height);
  const ground = sheet.outline
    ? draw("path", { d: sheet.outline, class: "stock", "fill-rule": "evenodd" })
    : draw("rect", { width, height, class: "stock" });
  const labels = sheet.pieces.map((piece) => {
    const [x, y, high] = piece.label;
    return draw("text", { x: figure(x, 1), y: figure(-y, 1), dy: "0.37em", "font-size": figure(high, 1) }, String(piece.part + 1));
  });
  const pieces = sheet.pieces.map((piece) => {
    const part = content.parts[piece.part];
    const mirror = piece.mirrored ? " scale(-1 1)" : "";
    return draw("g", { class: "lying", "data-part": piece.part, click: () => acts.choosePart(piece.part, false, piece.copy),
      transform: `translate(${figure(piece.x, 3)} ${figure(piece.y, 3)}) rotate(${piece.turn_deg})${mirror}` },
      draw("title", {}, part.name + (piece.mirrored ? " (face down)" : "")),
      draw("path", { d: ringsOf(part), class: "piece", "fill-rule": "evenodd" }),
      part.marks.map((mark) => draw("path", { d: mark.d, class: `mark ${mark.layer}` })));
  });
  return draw("svg", { viewBox: `${-pad} ${-height - pad} ${width + 2 * pad} ${height + 2 * pad}`, role: "img", "aria-label": `sheet ${sheet.number} with ${counted(sheet.pieces.length, "piece")}`, class: "sheet" },
    draw("g", { transform: "scale(1 -1)" }, ground,
      sheet.free.map((d) => draw("path", { d, class: "free" })), pieces),
    draw("g", { class: "labels" }, labels));
}

function sheetsSection(content, acts, carried) {
  if (!content.sheets.length)
    return section("sheets", "Sheets",
      make("p", { class: "quiet" }, "Nothing is laid on sheets here; platekit make does it."));
  const figures = content.sheets.map((sheet) => {
    const counts = new Map();
    for (const piece of sheet.pieces) counts.set(piece.part, (counts.get(piece.part) || 0) + 1);
    const listed = [...counts].sort((a, b) => a[0] - b[0]).map(([part, count]) => make("li", {},
      make("button", { type: "button", class: "name", "data-part": part, title: "show which", click: () => acts.choosePart(part) },
        `${part + 1} ${content.parts[part].name}`), count > 1 ? ` (${count} of them)` : ""));
    return make("figure", { class: "sheet", id: `sheet-${sheet.number}` },
      make("h3", {}, `Sheet ${sheet.number}: ${sizeText(sheet.size_mm, 0)}`),
      make("p", { class: "quiet" }, [sheet.stock || sheet.name, counted(sheet.pieces.length, "piece"),
        `${figure(100 * sheet.utilisation, 0)} % filled`, `${figure(sheet.used_length_mm, 0)} mm of its length used`,
        sheet.offcut_mm ? `${sizeText(sheet.offcut_mm, 0)} left to keep` : null].filter(Boolean).join(", ")),
      make("div", { class: "wide", tabindex: "0", role: "region", "aria-label": `drawing of sheet ${sheet.number}` }, sheetDrawing(sheet, content, acts)),
      make("figcaption", {}, make("ul", { class: "row" }, listed)),
      make("p", { class: "buttons" }, carried.buttons([`sheets/${sheet.number}.dxf`, `sheets/${sheet.number}.svg`], `sheet ${sheet.number}`)));
  });
  const laid = content.sheets.flatMap((sheet) => sheet.pieces.map((piece) => piece.part));
  const left = content.parts.map((part, k) => [part.name, part.quantity - laid.filter((one) => one === k).length]).filter(([, count]) => count > 0);
  return section("sheets", "Sheets", figures, left.length
    ? make("p", { id: "unlaid" }, make("span", { class: "mark stop" }, "without a place"), `: ${left.map(([name, count]) => (count > 1 ? `${count} of ${name}` : name)).join(", ")}`) : null);
}

// Let the parts of these numbers stand out among the parts and on the sheets.
function setOff(parts) {
  for (const one of document.querySelectorAll("#lists [data-part]")) {
    const chosen = parts.includes(Number(one.dataset.part));
    one.classList.toggle("chosen", chosen);
    if (one.tagName === "BUTTON") one.setAttribute("aria-pressed", String(chosen));
  }
}

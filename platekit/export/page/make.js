"use strict";
// Elements made from words and figures. Text is always set as text: nothing that a recipe or a
// finding says can become markup.

const SVG_SPACE = "http://www.w3.org/2000/svg";

function fill(element, given, children) {
  for (const [name, value] of Object.entries(given || {})) {
    if (value === null || value === undefined || value === false) continue;
    if (typeof value === "function") element.addEventListener(name, value);
    else element.setAttribute(name, value === true ? "" : String(value));
  }
  element.append(...children.flat(Infinity).filter((one) => one !== null && one !== undefined && one !== ""));
  return element;
}

// An element of HTML; functions among what is given listen to the event they are named for.
function make(tag, given, ...children) {
  return fill(document.createElement(tag), given, children);
}

function draw(tag, given, ...children) {
  return fill(document.createElementNS(SVG_SPACE, tag), given, children);
}

function byId(id) {
  return document.getElementById(id);
}

// What drawings look like on a dark page; a browser shows them so where the page round them is dark.
const DARK_DRAWING = "<style>svg > rect:first-of-type { fill: none } @media (prefers-color-scheme: dark) {" + [
  ["text", "fill: #e6e7e8"],
  [".rig-plate-top", "fill: #2c4657"], [".rig-plate-left", "fill: #243a49"], [".rig-plate-right", "fill: #1c2f3c"],
  [".rig-bought-top", "fill: #5a6066"], [".rig-bought-left", "fill: #4a5056"], [".rig-bought-right", "fill: #3b4046"],
  [".rig-new-top", "fill: #d99a1c"], [".rig-new-left", "fill: #b57d0f"], [".rig-new-right", "fill: #8f6208"],
  [".rig-line", "stroke: #dfe2e5"], [".rig-way", "stroke: #ff8a3c"], [".rig-head", "fill: #ff8a3c"],
  [".rig-glue", "stroke: #6fc0ee"], [".rig-leader", "stroke: #a9aeb4"], [".rig-dot", "fill: #dfe2e5"],
  [".rig-balloon", "fill: #1c2024; stroke: #dfe2e5"],
].map(([which, how]) => `${which} { ${how} }`).join(" ") + "}</style>";

// A drawing that came as the squeezed text of an SVG file: an image, in which no script runs. Such
// images are filled one after the other once the rig has been drawn, those in view first.
const waiting = new Set();
let filling = false;
// What was undone before, by its squeezed text: shown again it stands there at once.
const undone = new Map();
const MOST_UNDONE = 300;

function image(picture, says) {
  const [width, height] = picture.size || [];
  const made = make("img", { alt: says, class: "drawing", width, height, src: undone.get(picture.gzip) });
  if (undone.has(picture.gzip)) return made;
  waiting.add({ made, picture });
  if (!filling) setTimeout(fillImages, 60);
  filling = true;
  return made;
}

async function fillImages() {
  const inView = ({ made }) => {
    const box = made.getBoundingClientRect();
    return box.width > 0 && box.bottom > 0 && box.top < innerHeight;
  };
  while (waiting.size) {
    for (const one of waiting) if (!one.made.isConnected) waiting.delete(one); // gone before it was seen
    const next = [...waiting].find(inView) || [...waiting][0];
    if (!next) break;
    waiting.delete(next);
    try {
      const drawn = (await unsqueezed(next.picture.gzip)).replace(/<svg[^>]*>/, (head) => head + DARK_DRAWING);
      next.made.src = "data:image/svg+xml;charset=utf-8," + encodeURIComponent(drawn);
      if (undone.size >= MOST_UNDONE) undone.clear();
      undone.set(next.picture.gzip, next.made.src);
      await next.made.decode();
    } catch {
      next.made.classList.add("missing"); // a browser that cannot undo it shows the words about it
    }
  }
  filling = false;
}

async function unsqueezedBytes(letters) {
  const packed = new Blob([bytesOf(letters)]).stream().pipeThrough(new DecompressionStream("gzip"));
  return new Response(packed).arrayBuffer();
}

async function unsqueezed(letters) {
  return new TextDecoder().decode(await unsqueezedBytes(letters));
}

function bytesOf(letters) {
  return Uint8Array.from(atob(letters), (letter) => letter.charCodeAt(0));
}

function figure(value, decimals = 1) {
  return value === null || value === undefined ? "" : String(Number(value.toFixed(decimals)));
}

function sizeText(size, decimals = 1) {
  return size ? `${figure(size[0], decimals)} \u00d7 ${figure(size[1], decimals)} mm` : "";
}

function counted(number, word) {
  return `${number} ${word}${number === 1 ? "" : "s"}`;
}

// Tables of so many rows are not broken on paper.
const SHORT = 12;

// A table whose heads say what they head; a cell that is {head: ...} heads its row.
function table(caption, heads, rows, feet = []) {
  const line = (cells) =>
    make("tr", {}, cells.map((cell, k) => {
      const right = heads[k] && heads[k].right ? "figure" : null;
      if (cell && cell.head !== undefined) return make("th", { scope: "row" }, cell.head);
      return make("td", { class: right }, cell === undefined ? null : cell);
    }));
  return make("div", { class: rows.length > SHORT ? "wide" : "wide short", tabindex: "0", role: "region", "aria-label": caption },
    make("table", {},
      make("caption", {}, caption),
      make("thead", {}, make("tr", {}, heads.map((one) =>
        make("th", { scope: "col", class: one.right ? "figure" : null }, one.says)))),
      make("tbody", {}, rows.map(line)),
      feet.length ? make("tfoot", {}, feet.map(line)) : null));
}

// A long name_of_a_parameter_mm is broken after its strokes, not in the middle of a word.
function breakable(name) {
  return name.split(/(?<=_)/).flatMap((word, k) => (k ? [make("wbr"), word] : [word]));
}

function rowsList(rows) {
  return make("dl", { class: "rows" }, rows.map(([label, text]) =>
    make("div", {}, make("dt", {}, breakable(label)), make("dd", {}, text))));
}

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

// A drawing that came as the squeezed text of an SVG file: an image, in which no script runs. Such
// images are filled one after the other, once the rig has been drawn.
let filling = new Promise((begin) => setTimeout(begin, 120));

function image(picture, says) {
  const made = make("img", { alt: says });
  filling = filling.then(() => unsqueezed(picture.gzip)).then((text) => {
    made.src = "data:image/svg+xml;charset=utf-8," + encodeURIComponent(text);
    return made.decode();
  }).catch(() => {}); // a browser that cannot undo it shows the words about it
  return made;
}

async function unsqueezed(letters) {
  const packed = new Blob([bytesOf(letters)]).stream().pipeThrough(new DecompressionStream("gzip"));
  return new Response(packed).text();
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

// A table whose heads say what they head; a cell that is {head: ...} heads its row.
function table(caption, heads, rows, feet = []) {
  const line = (cells) =>
    make("tr", {}, cells.map((cell, k) => {
      const right = heads[k] && heads[k].right ? "figure" : null;
      if (cell && cell.head !== undefined) return make("th", { scope: "row" }, cell.head);
      return make("td", { class: right }, cell === undefined ? null : cell);
    }));
  return make("div", { class: "wide", tabindex: "0", role: "region", "aria-label": caption },
    make("table", {},
      make("caption", {}, caption),
      make("thead", {}, make("tr", {}, heads.map((one) =>
        make("th", { scope: "col", class: one.right ? "figure" : null }, one.says)))),
      make("tbody", {}, rows.map(line)),
      feet.length ? make("tfoot", {}, feet.map(line)) : null));
}

function rowsList(rows) {
  return make("dl", { class: "rows" }, rows.map(([label, text]) =>
    make("div", {}, make("dt", {}, label), make("dd", {}, text))));
}

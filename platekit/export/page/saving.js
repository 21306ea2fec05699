"use strict";
// Files that the page carries along: saved one by one, or all as one archive (ZIP, nothing squeezed).

// Every entry of an archive wants a date; without one it is the first it can tell, 1 January 1980.
const NO_DATE = 0x0021;
const CRC_TABLE = Uint32Array.from({ length: 256 }, (_, k) => {
  let sum = k;
  for (let bit = 0; bit < 8; bit++) sum = sum & 1 ? sum >>> 1 ^ 0xedb88320 : sum >>> 1;
  return sum;
});

function crcOf(bytes) {
  let sum = ~0;
  for (const byte of bytes) sum = sum >>> 8 ^ CRC_TABLE[(sum ^ byte) & 255];
  return ~sum >>> 0;
}

// Return an archive of files [path, bytes], as APPNOTE of the ZIP format lays it out.
function archiveOf(files) {
  const pieces = [], listed = [];
  let at = 0;
  const record = (sign, fields) => {
    const size = fields.reduce((sum, [bytes]) => sum + bytes, 4), view = new DataView(new ArrayBuffer(size));
    view.setUint32(0, sign, true);
    let from = 4;
    for (const [bytes, value] of fields) {
      if (bytes === 2) view.setUint16(from, value, true);
      else view.setUint32(from, value, true);
      from += bytes;
    }
    return new Uint8Array(view.buffer);
  };
  for (const [path, bytes] of files) {
    const name = new TextEncoder().encode(path);
    // Version 2.0, names in UTF-8, stored, no date; sum, size, size again, length of the name.
    const same = [[2, 20], [2, 0x0800], [2, 0], [2, 0], [2, NO_DATE], [4, crcOf(bytes)], [4, bytes.length], [4, bytes.length], [2, name.length], [2, 0]];
    const head = record(0x04034b50, same);
    listed.push(record(0x02014b50, [[2, 20], ...same, [2, 0], [2, 0], [2, 0], [4, 0], [4, at]]), name);
    pieces.push(head, name, bytes);
    at += head.length + name.length + bytes.length;
  }
  const size = listed.reduce((sum, one) => sum + one.length, 0);
  return new Blob([...pieces, ...listed,
    record(0x06054b50, [[2, 0], [2, 0], [2, files.length], [2, files.length], [4, size], [4, at], [2, 0]])], { type: "application/zip" });
}

function saveAs(name, blob) {
  const url = URL.createObjectURL(blob);
  make("a", { href: url, download: name }).click();
  setTimeout(() => URL.revokeObjectURL(url), 60000);
}

class Carried {
  constructor(content) {
    this.content = content;
    this.paths = new Set(content.files.filter((file) => file.carried).map((file) => file.path));
    this.opened = null;
  }

  // All of them, by path.
  texts() {
    this.opened = this.opened || unsqueezed(this.content.carried.gzip).then(JSON.parse);
    return this.opened;
  }

  async save(path) {
    saveAs(path.split("/").pop(), new Blob([(await this.texts())[path]], { type: "application/octet-stream" }));
  }

  async saveAll() {
    const texts = await this.texts(), within = `${this.content.recipe}/`;
    saveAs(`${this.content.recipe}.zip`, archiveOf([...this.paths].map((path) => [within + path, new TextEncoder().encode(texts[path])])));
  }

  // A button for each of these files that is carried: "DXF", "SVG".
  buttons(paths, whose) {
    const there = paths.filter((path) => this.paths.has(path));
    return there.map((path) => {
      const kind = path.split(".").pop().toUpperCase();
      return make("button", { type: "button", class: "save", "aria-label": `Save ${kind} of ${whose}`, title: `save ${path}`, click: () => this.save(path) }, `\u2193 ${kind}`);
    });
  }
}

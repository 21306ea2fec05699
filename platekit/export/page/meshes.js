"use strict";
// Meshes as they come in the content, made ready to be drawn: corners in mm, a normal for every
// corner of every triangle, ends of every edge.

// Faces that turn by less than this, in degrees, are shaded as one curved face.
const SMOOTH_DEG = 30;

// Return the numbers of a row as they were before each was told from another: see meshes.py.
function rowOf(bytes) {
  const count = bytes.length / 4, row = new Int32Array(count);
  for (let k = 0; k < count; k++) {
    const told = bytes[k] | bytes[count + k] << 8 | bytes[2 * count + k] << 16 | bytes[3 * count + k] << 24;
    row[k] = told >>> 1 ^ -(told & 1);
  }
  return row;
}

// Return so many columns of a table, each number less the one above it; `first` tells that only the
// first column is so, the others are told from the first.
function tableOf(row, from, count, columns, first) {
  const table = new Uint32Array(count * columns);
  for (let column = 0; column < columns; column++) {
    let last = 0;
    for (let k = 0; k < count; k++) {
      const told = row[from + column * count + k];
      last = first && column ? table[k * columns] + told : last + told;
      table[k * columns + column] = last;
    }
  }
  return table;
}

// Return all meshes, ready to be drawn; rejected where the browser cannot undo what was squeezed.
async function readyMeshes(meshes) {
  const row = rowOf(new Uint8Array(await unsqueezedBytes(meshes.numbers.gzip)));
  let from = 0;
  const take = (counts, columns, first) => counts.map((count) => {
    const table = tableOf(row, from, count, columns, first);
    from += count * columns;
    return table;
  });
  const corners = take(meshes.each.map((mesh) => mesh.corners), 3, false);
  const triangles = take(meshes.each.map((mesh) => mesh.triangles), 3, true);
  const edges = take(meshes.each.map((mesh) => mesh.edges), 2, true);
  return meshes.each.map((mesh, k) => readyMesh(Float32Array.from(corners[k], (steps) => steps / mesh.per_mm), triangles[k], edges[k]));
}

function readyMesh(corners, triangles, edges) {
  return {
    faces: spread(corners, triangles),
    normals: normalsOf(corners, triangles),
    lines: spread(corners, edges),
  };
}

function spread(corners, names) {
  const out = new Float32Array(3 * names.length);
  for (let k = 0; k < names.length; k++)
    for (let axis = 0; axis < 3; axis++) out[3 * k + axis] = corners[3 * names[k] + axis];
  return out;
}

function normalsOf(corners, triangles) {
  const count = triangles.length / 3;
  const across = new Float32Array(3 * count); // as long as twice the face's area
  const unit = new Float32Array(3 * count);
  for (let f = 0; f < count; f++) {
    const [a, b, c] = [3 * triangles[3 * f], 3 * triangles[3 * f + 1], 3 * triangles[3 * f + 2]];
    const u = [0, 1, 2].map((k) => corners[b + k] - corners[a + k]);
    const v = [0, 1, 2].map((k) => corners[c + k] - corners[a + k]);
    const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
    const length = Math.hypot(...n) || 1;
    for (let k = 0; k < 3; k++) {
      across[3 * f + k] = n[k];
      unit[3 * f + k] = n[k] / length;
    }
  }
  const first = new Uint32Array(corners.length / 3 + 1); // faces about each corner, in one list
  for (const corner of triangles) first[corner + 1]++;
  for (let k = 1; k < first.length; k++) first[k] += first[k - 1];
  const about = new Uint32Array(triangles.length);
  const next = first.slice();
  triangles.forEach((corner, k) => { about[next[corner]++] = Math.floor(k / 3); });
  const least = Math.cos(SMOOTH_DEG * Math.PI / 180);
  const out = new Float32Array(3 * triangles.length);
  for (let k = 0; k < triangles.length; k++) {
    const f = 3 * Math.floor(k / 3);
    let x = 0, y = 0, z = 0;
    for (let j = first[triangles[k]]; j < first[triangles[k] + 1]; j++) {
      const g = 3 * about[j];
      if (unit[f] * unit[g] + unit[f + 1] * unit[g + 1] + unit[f + 2] * unit[g + 2] < least) continue;
      x += across[g]; y += across[g + 1]; z += across[g + 2];
    }
    const length = Math.hypot(x, y, z) || 1;
    out[3 * k] = x / length; out[3 * k + 1] = y / length; out[3 * k + 2] = z / length;
  }
  return out;
}

"use strict";
// Meshes as they come in the content, made ready to be drawn: corners in mm, a normal for every
// corner of every triangle, ends of every edge.

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
  const across = acrossOf(corners, triangles);
  return {
    faces: spread(corners, triangles),
    normals: normalsOf(corners.length / 3, triangles, edges, across),
    uprights: uprightsOf(corners, triangles, across),
    lines: spread(corners, edges),
  };
}

function spread(corners, names) {
  const out = new Float32Array(3 * names.length);
  for (let k = 0; k < names.length; k++)
    for (let axis = 0; axis < 3; axis++) out[3 * k + axis] = corners[3 * names[k] + axis];
  return out;
}

// For each triangle, what stands upright on it: as long as twice its area.
function acrossOf(corners, triangles) {
  const across = new Float32Array(triangles.length);
  for (let f = 0; f < triangles.length; f += 3) {
    const [a, b, c] = [3 * triangles[f], 3 * triangles[f + 1], 3 * triangles[f + 2]];
    const ux = corners[b] - corners[a], uy = corners[b + 1] - corners[a + 1], uz = corners[b + 2] - corners[a + 2];
    const vx = corners[c] - corners[a], vy = corners[c + 1] - corners[a + 1], vz = corners[c + 2] - corners[a + 2];
    across[f] = uy * vz - uz * vy;
    across[f + 1] = uz * vx - ux * vz;
    across[f + 2] = ux * vy - uy * vx;
  }
  return across;
}

// The same for each corner of each triangle, as long as the triangle is high above its longest side.
function uprightsOf(corners, triangles, across) {
  const out = new Float32Array(3 * triangles.length);
  for (let f = 0; f < triangles.length; f += 3) {
    let longest = 0;
    for (let side = 0; side < 3; side++) {
      const [a, b] = [3 * triangles[f + side], 3 * triangles[f + (side + 1) % 3]];
      longest = Math.max(longest, Math.hypot(corners[b] - corners[a], corners[b + 1] - corners[a + 1], corners[b + 2] - corners[a + 2]));
    }
    for (let k = 0; k < 9; k++) out[3 * f + k] = across[f + k % 3] / (longest || 1);
  }
  return out;
}

// Return a normal for every corner of every triangle: as of one curved face with those about that
// corner which no sharp edge parts from it, each as far as its area goes. A sliver, whose own normal
// is chance, takes that of its neighbours.
function normalsOf(count, triangles, edges, across) {
  const key = (a, b) => (a < b ? a * count + b : b * count + a);
  const sharp = new Set();
  for (let k = 0; k < edges.length; k += 2) sharp.add(key(edges[k], edges[k + 1]));
  const first = new Uint32Array(count + 1); // triangles about each corner, in one list
  for (const corner of triangles) first[corner + 1]++;
  for (let k = 1; k <= count; k++) first[k] += first[k - 1];
  const about = new Uint32Array(triangles.length);
  const next = first.slice();
  triangles.forEach((corner, k) => { about[next[corner]++] = k; });
  const out = new Float32Array(3 * triangles.length);
  const root = new Uint32Array(triangles.length).map((_, k) => k); // of places in that list
  const rootOf = (k) => {
    while (root[k] !== k) k = root[k] = root[root[k]];
    return k;
  };
  for (let corner = 0; corner < count; corner++) {
    const met = new Map(); // by the corner at the other end of a side, a triangle that has it
    for (let k = first[corner]; k < first[corner + 1]; k++) {
      const f = 3 * Math.floor(about[k] / 3);
      for (let side = 0; side < 3; side++) {
        const other = triangles[f + side];
        if (other === corner || sharp.has(key(corner, other))) continue;
        if (met.has(other)) root[rootOf(k)] = rootOf(met.get(other));
        else met.set(other, k);
      }
    }
    const sums = new Map();
    for (let k = first[corner]; k < first[corner + 1]; k++) {
      const f = 3 * Math.floor(about[k] / 3), sum = sums.get(rootOf(k)) || [0, 0, 0];
      for (let axis = 0; axis < 3; axis++) sum[axis] += across[f + axis];
      sums.set(rootOf(k), sum);
    }
    for (let k = first[corner]; k < first[corner + 1]; k++) {
      const sum = sums.get(rootOf(k)), length = Math.hypot(...sum) || 1;
      for (let axis = 0; axis < 3; axis++) out[3 * about[k] + axis] = sum[axis] / length;
    }
  }
  return out;
}

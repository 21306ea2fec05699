"use strict";
// Meshes as they come in the content, made ready to be drawn: corners in mm, a normal for every
// corner of every triangle, ends of every edge.

// Faces that turn by less than this, in degrees, are shaded as one curved face.
const SMOOTH_DEG = 30;

function countsOf(text, wide) {
  const view = new DataView(bytesOf(text).buffer);
  const size = wide ? 4 : 2;
  const counts = new Uint32Array(view.byteLength / size);
  for (let k = 0; k < counts.length; k++)
    counts[k] = wide ? view.getUint32(4 * k, true) : view.getUint16(2 * k, true);
  return counts;
}

function readyMesh(mesh) {
  const counts = countsOf(mesh.corners, false);
  const corners = Float32Array.from(counts, (count) => count / mesh.per_mm);
  const triangles = countsOf(mesh.triangles, mesh.wide);
  const edges = countsOf(mesh.edges, mesh.wide);
  return {
    box: boxOf(corners),
    faces: spread(corners, triangles),
    normals: normalsOf(corners, triangles),
    lines: spread(corners, edges),
  };
}

function boxOf(corners) {
  const low = [Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity];
  for (let k = 0; k < corners.length; k++) {
    low[k % 3] = Math.min(low[k % 3], corners[k]);
    high[k % 3] = Math.max(high[k % 3], corners[k]);
  }
  return [low, high];
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

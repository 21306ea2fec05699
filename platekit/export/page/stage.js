"use strict";
// The stage: draws meshes on a canvas as a parallel projection, and says which is under a point.

// A face seen edge on covers no pixel, but its depth runs away between two of them, so that it would
// shine through what is before it: it is left out. "upright" is as long as the triangle is high.
const FACE_SHADER = `
attribute vec3 corner, normal, upright;
uniform vec3 at, target, right, up, back, scale;
uniform float depth, pixels;
varying vec3 facing;
void main() {
  vec3 p = corner + at - target;
  facing = vec3(dot(normal, right), dot(normal, up), dot(normal, back));
  gl_Position = vec4(dot(p, right) * scale.x, dot(p, up) * scale.y, -dot(p, back) * scale.z - depth, 1.0);
  float seen = dot(upright, back);
  if (seen < 0.15 * length(upright) && seen * pixels < 0.12) gl_Position = vec4(2.0, 2.0, 2.0, 1.0);
}`;
// Lit from over the left shoulder of whoever looks.
const LIT_SHADER = `
precision mediump float;
uniform vec4 colour;
uniform float lit;
varying vec3 facing;
void main() {
  float light = 0.62 + 0.38 * max(dot(normalize(facing), normalize(vec3(-0.35, 0.55, 0.76))), 0.0);
  gl_FragColor = vec4(colour.rgb * mix(1.0, light, lit), colour.a);
}`;
// A picture drawn within this time, milliseconds, may be drawn twice as fine as the screen is.
const FAST_MS = 40;
// Lines lie this much before the faces they bound.
const LINE_DEPTH = 0.0015;

class Stage {
  constructor(canvas) {
    this.canvas = canvas;
    this.gl = canvas.getContext("webgl", { antialias: true, alpha: true });
    this.meshes = [];
    this.source = [];
    this.fine = false;
    if (!this.gl) return;
    this.begin();
    canvas.addEventListener("webglcontextlost", (event) => event.preventDefault());
    canvas.addEventListener("webglcontextrestored", () => {
      this.begin();
      this.load(this.source);
      canvas.dispatchEvent(new Event("again"));
    });
  }

  begin() {
    const gl = this.gl;
    const program = gl.createProgram();
    for (const [kind, text] of [[gl.VERTEX_SHADER, FACE_SHADER], [gl.FRAGMENT_SHADER, LIT_SHADER]]) {
      const shader = gl.createShader(kind);
      gl.shaderSource(shader, text);
      gl.compileShader(shader);
      gl.attachShader(program, shader);
    }
    gl.bindAttribLocation(program, 0, "corner");
    gl.bindAttribLocation(program, 1, "normal");
    gl.bindAttribLocation(program, 2, "upright");
    gl.linkProgram(program);
    gl.useProgram(program);
    this.places = {};
    for (const name of ["at", "target", "right", "up", "back", "scale", "depth", "pixels", "colour", "lit"])
      this.places[name] = gl.getUniformLocation(program, name);
    gl.enable(gl.DEPTH_TEST);
    gl.depthFunc(gl.LEQUAL);
    gl.enable(gl.CULL_FACE); // nobody sees the inside of closed solids
    gl.enable(gl.BLEND);
    gl.blendFuncSeparate(gl.SRC_ALPHA, gl.ONE_MINUS_SRC_ALPHA, gl.ONE, gl.ONE_MINUS_SRC_ALPHA);
    this.meshes = [];
    this.hidden = null; // where picking draws
  }

  // Take meshes made ready by `readyMesh`.
  load(ready) {
    this.source = ready;
    const gl = this.gl;
    if (!gl || gl.isContextLost()) return;
    for (const mesh of this.meshes)
      for (const buffer of [mesh.faces, mesh.normals, mesh.uprights, mesh.lines]) gl.deleteBuffer(buffer);
    const buffer = (data) => {
      const made = gl.createBuffer();
      gl.bindBuffer(gl.ARRAY_BUFFER, made);
      gl.bufferData(gl.ARRAY_BUFFER, data, gl.STATIC_DRAW);
      return made;
    };
    this.meshes = ready.map((mesh) => ({
      faces: buffer(mesh.faces), normals: buffer(mesh.normals), uprights: buffer(mesh.uprights), lines: buffer(mesh.lines),
      corners: mesh.faces.length / 3, ends: mesh.lines.length / 3,
    }));
  }

  // Draw things {mesh, at, colour, edge, clear, through}, seen by a look {target, right, up, back, reach,
  // deep}; as large as the canvas is shown, or of a given size in pixels.
  draw(things, look, size = null) {
    const gl = this.gl;
    if (!gl || gl.isContextLost()) return;
    const ratio = this.fine ? 2 : Math.min(window.devicePixelRatio || 1, 2);
    const [width, height] = size || [this.canvas.clientWidth, this.canvas.clientHeight]
      .map((length) => Math.max(1, Math.round(length * ratio)));
    if (this.canvas.width !== width || this.canvas.height !== height) {
      this.canvas.width = width;
      this.canvas.height = height;
    }
    gl.bindFramebuffer(gl.FRAMEBUFFER, null);
    this.aim(look, width, height);
    gl.clearColor(0, 0, 0, 0);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    for (const thing of things.filter((one) => one.colour[3] === 1)) this.faces(thing, thing.colour, 1);
    for (const thing of things) if (thing.edge && !thing.clear) this.lines(thing, thing.edge);
    gl.depthMask(false);
    for (const thing of things) if (thing.edge && thing.clear) this.lines(thing, thing.edge);
    for (const thing of things.filter((one) => one.colour[3] < 1)) this.faces(thing, thing.colour, 1);
    gl.disable(gl.DEPTH_TEST);
    for (const thing of things) if (thing.through) this.lines(thing, thing.through);
    gl.enable(gl.DEPTH_TEST);
    gl.depthMask(true);
  }

  // Find out whether this computer draws so fast that it may draw finer than its screen is.
  tryFine(things, look) {
    const gl = this.gl, begun = performance.now();
    this.fine = true;
    this.draw(things, look);
    gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, new Uint8Array(4)); // waits until it is drawn
    this.fine = performance.now() - begun < FAST_MS;
  }

  // Return the index among things of what is seen at a place on the canvas (CSS pixels), or -1.
  pick(things, look, x, y) {
    const gl = this.gl;
    if (!gl || gl.isContextLost()) return -1;
    const width = Math.max(1, this.canvas.clientWidth), height = Math.max(1, this.canvas.clientHeight);
    if (!this.hidden || this.hidden.width !== width || this.hidden.height !== height) {
      if (this.hidden) {
        gl.deleteFramebuffer(this.hidden.frame);
        gl.deleteTexture(this.hidden.colour);
        gl.deleteRenderbuffer(this.hidden.depth);
      }
      const frame = gl.createFramebuffer(), colour = gl.createTexture(), depth = gl.createRenderbuffer();
      gl.bindTexture(gl.TEXTURE_2D, colour);
      gl.texImage2D(gl.TEXTURE_2D, 0, gl.RGBA, width, height, 0, gl.RGBA, gl.UNSIGNED_BYTE, null);
      gl.texParameteri(gl.TEXTURE_2D, gl.TEXTURE_MIN_FILTER, gl.NEAREST);
      gl.bindRenderbuffer(gl.RENDERBUFFER, depth);
      gl.renderbufferStorage(gl.RENDERBUFFER, gl.DEPTH_COMPONENT16, width, height);
      gl.bindFramebuffer(gl.FRAMEBUFFER, frame);
      gl.framebufferTexture2D(gl.FRAMEBUFFER, gl.COLOR_ATTACHMENT0, gl.TEXTURE_2D, colour, 0);
      gl.framebufferRenderbuffer(gl.FRAMEBUFFER, gl.DEPTH_ATTACHMENT, gl.RENDERBUFFER, depth);
      this.hidden = { frame, colour, depth, width, height };
    }
    gl.bindFramebuffer(gl.FRAMEBUFFER, this.hidden.frame);
    this.aim(look, width, height);
    gl.clearColor(0, 0, 0, 0);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    things.forEach((thing, k) => {
      const name = k + 1;
      this.faces(thing, [(name & 255) / 255, ((name >> 8) & 255) / 255, ((name >> 16) & 255) / 255, 1], 0);
    });
    const seen = new Uint8Array(4);
    gl.readPixels(Math.floor(x), height - 1 - Math.floor(y), 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, seen);
    gl.bindFramebuffer(gl.FRAMEBUFFER, null);
    return seen[0] + 256 * seen[1] + 65536 * seen[2] - 1;
  }

  aim(look, width, height) {
    const gl = this.gl, places = this.places;
    gl.viewport(0, 0, width, height);
    const half = Math.min(width, height) / 2;
    gl.uniform3fv(places.target, look.target);
    gl.uniform3fv(places.right, look.right);
    gl.uniform3fv(places.up, look.up);
    gl.uniform3fv(places.back, look.back);
    gl.uniform1f(places.pixels, half / look.reach);
    gl.uniform3f(places.scale, half / (width / 2) / look.reach, half / (height / 2) / look.reach, 0.95 / look.deep);
  }

  faces(thing, colour, lit) {
    const gl = this.gl, mesh = this.meshes[thing.mesh];
    gl.uniform3fv(this.places.at, thing.at);
    gl.uniform4fv(this.places.colour, colour);
    gl.uniform1f(this.places.lit, lit);
    gl.uniform1f(this.places.depth, 0);
    for (const [place, buffer] of [mesh.faces, mesh.normals, mesh.uprights].entries()) {
      gl.bindBuffer(gl.ARRAY_BUFFER, buffer);
      gl.enableVertexAttribArray(place);
      gl.vertexAttribPointer(place, 3, gl.FLOAT, false, 0, 0);
    }
    gl.drawArrays(gl.TRIANGLES, 0, mesh.corners);
  }

  lines(thing, colour) {
    const gl = this.gl, mesh = this.meshes[thing.mesh];
    gl.uniform3fv(this.places.at, thing.at);
    gl.uniform4fv(this.places.colour, colour);
    gl.uniform1f(this.places.lit, 0);
    gl.uniform1f(this.places.depth, LINE_DEPTH);
    gl.bindBuffer(gl.ARRAY_BUFFER, mesh.lines);
    gl.enableVertexAttribArray(0);
    gl.vertexAttribPointer(0, 3, gl.FLOAT, false, 0, 0);
    gl.disableVertexAttribArray(1);
    gl.vertexAttrib3f(1, 0, 0, 1);
    gl.disableVertexAttribArray(2);
    gl.vertexAttrib3f(2, 0, 0, 0);
    gl.drawArrays(gl.LINES, 0, mesh.ends);
  }
}

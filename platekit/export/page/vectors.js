"use strict";
// Ways of looking: which way is right, up and towards the eye, from a turn about the upright and a
// rise above the ground, in degrees.

// Seen as ISO 5456-3 asks of an isometric view: all three axes come out equally long.
const ISOMETRIC = { turn: -45, rise: 35.264 };
const LOOKS = [
  ["Isometric", ISOMETRIC],
  ["Front", { turn: -90, rise: 0 }],
  ["Right", { turn: 0, rise: 0 }],
  ["Back", { turn: 90, rise: 0 }],
  ["Left", { turn: 180, rise: 0 }],
  ["Top", { turn: -90, rise: 90 }],
  ["Below", { turn: -90, rise: -90 }],
];

function axesOf(turn, rise) {
  const [a, e] = [turn * Math.PI / 180, rise * Math.PI / 180];
  return {
    right: [-Math.sin(a), Math.cos(a), 0],
    up: [-Math.sin(e) * Math.cos(a), -Math.sin(e) * Math.sin(a), Math.cos(e)],
    back: [Math.cos(e) * Math.cos(a), Math.cos(e) * Math.sin(a), Math.sin(e)],
  };
}

function dot(one, other) {
  return one[0] * other[0] + one[1] * other[1] + one[2] * other[2];
}

// Return one vector and so many times another.
function along(one, other, times) {
  return [one[0] + times * other[0], one[1] + times * other[1], one[2] + times * other[2]];
}

function mixed(one, other, share) {
  return one.map((value, k) => value + share * (other[k] - value));
}

// Return red, green, blue and opacity, 0 to 1, of "#rrggbb".
function coloured(hex, opacity = 1) {
  return [1, 3, 5].map((k) => parseInt(hex.slice(k, k + 2), 16) / 255).concat(opacity);
}

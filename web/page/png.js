// What browsers leave out of a PNG: how large it is on paper.
"use strict";

// The check sum of a part (PNG, third edition, annex D).
function sumOfPart(bytes) {
  let sum = ~0;
  for (const byte of bytes) {
    sum ^= byte;
    for (let bit = 0; bit < 8; ++bit) sum = (sum >>> 1) ^ (sum & 1 ? 0xedb88320 : 0);
  }
  return ~sum >>> 0;
}

// The same picture with so many dots to the inch: a part "pHYs" behind the first one, in place of one that the browser may have written.
async function withDots(png, dots) {
  const mark = 8, frame = 12; // of the format; length, name and check sum round what a part holds
  const view = new DataView(await png.arrayBuffer()), pieces = [png.slice(0, mark)];
  const nameAt = (at) => String.fromCharCode(...[4, 5, 6, 7].map((i) => view.getUint8(at + i)));
  let at = mark;
  for (; nameAt(at) !== "IDAT"; at += frame + view.getUint32(at)) {
    if (nameAt(at) !== "pHYs") pieces.push(png.slice(at, at + frame + view.getUint32(at)));
    if (at === mark) pieces.push(makeDots(dots));
  }
  return new Blob([...pieces, png.slice(at)], { type: png.type });
}

function makeDots(dots) {
  const part = new DataView(new ArrayBuffer(21)), bytes = new Uint8Array(part.buffer), toTheMetre = Math.round(dots / 0.0254);
  part.setUint32(0, 9);
  bytes.set(new TextEncoder().encode("pHYs"), 4);
  part.setUint32(8, toTheMetre);
  part.setUint32(12, toTheMetre);
  part.setUint8(16, 1); // counted to the metre
  part.setUint32(17, sumOfPart(bytes.subarray(4, 17)));
  return bytes;
}

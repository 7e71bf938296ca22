// What a browser leaves out of a PNG: how large it is on paper.
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

// The same picture with a part "pHYs" behind its first one: so many dots to the inch. Browsers write none.
function withDots(png, dots) {
  const head = 33; // mark of the format and the part that every PNG begins with
  const part = new DataView(new ArrayBuffer(21)), bytes = new Uint8Array(part.buffer);
  part.setUint32(0, 9);
  bytes.set(new TextEncoder().encode("pHYs"), 4);
  part.setUint32(8, Math.round(dots / 0.0254));
  part.setUint32(12, Math.round(dots / 0.0254));
  part.setUint8(16, 1); // dots to the metre
  part.setUint32(17, sumOfPart(bytes.subarray(4, 17)));
  return new Blob([png.slice(0, head), bytes, png.slice(head)], { type: png.type });
}

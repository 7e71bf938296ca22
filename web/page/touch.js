// Fingers on the canvas, handed to the engine as they are: what they mean is decided there (gui/touch.h). The engine's own script
// would make a mouse of the first finger, so nothing of theirs gets that far.
"use strict";

const fingerEvents = { touchstart: 0, touchmove: 1, touchend: 2, touchcancel: 3 };

// `guard` runs something of the engine's; `before` and `after` are called round each event.
function watchFingers(canvas, guard, before, after) {
  const take = (event) => {
    if (event.target !== canvas) return;
    event.preventDefault();
    event.stopImmediatePropagation();
    if (event.type === "touchstart") before();
    const box = canvas.getBoundingClientRect();
    const density = canvas.width / box.width;
    for (const touch of event.changedTouches) {
      guard((e) => e.call("finger", fingerEvents[event.type], touch.identifier | 0,
        (touch.clientX - box.left) * density, (touch.clientY - box.top) * density));
    }
    if (event.type === "touchend") after();
  };
  // On the window, since listeners there come before those of the engine on the canvas.
  for (const kind of Object.keys(fingerEvents)) window.addEventListener(kind, take, { capture: true, passive: false });
  const device = window.matchMedia("(pointer: coarse)");
  const say = () => guard((e) => e.call("coarse", device.matches ? 1 : 0));
  device.addEventListener("change", say);
  say();
}

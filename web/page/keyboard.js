// A field of the page over the field of the viewer that a finger has opened: a canvas brings no keyboard to the screen. Its text is
// handed over in whole when typing ends. Its keyboard is that for text: those for numbers lack the signs of 3-1/4 and 2' 6".
"use strict";

// `guard` runs something of the engine's; `canvas` gets the focus back.
function makeKeyboard(canvas, guard) {
  const box = byId("typing");
  const input = byId("typing-text");
  const label = byId("typing-label");
  const least = 16 * 16; // CSS pixels: what a length with its error takes
  let field = null;

  // Over its field, but always within what the keyboard leaves of the window.
  function place() {
    if (field === null) return;
    const seen = window.visualViewport || { offsetLeft: 0, offsetTop: 0, width: innerWidth, height: innerHeight };
    const on = canvas.getBoundingClientRect();
    const density = canvas.width / on.width;
    const width = Math.min(Math.max((field.right - field.left) / density, least), seen.width - 16);
    const most = { left: seen.offsetLeft + seen.width - width - 8, top: seen.offsetTop + seen.height - box.offsetHeight - 8 };
    const wanted = { left: on.left + field.left / density, top: on.top + field.bottom / density - box.offsetHeight };
    box.style.width = width + "px";
    box.style.left = Math.max(Math.min(wanted.left, most.left), seen.offsetLeft + 8) + "px";
    box.style.top = Math.max(Math.min(wanted.top, most.top), seen.offsetTop + 8) + "px";
  }

  function show(found) {
    field = found;
    label.textContent = found.label;
    input.value = found.text;
    box.hidden = false;
    place();
    input.focus({ preventScroll: true });
    input.select();
  }

  // `takes`: what was typed counts; else the field keeps what it had.
  function end(takes) {
    if (field === null) return;
    field = null;
    box.hidden = true;
    box.removeAttribute("style");
    guard((e) => e.call("type", input.value, takes ? 1 : 0));
    canvas.focus({ preventScroll: true });
  }

  // On the window, and set before the page keeps keys from it (page.js): the engine would take them there.
  window.addEventListener("keydown", (event) => {
    if (event.target !== input || event.isComposing || (event.key !== "Enter" && event.key !== "Escape")) return;
    event.preventDefault();
    end(event.key === "Enter");
  }, true);
  input.addEventListener("blur", (event) => {
    if (event.relatedTarget !== byId("typing-done")) end(true);
  });
  byId("typing-done").addEventListener("click", () => end(true));
  if (window.visualViewport) {
    for (const kind of ["resize", "scroll"]) window.visualViewport.addEventListener(kind, place);
  }

  return {
    // After what may have opened a field.
    follow() {
      const found = guard((e) => e.ask("typing"));
      if (found && field === null) show(JSON.parse(found));
    },
    // Before something else is done on the canvas.
    finish() {
      end(true);
    },
  };
}

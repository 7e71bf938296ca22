// Pages on paper: the HTML of the engine as a part of the page that only a print shows. The browser asks for printer or PDF.
"use strict";

// A style in the page the policy forbids, one that a script makes it does not: it holds the sizes of paper. Of the text only the
// sections are parsed.
function takePages(html) {
  const between = (from, to) => html.slice(html.indexOf(from) + from.length, html.lastIndexOf(to));
  const style = new CSSStyleSheet();
  style.replaceSync(between("<style>", "</style>"));
  document.adoptedStyleSheets = [style];
  const parsed = new DOMParser().parseFromString(between("<body>", "</body>"), "text/html");
  byId("pages").replaceChildren(...parsed.body.children);
}

// False: the browser does not print.
function printPages(html) {
  takePages(html);
  document.body.classList.add("prints");
  try {
    window.print();
    return true;
  } catch {
    dropPages();
    return false;
  }
}

// Afterwards the browser's own print is that of the answer as text again. Some browsers are back from print() before they have printed:
// the pages stay until somebody touches what they were made of.
function dropPages() {
  if (!document.body.classList.contains("prints")) return;
  document.body.classList.remove("prints");
  document.adoptedStyleSheets = [];
  byId("pages").replaceChildren();
}

for (const kind of ["pointerdown", "keydown"]) window.addEventListener(kind, dropPages, true);

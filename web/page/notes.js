// What the page says and asks beside the canvas. Texts are shown as text, whatever stands in them.
"use strict";

const byId = (id) => document.getElementById(id);

function makeButton(label, act) {
  const button = document.createElement("button");
  button.type = "button";
  button.textContent = label;
  button.addEventListener("click", act);
  return button;
}

// A sentence that stays until it is hidden, or another of the same name takes its place. actions: label -> what it does.
function note(name, sentence, actions = {}) {
  dropNote(name);
  const box = document.createElement("div");
  box.className = "note";
  box.dataset.name = name;
  const words = document.createElement("p");
  words.textContent = sentence;
  box.append(words);
  for (const [label, act] of Object.entries(actions)) box.append(makeButton(label, act));
  box.append(makeButton("Hide", () => dropNote(name)));
  byId("notes").append(box);
}

function findNote(name) {
  return [...byId("notes").children].find((box) => box.dataset.name === name);
}

function dropNote(name) {
  const box = findNote(name);
  if (box) box.remove();
}

// A question over the page. choices: word -> label; gives the word, or "" where it was left without an answer.
function askPerson(title, sentences, choices) {
  const dialog = byId("question");
  if (dialog.open) return Promise.resolve(""); // one at a time
  byId("question-head").textContent = title;
  byId("question-text").replaceChildren(...sentences.filter(Boolean).map((sentence) => {
    const words = document.createElement("p");
    words.textContent = sentence;
    return words;
  }));
  return new Promise((done) => {
    let answer = "";
    byId("question-answers").replaceChildren(...Object.entries(choices).map(([word, label]) => makeButton(label, () => {
      answer = word;
      dialog.close();
    })));
    dialog.addEventListener("close", () => done(answer), { once: true });
    dialog.showModal();
  });
}

// Why something was not opened, in the engine's words; what was shown before stays.
function showRefusal(title, problems) {
  const dialog = byId("refusal");
  byId("refusal-head").textContent = title;
  byId("refusal-text").textContent = problems;
  if (!dialog.open) dialog.showModal();
}

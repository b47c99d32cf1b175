// Moves the page to another moment without reloading it: asks for the same page at another address and puts
// its data-live parts in place of ours. Without this script the bar is an ordinary form.
import { latest } from "./latest.js";

const ask = latest();
const bar = document.getElementById("bar");
let steps = 0;
let waiting = 0;

document.documentElement.classList.add("js");

export async function go(address, again = false) {
  document.body.classList.toggle("busy", !again);
  const typed = bar && new Map([...bar.elements].map((field) => [field.name, field.value]));
  const at = document.activeElement;
  const sent = at.value;
  const unmoved = (field) => field === at && field.value === sent;
  const answer = await ask(address);
  if (!answer) return;
  document.body.classList.remove("busy");
  steps = 0;
  if (answer.lost) return say("The program does not answer. Is it still running?");
  const page = new DOMParser().parseFromString(answer.text, "text/html");
  if (!page.getElementById("bar")) return location.assign(address);
  if (!answer.ok) return swap(page, unmoved, (part) => /^(problem|sentence)/.test(part));
  swap(page, unmoved);
  refill(page.getElementById("bar"), typed);
  history.replaceState(null, "", answer.url);
  if (!again) document.dispatchEvent(new Event("kerbstand:moment"));
  askAgain();
}

// Some spots take a moment to be worked out the first time: look again while the page says so.
function askAgain() {
  clearTimeout(waiting);
  if (document.querySelector("[data-again]")) waiting = setTimeout(() => go(location.href, true), 1500);
}

function swap(page, unmoved, wanted = () => true) {
  for (const old of document.querySelectorAll("[data-live]")) {
    const fresh = page.querySelector(`[data-live="${old.dataset.live}"]`);
    if (!fresh || !wanted(old.dataset.live)) continue;
    const held = old.contains(document.activeElement) ? document.activeElement : null;
    old.replaceChildren(...fresh.childNodes);
    if (held) refocus(old, held, unmoved(held));
  }
}

// The focus goes back to the same control, with what somebody went on typing there meanwhile.
function refocus(part, held, unmoved) {
  const same = [...part.querySelectorAll("a, button, input, select")].find((item) =>
    held.id ? item.id === held.id : item.textContent === held.textContent,
  );
  if (same && !unmoved && held.matches("input")) same.value = held.value;
  same?.focus();
}

// What somebody went on typing meanwhile stays; the rest shows what was understood.
function refill(fresh, typed) {
  for (const field of bar.querySelectorAll("[name]:not(button)")) {
    const other = fresh.querySelector(`[name="${field.name}"]:not(button)`);
    if (!other || field.value !== typed.get(field.name)) continue;
    const value = other.value; // read first: options that move to another list forget which was chosen
    if (field.matches("select")) field.replaceChildren(...other.children);
    field.value = value;
    field.removeAttribute("aria-invalid");
  }
}

function say(words) {
  const line = document.createElement("p");
  line.textContent = words;
  document.getElementById("bar-problem").replaceChildren(line);
}

export function address(form, step) {
  const asked = new URLSearchParams([...new FormData(form)].filter(([, value]) => value));
  if (step) asked.set("step", step);
  return `${form.action}?${asked}`;
}

function step(minutes) {
  steps += minutes;
  go(address(bar, steps));
}

askAgain();

document.addEventListener("click", (event) => {
  const link = event.target.closest("a[data-go]");
  if (!link || !bar || event.ctrlKey || event.metaKey || event.shiftKey) return;
  event.preventDefault();
  go(link.href);
});

if (bar) {
  bar.addEventListener("submit", (event) => {
    event.preventDefault();
    const button = event.submitter;
    if (button?.name === "step") step(Number(button.value));
    else go(address(bar));
  });
  bar.addEventListener("change", () => go(address(bar)));
  document.addEventListener("keydown", (event) => {
    if (event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return;
    const at = document.activeElement;
    const keys = at === bar.elements.at ? { ArrowUp: 15, ArrowDown: -15 } : { ArrowRight: 15, ArrowLeft: -15 };
    if (!keys[event.key] || (at !== bar.elements.at && !at.matches("body, main"))) return;
    event.preventDefault();
    step(keys[event.key]);
  });
}

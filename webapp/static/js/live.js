// Moves the page to another moment without reloading it: asks for the same page at another address and puts
// its data-live parts in place of ours. Without this script the bar is an ordinary form.
import { latest } from "./latest.js";

const ask = latest();
const bar = document.getElementById("bar");
let steps = 0;
let waiting = 0;

document.documentElement.classList.add("js");

export async function go(address) {
  document.body.classList.add("busy");
  const typed = bar && new Map([...bar.elements].map((field) => [field.name, field.value]));
  const answer = await ask(address);
  if (!answer) return;
  document.body.classList.remove("busy");
  steps = 0;
  if (answer.lost) return say("The program does not answer. Is it still running?");
  const page = new DOMParser().parseFromString(answer.text, "text/html");
  if (!page.getElementById("bar")) return location.assign(address);
  if (!answer.ok) return swap(page, (part) => part === "problem");
  swap(page, () => true);
  refill(page.getElementById("bar"), typed);
  history.replaceState(null, "", answer.url);
  document.dispatchEvent(new Event("kerbstand:moment"));
  askAgain();
}

// Some spots take a moment to be worked out the first time: look again while the page says so.
function askAgain() {
  clearTimeout(waiting);
  if (document.querySelector("[data-again]")) waiting = setTimeout(() => go(location.href), 1200);
}

function swap(page, wanted) {
  for (const old of document.querySelectorAll("[data-live]")) {
    const fresh = page.querySelector(`[data-live="${old.dataset.live}"]`);
    if (!fresh || !wanted(old.dataset.live)) continue;
    const held = old.contains(document.activeElement) ? document.activeElement.textContent : null;
    old.replaceChildren(...fresh.childNodes);
    if (held) [...old.querySelectorAll("a, button")].find((item) => item.textContent === held)?.focus();
  }
}

// What somebody went on typing meanwhile stays; the rest shows what was understood.
function refill(fresh, typed) {
  for (const field of bar.querySelectorAll("[name]:not(button)")) {
    const other = fresh.querySelector(`[name="${field.name}"]:not(button)`);
    if (!other || field.value !== typed.get(field.name)) continue;
    if (field.matches("select")) field.replaceChildren(...other.children);
    else field.value = other.value;
    field.removeAttribute("aria-invalid");
  }
}

function say(words) {
  const line = document.createElement("p");
  line.textContent = words;
  document.getElementById("bar-problem").replaceChildren(line);
}

function address(step) {
  const asked = new URLSearchParams([...new FormData(bar)].filter(([, value]) => value));
  if (step) asked.set("step", step);
  return `${bar.action}?${asked}`;
}

function step(minutes) {
  steps += minutes;
  go(address(steps));
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
    else go(address(0));
  });
  bar.addEventListener("change", () => go(address(0)));
  document.addEventListener("keydown", (event) => {
    if (event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return;
    const at = document.activeElement;
    const keys = at === bar.elements.at ? { ArrowUp: 15, ArrowDown: -15 } : { ArrowRight: 15, ArrowLeft: -15 };
    if (!keys[event.key] || (at !== bar.elements.at && at !== document.body)) return;
    event.preventDefault();
    step(keys[event.key]);
  });
}

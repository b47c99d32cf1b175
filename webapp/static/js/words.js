// A word of the sentence was changed: the page follows. Without this script the sentence is an ordinary form.
import { go } from "./live.js";

function ask(event) {
  const form = event.target.closest?.("form[data-asks]");
  if (!form) return;
  event.preventDefault();
  const asked = new URLSearchParams([...new FormData(form)].filter(([, value]) => value));
  go(`${form.action}?${asked}`);
}

document.addEventListener("change", ask);
document.addEventListener("submit", ask);

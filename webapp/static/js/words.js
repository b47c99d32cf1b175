// A word of the sentence was changed: the page follows. Without this script the sentence is an ordinary form.
import { address, go } from "./live.js";

function ask(event) {
  const form = event.target.closest?.("form[data-asks]");
  if (!form) return;
  event.preventDefault();
  go(address(form));
}

document.addEventListener("change", ask);
document.addEventListener("submit", ask);

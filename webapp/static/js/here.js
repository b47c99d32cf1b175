// Distance from where the reader stands: asked for by a press, never by itself.
import { go } from "./live.js";

const button = document.getElementById("here");
const say = document.getElementById("here-say");

if (button && navigator.geolocation) {
  button.hidden = false;
  button.addEventListener("click", () => {
    say.textContent = "asking the device";
    navigator.geolocation.getCurrentPosition(found, refused, { timeout: 15000, maximumAge: 60000 });
  });
}

function found({ coords }) {
  say.textContent = "";
  const address = new URL(location.href);
  address.searchParams.set("here", `${coords.latitude.toFixed(5)}, ${coords.longitude.toFixed(5)}`);
  address.searchParams.set("sort", "distance");
  address.searchParams.delete("page");
  go(address.href);
}

function refused() {
  say.textContent = "The device would not say where it is.";
}

// A press on the day or the year goes to the moment pointed at; the drawing then says its figures.
import { go } from "./live.js";

const DAY_MS = 86_400_000;

document.addEventListener("click", ({ target, clientX, clientY }) => {
  const drawing = target.closest(".pointed svg.drawing");
  if (!drawing) return;
  const { x0, x1, y0, y1, from, to, firstDay, days } = drawing.dataset;
  const at = new DOMPoint(clientX, clientY).matrixTransform(drawing.getScreenCTM().inverse());
  const across = (at.x - x0) / (x1 - x0);
  const up = (at.y - y0) / (y1 - y0);
  if (across < 0 || across >= 1 || up >= 1 || (days && up < 0)) return;
  if (days) show(...inYear(firstDay, Math.floor(across * days), up));
  else show(...inDay(+from + across * (to - from), drawing.closest("[data-zone]").dataset.zone));
});

function inYear(firstDay, days, up) {
  const at = new Date(Date.parse(firstDay) + days * DAY_MS + Math.floor(up * 96) * 900_000).toISOString();
  return [at.slice(0, 10), at.slice(11, 16)];
}

// Swedish writes 2026-10-17 16:40, as addresses do.
function inDay(unix, timeZone) {
  const fiveMinutes = Math.round(unix / 300) * 300_000;
  return new Date(fiveMinutes).toLocaleString("sv-SE", { timeZone, dateStyle: "short", timeStyle: "short" }).split(" ");
}

function show(on, at) {
  const address = new URL(location.href);
  address.searchParams.delete("fold");
  address.searchParams.set("on", on);
  address.searchParams.set("at", at);
  go(address.href);
}

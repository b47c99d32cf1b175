// Drawing an area: a press on the map is a corner, a line of the text field. An empty line closes the piece.
import { written } from "./add.js";
import { tone } from "./marks.js";

const L = window.L;
const map = window.map_main;
const text = document.getElementById("shape");
const drawn = L.featureGroup().addTo(map);
const CORNER = /^\s*(-?\d+\.?\d*)[,;\s]+(-?\d+\.?\d*)\s*$/gm;

function rings() {
  const pieces = text.value.split(/\n\s*(?:hole)?\s*\n/i).map((lines) => [...lines.matchAll(CORNER)]);
  return pieces.filter((ring) => ring[0]).map((ring) => ring.map(([, lat, lon]) => [+lat, +lon]));
}

// The corners of the piece that is not closed yet.
const open = () => (!/\n\s*\n$/.test(text.value) && rings().at(-1)) || [];

function show() {
  const look = { pane: "markerPane", color: tone("ink"), weight: 3, fillOpacity: 0.15, interactive: false };
  drawn.clearLayers();
  for (const ring of rings()) L.polygon(ring, look).addTo(drawn);
  for (const place of open()) L.circleMarker(place, { ...look, radius: 6 }).addTo(drawn);
}

function write(value) {
  text.value = value;
  show();
}

const close = () => write(`${text.value.trimEnd()}\n\n`);
const takeBack = () => write(text.value.replace(/\S[^\n]*\s*$/, ""));

map.on("click", ({ latlng, layerPoint }) => {
  const corners = open();
  if (corners[2] && map.latLngToLayerPoint(corners[0]).distanceTo(layerPoint) < 16) return close();
  write(`${text.value.replace(/\S$/, "$&\n")}${written(latlng)}\n`);
});
document.getElementById("close-piece").onclick = close;
document.getElementById("take-back").onclick = takeBack;
document.getElementById("draw-tools").hidden = false;
text.addEventListener("input", show);
show();

// Draws our layers on the frame that folium made: what is in view, at the moment in the page's address.
import { latest } from "./latest.js";
import { fill, tone } from "./marks.js";
import { entry, offerSpots, touch } from "./add.js";

const L = window.L;
const map = window.map_main;
const say = document.getElementById("map-say");
const { layers: wanted, area: chosen } = map.getContainer().dataset;
const drawing = document.getElementById("shape"); // where presses are corners
const CLOSE = 15;
const CROWD = 400;

const LAYERS = {
  footways: { from: CLOSE, style: () => ({ color: tone("rule"), weight: 2, dashArray: "3 4", fill: false }) },
  shadows: { from: CLOSE, moves: true, style: () => ({ stroke: false, fillColor: tone("shadow"), fillOpacity: 0.34 }) },
  buildings: { from: CLOSE, style: () => ({ color: tone("edge"), weight: 1, fillColor: tone("wash"), fillOpacity: 1 }) },
  areas: { from: 0, style: hatched },
  spots: { from: 0, moves: true, point: mark },
};

for (const [order, [name, layer]] of Object.entries(LAYERS).entries()) {
  map.createPane(name).style.zIndex = 410 + order;
  layer.group = window[`feature_group_${name}`];
  layer.renderer = L.canvas({ pane: name, tolerance: 8 });
  layer.ask = latest();
  if (wanted) wanted.includes(name) ? map.addLayer(layer.group) : map.removeLayer(layer.group);
}

// The spot whose words are open stays open when the spots are drawn anew.
let opened = null;
let looks = {}; // how each kind of spot is drawn, and how large: made once a drawing
let size = {};
const told = {}; // the line under the map
LAYERS.spots.group.on("popupopen", ({ layer }) => (opened = layer.feature.properties.id));
LAYERS.spots.group.on("popupclose", () => (opened = null));

// before: how many spots were still being worked out when it was asked last; ask again only while that helps.
async function refresh(name, before) {
  const layer = LAYERS[name];
  clearTimeout(layer.waiting);
  if (!map.hasLayer(layer.group) || map.getZoom() < layer.from) return layer.group.clearLayers();
  const answer = await layer.ask(`/map/${name}.geojson?${asked()}${before ? "&again=1" : ""}`);
  if (!answer) return;
  if (!answer.ok) return tell({ problem: "The map could not be brought up to date." });
  const collection = JSON.parse(answer.text);
  draw(layer, collection);
  if (!layer.point) return;
  const pending = wanted ? 0 : collection.pending;
  tell({ pending: pending ? "Some spots are still being worked out." : "" });
  if (pending && !(pending >= before)) layer.waiting = setTimeout(() => refresh(name, pending), 1500);
}

function tell(words) {
  Object.assign(told, words);
  const line = Object.values(told).filter(Boolean).join(" ");
  if (say.textContent !== line) say.textContent = line;
}

function draw(layer, collection) {
  looks = {};
  size = wanted || collection.features.length > CROWD ? { radius: 4, weight: 1 } : { radius: 9, weight: 2 };
  const drawn = L.geoJSON(collection, {
    pane: layer.renderer.options.pane,
    interactive: Boolean(layer.point),
    style: layer.style && ((feature) => ({ ...layer.style(feature), renderer: layer.renderer })),
    pointToLayer: layer.point && ((feature, place) => layer.point(feature, place, layer.renderer)),
  });
  const again = opened;
  layer.group.clearLayers();
  layer.group.addLayer(drawn);
  if (again && layer.point) drawn.eachLayer((spot) => spot.feature.properties.id === again && spot.openPopup());
}

function refreshAll(names) {
  document.getElementById("areas-key")?.toggleAttribute("hidden", !map.hasLayer(LAYERS.areas.group));
  const far = map.getZoom() < CLOSE ? "Come closer to see buildings and shadows." : "";
  tell({ problem: "", far, touch: touch && `Two fingers move the map${wanted ? "" : "; press long to add a spot"}.` });
  for (const name of names) refresh(name);
}

// The page's address holds the moment.
function asked() {
  const said = new URLSearchParams(location.search);
  said.set("bbox", map.getBounds().toBBoxString());
  return said;
}

function mark({ properties }, place, renderer) {
  const kind = texture(properties);
  const look = (looks[kind] ??= { color: tone("ink"), fillColor: fill(kind), fillOpacity: 1 });
  return L.circleMarker(place, { pane: "spots", renderer, interactive: !drawing, ...size, ...look }).bindPopup(() => words(properties));
}

// Where one area is looked at or drawn, the others are outlines.
function hatched({ id, properties: { kind } }) {
  const look = (looks[kind] ??= { color: tone("accent"), fillColor: fill(kind), fillOpacity: 1 });
  const one = id === Number(chosen);
  return { ...look, weight: one ? 3 : 1.5, fill: !drawing && (one || !chosen) };
}

function texture({ state, too_close }) {
  return state && too_close ? "unsure" : (state ?? "unknown");
}

function words({ id, name, words }) {
  const box = document.createElement("div");
  entry(box, `/spots/${encodeURIComponent(id)}${location.search}`, name, words);
  return box;
}

function look() {
  const places = [...document.querySelectorAll("[data-lat]")].map(({ dataset }) => [+dataset.lat, +dataset.lon]);
  if (places.length) map.fitBounds(places, { padding: [20, 20], maxZoom: 17, animate: false });
}

// The page scrolls over the map: the wheel zooms only while the map is in use, and on glass two fingers move it.
function leaveScrollingAlone() {
  const container = map.getContainer();
  container.addEventListener("focus", () => map.scrollWheelZoom.enable());
  container.addEventListener("blur", () => map.scrollWheelZoom.disable());
  if (touch) map.dragging.disable();
}

map.attributionControl.setPrefix("Leaflet");
look();
leaveScrollingAlone();
if (!drawing) offerSpots(map, LAYERS.areas.group);
const all = Object.keys(LAYERS);
map.on("moveend overlayadd overlayremove", () => refreshAll(all));
document.addEventListener("kerbstand:moment", () => refreshAll(all.filter((name) => LAYERS[name].moves)));
matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => refreshAll(all));
refreshAll(all);

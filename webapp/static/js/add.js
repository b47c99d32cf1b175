// A press on the map tells which rule areas are shown there, and on the list of spots offers to add one.
const L = window.L;
const touch = matchMedia("(pointer: coarse)").matches;
const form = document.getElementById("add-spot");

export function offerSpots(map, areas) {
  map.on("click contextmenu", ({ type, latlng }) => {
    const box = document.createElement("div");
    for (const { feature } of at(map, areas, latlng)) {
      entry(box, `/rules/areas/${feature.id}`, feature.properties.name, feature.properties.words);
    }
    if (form && (!touch || type === "contextmenu")) offer(box, latlng);
    if (box.hasChildNodes()) L.popup().setLatLng(latlng).setContent(box).openOn(map);
  });
  const centre = document.getElementById("add-centre");
  if (!centre) return;
  const follow = () => (centre.href = formAt(map.getCenter()));
  map.on("moveend", follow);
  document.addEventListener("kerbstand:moment", follow);
  follow();
  centre.hidden = false;
}

function at(map, areas, latlng) {
  const shapes = map.hasLayer(areas) ? areas.getLayers().flatMap((drawn) => drawn.getLayers()) : [];
  const point = map.latLngToLayerPoint(latlng);
  return shapes.filter((shape) => shape._containsPoint(point));
}

// Names come from people: they are only ever set as text.
export function entry(box, href, name, words) {
  const link = box.appendChild(document.createElement("a"));
  link.href = href;
  link.textContent = name;
  box.appendChild(document.createElement("p")).textContent = words;
}

function offer(box, latlng) {
  box.appendChild(document.createElement("p")).textContent = written(latlng);
  const yes = box.appendChild(document.createElement("a"));
  yes.className = "button";
  yes.href = formAt(latlng);
  yes.textContent = "Add a spot here";
}

export function written(latlng) {
  const { lat, lng } = latlng.wrap();
  return `${lat.toFixed(6)}, ${lng.toFixed(6)}`;
}

function formAt(latlng) {
  const address = new URL(form.href);
  address.searchParams.set("place", written(latlng));
  return address.href;
}

// A press on the map tells which rule areas are shown there; on the list of spots it offers to add one.
const L = window.L;
export const touch = matchMedia("(pointer: coarse)").matches;
const form = document.getElementById("add-spot");

export function offerSpots(map, areas) {
  map.on("click contextmenu", ({ type, latlng, layerPoint }) => {
    const box = document.createElement("div");
    const tell = ({ id, properties }) => entry(box, `/rules/areas/${id}`, properties.name, properties.words);
    areas.eachLayer((drawn) => drawn.eachLayer((area) => area._containsPoint(layerPoint) && tell(area.feature)));
    if (form && (!touch || type === "contextmenu"))
      entry(box, formAt(latlng), "Add a spot here", written(latlng)).className = "button";
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

// Names come from people: they are only ever set as text.
export function entry(box, href, name, words) {
  const link = box.appendChild(document.createElement("a"));
  link.href = href;
  link.textContent = name;
  box.appendChild(document.createElement("p")).textContent = words;
  return link;
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

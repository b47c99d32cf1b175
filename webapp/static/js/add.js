// Adding a spot from the map: press where it is and say yes, or take the map's centre.
const L = window.L;
const touch = matchMedia("(pointer: coarse)").matches;

export function offerSpots(map) {
  map.on(touch ? "contextmenu" : "click contextmenu", ({ latlng }) => offer(map, latlng));
  const centre = document.getElementById("add-centre");
  const follow = () => (centre.href = formAt(map.getCenter()));
  map.on("moveend", follow);
  document.addEventListener("kerbstand:moment", follow);
  follow();
  centre.hidden = false;
}

function offer(map, latlng) {
  const box = document.createElement("div");
  box.appendChild(document.createElement("p")).textContent = written(latlng);
  const yes = box.appendChild(document.createElement("a"));
  yes.className = "button";
  yes.href = formAt(latlng);
  yes.textContent = "Add a spot here";
  L.popup().setLatLng(latlng).setContent(box).openOn(map);
}

function written(latlng) {
  const { lat, lng } = latlng.wrap();
  return `${lat.toFixed(6)}, ${lng.toFixed(6)}`;
}

function formAt(latlng) {
  const address = new URL(document.getElementById("add-spot").href);
  address.searchParams.set("place", written(latlng));
  return address.href;
}

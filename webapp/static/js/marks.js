// The stylesheet's tones and the page's textures, for drawing on canvas: one meaning, one mark.
const probe = document.createElement("span");
probe.hidden = true;
document.body.append(probe);

export function tone(name) {
  probe.style.color = `var(--${name})`;
  return getComputedStyle(probe).color;
}

// A fill for a state: the texture of the swatches, drawn twice as fine for sharp screens.
export function fill(state) {
  const pattern = document.getElementById(`texture-${state}`);
  const ground = getComputedStyle(document.getElementById(`tone-${state}`)).fill;
  if (!pattern) return ground;
  const tile = document.createElement("canvas");
  const [width, height] = ["width", "height"].map((side) => Number(pattern.getAttribute(side)));
  [tile.width, tile.height] = [2 * width, 2 * height];
  const pen = tile.getContext("2d");
  pen.scale(2, 2);
  pen.fillStyle = ground;
  pen.fillRect(0, 0, width, height);
  for (const mark of pattern.querySelectorAll("path")) draw(pen, mark);
  const texture = pen.createPattern(tile, "repeat");
  texture.setTransform(new DOMMatrix([0.5, 0, 0, 0.5, 0, 0]));
  return texture;
}

function draw(pen, mark) {
  const look = getComputedStyle(mark);
  const path = new Path2D(mark.getAttribute("d"));
  pen.lineWidth = parseFloat(look.strokeWidth);
  pen.lineCap = look.strokeLinecap;
  pen.globalAlpha = look.fillOpacity;
  if (look.fill !== "none") Object.assign(pen, { fillStyle: look.fill }).fill(path);
  pen.globalAlpha = 1;
  if (look.stroke !== "none") Object.assign(pen, { strokeStyle: look.stroke }).stroke(path);
}

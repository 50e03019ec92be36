/* What can be moved on the picture: grips that write shop words on a grid, by pointer, touch and keyboard. */
import {aloud, ended, live, place, put, show, state} from "./page.js";
import {rowFor, ladderOf} from "./later.js";

const SVG = "http://www.w3.org/2000/svg", MM = 25.4, TARGET = 46;
const drawn = document.getElementById("drawn");
const readOnly = document.getElementById("save-copy") === null;
let layer = null, held = null;

export function make(tag, parent, attributes) {
  const one = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(attributes)) one.setAttribute(name, value);
  parent.append(one);
  return one;
}

/* A length as the server writes it: rigcheck/quantities/shop.py. */
export function tapeText(inches, tape) {
  const size = Math.abs(inches);
  if (tape === "mm" || tape === "cm" || tape === "m") {
    const mm = Math.round(size * MM);
    const text = {mm: String(mm), cm: (mm / 10).toFixed(1), m: (mm / 1000).toFixed(3)}[tape];
    return `${inches < 0 && mm ? "-" : ""}${text.includes(".") ? text.replace(/0+$/, "").replace(/\.$/, "") : text} ${tape}`;
  }
  const eighths = Math.round(size * 8), feet = tape === "ft in" ? Math.floor(eighths / 96) : 0, rest = eighths - 96 * feet;
  const whole = Math.floor(rest / 8), part = rest % 8, down = part % 4 === 0 ? 4 : part % 2 === 0 ? 2 : 1;
  const words = feet ? [`${feet} ft`] : [];
  if (whole || part || !feet)
    words.push([whole || !part ? whole : "", part ? `${part / down}/${8 / down}` : ""].filter(one => one !== "").join(" ") + " in");
  return (inches < 0 && eighths ? "-" : "") + words.join(" ");
}

/* A grip of a tie-down moves two of the three lengths of its point, and those of its mirror image. */
const valuesOf = grip => grip.values || [grip.value], waysOf = grip => grip.ways || [grip.way], keysOf = grip => grip.keys || [grip.key];
const typedOf = grip => keysOf(grip).map(each => document.getElementsByName(each)[0]?.value ?? "");
const restore = (grip, texts) => (keysOf(grip).forEach((each, row) => place(each, texts[row], {burst: `grip ${grip.key}`})), live());
function textOf(grip, values, row = 0) {
  if (!grip.slots) return tapeText(values[0], grip.tape);
  return grip.texts[row].map((text, place) => grip.slots.includes(place) ? tapeText(values[grip.slots.indexOf(place)], grip.tape) : text).join(", ");
}

export function drawGrips(old) {
  if (held) return;
  const focus = document.activeElement?.dataset?.grip;
  layer?.remove();
  layer = null;
  const picture = drawn.querySelector("#svg svg");
  if (!picture || old || !state.grips.length || readOnly) return;
  const box = picture.viewBox.baseVal, scale = picture.getBoundingClientRect().width / box.width || 1;
  const radius = Math.max(TARGET / 2 / scale, 14);
  layer = make("svg", drawn, {class: "grips", viewBox: `${box.x} ${box.y} ${box.width} ${box.height}`});
  for (const grip of state.grips) handle(grip, radius);
  if (focus) layer.querySelector(`[data-grip="${focus}"]`)?.focus({preventScroll: true});
}

function handle(grip, radius) {
  const [dx, dy] = grip.beside.map(one => one * radius), x = grip.at[0] + dx, y = grip.at[1] + dy;
  const text = textOf(grip, valuesOf(grip)), [way] = waysOf(grip), [value] = valuesOf(grip);
  if (dx || dy) make("path", layer, {d: `M${grip.at[0]} ${grip.at[1]}L${x} ${y}`, class: "lead"});
  const one = make("g", layer, {role: "slider", tabindex: "0", class: "grip", "data-grip": grip.key, "aria-label": grip.name,
    "aria-valuemin": limit(grip, -1).toFixed(3), "aria-valuemax": limit(grip, 1).toFixed(3), "aria-valuenow": value.toFixed(3),
    "aria-valuetext": text, "aria-orientation": Math.abs(way[1]) > Math.abs(way[0]) ? "vertical" : "horizontal"});
  make("circle", one, {cx: x, cy: y, r: radius, class: "reach"});
  for (const [across, up] of waysOf(grip)) make("path", one, {d: "M-13 0l7 -7v14zM13 0l-7 -7v14zM-6 0h12", class: "arrows",
    transform: `translate(${x} ${y}) rotate(${Math.atan2(up, across) * 180 / Math.PI})`});
  one.addEventListener("pointerdown", event => grab(event, grip, one));
  one.addEventListener("keydown", event => key(event, grip, one));
  one.addEventListener("focus", () => { state.inHand = grip.key; state.frame = state.nowFrame || null; });
  one.addEventListener("blur", () => { if (!held) state.frame = null; });
}

function limit(grip, way) {
  const reach = ladderOf(grip.key), end = way < 0 ? grip.least : grip.most;
  return end ?? valuesOf(grip)[0] + way * (reach ? 12 : 24) * grip.coarse;
}

function clamped(grip, value) {
  if (grip.least !== null) value = Math.max(value, grip.least);
  return grip.most === null ? value : Math.min(value, grip.most);
}

function follow(grip, one, values) {
  const by = axis => waysOf(grip).reduce((sum, way, k) => sum + (values[k] - valuesOf(grip)[k]) * way[axis], 0), x = by(0), y = by(1);
  layer.querySelector(".ghost")?.remove();
  one.setAttribute("transform", `translate(${x} ${y})`);
  const ghost = make("g", layer, {class: "ghost"});
  const ends = grip.ends.map(([ex, ey, moves]) => moves ? [ex + x, ey + y] : [ex, ey]);
  make("path", ghost, {d: `M${ends[0]}L${ends[1]}`});
  const said = make("text", ghost, {x: grip.at[0] + x + 12, y: grip.at[1] + y - 14});
  const run = Math.hypot(ends[0][0] - ends[1][0], ends[0][1] - ends[1][1]) / Math.hypot(...waysOf(grip)[0]);
  const length = !grip.line ? "" : `, line ${tapeText(run, grip.tape)}`;
  said.textContent = textOf(grip, values) + length;
}

/* The answer from the ladder where it has the place; else the live path. */
function at(grip, one, text, values) {
  one.setAttribute("aria-valuetext", text);
  if (grip.slots) return restore(grip, grip.keys.map((_, row) => textOf(grip, values, row)));
  const row = rowFor(grip.key, text);
  if (!row) return put(grip.key, text, {burst: `grip ${grip.key}`});
  place(grip.key, text, {burst: `grip ${grip.key}`});
  show(row, {still: false});
}

function grab(event, grip, one) {
  if (event.button) return;
  event.preventDefault();
  one.focus({preventScroll: true});
  one.setPointerCapture(event.pointerId);
  const scale = layer.viewBox.baseVal.width / layer.getBoundingClientRect().width;
  const from = [event.clientX, event.clientY];
  held = typedOf(grip);
  state.holding = true;
  state.frame = state.nowFrame || null;
  let last = "", next = 0;
  const move = moved => {
    const along = waysOf(grip).map(([x, y]) => ((moved.clientX - from[0]) * x + (moved.clientY - from[1]) * y) * scale / (x * x + y * y));
    const values = valuesOf(grip).map((value, k) => clamped(grip, value + Math.round(along[k] / grip.coarse) * grip.coarse));
    cancelAnimationFrame(next);
    next = requestAnimationFrame(() => {
      if (!held) return;
      follow(grip, one, valuesOf(grip).map((value, k) => clamped(grip, value + along[k])));
      const text = textOf(grip, values);
      if (text === last) return;
      last = text;
      at(grip, one, text, values);
    });
  };
  const back = pressed => {
    if (pressed.key !== "Escape") return;
    restore(grip, held);
    away();
  };
  const away = () => {
    one.removeEventListener("pointermove", move);
    removeEventListener("keydown", back, true);
    cancelAnimationFrame(next);
    if (!held) return;
    held = null;
    state.holding = false;
    ended();
    live();
    drawGrips(false);
  };
  addEventListener("keydown", back, true);
  one.addEventListener("pointermove", move);
  one.addEventListener("pointerup", away, {once: true});
  one.addEventListener("pointercancel", away, {once: true});
}

function key(event, grip, one) {
  const now = state.grips.find(each => each.key === grip.key) || grip;
  const steps = {ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1}[event.key], pages = {PageUp: 1, PageDown: -1}[event.key];
  const upright = ["ArrowUp", "ArrowDown", "PageUp", "PageDown"].includes(event.key), axis = upright ? waysOf(now).length - 1 : 0;
  const old = state.pending?.key === grip.key ? state.pending.values : valuesOf(now);
  if (state.from?.key !== grip.key) state.from = {key: grip.key, texts: typedOf(now)};
  let by = null;
  if (steps) by = steps * now.step * (event.shiftKey ? 4 : 1);
  else if (pages) by = pages * (now.tape.endsWith("in") ? 3 : 75 / MM);
  else if (event.key === "Home" || event.key === "End") {
    const reach = ladderOf(grip.key);
    if (reach) return void (event.preventDefault(), at(now, one, event.key === "Home" ? reach[0] : reach[1]));
    by = (event.key === "Home" ? -12 : 12) * now.coarse;
  } else if (event.key === "Escape") return void (event.preventDefault(), state.pending = null, restore(now, state.from.texts));
  if (by === null) return;
  event.preventDefault();
  const values = old.map((value, k) => k === axis ? clamped(now, value + by) : value);
  state.pending = {key: grip.key, values};
  at(now, one, textOf(now, values), values);
  aloud(textOf(now, values));
}

export function startGrips() {
  addEventListener("resize", () => drawGrips(false));
}

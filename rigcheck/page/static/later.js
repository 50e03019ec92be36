/* Facts that come later, each shown only under the answer of its own numbers: bed mark, cures, ladder, strip. */
import {ask, say, state} from "./page.js";
import {make} from "./picture.js";

const $ = id => document.getElementById(id);
let going = null;
const ladder = {key: "", rows: new Map(), ends: null};

/* The row of the ladder for a text of a grip; none where the rest of the numbers is another. */
export function rowFor(key, text) { return ladder.key === key ? ladder.rows.get(text)?.told : undefined; }
export function ladderOf(key) { return ladder.key === key ? ladder.ends : null; }
export function dropLadder(key) { if (key !== ladder.key) { ladder.key = ""; ladder.rows.clear(); ladder.ends = null; } }
export function stop() { going?.abort(); going = null; }

export async function later(found) {
  stop();
  const mine = going = new AbortController(), hash = found.hash;
  let whole = false; // else another tab may have taken the worker: asked again then
  const grip = found.grips?.find(one => !one.slots && one.key === (state.inHand || "hanger.at")) || null;
  try {
    const answer = await ask("/later", {changes: state.changes, view: found.view, frame: found.frame,
      grip: grip && {key: grip.key, tape: grip.tape, value: grip.value, coarse: grip.coarse}}, {stream: true, signal: mine.signal});
    if (grip && ladder.key !== grip.key) Object.assign(ladder, {key: grip.key, rows: new Map(), ends: null});
    const reader = answer.body.pipeThrough(new TextDecoderStream()).getReader();
    let rest = "", done = false;
    while (!done) {
      const part = await reader.read();
      done = part.done;
      const lines = (rest + (part.value || "")).split("\n");
      rest = lines.pop();
      for (const line of lines) if (going === mine) whole = take(JSON.parse(line), hash);
    }
  } catch (error) { whole = error.name === "AbortError"; }
  if (!whole) setTimeout(() => { if (going === mine && state.shown === hash) later(found); }, 2000 + 3000 * Math.random());
}

function take(fact, hash) {
  if (fact.kind === "end") return fact.whole;
  if (fact.hash !== hash) return false;
  if (fact.kind === "row") {
    if (ladder.key !== fact.key || fact.told.code !== "ok") return false;
    ladder.rows.set(fact.text, fact);
    const steps = [...ladder.rows.values()].sort((one, other) => one.step - other.step);
    ladder.ends = [steps[0].text, steps[steps.length - 1].text];
  }
  if (fact.kind === "row" || state.shown !== hash) return false;
  document.documentElement.dataset.facts = `${document.documentElement.dataset.facts || ""} ${fact.kind}`.slice(-400);
  if (fact.kind === "bed") $("bed").textContent = fact.text, say(fact.text);
  if (fact.kind === "reach") Object.assign(state.grips.find(one => one.key === fact.key) || {}, {least: fact.least, most: fact.most});
  if (fact.kind === "cures") $("cures").innerHTML = fact.html;
  if (fact.kind === "strip") $("strip").innerHTML = fact.html;
  if (fact.kind === "fold") fold(fact);
  if (fact.kind === "view") (state.views ||= new Map()).set(fact.told.view, fact.told);
  return false;
}

/* The fold played back: the box turns on the picture of the folded rig, a stroke goes over the curve of the pull. */
function fold(fact) {
  const part = $("fold");
  part.innerHTML = `<h3>Fold, played back</h3>${fact.svg}<label for="angle">Angle</label><input id="angle" type="range" min="0" max="${
    fact.rows.length - 1}" value="0"><p id="angle-said"></p>`;
  const turn = () => {
    const [angle, at, said] = fact.rows[$("angle").value], [px, py] = fact.pin, by = -angle * Math.PI / 180;
    $("angle-said").textContent = said;
    $("angle").setAttribute("aria-valuetext", said);
    part.querySelector(".at").setAttribute("transform", `translate(${at - 64} 0)`);
    document.querySelector(".playing")?.remove();
    if (state.view !== "folded") return;
    const turned = ([x, y]) => [px + (x - px) * Math.cos(by) - (y - py) * Math.sin(by), py + (x - px) * Math.sin(by) + (y - py) * Math.cos(by)];
    const ghost = make("g", document.querySelector("#svg svg"), {class: "ghost playing"});
    make("path", ghost, {d: `M${fact.box.map(turned).join("L")}ZM${turned(fact.hanger)}L${fact.perch}`});
  };
  $("angle").addEventListener("input", turn);
  turn();
}

document.addEventListener("rest", event => later(event.detail));
document.addEventListener("stale", () => { stop(); $("strip").replaceChildren(); $("fold").replaceChildren(); });

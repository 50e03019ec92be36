import {drawGrips, startGrips} from "./picture.js";
import {dropLadder, stop} from "./later.js";
import "./keeping.js";

const $ = id => document.getElementById(id);
const start = JSON.parse($("start").textContent);
const token = document.querySelector("input[name=token]").value;
const form = $("rig");
export const state = {changes: start.changes, view: start.view || "side", frame: null, grips: start.grips || [], shown: start.hash};
const presses = [], undo = {back: [], ahead: [], last: "", at: 0};
const AWAY = "rigcheck does not answer. Nothing typed is lost; it goes on by itself when it is back.";
let busy = false, wanted = null, rest = 0, read = 0, saying = "";

export const copyOf = thing => JSON.parse(JSON.stringify(thing));
export async function ask(path, body, options = {}) {
  const answer = await fetch(path, {method: "POST", headers: {"Content-Type": "application/json"},
    body: JSON.stringify({...body, token}), ...options});
  if (!answer.ok) throw new Error(await answer.text());
  return options.stream ? answer : answer.json();
}

/* One question under way; a newer one replaces the one that waits. */
export function live(more = {}) {
  state.number = (state.number || 0) + 1;
  if (more.do && wanted?.do) presses.push(more); // no press of a button takes the place of another
  else wanted = {...(wanted || {}), ...more, number: state.number};
  waiting();
  if (!busy) next();
}

async function next() {
  busy = true;
  while (wanted ||= presses.length ? {...presses.shift(), number: state.number} : null) {
    const now = wanted, sent = {...state.changes.typed}, {number, ...more} = now;
    wanted = null;
    try {
      const found = await ask("/live", {changes: state.changes, view: state.view, frame: state.frame, ...more});
      reached(true);
      for (const [key, text] of Object.entries(found.changes ? state.changes.typed : {}))
        if (sent[key] !== text) found.changes.typed[key] = text; // typed while the answer was on its way
      if (number === state.number) show(found);
      else if (found.changes) adopt(found);
    } catch (error) {
      if (!(error instanceof TypeError)) { note(`This change was refused: ${error.message}`); break; }
      reached(false);
      wanted = {...now, ...(wanted || {})};
      await new Promise(done => setTimeout(done, 1000));
    }
  }
  busy = false;
}
function reached(there) {
  if (!there || $("note").dataset.away) note(there ? "" : AWAY);
  $("note").dataset.away = there ? "" : "1";
}

export function note(text) { if ($("note").textContent !== text) $("note").textContent = text; }
/* Nothing that was worked out for other numbers stays under the new ones. */
function waiting() {
  if ($("bed")) $("bed").textContent = "Bed mark: being worked out.";
  if ($("cures")) $("cures").textContent = "";
  $("answer").classList.add("waits");
  document.dispatchEvent(new CustomEvent("stale"));
}

export function show(found, {still = true} = {}) {
  if (found.changes) adopt(found);
  if (found.hash !== state.shown) document.dispatchEvent(new CustomEvent("stale"));
  state.shown = found.hash;
  $("answer").classList.remove("waits");
  state.pending = null;
  $("answer").innerHTML = found.answer;
  $("why").innerHTML = found.why;
  const drawn = $("drawn");
  drawn.classList.toggle("old", !found.svg && !$("svg").querySelector(".sketch, .note"));
  if (found.svg) {
    state.view = found.view;
    state.grips = found.grips;
    state.nowFrame = found.frame;
    $("svg").innerHTML = found.svg;
    $("caption").textContent = found.caption;
    if (state.frame && document.activeElement?.dataset?.grip === undefined && !state.holding) state.frame = null;
  } else drawn.dataset.old = "last rig that could be read";
  for (const tab of document.querySelectorAll(".tabs button"))
    tab.setAttribute("aria-pressed", String(tab.value === `view ${state.view}`));
  drawGrips(!found.svg);
  if (found.problems) mark(found.problems, found.echo || {});
  if ("unsaved" in found) {
    state.unsaved = found.unsaved;
    if (found.title) document.querySelector("h1").textContent = found.title;
    $("saved").textContent = found.unsaved ? `${found.unsaved} not saved` : "as saved";
    document.dispatchEvent(new CustomEvent("disk", {detail: found.disk}));
  }
  clearTimeout(rest);
  saying = "";
  say(found.status);
  if (still && found.code === "ok")
    rest = setTimeout(() => document.dispatchEvent(new CustomEvent("rest", {detail: found})), 250);
}

/* Read aloud once, half a second after the last of it came. */
export function say(text) {
  clearTimeout(read);
  saying = `${saying} ${text}`.trim();
  read = setTimeout(() => { if (!state.holding) aloud(saying); saying = ""; }, 500);
}
export function aloud(text) { if ($("aloud").textContent !== text) $("aloud").textContent = text; }
function adopt(found) {
  state.changes = found.changes;
  const focus = document.activeElement, name = focus && (focus.name === "do" ? focus.value : focus.id);
  const open = new Set([...document.querySelectorAll("#form details[open]")].map(one => one.id));
  if (found.form) $("form").innerHTML = found.form, writeOut();
  for (const [key, text] of Object.entries(state.changes.typed)) if ($(`k-${key}`)) $(`k-${key}`).value = text ?? "";
  if (!found.form) return;
  document.querySelectorAll("#form details").forEach(one => { one.open ||= open.has(one.id); });
  const back = $(name) || [...document.querySelectorAll("#form button")].find(one => one.value === name);
  if (back && back !== document.activeElement) back.focus();
  else if (!back && name && state.after) ($(`p-${state.after}`)?.querySelector("input,select,summary,button") || $("form")).focus();
  search();
}

const writeOut = () => document.querySelectorAll("#form div>p[id^=m]").forEach(one => {
  if (one.dataset.as && !one.childNodes[1]) one.append($(one.dataset.as).lastChild.textContent);
  one.parentElement.querySelector(":is(input,select):not([aria-describedby])")?.setAttribute("aria-describedby", one.id);
});

function mark(problems, echo) {
  const all = (what, act) => document.querySelectorAll(`#form ${what}`).forEach(act);
  all(".bad", one => { one.classList.remove("bad"); one.querySelector("input,select").removeAttribute("aria-invalid"); });
  all("em, i", one => one.remove());
  const say = (key, tag, id, text) => {
    const field = $(`k-${key}`);
    if (!field) return;
    const row = field.closest("div");
    row.append(Object.assign(document.createElement(tag), {id: id + key, textContent: text}));
    if (tag !== "em") return;
    row.classList.add("bad");
    field.setAttribute("aria-invalid", "true");
    field.setAttribute("aria-describedby", `${field.getAttribute("aria-describedby").split(" ")[0]} e-${key}`);
  };
  for (const [key, text] of Object.entries(problems)) say(key, "em", "e-", text);
  for (const [key, text] of Object.entries(echo)) say(key, "i", "q-", text);
}

/* A key gets a text, without asking; a drag or a burst of typing is one step back. */
export function place(key, text, {burst = key} = {}) {
  const now = Date.now();
  if (undo.last !== burst || now - undo.at > 2000) remember();
  undo.last = burst;
  undo.at = now;
  state.changes.typed[key] = text === "" ? null : text;
  const field = $(`k-${key}`);
  if (field && field.value !== text) field.value = text;
  if (field) marked(field);
  dropLadder(key);
  stop();
  state.number = (state.number || 0) + 1;
  document.dispatchEvent(new CustomEvent("draft"));
}

export const put = (key, text, {burst, ...more} = {}) => { place(key, text, {burst}); live(more); };
export const ended = () => { undo.last = ""; };

function marked(field) {
  const said = field.closest("div").querySelector("b"), empty = field.placeholder || field.options?.[0]?.text || "";
  said.textContent = field.value.trim().toLowerCase() === "unknown" ? "not known" : field.value ? "yours" : empty === "needed" ? "needed" : empty.endsWith("taken") ? "default taken" : "not known";
  said.classList.toggle("mine", Boolean(field.value));
}
export function remember() {
  undo.back.push(copyOf(state.changes));
  if (undo.back.length > 400) undo.back.shift();
  undo.ahead = [];
  buttons();
}
function anew(asked, change = () => {}) {
  remember();
  change();
  dropLadder("");
  live(asked);
  document.dispatchEvent(new CustomEvent("draft"));
}
function buttons() {
  for (const [id, list] of [["undo", undo.back], ["redo", undo.ahead]])
    if ($(id)) { $(id).hidden = false; $(id).disabled = !list.length; }
}

export function step(from, to) {
  if (!from.length) return;
  to.push(copyOf(state.changes));
  const onto = state.changes.base;
  state.changes = from.pop();
  dropLadder("");
  ended();
  buttons();
  live({form: true, onto});
  document.dispatchEvent(new CustomEvent("draft"));
}

function search() {
  const sought = $("search").value.trim().toLowerCase();
  for (const row of document.querySelectorAll("#form .part > div:not(.tools)")) {
    const field = row.querySelector("input,select,h3");
    row.classList.toggle("gone", Boolean(sought) && !`${field?.id || ""} ${row.textContent}`.toLowerCase().includes(sought));
  }
  if (sought) for (const part of document.querySelectorAll("#form details")) part.open = Boolean(part.querySelector("div:not(.gone):not(.tools)"));
}

async function save(name) {
  try {
    const sent = {...state.changes.typed}, found = await ask("/save", {changes: state.changes, ...(name === undefined ? {} : {name})});
    if (found.code === "saved") {
      note(`Saved: ${found.name}`);
      if (found.own) {
        const since = Object.entries(state.changes.typed).filter(([key, text]) => sent[key] !== text);
        state.changes = {base: found.base, typed: Object.fromEntries(since), rows: {}, opened: state.changes.opened};
        document.querySelector(".file").firstChild.textContent = `${found.name}, `;
        if (!$("save")) return void (onbeforeunload = null, state.unsaved = 0, location.reload());
        live({form: true});
      }
      document.dispatchEvent(new CustomEvent("saved"));
    } else {
      note(`Not saved: ${found.why}.`);
      if (found.code === "conflict") document.dispatchEvent(new CustomEvent("conflict"));
    }
  } catch (error) { note(error instanceof TypeError ? "Not saved: rigcheck does not answer." : `Not saved: ${error.message}`); }
}

form.addEventListener("input", event => {
  const field = event.target;
  const row = field.closest("[data-twin]"), twin = row?.querySelector(".with").value ? {twin: row.dataset.twin} : {};
  if (field.closest("#form") && field.name) put(field.name, field.value, {...twin, ...(field.name.endsWith(".kind") ? {form: true} : {})});
});
$("search-part").hidden = false;
$("search").addEventListener("input", search);
form.addEventListener("submit", event => {
  const button = event.submitter;
  document.querySelector("input[name=state]").value = JSON.stringify(state.changes);
  if (button?.formTarget === "_blank" || (button?.id === "work" && state.broken)) return;
  event.preventDefault();
  const value = button?.value || "work";
  if (value === "save") save();
  else if (value === "copy") save($("copy-name").value);
  else if (value === "work" || value.startsWith("view ")) {
    if (value !== "work") state.view = value.slice(5);
    const ready = !busy && value !== "work" && state.views?.get(state.view);
    ready?.hash === state.shown ? show(ready) : live();
  } else if (value.startsWith("set ")) {
    const typed = JSON.parse(value.slice(4));
    anew({form: true}, () => Object.assign(state.changes.typed, typed));
  } else if (button?.name === "do") {
    state.after = value.split(" ")[1];
    anew({do: value});
  }
});
form.addEventListener("keydown", event => {
  if (event.key !== "Enter" || !event.target.matches("input")) return;
  event.preventDefault();
  if (event.target.id === "copy-name") save(event.target.value);
});
/* To where something is described: what is folded opens, a part that is not described is begun. */
document.addEventListener("click", event => {
  const goal = $(event.target.closest?.("a[href^='#']")?.getAttribute("href").slice(1));
  for (let one = goal; one; one = one.parentElement) if (one.tagName === "DETAILS") one.open = true;
  goal?.querySelector(":scope > button[value^=describe]")?.click();
  if (goal?.matches("input,select")) event.preventDefault(), goal.focus();
});
const back = () => step(undo.back, undo.ahead), ahead = () => step(undo.ahead, undo.back);
document.addEventListener("keydown", event => {
  if (!(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== "z" || event.target.matches("input,select")) return;
  event.preventDefault();
  (event.shiftKey ? ahead : back)();
});
$("undo")?.addEventListener("click", back);
$("redo")?.addEventListener("click", ahead);
for (const wrong of ["error", "unhandledrejection"]) addEventListener(wrong, () => {
  state.broken = true;
  note("The script of this page failed; Work it out still works it out.");
});
/* The measure that is asked for stands out in the sketch of a blank rig. */
document.addEventListener("focusin", event => {
  if (!event.target.dataset?.grip) state.from = null; // where Escape puts a grip back
  for (const one of document.querySelectorAll(".measure")) one.classList.toggle("asked", one.dataset.key === event.target.name);
});
for (const field of document.querySelectorAll("#form input[name], #form select[name]")) if (field.value) marked(field);
writeOut(), buttons();
startGrips();
live({form: false});

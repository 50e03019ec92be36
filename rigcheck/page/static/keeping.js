/* Nothing typed is lost: drafts, a file changed by somebody else, leaving with changes. */
import {ask, copyOf, live, note, remember, show, state} from "./page.js";

const offers = document.getElementById("offers");
let due = 0, first = 0, seen = "";

/* A change is kept within a second: 0.3 s after the last key, but never later than 0.8 s after the first. */
function keep() {
  clearTimeout(due);
  first ||= Date.now();
  due = setTimeout(async () => {
    first = 0;
    try {
      const found = await ask("/draft", {changes: copyOf(state.changes), do: "keep"});
      if (!found.kept) note("What is not saved cannot be kept on this disk: save it, or a copy.");
    } catch { /* the page itself says when nobody answers */ }
  }, Math.max(Math.min(300, 800 - (Date.now() - first)), 0));
}

async function look() {
  try {
    const found = await ask("/draft", {changes: state.changes, do: "look"});
    if (offers.innerHTML !== found.offer) offers.innerHTML = found.offer;
  } catch { /* looked at again with the next answer */ }
}

async function choose(value) {
  const take = {};
  for (const one of offers.querySelectorAll("input:checked")) take[one.name.replace("take:", "")] = one.value;
  try {
    if (value !== "draft drop") remember();
    const found = await ask("/draft", {changes: state.changes, do: value, take});
    offers.replaceChildren();
    seen = "";
    if (value === "draft drop") return note("Dropped.");
    show(found);
    note(value === "merge" ? "The file is taken up, with your changes in it." : "Taken up; not saved yet.");
    keep();
  } catch (error) { note(`That was refused: ${error.message}`); }
}

if (document.getElementById("save-copy")) {
  document.addEventListener("draft", keep);
  document.addEventListener("conflict", look);
  document.addEventListener("saved", () => { offers.replaceChildren(); seen = ""; });
  document.addEventListener("disk", event => {
    if (event.detail === state.changes.base || event.detail === seen) return;
    seen = event.detail;
    if (seen === "gone") note("The file is not there any more: save a copy.");
    else look();
  });
  addEventListener("beforeunload", event => { if (state.unsaved) event.preventDefault(); });
  document.getElementById("rig").addEventListener("submit", event => {
    if (!event.submitter?.closest("#offers")) return;
    event.preventDefault();
    event.stopImmediatePropagation();
    choose(event.submitter.value);
  }, true);
}

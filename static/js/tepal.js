/* Small helps under a strict policy. Every page works without this file:
   the server gives each form its UUID, and answers a repeated one as the same act.

   data-act-id  hidden input with the UUID of the act a form will make
   data-once    form whose second submit within a second is dropped (a wet thumb taps twice)
   data-same-place form that stands where the one before stood, on the page that answers it: no echo of a tap sends it
   data-waiting words shown from the moment their form was sent
   data-keypad  input that gets big digit keys below it, copied from the page's template, while it is used
   data-digit   a key: "0" to "9", "back" or "clear"
   data-fills   button that puts its value into the input of this id; hidden without script
   data-stays   such a button that keeps the focus, so that no keyboard covers the page */
(function () {
  "use strict";

  const ONCE_MS = 1000;
  const lastSent = new WeakMap();

  // crypto.randomUUID is missing on plain http, so version 4 is made by hand from 16 random bytes.
  function freshUuid() {
    const bytes = crypto.getRandomValues(new Uint8Array(16));
    bytes[6] = (bytes[6] & 0x0f) | 0x40;
    bytes[8] = (bytes[8] & 0x3f) | 0x80;
    const hex = Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
    return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join("-");
  }

  function digest(text) {
    let sum = 5381;
    for (let i = 0; i < text.length; i += 1) sum = ((sum * 33) ^ text.charCodeAt(i)) >>> 0;
    return sum.toString(36);
  }

  function valuesOf(form, button) {
    const data = new FormData(form);
    data.delete("csrfmiddlewaretoken");
    form.querySelectorAll("[data-act-id]").forEach((input) => data.delete(input.name));
    const files = (value) => (value instanceof File ? value.name + value.size : value);
    const pairs = Array.from(data, ([name, value]) => name + "=" + files(value));
    const where = (button && (button.getAttribute("formaction") || button.getAttribute("hx-post"))) || form.action;
    return [where, button ? button.name + "=" + button.value : ""].concat(pairs).join("\n");
  }

  function remembered(key) {
    try { return sessionStorage.getItem(key); } catch (refused) { return null; }
  }

  function remember(key, value) {
    try { sessionStorage.setItem(key, value); } catch (refused) { /* then the server shows both versions */ }
  }

  // The same values under the same UUID are the same act, sent again; so a page reached by "back" keeps
  // its UUID until its values change. Other values are another act and get a UUID of their own.
  function prepare(form, button) {
    const now = digest(valuesOf(form, button));
    form.querySelectorAll("[data-act-id]").forEach((input) => {
      const before = input.value && remembered("act:" + input.value);
      if (!input.value || (before && before !== now)) input.value = freshUuid();
      remember("act:" + input.value, now);
    });
  }

  // Where the browser kept no page to go back to, it fetches one with another UUID and fills in what was typed. What
  // was sent from this place of the history today is then the same act, too; "today" of another day is another act.
  function prepareAgain(form, button) {
    const sent = Object.assign({}, history.state && history.state.sent);
    const key = new Date().toDateString() + digest(valuesOf(form, button));
    form.querySelectorAll("[data-act-id]").forEach((input) => {
      if (sent[key]) input.value = sent[key];
      sent[key] = input.value;
    });
    history.replaceState(Object.assign({}, history.state, { sent: sent }), "");
  }

  function tooSoon(form) {
    const since = performance.now() - (lastSent.get(form) || -ONCE_MS);
    if (since >= ONCE_MS) lastSent.set(form, performance.now());
    return since < ONCE_MS;
  }

  function send(event, form, button) {
    if (form.matches("[data-once]") && tooSoon(form)) {
      event.preventDefault();
      event.stopImmediatePropagation();
      return;
    }
    if (typedInHalf(form)) {
      event.preventDefault();
      event.stopImmediatePropagation();
      lastSent.delete(form);
      return;
    }
    prepare(form, button);
    if (event.type === "submit" && !form.matches("[hx-post]")) prepareAgain(form, button);
    waiting(form, true);
  }

  // Of a day without its year, or a number with a letter in it, a browser sends nothing at all: it says so itself.
  function typedInHalf(form) {
    const input = Array.from(form.elements).find((one) => one.validity && one.validity.badInput);
    const shut = input && input.closest("details");
    if (shut) shut.open = true;
    if (input) input.reportValidity();
    return Boolean(input);
  }

  // Long work says so from the tap on; a page reached by "back" waits for nothing.
  function waiting(root, waits) {
    root.querySelectorAll("[data-waiting]").forEach((words) => { words.hidden = !waits; });
  }

  window.addEventListener("pageshow", () => waiting(document, false));

  document.addEventListener("submit", (event) => send(event, event.target, event.submitter), true);

  // A button with hx-post sends without a submit event: meet it before htmx does.
  document.addEventListener("click", (event) => {
    const button = event.target.closest("button[hx-post]");
    if (button && button.form) send(event, button.form, button);
  }, true);

  // An answered row is shorter than it was, so the next ones move up under the thumb: a second tap at the same
  // place, sooner after they moved than anybody reads what came there, was meant for the first and meets nothing.
  // Where a row began above the window and the browser does not hold the page still by itself, the line that
  // replaces it is brought into sight; rows elsewhere that change with it are not.
  // The same holds where a whole page comes in answer to a tap, as at the sowing bench, whose next pot stands where the
  // last one stood: there the second tap of a slow thumb may come up to a second after the first.
  const ECHO_MS = 400;
  const THUMB = 24;
  let tap = null;
  const shown = performance.now();
  let before = cameByTap() ? JSON.parse(remembered("tap") || "null") : null;

  function cameByTap() {
    const [way] = performance.getEntriesByType("navigation");
    return Boolean(document.referrer) && (!way || way.type === "navigate");
  }

  function near(event, place) {
    return event.detail > 0 && Math.hypot(event.clientX - place.x, event.clientY - place.y) < THUMB;
  }

  function echoes(event) {
    if (tap) {
      const slow = tap.opened && tap.opened.contains(event.target);
      return tap.moved && performance.now() - tap.moved <= (slow ? ONCE_MS : ECHO_MS) && near(event, tap);
    }
    if (!before || !event.target.closest("[data-same-place] button") || !near(event, before)) return false;
    return Date.now() - before.at < ONCE_MS || performance.now() - shown <= ECHO_MS;
  }

  window.addEventListener("click", (event) => {
    if (echoes(event)) {
      event.preventDefault();
      event.stopImmediatePropagation();
      return;
    }
    before = null;
    const button = event.target.closest("form button");
    const place = { x: event.clientX, y: event.clientY, moved: 0, at: Date.now() };
    if (button && button.matches("[hx-post]")) tap = Object.assign(place, { answers: button.closest("details.task") });
    else remember("tap", JSON.stringify(button ? place : null));
  }, true);

  // Whoever typed on a page has seen it.
  document.addEventListener("input", () => { before = null; });

  document.addEventListener("htmx:load", (event) => {
    if (!tap || !event.detail.elt.matches("[data-row]:not([data-refreshed])")) return;
    tap.moved = performance.now();
    if (tap.answers) openNext(event.detail.elt);
    event.detail.elt.scrollIntoView({ block: "nearest" });
  });

  // The row after an answered one opens by itself, below it, so that nothing above moves. Its answers stand about where
  // the thumb is, so the second tap of a slow thumb is kept from them for as long as at the sowing bench.
  function openNext(done) {
    let next = done.matches(".group__tasks > .done") ? done.nextElementSibling : null;
    while (next && next.hidden) next = next.nextElementSibling;
    if (!next || !next.matches("details.task") || next.open) return;
    next.open = true;
    tap.opened = next;
  }

  function press(input, key) {
    if (key === "clear") input.value = "";
    else if (key === "back") input.value = input.value.slice(0, -1);
    else input.value += key;
    input.dispatchEvent(new Event("input", { bubbles: true }));
  }

  document.addEventListener("click", (event) => {
    const key = event.target.closest("[data-digit]");
    const keypad = key && key.closest("[data-keypad-for]");
    const input = keypad && document.getElementById(keypad.dataset.keypadFor);
    if (input) press(input, key.dataset.digit);
  });

  // What stands first in a form that came back: without what was wrong with this field, and gone once nothing is left.
  function forget(input) {
    document.querySelectorAll('.objections__fields a[href="#' + input.id + '"]').forEach((link) => {
      const box = link.closest(".objections");
      link.closest("li").remove();
      if (!box.querySelector("li, p, button")) box.remove();
    });
  }

  // What was wrong before is not said of the new number; nothing is sent by it.
  function fill(input, value, stays) {
    input.value = value;
    input.removeAttribute("aria-invalid");
    const field = input.closest(".field");
    if (field) {
      field.classList.remove("field--wrong");
      field.querySelectorAll(".field__error").forEach((sentence) => { sentence.hidden = true; });
    }
    forget(input);
    ["input", "change"].forEach((name) => input.dispatchEvent(new Event(name, { bubbles: true })));
    if (!stays) input.focus({ preventScroll: true });
  }

  document.addEventListener("click", (event) => {
    const button = event.target.closest("[data-fills]");
    const input = button && document.getElementById(button.dataset.fills);
    if (input) fill(input, button.value, button.hasAttribute("data-stays"));
  });

  function showFills(root) {
    root.querySelectorAll("[data-fills]").forEach((button) => { button.hidden = false; });
  }

  function asksOnlyThis(input) {
    return !input.form || input.form.querySelectorAll("input:not([type=hidden]), select, textarea").length === 1;
  }

  // Keys stay until another number is asked for: were they to go with the focus, the page would jump
  // under the thumb on its way to the button.
  document.addEventListener("focusin", (event) => {
    if (!event.target.matches("input[data-keypad]")) return;
    document.querySelectorAll("[data-keypad-for]").forEach((keypad) => {
      const input = document.getElementById(keypad.dataset.keypadFor);
      keypad.hidden = keypad.dataset.keypadFor !== event.target.id && !(input && asksOnlyThis(input));
    });
  });

  function addKeypads(root) {
    const template = document.querySelector("template[data-keypad-template]");
    if (!template) return;
    root.querySelectorAll("input[data-keypad]").forEach((input) => {
      if (document.querySelector('[data-keypad-for="' + input.id + '"]')) return;
      const keypad = template.content.firstElementChild.cloneNode(true);
      keypad.dataset.keypadFor = input.id;
      keypad.hidden = !asksOnlyThis(input) && document.activeElement !== input;
      if (matchMedia("(pointer: coarse)").matches) input.inputMode = "none";
      input.after(keypad);
    });
  }

  // A failed request must be seen: the words stand ready in the page, hidden.
  function sayFailed(event) {
    const status = document.getElementById("status");
    const words = document.querySelector("template[data-failed-template]");
    const said = status && status.querySelector("[data-failed]");
    if (status && words && !said) status.prepend(words.content.cloneNode(true));
    if (event.detail && event.detail.elt) lastSent.delete(event.detail.elt.form || event.detail.elt);
    if (status) status.scrollIntoView({ block: "nearest" });
  }

  function clearFailed() {
    document.querySelectorAll("#status [data-failed]").forEach((strip) => strip.remove());
  }

  ["htmx:sendError", "htmx:timeout", "htmx:responseError"].forEach((name) => document.addEventListener(name, sayFailed));
  document.addEventListener("htmx:afterOnLoad", (event) => { if (event.detail.successful) clearFailed(); });
  document.addEventListener("htmx:load", (event) => addKeypads(event.detail.elt));
  document.addEventListener("htmx:load", (event) => showFills(event.detail.elt));
  // Not deferred: the second tap of a slow thumb may come as soon as the page is seen, before it is whole.
  document.addEventListener("DOMContentLoaded", () => { addKeypads(document); showFills(document); });
})();

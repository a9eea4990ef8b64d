// A page without a browser, as much of it as is asked for here: nodes that hold words, parts and attributes, fit a
// selector, hear what happens at them or within them, and can hold the keyboard.

const WITHOUT_END = ["input", "rect", "path"];
const PIECE = /([\w-]+)|\.([\w-]+)|\[([\w-]+)(?:(\*?)=["']?([^\]"']*)["']?)?\]|:(is|not)\((.*?)\)(?=$|[.:[])|:([\w-]+)/gy;
const observers = new Set();

/** Parts of a selector, by what stands in no brackets. @param {string} selector @param {string} between */
function split(selector, between) {
  let depth = 0;
  const parts = [""];
  for (const sign of selector) {
    depth += { "(": 1, ")": -1, "[": 1, "]": -1 }[sign] ?? 0;
    if (sign === between && !depth) parts.push("");
    else parts[parts.length - 1] += sign;
  }
  return parts.map((part) => part.trim()).filter((part) => part && part !== ">");
}

function fitsAlone(node, selector) {
  return [...selector.matchAll(PIECE)].every(([, tag, name, attribute, within, value, logic, inner, state]) => {
    if (tag) return node.tag === tag;
    if (name) return node.classList.contains(name);
    if (logic) return fits(node, inner) === (logic === "is");
    if (state) return state === "disabled" ? node.disabled : state === "focus-visible";
    const has = attribute === "class" ? node.className : (node.getAttribute(attribute) ?? node[attribute]);
    return has !== undefined && has !== null && (value === undefined || (within ? has.includes(value) : has === value));
  });
}

function fits(node, selector) {
  return split(selector, ",").some((one) => {
    const [own, ...above] = split(one, " ").reverse();
    return fitsAlone(node, own) && above.reduce((at, part) => at?.parentElement?.closest(part), node);
  });
}

class StandIn {
  constructor(tag) {
    Object.assign(this, { tag, childNodes: [], parentElement: undefined, className: "", hidden: false, disabled: false, dataset: {}, style: { setProperty() {} } });
    this.attributes = new Map();
    this.heard = [];
  }

  // words and parts
  get children() { return this.childNodes.filter((each) => each instanceof StandIn); }
  get childElementCount() { return this.children.length; }
  get textContent() { return this.childNodes.map((each) => each.textContent ?? each).join(""); }
  set textContent(text) { this.replaceChildren(text); }
  get lastElementChild() { return this.children.at(-1); }
  get nextElementSibling() { return this.parentElement?.children[this.parentElement.children.indexOf(this) + 1] ?? null; }
  put(at, parts) {
    for (const each of parts) each.remove?.();
    this.childNodes.splice(at, 0, ...parts);
    for (const each of parts) if (each instanceof StandIn) each.parentElement = this;
  }
  append(...parts) { this.put(this.childNodes.length, parts); }
  prepend(...parts) { this.put(0, parts); }
  insertBefore(part, other) { this.put(this.childNodes.indexOf(other), [part]); }
  after(...parts) { this.parentElement.put(this.parentElement.childNodes.indexOf(this) + 1, parts); }
  replaceChildren(...parts) {
    for (const each of this.children) each.remove();
    this.childNodes = [];
    this.append(...parts);
  }
  remove() {
    if (this.parentElement) this.parentElement.childNodes.splice(this.parentElement.childNodes.indexOf(this), 1);
    this.parentElement = undefined;
    if (this.contains(document.activeElement)) document.activeElement = document.body;
  }
  set innerHTML(markup) {
    this.replaceChildren();
    let at = this;
    for (const [, end, tag, given, text] of markup.matchAll(/<(\/?)([\w-]+)([^>]*)>|([^<]+)/g)) {
      if (text) at.append(text.trim());
      else if (end) at = at.parentElement;
      else {
        const part = document.createElement(tag);
        for (const [, name, value] of given.matchAll(/([\w-]+)(?:="([^"]*)")?/g)) {
          part.setAttribute(name, value ?? "");
          part[name === "class" ? "className" : name] = value ?? true;
        }
        at.append(part);
        if (!WITHOUT_END.includes(tag)) at = part;
      }
    }
  }

  // what a node is
  get classList() {
    const names = this.className.split(" ").filter(Boolean);
    const toggle = (name, on) => (this.className = [...names.filter((each) => each !== name), ...(on ? [name] : [])].join(" "));
    return { contains: (name) => names.includes(name), toggle, add: (name) => toggle(name, true), remove: (name) => toggle(name, false), [Symbol.iterator]: () => names.values() };
  }
  getAttribute(name) { return this.attributes.get(name) ?? null; }
  setAttribute(name, value) { this.attributes.set(name, String(value)); }
  removeAttribute(name) { this.attributes.delete(name); }
  toggleAttribute(name, on) { if (on) this.setAttribute(name, ""); else this.removeAttribute(name); }
  matches(selector) { return fits(this, selector); }
  closest(selector) { return this.matches(selector) ? this : (this.parentElement?.closest(selector) ?? null); }
  within() { return this.children.flatMap((each) => [each, ...each.within()]); }
  contains(node) { return node === this || this.within().includes(node); }
  querySelectorAll(selector) { return this.within().filter((each) => each.matches(selector)); }
  querySelector(selector) { return this.querySelectorAll(selector)[0] ?? null; }
  get isConnected() { return document.contains(this); }
  checkVisibility() { return !this.hidden && (this.parentElement?.checkVisibility() ?? this === document); }
  getBoundingClientRect() { return { left: 0, top: 0, right: 0, bottom: 0, width: 0, height: 0 }; }
  scrollIntoView() {}
  getClientRects() { return this.checkVisibility() ? [{}] : []; }
  compareDocumentPosition(other) { return document.within().indexOf(other) > document.within().indexOf(this) ? 4 : 2; }

  // a table
  insert(tag) {
    this.append(document.createElement(tag));
    return this.lastElementChild;
  }
  createCaption() { return this.insert("caption"); }
  createTHead() { return this.insert("thead"); }
  createTBody() { return this.insert("tbody"); }
  insertRow() { return this.insert("tr"); }
  insertCell() { return this.insert("td"); }
  get cells() { return this.children; }

  // a list of choices
  get options() { return this.querySelectorAll("option"); }
  get selectedOptions() { return this.options.filter(({ value }) => value === this.value); }
  get selectedIndex() { return this.options.indexOf(this.selectedOptions[0]); }
  add(option) {
    this.append(option);
    this.value ??= option.value;
  }

  // what happens
  addEventListener(type, act, { signal } = {}) {
    this.heard.push([type, act]);
    signal?.addEventListener("abort", () => this.removeEventListener(type, act));
  }
  removeEventListener(type, act) { this.heard = this.heard.filter(([each, its]) => each !== type || its !== act); }
  dispatchEvent({ type }) { happen(this, type); }
  click() { happen(this, "click"); }
  focus() {
    document.activeElement = this;
    happen(this, "focusin");
  }
}

/** Let something happen at a node; whoever is above it hears it too. @param {any} node @param {string} type */
export function happen(node, type, more = {}) {
  const event = { type, target: node, prevented: false, preventDefault: () => (event.prevented = true), ...more };
  for (let each = node; each; each = each.parentElement) {
    for (const [heard, act] of each.heard) if (heard === type) act(event);
  }
  return event;
}

/** Tell all who watch that the page has changed. */
export const changed = () => observers.forEach((act) => act());

/** @param {string} text @param {any} value */
function choiceOf(text, value) {
  return Object.assign(document.createElement("option"), { textContent: text, text, value });
}

/** Begin with an empty page. @returns {any} its body */
export function newPage() {
  observers.clear();
  const created = (tag) => new StandIn(tag);
  globalThis.document = Object.assign(created("html"), { createElement: created, createElementNS: (_, tag) => created(tag), elementFromPoint: () => null, hidden: false });
  document.documentElement = document;
  document.body = document.activeElement = created("body");
  document.append(document.body);
  Object.assign(globalThis, {
    Element: StandIn,
    HTMLSelectElement: { [Symbol.hasInstance]: (node) => node.tag === "select" },
    Option: new Proxy(class {}, { construct: (_, [text, value]) => choiceOf(text, value) }),
    Node: { DOCUMENT_POSITION_FOLLOWING: 4 },
    MutationObserver: class {
      constructor(act) { this.act = act; }
      observe() { observers.add(this.act); }
      disconnect() { observers.delete(this.act); }
    },
  });
  return document.body;
}

/** A node of a page. @param {any} parent @param {string} tag @param {Record<string, any>} [is] @param {Record<string, string>} [attributes] */
export function made(parent, tag, is = {}, attributes = {}) {
  const node = Object.assign(document.createElement(tag), is);
  for (const [name, value] of Object.entries(attributes)) node.setAttribute(name, value);
  parent.append(node);
  return node;
}

/** A place that keeps texts, as a browser does. @returns {any} */
export function keeping() {
  const kept = new Map();
  return { getItem: (name) => kept.get(name) ?? null, setItem: (name, value) => kept.set(name, value), removeItem: (name) => kept.delete(name) };
}

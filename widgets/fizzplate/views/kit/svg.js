// Elements of a drawing.

const NAMESPACE = "http://www.w3.org/2000/svg";

/** @param {string} name @param {Record<string, string|number>} attributes @param {Element|null} [parent] @param {string} [text] */
export function makeSvg(name, attributes, parent = null, text = "") {
  const node = document.createElementNS(NAMESPACE, name);
  for (const [key, value] of Object.entries(attributes)) node.setAttribute(key, String(value));
  if (text) node.textContent = text;
  parent?.append(node);
  return node;
}

// Places in a page that a widget's drawing code fills.

/** @param {HTMLElement} page @param {string} name */
export function hostIn(page, name) {
  const host = document.createElement("div");
  host.className = name;
  page.append(host);
  return host;
}

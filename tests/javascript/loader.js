// The project's modules are plain files for a page; here each is loaded as an ES module from its text.

import { readFileSync } from "node:fs";

const VIEWS = new URL("../../widgets/fizzplate/views/", import.meta.url);
const DATA = /^import (\w+) from "(\.{1,2}\/[^"]+\.json)" with \{ type: "json" \};$/gm;
const IMPORT = /^import \{[^}]*\} from "(\.{1,2}\/[^"]+)";$/gm;

/** @param {URL} file @param {Map<string, string>} seen @returns {string} a module's address */
function addressOf(file, seen) {
  const known = seen.get(file.href);
  if (known) return known;
  let text = readFileSync(file, "utf8");
  for (const [line, name, path] of text.matchAll(DATA)) {
    text = text.replace(line, () => `const ${name} = ${readFileSync(new URL(path, file), "utf8")};`);
  }
  for (const [line, path] of text.matchAll(IMPORT)) {
    text = text.replace(line, line.replace(path, addressOf(new URL(path, file), seen)));
  }
  const address = `data:text/javascript;base64,${Buffer.from(text).toString("base64")}`;
  seen.set(file.href, address);
  return address;
}

/** Return a function that imports a module of a folder by its name. @param {string} folder */
export function loader(folder) {
  const seen = new Map();
  return (name) => import(addressOf(new URL(name, new URL(folder, VIEWS)), seen));
}

// The sheets of a site: for each of its lists what to order, label, clear away and hand out, to print.

import { make } from "../../views/kit/elements.js";
import { renderPrinting } from "../../views/paper/printing/printing.js";
import { hostIn } from "../takeaway/hosts.js";
import { createModel } from "../takeaway/model.js";
import { openSitePage } from "./opening.js";

export const openPage = () => openSitePage((page, { sheets: { lists, groups } }) => {
  const model = createModel({ sheets: lists[0].sheets, busy: false });
  const row = make("div", "", "fp-site-choice");
  const line = make("label", "List");
  const select = /** @type {HTMLSelectElement} */ (make("select"));
  lists.forEach((/** @type {any} */ { name }, /** @type {number} */ k) => select.append(new Option(name, String(k))));
  select.addEventListener("change", () => model.set("sheets", lists[Number(select.value)].sheets));
  line.append(select);
  row.append(line, make("p", `For ${groups} groups, 60 cm³ for each cell and 10 % to spare. For other numbers use the program that made this site.`, "fp-note"));
  page.append(row);
  renderPrinting({ model, el: hostIn(page, "fp-printing-host") });
});
